"""The Corinthian and Composite capitals, on their neck at z = 0.

Two ranks of eight leaves stand against a bell, the upper behind the lower; their tips touch the
line from the abacus's horn to the astragal (J. Moxon, Vignola, XXIII). Sizes of abacus, bell
and leaves come with the fitted order; what is drawn freely between them is common practice.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from massing.canon import FittedOrder, Member
from massing.canon.mouldings import stack
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, lathe, loft, turned_about_z
from massing.parts.orders.acanthus import acanthus
from massing.parts.orders.capitals import (
    MIRROR_X,
    MIRROR_Y,
    height_of,
    hollow_reach,
    horned,
    horned_outline,
    shift,
    turned_echinus,
)
from massing.parts.orders.cauliculi import HELIX, VOLUTE, cauliculus
from massing.parts.orders.ornament import rosette, volute_face
from massing.parts.part import Part

_SEGMENTS = 64
_EIGHTH = 2.0 * np.pi / 8.0


def tip_line_m(order: FittedOrder, z_m: Floats | float) -> Floats:
    """How far from the axis the line stands that leaves and scrolls touch, at a height.

    In elevation it runs from the abacus's utmost point to the astragal where it is widest
    (J. Moxon, Vignola, XXIII). The reaches of leaves in the Cyclopedia of Architecture, 6 and 9
    fortieths of a diameter from the shaft, are those of this line to a hundredth of it.
    """
    astragal = order.shaft_head[-1]
    foot = np.array([astragal.reach, -astragal.height / 2.0])
    head = np.array([dict(order.capital_sizes)["abacus"], order.capital_height_m])
    rise = (np.asarray(z_m, dtype=float) - foot[1]) / (head[1] - foot[1])
    return np.asarray(foot[0] + rise * (head[0] - foot[0]))


@lru_cache(maxsize=16)
def leaf_to_line(
    height_m: float,
    width_m: float,
    drop_m: float,
    bell_m: float,
    line: tuple[float, float],
    stem: float = 0.0,
) -> Mesh:
    """A leaf on the bell whose farthest point touches a line, (radius at z = 0, its gain per z)."""
    out = line[0] + line[1] * height_m - bell_m
    for _ in range(4):
        mesh = acanthus(height_m, width_m, out, drop_m, bell_m, stem=stem)
        reach = np.hypot(mesh.vertices[:, 0], mesh.vertices[:, 1])
        gap = float((reach - line[0] - line[1] * mesh.vertices[:, 2]).max())
        if abs(gap) < 1e-3 * height_m:
            break
        out -= gap
    return mesh


def leaves(order: FittedOrder) -> list[Part]:
    """Two rows of eight; the upper leaves stand behind the lower, on faces and corners."""
    sizes = dict(order.capital_sizes)
    low, high = order.capital[0].height, order.capital[0].height + order.capital[1].height
    foot, drop = sizes["bell"], sizes["leaf_drop"]
    pitch = foot * _EIGHTH
    base, top = tip_line_m(order, 0.0), tip_line_m(order, 1.0)
    line = (float(base), float(top - base))
    lower = leaf_to_line(low, 0.98 * pitch, drop, foot + 0.05 * low, line)
    upper = leaf_to_line(high, 1.12 * pitch, drop, foot - 0.03 * low, line, 0.36)
    turns = [np.array([turned_about_z(_EIGHTH * (i + 0.5 * k)) for i in range(8)]) for k in (1, 0)]
    return [
        Part(("column", "capital", "lower leaves"), "order", lower, turns[0]),
        Part(("column", "capital", "upper leaves"), "order", upper, turns[1]),
    ]


def abacus_members(height: float) -> list[Member]:
    """Small fascia, hollow, fillet and ovolo, their reach from the abacus's outline."""
    deep = 0.42 * height
    return [
        Member("fascia", "fillet", 0.16 * height, -deep, -deep),
        Member("hollow", "cavetto", 0.36 * height, -deep, -0.2 * height),
        Member("fillet", "fillet", 0.1 * height, -0.16 * height, -0.16 * height),
        Member("ovolo", "ovolo", 0.38 * height, -0.16 * height, 0.0),
    ]


def _abacus(order: FittedOrder, foot: float) -> Mesh:
    sizes, height = dict(order.capital_sizes), order.capital[-1].height
    outline = horned_outline(sizes["abacus"], sizes["horn"])
    return horned(stack(abacus_members(height), foot) * [-1.0, 1.0], outline)


def _bell(order: FittedOrder, top: float) -> Mesh:
    """The basket: upright from the neck, flaring to a rounded lip under the abacus."""
    sizes = dict(order.capital_sizes)
    foot, lip = sizes["bell"], sizes["lip"]
    part = top / 36.0
    t = np.linspace(0.0, 1.0, 17)
    flare = np.column_stack([foot + (0.93 * lip - foot) * t**3.2, (top - 2.4 * part) * t])
    edge = stack([Member("lip", "torus", 2.4 * part, lip, lip)], top - 2.4 * part)
    return lathe(np.concatenate([flare, edge]), _SEGMENTS)


def _polar(radius: float, angle: float, z: float) -> tuple[float, float, float]:
    """A point at ``angle`` counter-clockwise from the front (-Y)."""
    return radius * np.sin(angle), -radius * np.cos(angle), z


def _fleurons(order: FittedOrder, middle_z: float) -> Part:
    sizes, height = dict(order.capital_sizes), order.capital[-1].height
    flower = rosette(0.56 * height, 0.5 * height)
    inset = hollow_reach(sizes["abacus"], sizes["horn"]) - 0.3 * height
    turns = np.array(
        [turned_about_z(i * np.pi / 2.0) @ shift(0.0, -inset, middle_z) for i in range(4)]
    )
    return Part(("column", "capital", "fleurons"), "order", flower, turns)


def _stem(order: FittedOrder, top: float) -> Mesh:
    """The fleuron's stem, from a bud behind the middle leaf up the bell to under the abacus."""
    sizes = dict(order.capital_sizes)
    part = top / 36.0
    t = np.linspace(0.0, 1.0, 13)
    z = top * (0.58 + 0.42 * t)
    bell = sizes["bell"] + (0.93 * sizes["lip"] - sizes["bell"]) * (z / top) ** 3.2
    reach = bell + part * (0.2 + 1.6 * t**3)
    radius = part * (0.55 + 0.5 * np.exp(-(((t - 0.36) / 0.09) ** 2)) + 0.3 * t**4)
    turn = np.linspace(0.0, 2.0 * np.pi, 12, endpoint=False)
    ring = np.stack([np.cos(turn), np.sin(turn), np.zeros_like(turn)], -1)
    centre = np.stack([np.zeros_like(z), -reach, z], -1)
    return loft(centre[:, None] + radius[:, None, None] * ring)


# --- Corinthian ----------------------------------------------------------------------------


def corinthian(order: FittedOrder, enriched: bool = False) -> list[Part]:
    """Bell, two rows of leaves, stalks with their volutes and helices, and horned abacus."""
    *under, abacus = order.capital
    sizes = dict(order.capital_sizes)
    top, leaf = height_of(under), height_of(under[:2])
    part = top / 36.0
    bell = sizes["bell"]
    foot = _polar(bell + 0.8 * part, _EIGHTH / 2.0, 0.5 * leaf)
    head = _polar(bell + 2.2 * part, _EIGHTH / 2.0, 0.84 * leaf)
    centre_z = top - VOLUTE * part
    half = 1.45 * part  # of a volute's breadth: two stand back to back under the horn
    out = float(tip_line_m(order, centre_z)) * np.sqrt(2.0) - 2.0 * half - VOLUTE * part
    beside = half / out
    corner = _polar(out, _EIGHTH - beside, centre_z)
    middle = (1.05 * HELIX * part, -(sizes["lip"] + 0.6 * part), top - (HELIX + 0.3) * part)
    one = cauliculus(foot, head, corner, middle, part)
    turns = [turned_about_z(i * np.pi / 2.0) for i in range(4)]
    placed = np.array([t @ m for t in turns for m in (np.eye(4), MIRROR_X)])
    return [
        Part(("column", "capital"), "order", _bell(order, top)),
        *leaves(order),
        Part(("column", "capital", "volutes"), "order", one, placed),
        Part(("column", "capital", "stems"), "order", _stem(order, top), np.array(turns)),
        _fleurons(order, top + 0.5 * abacus.height),
        Part(("column", "abacus"), "order", _abacus(order, top)),
    ]


# --- Composite -----------------------------------------------------------------------------


def composite(order: FittedOrder, enriched: bool = False) -> list[Part]:
    """Bell and leaves of the Corinthian under the echinus and four diagonal scrolls."""
    *under, abacus = order.capital
    sizes = dict(order.capital_sizes)
    top, leaf = height_of(under), height_of(under[:2])
    part = top / 36.0
    astragal, echinus, channel = under[2:]
    bell = lathe(
        np.array([[sizes["bell"], 0.0], [sizes["bell"], 0.7 * leaf], [sizes["bell"] + part, leaf]]),
        _SEGMENTS,
    )
    ring = lathe(stack([astragal], leaf), _SEGMENTS)
    round_ = turned_echinus(order, echinus, leaf + astragal.height, enriched)
    outline = horned_outline(0.9 * sizes["abacus"], 0.9 * sizes["horn"])
    t = np.linspace(0.0, 1.0, 7)
    z = top - channel.height
    hollow = np.column_stack([0.9 * part * np.sin(np.pi * t), z + channel.height * t])
    band = horned(hollow, outline)

    eye = (0.47 * 36.0 * part) / 16.0  # the scrolls nearly half a diameter high
    centre_z = top + 0.5 * abacus.height - 9.0 * eye
    reach = sizes["abacus"] * 1.2 - 8.0 * eye
    thick = 2.6 * part
    plate = volute_face(eye, thick)
    half = [plate.moved(shift(reach, -thick, centre_z))]
    half += [m.moved(MIRROR_Y) for m in half]
    diagonal = merged(half)
    turns = np.array([turned_about_z(np.pi / 4.0 + i * np.pi / 2.0) for i in range(4)])
    neck = box_between(
        (0.3 * reach, -thick * 0.8, top - channel.height * 0.9),
        (reach, thick * 0.8, top + 0.2 * abacus.height),
    )
    return [
        Part(("column", "capital"), "order", merged([bell, ring, round_, band])),
        *leaves(order),
        Part(("column", "capital", "scrolls"), "order", merged([diagonal, neck]), turns),
        _fleurons(order, top + 0.5 * abacus.height),
        Part(("column", "abacus"), "order", _abacus(order, top)),
    ]

"""The carved capitals: Ionic, Corinthian, Composite, each on its neck at z = 0.

Measures of the abacus, leaves and volutes come with the fitted order; what is drawn freely
between them (the bell's curve, the set of the stalks) is common practice.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from massing.canon import FittedOrder, Member
from massing.canon.mouldings import stack
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import (
    box_between,
    lathe,
    loft,
    offset_directions,
    prism,
    square_lathe,
    turned_about_z,
)
from massing.parts.orders.ornament import (
    acanthus,
    egg_and_dart,
    rosette,
    scroll,
    volute_face,
    volute_outline,
)
from massing.parts.part import Part

_SEGMENTS = 64
MIRROR_X = np.diag([-1.0, 1.0, 1.0, 1.0])
MIRROR_Y = np.diag([1.0, -1.0, 1.0, 1.0])


def shift(x: float = 0.0, y: float = 0.0, z: float = 0.0) -> Floats:
    matrix = np.eye(4)
    matrix[:3, 3] = x, y, z
    return matrix


def height_of(members: Sequence[Member]) -> float:
    return sum(m.height for m in members)


# --- Ionic ---------------------------------------------------------------------------------


def _turned_echinus(order: FittedOrder, member: Member, foot: float, enriched: bool) -> Mesh:
    """The echinus, plain or carved with an egg over every flute."""
    edge = stack([member], foot)
    return egg_and_dart(edge, order.flutes or 24) if enriched else lathe(edge, _SEGMENTS)


def ionic(order: FittedOrder, enriched: bool = False) -> list[Part]:
    """Echinus, channel with its four volutes and their cushions, and abacus."""
    echinus, channel, rim, *abacus = order.capital
    sizes = dict(order.capital_sizes)
    eye = (channel.height + rim.height) / 4.0
    x, face = sizes["eye"], sizes["face"]
    foot, top = echinus.height, echinus.height + channel.height + rim.height

    round_ = _turned_echinus(order, echinus, 0.0, enriched)
    t = np.linspace(0.0, 1.0, 9)
    hollow = np.column_stack(
        [face - 4.0 * eye * (0.05 + 0.17 * np.sin(np.pi * t)), foot + channel.height * t]
    )
    edge = np.concatenate([hollow, [[face, foot + channel.height], [face, top]]])
    section = np.concatenate([edge, (edge * [-1.0, 1.0])[::-1]])
    band = prism(section, (-x, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), 2.0 * x)

    plate = volute_face(eye, 1.5 * eye)
    faces = []
    for mirror_y in (np.eye(4), MIRROR_Y):
        for mirror_x in (np.eye(4), MIRROR_X):
            faces.append(plate.moved(mirror_y @ mirror_x @ shift(x, -face)))
    cushion = _cushion(eye, face - 0.8 * eye)
    cushions = [cushion.moved(m @ shift(x)) for m in (np.eye(4), MIRROR_X)]
    return [
        Part(("column", "capital"), "order", merged([round_, band])),
        Part(("column", "capital", "volutes"), "order", merged([*faces, *cushions])),
        Part(("column", "abacus"), "order", square_lathe(stack(abacus, top))),
    ]


def ionic_angular(order: FittedOrder, enriched: bool = False) -> list[Part]:
    """The Ionic capital with four like faces, its volutes on the diagonals (Scamozzi's manner).

    For corner columns, where the plain capital would show its side; the volutes keep their
    size, the abacus is hollowed over the channel. How far the volutes stand out along the
    diagonals is common practice.
    """
    echinus, channel, rim, *abacus = order.capital
    eye = (channel.height + rim.height) / 4.0
    foot = echinus.height
    top = foot + channel.height + rim.height
    reach = 1.12 * abacus[-1].reach
    hollow = 0.9 * abacus[-1].reach
    outline = horned_outline(reach, hollow)
    t = np.linspace(0.0, 1.0, 7)
    inset = abacus[-1].reach * 0.1
    band = _horned(
        np.column_stack([inset + 0.9 * eye * np.sin(np.pi * t), foot + (top - foot) * t]), outline
    )
    thick = 2.4 * eye
    plate = volute_face(eye, thick)
    tip = float(np.linalg.norm(outline, axis=1).max())
    one = [plate.moved(shift(tip - 7.2 * eye, -thick))]
    one += [m.moved(MIRROR_Y) for m in one]
    turns = np.array([turned_about_z(np.pi / 4.0 + i * np.pi / 2.0) for i in range(4)])
    edge = stack(
        [
            replace(m, foot=m.foot - abacus[-1].reach, head=m.head - abacus[-1].reach)
            for m in abacus
        ],
        top,
    )
    return [
        Part(
            ("column", "capital"),
            "order",
            merged([_turned_echinus(order, echinus, 0.0, enriched), band]),
        ),
        Part(("column", "capital", "volutes"), "order", merged(one), turns),
        Part(("column", "abacus"), "order", _horned(edge * [-1.0, 1.0], outline)),
    ]


def _cushion(eye: float, half_length: float) -> Mesh:
    """The scroll's side from face to face: drawn in to a strap at the middle."""
    outline = volute_outline(eye)
    v = np.array([-1, -0.93, -0.85, -0.7, -0.5, -0.3, -0.15, -0.1499, -0.08, 0.0])
    size = 0.6 + 0.37 * np.abs(v) ** 1.6
    size[v > -0.15] += 0.07
    size[-2] += 0.02
    size[-1] += 0.02
    v = np.concatenate([v, -v[-2::-1]])
    size = np.concatenate([size, size[-2::-1]])
    sections = np.stack(
        [
            size[:, None] * outline[None, :, 0],
            np.broadcast_to((v * half_length)[:, None], (len(v), len(outline))),
            size[:, None] * outline[None, :, 1],
        ],
        axis=-1,
    )
    return loft(sections)


# --- the horned abacus and the bell --------------------------------------------------------


def horned_outline(reach: float, hollow: float, steps: int = 12) -> Floats:
    """Plan of an abacus ``(4 (steps + 1), 2)``: hollow sides of 60 degrees, corners cut at 45.

    ``reach`` is half the square it is cut from, ``hollow`` the middle of a side from the axis
    (W. R. Ware, The American Vignola, p. 20).
    """
    sag = reach - hollow
    half_chord = sag * np.sin(np.pi / 6.0) / (1.0 - np.cos(np.pi / 6.0))
    half_chord = min(half_chord, 0.86 * reach)
    radius = (half_chord**2 + sag**2) / (2.0 * sag)
    half_arc = np.arcsin(half_chord / radius)
    turn = np.linspace(-half_arc, half_arc, steps + 1)
    side = np.column_stack([radius * np.sin(turn), -(hollow + radius * (1 - np.cos(turn)))])
    quarter = np.array([[0.0, -1.0], [1.0, 0.0]])
    sides = [side]
    for _ in range(3):
        sides.append(sides[-1] @ quarter.T)
    return np.concatenate(sides)


def _horned(profile: Floats, outline: Floats) -> Mesh:
    """A moulded edge ``(n, 2)`` of (inset, z) run round an outline."""
    across = offset_directions(outline, closed=True)
    plan = outline[None] - profile[:, None, :1] * across[None]
    rise = np.broadcast_to(profile[:, None, 1:], (len(profile), len(outline), 1))
    return loft(np.concatenate([plan, rise], axis=-1))


def _abacus(order: FittedOrder, foot: float) -> Mesh:
    """Small fascia, hollow, fillet and ovolo round the horned outline."""
    sizes, height = dict(order.capital_sizes), order.capital[-1].height
    outline = horned_outline(sizes["abacus"], sizes["hollow"])
    deep = 0.42 * height
    members = [
        Member("fascia", "fillet", 0.16 * height, -deep, -deep),
        Member("hollow", "cavetto", 0.36 * height, -deep, -0.2 * height),
        Member("fillet", "fillet", 0.1 * height, -0.16 * height, -0.16 * height),
        Member("ovolo", "ovolo", 0.38 * height, -0.16 * height, 0.0),
    ]
    return _horned(stack(members, foot) * [-1.0, 1.0], outline)


def _bell(order: FittedOrder, top: float) -> Mesh:
    """The basket: upright from the neck, flaring to a rounded lip under the abacus."""
    sizes = dict(order.capital_sizes)
    foot, lip = sizes["bell"], sizes["lip"]
    part = top / 36.0
    t = np.linspace(0.0, 1.0, 17)
    flare = np.column_stack([foot + (0.93 * lip - foot) * t**3.2, (top - 2.4 * part) * t])
    edge = stack([Member("lip", "torus", 2.4 * part, lip, lip)], top - 2.4 * part)
    return lathe(np.concatenate([flare, edge]), _SEGMENTS)


def _leaves(order: FittedOrder) -> list[Part]:
    """Two rows of eight; the upper leaves stand behind the lower, on faces and corners."""
    sizes = dict(order.capital_sizes)
    low, high = order.capital[0].height, order.capital[0].height + order.capital[1].height
    foot, drop = sizes["bell"], sizes["leaf_drop"]
    eighth = 2.0 * np.pi / 8.0
    pitch = foot * eighth
    lower = acanthus(low, 0.98 * pitch, 0.42 * low, drop, foot)
    upper = acanthus(high, 1.04 * pitch, 0.31 * high, 1.1 * drop, 0.965 * foot)
    turns = [np.array([turned_about_z(eighth * (i + 0.5 * k)) for i in range(8)]) for k in (1, 0)]
    return [
        Part(("column", "capital", "lower leaves"), "order", lower, turns[0]),
        Part(("column", "capital", "upper leaves"), "order", upper, turns[1]),
    ]


def _polar(radius: float, angle: float, z: float) -> tuple[float, float, float]:
    """A point at ``angle`` counter-clockwise from the front (-Y)."""
    return radius * np.sin(angle), -radius * np.cos(angle), z


def _fleurons(order: FittedOrder, middle_z: float) -> Part:
    sizes, height = dict(order.capital_sizes), order.capital[-1].height
    flower = rosette(0.5 * height, 0.42 * height)
    inset = sizes["hollow"] - 0.3 * height
    turns = np.array(
        [turned_about_z(i * np.pi / 2.0) @ shift(0.0, -inset, middle_z) for i in range(4)]
    )
    return Part(("column", "capital", "fleurons"), "order", flower, turns)


# --- Corinthian ----------------------------------------------------------------------------


def corinthian(order: FittedOrder, enriched: bool = False) -> list[Part]:
    """Bell, two rows of leaves, stalks with their volutes and helices, and horned abacus."""
    *under, abacus = order.capital
    sizes = dict(order.capital_sizes)
    top = height_of(under)
    leaf = height_of(under[:2])
    part = top / 36.0
    eighth = np.pi / 4.0
    foot = _polar(sizes["bell"] + 0.9 * part, eighth / 2.0, 0.62 * leaf)
    corner = _polar(sizes["abacus"] * 1.13, eighth - 0.035, top - 4.4 * part)
    middle = _polar(sizes["hollow"] - 0.6 * part, 0.105, top - 4.3 * part)
    outer = scroll(foot, 0.32 * leaf, corner, 4.3 * part, 3.2 * part)
    inner = scroll(foot, 0.30 * leaf, middle, 2.9 * part, 2.4 * part, 1.5)
    rising = stalk(sizes["bell"], part, leaf, eighth / 2.0)
    one = merged([outer, inner, rising])
    turns = [turned_about_z(i * np.pi / 2.0) for i in range(4)]
    placed = np.array([t @ m for t in turns for m in (np.eye(4), MIRROR_X)])
    return [
        Part(("column", "capital"), "order", _bell(order, top)),
        *_leaves(order),
        Part(("column", "capital", "volutes"), "order", one, placed),
        _fleurons(order, top + 0.5 * abacus.height),
        Part(("column", "abacus"), "order", _abacus(order, top)),
    ]


def stalk(bell: float, part: float, leaf: float, angle: float) -> Mesh:
    """A fluted stalk between two upper leaves, with a ring and an opening bud."""
    z = 0.56 * leaf
    rings = [
        (0.9, 0.0), (1.15, 3.2), (1.5, 3.4), (1.5, 4.0), (1.2, 4.2), (1.9, 6.0), (2.5, 8.0),
        (2.9, 8.8), (1.6, 8.9),
    ]  # fmt: skip
    turn = np.linspace(0.0, 2.0 * np.pi, 24, endpoint=False)
    centre = np.array(_polar(bell + 0.7 * part, angle, z))
    outward = np.array(_polar(1.0, angle, 0.0))
    sections = []
    for radius, rise in rings:
        ripple = 1.0 + 0.12 * np.cos(8 * turn) * (rise > 4.1)
        circle = np.column_stack([np.cos(turn), np.sin(turn)]) * (radius * part * ripple)[:, None]
        lean = outward * (0.16 * rise * part)
        sections.append(
            np.column_stack([circle, np.zeros(len(turn))]) + centre + lean + [0, 0, rise * part]
        )
    return loft(np.array(sections))


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
    round_ = _turned_echinus(order, echinus, leaf + astragal.height, enriched)
    outline = horned_outline(0.9 * sizes["abacus"], 0.9 * sizes["hollow"])
    t = np.linspace(0.0, 1.0, 7)
    z = top - channel.height
    hollow = np.column_stack([0.9 * part * np.sin(np.pi * t), z + channel.height * t])
    band = _horned(hollow, outline)

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
        *_leaves(order),
        Part(("column", "capital", "scrolls"), "order", merged([diagonal, neck]), turns),
        _fleurons(order, top + 0.5 * abacus.height),
        Part(("column", "abacus"), "order", _abacus(order, top)),
    ]


# --- against a wall ------------------------------------------------------------------------


CARVED: dict[str, Callable[[FittedOrder, bool], list[Part]]] = {
    "ionic": ionic,
    "corinthian": corinthian,
    "composite": composite,
}

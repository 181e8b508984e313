"""The carved capitals of pilasters, against a wall; those of columns are in ``capitals.py``."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from massing.canon import FittedOrder, Member
from massing.canon.mouldings import stack
from massing.canon.order import beyond_face
from massing.geometry.mesh import Mesh, merged
from massing.geometry.solids import loft, offset_directions, prism, turned_about_z, wall_block
from massing.parts.orders.capitals import (
    MIRROR_X,
    height_of,
    hollow_reach,
    horned_outline,
    shift,
)
from massing.parts.orders.carved_mouldings import carved_unit, sunk
from massing.parts.orders.cauliculi import HELIX, INWARD, VOLUTE, Cauliculus
from massing.parts.orders.leafed_capitals import (
    abacus_members,
    composite_scroll,
    flat_leaves,
)
from massing.parts.orders.ornament import rosette, volute_face, volute_outline
from massing.parts.part import Part


def _walled_ionic(order: FittedOrder, half: float, out: float) -> list[Part]:
    """The Ionic front on a pilaster: two volutes, their cushions running back to the wall."""
    echinus, channel, rim, *abacus = order.capital
    sizes = dict(order.capital_sizes)
    eye = (channel.height + rim.height) / 4.0
    face = out + sizes["face"] - order.upper_diameter_m / 2.0
    x = sizes["eye"] - order.upper_diameter_m / 2.0 + half
    foot, top = echinus.height, echinus.height + channel.height + rim.height
    radius = order.upper_diameter_m / 2.0
    belly = wall_block(stack(beyond_face([echinus], radius)), half, out)
    t = np.linspace(0.0, 1.0, 9)
    hollow = np.column_stack(
        [face - 4.0 * eye * (0.05 + 0.17 * np.sin(np.pi * t)), foot + channel.height * t]
    )
    edge = np.concatenate(
        [[[0.0, foot]], hollow, [[face, foot + channel.height], [face, top], [0.0, top]]]
    )
    band = prism(edge * [-1.0, 1.0], (-x, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), 2.0 * x)
    plate = volute_face(eye, 1.5 * eye).moved(shift(x, -face))
    length = face - 0.8 * eye
    outline = volute_outline(eye)
    sections = [
        np.column_stack(
            [size * outline[:, 0] + x, np.full(len(outline), -v * length), size * outline[:, 1]]
        )
        for v, size in ((0.0, 0.8), (0.5, 0.84), (0.9, 0.95), (1.0, 0.97))
    ]
    cushion = loft(np.array(sections))
    scrolls = [m for s in (plate, cushion) for m in (s, s.moved(MIRROR_X))]
    return [
        Part(("pilaster", "capital"), "order", merged([belly, band])),
        Part(("pilaster", "capital", "volutes"), "order", merged(scrolls)),
        Part(
            ("pilaster", "abacus"),
            "order",
            wall_block(stack(beyond_face(abacus, radius), top), half, out),
        ),
    ]


def _walled_bell(order: FittedOrder, half: float, out: float, top: float) -> list[Part]:
    """A flat-fronted bell with its leaves: two below, one between them and one at each corner."""
    sizes = dict(order.capital_sizes)
    flare = sizes["lip"] - sizes["bell"]
    part = top / 36.0
    t = np.linspace(0.0, 1.0, 13)
    edge = np.concatenate(
        [
            np.column_stack([0.9 * flare * t**3.2, (top - 2.4 * part) * t]),
            stack([Member("lip", "torus", 2.4 * part, flare, flare)], top - 2.4 * part),
        ]
    )
    bell = wall_block(edge, half - 0.5 * part, out - 0.2 * part)
    flat = 40.0 * half
    lower, upper = (leaf.mesh() for leaf in flat_leaves(order, flat))
    back = shift(y=flat)
    fronts = [shift(x, -out) @ back for x in (-0.5 * half, 0.5 * half)]
    uppers = [shift(0.0, -out + 0.4 * part) @ back]
    for sign in (-1.0, 1.0):
        turn = turned_about_z(sign * np.pi / 4.0)
        uppers.append(shift(sign * (half - 1.4 * part), 1.4 * part - out) @ turn @ back)
    return [
        Part(("pilaster", "capital"), "order", bell),
        Part(("pilaster", "capital", "lower leaves"), "order", lower, np.array(fronts)),
        Part(("pilaster", "capital", "upper leaves"), "order", upper, np.array(uppers)),
    ]


def _hollow(order: FittedOrder) -> float:
    """How far the middle of a Corinthian abacus stands before the shaft's upper face."""
    sizes = dict(order.capital_sizes)
    return hollow_reach(sizes["abacus"], sizes["horn"]) - order.upper_diameter_m / 2.0


def _walled_abacus(order: FittedOrder, half: float, out: float, foot: float) -> list[Part]:
    """An abacus hollow in front and straight at the sides, with its flower."""
    sizes, height = dict(order.capital_sizes), order.capital[-1].height
    radius = order.upper_diameter_m / 2.0
    reach, hollow = sizes["abacus"] - radius, _hollow(order)
    whole = horned_outline(sizes["abacus"], sizes["horn"])
    front = whole[: len(whole) // 4] * [(half + reach) / sizes["abacus"], 1.0]
    front = front + [0.0, radius - out]
    side = half + hollow
    ring = np.concatenate([[(-side, 0.0)], front, [(side, 0.0)]])
    profile = stack(abacus_members(height), foot) * [-1.0, 1.0]
    across = offset_directions(ring, closed=True)
    across[[0, -1], 1] = 0.0  # the back stays on the wall
    plan = ring[None] - profile[:, None, :1] * across[None]
    rise = np.broadcast_to(profile[:, None, 1:], (len(profile), len(ring), 1))
    flower = rosette(0.5 * height, 0.5 * height).moved(
        shift(0.0, -(out + hollow - 0.3 * height), foot + 0.5 * height)
    )
    return [
        Part(("pilaster", "capital", "fleuron"), "order", flower),
        Part(("pilaster", "abacus"), "order", loft(np.concatenate([plan, rise], axis=-1))),
    ]


def _walled_corinthian(order: FittedOrder, half: float, out: float) -> list[Part]:
    """The Corinthian front on a pilaster."""
    *under, _ = order.capital
    sizes = dict(order.capital_sizes)
    top, leaf = height_of(under), height_of(under[:2])
    part = top / 36.0
    radius = order.upper_diameter_m / 2.0
    foot = (0.5 * half, -(out + 0.8 * part), 0.5 * leaf)
    head = (0.5 * half, -(out + 2.2 * part), 0.84 * leaf)
    reach = sizes["abacus"] - radius
    corner = (half + 0.62 * reach, -(out + 0.62 * reach), top - VOLUTE * part)
    middle = (
        0.97 * HELIX * part,
        -(out + sizes["lip"] - radius + 0.6 * part),
        top - (HELIX + 0.3) * part,
    )
    one = Cauliculus(foot, head, corner, middle, (1.0, -1.0), INWARD, part)
    both = np.array([np.eye(4), MIRROR_X])
    return [
        *_walled_bell(order, half, out, top),
        Part(("pilaster", "capital", "volutes"), "order", one.scrolls(), both),
        Part(("pilaster", "capital", "calyx leaves"), "order", one.calyx(), both),
        *_walled_abacus(order, half, out, top),
    ]


def _walled_composite(order: FittedOrder, half: float, out: float) -> list[Part]:
    """The Composite front on a pilaster: its two scrolls, eggs and beads across the front."""
    *under, _ = order.capital
    sizes = dict(order.capital_sizes)
    top, leaf = height_of(under), height_of(under[:2])
    radius = order.upper_diameter_m / 2.0
    carved = [
        replace(member, carving=carving)
        for member, carving in zip(
            beyond_face(under[2:4], radius), ("bead and reel", "egg and dart"), strict=True
        )
    ]
    belly = wall_block(stack([sunk(m) for m in carved], leaf), half, out)
    z = top - under[4].height
    band = wall_block(np.array([(0.8 * _hollow(order), z), (0.8 * _hollow(order), top)]), half, out)
    strings, foot = [], leaf
    for member in carved:
        wide = 2.0 * (half + min(member.foot, member.head))
        pitch = member.height * (1.2 if member.carving == "egg and dart" else 2.0)
        count = 2 * round(wide / pitch / 2.0) + 1  # one stands in the middle
        unit = carved_unit(member, wide / count)
        strings += [
            unit.moved(shift((k - count // 2) * wide / count, -out, foot)) for k in range(count)
        ]
        foot += member.height
    scroll = composite_scroll(order, top)
    spread = (half + sizes["abacus"] - radius) / sizes["abacus"]
    corners = scroll.vertices * [spread, 1.0, 1.0] + [0.0, radius - out, 0.0]
    corners[:, 1] = np.minimum(corners[:, 1], 0.0)  # it ends at the wall
    one = Mesh(corners, scroll.faces)
    bell, *leaves = _walled_bell(order, half, out, top)
    return [
        Part(("pilaster", "capital"), "order", merged([bell.mesh, belly, band, *strings])),
        *leaves,
        Part(("pilaster", "capital", "scrolls"), "order", one, np.array([np.eye(4), MIRROR_X])),
        *_walled_abacus(order, half, out, top),
    ]


WALLED: dict[str, Callable[[FittedOrder, float, float], list[Part]]] = {
    "ionic": _walled_ionic,
    "corinthian": _walled_corinthian,
    "composite": _walled_composite,
}

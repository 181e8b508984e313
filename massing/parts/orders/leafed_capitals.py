"""The Corinthian and Composite capitals, on their neck at z = 0.

Two ranks of eight leaves stand against a bell, the upper behind the lower; their tips touch the
line from the abacus's horn to the astragal (J. Moxon, Vignola, XXIII). Sizes of abacus, bell
and leaves come with the fitted order; what is drawn freely between them is common practice.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from massing.canon import FittedOrder, Member
from massing.canon.mouldings import stack
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import lathe, loft, turned_about_z
from massing.parts.orders.acanthus import BellLeaf
from massing.parts.orders.capitals import (
    MIRROR_X,
    height_of,
    hollow_reach,
    horned,
    horned_outline,
    shift,
    triangle_tip,
    turned_echinus,
)
from massing.parts.orders.cauliculi import HELIX, INWARD, VOLUTE, Cauliculus, stalk
from massing.parts.orders.ornament import bead_and_reel, rosette, slab, volute_face
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
def _to_line(leaf: BellLeaf, line: tuple[float, float]) -> BellLeaf:
    """The leaf whose farthest point touches a line, (radius at z = 0, its gain for each z)."""
    for _ in range(4):
        x, y, z = leaf.mesh().vertices.T
        gap = float((np.hypot(x, y) - line[0] - line[1] * z).max())
        if abs(gap) < 1e-3 * leaf.height_m:
            break
        leaf = replace(leaf, out_m=leaf.out_m - gap)
    return leaf


def _ranks(order: FittedOrder) -> list[tuple[str, BellLeaf, Floats]]:
    """The lower and the upper eight: name, leaf, and ``(8, 4, 4)`` where they stand."""
    sizes = dict(order.capital_sizes)
    low, high = order.capital[0].height, order.capital[0].height + order.capital[1].height
    bell, drop = sizes["bell"], sizes["leaf_drop"]
    pitch = bell * _EIGHTH
    base = float(tip_line_m(order, 0.0))
    line = (base, float(tip_line_m(order, 1.0)) - base)
    lower = BellLeaf(low, 0.98 * pitch, 0.4 * low, drop, bell + 0.05 * low)
    upper = BellLeaf(high, 1.12 * pitch, 0.3 * high, drop, bell - 0.03 * low, stem=0.36)
    turns = [np.array([turned_about_z(_EIGHTH * (i + 0.5 * k)) for i in range(8)]) for k in (1, 0)]
    return [
        ("lower leaves", _to_line(lower, line), turns[0]),
        ("upper leaves", _to_line(upper, line), turns[1]),
    ]


def flat_leaves(order: FittedOrder, bell_radius_m: float) -> tuple[BellLeaf, BellLeaf]:
    """The lower and the upper leaf on a bell so wide that it is flat, as a pilaster's."""
    lower, upper = (
        replace(leaf, bell_radius_m=bell_radius_m, out_m=leaf.out_m) for _, leaf, _ in _ranks(order)
    )
    return lower, upper


def leaves(order: FittedOrder) -> list[Part]:
    """Two rows of eight; the upper leaves stand behind the lower, on faces and corners."""
    return [
        Part(("column", "capital", name), "order", leaf.mesh(), turns)
        for name, leaf, turns in _ranks(order)
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
    flower = rosette(0.5 * height, 0.5 * height)
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


def _cauliculus(order: FittedOrder) -> Cauliculus:
    """The stalk to the right of a face, its volute under the horn, its helix in the middle."""
    *under, _ = order.capital
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
    middle = (0.97 * HELIX * part, -(sizes["lip"] + 0.6 * part), top - (HELIX + 0.3) * part)
    return Cauliculus(foot, head, corner, middle, (1.0, -1.0), INWARD, part)


def corinthian(order: FittedOrder, enriched: bool = False) -> list[Part]:
    """Bell, two rows of leaves, stalks with their volutes and helices, and horned abacus."""
    *under, abacus = order.capital
    top = height_of(under)
    one = _cauliculus(order)
    turns, placed = _quarters()
    return [
        Part(("column", "capital"), "order", _bell(order, top)),
        *leaves(order),
        Part(("column", "capital", "volutes"), "order", one.scrolls(), placed),
        Part(("column", "capital", "calyx leaves"), "order", one.calyx(), placed),
        Part(("column", "capital", "stems"), "order", _stem(order, top), turns),
        _fleurons(order, top + 0.5 * abacus.height),
        Part(("column", "abacus"), "order", _abacus(order, top)),
    ]


def _quarters() -> tuple[Floats, Floats]:
    """Where what stands once or, mirrored, twice on each of the four faces stands."""
    turns = [turned_about_z(i * np.pi / 2.0) for i in range(4)]
    return np.array(turns), np.array([t @ m for t in turns for m in (np.eye(4), MIRROR_X)])


def carving_lines(order: FittedOrder) -> list[Floats]:
    """Edges and veins of a capital's leaves as lines ``(n, 3)``, on its neck at z = 0."""
    if order.capital_kind not in ("corinthian", "composite"):
        return []
    groups = [(leaf.lines(), turns) for _, leaf, turns in _ranks(order)]
    if order.capital_kind == "corinthian":
        groups.append((_cauliculus(order).lines(), _quarters()[1]))
    return [
        line @ turn[:3, :3].T + turn[:3, 3]
        for lines, turns in groups
        for turn in turns
        for line in lines
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
    if enriched:
        middle = leaf + astragal.height / 2.0
        core = lathe(
            np.array(
                [
                    [astragal.reach - 0.7 * astragal.height, leaf - 0.1 * part],
                    [astragal.reach - 0.7 * astragal.height, leaf + astragal.height],
                ]
            ),
            _SEGMENTS,
        )
        beads = order.flutes or 24
        ring = merged([core, bead_and_reel(astragal.reach, astragal.height, middle, beads)])
    round_ = turned_echinus(order, echinus, leaf + astragal.height, enriched)
    outline = horned_outline(sizes["abacus"] - 2.0 * part, sizes["horn"] - 2.0 * part)
    t = np.linspace(0.0, 1.0, 7)
    z = top - channel.height
    hollow = np.column_stack([0.9 * part * np.sin(np.pi * t), z + channel.height * t])
    band = horned(hollow, outline)
    scroll = composite_scroll(order, top)
    stalk_, bud = _stunted(order, leaf, part)
    _, placed = _quarters()
    return [
        Part(("column", "capital"), "order", merged([bell, ring, round_, band])),
        *leaves(order),
        Part(("column", "capital", "stalks"), "order", stalk_, placed),
        Part(("column", "capital", "calyx leaves"), "order", bud.mesh(), placed @ _bud_place(leaf)),
        Part(("column", "capital", "scrolls"), "order", scroll, placed),
        _fleurons(order, top + 0.5 * abacus.height),
        Part(("column", "abacus"), "order", _abacus(order, top)),
    ]


def _stunted(order: FittedOrder, leaf: float, part: float) -> tuple[Mesh, BellLeaf]:
    """A cauliculus of the Composite, which carries only a bud (Ware, p. 22), and that bud."""
    bell = dict(order.capital_sizes)["bell"]
    foot = _polar(bell + 0.8 * part, _EIGHTH / 2.0, 0.5 * leaf)
    head = _polar(bell + 1.5 * part, _EIGHTH / 2.0, 0.74 * leaf)
    return stalk(foot, head, 1.3 * part), BellLeaf(
        0.3 * leaf, 6.0 * part, 2.6 * part, 1.4 * part, bell + 1.6 * part, 0.5
    )


def _bud_place(leaf: float) -> Floats:
    return turned_about_z(_EIGHTH / 2.0) @ shift(0.0, 0.0, 0.74 * leaf)


def composite_scroll(order: FittedOrder, top: float) -> Mesh:
    """The scroll at the right of the front, on the abacus's hollow, and what leads to it.

    Nearly half a diameter high, from half the abacus down to the upper leaves; with its
    neighbour's, nine sixths of a diameter over all (W. R. Ware, The American Vignola, p. 22).
    It stands as far back as the plane of the diagonal, where its neighbour meets it.
    """
    sizes = dict(order.capital_sizes)
    part = top / 36.0
    eye = sizes["scroll"] / 16.0
    centre_z = top + 0.5 * order.capital[-1].height - 9.0 * eye
    side = horned_outline(sizes["abacus"], sizes["horn"], 2)[:3]
    from_axis = triangle_tip(sizes["horn"])
    radius = from_axis + side[1, 1]
    radius += 0.2 * part
    volute = volute_face(eye, part)
    x = volute.vertices[:, 0]
    reach = 0.0
    for _ in range(8):  # until its farthest point stands half their width from the axis
        turn = (reach + x) / radius
        farthest = max((radius * np.sin(turn)).max(), (from_axis - radius * np.cos(turn)).max())
        reach += sizes["scrolls"] / 2.0 - farthest
    flat = merged([volute, _lead(eye, reach, order.capital[-1].height, part)])
    turn, back = (reach + flat.vertices[:, 0]) / radius, flat.vertices[:, 1] > 0.999 * part
    toward = (from_axis - radius * (np.cos(turn) + np.sin(turn))) / (np.cos(turn) + np.sin(turn))
    deep = np.where(back, np.clip(toward, 0.4 * part, 7.0 * part), flat.vertices[:, 1])
    plan = np.column_stack([np.sin(turn), np.cos(turn)]) * (radius + deep)[:, None]
    return Mesh(
        np.column_stack([plan - [0.0, from_axis], flat.vertices[:, 2] + centre_z]), flat.faces
    )


def _lead(eye: float, length: float, drop: float, thick: float) -> Mesh:
    """The band that rises from the middle of a side to the top of a scroll, laid flat."""
    t = np.linspace(0.0, 1.0, 9)
    x = -t * length
    top = 9.0 * eye - 0.5 * drop * (3.0 * t**2 - 2.0 * t**3)
    wide = 4.3 * eye * (1.0 - 0.3 * t)
    across = np.concatenate([[0.0], np.linspace(0.0, 1.0, 7)])  # of the channel, within a fillet
    share = (1.0 + 3.3 * across) / 4.3
    share[0] = 0.0
    depth = np.where(share > 0.0, 0.05 + 0.17 * np.sin(np.pi * across), 0.0)
    depth[1] = 0.0
    front = np.empty((len(t), len(share), 3))
    front[..., 0] = x[:, None]
    front[..., 1] = depth * wide[:, None]
    front[..., 2] = top[:, None] - share * wide[:, None]
    back = front.copy()
    back[..., 1] = thick
    return slab(front, back)

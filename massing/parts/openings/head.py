"""Heads over openings, in relief on the wall: arches flat and curved, lintel, hoods.

Everything is in the opening's frame: x right as seen from outside, y into the wall, z up,
origin at the middle of the opening's foot on the wall's outer face.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from massing.canon.mouldings import stack, without_repeats
from massing.design.opening import Opening
from massing.geometry.arches import HeadLine
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import prism, wall_block
from massing.parts.part import Part
from massing.practice.joinery_sizes import (
    CASING_FASCIA_M,
    CONSOLE_M,
    HEADS,
    HOOD_FRIEZE_OF_FACE,
    HOOD_OUT_M,
    HOOD_WASH_M,
    KEY_RISE_OF_DEPTH,
    LINTEL_BEARING_M,
    LINTEL_M,
    SKEWBACK,
    arch_depth,
    casing_width,
    hood_cornice,
    joinery_size,
)
from massing.settingout.wall_faces import Cut, CutShape, arched
from massing.units import INCH_M

KINDS = tuple(
    name for name, kind in HEADS.items() if kind.of != "casing" or name.startswith("hood")
)

# Common practice, no source; the depths and reaches are in practice/joinery_sizes.py.
_VOUSSOIR_M = {"brick": 2.6 * INCH_M, "stone": 9.0 * INCH_M}
_JOINT_M = {"brick": 0.25 * INCH_M, "stone": 0.1875 * INCH_M}
_PROUD_M = {"brick": 0.35 * INCH_M, "stone": 0.75 * INCH_M}
_KEY_PROUD_M = joinery_size("head.key_proud")
_KEY_FOOT_M = joinery_size("head.key_foot")
_HOUSED_M = 0.003
_CONSOLE_OUT_OF_HOOD = (0.9, 0.2)  # at head and foot, of the hood's bed: practice
_CONSOLE_STEPS = 20
_CHORD_M = 0.06  # pieces in which a block follows the curve


def head(opening: Opening, kind: str, rise_m: float | None = None) -> list[Part]:
    """A head over an opening, standing on the wall's face and let into it by 3 mm.

    A jack arch radiates from one point below; its skewbacks lean out 0.4 of its depth. A curved
    arch follows the opening's soffit, its joints square to the curve; a segment has no keystone,
    a half round and a half ellipse have. A hood is a frieze and a cornice over the architrave,
    returned to the wall at both ends. A hood on consoles is a flat slab edged with the cornice,
    on two brackets beside the architrave.

    ``rise_m``, if given, stands for the opening's own.

    Raises:
        ValueError: an unknown kind, or a curved arch without a rise or with one over half the
            width.
    """
    if kind not in KINDS:
        raise ValueError(f"{kind!r} is not a head; allowed: {', '.join(KINDS)}")
    of, line = HEADS[kind].of, HEADS[kind].line
    if kind == "hood":
        return _hood(opening)
    if kind == "hood on consoles":
        return _hood_on_consoles(opening)
    if kind == "lintel":
        return [_lintel(opening)]
    if line == "level":
        return _jack_arch(opening, of)
    soffit = opening.soffit if rise_m is None else replace(opening.soffit, rise_m=rise_m)
    if not 0.0 < soffit.rise_m <= opening.width_m / 2.0 + 1e-9:
        raise ValueError(
            f"{opening.name}: {kind} rises {soffit.rise_m:.3f} m; allowed: more than nothing, up "
            f"to half its width, {opening.width_m / 2.0:.3f} m"
        )
    deep = arch_depth(opening.width_m, kind)
    if line == "segmental":
        return [Part(("head", "voussoirs"), of, _ring_of_voussoirs(soffit, deep, of, 0.0))]
    key = _key_half(opening)
    return [
        Part(("head", "voussoirs"), of, _ring_of_voussoirs(soffit, deep, of, key)),
        Part(("head", "keystone"), "stone", _keystone(soffit, deep, key, of)),
    ]


def head_cut(opening: Opening) -> list[Cut]:
    """What an opening's head takes of the wall's facing, in the wall's frame."""
    kind, x, foot = opening.head, opening.along_m, opening.head_z_m
    half = opening.width_m / 2.0
    if kind == "hood":
        return _hood_cut(_hood_edge(opening), half + opening.face_m, opening)
    if kind == "hood on consoles":
        beside = half + opening.face_m + CONSOLE_M[0]
        top = foot + opening.face_m
        brackets = (x - beside, top - CONSOLE_M[1], x + beside, top)
        return [brackets, *_hood_cut(_slab_edge(opening), beside, opening)]
    if HEADS[kind].of == "casing":
        return []
    if kind == "lintel":
        return [(x - half - LINTEL_BEARING_M, foot, x + half + LINTEL_BEARING_M, foot + LINTEL_M)]
    deep = arch_depth(opening.width_m, kind)
    top, rise = foot + deep, foot + deep * (1.0 + KEY_RISE_OF_DEPTH)
    if HEADS[kind].line != "level":
        soffit = opening.soffit.shifted(opening.sill_z_m)
        ring = arched(soffit, deep, x)
        if HEADS[kind].line == "segmental":
            return ring
        (start,), (way,) = soffit.along([0.5 - _key_half(opening) / soffit.length_m])
        key = float(start[0] + (rise - start[1]) / way[1] * way[0])
        return [*ring, (x - key, top - 0.5 * deep, x + key, rise)]
    focus = foot - half / SKEWBACK
    key = _key_half(opening) * (rise - focus) / (foot - focus)
    stone = (x - key, top, x + key, rise)
    return [CutShape(x, foot, top, lambda z: half + SKEWBACK * (z - foot)), stone]


def _hood_cut(edge: Floats, half_m: float, opening: Opening) -> list[Cut]:
    """What a cornice with the profile ``edge`` beyond ``half_m`` takes, in two beds."""
    x = opening.along_m
    reach, z = half_m + edge[:, 0], opening.sill_z_m + edge[:, 1]
    out = reach > (reach.min() + reach.max()) / 2.0
    drip = float(z[out].min())  # the corona's foot
    beds = ((reach[~out & (z <= drip)], float(z[0]), drip), (reach, drip, float(z[-1])))
    return [(x - float(max(r)), a, x + float(max(r)), b) for r, a, b in beds]


def _raised(outline: ArrayLike, proud_m: float) -> Mesh:
    """An elevation's outline standing ``proud_m`` before the wall, housed in it."""
    return prism(outline, (0.0, _HOUSED_M, 0.0), (1.0, 0, 0), (0, 0, 1.0), proud_m + _HOUSED_M)


def _jack_arch(opening: Opening, material: str) -> list[Part]:
    half, foot = opening.width_m / 2.0, opening.height_m
    deep = arch_depth(opening.width_m, "jack arch")
    top = foot + deep
    focus = foot - half / SKEWBACK

    def along(x: float, z: float) -> tuple[float, float]:
        """The point at height z on the joint that starts from x on the soffit."""
        return (x * (z - focus) / (foot - focus), z)

    key = _key_half(opening)
    count = max(1, round((half - key) / _VOUSSOIR_M[material]))
    starts = np.linspace(key, half, count + 1)
    gap = _JOINT_M[material] / 2.0
    blocks = []
    for a, b in pairwise(starts):
        ring = [
            along(a + gap, foot),
            along(b - gap, foot),
            along(b - gap, top),
            along(a + gap, top),
        ]
        right = np.array(ring)
        blocks += [right, right[::-1] * [-1.0, 1.0]]
    rise = top + KEY_RISE_OF_DEPTH * deep
    stone = [along(-key + gap, foot), along(key - gap, foot), along(key - gap, rise)]
    stone.append(along(-key + gap, rise))
    return [
        Part(
            ("head", "voussoirs"), material, merged(_raised(b, _PROUD_M[material]) for b in blocks)
        ),
        Part(("head", "keystone"), "stone", _raised(stone, _KEY_PROUD_M)),
    ]


def _key_half(opening: Opening) -> float:
    return min(_KEY_FOOT_M, opening.width_m / 3.0) / 2.0


def _lintel(opening: Opening) -> Part:
    x, foot = opening.width_m / 2.0 + LINTEL_BEARING_M, opening.height_m
    top = foot + LINTEL_M
    outline = [(-x, foot), (x, foot), (x, top), (-x, top)]
    return Part(("head", "lintel"), "stone", _raised(outline, _PROUD_M["stone"]))


def _ring_of_voussoirs(soffit: HeadLine, deep_m: float, of: str, key_half_m: float) -> Mesh:
    """The blocks of a curved arch, with joints of one width square to the soffit.

    ``key_half_m`` is half of what the keystone takes along the soffit; without one a block
    stands in the middle.
    """
    length = soffit.length_m
    middle = length + soffit.axes[3] * deep_m  # half-way up the blocks
    if key_half_m:
        side = max(2, round((middle / 2.0 - key_half_m) / _VOUSSOIR_M[of]))
        right = np.linspace(0.0, 0.5 - key_half_m / length, side + 1)
        stretches = [*pairwise(right), *((1.0 - b, 1.0 - a) for a, b in pairwise(right))]
    else:
        count = max(3, round(middle / _VOUSSOIR_M[of]))
        stretches = list(pairwise(np.linspace(0.0, 1.0, count + 2 - count % 2)))
    gap = _JOINT_M[of] / 2.0
    blocks = [_voussoir(soffit, a, b, deep_m, gap) for a, b in stretches]
    return merged(_raised(b, _PROUD_M[of]) for b in blocks)


def _voussoir(soffit: HeadLine, start: float, end: float, deep_m: float, gap_m: float) -> Floats:
    """Outline of one block between two shares of the soffit, less half a joint at each side."""
    steps = max(1, round((end - start) * soffit.length_m / _CHORD_M))
    lower, normals = soffit.along(np.linspace(start, end, steps + 1))
    upper = lower + deep_m * normals
    for ring in (lower, upper):
        ring[0] += gap_m * _leftward(normals[0])
        ring[-1] -= gap_m * _leftward(normals[-1])
    return np.concatenate([lower, upper[::-1]])


def _leftward(normal: Floats) -> Floats:
    """Along the soffit, from right to left."""
    return np.array([-normal[1], normal[0]])


def _keystone(soffit: HeadLine, deep_m: float, half_m: float, of: str) -> Mesh:
    share = half_m / soffit.length_m
    top_z = soffit.crown_z_m + deep_m * (1.0 + KEY_RISE_OF_DEPTH)
    points, normals = soffit.along(np.linspace(0.5 - share, 0.5 + share, 5))
    points[0] += _JOINT_M[of] / 2.0 * _leftward(normals[0])
    points[-1] -= _JOINT_M[of] / 2.0 * _leftward(normals[-1])
    up = [points[i] + (top_z - points[i, 1]) / normals[i, 1] * normals[i] for i in (-1, 0)]
    return _raised(np.array([*points, *up]), _KEY_PROUD_M)


def _hood_edge(opening: Opening) -> Floats:
    """Profile ``(n, 2)`` of frieze, cornice and weathered top: reach beyond the frieze, z."""
    face = casing_width(opening.width_m)
    foot = opening.height_m + face
    cornice_z = foot + HOOD_FRIEZE_OF_FACE * face
    cornice = stack(hood_cornice(opening.width_m).members, cornice_z)
    ridge = (0.0, cornice[-1, 1] + HOOD_WASH_M)
    return np.array([(0.0, foot), (0.0, cornice_z), *cornice, ridge])


def _hood(opening: Opening) -> list[Part]:
    """Frieze and cornice as one run over the casing, whose head is their architrave."""
    half = opening.width_m / 2.0 + opening.face_m
    out = CASING_FASCIA_M
    mesh = wall_block(_hood_edge(opening), half, out + _HOUSED_M).shifted(y_m=_HOUSED_M)
    return [Part(("head", "hood"), "trim", mesh)]


def _slab_edge(opening: Opening) -> Floats:
    """Profile ``(n, 2)`` of a flat hood's edge and weathered top, from the casing's top."""
    foot = opening.height_m + casing_width(opening.width_m)
    cornice = stack(hood_cornice(opening.width_m).members, foot)
    return without_repeats(np.array([(0.0, foot), *cornice, (0.0, cornice[-1, 1] + HOOD_WASH_M)]))


def _hood_on_consoles(opening: Opening) -> list[Part]:
    """The slab let into the wall, and an ogee bracket beside the casing at each side."""
    edge, inner = _slab_edge(opening), opening.width_m / 2.0 + opening.face_m
    broad, high = CONSOLE_M
    out = HOOD_OUT_M - hood_cornice(opening.width_m).projection_m
    slab = wall_block(edge, inner + broad, out + _HOUSED_M).shifted(y_m=_HOUSED_M)
    turn = np.linspace(0.0, np.pi, _CONSOLE_STEPS + 1)
    top, foot = _CONSOLE_OUT_OF_HOOD[0] * out, _CONSOLE_OUT_OF_HOOD[1] * out
    reach = foot + (top - foot) * (0.5 + 0.5 * np.cos(turn))
    face = np.column_stack([-reach, -high * (0.1 + 0.9 * turn / np.pi)])
    side = np.array([(_HOUSED_M, 0.0), (-top, 0.0), *face, (_HOUSED_M, -high)])
    z = float(edge[0, 1])
    brackets = [
        prism(side[::-1], (x, 0.0, z), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), broad)
        for x in (-inner - broad, inner)
    ]
    return [
        Part(("head", "hood"), "trim", slab),
        Part(("head", "consoles"), "trim", merged(brackets)),
    ]

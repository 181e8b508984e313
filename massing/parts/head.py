"""Heads over openings, in relief on the wall: jack arch, stone lintel, segmental arch.

Everything is in the opening's frame: x right as seen from outside, y into the wall, z up,
origin at the middle of the opening's foot on the wall's outer face.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from massing.mesh import Floats, Mesh, Part, merged
from massing.scene.design import Opening
from massing.sections import (
    KEY_RISE_OF_DEPTH,
    LINTEL_BEARING_M,
    LINTEL_M,
    SKEWBACK,
    arch_depth,
)
from massing.soffits import segment
from massing.solids import prism
from massing.units import INCH_M
from massing.wallfaces import Cut, Flare, arched

KINDS = ("jack arch", "stone jack arch", "lintel", "segmental arch")

# Common practice, no source; the depths and reaches are in massing/sections.py.
_VOUSSOIR_M = {"brick": 2.6 * INCH_M, "stone": 9.0 * INCH_M}
_JOINT_M = {"brick": 0.25 * INCH_M, "stone": 0.1875 * INCH_M}
_PROUD_M = {"brick": 0.35 * INCH_M, "stone": 0.75 * INCH_M}
_KEY_PROUD_M = 1.5 * INCH_M
_KEY_FOOT_M = 6.0 * INCH_M
_HOUSED_M = 0.003


def head(opening: Opening, kind: str, rise_m: float = 0.0) -> list[Part]:
    """A head over an opening, standing on the wall's face and let into it by 3 mm.

    A jack arch radiates from one point below; its skewbacks lean out 0.4 of its depth. A
    segmental arch follows the curve of ``rise_m`` over the opening's width, whose crown is the
    opening's head.

    Raises:
        ValueError: an unknown kind, or a segmental arch without a rise below half the width.
    """
    match kind:
        case "jack arch":
            return _jack_arch(opening, "brick")
        case "stone jack arch":
            return _jack_arch(opening, "stone")
        case "lintel":
            return [_lintel(opening)]
        case "segmental arch":
            if not 0.0 < rise_m <= opening.width_m / 2.0:
                raise ValueError(
                    f"{opening.name}: a segmental arch rises {rise_m:.3f} m; allowed: more than "
                    f"nothing, up to half its width, {opening.width_m / 2.0:.3f} m"
                )
            return _segmental(opening, rise_m)
    raise ValueError(f"{kind!r} is not a head; allowed: {', '.join(KINDS)}")


def head_cut(opening: Opening) -> list[Cut]:
    """What a window's head takes of the wall's facing, in the wall's frame."""
    kind, x, foot = opening.head, opening.along_m, opening.head_z_m
    half = opening.width_m / 2.0
    if kind == "casing":
        return []
    if kind == "lintel":
        return [(x - half - LINTEL_BEARING_M, foot, x + half + LINTEL_BEARING_M, foot + LINTEL_M)]
    deep = arch_depth(opening.width_m, kind)
    if kind == "segmental arch":
        return arched(opening.soffit.shifted(opening.sill_z_m), deep, x)
    top = foot + deep
    focus = foot - half / SKEWBACK
    rise = top + KEY_RISE_OF_DEPTH * deep
    key = _key_half(opening) * (rise - focus) / (foot - focus)
    stone = (x - key, top, x + key, rise)
    return [Flare(x, foot, top, lambda z: half + SKEWBACK * (z - foot)), stone]


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
        Part("head/voussoirs", material, merged(_raised(b, _PROUD_M[material]) for b in blocks)),
        Part("head/keystone", "stone", _raised(stone, _KEY_PROUD_M)),
    ]


def _key_half(opening: Opening) -> float:
    return min(_KEY_FOOT_M, opening.width_m / 3.0) / 2.0


def _lintel(opening: Opening) -> Part:
    x, foot = opening.width_m / 2.0 + LINTEL_BEARING_M, opening.height_m
    top = foot + LINTEL_M
    outline = [(-x, foot), (x, foot), (x, top), (-x, top)]
    return Part("head/lintel", "stone", _raised(outline, _PROUD_M["stone"]))


def _segmental(opening: Opening, rise_m: float) -> list[Part]:
    radius, centre, reach = segment(opening.width_m, opening.height_m, rise_m)
    deep = arch_depth(opening.width_m, "segmental arch")
    count = max(3, round(2.0 * reach * (radius + deep / 2.0) / _VOUSSOIR_M["brick"]))
    count += 1 - count % 2
    angles = np.linspace(-reach, reach, count + 1)
    inner, outer = radius, radius + deep
    blocks = []
    for a, b in pairwise(angles):
        turn_in, turn_out = (_JOINT_M["brick"] / 2.0 / r for r in (inner, outer))
        ring = [
            _on(inner, a + turn_in, centre),
            _on(outer, a + turn_out, centre),
            _on(outer, b - turn_out, centre),
            _on(inner, b - turn_in, centre),
        ]
        blocks.append(np.array(ring))
    return [Part("head/voussoirs", "brick", merged(_raised(b, _PROUD_M["brick"]) for b in blocks))]


def _on(radius: float, angle: float, centre_z: float) -> Floats:
    return np.array([radius * np.sin(angle), centre_z + radius * np.cos(angle)])

"""Sheet metal where a covering stops: at walls, round what comes through it, in valleys."""

from __future__ import annotations

import numpy as np

from massing.holes import INSETS_M, clipped, grown, inside, on_plane, outwards, slab
from massing.laying import PLAY_M, lies_on, same, sides, unit
from massing.mesh import Floats, Mesh, Part, merged
from massing.roofplanes import RoofPlanes, Valley
from massing.solids import prism

# Common practice, no source.
LEAD_M, LEAD_OUT_M, LEAD_UP_M = 0.003, 0.15, 0.12
_VALLEY_M = 0.0012  # thickness, which fits under what lies closest to the deck
_VALLEY_UNDER_M = 0.12  # under the covering each side
_CLEAR_M = 0.05  # to a hip or ridge line
_LEVEL_M = 1e-7


def lay_flashings(
    planes: RoofPlanes, field_top_m: float, stop_m: float, under_m: float = _VALLEY_UNDER_M
) -> list[Part]:
    """Aprons at walls and round holes, and metal in the valleys.

    Args:
        planes: the roof.
        field_top_m: top of the covering above the deck.
        stop_m: aprons at walls stop this short of a hip or ridge.
        under_m: how far the metal of a valley goes under the covering.
    """
    sheets = [*_aprons(planes, field_top_m, stop_m), *_round_holes(planes, field_top_m)]
    parts = [Part("tiles/flashing", "metal", merged(sheets))] if sheets else []
    if planes.valleys:
        metal = _valleys(planes, field_top_m, under_m)
        parts.append(Part("tiles/valleys", "metal", merged(metal)))
    return parts


def _aprons(planes: RoofPlanes, field_top_m: float, stop_m: float) -> list[Mesh]:
    """Lead aprons where a covering runs against a wall: up the wall, and out over it.

    They stop ``stop_m`` short of a hip or ridge that comes to the wall, and short of where
    the hip runs before them.
    """
    shared = [*planes.hips, *planes.ridges, *planes.verges, *planes.heads]
    shared += [v.line for v in planes.valleys]
    tops = [p for line in [*planes.hips, *planes.ridges] for p in line]
    sheets = []
    for ring in planes.slopes:
        normal = np.cross(ring[1] - ring[0], ring[-1] - ring[0])
        for a, b in sides(ring):
            if lies_on(shared, a, b):
                continue
            y = unit(a - b)
            x = unit(np.cross(y, [0.0, 0.0, 1.0]))
            z = np.cross(x, y)
            fall = float(normal @ x / (normal @ z))
            base = field_top_m * np.hypot(1.0, fall) + PLAY_M
            t, out, up = LEAD_M, LEAD_OUT_M, LEAD_UP_M
            section = [(0.0, base), (out, base - fall * out), (out, base - fall * out + t)]
            section += [(t, base - fall * t + t), (t, base + up), (0.0, base + up)]
            stop = stop_m + (out if abs(a[2] - b[2]) > _LEVEL_M else 0.0)
            stop *= float(np.linalg.norm(a - b) / np.linalg.norm((a - b)[:2]))
            low, high = (stop * any(same(p, top) for top in tops) for p in (b, a))
            run = float(np.linalg.norm(a - b)) - low - high
            if run > 0.5 * out:
                matrix = np.eye(4)
                matrix[:3, 0], matrix[:3, 1], matrix[:3, 2], matrix[:3, 3] = x, y, z, b
                sheet = prism(np.array(section), (0, low + run, 0), (1.0, 0, 0), (0, 0, 1.0), run)
                sheets.append(sheet.moved(matrix))
    return sheets


def _round_holes(planes: RoofPlanes, field_top_m: float) -> list[Mesh]:
    """Aprons along the walls that stand in a hole, mitred at their corners."""
    sheets = []
    for hole in planes.holes:
        wall = np.array([side == "wall" for side in hole.sides])
        foot, out = (grown(hole.ring, m * wall) for m in (LEAD_M, LEAD_OUT_M))
        for ring in planes.slopes:
            if not inside(ring[:, :2], hole.ring):
                continue
            slope = np.cross(ring[1] - ring[0], ring[-1] - ring[0])
            base = (field_top_m + PLAY_M) * float(np.linalg.norm(slope) / slope[2])
            for i in np.flatnonzero(wall):
                j = (i + 1) % len(hole.ring)
                wing = np.array([foot[i], out[i], out[j], foot[j]])
                upstand = np.array([hole.ring[i], foot[i], foot[j], hole.ring[j]])
                sheets.append(slab(ring, wing, base, base + LEAD_M))
                sheets.append(slab(ring, upstand, base, base + LEAD_UP_M))
    return sheets


def _valleys(planes: RoofPlanes, field_top_m: float, under_m: float) -> list[Mesh]:
    """Metal on both slopes of each valley, meeting on the line."""
    metal = []
    for ring in planes.slopes:
        for a, b in sides(ring):
            valley = next((v for v in planes.valleys if lies_on([v.line], a, b)), None)
            if valley is None:
                continue
            if abs(a[2] - b[2]) < _LEVEL_M:
                metal.append(_saddle(ring, valley, field_top_m, under_m))
                continue
            reach = INSETS_M["valley"] + under_m
            step = (b - a)[:2] / np.linalg.norm((b - a)[:2])
            left = np.array([-step[1], step[0]])  # the slope's own side
            own = clipped(ring[:, :2], -left, float(-left @ a[:2]) - reach)
            for c, d in sides(ring):  # clear of what stands on the deck under hips and ridges
                if lies_on([*planes.hips, *planes.ridges, *planes.verges], c, d):
                    level = np.array([c[1] - d[1], d[0] - c[0]]) / np.linalg.norm((d - c)[:2])
                    own = clipped(own, level, float(level @ c[:2]) + _CLEAR_M)
            metal.append(slab(ring, own, 0.0, _VALLEY_M))
            metal.append(slab(valley.other, _beside(planes, valley, -left, reach), 0.0, _VALLEY_M))
    return metal


def _beside(planes: RoofPlanes, valley: Valley, out: Floats, reach_m: float) -> Floats:
    """The strip of the other roof's slope along a valley, mitred to the valley that meets it."""
    low, high = valley.line[:, :2]
    on = (high - low) / np.linalg.norm(high - low)
    far = high + 4.0 * reach_m * on
    strip = np.array([low, far, far + reach_m * out, low + reach_m * out])
    if on[0] * out[1] < on[1] * out[0]:
        strip = strip[::-1]
    for other in planes.valleys:
        if other is not valley and same(other.line[1], valley.line[1]):
            onto = (other.line[0] - other.line[1])[:2]
            between = (low - high) / np.linalg.norm(low - high) - onto / np.linalg.norm(onto)
            strip = clipped(strip, between, float(between @ high))
    bounds = valley.other[:, :2]
    for normal, point in zip(outwards(bounds), bounds, strict=True):
        strip = clipped(strip, -normal, float(-normal @ point))
    return strip


def _saddle(ring: Floats, valley: Valley, field_top_m: float, under_m: float) -> Mesh:
    """Metal over a break between two slopes: up under the upper covering, out over the lower."""
    a, b = valley.line
    y = unit(b - a)
    x = np.cross(y, [0.0, 0.0, 1.0])
    if (ring.mean(axis=0) - a) @ x < 0.0:
        a, b, x, y = b, a, -x, -y
    lower, upper = (
        float((on_plane(r, [a[:2] + x[:2]])[0] - on_plane(r, [a[:2]])[0])[2])
        for r in (ring, valley.other)
    )
    half, t = INSETS_M["valley"] - PLAY_M, LEAD_M
    over = (field_top_m + PLAY_M) * np.hypot(1.0, lower)
    under = -(half + max(under_m, 0.01))
    section = np.array(
        [
            (under, upper * under),
            (0.0, 0.0),
            (half, lower * half),
            (half, over + lower * half),
            (half + LEAD_OUT_M, over + lower * (half + LEAD_OUT_M)),
            (half + LEAD_OUT_M, over + t + lower * (half + LEAD_OUT_M)),
            (half, over + t + lower * half),
            (-half, field_top_m * np.hypot(1.0, upper) - upper * half),
            (-half, _VALLEY_M - upper * half),
            (under, _VALLEY_M + upper * under),
        ]
    )
    run = float(np.linalg.norm(b - a))
    return prism(section, a + run * y, x, (0.0, 0.0, 1.0), run)

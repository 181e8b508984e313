"""Sheet metal where a covering stops: at walls, round what comes through it, in valleys."""

from __future__ import annotations

import numpy as np

from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.plan_polygons import (
    INSETS_M,
    clipped,
    grown,
    on_plane,
    outwards,
    slab,
    within,
)
from massing.geometry.solids import prism
from massing.parts.part import Part
from massing.parts.roofs.laying import PLAY_M, lies_on, same, sides, unit
from massing.settingout.roof_planes import RoofPlanes, Valley

# Common practice, no source.
LEAD_M, LEAD_OUT_M, LEAD_UP_M = 0.003, 0.15, 0.12
_VALLEY_M = 0.0012  # thickness, which fits under what lies closest to the deck
_VALLEY_UNDER_M = 0.25  # under the covering each side
_CLEAR_M = 0.05  # to a hip or ridge line
_LEVEL_M = 1e-7
_OFF_WALL_M = 0.0004  # an upstand's back is not in one plane with what else stands there


def lay_flashings(
    planes: RoofPlanes, field_top_m: float, stop_m: float, under_m: float = _VALLEY_UNDER_M
) -> list[Part]:
    """Aprons at walls and round holes, and metal in the valleys.

    Args:
        planes: the roof.
        field_top_m: top of the covering above the deck.
        stop_m: aprons stop this short of a hip, ridge or verge.
        under_m: how far the metal of a valley goes under the covering.
    """
    sheets = [
        *_aprons(planes, field_top_m, stop_m),
        *_round_holes(planes, field_top_m, under_m),
        *_valleys(planes, field_top_m, stop_m, under_m),
    ]
    return [Part(("tiles", "flashing"), "metal", merged(sheets))] if sheets else []


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
        for a, b in _against_wall(planes, shared, ring, field_top_m + LEAD_UP_M):
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


def _against_wall(
    planes: RoofPlanes, shared: list[Floats], ring: Floats, top_m: float
) -> list[tuple[Floats, Floats]]:
    """The stretches of a slope's edges where there is wall behind what stands ``top_m`` on them."""
    found = []
    for a, b in sides(ring):
        if lies_on(shared, a, b):
            continue
        cut = (a, b)
        if planes.wall_x_m is not None and abs(a[0] - b[0]) > _LEVEL_M:
            rise = abs((b[2] - a[2]) / (b[0] - a[0]))
            lean = top_m * rise / (1.0 + rise**2)  # its end is square to the edge
            low, high = planes.wall_x_m
            ends = [np.clip(p[0], low + lean, high - lean) for p in (a, b)]
            cut = tuple(a + (x - a[0]) / (b[0] - a[0]) * (b - a) for x in ends)
        if not same(*cut):
            found.append(cut)
    return found


def _round_holes(planes: RoofPlanes, field_top_m: float, under_m: float) -> list[Mesh]:
    """Along the sides of holes: aprons at walls, and in valleys the metal on this slope."""
    sheets = []
    for hole in planes.holes:
        wall, valley = (
            np.array([side == kind for side in hole.sides]) for kind in ("wall", "valley")
        )
        off, foot = (grown(hole.ring, by * wall) for by in (_OFF_WALL_M, LEAD_M))
        laid = grown(hole.ring, (INSETS_M["valley"] + under_m) * valley)
        for ring in planes.slopes:
            normal = np.cross(ring[1] - ring[0], ring[-1] - ring[0])
            gradient = normal[:2] / normal[2]
            base = (field_top_m + PLAY_M) * float(np.hypot(1.0, np.linalg.norm(gradient)))
            along = np.hypot(1.0, outwards(hole.ring) @ gradient)  # on the slope, for each level m
            out = grown(hole.ring, LEAD_OUT_M / along * wall)
            strips = [(i, off, foot, base, base + LEAD_UP_M) for i in np.flatnonzero(wall)]
            strips += [(i, foot, out, base, base + LEAD_M) for i in np.flatnonzero(wall)]
            strips += [(i, hole.ring, laid, 0.0, _VALLEY_M) for i in np.flatnonzero(valley)]
            for i, inner, outer, low, high in strips:
                j = (i + 1) % len(hole.ring)
                strip = _strip(inner[i], outer[i], outer[j], inner[j])
                plan = within(strip, ring[:, :2])
                if len(plan) > 2:
                    sheets.append(slab(ring, plan, low, high))
    return sheets


def _strip(a: Floats, out_a: Floats, out_b: Floats, b: Floats) -> Floats:
    """The plan between a side and the same side farther out; a triangle where its ends cross.

    They do on a short side beside one that stays where it is.
    """
    ends = np.column_stack([out_a - a, b - out_b])
    if abs(np.linalg.det(ends)) > _LEVEL_M * np.linalg.norm(ends):
        of_a, of_b = np.linalg.solve(ends, b - a)
        if 0.0 < of_a < 1.0 and 0.0 < of_b < 1.0:
            return np.array([a, a + of_a * (out_a - a), b])
    return np.array([a, out_a, out_b, b])


def _valleys(planes: RoofPlanes, field_top_m: float, stop_m: float, under_m: float) -> list[Mesh]:
    """Metal on this roof's side of each valley, or over the break with the slope above."""
    metal = []
    shared = [*planes.hips, *planes.ridges, *planes.verges]
    for ring in planes.slopes:
        for a, b in sides(ring):
            valley = next((v for v in planes.valleys if lies_on([v.line], a, b)), None)
            if valley is None:
                continue
            if abs(a[2] - b[2]) < _LEVEL_M:
                metal += _saddle(ring, valley, field_top_m, stop_m)
                continue
            left = np.array([a[1] - b[1], b[0] - a[0]])  # the slope's own side
            left /= np.linalg.norm(left)
            own = clipped(ring[:, :2], -left, float(-left @ a[:2]) - INSETS_M["valley"] - under_m)
            for c, d in sides(ring):  # clear of what stands on the deck under hips and ridges
                if lies_on(shared, c, d):
                    level = np.array([c[1] - d[1], d[0] - c[0]])
                    level /= np.linalg.norm(level)
                    own = clipped(own, level, float(level @ c[:2]) + _CLEAR_M)
            if len(own) > 2:
                metal.append(slab(ring, own, 0.0, _VALLEY_M))
    return metal


def _saddle(ring: Floats, valley: Valley, field_top_m: float, stop_m: float) -> list[Mesh]:
    """Metal over a break between two slopes, from one covering to the other, and a wing of it
    out over the lower one that stops short of its verges.
    """
    a, b = valley.line
    y = unit(b - a)
    x = np.cross(y, [0.0, 0.0, 1.0])
    if (ring.mean(axis=0) - a) @ x < 0.0:
        a, b, x, y = b, a, -x, -y
    lower, upper = (
        float((on_plane(r, [a[:2] + x[:2]])[0] - on_plane(r, [a[:2]])[0])[2])
        for r in (ring, valley.other)
    )
    half, t, out = INSETS_M["valley"] - PLAY_M, LEAD_M, LEAD_OUT_M
    over = (field_top_m + PLAY_M) * float(np.hypot(1.0, lower))
    block = [
        (-half, _VALLEY_M - upper * half),
        (0.0, _VALLEY_M),
        (half, lower * half),
        (half, over + t + lower * half),
        (-half, field_top_m * float(np.hypot(1.0, upper)) - upper * half),
    ]
    wing = [(half, over + lower * half), (half + out, over + lower * (half + out))]
    wing += [(r, z + t) for r, z in reversed(wing)]
    run = float(np.linalg.norm(b - a))
    runs = [(block, 0.0, run)]
    if run - 2.0 * stop_m > out:
        runs.append((wing, stop_m, run - stop_m))
    up = (0.0, 0.0, 1.0)
    return [prism(section, a + end * y, x, up, end - start) for section, start, end in runs]

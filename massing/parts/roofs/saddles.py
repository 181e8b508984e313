"""Lead saddles where a hip or a ridge comes to a wall: over its last tile and the gaps beside."""

from __future__ import annotations

import numpy as np

from massing.geometry.booleans import cut_copies
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import prism
from massing.parts.part import Part
from massing.parts.roofs.flashings import LEAD_M, LEAD_OUT_M, LEAD_UP_M
from massing.parts.roofs.laying import PLAY_M, lies_on, same, sides, unit
from massing.parts.roofs.lines import RoofLine, roof_lines
from massing.settingout.roof_planes import RoofPlanes

# Common practice, no source.
_LONG_M, _WING_M = 0.36, 0.27
_APART_M = 0.001
_OVER_TILE_M = 0.05  # lead on the wall over the tile: a low curb takes no more
UP = np.array([0.0, 0.0, 1.0])


def lay_saddles(
    planes: RoofPlanes,
    field_top_m: float,
    stop_m: float,
    tile_m: float,
    tile_rise_m: float | None = None,
) -> list[Part]:
    """A saddle at each head of a hip or ridge that stands before a wall.

    Args:
        planes: the roof.
        field_top_m: top of the covering above the deck.
        stop_m: how far short of the head the aprons beside it stop.
        tile_m: outer radius of the half-round tile or roll on the line, or half a cap's breadth.
        tile_rise_m: how far it stands over the covering; its radius where it is left out.
    """
    radius_m = tile_m + 0.006
    rise_m = (tile_m if tile_rise_m is None else tile_rise_m) + 0.008
    edges = _wall_edges(planes)
    sheets: list[Mesh] = []
    for line in roof_lines(planes):
        head = line.frame[:3, 3] + line.length_m * line.frame[:3, 1]
        met = [e for e in edges if any(same(head, p) for p in e[0])]
        if line.verge_side or line.length_m < 2.0 * _LONG_M or _shared(planes, head):
            continue
        if planes.wall_x_m is not None and not -1e-6 <= abs(head[0]) <= max(planes.wall_x_m) + 1e-6:
            continue
        for (a, b), middle in met:
            side = float(np.sign((middle - head) @ line.frame[:3, 0]))
            inwards = unit(np.cross(UP, b - a))
            wall = (inwards, float(inwards @ head) + LEAD_M + _APART_M)
            other = b if same(head, a) else a
            back = unit((head - other) * [1.0, 1.0, 0.0])  # clear of what is at the other end
            own = (back, float(back @ (a + b)) / 2.0 + _APART_M)
            half = _half(line, side, field_top_m, radius_m, rise_m)
            sheets.append(cut_copies(half, line.frame[None], [wall, own]))
            sheets.append(_upstand(head, other, inwards, field_top_m, stop_m, line.fall, rise_m))
    return [Part(("tiles", "saddles"), "metal", merged(sheets))] if sheets else []


def _wall_edges(planes: RoofPlanes) -> list[tuple[tuple[Floats, Floats], Floats]]:
    """The slopes' edges against walls, and the middle of the slope that each belongs to."""
    shared = [*planes.hips, *planes.ridges, *planes.verges, *planes.heads]
    shared += [v.line for v in planes.valleys]
    return [
        ((a, b), ring.mean(axis=0))
        for ring in planes.slopes
        for a, b in sides(ring)
        if not lies_on(shared, a, b)
    ]


def _shared(planes: RoofPlanes, head: Floats) -> bool:
    """Whether several lines end at a point."""
    lines = [*planes.hips, *planes.ridges]
    return sum(any(same(head, p) for p in line) for line in lines) > 1


def _half(line: RoofLine, side: float, field_top_m: float, radius_m: float, rise_m: float) -> Mesh:
    """One side's lead, from the line's middle out, along its last stretch."""
    f, t = line.fall, LEAD_M
    base = field_top_m * np.hypot(1.0, f) + PLAY_M + LEAD_M + _APART_M
    angle = np.linspace(0.0, 0.5 * np.pi, 9)
    crown = np.column_stack([radius_m * np.sin(angle), base + rise_m * np.cos(angle)])
    foot = [(radius_m, base - radius_m * f), (_WING_M, base - _WING_M * f)]
    inner = np.array([*crown[crown[:, 1] > base - radius_m * f + 1e-4], *foot])
    outer = inner + [0.0, t]
    outer[:-1, 0] += t
    outer[0, 0] = 0.0
    ring = np.concatenate([inner, outer[::-1]]) * [side, 1.0]
    end = line.length_m + 0.5
    return prism(ring, (0.0, end, 0.0), (1.0, 0, 0), (0, 0, 1.0), _LONG_M + 0.5)


def _upstand(
    head: Floats,
    other: Floats,
    inwards: Floats,
    field_top_m: float,
    stop_m: float,
    fall: float,
    rise_m: float,
) -> Mesh:
    """Lead on the wall between the saddle and the apron, stepped up over the tile."""
    along = unit((other - head) * [1.0, 1.0, 0.0])
    run = float(np.linalg.norm((other - head)[:2]))
    slope = float(other[2] - head[2]) / run
    aside = LEAD_OUT_M if abs(slope) > _APART_M else 0.0  # as the aprons stop
    length = min(stop_m + aside, run / 2.0 - _APART_M)
    low = field_top_m * np.hypot(1.0, fall) + PLAY_M
    high = low + max(LEAD_UP_M, rise_m + _OVER_TILE_M)
    lean = -slope / (1.0 + slope**2)  # the apron's end is square to its edge
    ends = [length + z * lean for z in (low, high)]
    ring = [(0.0, low), (ends[0], low + slope * ends[0])]
    ring += [(ends[1], high + slope * ends[1]), (0.0, high)]
    normal = np.cross(along, UP)
    depth = LEAD_M if normal @ inwards > 0.0 else -LEAD_M
    origin = head if depth > 0.0 else head + LEAD_M * inwards
    return prism(ring, origin, along, UP, abs(depth))

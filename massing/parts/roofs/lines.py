"""Lines of a roof (hips, ridges, verges) and what is laid or run along them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from massing.geometry.booleans import Plane, cut_copies
from massing.geometry.mesh import Floats, Mesh
from massing.geometry.plan_polygons import INSETS_M, opened
from massing.geometry.solids import prism
from massing.parts.roofs.laying import (
    CLEAR,
    GONE,
    PLAY_M,
    SAME_M,
    SCRAP_SHARE,
    UNDER_LAP_M,
    UP,
    level,
    lies_on,
    meet_holes,
    same,
    same_line,
    sides,
    unit,
    without_holes,
)
from massing.settingout.roof_planes import RoofPlanes


@dataclass(frozen=True, eq=False)
class RoofLine:
    """A hip, ridge or verge.

    Attributes:
        frame: ``(4, 4)``; y along the line (uphill), x level, z up from the deck.
        length_m: its length.
        fall: fall over run of the slopes beside it, in the section square to it.
        ends: planes that keep it off its neighbours and off walls.
        open_foot: its low end stands free at the eaves.
        eaves: upright planes of the deck's edges that meet at that end.
        verge_side: for a verge, +1 or -1: the side (x) on which the roof lies; else 0.
        holes: convex plan polygons in which nothing is laid.
        skew: how much farther its end may be cut than square across, where it runs to valleys.
    """

    frame: Floats
    length_m: float
    fall: float
    ends: list[Plane]
    open_foot: bool
    eaves: list[Plane]
    verge_side: float
    holes: list[Floats]
    skew: float = 1.0


def roof_lines(planes: RoofPlanes) -> list[RoofLine]:
    """Every hip, ridge and verge of a roof."""
    segments = [(line, "hip") for line in planes.hips]
    segments += [(line, "ridge") for line in planes.ridges]
    segments += [(line, "verge") for line in planes.verges]
    walls = _abutments(planes)
    holes, skew = opened(planes.holes), _skew(planes)
    lines = []
    for segment, kind in segments:
        a, b = segment
        y = unit(b - a)
        x = unit(np.cross(y, [0.0, 0.0, 1.0]))
        matrix = np.eye(4)
        matrix[:3, 0], matrix[:3, 1], matrix[:3, 2], matrix[:3, 3] = x, y, np.cross(x, y), a
        ends = _before_walls(walls, a, b)
        for head in planes.heads:
            if any(same(b, p) for p in head):
                ends.append((-UP, UNDER_LAP_M - float(b[2])))
        for end, other_end in ((a, b), (b, a)):
            own = level(other_end - end)
            for other, _ in segments:
                for k in (0, 1):
                    far = other[1 - k]
                    if same(other[k], end) and not same(far, other_end):
                        normal = unit(own - level(far - end))
                        ends.append((normal, float(normal @ end)))
        fall, side = _fall(planes, segment, x, matrix[:3, 2])
        lines.append(
            RoofLine(
                matrix,
                float(np.linalg.norm(b - a)),
                fall,
                ends,
                kind != "ridge",
                _eaves_at(planes, a),
                side if kind == "verge" else 0.0,
                holes,
                skew,
            )
        )
    return lines


def _skew(planes: RoofPlanes) -> float:
    """Length over width of the flattest valley, in plan; at least 1."""
    steps = [np.abs(v.line[1, :2] - v.line[0, :2]) for v in planes.valleys]
    return max([1.0, *(float(s.max() / max(s.min(), 0.1 * s.max())) for s in steps)])


def _eaves_at(planes: RoofPlanes, foot: Floats) -> list[Plane]:
    """Upright planes, a little within the deck's edges, of the eaves that end at a point."""
    met = []
    for ring in planes.slopes:
        if any(same(foot, p) for p in ring[:2]):
            level = unit(np.cross(UP, ring[1] - ring[0]))
            met.append((level, float(level @ foot) + PLAY_M))
    return met


def _before_walls(walls: list[Plane], a: Floats, b: Floats) -> list[Plane]:
    """The walls that a line does not lie behind; at a wall's corner, one plane square to it."""
    away = INSETS_M["wall"]
    before = [(n, o) for n, o in walls if max(n @ a, n @ b) > o - away - SAME_M]
    met = [n for n, o in before if n[2] == 0.0 and abs(n @ b - o + away) < SAME_M]
    if len(met) < 2:
        return before
    back = -level(b - a)
    return [(back, float(back @ b) + away)]


def _abutments(planes: RoofPlanes) -> list[Plane]:
    """Upright planes of the walls, and of the other roof's covering, that slopes run against."""
    found: list[Plane] = []
    shared = [*planes.hips, *planes.ridges, *planes.verges, *planes.heads]
    valleys = [v.line for v in planes.valleys]
    for ring in planes.slopes:
        for a, b in sides(ring):
            if not lies_on(shared, a, b):
                level = unit(np.cross([0.0, 0.0, 1.0], b - a))
                away = INSETS_M["wall"]
                if lies_on(valleys, a, b):  # in a level one a saddle is in the way
                    level_one = abs(a[2] - b[2]) < SAME_M
                    away = PLAY_M + INSETS_M["valley"] * (1.0 if level_one else -1.0)
                offset = float(level @ a) + away
                if not any(same(level, n) and abs(offset - o) < SAME_M for n, o in found):
                    found.append((level, offset))
    for valley in planes.valleys:  # and nothing goes down into the other roof
        up = unit(np.cross(valley.other[1] - valley.other[0], valley.other[-1] - valley.other[0]))
        offset = float(up @ valley.other[0]) + 1.5 * PLAY_M
        if not any(same(up, n) and abs(offset - o) < SAME_M for n, o in found):
            found.append((up, offset))
    return found


def _fall(planes: RoofPlanes, segment: Floats, x: Floats, z: Floats) -> tuple[float, float]:
    """Fall away from a line of the slopes that meet on it, and the side one of them lies."""
    for ring in planes.slopes:
        for a, b in sides(ring):
            if same_line(segment, a, b):
                normal = np.cross(ring[1] - ring[0], ring[-1] - ring[0])
                side = float(np.sign((ring.mean(axis=0) - segment[0]) @ x))
                return float(abs(normal @ x) / (normal @ z)), side
    raise ValueError("a hip, ridge or verge lies on no slope")


def along(line: RoofLine, length_m: float, exposure_m: float, overhang_m: float) -> Floats:
    """Places along a line of pieces that lap, from its foot."""
    start = -overhang_m if line.open_foot else 0.0
    count = int(np.ceil((line.length_m - start) / exposure_m))
    return start + exposure_m * np.arange(count, dtype=float)


def lay_along(
    line: RoofLine, mesh: Mesh, local: Floats, free_m: float
) -> tuple[Floats, list[Mesh]]:
    """Lay pieces along a line; those within ``free_m`` of an end that meets others are cut."""
    free_m *= line.skew
    reach = mesh.bounds[:, 1]
    y = local[:, 1, 3]
    away = y + reach[1] < line.length_m - free_m
    away &= line.open_foot | (y + reach[0] > free_m)
    frames = line.frame @ local
    met = meet_holes(mesh, frames, line.holes)
    near, gone = met != CLEAR, met == GONE
    cut = [] if away.all() else [cut_copies(mesh, frames[~away], line.ends)]
    if (away & near & ~gone).any():
        cut.append(cut_copies(mesh, frames[away & near & ~gone], []))
    cut = [without_holes(m, line.holes, SCRAP_SHARE * mesh.volume_m3) for m in cut]
    return frames[away & ~near], [m for m in cut if len(m.faces)]


def run_along(line: RoofLine, section: Floats, start_m: float) -> Mesh:
    """A section (x, z) run along a line from ``start_m`` of its foot, cut at its ends."""
    run = line.length_m - start_m
    long = prism(section, (0.0, line.length_m, 0.0), (1.0, 0, 0), (0, 0, 1.0), run)
    return without_holes(cut_copies(long, line.frame[None], line.ends), line.holes)

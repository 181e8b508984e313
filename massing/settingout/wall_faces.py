"""The outer face of each wall as something to be covered: its run, and what is cut out of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import manifold3d
import numpy as np
from numpy.typing import NDArray

from massing.design.house import HouseDesign
from massing.design.opening import Opening
from massing.geometry.arches import HeadLine
from massing.geometry.mesh import Floats, Mesh
from massing.geometry.solids import signed_area
from massing.practice.joinery_sizes import SILL_HEIGHT_M, sill_length

_LEAST_PIECE_M2 = 2e-4
_LEVELS = 65  # at which a flare's outline is drawn
Rectangle = tuple[float, float, float, float]  # low x, low z, high x, high z in the wall's frame


@dataclass(frozen=True)
class CutShape:
    """A shape about an upright axis, cut out of a wall course by course.

    ``half_m`` gives its half width at a height; ``low_z_m`` and ``high_z_m`` bound it.
    """

    x_m: float
    low_z_m: float
    high_z_m: float
    half_m: Callable[[float], float]

    def over(self, z0: float, z1: float) -> Rectangle:
        """What it takes of the band between two heights."""
        a, b = max(z0, self.low_z_m), min(z1, self.high_z_m)
        half = max(self.half_m(a), self.half_m(b))
        return (self.x_m - half, self.low_z_m, self.x_m + half, self.high_z_m)

    def outline(self, grown_m: float = 0.0) -> Floats:
        """Its outline ``(n, 2)`` of (x, z), counter-clockwise, wider by ``grown_m`` all round."""
        share = np.sin(np.linspace(0.0, np.pi / 2.0, _LEVELS))  # closer where a crown is flat
        z = self.low_z_m + (self.high_z_m - self.low_z_m) * share
        half = np.array([self.half_m(float(at)) for at in z]) + grown_m
        z[-1] += grown_m
        right, left = np.column_stack([half, z]), np.column_stack([-half, z])[::-1]
        return np.concatenate([right, left]) + [self.x_m, 0.0]


Cut = Rectangle | CutShape
Area = tuple[float, float, float, list[Cut]]  # x from, x to, top, what is cut out of it


@dataclass(frozen=True)
class Gable:
    """The wall between a gable's rakes, in the wall's frame.

    Attributes:
        half_m: half its length at its foot.
        foot_z_m, top_z_m: its foot and its apex.
        taken: what the rakes, what stands at its foot and its window take of it.
        joined: it goes on from the wall below without a cornice between.
        x_m: its middle along the wall.
        past_ends: it goes out past the wall's ends, over returns of the eaves.
    """

    half_m: float
    foot_z_m: float
    top_z_m: float
    taken: tuple[Cut, ...]
    joined: bool = False
    x_m: float = 0.0
    past_ends: bool = False


def areas(
    ends: tuple[float, float], top_z_m: float, cut: list[Cut], gables: Sequence[Gable]
) -> list[Area]:
    """What is covered of a wall's face up to ``top_z_m`` and of the gables over it.

    ``ends`` and ``cut`` are of the wall. Every area counts its courses from the wall's foot.
    """
    joined = sorted((g for g in gables if g.joined), key=lambda g: g.x_m)
    found = [_with_joined(ends, top_z_m, cut, joined)]
    for gable in gables:
        if not gable.joined:
            low, high = gable.x_m - gable.half_m, gable.x_m + gable.half_m
            below: Cut = (low, -np.inf, high, gable.foot_z_m)
            found.append((low, high, gable.top_z_m, [*gable.taken, below]))
    return found


def _with_joined(
    ends: tuple[float, float], top_z_m: float, cut: list[Cut], gables: Sequence[Gable]
) -> Area:
    """The wall and the gables that go on from it as one, less what is beside them."""
    if not gables:
        return (*ends, top_z_m, cut)
    taken_ = [*cut, *(c for g in gables for c in g.taken)]
    low, high = ends
    for gable in gables:
        if gable.past_ends:
            low, high = min(low, gable.x_m - gable.half_m), max(high, gable.x_m + gable.half_m)
            sides = ((low, ends[0]), (ends[1], high))
            taken_ += [(a, -np.inf, b, gable.foot_z_m) for a, b in sides]
    at = low
    for gable in gables:
        if gable.x_m - gable.half_m > at:
            taken_.append((at, top_z_m, gable.x_m - gable.half_m, np.inf))
        at = gable.x_m + gable.half_m
    if at < high:
        taken_.append((at, top_z_m, high, np.inf))
    return (low, high, max(g.top_z_m for g in gables), taken_)


WALL_NAMES = ("front", "right", "back", "left")


def run_m(house: HouseDesign, wall: str) -> float:
    """Outside length of a wall."""
    return house.width_m if wall in ("front", "back") else house.depth_m


def plan_path(house: HouseDesign, plan: Floats) -> Floats:
    """The way round a plan ``(4, 2)``, from front left counter-clockwise.

    A wing's begins and ends at the main wall, its open side left out.
    """
    return np.roll(plan, -2 if house.open_side == "right" else 0, axis=0)


def free_corners(house: HouseDesign) -> list[int]:
    """Corners with two faces, numbered by the wall to whose left they stand."""
    return [k for k in range(4) if house.open_side not in (WALL_NAMES[k], WALL_NAMES[k - 1])]


def face_ends(
    house: HouseDesign, wall: str, inset_m: float = 0.0, inner_m: float = 0.0
) -> tuple[float, float]:
    """From where to where a wall's face is covered, in its frame.

    ``inset_m`` is left at each corner, ``inner_m`` where a wing's wall meets the main one.
    """
    k, free, half = WALL_NAMES.index(wall), free_corners(house), run_m(house, wall) / 2.0
    left, right = (inset_m if c in free else inner_m for c in (k, (k + 1) % 4))
    return -half + left, half - right


def taken_by(opening: Opening) -> list[Cut]:
    """What an opening, its casing and its sill cover of the wall's face."""
    half, face = opening.width_m / 2.0, opening.face_m
    x, z = opening.along_m, opening.sill_z_m
    top = opening.soffit.shifted(z)
    around: list[Cut] = [(x - half - face, z, x + half + face, top.springing_z_m)]
    if top.level:
        around = [(x - half - face, z, x + half + face, z + opening.height_m + face)]
    else:
        around += arched(top, face, x)
    if not opening.sill_height_m:
        return around
    lug, bed = sill_length(opening.width_m, face) / 2.0, z - SILL_HEIGHT_M
    low = opening.foot_z_m  # of a panel below the sill, where it has one
    below = [(x - half, low, x + half, bed)]
    return [*around, (x - lug, bed, x + lug, z), *(below if low < bed else [])]


def arched(top: HeadLine, out_m: float, x_m: float) -> list[Cut]:
    """What a curved band ``out_m`` deep about a soffit takes of the wall, above its springing.

    Its ends are square to the curve, as skewbacks are; ``top`` stands in the wall's heights and
    ``x_m`` is its middle.
    """
    edge = top.moved_out(out_m, 4 * top.steps)[: 2 * top.steps + 1]
    spring, shoulder, crown = top.springing_z_m, float(edge[0, 1]), top.crown_z_m + out_m

    def extrados(z: float) -> float:
        return float(np.interp(z, edge[:, 1], edge[:, 0]))

    def skewback(z: float) -> float:
        share = (z - spring) / (shoulder - spring)
        return float(top.width_m / 2.0 + share * (edge[0, 0] - top.width_m / 2.0))

    upper = CutShape(x_m, shoulder, crown, extrados)
    if shoulder - spring < 1e-6:
        return [upper]
    return [CutShape(x_m, spring, shoulder, skewback), upper]


def taken(house: HouseDesign, wall: str, extra: Sequence[Cut] = ()) -> list[Cut]:
    """All that is cut out of a wall's face."""
    own = [r for o in house.openings if o.wall == wall for r in taken_by(o)]
    return own + list(extra)


def strips(
    low: tuple[float, float],
    high: tuple[float, float],
    course_m: float,
    cut: Sequence[Cut],
) -> Floats:
    """Courses over a rectangle of wall, less what is cut out.

    Args:
        low, high: (x, z) corners in the wall's frame, metres.
        course_m: height of a course; the last may be less.
        cut: what is left free.

    Returns:
        ``(n, 5)`` x from, x to, z from, z to, and foot of the course it belongs to. A course
        that a rectangle only partly covers comes in strips that butt.
    """
    rows: list[tuple[float, ...]] = []
    count = int(np.ceil((high[1] - low[1]) / course_m - 1e-9))
    for k in range(count):
        z0, z1 = low[1] + k * course_m, min(low[1] + (k + 1) * course_m, high[1])
        shapes = [c.over(z0, z1) if isinstance(c, CutShape) else c for c in cut]
        near = [r for r in shapes if r[1] < z1 and r[3] > z0 and r[0] < high[0] and r[2] > low[0]]
        rows += [(*run, z0) for run in _course(low[0], high[0], z0, z1, near)]
    return np.array(rows, dtype=float).reshape(-1, 5)


def _course(
    x0: float, x1: float, z0: float, z1: float, near: list[Rectangle]
) -> list[tuple[float, float, float, float]]:
    """Free strips (x from, x to, z from, z to) of one course; split only beside what cuts it."""
    edges = sorted({x0, x1, *(x for r in near for x in (r[0], r[2]) if x0 < x < x1)})
    found: list[tuple[float, float, float, float]] = []
    before: list[tuple[float, float]] = []
    start = x0
    for a, b in pairwise(edges):
        mine = [(r[1], r[3]) for r in near if r[0] < b - 1e-9 and r[2] > a + 1e-9]
        here = _free(z0, z1, mine)
        if here != before:
            found += [(start, a, c, d) for c, d in before]
            start, before = a, here
    found += [(start, x1, c, d) for c, d in before]
    return [r for r in found if r[1] - r[0] > 1e-4]


def _free(low: float, high: float, taken_: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """What is left of an interval."""
    runs, at = [], low
    for a, b in sorted(taken_):
        if a > at + 1e-9:
            runs.append((at, min(a, high)))
        at = max(at, b)
        if at >= high:
            break
    if at < high - 1e-9:
        runs.append((at, high))
    return [(a, b) for a, b in runs if b - a > 1e-4]


_SIDES = np.array(
    [[0, 1, 3, 2], [4, 6, 7, 5], [0, 4, 5, 1], [2, 3, 7, 6], [0, 2, 6, 4], [1, 5, 7, 3]]
)


Scribed = list[tuple[Floats, Floats]]


def scribe(rows: Floats, flares: Sequence[CutShape], gap_m: float = 0.0) -> tuple[Floats, Scribed]:
    """Pieces of a facing cut to the curves and slopes they meet.

    Args:
        rows: ``(n, 4 or more)`` x from, x to, z from, z to of each piece, which stand apart or
            butt, then what is its own.
        flares: what is cut out of them.
        gap_m: joint left between.

    Returns:
        The rows that meet none, and what is left of the others: ``(row, outline (k, 2))``.
    """
    if not flares or not len(rows):
        return rows, []
    shapes = [flare.outline(gap_m) for flare in flares]
    touched, gone = np.zeros((2, len(rows)), dtype=bool)
    for flare, shape in zip(flares, shapes, strict=True):
        met, within = _meets(rows, shape[:_LEVELS] - [flare.x_m, 0.0], flare.x_m)
        touched, gone = touched | met, gone | within
    hit = rows[touched & ~gone]
    taken_ = manifold3d.CrossSection.batch_boolean(
        [manifold3d.CrossSection([s]) for s in shapes], manifold3d.OpType.Add
    )
    left: Scribed = []
    for row, ring in zip(hit, hit[:, [[0, 2], [1, 2], [1, 3], [0, 3]]], strict=True):
        rings = (manifold3d.CrossSection([ring]) - taken_).to_polygons()
        outlines = [np.asarray(r, dtype=float) for r in rings]
        left += [(row, r) for r in outlines if abs(signed_area(r)) > _LEAST_PIECE_M2]
    return rows[~touched & ~gone], left


def _meets(rows: Floats, edge: Floats, x_m: float) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Which rows reach into a flare, and which stand within it.

    ``edge`` ``(k, 2)``: its half width and height, from its foot up, about ``x_m``.
    """
    half, z = edge.T
    x0, x1, low, high = rows[:, :4].T
    ends = np.stack([np.interp(np.clip(at, z[0], z[-1]), z, half) for at in (low, high)])
    between = (z > low[:, None]) & (z < high[:, None])
    most = np.maximum(ends.max(axis=0), np.where(between, half, -np.inf).max(axis=1))
    least = np.minimum(ends.min(axis=0), np.where(between, half, np.inf).min(axis=1))
    met = (low < z[-1]) & (high > z[0]) & (x0 < x_m + most) & (x1 > x_m - most)
    within = (low >= z[0]) & (high <= z[-1]) & (x0 >= x_m - least) & (x1 <= x_m + least)
    return met, within


def blocks(corners: Floats) -> Mesh:
    """Many six-sided blocks as one mesh.

    ``corners`` ``(n, 8, 3)``: index 4 x + 2 y + z of each block's low and high ends, with x, y,
    z right-handed.
    """
    n = len(corners)
    quads = (_SIDES[None] + 8 * np.arange(n)[:, None, None]).reshape(-1, 4)
    faces = np.concatenate([quads[:, [0, 1, 2]], quads[:, [0, 2, 3]]])
    return Mesh(corners.reshape(-1, 3), faces)

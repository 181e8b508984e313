"""The planes of a roof: where slopes, hips and ridges run.

A slope is a planar convex polygon ``(n, 3)``, counter-clockwise seen from above, whose first
edge is its eave, left to right as one looks at the slope from outside.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats
from massing.geometry.plan_polygons import Hole

_POINT_M = 1e-6  # a ridge shorter than this is a point


@dataclass(frozen=True, eq=False)
class RoofPlanes:
    """The upper surface of a roof's deck.

    Attributes:
        slopes: polygons ``(n, 3)``, eave first.
        hips: ``(k, 2, 3)`` lines where two slopes meet and shed water apart, low end first.
        ridges: ``(k, 2, 3)`` level lines, the same.
        verges: ``(k, 2, 3)`` free sloping edges of a gable, the same.
        heads: ``(k, 2, 3)`` level top edges that stop under the eave of a slope above.
        holes: what comes through the roof.
        valleys: where its slopes run into those of another roof, and shed water together.
        wall_x_m: of a roof against the front wall, from and to where there is wall, if it is not
            everywhere behind it.
    """

    slopes: tuple[Floats, ...]
    hips: Floats
    ridges: Floats
    verges: Floats = field(default_factory=lambda: np.empty((0, 2, 3)))
    heads: Floats = field(default_factory=lambda: np.empty((0, 2, 3)))
    holes: tuple[Hole, ...] = ()
    valleys: tuple[Valley, ...] = ()
    wall_x_m: tuple[float, float] | None = None


@dataclass(frozen=True, eq=False)
class Valley:
    """A line ``(2, 3)`` on which a slope meets that of another roof, low end first.

    ``other`` is the polygon ``(n, 3)`` of the other roof's slope.
    """

    line: Floats
    other: Floats


def hip_planes(low: ArrayLike, high: ArrayLike, eaves_z_m: float, slope: float) -> RoofPlanes:
    """Four slopes of one pitch over a plan rectangle.

    Args:
        low, high: corners ``(2,)`` of the eaves' outer edge, metres.
        eaves_z_m: the deck's upper surface at the eaves.
        slope: rise over run.

    Raises:
        ValueError: the rectangle has no area or the slope is not positive.
    """
    (x0, y0), (x1, y1) = rectangle(low, high, slope)
    run = min(x1 - x0, y1 - y0) / 2.0
    top = eaves_z_m + slope * run
    corners = np.array([(x, y, eaves_z_m) for x, y in [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]])
    mid = 0.5 * np.array([x0 + x1, y0 + y1, 2.0 * top])
    half = np.array([max(x1 - x0 - 2.0 * run, 0.0), max(y1 - y0 - 2.0 * run, 0.0), 0.0]) / 2.0
    half[half < _POINT_M] = 0.0
    first, last = mid - half, mid + half
    wide = x1 - x0 > y1 - y0
    apex = [first, last if wide else first, last, first if wide else last]  # of each corner's hip
    slopes = []
    for k in range(4):
        ring = np.array([corners[k], corners[(k + 1) % 4], apex[(k + 1) % 4], apex[k]])
        slopes.append(_without_repeats(ring))
    hips = np.array([[corners[k], apex[k]] for k in range(4)])
    ridges = np.array([[first, last]]) if half.any() else np.empty((0, 2, 3))
    return RoofPlanes(tuple(slopes), hips, ridges)


def gable_planes(low: ArrayLike, high: ArrayLike, eaves_z_m: float, slope: float) -> RoofPlanes:
    """Two slopes of one pitch, to front and back, over a plan rectangle; the ridge runs along x.

    Raises:
        ValueError: the rectangle has no area or the slope is not positive.
    """
    (x0, y0), (x1, y1) = rectangle(low, high, slope)
    middle, z = (y0 + y1) / 2.0, eaves_z_m
    top = z + slope * (y1 - y0) / 2.0
    a, b, c, d = (np.array([x, y, z]) for x, y in [(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    left, right = np.array([x0, middle, top]), np.array([x1, middle, top])
    return RoofPlanes(
        slopes=(np.array([a, b, right, left]), np.array([c, d, left, right])),
        hips=np.empty((0, 2, 3)),
        ridges=np.array([[left, right]]),
        verges=np.array([[a, left], [b, right], [c, right], [d, left]]),
    )


def decked_planes(
    low: ArrayLike, high: ArrayLike, eaves_z_m: float, slope: float, run_m: float
) -> tuple[RoofPlanes, Floats]:
    """Four hipped slopes cut off level, and the corners ``(4, 3)`` of the flat on top of them.

    The slopes run up against the curb that stands round the flat.

    Args:
        low, high: corners ``(2,)`` of the eaves' outer edge, metres.
        eaves_z_m: the deck's upper surface at the eaves.
        slope: rise over run.
        run_m: from the eaves' edge in to the flat, in plan.

    Raises:
        ValueError: the rectangle has no area, the slope is not positive, or the cut would
            leave no flat.
    """
    (x0, y0), (x1, y1) = rectangle(low, high, slope)
    if not 0.0 < 2.0 * run_m < min(x1 - x0, y1 - y0):
        raise ValueError(f"slopes that run in {run_m:.2f} m leave no flat between them")
    z = eaves_z_m
    foot = np.array([(x0, y0, z), (x1, y0, z), (x1, y1, z), (x0, y1, z)])
    inwards = run_m * np.array([(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)])
    flat = foot + np.column_stack([inwards, np.full(4, slope * run_m)])
    after = [1, 2, 3, 0]
    slopes = tuple(np.array([foot[k], foot[n], flat[n], flat[k]]) for k, n in enumerate(after))
    return RoofPlanes(slopes, np.stack([foot, flat], axis=1), np.empty((0, 2, 3))), flat


def gambrel_planes(
    low: ArrayLike,
    high: ArrayLike,
    eaves_z_m: float,
    slopes: tuple[float, float],
    break_m: tuple[float, float],
    nose_m: float,
    edge_m: float,
) -> tuple[RoofPlanes, RoofPlanes]:
    """Two slopes to front and back, the lower steeper; the ridge runs along x.

    The upper slopes begin ``nose_m`` before the lower ones' heads, which stop under them.

    Args:
        low, high: plan corners ``(2,)``, eaves to eaves and verge to verge.
        eaves_z_m: the deck's upper surface at the eaves.
        slopes: rise over run of the lower and the upper slopes.
        break_m: from the eaves' edge in to the lower slopes' heads, and up to them.
        nose_m: upper deck's edge before the lower slopes' heads.
        edge_m: upright edge of the upper deck.

    Returns:
        The lower slopes and the upper ones.

    Raises:
        ValueError: the rectangle has no area, a slope is not positive, the lower one is not
            the steeper, or the break lies past the ridge.
    """
    (x0, y0), (x1, y1) = rectangle(low, high, min(slopes))
    run, rise = break_m
    if slopes[0] <= slopes[1]:
        raise ValueError("a gambrel's lower slopes are steeper than its upper ones")
    if not 0.0 < run < (y1 - y0) / 2.0:
        raise ValueError(f"a break {run:.2f} m in from the eaves lies past the ridge")
    z, head = eaves_z_m, eaves_z_m + rise
    a, b, c, d = (np.array([x, y, z]) for x, y in [(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    over = [(x0, y0 + run), (x1, y0 + run), (x1, y1 - run), (x0, y1 - run)]
    e, f, g, h = (np.array([x, y, head]) for x, y in over)
    lower = RoofPlanes(
        slopes=(np.array([a, b, f, e]), np.array([c, d, h, g])),
        hips=np.empty((0, 2, 3)),
        ridges=np.empty((0, 2, 3)),
        verges=np.array([[a, e], [b, f], [c, g], [d, h]]),
        heads=np.array([[e, f], [g, h]]),
    )
    out = run - nose_m
    return lower, gable_planes((x0, y0 + out), (x1, y1 - out), head + edge_m, slopes[1])


def lean_to_planes(low: ArrayLike, high: ArrayLike, eaves_z_m: float, slope: float) -> RoofPlanes:
    """Three slopes of one pitch against a wall along the rectangle's back edge (``high[1]``).

    A porch deeper than half its width gets a ridge that runs back to the wall.

    Raises:
        ValueError: the rectangle has no area or the slope is not positive.
    """
    (x0, y0), (x1, y1) = rectangle(low, high, slope)
    run = min(y1 - y0, (x1 - x0) / 2.0)
    top = eaves_z_m + slope * run
    z = eaves_z_m
    left, right = np.array([x0 + run, y0 + run, top]), np.array([x1 - run, y0 + run, top])
    wall_left, wall_right = np.array([x0 + run, y1, top]), np.array([x1 - run, y1, top])
    a, b = np.array([x0, y0, z]), np.array([x1, y0, z])
    c, d = np.array([x1, y1, z]), np.array([x0, y1, z])
    slopes = tuple(
        _without_repeats(np.array(ring))
        for ring in ([a, b, right, left], [b, c, wall_right, right], [d, a, left, wall_left])
    )
    deep = (x1 - x0) / 2.0 < y1 - y0 - _POINT_M
    ridges = np.array([[left, wall_left]]) if deep else np.empty((0, 2, 3))
    return RoofPlanes(slopes, np.array([[a, left], [b, right]]), ridges)


def shed_planes(
    low: ArrayLike, high: ArrayLike, eaves_z_m: float, slope: float, *, under_eave: bool = False
) -> RoofPlanes:
    """One slope up from the rectangle's front edge to its back, against a wall there.

    ``under_eave`` where its head passes under the eave of a slope above instead.

    Raises:
        ValueError: the rectangle has no area or the slope is not positive.
    """
    (x0, y0), (x1, y1) = rectangle(low, high, slope)
    top = eaves_z_m + slope * (y1 - y0)
    a, b = np.array([x0, y0, eaves_z_m]), np.array([x1, y0, eaves_z_m])
    c, d = np.array([x1, y1, top]), np.array([x0, y1, top])
    none = np.empty((0, 2, 3))
    return RoofPlanes(
        slopes=(np.array([a, b, c, d]),),
        hips=none,
        ridges=none,
        verges=np.array([[a, d], [b, c]]),
        heads=np.array([[d, c]]) if under_eave else none,
    )


def porch_gable_planes(
    low: ArrayLike, high: ArrayLike, eaves_z_m: float, slope: float
) -> RoofPlanes:
    """Two slopes of one pitch whose ridge runs back to a wall along the back edge (``high[1]``).

    Raises:
        ValueError: the rectangle has no area or the slope is not positive.
    """
    (x0, y0), (x1, y1) = rectangle(low, high, slope)
    middle, z = (x0 + x1) / 2.0, eaves_z_m
    top = z + slope * (x1 - x0) / 2.0
    a, b, c, d = (np.array([x, y, z]) for x, y in [(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    front, back = np.array([middle, y0, top]), np.array([middle, y1, top])
    return RoofPlanes(
        slopes=(np.array([b, c, back, front]), np.array([d, a, front, back])),
        hips=np.empty((0, 2, 3)),
        ridges=np.array([[front, back]]),
        verges=np.array([[a, front], [b, front]]),
    )


def turned(planes: RoofPlanes, matrix: Floats) -> RoofPlanes:
    """The planes of a roof without holes under a ``(4, 4)`` placement upright as before."""
    turn, shift = matrix[:3, :3], matrix[:3, 3]
    return RoofPlanes(
        tuple(ring @ turn.T + shift for ring in planes.slopes),
        planes.hips @ turn.T + shift,
        planes.ridges @ turn.T + shift,
        planes.verges @ turn.T + shift,
    )


def rectangle(low: ArrayLike, high: ArrayLike, slope: float) -> tuple[Floats, Floats]:
    """Both corners ``(2,)`` as arrays, once they make a plan rectangle under a pitch.

    Raises:
        ValueError: the rectangle has no area or the slope is not positive.
    """
    low, high = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    if not (high > low).all():
        raise ValueError(f"a roof needs a plan rectangle, got {low} to {high}")
    if slope <= 0.0:
        raise ValueError("a pitched roof needs a slope above nothing")
    return low, high


def _without_repeats(ring: Floats) -> Floats:
    keep = np.linalg.norm(ring - np.roll(ring, 1, axis=0), axis=1) > _POINT_M
    return ring[keep]

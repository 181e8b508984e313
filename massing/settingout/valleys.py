"""Roofs that run back into the slope of another: where their planes meet, and the hole they ask.

``other`` is that slope's polygon ``(n, 3)``, eave first, rising towards +Y.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats
from massing.geometry.plan_polygons import Hole, Side
from massing.settingout.roof_planes import RoofPlanes, Valley


def meets(other: Floats, point: ArrayLike, direction: ArrayLike) -> Floats:
    """Where a line through a point crosses a slope's plane, ``(3,)``.

    >>> slope = np.array([(0.0, 0.0, 3.0), (8.0, 0.0, 3.0), (8.0, 4.0, 5.0), (0.0, 4.0, 5.0)])
    >>> meets(slope, (2.0, -1.0, 4.0), (0.0, 1.0, 0.0)).tolist()
    [2.0, 2.0, 4.0]

    Raises:
        ValueError: the line runs along the plane.
    """
    normal = np.cross(other[1] - other[0], other[-1] - other[0])
    point, direction = np.asarray(point, dtype=float), np.asarray(direction, dtype=float)
    along = float(normal @ direction)
    if abs(along) < 1e-12:
        raise ValueError("a line runs along a slope and does not meet it")
    return np.asarray(point + (normal @ (other[0] - point)) / along * direction, dtype=float)


def gable_into(
    half_m: float,
    front_y_m: float,
    eaves_z_m: float,
    slope: float,
    other: Floats,
    middle_x_m: float = 0.0,
) -> RoofPlanes:
    """Two slopes about their middle whose ridge runs back into another roof's, with the valleys.

    Args:
        half_m: middle to the eaves' edges.
        front_y_m: where the verges stand.
        eaves_z_m: the deck's upper surface at the eaves.
        slope: rise over run.
        other: the slope that they run into.
        middle_x_m: where their ridge runs.

    Raises:
        ValueError: the other slope has left the verges behind it, or is too flat to meet.
    """
    top = eaves_z_m + slope * half_m
    back = (0.0, 1.0, 0.0)
    front = np.array([middle_x_m, front_y_m, top])
    left, right = (
        np.array([x, front_y_m, eaves_z_m]) for x in (middle_x_m - half_m, middle_x_m + half_m)
    )
    foot_left, foot_right = meets(other, left, back), meets(other, right, back)
    apex = meets(other, front, back)
    if min(foot_left[1], foot_right[1]) <= front_y_m or apex[1] <= foot_left[1]:
        raise ValueError("a gable stands within the slope that it should run back into")
    return RoofPlanes(
        slopes=(
            np.array([right, foot_right, apex, front]),
            np.array([foot_left, left, front, apex]),
        ),
        hips=np.empty((0, 2, 3)),
        ridges=np.array([[front, apex]]),
        verges=np.array([[left, front], [right, front]]),
        valleys=(
            Valley(np.array([foot_left, apex]), other),
            Valley(np.array([foot_right, apex]), other),
        ),
    )


def hip_into(
    half_m: float, front_y_m: float, eaves_z_m: float, slope: float, other: Floats
) -> RoofPlanes:
    """The same with a third slope of one pitch before its front instead of verges.

    Arguments as :func:`gable_into`; its front edge is an eave.

    Raises:
        ValueError: as there, or the ridge runs out on the other slope before its hips meet.
    """
    gable = gable_into(half_m, front_y_m, eaves_z_m, slope, other)
    (right, foot_right, apex, front), (foot_left, left, *_) = gable.slopes
    tip = front + [0.0, half_m, 0.0]
    if apex[1] <= tip[1]:
        raise ValueError("a hipped end stands within the slope that its ridge should run into")
    return RoofPlanes(
        slopes=(
            np.array([left, right, tip]),
            np.array([right, foot_right, apex, tip]),
            np.array([foot_left, left, tip, apex]),
        ),
        hips=np.array([[left, tip], [right, tip]]),
        ridges=np.array([[tip, apex]]),
        valleys=gable.valleys,
    )


def shed_into(
    half_m: float, front_y_m: float, eaves_z_m: float, slope: float, other: Floats
) -> RoofPlanes:
    """One flatter slope about x = 0 that runs back and up into another roof's slope.

    Arguments as :func:`gable_into`; its front edge is the eave.

    Raises:
        ValueError: the slopes do not meet behind the eave.
    """
    left, right = (np.array([x, front_y_m, eaves_z_m]) for x in (-half_m, half_m))
    rising = (0.0, 1.0, slope)
    top_left, top_right = meets(other, left, rising), meets(other, right, rising)
    if min(top_left[1], top_right[1]) <= front_y_m:
        raise ValueError("a shed roof stands within the slope that it should run back into")
    return RoofPlanes(
        slopes=(np.array([left, right, top_right, top_left]),),
        hips=np.empty((0, 2, 3)),
        ridges=np.empty((0, 2, 3)),
        verges=np.array([[left, top_left], [right, top_right]]),
        valleys=(Valley(np.array([top_left, top_right]), other),),
    )


def hole_of(planes: RoofPlanes, front_y_m: float, beside_m: float) -> Hole:
    """The hole in the other roof's covering under one that runs back into it.

    Args:
        planes: of :func:`gable_into` or :func:`shed_into`.
        front_y_m: where it begins.
        beside_m: how far it goes beyond the eaves or verges at the sides, where the covering
            reaches over them; the valleys' lines are drawn on to there.
    """
    return hole_behind(_back_edge(planes), front_y_m, beside_m)


def hole_behind(back: Floats, front_y_m: float, beside_m: float) -> Hole:
    """The same for any back edge ``(n, 2)`` in plan, from its right foot round to its left.

    Raises:
        ValueError: it begins behind that edge's feet.
    """
    back = back.copy()
    for end, after in ((0, 1), (-1, -2)):
        step = (back[end] - back[after]) / abs(back[end, 0] - back[after, 0])
        back[end] = back[end] + beside_m * step
    low = float(min(back[0, 1], back[-1, 1]))
    if front_y_m >= low:
        raise ValueError(
            f"a hole begins at {front_y_m:.3f} m, behind its valleys' foot {low:.3f} m"
        )
    ring = np.array([(back[-1, 0], front_y_m), (back[0, 0], front_y_m), *back])
    valleys: list[Side] = ["valley"] * (len(back) - 1)
    return Hole(ring, ("clear", "clear", *valleys, "clear"))


def _back_edge(planes: RoofPlanes) -> Floats:
    lines = [v.line[:, :2] for v in planes.valleys]
    if len(lines) == 1:
        return lines[0][::-1]
    (left, apex), (right, _) = lines
    return np.array([right, apex, left])

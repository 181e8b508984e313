"""A photograph made square to the front, by four points that are a rectangle there."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from massing.edit.takeoff.scale import LEAST_PX, Point

MOST_PX = 4000
_MARGIN = 1.5  # times the rectangle that is kept round it, each way at the most


def homography(seen: Sequence[Point], there: Sequence[Point]) -> NDArray[np.float64]:
    """The ``(3, 3)`` map of the plane that takes four points to four others.

    Raises:
        ValueError: not four, or three of them in a line.

    >>> to = homography([(0, 0), (2, 0), (2, 2), (0, 2)], [(0, 0), (4, 0), (4, 4), (0, 4)])
    >>> [round(float(v), 6) for v in to @ (1.0, 1.0, 1.0)]
    [2.0, 2.0, 1.0]
    """
    if len(seen) != 4 or len(there) != 4:
        raise ValueError("given no four points, allowed: four corners of a rectangle")
    rows = []
    for (x, y), (u, v) in zip(seen, there, strict=True):
        rows.append([x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y])
        rows.append([0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y])
    matrix = np.array(rows)
    if np.linalg.cond(matrix) > 1e12:
        raise ValueError("given three points in a line, allowed: four corners of a rectangle")
    solved = np.linalg.solve(matrix, np.array(there, dtype=float).ravel())
    return np.append(solved, 1.0).reshape(3, 3)


def straightened(
    image: Image.Image, corners: Sequence[Point], width_m: float, height_m: float
) -> tuple[Image.Image, float]:
    """The picture as if taken square to the front, and its scale.

    Args:
        corners: of an upright rectangle on the front: lower left, lower right, upper right,
            upper left, right and down in pixels.
        width_m, height_m: the rectangle's own.

    Returns:
        The picture, as much of it as stands within the rectangle's neighbourhood, and its
        metres per pixel.

    Raises:
        ValueError: corners or sizes that give no rectangle.
    """
    made, scale, _ = straightened_with_foot(image, corners, width_m, height_m)
    return made, scale


def straightened_with_foot(
    image: Image.Image, corners: Sequence[Point], width_m: float, height_m: float
) -> tuple[Image.Image, float, Point]:
    """As :func:`straightened`, and where in it the rectangle's lower left corner lies."""
    if not (width_m > 0.0 and height_m > 0.0):
        raise ValueError("given no size, allowed: a width and a height over 0")
    a, b, c, d = corners if len(corners) == 4 else ((0.0, 0.0),) * 4
    turns = [_turn(p, q, r) for p, q, r in ((a, b, c), (b, c, d), (c, d, a), (d, a, b))]
    if not all(turn < 0.0 for turn in turns):  # down is more: the round is against the clock
        raise ValueError(
            "given corners that do not go round, allowed: lower left, lower right, upper right, "
            "upper left"
        )
    across = max(hypot(b[0] - a[0], b[1] - a[1]), hypot(c[0] - d[0], c[1] - d[1]))
    up = max(hypot(d[0] - a[0], d[1] - a[1]), hypot(c[0] - b[0], c[1] - b[1]))
    if min(across, up) < LEAST_PX:
        raise ValueError(f"given corners too near, allowed: {LEAST_PX:.0f} pixels apart or more")
    scale = min(width_m / across, height_m / up)
    wide, tall = width_m / scale, height_m / scale
    there = [(0.0, tall), (wide, tall), (wide, 0.0), (0.0, 0.0)]
    to = homography(corners, there)
    left, top, right, foot = _bounds(to, image, wide, tall)
    shrunk = min(1.0, MOST_PX / max(right - left, foot - top))
    size = (max(1, round((right - left) * shrunk)), max(1, round((foot - top) * shrunk)))
    back = np.linalg.inv(to) @ np.array([[1 / shrunk, 0, left], [0, 1 / shrunk, top], [0, 0, 1]])
    back /= back[2, 2]
    made = image.convert("RGB").transform(
        size,
        Image.Transform.PERSPECTIVE,
        tuple(back.ravel()[:8]),
        Image.Resampling.BICUBIC,
        fillcolor="white",
    )
    return made, scale / shrunk, (-left * shrunk, (tall - top) * shrunk)


def _turn(p: Point, q: Point, r: Point) -> float:
    return (q[0] - p[0]) * (r[1] - q[1]) - (q[1] - p[1]) * (r[0] - q[0])


def _bounds(
    to: NDArray[np.float64], image: Image.Image, wide: float, tall: float
) -> tuple[float, float, float, float]:
    """What of the picture is kept: where its corners come to, near the rectangle."""
    w, h = image.size
    seen = to @ np.array([[0, w, w, 0], [0, 0, h, h], [1, 1, 1, 1]], dtype=float)
    most = (-_MARGIN * wide, -_MARGIN * tall, (1 + _MARGIN) * wide, (1 + _MARGIN) * tall)
    if (seen[2] <= 1e-9).any():  # a corner lies beyond the horizon
        return most
    xs, ys = seen[0] / seen[2], seen[1] / seen[2]
    return (
        max(float(xs.min()), most[0]),
        max(float(ys.min()), most[1]),
        min(float(xs.max()), most[2]),
        min(float(ys.max()), most[3]),
    )

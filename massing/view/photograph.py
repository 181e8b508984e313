"""The camera that took a photograph, from known points of a house seen in it.

A pinhole at the picture's middle with square pixels and, where there are points enough to tell,
one term of a lens's bend (radial, the first of the usual polynomial). Pixels are right and down
from the upper left corner, a pixel's place its middle; points are in the house frame, metres.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats
from massing.view.camera import SENSOR_WIDTH_MM, Camera

LEAST_POINTS = 6
LEAST_LEVEL_POINTS = 4  # with the horizon: a vertical and a width
POINTS_FOR_A_BEND = 8
BAD_PX = 4.0  # a point farther from its place than this is asked whether it is wrong
BAD_SHARE = 0.35  # what the miss of all must fall to, once it is left out
UNSURE = 0.15  # of the focal length, for a pixel's error: such points tell no lens
_TURNS = np.radians((-50.0, -25.0, 0.0, 25.0, 50.0))
_LENSES_MM = (20.0, 30.0, 45.0, 80.0)
_STEPS = 60
_UNBENDING = 12


@dataclass(frozen=True)
class Photographed:
    """How a photograph was taken.

    Attributes:
        camera: of the photograph with its lens's bend taken out; same size, same middle.
        bend: share by which a point a focal length from the middle is drawn outward; negative
            for a barrel.
        misses_px: ``(n,)`` how far each point lies from where the camera sees it.
        bad: indices of the points that agree with none of the others and were left out.
        unsure: standard error of the focal length, as a share, for a pixel's error of a point.
        unsure_m: the same of the camera's place.
    """

    camera: Camera
    bend: float
    misses_px: Floats
    bad: tuple[int, ...]
    unsure: float
    unsure_m: float

    @property
    def miss_px(self) -> float:
        """The root of the mean square of the misses of the points that were kept."""
        kept = np.delete(self.misses_px, self.bad)
        return float(np.sqrt((kept**2).mean()))

    @property
    def focal_px(self) -> float:
        """The focal length in pixels."""
        return self.camera.focal_mm / SENSOR_WIDTH_MM * self.camera.width_px

    def straight(self, pixels: ArrayLike) -> Floats:
        """Where the camera, without its lens's bend, has places ``(..., 2)`` of the photograph.

        Newton's steps to the radius that the lens draws where the place is seen.
        """
        middle = np.array([self.camera.width_px, self.camera.height_px]) / 2.0
        seen = (np.asarray(pixels, dtype=float) - middle) / self.focal_px
        drawn = np.linalg.norm(seen, axis=-1, keepdims=True)
        away = drawn.copy()
        for _ in range(_UNBENDING):
            off = away * (1.0 + self.bend * away**2) - drawn
            away -= off / np.maximum(1.0 + 3.0 * self.bend * away**2, 0.1)
        share = np.divide(away, drawn, out=np.ones_like(drawn), where=drawn > 1e-12)
        return middle + self.focal_px * seen * share

    def project(self, points_m: ArrayLike) -> Floats:
        """Where the photograph itself shows points ``(n, 3)``: pixels ``(n, 2)``."""
        return bent(self.camera.project(points_m), self.camera, self.bend)


def bent(pixels: Floats, camera: Camera, bend: float) -> Floats:
    """Where a lens draws ``(..., 2)`` places of a straight picture."""
    middle = np.array([camera.width_px, camera.height_px]) / 2.0
    focal = camera.focal_mm / SENSOR_WIDTH_MM * camera.width_px
    away = (np.asarray(pixels, dtype=float) - middle) / focal
    return middle + focal * away * (1.0 + bend * (away**2).sum(axis=-1, keepdims=True))


def solve_camera(
    pixels: ArrayLike,
    points_m: ArrayLike,
    size_px: tuple[int, int],
    *,
    horizon_px: float | None = None,
) -> Photographed:
    """The camera that sees known points where a photograph shows them.

    Args:
        pixels: ``(n, 2)``; ``points_m`` ``(n, 3)``, six or more, or four with the horizon.
        size_px: the photograph's width and height.
        horizon_px: how far down the horizon lies; the camera then is not tilted sideways.

    Raises:
        ValueError: too few points, or points that tell no lens; what is allowed.
    """
    seen, there = np.asarray(pixels, dtype=float), np.asarray(points_m, dtype=float)
    least = LEAST_POINTS if horizon_px is None else LEAST_LEVEL_POINTS
    if len(seen) < least:
        raise ValueError(f"{least} known points or more, not {len(seen)}")
    kept = list(range(len(seen)))
    found = _solved(seen, there, size_px, horizon_px)
    while len(kept) > least and found.miss_px > BAD_PX / 2.0:
        trials = []
        for left_out in kept:
            rest = [i for i in kept if i != left_out]
            trial = _solved(seen[rest], there[rest], size_px, horizon_px, found)
            trials.append((trial.miss_px, left_out, trial))
        miss, worst, trial = min(trials, key=lambda each: each[0])
        off = float(np.linalg.norm(trial.project(there[[worst]])[0] - seen[worst]))
        if miss > BAD_SHARE * found.miss_px or off < BAD_PX:
            break
        kept.remove(worst)
        found = trial
    if len(kept) >= POINTS_FOR_A_BEND:
        found = _solved(seen[kept], there[kept], size_px, horizon_px, found, bends=True)
    if not found.unsure < UNSURE:
        raise ValueError(
            "points by which the lens can be told: off the wall's face, as on porch, steps or "
            "roof, or the front seen from one side"
        )
    misses = np.linalg.norm(found.project(there) - seen, axis=1)
    bad = tuple(i for i in range(len(seen)) if i not in kept)
    return replace(found, misses_px=misses, bad=bad)


def _camera(values: Floats, size_px: tuple[int, int]) -> Camera:
    x, y, z, yaw, pitch, roll, log_focal = (float(v) for v in values[:7])
    return Camera(
        "photograph",
        "perspective",
        (x, y, z),
        yaw_rad=yaw,
        pitch_rad=pitch,
        roll_rad=roll,
        focal_mm=float(np.exp(log_focal)) * SENSOR_WIDTH_MM,
        width_px=size_px[0],
        height_px=size_px[1],
    )


def _solved(
    seen: Floats,
    there: Floats,
    size_px: tuple[int, int],
    horizon_px: float | None,
    near: Photographed | None = None,
    *,
    bends: bool = False,
) -> Photographed:
    free = [0, 1, 2, 3, 4, 6] + ([5] if horizon_px is None else []) + ([7] if bends else [])
    far = 10.0 * max(size_px)

    def misses(values: Floats) -> Floats:
        camera = _camera(values, size_px)
        shown = bent(camera.project(there), camera, float(values[7]))
        off = np.nan_to_num(shown - seen, nan=far).ravel()
        if horizon_px is None:
            return off
        focal = np.exp(values[6]) * size_px[0]
        level = size_px[1] / 2.0 + focal * np.tan(values[4])
        return np.append(off, level - horizon_px)

    starts = [_values(near)] if near is not None else _starts(there, seen, size_px)
    ended = [_least_squares(misses, start, free) for start in starts]
    values, slope = min(ended, key=lambda each: float((misses(each[0]) ** 2).sum()))
    spread = np.linalg.pinv(slope.T @ slope)
    if np.linalg.matrix_rank(slope, tol=1e-6 * np.linalg.norm(slope)) < len(free):
        spread = np.full_like(spread, np.inf)
    off = misses(values)[: 2 * len(seen)].reshape(-1, 2)
    return Photographed(
        _camera(values, size_px),
        float(values[7]),
        np.linalg.norm(off, axis=1),
        (),
        float(np.sqrt(spread[5, 5])),
        float(np.sqrt(np.trace(spread[:3, :3]))),
    )


def _values(found: Photographed) -> Floats:
    camera = found.camera
    focal = np.log(camera.focal_mm / SENSOR_WIDTH_MM)
    turns = (camera.yaw_rad, camera.pitch_rad, camera.roll_rad)
    return np.array([*camera.position_m, *turns, focal, found.bend])


def _starts(there: Floats, seen: Floats, size_px: tuple[int, int]) -> list[Floats]:
    """Guesses: round the house at eye height, each with the distance that its lens asks."""
    middle = there.mean(axis=0)
    wide = float(np.linalg.norm(np.ptp(there, axis=0)))
    shown = float(np.linalg.norm(np.ptp(seen, axis=0)))
    made = []
    for turn, lens in product(_TURNS, _LENSES_MM):
        focal = lens / SENSOR_WIDTH_MM
        away = max(focal * size_px[0] * wide / max(shown, 1.0), wide / 2.0)
        stand = middle + away * np.array([np.sin(turn), -np.cos(turn), 0.0])
        stand[2] = 1.6
        # Turned so that the points' middle lies where it is seen.
        right, down = (seen.mean(axis=0) - np.array(size_px) / 2.0) / (focal * size_px[0])
        rise = np.arctan2(middle[2] - 1.6, away)
        start = [*stand, turn + np.arctan(right), rise + np.arctan(down), 0.0, np.log(focal), 0.0]
        made.append(np.array(start))
    return made


def _least_squares(
    misses: Callable[[Floats], Floats], start: Floats, free: Sequence[int]
) -> tuple[Floats, Floats]:
    """Levenberg and Marquardt's descent over the ``free`` values; where it ends, and its slope."""
    values, damping = start.copy(), 1e-3
    off = misses(values)
    slope = _slope(misses, values, free)
    for _ in range(_STEPS):
        square = slope.T @ slope
        step = np.linalg.solve(square + damping * np.diag(np.diag(square) + 1e-12), -slope.T @ off)
        tried = values.copy()
        tried[list(free)] += step
        ahead = misses(tried)
        if (ahead**2).sum() < (off**2).sum():
            settled = (off**2).sum() - (ahead**2).sum() < 1e-12 * (off**2).sum() + 1e-18
            values, off, damping = tried, ahead, max(damping / 5.0, 1e-12)
            slope = _slope(misses, values, free)
            if settled:
                break
        else:
            damping *= 4.0
            if damping > 1e12:
                break
    return values, slope


def _slope(misses: Callable[[Floats], Floats], values: Floats, free: Sequence[int]) -> Floats:
    columns = []
    for index in free:
        step = np.zeros_like(values)
        step[index] = 1e-6
        columns.append((misses(values + step) - misses(values - step)) / 2e-6)
    return np.column_stack(columns)


def sun_by_shadow(point_m: ArrayLike, falls_m: ArrayLike) -> tuple[float, float, float]:
    """Towards the sun ``(3,)``, by a point and the place that its shadow falls on.

    Raises:
        ValueError: the two are one, or the shadow lies above what throws it.

    >>> sun_by_shadow((0.0, -1.0, 3.0), (1.0, 0.0, 3.0 - 2**0.5))
    (-0.5, -0.5, 0.7071067811865476)
    """
    way = np.asarray(point_m, dtype=float) - np.asarray(falls_m, dtype=float)
    length = float(np.linalg.norm(way))
    if length < 1e-3 or way[2] <= 0.0:
        raise ValueError("a shadow that falls lower than what throws it")
    x, y, z = (float(v) for v in way / length)
    return x, y, z


def straightened(size_px: tuple[int, int], found: Photographed) -> Floats:
    """``(h, w, 2)`` places in the photograph of the pixels of its straight picture."""
    wide, tall = size_px
    down, right = np.mgrid[0:tall, 0:wide] + 0.5
    return bent(np.stack([right, down], axis=-1), found.camera, found.bend)

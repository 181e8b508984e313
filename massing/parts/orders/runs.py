"""Runs: the stretches of a member's plan path between corners, and the columns under each.

A run is one straight or smoothly curved stretch, outwards to the right.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from massing.geometry.mesh import Floats
from massing.settingout.ornament_rows import stations

SMOOTH = np.tan(np.radians(7.5))  # half turns under this belong to a curve, not a corner


@dataclass(frozen=True)
class Run:
    """One stretch of a path between corners, straight or curved.

    ``start`` and ``end`` hold the tangent of half the turn at that corner, positive where the
    corner stands out, negative where it is re-entrant, None where the run simply ends.
    ``anchors`` are the distances that ornaments must stand on. On a rake, ``slope`` is the rise
    over run; ornaments there stay plumb.

    Attributes:
        points: ``(k, 2)`` plan points, two of a straight run.
        before: direction of the stretch that leads to its start.
        ring: the run closes on itself without a corner.
    """

    points: Floats
    start: float | None
    end: float | None
    anchors: Floats
    slope: float = 0.0
    before: Floats | None = None
    ring: bool = False

    @property
    def origin(self) -> Floats:
        """Where the run starts, ``(2,)``."""
        return self.points[0]

    @property
    def along(self) -> Floats:
        """Unit direction in which it starts."""
        return _unit(self.points[1] - self.points[0])

    @property
    def distances(self) -> Floats:
        """Distance of each point along the run."""
        steps = np.linalg.norm(np.diff(self.points, axis=0), axis=1)
        return np.concatenate([[0.0], np.cumsum(steps)])

    @property
    def length(self) -> float:
        """Distance from start to end along the run."""
        return float(self.distances[-1])

    @property
    def out(self) -> Floats:
        """Unit plan vector to the right of travel, at the start."""
        return np.array([self.along[1], -self.along[0]])

    def stations(
        self, spacing_m: float, low_m: float, high_m: float, half_width_m: float
    ) -> Floats:
        """Equally spaced places on this run's anchors; round a ring they close without a seam."""
        if not self.ring:
            return stations(self.anchors, spacing_m, low_m, high_m, half_width_m)
        first, length = self.anchors[0], self.length
        round_ = np.append(self.anchors, first + length)
        return stations(round_, spacing_m, first, first + length)[:-1] % length

    def frames(self, stations: Floats, z_m: float) -> Floats:
        """Placements ``(k, 4, 4)`` on the run's face at distances ``stations``."""
        at = np.asarray(stations, dtype=float)
        marks = self.distances
        chord = np.clip(np.searchsorted(marks, at, side="right") - 1, 0, len(marks) - 2)
        steps = np.diff(self.points, axis=0)
        along = steps / np.linalg.norm(steps, axis=1)[:, None]
        frames = np.tile(np.eye(4), (len(at), 1, 1))
        frames[:, :2, 0] = along[chord]
        frames[:, 2, 0] = self.slope
        frames[:, :2, 1] = np.column_stack([-along[chord, 1], along[chord, 0]])
        frames[:, :2, 3] = self.points[chord] + (at - marks[chord])[:, None] * along[chord]
        frames[:, 2, 3] = z_m + self.slope * at
        return frames


def runs_along(
    path: Floats,
    closed: bool,
    axes: Floats | None,
    half_depth_m: float | None,
    before: Floats | None = None,
    after: Floats | None = None,
) -> list[Run]:
    """The stretches of a path between its corners, each with the columns that stand under it.

    Successive segments that turn by less than 15 degrees make one curved run. Arguments as for
    :func:`massing.parts.orders.entablature.entablature`; ``half_depth_m`` is the distance of the
    column axes behind the path.
    """
    points = np.concatenate([path, path[:1]]) if closed else path
    bends = [bend_of(b - a, c - b) for a, b, c in zip(points, points[1:], points[2:], strict=False)]
    if closed:
        bends.append(bend_of(points[-1] - points[-2], points[1] - points[0]))
        corners = [i + 1 for i, bend in enumerate(bends) if bend is None or abs(bend) > SMOOTH]
        if not corners:
            anchors = _anchors(points, axes, half_depth_m, ring=True)
            return [Run(points, None, None, anchors, ring=True)]
        first = corners[0] % len(path)
        points = np.concatenate([path[first:], path[: first + 1]])
        bends = bends[first:] + bends[:first]  # of the points after the first, and last the first
        ends = [bends[-1], bends[-1]]
        bends = bends[:-1]
        leads: list[Floats | None] = [_unit(points[-1] - points[-2])]
    else:
        ghosts = [before, after]
        ends = [
            None if ghosts[0] is None else bend_of(points[0] - ghosts[0], points[1] - points[0]),
            None if ghosts[1] is None else bend_of(points[-1] - points[-2], ghosts[1] - points[-1]),
        ]
        leads = [None if before is None else _unit(points[0] - before)]
    cuts = [i + 1 for i, bend in enumerate(bends) if bend is None or abs(bend) > SMOOTH]
    turns = [ends[0], *(bends[i - 1] for i in cuts), ends[1]]
    leads += [_unit(points[i] - points[i - 1]) for i in cuts]
    marks = [0, *cuts, len(points) - 1]
    return [
        Run(
            stretch := points[i : j + 1],
            turns[k],
            turns[k + 1],
            _anchors(stretch, axes, half_depth_m),
            before=leads[k],
        )
        for k, (i, j) in enumerate(pairwise(marks))
    ]


def _unit(vector: Floats) -> Floats:
    return vector / np.linalg.norm(vector)


def bend_of(before: Floats, after: Floats) -> float | None:
    """Tangent of half the left turn; outwards is to the right, so a left turn stands out."""
    before, after = _unit(before), _unit(after)
    cosine = float(before @ after)
    if cosine < -0.999:
        return None
    return float(before[0] * after[1] - before[1] * after[0]) / (1.0 + cosine)


def _anchors(
    points: Floats, axes: Floats | None, half_depth_m: float | None, ring: bool = False
) -> Floats:
    """Distances along a run of the columns that stand under it, or its middle if none does."""
    steps = np.diff(points, axis=0)
    lengths = np.linalg.norm(steps, axis=1)
    marks = np.concatenate([[0.0], np.cumsum(lengths)])
    if axes is not None and half_depth_m:
        along = steps / lengths[:, None]
        offset = axes[:, None] - points[None, :-1]
        station = np.einsum("ijk,jk->ij", offset, along)
        inward = np.einsum("ijk,jk->ij", offset, np.column_stack([-along[:, 1], along[:, 0]]))
        under = (inward > -0.01 * half_depth_m) & (inward < 1.5 * half_depth_m)
        # beside a part that breaks forward, its column still gives the measure
        beyond = 1.01 * half_depth_m if len(points) == 2 else 1e-9
        under &= (station > -beyond) & (station < lengths + beyond)
        found = np.unique(np.round((marks[:-1] + station)[under], 9))
        if len(found):
            # a column behind a bend is seen once from either chord
            apart = np.flatnonzero(np.diff(found) > 0.5 * half_depth_m) + 1
            groups = np.split(found, apart)
            if (
                ring
                and len(groups) > 1
                and groups[0][0] + marks[-1] - groups[-1][-1] < (0.5 * half_depth_m)
            ):
                groups[0] = np.concatenate([groups[0], groups.pop() - marks[-1]])
            return np.array([g.mean() for g in groups])
    return np.array([marks[-1] / 2.0])

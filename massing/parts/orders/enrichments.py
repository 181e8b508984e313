"""Enrichments: the ornaments set along a moulding, evenly and on the columns' axes.

Dentils, triglyphs, regulae with their guttae, mutules and modillions, each as one mesh and its
placements. A run is one straight stretch of a member's plan path, outwards to the right.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from massing.canon import Member, Ornament
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, extrude, offset_directions
from massing.parts.orders.modillions import modillion, modillion_leaf
from massing.parts.orders.ornament import HOUSED_M, gutta, triglyph
from massing.parts.part import Part, Path
from massing.settingout.ornament_rows import stations, with_corners

_SMOOTH = np.tan(np.radians(7.5))  # half turns under this belong to a curve, not a corner


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
        """:func:`stations` on this run's anchors; round a ring they close without a seam."""
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
    bends = [_bend(b - a, c - b) for a, b, c in zip(points, points[1:], points[2:], strict=False)]
    if closed:
        bends.append(_bend(points[-1] - points[-2], points[1] - points[0]))
        corners = [i + 1 for i, bend in enumerate(bends) if bend is None or abs(bend) > _SMOOTH]
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
            None if ghosts[0] is None else _bend(points[0] - ghosts[0], points[1] - points[0]),
            None if ghosts[1] is None else _bend(points[-1] - points[-2], ghosts[1] - points[-1]),
        ]
        leads = [None if before is None else _unit(points[0] - before)]
    cuts = [i + 1 for i, bend in enumerate(bends) if bend is None or abs(bend) > _SMOOTH]
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


def _bend(before: Floats, after: Floats) -> float | None:
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


def _extent(run: Run, convex_m: float, concave_m: float) -> tuple[float, float]:
    """Room for ornaments along a run: past a standing corner, short of a re-entrant one."""

    def reach(bend: float | None) -> float:
        if bend is None:
            return 0.0
        return bend * (convex_m if bend > 0 else concave_m)

    return -reach(run.start), run.length + reach(run.end)


def _dentils(
    name: Path, member: Member, row: Ornament, z: float, runs: Sequence[Run]
) -> list[Part]:
    """Dentils on every column axis, with a dentil turning each standing corner.

    The corner dentil widens by up to a spacing to meet the even row (the plates' double
    dentil); re-entrant corners and ends at a wall are left clear. A corner belongs to the run
    that starts there.
    """
    foot = z + member.height - row.height
    gap, depth = row.spacing - row.width, row.reach - member.reach
    placed, corners = [], []
    legs: list[list[float]] = []
    for run in runs:
        low, high = _extent(run, row.reach, row.reach + gap)
        keep = []
        for bend in (run.start, run.end):
            turns = bend is not None and bend > 0
            keep.append(max(row.width, 1.1 * depth * (bend or 0.0)) + gap if turns else 0.0)
        at = run.stations(row.spacing, low + keep[0], high - keep[1], row.width / 2.0)
        if not len(at):
            leg = (high - low) / 2.0 - gap / 2.0
            if ((run.start or 0.0) > 0.0) != ((run.end or 0.0) > 0.0):  # one corner to turn
                leg = max(high - low, 1.1 * depth)
            legs.append([leg, leg])
            continue
        placed.append(run.frames(at, foot))
        half = row.width / 2.0 + gap
        legs.append([at[0] - half - low, high - at[-1] - half])
    for i, run in enumerate(runs):
        if run.start is None or run.start <= 0 or run.before is None:
            continue
        previous = runs[i - 1]
        joined = np.allclose(previous.points[-1], run.origin)
        lead = legs[i - 1][1] if joined else max(row.width, 1.1 * depth * run.start)
        inner = member.reach - HOUSED_M
        outline = _corner_outline(run, run.before, row.reach, inner, lead, legs[i][0])
        corners.append(extrude(outline, row.height).shifted(z_m=foot))
    parts = []
    if placed:
        block = box_between(
            (-row.width / 2.0, -row.reach, 0.0),
            (row.width / 2.0, HOUSED_M - member.reach, row.height),
        )
        parts.append(Part((*name, "dentils"), "order", block, np.concatenate(placed)))
    if corners:
        parts.append(Part((*name, "corner dentils"), "order", merged(corners)))
    return parts


def _corner_outline(
    run: Run, lead: Floats, outer_m: float, inner_m: float, leg_before: float, leg_after: float
) -> Floats:
    """Plan of a block turning a standing corner, its outer faces ``leg`` long each way."""
    across = offset_directions(np.array([run.origin - lead, run.origin, run.origin + run.along]))[1]
    tip, heart = run.origin + outer_m * across, run.origin + inner_m * across
    thick = outer_m - inner_m
    before, after = tip - leg_before * lead, tip + leg_after * run.along
    side = np.array([lead[1], -lead[0]])
    return np.array([before, tip, after, after - thick * run.out, heart, before - thick * side])


def _triglyphs(
    name: Path, member: Member, row: Ornament, z: float, runs: Sequence[Run]
) -> list[Part]:
    """A triglyph over every column and evenly between; the corner has part of a metope."""
    mesh = triglyph(row.width, row.height, row.reach - member.reach).shifted(y_m=-member.reach)
    return _repeated((*name, "triglyphs"), mesh, row, z, runs)


def _regulae(
    name: Path, member: Member, row: Ornament, z: float, runs: Sequence[Run]
) -> list[Part]:
    """Under the taenia and each triglyph a regula with its guttae."""
    bar = box_between(
        (-row.width / 2.0, -row.reach, -row.height), (row.width / 2.0, HOUSED_M, HOUSED_M)
    )
    return _repeated((*name, "regulae"), bar, row, z, runs) + _guttae(name, row, z, runs)


def _guttae(name: Path, row: Ornament, z: float, runs: Sequence[Run]) -> list[Part]:
    pitch = row.width / row.guttae
    drop = gutta(0.62 * pitch, 0.92 * pitch, row.gutta_height).shifted(
        y_m=-row.reach + 0.48 * pitch, z_m=-row.height
    )
    across = (np.arange(row.guttae) - (row.guttae - 1) / 2.0) * pitch
    frames = []
    for run in runs:
        low, high = _extent(run, 0.0, row.reach)
        at = run.stations(row.spacing, low, high, row.width / 2.0)
        frames.append(run.frames((at[:, None] + across).ravel(), z))
    return [Part((*name, "guttae"), "order", drop, np.concatenate(frames))]


def _mutules(
    name: Path, member: Member, row: Ornament, z: float, runs: Sequence[Run]
) -> list[Part]:
    """A mutule over every triglyph, studded beneath with rows of drops."""
    top = z + member.height
    block = box_between(
        (-row.width / 2.0, -row.reach, -row.height), (row.width / 2.0, HOUSED_M - member.reach, 0.0)
    )
    pitch = row.width / row.guttae
    drop = gutta(0.7 * pitch, 0.8 * pitch, row.gutta_height + HOUSED_M)
    rows = max(1, int((row.reach - member.reach) / pitch))
    across = (np.arange(row.guttae) - (row.guttae - 1) / 2.0) * pitch
    deep = row.reach - (np.arange(rows) + 0.6) * pitch
    grid = np.stack(np.meshgrid(across, -deep, [HOUSED_M - row.height]), -1).reshape(-1, 3)
    drops = merged([drop.shifted(*p) for p in grid])
    return [
        *_repeated((*name, "mutules"), block, row, top, runs),
        *_repeated((*name, "mutule guttae"), drops, row, top, runs),
    ]


def _modillions(
    name: Path, member: Member, row: Ornament, z: float, runs: Sequence[Run]
) -> list[Part]:
    """Brackets under the corona, one over every column and one at every standing corner."""
    placed = [run.frames(at, z + member.height) for run, at in modillion_stations(member, runs)]
    every = np.concatenate(placed)
    if not len(every):
        return []
    length = row.reach - member.reach
    bracket = modillion(row.width, length, row.height).shifted(y_m=-member.reach)
    leaf = modillion_leaf(row.width, length, row.height).shifted(y_m=-member.reach)
    return [
        Part((*name, "modillions"), "order", bracket, every),
        Part((*name, "modillions", "leaves"), "order", leaf, every),
    ]


def modillion_stations(member: Member, runs: Sequence[Run]) -> list[tuple[Run, Floats]]:
    """Where the modillions of a member stand along each run."""
    row = member.row
    assert row is not None
    found = []
    for run in runs:
        low, high = _extent(run, member.reach, row.reach)
        if not run.ring:
            corners = ((run.start or 0.0) > _SMOOTH, (run.end or 0.0) > _SMOOTH)
            anchors = with_corners(run.anchors, low, high, row.width, corners)
            run = replace(run, anchors=anchors)
        found.append((run, run.stations(row.spacing, low, high, row.width / 2.0)))
    return found


def _repeated(name: Path, mesh: Mesh, row: Ornament, z: float, runs: Sequence[Run]) -> list[Part]:
    frames = []
    for run in runs:
        low, high = _extent(run, 0.0, row.reach)
        frames.append(run.frames(stations(run.anchors, row.spacing, low, high, row.width / 2.0), z))
    placed = np.concatenate(frames)
    return [Part(name, "order", mesh, placed)] if len(placed) else []


_ROWS: dict[str, Callable[[Path, Member, Ornament, float, Sequence[Run]], list[Part]]] = {
    "dentil": _dentils,
    "triglyph": _triglyphs,
    "regula": _regulae,
    "mutule": _mutules,
    "modillion": _modillions,
}


def enrichments(
    name: Path, members: Sequence[Member], foot_z_m: float, runs: Sequence[Run]
) -> list[Part]:
    """The ornaments of ``members``, stacked from ``foot_z_m`` up, along ``runs``."""
    parts, z = [], foot_z_m
    for member in members:
        if member.row is not None:
            parts += _ROWS[member.row.kind](name, member, member.row, z, runs)
        z += member.height
    return parts

"""Balustrades: pedestals, plinth course, turned balusters and rail."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from itertools import groupby, pairwise
from math import ceil
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from massing.canon import balustrade_table
from massing.canon.mouldings import stack
from massing.canon.tables import scaled
from massing.design.porch import BalustradeDesign
from massing.geometry.booleans import cut_copies, less
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.moulded_plan import moulded_plan
from massing.geometry.solids import (
    box_between,
    lathe,
    square_lathe,
    sweep,
    translations,
    turned_about_z,
    union,
)
from massing.parts.part import Part

BALUSTER_SEGMENTS = 24
Filling = Literal["balusters", "parapet"]
_HOUSED_M = 0.003  # die into base and cap, baluster into plinth course and rail


def baluster(height_m: float, belly_m: float, profile: str = "vase") -> Mesh:
    """A turned baluster standing on z = 0 between square plinth and abacus.

    Its members keep their heights in fractions of ``height_m``; reaches follow the belly.
    """
    table = balustrade_table(profile)
    out = belly_m / table.belly
    members = [scaled(m, height_m, out) for m in table.baluster]
    blocks, z = [], 0.0
    for square, group in groupby(members, key=lambda m: m.square):
        run = list(group)
        edge = stack(run, z, steps=6)
        blocks.append(square_lathe(edge) if square else lathe(edge, BALUSTER_SEGMENTS))
        z += sum(m.height for m in run)
    return merged(blocks)


def _square(edge: Floats, half_width_m: float) -> Mesh:
    """An edge ``(n, 2)`` of (reach, z) run round a square body."""
    return square_lathe(edge + [half_width_m, 0.0])


def _plan(start: Floats, end: Floats, half_m: float, past_m: float | None = None) -> Floats:
    """Corners ``(4, 2)`` of a block from one plan point past another, counter-clockwise.

    Its ends are the sides from corner 1 to 2 and from 3 to 0, ``past_m`` beyond the points; half
    its width where that is left out.
    """
    length = float(np.linalg.norm(end - start))
    along = (end - start) / length if length else np.array([1.0, 0.0])
    aside = half_m * np.array([-along[1], along[0]])
    past = (half_m if past_m is None else past_m) * along
    return np.array(
        [start - past - aside, end + past - aside, end + past + aside, start - past + aside]
    )


def _course(
    plans: Sequence[Floats], edge: Floats, ends: Sequence[Floats], design: BalustradeDesign
) -> Mesh:
    """Plinth course or rail of all runs with their pedestals' bases or caps, in one.

    Where mouldings are too near each other to be mitred, what touches is united in space.
    """
    made = moulded_plan(plans, edge, ends)
    if made is not None:
        return made
    blocks = [_block(edge, plan, ends) for plan in plans]
    return union(blocks) if design.laid else merged(blocks)


def _block(edge: Floats, plan: Floats, ends: Sequence[Floats]) -> Mesh:
    """One block of a course by itself."""
    made = moulded_plan([plan], edge, ends)
    assert made is not None, "a block narrower than its own moulding"
    return made


def spread(clear_m: float, belly_m: float, spacing_m: float) -> Floats:
    """Axes of balusters along a clear length, every gap equal and none wider than asked.

    The gap at either end equals the gaps between; there are as few balusters as keep the
    spacing at or under ``spacing_m``. In a run so short that they would touch there is one
    fewer, and the gap is wider.

    >>> spread(1.0, 0.1, 0.2).round(4).tolist()
    [0.1333, 0.3167, 0.5, 0.6833, 0.8667]

    Raises:
        ValueError: the spacing leaves no gap between balusters.
    """
    if not spacing_m > belly_m:
        raise ValueError(
            f"balusters {belly_m:.3f} m wide at {spacing_m:.3f} m leave no gap between them"
        )
    count = max(0, ceil((clear_m - (spacing_m - belly_m)) / spacing_m - 1e-9))
    if count and clear_m - count * belly_m < 0.1 * (count + 1) * (spacing_m - belly_m):
        count -= 1
    gap = (clear_m - count * belly_m) / (count + 1)
    return gap + belly_m / 2.0 + (gap + belly_m) * np.arange(count, dtype=float)


def balustrade(
    design: BalustradeDesign,
    pedestals: ArrayLike,
    runs: Sequence[tuple[int, int]],
    *,
    free_ends: ArrayLike = (),
    profile: str = "vase",
    joined: Collection[int] = (),
) -> list[Part]:
    """Pedestals and the runs between them, standing on z = 0.

    Args:
        design: heights, widths and spacing, what fills a run, whether dies are panelled (a sunk
            panel in each face, where they are big enough) and whether a half baluster stands
            against each pedestal, the whole ones evenly between. A parapet is a solid wall with
            a sunk panel to each run.
        pedestals: ``(k, 2)`` plan centres of the pedestals, square to the X axis. Where the
            design has no pedestal width these are bare ends, as at columns.
        runs: pairs of indices of the points that a run joins; indices from k on are of
            ``free_ends``.
        free_ends: ``(m, 2)`` plan points where a run ends against a wall or column.
        profile: name of the baluster's table.
        joined: places in ``runs`` of those whose two pedestals are one, as over a couple.

    Returns:
        ``balustrade/base`` (plinth course and pedestal bases in one), ``balustrade/dies``,
        ``balustrade/joined dies`` (between two that are one),
        ``balustrade/balusters``, ``balustrade/half balusters`` or ``balustrade/parapet``, and
        ``balustrade/rail`` (with the pedestals' caps); those that there are.

    Raises:
        ValueError: a run is too short for its pedestals, heights leave no baluster, or
            balusters leave no gap.
    """
    centres = np.asarray(pedestals, dtype=float).reshape(-1, 2)
    free = np.asarray(free_ends, dtype=float).reshape(-1, 2)
    points = np.concatenate([centres, free])
    half_die = design.pedestal_width_m / 2.0
    if not design.baluster_m > 0.0:
        raise ValueError("plinth course and rail leave no height for the balusters")
    table = balustrade_table(profile)
    base = stack([scaled(m, design.plinth_m, design.plinth_m) for m in table.base])
    rail_z = design.height_m - design.rail_m
    rail = stack([scaled(m, design.rail_m, design.rail_m) for m in table.rail], rail_z)
    low_z, high_z = design.plinth_m - _HOUSED_M, rail_z + _HOUSED_M  # of the dies

    plans = [_plan(c, c, half_die) for c in centres if half_die > 0.0]
    ends: list[Floats] = []
    between: list[Mesh] = []
    filling = _Filling(design)
    for k, (i, j) in enumerate(runs):
        start, end = points[i], points[j]
        length = float(np.linalg.norm(end - start))
        along = (end - start) / length
        inset = [half_die / np.abs(along).max() if n < len(centres) else 0.0 for n in (i, j)]
        if not length - sum(inset) > 0.0:
            raise ValueError(
                f"pedestals {design.pedestal_width_m:.3f} m wide leave no room in a run of "
                f"{length:.3f} m"
            )
        if k in joined:
            block = box_between((inset[0], -half_die, low_z), (length - inset[1], half_die, high_z))
            between.append(block.moved(_turned_stand(start, along, 0.0)))
            plans.append(_plan(start, end, half_die, 0.0))
            continue
        filling.fill(start, end, inset)
        plan = _plan(start, end, design.belly_m / 2.0, 0.0)
        plans.append(plan)
        ends += [plan[[1, 2]], plan[[3, 0]]]

    parts = []
    if plans:
        parts.append(Part(("balustrade", "base"), "order", _course(plans, base, ends, design)))
    if half_die > 0.0 and len(centres):
        die = box_between((-half_die, -half_die, low_z), (half_die, half_die, high_z))
        if design.panelled:
            die = _with_panels(die)
        places = translations(np.column_stack([centres, np.zeros(len(centres))]))
        parts.append(Part(("balustrade", "dies"), "order", die, places))
    if between:
        parts.append(Part(("balustrade", "joined dies"), "order", merged(between)))
    parts += filling.parts(profile)
    if plans:
        parts.append(Part(("balustrade", "rail"), "order", _course(plans, rail, ends, design)))
    return parts


@dataclass
class _Filling:
    """What stands between the pedestals of a balustrade: balusters, whole and half, or walls.

    Attributes:
        design: the balustrade's.
        stands: ``(4, 4)`` places of whole balusters.
        halves: the same of half ones.
        walls: a parapet's, run by run.
    """

    design: BalustradeDesign
    stands: list[Floats] = field(default_factory=list)
    halves: list[Floats] = field(default_factory=list)
    walls: list[Mesh] = field(default_factory=list)

    def fill(self, start: Floats, end: Floats, inset: Sequence[float]) -> None:
        """Fill a run between two points, less what pedestals take of either end."""
        design = self.design
        length = float(np.linalg.norm(end - start))
        along = (end - start) / length
        clear = length - sum(inset)
        near, far = start + inset[0] * along, end - inset[1] * along
        if design.filling == "parapet":
            self.walls.append(_parapet(design, near, far))
            return
        if design.half_balusters:
            steps = max(1, ceil(clear / design.baluster_spacing_m - 1e-9))
            at = inset[0] + clear * np.arange(1, steps) / steps
            for point, way in ((near, along), (far, -along)):
                self.halves.append(_turned_stand(point, way, design.plinth_m))
        else:
            at = inset[0] + spread(clear, design.belly_m, design.baluster_spacing_m)
        self.stands += [_turned_stand(start + s * along, along, design.plinth_m) for s in at]

    def parts(self, profile: str) -> list[Part]:
        """Balusters after a table, half ones and parapet; those that there are."""
        found = []
        turned = baluster(self.design.baluster_m, self.design.belly_m, profile)
        if self.stands:
            stands = np.array(self.stands)
            found.append(Part(("balustrade", "balusters"), "order", turned, stands))
        if self.halves:
            half = cut_copies(turned, np.eye(4)[None], [(np.array([1.0, 0.0, 0.0]), 0.0)])
            halves = np.array(self.halves)
            found.append(Part(("balustrade", "half balusters"), "order", half, halves))
        if self.walls:
            found.append(Part(("balustrade", "parapet"), "order", merged(self.walls)))
        return found


def round_balustrade(
    design: BalustradeDesign,
    path: ArrayLike,
    pedestals: ArrayLike,
    *,
    profile: str = "vase",
) -> list[Part]:
    """A balustrade on a curve about the origin, its pedestals square to the curve.

    Args:
        design: heights, widths and spacing.
        path: ``(k, 2)`` plan points of its middle line.
        pedestals: ``(m, 2)`` plan centres in the path's order, on the path, the ends included.
        profile: as for :func:`balustrade`, as are the parts returned.

    Raises:
        ValueError: balusters leave no gap.
    """
    line, centres = np.asarray(path, dtype=float), np.asarray(pedestals, dtype=float)
    marks = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    bearing = np.unwrap(np.arctan2(line[:, 1], line[:, 0]))
    posts = np.interp(np.unwrap(np.arctan2(centres[:, 1], centres[:, 0])), bearing, marks)
    table = balustrade_table(profile)
    base = stack([scaled(m, design.plinth_m, design.plinth_m) for m in table.base])
    rail_z = design.height_m - design.rail_m
    rail = stack([scaled(m, design.rail_m, design.rail_m) for m in table.rail], rail_z)
    half_die = design.pedestal_width_m / 2.0

    def stands(at: Floats, z_m: float) -> Floats:
        x, y = np.interp(at, marks, line[:, 0]), np.interp(at, marks, line[:, 1])
        turn = np.arctan2(y, x)
        along = np.column_stack([-np.sin(turn), np.cos(turn)])
        points = np.column_stack([x, y])
        return np.array([_turned_stand(p, a, z_m) for p, a in zip(points, along, strict=True)])

    squares = stands(posts, 0.0)
    courses = []
    for edge in (base, rail):
        right = edge + [design.belly_m / 2.0, 0.0]
        section = np.concatenate([right, (right * [-1.0, 1.0])[::-1]])
        blocks = [_square(edge, half_die).moved(m) for m in squares]
        one_of = union if design.laid else merged
        courses.append(one_of([sweep(section, line), *blocks]))
    die = box_between(
        (-half_die, -half_die, design.plinth_m - _HOUSED_M),
        (half_die, half_die, rail_z + _HOUSED_M),
    )
    at = [
        a + half_die + spread(b - a - 2.0 * half_die, design.belly_m, design.baluster_spacing_m)
        for a, b in pairwise(posts)
    ]
    turned = baluster(design.baluster_m, design.belly_m, profile)
    return [
        Part(("balustrade", "base"), "order", courses[0]),
        Part(
            ("balustrade", "dies"), "order", _with_panels(die) if design.panelled else die, squares
        ),
        Part(
            ("balustrade", "balusters"),
            "order",
            turned,
            stands(np.concatenate(at), design.plinth_m),
        ),
        Part(("balustrade", "rail"), "order", courses[1]),
    ]


_PANEL_MARGIN = 0.2  # of a die's width: common practice
_LEAST_PANEL_M = 0.08


def _with_panels(block: Mesh) -> Mesh:
    """A block with a sunk panel in each upright face that has room for one."""
    low, high = block.bounds
    width, height = float(high[0] - low[0]), float(high[2] - low[2])
    margin, depth = _PANEL_MARGIN * width, 0.05 * width
    if min(width, height) - 2.0 * margin < _LEAST_PANEL_M:
        return block
    x = width / 2.0 - margin
    cutter = box_between(
        (-x, low[1] - depth, low[2] + margin), (x, low[1] + depth, high[2] - margin)
    )
    for turn in range(4):
        block = less(block, cutter.moved(turned_about_z(turn * np.pi / 2.0)))
    return block


def _parapet(design: BalustradeDesign, start: Floats, end: Floats) -> Mesh:
    """A solid wall from plinth course to rail, a sunk panel on either side where it has room."""
    length = float(np.linalg.norm(end - start))
    half, low = 0.42 * design.belly_m, design.plinth_m
    high = design.height_m - design.rail_m
    wall = box_between((0.0, -half, low), (length, half, high))
    margin, depth = 0.22 * (high - low), 0.12 * half
    if min(length, high - low) - 2.0 * margin >= _LEAST_PANEL_M:
        for side in (-1.0, 1.0):
            face = side * half
            wall = less(
                wall,
                box_between(
                    (margin, face - depth, low + margin),
                    (length - margin, face + depth, high - margin),
                ),
            )
    return wall.moved(_turned_stand(start, (end - start) / length, 0.0))


def _turned_stand(point: Floats, along: Floats, z_m: float) -> Floats:
    """A placement at a plan point, x along the run."""
    matrix = np.eye(4)
    matrix[:2, 0], matrix[:2, 1] = along, (-along[1], along[0])
    matrix[:3, 3] = (*point, z_m)
    return matrix

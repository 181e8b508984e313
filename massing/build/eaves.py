"""The cornice along the eaves: round the house, up its gables, round what is as high as they."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from massing.build.gables import plain, raked_members
from massing.build.placing import house_outline, raised
from massing.build.wings import eaves_path
from massing.canon import FittedCornice
from massing.design.house import HouseDesign
from massing.design.porch import PorchDesign, RecessedPorch
from massing.design.roof import GableRoof, RoofDesign
from massing.geometry.mesh import Floats
from massing.geometry.solids import translations
from massing.parts.orders.entablature import cornice
from massing.parts.orders.pediment import pediment
from massing.parts.part import Part
from massing.parts.walls.wall import wall_frame
from massing.settingout.cross_gables import eaves_runs
from massing.settingout.porch import FRIEZE_BOARD_M, joints, path_before


@dataclass(frozen=True)
class _Run:
    """A stretch of cornice: its plan ``(k, 2)``, and the points that it comes from and goes to."""

    path: Floats
    before: Floats | None = None
    after: Floats | None = None
    closed: bool = False


def eaves(house: HouseDesign, porch: PorchDesign | None, roof: RoofDesign) -> list[Part]:
    """The cornice at the wall's top; where it carries on the porch's, it meets it on a mitre."""
    crown = FittedCornice(plain(house.cornice.members))
    foot_z = house.wall_top_z_m - crown.height_m
    if house.open_side:
        return _level(crown, [_Run(eaves_path(house, FRIEZE_BOARD_M))], foot_z)
    if porch is not None and (
        not house.cornice_continues_porch or isinstance(porch, RecessedPorch)
    ):
        porch = None
    if isinstance(roof, GableRoof) and roof.raked:
        return raised(_raked(house, porch, roof), foot_z)
    return _level(crown, _round(house, porch, roof), foot_z)


def _level(crown: FittedCornice, runs: list[_Run], foot_z_m: float = 0.0) -> list[Part]:
    parts: list[Part] = []
    for run in runs:
        ends = run.path[0], run.path[-1]
        before, after = (
            None if ghost is None else _towards(end, ghost)
            for end, ghost in zip(ends, (run.before, run.after), strict=True)
        )
        path = tuple(map(tuple, run.path.tolist()))
        parts += _level_run(crown, foot_z_m, path, run.closed, before, after)
    return parts


def _towards(start: Floats, end: Floats) -> tuple[float, ...]:
    """A metre on the way from a point to another: how far a porch goes on is nothing to a mitre."""
    along = end - start
    return tuple((start + along / np.linalg.norm(along)).tolist())


@lru_cache(maxsize=32)
def _level_run(
    crown: FittedCornice,
    foot_z_m: float,
    path: tuple[tuple[float, ...], ...],
    closed: bool,
    before: tuple[float, ...] | None,
    after: tuple[float, ...] | None,
) -> tuple[Part, ...]:
    """A level cornice along a path, kept by what it looks at."""
    line = np.array(path)
    made = cornice(crown, line, closed=closed, back_m=FRIEZE_BOARD_M, before=before, after=after)
    return tuple(raised(made, foot_z_m))


def _along(house: HouseDesign, porch: PorchDesign | None, roof: RoofDesign) -> list[_Run]:
    """Along the front and the back, each end at a corner with the point round that corner."""
    corners = house_outline(house, FRIEZE_BOARD_M)
    back_left, left, right, back_right = corners
    found: list[_Run] = []
    for wall, first, last in (("front", back_left, back_right), ("back", right, left)):
        turn = wall_frame(house, wall)
        for run in eaves_runs(house, roof, wall, FRIEZE_BOARD_M):
            path = run.path @ turn[:2, :2].T + turn[:2, 3]
            ends = first if run.from_corner else None, last if run.to_corner else None
            if wall == "front":
                found += _about_porch(_Run(path, *ends), porch)
            else:
                found.append(_Run(path, *ends))
    return found


def _about_porch(run: _Run, porch: PorchDesign | None) -> Iterator[_Run]:
    """The run; where the porch carries the cornice on, what is left of it and right of it."""
    if porch is None or not run.path[0, 0] < joints(porch)[0, 0] < run.path[-1, 0]:
        yield run
        return
    left, right = joints(porch)
    turn = path_before(porch, -FRIEZE_BOARD_M)
    beside = run.path[:, 0] < left[0], run.path[:, 0] > right[0]
    yield _Run(np.concatenate([run.path[beside[0]], [left]]), run.before, turn[1])
    yield _Run(np.concatenate([[right], run.path[beside[1]]]), turn[-2], run.after)


def _round(house: HouseDesign, porch: PorchDesign | None, roof: RoofDesign) -> list[_Run]:
    """All round the house: the runs of front and back joined round its corners."""
    runs = _along(house, porch, roof)
    corners = {tuple(np.round(c, 6)) for c in house_outline(house, FRIEZE_BOARD_M)}

    def turns(point: Floats) -> bool:
        return tuple(np.round(point, 6)) in corners

    joined = [runs[0]]
    for run in runs[1:]:
        last = joined[-1]
        if turns(last.path[-1]) and turns(run.path[0]):
            path = np.concatenate([last.path, run.path])
            joined[-1] = _Run(path, last.before, run.after)
        else:
            joined.append(run)
    first, last = joined[0], joined[-1]
    if len(joined) == 1:
        return [_Run(first.path, closed=True)]
    whole = _Run(np.concatenate([last.path, first.path]), last.before, first.after)
    return [whole, *joined[1:-1]]


def _raked(house: HouseDesign, porch: PorchDesign | None, roof: GableRoof) -> list[Part]:
    """The cornice along the eaves and up both gables; a frieze below it runs round level."""
    frieze, members = raked_members(house, porch)
    foot_m = sum(m.height for m in frieze)
    parts: list[Part] = []
    if frieze:
        parts += _level(FittedCornice(frieze), _round(house, porch, roof))
        parts = [p.renamed("cornice", "frieze") for p in parts]
    # A frieze below carries on the porch's; without one the cornice goes by behind it.
    beside = porch if frieze else None
    parts += raised(_level(FittedCornice(members), _along(house, beside, roof)), foot_m)
    rakes = pediment(
        members,
        house.depth_m + 2.0 * FRIEZE_BOARD_M,
        back_m=FRIEZE_BOARD_M,
        slope=roof.slope,
        returns=roof.gable_foot == "returns",
        leaded=True,
    )
    out = translations([(0.0, -FRIEZE_BOARD_M, foot_m)])[0]
    for side in ("left", "right"):
        at = wall_frame(house, side) @ out
        # The gable's own wall is the tympanum.
        parts += [
            p.moved(at).under("gable", side) for p in rakes if p.path != ("pediment", "tympanum")
        ]
    return parts

"""What of a gable's wall is faced: from the cornice under it up to the rakes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from massing.build.cross_gables import gable_wall
from massing.canon import Member
from massing.canon.mouldings import stack
from massing.design.house import HouseDesign, WingDesign
from massing.design.kinds import Side
from massing.design.porch import PorchDesign
from massing.design.roof import CrossGable, GableRoof, GambrelRoof, RoofDesign
from massing.geometry.mesh import Floats
from massing.parts.openings.head import head_cut
from massing.parts.orders.pediment import return_length_m, weathering, without_crown
from massing.parts.part import Part
from massing.parts.roofs.deck import gable_roof, gambrel_underside
from massing.parts.walls.wall import wall_frame
from massing.settingout.cross_gables import eaves_half_m, peak_z_m, return_m
from massing.settingout.eaves import EAVES_EDGE_M, eaves_reach
from massing.settingout.porch import FRIEZE_BOARD_M
from massing.settingout.roof_heights import nose_m
from massing.settingout.wall_faces import Cut, CutShape, Gable, taken_by

SIDES: tuple[Side, ...] = ("left", "right")


def gables(
    house: HouseDesign, porch: PorchDesign | None, roof: RoofDesign
) -> dict[str, tuple[Gable, ...]]:
    """The gables to be faced, by wall; none under a roof without them.

    Args:
        house: the house, or a wing.
        porch: whose cornice the house's carries on, if any.
        roof: its roof.
    """
    found: dict[str, tuple[Gable, ...]] = {}
    for cross in roof.gables:
        found[cross.wall] = (*found.get(cross.wall, ()), crossing(cross, house, roof))
    if roof.hipped:
        return found
    if isinstance(roof, GableRoof) and roof.raked and not house.open_side:
        gable = _raked(house, porch, roof)
    else:
        gable = _boarded(house, roof)
    if gable.top_z_m < gable.foot_z_m + 0.05:
        return found
    return found | {wall: (gable,) for wall in ("right", "left") if wall != house.open_side}


def wing_gables(
    wing: WingDesign, house: HouseDesign, roof: RoofDesign
) -> dict[str, tuple[Gable, ...]]:
    """The same of a wing; of one as high as the main walls, over its front alone."""
    if wing.gable is None:
        return gables(wing.house, None, wing.roof)
    if wing.gable.hipped:
        return {}
    ahead = replace(crossing(wing.gable, house, roof), x_m=0.0)
    taken = tuple(_shifted(c, -wing.gable.along_m) for c in ahead.taken)
    return {"right": (replace(ahead, taken=taken),)}


def crossing(cross: CrossGable, house: HouseDesign, roof: RoofDesign) -> Gable:
    """What of a gable over part of a wall is faced, in the main wall's frame."""
    half, top_z = eaves_half_m(cross, house, roof), peak_z_m(cross, house, roof)
    z, x = house.wall_top_z_m, cross.along_m
    taken: list[Cut] = rakes([(half, z), (0.0, top_z)])
    foot_z = z
    if cross.foot == "returns":
        foot_z -= house.cornice.height_m
        ends = stack(plain(house.cornice.members), foot_z)
        ends[:, 0] += half - cross.width_m / 2.0 + return_m(house)  # from the deck's edge in

        def returned(at_z: float) -> float:
            return float(np.interp(at_z, ends[:, 1], ends[:, 0]))

        taken += [CutShape(side * half, foot_z, z, returned) for side in (-1.0, 1.0)]
    taken += _opened(cross)
    return Gable(
        half,
        foot_z,
        top_z,
        tuple(_shifted(c, x) for c in taken),
        joined=cross.foot == "returns",
        x_m=x,
        past_ends=cross.out_m > 0.0,
    )


def _opened(over: CrossGable | RoofDesign) -> list[Cut]:
    """What the window in a gable takes of its facing."""
    opening = over.opening if isinstance(over, (CrossGable, GableRoof)) else None
    return [] if opening is None else [*taken_by(opening), *head_cut(opening)]


def _shifted(cut: Cut, x_m: float) -> Cut:
    if isinstance(cut, CutShape):
        return replace(cut, x_m=cut.x_m + x_m)
    low, foot, high, top = cut
    return low + x_m, foot, high + x_m, top


def gabled(
    eaves: tuple[Floats, Floats],
    house: HouseDesign,
    roof: RoofDesign,
    *,
    sill_m: float = 0.0,
    boards: bool = True,
    against: Side | None = None,
) -> list[Part]:
    """A gable roof's deck and gable walls over a house or a wing.

    Args:
        eaves: low and high plan corners of the eaves' outer edges.
        house: the house, or a wing.
        roof: its roof.
        sill_m: how far its eaves lie below the walls' top.
        boards: whether barge boards close its ends.
        against: the side that stands against another wall, without a gable.
    """
    low, high = eaves
    half = house.width_m / 2.0
    made = gable_roof(
        low,
        high,
        house.wall_top_z_m - sill_m,
        roof.slope,
        (-half, half),
        house.wall_thickness_m,
        EAVES_EDGE_M,
        sill_m=sill_m,
        boards=boards,
        against=against,
    )
    opening = roof.opening if isinstance(roof, GableRoof) else None
    if opening is None:
        return made
    foot = float(high[1] - low[1]) / 2.0 - sill_m / roof.slope
    parts = [p for p in made if p.path[0] != "gable"]
    for side in SIDES:
        if side != against:
            wall = gable_wall(roof.slope * foot, foot, 0.0, house, opening)
            parts += [_end(p, side).moved(wall_frame(house, side)) for p in wall]
    return parts


def _end(part: Part, side: Side) -> Part:
    """A part of a gable's wall, named by its end."""
    first, *rest = part.path
    return replace(part, path=(first, side, *rest))


def plain(members: tuple[Member, ...]) -> tuple[Member, ...]:
    """Members without the triglyphs, which belong over columns."""
    return tuple(
        replace(m, row=None) if m.row is not None and m.row.kind == "triglyph" else m
        for m in members
    )


def raked_members(
    house: HouseDesign, porch: PorchDesign | None
) -> tuple[tuple[Member, ...], tuple[Member, ...]]:
    """The members of the house's crown that run round level, a frieze, and those that rake."""
    members, count = plain(house.cornice.members), 0
    if porch is not None and house.cornice_continues_porch:
        count = len(porch.order.frieze)
    return members[:count], members[count:]


def _boarded(house: HouseDesign, roof: RoofDesign) -> Gable:
    """Over the level cornice, out over its returns, to the deck's underside."""
    reach, z = eaves_reach(house, roof), house.wall_top_z_m
    half = house.depth_m / 2.0 + reach
    edge = [(half, 0.0), (0.0, roof.slope * half)]
    if isinstance(roof, GambrelRoof):
        slopes = (roof.lower_slope, roof.slope)
        under = gambrel_underside(half, slopes, roof.break_run_m, nose_m(roof), EAVES_EDGE_M)
        edge = [(half - run, up) for run, up in under]
    cuts = [*rakes([(x, z + up) for x, up in edge]), *_opened(roof)]
    return Gable(half, z, z + edge[-1][1], tuple(cuts))


def _raked(house: HouseDesign, porch: PorchDesign | None, roof: GableRoof) -> Gable:
    """Under the raking cornices, over the level one or between its returns."""
    frieze, members = raked_members(house, porch)
    under_z = house.wall_top_z_m - sum(m.height for m in (*frieze, *members))
    foot_z = under_z + sum(m.height for m in frieze)
    half, slope = house.depth_m / 2.0, roof.slope
    reach = FRIEZE_BOARD_M + max(m.reach for m in members)
    level = without_crown(members)
    top_z = foot_z + sum(m.height for m in level)
    apex_z = foot_z + slope * (half + reach)
    shoulder = (half, foot_z + slope * reach)
    cuts: list[Cut] = [*rakes([shoulder, (0.0, apex_z)]), *_opened(roof)]
    cap = weathering(level, FRIEZE_BOARD_M)
    capped_z = top_z + float(cap[-1, 1])
    if roof.gable_foot != "returns":
        return Gable(half, capped_z, apex_z, tuple(cuts))
    ends = np.concatenate([stack(level, foot_z), cap[2:] + [0.0, top_z]])
    ends[:, 0] += return_length_m(members, slope) - FRIEZE_BOARD_M

    def returned(z: float) -> float:
        return float(np.interp(z, ends[:, 1], ends[:, 0]))

    cuts += [CutShape(x, foot_z, capped_z, returned) for x in (-half, half)]
    return Gable(half, foot_z, apex_z, tuple(cuts), joined=not frieze)


def rakes(edge: Sequence[tuple[float, float]]) -> list[Cut]:
    """What lies beyond the rakes of a gable, both sides.

    ``edge`` holds points (x, z) of the right one from its foot up to the apex at x = 0.
    """
    foot = edge[0][0]
    found: list[Cut] = []
    for (x0, z0), (x1, z1) in pairwise(edge):

        def beyond(
            z: float, a: float = x0, b: float = x1, low: float = z0, up: float = z1
        ) -> float:
            share = min(max((z - low) / (up - low), 0.0), 1.0)
            return foot - a + share * (a - b)

        found += [CutShape(side * foot, z0, z1, beyond) for side in (-1.0, 1.0)]
    return found

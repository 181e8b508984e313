"""The pilasters at a house's corners, clear of what else is on its walls."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from massing.canon import FittedOrder, fit_order
from massing.design.house import HouseDesign
from massing.design.porch import PorchDesign
from massing.design.roof import RoofDesign
from massing.design.side_porch import SidePorchDesign
from massing.practice.defaults import default
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Scene
from massing.settingout.corner_pilasters import block_leg
from massing.settingout.eaves import eaves_reach
from massing.settingout.side_porches import side_porch_plan
from massing.settingout.wall_faces import run_m
from massing.units import format_length

PLAIN_CAPITALS = ("pier", "tuscan", "doric", "mutular doric")  # carved ones do not turn a corner
WIDTH_OF_HEIGHT = default("corner_pilasters.width")
CLEAR_M = default("corner_pilasters.clear")
_FIELD = "house.corner_pilasters"


def corner_order(
    scene: Scene,
    house: HouseDesign,
    porch: PorchDesign,
    roof: RoofDesign,
    origins: Origins,
    beside: Sequence[SidePorchDesign] = (),
) -> FittedOrder | None:
    """The order at the corners, from the ground floor to the eaves cornice; None for none.

    Raises:
        DesignError: a carved order, or no room beside openings, quoins, wings or the porch.
    """
    asked = scene.house.corner_pilasters
    if asked == "none":
        return None
    name = scene.porch.order if asked == "as porch" else asked
    if name not in PLAIN_CAPITALS:
        raise DesignError(_FIELD, name, f"an order without carving: {', '.join(PLAIN_CAPITALS)}")
    if house.quoins:
        raise DesignError(_FIELD, asked, "none, on a house with quoins")
    tall = house.wall_top_z_m - house.cornice.height_m - house.floor_z_m
    own = porch.highest.order
    of_porch = house.cornice_continues_porch and porch.upper is None and own.order == name
    if house.cornice_continues_porch:
        tall -= own.architrave_height_m
    width = own.diameter_m if of_porch else WIDTH_OF_HEIGHT * tall
    why = "as the porch's columns" if of_porch else "a twelfth of the height (common practice)"
    origins.note(_FIELD, width, f"wide at the foot, {why}")
    try:
        order = fit_order(
            name,
            scene.porch.canon,
            diameter_m=width,
            column_height_m=tall,
        )
    except ValueError as error:
        raise DesignError(_FIELD, name, " ".join(str(error).split())) from None
    if house.cornice_continues_porch:  # what runs over the capitals is the porch's own
        order = replace(order, architrave=own.architrave)
    leg_m = block_leg(order) + CLEAR_M
    _check_room(house, porch, roof, leg_m, origins.units)
    for one in beside:
        low, high = side_porch_plan(house, one, roof.overhang_m)[1::2]
        if low < leg_m or high > house.depth_m - leg_m:
            given = f"pilasters that take {format_length(leg_m, origins.units)} of the corner"
            raise DesignError(_FIELD, given, f"clear of the {one.name}")
    return order


def _check_room(
    house: HouseDesign, porch: PorchDesign, roof: RoofDesign, leg_m: float, units: str
) -> None:
    given = f"pilasters that take {format_length(leg_m, units)} of each wall at the corner"
    for o in house.openings:
        if abs(o.along_m) + o.reach_m > run_m(house, o.wall) / 2.0 - leg_m:
            raise DesignError(_FIELD, given, f"clear of {o.name}")
    for wing in house.wings:
        beside = eaves_reach(wing.house, wing.roof)
        low, high = wing.run_m
        ends = (-house.width_m / 2.0, house.width_m / 2.0) if wing.ahead else (0.0, house.depth_m)
        if min(low - ends[0], ends[1] - high) - beside < leg_m:
            raise DesignError(_FIELD, given, f"clear of the {wing.side} wing and its eaves")
    for storey in (porch, porch.highest):
        eaves = 0.0 if house.cornice_continues_porch else storey.order.cornice_projection_m
        half = storey.half_width_m + eaves + (roof.overhang_m if porch.roof != "flat" else 0.0)
        reach = abs(porch.centre_m) + max(half, porch.end_axis_m + porch.floor_edge_m)
        if reach > house.width_m / 2.0 - leg_m:
            raise DesignError(_FIELD, given, "clear of the porch")

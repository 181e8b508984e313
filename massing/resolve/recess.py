"""A porch recessed in the house, in antis: what it may have, and what it takes of the house."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from pydantic import BaseModel

from massing.canon import FittedOrder
from massing.design.house import HouseDesign, RecessDesign
from massing.design.opening import Opening
from massing.design.porch import PorchDesign, RecessedPorch
from massing.practice.defaults import default, default_rule
from massing.practice.joinery_sizes import FRIEZE_BOARD_M
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Porch
from massing.units import HAIR_M, at_least, at_most, format_length

# Common practice, no source.
LEAST_ROOM_M = default("recess.least_room")
CORNER_M = default("recess.corner")
FLOOR_BEYOND_ANTA_M = default("recess.floor_beyond_anta")
CLEAR_OF_OPENING_M = default("recess.clear_of_opening")


def check_recessed(porch: Porch, floor_z: float, ground_z: float) -> None:
    """Raise DesignError for what a recessed porch cannot have."""
    for field, asked, allowed in (
        ("roof", porch.roof != "flat", "flat, under the house itself"),
        ("guard", porch.guard is not None, "none, on a recessed porch"),
        ("balustrade", porch.balustrade is not None, "none, over a recessed porch"),
        ("blocking_course", bool(porch.blocking_course), "false, over a recessed porch"),
        ("breaking_forward", bool(porch.breaking_forward), "false, over a recessed porch"),
        ("upper", porch.upper is not None, "none, over a recessed porch"),
        ("side_columns", porch.side_columns > 0, "none, within a recess"),
        ("responds", porch.responds != "none", "none: a recess has its antae"),
        ("pedestals", porch.pedestals, "false, between antae"),
        ("floor", abs(floor_z - ground_z) > 1e-6, "the height of the house's floor, in a recess"),
    ):
        if asked:
            given = getattr(porch, field)
            said = "asked for" if isinstance(given, BaseModel) else given
            raise DesignError(f"porch.{field}", said, allowed)


def recess_depth_m(
    porch: Porch, order: FittedOrder, gaps: Sequence[float], origins: Origins
) -> float:
    """The front wall's face to the wall behind.

    Raises:
        DesignError: no room is left behind the columns.
    """
    depth = origins.choose(
        ("porch", "depth"),
        porch.depth,
        max(*gaps, order.upper_diameter_m + LEAST_ROOM_M),
        "as deep as its columns stand apart (common practice)",
    )
    least = order.upper_diameter_m - FRIEZE_BOARD_M + LEAST_ROOM_M
    if depth < least - 1e-9:
        raise DesignError(
            "porch.depth",
            format_length(depth, origins.units),
            f"{at_least(least, origins.units)} or more, "
            f"{default_rule('recess.least_room').said(origins.units)} behind the antae",
        )
    return depth


def with_recess(house: HouseDesign, porch: PorchDesign, origins: Origins) -> HouseDesign:
    """The house with the porch's room taken out of it, and the openings behind moved back.

    Raises:
        DesignError: the recess leaves no wall beside or behind it, or meets an opening.
    """
    if not isinstance(porch, RecessedPorch):
        return house
    order, half = porch.order, porch.frieze_half_depth_m
    recess = RecessDesign(
        opening_m=porch.end_axis_m + half,
        half_width_m=porch.end_axis_m - half + FRIEZE_BOARD_M,
        side_y_m=porch.column_y_m + half,
        depth_m=porch.recess_depth_m,
        ceiling_z_m=porch.ceiling_z_m,
        apron_m=porch.end_axis_m + _anta_foot_m(order) + FLOOR_BEYOND_ANTA_M,
        centre_m=porch.centre_m,
    )

    def length(value_m: float) -> str:
        return format_length(value_m, origins.units)

    beside = default_rule("recess.corner").said(origins.units)
    most = house.width_m / 2.0 - house.wall_thickness_m - CORNER_M
    reach = max(recess.opening_m, recess.half_width_m + house.wall_thickness_m)
    if abs(porch.centre_m) + reach > most + HAIR_M:
        raise DesignError(
            "porch.along" if porch.centre_m else "porch.spacing",
            f"a recess {length(2.0 * reach)} wide over its walls",
            f"at most {at_most(2.0 * (most - abs(porch.centre_m)), origins.units)} there, "
            f"{beside} clear of the side walls"
            if porch.centre_m
            else f"at most {at_most(2.0 * most, origins.units)}, {beside} clear of the side walls",
        )
    deepest = house.depth_m - 2.0 * house.wall_thickness_m - CORNER_M
    if porch.recess_depth_m > deepest + HAIR_M:
        raise DesignError(
            "porch.depth",
            length(porch.recess_depth_m),
            f"at most {at_most(deepest, origins.units)} within the house",
        )
    openings = tuple(_moved(o, recess, porch, length) for o in house.openings)
    return replace(house, recess=recess, openings=openings)


def _anta_foot_m(order: FittedOrder) -> float:
    """Middle of an anta to the edge of its base."""
    return order.upper_diameter_m / 2.0 + (order.foot_width_m - order.diameter_m) / 2.0


def _moved(
    opening: Opening, recess: RecessDesign, porch: RecessedPorch, length: Callable[[float], str]
) -> Opening:
    if opening.wall != "front" or opening.foot_z_m >= porch.ceiling_z_m:
        return opening
    along, room = porch.from_middle_m(opening.along_m), CLEAR_OF_OPENING_M
    if along - opening.reach_m > recess.apron_m + room:
        return opening
    if along + opening.reach_m > recess.half_width_m - room:
        raise DesignError(
            "porch.spacing",
            f"a recess {length(2.0 * recess.half_width_m)} wide whose side walls or antae meet "
            f"{opening.name}",
            f"clear of its {length(along - opening.reach_m)} to "
            f"{length(along + opening.reach_m)} from the middle",
        )
    if opening.top_z_m > porch.ceiling_z_m - room:
        raise DesignError(
            "porch.height",
            f"a ceiling at {length(porch.ceiling_z_m)} that meets {opening.name}",
            f"clear of its head at {length(opening.top_z_m)}",
        )
    return replace(opening, back_m=recess.depth_m)

"""What a porch takes up of the wall behind it: within the house, under the wall's top, clear of
openings."""

from __future__ import annotations

from collections.abc import Callable

from massing.design.house import HouseDesign
from massing.design.porch import PorchDesign, WrappedPorch
from massing.design.roof import RoofDesign
from massing.practice.defaults import default
from massing.resolve.openings import stands_half_under
from massing.resolve.porch_roofs import roof_on_wall_m
from massing.scene.errors import DesignError
from massing.scene.spec import Scene
from massing.units import format_length

DECK_M = default("porch.flooring")  # common practice, no source


def check_porch_against_house(porch: PorchDesign, house: HouseDesign, scene: Scene) -> None:
    """Raise DesignError where porch and house cannot both stand as asked."""

    def length(value_m: float) -> str:
        return format_length(value_m, scene.units)

    reach = max(porch.half_width_m, porch.highest.half_width_m)
    if isinstance(porch, WrappedPorch):
        reach = 0.0
    room = house.width_m / 2.0
    if reach <= room + 1e-9 < abs(porch.centre_m) + reach:
        raise DesignError(
            "porch.along",
            length(porch.centre_m),
            f"at most {length(room - reach)} from the front's middle, where a porch "
            f"{length(2 * reach)} wide over its entablature still stands before the house",
        )
    if reach > room + 1e-9:
        raise DesignError(
            "porch.spacing",
            f"a porch {length(2 * reach)} wide over its entablature",
            f"at most the house's {length(house.width_m)}",
        )
    highest = porch.highest
    if highest.top_z_m > house.wall_top_z_m + 1e-6:
        raise DesignError(
            "porch.height" if porch.upper is None else "porch.upper.height",
            f"an order {length(highest.order.order_height_m)} high on a floor at "
            f"{length(highest.floor_z_m)}",
            f"a top at or below the wall's {length(house.wall_top_z_m)}",
        )


def check_upper_openings(
    porch: PorchDesign, house: HouseDesign, roof: RoofDesign, scene: Scene
) -> None:
    """Raise DesignError where ceiling, beam, floor or roof of the porch cross an opening."""

    def length(value_m: float) -> str:
        return format_length(value_m, scene.units)

    if porch.upper is not None:
        _check_openings(porch, porch.top_z_m + DECK_M, "porch.height", house, length)
    roof_z = roof_on_wall_m(porch, house, roof)
    if roof_z is not None:
        field = "porch.height" if porch.upper is None else "porch.upper.height"
        _check_openings(porch.highest, roof_z, field, house, length)


def _check_openings(
    porch: PorchDesign,
    roof_z: float,
    field: str,
    house: HouseDesign,
    length: Callable[[float], str],
) -> None:
    """Raise DesignError where ceiling, beam or roof of one order crosses an opening's trim."""
    half_width = porch.half_width_m + porch.order.cornice_projection_m
    for opening in house.openings:
        near = porch.from_middle_m(opening.along_m) - opening.reach_m
        if opening.wall != "front" or near > half_width:
            continue
        half_under = stands_half_under(opening.along_m, opening.reach_m, porch)
        foot_z = porch.column_top_z_m if half_under else porch.ceiling_z_m
        top_z = opening.top_z_m
        if opening.foot_z_m < roof_z and top_z > foot_z:
            raise DesignError(
                field,
                f"a porch that takes up the wall from {length(foot_z)} to {length(roof_z)} "
                f"and crosses {opening.name}",
                f"clear of its {length(opening.foot_z_m)} to {length(top_z)}, sill to head",
            )

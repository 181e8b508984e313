"""The lie of the ground, and what stands on it: flights that reach it, floors that clear it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from massing.design.house import HouseDesign
from massing.design.porch import PorchDesign
from massing.design.side_porch import SidePorchDesign
from massing.design.site import LEVEL, GroundDesign
from massing.practice.joinery_sizes import PAVING_M
from massing.scene.errors import DesignError
from massing.scene.spec import Site
from massing.settingout.porch import floor_plans
from massing.settingout.side_porches import side_porch_plans
from massing.units import HAIR_M, at_most, format_length

FOUNDATION_CLEAR_M = 1.5 * PAVING_M  # floor over the highest ground: the paving, and to spare
_MOST_RISERS = 60

Plan = tuple[float, float, float, float]  # low x, low y, high x, high y


def ground_design(site: Site) -> GroundDesign:
    """The ground that the scene asks for."""
    asked = site.ground_slope
    return LEVEL if asked is None else GroundDesign(asked.along, asked.back)


def flight(
    field: str,
    floor_z_m: float,
    riser_m: float,
    tread_m: float,
    ground_before: Callable[[float], float],
    units: str,
) -> tuple[int, float]:
    """The fewest equal risers, none over ``riser_m``, from the ground to a floor.

    Args:
        field: the field that a refusal names.
        floor_z_m: the floor's height.
        riser_m, tread_m: the highest riser, and the tread.
        ground_before: the ground's height at a distance before the floor's nosing.
        units: for the message.

    Returns:
        How many, and the height of the ground at the foot.

    Raises:
        DesignError: the ground falls away as fast as the flight, or leaves risers lower than a
            tread stone is thick.
    """
    for count in range(1, _MOST_RISERS + 1):
        foot_z = ground_before((count - 1) * tread_m)
        if count * riser_m >= floor_z_m - foot_z - 1e-9 * riser_m:
            break
    else:
        raise DesignError(
            field,
            f"{format_length(riser_m, units)}, with treads of {format_length(tread_m, units)}",
            f"a flight that reaches the sloping ground in {_MOST_RISERS} risers",
        )
    sloped = foot_z != 0.0 or ground_before(1.0) != 0.0
    if sloped and count > 1 and floor_z_m - foot_z <= count * 1.05 * PAVING_M:
        raise DesignError(
            field,
            f"{count} risers of {format_length((floor_z_m - foot_z) / count, units)} to the "
            "sloping ground",
            f"risers over {format_length(1.05 * PAVING_M, units)}, a tread stone: a shorter tread "
            "or a higher riser",
        )
    return count, foot_z


def ground_before_wall(
    house: HouseDesign,
    wall: str,
    along_m: float,
    ground: GroundDesign,
    on_plan: Callable[[float, float], tuple[float, float]] | None = None,
) -> Callable[[float], float]:
    """The ground's height at a distance out from a wall's face, at a place along it.

    ``on_plan`` says where a place of a wing's own frame lies.
    """
    half, depth = house.width_m / 2.0, house.depth_m

    def height(out_m: float) -> float:
        x, y = {
            "front": (along_m, -out_m),
            "right": (half + out_m, depth / 2.0 + along_m),
            "back": (-along_m, depth + out_m),
            "left": (-half - out_m, depth / 2.0 - along_m),
        }[wall]
        return float(ground.z_m(*(on_plan(x, y) if on_plan else (x, y))))

    return height


def highest_over(ground: GroundDesign, plan: Plan) -> float:
    """The highest ground over a plan rectangle; a plane is highest at a corner."""
    x, y = np.array(plan)[[0, 2, 2, 0]], np.array(plan)[[1, 1, 3, 3]]
    return float(ground.z_m(x, y).max())


def lowest_over(ground: GroundDesign, plan: Plan) -> float:
    """The lowest ground over the same."""
    return -highest_over(GroundDesign(-ground.along, -ground.back), plan)


def house_plan(house: HouseDesign) -> dict[str, Plan]:
    """What the house and its wings cover, by name."""
    half = house.width_m / 2.0
    plans: dict[str, Plan] = {"house": (-half, 0.0, half, house.depth_m)}
    for wing in house.wings:
        plans[f"{wing.side} wing"] = wing.plan_m
    return plans


def porch_plan(porch: PorchDesign) -> Plan:
    """What the porch's floor covers, before the wall or in it, and round its corners."""
    low_x, low_y, high_x, high_y = zip(*floor_plans(porch), strict=True)
    return min(low_x), min(low_y), max(high_x), max(high_y)


def check_ground(
    ground: GroundDesign,
    house: HouseDesign,
    porch: PorchDesign,
    units: str,
    beside: Sequence[SidePorchDesign] = (),
) -> None:
    """Raise DesignError where the ground rises too near a floor of house, wing or porch."""
    if ground.level:
        return
    floors = {"house": house.floor_z_m, "porch": porch.floor_z_m}
    floors |= {f"{wing.side} wing": wing.house.floor_z_m for wing in house.wings}
    floors |= {one.name: one.porch.floor_z_m for one in beside}
    sides = side_porch_plans(house, beside)
    for name, plan in {**house_plan(house), "porch": porch_plan(porch), **sides}.items():
        floor_z = floors[name]
        high = highest_over(ground, plan)
        if high > floor_z - FOUNDATION_CLEAR_M + HAIR_M:
            raise DesignError(
                "site.ground_slope",
                f"ground that rises to {format_length(high, units)} at a corner of the {name}",
                f"at most {at_most(floor_z - FOUNDATION_CLEAR_M, units)}, its floor "
                f"standing {format_length(FOUNDATION_CLEAR_M, units)} over the ground at least",
            )

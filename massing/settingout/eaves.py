"""How far a roof reaches beyond its walls, and what it takes of a wall that it runs against."""

from __future__ import annotations

import math

from massing.design.house import HouseDesign, WingDesign
from massing.design.roof import RoofDesign
from massing.practice.coverings import covering
from massing.practice.joinery_sizes import joinery_size
from massing.settingout.porch import FRIEZE_BOARD_M

EAVES_EDGE_M = joinery_size("wall.eaves_edge")
FLASHING_M = joinery_size("wall.flashing")


def reach_m(house: HouseDesign, overhang_m: float) -> float:
    """The wall's face to the edge of a roof that hangs so far over its cornice."""
    return FRIEZE_BOARD_M + house.cornice.projection_m + overhang_m


def eaves_reach(house: HouseDesign, roof: RoofDesign) -> float:
    """The wall's face to the roof's edge."""
    return reach_m(house, roof.overhang_m)


def flashing_top(roof: RoofDesign) -> float:
    """About how far a roof's covering and the flashing over it stand above its deck, upright."""
    if roof.covering == "plain":  # boards under felt: nothing stands over them, nor on the wall
        return EAVES_EDGE_M
    rise = covering(roof.covering).rise_m + FLASHING_M
    return EAVES_EDGE_M + rise * math.hypot(1.0, roof.slope)


def saddle_over(roof: RoofDesign) -> float:
    """How far the lead over a ridge's head at a wall goes up beyond the flashing beside it."""
    return 0.0 if roof.covering == "plain" else covering(roof.covering).over_ridge_m


def wing_run(house: HouseDesign, roof: RoofDesign) -> float:
    """How far a wing's roof runs in from its front eaves to where it is highest."""
    reach = eaves_reach(house, roof)
    half = house.depth_m / 2.0 + reach
    return min(half, house.width_m + reach) if roof.hipped else half


def wing_top(house: HouseDesign, roof: RoofDesign) -> float:
    """The highest that a wing, its flashing and the lead over its ridge reach on the main wall.

    Above the ground.
    """
    over = flashing_top(roof) + saddle_over(roof)
    return house.wall_top_z_m + roof.slope * wing_run(house, roof) + over


def covered_run(wing: WingDesign, z_m: float) -> tuple[float, float]:
    """What a wing takes of the wall behind it at a height and above: from and to, in y or x.

    Under its eaves that is as much as they reach over; above its ridge nothing.
    """
    house, roof = wing.house, wing.roof
    reach = eaves_reach(house, roof)
    if z_m >= wing_top(house, roof):
        return (sum(wing.run_m) / 2.0,) * 2
    above = max(z_m - house.wall_top_z_m - flashing_top(roof), 0.0)
    inwards = above / roof.slope - reach
    low, high = wing.run_m
    return low + inwards, high - inwards

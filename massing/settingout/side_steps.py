"""Where a side door's landing and steps lie."""

from __future__ import annotations

from massing.design.house import HouseDesign, WingDesign
from massing.practice.joinery_sizes import CHEEK_WIDTH_M

CARRIAGE_WAY_M = 6.0  # before carriage doors, to be left free: common practice, no source


def steps_plan(house: HouseDesign) -> tuple[float, float, float, float] | None:
    """Plan (low x, low y, high x, high y) of a side door's landing and flight; None without."""
    for door in house.doors:
        if door.door.steps:
            steps = door.door.steps
            half = steps.width_m / 2.0 + CHEEK_WIDTH_M
            out = steps.landing_m + steps.run_m
            x, side, depth = door.along_m, house.width_m / 2.0, house.depth_m
            match door.wall:
                case "right":
                    y = depth / 2.0 + x
                    return side, y - half, side + out, y + half
                case "left":
                    y = depth / 2.0 - x
                    return -side - out, y - half, -side, y + half
                case "front":
                    return x - half, -out, x + half, 0.0
                case _:
                    return -x - half, depth, -x + half, depth + out
    return None


def wing_steps_plan(wing: WingDesign) -> tuple[float, float, float, float] | None:
    """The same of the door in a wing, in the main block's frame."""
    own = steps_plan(wing.house)
    if own is None:
        return None
    (ax, ay), (bx, by) = wing.on_plan(*own[:2]), wing.on_plan(*own[2:])
    return min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)


def steps_plans(house: HouseDesign) -> dict[str, tuple[float, float, float, float]]:
    """Every such plan of a house and its wings, by whose it is."""
    found = {"side door": steps_plan(house)}
    found |= {f"{wing.side} wing's door": wing_steps_plan(wing) for wing in house.wings}
    return {whose: plan for whose, plan in found.items() if plan is not None}


def carriage_ways(house: HouseDesign) -> list[tuple[float, float, float, float]]:
    """Plans of the ground before carriage doors in wings, which nothing is planted on."""
    found = []
    for wing in house.wings:
        for door in wing.house.doors:
            if door.door.panels != "carriage":
                continue
            half = door.width_m / 2.0
            if wing.ahead:
                x, y = sum(wing.plan_m[::2]) / 2.0 + door.along_m, wing.set_back_m
            else:
                x, y = wing.x_m + door.along_m, wing.set_back_m
            found.append((x - half, y - CARRIAGE_WAY_M, x + half, y))
    return found

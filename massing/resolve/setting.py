"""Hedges, trees and neighbours of a design, clear of the house and the way to it."""

from __future__ import annotations

from massing.design.house import HouseDesign
from massing.design.porch import PorchDesign
from massing.design.setting import HedgeDesign, NeighbourDesign, SettingDesign, TreeDesign
from massing.design.site import GroundDesign
from massing.practice.defaults import default
from massing.resolve.doors import steps_plan
from massing.resolve.ground import highest_over
from massing.scene.errors import DesignError
from massing.scene.spec import Hedge, Neighbour, Scene, Tree
from massing.units import FOOT_M, format_length

# Common practice, no source, unless a line says otherwise.
SETTING_GAP_M = default("setting.gap")
CHEEK_M = default("setting.cheek")
WALK_M = default("setting.walk")


Plan = tuple[float, float, float, float]  # low x, low y, high x, high y


def plans_meet(one: Plan, other: Plan, gap_m: float = 0.0) -> bool:
    return (
        one[0] < other[2] + gap_m
        and other[0] < one[2] + gap_m
        and one[1] < other[3] + gap_m
        and other[1] < one[3] + gap_m
    )


def setting_design(
    scene: Scene, house: HouseDesign, porch: PorchDesign, ground: GroundDesign
) -> SettingDesign:
    """Hedges, trees and neighbours, clear of the house, the porch and the way to it."""
    half = house.width_m / 2.0 + SETTING_GAP_M
    wings = {
        f"{wing.side} wing": (
            wing.x_m - wing.house.width_m / 2.0 - SETTING_GAP_M,
            wing.set_back_m - SETTING_GAP_M,
            wing.x_m + wing.house.width_m / 2.0 + SETTING_GAP_M,
            wing.set_back_m + wing.house.depth_m + SETTING_GAP_M,
        )
        for wing in house.wings
    }
    side = porch.end_axis_m + porch.floor_edge_m
    edge = porch.column_y_m - porch.floor_edge_m
    foot = edge - porch.steps.run_m
    way = porch.steps.width_m / 2.0 + CHEEK_M
    taken: dict[str, Plan] = {
        "house": (-half, -SETTING_GAP_M, half, house.depth_m + SETTING_GAP_M),
        **wings,
        "porch": (-side, edge, side, 0.0),
        "steps and walk": (-way, foot - WALK_M, way, 0.0),
    }
    side_steps = steps_plan(house)
    if side_steps is not None:
        taken["side door's steps"] = side_steps

    def plan(kind: str, i: int, item: Hedge | Tree | Neighbour, x: float, y: float) -> Plan:
        box = (
            item.along - x / 2.0,
            -item.before - y / 2.0,
            item.along + x / 2.0,
            -item.before + y / 2.0,
        )
        for name, other in taken.items():
            if plans_meet(box, other):
                raise DesignError(
                    f"setting.{kind}.{i}.along",
                    format_length(item.along, scene.units),
                    f"a place clear of the {name}",
                )
        return box

    hedges, trees, neighbours = [], [], []
    for i, bush in enumerate(scene.setting.hedges):
        box = plan("hedges", i, bush, bush.length, bush.width)
        if min(bush.length, bush.width) < 0.3 or bush.height < 0.3:
            raise DesignError(
                f"setting.hedges.{i}.width",
                format_length(min(bush.length, bush.width, bush.height), scene.units),
                "1 ft each way at least",
            )
        hedges.append(HedgeDesign(box[:2], box[2:], bush.height))
    for i, wood in enumerate(scene.setting.trees):
        plan("trees", i, wood, 0.12 * wood.height, 0.12 * wood.height)
        if wood.height < 6 * FOOT_M or wood.spread > 2 * wood.height:
            raise DesignError(
                f"setting.trees.{i}.height",
                format_length(wood.height, scene.units),
                "6 ft at least, and a spread of at most twice the height",
            )
        trees.append(TreeDesign(wood.along, -wood.before, wood.height, wood.spread))
    for i, near in enumerate(scene.setting.neighbours):
        box = plan("neighbours", i, near, near.width + 0.8, near.depth + 0.8)
        if near.ridge <= near.eaves:
            raise DesignError(
                f"setting.neighbours.{i}.ridge",
                format_length(near.ridge, scene.units),
                f"above its eaves at {format_length(near.eaves, scene.units)}",
            )
        middle = ground.z_m((box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0)
        over = highest_over(ground, box) - float(middle)
        if near.eaves <= over:
            raise DesignError(
                f"setting.neighbours.{i}.eaves",
                format_length(near.eaves, scene.units),
                f"over {format_length(over, scene.units)}: the ground rises so far beside it",
            )
        neighbours.append(
            NeighbourDesign(
                (box[0] + 0.4, box[1] + 0.4), (box[2] - 0.4, box[3] - 0.4), near.eaves, near.ridge
            )
        )
    return SettingDesign(tuple(hedges), tuple(trees), tuple(neighbours))

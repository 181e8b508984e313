"""Hedges, trees and neighbours of a design, clear of the house and the way to it."""

from __future__ import annotations

from collections.abc import Sequence

from massing.design.house import HouseDesign
from massing.design.kinds import PathKind, SettingKind
from massing.design.porch import PorchDesign
from massing.design.setting import HedgeDesign, NeighbourDesign, SettingDesign, TreeDesign
from massing.design.side_porch import SidePorchDesign
from massing.design.site import GroundDesign
from massing.practice.defaults import default, default_rule
from massing.resolve.ground import highest_over
from massing.scene.errors import DesignError
from massing.scene.spec import Hedge, Neighbour, Scene, Tree
from massing.settingout.porch import floor_plans
from massing.settingout.side_porches import side_porch_plans
from massing.settingout.side_steps import steps_plans
from massing.units import FOOT_M, format_length

# Common practice, no source, unless a line says otherwise.
SETTING_GAP_M = default("setting.gap")
CHEEK_M = default("setting.cheek")
WALK_M = default("setting.walk")
LEAST_HEDGE_M = default("setting.least_hedge")
LEAST_TREE_M = default("setting.least_tree")
TRUNK_OF_TREE = default("setting.trunk")
NEIGHBOUR_EAVES_M = default("setting.neighbour_eaves")
PATH_OF: dict[SettingKind, PathKind] = {
    "open country": "gravel",
    "village street": "brick",
    "garden": "flags",
    "none": "gravel",
}

Plan = tuple[float, float, float, float]  # low x, low y, high x, high y


def plans_meet(one: Plan, other: Plan, gap_m: float = 0.0) -> bool:
    return (
        one[0] < other[2] + gap_m
        and other[0] < one[2] + gap_m
        and one[1] < other[3] + gap_m
        and other[1] < one[3] + gap_m
    )


def setting_design(
    scene: Scene,
    house: HouseDesign,
    porch: PorchDesign,
    ground: GroundDesign,
    beside: Sequence[SidePorchDesign] = (),
) -> SettingDesign:
    """Hedges, trees and neighbours, clear of the house, the porch and the way to it.

    Raises:
        DesignError: one stands in the way, or is too small to be what it is called.
    """
    taken, given, units = _taken(house, porch), scene.setting, scene.units
    taken |= side_porch_plans(house, beside, SETTING_GAP_M)
    return SettingDesign(
        tuple(_hedge(bush, i, taken, units) for i, bush in enumerate(given.hedges)),
        tuple(_tree(wood, i, taken, units) for i, wood in enumerate(given.trees)),
        tuple(_neighbour(near, i, taken, ground, units) for i, near in enumerate(given.neighbours)),
        given.kind,
        given.path or PATH_OF[given.kind],
        given.drive,
    )


def _taken(house: HouseDesign, porch: PorchDesign) -> dict[str, Plan]:
    """Plans where nothing else may stand, by the name of what stands there."""
    half = house.width_m / 2.0 + SETTING_GAP_M
    wings = {
        f"{wing.side} wing": (
            wing.plan_m[0] - SETTING_GAP_M,
            wing.plan_m[1] - SETTING_GAP_M,
            wing.plan_m[2] + SETTING_GAP_M,
            wing.plan_m[3] + SETTING_GAP_M,
        )
        for wing in house.wings
    }
    middle, ((left, _, right, _), *round_corners) = porch.centre_m, floor_plans(porch)
    edge = porch.column_y_m - porch.floor_edge_m
    foot = edge - porch.steps.run_m
    way = porch.steps.width_m / 2.0 + CHEEK_M
    taken: dict[str, Plan] = {
        "house": (-half, -SETTING_GAP_M, half, house.depth_m + SETTING_GAP_M),
        **wings,
        "porch": (left, edge, right, 0.0),
        "steps and walk": (middle - way, foot - WALK_M, middle + way, 0.0),
    }
    taken |= {f"porch at the {'left' if p[0] < 0 else 'right'}": p for p in round_corners}
    taken |= {f"{whose}'s steps": plan for whose, plan in steps_plans(house).items()}
    return taken


def _plan(
    item: Hedge | Tree | Neighbour,
    size_m: tuple[float, float],
    field: str,
    taken: dict[str, Plan],
    units: str,
) -> Plan:
    """The plan of what is ``size_m`` along the front and back, where it is asked for.

    Raises:
        DesignError: something stands there already.
    """
    x, y = size_m
    box = (
        item.along - x / 2.0,
        -item.before - y / 2.0,
        item.along + x / 2.0,
        -item.before + y / 2.0,
    )
    for name, other in taken.items():
        if plans_meet(box, other):
            raise DesignError(
                f"{field}.along", format_length(item.along, units), f"a place clear of the {name}"
            )
    return box


def _hedge(bush: Hedge, i: int, taken: dict[str, Plan], units: str) -> HedgeDesign:
    field = f"setting.hedges.{i}"
    box = _plan(bush, (bush.length, bush.width), field, taken, units)
    least = min(bush.length, bush.width, bush.height)
    if least < LEAST_HEDGE_M:
        raise DesignError(
            f"{field}.width",
            format_length(least, units),
            f"{format_length(FOOT_M, units)} each way at least",
        )
    return HedgeDesign(box[:2], box[2:], bush.height)


def _tree(wood: Tree, i: int, taken: dict[str, Plan], units: str) -> TreeDesign:
    field = f"setting.trees.{i}"
    _plan(wood, (TRUNK_OF_TREE * wood.height,) * 2, field, taken, units)
    if wood.height < LEAST_TREE_M or wood.spread > 2 * wood.height:
        raise DesignError(
            f"{field}.height",
            format_length(wood.height, units),
            f"{default_rule('setting.least_tree').said(units)} at least, and a spread of at most "
            "twice the height",
        )
    return TreeDesign(wood.along, -wood.before, wood.height, wood.spread, wood.habit)


def _neighbour(
    near: Neighbour, i: int, taken: dict[str, Plan], ground: GroundDesign, units: str
) -> NeighbourDesign:
    """A neighbour's walls; its plan is as large as its eaves."""
    field, out = f"setting.neighbours.{i}", NEIGHBOUR_EAVES_M
    size = near.width + 2.0 * out, near.depth + 2.0 * out
    box = _plan(near, size, field, taken, units)
    if near.ridge <= near.eaves:
        raise DesignError(
            f"{field}.ridge",
            format_length(near.ridge, units),
            f"above its eaves at {format_length(near.eaves, units)}",
        )
    middle = ground.z_m((box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0)
    over = highest_over(ground, box) - float(middle)
    if near.eaves <= over:
        raise DesignError(
            f"{field}.eaves",
            format_length(near.eaves, units),
            f"over {format_length(over, units)}: the ground rises so far beside it",
        )
    low, high = (box[0] + out, box[1] + out), (box[2] - out, box[3] - out)
    return NeighbourDesign(low, high, near.eaves, near.ridge)

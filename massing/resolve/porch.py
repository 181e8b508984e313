"""The porch of a design, put together: its order, columns, steps, balustrades and roof."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from massing.canon import FittedOrder
from massing.design.porch import PorchDesign, RecessedPorch, SemicircularPorch, StraightPorch
from massing.design.site import GroundDesign
from massing.practice.defaults import default, default_rule
from massing.resolve.arcade import arcade_design
from massing.resolve.bays import porch_centre
from massing.resolve.breaks import (
    blocking_course_m,
    break_forward_m,
    check_couples,
    open_return_m,
)
from massing.resolve.porch_ceilings import ceiling_up_m, wanted_over
from massing.resolve.porch_columns import (
    Spacing,
    check_semicircular,
    column_spacing,
    on_a_semicircle,
    straight_depth_m,
)
from massing.resolve.porch_guards import crowning_balustrade, guard_between
from massing.resolve.porch_order import PORCH_STEP_DOWN_M, porch_order
from massing.resolve.porch_roofs import height_with_room
from massing.resolve.porch_steps import check_rail, porch_steps
from massing.resolve.recess import check_recessed, recess_depth_m
from massing.resolve.wrapping import (
    check_round_corners,
    check_wrapping,
    closest_m,
    wrapped_porch,
)
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Porch, Scene, UpperPorch
from massing.units import format_length

# Common practice, no source, unless a line says otherwise.
FLOOR_BEYOND_PLINTH_M = default("porch.floor_beyond_plinth")
LEAST_DEPTH_OF_DIAMETER = default("porch.least_depth")
CLEAR_OF_PLINTHS_M = default("porch.clear_of_plinths")
_ROUNDS = 8  # till the height that leaves its roof room no longer moves
# Orders are superposed from the heaviest to the lightest (Vitruvius V.1.3, from memory).
NEXT_LIGHTER = {
    "pier": "pier",
    "tuscan": "doric",
    "doric": "ionic",
    "mutular doric": "ionic",
    "ionic": "corinthian",
    "corinthian": "composite",
    "composite": "composite",
}


def porch_design(
    scene: Scene,
    levels: tuple[float, ...],
    bays: tuple[float, ...],
    ground: GroundDesign,
    origins: Origins,
) -> PorchDesign:
    """The porch: its floor, its order, where columns stand, what stands over and before them.

    An order whose height the scene leaves out is as high as leaves its roof room under the eaves.

    Args:
        scene: what is asked.
        levels: heights of the floors and, last, of the walls' top, metres.
        bays: the centres of the front's bays, metres.
        ground: the lie of the ground.
        origins: takes a note of where each number comes from.

    Raises:
        DesignError: the porch cannot be built as asked.
    """
    made = _porch(scene, levels, bays, ground, origins)
    for _ in range(_ROUNDS):
        height = height_with_room(scene, levels, made)
        if height is None or abs(height - (made.top_z_m - made.floor_z_m)) < 1e-6:
            break
        made = _porch(scene, levels, bays, ground, origins, height)
    return made


def _porch(
    scene: Scene,
    levels: tuple[float, ...],
    bays: tuple[float, ...],
    ground: GroundDesign,
    origins: Origins,
    roomy_m: float | None = None,
) -> PorchDesign:
    """The porch with its order by rule, or as high as ``roomy_m`` where that is left out."""
    porch = scene.porch
    floor_z = _floor_z(porch, levels[0], origins)
    order = porch_order(porch, floor_z, levels, ("porch",), origins, roomy_m)
    centre = porch_centre(porch.along, bays, origins)
    bare: PorchDesign
    if porch.wraps != "none":
        check_wrapping(porch)
        common = _common(porch, order, centre, floor_z, None)
        bare = wrapped_porch(porch, order, scene.house, bays, common, origins)
        check_round_corners(scene, bare)
        closest = closest_m(bare)
    else:
        if porch.wrap_length is not None:
            raise DesignError("porch.wrap_length", "a length", "only with wraps: left, right, both")
        spacing = column_spacing(porch, order, bays, centre, scene.house, origins)
        bare = _standing(porch, order, spacing, centre, (floor_z, levels[0]), origins)
        closest = _closest_m(bare, spacing.open_gaps_m)
    _check_depth(bare, origins.units)
    _check_spacing(order, closest, origins.units)
    _check_roof(porch, order)
    whole = replace(
        bare,
        flight=porch_steps(porch.steps, bare, ground, origins),
        balustrade=crowning_balustrade(porch.balustrade, order, origins),
        guard=guard_between(porch.guard, order, origins),
        breaks_forward_m=break_forward_m(porch, order, closest, ("porch",), origins),
        blocking_course_m=blocking_course_m(porch, order, origins),
        arcade=arcade_design(porch, bare, origins),
        ceiling=porch.ceiling,
        ceiling_up_m=ceiling_up_m(
            porch, order, wanted_over(scene.house, levels[0]) - floor_z, origins
        ),
    )
    check_rail(whole, scene.units)
    if porch.upper is None:
        return whole
    return replace(whole, upper=_upper(porch, porch.upper, whole, levels, origins))


def _floor_z(porch: Porch, house_floor_z: float, origins: Origins) -> float:
    """The floor's height: a step below the house's floor, level with it in a recess."""
    recessed = porch.shape == "recessed"
    floor_z = origins.choose(
        ("porch", "floor"),
        porch.floor,
        house_floor_z - (0.0 if recessed else PORCH_STEP_DOWN_M),
        "level with the house's floor, in a recess"
        if recessed
        else f"{default_rule('porch.step_down').said(origins.units)} below the house's floor "
        "(common practice)",
    )
    if floor_z > house_floor_z:
        raise DesignError(
            "porch.floor",
            format_length(floor_z, origins.units),
            f"at most the house's floor, {format_length(house_floor_z, origins.units)}",
        )
    return floor_z


def _common(
    porch: Porch, order: FittedOrder, centre_m: float, floor_z: float, couple_m: float | None
) -> dict[str, Any]:
    """What a porch of any shape has."""
    return {
        "order": order,
        "floor_z_m": floor_z,
        "floor_edge_m": order.foot_width_m / 2.0 + FLOOR_BEYOND_PLINTH_M,
        "flight": None,
        "roof": porch.roof,
        "roof_pitch": porch.roof_pitch,  # its rule looks at the house: see porch_roofs
        "responds": porch.responds,
        "responds_fluted": bool(porch.fluted),
        "couple_axis_m": couple_m,
        "centre_m": centre_m,
    }


def _standing(
    porch: Porch,
    order: FittedOrder,
    spacing: Spacing,
    centre_m: float,
    floors_z: tuple[float, float],
    origins: Origins,
) -> PorchDesign:
    """The porch of the shape asked for: columns on a floor, nothing yet over or before them.

    ``floors_z`` are the porch's floor and the house's.
    """
    floor_z, house_floor_z = floors_z
    common = _common(porch, order, centre_m, floor_z, spacing.couple_m)
    match porch.shape:
        case "semicircular":
            check_semicircular(porch)
            radius, axes = on_a_semicircle(porch, order, spacing.gaps_m, origins)
            axes = tuple(centre_m + x for x in axes)
            return SemicircularPorch(axes_m=axes, radius_m=radius, **common)
        case "recessed":
            check_recessed(porch, floor_z, house_floor_z)
            return RecessedPorch(
                axes_m=spacing.in_line_m(centre_m),
                recess_depth_m=recess_depth_m(porch, order, spacing.gaps_m, origins),
                anta_axis_m=spacing.in_line_m(0.0)[-1] + spacing.open_gaps_m[0],
                **common,
            )
        case "straight":
            return StraightPorch(
                axes_m=spacing.in_line_m(centre_m),
                axis_depth_m=straight_depth_m(porch, spacing, origins),
                side_columns=porch.side_columns,
                **common,
            )


def _closest_m(porch: PorchDesign, open_gaps_m: Sequence[float]) -> float:
    """The least axis to axis across the openings of front and returns, or axis to wall."""
    sides = porch.side_columns if isinstance(porch, StraightPorch) else 0
    return min(*open_gaps_m, open_return_m(sides, porch.depth_m, porch.couple_axis_m))


def _check_depth(porch: PorchDesign, units: str) -> None:
    """Raise DesignError where columns would stand against the wall."""
    least = LEAST_DEPTH_OF_DIAMETER * porch.order.diameter_m
    if porch.depth_m < least:
        raise DesignError(
            "porch.depth",
            format_length(porch.depth_m, units),
            f"at least {default_rule('porch.least_depth').written} diameters, "
            f"{format_length(least, units)}",
        )


def _check_spacing(order: FittedOrder, closest_m: float, units: str) -> None:
    """Raise DesignError where two columns' plinths leave no way between them."""
    if closest_m - order.foot_width_m < CLEAR_OF_PLINTHS_M:
        raise DesignError(
            "porch.spacing",
            format_length(closest_m, units),
            f"wider than the plinths' {format_length(order.foot_width_m, units)}",
        )


def _check_roof(porch: Porch, order: FittedOrder) -> None:
    """Raise DesignError for a pediment that the order cannot carry."""
    if porch.roof != "pediment":
        return
    if not any(m.name == "cymatium" for m in order.cornice):
        raise DesignError(
            "porch.roof",
            f"a pediment over a {porch.order}",
            "an order whose cornice has a cymatium",
        )
    if porch.balustrade is not None:
        raise DesignError("porch.balustrade", "a balustrade", "none over a pediment")


def _upper(
    porch: Porch,
    upper: UpperPorch,
    lower: PorchDesign,
    levels: tuple[float, ...],
    origins: Origins,
) -> PorchDesign:
    """The order that stands on the first, on the same axes."""
    name = upper.order or NEXT_LIGHTER[porch.order]
    asked = porch.model_copy(
        update={
            "order": name,
            "height": upper.height or "eaves",
            "diameter": upper.diameter,
            "column_height": upper.column_height,
            "entablature": upper.entablature,
            "upper": None,
            "entasis": None if name == "pier" else porch.entasis,
            "fluted": None if name == "pier" else porch.fluted,
        }
    )
    floor_z = lower.top_z_m
    order = porch_order(asked, floor_z, levels, ("porch", "upper"), origins)
    if min(lower.open_gaps_m) - order.plinth_width_m < CLEAR_OF_PLINTHS_M:
        raise DesignError(
            "porch.upper",
            f"plinths {format_length(order.plinth_width_m, origins.units)} wide",
            "columns that clear each other on the axes below",
        )
    check_couples(lower.couple_axis_m, order, "porch.upper", origins)
    closest = _closest_m(lower, lower.open_gaps_m)
    return replace(
        lower,
        order=order,
        floor_z_m=floor_z,
        breaks_forward_m=break_forward_m(porch, order, closest, ("porch", "upper"), origins),
        blocking_course_m=blocking_course_m(porch, order, origins),
        flight=None,
        arcade=None,
        guard=guard_between(upper.guard, order, origins),
        ceiling_up_m=None,
    )

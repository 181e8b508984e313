"""The porch of a design: its order, axes, steps, balustrades, from what the scene says."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from operator import attrgetter

from massing.canon import FittedOrder, fit_order, spacing_axis_m, with_shaft
from massing.design.kinds import RailKind
from massing.design.opening import StepsDesign
from massing.design.porch import PorchDesign
from massing.design.site import GroundDesign
from massing.practice.defaults import default, default_rule, said_default
from massing.practice.joinery_sizes import FRIEZE_BOARD_M
from massing.practice.rules import rule
from massing.resolve.bays import column_gaps
from massing.resolve.breaks import (
    blocking_course_m,
    break_forward_m,
    check_couples,
    couple_axis_m,
    coupled_gaps,
    open_return_m,
    return_depth_m,
)
from massing.resolve.ground import flight
from massing.resolve.porch_guards import crowning_balustrade, guard_between
from massing.resolve.recess import check_recessed, recess_depth_m
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Porch, PorchSteps, Scene, UpperPorch
from massing.units import format_length

# Common practice, no source, unless a line says otherwise.
PORCH_STEP_DOWN_M = default("porch.step_down")
CLEAR_OF_WALL_M = default("porch.clear_of_wall")
FLOOR_BEYOND_PLINTH_M = default("porch.floor_beyond_plinth")
RISER_M = default("steps.riser")
TREAD_M = default("steps.tread")
RAILED_FLIGHT_M = default("steps.railed")
NEWEL_ROOM_M = default("steps.newel")
UNDER_HIPPED_ROOF = default("porch.under_hipped_roof")
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
# A pediment's tympanum is a ninth of its front high (Vitruvius III.5.12).
PORCH_ROOF_SLOPES = {
    "flat": 0.0,
    "hipped": default("porch.hipped"),
    "pediment": default("porch.pediment"),
}


def porch_design(
    scene: Scene,
    levels: tuple[float, ...],
    bays: tuple[float, ...],
    ground: GroundDesign,
    origins: Origins,
) -> PorchDesign:
    """The porch: its floor, its order, where columns stand, what stands over and before them.

    Args:
        scene: what is asked.
        levels: heights of the floors and, last, of the walls' top, metres.
        bays: the centres of the front's bays, metres.
        ground: the lie of the ground.
        origins: takes a note of where each number comes from.

    Raises:
        DesignError: the porch cannot be built as asked.
    """
    porch = scene.porch
    recessed = porch.shape == "recessed"
    floor_z = origins.choose(
        ("porch", "floor"),
        porch.floor,
        levels[0] - (0.0 if recessed else PORCH_STEP_DOWN_M),
        "level with the house's floor, in a recess"
        if recessed
        else f"{default_rule('porch.step_down').said(origins.units)} below the house's floor "
        "(common practice)",
    )
    if floor_z > levels[0]:
        raise DesignError(
            "porch.floor",
            format_length(floor_z, scene.units),
            f"at most the house's floor, {format_length(levels[0], scene.units)}",
        )
    order = _fit(porch, floor_z, levels, ("porch",), origins)
    pair = couple_axis_m(porch, order, origins)
    axis_gaps = coupled_gaps(_gaps(porch, order, bays, scene.house.width, pair, origins), pair)
    if porch.shape == "semicircular":
        _check_semicircular(porch)
        depth, axes = _on_a_semicircle(porch, order, axis_gaps, origins)
    elif recessed:
        check_recessed(porch, floor_z, levels[0])
        axes = _in_line(axis_gaps)
        depth = recess_depth_m(porch, order, axis_gaps, origins)
    else:
        axes = _in_line(axis_gaps)
        depth = origins.choose(
            ("porch", "depth"),
            porch.depth,
            return_depth_m(porch.side_columns, max(axis_gaps), pair),
            "one intercolumniation to each bay of the returns (common practice)",
        )
    if depth < 1.5 * order.diameter_m:
        raise DesignError(
            "porch.depth",
            format_length(depth, scene.units),
            f"at least 1 1/2 diameters, {format_length(1.5 * order.diameter_m, scene.units)}",
        )
    open_gaps = axis_gaps[1::2] if pair else axis_gaps
    closest = min(*open_gaps, open_return_m(porch.side_columns, depth, pair))
    if closest - order.foot_width_m < 0.1:
        raise DesignError(
            "porch.spacing",
            format_length(closest, scene.units),
            f"wider than the plinths' {format_length(order.foot_width_m, scene.units)}",
        )
    if porch.roof_pitch is not None and porch.roof == "flat":
        raise DesignError("porch.roof_pitch", "a pitch", "only with a hipped roof or a pediment")
    if porch.roof == "pediment":
        _check_pediment(porch, order)
    column_y = order.upper_diameter_m / 2.0 - FRIEZE_BOARD_M if recessed else -depth
    edge_y = column_y - order.foot_width_m / 2.0 - FLOOR_BEYOND_PLINTH_M

    def ground_before(out_m: float) -> float:
        return float(ground.z_m(0.0, edge_y - out_m))

    lower = PorchDesign(
        order=order,
        axes_m=axes,
        depth_m=depth,
        floor_z_m=floor_z,
        floor_edge_m=order.foot_width_m / 2.0 + FLOOR_BEYOND_PLINTH_M,
        steps=_steps(porch.steps, floor_z, axes, pair, order, ground_before, origins),
        balustrade=crowning_balustrade(porch.balustrade, order, origins),
        guard=guard_between(porch.guard, order, origins),
        roof=porch.roof,
        roof_slope=porch.roof_pitch or PORCH_ROOF_SLOPES[porch.roof],
        side_columns=porch.side_columns,
        shape=porch.shape,
        responds=porch.responds,
        responds_fluted=bool(porch.fluted),
        anta_axis_m=axes[-1] + axis_gaps[1 if pair else 0] if recessed else None,
        couple_axis_m=pair or None,
        breaks_forward_m=break_forward_m(porch, order, closest, ("porch",), origins),
        blocking_course_m=blocking_course_m(porch, order, origins),
    )
    _check_rail(lower, scene.units)
    if porch.upper is None:
        return lower
    return replace(lower, upper=_upper(porch, porch.upper, lower, levels, origins))


def _check_pediment(porch: Porch, order: FittedOrder) -> None:
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
    order = _fit(asked, floor_z, levels, ("porch", "upper"), origins)
    if min(lower.open_gaps_m) - order.plinth_width_m < 0.1:
        raise DesignError(
            "porch.upper",
            f"plinths {format_length(order.plinth_width_m, origins.units)} wide",
            "columns that clear each other on the axes below",
        )
    check_couples(lower.couple_axis_m, order, "porch.upper", origins)
    closest = min(
        *lower.open_gaps_m, open_return_m(lower.side_columns, lower.depth_m, lower.couple_axis_m)
    )
    return replace(
        lower,
        order=order,
        floor_z_m=floor_z,
        breaks_forward_m=break_forward_m(porch, order, closest, ("porch", "upper"), origins),
        blocking_course_m=blocking_course_m(porch, order, origins),
        steps=StepsDesign(0.0, 0, 0.0, 0.0),
        balustrade=lower.balustrade,
        guard=guard_between(upper.guard, order, origins),
    )


def _height_rule(porch: Porch) -> str:
    if porch.height is None and porch.upper is not None:
        return "from the porch floor to just below the floor above"
    if porch.height is None and porch.roof != "flat":
        return f"{UNDER_HIPPED_ROOF} of the storey, to leave room for its roof (common practice)"
    return f"from the porch floor to the {porch.height or 'storey'}'s top"


def _fit(
    porch: Porch,
    floor_z: float,
    levels: tuple[float, ...],
    where: tuple[str, ...],
    origins: Origins,
) -> FittedOrder:
    """The order scaled to what the scene pins; else to the height there is to fill."""
    height: float | None
    if porch.height is None or isinstance(porch.height, str):
        top_z = levels[-1] if porch.height == "eaves" else levels[1]
        if porch.height is None and porch.upper is not None:
            top_z -= PORCH_STEP_DOWN_M
        elif porch.height is None and porch.roof != "flat":
            top_z = floor_z + UNDER_HIPPED_ROOF * (top_z - floor_z)
        pinned = [porch.column_height, porch.entablature]
        height = None if porch.height is None and all(pinned) else top_z - floor_z
    else:
        height = porch.height
    dotted = ".".join(where)
    try:
        order = fit_order(
            porch.order,
            porch.canon,
            diameter_m=porch.diameter,
            column_height_m=porch.column_height,
            entablature_m=porch.entablature,
            order_height_m=None if porch.pedestals else height,
            whole_height_m=height if porch.pedestals else None,
            pedestal=porch.pedestals,
        )
    except ValueError as error:
        raise DesignError(
            f"{dotted}.height",
            format_length(height, origins.units) if height else "nothing",
            " ".join(str(error).split()),
        ) from None
    if order.square and (porch.entasis not in (None, "none") or porch.fluted):
        field = "fluted" if porch.fluted else "entasis"
        asked = "true" if porch.fluted else porch.entasis
        raise DesignError(f"{dotted}.{field}", asked, "neither entasis nor flutes on a square pier")
    for key, text in order.origins:
        field = "height" if key == "order_height_m" else key.removesuffix("_m")
        if text == "given":
            text = origins.given((*where, field))
            if field == "height" and not isinstance(porch.height, float):
                text = _height_rule(porch)
        value_m = getattr(order, key.replace("entablature_m", "entablature_height_m"))
        origins.note(f"{dotted}.{field}", value_m, text)
    return with_shaft(order, entasis=porch.entasis, fluted=porch.fluted)


def _in_line(gaps: list[float]) -> tuple[float, ...]:
    """Column axes along the front, left to right, symmetrical about the middle."""
    positions = [-sum(gaps) / 2.0]
    for gap in gaps:
        positions.append(positions[-1] + gap)
    return tuple(positions)


def _on_a_semicircle(
    porch: Porch, order: FittedOrder, gaps: list[float], origins: Origins
) -> tuple[float, tuple[float, ...]]:
    """Radius to the axes and their places along the front, the end columns by the wall."""
    by_wall = order.foot_width_m / 2.0 + CLEAR_OF_WALL_M
    radius = origins.choose(
        ("porch", "depth"),
        porch.depth,
        (sum(gaps) + 2.0 * by_wall) / math.pi,
        "the radius on which the columns keep their spacing",
    )
    if radius < 2.0 * by_wall:
        raise DesignError(
            "porch.depth",
            format_length(radius, origins.units),
            f"a radius of {format_length(2.0 * by_wall, origins.units)} or more",
        )
    end = math.asin(by_wall / radius)
    step = (math.pi - 2.0 * end) / (porch.columns - 1)
    return radius, tuple(-radius * math.cos(end + k * step) for k in range(porch.columns))


def _check_semicircular(porch: Porch) -> None:
    for field, asked, allowed in (
        ("roof", porch.roof != "flat", "flat, over a semicircular porch"),
        ("steps.rail", porch.steps.rail != "none", "none, on a semicircular porch"),
        ("side_columns", porch.side_columns > 0, "none, on a semicircular porch"),
        ("centre_spacing", porch.centre_spacing is not None, "none, on a semicircular porch"),
        ("paired", bool(porch.paired), "false, on a semicircular porch"),
        ("responds", porch.responds != "none", "none: a semicircle's end columns are by the wall"),
        ("breaking_forward", bool(porch.breaking_forward), "false, on a semicircular porch"),
    ):
        if asked:
            given = attrgetter(field)(porch)
            raise DesignError(f"porch.{field}", given, allowed)
    if porch.balustrade is not None and porch.balustrade.filling != "balusters":
        raise DesignError("porch.balustrade.filling", "parapet", "balusters, on a curve")


def _over_full_width(porch: Porch, order: FittedOrder, width_m: float, pair_m: float) -> float:
    """The spacing that brings the frieze's ends over the house's side walls' faces."""
    if porch.shape != "straight":
        raise DesignError("porch.spacing", "full width", "another spacing, unless shape: straight")
    gaps = (porch.columns // 2 if pair_m else porch.columns) - 1
    room = width_m - order.upper_diameter_m - pair_m - (porch.centre_spacing or 0.0)
    gaps -= porch.centre_spacing is not None
    if gaps < 1 or room <= 0.0:
        raise DesignError(
            "porch.columns", porch.columns, "more, or no centre_spacing, over the full width"
        )
    return room / gaps


def _gaps(
    porch: Porch,
    order: FittedOrder,
    bays: tuple[float, ...],
    width_m: float,
    pair_m: float,
    origins: Origins,
) -> list[float]:
    """Axis to axis of successive columns, or middle to middle of couples, left to right."""
    path = ("porch", "spacing")
    centre: float | None = porch.centre_spacing
    gaps: list[float] = []
    if porch.spacing == "bays":
        follow = column_gaps(bays, porch.columns // 2 if pair_m else porch.columns)
        if follow is None:
            raise DesignError(
                "porch.spacing",
                "bays",
                "two or more bays that stand alike to both sides of the middle, or a length",
            )
        for i, gap in enumerate(follow):
            origins.note(f"porch.spacing.{i}", gap, "the house's bays")
        axis, gaps, why = follow[0], follow, "the house's bays"
    elif porch.spacing == "full width":
        axis = _over_full_width(porch, order, width_m, pair_m)
        why = "frieze flush with the house's sides"
    elif isinstance(porch.spacing, str):
        axis, named_centre = spacing_axis_m(order, porch.spacing)
        axis += pair_m  # a named spacing is that between the couples
        centre = centre or (named_centre and named_centre + pair_m)
        why = f"{porch.spacing}, {origins.given(path)}"
    else:
        axis, why = porch.spacing, origins.given(path)
    origins.note("porch.spacing", axis, why)
    n = porch.columns // 2 if pair_m else porch.columns
    gaps = gaps or [axis] * (n - 1)
    if centre is not None:
        if n % 2:
            raise DesignError(
                "porch.columns",
                porch.columns,
                f"an even number{' of couples' * bool(pair_m)} where the middle spacing is wider",
            )
        gaps[(n - 1) // 2] = origins.note(
            "porch.centre_spacing",
            centre,
            origins.given(("porch", "centre_spacing")) if porch.centre_spacing else why,
        )
    return gaps


def _steps(
    steps: PorchSteps,
    floor_z: float,
    axes: tuple[float, ...],
    pair_m: float,
    order: FittedOrder,
    ground_before: Callable[[float], float],
    origins: Origins,
) -> StepsDesign:
    riser = origins.choose(
        ("porch", "steps", "riser"),
        steps.riser,
        RISER_M,
        said_default("steps.riser", origins.units),
    )
    tread = origins.choose(
        ("porch", "steps", "tread"),
        steps.tread,
        TREAD_M,
        said_default("steps.tread", origins.units),
    )
    count, foot_z = flight("porch.steps.riser", floor_z, riser, tread, ground_before, origins.units)
    rise = (floor_z - foot_z) / count
    origins.note("porch.steps.riser", rise, f"{count} equal risers to the porch floor")
    inner = axes[::2] if pair_m else axes  # of couples, the columns nearer the middle
    right = [a for a in inner if a > 1e-9]
    outer = right[1] if len(inner) >= 6 else right[0]
    return StepsDesign(
        width_m=origins.choose(
            ("porch", "steps", "width"),
            steps.width,
            2.0 * outer - order.foot_width_m,
            "the middle bay, or three of five or more, between plinths (common practice)",
        ),
        risers=count,
        riser_m=rise,
        tread_m=tread,
        rail=_rail(steps, count, origins),
        foot_z_m=foot_z,
    )


def _rail(steps: PorchSteps, risers: int, origins: Origins) -> RailKind:
    """The handrail's kind; a single riser has none."""
    if steps.rail == "by rule":
        least = rule("handrail_by_rule")
        rail: RailKind = "iron" if risers >= least.value else "none"
        origins.say("porch.steps.rail", rail, least.cited)
        return rail
    return steps.rail if risers > 1 else "none"


def _check_rail(porch: PorchDesign, units: str) -> None:
    """Raise DesignError where newels would stand in a column's foot, or the flight is narrow."""
    if porch.steps.rail == "none":
        return
    half, foot = porch.steps.width_m / 2.0, porch.order.foot_width_m / 2.0
    if half < RAILED_FLIGHT_M / 2.0:
        raise DesignError(
            "porch.steps.width",
            format_length(porch.steps.width_m, units),
            f"{format_length(RAILED_FLIGHT_M, units)} or more, for a rail each side",
        )
    for axis in porch.axes_m:
        if abs(axis) - foot < half - 1e-6 and abs(axis) + foot > half - NEWEL_ROOM_M:
            raise DesignError(
                "porch.steps.width",
                format_length(porch.steps.width_m, units),
                "a flight whose sides, where the newels stand, are clear of the columns' feet",
            )

"""Coupled columns, breaks in the entablature and the course over it, from what the scene says."""

from __future__ import annotations

from massing.canon import FittedOrder
from massing.canon.sources import cited
from massing.practice.defaults import default
from massing.practice.rules import rule
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Porch
from massing.units import HAIR_M, at_least, at_most, format_length

# Common practice, no source.
CLEAR_IN_COUPLE_M = default("couples.clear")
BREAK_OF_NECK = default("couples.break")
BREAK_LIMITS = (default("couples.least_break"), default("couples.most_break"))
CLEAR_OF_CORNICES_M = default("couples.between_breaks")
BLOCKING_OF_CORNICE = default("couples.blocking_course")
BLOCKING_LIMITS_M = (default("couples.least_blocking"), default("couples.most_blocking"))


# --- couples -------------------------------------------------------------------------------


def couple_axis_m(porch: Porch, order: FittedOrder, origins: Origins) -> float | None:
    """Axis to axis within a couple; None where the columns stand one by one.

    Raises:
        DesignError: the number of columns makes no couples, or the two would touch.
    """
    if not porch.paired:
        return None
    if porch.columns % 2 or porch.columns < 4:
        raise DesignError("porch.columns", porch.columns, "4 or more and even, coupled")
    if porch.side_columns and porch.side_columns % 2 == 0:
        raise DesignError(
            "porch.side_columns",
            porch.side_columns,
            "an odd number: the corner column's mate, then couples",
        )
    within = rule("coupled_clear")
    touching = _least_couple_m(order)
    triglyphs = any(m.row and m.row.kind == "triglyph" for m in order.frieze)
    apart = touching if triglyphs else max((1.0 + within.value) * order.diameter_m, touching)
    axis = origins.choose(
        ("porch", "paired"),
        porch.paired if isinstance(porch.paired, float) else None,
        apart,
        f"bases nearly touching, for the metope's sake ({cited('ware p. 44')})"
        if triglyphs
        else f"half a diameter clear, or nearly touching ({within.cited})",
    )
    check_couples(axis, order, "porch.paired", origins)
    return axis


def _least_couple_m(order: FittedOrder) -> float:
    square = max(order.foot_width_m, order.abacus_width_m) + CLEAR_IN_COUPLE_M
    return max(square, _volutes_m(order))


def _volutes_m(order: FittedOrder) -> float:
    """Over the volutes of an Ionic capital, which reach beyond its abacus."""
    if order.capital_kind != "ionic":
        return 0.0
    eye_radius = sum(m.height for m in order.capital if m.name in ("channel", "rim")) / 4.0
    return 2.0 * (dict(order.capital_sizes)["eye"] + 8.5 * eye_radius)


def check_couples(pair_m: float | None, order: FittedOrder, field: str, origins: Origins) -> None:
    """Raise DesignError where two columns of a couple touch at foot or head."""
    least = max(order.foot_width_m, order.abacus_width_m, _volutes_m(order))
    if pair_m and pair_m < least:
        raise DesignError(
            field,
            f"{format_length(pair_m, origins.units)} axis to axis",
            f"more than their plinths' and capitals' {format_length(least, origins.units)}",
        )


def coupled_gaps(between: list[float], pair_m: float | None) -> list[float]:
    """Axis to axis of successive columns, from middle to middle of couples.

    >>> coupled_gaps([3.0], 0.5)
    [0.5, 2.5, 0.5]
    """
    if not pair_m:
        return between
    gaps = [pair_m]
    for distance in between:
        gaps += [distance - pair_m, pair_m]
    return gaps


def return_depth_m(side_columns: int, axis_m: float, pair_m: float | None) -> float:
    """Depth of a porch that keeps the front's spacing on its returns, wall to column axis."""
    if not (pair_m and side_columns):
        return (side_columns + 1) * axis_m
    couples = (side_columns + 1) // 2
    return couples * (axis_m + pair_m)


def open_return_m(side_columns: int, depth_m: float, pair_m: float | None) -> float:
    """Axis to axis, or axis to wall, across the openings of a return."""
    if not (pair_m and side_columns):
        return depth_m / (side_columns + 1)
    couples = (side_columns + 1) // 2
    return depth_m / couples - pair_m


# --- the entablature -----------------------------------------------------------------------


def break_forward_m(
    porch: Porch, order: FittedOrder, closest_m: float, where: tuple[str, ...], origins: Origins
) -> float | None:
    """How far the entablature stands forward over its columns; None where it runs straight.

    Args:
        closest_m: the least axis to axis, or axis to wall.

    Raises:
        DesignError: the roof or the spacing leaves no room for it.
    """
    if not porch.breaking_forward:
        return None
    if porch.roof in ("pediment", "gable"):
        raise DesignError(
            "porch.roof", porch.roof, "flat or hipped, over an entablature that breaks"
        )
    least, most = BREAK_LIMITS[0], BREAK_LIMITS[1] * order.upper_diameter_m
    forward = origins.choose(
        (*where, "breaking_forward"),
        porch.breaking_forward if isinstance(porch.breaking_forward, float) else None,
        BREAK_OF_NECK * order.upper_diameter_m,
        "a quarter of the neck (common practice)",
    )
    if not least - HAIR_M <= forward <= most + HAIR_M:
        raise DesignError(
            "porch.breaking_forward",
            format_length(forward, origins.units),
            f"{at_least(least, origins.units)} to {at_most(most, origins.units)}, half "
            "the neck, to leave the beam its breadth",
        )
    cornices = order.upper_diameter_m + 2.0 * order.cornice_projection_m
    respond = order.upper_diameter_m / 2.0 if porch.responds != "none" else 0.0
    room = closest_m - cornices - respond
    if room < CLEAR_OF_CORNICES_M - HAIR_M:
        raise DesignError(
            "porch.breaking_forward",
            f"columns {format_length(closest_m, origins.units)} from each other or from the wall",
            f"{at_least(cornices + respond + CLEAR_OF_CORNICES_M, origins.units)} or more, so "
            "that the cornices of two breaks clear each other",
        )
    return forward


def blocking_course_m(porch: Porch, order: FittedOrder, origins: Origins) -> float | None:
    """Height of the course over the cornice; None where there is none.

    Raises:
        DesignError: there is no flat roof behind it, or its height is out of reason.
    """
    if not porch.blocking_course:
        return None
    if porch.roof != "flat":
        raise DesignError("porch.blocking_course", "a blocking course", "only before a flat roof")
    height = origins.choose(
        ("porch", "blocking_course"),
        porch.blocking_course if isinstance(porch.blocking_course, float) else None,
        BLOCKING_OF_CORNICE * order.cornice_height_m,
        "as high as the cornice (common practice)",
    )
    low, high = BLOCKING_LIMITS_M
    if not low - HAIR_M <= height <= high + HAIR_M:
        raise DesignError(
            "porch.blocking_course",
            format_length(height, origins.units),
            f"{at_least(low, origins.units)} to {at_most(high, origins.units)}",
        )
    return height

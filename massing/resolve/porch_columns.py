"""Where a porch's columns stand: their spacing, in a line, on a semicircle, or in antis."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from operator import attrgetter

from massing.canon import FittedOrder, spacing_axis_m
from massing.practice.defaults import default
from massing.resolve.arcade import arcade_axis_m
from massing.resolve.bays import about, column_gaps
from massing.resolve.breaks import couple_axis_m, coupled_gaps, return_depth_m
from massing.resolve.porch_spacing import gaps_by_rule
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import House, Porch
from massing.units import HAIR_M, at_least, format_length

CLEAR_OF_WALL_M = default("porch.clear_of_wall")  # common practice, no source


@dataclass(frozen=True)
class Spacing:
    """How far the front's columns stand apart."""

    gaps_m: tuple[float, ...]  # axis to axis of successive columns, left to right
    couple_m: float | None  # axis to axis within a couple

    @property
    def open_gaps_m(self) -> tuple[float, ...]:
        """Axis to axis across the openings, not within couples."""
        return self.gaps_m[1::2] if self.couple_m else self.gaps_m

    def in_line_m(self, centre_m: float) -> tuple[float, ...]:
        """Column axes along the front, left to right, symmetrical about the porch's middle."""
        places = [-sum(self.gaps_m) / 2.0]
        for gap in self.gaps_m:
            places.append(places[-1] + gap)
        return tuple(centre_m + place for place in places)


# --- how far apart -------------------------------------------------------------------------


def column_spacing(
    porch: Porch,
    order: FittedOrder,
    bays: tuple[float, ...],
    centre_m: float,
    house: House,
    origins: Origins,
) -> Spacing:
    """The spacing of a porch's columns.

    Args:
        porch: what is asked.
        order: the order that stands there.
        bays: the centres of the front's bays, metres.
        centre_m: the porch's middle.
        house: what is asked of the house before which they stand.
        origins: takes a note of where each number comes from.

    Raises:
        DesignError: columns that make no couples, a spacing that the house does not give.
    """
    couple = couple_axis_m(porch, order, origins)
    between = _gaps(porch, order, bays, centre_m, house, couple or 0.0, origins)
    return Spacing(tuple(coupled_gaps(between, couple)), couple)


def _gaps(
    porch: Porch,
    order: FittedOrder,
    bays: tuple[float, ...],
    centre_m: float,
    house: House,
    pair_m: float,
    origins: Origins,
) -> list[float]:
    """Axis to axis of successive columns, or middle to middle of couples, left to right."""
    path = ("porch", "spacing")
    centre: float | None = porch.centre_spacing
    n = porch.columns // 2 if pair_m else porch.columns
    gaps: list[float] = []
    if porch.spacing is None:
        gaps, why = gaps_by_rule(porch, house, order, bays, centre_m, n, pair_m)
        axis, n = gaps[0], len(gaps) + 1
        for i, gap in enumerate(gaps):
            origins.note(f"porch.spacing.{i}", gap, why)
    elif porch.spacing == "bays":
        gaps, why = _by_bays(n, about(bays, centre_m), origins), "the house's bays"
        axis = gaps[0]
    elif porch.spacing == "full width":
        if centre_m:
            said = format_length(centre_m, origins.units)
            raise DesignError("porch.along", said, "the middle, over the full width")
        axis = _over_full_width(porch, order, house.width, pair_m)
        why = "frieze flush with the house's sides"
    elif porch.spacing == "canon" and porch.arcade is not None:
        axis, why = arcade_axis_m(porch, order), "the order's own arcade"
    elif isinstance(porch.spacing, str):
        axis, named_centre = spacing_axis_m(order, porch.spacing)
        axis += pair_m  # a named spacing is that between the couples
        centre = centre or (named_centre and named_centre + pair_m)
        why = f"{porch.spacing}, {origins.given(path)}"
    else:
        axis, why = porch.spacing, origins.given(path)
    origins.note("porch.spacing", axis, why)
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


def _by_bays(count: int, bays: tuple[float, ...], origins: Origins) -> list[float]:
    """The gaps of ``count`` columns, or couples, that follow the house's bays."""
    follow = column_gaps(bays, count)
    if follow is None:
        raise DesignError(
            "porch.spacing",
            "bays",
            "two or more bays that stand alike to both sides of the middle, or a length",
        )
    for i, gap in enumerate(follow):
        origins.note(f"porch.spacing.{i}", gap, "the house's bays")
    return follow


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


# --- how deep ------------------------------------------------------------------------------


def straight_depth_m(porch: Porch, spacing: Spacing, origins: Origins) -> float:
    """The wall's face to the column axes of a porch before it."""
    return origins.choose(
        ("porch", "depth"),
        porch.depth,
        return_depth_m(porch.side_columns, max(spacing.gaps_m), spacing.couple_m),
        "one intercolumniation to each bay of the returns (common practice)",
    )


def check_semicircular(porch: Porch) -> None:
    """Raise DesignError for what a semicircular porch cannot have."""
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


def on_a_semicircle(
    porch: Porch, order: FittedOrder, gaps: Sequence[float], origins: Origins
) -> tuple[float, tuple[float, ...]]:
    """Radius to the axes and their places along the front, the end columns by the wall.

    Raises:
        DesignError: a radius that brings the end columns together.
    """
    by_wall = order.foot_width_m / 2.0 + CLEAR_OF_WALL_M
    radius = origins.choose(
        ("porch", "depth"),
        porch.depth,
        (sum(gaps) + 2.0 * by_wall) / math.pi,
        "the radius on which the columns keep their spacing",
    )
    if radius < 2.0 * by_wall - HAIR_M:
        raise DesignError(
            "porch.depth",
            format_length(radius, origins.units),
            f"a radius of {at_least(2.0 * by_wall, origins.units)} or more",
        )
    end = math.asin(by_wall / radius)
    step = (math.pi - 2.0 * end) / (porch.columns - 1)
    return radius, tuple(-radius * math.cos(end + k * step) for k in range(porch.columns))

"""One row of the builder's schedule, and how its lengths are rounded and written."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from massing.canon import Member
from massing.design.design import Design
from massing.units import INCH_M, format_feet_inches, format_metric, whole_steps


@dataclass(frozen=True)
class Size:
    """One row: lengths in metres, already rounded to the builder's fraction.

    Attributes:
        group: what it belongs to, e.g. ``Column: capital``.
        item: the member's name.
        count: how many are alike.
        height_m: its own height, and ``top_m`` its upper edge over ``datum``.
        across_m: width, projection or spacing, as ``across_of`` says.
    """

    group: str
    item: str
    count: int
    height_m: float | None = None
    top_m: float | None = None
    datum: str = ""
    across_m: float | None = None
    across_of: str = ""


def rounded(length_m: float, step_m: float) -> float:
    """The length to the nearest builder's fraction."""
    return whole_steps(length_m, step_m) * step_m


def stacked(
    group: str,
    members: Iterable[Member],
    foot_m: float,
    datum: str,
    count: int,
    step: float,
    across: str,
) -> list[Size]:
    """Members standing on one another from ``foot_m`` over the datum."""
    rows = []
    running = foot_m
    for member in members:
        below = rounded(running, step)
        running += member.height
        top = rounded(running, step)
        of = "side" if member.square and across == "diameter" else across
        reach = 2.0 * member.reach if across == "diameter" else member.reach
        rows.append(
            Size(group, member.name, count, top - below, top, datum, rounded(reach, step), of)
        )
    return rows


def length_text(length_m: float | None, design: Design, step_m: float | None = None) -> str:
    """A length in the design's builder's fraction, or in steps of another."""
    if length_m is None:
        return ""
    if design.units == "metric":
        return format_metric(length_m)
    return format_feet_inches(length_m, max(1, round(INCH_M / (step_m or design.rounding_m))))

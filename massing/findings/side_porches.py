"""Porches at the sides: a door onto each, room to sit, a car's way under a porte-cochere."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from massing.design.design import Design
from massing.findings.finding import Finding, Remark, Remarks, Saying
from massing.practice.rules import Rule
from massing.settingout.side_porches import design_of_side
from massing.units import HAIR_M, format_length

remark = Remarks()

ASKED_OF_EACH = (
    "slender",
    "stout",
    "shallow entablature",
    "deep entablature",
    "guard missing",
    "guard low",
    "guard gaps",
    "balustrade no guard",
    "riser",
    "tread",
    "handrail",
)
"""What is asked of a front porch and of one at a side alike."""
_OF_FLIGHTS = ("riser", "tread", "handrail")


def of_each(design: Design, remarks: tuple[Remark, ...]) -> Iterator[Finding]:
    """The front porch's remarks that side porches draw, said of each of these."""
    for one in design.side_porches:
        own = design_of_side(design, one)
        for asked in remarks:
            if asked.key not in ASKED_OF_EACH or (
                one.porch.flight is None and asked.key in (*_OF_FLIGHTS, "guard missing")
            ):
                continue
            for finding in asked.on(own):
                text = f"{one.name.capitalize()}: {finding.text[:1].lower()}{finding.text[1:]}"
                yield replace(finding, text=text)


@remark("side porch without a door", "check", source="practice")
def without_a_door(design: Design) -> Iterator[Saying]:
    """A side porch that no door opens on."""
    for one in design.side_porches:
        doors = [d for d in design.house.doors if d.wall == one.side]
        ends = one.porch.axes_m[0], one.porch.axes_m[-1]
        if one.kind == "porch" and not any(ends[0] < d.along_m < ends[1] for d in doors):
            yield f"No door opens on the {one.name}: house.side_door puts one there"
        if one.kind == "porte-cochere" and not doors:
            yield f"No door opens under the {one.name}, where one would be set down in the dry"


@remark("shallow side porch", "note", "side_porch_depth")
def shallow(design: Design, least: Rule) -> Iterator[Saying]:
    """A side porch too shallow to sit on."""
    for one in design.side_porches:
        if one.kind == "porch" and one.porch.depth_m < least.value - HAIR_M:
            yield (
                f"The {one.name} is {format_length(one.porch.depth_m, design.units)} deep: under "
                f"{least.said(design.units)} a chair leaves no way past it"
            )


@remark("narrow porte-cochere", "check", "drive_width")
def narrow_drive(design: Design, least: Rule) -> Iterator[Saying]:
    """A porte-cochere that a car with its door open does not pass."""
    for one in design.side_porches:
        if one.kind == "porte-cochere" and one.clear_width_m < least.value - HAIR_M:
            yield (
                f"The {one.name} leaves a car {format_length(one.clear_width_m, design.units)} "
                f"between steps and kerb: {least.said(design.units)} lets a door be opened"
            )


@remark("low porte-cochere", "check", "drive_height")
def low_drive(design: Design, least: Rule) -> Iterator[Saying]:
    """A porte-cochere under which a tall car does not go."""
    for one in design.side_porches:
        if one.kind == "porte-cochere" and one.clear_height_m < least.value - HAIR_M:
            yield (
                f"The {one.name} is {format_length(one.clear_height_m, design.units)} high under "
                f"its architrave: {least.said(design.units)} clears a van"
            )


@remark("side cornice off the front's", "note", source="practice")
def off_the_fronts(design: Design) -> Iterator[Saying]:
    """A side porch whose cornice is a little above or below the front porch's."""
    for one in design.side_porches:
        off = one.porch.top_z_m - design.porch.top_z_m
        if HAIR_M < abs(off) < one.porch.order.entablature_height_m:
            word = "above" if off > 0.0 else "below"
            yield (
                f"The {one.name}'s cornice lies {format_length(abs(off), design.units)} {word} the "
                "front porch's: so near they are seen as meant to be level"
            )


@remark("screens no guard", "caution", "guard_drop")
def screens_no_guard(design: Design, drop: Rule) -> Iterator[Saying]:
    """A sleeping porch whose screens or sash are taken for a guard."""
    for one in design.side_porches:
        upper = one.porch.upper
        if upper is not None and one.upper_fill != "open" and upper.guard is None:
            yield (
                f"The {one.name}'s sleeping porch is closed by {one.upper_fill} alone: over "
                f"{drop.said(design.units)} above the ground a guard is required behind them"
            )

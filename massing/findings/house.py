"""The house behind the porch: its size beside it, its bays, its wings, what an engineer sizes."""

from __future__ import annotations

from collections.abc import Iterator

from massing.design.design import Design
from massing.design.porch import RecessedPorch
from massing.findings.figure import Row
from massing.findings.finding import Remarks, Saying
from massing.practice.rules import NO_CODE, Rule, code_for
from massing.resolve.bays import door_bay
from massing.units import format_length


def _porch_to_house(design: Design) -> float:
    axes = design.porch.axes_m
    return (axes[-1] - axes[0] + design.porch.order.diameter_m) / design.house.width_m


def _depth_from(design: Design) -> str:
    recessed = isinstance(design.porch, RecessedPorch)
    return "front wall's face to the wall behind" if recessed else "wall face to {member} axis"


FIGURES = (
    Row("porch_depth", "Porch depth", "length", _depth_from, lambda d: d.porch.depth_m),
    Row(
        "porch_to_house",
        "Porch width to house",
        "fraction",
        "over the outermost shafts",
        _porch_to_house,
    ),
    Row(
        "porch_top",
        "Top of entablature",
        "length",
        "above the ground",
        lambda d: d.porch.highest.top_z_m,
    ),
    Row("wall_top", "Wall top", "length", "above the ground", lambda d: d.house.wall_top_z_m),
    Row(
        "break_forward",
        "Entablature breaks forward",
        "length",
        "over each {member}",
        lambda d: d.porch.breaks_forward_m,
    ),
    Row(
        "blocking_course",
        "Blocking course",
        "length",
        "height over the cornice",
        lambda d: d.porch.highest.blocking_course_m,
    ),
)

remark = Remarks()


def _door_elsewhere(design: Design) -> bool:
    """Whether porch or entrance stand beside the front's middle, as was asked."""
    entrance = design.house.entrance
    return bool(design.porch.centre_m or (entrance and entrance.along_m))


@remark("even bays", "check", source="practice")
def even_bays(design: Design) -> Iterator[Saying]:
    """No bay for the door to stand in."""
    count = len(design.house.bay_centres_m)
    if count > 1 and count % 2 == 0 and not _door_elsewhere(design):
        yield f"The front has {count} bays: none in the middle for the door to stand in"


@remark("no middle bay", "check", source="practice")
def no_middle_bay(design: Design) -> Iterator[Saying]:
    """An odd number of bays, none of them in the middle."""
    bays = design.house.bay_centres_m
    odd = len(bays) % 2 == 1 and len(bays) > 1 and not _door_elsewhere(design)
    if odd and door_bay(bays) is None:
        yield "No bay stands in the middle of the front, where the porch's steps lead"


@remark("wide wing", "check", source="practice")
def wide_wing(design: Design) -> Iterator[Saying]:
    """A wing wider than the main block."""
    house, units = design.house, design.units
    for wing in house.wings:
        if wing.width_m > house.width_m:
            yield (
                f"The {wing.side} wing is {format_length(wing.width_m, units)} wide, more "
                f"than the main block's {format_length(house.width_m, units)}: which of the two "
                "leads?"
            )


@remark("leading wing", "check", source="practice")
def leading_wing(design: Design) -> Iterator[Saying]:
    """A wing before the front that stands farther out than the porch and is wider."""
    porch, units = design.porch, design.units
    for wing in design.house.wings:
        wide, out = 2.0 * porch.half_width_m, max(-porch.column_y_m, 0.0)
        if wing.ahead and wing.width_m > wide and wing.depth_m > out:
            yield (
                f"The wing before the front is {format_length(wing.width_m, units)} wide and "
                f"{format_length(wing.depth_m, units)} out, beside a porch of "
                f"{format_length(wide, units)} and {format_length(out, units)}: the nearest and "
                "widest gable is read first, and here it is not the one over the door"
            )


@remark("high wing", "note", "wing_height")
def high_wing(design: Design, most: Rule) -> Iterator[Saying]:
    """A wing nearly as high as the main block."""
    house, units = design.house, design.units
    main = house.wall_top_z_m - house.floor_z_m
    for wing in house.wings:
        if wing.gable is not None:
            continue  # one roof with the main one
        high = wing.house.wall_top_z_m - wing.house.floor_z_m
        if high > most.value * main:
            yield (
                f"The {wing.side} wing's walls are {format_length(high, units)} high beside "
                f"{format_length(main, units)}: a wing is plainly lower than the main block, "
                f"{most.written} of it at most"
            )


@remark("flush wing", "note", "wing_set_back")
def flush_wing(design: Design, least: Rule) -> Iterator[Saying]:
    """A wing too little behind the main front."""
    for wing in design.house.wings:
        if not wing.ahead and wing.set_back_m < least.value:
            yield (
                f"The {wing.side} wing stands {format_length(wing.set_back_m, design.units)} "
                f"back, less than {least.said(design.units)}: too little to give the main block "
                "its own corner and shadow"
            )


@remark("unlike wings", "note", source="practice")
def unlike_wings(design: Design) -> Iterator[Saying]:
    """Two wings of different widths."""
    widths = {wing.side: wing.house.width_m for wing in design.house.wings if not wing.ahead}
    if len(widths) == 2 and abs(widths["left"] - widths["right"]) > 0.01:
        left, right = (format_length(widths[side], design.units) for side in ("left", "right"))
        yield f"The left wing is {left} wide, the right one {right}"


@remark("wall over recess", "caution", source="practice")
def wall_over_recess(design: Design) -> Iterator[Saying]:
    """A front wall that stands on the porch's beam."""
    porch = design.porch
    if isinstance(porch, RecessedPorch):
        span = max(*porch.open_gaps_m, porch.anta_axis_m - porch.axes_m[-1])
        yield (
            "The house's front wall and floors over the recess stand on the beam within the "
            f"entablature, up to {format_length(span, design.units)} from column to column: for "
            "an engineer to size, with its columns"
        )


@remark("no code held", "caution", source="derived")
def no_code_held(design: Design) -> Iterator[Saying]:
    """A country whose code is not in the book: its limits are not another country's."""
    if code_for(design.site.time_zone) is None:
        yield (f"Guards, stairs, glass, escape, chimneys and roof pitch are not judged: {NO_CODE}")


@remark("structure", "caution", source="practice")
def structure(_: Design) -> Iterator[Saying]:
    """What every design is told."""
    yield (
        "Sizes here follow proportion, not load: columns, hollow casings and the beam within the "
        "entablature are for an engineer to size, with their footings and uplift ties"
    )

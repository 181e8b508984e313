"""Windows: how they are graduated, headed and shuttered, what glass and falls ask of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from massing.design.design import Design
from massing.design.house import HouseDesign
from massing.design.opening import FloorWindow, Opening, ShuttersDesign, WindowOpening
from massing.findings.figure import Figure, Row
from massing.findings.finding import HAIR_M, SLACK, Remarks, Saying
from massing.findings.measures import (
    columns_before_openings,
    lowest_by_house_m,
    patterns,
    same_size,
    sash_sizes,
    windows_by_storey,
)
from massing.practice.joinery_sizes import HEADS, shutter_leaf
from massing.practice.rules import Rule
from massing.settingout.cross_roofs import window_of
from massing.settingout.sashes import daylights
from massing.units import INCH_M, floor_name, format_length

_UNEVEN_HEADS_M = 1.0 * INCH_M  # seen from the street; common practice, no source


def _windows(design: Design) -> Iterator[Figure]:
    windows = windows_by_storey(design)
    for i, window in enumerate(windows):
        name = floor_name(window.storey or 0, design.units)
        shape = window.height_m / window.width_m
        words = f"Window height, {name}"
        yield Figure(f"window_height_{i}", words, window.height_m, "length", "opening")
        words = f"Window height to width, {name}"
        yield Figure(f"window_shape_{i}", words, shape, "fraction", "opening")
    for i, (lower, upper) in enumerate(pairwise(windows)):
        words, ratio = "Upper to lower window height", upper.height_m / lower.height_m
        yield Figure(f"graduation_{i}", words, ratio, "fraction", "graduation")


FIGURES = (
    _windows,
    Row(
        "openings_masked",
        "Openings behind a column",
        "count",
        "lowest floor, seen square on",
        lambda d: len(columns_before_openings(d)),
    ),
)

_LEAF_SLACK = 0.06  # of its width: a leaf this near half its opening closes it

remark = Remarks()


@remark("no graduation", "check", "upper_storey")
def no_graduation(design: Design, less: Rule) -> Iterator[Saying]:
    """Upper windows as tall as the lower, or taller."""
    for lower, upper in pairwise(windows_by_storey(design)):
        ratio = upper.height_m / lower.height_m
        if ratio > 0.97:
            word = "taller than" if ratio > 1.03 else "as tall as"
            yield (
                f"The upper windows are {word} the lower: no storey leads. Upper openings fall "
                f"to about {less.written} of the height of those below"
            )


def _shapes(design: Design) -> Iterator[tuple[str, float]]:
    """Height to width of the front's windows, but of tripartite ones, whose middle has a shape."""
    for window in windows_by_storey(design):
        if window.filling != "tripartite":
            yield floor_name(window.storey or 0, design.units), window.height_m / window.width_m


@remark("tall windows", "note", "window_tall")
def tall_windows(design: Design, most: Rule) -> Iterator[Saying]:
    """Windows taller than the books' tallest."""
    for name, shape in _shapes(design):
        if shape > most.value * SLACK:
            yield (
                f"The {name}'s windows are {shape:.2f} times as high as wide; the books stop at "
                f"two, or at {most.written}"
            )


@remark("squat windows", "note", "window_squat")
def squat_windows(design: Design, least: Rule) -> Iterator[Saying]:
    """Windows squatter than the books' principal ones."""
    for name, shape in _shapes(design):
        if shape < least.value / SLACK:
            yield (
                f"The {name}'s windows are only {shape:.2f} times as high as wide; the books give "
                f"{least.value:.2f} to 2 for principal windows"
            )


@remark("masked openings", "check", source="practice")
def masked_openings(design: Design) -> Iterator[Saying]:
    """Openings behind a column."""
    masked = columns_before_openings(design)
    if masked:
        names, floor = ", ".join(o.place for o in masked), floor_name(0, design.units)
        yield f"A column stands before the {floor}'s {names}, seen square on the front"


@remark("mixed heads", "note", source="practice")
def mixed_heads(design: Design) -> Iterator[Saying]:
    """Two kinds of arch on one front."""
    windows = (o for o in design.house.windows if o.wall == "front")
    arches = sorted({o.head for o in windows} - {"casing"})
    if len(arches) > 1:
        yield (
            f"The front mixes {' and '.join(arches)} heads; one kind to a front, or one to a "
            "storey from the heavier below, is more usual"
        )


@remark("uneven heads", "check", source="practice")
def uneven_heads(design: Design) -> Iterator[Saying]:
    """Windows of one storey of the front whose heads are at different heights."""
    house, units = design.house, design.units
    for storey, floor_z in enumerate(house.storey_floors_z_m):
        row = [o for o in house.windows if o.wall == "front" and o.storey == storey]
        heads = sorted(o.head_z_m - floor_z for o in row)
        if heads and heads[-1] - heads[0] > _UNEVEN_HEADS_M:
            low, high = (format_length(z, units) for z in (heads[0], heads[-1]))
            yield (
                f"The heads of the {floor_name(storey, units)}'s windows are at {low} and {high} "
                "above it: heads in one line tie a front together, and sills may differ under them"
            )


@remark("masonry heads", "check", source="practice")
def masonry_heads(design: Design) -> Iterator[Saying]:
    """An arch or a lintel in a wall of boards."""
    windows = {o.head for o in design.house.windows if o.wall == "front"}
    doors = {o.head for o in design.house.doors}
    masonry = [h for h in sorted({*windows, *doors} - {"casing"}) if HEADS[h].of != "casing"]
    if design.house.walls == "clapboard" and masonry:
        yield (
            f"A {masonry[0]} stands in a wall of boards: a timber wall has a casing, which may "
            "be hooded or follow a round or oval head"
        )


def _hung(design: Design) -> list[tuple[WindowOpening, ShuttersDesign]]:
    """Windows that have shutters, with these."""
    return [(o, o.shutters) for o in design.house.windows if o.shutters is not None]


@remark("shutters under an arch", "check", source="practice")
def shutters_under_an_arch(design: Design) -> Iterator[Saying]:
    """Square leaves that leave an arched head uncovered."""
    arched = next((o for o, _ in _hung(design) if o.curved), None)
    if arched is not None:
        yield (
            f"The shutters of {arched.name} are square and stop at the springing: closed, they "
            f"leave {format_length(arched.soffit.rise_m, design.units)} of its head uncovered"
        )


@remark("wide shutters", "check", "shutter_leaf_most")
def wide_shutters(design: Design, most: Rule) -> Iterator[Saying]:
    """Leaves, each half the opening wide, that are wider than leaves were made."""
    whole = [o for o, shutters in _hung(design) if shutters.leaf_m is None]
    leaf = max((o.width_m / 2.0 for o in whole), default=0.0)
    if leaf > most.value:
        yield (
            f"Shutters {format_length(leaf, design.units)} wide, half the opening each, are "
            f"wider than {most.said(design.units)}: heavy on their hinges, and such windows "
            "seldom had any"
        )


@remark("shutters that do not close", "check", source="practice")
def shutters_that_do_not_close(design: Design) -> Iterator[Saying]:
    """Leaves that are not half the opening wide, or stand on one side of it."""
    for o, shutters in _hung(design):
        leaf, half = o.leaf_m, shutter_leaf(o.width_m)
        if shutters.side != "both":
            yield (
                f"{o.name} has a shutter on its {shutters.side} alone: leaves hang in pairs, each "
                f"to cover half of its opening, {format_length(half, design.units)}"
            )
            return
        if abs(leaf / half - 1.0) > _LEAF_SLACK:
            word = "narrower" if leaf < half else "wider"
            yield (
                f"The shutters of {o.name} are {format_length(leaf, design.units)} wide, {word} "
                f"than half its opening, {format_length(half, design.units)}: a leaf covers half "
                "its opening, so that the pair can close it"
            )
            return


@remark("shutters on fixed glass", "check", source="practice")
def shutters_on_fixed_glass(design: Design) -> Iterator[Saying]:
    """Shutters beside a window that nobody opens to close them."""
    fixed = next((o for o, _ in _hung(design) if o.filling == "fixed"), None)
    if fixed is not None:
        yield (
            f"{fixed.name} has shutters beside fixed glass: they are drawn to from within, by a "
            "sash that opens; a picture window had none"
        )


@remark("hold-backs beside the leaf", "check", source="practice")
def hold_backs_beside_the_leaf(design: Design) -> Iterator[Saying]:
    """Dogs at the side of leaves that have wall under them."""
    for o, shutters in _hung(design):
        if shutters.hold_backs != "beside" or isinstance(o, FloorWindow):
            continue
        yield (
            f"The hold-backs of {o.name} stand at the side of the leaves: the heavy end hangs down "
            "by its own weight and holds the leaf from under its foot, so it sits low; at the "
            "side belongs to windows that go down to the floor"
        )
        return


@remark("picture windows", "check", source="practice")
def picture_windows(design: Design) -> Iterator[Saying]:
    """Fixed glass on the front."""
    fixed = [o for o in design.house.windows if o.wall == "front" and o.filling == "fixed"]
    if fixed:
        o = max(fixed, key=lambda each: each.width_m)
        size = " by ".join(format_length(m, design.units) for m in (o.width_m, o.height_m))
        yield (
            f"{o.name} is one sheet of fixed glass, {size}: it has neither the upright shape nor "
            "the panes that give the other windows their scale, and lets in no air"
        )


@remark("window to the floor", "caution", source="practice")
def window_to_the_floor(design: Design) -> Iterator[Saying]:
    """Windows to the floor that do not open on the porch."""
    house, porch = design.house, design.porch
    for o in house.windows:
        within = porch.from_middle_m(o.along_m) + o.width_m / 2.0 < porch.end_axis_m
        on_porch = o.wall == "front" and within
        if isinstance(o, FloorWindow) and not on_porch:
            height = format_length(o.sill_z_m - lowest_by_house_m(design), design.units)
            yield (
                f"{o.name} opens to the floor, {height} above the ground and off the porch: it "
                "wants a guard, or sashes that stop"
            )
            return


def _judged(design: Design) -> Iterator[tuple[WindowOpening, HouseDesign]]:
    """A window of each pattern with the block it is in; a wing's where its patterns are new."""
    house = design.house
    for opening in patterns(house):
        if isinstance(opening, WindowOpening):
            yield opening, house
    known = {same_size(o) for o in patterns(house)}
    for wing in house.wings:
        for opening in patterns(wing.house):
            if isinstance(opening, WindowOpening) and same_size(opening) not in known:
                yield replace(opening, wing=wing.side), wing.house


def _storey(opening: Opening, house: HouseDesign) -> int:
    return sum(z <= opening.sill_z_m + HAIR_M for z in house.storey_floors_z_m) - 1


def _above_floor(opening: Opening, house: HouseDesign) -> float:
    return opening.sill_z_m - house.storey_floors_z_m[_storey(opening, house)]


@remark("safety glazing", "caution", "safety_pane_area", "safety_pane_bottom", "safety_pane_top")
def safety_glazing(design: Design, area: Rule, low: Rule, high: Rule) -> Iterator[Saying]:
    """Large panes near the floor."""
    for opening, house in _judged(design):
        sizes = sash_sizes(opening)
        foot = _above_floor(opening, house) + sizes.glass_foot_m
        big = sizes.pane_width_m * sizes.pane_height_m > area.value
        if big and foot < low.value and foot + sizes.pane_height_m > high.value:
            yield (
                f"The panes of {opening.name} are over {area.written} and begin "
                f"{format_length(foot, design.units)} above the floor: safety glazing"
            )


@remark("window fall", "caution", "fall_sill", "fall_grade")
def window_fall(design: Design, sill: Rule, grade: Rule) -> Iterator[Saying]:
    """Low sills high over the ground."""
    ground_z_m = lowest_by_house_m(design)
    for opening, house in _judged(design):
        above = _above_floor(opening, house) + daylights(opening)[0].foot_z_m
        height = opening.sill_z_m - ground_z_m
        if above < sill.value and height > grade.value:
            yield (
                f"{opening.name} opens {format_length(above, design.units)} above its floor and "
                f"{format_length(height, design.units)} above the ground: it wants a guard or a "
                "limiter"
            )


@remark("escape window", "caution", "escape_area", "escape_height", "escape_width", "escape_sill")
def escape_window(
    design: Design, area: Rule, height: Rule, width: Rule, sill: Rule
) -> Iterator[Saying]:
    """Upper windows too small to leave a bedroom by."""
    for opening, house in _judged(design):
        if _storey(opening, house) == 0:
            continue
        sizes = sash_sizes(opening)
        wide, tall = sizes.clear_width_m, sizes.clear_height_m
        small = wide * tall < area.value or tall < height.value or wide < width.value
        if small or _above_floor(opening, house) > sill.value:
            yield (
                f"{opening.name} opens {format_length(wide, design.units)} by "
                f"{format_length(tall, design.units)} clear: too little for a bedroom's way of "
                f"escape, which wants {area.written}, {height.said(design.units)} high and "
                f"{width.said(design.units)} wide, its sill {sill.said(design.units)} up at most"
            )


@remark("door of another time", "check", source="practice")
def door_of_another_time(design: Design) -> Iterator[Saying]:
    """An entrance of a flush leaf, behind an order with a cornice and mouldings."""
    doors = [d for d in design.house.doors if d.entrance and d.door.panels.startswith("flush")]
    if doors:
        lights = " with lights in a column" if "lights" in doors[0].door.panels else ""
        yield (
            f"The front door's leaf is flush{lights}: beside columns and a moulded cornice it "
            "is of another time; a leaf of four or six panels has rails and shadows of their kind"
        )


@remark("carriage doors", "check", source="practice")
def carriage_doors(design: Design) -> Iterator[Saying]:
    """Carriage doors that face the street and are wider together than the porch."""
    porch = 2.0 * design.porch.half_width_m
    for wing in design.house.wings:
        wall = "right" if wing.ahead else "front"
        wide = sum(
            d.width_m for d in wing.house.doors if d.wall == wall and d.door.panels == "carriage"
        )
        if wide > porch:
            yield (
                f"The {wing.side} wing's carriage doors, {format_length(wide, design.units)} in "
                f"all, face the street beside a porch of {format_length(porch, design.units)}: "
                "they lead, and would follow at the wing's side or farther back"
            )


@remark("dormer escape", "caution", "escape_area", "escape_height", "escape_width")
def dormer_escape(design: Design, area: Rule, height: Rule, width: Rule) -> Iterator[Saying]:
    """Dormers too small to leave a bedroom under the roof by."""
    for row in design.roof.dormers[:1]:
        sizes = sash_sizes(window_of(row))
        wide, tall = sizes.clear_width_m, sizes.clear_height_m
        if wide * tall < area.value or tall < height.value or wide < width.value:
            yield (
                f"The dormers open {format_length(wide, design.units)} by "
                f"{format_length(tall, design.units)} clear: too little for the way of escape of "
                f"a bedroom under the roof, which wants {area.written}"
            )

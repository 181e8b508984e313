"""What common practice and the codes say of the house behind the porch, in plain words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from massing.canon import rules
from massing.design.design import Design, HouseDesign, Opening
from massing.findings.ground import lowest_by_house_m
from massing.findings.proportion import Finding
from massing.practice.joinery_sizes import HEADS, SASH
from massing.resolve.bays import door_bay
from massing.settingout.cross_roofs import window_of
from massing.settingout.roof_heights import roof_rise_m
from massing.settingout.sashes import casement_leaves, daylights, hung_sashes
from massing.units import FOOT_M, INCH_M, format_length

_LOCAL = "local codes and licensed practice decide"
_PRACTICE = "common practice, no source"
WING_HEIGHT_OF_MAIN = 0.85
WING_SET_BACK_M = 3 * FOOT_M
_OFF_BAY_M = 0.05
WIDEST_SHUTTER_M = 30.0 * INCH_M  # practice


@dataclass(frozen=True)
class SashSizes:
    """What a window comes to, in metres: a tripartite window's middle, a casement's leaves."""

    pane_width_m: float
    pane_height_m: float
    glass_foot_m: float  # above the opening's foot
    clear_width_m: float  # with the lower sash raised, or the leaves open
    clear_height_m: float


def sash_sizes(opening: Opening) -> SashSizes:
    """Panes and clear opening of a window, by its members' sections.

    Raises:
        ValueError: the opening is too small for its lights.
    """
    s, holes = SASH, daylights(opening)
    hole = holes[len(holes) // 2]
    wide = hole.right_m - hole.left_m
    across = opening.lower_lights[0]
    if opening.filling == "casement":
        leaf = casement_leaves(opening)[0]
        span = float(np.ptp(leaf.outline[:, 0]))
        return SashSizes(
            pane_width_m=(span - 2.0 * s.stile_m - (across - 1) * s.bar_m) / across,
            pane_height_m=leaf.pane_height_m,
            glass_foot_m=hole.foot_z_m + s.leaf_clear_m + s.bottom_rail_m,
            clear_width_m=wide,
            clear_height_m=hole.top.springing_z_m - hole.foot_z_m,
        )
    made = hung_sashes(hole, opening.upper_lights, opening.lower_lights)
    lower = made.meet_z_m - hole.foot_z_m
    return SashSizes(
        pane_width_m=(wide - 2.0 * s.stile_m - (across - 1) * s.bar_m) / across,
        pane_height_m=made.pane_height_m,
        glass_foot_m=hole.foot_z_m + s.bottom_rail_m,
        clear_width_m=wide,
        clear_height_m=min(lower, hole.top.springing_z_m - hole.foot_z_m - lower),
    )


def house_findings(design: Design) -> Iterator[Finding]:
    """Remarks on bays, heads, windows, glazing and chimneys."""
    house = design.house
    yield from _of_bays(house)
    yield from _of_heads(house)
    yield from _of_shutters(house, design.units)
    yield from _of_floor_windows(design)
    patterns, low_z = _patterns(house), lowest_by_house_m(design)
    for opening in patterns:
        if opening.kind == "window":
            yield from _of_glass(opening, house, design.units)
            yield from _of_falls(opening, house, low_z, design.units)
            yield from _of_escape(opening, house, design.units)
    yield from _of_doors(patterns)
    yield from _of_chimneys(design)
    yield from _of_wings(design)
    yield from _of_dormers(design)


def _patterns(house: HouseDesign) -> list[Opening]:
    """One opening for each kind and storey, in the order they stand."""
    kinds: dict[tuple[object, ...], Opening] = {}
    for o in house.openings:
        kinds.setdefault(_size(o), o)
    return list(kinds.values())


def _storey(opening: Opening, house: HouseDesign) -> int:
    return sum(z <= opening.sill_z_m + 1e-6 for z in house.storey_floors_z_m) - 1


def _above_floor(opening: Opening, house: HouseDesign) -> float:
    return opening.sill_z_m - house.storey_floors_z_m[_storey(opening, house)]


def _of_bays(house: HouseDesign) -> Iterator[Finding]:
    count = len(house.bay_centres_m)
    if count > 1 and count % 2 == 0:
        yield Finding(
            "even bays", "check",
            f"The front has {count} bays: none in the middle for the door to stand in.",
            _PRACTICE,
        )  # fmt: skip
    elif count > 1 and door_bay(house.bay_centres_m) is None:
        yield Finding(
            "no middle bay", "check",
            "No bay stands in the middle of the front, where the porch's steps lead.",
            _PRACTICE,
        )  # fmt: skip


def _of_heads(house: HouseDesign) -> Iterator[Finding]:
    heads = sorted({o.head for o in house.openings if o.kind == "window" and o.wall == "front"})
    arches = [h for h in heads if h != "casing"]
    if len(arches) > 1:
        yield Finding(
            "mixed heads", "note",
            f"The front mixes {' and '.join(arches)} heads; one kind to a front, or one to a "
            "storey from the heavier below, is more usual.",
            _PRACTICE,
        )  # fmt: skip

    over_doors = {o.head for o in house.openings if o.kind == "door"}
    masonry = [h for h in sorted({*arches, *over_doors}) if HEADS[h].of != "casing"]
    if house.walls == "clapboard" and masonry:
        yield Finding(
            "masonry heads", "check",
            f"A {masonry[0]} stands in a wall of boards: a timber wall has a casing, which may be "
            "hooded or follow a round or oval head.",
            _PRACTICE,
        )  # fmt: skip


def _of_shutters(house: HouseDesign, units: str) -> Iterator[Finding]:
    """Whether the leaves, each half the opening wide, close what they hang beside."""
    hung = [o for o in house.openings if o.kind == "window" and o.shutters != "none"]
    arched = next((o for o in hung if o.rise_m > 0.0), None)
    if arched is not None:
        yield Finding(
            "shutters under an arch", "check",
            f"The shutters of {arched.name} are square and stop at the springing: closed, they "
            f"leave {format_length(arched.rise_m, units)} of its head uncovered.",
            _PRACTICE,
        )  # fmt: skip
    leaf = max((o.width_m / 2.0 for o in hung), default=0.0)
    if leaf > WIDEST_SHUTTER_M:
        yield Finding(
            "wide shutters", "check",
            f"Shutters {format_length(leaf, units)} wide, half the opening each, are wider than "
            f"{format_length(WIDEST_SHUTTER_M, units)}: heavy on their hinges, and such windows "
            "seldom had any.",
            _PRACTICE,
        )  # fmt: skip


def _of_floor_windows(design: Design) -> Iterator[Finding]:
    """Windows to the floor that do not open on the porch."""
    house, porch = design.house, design.porch
    for o in house.openings:
        on_porch = o.wall == "front" and abs(o.along_m) + o.width_m / 2.0 < porch.axes_m[-1]
        if o.kind == "window" and o.to_floor and not on_porch:
            height = o.sill_z_m - lowest_by_house_m(design)
            yield Finding(
                "window to the floor", "caution",
                f"{o.name} opens to the floor, {format_length(height, design.units)} above the "
                f"ground and off the porch: it wants a guard, or sashes that stop; {_LOCAL}.",
                _PRACTICE,
            )  # fmt: skip
            return


def _of_glass(opening: Opening, house: HouseDesign, units: str) -> Iterator[Finding]:
    area, low, high = (rules()[f"safety_pane_{k}"] for k in ("area", "bottom", "top"))
    sizes = sash_sizes(opening)
    foot = _above_floor(opening, house) + sizes.glass_foot_m
    big = sizes.pane_width_m * sizes.pane_height_m > area.value
    if big and foot < low.value and foot + sizes.pane_height_m > high.value:
        yield Finding(
            "safety glazing", "caution",
            f"The panes of {opening.name} are large and begin {format_length(foot, units)} above "
            f"the floor: safety glazing; {_LOCAL}.",
            area.source,
        )  # fmt: skip


def _of_falls(
    opening: Opening, house: HouseDesign, ground_z_m: float, units: str
) -> Iterator[Finding]:
    sill, grade = rules()["fall_sill"], rules()["fall_grade"]
    above = _above_floor(opening, house) + daylights(opening)[0].foot_z_m
    height = opening.sill_z_m - ground_z_m
    if above < sill.value and height > grade.value:
        yield Finding(
            "window fall", "caution",
            f"{opening.name} opens {format_length(above, units)} above its floor and "
            f"{format_length(height, units)} above the ground: it wants a guard or a "
            f"limiter; {_LOCAL}.",
            f"{sill.source} (from memory)",
        )  # fmt: skip


def _of_escape(opening: Opening, house: HouseDesign, units: str) -> Iterator[Finding]:
    if _storey(opening, house) == 0:
        return
    area, height, width, sill = (
        rules()[f"escape_{k}"] for k in ("area", "height", "width", "sill")
    )
    sizes = sash_sizes(opening)
    wide, tall = sizes.clear_width_m, sizes.clear_height_m
    if (
        wide * tall < area.value
        or tall < height.value
        or wide < width.value
        or _above_floor(opening, house) > sill.value
    ):
        yield Finding(
            "escape window", "caution",
            f"{opening.name} opens {format_length(wide, units)} by {format_length(tall, units)} "
            f"clear: too little for a bedroom's way of escape; {_LOCAL}.",
            area.source,
        )  # fmt: skip


def _of_doors(patterns: list[Opening]) -> Iterator[Finding]:
    names = []
    for o in patterns:
        if o.kind == "french":
            names.append("the French windows")
        elif o.kind == "door":
            which = "the entrance" if o.wall == "front" else "the side door"
            names += [f"{which}'s sidelights"] if o.sidelights else []
            names += [f"{which}'s leaves"] if o.door and o.door.glazed else []
    if names:
        yield Finding(
            "door glazing", "caution",
            f"Glass in {' and '.join(names)} is safety glazing; {_LOCAL}.",
            rules()["safety_door"].source,
        )  # fmt: skip


def _of_dormers(design: Design) -> Iterator[Finding]:
    house, units = design.house, design.units
    below = [o for o in house.openings if o.kind == "window" and o.wall == "front"]
    highest = max(below, key=lambda o: o.sill_z_m, default=None)
    for row in design.roof.dormers[:1]:
        opening = window_of(row)
        wide, tall = format_length(row.width_m, units), format_length(row.height_m, units)
        if highest and row.width_m * row.height_m > highest.width_m * highest.height_m:
            yield Finding(
                "heavy dormers", "note",
                f"The dormers' windows, {wide} by {tall}, are larger than those of the storey "
                "below; lighter ones upwards are more usual.",
                _PRACTICE,
            )  # fmt: skip
        stand = set(house.bay_centres_m)
        stand |= {(a + b) / 2.0 for a, b in pairwise(house.bay_centres_m)}
        if any(min(abs(x - bay) for bay in stand) > _OFF_BAY_M for x in row.centres_m):
            yield Finding(
                "dormers off the bays", "note",
                "A dormer stands neither over a bay nor midway between two.",
                _PRACTICE,
            )  # fmt: skip
        sizes = sash_sizes(opening)
        area, height, width = (rules()[f"escape_{k}"] for k in ("area", "height", "width"))
        clear_m2 = sizes.clear_width_m * sizes.clear_height_m
        if (
            clear_m2 < area.value
            or sizes.clear_height_m < height.value
            or sizes.clear_width_m < width.value
        ):
            yield Finding(
                "dormer escape", "caution",
                f"The dormers open {format_length(sizes.clear_width_m, units)} by "
                f"{format_length(sizes.clear_height_m, units)} clear: too little for the way of "
                f"escape of a bedroom under the roof; {_LOCAL}.",
                area.source,
            )  # fmt: skip


def _of_chimneys(design: Design) -> Iterator[Finding]:
    rule = rules()["chimney_above"]
    house, roof = design.house, design.roof
    out = house.cornice.projection_m
    ridge_z = house.wall_top_z_m + roof_rise_m(roof, house.width_m, house.depth_m, out)
    for i, stack in enumerate(house.chimneys):
        if stack.top_z_m - ridge_z < rule.value:
            yield Finding(
                "low chimney", "caution",
                f"Chimney {i + 1} tops the ridge by less than "
                f"{format_length(rule.value, design.units)}; {_LOCAL}.",
                f"{rule.source} (from memory)",
            )  # fmt: skip


def _of_wings(design: Design) -> Iterator[Finding]:
    """A wing is the lesser mass: lower, narrower and farther back than what it stands against."""
    house, units, low_z = design.house, design.units, lowest_by_house_m(design)
    known = {_size(o) for o in _patterns(house)}
    for wing in house.wings:
        name, own = f"The {wing.side} wing", wing.house
        if own.width_m > house.width_m:
            yield Finding(
                "wide wing", "check",
                f"{name} is {format_length(own.width_m, units)} wide, more than the main block's "
                f"{format_length(house.width_m, units)}: which of the two leads?",
                _PRACTICE,
            )  # fmt: skip
        high, main = own.wall_top_z_m - own.floor_z_m, house.wall_top_z_m - house.floor_z_m
        if high > WING_HEIGHT_OF_MAIN * main:
            yield Finding(
                "high wing", "note",
                f"{name}'s walls are {format_length(high, units)} high beside "
                f"{format_length(main, units)}: a wing is plainly lower than the main block.",
                _PRACTICE,
            )  # fmt: skip
        if wing.set_back_m < WING_SET_BACK_M:
            yield Finding(
                "flush wing", "note",
                f"{name} stands {format_length(wing.set_back_m, units)} back: too little to give "
                "the main block its own corner and shadow.",
                _PRACTICE,
            )  # fmt: skip
        for opening in _patterns(own):
            if opening.kind == "window" and _size(opening) not in known:
                named = replace(opening, name=f"{wing.side} wing, {opening.name}")
                yield from _of_glass(named, own, units)
                yield from _of_falls(named, own, low_z, units)
                yield from _of_escape(named, own, units)
    widths = {wing.side: wing.house.width_m for wing in house.wings}
    if len(widths) == 2 and abs(widths["left"] - widths["right"]) > 0.01:
        yield Finding(
            "unlike wings", "note",
            f"The left wing is {format_length(widths['left'], units)} wide, the right one "
            f"{format_length(widths['right'], units)}.",
            _PRACTICE,
        )  # fmt: skip


def _size(opening: Opening) -> tuple[object, ...]:
    o = opening
    size = (o.sill_z_m, o.width_m, o.height_m, o.rise_m)
    return (o.kind, *size, o.filling, o.lower_lights, o.upper_lights)

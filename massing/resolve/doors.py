"""The doors of a design in their places, with steps and what they must clear."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from itertools import pairwise

from massing.design.house import HouseDesign
from massing.design.kinds import Wall
from massing.design.opening import SIDE_DOOR, DoorOpening, LandingDesign, Opening, SurroundDesign
from massing.design.porch import PorchDesign
from massing.design.site import GroundDesign
from massing.practice.defaults import default, default_rule, said_default
from massing.practice.joinery_sizes import (
    BELT_M,
    CHEEK_WIDTH_M,
    PAVING_M,
    casing_width,
)
from massing.resolve.bays import entrance_bay
from massing.resolve.door_leaves import LEAST_LEAF_M, doorway
from massing.resolve.door_places import Place
from massing.resolve.ground import flight, ground_before_wall
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import House, SideDoor, WingDoor
from massing.settingout.porch import porch_reach_m
from massing.settingout.side_steps import steps_plan
from massing.settingout.wall_faces import run_m
from massing.units import FOOT_M, HAIR_M, at_least, at_most, format_length

STEP_DOWN_M = default("steps.landing_down")
LANDING_M = default("steps.landing")
RISER_M = default("steps.riser")
TREAD_M = default("steps.tread")
LEAST_OVER_DOOR_M = default("doors.least_over")
_MIDDLE_M = 1e-6  # a bay this near the front's middle stands in it


def with_doors(
    house: HouseDesign,
    spec: House,
    porch: PorchDesign,
    ground: GroundDesign,
    origins: Origins,
    beside: Mapping[str, PorchDesign] | None = None,
) -> HouseDesign:
    """The house with its entrance, and its side door in a ground window's place.

    ``beside`` are the side porches that a door may open on, by wall.

    Raises:
        DesignError: a door does not fit where it is asked for.
    """
    house = _with_entrance(house, spec, porch, origins)
    if spec.side_door is None:
        return house
    side = spec.side_door

    def before(along_m: float) -> Callable[[float], float]:
        return ground_before_wall(house, side.wall, along_m, ground)

    at = ("house", "side_door")
    ahead = porch if side.wall == "front" else (beside or {}).get(side.wall)
    return with_second_door(house, side, side.wall, at, before, origins, ahead)


def _with_entrance(
    house: HouseDesign, spec: House, porch: PorchDesign, origins: Origins
) -> HouseDesign:
    """The door in its bay, the one at the porch's middle or as said, where there is one."""
    bays = house.bay_centres_m
    bay = entrance_bay(spec, porch.centre_m, bays)
    if bay is None:
        return house
    # A bay at the middle to a hair stands in it.
    along = 0.0 if abs(bays[bay]) <= _MIDDLE_M else bays[bay]
    place = Place(
        ("house", "door"),
        "door",
        "front",
        along,
        min((abs(c - along) for i, c in enumerate(bays) if i != bay), default=house.width_m),
        house.floor_z_m,
        porch.floor_z_m,
        _heads(house),
        _ceiling(house, porch),
        house.walls,
        "the porch's ceiling, or the floor or cornice above",
    )
    door = doorway(spec.door, place, origins)
    _check_in_wall(door, house, place, origins)
    before = [o for o in house.openings if _on_ground(o) and o.wall == "front"]
    at = sum(o.along_m < along for o in before)
    openings = (*house.openings[:at], door, *house.openings[at:])
    _check_before(door, porch, origins)
    part = "surround" if spec.door.surround else "width"
    _check_apart(door, openings, f"{place.dotted}.{part}", origins)
    return replace(house, openings=openings)


def with_second_door(
    house: HouseDesign,
    spec: SideDoor | WingDoor,
    wall: Wall,
    field: tuple[str, str],
    ground_before: Callable[[float], Callable[[float], float]],
    origins: Origins,
    porch: PorchDesign | None = None,
) -> HouseDesign:
    """The house with a door in place of a ground window; on the porch it has no steps.

    Args:
        house: the house, or a wing.
        spec: what is asked of the door.
        wall: the wall it goes in.
        field: where the scene asks for it.
        ground_before: the ground's height by the distance out from the wall, at a place along it.
        origins: takes a note of where each number comes from.
        porch: what stands before that wall.

    Raises:
        DesignError: no window is there, the ground rises over its landing, or it has no room.
    """
    there = window_for(house, spec.bay, wall, ".".join(field))
    sides = sorted(o.along_m for o in house.openings if o.wall == wall)
    gaps = [b - a for a, b in pairwise(sides) if b - a > 1e-6]
    run = run_m(house, wall)
    before = ground_before(there.along_m)
    ahead = porch
    on_porch = ahead is not None and ahead.axes_m[0] < there.along_m < ahead.axes_m[-1]
    place = Place(
        field,
        SIDE_DOOR,
        wall,
        there.along_m,
        min(gaps, default=run),
        house.floor_z_m,
        ahead.floor_z_m
        if ahead and on_porch
        else _landing_z(house, wall, ".".join(field), before, origins),
        _heads(house),
        _ceiling(house, ahead if on_porch else None),
        house.walls,
    )
    door = doorway(spec, place, origins)
    if not on_porch:
        door = _with_steps(door, spec, place, before, origins)
    if ahead is not None:
        _check_beside_porch(door, ahead, on_porch, place, origins)
    openings = tuple(door if o is there else o for o in house.openings)
    _check_apart(door, openings, f"{place.dotted}.bay", origins)
    _check_corner(door, run, house.wall_thickness_m, place, origins)
    return replace(house, openings=openings)


def window_for(house: HouseDesign, bay: int, wall: Wall, field: str) -> Opening:
    """The ground window whose place a second door takes."""
    wanted = (wall, f"window {bay}")
    on_ground = [o for o in house.openings if _on_ground(o)]
    there = next((o for o in on_ground if (o.wall, o.place) == wanted), None)
    if there is None:
        known = _bays(o for o in on_ground if o.wall == wall and not isinstance(o, DoorOpening))
        raise DesignError(
            f"{field}.bay",
            bay,
            f"{known}, a bay of the {wall} wall with a ground window"
            if known
            else f"a wall with a ground window, which the {wall} wall has not",
        )
    return there


def _bays(windows: Iterable[Opening]) -> str:
    """The bays with one window of a row: ``1 to 3``, or one by one about a door."""
    numbers = [o.place.split()[-1] for o in windows]
    bays = sorted({int(number) for number in numbers if number.isdecimal()})  # not 1a and 1b
    if len(bays) > 1 and bays == list(range(bays[0], bays[-1] + 1)):
        return f"{bays[0]} to {bays[-1]}"
    return ", ".join(map(str, bays))


def _landing_z(
    house: HouseDesign,
    wall: Wall,
    field: str,
    before: Callable[[float], float],
    origins: Origins,
) -> float | None:
    """Height of a side door's landing; None on level ground so high that it needs none."""
    landing_z = house.floor_z_m - STEP_DOWN_M
    ground_z = max(before(0.0), before(LANDING_M))
    if landing_z - ground_z > 2.0 * PAVING_M:
        return landing_z
    if abs(ground_z) > HAIR_M:
        raise DesignError(
            f"{field}.wall" if field.endswith("side_door") else f"{field}.bay",
            f"{wall}, where the ground rises to {format_length(ground_z, origins.units)}",
            f"a landing {at_least(2.0 * PAVING_M, origins.units)} or more above the ground: "
            "a higher floor, another wall, or a gentler site.ground_slope",
        )
    return None


def _on_ground(opening: Opening) -> bool:
    return opening.storey == 0


def _heads(house: HouseDesign) -> float:
    """Height of the ground windows' heads."""
    return max(o.head_z_m for o in house.openings if _on_ground(o))


def _ceiling(house: HouseDesign, porch: PorchDesign | None) -> float:
    """What a ground-floor door must stay under."""
    above = [*house.storey_floors_z_m[1:2], house.wall_top_z_m - house.cornice.height_m]
    above += [z - BELT_M for z in house.belt_courses_z_m[:1]]
    limit = min(above)
    for ceiling_z in (porch.ceiling_z_m, porch.highest.ceiling_z_m) if porch else ():
        if house.floor_z_m + LEAST_LEAF_M < ceiling_z < limit:
            limit = ceiling_z
    return limit


# --- one door ------------------------------------------------------------------------------


# --- what it must clear --------------------------------------------------------------------


def _check_in_wall(made: DoorOpening, house: HouseDesign, place: Place, origins: Origins) -> None:
    """Raise DesignError where a front door's own opening reaches over its wall or storey."""
    limit = min([house.wall_top_z_m, *house.storey_floors_z_m[1:2]]) - LEAST_OVER_DOOR_M
    if made.head_z_m > limit + HAIR_M:
        most = made.leaf_height_m - (made.head_z_m - limit)
        raise DesignError(
            f"{place.dotted}.height",
            format_length(made.leaf_height_m, origins.units),
            f"at most {at_most(most, origins.units)}, under the wall's top or the floor above",
        )


def _check_before(made: DoorOpening, porch: PorchDesign, origins: Origins) -> None:
    """Raise DesignError where the surround reaches the porch's columns."""
    surround = made.door.surround
    if surround is None:
        return
    out = surround.out_m + surround.order.cornice_projection_m
    room = porch.depth_m - porch.order.foot_width_m / 2.0
    if out > room - 2 * FOOT_M + HAIR_M:
        raise DesignError(
            "house.door.surround",
            f"an order that stands {format_length(out, origins.units)} before the wall",
            f"at most {at_most(max(room - 2 * FOOT_M, 0.0), origins.units)}, to leave a way "
            "behind the porch's columns",
        )


def _box(opening: Opening) -> tuple[float, float, float, float]:
    """Left, right, foot and top of all that belongs to an opening on the wall's face."""
    x, half = opening.along_m, opening.reach_m
    return x - half, x + half, opening.foot_z_m, opening.top_z_m


def _check_apart(
    made: DoorOpening, openings: tuple[Opening, ...], field: str, origins: Origins
) -> None:
    """Raise DesignError where the doorway, surround and all, meets another opening's."""
    left, right, foot, top = _box(made)
    for other in openings:
        if other.wall != made.wall or (other.place == made.place and other.storey == made.storey):
            continue
        a, b, low, high = _box(other)
        if left < b - 1e-9 and a < right - 1e-9 and foot < high and low < top:
            raise DesignError(
                field,
                f"a doorway {format_length(right - left, origins.units)} wide and "
                f"{format_length(top - foot, origins.units)} high over all",
                f"clear of {other.name}",
            )


def _check_beside_porch(
    made: DoorOpening, porch: PorchDesign, on_porch: bool, place: Place, origins: Origins
) -> None:
    """Raise DesignError where a second front door stands neither on the porch nor clear of it."""
    steps, half = made.door.steps, made.reach_m
    if steps is not None:
        half = max(half, steps.width_m / 2.0 + CHEEK_WIDTH_M)
    x = porch.from_middle_m(made.along_m)
    within = porch.axes_m[-1] - porch.centre_m - porch.order.foot_width_m / 2.0
    beyond = max(porch_reach_m(porch), porch_reach_m(porch.highest))
    middle = "the porch's middle" if porch.centre_m else "the middle"
    if x + half > within + HAIR_M if on_porch else x - half < beyond - HAIR_M:
        raise DesignError(
            f"{place.dotted}.bay",
            f"a doorway {format_length(2.0 * half, origins.units)} wide over all, "
            f"{format_length(x, origins.units)} from {middle}",
            "a bay wholly on the porch, within "
            f"{format_length(within, origins.units)} of {middle}, or clear of it, "
            f"beyond {format_length(beyond, origins.units)}",
        )


def _check_corner(
    made: DoorOpening, run_m: float, wall_m: float, place: Place, origins: Origins
) -> None:
    """Raise DesignError where a side door's surround or landing passes the wall's end."""
    steps = made.door.steps
    half = made.reach_m
    if steps is not None:
        half = max(half, steps.width_m / 2.0 + CHEEK_WIDTH_M)
    opening = abs(made.along_m) + made.width_m / 2.0
    if abs(made.along_m) + half > run_m / 2.0 or opening > run_m / 2.0 - wall_m - HAIR_M:
        raise DesignError(
            f"{place.dotted}.bay",
            f"a doorway and landing {format_length(2.0 * half, origins.units)} wide",
            f"a bay that keeps it within the {made.wall} wall",
        )


# --- steps of its own ----------------------------------------------------------------------


def _with_steps(
    made: DoorOpening,
    spec: SideDoor | WingDoor,
    place: Place,
    ground_before: Callable[[float], float],
    origins: Origins,
) -> DoorOpening:
    """The door with a landing before it and a flight to the ground, where it stands above it."""
    if place.stand_z_m is None:
        return made
    work = made.door
    riser = origins.choose(
        (*place.field, "steps", "riser"),
        spec.steps.riser,
        RISER_M,
        said_default("steps.riser", origins.units),
    )
    width, tread, depth = _landing(made, work.surround, spec, place, origins)
    count, foot_z = flight(
        f"{place.dotted}.steps.riser",
        place.stand_z_m,
        riser,
        tread,
        lambda out: ground_before(depth + out),
        origins.units,
    )
    rise = (place.stand_z_m - foot_z) / count
    origins.note(
        f"{place.dotted}.steps.riser",
        rise,
        f"{count} equal risers to the landing, "
        f"{default_rule('steps.landing_down').said(origins.units)} below the floor "
        "(common practice)",
    )
    steps = LandingDesign(
        width_m=width, risers=count, riser_m=rise, tread_m=tread, foot_z_m=foot_z, landing_m=depth
    )
    return replace(made, door=replace(work, steps=steps))


def _landing(
    made: DoorOpening,
    surround: SurroundDesign | None,
    spec: SideDoor | WingDoor,
    place: Place,
    origins: Origins,
) -> tuple[float, float, float]:
    """Width of the flight, depth of its treads, and depth of the landing, clear of a surround.

    Raises:
        DesignError: a flight narrower than the leaf, or a landing that the surround fills.
    """
    wide, out = made.width_m + 2.0 * casing_width(made.width_m), 0.0
    if surround:
        foot = surround.order.foot_width_m
        wide = max(wide, 2.0 * surround.axis_m + foot - 2.0 * CHEEK_WIDTH_M)
        out = surround.out_m + foot / 2.0
    at = (*place.field, "steps")
    width = origins.choose(
        (*at, "width"), spec.steps.width, wide, "the doorway over its casing (common practice)"
    )
    tread = origins.choose(
        (*at, "tread"), spec.steps.tread, TREAD_M, said_default("steps.tread", origins.units)
    )
    depth = origins.choose(
        (*place.field, "landing"),
        spec.landing,
        LANDING_M + out,
        f"{said_default('steps.landing', origins.units)} clear",
    )
    for field, given, least in (
        ("steps.width", width, made.leaf_width_m),
        ("landing", depth, out + 2 * FOOT_M),
    ):
        if given < least - HAIR_M:
            raise DesignError(
                f"{place.dotted}.{field}",
                format_length(given, origins.units),
                f"at least {at_least(least, origins.units)}",
            )
    return width, tread, depth


def check_beside_wings(spec: House, house: HouseDesign) -> None:
    """Raise DesignError where a wing stands over the side door or its steps."""
    side = spec.side_door
    if side is None:
        return
    plan = steps_plan(house)
    kept = any(o.place == SIDE_DOOR for o in house.openings)
    for wing in house.wings:
        x0, y0, x1, y1 = wing.plan_m
        meets = plan is not None and (
            plan[0] < x1 and x0 < plan[2] and plan[1] < y1 and y0 < plan[3]
        )
        if wing.side == side.wall and (meets or not kept):
            raise DesignError(
                "house.side_door.bay", side.bay, f"a bay clear of the {wing.side} wing"
            )

"""The doors of a design: leaf, lights, surround and steps, from what the scene says."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise

from massing.canon import fit_order
from massing.design.house import HouseDesign
from massing.design.kinds import Wall
from massing.design.opening import DoorDesign, Opening, StepsDesign, SurroundDesign
from massing.design.porch import PorchDesign
from massing.design.site import GroundDesign
from massing.practice.defaults import default, default_rule, said_default
from massing.practice.joinery_sizes import (
    BELT_M,
    CHEEK_WIDTH_M,
    ELLIPSE_OF_WIDTH,
    LEAF,
    PAVING_M,
    SASH,
    THRESHOLD_M,
    casing_width,
    head_reach,
)
from massing.resolve.door_heads import door_head, segment_rise_m
from massing.resolve.ground import flight, ground_before_wall
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Door, House, SideDoor, Surround
from massing.settingout.fanlights import fanlight_lights, lights_by_rule
from massing.settingout.leafwork import panel_holes
from massing.units import FOOT_M, format_length

# Common practice, no source, unless a line says otherwise.
LEAF_WIDTH_M = default("doors.leaf")
PAIR_WIDTH_M = default("doors.pair")
LEAF_HEIGHT_M = default("doors.leaf_height")
LEAST_LEAF_M = default("doors.least_leaf")
FRAME_M = default("doors.frame")
SIDELIGHT_M = default("doors.sidelight")
TRANSOM_M = default("doors.transom")
LEAST_TRANSOM_M = default("doors.least_transom")
OVER_LEAF_M = THRESHOLD_M + 2 * LEAF.clear_m + LEAF.mullion_m + SASH.stile_m  # to a fan's springing
UNDER_CEILING_M = default("doors.under_ceiling")
SURROUND_BAND_M = default("doors.band")
BESIDE_CASING_M = default("doors.beside_casing")
PEDIMENT_SLOPE = default("porch.pediment")
STEP_DOWN_M = default("steps.landing_down")
LANDING_M = default("steps.landing")
RISER_M = default("steps.riser")
TREAD_M = default("steps.tread")
SIDE_DOOR = "side door"
_MIDDLE_M = 1e-6  # a bay this near the front's middle stands in it


@dataclass(frozen=True)
class Place:
    """Where a door goes, and the room it has there; heights above the ground."""

    field: tuple[str, str]
    name: str  # the opening's place in its storey
    wall: Wall
    along_m: float
    bay_m: float
    floor_z_m: float
    stand_z_m: float  # of what is before it: the porch's floor, or a landing
    heads_z_m: float  # of the windows beside it
    ceiling_z_m: float
    walls: str  # what the wall is built of
    under: str = "the floor or cornice above"

    @property
    def dotted(self) -> str:
        """The field as it is written in messages."""
        return ".".join(self.field)


def with_doors(
    house: HouseDesign, spec: House, porch: PorchDesign, ground: GroundDesign, origins: Origins
) -> HouseDesign:
    """The house with its entrance, and its side door in a ground window's place.

    Raises:
        DesignError: a door does not fit where it is asked for.
    """
    house = _with_entrance(house, spec, porch, origins)
    if spec.side_door is None:
        return house
    return _with_side_door(house, spec.side_door, ground, origins)


def _with_entrance(
    house: HouseDesign, spec: House, porch: PorchDesign, origins: Origins
) -> HouseDesign:
    """The door in the front's middle bay, where there is one."""
    bays = house.bay_centres_m
    if all(abs(c) > _MIDDLE_M for c in bays):
        return house
    place = Place(
        ("house", "door"),
        "door",
        "front",
        0.0,
        min((abs(c) for c in bays if abs(c) > _MIDDLE_M), default=house.width_m),
        house.floor_z_m,
        porch.floor_z_m,
        _heads(house),
        _ceiling(house, porch),
        house.walls,
        "the porch's ceiling, or the floor or cornice above",
    )
    door = _door(spec.door, place, origins)
    before = [o for o in house.openings if _on_ground(o) and o.wall == "front"]
    at = sum(o.along_m < 0.0 for o in before)
    openings = (*house.openings[:at], door, *house.openings[at:])
    _check_before(door, porch, origins)
    part = "surround" if spec.door.surround else "width"
    _check_apart(door, openings, f"{place.dotted}.{part}", origins)
    return replace(house, openings=openings)


def _with_side_door(
    house: HouseDesign, spec: SideDoor, ground: GroundDesign, origins: Origins
) -> HouseDesign:
    wanted = (spec.wall, f"window {spec.bay}")
    on_ground = [o for o in house.openings if _on_ground(o)]
    there = next((o for o in on_ground if (o.wall, o.place) == wanted), None)
    if there is None:
        known = [o for o in on_ground if o.wall == spec.wall]
        raise DesignError(
            "house.side_door.bay",
            spec.bay,
            f"1 to {len(known)}, a bay of the {spec.wall} wall with a ground window"
            if known
            else f"a wall with a ground window, which the {spec.wall} wall has not",
        )
    sides = sorted(o.along_m for o in house.openings if o.wall == spec.wall)
    gaps = [b - a for a, b in pairwise(sides) if b - a > 1e-6]
    run = house.width_m if spec.wall == "back" else house.depth_m
    landing_z = house.floor_z_m - STEP_DOWN_M
    before = ground_before_wall(house, spec.wall, there.along_m, ground)
    high = landing_z - max(before(0.0), before(LANDING_M)) > 2.0 * PAVING_M
    if not (high or ground.level):
        raise DesignError(
            "house.side_door.wall",
            f"{spec.wall}, where the ground rises to "
            f"{format_length(max(before(0.0), before(LANDING_M)), origins.units)}",
            f"a landing {format_length(2.0 * PAVING_M, origins.units)} or more above the ground: "
            "a higher floor, another wall, or a gentler site.ground_slope",
        )
    place = Place(
        ("house", "side_door"),
        SIDE_DOOR,
        spec.wall,
        there.along_m,
        min(gaps, default=run),
        house.floor_z_m,
        landing_z if high else 0.0,
        _heads(house),
        _ceiling(house, None),
        house.walls,
    )
    door = _with_steps(_door(spec, place, origins), spec, place, before, origins)
    openings = tuple(door if o is there else o for o in house.openings)
    _check_apart(door, openings, f"{place.dotted}.bay", origins)
    _check_corner(door, run, place, origins)
    return replace(house, openings=openings)


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


def _door(door: Door, place: Place, origins: Origins) -> Opening:
    """The doorway: as high as the windows' heads, or as its fanlight and surround leave."""
    at, pair = place.field, door.leaves == 2
    width = origins.choose(
        (*at, "width"),
        door.width,
        PAIR_WIDTH_M if pair else LEAF_WIDTH_M,
        said_default("doors.pair" if pair else "doors.leaf", origins.units),
    )
    wide = width + 2 * FRAME_M + (2 * SIDELIGHT_M if door.sidelights else 0.0)
    if wide > place.bay_m:
        raise DesignError(
            f"{place.dotted}.width",
            format_length(width, origins.units),
            f"a doorway within its bay of {format_length(place.bay_m, origins.units)}",
        )
    rise = _rise(door, wide, place, origins)
    head = door_head(door, place.walls, place.dotted, origins)
    arch = segment_rise_m(head, wide)
    most = _most(door, wide, place, head)
    room = most if door.fanlight != "none" else min(place.heads_z_m - place.floor_z_m, most)
    over = FRAME_M if door.surround or head != "casing" else 0.0
    if rise:
        over = OVER_LEAF_M + rise
    elif door.transom:
        over = TRANSOM_M
    over += arch
    leaf = origins.choose(
        (*at, "height"),
        door.height,
        min(LEAF_HEIGHT_M, room - over),
        f"{said_default('doors.leaf_height', origins.units)}, under the window heads",
    )
    if leaf < LEAST_LEAF_M and door.height is None and (rise or door.surround or door.head):
        _too_low(door, place, leaf, origins)
    height = leaf + FRAME_M + arch
    if rise:
        height = OVER_LEAF_M + leaf + rise
    elif door.transom:
        height = max(room, leaf + LEAST_TRANSOM_M + arch)
    work = DoorDesign(
        leaves=door.leaves,
        panels=door.panels,
        raised=door.panelling == "raised",
        glazed=door.glazed,
        fanlight=door.fanlight,
        fanlight_lights=_lights(door, wide, rise) if rise else 0,
        fanlight_ring=door.fanlight_ring,
        surround=_surround(door.surround, wide, height, place) if door.surround else None,
    )
    made = Opening(
        place.name,
        place.wall,
        "door",
        place.along_m,
        place.floor_z_m,
        wide,
        height,
        leaf_width_m=width,
        leaf_height_m=leaf,
        sidelights=door.sidelights,
        transom=door.transom and not rise,
        head=head,
        rise_m=rise or arch,
        curve="ellipse" if door.fanlight == "elliptical" else "segment",
        door=work,
        storey=0,
    )
    _check_joinery(door, made, place)
    _check_under(door, made, place, origins)
    if work.surround:
        _note_surround(work.surround, place, origins)
    return made


def _rise(door: Door, wide_m: float, place: Place, origins: Origins) -> float:
    """The fanlight's curve over its springing, frame and all; 0 for none.

    Raises:
        DesignError: a fanlight that its fields do not allow.
    """
    if door.fanlight_rise is not None and door.fanlight != "elliptical":
        raise DesignError(f"{place.dotted}.fanlight_rise", "a rise", "only of an elliptical one")
    if door.fanlight == "none":
        for field in ("fanlight_ring", "fanlight_lights"):
            if getattr(door, field) not in ("none", None):
                raise DesignError(
                    f"{place.dotted}.{field}", getattr(door, field), "only with a fanlight"
                )
        return 0.0
    if door.fanlight == "semicircular":
        if door.sidelights:
            raise DesignError(
                f"{place.dotted}.fanlight", "semicircular", "elliptical, over sidelights"
            )
        return wide_m / 2.0
    rise = origins.choose(
        (*place.field, "fanlight_rise"),
        door.fanlight_rise,
        ELLIPSE_OF_WIDTH * wide_m,
        "three tenths of the doorway's width (common practice)",
    )
    if not 0.2 * wide_m <= rise < wide_m / 2.0:
        raise DesignError(
            f"{place.dotted}.fanlight_rise",
            format_length(rise, origins.units),
            f"{format_length(0.2 * wide_m, origins.units)} to less than half the doorway's "
            f"width, {format_length(wide_m / 2.0, origins.units)}",
        )
    return rise


def _lights(door: Door, wide_m: float, rise_m: float) -> int:
    side = SASH.jamb_face_m if door.sidelights else FRAME_M
    return door.fanlight_lights or lights_by_rule(wide_m / 2.0 - side, rise_m - side)


def _too_low(door: Door, place: Place, leaf_m: float, origins: Origins) -> None:
    """Raise DesignError for a fanlight or surround that leaves no door beneath it."""
    field = "surround" if door.surround else "head" if door.fanlight == "none" else "fanlight"
    given = door.surround.order if door.surround else getattr(door, field)
    raise DesignError(
        f"{place.dotted}.{field}",
        f"{given}, which leaves a leaf of {format_length(max(leaf_m, 0.0), origins.units)} under "
        f"{format_length(place.ceiling_z_m, origins.units)}",
        f"what leaves {format_length(LEAST_LEAF_M, origins.units)} or more, under {place.under}",
    )


def _most(door: Door, wide_m: float, place: Place, head: str) -> float:
    """The highest the opening may be over its floor, with what stands over it."""
    room = place.ceiling_z_m - UNDER_CEILING_M - place.floor_z_m
    if door.surround is None:
        plain = door.fanlight == "none" and head == "casing"
        return room if plain else room - head_reach(wide_m, head)[1]
    low, high = 0.0, room
    for _ in range(30):
        middle = (low + high) / 2.0
        fits = _surround_top(door.surround, wide_m, middle, place) <= room
        low, high = (middle, high) if fits else (low, middle)
    return low


def _surround_top(asked: Surround, wide_m: float, height_m: float, place: Place) -> float:
    try:
        return _surround(asked, wide_m, height_m, place).top_m
    except DesignError:
        return 0.0  # too low for its diameter: said when its height is known


def _surround(asked: Surround, wide_m: float, height_m: float, place: Place) -> SurroundDesign:
    """The order whose column reaches from the floor before the door to over its casing.

    Raises:
        DesignError: the sizes asked for make no column, or a pediment has no cymatium.
    """
    drop = place.floor_z_m - place.stand_z_m
    face = casing_width(wide_m)
    column = drop + height_m + face + SURROUND_BAND_M
    dotted = f"{place.dotted}.surround"
    try:
        order = fit_order(
            asked.order,
            asked.canon,
            diameter_m=asked.diameter,
            column_height_m=column,
            entablature_m=asked.entablature,
        )
    except ValueError as error:
        raise DesignError(
            f"{dotted}.{'diameter' if asked.diameter else 'canon'}",
            f"{asked.diameter:.3f} m" if asked.diameter else asked.canon,
            " ".join(str(error).split()),
        ) from None
    if asked.pediment and not any(m.name == "cymatium" for m in order.cornice):
        raise DesignError(
            f"{dotted}.pediment",
            f"a pediment over a {asked.order}",
            "an order whose cornice has a cymatium",
        )
    beside = order.foot_width_m / 2.0
    if asked.engaged == "pilasters":
        beside -= (order.diameter_m - order.upper_diameter_m) / 2.0
    return SurroundDesign(
        order=order,
        engaged=asked.engaged,
        axis_m=wide_m / 2.0 + face + BESIDE_CASING_M + beside,
        drop_m=drop,
        pediment_slope=PEDIMENT_SLOPE if asked.pediment else 0.0,
    )


def _note_surround(surround: SurroundDesign, place: Place, origins: Origins) -> None:
    order, at = surround.order, f"{place.dotted}.surround"
    why = dict(order.origins)
    origins.note(f"{at}.column_height", order.column_height_m, "from its foot to over the casing")
    for field in ("diameter", "entablature"):
        text = why[f"{field}_m"]
        if text == "given":
            text = origins.given((*place.field, "surround", field))
        value = order.diameter_m if field == "diameter" else order.entablature_height_m
        origins.note(f"{at}.{field}", value, text)


# --- what it must clear --------------------------------------------------------------------


def _check_joinery(door: Door, made: Opening, place: Place) -> None:
    """Raise DesignError for a leaf too small for its panels, or a fan for its lights."""
    work = made.door or DoorDesign()
    try:
        panel_holes(
            made.leaf_width_m / work.leaves - LEAF.clear_m, made.leaf_height_m, work.panels,
            work.leaves,
        )  # fmt: skip
    except ValueError as error:
        raise DesignError(
            f"{place.dotted}.panels", f"{work.panels} panels: {error}", "a pattern that fits"
        ) from None
    if work.fanlight != "none":
        side = SASH.jamb_face_m if door.sidelights else FRAME_M
        half, rise = made.width_m / 2.0 - side, made.rise_m - side
        try:
            fanlight_lights(half, rise, work.fanlight_lights, work.fanlight_ring)
        except ValueError as error:
            field = "fanlight_lights" if door.fanlight_lights else "fanlight_rise"
            by_rule = lights_by_rule(half, rise)
            raise DesignError(
                f"{place.dotted}.{field}",
                work.fanlight_lights if door.fanlight_lights else str(error),
                f"{by_rule}, or about as many" if door.fanlight_lights else "a higher one",
            ) from None


def _check_under(door: Door, made: Opening, place: Place, origins: Origins) -> None:
    """Raise DesignError where what stands over the door crosses floor, cornice or ceiling."""
    plain = made.rise_m == 0.0 and made.head == "casing" and not door.surround
    if made.wall == "front" and plain:
        return  # what it meets of the porch is checked with the windows
    limit = place.ceiling_z_m
    if made.top_z_m > limit - 0.9 * UNDER_CEILING_M:
        field = "head" if door.height is None and not plain else "height"
        if door.surround or door.fanlight != "none":
            field = "surround" if door.surround else "fanlight"
        raise DesignError(
            f"{place.dotted}.{field}",
            f"a doorway whose top stands at {format_length(made.top_z_m, origins.units)}",
            f"at most {format_length(limit - UNDER_CEILING_M, origins.units)}, under {place.under}",
        )


def _check_before(made: Opening, porch: PorchDesign, origins: Origins) -> None:
    """Raise DesignError where the surround reaches the porch's columns."""
    surround = made.door.surround if made.door else None
    if surround is None:
        return
    out = surround.out_m + surround.order.cornice_projection_m
    room = porch.depth_m - porch.order.foot_width_m / 2.0
    if out > room - 2 * FOOT_M:
        raise DesignError(
            "house.door.surround",
            f"an order that stands {format_length(out, origins.units)} before the wall",
            f"at most {format_length(max(room - 2 * FOOT_M, 0.0), origins.units)}, to leave a way "
            "behind the porch's columns",
        )


def _box(opening: Opening) -> tuple[float, float, float, float]:
    """Left, right, foot and top of all that belongs to an opening on the wall's face."""
    x, half = opening.along_m, opening.reach_m
    return x - half, x + half, opening.foot_z_m, opening.top_z_m


def _check_apart(
    made: Opening, openings: tuple[Opening, ...], field: str, origins: Origins
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


def _check_corner(made: Opening, run_m: float, place: Place, origins: Origins) -> None:
    """Raise DesignError where a side door's surround or landing passes the wall's end."""
    steps = made.door.steps if made.door else None
    half = made.reach_m
    if steps is not None:
        half = max(half, steps.width_m / 2.0 + CHEEK_WIDTH_M)
    if abs(made.along_m) + half > run_m / 2.0:
        raise DesignError(
            f"{place.dotted}.bay",
            f"a doorway and landing {format_length(2.0 * half, origins.units)} wide",
            f"a bay that keeps it within the {made.wall} wall",
        )


# --- steps of its own ----------------------------------------------------------------------


def _with_steps(
    made: Opening,
    spec: SideDoor,
    place: Place,
    ground_before: Callable[[float], float],
    origins: Origins,
) -> Opening:
    """The door with a landing before it and a flight to the ground, where it stands above it."""
    work = made.door or DoorDesign()
    if not place.stand_z_m:
        return made
    least = made.width_m + 2.0 * casing_width(made.width_m)
    if work.surround:
        order = work.surround.order
        least = max(least, 2.0 * work.surround.axis_m + order.foot_width_m - 2.0 * CHEEK_WIDTH_M)
    at = (*place.field, "steps")
    riser = origins.choose(
        (*at, "riser"), spec.steps.riser, RISER_M, said_default("steps.riser", origins.units)
    )
    width = origins.choose(
        (*at, "width"), spec.steps.width, least, "the doorway over its casing (common practice)"
    )
    tread = origins.choose(
        (*at, "tread"), spec.steps.tread, TREAD_M, said_default("steps.tread", origins.units)
    )
    out = 0.0
    if work.surround:
        out = work.surround.out_m + work.surround.order.foot_width_m / 2.0
    depth = origins.choose(
        (*place.field, "landing"),
        spec.landing,
        LANDING_M + out,
        f"{said_default('steps.landing', origins.units)} clear",
    )
    if width < made.leaf_width_m or depth < out + 2 * FOOT_M:
        small, least_m = (
            ("steps.width", made.leaf_width_m)
            if width < made.leaf_width_m
            else ("landing", out + 2 * FOOT_M)
        )
        raise DesignError(
            f"{place.dotted}.{small}",
            format_length(min(width, depth), origins.units),
            f"at least {format_length(least_m, origins.units)}",
        )
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
    steps = StepsDesign(width, count, rise, tread, foot_z_m=foot_z)
    return replace(made, door=replace(work, steps=steps, landing_m=depth))


def steps_plan(house: HouseDesign) -> tuple[float, float, float, float] | None:
    """Plan (low x, low y, high x, high y) of a side door's landing and flight; None without."""
    for door in house.openings:
        if door.door and door.door.steps:
            steps = door.door.steps
            half = steps.width_m / 2.0 + CHEEK_WIDTH_M
            out = door.door.landing_m + steps.run_m
            x, side, depth = door.along_m, house.width_m / 2.0, house.depth_m
            match door.wall:
                case "right":
                    y = depth / 2.0 + x
                    return side, y - half, side + out, y + half
                case "left":
                    y = depth / 2.0 - x
                    return -side - out, y - half, -side, y + half
                case _:
                    return -x - half, depth, -x + half, depth + out
    return None


def check_beside_wings(spec: House, house: HouseDesign) -> None:
    """Raise DesignError where a wing stands over the side door or its steps."""
    side = spec.side_door
    if side is None:
        return
    plan = steps_plan(house)
    kept = any(o.place == SIDE_DOOR for o in house.openings)
    for wing in house.wings:
        half = wing.house.width_m / 2.0
        x0, x1 = wing.x_m - half, wing.x_m + half
        y0, y1 = wing.set_back_m, wing.set_back_m + wing.house.depth_m
        meets = plan is not None and (
            plan[0] < x1 and x0 < plan[2] and plan[1] < y1 and y0 < plan[3]
        )
        if wing.side == side.wall and (meets or not kept):
            raise DesignError(
                "house.side_door.bay", side.bay, f"a bay clear of the {wing.side} wing"
            )

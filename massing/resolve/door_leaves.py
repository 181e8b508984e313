"""One doorway: the sizes of its leaf, lights and frame, from what the scene says."""

from __future__ import annotations

from massing.design.opening import CurvedHead, DoorDesign, DoorOpening
from massing.geometry.arches import Curve
from massing.practice.defaults import default, said_default
from massing.practice.joinery_sizes import (
    ELLIPSE_OF_WIDTH,
    LEAF,
    SASH,
    THRESHOLD_M,
    head_reach,
    joinery,
)
from massing.resolve.door_heads import door_head, segment_rise_m
from massing.resolve.door_places import Place
from massing.resolve.door_surrounds import note_surround, surround_of, surround_top_m
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Door
from massing.settingout.fanlights import fanlight_lights, lights_by_rule
from massing.settingout.leafwork import panel_holes
from massing.units import HAIR_M, at_least, at_most, format_length

# Common practice, no source, unless a line says otherwise.
LEAF_WIDTH_M = default("doors.leaf")
PAIR_WIDTH_M = default("doors.pair")
LEAF_HEIGHT_M = default("doors.leaf_height")
LEAST_LEAF_M = default("doors.least_leaf")
FRAME_M = default("doors.frame")
SIDELIGHT_M = default("doors.sidelight")
TRANSOM_M = default("doors.transom")
LEAST_FAN_OF_WIDTH = default("doors.least_fanlight")
LEAST_TRANSOM_M = default("doors.least_transom")
LEAF_UNDER_TRANSOM_M = default("doors.leaf_under_transom")
OVER_LEAF_M = THRESHOLD_M + 2 * LEAF.clear_m + LEAF.mullion_m + SASH.stile_m  # to a fan's springing
UNDER_CEILING_M = default("doors.under_ceiling")


def doorway(door: Door, place: Place, origins: Origins) -> DoorOpening:
    """The doorway: as high as the windows' heads, or as its fanlight and surround leave.

    Raises:
        DesignError: it does not fit its place, or its fields do not go together.
    """
    width, wide = _widths(door, place, origins)
    rise = _rise(door, wide, place, origins)
    door = _without_low_transom(door, place, origins)
    head = door_head(door, place.walls, place.dotted, origins)
    arch = segment_rise_m(head, wide)
    most = _most(door, wide, place, head)
    room = most if door.fanlight != "none" else min(place.heads_z_m - place.floor_z_m, most)
    over = _over_leaf(door, head, rise, arch)
    if not (door.transom or rise or door.surround) and head == "casing":
        over = max(over, room - (most - FRAME_M - head_reach(wide, head)[1]))  # under the ceiling
    leaf = _leaf_height(door, place, room - over, rise, origins)
    height = _height(door, leaf, room, rise, arch)
    work = DoorDesign(
        leaves=door.leaves,
        panels=door.panels,
        raised=door.panelling == "raised",
        glazed=door.glazed,
        fanlight=door.fanlight,
        fanlight_lights=_lights(door, wide, rise) if rise else 0,
        fanlight_ring=door.fanlight_ring,
        surround=surround_of(door.surround, wide, height, place) if door.surround else None,
    )
    curve: Curve = "ellipse" if door.fanlight == "elliptical" else "segment"
    made = DoorOpening(
        place.name,
        place.wall,
        place.along_m,
        place.floor_z_m,
        wide,
        height,
        leaf_width_m=width,
        leaf_height_m=leaf,
        sidelights=door.sidelights,
        transom=door.transom and not rise,
        head=head,
        curved=CurvedHead(rise or arch, curve) if rise or arch else None,
        door=work,
        storey=0,
    )
    _check_joinery(door, made, place)
    _check_under(door, made, place, origins)
    if work.surround and work.surround.arch and not made.soffit.half_round:
        raise DesignError(
            f"{place.dotted}.surround.arch", "true", "false, but for a half round head"
        )
    if work.surround:
        note_surround(work.surround, place, origins)
    return made


def _widths(door: Door, place: Place, origins: Origins) -> tuple[float, float]:
    """Width of the leaf, or the pair of them, and of the doorway with frame and sidelights."""
    pair = door.leaves == 2
    rule = "doors.pair" if pair else "doors.leaf"
    if pair and door.panels == "carriage":
        rule = "doors.carriage"
    width = origins.choose(
        (*place.field, "width"), door.width, default(rule), said_default(rule, origins.units)
    )
    wide = width + 2 * FRAME_M + (2 * SIDELIGHT_M if door.sidelights else 0.0)
    if wide > place.bay_m:
        raise DesignError(
            f"{place.dotted}.width",
            format_length(width, origins.units),
            f"a doorway within its bay of {format_length(place.bay_m, origins.units)}",
        )
    return width, wide


def _over_leaf(door: Door, head: str, rise_m: float, arch_m: float) -> float:
    """What frame, fanlight or transom and a curved head take of the height above the leaf."""
    if rise_m:
        return OVER_LEAF_M + rise_m + arch_m
    if door.transom:
        return TRANSOM_M + arch_m
    return (FRAME_M if door.surround or head != "casing" else 0.0) + arch_m


def _leaf_height(door: Door, place: Place, room_m: float, rise_m: float, origins: Origins) -> float:
    """The leaf's height as asked; else the usual one, or what there is room for."""
    leaf = origins.choose(
        (*place.field, "height"),
        door.height,
        min(LEAF_HEIGHT_M, room_m),
        f"{said_default('doors.leaf_height', origins.units)}, under the window heads",
    )
    if leaf < LEAST_LEAF_M and door.height is None and (rise_m or door.surround or door.head):
        _too_low(door, place, leaf, origins)
    return leaf


def _height(door: Door, leaf_m: float, room_m: float, rise_m: float, arch_m: float) -> float:
    """The opening's height: leaf, frame and what stands over them; a transom fills the room."""
    if rise_m:
        return OVER_LEAF_M + leaf_m + rise_m
    if door.transom:
        return max(room_m, leaf_m + LEAST_TRANSOM_M + arch_m)
    return leaf_m + FRAME_M + arch_m


def _without_low_transom(door: Door, place: Place, origins: Origins) -> Door:
    """The door without a transom that the room over its leaf would make a strip of glass.

    Only a transom that the scene does not ask for is left out, and that is noted.
    """
    asked = "transom" in door.model_fields_set
    if asked or not door.transom or door.fanlight != "none" or door.surround:
        return door
    under = min(place.heads_z_m, place.ceiling_z_m - UNDER_CEILING_M) - place.floor_z_m
    leaf = door.height or LEAF_UNDER_TRANSOM_M
    if under - leaf >= TRANSOM_M - 1e-9:
        return door
    room = format_length(max(under - leaf, 0.0), origins.units)
    words = f"{room} over a leaf of {format_length(leaf, origins.units)} leaves it no glass"
    origins.say(f"{place.dotted}.transom", "left out", words)
    return door.model_copy(update={"transom": False})


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
        f"{joinery()['head.ellipse'].share} of the doorway's width (common practice)",
    )
    least = LEAST_FAN_OF_WIDTH * wide_m
    if not least - HAIR_M <= rise < wide_m / 2.0:
        raise DesignError(
            f"{place.dotted}.fanlight_rise",
            format_length(rise, origins.units),
            f"{at_least(least, origins.units)} to less than half the doorway's "
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
        f"what leaves {at_least(LEAST_LEAF_M, origins.units)} or more, under {place.under}",
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
        fits = surround_top_m(door.surround, wide_m, middle, place) <= room
        low, high = (middle, high) if fits else (low, middle)
    return low


def _check_joinery(door: Door, made: DoorOpening, place: Place) -> None:
    """Raise DesignError for a leaf too small for its panels, or a fan for its lights."""
    work = made.door
    try:
        panel_holes(
            made.leaf_width_m / work.leaves - LEAF.clear_m,
            made.leaf_height_m,
            work.panels,
            work.leaves,
        )
    except ValueError as error:
        raise DesignError(
            f"{place.dotted}.panels", f"{work.panels} panels: {error}", "a pattern that fits"
        ) from None
    if work.fanlight != "none":
        side = SASH.jamb_face_m if door.sidelights else FRAME_M
        half, rise = made.width_m / 2.0 - side, made.soffit.rise_m - side
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


def _check_under(door: Door, made: DoorOpening, place: Place, origins: Origins) -> None:
    """Raise DesignError where what stands over the door crosses floor, cornice or ceiling."""
    plain = made.curved is None and made.head == "casing" and not door.surround
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
            f"a top at {at_most(limit - UNDER_CEILING_M, origins.units)} or lower, under "
            f"{place.under}",
        )

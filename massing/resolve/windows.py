"""The window of a storey, from what the scene says and the rules for what it leaves out."""

from __future__ import annotations

from dataclasses import replace

from massing.canon.sources import cited
from massing.design.kinds import Filling, HeadName
from massing.design.opening import CurvedHead, FloorWindow, ShuttersDesign, WindowOpening
from massing.practice.defaults import default, said_default, share, sourced
from massing.practice.joinery_sizes import (
    ELLIPSE_OF_WIDTH,
    HEADS,
    SASH,
    SEGMENT_OF_WIDTH,
    SHUTTER,
    SILL_HEIGHT_M,
    head_reach,
    joinery,
)
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Window
from massing.settingout.sashes import check_window, daylights
from massing.units import HAIR_M, at_least, at_most, floor_name, format_length

# Common practice, no source, unless a line says otherwise.
WINDOW_OF_BAY = default("windows.of_bay")
WINDOW_WIDTH_LIMITS_M = (default("windows.least_width"), default("windows.most_width"))
TRIPARTITE_OF_BAY = default("windows.tripartite_of_bay")
TRIPARTITE_WIDTH_LIMITS_M = (
    default("windows.least_tripartite"),
    default("windows.most_tripartite"),
)
TRIPARTITE_CENTRE = default("windows.tripartite_centre")
SILL_M = default("windows.sill")
HEAD_CLEARANCE_M = default("windows.head_clearance")
UPPER_WINDOW_RATIO = default("windows.upper")
PAIR_FROM_M = default("windows.pair_from")
PANE_M = (default("windows.pane_width"), default("windows.pane_height"))
LEAST_RISE_OF_WIDTH = default("windows.least_elliptical")
LEAST_RISE_M = default("windows.least_rise")
SEGMENT_OF_HEIGHT = default("windows.segment")
CORNICE_OF_WALL = default("house.cornice")
LEAST_HEIGHT_M = default("windows.least_height")
_UNDER = "under the floor, cornice or porch ceiling above"
FILLINGS: dict[str, Filling] = {
    "casement": "casement",
    "tripartite": "tripartite",
    "fixed": "fixed",
}


def _no_room(
    window: Window,
    storey: int,
    named: str,
    between_z: tuple[float, float],
    sill_m: float,
    room_m: float,
    origins: Origins,
) -> DesignError:
    """Of a storey that leaves no height for a window.

    Its sill is too high, the storey itself too low, or what comes down over it too deep.
    """
    least = at_least(LEAST_HEIGHT_M, origins.units)
    on = f"on the {floor_name(storey, origins.units)}"
    short = LEAST_HEIGHT_M - room_m
    if window.sill is not None and sill_m > short:
        most = at_most(sill_m - short, origins.units)
        given = format_length(sill_m, origins.units)
        return DesignError(f"{named}.sill", given, f"at most {most}, a window of {least} over it")
    noted = origins.notes.get(f"house.storeys.{storey}")
    high = (noted.value if noted is not None else None) or between_z[1] - between_z[0]
    over = between_z[0] + high - between_z[1]
    if room_m + over < LEAST_HEIGHT_M:
        wanted = max(LEAST_HEIGHT_M, window.height or 0.0)
        # A cornice by rule grows with the wall that it crowns.
        enough = at_least(high + (wanted - room_m) / (1.0 - CORNICE_OF_WALL), origins.units)
        return DesignError(
            f"house.storeys.{storey}",
            format_length(high, origins.units),
            f"at least {enough}, with a window of {at_least(wanted, origins.units)} {on}",
        )
    return DesignError(
        f"{named}.height",
        format_length(window.height or max(room_m, 0.0), origins.units),
        f"{least} or more {on}, {_UNDER}",
    )


def storey_window(
    window: Window,
    storey: int,
    given: int,
    floor_z: float,
    ceiling_z: float,
    spacing: float,
    below: WindowOpening | None,
    origins: Origins,
) -> WindowOpening:
    """The window that a storey repeats, without a name or a place along a wall.

    Args:
        window: what the scene says of it.
        storey: counted from 0, and ``given``, how many storeys the scene gives windows for.
        floor_z: the storey's floor, and ``ceiling_z`` what its windows stay under.
        spacing: centre to centre of the nearest bays.
        below: the window of the storey below.

    Raises:
        DesignError: it does not fit its storey, or its fields do not go together.
    """
    at = ("house", "windows", storey)
    named = f"house.windows.{min(storey, max(given - 1, 0))}"
    width = _width(window, storey, spacing, below, origins)
    to_floor = window.sill is not None and abs(window.sill) < 1e-9 and storey == 0
    sill = origins.choose(
        (*at, "sill"), window.sill, SILL_M, said_default("windows.sill", origins.units)
    )
    rule = _height_rule(window, width, below, to_floor)
    height = _height(window, storey, named, (floor_z, ceiling_z), width, sill, rule, origins)
    made = FloorWindow if to_floor else WindowOpening
    pattern = made(
        "",
        "front",
        0.0,
        floor_z + sill,
        width,
        height,
        head=window.head,
        curved=_curved(window, width, at, origins),
        shutters=_shutters(window, to_floor),
        panel_below_m=window.panel_below or None,
        filling=FILLINGS.get(window.kind, "hung"),
    )
    _check(window, pattern, floor_z, storey, named, origins)
    pattern = with_lights(window, pattern, named)
    try:
        check_window(pattern)
    except ValueError as fault:
        raise DesignError(
            f"{named}.lights",
            f"{format_length(width, origins.units)} by {format_length(height, origins.units)}, "
            f"{fault}",
            "fewer lights, a larger window, or a lower rise",
        ) from None
    return pattern


def _height(
    window: Window,
    storey: int,
    named: str,
    between_z: tuple[float, float],
    width: float,
    sill: float,
    rule: tuple[float, str],
    origins: Origins,
) -> float:
    """As asked, or by the rule where the storey has room for it.

    Raises:
        DesignError: the storey leaves none, or not that much.
    """
    high, why = rule
    floor_z, ceiling_z = between_z
    room = ceiling_z - HEAD_CLEARANCE_M - head_reach(width, window.head)[1] - floor_z - sill
    height = origins.choose(
        ("house", "windows", storey, "height"),
        window.height,
        min(high, room),
        why if high <= room else "what the storey leaves",
    )
    if room < LEAST_HEIGHT_M:
        raise _no_room(window, storey, named, between_z, sill, room, origins)
    if height > room + 1e-9 or height < LEAST_HEIGHT_M:
        raise DesignError(
            f"{named}.height",
            format_length(height, origins.units),
            f"{at_least(LEAST_HEIGHT_M, origins.units)} to {at_most(room, origins.units)} on the "
            f"{floor_name(storey, origins.units)}, {_UNDER}",
        )
    return height


def _width(
    window: Window,
    storey: int,
    spacing: float,
    below: WindowOpening | None,
    origins: Origins,
) -> float:
    triple = window.kind == "tripartite"
    alike = below is not None and (below.filling == "tripartite") == triple
    share = TRIPARTITE_OF_BAY if triple else WINDOW_OF_BAY
    low, high = TRIPARTITE_WIDTH_LIMITS_M if triple else WINDOW_WIDTH_LIMITS_M
    rule = min(max(share * spacing, low), high)
    return origins.choose(
        ("house", "windows", storey, "width"),
        window.width,
        below.width_m if below is not None and alike else rule,
        "as the storey below"
        if alike
        else sourced(
            f"{share:g} of the bay, within common sizes",
            "windows.tripartite_of_bay" if triple else "windows.of_bay",
        ),
    )


def _height_rule(
    window: Window, width: float, below: WindowOpening | None, to_floor: bool
) -> tuple[float, str]:
    more = SILL_M if to_floor else 0.0
    if below is not None:
        ordinary = below.height_m - (SILL_M if isinstance(below, FloorWindow) else 0.0)
        words = f"{share('windows.upper')} of the storey below"
        return ordinary * UPPER_WINDOW_RATIO, sourced(words, "windows.upper")
    if window.kind == "tripartite":
        return 2.0 * TRIPARTITE_CENTRE * width + more, "twice the middle light (common practice)"
    why = f"twice the width ({cited('palladio I.25')})"
    return 2.0 * width + more, why + (", and down to the floor" if to_floor else "")


def _curved(
    window: Window, width: float, at: tuple[str | int, ...], origins: Origins
) -> CurvedHead | None:
    line = HEADS[window.head].line
    if line == "segmental":
        why = f"{joinery()['head.segment'].share} of the width (common practice)"
        return CurvedHead(origins.choose((*at, "rise"), window.rise, SEGMENT_OF_WIDTH * width, why))
    if line == "elliptical":
        why = f"{joinery()['head.ellipse'].share} of the width (common practice)"
        rise = origins.choose((*at, "rise"), window.rise, ELLIPSE_OF_WIDTH * width, why)
        return CurvedHead(rise, "ellipse")
    return CurvedHead(width / 2.0) if line == "semicircular" else None


def _shutters(window: Window, to_floor: bool) -> ShuttersDesign | None:
    if window.shutters == "none":
        return None
    return ShuttersDesign(
        window.shutters,
        window.shutters_closed,
        window.shutter_width,
        window.shutter_side,
        window.hold_backs or ("beside" if to_floor else "below"),
    )


def curved_by_rule(head: HeadName, width_m: float) -> CurvedHead | None:
    """The curve of a head over an opening, as it is usual; None of a level one."""
    match HEADS[head].line:
        case "segmental":
            return CurvedHead(SEGMENT_OF_WIDTH * width_m)
        case "elliptical":
            return CurvedHead(ELLIPSE_OF_WIDTH * width_m, "ellipse")
        case "semicircular":
            return CurvedHead(width_m / 2.0)
    return None


def with_lights(window: Window, pattern: WindowOpening, named: str) -> WindowOpening:
    """The window with its leaves and its pattern of lights, rows by rule where none are given."""
    if pattern.filling == "fixed":
        each = (1, 1)
        if window.lights is not None:
            if window.lights[0] != window.lights[1]:
                raise DesignError(f"{named}.lights", "two patterns", "one, as 2x4, of fixed glass")
            each = (window.lights[0][0], window.lights[0][1] or 1)
        return replace(pattern, leaves=1, upper_lights=each, lower_lights=each)
    if pattern.filling == "casement":
        leaves = window.leaves or (2 if pattern.width_m >= PAIR_FROM_M else 1)
        pattern = replace(pattern, leaves=leaves)
        (hole,) = daylights(pattern)
        wide = (hole.right_m - hole.left_m) / leaves - 2.0 * SASH.stile_m
        tall = hole.top.crown_z_m - hole.foot_z_m - SASH.bottom_rail_m - SASH.stile_m
        across = max(1, round(wide / PANE_M[0]))
        each = (across, max(1, round(tall / PANE_M[1])))
        if window.lights is not None:
            if window.lights[0] != window.lights[1]:
                raise DesignError(
                    f"{named}.lights", "two patterns", "one for each leaf of a casement, as 2x4"
                )
            each = window.lights[0]
    else:
        hole = daylights(pattern)[len(daylights(pattern)) // 2]
        wide = hole.right_m - hole.left_m - 2.0 * SASH.stile_m
        tall = (hole.top.crown_z_m - hole.foot_z_m) / 2.0
        each = (3, 2)
        if window.lights is not None:
            upper, lower = window.lights
            if upper[1] and lower[1]:
                return replace(pattern, upper_lights=upper, lower_lights=lower)
            each = upper
    if not each[1]:
        pane = wide / each[0]
        each = (each[0], max(1, round(tall / (pane * PANE_M[1] / PANE_M[0]))))
    return replace(pattern, upper_lights=each, lower_lights=each)


def _check(
    window: Window,
    pattern: WindowOpening,
    floor_z: float,
    storey: int,
    named: str,
    origins: Origins,
) -> None:
    """Raise DesignError for what a window's own fields cannot have together."""

    _check_sill(pattern, pattern.sill_z_m - floor_z, storey, named, origins.units)
    _check_head(window, pattern, named, origins.units)
    _check_kind(window, storey, named)
    _check_shutters(window, pattern, named, origins.units)


def _check_sill(pattern: WindowOpening, sill_m: float, storey: int, named: str, units: str) -> None:
    """Raise DesignError where the stone, or a panel under it, has no room over the floor."""
    if sill_m < SILL_HEIGHT_M - 1e-9 and not isinstance(pattern, FloorWindow):
        down = "; or 0 ft, down to the floor" if storey == 0 else ""
        raise DesignError(
            f"{named}.sill",
            format_length(sill_m, units),
            f"at least {at_least(SILL_HEIGHT_M, units)}, the depth of its stone{down}",
        )
    low = 0.0 if isinstance(pattern, FloorWindow) else sill_m - SILL_HEIGHT_M
    if pattern.panel_below_m is not None and pattern.panel_below_m > low + 1e-9:
        raise DesignError(
            f"{named}.panel_below",
            format_length(pattern.panel_below_m, units),
            f"at most {at_most(max(low, 0.0), units)}, from the sill to the floor",
        )


def _check_head(window: Window, pattern: WindowOpening, named: str, units: str) -> None:
    """Raise DesignError for a rise that its head does not have, or that is out of reason."""
    line, width = HEADS[window.head].line, pattern.width_m
    if window.rise is not None and line not in ("segmental", "elliptical"):
        raise DesignError(f"{named}.rise", "a rise", "only with a segmental or an elliptical head")
    most = width / 2.0
    if line == "segmental":
        most = min(most, SEGMENT_OF_HEIGHT * pattern.height_m)
    least = max(LEAST_RISE_OF_WIDTH * width, LEAST_RISE_M) if line == "elliptical" else 0.0
    rise = pattern.soffit.rise_m
    if not least - 1e-9 <= rise <= most + 1e-9:
        raise DesignError(
            f"{named}.rise",
            format_length(rise, units),
            f"{at_least(least, units)} to {at_most(most, units)}: at most half the window's width"
            + (f" and {share('windows.segment')} of its height" if line == "segmental" else ""),
        )


def _check_kind(window: Window, storey: int, named: str) -> None:
    """Raise DesignError for what goes with another kind of window, or another storey."""
    line = HEADS[window.head].line
    if window.kind == "french" and storey > 0:
        raise DesignError(
            f"{named}.kind", "french", "sash: only the lowest storey opens on a porch"
        )
    if window.kind == "tripartite" and line in ("semicircular", "elliptical"):
        raise DesignError(
            f"{named}.head", window.head, "a level or a segmental head over a tripartite window"
        )
    if window.leaves is not None and window.kind != "casement":
        raise DesignError(f"{named}.leaves", window.leaves, "only with kind: casement")
    if window.head == "hood on consoles" and window.shutters != "none":
        raise DesignError(
            f"{named}.shutters", window.shutters, "none where consoles hang beside the casing"
        )


def _check_shutters(window: Window, pattern: WindowOpening, named: str, units: str) -> None:
    """Raise DesignError for shutters that cannot be hung as asked."""
    if window.shutters == "none":
        for field, default in (
            ("shutter_width", None),
            ("shutter_side", "both"),
            ("hold_backs", None),
        ):
            asked = getattr(window, field)
            if asked != default:
                said = format_length(asked, units) if isinstance(asked, float) else asked
                raise DesignError(f"{named}.{field}", said, "only with shutters")
        return
    if isinstance(pattern, FloorWindow) and window.hold_backs == "below":
        raise DesignError(
            f"{named}.hold_backs",
            "below",
            "beside, on a window to the floor: no wall is left under the leaf",
        )
    if window.shutter_width is None:
        return
    if window.shutters_closed:
        raise DesignError(f"{named}.shutter_width", "a width", "left out where shutters are closed")
    low, high = 3.0 * SHUTTER.stile_m, pattern.width_m
    if not low - HAIR_M <= window.shutter_width <= high + HAIR_M:
        raise DesignError(
            f"{named}.shutter_width",
            format_length(window.shutter_width, units),
            f"{at_least(3.0 * SHUTTER.stile_m, units)} to {at_most(pattern.width_m, units)}, "
            "the opening's width",
        )

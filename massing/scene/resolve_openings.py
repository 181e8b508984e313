"""Windows of a design, from what the scene says."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

from massing.scene.design import Opening, PorchDesign
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import House, Window
from massing.sections import SEGMENT_OF_WIDTH, SILL_HEIGHT_M, head_reach
from massing.units import FOOT_M, INCH_M, format_length

# Common practice, no source, unless a line says otherwise.
WINDOW_OF_BAY = 0.38
WINDOW_WIDTH_LIMITS_M = (0.75, 1.15)
SILL_M = 2 * FOOT_M
HEAD_CLEARANCE_M = 2 * INCH_M  # casing to the floor, ceiling or frieze above
LEAST_STOREY_M = 1.8  # a porch ceiling lower than this cuts the storey's windows
UPPER_WINDOW_RATIO = 5.0 / 6.0  # heights fall by about a sixth a storey; see proportion.py
FRENCH_PANE_M = (11 * INCH_M, 15 * INCH_M)


def window_ceilings(
    levels: tuple[float, ...], cornice_z: float, porch: PorchDesign | None
) -> tuple[float, ...]:
    """What each storey's windows must stay under: floor, cornice or porch ceiling."""
    limits = []
    for floor_z, above_z in pairwise(levels):
        limit = min(above_z, cornice_z)
        for ceiling_z in (porch.ceiling_z_m, porch.highest.ceiling_z_m) if porch else ():
            if floor_z + LEAST_STOREY_M < ceiling_z < limit:
                limit = ceiling_z
        limits.append(limit)
    return tuple(limits)


def openings_of(
    house: House,
    levels: tuple[float, ...],
    ceilings: tuple[float, ...],
    bays: tuple[float, ...],
    wall_m: float,
    porch_half_m: float | None,
    origins: Origins,
) -> tuple[Opening, ...]:
    """Windows on all four walls, none in the ground floor's middle bay, where the door goes.

    ``porch_half_m`` is None for a wing, which has neither porch nor entrance.
    """
    storeys = ("ground", "first", "second")
    spacing = bays[1] - bays[0] if len(bays) > 1 else house.width
    openings: list[Opening] = []
    width = height = None
    for i, floor_z in enumerate(levels[:-1]):
        window = house.windows[min(i, len(house.windows) - 1)] if house.windows else Window()
        own = i < len(house.windows)
        where = ("house", "windows", min(i, max(len(house.windows) - 1, 0)))
        width = origins.choose(
            (*where, "width") if own else ("house", "windows", i, "width"),
            window.width,
            width or _clip(WINDOW_OF_BAY * spacing, *WINDOW_WIDTH_LIMITS_M),
            "as the storey below" if width else "0.38 of the bay, within common sizes",
        )
        sill = origins.choose(
            ("house", "windows", i, "sill"), window.sill, SILL_M, "common practice: 2 ft"
        )
        above = head_reach(width, window.head)[1]
        room = ceilings[i] - HEAD_CLEARANCE_M - above - floor_z - sill
        rule = 2.0 * width if height is None else height * UPPER_WINDOW_RATIO
        why = (
            "twice the width (Palladio, by a 19th-century house book)"
            if height is None
            else "five sixths of the storey below"
        )
        height = origins.choose(
            ("house", "windows", i, "height"),
            window.height if own or house.windows else None,
            min(rule, room),
            why if rule <= room else "what the storey leaves",
        )
        if height > room + 1e-9 or height < 0.3:
            raise DesignError(
                f"house.windows.{min(i, max(len(house.windows) - 1, 0))}.height",
                format_length(height, origins.units),
                f"1 ft to {format_length(max(room, 0.0), origins.units)} on the {storeys[i]} "
                "storey, under the floor, cornice or porch ceiling above",
            )
        upper, lower = window.lights or ((3, 2), (3, 2))
        rise = 0.0
        if window.head == "segmental arch":
            rise = origins.choose(
                ("house", "windows", i, "rise"),
                window.rise,
                SEGMENT_OF_WIDTH * width,
                "an eighth of the width (common practice)",
            )
        pattern = Opening(
            "", "front", "window", 0.0, floor_z + sill, width, height, upper, lower,
            head=window.head,
            rise_m=rise,
            shutters=window.shutters,
            shutters_closed=window.shutters_closed,
            panel_below_m=window.panel_below or 0.0,
        )  # fmt: skip
        _check_window(window, pattern, floor_z, i, origins)
        half = pattern.reach_m
        for field, centres, length in (
            ("bay_spacing", bays, house.width),
            ("side_bays", _side_centres(house), house.depth),
        ):
            between = min((b - a for a, b in pairwise(centres)), default=math.inf)
            reach = max(centres, default=-math.inf) + half
            if reach > length / 2.0 - wall_m - 1e-6 or 2.0 * half > between - 1e-6:
                raise DesignError(
                    f"house.{field}",
                    f"a window {format_length(2.0 * half, origins.units)} wide over all "
                    f"in {len(centres)} bays of {format_length(length, origins.units)}",
                    "bays that hold it, clear of its neighbour and of the corner",
                )
        for wall, centres in (
            ("front", bays),
            ("right", _side_centres(house)),
            ("back", bays),
            ("left", _side_centres(house)),
        ):
            for j, along in enumerate(centres):
                entrance = porch_half_m is not None and wall == "front" and i == 0
                if entrance and 2 * j == len(bays) - 1:
                    continue  # for the entrance: see resolve_doors
                name = f"{wall}/{storeys[i]}/window {j + 1}"
                made = replace(pattern, name=name, wall=wall, along_m=along)
                on_porch = wall == "front" and abs(along) + half < (porch_half_m or 0.0)
                if window.kind == "french" and i == 0 and on_porch:
                    made = _french(made, floor_z)
                openings.append(made)
    return tuple(openings)


def _french(window: Opening, floor_z: float) -> Opening:
    """A pair of leaves in the place of a sash, from the floor to the same head."""
    height = window.head_z_m - floor_z
    across = max(1, round(window.width_m / 2.0 / FRENCH_PANE_M[0]))
    up = max(2, round(0.75 * height / FRENCH_PANE_M[1]))
    return replace(
        window,
        kind="french",
        sill_z_m=floor_z,
        height_m=height,
        lower_lights=(across, up),
        head="casing",
        rise_m=0.0,
        shutters="none",
        panel_below_m=0.0,
    )


def _check_window(
    window: Window, pattern: Opening, floor_z: float, i: int, origins: Origins
) -> None:
    """Raise DesignError for what a window's own fields cannot have together."""
    at = f"house.windows.{i}"
    if pattern.sill_z_m - floor_z < SILL_HEIGHT_M - 1e-9:
        raise DesignError(
            f"{at}.sill",
            format_length(pattern.sill_z_m - floor_z, origins.units),
            f"at least {format_length(SILL_HEIGHT_M, origins.units)}, the depth of its stone",
        )
    low = pattern.sill_z_m - floor_z - SILL_HEIGHT_M
    if pattern.panel_below_m > low + 1e-9:
        raise DesignError(
            f"{at}.panel_below",
            format_length(pattern.panel_below_m, origins.units),
            f"at most {format_length(max(low, 0.0), origins.units)}, from the sill to the floor",
        )
    if window.rise is not None and window.head != "segmental arch":
        raise DesignError(f"{at}.rise", "a rise", "only with head: segmental arch")
    if pattern.rise_m > min(pattern.width_m / 2.0, 0.3 * pattern.height_m):
        raise DesignError(
            f"{at}.rise",
            format_length(pattern.rise_m, origins.units),
            "at most half the window's width and three tenths of its height",
        )
    if window.kind == "french" and i > 0:
        raise DesignError(f"{at}.kind", "french", "sash: only the ground storey opens on a porch")


def _side_centres(house: House) -> tuple[float, ...]:
    between = house.depth / max(house.side_bays, 1)
    return tuple((j - (house.side_bays - 1) / 2.0) * between for j in range(house.side_bays))


def _clip(value: float, low: float, high: float) -> float:
    return min(max(value, low), high)

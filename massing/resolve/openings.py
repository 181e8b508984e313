"""Windows of a design, from what the scene says."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from itertools import pairwise

from massing.design.kinds import Wall
from massing.design.opening import FrenchWindow, Opening, WindowOpening
from massing.design.porch import PorchDesign
from massing.practice.defaults import default
from massing.resolve.bays import closest, entrance_bay
from massing.resolve.odd_windows import check_odd_windows, with_odd_windows
from massing.resolve.windows import PANE_M, storey_window
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import House, Window
from massing.units import format_length

# Common practice, no source, unless a line says otherwise.
LEAST_STOREY_M = default("windows.least_storey")


def window_ceilings(
    levels: tuple[float, ...],
    cornice_z: float,
    porch: PorchDesign | None,
    under: Sequence[float] = (),
) -> tuple[float, ...]:
    """What each storey's windows must stay under: floor, cornice or a porch's ceiling.

    ``under`` are the ceilings of porches at the sides.
    """
    limits = []
    own = (porch.ceiling_z_m, porch.highest.ceiling_z_m) if porch else ()
    for floor_z, above_z in pairwise(levels):
        limit = min(above_z, cornice_z)
        for ceiling_z in (*own, *under):
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
    porch: PorchDesign | None,
    origins: Origins,
) -> tuple[Opening, ...]:
    """Windows on all four walls, none in the ground floor's middle bay, where the door goes.

    ``porch`` is None for a wing, which has neither porch nor entrance.
    """
    check_odd_windows(house, len(levels) - 1)
    spacing = closest(bays, house.width)
    middle = None if porch is None else entrance_bay(house, porch.centre_m, bays)
    openings: list[Opening] = []
    below: WindowOpening | None = None
    sides = _side_centres(house)
    walls: tuple[tuple[Wall, tuple[float, ...]], ...] = (
        ("front", bays),
        ("right", sides),
        ("back", tuple(0.0 - c for c in reversed(bays))),
        ("left", sides),
    )
    for i, floor_z in enumerate(levels[:-1]):
        window = house.windows[min(i, len(house.windows) - 1)] if house.windows else Window()
        pattern = storey_window(
            window, i, len(house.windows), floor_z, ceilings[i], spacing, below, origins
        )
        beam_z = min(_beams_before(pattern, bays, porch), default=ceilings[i])
        if window.height is None and beam_z < ceilings[i]:
            pattern = storey_window(
                window, i, len(house.windows), floor_z, beam_z, spacing, below, origins
            )
        under_z = min(beam_z, ceilings[i]) if window.height is None else ceilings[i]
        make = partial(_storey_window, house, i, floor_z, under_z, spacing, below)
        below = pattern
        for wall, centres in walls:
            left_out = middle if wall == "front" and i == 0 else None  # for the entrance
            row: list[Opening] = []
            for each in _row(pattern, wall, centres, i, left_out):
                opens = wall == "front" and i == 0 and window.kind == "french"
                on_porch = opens and _on_porch(each, porch)
                row.append(_french(each, floor_z) if on_porch else each)
            row = with_odd_windows(row, house, wall, i, window, make, origins)
            length = house.width if wall in ("front", "back") else house.depth
            _check_row(row, house, length / 2.0 - wall_m, origins)
            openings += row
    return tuple(openings)


def _storey_window(
    house: House,
    storey: int,
    floor_z: float,
    ceiling_z: float,
    spacing: float,
    below: WindowOpening | None,
    window: Window,
    origins: Origins,
) -> WindowOpening:
    return storey_window(
        window, storey, len(house.windows), floor_z, ceiling_z, spacing, below, origins
    )


def _row(
    pattern: WindowOpening, wall: Wall, centres: Sequence[float], storey: int, left_out: int | None
) -> list[WindowOpening]:
    """A storey's windows along one wall, numbered as seen from outside."""
    return [
        pattern.at(f"window {j + 1}", wall, along, storey)
        for j, along in enumerate(centres)
        if j != left_out
    ]


def _on_porch(opening: Opening, porch: PorchDesign | None) -> bool:
    """Whether a window of the front stands wholly between the porch's outermost columns."""
    if porch is None:
        return False
    half_m = porch.axes_m[-1] - porch.centre_m
    return porch.from_middle_m(opening.along_m) + opening.reach_m < half_m


def _beams_before(
    window: Opening, bays: tuple[float, ...], porch: PorchDesign | None
) -> Iterator[float]:
    """Undersides of the porch's beams that would cross a storey's windows at the wall."""
    for order in {porch, porch.highest} if porch else ():
        half_under = any(stands_half_under(along, window.reach_m, order) for along in bays)
        if half_under and window.foot_z_m < order.column_top_z_m < window.top_z_m:
            yield order.column_top_z_m


def stands_half_under(along_m: float, reach_m: float, porch: PorchDesign) -> bool:
    """Whether what reaches so far about a place stands before the end of a porch's beam."""
    outer = porch.half_width_m + porch.order.cornice_projection_m
    inner = porch.half_width_m - porch.order.upper_diameter_m
    off_m = porch.from_middle_m(along_m)
    return off_m - reach_m < outer and off_m + reach_m > inner


def _check_row(row: list[Opening], house: House, clear_m: float, origins: Origins) -> None:
    """Raise DesignError where two openings of a row, or one and a corner, collide."""
    if not row:
        return
    field = "house.side_bays" if row[0].wall in ("right", "left") else "house.bay_spacing"
    if field == "house.bay_spacing" and house.bay_centres is not None:
        field = "house.bay_centres"
    if field == "house.bay_spacing" and house.rhythm == "paired":
        field = "house.pair_spacing"

    def over_all(opening: Opening) -> str:
        return f"{opening.name} ({format_length(2.0 * opening.reach_m, origins.units)} over all)"

    for opening in row:
        if abs(opening.along_m) + opening.reach_m > clear_m - 1e-6:
            raise DesignError(
                field,
                f"{over_all(opening)} {format_length(abs(opening.along_m), origins.units)} from "
                "the middle",
                f"clear of the corner, within {format_length(clear_m, origins.units)}",
            )
    for one, other in pairwise(row):
        between = other.along_m - one.along_m
        if one.reach_m + other.reach_m > between - 1e-6:
            raise DesignError(
                field,
                f"{format_length(between, origins.units)} between {over_all(one)} and "
                f"{over_all(other)}, which collide",
                f"more than {format_length(one.reach_m + other.reach_m, origins.units)}",
            )


def _french(window: WindowOpening, floor_z: float) -> FrenchWindow:
    """A pair of leaves in the place of a sash, from the floor to the same head."""
    height = window.head_z_m - floor_z
    across = max(1, round(window.width_m / 2.0 / PANE_M[0]))
    up = max(2, round(0.75 * height / PANE_M[1]))
    return FrenchWindow(
        window.place,
        window.wall,
        window.along_m,
        floor_z,
        window.width_m,
        height,
        storey=window.storey,
        lights=(across, up),
    )


def _side_centres(house: House) -> tuple[float, ...]:
    between = house.depth / max(house.side_bays, 1)
    return tuple((j - (house.side_bays - 1) / 2.0) * between for j in range(house.side_bays))

"""Windows that differ from their storey's: another one in a bay, two for one, or none."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from massing.design.kinds import Wall
from massing.design.opening import Opening, WindowOpening
from massing.practice.defaults import default, share, sourced
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import House, OddWindow, Window

TWO_OF_ONE = default("windows.two_of_one")
BETWEEN_TWO_M = default("windows.between_two")
_OF_SHUTTERS = ("shutters_closed", "shutter_width", "shutter_side", "hold_backs")
_WHERE = {"wall", "storey", "bay", "number"}

Make = Callable[[Window, Origins], WindowOpening]
"""What makes a storey's window of what is said of it."""


def with_odd_windows(
    row: Sequence[Opening],
    house: House,
    wall: Wall,
    storey: int,
    window: Window,
    make: Make,
    origins: Origins,
) -> list[Opening]:
    """A row of one wall and storey with the windows that the scene says are not like the others.

    Args:
        row: the windows alike, from left to right.
        window: what the scene says of them.
        make: makes one of what is said of it.

    Raises:
        DesignError: there is no window in that bay, or it does not fit there.
    """
    found = list(row)
    for k, odd in enumerate(house.odd_windows):
        if (odd.wall, odd.storey - 1) != (wall, storey):
            continue
        there = next((o for o in found if o.place == f"window {odd.bay}"), None)
        if there is None:
            known = ", ".join(o.place.split()[-1] for o in row) or "none on this wall"
            raise DesignError(
                f"house.odd_windows.{k}.bay", odd.bay, f"a bay with a window: {known}"
            )
        at = found.index(there)
        found[at : at + 1] = _instead(odd, k, there, window, make, origins)
    return found


def check_odd_windows(house: House, storeys: int) -> None:
    """Raise DesignError for a window of a storey that the house has not."""
    for k, odd in enumerate(house.odd_windows):
        if odd.storey > storeys:
            raise DesignError(f"house.odd_windows.{k}.storey", odd.storey, f"1 to {storeys}")


def _instead(
    odd: OddWindow, k: int, there: Opening, window: Window, make: Make, origins: Origins
) -> list[Opening]:
    if odd.number == "none":
        return []
    told = {name: getattr(odd, name) for name in odd.model_fields_set - _WHERE}
    if odd.number == "two":
        told = {"width": TWO_OF_ONE * there.width_m, "lights": None, **told}
    if told.get("shutters") == "none":
        told |= {name: Window.model_fields[name].default for name in _OF_SHUTTERS}
    own = Origins({}, origins.units)  # the storey's own notes stay the storey's
    try:
        made = make(window.model_copy(update=told), own)
    except DesignError as fault:
        field = fault.field.rsplit(".", 1)[-1]
        raise DesignError(f"house.odd_windows.{k}.{field}", fault.given, fault.allowed) from None
    placed = made.at(there.place, there.wall, there.along_m, there.storey)
    origins.note(f"house.odd_windows.{k}.width", placed.width_m, _why(odd, k, origins))
    if odd.number == "one":
        return [placed]
    half = placed.reach_m + BETWEEN_TWO_M / 2.0
    return [
        replace(placed, place=f"{there.place}{letter}", along_m=there.along_m + side * half)
        for letter, side in (("a", -1.0), ("b", 1.0))
    ]


def _why(odd: OddWindow, k: int, origins: Origins) -> str:
    if odd.width is not None:
        return origins.given(("house", "odd_windows", k, "width"))
    if odd.number == "two":
        of_one = f"{share('windows.two_of_one')} of the one in their place"
        return sourced(of_one, "windows.two_of_one")
    return "as its storey's"

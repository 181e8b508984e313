"""Vitruvius' rules of the eye: taller columns diminish less and carry more, closer ones are
slenderer. Book III of the Ten Books; marks beside the tables in ``vitruvius.yaml``."""

from __future__ import annotations

from functools import cache
from typing import Any

from massing.canon.tables import read_table, spacings


@cache
def _table() -> Any:
    return read_table("vitruvius.yaml")


def _step(rule: str, height_m: float) -> Any:
    if not height_m > 0.0:
        raise ValueError(f"a column's height must be more than nothing, got {height_m}")
    steps = _table()[rule]["steps"]
    feet = height_m / _table()["foot_m"]
    return next((s for s in steps if feet <= s["feet"] + 1e-9), steps[-1])


def short_column_m() -> float:
    """The height up to which he gives a column no correction for the eye (III.3.12)."""
    return float(_table()["diminution"]["steps"][0]["feet"] * _table()["foot_m"])


def upper_diameter_ratio(column_height_m: float) -> float:
    """Upper over lower diameter for a column of this height (III.3.12, read).

    Beyond the tallest that he names the last ratio holds.

    >>> round(upper_diameter_ratio(4.0), 4), round(upper_diameter_ratio(8.0), 4)
    (0.8333, 0.8571)

    Raises:
        ValueError: the height is not positive.
    """
    return float(_step("diminution", column_height_m)["ratio"])


def architrave_height_m(column_height_m: float, diameter_m: float) -> float:
    """Height of the architrave over a column (III.5.8, read).

    >>> architrave_height_m(4.0, 0.5)
    0.25

    Raises:
        ValueError: the height is not positive.
    """
    step = _step("architrave", column_height_m)
    if "diameters" in step:
        return float(step["diameters"]) * diameter_m
    return column_height_m / float(step["parts"])


def nearest_spacing(clear_diameters: float) -> str:
    """The named intercolumniation nearest to a clear distance (III.3.2-6).

    >>> nearest_spacing(2.2), nearest_spacing(9.0)
    ('eustyle', 'araeostyle')
    """
    named = spacings()
    return min(named, key=lambda name: abs(named[name].clear - clear_diameters))


def slenderness_by_spacing(name: str) -> float:
    """Column height in lower diameters for a named intercolumniation (III.3.7 and 10).

    Raises:
        ValueError: the name is unknown.
    """
    names = _table()["slenderness"]["names"]
    if name not in names:
        raise ValueError(f"spacing {name!r} is unknown; allowed: {', '.join(names)}")
    return float(names[name])

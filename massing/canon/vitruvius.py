"""Vitruvius' rules of the orders, each for the orders that he gives it for.

In Ionic temples taller columns diminish less and carry more, closer ones are slenderer (Book
III); Tuscan and Doric have their own measures (Book IV). The tables with their sources stand in
``vitruvius.yaml``. Where he does not speak of an order these functions answer None.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from massing.canon.sources import cited, source
from massing.canon.tables import read_table, spacings


@dataclass(frozen=True)
class Given:
    """What an author gives, a range where he has two, and the keys of the places."""

    least: float
    most: float
    sources: tuple[str, ...]

    @property
    def cited(self) -> str:
        """The places as they are printed, with their marks."""
        return cited(self.sources)


@cache
def _table() -> Any:
    return read_table("vitruvius.yaml")


def _own(order: str) -> str:
    """The order by his name: a Doric with mutules is Doric."""
    return "doric" if order == "mutular doric" else order


def _given(value: float, row: Any, order: str, most: float | None = None) -> Given:
    keys = [*row["source"], *([row["also"][order]] if order in row.get("also", {}) else [])]
    named = tuple(source(key).key for key in keys)
    return Given(float(value), float(value if most is None else most), named)


def _step(rule: str, height_m: float) -> Any:
    if not height_m > 0.0:
        raise ValueError(f"a column's height must be more than nothing, got {height_m}")
    steps = _table()[rule]["steps"]
    feet = height_m / _table()["foot_m"]
    return next((s for s in steps if feet <= s["feet"] + 1e-9), steps[-1])


def short_column_m() -> float:
    """The height up to which he gives a column no correction for the eye (III.3.12)."""
    return float(_table()["diminution"]["steps"][0]["feet"] * _table()["foot_m"])


def column(order: str) -> Given | None:
    """Height of a column in lower diameters, whatever its spacing (IV.3.4, V.9.3, IV.7.2, read).

    >>> column("tuscan").most, column("ionic")
    (7.0, None)
    """
    row = _table()["columns"].get(_own(order))
    return None if row is None else _given(row["least"], row, _own(order), row["most"])


def column_by_spacing(order: str, spacing: str) -> Given | None:
    """The same by a named intercolumniation (III.3.7 and 10; IV.1.1).

    >>> column_by_spacing("ionic", "diastyle").least, column_by_spacing("doric", "diastyle")
    (8.5, None)

    Raises:
        ValueError: the spacing's name is unknown.
    """
    row = _table()["slenderness"]
    if spacing not in row["names"]:
        raise ValueError(f"spacing {spacing!r} is unknown; allowed: {', '.join(row['names'])}")
    if order not in row["orders"]:
        return None
    return _given(row["names"][spacing] + row["orders"][order], row, order)


def neck(order: str) -> Given | None:
    """Upper over lower diameter whatever the column's height (IV.7.2, read).

    >>> neck("tuscan").least, neck("ionic")
    (0.75, None)
    """
    row = _table()["necks"].get(_own(order))
    return None if row is None else _given(row["ratio"], row, order)


def neck_by_height(order: str, column_height_m: float) -> Given | None:
    """The same for a column of this height (III.3.12, read; IV.1.1).

    Beyond the tallest that he names the last ratio holds.

    >>> [round(neck_by_height("ionic", height).least, 4) for height in (4.0, 8.0)]
    [0.8333, 0.8571]
    >>> neck_by_height("tuscan", 8.0)

    Raises:
        ValueError: the height is not positive.
    """
    row, step = _table()["diminution"], _step("diminution", column_height_m)
    return _given(step["ratio"], row, order) if order in row["orders"] else None


def architrave_m(order: str, column_height_m: float, diameter_m: float) -> Given | None:
    """Height of the architrave over a column, metres (III.5.8; IV.3.4, read).

    >>> architrave_m("ionic", 4.0, 0.5).least, architrave_m("tuscan", 4.0, 0.5)
    (0.25, None)

    Raises:
        ValueError: the height is not positive.
    """
    row, always = _table()["architrave"], _table()["architraves"].get(_own(order))
    step = _step("architrave", column_height_m)
    if always is not None:
        return _given(always["diameters"] * diameter_m, always, order)
    if order not in row["orders"]:
        return None
    if "diameters" in step:
        return _given(float(step["diameters"]) * diameter_m, row, order)
    return _given(column_height_m / float(step["parts"]), row, order)


def nearest_spacing(clear_diameters: float) -> str:
    """The named intercolumniation nearest to a clear distance (III.3.2-6).

    >>> nearest_spacing(2.2), nearest_spacing(9.0)
    ('eustyle', 'araeostyle')
    """
    named = spacings()
    return min(named, key=lambda name: abs(named[name].clear - clear_diameters))

"""A number about a design, and the rows in which each file here keeps its own."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from massing.canon.books import Range
from massing.design.design import Design
from massing.units import format_length

Unit = Literal["length", "ratio", "fraction", "diameters", "degrees", "count"]


@dataclass(frozen=True)
class Figure:
    """One number about a design.

    Attributes:
        key: a stable name for tables and files, unique among a design's figures.
        name: what a designer would call it.
        value: metres for ``length``; a plain number otherwise.
        unit: ``length``, ``ratio`` (the n of 1:n), ``fraction``, ``diameters``, ``degrees`` or
            ``count``.
        note: how it is measured.
        most: the other end, where authors differ and the figure is a range.
    """

    key: str
    name: str
    value: float
    unit: Unit
    note: str
    most: float | None = None

    def written(self, units: str = "feet") -> str:
        """The value as text; lengths in ``feet`` or ``metric``.

        >>> Figure("slenderness", "Column", 8.0, "ratio", "").written()
        '1:8.0'
        >>> Figure("slenderness", "Column", 7.0, "ratio", "", most=8.0).written()
        '1:7.0 to 1:8.0'
        """
        ends = [self.value] if self.most is None else [self.value, self.most]
        return " to ".join(dict.fromkeys(self._written(end, units) for end in ends))

    def _written(self, value: float, units: str) -> str:
        match self.unit:
            case "length":
                return format_length(value, units)
            case "ratio":
                return f"1:{value:.1f}"
            case "diameters":
                return f"{value:.2f} D"
            case "degrees":
                return f"{value:.1f}°"
            case "count":
                return f"{value:.0f}"
            case _:
                return f"{value:.3f}"


Words = str | Callable[[Design], str]


@dataclass(frozen=True)
class Row:
    """A figure that a design has once, or not at all.

    Attributes:
        name, note: as of a figure; ``{member}`` stands for the porch's pier or column.
        measure: the value of a design, or its two ends; None where it has none.
        above: told of a second order too, which stands on the first.
    """

    key: str
    name: Words
    unit: Unit
    note: Words
    measure: Callable[[Design], float | tuple[float, float] | None]
    above: bool = False

    def __call__(self, design: Design) -> Iterator[Figure]:
        value = self.measure(design)
        if value is None:
            return
        least, most = value if isinstance(value, tuple) else (value, None)
        said = _worded(self.name, design), _worded(self.note, design)
        yield Figure(self.key, said[0], float(least), self.unit, said[1], most)


def of_the_books(key: str, unit: Unit, ask: Callable[[str], Range | None]) -> Row:
    """What the books have of the porch's order, beside its own; nothing of what is no order."""

    def ends(design: Design) -> tuple[float, float] | None:
        said = ask(design.porch.order.order)
        return None if said is None else (said.least, said.most)

    def note(design: Design) -> str:
        order = design.porch.order.order
        said = ask(order)
        return "" if said is None else f"the {order.title()}: {said.said()}; {said.cited}"

    return Row(key, "… in the books of its order", unit, note, ends, above=True)


Rows = Sequence[Row | Callable[[Design], Iterable[Figure]]]
"""Rows, and functions for what a design has several of (one for each storey's windows)."""


def _worded(words: Words, design: Design) -> str:
    text = words if isinstance(words, str) else words(design)
    member = "pier" if design.porch.order.square else "column"
    return text.format(member=member, Member=member.capitalize())

"""Main dimensions of a whole grid of porches at once, by columns of numbers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from massing.canon import spacings
from massing.canon.tables import Plate
from massing.design.porch import PorchDesign
from massing.edit.proposals.limits import Limits
from massing.edit.proposals.measures import slenderest
from massing.geometry.mesh import Floats
from massing.practice.rules import rule

KEPT = None  # a way that is left as the design has it

WIDER_MIDDLE = 4.0 / 3.0
"""Of the other openings, axis to axis: a middle that is wider for the door's sake, by about as
much as eustyle's (Vitruvius III.3.6 has four diameters to three and a quarter; the rounding is a
choice). Under triglyphs it is wider by one of them."""


@dataclass(frozen=True, eq=False)
class Setting:
    """Nine ways to vary a porch, each an axis of every array that is worked out here.

    Attributes:
        orders: names.
        columns: their numbers.
        spacings: names, clear diameters, ``bays``, ``as wide`` or as drawn.
        middles: what the middle spacing follows.
        heights: of the order with its pedestal, as written and in metres.
        diameters: what they follow.
        entablatures: what their heights follow.
        pedestals: whether columns stand on them.
        bays: numbers of the house's.
        plates: of the orders.
        porch: where the looking begins.
        limits: what is allowed.
        bay_gaps_m: ``(columns, bays)`` widest spacing that follows the bays; NaN for none.
        door_m: width of the doorway; 0 for none.
        step_m: of sizes that are proposed.
    """

    orders: Sequence[str]
    columns: Sequence[int]
    spacings: Sequence[Any]
    middles: Sequence[str]
    heights: Sequence[tuple[str | None, float]]
    diameters: Sequence[str]
    entablatures: Sequence[str]
    pedestals: Sequence[bool]
    bays: Sequence[int]
    plates: Sequence[Plate]
    porch: PorchDesign
    limits: Limits
    bay_gaps_m: Floats
    door_m: float
    step_m: float

    def proportions(self) -> dict[str, Floats]:
        """What :attr:`Space.proportions` says, each array of as many axes as there are ways."""
        column, beam = self._heights_m
        diameter = self._diameters_m
        least, usual = self._clear()
        widest = self._widest(least, usual)
        neck = self._of_order([t.upper_radius / t.parts_per_module for t in self.plates])
        gaps = (self._count - 2.0) * (least + 1.0) + widest + 1.0
        return {
            "diameter": diameter,
            "column": column,
            "entablature": beam,
            "slenderness": column / diameter,
            "share": beam / column,
            "least": least,
            "most": widest,
            "half": (gaps + neck) * diameter / 2.0,
            "tall": self._tall + np.zeros_like(column),
        }

    # --- choices along their axes -----------------------------------------------------------

    def _along(self, axis: int, values: Any) -> NDArray[Any]:
        """A value a choice, along the axis of its way."""
        return np.asarray(values).reshape(*([1] * axis), -1, *([1] * (_WAYS - 1 - axis)))

    def _of_order(self, values: Sequence[float]) -> Floats:
        return self._along(0, values)

    def _spaced(self, *names: Any) -> NDArray[np.bool_]:
        return self._along(2, [each in names for each in self.spacings])

    def _middle(self, name: str) -> NDArray[np.bool_]:
        return self._along(3, [each == name for each in self.middles])

    def _thick(self, name: str) -> NDArray[np.bool_]:
        return self._along(5, [each == name for each in self.diameters])

    @property
    def _count(self) -> Floats:
        return self._along(1, np.array(self.columns, dtype=float))

    @property
    def _tall(self) -> Floats:
        return self._along(4, [height for _, height in self.heights])

    @property
    def _bay(self) -> Floats:
        """Widest spacing by the bays, metres."""
        return self.bay_gaps_m.reshape(1, len(self.columns), *([1] * 6), len(self.bays))

    def _step(self, value: Floats) -> Floats:
        return np.floor(value / self.step_m + 0.5) * self.step_m

    # --- step by step -----------------------------------------------------------------------

    @cached_property
    def _ratio(self) -> Floats:
        """Entablature to column by the canon."""
        return self._of_order([t.entablature_diameters / t.column_diameters for t in self.plates])

    @cached_property
    def _heights_m(self) -> tuple[Floats, Floats]:
        """Of column and entablature, what the pedestal leaves shared out between them."""
        stand = self._of_order(
            [
                t.pedestal_diameters / (t.column_diameters + t.entablature_diameters)
                for t in self.plates
            ]
        )
        height = self._tall / (1.0 + self._along(7, self.pedestals) * stand)
        beam = np.where(
            self._along(6, [way == "a fifth" for way in self.entablatures]),
            self._step(height / (1.0 + 1.0 / rule("entablature_least").value)),
            height * self._ratio / (1.0 + self._ratio),
        )
        if self.limits.entablature_m is not None:
            beam = np.full_like(beam, self.limits.entablature_m)
        return height - beam, beam

    @cached_property
    def _own_m(self) -> Floats:
        """Diameters by the canon."""
        slender = self._of_order([t.column_diameters for t in self.plates])
        return self._heights_m[0] / slender

    @cached_property
    def _asked(self) -> Floats:
        """Clear spacings in diameters as named; NaN for those that are lengths."""
        return self._along(2, [_clear(name) for name in self.spacings])

    @cached_property
    def _fixed_m(self) -> Floats:
        """Spacings that are lengths, axis to axis: by the bays, as wide as drawn, or as drawn."""
        wide = self._step(2.0 * self.porch.end_axis_m / (self._count - 1.0))
        others = np.where(self._spaced("as wide"), wide, max(self.porch.open_gaps_m))
        return np.where(self._spaced("bays"), self._bay, others)

    @cached_property
    def _diameters_m(self) -> Floats:
        """By the canon, by the spacing (Vitruvius III.3.10) or the largest allowed."""
        own, column = self._own_m, self._heights_m[0]
        slender = self._of_order([t.column_diameters for t in self.plates])
        first = np.where(np.isnan(self._asked), self._fixed_m / own - 1.0, self._asked)
        by_vitruvius = self._step(column / _wanted(self.orders, first, slender))
        most = self.limits.largest_diameter_m or math.nan
        others = np.where(self._thick("spacing"), by_vitruvius, most)
        return np.where(self._thick("canon"), own, others)

    @cached_property
    def _triglyphs(self) -> Floats:
        """Middle to middle of triglyphs in diameters; NaN where there are none."""
        column, beam = self._heights_m
        steps = self._of_order([triglyph_step(t) for t in self.plates])
        return steps * (beam / column / self._ratio) * self._own_m / self._diameters_m

    def _clear(self) -> tuple[Floats, Floats]:
        """Clear spacings in diameters, and those of a middle that has no way of its own.

        Named spacings go by whole triglyphs.
        """
        by_length, steps = np.isnan(self._asked), self._triglyphs
        least = np.where(by_length, self._fixed_m / self._diameters_m - 1.0, self._asked)
        whole = ~by_length & ~np.isnan(steps)
        under = np.maximum(1.0, np.round((least + 1.0) / steps))
        over = np.maximum(under + 1.0, np.round((_eustyle() + 1.0) / steps)) * steps - 1.0
        least = np.where(whole, under * steps - 1.0, least)
        middle = np.where(self._spaced("eustyle"), np.where(whole, over, _eustyle()), least)
        return least, np.where(self._count > 2.0, middle, least)

    def _widest(self, least: Floats, usual: Floats) -> Floats:
        """The middle clear spacing in diameters; NaN where it would be no wider than the others."""
        diameter, steps = self._diameters_m, self._triglyphs
        free = np.isnan(steps)
        before_door = self.door_m / diameter + 1.0
        options = {
            "wider": np.where(
                free, WIDER_MIDDLE * (least + 1.0), np.floor((least + 1.0) / steps + 1.5) * steps
            ),
            "door": np.where(free, before_door, np.ceil(before_door / steps - 1e-9) * steps),
            "bay": np.where(free, self._bay / diameter, math.nan),
        }
        lone = ~self._spaced("bays", "eustyle", "as wide", KEPT) & (self._count > 2.0)
        widest = np.where(self._middle("equal"), usual, math.nan)
        for way, gap in options.items():
            here = self._middle(way) & lone & (gap - 1.0 > least)
            widest = np.where(here, gap - 1.0, widest)
        return widest


_WAYS = 9


def _clear(spacing: Any) -> float:
    """Clear spacing in diameters by name or number; NaN where it is a length of another kind."""
    if isinstance(spacing, float):
        return spacing
    return spacings()[spacing].clear if spacing in spacings() else math.nan


def _wanted(orders: Sequence[str], clear: Floats, own: Floats) -> Floats:
    """Height of a column in diameters by Vitruvius, so spaced, orders along the first axis; their
    own where he does not speak of them."""
    clear, own = np.broadcast_arrays(clear, own)
    found = np.array(own, dtype=float)
    for i, order in enumerate(orders):
        names, place = np.unique(np.where(np.isnan(clear[i]), 0.0, clear[i]), return_inverse=True)
        given = [slenderest(order, float(each)) for each in names]
        if None not in given:
            found[i] = np.array(given, dtype=float)[place.reshape(clear[i].shape)]
    return found


def triglyph_step(table: Plate) -> float:
    """Middle to middle of a plate's triglyphs in diameters; NaN where it has none."""
    rows = [m.row for m in table.groups["frieze"] if m.row and m.row.kind == "triglyph"]
    return rows[0].spacing / table.diameter if rows else math.nan


def _eustyle() -> float:
    named = spacings()["eustyle"]
    return named.centre or named.clear

"""Arcades: what the books make of arches between columns that stand against piers."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from massing.canon.order import Member
from massing.canon.tables import member_of, read_table, scaled

_TWELFTHS = 12.0


@dataclass(frozen=True)
class ArcadeRule:
    """The measures of an order's arcade, in modules (half the lower diameter).

    Attributes:
        clear, high: of the arch, between the piers and floor to crown.
        pier: breadth of a pier.
        mark: how they are known.
    """

    clear: float
    high: float
    pier: float
    mark: str

    @property
    def axis(self) -> float:
        """Column axis to axis."""
        return self.clear + self.pier


@cache
def _table() -> Any:
    return read_table("arcades.yaml")


def arcade_rule(order: str, *, pedestals: bool) -> ArcadeRule | None:
    """The arcade of an order; None of what is no order.

    >>> arcade_rule("doric", pedestals=False).axis
    10.0
    """
    table = _table()
    row = table["orders"].get(table["like"].get(order, order))
    if row is None:
        return None
    found = row["pedestals" if pedestals else "bare"]
    clear, high, pier = (float(found[k]) for k in ("clear", "high", "pier"))
    return ArcadeRule(clear, high, pier, found["mark"])


def column_before_pier_m(module_m: float) -> float:
    """The pier's face behind the column's axis."""
    return float(_table()["column_before_pier"]["modules"]) * module_m


def _members(group: str, module_m: float) -> tuple[Member, ...]:
    unit = module_m / _TWELFTHS
    return tuple(scaled(member_of(m), unit, unit) for m in _table()[group]["members"])


def impost_members(module_m: float) -> tuple[Member, ...]:
    """An impost's mouldings, bottom to top, their reach from the pier's face."""
    return _members("impost", module_m)


def archivolt_members(module_m: float) -> tuple[Member, ...]:
    """An archivolt's mouldings, from the arch outwards, their reach from the pier's face."""
    return _members("archivolt", module_m)

"""The book of rules: what books and common practice say, and the limits of codes by place.

A row is a value as its source writes it, the source's key and what it measures
(``practice/rules.yaml``, ``practice/codes.yaml``). Whoever speaks of a rule takes its number and
its source from the row, so that table and sentence cannot disagree.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib import resources
from math import sqrt
from typing import Any

from massing.canon.sources import cited, source
from massing.files import table
from massing.units import FOOT_M, INCH_M, format_metric, parse_length

_COUNTS = "nought one two three four five six seven eight nine ten eleven".split()
_PARTS = {
    **{2: "half", 3: "third", 4: "quarter", 5: "fifth", 6: "sixth", 7: "seventh"},
    **{8: "eighth", 9: "ninth", 10: "tenth", 11: "eleventh", 12: "twelfth"},
}
NO_CODE = "no code is held for this place; the local one decides"

_MIXED = re.compile(r"^(?:(\d+(?:\.\d+)?) ?)??(?:(\d+)/(\d+))?$")
_AREA = re.compile(r"^(\d+(?:\.\d+)?) sq (ft|in)$")


@dataclass(frozen=True)
class Rule:
    """A row of the book.

    Attributes:
        value: metres, square metres or a plain number; a slope as rise over run.
        written: the value as its source writes it.
        source: the source's key.
        words: what is measured.
        unit: ``length``, ``area``, ``slope`` or ``number``.
        orders: the orders that its author gives it for; none where it is of no order.
    """

    name: str
    value: float
    written: str
    source: str
    words: str
    unit: str
    orders: tuple[str, ...] = ()

    def speaks_of(self, order: str) -> bool:
        """Whether its author gives it for an order; a Doric with mutules is Doric."""
        return order.removeprefix("mutular ") in self.orders

    def said(self, units: str = "feet") -> str:
        """The value for a sentence; a length has the metric one beside it where that is wanted.

        >>> rule("stride_most").said(), rule("stride_most").said("metric")
        ('27 in', '27 in (686 mm)')
        """
        if self.unit == "length" and units == "metric" and not self.written.endswith("m"):
            return f"{self.written} ({format_metric(self.value)})"
        return self.written

    @property
    def share(self) -> str:
        """A share in words, as a sentence says it; as it is written where there is no such word.

        >>> read_rules("defaults.yaml")["windows.upper"].share
        'five sixths'
        >>> read_rules("joinery.yaml")["head.segment"].share
        'an eighth'
        """
        part = Fraction(self.value).limit_denominator(12)
        if abs(float(part) - self.value) > 1e-9 or not 0 < part < 1:
            return self.written
        word, many = _PARTS[part.denominator], _COUNTS[part.numerator]
        if part.numerator > 1:
            return f"{many} {word}s"
        return word if word == "half" else f"{'an' if word[0] in 'aeiou' else 'a'} {word}"

    @property
    def cited(self) -> str:
        """The source as it is printed, with its mark."""
        return cited(self.source)


def read_value(written: str | float) -> tuple[float, str]:
    """A written value in metres, square metres or as a plain number; and which of these it is.

    >>> read_value("2 1/2:12"), read_value("5/6"), read_value("9 sq ft")[1]
    ((0.20833333333333334, 'slope'), (0.8333333333333334, 'number'), 'area')

    Raises:
        ValueError: it is none of these.
    """
    if isinstance(written, (int, float)):
        return float(written), "number"
    if ":" in written:
        rise, run = written.split(":")
        return read_value(rise)[0] / read_value(run)[0], "slope"
    if written.startswith("sqrt "):
        return sqrt(float(written.removeprefix("sqrt "))), "number"
    if match := _AREA.match(written):
        return float(match[1]) * (FOOT_M if match[2] == "ft" else INCH_M) ** 2, "area"
    if match := _MIXED.match(written):
        whole, num, den = match.groups()
        return float(whole or 0) + (int(num) / int(den) if num else 0.0), "number"
    return parse_length(written), "length"


def _rule(name: str, row: Mapping[str, Any]) -> Rule:
    value, unit = read_value(row["value"])
    key, orders = source(row["source"]).key, tuple(row.get("orders", ()))
    return Rule(name, value, str(row["value"]), key, row["words"], unit, orders)


def _table(name: str) -> Mapping[str, Any]:
    return dict(table("massing.practice", name))


def read_rules(table: str) -> Mapping[str, Rule]:
    """The rows of a table in sections, by ``section.name``."""
    return {
        f"{section}.{name}": _rule(f"{section}.{name}", row)
        for section, rows in _table(table).items()
        for name, row in rows.items()
    }


@cache
def rules() -> Mapping[str, Rule]:
    """The rules of books and of common practice, which hold everywhere, by name."""
    return {name: _rule(name, row) for name, row in _table("rules.yaml").items()}


def rule(name: str) -> Rule:
    """One of :func:`rules`."""
    return rules()[name]


@dataclass(frozen=True)
class Code:
    """The building code that is held for a country, with its limits by name."""

    country: str
    name: str
    edition: str
    limits: Mapping[str, Rule]


@cache
def codes() -> Mapping[str, Code]:
    """The codes held, by the country's two letters (ISO 3166)."""
    return {
        country: Code(
            country,
            row["code"],
            row["edition"],
            {name: _rule(name, limit) for name, limit in row["limits"].items()},
        )
        for country, row in _table("codes.yaml").items()
    }


@cache
def limit_names() -> frozenset[str]:
    """The limits that some code gives."""
    return frozenset(name for code in codes().values() for name in code.limits)


@cache
def _countries() -> Mapping[str, str]:
    text = resources.files("tzdata").joinpath("zoneinfo", "zone.tab").read_text(encoding="utf-8")
    rows = [line.split("\t") for line in text.splitlines() if line and not line.startswith("#")]
    return {row[2].strip(): row[0] for row in rows}


def country(time_zone: str) -> str:
    """The country of a time zone, two letters (the time-zone database's zone.tab); "" if unknown.

    >>> country("America/New_York"), country("Africa/Johannesburg"), country("Etc/GMT+2")
    ('US', 'ZA', '')
    """
    return _countries().get(time_zone, "")


def code_for(time_zone: str) -> Code | None:
    """The code that is held for the place where a time zone is kept, None without one."""
    return codes().get(country(time_zone))

"""Where each number of a design came from: the scene's line, or the rule's name."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from massing.design.origin import Given, Origin
from massing.units import format_length


class Origins:
    """Keeps where each number came from, by the field's dotted name."""

    def __init__(self, lines: Mapping[tuple[Any, ...], int], units: str) -> None:
        self.lines, self.units = lines, units
        self.notes: dict[str, Origin] = {}

    def given(self, path: tuple[Any, ...]) -> Given:
        """The source of a value that the scene gives."""
        return Given(self.lines.get(path))

    def note(self, name: str, value_m: float, source: str) -> float:
        """Note a length and give it back."""
        self.notes[name] = Origin(value_m, format_length(value_m, self.units), source)
        return value_m

    def say(self, name: str, written: str, source: str = "", value: float | None = None) -> None:
        """Note what is no length: a slope, a count, a word."""
        self.notes[name] = Origin(value, written, source)

    def choose(self, path: tuple[Any, ...], given: float | None, rule_m: float, why: str) -> float:
        """The given length, or else the rule's; noted either way."""
        name = ".".join(str(p) for p in path)
        if given is not None:
            return self.note(name, given, self.given(path))
        return self.note(name, rule_m, why)

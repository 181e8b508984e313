"""Where each number of a design came from: the scene's line, or the rule's name."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from massing.units import format_length


class Origins:
    """Writes down where each number came from."""

    def __init__(self, lines: Mapping[tuple[Any, ...], int], units: str) -> None:
        self.lines, self.units = lines, units
        self.notes: dict[str, str] = {}

    def given(self, path: tuple[Any, ...]) -> str:
        line = self.lines.get(path)
        return f"given, line {line}" if line else "given"

    def note(self, name: str, value_m: float, source: str) -> float:
        self.notes[name] = f"{format_length(value_m, self.units)} · {source}"
        return value_m

    def choose(self, path: tuple[Any, ...], given: float | None, rule_m: float, why: str) -> float:
        name = ".".join(str(p) for p in path)
        if given is not None:
            return self.note(name, given, self.given(path))
        return self.note(name, rule_m, why)

"""Watches every test of this room: a refusal and a note say all that they are there to say."""

from __future__ import annotations

import math
from typing import Any

import pytest

from massing.scene.errors import DesignError
from massing.scene.origins import Origins


def words(text: Any) -> bool:
    """Whether something is said, and nothing that was never known."""
    return isinstance(text, str) and bool(text.strip()) and "None" not in text


@pytest.fixture(autouse=True)
def said_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    """A refusal names field, given and allowed; a note a finite number and where it comes from."""
    refuse, note, say, choose = (
        DesignError.__init__,
        Origins.note,
        Origins.say,
        Origins.choose,
    )

    def refused(self: DesignError, field: str, given: object, allowed: str) -> None:
        if (field, given, allowed) != ("", "", ""):  # of a trial value without words for it
            assert words(field)
            assert words(str(given)), (field, given)
            assert words(allowed), (field, allowed)
        refuse(self, field, given, allowed)

    def noted(self: Origins, name: str, value_m: float, source: str) -> float:
        assert words(name)
        assert math.isfinite(value_m), name
        assert words(source), name
        return note(self, name, value_m, source)

    def told(self: Origins, name: str, written: str, source: str = "", *rest: Any) -> None:
        assert words(name)
        assert words(written), name
        assert source == "" or words(source), name
        say(self, name, written, source, *rest)

    def chosen(
        self: Origins, path: tuple[Any, ...], given: float | None, rule_m: float, why: str
    ) -> float:
        assert path, why
        assert all(step is not None for step in path), path
        assert math.isfinite(rule_m), path
        assert words(why), path
        return choose(self, path, given, rule_m, why)

    monkeypatch.setattr(DesignError, "__init__", refused)
    monkeypatch.setattr(Origins, "note", noted)
    monkeypatch.setattr(Origins, "say", told)
    monkeypatch.setattr(Origins, "choose", chosen)

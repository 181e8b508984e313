"""Which fields may give way to which refusals, and how far from their rule's value.

The rows stand in ``practice/giving_way.yaml``, where they are explained.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from massing.files import table
from massing.scene.spec import Scene, parse_lights

Path = tuple[str | int, ...]

DOWN = (0.96, 0.9, 0.82, 0.72, 0.6, 0.48, 0.36, 0.25, 0.12, 0.05)
UP = (1.04, 1.1, 1.2, 1.35, 1.6, 2.0, 2.6, 3.5)
"""Steps from a rule's value, as shares of it."""


@dataclass(frozen=True)
class Way:
    """How one field gives way: as shares of its rule's value, in whole numbers, or in words.

    Attributes:
        field: dotted, ``*`` for any item of a list.
        clears: how the names of the refused fields begin that it can help.
        typed: whether scenes always give it, so that it never gives way by itself.
    """

    field: str
    clears: tuple[str, ...]
    least: float = 1.0
    most: float = 1.0
    whole: bool = False
    words: tuple[Any, ...] = ()
    typed: bool = False


@cache
def ways() -> tuple[Way, ...]:
    """Every row, in the order in which they are tried where they depart alike."""
    written = table("massing.practice", "giving_way.yaml")
    groups = {name: tuple(names) for name, names in written["groups"].items()}
    return tuple(_way(field, row, groups) for field, row in written["ways"].items())


def _way(field: str, row: Mapping[str, Any], groups: Mapping[str, tuple[str, ...]]) -> Way:
    clears = tuple(name for each in row["clears"] for name in groups.get(each, (each,)))
    least, most = row.get("shares") or row.get("whole") or (1.0, 1.0)
    words = tuple(row.get("words", ()))
    if field.endswith(".lights"):
        words = tuple(map(parse_lights, words))
    return Way(field, clears, least, most, "whole" in row, words, row.get("typed", False))


def ways_to_clear(
    scene: Scene, refused: str, notes: Mapping[str, Any], typed: bool = False
) -> Iterator[tuple[Path, Way]]:
    """Fields that can clear a refusal, the refused one first, each with how it gives way.

    With ``typed`` also what scenes always give, and all that stands in the refused field's group.
    """
    group = refused.split(".")[0]
    rows = [
        way
        for way in ways()
        if (_clears(way, refused) and (typed or not way.typed))
        or (typed and way.field.split(".")[0] == group)
    ]
    rows.sort(key=lambda way: not _alike(way.field, refused))
    for way in rows:
        for path in _paths(scene, way.field):
            yield path, way


def _clears(way: Way, refused: str) -> bool:
    plain = refused.split(".")
    return _alike(way.field, refused) or any(begins(start, plain) for start in way.clears)


def begins(start: str, steps: list[str]) -> bool:
    """Whether a refused field's name begins so; ``*`` stands for a number."""
    wanted = start.split(".")
    if len(wanted) > len(steps):
        return False
    pairs = list(zip(wanted, steps, strict=False))
    exact = all(w == s or (w == "*" and s.isdecimal()) for w, s in pairs[:-1])
    return exact and (pairs[-1][1].startswith(pairs[-1][0]) or pairs[-1][0] == "*")


def _alike(field: str, refused: str) -> bool:
    a, b = field.split("."), refused.split(".")
    pairs = zip(a, b, strict=False)
    return len(a) == len(b) and all(x == y or (x == "*" and y.isdecimal()) for x, y in pairs)


def _paths(scene: Scene, field: str) -> Iterator[Path]:
    """The field in a scene: once for each storey's window, each chimney, each wing."""
    steps = field.split(".")
    if "*" not in steps:
        if _group_stands(scene, steps):
            yield tuple(int(step) if step.isdecimal() else step for step in steps)
        return
    at = steps.index("*")
    owner: Any = scene
    for step in steps[:at]:
        owner = getattr(owner, step)
    number = len(scene.house.storeys) if steps[at - 1] == "windows" else len(owner)
    for i in range(number):
        path = tuple(
            i if step == "*" else int(step) if step.isdecimal() else step for step in steps
        )
        if steps[at - 1] == "windows" or _group_stands(owner[i], steps[at + 1 :]):
            yield path


def _group_stands(scene: Scene, steps: list[str]) -> bool:
    node: Any = scene
    for step in steps[:-1]:
        node = getattr(node, step, None)
    return node is not None

"""Where each field of a scene stands in its file, and a fault at that line."""

from __future__ import annotations

import re
from pathlib import Path

from massing.scene import explain
from massing.scene.errors import SceneError

FieldPath = tuple[str | int, ...]

Lines = dict[FieldPath, int]


def parse_field(text: str) -> FieldPath:
    """A dotted field as its steps; list items as ``[1]``, counted from one, or ``.0``, from none.

    >>> parse_field("house.windows[2].height"), parse_field("house.windows.1.height")
    (('house', 'windows', 1, 'height'), ('house', 'windows', 1, 'height'))
    """
    steps: list[str | int] = []
    for step in text.split("."):
        name, *items = re.split(r"[\[\]]+", step.rstrip("]"))
        if name:
            steps.append(int(name) if name.isdecimal() else name)
        steps.extend(int(item) - 1 for item in items)
    return tuple(steps)


def fault_at(path: Path, lines: Lines, field: FieldPath, detail: str) -> SceneError:
    line = line_above(lines, field)
    return SceneError(path, line, f"{explain.dotted(field)}: {detail}", field)


def line_above(lines: Lines, field: FieldPath) -> int | None:
    """The line of a field, or of the nearest group that it would stand in."""
    for length in range(len(field), 0, -1):
        if field[:length] in lines:
            return lines[field[:length]]
    return 1 if lines else None

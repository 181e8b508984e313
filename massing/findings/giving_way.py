"""What is not as the rules have it, because what the scene gives leaves no room for that."""

from __future__ import annotations

from collections.abc import Iterator

from massing.design.design import Design
from massing.findings.finding import Remarks, Saying

remark = Remarks()


@remark("gave way", "note", source="practice")
def gave_way(design: Design) -> Iterator[Saying]:
    """A default that gave way to what was typed."""
    for name, origin in design.origins.items():
        if origin.instead_of:
            why = origin.source.partition(" by rule: ")[2]
            yield (
                f"{_as_written(name)} is {origin.written} instead of {origin.instead_of} by rule, "
                f"which would have made {why}"
            )


def _as_written(name: str) -> str:
    """A field's dotted name as scenes are spoken of: items counted from one.

    >>> _as_written("house.windows.0.height")
    'house.windows[1].height'
    """
    steps = name.split(".")
    return "".join(
        f"[{int(step) + 1}]" if step.isdecimal() else f".{step}" if i else step
        for i, step in enumerate(steps)
    )

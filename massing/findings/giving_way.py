"""What is not as the rules have it, because what the scene gives leaves no room for that."""

from __future__ import annotations

from collections.abc import Iterator

from massing.design.design import Design
from massing.findings.finding import Remarks, Saying
from massing.scene.explain import dotted

remark = Remarks()


@remark("gave way", "note", source="practice")
def gave_way(design: Design) -> Iterator[Saying]:
    """A default that gave way to what was typed."""
    for name, origin in design.origins.items():
        if origin.instead_of:
            steps = tuple(int(step) if step.isdecimal() else step for step in name.split("."))
            why = origin.source.partition(" by rule: ")[2]
            yield (
                f"{dotted(steps)} is {origin.written} instead of {origin.instead_of} by rule, "
                f"which would have made {why}"
            )

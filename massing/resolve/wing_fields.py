"""A wing's fields as those of a house of its own, and back, so that both are resolved alike."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from typing import Any, cast

from massing.design.kinds import Wall
from massing.design.opening import SEEN_AHEAD
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Wing

_TURNED = {"width": "depth", "depth": "width", "bays": "side_bays", "side_bays": "bays"}


@contextmanager
def as_house_fields(wing: Wing, i: int, origins: Origins) -> Iterator[Origins]:
    """Origins of the ``i``-th wing as a house; notes and faults come back under the wing's names.

    Raises:
        DesignError: what was raised within, by the wing's fields.
    """
    at, turned = ("house", "wings", i), _TURNED if wing.side == "front" else {}
    lines = {path[3:]: line for path, line in origins.lines.items() if path[:3] == at}
    own = Origins(
        {("house", *_renamed(path, turned)): line for path, line in lines.items()}, origins.units
    )

    def named(field: str) -> str:
        _, *path = field.split(".")
        return ".".join(["house.wings", str(i), *_renamed(path, turned)])

    try:
        yield own
    except DesignError as refusal:
        given, allowed = (_as_seen(text, wing) for text in (refusal.given, refusal.allowed))
        raise DesignError(named(refusal.field), given, allowed) from None
    for name, origin in own.notes.items():
        seen = replace(origin, written=_as_seen(origin.written, wing))
        origins.notes.setdefault(named(name), seen)


def _as_seen(text: str, wing: Wing) -> str:
    """What is said of openings, their walls called as the house is seen."""
    if wing.side != "front":
        return text
    walls = "|".join(SEEN_AHEAD)
    return re.sub(rf"\b({walls})(?=/)", lambda found: SEEN_AHEAD[cast("Wall", found.group())], text)


def _renamed(path: Sequence[Any], turned: Mapping[str, str]) -> tuple[Any, ...]:
    """A field's path as the wing has it; one that is turned has its sides across."""
    return tuple(turned.get(step, step) if k == 0 else step for k, step in enumerate(path))

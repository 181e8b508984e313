"""What stands in what: openings with trims, porch, porch roof, gutters, over a whole model."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from massing.parts.part import Model, Part
from tests.helpers.shapes import manifold

LEAST_M3 = 2e-6  # two cubic centimetres; less is a joint let in
_BODY = ("wall", "foundation", "interior", "cornice", "clapboards", "bricks", "stones", "ashlar")
# Roofing is laid up to the course that a balustrade stands on, and dressed into a cornice's top.
_DRESSED = ("balustrade/base", "entablature/cornice")
_PORCH_ROOF = ("roof", "pediment")


def family(part: Part) -> str:
    """Whose a part is, of those that may not stand in each other; nothing for all others."""
    where = part.path
    if where[0] == "porch":
        if any(word in where for word in ("steps", "floor", "landing")):
            return ""
        return "porch roof" if any(word in where for word in _PORCH_ROOF) else "porch order"
    if where[0] != "house" or len(where) < 2:
        return ""
    if where[1] == "roof":
        return "gutter" if len(where) > 2 and where[2] in ("gutter", "downspout") else ""
    if where[1] == "corner pilasters":
        return "corner pilasters"
    if where[1] in _BODY or where[1] in ("corner boards", "quoins", "belt courses", "chimneys"):
        return ""
    return "openings"


def clashes(model: Model) -> list[tuple[str, str, float]]:
    """Pairs of parts of different families that share room, with how much, cubic metres."""
    solids = [p for p in model.parts if p.solid and family(p) and not getattr(p, "carved", False)]
    return [
        (one.name, other.name, shared)
        for i, one in enumerate(solids)
        for other in solids[i + 1 :]
        if family(one) != family(other) and not _dressed(one, other)
        for shared in _shared(one, other)
    ]


def _dressed(one: Part, other: Part) -> bool:
    flat = [p for p in (one, other) if p.name.endswith("porch/roof/flat")]
    return bool(flat) and any(p.name.endswith(_DRESSED) for p in (one, other))


def _shared(one: Part, other: Part) -> Iterator[float]:
    (a0, a1), (b0, b1) = one.world_mesh().bounds, other.world_mesh().bounds
    if np.any(np.minimum(a1, b1) - np.maximum(a0, b0) <= 1e-4):
        return
    volume = (manifold(one.world_mesh()) ^ manifold(other.world_mesh())).volume()
    if volume > LEAST_M3:
        yield float(volume)

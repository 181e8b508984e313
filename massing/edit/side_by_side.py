"""Designs that stand beside each other in one scene, under one sun."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from massing.design.design import Design
from massing.parts.part import Model

MOST = 4
_KEPT = (("setting", "ground"), ("setting", "figure"))


def places_m(designs: Sequence[Design], apart_m: float) -> list[float]:
    """How far to the right each design's middle stands, walls ``apart_m`` clear of each other.

    The first stands where it is.
    """
    places: list[float] = []
    end = 0.0
    for design in designs:
        left, right = design.house.reach_x_m
        at = end + apart_m - left if places else 0.0
        places.append(at)
        end = at + right
    return places


def alone(model: Model, *, first: bool) -> Model:
    """A model without what would stand in its neighbours: the first keeps ground and figure."""
    kept = tuple(
        part
        for part in model.parts
        if not part.within("setting") or (first and part.path[:2] in _KEPT)
    )
    return replace(model, parts=kept)

"""How much of what: lengths of mouldings, counts of pieces, areas of walls and roof.

Counts and areas are taken from the built model, lengths from the lines that mouldings run
along. Net of openings, without waste, laps or cutting: an order needs the trade's allowance.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from massing.canon import Member
from massing.design.design import Design
from massing.design.house import HouseDesign
from massing.design.porch import PorchDesign
from massing.geometry.mesh import Floats
from massing.parts.part import Model, Part
from massing.settingout.porch import entablature_path
from massing.units import FOOT_M

_UP = 0.1  # a face whose normal rises more than this is roof, not wall


@dataclass(frozen=True)
class Quantity:
    """One line: ``unit`` is ``m`` for lengths, ``m2`` for areas, or empty for a number."""

    group: str
    item: str
    amount: float
    unit: str
    how: str


def quantities(design: Design, model: Model) -> list[Quantity]:
    """Everything that is counted for one design."""
    return [
        *_mouldings(design),
        *_pieces(model),
        *_areas(design, model),
    ]


def in_words(quantity: Quantity, units: str) -> tuple[float, str]:
    """The amount in the builder's units: feet and square feet, or metres.

    >>> in_words(Quantity("", "", 3.048, "m", ""), "feet")
    (10.0, 'ft')
    """
    if not quantity.unit:
        return quantity.amount, ""
    power = 2 if quantity.unit == "m2" else 1
    if units == "metric":
        return round(quantity.amount, 2), quantity.unit
    return round(quantity.amount / FOOT_M**power, 1), "sq ft" if power == 2 else "ft"


def _mouldings(design: Design) -> list[Quantity]:
    """Length of each member of entablature, eaves and balustrade, at its own outer edge."""
    made = []
    porch: PorchDesign | None = design.porch
    lead = ""
    while porch is not None:
        path = entablature_path(porch)
        order = porch.order
        for name, members in (
            ("architrave", order.architrave),
            ("frieze", order.frieze),
            ("cornice", order.cornice),
        ):
            group = f"{lead}Entablature: {name}"
            made += [_run(group, member, path) for member in members]
        porch, lead = porch.upper, "Above, "
    house = design.house
    around = 2.0 * (house.width_m + house.depth_m)
    members = house.cornice.members
    how = "round the house at each member's outer edge, the porch's breadth not taken off"
    if design.roof.hipped:
        made += [
            Quantity("House cornice", m.name, around + 8.0 * m.reach, "m", how) for m in members
        ]
    return made


def _run(group: str, member: Member, path: Floats) -> Quantity:
    """A member along a path, longer by its reach at every outer corner."""
    length = float(np.linalg.norm(np.diff(path, axis=0), axis=1).sum())
    ray = np.diff(path, axis=0)
    ray /= np.linalg.norm(ray, axis=1)[:, None]
    turn = np.arctan2(
        ray[:-1, 0] * ray[1:, 1] - ray[:-1, 1] * ray[1:, 0], (ray[:-1] * ray[1:]).sum(axis=1)
    )
    longer = 2.0 * member.reach * float(np.tan(turn / 2.0).sum())
    return Quantity(group, member.name, length + longer, "m", "at its outer edge")


# What is counted, by the ends of its parts' paths.
_COUNTED = {
    "balusters": (("balusters",), ("half balusters",)),
    "columns": (("column", "shaft"), ("corner column", "shaft")),
    "engaged columns": (("engaged column", "shaft"),),
    "pilasters": (("pilaster", "shaft"),),
    "dentils": (("dentils",),),
    "modillions": (("modillions",),),
    "triglyphs": (("triglyphs",),),
    "mutules": (("mutules",),),
}


def _pieces(model: Model) -> list[Quantity]:
    """Numbers of what is set piece by piece in the model."""
    made = []
    for name, endings in _COUNTED.items():
        for where in ("porch", "house"):
            parts = model.select(where)
            found = [p for p in parts if any(p.path[-len(e) :] == e for e in endings)]
            count = sum(p.count for p in found)
            if count:
                how = "as built"
                made.append(Quantity(f"{where.capitalize()}: pieces", name, count, "", how))
    for kind, words in (
        ("brick", "bricks"),
        ("tile", "tiles"),
        ("slate", "slates"),
        ("shingle", "shingles"),
    ):
        found = [
            p for p in model.parts if p.role.split("/")[0] == kind and p.placements is not None
        ]
        count = sum(p.count for p in found)
        if count:
            how = "whole ones in the model; those cut at edges and openings come on top"
            made.append(Quantity("Whole building: pieces", words, count, "", how))
    return made


def _areas(design: Design, model: Model) -> list[Quantity]:
    made = []
    for name, house in _houses(design):
        gross = sum(_wall_lengths(house)) * house.wall_top_z_m
        if name == "House":
            gross -= sum(w.house.depth_m * w.house.wall_top_z_m for w in house.wings)
        holes = sum(o.width_m * o.height_m for o in house.openings if not o.back_m)
        how = (
            "from the ground to the wall top, openings and what wings cover taken off; gables "
            "not counted"
        )
        made.append(Quantity(f"{name}: walls", "net area", gross - holes, "m2", how))
    decks = [p for p in model.parts if p.within("house") and p.path[-1] == "deck"]
    if decks:
        how = "upper faces of the deck, on the slope"
        made.append(Quantity("Roof", "area", _upper_area(decks), "m2", how))
    return made


def _houses(design: Design) -> list[tuple[str, HouseDesign]]:
    wings = [(f"{w.side.capitalize()} wing", w.house) for w in design.house.wings]
    return [("House", design.house), *wings]


def _wall_lengths(house: HouseDesign) -> list[float]:
    closed = 1 if house.open_side else 2
    return [2.0 * house.width_m, closed * house.depth_m]


def _upper_area(parts: Sequence[Part]) -> float:
    total = 0.0
    for part in parts:
        a, b, c = (part.world_mesh().vertices[part.world_mesh().faces[:, i]] for i in range(3))
        across = np.cross(b - a, c - a) / 2.0
        area = np.linalg.norm(across, axis=1)
        rises = across[:, 2] > _UP * np.maximum(area, 1e-15)
        total += float(area[rises].sum())
    return total if math.isfinite(total) else 0.0

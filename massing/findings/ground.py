"""Sloping ground: water towards the house, floors near it, uneven lowest risers."""

from __future__ import annotations

from collections.abc import Iterator

from massing.design.design import Design
from massing.design.porch import SemicircularPorch
from massing.findings.finding import HAIR_M, Remarks, Saying
from massing.practice.rules import Rule
from massing.resolve.ground import highest_over, house_plan
from massing.units import format_length

remark = Remarks()


@remark("ground drainage", "caution", "grade_fall")
def ground_drainage(design: Design, fall_away: Rule) -> Iterator[Saying]:
    """Walls to which the ground falls."""
    ground = design.site.ground
    falls = {
        "left": -ground.along,
        "right": ground.along,
        "front": -ground.back,
        "back": ground.back,
    }
    towards = {wall: fall for wall, fall in falls.items() if fall > 1e-9}
    if ground.level or not towards:
        return
    said = " and ".join(f"{wall} wall at 1 in {1.0 / fall:.3g}" for wall, fall in towards.items())
    rise, run = fall_away.written.split(":")
    yield (
        f"The ground falls towards the {said}, and brings water to it. The model code asks for a "
        f"fall away from the house of {rise} in the first {run}, or swales and drains that lead "
        "it round; the picture shows the plain slope"
    )


@remark("foundation reveal", "caution", "foundation_reveal")
def foundation_reveal(design: Design, least: Rule) -> Iterator[Saying]:
    """Floors that stand too little over the ground on the high side."""
    if design.site.ground.level:
        return
    floors = {f"{w.side} wing": w.house.floor_z_m for w in design.house.wings}
    for name, plan in house_plan(design.house).items():
        floor_z_m = floors.get(name, design.house.floor_z_m)
        over = floor_z_m - highest_over(design.site.ground, plan)
        if over < least.value - HAIR_M:
            yield (
                f"The {name}'s floor is {format_length(over, design.units)} over the ground at "
                f"its highest: the foundation wants to show {least.said(design.units)}"
            )


@remark("lowest riser", "caution", "riser_uneven")
def lowest_riser(design: Design, most: Rule) -> Iterator[Saying]:
    """Flights whose lowest riser is higher at one end than at the other."""
    for which, half_m, across in _feet_of_flights(design):
        more = abs(across) * half_m
        if more > most.value + HAIR_M:
            yield (
                f"The ground slopes across the foot of the {which}'s steps: their lowest riser "
                f"is {format_length(more, design.units)} higher at one end than at the middle "
                f"and as much lower at the other. Risers may differ by {most.said(design.units)}:"
                " the walk wants levelling at the foot"
            )


def _feet_of_flights(design: Design) -> Iterator[tuple[str, float, float]]:
    """Whose each flight is, half its width at the foot, and the ground's slope across it."""
    ground, house, porch = design.site.ground, design.house, design.porch
    half = porch.steps.width_m / 2.0
    if isinstance(porch, SemicircularPorch) and porch.guard is None:  # its steps go all round
        half = porch.radius_m + porch.floor_edge_m + porch.steps.run_m
    yield "porch", half, ground.along
    for opening in house.doors:
        if opening.door.steps:
            across = ground.along if opening.wall in ("front", "back") else ground.back
            yield "side door", opening.door.steps.width_m / 2.0, across

"""Remarks on sloping ground: water towards the house, floors near it, uneven lowest risers."""

from __future__ import annotations

from collections.abc import Iterator

from massing.canon import rules
from massing.design.design import Design
from massing.findings.proportion import Finding
from massing.resolve.ground import (
    ground_before_wall,
    highest_over,
    house_plan,
    lowest_over,
    porch_plan,
)
from massing.units import format_length

_LOCAL = "local codes and a licensed professional decide"


def lowest_by_house_m(design: Design) -> float:
    """Height of the lowest ground at the walls of house and wings; 0 where it is level."""
    return min(lowest_over(design.site.ground, p) for p in house_plan(design.house).values())


def lowest_by_porch_m(design: Design) -> float:
    """The same at the porch's floor."""
    return lowest_over(design.site.ground, porch_plan(design.porch))


def ground_findings(design: Design) -> Iterator[Finding]:
    """What a slope asks for; nothing where the ground is level."""
    if design.site.ground.level:
        return
    yield from _of_drainage(design)
    yield from _of_reveal(design)
    yield from _of_lowest_risers(design)


def _of_drainage(design: Design) -> Iterator[Finding]:
    """Walls to which the ground falls."""
    rule, ground = rules()["grade_fall"], design.site.ground
    falls = {
        "left": -ground.along,
        "right": ground.along,
        "front": -ground.back,
        "back": ground.back,
    }
    towards = {wall: fall for wall, fall in falls.items() if fall > 1e-9}
    said = " and ".join(f"{wall} wall at 1 in {1.0 / fall:.3g}" for wall, fall in towards.items())
    yield Finding(
        "ground drainage", "caution",
        f"The ground falls towards the {said}, and brings water to it. The model code asks for a "
        "fall away from the house of 6 in in the first 10 ft, or swales and drains that lead it "
        f"round; the picture shows the plain slope. {_LOCAL.capitalize()}.",
        f"{rule.source} ({rule.mark})",
    )  # fmt: skip


def _of_reveal(design: Design) -> Iterator[Finding]:
    """Floors that stand too little over the ground on the high side."""
    rule, units = rules()["foundation_reveal"], design.units
    for name, plan in house_plan(design.house).items():
        high = highest_over(design.site.ground, plan)
        over = next(
            (w.house.floor_z_m for w in design.house.wings if name == f"{w.side} wing"),
            design.house.floor_z_m,
        ) - high  # fmt: skip
        if over < rule.value - 1e-6:
            yield Finding(
                "foundation reveal", "caution",
                f"The {name}'s floor is {format_length(over, units)} over the ground at its "
                f"highest: the foundation wants to show 6 in; {_LOCAL}.",
                f"{rule.source} ({rule.mark})",
            )  # fmt: skip


def _of_lowest_risers(design: Design) -> Iterator[Finding]:
    """Flights whose lowest riser is higher at one end than at the other."""
    ground, house = design.site.ground, design.house
    porch = design.porch
    half = porch.steps.width_m / 2.0
    if porch.shape == "semicircular" and porch.guard is None:  # its steps go all round
        half = porch.depth_m + porch.floor_edge_m + (porch.steps.risers - 1) * porch.steps.tread_m
    yield from _of_lowest_riser(half, ground.along, "porch", design.units)
    for opening in house.openings:
        if opening.door and opening.door.steps:
            across = ground.along if opening.wall in ("front", "back") else ground.back
            half = opening.door.steps.width_m / 2.0
            yield from _of_lowest_riser(half, across, "side door", design.units)


def _of_lowest_riser(half_m: float, across: float, which: str, units: str) -> Iterator[Finding]:
    rule, more = rules()["riser_uneven"], abs(across) * half_m
    if more > rule.value + 1e-6:
        yield Finding(
            "lowest riser", "caution",
            f"The ground slopes across the foot of the {which}'s steps: their lowest riser is "
            f"{format_length(more, units)} higher at one end than at the middle and as much lower "
            "at the other. Risers may differ by 3/8 in: the walk wants levelling at the foot; "
            f"{_LOCAL}.",
            f"{rule.source} ({rule.mark})",
        )  # fmt: skip


def landing_drop_m(design: Design) -> float:
    """The side door's landing above the lowest ground at its edges; 0 without one."""
    for opening in design.house.openings:
        steps = opening.door.steps if opening.door else None
        if opening.door and steps:
            half, out = steps.width_m / 2.0, opening.door.landing_m
            at = [
                ground_before_wall(
                    design.house, opening.wall, opening.along_m + x, design.site.ground
                )
                for x in (-half, half)
            ]
            return steps.top_z_m - min(height(y) for height in at for y in (0.0, out))
    return 0.0

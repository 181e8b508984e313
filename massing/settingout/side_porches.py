"""Side porches in plan, and the house as it is seen from a side."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from massing.design.design import Design
from massing.design.house import HouseDesign
from massing.design.side_porch import SidePorchDesign
from massing.settingout.porch import porch_reach_m

Plan = tuple[float, float, float, float]


def seen_from(house: HouseDesign, side: str) -> HouseDesign:
    """The house with a side wall for its front: as wide as it is deep, its openings that wall's."""
    openings = [replace(o, wall="front") for o in house.openings if o.wall == side]
    bays = sorted({o.along_m for o in openings if o.storey == 0})
    return replace(
        house,
        width_m=house.depth_m,
        depth_m=house.width_m,
        openings=tuple(openings),
        bay_centres_m=tuple(bays),
        cornice_continues_porch=False,
        wings=(),
        chimneys=(),
        recess=None,
        corner_pilasters=None,
    )


def design_of_side(design: Design, one: SidePorchDesign) -> Design:
    """The design as it is seen from a side porch: this for its porch, before a front so deep."""
    house, right = design.house, one.side == "right"
    x, y = on_plan(house, one.side, 0.0, 0.0)
    ground = design.site.ground.seen_from(x, y, 1 if right else -1)
    return replace(
        design,
        site=replace(design.site, ground=ground),
        house=seen_from(house, one.side),
        porch=one.porch,
        side_porches=(),
    )


def along_side_m(house: HouseDesign, side: str, back_m: float) -> float:
    """A place behind the front wall's face, in the frame of a side wall."""
    along = back_m - house.depth_m / 2.0
    return along if side == "right" else -along


def on_plan(house: HouseDesign, side: str, x_m: float, y_m: float) -> tuple[float, float]:
    """A place in the frame of a side wall as x and y of the house's."""
    sign = 1.0 if side == "right" else -1.0
    return sign * (house.width_m / 2.0 - y_m), house.depth_m / 2.0 + sign * x_m


def side_porch_plan(house: HouseDesign, one: SidePorchDesign, beside_m: float = 0.0) -> Plan:
    """What floor, cornice and steps of a side porch cover, in the house's frame."""
    porch = one.porch
    reach = porch_reach_m(porch) + beside_m
    out = porch.floor_edge_m + (porch.flight.run_m if porch.flight else 0.0)
    out = max(out, porch.frieze_half_depth_m + porch.order.cornice_projection_m)
    front = porch.column_y_m - out - beside_m
    corners = [
        on_plan(house, one.side, porch.centre_m + s * reach, y)
        for s in (-1.0, 1.0)
        for y in (front, 0.0)
    ]
    xs, ys = zip(*corners, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def drive_x_m(house: HouseDesign, porches: Iterable[SidePorchDesign]) -> float | None:
    """The middle of the way under a porte-cochere; None where there is none."""
    for one in porches:
        if one.kind == "porte-cochere":
            out = one.clear_from_m + one.clear_width_m / 2.0
            return on_plan(house, one.side, 0.0, -out)[0]
    return None


def side_porch_plans(
    house: HouseDesign, porches: Iterable[SidePorchDesign], beside_m: float = 0.0
) -> dict[str, Plan]:
    """Every such plan, by the porch's name."""
    return {one.name: side_porch_plan(house, one, beside_m) for one in porches}

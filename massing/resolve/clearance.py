"""What stands before the front wall clear of its openings, trims and all.

Boxes on the wall's face, right of its middle and above the ground: each opening with its sill,
head, shutters and surround; responds, balustrades, guards and columns by the wall as wide as they
stand. Where two meet the scene is refused by the field that asks for the second.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from massing.design.house import HouseDesign
from massing.design.opening import Opening
from massing.design.porch import PorchDesign, RecessedPorch, SemicircularPorch, WrappedPorch
from massing.design.roof import RoofDesign
from massing.practice.defaults import default
from massing.scene.errors import DesignError
from massing.units import HAIR_M, at_least, format_length

CLEAR_M = 0.002  # a scribe's breadth
LEAST_GUTTER_M = default("roof.least_gutter")
LEAST_UPPER_M = default("porch.least_upper")


@dataclass(frozen=True)
class _Standing:
    """Something before the wall, on both sides of the porch: by which field, what it is, and the
    room that it takes."""

    field: str
    name: str
    along_m: float  # its middle, either side of the porch's
    half_m: float
    foot_z_m: float
    top_z_m: float
    off_wall: bool = False  # clear of it, so that only a hood reaches so far
    porch_m: float = 0.0  # the porch's middle

    def off_m(self, opening: Opening) -> float:
        """An opening's middle to the porch's."""
        return abs(opening.along_m - self.porch_m)

    def meets(self, opening: Opening) -> bool:
        if self.off_wall and not opening.head.startswith("hood"):
            return False
        apart = abs(self.off_m(opening) - self.along_m)
        beside = apart >= opening.reach_m + self.half_m + CLEAR_M
        over = opening.foot_z_m >= self.top_z_m - CLEAR_M or opening.top_z_m <= self.foot_z_m
        return not (beside or over)


def check_clear(porch: PorchDesign, house: HouseDesign, roof: RoofDesign, units: str) -> None:
    """Raise DesignError where something of the porch stands before an opening of the front."""
    _check_upper(porch, units)
    _check_gutter(porch, house, roof)
    _check_rakes(porch)
    before = [o for o in house.openings if o.wall == "front" and not o.back_m and o.wing is None]
    for made in _standing(porch):
        standing = replace(made, porch_m=porch.centre_m)
        for opening in before:
            if standing.meets(opening):
                near = format_length(standing.off_m(opening) - opening.reach_m, units)
                far = format_length(standing.off_m(opening) + opening.reach_m, units)
                middle = "the porch's middle" if porch.centre_m else "the middle"
                raise DesignError(
                    standing.field,
                    f"{standing.name} {format_length(standing.along_m, units)} from {middle}, "
                    f"before {opening.name}",
                    f"clear of its {near} to {far} from {middle}, trims and all",
                )


def _check_upper(porch: PorchDesign, units: str) -> None:
    upper = porch.upper
    if upper is not None and upper.order.order_height_m < LEAST_UPPER_M - HAIR_M:
        raise DesignError(
            "porch.upper",
            f"an order {format_length(upper.order.order_height_m, units)} high",
            f"{at_least(LEAST_UPPER_M, units)} or more: a second storey for it, or a lower "
            "porch under it",
        )


def _check_gutter(porch: PorchDesign, house: HouseDesign, roof: RoofDesign) -> None:
    """A gutter stops at a porch as high as the eaves; where that leaves none of it, none is had."""
    if roof.gutter is None or not house.cornice_continues_porch:
        return
    top = porch.highest
    taken = abs(top.centre_m) + top.half_width_m + top.order.cornice_projection_m
    if not isinstance(porch, RecessedPorch) and taken > house.width_m / 2.0 - LEAST_GUTTER_M:
        raise DesignError(
            "roof.gutter",
            f"{roof.gutter.kind}, on eaves that a porch takes up from corner to corner",
            "none, or a porch that is lower or less wide",
        )


def _check_rakes(porch: PorchDesign) -> None:
    """Rakes so flat that they do not rise over the level cornice at their feet."""
    for field, each in (("porch", porch), ("porch.upper", porch.upper)):
        if each is None or each.roof != "pediment" or each.roof_pitch is None:
            continue
        names = [m.name for m in each.order.cornice]
        level = each.order.cornice[: names.index("cymatium")] if "cymatium" in names else ()
        high = sum(m.height for m in level)
        run = each.half_width_m + each.order.cornice_projection_m
        if each.roof_slope * run <= high:
            raise DesignError(
                "porch.roof_pitch" if field == "porch" else "porch.roof",
                f"rakes of {12.0 * each.roof_slope:.3g}:12",
                f"over {12.0 * high / run:.3g}:12, so that they clear the level cornice",
            )


def _standing(porch: PorchDesign) -> Iterator[_Standing]:
    for dotted, each in (("porch", porch), ("porch.upper", porch.upper)):
        if each is None:
            continue
        yield from _of_order(dotted, each)
    rail, top = porch.balustrade, porch.highest
    if rail is not None:
        half = max(rail.pedestal_width_m, top.order.upper_diameter_m) / 2.0
        foot_z = top.stands_on_z_m
        middle = top.half_width_m - top.frieze_half_depth_m
        yield _Standing(
            "porch.balustrade", "a balustrade", middle, half, foot_z, foot_z + rail.height_m
        )


def _of_order(dotted: str, porch: PorchDesign) -> Iterator[_Standing]:
    order, end = porch.order, porch.half_width_m - porch.frieze_half_depth_m
    wide = max(order.foot_width_m, order.abacus_width_m) / 2.0
    if porch.responds != "none":
        yield _Standing(
            "porch.responds", f"{porch.responds}", end, wide, porch.floor_z_m, porch.column_top_z_m
        )
    if isinstance(porch, SemicircularPorch):
        yield _Standing(
            "porch.spacing",
            "a column by the wall",
            porch.end_axis_m,
            wide,
            porch.floor_z_m,
            porch.column_top_z_m,
            off_wall=True,
        )
    guard = porch.guard
    if guard is not None and not isinstance(porch, WrappedPorch):
        half = guard.pedestal_width_m / 2.0
        top_z = porch.floor_z_m + guard.height_m
        yield _Standing(f"{dotted}.guard", "a guard", end, half, porch.floor_z_m, top_z)

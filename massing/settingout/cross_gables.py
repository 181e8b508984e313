"""Gables over part of the front or the back: their roofs, and where the eaves go round them.

A gable's own frame has its origin on the ground at the middle of the main wall's face under it:
x to the right as seen from outside, y into the house, z up.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from massing.design.house import HouseDesign
from massing.design.roof import CrossGable, RoofDesign
from massing.geometry.mesh import Floats
from massing.geometry.plan_polygons import Hole
from massing.settingout.cross_roofs import over_eave_m
from massing.settingout.eaves import EAVES_EDGE_M, eaves_reach
from massing.settingout.main_roof import main_slope_of
from massing.settingout.porch import FRIEZE_BOARD_M
from massing.settingout.roof_planes import RoofPlanes
from massing.settingout.valleys import gable_into, hip_into, hole_of

# Common practice, no source.
VERGE_M = 0.05  # before the main eaves, over a gable on the main wall
BOARD_M = 0.03  # thickness of barge boards
RETURN_OF_PROJECTION = 1.5  # a cornice that turns in under a gable, of its projection
_HOLE_OUT_M = 1.0  # a hole in the covering, out before the verge


def cross_gables(house: HouseDesign, roof: RoofDesign) -> list[CrossGable]:
    """Every one: on the main walls, and over wings as high as they."""
    return [*roof.gables, *(wing.gable for wing in house.wings if wing.gable)]


def gable_frame(gable: CrossGable, house: HouseDesign) -> Floats:
    """The ``(4, 4)`` placement of its own frame in the house's."""
    matrix = np.eye(4)
    matrix[0, 3] = gable.along_m
    if gable.wall == "back":
        matrix[0, 0] = matrix[1, 1] = -1.0
        matrix[0, 3], matrix[1, 3] = -gable.along_m, house.depth_m
    return matrix


def main_slope_before(gable: CrossGable, house: HouseDesign, roof: RoofDesign) -> Floats:
    """The main slope over its wall ``(n, 3)``, eave first, in its own frame."""
    # The roof is alike over front and back.
    return main_slope_of(house, roof) - [gable.along_m, 0.0, 0.0]


def eaves_half_m(gable: CrossGable, house: HouseDesign, roof: RoofDesign) -> float:
    """Its middle to the edge of its deck."""
    return gable.width_m / 2.0 + eaves_reach(house, roof)


def verge_y_m(gable: CrossGable, house: HouseDesign, roof: RoofDesign) -> float:
    """The edge of its deck over its own wall, or of its hipped end."""
    beyond = VERGE_M if gable.out_m == 0.0 else 0.0
    return -gable.out_m - eaves_reach(house, roof) - beyond


def peak_z_m(gable: CrossGable, house: HouseDesign, roof: RoofDesign) -> float:
    """The underside of its deck at the ridge."""
    return house.wall_top_z_m + gable.slope * eaves_half_m(gable, house, roof)


def cross_gable_planes(gable: CrossGable, house: HouseDesign, roof: RoofDesign) -> RoofPlanes:
    """Its slopes, in its own frame, with eaves level with the main ones.

    Raises:
        ValueError: they do not run back into the main slope.
    """
    make = hip_into if gable.hipped else gable_into
    other = main_slope_before(gable, house, roof)
    half, front_y = eaves_half_m(gable, house, roof), verge_y_m(gable, house, roof)
    return make(half, front_y, house.wall_top_z_m + EAVES_EDGE_M, gable.slope, other)


def cross_gable_hole(gable: CrossGable, house: HouseDesign, roof: RoofDesign) -> Hole:
    """What it asks of the main covering, in the house's frame."""
    planes = cross_gable_planes(gable, house, roof)
    front_y = verge_y_m(gable, house, roof) - _HOLE_OUT_M
    hole = hole_of(planes, front_y, over_eave_m(roof.covering, gable.slope))
    return hole.moved(gable_frame(gable, house))


def span_m(gable: CrossGable, house: HouseDesign, roof: RoofDesign) -> tuple[float, float]:
    """From and to along its wall, covering and all, as the wall is seen from outside."""
    half = eaves_half_m(gable, house, roof) + over_eave_m(roof.covering, gable.slope)
    return gable.along_m - half, gable.along_m + half


@dataclass(frozen=True)
class EavesRun:
    """A stretch of the eaves' cornice along a wall, ``(k, 2)`` in the wall's own plan.

    x to the right and y into the house, from the wall's middle on its outer face. It is cut off
    at an end where the eaves break under a gable, else it goes on round the corner.
    """

    path: Floats
    from_corner: bool
    to_corner: bool


def eaves_runs(house: HouseDesign, roof: RoofDesign, wall: str, out_m: float) -> list[EavesRun]:
    """The eaves' way along the front or the back, from left to right.

    It goes round a wing that is as high, and turns in to the wall at the feet of a gable that it
    does not run across.

    Args:
        house, roof: the main block and its roof.
        wall: ``front`` or ``back``.
        out_m: the line's distance before the walls.
    """
    half = house.width_m / 2.0 + out_m
    runs: list[list[tuple[float, float]]] = [[(-half, -out_m)]]
    there = [g for g in cross_gables(house, roof) if g.wall == wall]
    for gable in sorted(there, key=lambda g: g.along_m):
        x, side, y = gable.along_m, gable.width_m / 2.0 + out_m, -gable.out_m - out_m
        turned_in = gable.foot == "returns" and not gable.hipped
        if gable.out_m:
            runs[-1] += [(x - side, -out_m), (x - side, y)]
        if turned_in:
            foot = x - gable.width_m / 2.0
            end = return_m(house)
            # The run along the wall goes on past the gable's own corner.
            runs[-1] += [(foot + end, y), (foot + end, y + out_m)]
            foot = x + gable.width_m / 2.0
            runs.append([(foot - end, y + out_m), (foot - end, y)])
        if gable.out_m:
            runs[-1] += [(x + side, y), (x + side, -out_m)]
    runs[-1].append((half, -out_m))
    last = len(runs) - 1
    return [EavesRun(np.array(r), k == 0, k == last) for k, r in enumerate(runs)]


def return_m(house: HouseDesign) -> float:
    """How far the eaves' cornice runs in under a gable's foot, from the wall's corner under it."""
    return RETURN_OF_PROJECTION * (house.cornice.projection_m + FRIEZE_BOARD_M)

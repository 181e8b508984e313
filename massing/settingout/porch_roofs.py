"""The porch's roof: its slopes, where it meets the house, how high it comes on the wall.

A porch that is not at the eaves stands its roof against the front wall, below the cornice; or
the main slope is carried down over it, from the main eaves.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from massing.design.house import HouseDesign
from massing.design.porch import PorchDesign, WrappedPorch
from massing.design.roof import RoofDesign
from massing.geometry.mesh import Floats
from massing.practice.coverings import covering
from massing.settingout.eaves import EAVES_EDGE_M, FLASHING_M
from massing.settingout.main_roof import main_slope_of
from massing.settingout.porch import frieze_path
from massing.settingout.roof_planes import (
    RoofPlanes,
    lean_to_planes,
    porch_gable_planes,
    shed_planes,
)
from massing.settingout.wall_faces import Cut, CutShape

VERGE_M = 0.08  # a covering beyond its deck
UNDER_EAVES_M = 0.006  # the covering of a slope carried down, to the main covering over it


def own_roof(porch: PorchDesign, roof: RoofDesign) -> RoofDesign:
    """The main roof's design with the porch's own covering."""
    return replace(roof, covering=porch.roof_covering or roof.covering)


def covering_top_m(porch: PorchDesign, roof: RoofDesign) -> float:
    """The porch's covering over its deck, upright; none where it is plain."""
    name = porch.roof_covering or roof.covering
    rise = 0.0 if name == "plain" else covering(name).rise_m
    return rise * math.hypot(1.0, porch.roof_slope)


def flashing_m(porch: PorchDesign, roof: RoofDesign) -> float:
    """How far a flashing goes up the wall over the covering; none over a plain roof."""
    return 0.0 if (porch.roof_covering or roof.covering) == "plain" else FLASHING_M


def porch_edge(porch: PorchDesign, roof: RoofDesign) -> tuple[float, float]:
    """The deck's edge: half its width, about the porch's middle, and its front's y."""
    path = frieze_path(porch, -porch.order.cornice_projection_m - roof.overhang_m)
    return float(path[:, 0].max()) - porch.centre_m, float(path[:, 1].min())


def main_eave(house: HouseDesign, roof: RoofDesign) -> tuple[float, float, float]:
    """The main deck's front eave: half its length, its y, and its upper edge's z."""
    ring = main_slope_of(house, roof)
    return float(np.abs(ring[:2, 0]).max()), float(ring[0, 1]), float(ring[0, 2])


def carried_slope(porch: PorchDesign, house: HouseDesign, roof: RoofDesign) -> float:
    """Rise over run of the main slope carried down from its eaves over the porch.

    Its covering passes under the main one's.
    """
    _, front_y = porch_edge(porch, roof)
    _, eave_y, eave_z = main_eave(house, roof)
    name = porch.roof_covering or roof.covering
    rise = 0.0 if name == "plain" else covering(name).rise_m
    run = eave_y - front_y
    slope = 0.0
    for _ in range(4):
        head_z = eave_z - rise * math.hypot(1.0, slope) - UNDER_EAVES_M
        slope = (head_z - porch.top_z_m - EAVES_EDGE_M) / (run - roof.overhang_m)
    return slope


def porch_planes(porch: PorchDesign, house: HouseDesign, roof: RoofDesign) -> RoofPlanes:
    """The slopes of a pitched porch roof against the wall, or under the main eaves.

    Raises:
        ValueError: the roof is flat, or has no area.
    """
    half, front_y = porch_edge(porch, roof)
    slope = porch.roof_slope
    eaves_z = porch.top_z_m + EAVES_EDGE_M
    if isinstance(porch, WrappedPorch):
        made = wrapped_planes(porch, roof, eaves_z)
        return replace(made, wall_x_m=wall_side(house))
    sunk_z = eaves_z - slope * roof.overhang_m  # carried on the cornice's outer edge
    low, high = (porch.centre_m - half, front_y), (porch.centre_m + half, 0.0)
    match porch.roof:
        case "hipped":
            made = lean_to_planes(low, high, eaves_z, slope)
        case "pediment" | "gable":
            made = porch_gable_planes(low, high, sunk_z, slope)
        case "lean-to":
            made = shed_planes(low, high, sunk_z, slope)
        case "main slope":
            most, eave_y, _ = main_eave(house, roof)
            low, high = (max(low[0], -most), front_y), (min(high[0], most), eave_y)
            made = shed_planes(low, high, sunk_z, slope, under_eave=True)
        case _:
            raise ValueError(f"a {porch.roof} roof has no slopes")
    return made if porch.roof == "main slope" else replace(made, wall_x_m=wall_side(house))


def wrapped_planes(porch: WrappedPorch, roof: RoofDesign, eaves_z: float) -> RoofPlanes:
    """Hipped slopes before the front and along the sides, with a hip at each corner."""
    path = frieze_path(porch, -porch.order.cornice_projection_m - roof.overhang_m)
    x0, x1 = float(path[:, 0].min()), float(path[:, 0].max())
    y0, y1 = float(path[:, 1].min()), float(path[:, 1].max())
    run, half = -y0, porch.house_half_m
    top = eaves_z + porch.roof_slope * run

    def low(x: float, y: float) -> Floats:
        return np.array([x, y, eaves_z])

    def high(x: float, y: float) -> Floats:
        return np.array([x, y, top])

    heads = []
    slopes, hips = [], []
    for side, x, sign in (("left", x0, -1.0), ("right", x1, 1.0)):
        corner = low(x, y0)
        round_it = porch.goes_round(side)
        head = high(sign * half, 0.0) if round_it else high(x - sign * run, 0.0)
        heads.append(head)
        hips.append([corner, head])
        # eave first, from outside left to right: the right side's front to back, the left's back
        if round_it:
            last, end = high(sign * half, y1 - run), low(x, y1)
            wall = low(sign * half, y1)
            hips.append([end, last])
            side_ring = [corner, end, last, head] if sign > 0 else [end, corner, head, last]
            end_ring = [end, wall, last] if sign > 0 else [wall, end, last]
            slopes += [np.array(side_ring), np.array(end_ring)]
        else:
            foot = low(x, 0.0)
            slopes.append(np.array([corner, foot, head] if sign > 0 else [foot, corner, head]))
    front = np.array([low(x0, y0), low(x1, y0), heads[1], heads[0]])
    return RoofPlanes((front, *slopes), np.array(hips), np.empty((0, 2, 3)))


def slab_z(porch: PorchDesign, roof: RoofDesign, y_m: float) -> float:
    """Underside of a lean-to's deck at a distance along y."""
    _, front_y = porch_edge(porch, roof)
    return porch.top_z_m + porch.roof_slope * (y_m - front_y - roof.overhang_m)


def rise_run_m(porch: PorchDesign, roof: RoofDesign) -> float:
    """Over how much run the deck rises from the cornice's top to where it is highest.

    A hipped one rises from its own edge, others are carried on the cornice's outer edge.
    """
    half, front_y = porch_edge(porch, roof)
    match porch.roof:
        case "hipped":
            return min(half, -front_y)
        case "lean-to":
            return -front_y - roof.overhang_m
        case "pediment" | "gable":
            return half - roof.overhang_m
    return 0.0


def top_on_wall_m(porch: PorchDesign, roof: RoofDesign) -> float:
    """How high a roof below the eaves comes on the front wall, covering, flashing and all."""
    eaves_z = porch.top_z_m + EAVES_EDGE_M
    if porch.roof == "flat":
        return eaves_z + FLASHING_M
    deck_z = eaves_z + porch.roof_slope * rise_run_m(porch, roof)
    return deck_z + covering_top_m(porch, roof) + flashing_m(porch, roof)


def saddle_m(porch: PorchDesign, roof: RoofDesign) -> float:
    """How far the lead over the head of a hip or ridge goes up beyond the flashing beside it."""
    name = porch.roof_covering or roof.covering
    headed = porch.roof in ("hipped", "gable", "pediment") and name != "plain"
    return covering(name).over_ridge_m if headed else 0.0


@dataclass(frozen=True)
class _HalfWidth:
    """Half of what a roof takes of a wall at a height; two of the same sizes are the same."""

    foot_m: float
    foot_z_m: float
    slope: float
    run_m: float

    def __call__(self, z_m: float) -> float:
        return self.foot_m - min(max(z_m - self.foot_z_m, 0.0) / self.slope, self.run_m)


def on_wall(porch: PorchDesign, house: HouseDesign, roof: RoofDesign) -> list[Cut]:
    """What the roof and its flashing take of the front wall."""
    if porch.roof in ("flat", "main slope") or house.cornice_continues_porch:
        return []
    half, _ = porch_edge(porch, roof)
    slope, eaves_z = porch.roof_slope, porch.top_z_m
    if isinstance(porch, WrappedPorch):
        return _wrapped_on_wall(porch, house, roof, "front")
    name = porch.roof_covering or roof.covering
    flashing = flashing_m(porch, roof)
    lift = EAVES_EDGE_M + flashing + (0.0 if name == "plain" else covering(name).rise_m)
    if porch.roof == "lean-to":
        foot_z = slab_z(porch, roof, 0.0)
        wide = half + VERGE_M
        level = _HalfWidth(wide, 0.0, 1.0, 0.0)
        return [CutShape(porch.centre_m, foot_z - 0.01, foot_z + lift, level)]
    steep = porch.roof in ("pediment", "gable")
    run = half if steep else min(half, porch.depth_m + half - porch.end_axis_m)
    reach = _HalfWidth(half + VERGE_M, eaves_z + lift, slope, run)
    return [CutShape(porch.centre_m, eaves_z - flashing, eaves_z + slope * run + lift, reach)]


def _wrapped_on_wall(
    porch: WrappedPorch, house: HouseDesign, roof: RoofDesign, wall: str
) -> list[Cut]:
    """What a roof that goes round a corner takes of a wall: to the corner, or to a hipped end."""
    half, run = porch.house_half_m, -porch_edge(porch, roof)[1]
    slope, flashing = porch.roof_slope, flashing_m(porch, roof)
    lift = EAVES_EDGE_M + flashing + covering_top_m(porch, roof)
    foot_z, top_z = porch.top_z_m - flashing, porch.top_z_m + slope * run + lift
    path = frieze_path(porch, -porch.order.cornice_projection_m - roof.overhang_m)
    if wall == "front":
        ends = [float(path[:, 0].min()), float(path[:, 0].max())]
        corners = [-half if porch.goes_round("left") else None]
        corners.append(half if porch.goes_round("right") else None)
    else:  # in that wall's frame, its front corner at its left on the right side
        back, middle = float(path[:, 1].max()), house.depth_m / 2.0
        ends = [-middle, back - middle] if wall == "right" else [middle - back, middle]
        corners = [-middle, None] if wall == "right" else [None, middle]
    low, high = (e if c is None else c for e, c in zip(ends, corners, strict=True))
    middle_x, wide = (low + high) / 2.0, (high - low) / 2.0
    reach = _HalfWidth(wide + VERGE_M, porch.top_z_m + lift, slope, run)
    found: list[Cut] = [CutShape(middle_x, foot_z, top_z, reach)]
    if corners[0] is not None:
        found.append((low, foot_z, middle_x, top_z))
    if corners[1] is not None:
        found.append((middle_x, foot_z, high, top_z))
    return found


def on_side_wall(porch: PorchDesign, house: HouseDesign, roof: RoofDesign, side: str) -> list[Cut]:
    """What a roof that goes round a corner takes of that side's wall, in the wall's frame."""
    if not isinstance(porch, WrappedPorch) or not porch.goes_round(side):
        return []
    return _wrapped_on_wall(porch, house, roof, side)


def wall_side(house: HouseDesign) -> tuple[float, float]:
    """From and to, in x, where there is a front wall for a porch roof to stand against."""
    half = house.width_m / 2.0
    return -half, half

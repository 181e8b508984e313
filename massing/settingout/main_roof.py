"""Where the main roof runs over the house."""

from __future__ import annotations

from massing.design.house import HouseDesign
from massing.design.roof import DeckRoof, GambrelRoof, RoofDesign
from massing.geometry.mesh import Floats
from massing.settingout.eaves import EAVES_EDGE_M, eaves_reach
from massing.settingout.roof_heights import nose_m
from massing.settingout.roof_planes import (
    RoofPlanes,
    decked_planes,
    gable_planes,
    gambrel_planes,
    hip_planes,
)

_Plan = tuple[tuple[float, float], tuple[float, float]]


def deck_sinks_m(roof: RoofDesign) -> float:
    """How far the deck's eaves lie below the cornice, where it is carried on raking cornices."""
    return roof.slope * roof.overhang_m if roof.raked else 0.0


def main_planes(house: HouseDesign, roof: RoofDesign) -> list[RoofPlanes]:
    """The main roof's slopes, the lowest first, before anything comes through them."""
    low, high = _eaves(house, roof)
    z = house.wall_top_z_m + EAVES_EDGE_M - deck_sinks_m(roof)
    if isinstance(roof, DeckRoof):
        return [decked(house, roof)[0]]
    if isinstance(roof, GambrelRoof):
        slopes, run = (roof.lower_slope, roof.slope), roof.break_run_m
        rise = roof.lower_slope * run
        made = gambrel_planes(low, high, z, slopes, (run, rise), nose_m(roof), EAVES_EDGE_M)
        return list(made)
    make = hip_planes if roof.hipped else gable_planes
    return [make(low, high, z, roof.slope)]


def decked(house: HouseDesign, roof: DeckRoof) -> tuple[RoofPlanes, Floats]:
    """The slopes of a hip that is cut off level, and the corners ``(4, 3)`` of its flat."""
    low, high = _eaves(house, roof)
    z = house.wall_top_z_m + EAVES_EDGE_M
    return decked_planes(low, high, z, roof.slope, roof.deck_run_m)


def main_slope_of(house: HouseDesign, roof: RoofDesign, side: str = "front") -> Floats:
    """The polygon ``(n, 3)`` of the lowest slope over the front, or over the back, eave first."""
    rings = main_planes(house, roof)[0].slopes
    pick = min if side == "front" else max
    return pick(rings, key=lambda ring: float(ring[:2, 1].mean()))


def _eaves(house: HouseDesign, roof: RoofDesign) -> _Plan:
    """Plan corners of the eaves' outer edges."""
    out = eaves_reach(house, roof)
    x = house.width_m / 2.0 + out
    return (-x, -out), (x, house.depth_m + out)

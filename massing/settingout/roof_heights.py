"""How far the main roof reaches and how high it rises, from the design alone."""

from __future__ import annotations

from math import atan, sin

import numpy as np

from massing.design.porch import BalustradeDesign
from massing.design.roof import DeckRoof, GableRoof, GambrelRoof, RoofDesign
from massing.geometry.mesh import Floats
from massing.practice.coverings import covering
from massing.practice.joinery_sizes import joinery_size

# Common practice, no source.
CURB_M = joinery_size("flat.curb")
BALUSTRADE_BAY_M = joinery_size("flat.balustrade_bay")
_NOSE_CLEAR_M = 0.02
_DIE_IN_M = 0.05  # a pedestal's die behind the curb's face, its base then on the flat


def covering_rise_m(roof: RoofDesign) -> float:
    """About how far the covering stands above its deck."""
    return 0.0 if roof.covering == "plain" else covering(roof.covering).rise_m


def nose_m(roof: GambrelRoof) -> float:
    """How far a gambrel's upper slope begins before the lower one's head, to lap it."""
    return covering_rise_m(roof) / sin(atan(roof.lower_slope)) + _NOSE_CLEAR_M


def balustrade_corners(flat: Floats, rail: BalustradeDesign) -> Floats:
    """Axes ``(4, 2)`` of the corner pedestals on a flat with those corners ``(4, 2)``."""
    inset = rail.pedestal_width_m / 2.0 + _DIE_IN_M
    inwards = np.array([(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)])
    return np.asarray(flat, dtype=float) + inset * inwards


def curb_m(roof: RoofDesign) -> float:
    """Height of the curb round a flat on the roof, over the slopes' heads and their hip tiles."""
    tiles = roof.covering != "plain" and covering(roof.covering).ridge == "barrel"
    hip_m = covering(roof.covering).ridge_width_m / 2.0 if tiles else 0.0
    return CURB_M + covering_rise_m(roof) + hip_m


def roof_rise_m(roof: RoofDesign, width_m: float, depth_m: float, reach_m: float) -> float:
    """The eaves to the highest line of the roof: a ridge, or the flat.

    Args:
        width_m, depth_m: the walls' plan.
        reach_m: the wall's face to the roof's edge.
    """
    run = depth_m / 2.0 + reach_m
    match roof:
        case GableRoof():
            return roof.slope * run
        case GambrelRoof():
            upper = run - roof.break_run_m + nose_m(roof)
            return roof.lower_slope * roof.break_run_m + roof.slope * upper
        case DeckRoof():
            return roof.slope * roof.deck_run_m + curb_m(roof)
    return roof.slope * (min(width_m, depth_m) / 2.0 + reach_m)

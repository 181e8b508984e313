"""How much of a wall a pilaster at the house's corner takes."""

from __future__ import annotations

from massing.canon import FittedOrder
from massing.canon.order import beyond_face
from massing.practice.joinery_sizes import joinery_size
from massing.settingout.porch import FRIEZE_BOARD_M

# The shaft stands before the wall as far as the frieze over it, so that their faces are one.
PROUD_M = FRIEZE_BOARD_M
BLOCK_BEYOND_M = joinery_size("wall.pilaster_block")


def shaft_leg(order: FittedOrder) -> float:
    """How far the shaft goes along each wall from the corner, metres."""
    return order.upper_diameter_m - PROUD_M


def widest_reach(order: FittedOrder) -> float:
    """How far base or capital goes beyond the shaft's faces, metres."""
    base = beyond_face(order.base, order.diameter_m / 2.0)
    capital = beyond_face(order.capital, order.upper_diameter_m / 2.0)
    members = [*base, *capital, *order.architrave]
    return max(0.0, *(max(m.foot, m.head) for m in members))


def block_leg(order: FittedOrder) -> float:
    """How far the foundation block goes along each wall from the corner, metres."""
    return shaft_leg(order) + widest_reach(order) + BLOCK_BEYOND_M

"""What the house stands on: the ground, and a walk to the steps."""

from __future__ import annotations

import numpy as np

from massing.mesh import Mesh, Part
from massing.solids import box_between

_REACH_M = 4000.0
_WALK_M = 0.02


def ground() -> Part:
    """A level sheet at z = 0 that reaches past the eye's horizon; open, not a solid."""
    r = _REACH_M
    corners = np.array([[-r, -r, 0.0], [r, -r, 0.0], [r, r, 0.0], [-r, r, 0.0]])
    return Part(
        "setting/ground", "grass", Mesh(corners, np.array([[0, 1, 2], [0, 2, 3]])), solid=False
    )


def walk(width_m: float, from_y_m: float, length_m: float) -> Part:
    """A straight walk about x = 0, away from the house from ``from_y_m``, lying on the ground."""
    half = width_m / 2.0
    mesh = box_between((-half, from_y_m - length_m, 0.0), (half, from_y_m, _WALK_M))
    return Part("setting/walk", "walk", mesh)

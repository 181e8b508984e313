"""The porch in plan: where its frieze runs, where it meets the house, what it covers."""

from __future__ import annotations

import numpy as np

from massing.mesh import Floats
from massing.scene.design import PorchDesign

FRIEZE_BOARD_M = 0.03  # entablature boards before the wall's face
_ARC_STEPS = 64


def frieze_path(porch: PorchDesign, inset_m: float = 0.0) -> Floats:
    """The frieze's face ``(k, 2)``, from the wall's left round the front to its right.

    ``inset_m`` moves it inwards. Outwards is to the right of travel.
    """
    if porch.shape == "semicircular":
        turn = np.linspace(np.pi, 0.0, _ARC_STEPS + 1)
        arc = np.column_stack([np.cos(turn), -np.sin(turn)]) * (porch.half_width_m - inset_m)
        arc[[0, -1], 1] = 0.0
        return arc
    x = porch.half_width_m - inset_m
    y = -(porch.depth_m + porch.frieze_half_depth_m - inset_m)
    return np.array([(-x, 0.0), (-x, y), (x, y), (x, 0.0)])


def path_before(porch: PorchDesign, back_y_m: float, inset_m: float = 0.0) -> Floats:
    """The frieze path cut off at a line along the front, ``back_y_m`` (not above 0)."""
    path = frieze_path(porch, inset_m)
    x = path[0, 0]
    if porch.shape == "semicircular":
        x = -float(np.sqrt(path[0, 0] ** 2 - back_y_m**2))
    within = path[path[:, 1] < back_y_m - 1e-6]
    return np.concatenate([[(x, back_y_m)], within, [(-x, back_y_m)]])


def joints(porch: PorchDesign) -> Floats:
    """Where the porch's frieze face meets that of the house's front, left and right."""
    return path_before(porch, -FRIEZE_BOARD_M)[[0, -1]]

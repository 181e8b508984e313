"""The porch's ceiling: matched boards with V joints."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.solids import prism
from massing.parts.part import Part
from massing.units import INCH_M

_BOARD_M = 3.25 * INCH_M  # face of a matched ceiling board: practice
_THICKNESS_M = 0.625 * INCH_M  # practice
_JOINT_M = 0.1875 * INCH_M


def ceiling(low: ArrayLike, high: ArrayLike, z_m: float) -> list[Part]:
    """Boards along x filling a plan rectangle, faces at ``z_m``, V joints cut from below.

    Args:
        low, high: corners ``(2,)`` (x, y), metres.
        z_m: underside above the ground.

    Raises:
        ValueError: the rectangle has no area.
    """
    (x0, y0), (x1, y1) = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    if x1 <= x0 or y1 <= y0:
        raise ValueError("a ceiling needs a rectangle with an area")
    boards = max(1, round((y1 - y0) / _BOARD_M))
    joints = y0 + (y1 - y0) / boards * np.arange(1, boards)
    cut = _JOINT_M
    notches = np.stack(
        [
            np.column_stack([joints - cut / 2.0, np.zeros_like(joints)]),
            np.column_stack([joints, np.full_like(joints, cut)]),
            np.column_stack([joints + cut / 2.0, np.zeros_like(joints)]),
        ],
        axis=1,
    ).reshape(-1, 2)
    top = _THICKNESS_M
    outline = np.concatenate([[(y0, 0.0)], notches, [(y1, 0.0), (y1, top), (y0, top)]])
    mesh = prism(outline, (x0, 0.0, z_m), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), x1 - x0)
    return [Part(("ceiling",), "ceiling", mesh)]

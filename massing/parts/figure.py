"""A standing person as a plain silhouette, for scale."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from massing.mesh import Floats, Part
from massing.solids import prism
from massing.units import FOOT_M, INCH_M

FIGURE_HEIGHT_M = 5.0 * FOOT_M + 8.0 * INCH_M
_THICKNESS_M = 0.03

# Half of a person seen from the front, feet a little apart, in heads: the figure is seven and
# a half heads tall (the draughtsman's usual canon of the figure: from memory).
_HEADS = 7.5
_LEG_AND_SIDE = [
    (0.14, 0.00), (0.58, 0.00), (0.58, 0.08), (0.42, 0.26), (0.40, 0.60), (0.50, 1.30),
    (0.48, 1.80), (0.54, 2.20), (0.66, 3.00), (0.69, 3.60), (0.62, 4.10), (0.57, 4.50),
    (0.63, 5.00), (0.66, 5.20),
]  # fmt: skip
_ARM = [
    (0.76, 4.90), (0.82, 4.30), (0.88, 3.70), (0.90, 3.30), (0.94, 3.06), (1.03, 3.10),
    (1.08, 3.36), (1.05, 3.70), (1.07, 4.15), (1.05, 4.60), (1.04, 5.10), (1.02, 5.55),
    (0.94, 5.90), (0.74, 6.06), (0.44, 6.18), (0.24, 6.30), (0.22, 6.42), (0.22, 6.58),
]  # fmt: skip
_HEAD_CENTRE, _HEAD_HALF = (0.0, 6.99), (0.38, 0.51)
_CROTCH = (0.0, 3.30)


def figure_outline() -> Floats:
    """Outline ``(n, 2)`` of (x, z), metres, about x = 0, feet on z = 0."""
    start = np.arctan2((6.58 - _HEAD_CENTRE[1]) / _HEAD_HALF[1], 0.22 / _HEAD_HALF[0])
    angle = np.linspace(start, np.pi / 2.0, 14)[1:]
    head = np.column_stack([np.cos(angle), np.sin(angle)]) * _HEAD_HALF + _HEAD_CENTRE
    right = np.concatenate([_round_corners(_LEG_AND_SIDE + _ARM), head[:-1]])
    left = right[::-1] * [-1.0, 1.0]
    top, crotch = head[-1:] * [0.0, 1.0], np.array([_CROTCH])
    outline = np.concatenate([right, top, left, crotch])
    return outline * FIGURE_HEIGHT_M / _HEADS


def _round_corners(points: list[tuple[float, float]]) -> Floats:
    """Corners cut twice (Chaikin), the first two and the last kept."""
    line = np.array(points[1:])
    for _ in range(2):
        a, b = line[:-1], line[1:]
        cut = np.stack([0.75 * a + 0.25 * b, 0.25 * a + 0.75 * b], axis=1).reshape(-1, 2)
        line = np.concatenate([line[:1], cut, line[-1:]])
    return np.concatenate([np.array(points[:1]), line])


def figure(position: ArrayLike, facing_rad: float = 0.0) -> Part:
    """The silhouette, 5 ft 8 in tall and 3 cm thick, standing on ``position`` ``(3,)``.

    ``facing_rad`` turns it counter-clockwise from facing -Y.
    """
    c, s = np.cos(facing_rad), np.sin(facing_rad)
    back = np.asarray(position, dtype=float) + _THICKNESS_M / 2.0 * np.array([-s, c, 0.0])
    mesh = prism(figure_outline(), back, (c, s, 0.0), (0.0, 0.0, 1.0), _THICKNESS_M)
    return Part("setting/figure", "figure", mesh)

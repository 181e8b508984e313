"""A standing person in plain outline, for scale."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.cleaning import cleaned
from massing.geometry.mesh import Floats, Mesh
from massing.geometry.solids import loft, turned_about_z, union
from massing.parts.part import Part
from massing.units import FOOT_M, INCH_M

FIGURE_HEIGHT_M = 5.0 * FOOT_M + 8.0 * INCH_M

# Level sections as ellipses, from the foot of each limb to its top, in heads: height, middle and
# half width across, middle and half depth. The figure is seven and a half heads tall (the
# draughtsman's usual canon of the figure: from memory); it faces -y.
_HEADS = 7.5
_LEG = [
    (0.00, 0.33, 0.20, -0.25, 0.52), (0.12, 0.33, 0.20, -0.25, 0.50), (0.35, 0.29, 0.15, 0.0, 0.22),
    (0.60, 0.27, 0.13, 0.00, 0.20), (1.30, 0.30, 0.20, 0.08, 0.28), (1.95, 0.28, 0.19, -0.02, 0.25),
    (2.60, 0.32, 0.26, 0.00, 0.35), (3.40, 0.34, 0.34, 0.04, 0.44),
]  # fmt: skip
_TRUNK = [
    (3.20, 0.00, 0.64, 0.05, 0.44), (3.60, 0.00, 0.69, 0.06, 0.48), (4.40, 0.0, 0.56, -0.04, 0.36),
    (5.00, 0.00, 0.64, -0.02, 0.44), (5.50, 0.00, 0.74, -0.01, 0.43), (5.90, 0.0, 0.76, 0.01, 0.34),
    (6.10, 0.00, 0.58, 0.02, 0.25), (6.30, 0.00, 0.23, 0.03, 0.22), (6.70, 0.00, 0.21, -0.02, 0.22),
]  # fmt: skip
_ARM = [
    (3.02, 0.98, 0.05, -0.1, 0.08), (3.20, 0.99, 0.10, -0.10, 0.16), (3.7, 0.98, 0.09, -0.05, 0.12),
    (4.20, 0.97, 0.12, 0.00, 0.15), (4.80, 0.94, 0.13, 0.02, 0.18), (5.50, 0.88, 0.17, 0.02, 0.24),
    (5.80, 0.82, 0.16, 0.02, 0.21), (5.96, 0.74, 0.10, 0.02, 0.14),
]  # fmt: skip
_HEAD = (6.99, 0.51, 0.38, -0.02, 0.48)  # an egg: middle, half height, half width, middle, depth
_ROUND = 24


def figure(position: ArrayLike, facing_rad: float = 0.0) -> Part:
    """The person, 5 ft 8 in tall, standing on ``position`` ``(3,)``.

    ``facing_rad`` turns it counter-clockwise from facing -Y.
    """
    mesh = _person().moved(turned_about_z(facing_rad, position))
    return Part(("setting", "figure"), "figure", mesh)


@cache
def _person() -> Mesh:
    """The same for all, standing on the origin."""
    across = np.array([1.0, -1.0, 1.0, 1.0, 1.0])
    limbs = [np.array(_TRUNK), _egg()]
    for half in (_LEG, _ARM):
        limbs += [np.array(half), np.array(half) * across]
    in_heads = union([_limb(limb) for limb in limbs])
    return cleaned(in_heads.moved(np.diag([*[FIGURE_HEIGHT_M / _HEADS] * 3, 1.0])))


def _egg() -> Floats:
    middle, high, wide, back, deep = _HEAD
    turn = np.linspace(-np.pi / 2.0, np.pi / 2.0, 13)[1:-1]
    turn = np.concatenate([[-1.5], turn, [np.pi / 2.0 - 0.01]])
    out = np.cos(turn)
    level = middle + high * np.sin(turn) / np.sin(turn[-1])
    return np.column_stack([level, 0 * out, wide * out, 0 * out + back, deep * out])


def _limb(sections: Floats) -> Mesh:
    """A closed body through elliptical level sections ``(k, 5)``, its corners rounded off."""
    line = sections
    for _ in range(2):  # Chaikin's cut, the ends kept
        a, b = line[:-1], line[1:]
        cut = np.stack([0.75 * a + 0.25 * b, 0.25 * a + 0.75 * b], axis=1).reshape(-1, 5)
        line = np.concatenate([line[:1], cut[1:-1], line[-1:]])
    turn = 2.0 * np.pi * np.arange(_ROUND) / _ROUND
    z, x, wide, y, deep = (column[:, None] for column in line.T)
    rings = [
        x + wide * np.cos(turn),
        y + deep * np.sin(turn),
        np.broadcast_to(z, (len(line), _ROUND)),
    ]
    return loft(np.stack(rings, axis=-1))

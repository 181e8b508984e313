"""Carved and turned ornaments of the orders, each one closed mesh in its own frame.

Ornaments that are set along a run face -Y: x along the run, -y outwards from the face they
stand on, z up. They are housed a little behind that face.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from massing.mesh import Mesh
from massing.solids import lathe

HOUSED_M = 0.002  # how far an applied ornament enters what it stands against


def slab(front: ArrayLike, back: ArrayLike) -> Mesh:
    """The solid between two grids ``(m, n, 3)`` that face each other.

    Raises:
        ValueError: the grids differ in shape.
    """
    front, back = np.asarray(front, dtype=float), np.asarray(back, dtype=float)
    if front.shape != back.shape:
        raise ValueError(f"the two grids differ: {front.shape} and {back.shape}")
    m, n, _ = front.shape
    index = np.arange(m * n).reshape(m, n)
    a, b, c, d = index[:-1, :-1], index[:-1, 1:], index[1:, 1:], index[1:, :-1]
    skin = np.concatenate(
        [np.stack([a, b, c], -1).reshape(-1, 3), np.stack([a, c, d], -1).reshape(-1, 3)]
    )
    rim = np.concatenate([index[0], index[1:, -1], index[-1, -2::-1], index[-2:0:-1, 0]])
    i, j = rim, np.roll(rim, -1)
    walls = np.concatenate(
        [np.stack([j, i, i + m * n], -1), np.stack([j, i + m * n, j + m * n], -1)]
    )
    faces = np.concatenate([skin, skin[:, ::-1] + m * n, walls])
    mesh = Mesh(np.concatenate([front.reshape(-1, 3), back.reshape(-1, 3)]), faces)
    return mesh if mesh.volume_m3 > 0 else Mesh(mesh.vertices, mesh.faces[:, ::-1])


def triglyph(width_m: float, height_m: float, projection_m: float) -> Mesh:
    """A triglyph standing on z = 0: two channels and a half channel at each edge.

    In twelfths of the width: half channel 1, flat 2, channel 2, flat 2, channel 2, flat 2,
    half channel 1 (the common division; from memory). The channels are cut to 45 degrees
    where the projection allows and end in a slope below a plain head.
    """
    unit = width_m / 12.0
    depth = min(unit, 0.9 * projection_m)
    x = np.array([-6, -5, -3, -2, -1, 1, 2, 3, 5, 6]) * unit
    cut = np.array([1, 0, 0, 1, 0, 0, 1, 0, 0, 1]) * depth
    head = 0.11 * height_m
    z = np.array([0.0, height_m - head - depth, height_m - head, height_m])
    sunk = np.array([1.0, 1.0, 0.0, 0.0])
    front = np.empty((len(z), len(x), 3))
    front[..., 0], front[..., 2] = x[None, :], z[:, None]
    front[..., 1] = -projection_m + sunk[:, None] * cut[None, :]
    back = front.copy()
    back[..., 1] = HOUSED_M
    return slab(front, back)


def gutta(top_m: float, bottom_m: float, height_m: float) -> Mesh:
    """A drop hanging from z = 0: a small cone frustum, ``top_m`` and ``bottom_m`` across."""
    return lathe([[bottom_m / 2.0, -height_m], [top_m / 2.0, 0.0]], 12)

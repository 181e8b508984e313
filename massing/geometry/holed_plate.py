"""Plates with holes whose edges stand back from layer to layer, as the frame round panes does."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats, Mesh
from massing.geometry.solids import offset_directions, triangulate

CUT_SHORT = 1.6  # of the offset, where a sharp corner's mitre is cut; a square one has 1.41


def widened(ring: ArrayLike, out_m: float, longest: float = np.inf) -> Floats:
    """A counter-clockwise outline ``(n, 2)`` with every side moved outwards, mitred.

    ``longest`` is how far, of ``out_m``, a sharp corner's mitre may run.

    >>> widened([(0, 0), (1, 0), (1, 1), (0, 1)], 0.5).tolist()
    [[-0.5, -0.5], [1.5, -0.5], [1.5, 1.5], [-0.5, 1.5]]
    """
    points = np.asarray(ring, dtype=float)
    if not out_m:
        return points
    way = offset_directions(points, closed=True)
    short = np.minimum(1.0, longest / np.linalg.norm(way, axis=1))
    return points + out_m * way * short[:, None]


def holed_plate(outline: ArrayLike, holes: Sequence[Sequence[Floats]], ys: Sequence[float]) -> Mesh:
    """A plate of any outline with holes whose edges may differ from layer to layer.

    Args:
        outline: ``(n, 2)`` of (x, z), counter-clockwise, metres.
        holes: for each hole its ring at every layer, of one length, counter-clockwise.
        ys: the layers' places, ascending (the first looks towards -y).
    """
    ring = np.asarray(outline, dtype=float)
    layers = [[ring, *(hole[k][::-1] for hole in holes)] for k in range(len(ys))]
    points = [np.concatenate(rings) for rings in layers]
    n = len(points[0])
    vertices = np.concatenate(
        [
            np.column_stack([p[:, 0], np.full(n, y), p[:, 1]])
            for p, y in zip(points, ys, strict=True)
        ]
    )
    front, back = (triangulate(layers[k][0], layers[k][1:])[1] for k in (0, -1))
    faces = [front, back[:, ::-1] + (len(ys) - 1) * n]
    sizes = np.array([len(r) for r in layers[0]])
    starts = np.repeat(np.cumsum(sizes) - sizes, sizes)
    i = np.arange(n)
    j = starts + (i - starts + 1) % np.repeat(sizes, sizes)
    for k in range(len(ys) - 1):
        a, b = i + k * n, j + k * n
        faces += [np.stack([b, a, a + n], 1), np.stack([b, a + n, b + n], 1)]
    return Mesh(vertices, np.concatenate(faces))

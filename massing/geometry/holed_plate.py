"""A plate with holes whose edges stand back from layer to layer, as the frame round panes does."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from massing.geometry.mesh import Floats, Mesh
from massing.geometry.solids import offset_directions, signed_area, triangulate

_LONGEST_MITRE = 1.6  # of the offset; a square corner has 1.41


def mitres(ring: Floats) -> Floats:
    """Mitre directions to the right of a closed outline, cut short where its corners are sharp."""
    way = offset_directions(ring, closed=True)
    return way * np.minimum(1.0, _LONGEST_MITRE / np.linalg.norm(way, axis=1))[:, None]


def holed_plate(
    outline: Floats, holes: Sequence[Floats], ys: Sequence[float], widen: Sequence[float]
) -> Mesh:
    """A plate of any outline whose holes open by ``widen`` at each of its layers.

    Args:
        outline, holes: rings ``(n, 2)`` of (x, z), metres.
        ys: the layers' places, ascending (the first looks towards -y).
        widen: how far each hole's edge stands back at each layer, metres.
    """
    rings = [np.asarray(outline, dtype=float), *(np.asarray(h, dtype=float) for h in holes)]
    senses = [1.0, *(-1.0 for _ in holes)]
    rings = [r if signed_area(r) * s > 0.0 else r[::-1] for r, s in zip(rings, senses, strict=True)]
    inward = [mitres(r) for r in rings]  # into a hole, as it runs clockwise
    layers = [
        [r if k == 0 else r - w * d for k, (r, d) in enumerate(zip(rings, inward, strict=True))]
        for w in widen
    ]
    count = sum(len(r) for r in rings)
    vertices = np.concatenate(
        [
            np.column_stack([r[:, 0], np.full(len(r), y), r[:, 1]])
            for layer, y in zip(layers, ys, strict=True)
            for r in layer
        ]
    )
    front = triangulate(layers[0][0], layers[0][1:])[1]
    rear = triangulate(layers[-1][0], layers[-1][1:])[1]
    faces = [front, rear[:, ::-1] + (len(layers) - 1) * count]
    start = 0
    for ring in rings:
        i = start + np.arange(len(ring))
        j = start + np.roll(np.arange(len(ring)), -1)
        for k in range(len(layers) - 1):
            a, b = i + k * count, j + k * count
            c, d = b + count, a + count
            faces += [np.stack([a, d, c], 1), np.stack([a, c, b], 1)]
        start += len(ring)
    return Mesh(vertices, np.concatenate(faces))

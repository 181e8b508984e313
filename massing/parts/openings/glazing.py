"""Sashes of any outline and the lights in them: grids cut off by a curved head, fans.

All stand in a wall's own frame: x right as seen from outside, y into the wall, z up. Lights are
rings ``(n, 2)`` of (x, z), counter-clockwise, as wide as the glass shows between the bars.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import offset_directions, prism, triangulate
from massing.practice.joinery_sizes import SASH, SashSections

_ACROSS, _UP = (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)


def glazed(
    outline: ArrayLike, lights: Sequence[Floats], sections: SashSections = SASH
) -> tuple[Mesh, Mesh]:
    """A sash or leaf of any outline and its panes, outer face at y = 0.

    Frame and bars are one piece whose holes widen from the glass to the outer face by the putty
    and to the inner face by the bar's moulding; panes are housed by the glass rebate.

    Args:
        outline: ``(n, 2)`` counter-clockwise, metres.
        lights: what is seen of each pane.
        sections: the members' sizes.

    Returns:
        ``(wood, panes)``, each closed.
    """
    s = sections
    spread = (s.bar_m - s.bar_face_m) / 2.0
    layers = [0.0, s.putty_m, s.putty_m + s.glass_m, s.thickness_m]
    widen = [spread, 0.0, 0.0, spread]
    wood = holed_plate(outline, [[_grown(r, w) for w in widen] for r in lights], layers)
    panes = [
        prism(_grown(r, s.rebate_m), (0.0, s.putty_m + s.glass_m, 0.0), _ACROSS, _UP, s.glass_m)
        for r in lights
    ]
    return wood, merged(panes)


def holed_plate(outline: ArrayLike, holes: Sequence[Sequence[Floats]], ys: Sequence[float]) -> Mesh:
    """A plate of any outline with holes whose edges may differ from layer to layer.

    Args:
        outline: ``(n, 2)`` of (x, z), counter-clockwise.
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


def _grown(ring: Floats, by_m: float) -> Floats:
    """A counter-clockwise ring with every side moved outwards."""
    return ring + by_m * offset_directions(ring, closed=True) if by_m else ring

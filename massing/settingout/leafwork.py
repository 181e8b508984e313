"""Door leaves: panel patterns as a table, and what fills them.

A leaf stands in a wall's own frame, its outer face at y = 0: x right as seen from outside, y
into the wall, z up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, offset_directions, signed_area, triangulate
from massing.parts.openings.joinery import raised_panel
from massing.practice.joinery_sizes import LEAF, SASH
from massing.units import INCH_M

_LONGEST_MITRE = 1.6  # of the offset; a square corner has 1.41


@dataclass(frozen=True)
class Row:
    """One row of panels: how many, and its share of the leaf's height.

    Rows without a share part evenly what the others and the rails leave them.
    """

    columns: int
    share: float = 0.0


@dataclass(frozen=True)
class Pattern:
    """Rows of panels from the lowest up: under the lock rail, and over it."""

    lower: tuple[Row, ...]
    upper: tuple[Row, ...]


# Common practice, no source: how the trade counts a door's panels.
PATTERNS = {
    "one": Pattern((), (Row(1),)),
    "two": Pattern((Row(1),), (Row(1),)),
    "three": Pattern((Row(2),), (Row(1),)),
    "four": Pattern((Row(2),), (Row(2),)),
    "five": Pattern((), (Row(1), Row(1), Row(1), Row(1), Row(1))),
    "six": Pattern((Row(2),), (Row(2), Row(2, 1 / 8))),
    "eight": Pattern((Row(2),), (Row(2, 1 / 8), Row(2), Row(2, 1 / 8))),
}


@dataclass(frozen=True)
class Hole:
    """A place for a panel in a leaf, from its lower left corner; ``upper`` over the lock rail."""

    x0_m: float
    x1_m: float
    z0_m: float
    z1_m: float
    upper: bool

    @property
    def ring(self) -> Floats:
        """Its outline ``(4, 2)``."""
        x0, x1, z0, z1 = self.x0_m, self.x1_m, self.z0_m, self.z1_m
        return np.array([(x0, z0), (x1, z0), (x1, z1), (x0, z1)])


def lock_height(height_m: float) -> float:
    """Middle of the lock rail, and of the knob, above a leaf's foot, metres."""
    return min(LEAF.lock_height_m, 0.45 * height_m)


def panel_holes(width_m: float, height_m: float, pattern: str, leaves: int = 1) -> list[Hole]:
    """Where the panels of one leaf go, by a pattern of :data:`PATTERNS`.

    Of a pair, each leaf has half the columns: a six-panelled pair has three panels a leaf.

    >>> len(panel_holes(0.9, 2.1, "six")), len(panel_holes(0.9, 2.1, "six", leaves=2))
    (6, 3)

    Raises:
        ValueError: an unknown pattern, or a leaf too small for its panels.
    """
    if pattern not in PATTERNS:
        raise ValueError(f"{pattern!r} is no panel pattern; allowed: {', '.join(PATTERNS)}")
    rows, lock = PATTERNS[pattern], lock_height(height_m)
    foot, head = LEAF.bottom_rail_m, height_m - LEAF.rail_m
    middle = LEAF.lock_rail_m / 2.0
    bands = [(rows.upper, foot, head, True)]
    if rows.lower:
        bands = [(rows.lower, foot, lock - middle, False), (rows.upper, lock + middle, head, True)]
    holes = []
    for band, low, high, upper in bands:
        for row, z0, z1 in _rows(band, low, high, height_m):
            count = max(1, row.columns // leaves)
            edges = np.linspace(LEAF.stile_m, width_m, count + 1)
            holes += [Hole(a, b - LEAF.stile_m, z0, z1, upper) for a, b in pairwise(edges)]
    least = min(min(h.x1_m - h.x0_m - 3.0 * INCH_M, h.z1_m - h.z0_m - 2.0 * INCH_M) for h in holes)
    if least < 0.0:
        raise ValueError(f"a leaf {width_m:.2f} x {height_m:.2f} m cannot be panelled")
    return holes


def _rows(
    band: Sequence[Row], low_m: float, high_m: float, height_m: float
) -> list[tuple[Row, float, float]]:
    """Each row of a band with its foot and head; rails between them."""
    free = sum(row.share == 0.0 for row in band)
    taken = sum(row.share for row in band) * height_m + (len(band) - 1) * LEAF.rail_m
    rest = (high_m - low_m - taken) / max(free, 1)
    found, z = [], low_m
    for row in band:
        tall = row.share * height_m or rest
        found.append((row, z, z + tall))
        z += tall + LEAF.rail_m
    return found


def leaf(
    width_m: float,
    height_m: float,
    pattern: str,
    *,
    leaves: int = 1,
    raised: bool = True,
    glazed: bool = False,
) -> tuple[Mesh, Mesh | None, Mesh | None]:
    """A panelled leaf from its lower left corner: stiles and rails, panels, and panes.

    ``glazed`` puts glass in the panels' place over the lock rail; a pattern without a lock rail
    is then all of glass. Panels and panes are housed in their frame.

    Raises:
        ValueError: an unknown pattern, or a leaf too small for its panels.
    """
    holes = panel_holes(width_m, height_m, pattern, leaves)
    thick, sunk = LEAF.thickness_m, 0.35 * INCH_M
    outline = np.array([(0.0, 0.0), (width_m, 0.0), (width_m, height_m), (0.0, height_m)])
    frame = holed_plate(
        outline,
        [h.ring for h in holes],
        [0.0, sunk, thick - sunk, thick],
        [LEAF.sticking_m, 0.0, 0.0, LEAF.sticking_m],
    )
    panels = [_panel(h, raised) for h in holes if not (glazed and h.upper)]
    panes = [_pane(h) for h in holes if glazed and h.upper]
    return frame, merged(panels) if panels else None, merged(panes) if panes else None


def _panel(hole: Hole, raised: bool) -> Mesh:
    low, high = (hole.x0_m, hole.z0_m), (hole.x1_m, hole.z1_m)
    thick = LEAF.thickness_m
    if raised:
        margin = min(1.1 * INCH_M, 0.2 * min(high[0] - low[0], high[1] - low[1]))
        return raised_panel(low, high, 0.2 * INCH_M, thick - 0.2 * INCH_M, margin)
    tongue, face = 0.008, 0.55 * INCH_M
    return box_between(
        (low[0] - tongue, face, low[1] - tongue), (high[0] + tongue, thick - face, high[1] + tongue)
    )


def _pane(hole: Hole) -> Mesh:
    r, front = SASH.rebate_m, (LEAF.thickness_m - SASH.glass_m) / 2.0
    return box_between(
        (hole.x0_m - r, front, hole.z0_m - r),
        (hole.x1_m + r, front + SASH.glass_m, hole.z1_m + r),
    )


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

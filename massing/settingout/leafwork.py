"""Door leaves: panel patterns as a table, and where each panel stands.

A leaf stands in a wall's own frame: x right as seen from outside, z up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from massing.geometry.mesh import Floats
from massing.practice.joinery_sizes import LEAF
from massing.units import INCH_M


@dataclass(frozen=True)
class PanelRow:
    """One row of panels: how many, and its share of the leaf's height.

    Rows without a share part evenly what the others and the rails leave them.
    """

    columns: int
    share: float = 0.0


@dataclass(frozen=True)
class Pattern:
    """Rows of panels from the lowest up: under the lock rail, and over it."""

    lower: tuple[PanelRow, ...]
    upper: tuple[PanelRow, ...]


# Common practice, no source: how the trade counts a door's panels.
PATTERNS = {
    "one": Pattern((), (PanelRow(1),)),
    "two": Pattern((PanelRow(1),), (PanelRow(1),)),
    "three": Pattern((PanelRow(2),), (PanelRow(1),)),
    "four": Pattern((PanelRow(2),), (PanelRow(2),)),
    "five": Pattern((), (PanelRow(1), PanelRow(1), PanelRow(1), PanelRow(1), PanelRow(1))),
    "six": Pattern((PanelRow(2),), (PanelRow(2), PanelRow(2, 1 / 8))),
    "eight": Pattern((PanelRow(2),), (PanelRow(2, 1 / 8), PanelRow(2), PanelRow(2, 1 / 8))),
    "carriage": Pattern((), (PanelRow(2), PanelRow(4, 0.26))),  # boards, and lights over them
}
PLAIN = ("flush", "boarded")  # leaves without panels or lights
LIGHTS_IN_COLUMN = 4  # of a flush leaf, in its middle
_LIGHT_M, _LIGHT_OF_HEIGHT = 7.0 * INCH_M, 0.13


@dataclass(frozen=True)
class PanelOpening:
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


def panel_holes(
    width_m: float, height_m: float, pattern: str, leaves: int = 1
) -> list[PanelOpening]:
    """Where the panels of one leaf go, by a pattern of :data:`PATTERNS`.

    Of a pair, each leaf has half the columns: a six-panelled pair has three panels a leaf.

    >>> len(panel_holes(0.9, 2.1, "six")), len(panel_holes(0.9, 2.1, "six", leaves=2))
    (6, 3)

    Raises:
        ValueError: an unknown pattern, or a leaf too small for its panels.
    """
    if pattern in PLAIN:
        return []
    if pattern == "flush with lights":
        return _column_of_lights(width_m, height_m)
    if pattern not in PATTERNS:
        allowed = ", ".join((*PATTERNS, *PLAIN, "flush with lights"))
        raise ValueError(f"{pattern!r} is no panel pattern; allowed: {allowed}")
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
            holes += [PanelOpening(a, b - LEAF.stile_m, z0, z1, upper) for a, b in pairwise(edges)]
    least = min(min(h.x1_m - h.x0_m - 3.0 * INCH_M, h.z1_m - h.z0_m - 2.0 * INCH_M) for h in holes)
    if least < 0.0:
        raise ValueError(f"a leaf {width_m:.2f} x {height_m:.2f} m cannot be panelled")
    return holes


def _column_of_lights(width_m: float, height_m: float) -> list[PanelOpening]:
    """Square lights one over the other in the middle of a flush leaf, evenly apart."""
    half, tall = _LIGHT_M / 2.0, _LIGHT_OF_HEIGHT * height_m
    if width_m < 3.0 * _LIGHT_M or tall < 0.5 * _LIGHT_M:
        raise ValueError(f"a leaf {width_m:.2f} x {height_m:.2f} m has no room for lights")
    gap = (height_m - LIGHTS_IN_COLUMN * tall) / (LIGHTS_IN_COLUMN + 1)
    middle = width_m / 2.0
    feet = [gap + k * (tall + gap) for k in range(LIGHTS_IN_COLUMN)]
    return [PanelOpening(middle - half, middle + half, z, z + tall, True) for z in feet]


def _rows(
    band: Sequence[PanelRow], low_m: float, high_m: float, height_m: float
) -> list[tuple[PanelRow, float, float]]:
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

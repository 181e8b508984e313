"""Door leaves as built: stiles and rails, panels and panes.

A leaf stands in a wall's own frame, its outer face at y = 0: x right as seen from outside, y
into the wall, z up.
"""

from __future__ import annotations

import numpy as np

from massing.geometry.holed_plate import holed_plate, widened
from massing.geometry.mesh import Mesh, merged
from massing.geometry.solids import box_between, prism, union
from massing.parts.openings.joinery import raised_panel
from massing.practice.joinery_sizes import LEAF, SASH
from massing.settingout.leafwork import PanelOpening, panel_holes
from massing.units import INCH_M

# Common practice, no source.
_BOARD_M = 5.5 * INCH_M
_V_M = 0.006
_BRACE_M = 3.5 * INCH_M


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
    is then all of glass. Panels and panes are housed in their frame. A flush leaf is one slab, or
    has a column of lights; a carriage door's has braced boards under lights.

    Raises:
        ValueError: an unknown pattern, or a leaf too small for its panels.
    """
    holes = panel_holes(width_m, height_m, pattern, leaves)
    thick, sunk = LEAF.thickness_m, 0.35 * INCH_M
    if pattern == "boarded":
        return _boards((0.0, 0.0), (width_m, height_m), 0.0, thick), None, None
    if not holes:
        return box_between((0.0, 0.0, 0.0), (width_m, thick, height_m)), None, None
    outline = np.array([(0.0, 0.0), (width_m, 0.0), (width_m, height_m), (0.0, height_m)])
    frame = holed_plate(
        outline,
        [[widened(h.ring, w) for w in (LEAF.sticking_m, 0.0, 0.0, LEAF.sticking_m)] for h in holes],
        [0.0, sunk, thick - sunk, thick],
    )
    if pattern == "flush with lights":
        return frame, None, merged(_pane(h) for h in holes)
    if pattern == "carriage":
        below = [h for h in holes if h.z0_m < height_m / 2.0]
        filled = merged(mesh for h in below for mesh in _braced(h))
        return frame, filled, merged(_pane(h) for h in holes if h not in below)
    panels = [_panel(h, raised) for h in holes if not (glazed and h.upper)]
    panes = [_pane(h) for h in holes if glazed and h.upper]
    return frame, merged(panels) if panels else None, merged(panes) if panes else None


def _panel(hole: PanelOpening, raised: bool) -> Mesh:
    low, high = (hole.x0_m, hole.z0_m), (hole.x1_m, hole.z1_m)
    thick = LEAF.thickness_m
    if raised:
        margin = min(1.1 * INCH_M, 0.2 * min(high[0] - low[0], high[1] - low[1]))
        return raised_panel(low, high, 0.2 * INCH_M, thick - 0.2 * INCH_M, margin)
    tongue, face = 0.008, 0.55 * INCH_M
    return box_between(
        (low[0] - tongue, face, low[1] - tongue), (high[0] + tongue, thick - face, high[1] + tongue)
    )


def _boards(
    low: tuple[float, float], high: tuple[float, float], face_m: float, thick_m: float
) -> Mesh:
    """Matched boards side by side, their joints cut to a V on the outer face."""
    (x0, z0), (x1, z1) = low, high
    count = max(2, round((x1 - x0) / _BOARD_M))
    cut = _V_M
    section: list[tuple[float, float]] = [(x0, face_m)]
    for x in np.linspace(x0, x1, count + 1)[1:-1]:
        section += [(x - cut, face_m), (x, face_m + cut), (x + cut, face_m)]
    section += [(x1, face_m), (x1, face_m + thick_m), (x0, face_m + thick_m)]
    return prism(np.array(section), (0.0, 0.0, z0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), z1 - z0)


def _braced(hole: PanelOpening) -> list[Mesh]:
    """Boards in a carriage door's frame, and the braces that cross before them."""
    tongue, face, thick = 0.008, 0.9 * INCH_M, 0.5 * INCH_M
    low, high = (hole.x0_m, hole.z0_m), (hole.x1_m, hole.z1_m)
    boards = _boards(
        (low[0] - tongue, low[1] - tongue), (high[0] + tongue, high[1] + tongue), face, thick
    )
    (x0, z0), (x1, z1) = low, high
    wide = _BRACE_M * np.hypot(1.0, (z1 - z0) / (x1 - x0))
    rising = np.array([(x0, z0), (x1, z1 - wide), (x1, z1), (x0, z0 + wide)])
    over, turned = face - 0.2 * INCH_M, rising * [-1.0, 1.0] + [x0 + x1, 0.0]
    braces = union(
        [
            prism(ring, (0.0, face + 0.002, 0.0), (1.0, 0, 0), (0, 0, 1.0), face + 0.002 - over)
            for ring in (rising, turned[::-1])
        ]
    )
    return [boards, braces]


def _pane(hole: PanelOpening) -> Mesh:
    r, front = SASH.rebate_m, (LEAF.thickness_m - SASH.glass_m) / 2.0
    return box_between(
        (hole.x0_m - r, front, hole.z0_m - r),
        (hole.x1_m + r, front + SASH.glass_m, hole.z1_m + r),
    )

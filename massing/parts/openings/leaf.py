"""Door leaves as built: stiles and rails, panels and panes.

A leaf stands in a wall's own frame, its outer face at y = 0: x right as seen from outside, y
into the wall, z up.
"""

from __future__ import annotations

import numpy as np

from massing.geometry.holed_plate import holed_plate, widened
from massing.geometry.mesh import Mesh, merged
from massing.geometry.solids import box_between
from massing.parts.openings.joinery import raised_panel
from massing.practice.joinery_sizes import LEAF, SASH
from massing.settingout.leafwork import PanelOpening, panel_holes
from massing.units import INCH_M


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
        [[widened(h.ring, w) for w in (LEAF.sticking_m, 0.0, 0.0, LEAF.sticking_m)] for h in holes],
        [0.0, sunk, thick - sunk, thick],
    )
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


def _pane(hole: PanelOpening) -> Mesh:
    r, front = SASH.rebate_m, (LEAF.thickness_m - SASH.glass_m) / 2.0
    return box_between(
        (hole.x0_m - r, front, hole.z0_m - r),
        (hole.x1_m + r, front + SASH.glass_m, hole.z1_m + r),
    )

"""Sashes of any outline and the lights in them: grids cut off by a curved head, fans.

All stand in a wall's own frame: x right as seen from outside, y into the wall, z up. Lights are
rings ``(n, 2)`` of (x, z), counter-clockwise, as wide as the glass shows between the bars.
"""

from __future__ import annotations

from collections.abc import Sequence

from numpy.typing import ArrayLike

from massing.geometry.holed_plate import holed_plate, widened
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import prism
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
    wood = holed_plate(outline, [[widened(r, w) for w in widen] for r in lights], layers)
    panes = [
        prism(widened(r, s.rebate_m), (0.0, s.putty_m + s.glass_m, 0.0), _ACROSS, _UP, s.glass_m)
        for r in lights
    ]
    return wood, merged(panes)

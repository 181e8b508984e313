"""A fanlight as built: sash, panes and hub; where bars stand is set out in settingout.fanlights.

It springs from z = 0, its hub at (0, 0), its outer face at y = 0; its foot rail lies below.
"""

from __future__ import annotations

import numpy as np

from massing.geometry.booleans import cut_copies
from massing.geometry.holed_plate import CUT_SHORT, holed_plate, widened
from massing.geometry.mesh import Mesh, merged
from massing.geometry.solids import lathe, prism
from massing.practice.joinery_sizes import SASH, SashSections
from massing.settingout.fanlights import fan_outline, fanlight_lights, hub_size

_HUB_PROUD_M = 0.012  # common practice, no source
_HOUSED_M = 0.002  # the hub in the sash


def fan(
    half_m: float,
    rise_m: float,
    lights: int,
    ring: str = "none",
    sections: SashSections = SASH,
) -> tuple[Mesh, Mesh, Mesh]:
    """Sash, panes and hub of a fanlight that fills a half ellipse.

    Rim, foot rail and bars are one piece; each pane is curved to its light and housed in the
    rebate. ``ring`` is one of :data:`massing.settingout.fanlights.RINGS`.

    Raises:
        ValueError: an unknown ring, a rise over half the width, or no room for so many lights.
    """
    holes = fanlight_lights(half_m, rise_m, lights, ring, sections)
    s = sections
    outline = fan_outline(half_m, rise_m, lights)
    spread = (s.bar_m - s.bar_face_m) / 2.0
    wood = holed_plate(
        outline,
        [[widened(hole, w, CUT_SHORT) for w in (spread, 0.0, 0.0, spread)] for hole in holes],
        [0.0, s.putty_m, s.putty_m + s.glass_m, s.thickness_m],
    )
    panes = [
        prism(
            widened(hole, s.rebate_m, CUT_SHORT),
            (0.0, s.putty_m + s.glass_m, 0.0),
            (1.0, 0.0, 0.0),
            (0.0, 0.0, 1.0),
            s.glass_m,
        )
        for hole in holes
    ]
    return wood, merged(panes), _hub(*hub_size(half_m, rise_m))


def _hub(half_m: float, rise_m: float) -> Mesh:
    """Half of a turned boss on the sash's face, drawn out as the fan is."""
    proud, r = _HUB_PROUD_M, rise_m
    profile = [(r, -_HOUSED_M), (r, 0.4 * proud), (0.86 * r, 0.4 * proud), (0.8 * r, 0.25 * proud)]
    profile += [(0.45 * r, 0.25 * proud), (0.4 * r, 0.8 * proud), (0.2 * r, proud), (0.0, proud)]
    wide = half_m / rise_m
    towards_viewer = np.array([[wide, 0, 0, 0], [0, 0, -1.0, 0], [0, 1.0, 0, 0], [0, 0, 0, 1.0]])
    boss = lathe(np.array(profile), 48).moved(towards_viewer)
    return cut_copies(boss, np.eye(4)[None], [(np.array([0.0, 0.0, 1.0]), 0.0)])

"""What an elevation leaves out: trees and neighbours that stand before the building.

They go on throwing their shadows.
"""

from __future__ import annotations

import numpy as np

from massing.parts.part import Model, Part
from massing.view.camera import Camera
from massing.view.framing import box_corners

_HIDING = ("trees", "neighbours")


def may_hide(part: Part) -> bool:
    """Whether a part is one that an elevation leaves out where it stands before the building."""
    return any(part.within("setting", kind) for kind in _HIDING)


def standing_before(model: Model, camera: Camera) -> list[Part]:
    """Parts that a level orthographic camera would see before the building; none for others."""
    around = [p for p in model.parts if may_hide(p)] if camera.is_elevation else []
    if not around:
        return []
    forward = camera.axes[2]
    nearest = float((box_corners(model.building_bounds) @ forward).min())
    return [
        part
        for part in around
        if float(np.mean(box_corners(part.world_mesh().bounds) @ forward)) < nearest
    ]

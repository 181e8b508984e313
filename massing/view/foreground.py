"""What an elevation leaves out: trees and neighbours that stand before the building.

They go on throwing their shadows.
"""

from __future__ import annotations

import numpy as np

from massing.geometry.mesh import Model, Part
from massing.view.cameras import Camera, box_corners

HIDING = ("setting/trees", "setting/neighbours")


def standing_before(model: Model, camera: Camera) -> list[Part]:
    """Parts that a level orthographic camera would see before the building; none for others."""
    around = model.select(*HIDING) if camera.is_elevation else []
    if not around:
        return []
    forward = camera.axes[2]
    nearest = float((box_corners(model.building_bounds) @ forward).min())
    return [
        part
        for part in around
        if float(np.mean(box_corners(part.world_mesh().bounds) @ forward)) < nearest
    ]

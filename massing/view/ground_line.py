"""Where an elevation's ground line runs when the ground slopes.

The earth is cut on an upright plane just before the building. What stands behind the plane is
seen as it is; ground that rises towards the viewer would hide it, so that it is left out, with
what stands on it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from massing.design.site import LEVEL, GroundDesign
from massing.geometry.mesh import Floats
from massing.parts.part import Model
from massing.parts.site.ground import lie_of
from massing.view.camera import Camera
from massing.view.framing import box_corners

_BEFORE_M = 0.05


@dataclass(frozen=True)
class GroundLine:
    """The earth's cut of a model in an elevation.

    Attributes:
        lie: how the ground lies.
        cut_m: the plane's distance before the camera.
        seen: the ground behind the plane rises, and is seen.
        from_m: what is nearer to the camera than this is left out.
    """

    camera: Camera
    lie: GroundDesign = LEVEL
    cut_m: float = 0.5
    seen: bool = False
    from_m: float = 0.0

    def heights_m(self, right_m: Floats) -> Floats:
        """Heights ``(n,)`` of the line at distances to the right of the camera."""
        right, _, forward = self.camera.axes
        at = np.asarray(self.camera.position_m) + self.cut_m * forward
        places = at + np.asarray(right_m)[:, None] * right
        return self.lie.z_m(places[:, 0], places[:, 1])


def ground_line(model: Model, camera: Camera) -> GroundLine:
    """The line for a level orthographic camera; at z = 0 where the ground is level."""
    lie = lie_of(model)
    if lie.level:
        return GroundLine(camera)
    forward = camera.axes[2]
    corners = box_corners(model.building_bounds) - np.asarray(camera.position_m)
    cut = float((corners @ forward).min()) - _BEFORE_M
    rise = float(np.array([lie.along, lie.back]) @ forward[:2])
    return GroundLine(camera, lie, cut, rise > 1e-9, cut if rise < -1e-9 else 0.0)

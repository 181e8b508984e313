"""How long to expose: by the hour and the view, never by the design. No bpy here."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from massing.mesh import Floats
from massing.render.sky_table import clear_sky_w_m2
from massing.views import Camera

EXPOSURE_AT_NOON = 0.6  # stops, at REFERENCE_W_M2
SUNLIT_SHARE, GRAZED_SHARE = 0.7, 0.25  # of the beam, in what the exposure is set by
REFERENCE_W_M2 = SUNLIT_SHARE * 895.5 + 115.2  # a surface in the sun at 50 degrees' altitude
ADAPTATION = 0.8  # how far the exposure follows the light: 1 would make every hour alike


def sun_and_sky_w_m2(
    altitude_deg: float, beam_w_m2: float | None, diffuse_w_m2: float | None
) -> tuple[float, float]:
    """The given strengths, or those of the table's clear sky."""
    beam, diffuse = clear_sky_w_m2(altitude_deg)
    return beam if beam_w_m2 is None else beam_w_m2, (
        diffuse if diffuse_w_m2 is None else diffuse_w_m2
    )


def facing_sun(camera: Camera, sun_direction: ArrayLike) -> float:
    """Cosine of the sun's incidence on an upright face square to the view; 0 in its own shade."""
    direction = np.asarray(sun_direction, dtype=float)
    towards_camera = -_level(camera.axes[2])
    return max(0.0, float(towards_camera @ direction / np.linalg.norm(direction)))


def _level(vector: Floats) -> Floats:
    flat = vector * [1.0, 1.0, 0.0]
    return flat / np.linalg.norm(flat)


def exposure_stops(beam_w_m2: float, diffuse_w_m2: float, facing: float = 1.0) -> float:
    """Exposure from the hour's light and the way the view looks, never from the design.

    So alternatives compare under one exposure. A face that the sun grazes or leaves in shade
    (``facing`` below a half, see :func:`facing_sun`) gets more.
    """
    share = GRAZED_SHARE + (SUNLIT_SHARE - GRAZED_SHARE) * min(1.0, facing / 0.5)
    light = share * beam_w_m2 + diffuse_w_m2
    return EXPOSURE_AT_NOON + ADAPTATION * float(np.log2(REFERENCE_W_M2 / max(light, 1.0)))

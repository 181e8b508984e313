"""How long to expose: by the hour and the view, never by the design."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats
from massing.render.driver.sky_table import clear_sky_w_m2
from massing.view.camera import Camera

EXPOSURE_AT_NOON = 1.15  # stops, at REFERENCE_W_M2
SUNLIT_SHARE, SHADED_SHARE = 0.7, 0.06  # of the beam, in what the exposure is set by
REFERENCE_W_M2 = SUNLIT_SHARE * 895.5 + 115.2  # a surface in the sun at 50 degrees' altitude
ADAPTATION = 0.8  # how far the exposure follows the light: 1 would make every hour alike
FULLY_LIT = 0.5  # cosine of incidence from which a face counts as sunlit
WHITE_SUNLIT_K, WHITE_SHADED_K = 5700.0, 6300.0  # near the noon sun; between it and the blue sky
DUSK_STOPS, DUSK_WHITE_K = 1.3, 5400.0  # between the blue of the sky and the lamps; by eye
IN_THE_OPEN = 0.25  # as if lit so far: in perspective the sunlit ground is always in the picture
LEAST_SEEN = 0.15  # a wall turned further from the view is a sliver


def sun_and_sky_w_m2(
    altitude_deg: float, beam_w_m2: float | None, diffuse_w_m2: float | None
) -> tuple[float, float]:
    """The given strengths, or those of the table's clear sky."""
    beam, diffuse = clear_sky_w_m2(altitude_deg)
    return beam if beam_w_m2 is None else beam_w_m2, (
        diffuse if diffuse_w_m2 is None else diffuse_w_m2
    )


def facing_sun(camera: Camera, sun_direction: ArrayLike) -> float:
    """Cosine of the sun's incidence on the walls in view, the best lit of them.

    An elevation shows the wall square to it, 0 in its shade; a perspective the walls that face
    its eye, :data:`IN_THE_OPEN` at the least.
    """
    direction = np.asarray(sun_direction, dtype=float)
    towards_camera = -_level(camera.axes[2])
    walls, least = towards_camera[None], 0.0
    if camera.kind != "ortho":
        sides = np.array([(1.0, 0, 0), (-1.0, 0, 0), (0, 1.0, 0), (0, -1.0, 0)])
        walls, least = sides[sides @ towards_camera > LEAST_SEEN], IN_THE_OPEN
    return max(least, float((walls @ direction).max() / np.linalg.norm(direction)))


def _level(vector: Floats) -> Floats:
    flat = vector * [1.0, 1.0, 0.0]
    return flat / np.linalg.norm(flat)


def exposure_stops(beam_w_m2: float, diffuse_w_m2: float, facing: float = 1.0) -> float:
    """Exposure from the hour's light and the way the view looks, never from the design.

    So alternatives compare under one exposure. A view of walls that the sun grazes or leaves in
    shade (see :func:`facing_sun`) gets more.
    """

    def stops(share: float) -> float:
        light = share * beam_w_m2 + diffuse_w_m2
        return EXPOSURE_AT_NOON + ADAPTATION * float(np.log2(REFERENCE_W_M2 / max(light, 1.0)))

    return _between(stops(SHADED_SHARE), stops(SUNLIT_SHARE), facing)


def white_k(facing: float = 1.0) -> float:
    """Colour temperature that reads as white: a view of shade only is balanced for the shade."""
    return _between(WHITE_SHADED_K, WHITE_SUNLIT_K, facing)


def even_tone(exposure_stops: float, white_k: float) -> Floats:
    """Red, green and blue ``(3,)`` that undo exposure and white, for what keeps its own tone."""
    return 2.0**-exposure_stops * _white(white_k) / _white(WHITE_SUNLIT_K)


def _white(kelvin: float) -> Floats:
    """A black body's linear Rec. 709 colour at unit luminance, 4000 to 25000 K.

    The chromaticity is the cubic fit of Kim et al., US patent 7024034 (from memory).
    """
    x = np.polyval([-3.0258469e9, 2.1070379e6, 0.2226347e3, 0.240390], 1.0 / kelvin)
    y = np.polyval([3.0817580, -5.87338670, 3.75112997, -0.37001483], x)
    to_rgb = [(3.2406, -1.5372, -0.4986), (-0.9689, 1.8758, 0.0415), (0.0557, -0.2040, 1.0570)]
    return np.array(to_rgb) @ [x / y, 1.0, (1.0 - x - y) / y]


def _between(shaded: float, sunlit: float, facing: float) -> float:
    return shaded + (sunlit - shaded) * min(1.0, facing / FULLY_LIT)

"""Light of the clear sky by the sun's altitude: colour of beam and sky, strength of each.

Colours are irradiances of Blender's SINGLE_SCATTERING sky at its default air, aerosol, ozone
and altitude, strength 1, taken off a white diffuse plane with 4,096 samples in Blender 5.0.1
(beam: a plane facing the sun, with disc less without; sky: a level plane). The same figures
measured on another day at 15, 38 and 60 degrees agree within 1 %.

Strengths are the simplified Solis clear sky (Ineichen 2008, as pvlib computes it) with an
aerosol depth of 0.1 at 700 nm and 1 cm of water at sea level; a caller who knows the hour's
own beam and diffuse irradiance gives those instead.
"""

from __future__ import annotations

import numpy as np

from massing.geometry.mesh import Floats

# altitude [deg], beam RGB facing the sun, sky RGB on the level
_COLOUR = np.array(
    [
        (0.5, 7.87, 1.78, 0.0, 1.26, 1.41, 1.49),
        (1, 15.07, 4.07, 0.0, 1.52, 1.7, 1.79),
        (2, 31.87, 11.22, 0.09, 2.0, 2.32, 2.44),
        (4, 61.7, 29.57, 4.58, 2.8, 3.44, 3.83),
        (6, 82.51, 46.56, 12.79, 3.46, 4.35, 5.11),
        (8, 96.81, 60.23, 22.11, 3.99, 5.08, 6.21),
        (10, 106.99, 70.93, 31.1, 4.44, 5.66, 7.13),
        (15, 122.7, 88.97, 49.68, 5.27, 6.71, 8.85),
        (20, 131.52, 99.86, 63.02, 5.84, 7.4, 10.04),
        (30, 140.89, 112.0, 79.83, 6.53, 8.25, 11.58),
        (40, 145.66, 118.39, 89.52, 6.92, 8.76, 12.55),
        (50, 148.42, 122.14, 95.49, 7.16, 9.08, 13.21),
        (60, 150.11, 124.46, 99.29, 7.31, 9.29, 13.68),
        (75, 151.48, 126.34, 102.4, 7.4, 9.45, 14.09),
        (90, 152.89, 127.74, 104.03, 7.4, 9.48, 14.21),
    ]
)

# altitude [deg], beam facing the sun, diffuse on the level [W/m2]
_STRENGTH = np.array(
    [
        (0.5, 6.9, 5.0),
        (1, 34.0, 9.6),
        (2, 104.9, 17.3),
        (4, 232.8, 29.0),
        (6, 331.3, 38.2),
        (8, 408.8, 45.9),
        (10, 471.7, 52.6),
        (15, 588.5, 66.3),
        (20, 670.4, 77.2),
        (30, 779.6, 93.9),
        (40, 848.9, 106.1),
        (50, 895.5, 115.2),
        (60, 927.1, 121.9),
        (75, 954.5, 128.0),
        (90, 963.1, 130.0),
    ]
)

LUMINANCE = np.array([0.2126, 0.7152, 0.0722])  # Rec. 709


def beam_rgb(altitude_deg: float) -> Floats:
    """``(3,)`` irradiance of the sky model's sun facing it, at strength 1."""
    return np.array([np.interp(altitude_deg, _COLOUR[:, 0], _COLOUR[:, i]) for i in (1, 2, 3)])


def sky_rgb(altitude_deg: float) -> Floats:
    """``(3,)`` irradiance of the sky model without its sun on the level, at strength 1."""
    return np.array([np.interp(altitude_deg, _COLOUR[:, 0], _COLOUR[:, i]) for i in (4, 5, 6)])


def clear_sky_w_m2(altitude_deg: float) -> tuple[float, float]:
    """(beam facing the sun, diffuse on the level), W/m2, of a clear sky at sea level."""
    beam, diffuse = (np.interp(altitude_deg, _STRENGTH[:, 0], _STRENGTH[:, i]) for i in (1, 2))
    return float(beam), float(diffuse)

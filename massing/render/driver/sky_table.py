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

# altitude [deg], radiance RGB of the sky as the camera sees it (MULTIPLE_SCATTERING, strength 1), 1
# to 3 degrees over the horizon: under the sun, at right angles to it, opposite to it. Read off a
# panorama of the sky alone in Blender 5.0.1.
_HORIZON = np.array(
    [
        (1, 37.93, 11.79, 0.71, 1.93, 1.14, 0.83, 2.56, 1.18, 0.73),
        (2, 58.03, 22.54, 2.43, 2.58, 1.73, 1.16, 3.77, 2.13, 1.1),
        (4, 87.73, 45.83, 10.82, 3.7, 3.02, 2.14, 5.79, 4.32, 2.4),
        (6, 101.0, 62.45, 21.74, 4.6, 4.26, 3.37, 7.33, 6.38, 4.14),
        (10, 93.71, 69.2, 35.09, 5.96, 6.28, 5.73, 9.41, 9.51, 7.52),
        (15, 66.79, 55.36, 35.14, 7.15, 8.01, 7.84, 10.93, 11.89, 10.49),
        (20, 46.36, 41.55, 30.18, 8.08, 9.26, 9.31, 11.87, 13.34, 12.4),
        (30, 27.13, 27.18, 23.27, 9.57, 11.16, 11.49, 12.92, 14.92, 14.65),
        (40, 20.31, 21.79, 20.39, 10.79, 12.65, 13.16, 13.4, 15.63, 15.77),
        (50, 17.37, 19.36, 19.02, 11.79, 13.86, 14.48, 13.56, 15.88, 16.29),
        (60, 15.8, 17.98, 18.17, 12.59, 14.8, 15.5, 13.58, 15.9, 16.47),
        (75, 14.47, 16.71, 17.28, 13.37, 15.72, 16.49, 13.59, 15.87, 16.55),
        (90, 13.77, 16.02, 16.74, 13.63, 16.02, 16.81, 13.85, 16.1, 16.76),
    ]
)

LUMINANCE = np.array([0.2126, 0.7152, 0.0722])  # Rec. 709


def beam_rgb(altitude_deg: float) -> Floats:
    """``(3,)`` irradiance of the sky model's sun facing it, at strength 1."""
    return np.array([np.interp(altitude_deg, _COLOUR[:, 0], _COLOUR[:, i]) for i in (1, 2, 3)])


def sky_rgb(altitude_deg: float) -> Floats:
    """``(3,)`` irradiance of the sky model without its sun on the level, at strength 1."""
    return np.array([np.interp(altitude_deg, _COLOUR[:, 0], _COLOUR[:, i]) for i in (4, 5, 6)])


def horizon_rgb(altitude_deg: float) -> Floats:
    """``(3, 3)`` radiance of the seen sky at the horizon, strength 1: rows under the sun, at right
    angles to it, opposite."""
    row = [np.interp(altitude_deg, _HORIZON[:, 0], column) for column in _HORIZON[:, 1:].T]
    return np.array(row).reshape(3, 3)


def clear_sky_w_m2(altitude_deg: float) -> tuple[float, float]:
    """(beam facing the sun, diffuse on the level), W/m2, of a clear sky at sea level."""
    beam, diffuse = (np.interp(altitude_deg, _STRENGTH[:, 0], _STRENGTH[:, i]) for i in (1, 2))
    return float(beam), float(diffuse)

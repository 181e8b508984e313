"""How strong a clear sun and sky are: air, haze, and the light they let through.

Plain numpy; what pvlib gives, which the tests hold it to, but for the map of the haze, which is
thinned here to half degrees.

References
----------
.. [1] P. Ineichen and R. Perez, "A new airmass independent formulation for the Linke turbidity
   coefficient", Solar Energy 73 (2002), 151-157.
.. [2] R. Perez and others, "A new operational model for satellite-derived irradiances:
   description and validation", Solar Energy 73 (2002), 307-317.
.. [3] F. Kasten and A. T. Young, "Revised optical air mass tables and approximation formula",
   Applied Optics 28 (1989), 4735-4738.
.. [4] J. W. Spencer, "Fourier series representation of the position of the sun", Search 2
   (1971), 172.
.. [5] J. Remund and others, "Worldwide Linke turbidity information", Proceedings of the ISES
   Solar World Congress, Gothenburg 2003; the monthly map as pvlib carries it.
.. [6] "A quick derivation relating altitude to air pressure", Portland State Aerospace Society
   (2004), for the standard atmosphere; the reference that pvlib gives.
"""

from __future__ import annotations

import calendar
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats
from massing.sun.instants import Instants, day_of_year

SOLAR_CONSTANT_W_M2 = 1366.1
"""Before the air, at the mean distance (ASTM E490, the value that pvlib takes)."""

SEA_LEVEL_PA = 101325.0

LUMINOUS_EFFICACY_LM_W = 109.8
"""Lumens per watt of daylight: the reference spectrum of ASTM G173, air mass 1.5, on a tilted
plane, 109 870 lx for 1000.4 W/m2 (from memory)."""

LINKE_FILE = Path(__file__).with_name("linke_turbidity.npz")
LINKE_STEP_DEG = 0.5
LINKE_BAND_DEG = 5
"""The map is kept in bands of latitude, so that a place unpacks one and not the world."""


def pressure_pa(altitude_m: ArrayLike) -> Floats:
    """Air pressure of the standard atmosphere [6]_.

    >>> pressure_pa([0.0, 1830.0]).round(0)
    array([101325.,  81188.])
    """
    return 100.0 * ((44331.514 - np.asarray(altitude_m, float)) / 11880.516) ** (1 / 0.1902632)


def air_mass(altitude_deg: ArrayLike) -> Floats:
    """Relative air mass on the way to the sun by Kasten and Young [3]_; NaN when it is down.

    Args:
        altitude_deg: ``(...)`` as seen, bent by the air.

    >>> air_mass([90.0, 30.0, 0.0]).round(3)
    array([ 1.   ,  1.994, 37.92 ])
    """
    altitude = np.asarray(altitude_deg, dtype=float)
    up = np.where(altitude < 0.0, np.nan, altitude)
    # the zenith's cosine, not the altitude's sine: the same number, rounded as the reference does
    return 1.0 / (np.cos(np.radians(90.0 - up)) + 0.50572 * (6.07995 + up) ** -1.6364)


def extraterrestrial_w_m2(times: Instants) -> Floats:
    """Sun before the air, ``(n,)``, by Spencer's series for its distance [4]_.

    >>> extraterrestrial_w_m2(np.array(["2026-01-03", "2026-07-04"], "datetime64[us]")).round(0)
    array([1414., 1320.])
    """
    angle = 2.0 * np.pi / 365.0 * (day_of_year(times) - 1.0)
    nearness = (
        1.00011
        + 0.034221 * np.cos(angle)
        + 0.00128 * np.sin(angle)
        + 0.000719 * np.cos(2.0 * angle)
        + 7.7e-05 * np.sin(2.0 * angle)
    )
    return SOLAR_CONSTANT_W_M2 * nearness


# --- haze ----------------------------------------------------------------------------------


@lru_cache(maxsize=8)
def _band(index: int) -> Floats:
    """One band of the map: ``(rows, columns, 12)``, turbidity from north-west on."""
    with np.load(LINKE_FILE) as bands:
        steps = bands[f"band{index:02d}"]  # from cell to cell eastward, in twentieths
    return np.cumsum(steps, axis=1, dtype=np.uint8) / 20.0


def monthly_turbidity(latitude_deg: float, longitude_deg: float) -> Floats:
    """The usual Linke turbidity of each month, ``(12,)``, of the half degree that holds a place.

    A number of clear, dry atmospheres that would dim the sun as much: 2 in cold clear air, 3 to
    5 in temperate summers, 7 and more over deserts and great cities [5]_.

    Raises:
        ValueError: latitude or longitude out of range.

    >>> monthly_turbidity(32.08, -81.09)[[0, 6]]  # Savannah, in January and July
    array([2.9, 4.6])
    """
    if not (-90.0 <= latitude_deg <= 90.0 and -180.0 <= longitude_deg <= 180.0):
        raise ValueError(f"no such place: latitude {latitude_deg}, longitude {longitude_deg}")
    row = min(int((90.0 - latitude_deg) / LINKE_STEP_DEG), round(180 / LINKE_STEP_DEG) - 1)
    column = min(int((longitude_deg + 180.0) / LINKE_STEP_DEG), round(360 / LINKE_STEP_DEG) - 1)
    band, within = divmod(row, round(LINKE_BAND_DEG / LINKE_STEP_DEG))
    return _band(band)[within, column]


def turbidity(times: Instants, latitude_deg: float, longitude_deg: float) -> Floats:
    """The usual Linke turbidity on each day, ``(n,)``, straight between the middles of months."""
    months = monthly_turbidity(latitude_deg, longitude_deg)
    return between_months(months, times)


def between_months(months: ArrayLike, times: Instants) -> Floats:
    """A value of each day from ``(12,)`` values that hold in the middle of their months."""
    months = np.asarray(months, dtype=float)
    rounded = np.concatenate([months[-1:], months, months[:1]])
    years = times.astype("datetime64[Y]").astype(np.int64) + 1970
    leap = (years % 4 == 0) & ((years % 100 != 0) | (years % 400 == 0))
    days = day_of_year(times)
    return np.where(
        leap,
        np.interp(days, _middles(2016), rounded),
        np.interp(days, _middles(2015), rounded),
    )


def _middles(year: int) -> Floats:
    """Days from the year's start to the middle of each month, December before to January after."""
    lengths = np.array([calendar.monthrange(year, month)[1] for month in range(1, 13)])
    middles = np.cumsum(lengths) - lengths / 2.0
    return np.concatenate([[-31.0 / 2.0], middles, [lengths.sum() + 31.0 / 2.0]])


# --- clear sky -----------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class ClearSky:
    """Clear-sky light at ``(n,)`` positions, W/m2; zero when the sun is down.

    Attributes:
        dni_w_m2: direct, on a plane square to the sun.
        dhi_w_m2: diffuse, on the level.
        ghi_w_m2: all, on the level.
    """

    dni_w_m2: Floats
    dhi_w_m2: Floats
    ghi_w_m2: Floats

    @property
    def beam_lux(self) -> Floats:
        """Illuminance by the sun alone on a plane square to it."""
        return self.dni_w_m2 * LUMINOUS_EFFICACY_LM_W

    @property
    def sky_lux(self) -> Floats:
        """Illuminance by the sky alone on the level."""
        return self.dhi_w_m2 * LUMINOUS_EFFICACY_LM_W


def ineichen_perez(
    altitude_deg: ArrayLike,
    linke_turbidity: ArrayLike,
    altitude_m: float,
    before_air_w_m2: ArrayLike,
) -> ClearSky:
    """Clear-sky light by Ineichen and Perez [1]_ [2]_, zero when the sun is down.

    Args:
        altitude_deg: ``(n,)`` of the sun, as seen.
        linke_turbidity: ``(n,)`` haze.
        altitude_m: of the place over the sea.
        before_air_w_m2: ``(n,)``; see :func:`extraterrestrial_w_m2`.

    >>> noon = ineichen_perez([60.0], [3.0], 0.0, [1366.0])
    >>> float(noon.dni_w_m2[0].round(0)), float(noon.dhi_w_m2[0].round(0))
    (918.0, 103.0)
    """
    altitude = np.asarray(altitude_deg, dtype=float)
    haze = np.asarray(linke_turbidity, dtype=float)
    before = np.asarray(before_air_w_m2, dtype=float)
    up = altitude > 0.0
    mass = air_mass(np.where(up, altitude, 90.0)) * float(pressure_pa(altitude_m)) / SEA_LEVEL_PA
    height = np.cos(np.radians(90.0 - np.where(up, altitude, 90.0)))
    thin, thinner = np.exp(-altitude_m / 8000.0), np.exp(-altitude_m / 1250.0)

    through = np.exp(-(3.92e-05 * altitude_m + 0.0387) * mass * (thin + thinner * (haze - 1.0)))
    level = (5.09e-05 * altitude_m + 0.868) * before * height * through
    beam = before * (0.664 + 0.163 / thin) * np.exp(-0.09 * mass * (haze - 1.0))
    # under a low sun the beam is what the level's light leaves after the least diffuse share
    share = 1.0 - (0.1 - 0.2 * np.exp(-haze)) / (0.1 + 0.882 / thin)
    beam = np.minimum(beam, level * np.maximum(share / height, 0.0))
    return ClearSky(
        np.where(up, beam, 0.0),
        np.where(up, level - beam * height, 0.0),
        np.where(up, level, 0.0),
    )

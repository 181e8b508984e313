"""Where the sun stands, by the solar position algorithm of Reda and Andreas.

Plain numpy over Unix times; degrees throughout. It gives what pvlib's ``spa`` gives, which the
tests hold it to, and is good to 0.0003 degree from the year -2000 to 6000 [1]_.

References
----------
.. [1] I. Reda and A. Andreas, "Solar Position Algorithm for Solar Radiation Applications",
   NREL/TP-560-34302, revised January 2008; Solar Energy 76 (2004), 577-589; corrigendum 81
   (2007), 838. Section and table numbers below are the report's.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats
from massing.sun.spa_terms import DISTANCE, LATITUDE, LONGITUDE, NUTATION, NUTATION_ARGUMENTS

DELTA_T_S = 67.0
"""Terrestrial less universal time, seconds (the report's example; 69 s in the 2020s). An error
of 30 s moves the sun by less than 0.0004 degree."""

SUNRISE_REFRACTION_DEG = 0.5667
"""How far the air lifts a sun on the horizon (section 3.14.1 and appendix A.2.1)."""

SUN_RADIUS_DEG = 0.26667
"""Half the sun's disc (section 3.14.1)."""

_ARC_SECONDS = 3600.0
_FLATTENING = 0.99664719  # of the earth: its polar by its equatorial radius (section 3.12)
_EARTH_RADIUS_M = 6378140.0


@dataclass(frozen=True, eq=False)
class Equatorial:
    """The sun as seen from the earth's centre, each ``(n,)``.

    Attributes:
        sidereal_deg: apparent sidereal time at Greenwich.
        right_ascension_deg: apparent, 0 to 360.
        declination_deg: apparent, about -23.44 to 23.44.
        distance_au: of the earth from the sun, about 0.983 to 1.017.
    """

    sidereal_deg: Floats
    right_ascension_deg: Floats
    declination_deg: Floats
    distance_au: Floats


def _series(tables: tuple[Floats, ...], millennia: Floats) -> Floats:
    """A sum of cosines for each power of time (equations 9 to 12)."""
    total = np.zeros_like(millennia)
    for power, table in enumerate(tables):
        amplitude, phase, rate = table.T
        total += np.cos(phase + np.outer(millennia, rate)) @ amplitude * millennia**power
    return total / 1e8


def _nutation(centuries: Floats) -> tuple[Floats, Floats]:
    """Nutation in longitude and in obliquity, degrees (section 3.4)."""
    powers = np.stack([np.ones_like(centuries), centuries, centuries**2, centuries**3])
    elongation_and_others = np.array(
        [
            [297.85036, 445267.111480, -0.0019142, 1 / 189474],  # the moon's mean elongation
            [357.52772, 35999.050340, -0.0001603, -1 / 300000],  # mean anomaly of the sun
            [134.96298, 477198.867398, 0.0086972, 1 / 56250],  # mean anomaly of the moon
            [93.27191, 483202.017538, -0.0036825, 1 / 327270],  # the moon's argument of latitude
            [125.04452, -1934.136261, 0.0020708, 1 / 450000],  # longitude of the moon's node
        ]
    )
    argument = np.radians(NUTATION_ARGUMENTS @ (elongation_and_others @ powers)).T
    a, b, c, d = NUTATION.T
    centuries = centuries[:, None]
    unit = 1e4 * _ARC_SECONDS
    return (
        ((a + b * centuries) * np.sin(argument)).sum(axis=1) / unit,
        ((c + d * centuries) * np.cos(argument)).sum(axis=1) / unit,
    )


def _mean_obliquity_deg(millennia: Floats) -> Floats:
    """Of the ecliptic (section 3.5.1)."""
    seconds = (
        84381.448, -4680.93, -1.55, 1999.25, -51.38, -249.67, -39.05, 7.12, 27.87, 5.79, 2.45,
    )  # fmt: skip
    return np.asarray(np.polynomial.polynomial.polyval(millennia / 10.0, seconds) / _ARC_SECONDS)


def equatorial(unix_s: ArrayLike, delta_t_s: float = DELTA_T_S) -> Equatorial:
    """The sun's apparent place from the earth's centre (sections 3.1 to 3.10).

    Args:
        unix_s: ``(n,)`` seconds since 1970, UTC.
        delta_t_s: terrestrial less universal time.

    >>> june = equatorial([1782030240.0])  # 21 June 2026, 8:24 UTC
    >>> float(june.right_ascension_deg[0].round(2)), float(june.declination_deg[0].round(2))
    (90.0, 23.44)
    """
    unix_s = np.asarray(unix_s, dtype=float)
    day = unix_s / 86400.0 + 2440587.5
    century = (day - 2451545.0) / 36525.0
    ephemeris_century = (day + delta_t_s / 86400.0 - 2451545.0) / 36525.0
    millennium = ephemeris_century / 10.0

    longitude = np.degrees(_series(LONGITUDE, millennium)) + 180.0
    latitude = np.radians(-np.degrees(_series(LATITUDE, millennium)))
    distance = _series(DISTANCE, millennium)
    of_longitude, of_obliquity = _nutation(ephemeris_century)
    obliquity = np.radians(_mean_obliquity_deg(millennium) + of_obliquity)
    aberration = -20.4898 / (_ARC_SECONDS * distance)
    apparent = np.radians(longitude + of_longitude + aberration)

    mean_sidereal = (
        280.46061837
        + 360.98564736629 * (day - 2451545.0)
        + 0.000387933 * century**2
        - century**3 / 38710000.0
    ) % 360.0
    ascension = np.arctan2(
        np.sin(apparent) * np.cos(obliquity) - np.tan(latitude) * np.sin(obliquity),
        np.cos(apparent),
    )
    declination = np.arcsin(
        np.sin(latitude) * np.cos(obliquity)
        + np.cos(latitude) * np.sin(obliquity) * np.sin(apparent)
    )
    return Equatorial(
        mean_sidereal + of_longitude * np.cos(obliquity),
        np.degrees(ascension) % 360.0,
        np.degrees(declination),
        distance,
    )


def refraction_deg(
    geometric_altitude_deg: ArrayLike, pressure_pa: float, temperature_c: float
) -> Floats:
    """How far the air lifts the sun, degrees; 0 where it is down even so (equation 42).

    Args:
        geometric_altitude_deg: ``(...)`` as if there were no air.
        pressure_pa: at the place, by the year.
        temperature_c: likewise.

    >>> refraction_deg([0.0, 10.0, 45.0, -5.0], 101325.0, 12.0).round(3)
    array([0.481, 0.09 , 0.017, 0.   ])
    """
    altitude = np.asarray(geometric_altitude_deg, dtype=float)
    up = altitude >= -(SUN_RADIUS_DEG + SUNRISE_REFRACTION_DEG)
    seen = np.where(up, altitude, 0.0)
    lift = 1.02 / (60.0 * np.tan(np.radians(seen + 10.3 / (seen + 5.11))))
    return np.where(up, lift * (pressure_pa / 101000.0) * (283.0 / (273.0 + temperature_c)), 0.0)


def topocentric(
    unix_s: ArrayLike,
    latitude_deg: float,
    longitude_deg: float,
    altitude_m: float,
    delta_t_s: float = DELTA_T_S,
) -> tuple[Floats, Floats]:
    """Geometric altitude and azimuth of the sun at a place (sections 3.11 to 3.15).

    Args:
        unix_s: ``(n,)`` seconds since 1970, UTC.
        latitude_deg: -90 to 90, north positive.
        longitude_deg: -180 to 180, east positive.
        altitude_m: over the sea.
        delta_t_s: terrestrial less universal time.

    Returns:
        ``(n,)`` altitude without refraction, and ``(n,)`` azimuth clockwise from north, 0 to 360.
    """
    sun = equatorial(unix_s, delta_t_s)
    latitude = np.radians(latitude_deg)
    hour = np.radians((sun.sidereal_deg + longitude_deg - sun.right_ascension_deg) % 360.0)
    declination = np.radians(sun.declination_deg)
    parallax = np.sin(np.radians(8.794 / (_ARC_SECONDS * sun.distance_au)))

    # where the place is, in the earth's radii from its axis and from its equator's plane
    reduced = np.arctan(_FLATTENING * np.tan(latitude))
    from_axis = np.cos(reduced) + altitude_m / _EARTH_RADIUS_M * np.cos(latitude)
    from_equator = _FLATTENING * np.sin(reduced) + altitude_m / _EARTH_RADIUS_M * np.sin(latitude)

    across = np.cos(declination) - from_axis * parallax * np.cos(hour)
    of_ascension = np.arctan2(-from_axis * parallax * np.sin(hour), across)
    declination = np.arctan2(
        (np.sin(declination) - from_equator * parallax) * np.cos(of_ascension), across
    )
    hour = hour - of_ascension

    altitude = np.arcsin(
        np.sin(latitude) * np.sin(declination)
        + np.cos(latitude) * np.cos(declination) * np.cos(hour)
    )
    from_south = np.arctan2(
        np.sin(hour),
        np.cos(hour) * np.sin(latitude) - np.tan(declination) * np.cos(latitude),
    )
    return np.degrees(altitude), (np.degrees(from_south) + 180.0) % 360.0

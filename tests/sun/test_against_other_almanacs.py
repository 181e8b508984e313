"""The sun against two almanacs that share no code with NREL's: ephem and astropy.

ephem is XEphem's library (VSOP87 and its own precession), astropy stands on the IAU's SOFA routines
(as ERFA). Both are asked for the sun without air. NREL's algorithm states 0.0003 degree, a little
over an arc second, against the Astronomical Almanac.
"""

from __future__ import annotations

import warnings
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from massing.sun.position import sun_positions
from massing.sun.times import rise_noon_set, season_instant

ephem = pytest.importorskip("ephem")
pytest.importorskip("astropy")

pytestmark = pytest.mark.published

NUMBER = 300
ARC_SECONDS = 2.5
"""NREL's 0.0003 degree and as much for the other."""


def random_suns(seed: int) -> tuple[list[datetime], np.ndarray, np.ndarray]:
    """Instants of 1975 to 2045 and places spread evenly over the globe."""
    draw = np.random.default_rng(seed)
    latitudes = np.degrees(np.arcsin(draw.uniform(-0.99, 0.99, NUMBER)))
    seconds = draw.integers(0, 70 * 365 * 86400, NUMBER)
    whens = [datetime(1975, 1, 1, tzinfo=UTC) + timedelta(seconds=int(s)) for s in seconds]
    return whens, latitudes, draw.uniform(-180.0, 180.0, NUMBER)


def ours(whens: list[datetime], latitudes: np.ndarray, longitudes: np.ndarray) -> np.ndarray:
    """Altitude without air and azimuth, ``(n, 2)`` degrees."""
    found = []
    for when, latitude, longitude in zip(whens, latitudes, longitudes, strict=True):
        sun = sun_positions([when], latitude, longitude)
        found.append((sun.geometric_altitude_deg[0], sun.azimuth_deg[0]))
    return np.array(found)


def apart_arc_s(first: np.ndarray, second: np.ndarray) -> np.ndarray:
    """Angle between directions given as altitude and azimuth."""

    def unit(angles: np.ndarray) -> np.ndarray:
        altitude, azimuth = np.radians(angles.T)
        level = np.cos(altitude)
        return np.stack(
            [level * np.sin(azimuth), level * np.cos(azimuth), np.sin(altitude)], axis=-1
        )

    return 3600.0 * np.degrees(np.linalg.norm(unit(first) - unit(second), axis=-1))


def test_ephem_at_random_places_and_dates() -> None:
    whens, latitudes, longitudes = random_suns(1)
    theirs = []
    for when, latitude, longitude in zip(whens, latitudes, longitudes, strict=True):
        place = ephem.Observer()
        place.lat, place.lon = np.radians(latitude), np.radians(longitude)
        place.pressure, place.elevation = 0.0, 0.0
        place.date = when.replace(tzinfo=None)
        sun = ephem.Sun(place)
        theirs.append((np.degrees(sun.alt), np.degrees(sun.az)))
    assert (latitudes < -20).sum() > 60
    assert (latitudes > 20).sum() > 60
    assert apart_arc_s(ours(whens, latitudes, longitudes), np.array(theirs)).max() < ARC_SECONDS


def test_astropy_at_random_places_and_dates() -> None:
    import astropy.units as u
    from astropy.coordinates import AltAz, EarthLocation, get_sun
    from astropy.time import Time
    from astropy.utils import iers

    whens, latitudes, longitudes = random_suns(2)
    with warnings.catch_warnings(), iers.conf.set_temp("auto_download", False):
        warnings.simplefilter("ignore")
        times = Time([when.replace(tzinfo=None) for when in whens], scale="utc")
        times.delta_ut1_utc = (
            0.0  # we take the clock's time for the earth's turn, at most 0.9 s off
        )
        places = EarthLocation(lat=latitudes * u.deg, lon=longitudes * u.deg, height=0.0 * u.m)
        sun = get_sun(times).transform_to(AltAz(obstime=times, location=places))
    theirs = np.stack([sun.alt.deg, sun.az.deg], axis=-1)
    assert apart_arc_s(ours(whens, latitudes, longitudes), theirs).max() < ARC_SECONDS


@pytest.mark.parametrize(
    ("latitude", "longitude", "zone"),
    [
        (32.1, -81.1, "America/New_York"),
        (-33.9, 151.2, "Australia/Sydney"),
        (59.9, 10.7, "Europe/Oslo"),
        (-0.2, -78.5, "America/Guayaquil"),
        (-41.3, 174.8, "Pacific/Auckland"),
    ],
)
@pytest.mark.parametrize("month", [1, 4, 6, 9, 12])
def test_rise_noon_and_set_against_ephem(
    latitude: float, longitude: float, zone: str, month: int
) -> None:
    """Both take the disc's centre at 50 minutes under the horizon.

    ephem sees it from the ground, the convention from the earth's centre: 8.8 arc seconds, which
    a sun that climbs slowly needs up to three seconds for.
    """
    day = datetime(2026, month, 17, tzinfo=ZoneInfo(zone))
    place = ephem.Observer()
    place.lat, place.lon = np.radians(latitude), np.radians(longitude)
    place.pressure, place.horizon = 0.0, "-0:50"
    place.date = day.astimezone(UTC).replace(tzinfo=None)
    rise, noon, down = rise_noon_set(day.date(), latitude, longitude, zone)
    sun = ephem.Sun()
    asked = [
        (rise, place.next_rising(sun, use_center=True)),
        (noon, place.next_transit(sun)),
        (down, place.next_setting(sun, use_center=True)),
    ]
    for found, theirs in asked:
        assert found is not None
        away = found - theirs.datetime().replace(tzinfo=UTC)
        assert abs(away.total_seconds()) < 3.0


@pytest.mark.parametrize("year", [1951, 1999, 2026, 2050])
def test_solstices_and_equinoxes_against_ephem(year: int) -> None:
    first = ephem.Date(f"{year}/1/1")
    theirs = {
        "march": ephem.next_vernal_equinox(first),
        "june": ephem.next_summer_solstice(first),
        "september": ephem.next_autumnal_equinox(first),
        "december": ephem.next_winter_solstice(first),
    }
    for month, when in theirs.items():
        away = season_instant(month, year) - when.datetime().replace(tzinfo=UTC)
        assert abs(away.total_seconds()) < 90.0  # the sun's longitude, where ours asks ascension

"""The light sun against pvlib: position, refraction, air and clear sky at random suns."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pandas as pd
import pytest
from pvlib import atmosphere, clearsky, irradiance, solarposition, spa

from massing.sun.instants import datetimes, day_of_year, every, instants
from massing.sun.position import clear_sky, sun_positions
from massing.sun.sky import (
    between_months,
    extraterrestrial_w_m2,
    ineichen_perez,
    monthly_turbidity,
    pressure_pa,
)
from massing.sun.spa import equatorial
from tests.helpers.linke_map import FULL, thinned

PLACES, SUNS = 100, 100  # 10,000 random suns
pytestmark = pytest.mark.filterwarnings("ignore:divide by zero:RuntimeWarning:pvlib")


def draws(seed: int, low_year: int = 1950, high_year: int = 2099):
    """Places with their instants: latitude, longitude, altitude, times for pandas and for us."""
    rng = np.random.default_rng(seed)
    span_s = [datetime(year, 1, 1, tzinfo=UTC).timestamp() for year in (low_year, high_year)]
    for _ in range(PLACES):
        place = rng.uniform(-90, 90), rng.uniform(-180, 180), rng.uniform(-100, 4500)
        seconds = np.sort(rng.integers(*map(int, span_s), SUNS))
        times = seconds.astype("datetime64[s]").astype("datetime64[us]")
        yield place, pd.DatetimeIndex(times).tz_localize("UTC"), times


def turn(a, b):
    return np.abs((a - b + 180.0) % 360.0 - 180.0)


def test_positions_at_10_000_random_suns() -> None:
    worst = dict.fromkeys(("geometric", "seen", "towards"), 0.0)
    for (latitude, longitude, altitude), index, times in draws(1):
        ours = sun_positions(times, latitude, longitude, altitude)
        theirs = solarposition.get_solarposition(
            index,
            latitude,
            longitude,
            altitude=altitude,
            pressure=atmosphere.alt2pres(altitude),
            delta_t=67.0,
        )
        geometric = theirs["elevation"].to_numpy()
        off = {
            "geometric": np.abs(ours.geometric_altitude_deg - geometric),
            "seen": np.abs(ours.altitude_deg - theirs["apparent_elevation"].to_numpy()),
            # an azimuth is worth less near the zenith
            "towards": turn(ours.azimuth_deg, theirs["azimuth"].to_numpy())
            * np.cos(np.radians(geometric)),
        }
        worst = {key: max(worst[key], float(off[key].max())) for key in worst}
    assert max(worst.values()) < 1e-9, worst


def test_the_sun_from_the_earth_s_centre() -> None:
    seconds = np.random.default_rng(2).uniform(-6e9, 6e9, 2000)  # from 1780 to 2160
    ours = equatorial(seconds)
    sidereal, ascension, declination = spa.solar_position(
        seconds, 0, 0, 0, 0, 0, 67.0, 0, 1, sst=True
    )
    (distance,) = spa.solar_position(seconds, 0, 0, 0, 0, 0, 67.0, 0, 1, esd=True)
    assert turn(ours.sidereal_deg, sidereal).max() < 1e-9
    assert turn(ours.right_ascension_deg, ascension).max() < 1e-9
    assert np.abs(ours.declination_deg - declination).max() < 1e-9
    assert np.abs(ours.distance_au - distance).max() < 1e-12


def test_clear_sky_at_10_000_random_suns_under_the_same_haze() -> None:
    rng = np.random.default_rng(3)
    worst = 0.0
    for (_, _, altitude_m), index, times in draws(4):
        before = irradiance.get_extra_radiation(index).to_numpy()
        assert extraterrestrial_w_m2(times) == pytest.approx(before, abs=1e-9)
        pressure = float(atmosphere.alt2pres(altitude_m))
        assert float(pressure_pa(altitude_m)) == pytest.approx(pressure, abs=1e-9)
        sun, haze = rng.uniform(-10, 90, SUNS), rng.uniform(1.5, 8.0, SUNS)
        mass = atmosphere.get_absolute_airmass(atmosphere.get_relative_airmass(90 - sun), pressure)
        theirs = clearsky.ineichen(90 - sun, mass, haze, altitude=altitude_m, dni_extra=before)
        ours = ineichen_perez(sun, haze, altitude_m, before)
        for key in ("dni", "dhi", "ghi"):
            found, wanted = getattr(ours, f"{key}_w_m2"), theirs[key]
            assert (found[sun <= 0] == 0).all()
            worst = max(worst, np.abs(found - wanted)[sun > 0].max())
    assert worst < 1e-9


def test_a_day_s_haze_lies_between_its_months() -> None:
    index = pd.date_range("2023-12-20", "2025-01-10", freq="3h", tz="UTC")  # a leap year within
    times = index.tz_localize(None).to_numpy().astype("datetime64[us]")
    place = 32.08, -81.09
    theirs = clearsky.lookup_linke_turbidity(index, *place)
    months = 20.0 * clearsky.lookup_linke_turbidity(
        pd.DatetimeIndex([f"2025-{m:02d}-15" for m in range(1, 13)], tz="UTC"),
        *place,
        interp_turbidity=False,
    )
    assert between_months(months / 20.0, times) == pytest.approx(theirs.to_numpy(), abs=1e-12)


def test_the_map_of_haze_is_the_full_one_s_means() -> None:
    assert FULL.is_file()
    rng = np.random.default_rng(5)
    for row in (0, 47, 116, 251, 359):  # from pole to pole
        cells = thinned(row, row + 1)[0]
        for column in [0, 719, *rng.integers(0, 720, 20)]:
            latitude = 90.0 - (row + rng.uniform(0.01, 0.99)) / 2
            longitude = -180.0 + (column + rng.uniform(0.01, 0.99)) / 2
            found = monthly_turbidity(latitude, longitude)
            assert found == pytest.approx(cells[column] / 20.0, abs=1e-12)
    for corner in ((90.0, 180.0), (-90.0, -180.0), (90.0, -180.0), (-90.0, 180.0)):
        assert monthly_turbidity(*corner).shape == (12,)
    with pytest.raises(ValueError, match="no such place"):
        monthly_turbidity(91.0, 0.0)


def test_the_thinned_map_dims_the_sun_as_the_full_one_does() -> None:
    rng = np.random.default_rng(6)
    index = pd.date_range("2026-01-01", periods=40, freq="219h", tz="UTC")
    times = index.tz_localize(None).to_numpy().astype("datetime64[us]")
    off = []
    for _ in range(150):
        latitude, longitude = rng.uniform(-56, 70), rng.uniform(-180, 180)
        sun = sun_positions(times, latitude, longitude)
        haze = clearsky.lookup_linke_turbidity(index, latitude, longitude).to_numpy()
        full = ineichen_perez(sun.altitude_deg, haze, 0.0, extraterrestrial_w_m2(times)).dni_w_m2
        up = sun.altitude_deg > 0
        off.append(np.abs(clear_sky(sun, latitude, longitude).dni_w_m2 - full)[up])
    off = np.concatenate(off)
    # W/m2; a mountain's foot and its top may share a half degree
    assert off.mean() < 4.0
    assert np.percentile(off, 95) < 20.0


def test_instants_to_datetimes_and_back() -> None:
    zone = ZoneInfo("America/New_York")
    start = datetime(2026, 3, 8, 0, 30, tzinfo=zone)  # the clock is put forward that night
    times = every(start, datetime(2026, 3, 8, 4, 0, tzinfo=zone), timedelta(minutes=30), True)
    back = datetimes(times, zone)
    theirs = pd.date_range(pd.Timestamp(start), periods=len(times), freq="30min")
    assert back == [t.to_pydatetime() for t in theirs]
    assert (instants(back) == times).all()
    year = pd.date_range("2024-01-01", "2024-12-31", freq="7h")
    assert (day_of_year(year.to_numpy()) == year.dayofyear).all()

from __future__ import annotations

import time
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from massing.design.site import SiteDesign
from massing.sun import position
from massing.sun.angles import CONVENTIONAL_LIGHT
from massing.sun.instants import datetimes, every
from massing.sun.position import (
    FrontDay,
    SunPositions,
    clear_sky,
    front_day,
    front_incidence_deg,
    front_light,
    on_front,
    site_positions,
    sun_positions,
    sun_time,
    sun_times,
    to_house_frame,
)


def site(front_azimuth_deg: float = 180.0, latitude_deg: float = 40.0, **other) -> SiteDesign:
    given = {
        "place": "Elsewhere",
        "longitude_deg": -75.0,
        "altitude_m": 20.0,
        "time_zone": "America/New_York",
        "year": 2026,
    }
    return SiteDesign(
        latitude_deg=latitude_deg, front_azimuth_deg=front_azimuth_deg, **(given | other)
    )


NORTH_CAPE = {"latitude_deg": 70.0, "longitude_deg": 25.0, "time_zone": "Europe/Oslo"}


@pytest.mark.parametrize(
    ("azimuth", "front", "direction"),
    [  # drawn on paper: the front's right hand, its street side, up
        (180, 180, (0, -1, 0)),
        (90, 180, (1, 0, 0)),  # south front: east is to the right
        (270, 180, (-1, 0, 0)),
        (0, 180, (0, 1, 0)),
        (0, 90, (1, 0, 0)),  # east front: north is to the right
        (180, 270, (1, 0, 0)),  # west front: south is to the right
        (270, 0, (1, 0, 0)),  # north front: west is to the right
    ],
)
def test_house_frame_handedness(azimuth: float, front: float, direction: tuple) -> None:
    assert to_house_frame(0.0, azimuth, front) == pytest.approx(direction, abs=1e-12)


@given(
    st.floats(-90, 90), st.floats(0, 360), st.floats(0, 360),
)  # fmt: skip
def test_house_frame_keeps_length_and_height(altitude: float, azimuth: float, front: float) -> None:
    direction = to_house_frame(altitude, azimuth, front)
    assert np.linalg.norm(direction) == pytest.approx(1.0)
    assert direction[2] == pytest.approx(np.sin(np.radians(altitude)))
    assert direction == pytest.approx(to_house_frame(altitude, azimuth + 90, front + 90))


def test_house_frame_takes_arrays() -> None:
    assert to_house_frame(np.zeros(5), np.arange(5.0), 180.0).shape == (5, 3)
    assert to_house_frame(10.0, np.arange(6.0).reshape(2, 3), 0.0).shape == (2, 3, 3)


def test_conventional_light_has_the_draughtsmans_angles() -> None:
    assert to_house_frame(35.26438968, 225.0, 180.0) == pytest.approx(CONVENTIONAL_LIGHT)
    assert on_front(CONVENTIONAL_LIGHT)
    assert front_incidence_deg(CONVENTIONAL_LIGHT) == pytest.approx(54.735610)


def test_times_without_a_zone_are_refused() -> None:
    with pytest.raises(ValueError, match="has no time zone"):
        sun_positions([datetime(2026, 6, 21, 12)], 40.0, -75.0)
    with pytest.raises(ValueError, match="no time zone"):
        sun_positions(pd.DatetimeIndex(["2026-06-21"]), 40.0, -75.0)


def test_times_of_several_zones_are_the_same_instants() -> None:
    noon = datetime(2026, 6, 21, 12, tzinfo=ZoneInfo("America/New_York"))
    same = noon.astimezone(ZoneInfo("Asia/Tokyo"))
    sun = sun_positions([noon, same], 40.0, -75.0)
    assert sun.altitude_deg[0] == sun.altitude_deg[1]


def test_air_lifts_a_low_sun() -> None:
    times = pd.date_range("2026-06-21", periods=96, freq="15min", tz="America/New_York")
    sun = sun_positions(times, 40.0, -75.0)
    up = sun.geometric_altitude_deg > 0
    lift = (sun.altitude_deg - sun.geometric_altitude_deg)[up]
    assert (lift > 0).all()
    assert lift[np.argmin(sun.altitude_deg[up])] == lift.max()


def test_clear_sky_is_dark_at_night_and_adds_up() -> None:
    times = pd.date_range("2026-06-21", periods=24, freq="h", tz="America/New_York")
    sun = sun_positions(times, 40.0, -75.0)
    sky = clear_sky(sun, 40.0, -75.0)
    down = sun.altitude_deg <= 0
    assert down.any()
    assert (sky.dni_w_m2[down] == 0).all()
    level = sky.dni_w_m2 * np.sin(np.radians(np.maximum(sun.altitude_deg, 0))) + sky.dhi_w_m2
    assert sky.ghi_w_m2 == pytest.approx(level, abs=1e-6)


def test_sun_time_says_all() -> None:
    asked = sun_time("winter solstice 14:30", site())
    assert asked.when == datetime(2026, 12, 21, 14, 30, tzinfo=ZoneInfo("America/New_York"))
    assert asked.on_front
    assert asked.is_up
    assert asked.note == ""
    assert asked.direction[0] < 0  # an afternoon sun stands to the left of a south front
    assert asked.profile_angle_deg == pytest.approx(
        np.degrees(
            np.arctan(
                np.tan(np.radians(asked.altitude_deg)) / np.cos(np.radians(asked.azimuth_deg - 180))
            )
        )
    )
    assert asked.dni_w_m2 > 400


def test_sun_time_below_the_horizon_says_so() -> None:
    asked = sun_time("summer solstice 4:00", site())
    assert not asked.is_up
    assert not asked.on_front
    assert asked.profile_angle_deg is None
    assert asked.dni_w_m2 == 0
    assert "below the horizon" in asked.note
    assert "it is up from 05:3" in asked.note


def test_sun_time_behind_the_front_says_when_it_is_on_it() -> None:
    asked = sun_time("winter solstice 12:00", site(front_azimuth_deg=0.0))
    assert asked.is_up
    assert "behind the front" in asked.note
    assert "the front has no direct sun" in asked.note
    asked = sun_time("equinox 16:00", site(front_azimuth_deg=90.0))
    assert "it is on the front from" in asked.note


def test_sun_time_of_the_polar_night() -> None:
    asked = sun_time("winter solstice 12:00", site(**NORTH_CAPE))
    assert "does not rise" in asked.note


def test_conventional_light_is_a_named_sun() -> None:
    asked = sun_time("conventional light", site(front_azimuth_deg=200.0))
    assert asked.when is None
    assert asked.direction == pytest.approx(tuple(CONVENTIONAL_LIGHT))
    assert asked.profile_angle_deg == pytest.approx(45.0)
    assert asked.azimuth_deg == pytest.approx(245.0)
    assert asked.note == ""
    assert asked.dni_w_m2 > 600


def test_light_on_the_front() -> None:
    noon = sun_time("winter solstice 12:00", site())
    light = front_light(noon)
    square = noon.dni_w_m2 * np.cos(np.radians(noon.incidence_deg))
    assert light.sun_lux == pytest.approx(109.8 * square)
    # half the sky, and half the ground at a fifth of what falls on the level
    level = noon.dni_w_m2 * np.sin(np.radians(noon.altitude_deg)) + noon.dhi_w_m2
    assert light.shade_lux == pytest.approx(109.8 * (noon.dhi_w_m2 / 2 + 0.2 * level / 2))
    assert 4 < light.contrast < 16
    behind = front_light(sun_time("winter solstice 12:00", site(front_azimuth_deg=0.0)))
    assert behind.sun_lux == 0
    assert behind.contrast == 1
    assert front_light(sun_time("summer solstice 2:00", site())).contrast == 1


HIGH = site(
    front_azimuth_deg=330.0,  # the left-hand front of the compass: a turn past north
    latitude_deg=-13.5,
    longitude_deg=-71.9,
    altitude_m=3400.0,
    time_zone="America/Lima",
)


def test_a_sun_is_made_of_its_site_s_position_and_sky() -> None:
    asked = sun_time("14 May 9:20", HIGH)
    assert asked.label == "14 May 9:20"
    assert asked.when is not None
    there = sun_positions([asked.when], -13.5, -71.9, 3400.0)
    assert asked.altitude_deg == there.altitude_deg[0]
    assert asked.azimuth_deg == there.azimuth_deg[0]
    sky = clear_sky(there, -13.5, -71.9, 3400.0)
    assert asked.dni_w_m2 == sky.dni_w_m2[0]
    assert asked.dhi_w_m2 == sky.dhi_w_m2[0]
    [same] = sun_times([asked.when], HIGH)
    assert same.label == "09:20"
    assert same.when == asked.when
    assert same.when.tzinfo == ZoneInfo("America/Lima")
    assert same.direction == asked.direction


def test_thin_air_bends_less_and_dims_less() -> None:
    low = sun_positions([datetime(2026, 5, 14, 11, 30, tzinfo=UTC)], -13.5, -71.9)
    high = sun_positions([datetime(2026, 5, 14, 11, 30, tzinfo=UTC)], -13.5, -71.9, 3400.0)
    bend = low.altitude_deg - low.geometric_altitude_deg
    thin = high.altitude_deg - high.geometric_altitude_deg
    # by the air's pressure, 0.66 of that at sea level (ICAO standard atmosphere)
    assert thin / bend == pytest.approx(0.66, abs=0.01)
    assert clear_sky(high, -13.5, -71.9, 3400.0).dni_w_m2 > clear_sky(low, -13.5, -71.9).dni_w_m2


def test_the_conventional_light_has_the_site_s_sky_at_the_equinox() -> None:
    asked = sun_time("conventional light", HIGH)
    assert asked.label == "conventional light"
    assert asked.azimuth_deg == pytest.approx(15.0)  # 330 and 45, once round
    height = np.degrees(np.arcsin([1 / np.sqrt(3)]))
    day = np.array(["2026-03-20"], dtype="datetime64[us]")
    sky = clear_sky(SunPositions(day, height, height, height), -13.5, -71.9, 3400.0)
    assert asked.dni_w_m2 == sky.dni_w_m2[0]
    assert asked.dhi_w_m2 == sky.dhi_w_m2[0]


def test_a_front_is_lit_only_by_a_sun_before_it_and_up() -> None:
    assert not on_front((0.0, -1.0, 0.0))
    assert not on_front((0.8, 0.0, 0.6))
    assert on_front((0.0, -0.8, 0.6))
    assert front_incidence_deg((0.0, 1.0 + 1e-15, 0.0)) == 180.0
    assert front_incidence_deg((0.0, -1.0 - 1e-15, 0.0)) == 0.0


@pytest.mark.parametrize("clock", ["UTC", "Asia/Tokyo"])
def test_the_machine_s_own_clock_does_not_matter(clock: str, monkeypatch) -> None:
    monkeypatch.setenv("TZ", clock)
    time.tzset()
    try:
        day = front_day(date(2026, 5, 14), HIGH)
        assert day.day == date(2026, 5, 14)
        moments = [day.sunrise, day.solar_noon, day.sunset, *day.front_sun[0], *day.raking[0]]
        assert {moment.tzinfo for moment in moments if moment} == {ZoneInfo("America/Lima")}
        # (worked out by hand: 12:00 less 4 min for each degree past 75 W, less the equation of
        # time, 3 min 40 s in mid-May)
        assert abs(day.solar_noon.replace(tzinfo=None) - datetime(2026, 5, 14, 11, 43, 56)) < (
            timedelta(seconds=15)
        )
        assert sun_time("14 May 9:20", HIGH).when.utcoffset() == timedelta(hours=-5)
        assert datetimes(np.array(["2026-05-14T14:20"], "datetime64[us]"), day.sunrise.tzinfo) == [
            datetime(2026, 5, 14, 9, 20, tzinfo=ZoneInfo("America/Lima"))
        ]
    finally:
        monkeypatch.undo()
        time.tzset()


def test_a_spell_ends_where_it_crosses_nought_between_minutes() -> None:
    minutes = every(
        datetime(2026, 5, 14, 12, tzinfo=UTC),
        datetime(2026, 5, 14, 12, 6, tzinfo=UTC),
        timedelta(minutes=1),
    )
    value = np.array([1.0, -3.0, -1.0, 1.0, 0.0, -1.0])
    spells = position._spells(minutes, value, ZoneInfo("UTC"))
    shown = [(f"{a:%H:%M:%S}", f"{b:%H:%M:%S}") for a, b in spells]
    # the first begins with the first sample; nought itself is no light
    assert shown == [("12:00:00", "12:00:15"), ("12:02:30", "12:04:00")]
    rising = position._spells(minutes, -value, ZoneInfo("UTC"))
    assert [(f"{a:%H:%M:%S}", f"{b:%H:%M:%S}") for a, b in rising] == [
        ("12:00:15", "12:02:30"),
        ("12:04:00", "12:05:00"),
    ]


def test_the_midnight_sun_is_on_the_front_till_the_day_s_very_end() -> None:
    day = front_day(date(2026, 6, 21), site(front_azimuth_deg=0.0, **NORTH_CAPE))
    zone = ZoneInfo("Europe/Oslo")
    assert day.front_sun[0][0] == datetime(2026, 6, 21, tzinfo=zone)
    assert day.front_sun[-1][1] == datetime(2026, 6, 22, tzinfo=zone)


def hours(spells: tuple[tuple[datetime, datetime], ...]) -> float:
    return sum((b - a).total_seconds() for a, b in spells) / 3600


def test_south_front_has_twelve_hours_at_the_equinox_and_the_whole_winter_day() -> None:
    equinox = front_day(date(2026, 3, 20), site())
    assert equinox.front_hours == pytest.approx(12.0, abs=0.2)
    winter = front_day(date(2026, 12, 21), site())
    assert winter.sunrise is not None
    assert winter.sunset is not None
    assert winter.first_sun is not None
    assert winter.last_sun is not None
    # the disc's centre clears the horizon some minutes after its upper edge
    assert timedelta(0) < winter.first_sun - winter.sunrise < timedelta(minutes=8)
    assert timedelta(0) < winter.sunset - winter.last_sun < timedelta(minutes=8)


def test_north_front_has_two_spells_in_summer_and_none_in_winter() -> None:
    summer = front_day(date(2026, 6, 21), site(front_azimuth_deg=0.0))
    assert len(summer.front_sun) == 2
    assert summer.first_sun == summer.front_sun[0][0]
    winter = front_day(date(2026, 12, 21), site(front_azimuth_deg=0.0))
    assert winter.front_sun == ()
    assert winter.first_sun is None
    assert winter.last_sun is None
    assert winter.front_hours == 0


def test_raking_sun_is_a_part_of_the_sun_on_the_front() -> None:
    day = front_day(date(2026, 3, 20), site())
    assert len(day.raking) == 2  # morning and evening
    assert 0 < hours(day.raking) < day.front_hours
    for start, end in day.raking:
        middle = site_positions([start + (end - start) / 2], site())
        direction = to_house_frame(middle.altitude_deg, middle.azimuth_deg, 180.0)
        assert 70 < front_incidence_deg(direction)[0] < 90


def test_front_spells_end_where_the_sun_is_in_the_plane_of_the_front() -> None:
    day = front_day(date(2026, 6, 21), site())
    edge = site_positions([day.first_sun, day.last_sun], site())
    direction = to_house_frame(edge.altitude_deg, edge.azimuth_deg, 180.0)
    assert direction[:, 1] == pytest.approx([0, 0], abs=2e-4)


def test_polar_day_and_night() -> None:
    place = site(front_azimuth_deg=0.0, **NORTH_CAPE)
    day = front_day(date(2026, 6, 21), place)
    assert day.sunrise is None
    assert day.noon_altitude_deg > 40
    assert "does not set" in day.horizon_words
    assert hours(day.front_sun) > 10  # the midnight sun is on a north front
    night = front_day(date(2026, 12, 21), place)
    assert night.sunset is None
    assert night.front_sun == ()
    assert "does not rise" in night.horizon_words


@pytest.mark.parametrize("day", [date(2026, 3, 8), date(2026, 11, 1)])
def test_days_of_the_clock_change(day: date) -> None:
    found: FrontDay = front_day(day, site())
    assert found.first_sun is not None
    assert found.first_sun.date() == day
    assert 9 < found.front_hours < 13

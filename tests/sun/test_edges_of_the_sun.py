"""The sun at its limits: grazing light, ends of a day, leap years, the borders of the map."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from massing.design.site import SiteDesign
from massing.sun.angles import CONVENTIONAL_LIGHT, penumbra_width, shadow_depth, stepped_depth
from massing.sun.instants import datetimes, every, instants
from massing.sun.position import (
    _spells,
    clear_sky,
    front_day,
    front_incidence_deg,
    on_front,
    site_positions,
    sun_time,
    sun_times,
)
from massing.sun.sky import between_months, monthly_turbidity
from massing.sun.times import clock_text, parse_time, rise_noon_set, season_day, time_zone_at
from massing.sun.written_times import read_time

HOUR = timedelta(hours=1)
NOON = datetime(2026, 6, 21, 12, tzinfo=UTC)
# A high and dry town, east of the meridian, whose front faces west of south.
HIGH = SiteDesign(
    place="a high town",
    latitude_deg=-16.5,
    longitude_deg=-68.15,
    altitude_m=3640.0,
    time_zone="America/La_Paz",
    front_azimuth_deg=330.0,
    year=2026,
)


@pytest.mark.parametrize("to_sun", [(0.0, -1.0, 0.0), (0.6, 0.0, 0.8)])
def test_light_along_the_ground_or_along_the_front_is_not_on_it(to_sun):
    assert not on_front(np.array(to_sun))
    assert np.isnan(shadow_depth(1.0, to_sun))


def test_the_soft_edge_is_that_of_a_disc_seen_from_both_its_limbs():
    # the shadow's depth under the disc's upper limb less that under its lower one (geometry)
    altitude, disc = np.radians(35.0), np.radians(0.5)

    def towards(angle):
        return np.array([0.0, -np.cos(angle), np.sin(angle)])

    upper, lower = (shadow_depth(2.0, towards(altitude + s * disc / 2)) for s in (1, -1))
    assert penumbra_width(2.0, towards(altitude), disc) == pytest.approx(upper - lower, rel=1e-4)
    assert penumbra_width(2.0, towards(altitude), disc) > 0


def test_a_face_is_shaded_by_what_stands_before_and_not_below_its_top():
    # (edges y, edges z, face y, face top) -> depth in light at 45 degrees
    assert stepped_depth([0.0], [5.0], [0.0], [5.0], CONVENTIONAL_LIGHT) == 0.0  # in its own plane
    assert stepped_depth([-0.5], [5.0], [0.0], [5.0], CONVENTIONAL_LIGHT) == pytest.approx(0.5)
    assert stepped_depth([-0.5], [4.99], [0.0], [5.0], CONVENTIONAL_LIGHT) == 0.0
    # an edge that stands in the face's plane high above it casts nothing on it
    two = stepped_depth([0.0, -0.2], [7.0, 5.0], [0.0], [5.0], CONVENTIONAL_LIGHT)
    assert two == pytest.approx(0.2)
    # of two edges over each other the one whose shadow reaches lower counts
    assert stepped_depth(
        [-0.5, -0.1], [5.2, 5.0], [0.0], [5.0], CONVENTIONAL_LIGHT
    ) == pytest.approx(0.3)
    suns = np.array([CONVENTIONAL_LIGHT, [0.0, 1.0, 1.0]])
    depths = stepped_depth([-0.5], [5.0], [0.0, -0.2], [5.0, 5.0], suns)
    assert depths[0] == pytest.approx([0.5, 0.3])
    assert np.isnan(depths[1]).all()


def test_steps_from_an_instant_to_another_with_and_without_the_end():
    without = every(NOON, NOON + HOUR, timedelta(minutes=20))
    with_end = every(NOON, NOON + HOUR, timedelta(minutes=20), with_end=True)
    assert list(with_end[:-1]) == list(without)
    assert datetimes(with_end, UTC)[-1] == NOON + HOUR


def test_instants_are_told_by_the_clock_of_a_zone():
    zone = ZoneInfo("Australia/Adelaide")
    (told,) = datetimes(instants([NOON]), zone)
    assert told == NOON
    assert told.tzinfo is zone
    assert (told.hour, told.minute) == (21, 30)  # nine and a half hours ahead in June


def test_the_incidence_of_a_vector_a_hair_too_long_is_a_number():
    assert front_incidence_deg([0.0, -1.0 - 1e-12, 0.0]) == 0.0
    assert front_incidence_deg([0.0, 1.0 + 1e-12, 0.0]) == 180.0


def test_the_air_of_a_high_place_is_thinner_than_at_the_sea():
    when = [datetime(2026, 6, 21, 12, tzinfo=ZoneInfo("America/La_Paz"))]
    (sun,) = sun_times(when, HIGH)
    positions = site_positions(when, HIGH)
    high = clear_sky(positions, HIGH.latitude_deg, HIGH.longitude_deg, HIGH.altitude_m)
    low = clear_sky(positions, HIGH.latitude_deg, HIGH.longitude_deg)
    sea = clear_sky(positions, HIGH.latitude_deg, HIGH.longitude_deg, 0.0)
    assert sun.dni_w_m2 == high.dni_w_m2[0] > 1.1 * low.dni_w_m2[0]
    assert low.dni_w_m2[0] == sea.dni_w_m2[0]
    assert sun.label == "12:00"
    assert sun.when == when[0]


def test_a_written_time_keeps_its_words_and_its_place():
    sun = sun_time("21 June 12:00", HIGH)
    assert sun.label == "21 June 12:00"
    assert sun.when.utcoffset() == -4 * HOUR
    assert sun.when.hour == 12
    drawn = sun_time("conventional light", HIGH)
    assert drawn.label == "conventional light"
    assert drawn.when is None
    # over the left shoulder of one who looks at the front: 45 degrees clockwise of its normal
    assert drawn.azimuth_deg == pytest.approx((330 + 45) % 360)
    assert drawn.profile_angle_deg == pytest.approx(45.0)
    assert drawn.incidence_deg == pytest.approx(np.degrees(np.arccos(1 / np.sqrt(3))))


def test_spells_begin_and_end_where_the_value_crosses_nought():
    times = every(NOON, NOON + 6 * HOUR, HOUR)
    zone = ZoneInfo("Asia/Kolkata")
    # up from -1 to 1 in the first hour, down from 3 to -1 in the third, then up to the end
    spells = _spells(times, np.array([-1.0, 1.0, 3.0, -1.0, 0.0, 2.0]), zone)
    minutes = [[(t - NOON).total_seconds() / 60 for t in spell] for spell in spells]
    assert minutes == [[30.0, 165.0], [240.0, 300.0]]
    assert all(t.tzinfo is zone for spell in spells for t in spell)
    # a value that is positive from the first sample begins there
    (spell,) = _spells(times[:3], np.array([1.0, 2.0, -2.0]), zone)
    assert [(t - NOON).total_seconds() / 60 for t in spell] == [0.0, 90.0]


def test_the_sun_of_a_midsummer_night_is_on_the_front_to_the_ends_of_its_day():
    # a front to the north beyond the polar circle: in the sun before and after midnight
    tromso = SiteDesign(
        place="a town in the north",
        latitude_deg=69.65,
        longitude_deg=18.96,
        altitude_m=10.0,
        time_zone="Europe/Oslo",
        front_azimuth_deg=0.0,
        year=2026,
    )
    day = front_day(date(2026, 6, 21), tromso)
    start = datetime(2026, 6, 21, tzinfo=ZoneInfo("Europe/Oslo"))
    assert day.day == date(2026, 6, 21)
    assert day.sunrise is None
    assert day.front_sun[0][0] == start
    assert day.front_sun[-1][1] == start + 24 * HOUR
    assert day.solar_noon.date() == day.day
    assert 12 <= day.solar_noon.hour < 14
    assert day.first_sun.tzinfo.key == "Europe/Oslo"
    # raking are the parts with an incidence over 70 degrees, each within a spell of sun
    for a, b in day.raking:
        assert any(c <= a < b <= d for c, d in day.front_sun)
        middle = sun_times([a + (b - a) / 2], tromso)[0]
        assert middle.incidence_deg > 70


@pytest.mark.parametrize(
    ("year", "days_of_february"), [(1900, 28), (2000, 29), (2024, 29), (2026, 28), (2100, 28)]
)
def test_values_between_months_know_the_leap_years(year, days_of_february):
    # the calendar's rule of Gregory: centuries are leap years only by four hundred
    months = np.arange(12.0)
    middle = {  # the middle of a month by its own length
        m: datetime(year, m, 1) + (datetime(year, m % 12 + 1, 1) - datetime(year, m, 1)) / 2
        for m in (1, 2, 3, 7)
    }
    assert (datetime(year, 3, 1) - datetime(year, 2, 1)).days == days_of_february
    times = np.array([m.replace(hour=0) for m in middle.values()], dtype="datetime64[us]")
    assert between_months(months, times) == pytest.approx([0, 1, 2, 6], abs=0.04)
    first = np.array([datetime(year, 12, 31)], dtype="datetime64[us]")
    assert 5.0 < between_months(months, first)[0] < 6.0  # between December and January


def test_a_day_after_february_is_a_day_later_in_leap_years():
    months = np.arange(12.0)

    def on(year, month, day):
        return between_months(months, np.array([f"{year}-{month:02d}-{day:02d}"], "datetime64[us]"))

    # between the middles of February and March: a longer February is further behind
    assert on(2000, 3, 1) == on(2024, 3, 1)  # both leap years
    assert on(1900, 3, 1) == on(2026, 3, 1) == on(2100, 3, 1)  # none of them
    assert on(2000, 3, 1) > on(1900, 3, 1)


@pytest.mark.parametrize("of", [monthly_turbidity, time_zone_at])
@pytest.mark.parametrize("place", [(90.0, 0.0), (-90.0, 0.0), (0.0, 180.0), (0.0, -180.0)])
def test_the_borders_of_the_map_are_on_it(of, place):
    of(*place)


@pytest.mark.parametrize("of", [monthly_turbidity, time_zone_at])
@pytest.mark.parametrize("place", [(90.5, 0.0), (-90.5, 0.0), (0.0, 180.5), (0.0, -180.5)])
def test_beyond_the_borders_is_no_place(of, place):
    with pytest.raises(ValueError, match=r"no such place: latitude -?9?0\.[05], longitude"):
        of(*place)


def test_a_year_written_counts_and_its_limits_are_said():
    place = {"latitude_deg": 0.0, "longitude_deg": 0.0, "time_zone": "UTC", "year": 2026}
    assert parse_time("1950-01-02 10:00", **place).year == 1950
    assert parse_time("2050-12-30 10:00", **place).year == 2050
    for year in (1949, 2051):
        with pytest.raises(ValueError, match=f"of the year {year}; allowed: 1950 to 2050"):
            parse_time(f"{year}-05-05 10:00", **place)


def test_the_equator_counts_as_north_and_a_hair_south_of_it_as_south():
    assert season_day("summer solstice", 2026, 0.0, UTC).month == 6
    assert season_day("summer solstice", 2026, 0.5, UTC).month == 6
    assert season_day("summer solstice", 2026, -0.01, UTC).month == 12


@pytest.mark.parametrize(("longitude", "zone"), [(-179.9, "Etc/GMT+12"), (179.9, "Etc/GMT-12")])
def test_noon_falls_on_the_day_asked_wherever_the_clock_stands(longitude, zone):
    # by the equation of time noon is within 17 minutes of mean noon at the zone's meridian
    for day in (date(2026, 2, 11), date(2026, 11, 3)):
        rise, noon, down = rise_noon_set(day, 10.0, longitude, zone)
        assert noon.date() == day
        assert abs(noon.hour * 60 + noon.minute - 720) <= 18
        assert rise < noon < down
        assert down - rise < 13 * HOUR


def test_a_zone_without_letters_is_not_named():
    when = datetime(2026, 6, 21, 10, tzinfo=ZoneInfo("America/Sao_Paulo"))
    assert clock_text(when) == "2026-06-21 10:00 (UTC-03:00)"


@pytest.mark.parametrize(
    ("text", "hour", "minute"),
    [
        ("14 May 1 am", 1, 0),
        ("14 May 12 pm", 12, 0),
        ("14 May 12:05 am", 0, 5),
        ("14 May 11pm", 23, 0),
    ],
)
def test_hours_of_half_a_day(text, hour, minute):
    clock = read_time(text).clock
    assert (clock.hour, clock.minute) == (hour, minute)
    with pytest.raises(ValueError, match="the hour is 1 to 12"):
        read_time("14 May 13 pm")
    with pytest.raises(ValueError, match="the hour is 1 to 12"):
        read_time("14 May 0 am")


@pytest.mark.parametrize(
    ("written", "offset"),
    [
        ("+05:45", timedelta(hours=5, minutes=45)),
        ("-0330", -timedelta(hours=3, minutes=30)),
        ("+14:00", timedelta(hours=14)),
        ("-14:00", -timedelta(hours=14)),
    ],
)
def test_offsets_from_utc_are_read_to_the_minute(written, offset):
    assert read_time(f"2026-05-14 10:00 {written}").offset == offset
    assert timezone(offset).utcoffset(None) == offset
    with pytest.raises(ValueError, match="from -14:00 to"):
        read_time("2026-05-14 10:00 +14:30")


@pytest.mark.parametrize(
    "text", ["conventional light", "best hour", "14 May best hour", "2026-05-14 16:00"]
)
def test_what_was_written_is_kept(text):
    assert read_time(text).text == text


def test_every_month_by_its_full_and_its_short_name():
    names = "January February March April May June July August September October November December"
    for number, name in enumerate(names.split(), start=1):
        assert read_time(f"3 {name} 10:00").month == number
        assert read_time(f"{name[:3]} 3 10:00").month == number
    assert read_time("3 Sept 10:00").month == 9

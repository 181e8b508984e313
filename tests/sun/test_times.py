from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
import tzfpy
from hypothesis import given
from hypothesis import strategies as st

from massing.sun.position import sun_positions
from massing.sun.sky import monthly_turbidity
from massing.sun.times import (
    _zone_of_square,
    clock_text,
    parse_time,
    read_time,
    rise_noon_set,
    season_day,
    season_instant,
    solar_noon,
    time_zone_at,
)

NEW_YORK = {
    "latitude_deg": 40.7,
    "longitude_deg": -74.0,
    "time_zone": "America/New_York",
    "year": 2026,
}
SYDNEY = {
    "latitude_deg": -33.9,
    "longitude_deg": 151.2,
    "time_zone": "Australia/Sydney",
    "year": 2026,
}


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("summer solstice 10:00", "2026-06-21T10:00:00-04:00"),
        ("Winter Solstice  14:30", "2026-12-21T14:30:00-05:00"),
        ("equinox 9:00", "2026-03-20T09:00:00-04:00"),
        ("spring equinox 9:00", "2026-03-20T09:00:00-04:00"),
        ("autumn equinox 09:00", "2026-09-22T09:00:00-04:00"),
        ("fall equinox 9:00 am", "2026-09-22T09:00:00-04:00"),
        ("2026-05-14 16:00", "2026-05-14T16:00:00-04:00"),
        ("2025-01-02 0:00", "2025-01-02T00:00:00-05:00"),
        ("14 May 16:00", "2026-05-14T16:00:00-04:00"),
        ("14 May 2027 4:00 pm", "2027-05-14T16:00:00-04:00"),
        ("May 14, 4:05pm", "2026-05-14T16:05:00-04:00"),
        ("September 1, 2028 12:00 am", "2028-09-01T00:00:00-04:00"),
        ("Sept 1 12:00 pm", "2026-09-01T12:00:00-04:00"),
        ("2026-11-01 01:30 -05:00", "2026-11-01T01:30:00-05:00"),
        ("2026-11-01 01:30 -0400", "2026-11-01T01:30:00-04:00"),
    ],
)
def test_written_times(text: str, shown: str) -> None:
    assert parse_time(text, **NEW_YORK).isoformat() == shown


@pytest.mark.parametrize(
    ("text", "clock", "offset"),
    [
        ("14 May 1 am", time(1, 0), None),
        ("14 May 12 pm", time(12, 0), None),
        ("14 May 16:00 +05:45", time(16, 0), timedelta(hours=5, minutes=45)),
        ("14 May 16:00 -0330", time(16, 0), -timedelta(hours=3, minutes=30)),
        ("14 May 16:00 +14:00", time(16, 0), timedelta(hours=14)),
        ("14 May solar noon", None, None),
    ],
)
def test_what_a_written_hour_says(text: str, clock: time | None, offset: timedelta | None) -> None:
    spec = read_time(text)
    assert (spec.text, spec.clock, spec.offset) == (text, clock, offset)
    assert (spec.month, spec.day, spec.year) == (5, 14, None)


@pytest.mark.parametrize("text", ["14 May 16:00 +14:30", "14 May 0:30 am", "14 May 13:00 pm"])
def test_hours_that_no_clock_shows(text: str) -> None:
    with pytest.raises(ValueError, match="is not a time"):
        read_time(text)


def test_the_years_of_a_scene() -> None:
    for year in (1950, 2050):
        assert parse_time(f"{year}-05-14 16:00", **NEW_YORK).year == year
    for year in (1949, 2051):
        with pytest.raises(ValueError, match=f"is of the year {year}; allowed: 1950 to 2050"):
            parse_time(f"{year}-05-14 16:00", **NEW_YORK)
        with pytest.raises(ValueError, match=f"is of the year {year}"):
            parse_time("14 May 16:00", **(NEW_YORK | {"year": year}))


def test_a_light_of_the_drawing_board_keeps_its_words() -> None:
    assert read_time("Conventional  Light").text == "Conventional  Light"
    assert read_time("Conventional  Light").conventional


def test_the_equator_counts_as_north() -> None:
    zone = ZoneInfo("America/Guayaquil")
    assert season_day("summer solstice", 2026, 0.0, zone).month == 6
    assert season_day("summer solstice", 2026, 0.5, zone).month == 6
    assert season_day("summer solstice", 2026, -0.5, zone).month == 12


def test_a_zone_without_letters_is_said_by_its_offset_alone() -> None:
    when = datetime(2026, 5, 14, 16, tzinfo=ZoneInfo("America/Sao_Paulo"))
    assert clock_text(when) == "2026-05-14 16:00 (UTC-03:00)"


def test_seasons_follow_the_hemisphere() -> None:
    summer = parse_time("summer solstice 10:00", **SYDNEY)
    assert summer.isoformat() == "2026-12-22T10:00:00+11:00"
    assert parse_time("winter solstice 10:00", **SYDNEY).date() == date(2026, 6, 21)
    assert parse_time("equinox 10:00", **SYDNEY).date() == date(2026, 9, 23)
    assert parse_time("autumn equinox 10:00", **SYDNEY).date() == date(2026, 3, 21)


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("summer solstice", "allowed: a day and an hour"),
        ("10:00", "allowed"),
        ("", "allowed"),
        ("midsummer 10:00", "allowed"),
        ("summer solstice 10", "allowed"),
        ("14 Mai 9:00", "'mai' is not a month"),
        ("31 Apr 9:00", "not in the calendar"),
        ("2026-13-01 9:00", "not in the calendar"),
        ("2026-05-14 24:00", "0:00 to 23:59"),
        ("2026-05-14 9:60", "0:00 to 23:59"),
        ("14 May 13:00 pm", "1 to 12"),
        ("29 Feb 12:00", "2026 has no such day"),
        ("14 May 9:00 +19:00", "offsets"),
        ("conventional light", "no day and hour"),
    ],
)
def test_bad_times_say_what_is_wrong(text: str, word: str) -> None:
    with pytest.raises(ValueError, match=word) as caught:
        parse_time(text, **NEW_YORK)
    assert "\n" not in str(caught.value)
    assert text in str(caught.value)


def test_leap_day_waits_for_the_year() -> None:
    assert parse_time("29 Feb 12:00", **(NEW_YORK | {"year": 2028})).day == 29


def test_skipped_time_says_which_clock_change() -> None:
    with pytest.raises(
        ValueError, match="2026-03-08 02:30 does not exist in America/New_York"
    ) as e:
        parse_time("2026-03-08 02:30", **NEW_YORK)
    assert "from UTC-05:00 to UTC-04:00" in str(e.value)
    with pytest.raises(ValueError, match="does not exist"):
        parse_time("2026-10-04 02:30", **SYDNEY)
    with pytest.raises(ValueError, match="does not exist"):  # an offset does not save it
        parse_time("2026-03-08 02:30 -05:00", **NEW_YORK)


def test_doubled_time_says_how_to_write_it() -> None:
    with pytest.raises(ValueError, match="comes twice") as e:
        parse_time("2026-11-01 01:30", **NEW_YORK)
    assert "write 2026-11-01 01:30 -04:00 or 2026-11-01 01:30 -05:00" in str(e.value)
    first = parse_time("2026-11-01 01:30 -04:00", **NEW_YORK)
    second = parse_time("2026-11-01 01:30 -05:00", **NEW_YORK)
    assert second.astimezone(UTC) - first.astimezone(UTC) == timedelta(hours=1)


def test_wrong_offset_is_refused() -> None:
    with pytest.raises(ValueError, match="not in force") as e:
        parse_time("2026-07-01 12:00 -05:00", **NEW_YORK)
    assert "write 2026-07-01 12:00 -04:00" in str(e.value)


@given(
    st.datetimes(datetime(1951, 1, 1), datetime(2050, 12, 30)),
    st.sampled_from(
        ["America/New_York", "Europe/Rome", "Australia/Lord_Howe", "Asia/Kolkata", "Pacific/Apia"]
    ),
)
def test_every_wall_time_is_kept_or_refused(wall: datetime, zone: str) -> None:
    place = {"latitude_deg": 0.0, "longitude_deg": 0.0, "time_zone": zone, "year": 2026}
    text = f"{wall:%Y-%m-%d %H:%M}"
    try:
        when = parse_time(text, **place)
    except ValueError as refused:
        why = str(refused)
    else:
        again = when.astimezone(UTC).astimezone(when.tzinfo)
        why = "" if f"{again:%Y-%m-%d %H:%M}" == text else "moved"
    assert why == "" or "does not exist" in why or "comes twice" in why


def test_read_time_needs_no_place() -> None:
    assert read_time("conventional light").conventional
    assert read_time("equinox solar noon").clock is None
    assert read_time("14 May 2027 9:05").clock == time(9, 5)
    assert read_time("14 May 2027 9:05").year == 2027


def test_solar_noon_is_when_the_sun_is_highest() -> None:
    noon = parse_time("2026-02-11 solar noon", **NEW_YORK)
    around = [noon + timedelta(seconds=s) for s in range(-300, 301, 10)]
    altitude = sun_positions(around, 40.7, -74.0).geometric_altitude_deg
    assert abs(int(altitude.argmax()) - 30) <= 2  # declination drifts while the sun culminates


@pytest.mark.parametrize(
    ("longitude_deg", "zone"),
    [
        (-157.4, "Pacific/Kiritimati"),
        (179.9, "Pacific/Fiji"),
        (-179.9, "Pacific/Fiji"),
        (78.0, "Asia/Shanghai"),
        (0.0, "Europe/London"),
    ],
)
def test_noon_falls_on_the_local_day(longitude_deg: float, zone: str) -> None:
    for k in range(0, 366, 9):
        day = date(2026, 1, 1) + timedelta(days=k)
        rise, noon, down = rise_noon_set(day, 10.0, longitude_deg, zone)
        assert rise is not None
        assert down is not None
        assert rise < noon < down
        assert noon.date() == day
        assert solar_noon(day, 10.0, longitude_deg, zone) == noon


def test_rise_and_set_are_where_the_disc_touches_the_horizon() -> None:
    rise, _, down = rise_noon_set(date(2026, 6, 21), 64.8, -147.7, "America/Anchorage")
    assert rise is not None
    assert down is not None
    assert down.date() == date(2026, 6, 22)  # past midnight on the clock
    altitude = sun_positions([rise, down], 64.8, -147.7).geometric_altitude_deg
    assert altitude == pytest.approx([-0.8333, -0.8333], abs=0.01)


@pytest.mark.parametrize("day", [date(2026, 6, 21), date(2026, 12, 21)])
def test_no_rise_or_set_beyond_the_polar_circle(day: date) -> None:
    rise, noon, down = rise_noon_set(day, 70.0, 25.0, "Europe/Oslo")
    assert rise is None
    assert down is None
    assert noon.date() == day


def test_seasons_are_a_tropical_year_apart() -> None:
    for month in ("march", "june", "september", "december"):
        span = season_instant(month, 2050) - season_instant(month, 1951)
        assert span.total_seconds() / 86400 / 99 == pytest.approx(365.2422, abs=0.001)


def test_clock_text_states_daylight_saving() -> None:
    assert clock_text(parse_time("14 Jul 9:00", **NEW_YORK)) == (
        "2026-07-14 09:00 EDT (UTC-04:00, daylight saving time)"
    )
    assert clock_text(parse_time("14 Jan 9:00", **NEW_YORK)) == "2026-01-14 09:00 EST (UTC-05:00)"


def test_time_zone_of_a_place() -> None:
    assert time_zone_at(32.08, -81.09) == "America/New_York"
    assert time_zone_at(-33.9, 18.4) == "Africa/Johannesburg"
    with pytest.raises(ValueError, match="no such place"):
        time_zone_at(95.0, 0.0)


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg"), [(-90, 0), (90, 0), (0, -180), (0, 180), (0, 0)]
)
def test_every_place_on_the_globe_has_a_zone(latitude_deg: float, longitude_deg: float) -> None:
    assert time_zone_at(latitude_deg, longitude_deg)


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg"), [(-90.5, 0), (90.5, 0), (0, -180.5), (0, 180.5)]
)
def test_places_off_the_globe(latitude_deg: float, longitude_deg: float) -> None:
    with pytest.raises(ValueError, match="no such place"):
        time_zone_at(latitude_deg, longitude_deg)
    with pytest.raises(ValueError, match="no such place"):
        monthly_turbidity(latitude_deg, longitude_deg)


def test_the_map_of_zones_says_what_the_shapes_say():
    """Against tzfpy's own shapes, of which it was made, at 20,000 places between the looks."""
    rng = np.random.default_rng(7)
    places = np.column_stack([rng.uniform(-58.0, 72.0, 20_000), rng.uniform(-180.0, 180.0, 20_000)])
    mapped = [(_zone_of_square(*place), place) for place in places.tolist()]
    sure = [(zone, place) for zone, place in mapped if zone]
    assert len(sure) > 4000
    assert [tzfpy.get_tz(place[1], place[0]) for _, place in sure] == [zone for zone, _ in sure]


@pytest.mark.parametrize(
    ("latitude", "longitude"),
    [(41.9029, 12.4534), (43.94, 12.45), (47.69, 8.69), (52.0, 4.3), (32.3, -110.9), (-34.0, 18.4)],
)
def test_small_states_and_coasts_keep_their_zone(latitude, longitude):
    """The Vatican, San Marino, Büsingen; towns by the sea and far from it."""
    zone = time_zone_at(latitude, longitude)
    told = datetime(2026, 7, 1, 12, tzinfo=ZoneInfo(zone)).utcoffset()
    shapes = ZoneInfo(tzfpy.get_tz(longitude, latitude))
    assert told == datetime(2026, 7, 1, 12, tzinfo=shapes).utcoffset()

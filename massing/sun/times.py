"""The almanac: what instant a written time means at a place, seasons, sunrise and sunset.

The day of a solstice or equinox is computed for the year; seasons are those of the site's
hemisphere.
"""

from __future__ import annotations

import zlib
from datetime import UTC, date, datetime, timedelta, tzinfo
from functools import lru_cache
from importlib import resources
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from massing.sun.spa import equatorial
from massing.sun.written_times import read_time

# Right ascension of the sun, degrees, and the month in which it comes there.
_SEASON_POINTS = {"march": 0.0, "june": 90.0, "september": 180.0, "december": 270.0}
_NORTHERN = {
    "equinox": "march",
    "spring equinox": "march",
    "summer solstice": "june",
    "autumn equinox": "september",
    "fall equinox": "september",
    "winter solstice": "december",
}
_OPPOSITE = {
    "march": "september",
    "june": "december",
    "september": "march",
    "december": "june",
}

FIRST_YEAR, LAST_YEAR = 1950, 2050  # as a scene may say; time zones are known for these


def parse_time(
    text: str, *, latitude_deg: float, longitude_deg: float, time_zone: str, year: int
) -> datetime:
    """The instant that a written time means at a place.

    Args:
        text: such as ``summer solstice 10:00``; see :data:`~.written_times.TIME_FORMS`.
        latitude_deg: decides whose summer it is; the equator counts as north.
        longitude_deg: east positive; used by ``solar noon``.
        time_zone: IANA name.
        year: for days written without one, and for the seasons.

    Returns:
        An aware datetime in ``time_zone``, so that its UTC offset shows daylight saving.

    >>> place = dict(latitude_deg=40.7, longitude_deg=-74.0, time_zone="America/New_York")
    >>> parse_time("summer solstice 10:00", year=2026, **place).isoformat()
    '2026-06-21T10:00:00-04:00'

    Raises:
        ValueError: not a time; a time that the clock change skips, or runs through twice; the
            conventional light, which has no hour.
    """
    spec = read_time(text)
    if spec.conventional:
        raise ValueError(f"{text!r} is a drawing convention, it has no day and hour")
    if spec.best:
        raise ValueError(f"{text!r} is not a clock time; allowed: a day and an hour")
    written = year if spec.year is None else spec.year
    if not FIRST_YEAR <= written <= LAST_YEAR:
        raise ValueError(f"{text!r} is of the year {written}; allowed: {FIRST_YEAR} to {LAST_YEAR}")
    zone = ZoneInfo(time_zone)
    if spec.season:
        day = season_day(spec.season, year, latitude_deg, zone)
    else:
        try:
            day = date(spec.year or year, spec.month, spec.day)
        except ValueError:
            raise ValueError(f"{text!r}: {spec.year or year} has no such day") from None
    if spec.clock is None:
        return solar_noon(day, latitude_deg, longitude_deg, time_zone)
    return _on_the_clock(datetime.combine(day, spec.clock), zone, spec.offset)


def _on_the_clock(wall: datetime, zone: ZoneInfo, offset: timedelta | None) -> datetime:
    """A wall-clock time in its zone, refusing what the clock skips or shows twice."""
    first, second = (wall.replace(tzinfo=zone, fold=fold) for fold in (0, 1))
    shown = f"{wall:%Y-%m-%d %H:%M}"
    if first.astimezone(UTC).astimezone(zone).replace(tzinfo=None) != wall:
        before, after = _utcoffset(second), _utcoffset(first)
        raise ValueError(
            f"{shown} does not exist in {zone.key}: the clock is put forward that day, from "
            f"UTC{offset_text(min(before, after))} to UTC{offset_text(max(before, after))}, "
            "and skips this time"
        )
    offsets = sorted({_utcoffset(first), _utcoffset(second)}, reverse=True)
    allowed = " or ".join(f"{shown} {offset_text(o)}" for o in offsets)
    if offset is None:
        if len(offsets) > 1:
            raise ValueError(
                f"{shown} comes twice in {zone.key}, because the clock is put back; write {allowed}"
            )
        return first
    for choice in (first, second):
        if _utcoffset(choice) == offset:
            return choice
    raise ValueError(
        f"UTC{offset_text(offset)} is not in force in {zone.key} at {shown}; write {allowed}"
    )


def _utcoffset(when: datetime) -> timedelta:
    offset = when.utcoffset()
    assert offset is not None
    return offset


def offset_text(offset: timedelta) -> str:
    """A UTC offset as ``+hh:mm``.

    >>> offset_text(timedelta(hours=-3, minutes=-30))
    '-03:30'
    """
    minutes = round(offset.total_seconds() / 60)
    return f"{'-' if minutes < 0 else '+'}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"


def clock_text(when: datetime) -> str:
    """Date, clock time, zone abbreviation and UTC offset, for labels and tables.

    >>> from zoneinfo import ZoneInfo
    >>> clock_text(datetime(2026, 6, 21, 10, tzinfo=ZoneInfo("America/New_York")))
    '2026-06-21 10:00 EDT (UTC-04:00, daylight saving time)'
    """
    saving = ", daylight saving time" if when.dst() else ""
    name = when.tzname() or ""
    name = f" {name}" if name.isalpha() else ""
    return f"{when:%Y-%m-%d %H:%M}{name} (UTC{offset_text(_utcoffset(when))}{saving})"


@lru_cache(maxsize=64)
def season_instant(month: str, year: int) -> datetime:
    """When the sun stands at the equinox or solstice of ``month`` in ``year``, in UTC.

    The instant at which the sun's apparent right ascension (Reda and Andreas, NREL/TP-560-34302,
    section 3.9) is 0, 90, 180 or 270 degrees. Good to about a minute.

    >>> f"{season_instant('june', 2026):%d %H:%M}"
    '21 08:24'
    """
    target = _SEASON_POINTS[month]
    day_of_year = {"march": 79, "june": 172, "september": 265, "december": 355}[month]
    seconds = (datetime(year, 1, 1, tzinfo=UTC) + timedelta(days=day_of_year)).timestamp()
    for _ in range(6):  # the sun's rate is within 8 % of its mean, so each round gains a digit
        ascension_deg = float(equatorial([seconds]).right_ascension_deg[0])
        ahead = (ascension_deg - target + 180.0) % 360.0 - 180.0
        seconds -= ahead / 360.0 * 365.2422 * 86400.0
    return datetime.fromtimestamp(seconds, UTC)


def season_day(season: str, year: int, latitude_deg: float, zone: tzinfo) -> date:
    """The local calendar day of a solstice or equinox, by the site's hemisphere.

    ``equinox`` alone is the spring one.

    >>> season_day("summer solstice", 2026, -33.9, ZoneInfo("Australia/Sydney"))
    datetime.date(2026, 12, 22)
    """
    month = _NORTHERN[season]
    if latitude_deg < 0:
        month = _OPPOSITE[month]
    return season_instant(month, year).astimezone(zone).date()


def rise_noon_set(
    day: date, latitude_deg: float, longitude_deg: float, time_zone: str
) -> tuple[datetime | None, datetime, datetime | None]:
    """Sunrise, solar noon and sunset about the noon of a local day, to the second.

    NREL SPA (Reda and Andreas, appendix A.2): the upper limb on a flat
    horizon, the centre at -0.8333 degree. Rise and set are None when the sun stays above or below
    the horizon all day; set may fall after midnight.
    """
    zone = ZoneInfo(time_zone)
    midnight = datetime(day.year, day.month, day.day, tzinfo=UTC)
    noon_s = _meridian(midnight.timestamp() + 43200.0 - 240.0 * longitude_deg, longitude_deg)
    noon_s += 86400.0 * (day - _local(noon_s, zone).date()).days
    noon_s = _meridian(noon_s, longitude_deg)
    noon = _local(noon_s, zone)
    rise, down = (_horizon(noon_s, side, latitude_deg, longitude_deg) for side in (-1, 1))
    return (
        None if rise is None else _local(rise, zone),
        noon,
        None if down is None else _local(down, zone),
    )


def _local(unix_s: float, zone: ZoneInfo) -> datetime:
    return datetime.fromtimestamp(round(unix_s), UTC).astimezone(zone)


def _equatorial(unix_s: float, longitude_deg: float) -> tuple[float, float]:
    """Local hour angle (-180 to 180) and declination of the sun, degrees."""
    sun = equatorial([unix_s])
    hour_angle = float(sun.sidereal_deg[0] - sun.right_ascension_deg[0]) + longitude_deg
    return (hour_angle + 180.0) % 360.0 - 180.0, float(sun.declination_deg[0])


def _meridian(unix_s: float, longitude_deg: float) -> float:
    # the report's own table of transits skips or repeats a day near longitude 180
    ahead_s = np.inf
    while abs(ahead_s) > 0.1:
        ahead_s = 240.0 * _equatorial(unix_s, longitude_deg)[0]
        unix_s -= ahead_s
    return unix_s


def _horizon(noon_s: float, side: int, latitude_deg: float, longitude_deg: float) -> float | None:
    """When the sun is 0.8333 degree under the horizon, before (-1) or after (+1) a noon."""
    latitude = np.radians(latitude_deg)
    unix_s = noon_s
    for _ in range(20):  # slow only in the few days round the midnight sun
        hour_angle, declination_deg = _equatorial(unix_s, longitude_deg)
        declination = np.radians(declination_deg)
        cosine = (np.sin(np.radians(-0.8333)) - np.sin(latitude) * np.sin(declination)) / (
            np.cos(latitude) * np.cos(declination)
        )
        if abs(cosine) > 1.0:
            return None
        ahead = (hour_angle - side * np.degrees(np.arccos(cosine)) + 180.0) % 360.0 - 180.0
        unix_s -= 240.0 * ahead
        if abs(ahead) < 0.0005:
            break
    return unix_s


def solar_noon(day: date, latitude_deg: float, longitude_deg: float, time_zone: str) -> datetime:
    """When the sun crosses the meridian on a local day, to the second (NREL SPA)."""
    return rise_noon_set(day, latitude_deg, longitude_deg, time_zone)[1]


def time_zone_at(latitude_deg: float, longitude_deg: float) -> str:
    """The IANA zone of a place, from the shapes that tzfpy carries.

    >>> time_zone_at(41.9, 12.5)
    'Europe/Rome'

    Raises:
        ValueError: latitude or longitude out of range.
    """
    if not (-90.0 <= latitude_deg <= 90.0 and -180.0 <= longitude_deg <= 180.0):
        raise ValueError(f"no such place: latitude {latitude_deg}, longitude {longitude_deg}")
    sure = _zone_of_square(latitude_deg, longitude_deg)
    if sure:
        return sure
    import tzfpy

    return tzfpy.get_tz(longitude_deg, latitude_deg)


_TO_A_DEGREE = 4  # squares of the map of zones, each way


def _zone_of_square(latitude_deg: float, longitude_deg: float) -> str:
    """The zone of a place far within it, from a map of quarter degrees; "" nearer to a border.

    The shapes take a tenth of a second to unfold, the map a thousandth. It was made of them.
    """
    names, squares = _zones()
    row = min(int((latitude_deg + 90.0) * _TO_A_DEGREE), len(squares) - 1)
    column = min(int((longitude_deg + 180.0) * _TO_A_DEGREE), squares.shape[1] - 1)
    return names[squares[row, column]]


@lru_cache(maxsize=1)
def _zones() -> tuple[list[str], NDArray[np.uint16]]:
    data = zlib.decompress(resources.files("massing.sun").joinpath("zones.bin").read_bytes())
    names, _, squares = data.partition(b"\n\n")
    table = np.frombuffer(squares, dtype="<u2").reshape(180 * _TO_A_DEGREE, 360 * _TO_A_DEGREE)
    return names.decode("ascii").split("\n"), table

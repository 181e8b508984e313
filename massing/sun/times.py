"""The times of a scene, as a designer writes them.

A time is a day and an hour: ``summer solstice 10:00``, ``equinox 9:00``,
``2026-05-14 16:00``, ``14 May 4:00 pm``, ``winter solstice solar noon``. The day of a solstice
or equinox is computed for the year; seasons are those of the site's hemisphere. The hour is
what a clock in the place shows, daylight saving included.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from functools import lru_cache
from zoneinfo import ZoneInfo

import numpy as np
import pandas as pd
import tzfpy
from pvlib import spa

DELTA_T_S = 67.0
"""Terrestrial less universal time, seconds (NREL SPA's example; 69 s in the 2020s). An error
of 30 s moves the sun by less than 0.0004 degree."""

CONVENTIONAL = "conventional light"
TIME_FORMS = (
    "a day and an hour, such as summer solstice 10:00, equinox 9:00, 2026-05-14 16:00, "
    "14 May 16:00, winter solstice solar noon; or conventional light"
)

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
_MONTHS = ("jan feb mar apr may jun jul aug sep oct nov dec").split()
_MONTH = r"(?P<month>[a-z]{3,9})\.?"
_DAYS = (
    re.compile(rf"(?P<season>{'|'.join(sorted(_NORTHERN, key=len, reverse=True))})"),
    re.compile(r"(?P<year>\d{4})-(?P<month>\d{1,2})-(?P<day>\d{1,2})"),
    re.compile(rf"(?P<day>\d{{1,2}})\s+{_MONTH}(?:\s+(?P<year>\d{{4}}))?"),
    re.compile(rf"{_MONTH}\s+(?P<day>\d{{1,2}})(?:,?\s+(?P<year>\d{{4}}))?"),
)
_HOUR = re.compile(
    r"(?P<noon>solar noon)|(?P<hour>\d{1,2}):(?P<minute>\d{2})\s*(?P<half>am|pm)?"
    r"(?:\s*(?:utc)?(?P<offset>[+-]\d{2}:?\d{2}))?"
)


@dataclass(frozen=True)
class SunTimeSpec:
    """A written time, understood but not yet set in a place.

    Attributes:
        text: as written.
        season: a solstice or equinox, or None for a calendar day.
        year, month, day: the calendar day; ``year`` is None when not written.
        clock: wall-clock time, or None for solar noon.
        offset: the UTC offset written after the clock time, or None.
        conventional: the draughtsman's light instead of a day and an hour.
    """

    text: str
    season: str | None = None
    year: int | None = None
    month: int = 1
    day: int = 1
    clock: time | None = None
    offset: timedelta | None = None
    conventional: bool = False


def read_time(text: str) -> SunTimeSpec:
    """What a written time says, before it is set in a place.

    >>> read_time("14 May 4:30 pm").clock
    datetime.time(16, 30)
    >>> read_time("summer solstice 10:00").season
    'summer solstice'

    Raises:
        ValueError: not a time; the message says which forms are allowed.
    """
    clean = " ".join(str(text).lower().replace("−", "-").split())
    if clean == CONVENTIONAL:
        return SunTimeSpec(str(text), conventional=True)
    for pattern in _DAYS:
        day = pattern.match(clean)
        if day and (hour := _HOUR.fullmatch(clean[day.end() :].strip(" ,"))):
            return SunTimeSpec(str(text), **_read_day(text, day), **_read_hour(text, hour))
    raise ValueError(f"{text!r} is not a time; allowed: {TIME_FORMS}")


def _read_day(text: str, match: re.Match[str]) -> dict:
    found = match.groupdict()
    if found.get("season"):
        return {"season": found["season"]}
    name = found["month"]
    month = int(name) if name.isdigit() else _month_number(text, name)
    year = int(found["year"]) if found["year"] else None
    try:  # a leap year when none is written, so that 29 February waits for the site's year
        date(year or 2000, month, int(found["day"]))
    except ValueError:
        raise ValueError(f"{text!r} names a day that is not in the calendar") from None
    return {"year": year, "month": month, "day": int(found["day"])}


def _month_number(text: str, name: str) -> int:
    full = [date(2000, m, 1).strftime("%B").lower() for m in range(1, 13)]
    for number, (short, long) in enumerate(zip(_MONTHS, full, strict=True), start=1):
        if name in (short, long) or (name == "sept" and short == "sep"):
            return number
    raise ValueError(f"{text!r} is not a time; {name!r} is not a month; allowed: {TIME_FORMS}")


def _read_hour(text: str, match: re.Match[str]) -> dict:
    if match["noon"]:
        return {"clock": None}
    hour, minute = int(match["hour"]), int(match["minute"])
    if match["half"]:
        if not 1 <= hour <= 12:
            raise ValueError(f"{text!r} is not a time; with am or pm the hour is 1 to 12")
        hour = hour % 12 + (12 if match["half"] == "pm" else 0)
    if hour > 23 or minute > 59:
        raise ValueError(f"{text!r} is not a time; the clock runs from 0:00 to 23:59")
    offset = None
    if match["offset"]:
        sign = -1 if match["offset"][0] == "-" else 1
        digits = match["offset"][1:].replace(":", "")
        offset = sign * timedelta(hours=int(digits[:2]), minutes=int(digits[2:]))
        if abs(offset) > timedelta(hours=14):
            raise ValueError(f"{text!r} is not a time; UTC offsets run from -14:00 to +14:00")
    return {"clock": time(hour, minute), "offset": offset}


def parse_time(
    text: str, *, latitude_deg: float, longitude_deg: float, time_zone: str, year: int
) -> datetime:
    """The instant that a written time means at a place.

    Args:
        text: such as ``summer solstice 10:00``; see :data:`TIME_FORMS`.
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
    section 3.9, by pvlib) is 0, 90, 180 or 270 degrees. Good to about a minute.

    >>> f"{season_instant('june', 2026):%d %H:%M}"
    '21 08:24'
    """
    target = _SEASON_POINTS[month]
    day_of_year = {"march": 79, "june": 172, "september": 265, "december": 355}[month]
    moment = pd.Timestamp(year=year, month=1, day=1, tz="UTC") + pd.Timedelta(days=day_of_year)
    seconds = moment.timestamp()
    for _ in range(6):  # the sun's rate is within 8 % of its mean, so each round gains a digit
        _, ascension_deg, _ = spa.solar_position(
            np.array([seconds]), 0, 0, 0, 0, 0, DELTA_T_S, 0, 1, sst=True
        )
        ahead = (float(ascension_deg[0]) - target + 180.0) % 360.0 - 180.0
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

    NREL SPA (Reda and Andreas, appendix A.2, positions by pvlib): the upper limb on a flat
    horizon, the centre at -0.8333 degree. Rise and set
    are None when the sun stays above or below the horizon all day; set may fall after midnight.
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
    sidereal, ascension, declination = spa.solar_position(
        np.array([unix_s]), 0, 0, 0, 0, 0, DELTA_T_S, 0, 1, sst=True
    )
    hour_angle = float(sidereal[0]) + longitude_deg - float(ascension[0])
    return (hour_angle + 180.0) % 360.0 - 180.0, float(declination[0])


def _meridian(unix_s: float, longitude_deg: float) -> float:
    # pvlib's own table of transits skips or repeats a day near longitude 180
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
    """When the sun crosses the meridian on a local day, to the second (NREL SPA by pvlib)."""
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
    return tzfpy.get_tz(longitude_deg, latitude_deg)

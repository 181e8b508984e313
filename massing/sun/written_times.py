"""The times of a scene, as a designer writes them: reading them, without their place.

A time is a day and an hour: ``summer solstice 10:00``, ``equinox 9:00``,
``2026-05-14 16:00``, ``14 May 4:00 pm``, ``winter solstice solar noon``, ``14 May best hour``.
Seasons are those of the site's hemisphere. The hour is what a clock in the place shows, daylight
saving included.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, time, timedelta

CONVENTIONAL = "conventional light"
BEST_HOUR = "best hour"
DUSK = "dusk"  # what an evening of pictures is labelled; no time that is written
TIME_FORMS = (
    "a day and an hour, such as summer solstice 10:00, equinox 9:00, 2026-05-14 16:00, "
    "14 May 16:00, winter solstice solar noon, 14 May best hour; or best hour, conventional light"
)

SEASONS = (
    "equinox",
    "spring equinox",
    "summer solstice",
    "autumn equinox",
    "fall equinox",
    "winter solstice",
)
_MONTHS = ("jan feb mar apr may jun jul aug sep oct nov dec").split()
_MONTH = r"(?P<month>[a-z]{3,9})\.?"
_DAYS = (
    re.compile(rf"(?P<season>{'|'.join(sorted(SEASONS, key=len, reverse=True))})"),
    re.compile(r"(?P<year>\d{4})-(?P<month>\d{1,2})-(?P<day>\d{1,2})"),
    re.compile(rf"(?P<day>\d{{1,2}})\s+{_MONTH}(?:\s+(?P<year>\d{{4}}))?"),
    re.compile(rf"{_MONTH}\s+(?P<day>\d{{1,2}})(?:,?\s+(?P<year>\d{{4}}))?"),
)
_HOUR = re.compile(
    r"(?P<noon>solar noon)|(?P<hour>\d{1,2})(?::(?P<minute>\d{2})|(?=\s*[ap]\.?m))\s*"
    r"(?:(?P<half>[ap])\.?m\.?)?"
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
        best: the hour is to be found in which the front shows best.
        any_day: and so is the day.
    """

    text: str
    season: str | None = None
    year: int | None = None
    month: int = 1
    day: int = 1
    clock: time | None = None
    offset: timedelta | None = None
    conventional: bool = False
    best: bool = False
    any_day: bool = False


def read_time(text: str) -> SunTimeSpec:
    """What a written time says, before it is set in a place.

    >>> read_time("14 May 4:30 pm").clock, read_time("14 May 10am").clock
    (datetime.time(16, 30), datetime.time(10, 0))
    >>> read_time("summer solstice 10:00").season
    'summer solstice'

    Raises:
        ValueError: not a time; the message says which forms are allowed.
    """
    clean = " ".join(str(text).lower().replace("−", "-").split())
    if clean == CONVENTIONAL:
        return SunTimeSpec(str(text), conventional=True)
    if clean == BEST_HOUR:
        return SunTimeSpec(str(text), best=True, any_day=True)
    for pattern in _DAYS:
        day = pattern.match(clean)
        if day and clean[day.end() :].strip(" ,") == BEST_HOUR:
            return SunTimeSpec(str(text), **_read_day(text, day), best=True)
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
    hour, minute = int(match["hour"]), int(match["minute"] or 0)
    if match["half"]:
        if not 1 <= hour <= 12:
            raise ValueError(f"{text!r} is not a time; with am or pm the hour is 1 to 12")
        hour = hour % 12 + (12 if match["half"] == "p" else 0)
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

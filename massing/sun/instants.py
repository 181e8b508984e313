"""Many instants at once, as numpy's times in UTC; aware datetimes at the edges."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta, tzinfo

import numpy as np
from numpy.typing import NDArray

from massing.geometry.mesh import Floats

Instants = NDArray[np.datetime64]
"""``(n,)`` in UTC, to the microsecond."""


def instants(times: Instants | Sequence[datetime]) -> Instants:
    """Aware datetimes of any zones, or instants as they are.

    >>> from zoneinfo import ZoneInfo
    >>> instants([datetime(2026, 6, 21, 10, tzinfo=ZoneInfo("America/New_York"))])
    array(['2026-06-21T14:00:00.000000'], dtype='datetime64[us]')

    Raises:
        ValueError: a time without a zone.
    """
    if isinstance(times, np.ndarray):
        return times.astype("datetime64[us]")
    for when in times:
        if when.tzinfo is None:
            raise ValueError(f"{when} has no time zone")
    plain = [when.astimezone(UTC).replace(tzinfo=None) for when in times]
    return np.array(plain, dtype="datetime64[us]")


def every(start: datetime, end: datetime, step: timedelta, with_end: bool = False) -> Instants:
    """From an aware instant to another by equal steps; the end itself only if asked.

    >>> noon = datetime(2026, 6, 21, 12, tzinfo=UTC)
    >>> len(every(noon, noon + timedelta(hours=1), timedelta(minutes=20)))
    3
    """
    first, last = instants([start, end])
    size = np.timedelta64(step)
    return np.arange(first, last + size if with_end else last, size)


def midnight(day: date, zone: tzinfo) -> datetime:
    """The start of a local day."""
    return datetime(day.year, day.month, day.day, tzinfo=zone)


def unix_s(times: Instants) -> Floats:
    """Seconds since 1970."""
    return times.astype("datetime64[us]").astype(np.int64) / 1e6


def datetimes(times: Instants, zone: tzinfo) -> list[datetime]:
    """Aware datetimes in one zone."""
    return [when.replace(tzinfo=UTC).astimezone(zone) for when in instants(times).tolist()]


def day_of_year(times: Instants) -> Floats:
    """1 for the first of January, by UTC."""
    days = times.astype("datetime64[D]")
    return (days - days.astype("datetime64[Y]")).astype(np.int64) + 1.0

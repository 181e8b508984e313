"""When trees that lose their leaves stand bare: common practice, no source."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

EVERGREEN_DEG = 28.0  # nearer to the equator there is no winter to speak of
# At a latitude, days before and after the winter solstice between which such a tree is bare.
_BARE = [(EVERGREEN_DEG, 0, 55), (35.0, 20, 85), (45.0, 45, 115), (60.0, 75, 140)]


def trees_are_bare(day: date | None, latitude_deg: float) -> bool:
    """Whether broad-leaved trees are without leaves on a day; without a day they are in leaf.

    >>> trees_are_bare(date(2026, 1, 10), 51.0), trees_are_bare(date(2026, 1, 10), -34.0)
    (True, False)
    """
    reach = abs(latitude_deg)
    if day is None or reach < EVERGREEN_DEG:
        return False
    month = 12 if latitude_deg > 0.0 else 6
    solstices = [date(day.year + i, month, 21) for i in (-1, 0)]
    since = min(((day - s).days for s in solstices), key=abs)
    last = _BARE[-1]
    for (low, *a), (high, *b) in pairwise(_BARE):
        if low <= reach < high:
            share = (reach - low) / (high - low)
            before, after = (p + share * (q - p) for p, q in zip(a, b, strict=True))
            break
    else:
        before, after = last[1], last[2]
    return bool(-before <= since <= after)

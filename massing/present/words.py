"""Names and lines of text that pictures, sheets and tables have in common."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from massing.sun.times import offset_text
from massing.sun.written_times import DUSK
from massing.units import compass_point

if TYPE_CHECKING:
    from datetime import datetime

    from massing.sun.position import SunTime

VIEW_WORDS = {
    "elevation": "Front elevation",
    "right elevation": "Right side elevation",
    "rear elevation": "Rear elevation",
    "left elevation": "Left side elevation",
    "street": "Three-quarter view from the street",
    "street left": "Three-quarter view from the street, left",
    "across the street": "View from across the street",
    "walk": "View on the axis, from the walk",
    "close-up": "Porch, capital and cornice",
    "cornice": "Cornice at the porch's corner",
    "under the porch": "View along the porch",
    "roof": "View over the roof",
    "section": "Section through the porch",
}
AS_DRAWN = "As drawn"
SMALL = ", small"  # how a first picture of a run is told, which a larger one replaces
LOOK_WORDS = {"clay": "clay model", "materials": "materials", "drawn": "ink and wash"}


def mark(index: int) -> str:
    """What a design is spoken of by, by its place: the design as drawn, then by letter.

    >>> [mark(i) for i in (0, 1, 26, 27)]
    ['As drawn', 'A', 'Z', 'AA']
    """
    place = index - 1
    return AS_DRAWN if place < 0 else chr(ord("A") + place % 26) * (place // 26 + 1)


def view_and_look(view: str, look: str) -> str:
    """What a picture shows.

    >>> view_and_look("elevation", "clay")
    'Front elevation, clay model'
    """
    return f"{VIEW_WORDS.get(view, view)}, {LOOK_WORDS.get(look, look)}"


def date_text(when: datetime) -> str:
    """Day, clock time, zone and daylight saving, as written under a picture.

    >>> from datetime import datetime
    >>> from zoneinfo import ZoneInfo
    >>> date_text(datetime(2026, 6, 21, 10, tzinfo=ZoneInfo("America/New_York")))
    '21 June 2026, 10:00 EDT (UTC-04:00, daylight saving time)'
    """
    offset = when.utcoffset()
    assert offset is not None
    name = when.tzname() or ""
    zone = f" {name}" if name.isalpha() else ""
    saving = ", daylight saving time" if when.dst() else ""
    return f"{when.day} {when:%B %Y, %H:%M}{zone} (UTC{offset_text(offset)}{saving})"


def sun_text(sun: SunTime) -> str:
    """The sun's altitude and azimuth, as seen."""
    point = compass_point(sun.azimuth_deg)
    return f"sun {sun.altitude_deg:.1f}° high, azimuth {sun.azimuth_deg:.1f}° ({point})"


def light_line(place: str, sun: SunTime) -> str:
    """Place, date, hour and sun, for the head of a sheet."""
    if sun.label == DUSK and sun.when is not None:
        return " · ".join([place, date_text(sun.when), "dusk, lamps lit: no sun"])
    if sun.when is None:
        parts = [place, "conventional light: the diagonal of a cube, from the left"]
    else:
        named = [sun.label.rsplit(" ", 1)[0]] if sun.label[:1].isalpha() else []
        season = [name for name in named if "solstice" in name or "equinox" in name]
        parts = [place, date_text(sun.when), *season, sun_text(sun)]
    if not sun.on_front:
        parts.append("no direct sun on the front")
    return " · ".join(parts)


_LONGEST_WORD = 18


def set_text(text: str) -> str:
    """Text as a typesetter has it: primes after figures, curled apostrophes, and room to break
    a word that no line would hold.

    >>> set_text("the cornice's foot, 5'-6 1/2\\"")
    'the cornice’s foot, 5′-\\u20606\\xa01/2″'
    """
    text = re.sub(r"(?<=\d)'", "′", text)
    text = re.sub(r'(?<=\d)"', "″", text)
    text = re.sub(r"(?<=[\d])-(?=\d+[″\s/])|(?<=′)-(?=\d)", "-\u2060", text)
    text = re.sub(r"(?<=\d) (?=\d+/\d+″)", "\xa0", text)
    text = re.sub(r"(?<=\d) (?=(?:mm|m|in|ft)\b)", "\xa0", text)
    text = text.replace("'", "’")
    return re.sub(rf"\S{{{_LONGEST_WORD + 1},}}", _breakable, text)


def _breakable(word: re.Match[str]) -> str:
    whole = word[0]
    return "\u200b".join(whole[i : i + 8] for i in range(0, len(whole), 8))

"""Days, lines and fields as plain values, as the desk's page has them; and back."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import lru_cache
from typing import Any
from zoneinfo import ZoneInfo

from massing.cli.desk.refusal import Refusal
from massing.design.site import SiteDesign
from massing.edit.fields import Standing
from massing.edit.handles import Handle
from massing.edit.subjects import subject
from massing.scene.lines import parse_field
from massing.sun.times import season_day

SEASONS = ("summer solstice", "equinox", "winter solstice")


def day_of(text: str) -> date:
    """A day as the page writes it.

    Raises:
        Refusal: it is none.
    """
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise Refusal(f"given {text}, allowed: a day as YYYY-MM-DD") from None


@lru_cache(maxsize=8)
def season_days(site: SiteDesign) -> dict[str, int]:
    """Days of the year, counted from none on the first of January, by the site's hemisphere."""
    zone = ZoneInfo(site.time_zone)
    days = (season_day(season, site.year, site.latitude_deg, zone) for season in SEASONS)
    return {season: day.timetuple().tm_yday - 1 for season, day in zip(SEASONS, days, strict=True)}


def line_of(handle: Handle) -> dict[str, Any]:
    """A line that can be dragged, for the page to hand back."""
    from massing.scene.explain import dotted

    return {
        "field": dotted(handle.field),
        "words": handle.words,
        "way": handle.way,
        "at_m": handle.at_m,
        "low_m": handle.low_m,
        "high_m": handle.high_m,
        "value_m": handle.value_m,
        "per_m": handle.per_m,
    }


def handle_of(line: Mapping[str, Any]) -> Handle:
    """The line again, as it was handed out.

    Raises:
        Refusal: it goes neither across nor up.
    """
    way = line["way"]
    if way not in ("x", "z"):
        raise Refusal(f"way: given {way}, allowed: x or z")
    numbers = (float(line[key]) for key in ("at_m", "low_m", "high_m", "value_m", "per_m"))
    return Handle(parse_field(str(line["field"])), str(line["words"]), way, *numbers)


def field_of(standing: Standing) -> dict[str, Any]:
    """A field with what stands in it and what may."""
    each = standing.field
    written = standing.written
    return {
        "field": each.name,
        "subject": subject(each.path),
        "label": each.label,
        "about": each.description,
        "kind": each.kind,
        "choices": [str(choice) for choice in each.choices],
        "names": list(each.names),
        "allowed": each.allowed,
        "optional": each.optional,
        "written": "" if written is None or isinstance(written, dict) else standing.shown,
        "there": standing.value is not None,
        "shown": standing.shown,
        "source": standing.source,
        "rule": standing.rule,
    }

"""The words of a board as a typesetter has them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from massing.design.design import Design
from massing.files import slug
from massing.findings.change import Change
from massing.findings.figure import Figure
from massing.findings.report import findings
from massing.present.board.subject import Subject
from massing.present.remarks import remark_text
from massing.present.words import mark, set_text
from massing.sun.position import SunTime


def row_name(figures: Sequence[Figure | None]) -> str:
    """A figure's name as the last design has it; a pier's width is said to be one's."""
    name = next(figure.name for figure in reversed(figures) if figure)
    if name.startswith("…"):  # as the long table has it, under the shadow from the corona
        name = f"Shadow {name.removeprefix('…').strip()}"
    return "Pier width" if name == "Width" else name


def named(design: Design) -> str:
    return design.name[:1].upper() + design.name[1:]


def marked(designs: Sequence[Design], design: Design) -> str:
    """A design's name after the letter that it is spoken of by; the design as drawn has none."""
    place = [each.name for each in designs].index(design.name)
    return f"{mark(place)} · {named(design)}" if place else named(design)


def sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."


def change_said(change: Change) -> dict[str, Any]:
    source = change.source[:1].upper() + change.source[1:]
    return {"text": set_text(change.text), "source": set_text(source)}


def day_words(text: str) -> str:
    """A date in words where it is written in figures, else as it is written.

    >>> day_words("2026-11-27"), day_words("Michaelmas 2026")
    ('27 November 2026', 'Michaelmas 2026')
    """
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return text
    return f"{day.day} {day:%B %Y}"


def year_month_day(subject: Subject) -> list[int]:
    sheet = subject.loaded.scene.sheet
    try:
        day = date.fromisoformat(sheet.date) if sheet and sheet.date else subject.printed_on
    except ValueError:
        day = subject.printed_on
    return [day.year, day.month, day.day]


def season_words(sun: SunTime) -> str:
    if sun.when is None or not sun.is_up:
        return "the sun is down"
    return f"{sun.when.day} {sun.when:%B}, sun {sun.altitude_deg:.0f}° high"


def cautions_of(designs: Sequence[Design]) -> list[str]:
    """Each caution once, with whose it is where it is not everybody's."""
    whose: dict[str, list[str]] = {}
    for design in designs:
        for finding in findings(design):
            if finding.severity == "caution":
                text = remark_text(finding, design.units)
                whose.setdefault(text, []).append(named(design))
    common = [text for text, names in whose.items() if len(names) == len(designs)]
    own = [f"{', '.join(n)}: {t}" for t, n in whose.items() if len(n) < len(designs)]
    return common + own


def shadow_key(sun: SunTime) -> str:
    return f"cornice_shadow_{slug(sun.label).replace('-', '_')}"

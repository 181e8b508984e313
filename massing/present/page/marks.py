"""Words and small pieces of HTML that several sections of a page have."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from massing.findings.figure import Figure
from massing.present.words import LOOK_WORDS, VIEW_WORDS, set_text
from massing.units import compass_point


def named(name: str) -> str:
    return name[:1].upper() + name[1:]


def facing(azimuth_deg: float) -> str:
    return f"{compass_point(azimuth_deg)}, {azimuth_deg:.0f}° from north"


def view_words(view: str, *, short: bool = False) -> str:
    if short:
        return named(view)
    return VIEW_WORDS.get(view, view)


def look_words(look: str) -> str:
    return LOOK_WORDS.get(look, look)


def key_of(values: Sequence[Figure | None]) -> str:
    return next((figure.key for figure in values if figure), "")


def compared_cell(cell: str, drawn: str) -> str:
    """A cell; what departs from the design as drawn stands out."""
    said = escape(set_text(cell))
    return f"<td>{said}</td>" if cell == drawn else f"<td><b>{said}</b></td>"


def radios(legend: str, name: str, options: Sequence[tuple[str, str]], chosen: str) -> str:
    labels = "".join(
        f'<label><input type="radio" name="{name}" value="{escape(value)}"'
        f"{' checked' if value == chosen else ''}><span>{escape(words)}</span></label>"
        for value, words in options
    )
    return f"<fieldset><legend>{escape(legend)}</legend>{labels}</fieldset>"

"""The sheet's border, title block and notes, alike on every sheet of a set."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from massing.practice.cautions import CAUTION
from massing.present.drawings.items import Item, Line, Symbol, Text
from massing.present.drawings.lettering import text_width_mm, wrapped
from massing.present.drawings.scales import scale_text
from massing.present.drawings.sheet import Sheet
from massing.present.sheets.paper import ScaleBar, scale_bar
from massing.units import FOOT_M, INCH_M

STRIP_MM = 66.0
EDGE_MM = 10.0
BINDING_MM = 20.0
NOTE_MM = 1.9
_LEADING = 1.75
_PAD_MM = 3.0


@dataclass(frozen=True)
class Heading:
    """What the title block says of the whole set."""

    project: str
    design: str
    place: str
    date: str
    designer: str = ""
    client: str = ""
    issue: str = ""
    front_azimuth_deg: float = 180.0


def room_mm(paper_mm: tuple[float, float]) -> tuple[float, float, float, float]:
    """Left, foot, width and height of the part of the paper that is drawn on."""
    wide, tall = paper_mm
    return (
        BINDING_MM,
        EDGE_MM,
        wide - BINDING_MM - EDGE_MM - STRIP_MM,
        tall - 2.0 * EDGE_MM,
    )


def frame(
    sheet: Sheet, heading: Heading, notes: Sequence[str], *, plan: bool = False, sheets: int = 0
) -> None:
    """Draw border, notes and title block on a sheet; a ``plan`` has a north arrow."""
    mm = sheet.mm
    wide, tall = sheet.paper_mm
    right, top = wide - EDGE_MM, tall - EDGE_MM
    left = right - STRIP_MM
    _rule(sheet, BINDING_MM, EDGE_MM, right, top)
    _line(sheet, "SHEET", (left, EDGE_MM), (left, top))
    cells = _cells(sheet, heading, sheets)
    y = EDGE_MM
    for height, caption, text, size in cells:
        y += height
        _line(sheet, "SHEET-FINE", (left, y), (right, y))
        _put(sheet, left + 2.0, y - 2.6, caption, 1.3)
        lines = wrapped(text, size, STRIP_MM - 2.0 * _PAD_MM)
        for i, line in enumerate(lines):
            _put(sheet, left + _PAD_MM, y - 3.9 - size - i * 1.5 * size, line, size)
    _line(sheet, "SHEET", (left, y), (right, y))
    for line in reversed(wrapped(CAUTION, 1.7, STRIP_MM - 2.0 * _PAD_MM)):
        y += 1.7 * _LEADING
        _put(sheet, left + _PAD_MM, y - 0.6, line, 1.7, "italic")
    y += 3.0
    _line(sheet, "SHEET-FINE", (left, y), (right, y))
    floor = y + 2.0
    if plan:
        sheet.add(
            [
                Symbol(
                    "NORTH",
                    (mm(left + STRIP_MM / 2.0), mm(floor + 13.0)),
                    "N",
                    north_turn_deg(heading.front_azimuth_deg),
                )
            ]
        )
        floor += 27.0
    _notes(sheet, notes, left + _PAD_MM, top - 5.0, floor)


def north_turn_deg(front_azimuth_deg: float) -> float:
    """How far north is turned from up, counter-clockwise, on a plan whose front looks down.

    >>> north_turn_deg(180.0), north_turn_deg(155.0)
    (0.0, 25.0)
    """
    return (180.0 - front_azimuth_deg + 180.0) % 360.0 - 180.0


def _cells(sheet: Sheet, heading: Heading, sheets: int) -> list[tuple[float, str, str, float]]:
    """Height, caption, words and their size, from the lowest cell up."""
    of = f"{sheet.number}" + (f"  of {sheets}" if sheets else "")
    scale = scale_text(sheet.scale, sheet.units)
    wide, tall = sheet.paper_mm
    cells = [
        (16.0, "sheet", of, 6.0),
        (9.5, "issue and date", "  ".join(w for w in (heading.issue, heading.date) if w), 2.4),
        (9.5, "scale on this paper", f"{scale}  ({wide:g} x {tall:g} mm)", 2.4),
    ]
    title_lines = len(wrapped(sheet.title, 3.2, STRIP_MM - 2.0 * _PAD_MM))
    cells.append((7.0 + 4.9 * title_lines, "drawing", sheet.title, 3.2))
    name_lines = len(wrapped(heading.design, 2.8, STRIP_MM - 2.0 * _PAD_MM))
    cells.append((6.0 + 4.3 * name_lines, "design", heading.design, 2.8))
    for caption, words in (("designer", heading.designer), ("client", heading.client)):
        if words:
            cells.append((9.5, caption, words, 2.4))
    cells.append((9.5, "place", heading.place, 2.4))
    lines = len(wrapped(heading.project, 3.6, STRIP_MM - 2.0 * _PAD_MM))
    cells.append((7.0 + 5.4 * lines, "project", heading.project, 3.6))
    return cells


def _notes(sheet: Sheet, notes: Sequence[str], left: float, top: float, floor: float) -> None:
    """Numbered notes from the top down, as many as there is room for."""
    if not notes:
        return
    _put(sheet, left, top - 2.4, "NOTES", 2.4)
    y = top - 2.4 - 2.2 * NOTE_MM
    step = NOTE_MM * _LEADING
    for i, note in enumerate(notes):
        lines = wrapped(note, NOTE_MM, STRIP_MM - 2.0 * _PAD_MM - 5.0)
        if y - len(lines) * step < floor + step and i < len(notes):
            left_out = len(notes) - i
            _put(sheet, left, y, f"{left_out} more: massing figures lists them.", NOTE_MM)
            return
        _put(sheet, left, y, f"{i + 1}", NOTE_MM)
        for line in lines:
            _put(sheet, left + 5.0, y, line, NOTE_MM)
            y -= step
        y -= 0.8 * NOTE_MM


def view_title(sheet: Sheet, at: tuple[float, float], name: str, longest_mm: float = 90.0) -> None:
    """A drawing's name, its scale in words and as a drawn scale, from ``at`` (metres) down."""
    mm = sheet.mm
    x, y = at
    wide = text_width_mm(name, 3.5)
    items: list[Item] = [
        Text((x, y), name, 3.5),
        Line("SHEET", np.array([[x, y - mm(1.4)], [x + mm(wide), y - mm(1.4)]])),
        Text((x, y - mm(5.6)), scale_text(sheet.scale, sheet.units), 2.4),
    ]
    bar = _scale_bar(mm(longest_mm), sheet.units)
    start, foot, high = x + mm(max(wide, 30.0) + 8.0), y - mm(2.4), mm(1.5)
    for i in range(bar.divisions):
        a, b = start + i * bar.division_m, start + (i + 1) * bar.division_m
        ring = np.array([[a, foot], [b, foot], [b, foot + high], [a, foot + high]])
        items.append(Line("SHEET-FINE", ring, True))
        if i % 2 == 0:
            middle = np.array([[a, foot + high / 2.0], [b, foot + high / 2.0]])
            items.append(Line("CUT", middle))
    for i, label in enumerate(bar.labels):
        figure, _, unit = label.partition(" ")
        at_x = start + i * bar.division_m
        items.append(Text((at_x, foot - mm(3.2)), figure, 1.9, "centre"))
        if unit:
            gap = mm(text_width_mm(figure, 1.9) / 2.0 + 1.0)
            items.append(Text((at_x + gap, foot - mm(3.2)), unit, 1.9))
    sheet.add(items)


def _scale_bar(longest_m: float, units: str) -> ScaleBar:
    """A drawn scale; in inches where feet would need decimals.

    >>> _scale_bar(0.7, "feet").labels
    ('0', '6', '12', '18', '24 in')
    """
    for inches in (12, 6, 3, 1):
        if units == "feet" and longest_m < 5.0 * FOOT_M and 4.0 * inches * INCH_M <= longest_m:
            labels = tuple(f"{inches * i}" for i in range(4))
            return ScaleBar(inches * INCH_M, 4, (*labels, f"{4 * inches} in"))
    return scale_bar(longest_m, units)


def _put(sheet: Sheet, x: float, y: float, text: str, size: float, face: str = "roman") -> None:
    if text:
        sheet.items.append(Text((sheet.mm(x), sheet.mm(y)), text, size, face=face))


def _line(sheet: Sheet, layer: str, a: tuple[float, float], b: tuple[float, float]) -> None:
    sheet.items.append(Line(layer, np.array([a, b]) * sheet.mm(1.0)))


def _rule(sheet: Sheet, x0: float, y0: float, x1: float, y1: float) -> None:
    ring = np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]]) * sheet.mm(1.0)
    sheet.items.append(Line("SHEET", ring, True))

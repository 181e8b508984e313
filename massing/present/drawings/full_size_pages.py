"""Drawings at full size, tiled over pages of common paper."""

from __future__ import annotations

import io
from collections.abc import Sequence

import numpy as np
import shapely
from reportlab.pdfgen.canvas import Canvas

from massing.geometry.mesh import Floats
from massing.practice.cautions import CAUTION
from massing.present.drawings.lettering import text_width_mm
from massing.present.drawings.marks import Mark, Stroke, Words, marks
from massing.present.drawings.pdf import draw, fonts
from massing.present.drawings.sheet import Sheet

PAGES_MM = {"A4": (210.0, 297.0), "letter": (215.9, 279.4)}
CHECK_MM = {"feet": 101.6, "metric": 100.0}  # 4 in, or 100 mm
_EDGE_MM = 12.0
_LAP_MM = 8.0
_POINT_MM = 25.4 / 72.0


def tiled_pdf(sheets: Sequence[Sheet], page: str, units: str, title: str) -> bytes:
    """All sheets at full size over pages of common paper.

    Every page has crosses where it meets its neighbours, a square to check the scale by, its
    number, and its row and column in the sheet it is a piece of.
    """
    fonts()
    wide, tall = PAGES_MM[page]
    room = np.array([wide - 2.0 * _EDGE_MM, tall - 2.0 * _EDGE_MM - 8.0])
    step = room - _LAP_MM
    buffer = io.BytesIO()
    canvas = Canvas(buffer, pageCompression=1, invariant=1)
    canvas.setTitle(title)
    canvas.setSubject(CAUTION)
    canvas.setCreator("massing")
    drawn = {sheet.number: marks(sheet) for sheet in sheets}
    tiles = [
        (sheet, row, across, counts)
        for sheet in sheets
        for counts in [
            np.maximum(1, np.ceil((np.array(sheet.paper_mm) - _LAP_MM) / step)).astype(int)
        ]
        for row in range(counts[1] - 1, -1, -1)
        for across in range(counts[0])
        if _any_in(drawn[sheet.number], np.array([across, row]) * step, room)
    ]
    for k, (sheet, row, across, counts) in enumerate(tiles):
        canvas.setPageSize((wide / _POINT_MM, tall / _POINT_MM))
        canvas.saveState()
        canvas.scale(1.0 / _POINT_MM, 1.0 / _POINT_MM)
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        canvas.saveState()
        path = canvas.beginPath()
        path.rect(_EDGE_MM, _EDGE_MM + 8.0, *room)
        canvas.clipPath(path, stroke=0, fill=0)
        low = np.array([across, row]) * step
        canvas.translate(_EDGE_MM - low[0], _EDGE_MM + 8.0 - low[1])
        draw(canvas, drawn[sheet.number])
        canvas.restoreState()
        words = (
            f"{sheet.title}: full size.  Row {counts[1] - row} of {counts[1]}, column {across + 1} "
            f"of {counts[0]}.  Page {k + 1} of {len(tiles)}"
        )
        draw(canvas, _page_marks(room, wide, tall, units, words))
        canvas.restoreState()
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def _any_in(what: Sequence[Mark], low: Floats, size: Floats) -> bool:
    """Whether a piece of the sheet has anything on it; one without is not printed."""
    window = shapely.box(*low, *(low + size))
    for mark in what:
        if isinstance(mark, Words):
            wide = text_width_mm(mark.text, mark.height_mm, mark.face)
            left = mark.at[0] - (wide if mark.anchor == "right" else 0.0)
            shapes = [shapely.box(left, mark.at[1], left + wide, mark.at[1] + mark.height_mm)]
        elif isinstance(mark, Stroke):
            shapes = [shapely.linestrings(line) for line in mark.lines]
        else:
            shapes = [mark.area]
        if any(window.intersects(shape) for shape in shapes):
            return True
    return False


def _page_marks(room: Floats, wide: float, tall: float, units: str, words: str) -> list[Mark]:
    """Register crosses in the laps, the check square, and the page's words."""
    low = np.array([_EDGE_MM, _EDGE_MM + 8.0])
    half = _LAP_MM / 2.0
    crosses = []
    for x in (low[0] + half, low[0] + room[0] - half):
        for y in (low[1] + half, low[1] + room[1] - half):
            crosses += [
                np.array([[x - 3.0, y], [x + 3.0, y]]),
                np.array([[x, y - 3.0], [x, y + 3.0]]),
            ]
    side = CHECK_MM[units]
    corner = np.array([(wide - side) / 2.0, low[1] + (room[1] - side) / 2.0])
    ticks = []
    for dx in (0.0, 1.0):
        for dy in (0.0, 1.0):
            at = corner + side * np.array([dx, dy])
            inward = np.array([1.0 - 2.0 * dx, 1.0 - 2.0 * dy]) * 5.0
            ticks.append(np.array([at + [inward[0], 0.0], at, at + [0.0, inward[1]]]))
    said = "4 in" if units == "feet" else "100 mm"
    check = f"The four corner marks are {said} apart: measure them before use."
    return [
        Stroke("SHEET-FINE", crosses),
        Stroke("MATERIAL", ticks, pen_mm=0.13),
        Words("TEXT", (_EDGE_MM, _EDGE_MM + 3.4), words, 2.2, "left", 0.0),
        Words("TEXT", (wide - _EDGE_MM, _EDGE_MM + 3.4), check, 1.7, "right", 0.0, "italic"),
        Words("TEXT", (_EDGE_MM, _EDGE_MM - 0.2), CAUTION, 1.5, "left", 0.0, "italic"),
    ]

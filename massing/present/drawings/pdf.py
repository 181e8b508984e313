"""Sheets as PDF at true scale: one page a sheet, vectors and embedded type."""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from pathlib import Path

import shapely
from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from massing.geometry.mesh import Floats
from massing.present.drawings.items import LAYERS
from massing.present.drawings.lettering import em_mm
from massing.present.drawings.marks import Area, Mark, Stroke, Words, ink, marks
from massing.present.drawings.sheet import Sheet
from massing.present.sheets.paper import font

rl_config.useA85 = 0  # streams as bytes, not as text a quarter longer that takes a while to make
_POINT_MM = 25.4 / 72.0
_FACES = {"roman": "SheetRoman", "italic": "SheetItalic"}


def pdf(sheets: Iterable[Sheet], *, title: str, subject: str, author: str = "") -> bytes:
    """The sheets as one file.

    Args:
        title, subject, author: kept in the file's properties.
    """
    fonts()
    buffer = io.BytesIO()
    canvas = Canvas(buffer, pageCompression=1, invariant=1)
    canvas.setTitle(title)
    canvas.setSubject(subject)
    canvas.setAuthor(author)
    canvas.setCreator("massing")
    for sheet in sheets:
        page(canvas, marks(sheet), sheet.paper_mm, f"{sheet.number} {sheet.title}")
    canvas.save()
    return buffer.getvalue()


def fonts() -> None:
    """Make the sheets' type known to the library."""
    for face, name in _FACES.items():
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, str(Path(str(font(face, 12).path)))))


def page(canvas: Canvas, what: Sequence[Mark], paper_mm: tuple[float, float], name: str) -> None:
    """One page of marks in millimetres."""
    canvas.setPageSize((paper_mm[0] / _POINT_MM, paper_mm[1] / _POINT_MM))
    canvas.bookmarkPage(name)
    canvas.addOutlineEntry(name, name, 0)
    canvas.saveState()
    canvas.scale(1.0 / _POINT_MM, 1.0 / _POINT_MM)
    canvas.setLineCap(1)
    canvas.setLineJoin(1)
    draw(canvas, what)
    canvas.restoreState()
    canvas.showPage()


def draw(canvas: Canvas, what: Sequence[Mark]) -> None:
    """Marks on a canvas whose unit is the millimetre."""
    for mark in what:
        if isinstance(mark, Area):
            _fill(canvas, mark)
        elif isinstance(mark, Stroke):
            _stroke(canvas, mark)
        else:
            _write(canvas, mark)


def _fill(canvas: Canvas, mark: Area) -> None:
    canvas.setFillGray(ink(mark.layer))
    path = canvas.beginPath()
    for polygon in mark.area.geoms:
        for ring in (polygon.exterior, *polygon.interiors):
            _run(path, shapely.get_coordinates(ring)[:-1])
            path.close()
    canvas.drawPath(path, stroke=0, fill=1, fillMode=0)


def _stroke(canvas: Canvas, mark: Stroke) -> None:
    layer = LAYERS[mark.layer]
    canvas.setStrokeGray(layer.ink)
    canvas.setLineWidth(mark.pen_mm or layer.pen_mm)
    canvas.setDash(*([list(layer.dashes_mm)] if layer.dashes_mm else []))
    path = canvas.beginPath()
    for line in mark.lines:
        _run(path, line)
        if mark.closed:
            path.close()
    canvas.drawPath(path, stroke=1, fill=0)


def _run(path: object, points: Floats) -> None:
    rest = iter(points.tolist())
    x, y = next(rest)
    path.moveTo(x, y)  # type: ignore[attr-defined]
    for x, y in rest:
        path.lineTo(x, y)  # type: ignore[attr-defined]


def _write(canvas: Canvas, mark: Words) -> None:
    canvas.saveState()
    canvas.translate(*mark.at)
    if mark.turn_deg:
        canvas.rotate(mark.turn_deg)
    canvas.setFillGray(ink(mark.layer))
    canvas.setFont(_FACES[mark.face], em_mm(mark.height_mm))
    draw = {
        "left": canvas.drawString,
        "centre": canvas.drawCentredString,
        "right": canvas.drawRightString,
    }
    draw[mark.anchor](0.0, 0.0, mark.text)
    canvas.restoreState()

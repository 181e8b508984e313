"""A sheet as DXF R2018: the drawing at the building's own size, and the paper it is set on.

Model space holds everything at full size in inches or millimetres, the frame with it; the
layout shows all of it through one window at the sheet's scale, on paper of the true size.
Dimensions are live: their figures are what they measure, written in the drawing's units.
"""

from __future__ import annotations

import io

import ezdxf
import numpy as np
import shapely
from ezdxf import units as dxf_units
from ezdxf.document import Drawing
from ezdxf.entities import Hatch as DxfHatch
from ezdxf.layouts import Modelspace
from shapely.geometry import MultiPolygon

from massing.present.drawings.items import (
    LAYERS,
    SYMBOLS,
    Arc,
    Dimension,
    Fill,
    Hatch,
    Item,
    Line,
    Spline,
    Symbol,
    Text,
    hatch_lines,
)
from massing.present.drawings.lettering import text_width_mm
from massing.present.drawings.marks import BEYOND_MM, GAP_MM, OVER_MM, TICK_MM, words_place
from massing.present.drawings.scales import UNIT_M
from massing.present.drawings.sheet import Sheet
from massing.view.regions import as_multipolygon

_STYLE = {"roman": "ROMAN", "italic": "ITALIC"}
_ALIGN = {"left": 0, "centre": 1, "right": 2}
_DIMENSIONS = "SHEET"
_KNOWN, _KNOWN_DEG = "ANSI31", 45.0  # a pattern's name in DXF, and how its lines lie


def dxf(sheet: Sheet, *, comment: str = "", step_m: float = 0.001) -> str:
    """The sheet as the text of a DXF file.

    Args:
        comment: kept in the file's head.
        step_m: the builder's fraction, in which live dimensions are written.
    """
    document = _document(sheet, step_m)
    space = document.modelspace()
    for item in sheet.items:
        _put(item, space, sheet)
    _layout(document, sheet)
    if comment:
        document.header.custom_vars.append("Caution", comment)
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue()


def _document(sheet: Sheet, step_m: float) -> Drawing:
    """A sheet as a drawing in its own units: layers, lettering, and each item at full size."""
    document = ezdxf.new("R2018", setup=False)
    feet = sheet.units == "feet"
    document.units = dxf_units.IN if feet else dxf_units.MM
    digits = max(0, round(np.log2(0.0254 / step_m))) if feet else 0
    header = document.header
    header["$MEASUREMENT"] = 0 if feet else 1
    header["$LUNITS"] = 4 if feet else 2
    header["$LUPREC"] = digits
    header["$LTSCALE"] = 1.0
    mm = sheet.mm(1.0) / UNIT_M[sheet.units]
    for face, file in (("ROMAN", "times.ttf"), ("ITALIC", "timesi.ttf")):
        document.styles.add(face, font=file)
    _add_layers(document, mm)
    _add_dimension_style(document, mm, feet=feet, digits=digits)
    _add_symbols(document)
    return document


def _add_layers(document: Drawing, mm: float) -> None:
    """Every layer with its pen, dashes as long on paper as they are drawn by hand."""
    for layer in LAYERS.values():
        linetype = "Continuous"
        if layer.dashes_mm:
            linetype = layer.name
            dashes = [d * mm * (-1.0 if i % 2 else 1.0) for i, d in enumerate(layer.dashes_mm)]
            document.linetypes.add(layer.name, [sum(map(abs, dashes)), *dashes])
        document.layers.add(
            layer.name,
            color=layer.colour,
            linetype=linetype,
            lineweight=round(100.0 * layer.pen_mm),
        )


def _add_dimension_style(document: Drawing, mm: float, *, feet: bool, digits: int) -> None:
    """How sizes are written, here and by whoever draws further in the file."""
    style, header = document.dimstyles.new(_DIMENSIONS), document.header
    values = {
        "dimtxt": 2.1 * mm,
        "dimtsz": TICK_MM * mm,
        "dimasz": TICK_MM * mm,
        "dimexo": GAP_MM * mm,
        "dimexe": BEYOND_MM * mm,
        "dimgap": OVER_MM * mm,
        "dimdle": 0.0,
        "dimtad": 1,
        "dimtih": 0,
        "dimtoh": 0,
        "dimlunit": 4 if feet else 2,
        "dimdec": digits,
        "dimzin": 3 if feet else 8,
        "dimfrac": 2,
        "dimrnd": 0.0,
        "dimscale": 1.0,
        "dimtxsty": "ROMAN",
        "dimclrd": 256,
        "dimclre": 256,
        "dimclrt": 256,
    }
    for name, value in values.items():
        style.dxf.set(name, value)
        key = f"${name.upper()}"
        if key in header:
            header[key] = value
    header["$DIMSTYLE"] = _DIMENSIONS


def _add_symbols(document: Drawing) -> None:
    """Each sign as a block with its words."""
    for name, sign in SYMBOLS.items():
        block = document.blocks.new(name)
        attributes = {"layer": sign.layer}
        for x, y, r in sign.circles:
            block.add_circle((x, y), r, dxfattribs=attributes)
        for line in sign.lines:
            block.add_lwpolyline(line, dxfattribs=attributes)
        for ring in sign.filled:
            hatch = block.add_hatch(dxfattribs=attributes)
            hatch.paths.add_polyline_path(ring, is_closed=True)
        written = {"style": "ROMAN"}
        block.add_attdef("WORDS", sign.words_at, height=sign.words_mm, dxfattribs=written)


def _layout(document: Drawing, sheet: Sheet) -> None:
    wide, tall = sheet.paper_mm
    layout = document.paperspace("Layout1")
    document.layouts.rename("Layout1", sheet.number)
    layout.page_setup(size=(wide, tall), margins=(0, 0, 0, 0), units="mm")
    unit = UNIT_M[sheet.units]
    whole = np.array(sheet.size_m) / unit
    layout.add_viewport(
        center=(wide / 2.0, tall / 2.0),
        size=(wide, tall),
        view_center_point=tuple(whole / 2.0),
        view_height=float(whole[1]),
        dxfattribs={"layer": "SHEET-FINE"},
    )
    document.set_modelspace_vport(height=float(whole[1]) * 1.05, center=tuple(whole / 2.0))
    document.header["$EXTMIN"] = (0.0, 0.0, 0.0)
    document.header["$EXTMAX"] = (float(whole[0]), float(whole[1]), 0.0)


def _put(item: Item, space: Modelspace, sheet: Sheet) -> None:
    unit = UNIT_M[sheet.units]
    mm = sheet.mm(1.0) / unit
    if isinstance(item, Line):
        points = (item.points / unit).tolist()
        attributes = {"layer": item.layer}
        if len(points) == 2 and not item.closed:
            space.add_line(points[0], points[1], dxfattribs=attributes)
        else:
            space.add_lwpolyline(points, close=item.closed, dxfattribs=attributes)
    elif isinstance(item, Arc):
        centre = np.array(item.centre) / unit
        attributes = {"layer": item.layer}
        if item.end_deg - item.start_deg >= 360.0:
            space.add_circle(centre, item.radius_m / unit, dxfattribs=attributes)
        else:
            space.add_arc(
                centre, item.radius_m / unit, item.start_deg, item.end_deg, dxfattribs=attributes
            )
    elif isinstance(item, Spline):
        points = np.column_stack([item.points / unit, np.zeros(len(item.points))])
        space.add_cad_spline_control_frame(points, dxfattribs={"layer": item.layer})
    elif isinstance(item, (Fill, Hatch)):
        _hatch(item, space, unit)
    elif isinstance(item, Text):
        _text(item, space, unit, mm)
    elif isinstance(item, Symbol):
        _symbol(item, space, unit, mm)
    else:
        _dimension(item, space, unit, mm)


def _hatch(item: Fill | Hatch, space: Modelspace, unit: float) -> None:
    if isinstance(item, Hatch) and item.sets != ((_KNOWN_DEG, item.sets[0][1]),):
        for start, end in (hatch_lines(item) / unit).tolist():
            space.add_line(start, end, dxfattribs={"layer": item.layer})
        return
    area: MultiPolygon = item.area
    if isinstance(item, Fill):
        area = without_holes(area)
    for polygon in area.geoms:
        hatch = space.add_hatch(dxfattribs={"layer": item.layer})
        if isinstance(item, Fill):
            hatch.set_solid_fill(color=256)
        else:
            _lined(hatch, item.sets[0][1] / unit)
        rings = [polygon.exterior, *polygon.interiors]
        for i, ring in enumerate(rings):
            points = (shapely.get_coordinates(ring)[:-1] / unit).tolist()
            hatch.paths.add_polyline_path(points, is_closed=True, flags=1 if i == 0 else 16)


def without_holes(area: MultiPolygon) -> MultiPolygon:
    """The same area in pieces that have a border each and no hole, cut upright through holes.

    Some programs join the borders of one filled area to one another and fill the wedges between.
    """
    left = list(area.geoms)
    made: list[shapely.Polygon] = []
    while left:
        polygon = left.pop()
        if not polygon.interiors:
            made.append(polygon)
            continue
        holes = sorted(sum(ring.bounds[::2]) / 2.0 for ring in polygon.interiors)
        cut, (low, foot, high, top) = holes[len(holes) // 2], polygon.bounds
        for half in (shapely.box(low, foot, cut, top), shapely.box(cut, foot, high, top)):
            left += as_multipolygon(polygon.intersection(half)).geoms
    return MultiPolygon(made)


def _lined(hatch: DxfHatch, distance: float) -> None:
    """Give a hatch single lines at 45 degrees.

    A program that keeps to the file draws the lines given here. One that only looks patterns up
    by their names finds such lines under the name that is most widely known, sqrt(2) units apart,
    where it would leave out a hatch of a name of ours; such a program may also misread the angle
    of a pattern, for which reason lines that lie otherwise are written line by line.
    """
    lines = [[_KNOWN_DEG, (0.0, 0.0), (-1.0, 1.0), []]]
    scale = float(distance / np.sqrt(2.0))
    hatch.set_pattern_fill(_KNOWN, color=256, scale=scale, pattern_type=2, definition=lines)


def _text(item: Text, space: Modelspace, unit: float, mm: float) -> None:
    at = (item.at[0] / unit, item.at[1] / unit)
    text = space.add_text(
        item.text,
        height=item.height_mm * mm,
        rotation=item.turn_deg,
        dxfattribs={"layer": item.layer, "style": _STYLE[item.face], "insert": at},
    )
    if item.anchor != "left":
        text.dxf.halign = _ALIGN[item.anchor]
        text.dxf.align_point = at


def _symbol(item: Symbol, space: Modelspace, unit: float, mm: float) -> None:
    sign = SYMBOLS[item.name]
    at = np.array(item.at) / unit
    insert = space.add_blockref(
        item.name,
        tuple(at),
        dxfattribs={
            "layer": sign.layer,
            "xscale": mm,
            "yscale": mm,
            "zscale": mm,
            "rotation": item.turn_deg,
        },
    )
    if item.words:
        where = tuple(at + words_place(sign, item.turn_deg) * mm)
        words = insert.add_attrib(
            "WORDS",
            item.words,
            insert=where,
            dxfattribs={"height": sign.words_mm * mm, "style": "ROMAN", "layer": "TEXT"},
        )
        if sign.anchor == "centre":
            words.dxf.halign = 1
            words.dxf.align_point = where


def _dimension(item: Dimension, space: Modelspace, unit: float, mm: float) -> None:
    a, b = np.array(item.a) / unit, np.array(item.b) / unit
    foot = item.feet[0] / unit
    override = {"dimtxt": item.text_mm * mm} if item.text_mm != 2.1 else None
    made = space.add_linear_dim(
        base=tuple(foot),
        p1=tuple(a),
        p2=tuple(b),
        angle=90.0 if item.upright else 0.0,
        text=item.text,
        dimstyle=_DIMENSIONS,
        override=override,
        text_rotation=0.0 if item.aside else None,
        dxfattribs={"layer": item.layer},
    )
    if item.text_at is not None:
        at = np.array(item.text_at) / unit
        if item.aside:
            at = at + [0.5 * text_width_mm(item.text, item.text_mm) * mm, 0.5 * item.text_mm * mm]
        made.set_location(tuple(at), leader=item.aside)
    made.render()
    made.dimension.dxf.text = "<>"  # live: rewritten from what it measures

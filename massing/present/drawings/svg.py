"""A sheet as SVG in millimetres, a group to each layer."""

from __future__ import annotations

from html import escape
from itertools import groupby

import shapely

from massing.geometry.mesh import Floats
from massing.present.drawings.items import LAYERS
from massing.present.drawings.lettering import em_mm, text_width_mm
from massing.present.drawings.marks import Area, Mark, Stroke, marks
from massing.present.drawings.sheet import Sheet

_ANCHORS = {"left": "start", "centre": "middle", "right": "end"}


def svg(sheet: Sheet, *, title: str, description: str) -> str:
    """The sheet as one file at its true size."""
    wide, tall = sheet.paper_mm
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:g}mm" height="{tall:g}mm" '
        f'viewBox="0 0 {wide:g} {tall:g}">',
        f"<title>{escape(title)}</title>",
        f"<desc>{escape(description)}</desc>",
        f'<rect width="{wide:g}" height="{tall:g}" fill="white"/>',
    ]
    for layer, group in groupby(marks(sheet), key=lambda m: m.layer):
        parts.append(f'<g class="{layer}">')
        parts += [_of(mark, tall) for mark in group]
        parts.append("</g>")
    return "\n".join([*parts, "</svg>"]) + "\n"


def _of(mark: Mark, tall: float) -> str:
    layer = LAYERS[mark.layer]
    grey = f"#{round(255 * layer.ink):02x}" + 2 * f"{round(255 * layer.ink):02x}"
    if isinstance(mark, Area):
        rings = [
            _path(shapely.get_coordinates(ring)[:-1], tall) + "Z"
            for polygon in mark.area.geoms
            for ring in (polygon.exterior, *polygon.interiors)
        ]
        return f'<path d="{"".join(rings)}" fill="{grey}" fill-rule="evenodd"/>'
    if isinstance(mark, Stroke):
        close = "Z" if mark.closed else ""
        path = "".join(_path(line, tall) + close for line in mark.lines)
        dashes = " ".join(f"{d:g}" for d in layer.dashes_mm)
        dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
        return (
            f'<path d="{path}" fill="none" stroke="{grey}" stroke-linecap="round" '
            f'stroke-linejoin="round" stroke-width="{mark.pen_mm or layer.pen_mm:g}"{dashed}/>'
        )
    x, y = mark.at[0], tall - mark.at[1]
    turned = f' transform="rotate({-mark.turn_deg:g} {x:.3f} {y:.3f})"' if mark.turn_deg else ""
    slant = ' font-style="italic"' if mark.face == "italic" else ""
    width = text_width_mm(mark.text, mark.height_mm, mark.face)
    return (
        f'<text x="{x:.3f}" y="{y:.3f}" font-family="STIX Two Text, STIXGeneral, Times New Roman, '
        f'serif" font-size="{em_mm(mark.height_mm):.3f}" text-anchor="{_ANCHORS[mark.anchor]}" '
        f'textLength="{width:.2f}" lengthAdjust="spacingAndGlyphs" fill="{grey}"'
        f"{slant}{turned}>{escape(mark.text)}</text>"
    )


def _path(points: Floats, tall: float) -> str:
    return "M" + "L".join(f"{x:.3f} {tall - y:.3f}" for x, y in points.tolist())

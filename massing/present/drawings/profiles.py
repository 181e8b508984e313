"""Mouldings at full size: for knives, templates and patterns.

Each group of members is one drawing at 1:1, as DXF with arcs as arcs, and tiled over pages of
common paper with marks to join them by and a square to check the printer's scale with.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import numpy as np
import shapely
from reportlab.pdfgen.canvas import Canvas

from massing.canon import Member, balustrade_table
from massing.canon.mouldings import stack
from massing.canon.tables import scaled
from massing.design.design import Design
from massing.design.porch import BalustradeDesign
from massing.files import slug, write_whole
from massing.geometry.mesh import Floats
from massing.parts.orders.column import column, shaft_profile
from massing.parts.orders.ornament import volute_line
from massing.parts.part import Model
from massing.practice.cautions import CAUTION
from massing.present.drawings.arcs import arc_through, profile_items
from massing.present.drawings.cuts import cap_area
from massing.present.drawings.dxf import dxf
from massing.present.drawings.heights import figures_of, order_of, spread
from massing.present.drawings.items import Arc, Item, Line, Text
from massing.present.drawings.lettering import Figures, text_width_mm
from massing.present.drawings.marks import Mark, Stroke, Words, marks
from massing.present.drawings.pdf import draw, fonts
from massing.present.drawings.sheet import Sheet
from massing.view.hidden_lines import PLAN
from massing.view.section import CUT_ROLE, cut_model

PAGES_MM = {"A4": (210.0, 297.0), "letter": (215.9, 279.4)}
CHECK_MM = {"feet": 101.6, "metric": 100.0}  # 4 in, or 100 mm
STATIONS = 12
_EDGE_MM = 12.0
_LAP_MM = 8.0
_BACK_M = 0.025  # the back line behind the innermost point
_TABLE_MM = 92.0
_POINT_MM = 25.4 / 72.0
_ARC_STEPS = 24


@dataclass(frozen=True)
class Profile:
    """A drawing at full size: its name, what it says beside, and its items in metres."""

    name: str
    items: list[Item]


def profiles(design: Design) -> list[Profile]:
    """Every moulding of a design's porch, house cornice and balustrades."""
    figures, order = figures_of(design), order_of(design)
    axis, frieze = "the column's axis", "the frieze's face"
    groups: list[tuple[str, Sequence[Member], str]] = [
        ("Pedestal", _shortened(order.pedestal), axis),
        ("Base", (*order.base, *order.shaft_foot), axis),
        ("Capital", (*order.shaft_head, *order.capital), axis),
        ("Architrave", order.architrave, frieze),
        ("Cornice", order.cornice, frieze),
    ]
    if not design.house.cornice_continues_porch:
        groups.append(("House cornice", design.house.cornice.members, "the wall's face"))
    made = [_profile(*g, figures) for g in groups if g[1]]
    rails = {
        "over the entablature": design.porch.highest.balustrade,
        "between the columns": design.porch.guard,
    }
    for where, rail in rails.items():
        if rail is not None:
            made += _of_balustrade(where, rail, figures)
    if order.diameter_m != order.upper_diameter_m:
        made.append(_entasis(design, figures))
    if order.flutes:
        made.append(_flute(design, figures))
    if order.capital_kind == "ionic":
        made.append(_volute(design, figures))
    return made


def _shortened(members: Sequence[Member]) -> tuple[Member, ...]:
    """A pedestal's mouldings; its die, a plain face, is left out of a template."""
    return tuple(m for m in members if m.name != "die")


def _of_balustrade(where: str, rail: BalustradeDesign, figures: Figures) -> list[Profile]:
    table = balustrade_table("vase")
    beyond = "the body's face"
    base = [scaled(m, rail.plinth_m, rail.plinth_m) for m in table.base]
    cap = [scaled(m, rail.rail_m, rail.rail_m) for m in table.rail]
    made = [
        _profile(f"Plinth course {where}", base, beyond, figures),
        _profile(f"Rail {where}", cap, beyond, figures),
    ]
    if rail.filling == "balusters":
        out = rail.belly_m / table.belly
        members = [scaled(m, rail.baluster_m, out) for m in table.baluster]
        made.append(
            _profile(f"Baluster {where}", members, "the baluster's axis", figures, whole=True)
        )
    return made


def _profile(
    name: str, members: Sequence[Member], zero: str, figures: Figures, whole: bool = False
) -> Profile:
    """Members' edge with a back line, heights, reaches and stock; ``whole`` from the axis on."""
    items = profile_items(members)
    edge = stack(members, steps=24)
    inner, outer = float(edge[:, 0].min()), float(edge[:, 0].max())
    top = sum(m.height for m in members)
    written = figures.half if zero.endswith("column's axis") else figures.text
    back = 0.0 if whole else max(0.0, inner - _BACK_M) if zero.endswith("axis") else inner - _BACK_M
    ends = np.array([[edge[0, 0], 0.0], [back, 0.0], [back, top], [edge[-1, 0], top]])
    items.append(Line("EDGE", ends))
    if whole:
        items.append(Line("CENTRE", np.array([[0.0, -0.01], [0.0, top + 0.01]])))
    mm = 0.001
    x = outer + 8.0 * mm
    edges = np.concatenate([[0.0], np.cumsum([m.height for m in members])])
    middles = [(a + b) / 2.0 for a, b in pairwise(edges)]
    places = spread(middles, 4.2 * mm)
    for z in edges:
        items.append(Line("DIMENSIONS", np.array([[x, z], [x + 3.0 * mm, z]])))
    items.append(Line("DIMENSIONS", np.array([[x + 1.5 * mm, 0.0], [x + 1.5 * mm, top]])))
    for member, middle, place, low, high in zip(
        members, middles, places, edges[:-1], edges[1:], strict=True
    ):
        items.append(Line("DIMENSIONS", np.array([[x + 3.0 * mm, middle], [x + 7.0 * mm, place]])))
        cells = (
            (9.0, figures.text(figures.on_step(high) - figures.on_step(low))),
            (28.0, f"out {written(member.reach)}"),
            (56.0, member.name),
        )
        for dx, cell in cells:
            items.append(Text((x + dx * mm, place - 0.9 * mm), cell, 2.2))
    y = max(top, places[-1] + 2.0 * mm) + 6.0 * mm
    deep = outer - (0.0 if whole else inner)
    stock = f"Stock at the least {figures.text(top)} by {figures.text(deep)}, and what holds it."
    head = [f"{name}: full size", f"Reaches from {zero}. {stock}"]
    if not whole and zero.endswith("axis"):
        head.append(f"The back line stands {figures.text(back)} from the axis.")
    for i, line in enumerate(reversed(head)):
        size = 3.0 if i == len(head) - 1 else 2.0
        items.append(Text((back, y + i * 5.0 * mm), line, size))
    return Profile(name, items)


def entasis_table(design: Design) -> list[tuple[float, float]]:
    """Heights over the shaft's foot and diameters there, at equal stations, metres."""
    order = order_of(design)
    profile = shaft_profile(order)
    head = sum(m.height for m in order.shaft_head)
    foot = sum(m.height for m in order.shaft_foot)
    heights = np.linspace(foot, order.shaft_height_m - head, STATIONS + 1)
    radii = np.interp(heights, profile[:, 1], profile[:, 0])
    return [(float(z), 2.0 * float(r)) for z, r in zip(heights, radii, strict=True)]


def _entasis(design: Design, figures: Figures) -> Profile:
    """The shaft's edge lying down at full size, with its diameters at stations."""
    order = order_of(design)
    edge = shaft_profile(order)
    stations = entasis_table(design)
    base = order.upper_diameter_m / 2.0 - 0.04
    curve = edge[(edge[:, 1] >= stations[0][0] - 1e-9) & (edge[:, 1] <= stations[-1][0] + 1e-9)]
    line = np.column_stack([curve[:, 1], curve[:, 0] - base])
    items: list[Item] = [Line("PROFILE", line)]
    long = np.array([[stations[0][0], 0.0], [stations[-1][0], 0.0]])
    items.append(Line("EDGE", long))
    for i, (z, diameter) in enumerate(stations):
        items.append(Line("EDGE", np.array([[z, 0.0], [z, diameter / 2.0 - base]])))
        label = f"{i}: {figures.text(z)} up, {figures.text(diameter)} across"
        side = -1.0 if i == len(stations) - 1 else 1.0
        anchor = "right" if side < 0 else "left"
        items.append(Text((z + side * 0.002, 0.004), label, 2.4, anchor))
    words = (
        "Entasis: full size, the shaft lying down, foot at the left",
        f"The straight edge stands {figures.text(base)} from the axis; entasis: {order.entasis}.",
        f"Measured at {STATIONS} equal stations over the mouldings at the foot.",
    )
    top = order.diameter_m / 2.0 - base
    for i, text in enumerate(reversed(words)):
        items.append(Text((stations[0][0], top + 0.006 + 0.005 * i), text, 3.0 if i == 2 else 2.2))
    return Profile("Entasis template", items)


def _flute(design: Design, figures: Figures) -> Profile:
    """A quarter of the fluted shaft's plan just over its foot."""
    order = order_of(design)
    shaft = next(p for p in column(order) if p.name == "column/shaft")
    low, high = shaft.mesh.bounds[:, 2]
    at = float(low + 0.2 * (high - low))
    cut = cut_model(Model((shaft,)), PLAN.forward, -at)
    area = cap_area(next(p for p in cut.parts if p.role == CUT_ROLE), PLAN)
    reach = order.diameter_m
    quarter = shapely.intersection(area.boundary, shapely.box(0.0, 0.0, reach, reach))
    lines = [shapely.get_coordinates(p) for p in shapely.get_parts(shapely.line_merge(quarter))]
    items: list[Item] = [Line("PROFILE", line) for line in lines if len(line) > 1]
    r = order.diameter_m / 2.0
    items += [
        Line("CENTRE", np.array([[0.0, 0.0], [r + 0.01, 0.0]])),
        Line("CENTRE", np.array([[0.0, 0.0], [0.0, r + 0.01]])),
        Text((0.0, r + 0.022), "Flutes: full size, a quarter of the plan", 3.0),
        Text(
            (0.0, r + 0.016),
            f"{order.flutes} flutes, {order.flute_kind}; cut {figures.text(at - low)} over the "
            "shaft's foot.",
            2.2,
        ),
    ]
    return Profile("Flute template", items)


def _volute(design: Design, figures: Figures) -> Profile:
    """The two lines of the volute's fillet, quarter circle by quarter circle, its eye at 0."""
    order = order_of(design)
    channel, rim = order.capital[1], order.capital[2]
    eye = (channel.height + rim.height) / 4.0
    items: list[Item] = []
    for second in (False, True):
        line = volute_line(eye, second, _ARC_STEPS)
        for i in range(12):
            # a quarter's last point is the next one's first, on both circles
            piece = line[_ARC_STEPS * i : _ARC_STEPS * (i + 1) + 1]
            items.append(arc_through(piece, "PROFILE") or Line("PROFILE", piece))
    items.append(Arc("EDGE", (0.0, 0.0), eye))
    left, top = -8.0 * eye, 9.0 * eye
    items += [
        Text((left, top + 0.012), "Volute: full size", 3.0),
        Text((left, top + 0.006), f"The eye's radius is {figures.text(eye)}.", 2.2),
    ]
    return Profile("Volute template", items)


# --- sheets and pages ----------------------------------------------------------------------


def profile_sheet(profile: Profile, number: str, units: str) -> Sheet:
    """A profile on one sheet just as large as it needs, at full size."""
    low, high = extent(profile.items)
    margin = 0.015
    size = (high - low + 2.0 * margin) * 1000.0
    sheet = Sheet(
        number,
        slug(profile.name),
        profile.name,
        (float(np.ceil(size[0])), float(np.ceil(size[1] + 8.0))),
        1.0,
        units,
    )
    at = margin - low + [0.0, 0.008]
    sheet.add(profile.items, at)
    sheet.items.append(Text((0.005, 0.004), CAUTION, 1.6, face="italic"))
    return sheet


def extent(items: Sequence[Item]) -> tuple[Floats, Floats]:
    """Lowest and highest corner of items, words and all."""
    points = []
    for item in items:
        if isinstance(item, Text):
            wide = text_width_mm(item.text, item.height_mm) / 1000.0
            start = item.at[0] - (wide if item.anchor == "right" else 0.0)
            points.append([[start, item.at[1]], [start + wide, item.at[1] + 0.003]])
        else:
            points.append(np.asarray(item.points).tolist())  # type: ignore[union-attr]
    joined = np.array([p for group in points for p in group])
    return joined.min(axis=0), joined.max(axis=0)


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


def write_profiles(design: Design, folder: Path, page: str) -> list[Path]:
    """Each profile as DXF, all as one tiled PDF and as one of long sheets; the files' paths."""
    from massing.present.drawings.pdf import pdf

    sheets = [
        profile_sheet(profile, str(i + 1), design.units)
        for i, profile in enumerate(profiles(design))
    ]
    made = []
    for sheet in sheets:
        made.append(folder / f"{int(sheet.number):02d}-{sheet.name}.dxf")
        write_whole(made[-1], dxf(sheet, comment=CAUTION, step_m=design.rounding_m))
    title = f"{design.name}: profiles at full size"
    made.append(folder / f"profiles-{page.lower()}.pdf")
    write_whole(made[-1], tiled_pdf(sheets, page, design.units, title))
    made.append(folder / "profiles-long-sheets.pdf")
    write_whole(made[-1], pdf(sheets, title=title, subject=CAUTION))
    return made

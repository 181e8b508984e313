"""Mouldings at full size: for knives, templates and patterns.

Each group of members is one drawing at 1:1, as DXF with arcs as arcs, and tiled over pages of
common paper with marks to join them by and a square to check the printer's scale with.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import numpy as np
import shapely

from massing.canon import FittedOrder, Member, balustrade_table, rounded
from massing.canon.arcades import impost_members
from massing.canon.mouldings import stack
from massing.canon.tables import scaled
from massing.design.design import Design
from massing.design.opening import DoorOpening, Opening
from massing.design.porch import BalustradeDesign
from massing.files import slug, write_whole
from massing.geometry.mesh import Floats
from massing.parts.openings.joinery import casing_section
from massing.parts.orders.column import column, shaft_profile
from massing.parts.orders.ornament import volute_line
from massing.parts.part import Model
from massing.practice.cautions import CAUTION
from massing.practice.joinery_sizes import (
    HOOD_FRIEZE_OF_FACE,
    casing_width,
    hood_cornice,
)
from massing.present.drawings.arcs import arc_through, profile_items
from massing.present.drawings.cuts import cap_area
from massing.present.drawings.dxf import dxf
from massing.present.drawings.full_size_pages import tiled_pdf
from massing.present.drawings.heights import figures_of, order_of, spread
from massing.present.drawings.items import Arc, Item, Line, Text
from massing.present.drawings.joinery import placed
from massing.present.drawings.lettering import Figures, text_width_mm
from massing.present.drawings.sheet import Sheet
from massing.settingout.doorways import archivolt_over
from massing.view.hidden_lines import PLAN
from massing.view.section import CUT_ROLE, cut_model

STATIONS = 12
_BACK_M = 0.025  # the back line behind the innermost point
_ARC_STEPS = 24


@dataclass(frozen=True)
class Profile:
    """A drawing at full size: its name, what it says beside, and its items in metres."""

    name: str
    items: list[Item]


def profiles(design: Design) -> list[Profile]:
    """Every moulding of a design: orders, arcade, cornices, balustrades, heads and casings."""
    figures, order = figures_of(design), order_of(design)
    frieze = "the frieze's face"
    groups = _of_order(order, "")
    porch = design.porch
    if porch.arcade is not None:
        groups += _of_arch(porch.arcade.impost, porch.arcade.archivolt, "the arcade")
    if porch.upper is not None:
        groups += _of_order(order_of(design, porch.upper), " of the upper order")
    for side in design.side_porches:
        groups += _of_order(order_of(design, side.porch), f" of the {side.name}")
    for door in design.house.doors:
        if door.door.surround is not None:
            groups += _of_surround(door, design.rounding_m)
    if not design.house.cornice_continues_porch:
        groups.append(("House cornice", design.house.cornice.members, "the wall's face"))
    for wing in design.house.wings:
        groups.append(
            (f"Cornice of the {wing.side} wing", wing.house.cornice.members, "the wall's face")
        )
    openings = placed(design)
    for one in openings:
        if one.opening.head in ("hood", "hood on consoles"):
            groups.append(("Hood", _hood(one.opening), frieze))
    made: list[Profile] = []
    seen: dict[object, str] = {}
    for name, members, zero in groups:
        edge = tuple((m.kind, m.height, m.foot, m.head, m.recess) for m in members)
        if members and edge not in seen:  # what is cut to the same template is drawn once
            again = sum(title == name for title in seen.values())
            seen[edge] = name
            title = f"{name} {again + 1}" if again else name
            made.append(_profile(title, members, zero, figures))
    faces = sorted(one.opening.face_m for one in openings)
    sizes = {figures.text(face): face for face in faces if face}
    made += [_casing(face, figures) for face in sizes.values()]
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


_Group = tuple[str, Sequence[Member], str]
"""A run of members: its name, the members, and where their reaches run from."""


def _of_order(order: FittedOrder, of: str) -> list[_Group]:
    """An order's mouldings from the floor up, its members on the builder's step."""
    axis, frieze = "the column's axis", "the frieze's face"
    return [
        (f"Pedestal{of}", _shortened(order.pedestal), axis),
        (f"Base{of}", (*order.base, *order.shaft_foot), axis),
        (f"Capital{of}", (*order.shaft_head, *order.capital), axis),
        (f"Architrave{of}", order.architrave, frieze),
        (f"Cornice{of}", order.cornice, frieze),
    ]


def _of_arch(impost: Sequence[Member], archivolt: Sequence[Member], of: str) -> list[_Group]:
    """An arch's mouldings; an archivolt's members run outward from the arch's edge."""
    return [
        (f"Impost of {of}", impost, "the pier's face"),
        (f"Archivolt of {of}", archivolt, "the wall's face"),
    ]


def _of_surround(door: DoorOpening, step_m: float) -> list[_Group]:
    """The order about a doorway, and its arch."""
    surround = door.door.surround
    assert surround is not None
    made = _of_order(rounded(surround.order, step_m), " of the doorway")
    if surround.arch:
        impost = impost_members(surround.order.diameter_m / 2.0)
        made += _of_arch(impost, archivolt_over(door, surround), "the doorway")
    return made


def _hood(opening: Opening) -> tuple[Member, ...]:
    """A hood's members over the casing: its frieze, where it has one, and its cornice."""
    cornice = hood_cornice(opening.width_m).members
    if opening.head != "hood":
        return cornice
    high = HOOD_FRIEZE_OF_FACE * casing_width(opening.width_m)
    return (Member("frieze", "fillet", high, 0.0, 0.0), *cornice)


def _casing(face_m: float, figures: Figures) -> Profile:
    """A casing cut across at full size, the opening at the left, the wall's face below."""
    section = casing_section(face_m)
    items: list[Item] = [Line("PROFILE", section, closed=True)]
    items.append(Line("EDGE", np.array([[-0.02, 0.0], [face_m + 0.03, 0.0]])))
    x = face_m + 0.04
    corners = section[2:]
    rows = [
        f"{figures.text(along)} from the opening, {figures.text(out)} out"
        for along, out in corners.tolist()
    ]
    top = float(section[:, 1].max())
    for i, ((along, out), row) in enumerate(zip(corners.tolist(), rows, strict=True)):
        y = top + 0.004 - 0.0042 * i
        items.append(Text((along - 0.0025, out + 0.0012), str(i + 1), 1.8))
        items.append(Text((x, y), f"{i + 1}   {row}", 2.2))
    head = (
        f"Casing with a face of {figures.text(face_m)}: full size",
        "Cut across, the opening at the left, the wall's face below; mitred at the head.",
        f"Stock at the least {figures.text(face_m)} by {figures.text(top)}.",
    )
    for i, line in enumerate(reversed(head)):
        size = 3.0 if i == len(head) - 1 else 2.0
        items.append(Text((0.0, top + 0.014 + 0.005 * i), line, size))
    return Profile(f"Casing {figures.text(face_m)}", items)


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

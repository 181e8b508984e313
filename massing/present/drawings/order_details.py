"""Details of the order and of the balustrade: every member with its height, reach and name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from massing.canon import FittedOrder, Member, balustrade_table, with_shaft
from massing.canon.tables import scaled
from massing.design.design import Design
from massing.design.porch import BalustradeDesign
from massing.parts.orders.balustrade import balustrade
from massing.parts.orders.column import carved_lines, column, pedestal
from massing.parts.orders.entablature import entablature
from massing.parts.part import Model, Part
from massing.present.drawings.cuts import cut_view, within
from massing.present.drawings.elevations import line_items
from massing.present.drawings.frame import Heading, frame, room_mm, view_title
from massing.present.drawings.heights import figures_of, order_of, spread
from massing.present.drawings.items import Dimension, Item, Line, Text
from massing.present.drawings.lettering import Figures, chain
from massing.present.drawings.scales import fitting_scale, scales
from massing.present.drawings.sheet import Sheet
from massing.view.hidden_lines import FRONT, RIGHT, Lines, visible_lines

ROW_MM = 3.7
_TABLE_MM = 62.0  # height, reach and name beside a detail
_STEP_M = 0.002
_FALLS_M = (0.003, 0.3)  # at an eighth of the size


@dataclass(frozen=True)
class Detail:
    """A group of members drawn in half elevation, its axis or face at x = 0.

    Attributes:
        title: what it is, and where its reaches run from.
        members: bottom to top.
        lines: half elevation; its foot at z = 0.
        face_m: the reaches' zero, from x = 0.
        left_m, right_m, foot_m, top_m: what is drawn.
    """

    title: str
    members: tuple[Member, ...]
    lines: list[Item]
    face_m: float
    left_m: float
    right_m: float
    foot_m: float
    top_m: float
    groups: tuple[tuple[str, float], ...]  # names and heights, bottom to top


def details(order: FittedOrder) -> list[Detail]:
    """Pedestal, base, capital and entablature of an order whose members are on the step."""
    leaves = carved_lines(order)
    shaft = column(with_shaft(order, fluted=None if order.square else bool(order.flutes)))
    seen = visible_lines(shaft, FRONT, step_m=_STEP_M, falls_m=_FALLS_M, drawn=leaves)
    made = [_pedestal_detail(order)] if order.pedestal else []
    return [*made, _base_detail(order, seen), _capital_detail(order, seen), _beam_detail(order)]


def _pedestal_detail(order: FittedOrder) -> Detail:
    return _detail(
        "Pedestal: reaches from the axis",
        order.pedestal,
        visible_lines(pedestal(order), FRONT, step_m=_STEP_M, falls_m=_FALLS_M),
        0.0,
        0.0,
        order.pedestal_height_m,
        (("pedestal", order.pedestal_height_m),),
        order.foot_width_m / 2.0,
    )


def _base_detail(order: FittedOrder, column_lines: Lines) -> Detail:
    """The column's foot, with a quarter of a diameter of its shaft."""
    foot = sum(m.height for m in order.shaft_foot) + 0.25 * order.diameter_m
    return _detail(
        "Base: reaches from the axis",
        (*order.base, *order.shaft_foot),
        column_lines,
        0.0,
        0.0,
        order.base_height_m + foot,
        (("base", order.base_height_m),),
        order.plinth_width_m / 2.0,
    )


def _capital_detail(order: FittedOrder, column_lines: Lines) -> Detail:
    """The column's head, with a fifth of a diameter of its shaft."""
    head = sum(m.height for m in order.shaft_head)
    neck = order.base_height_m + order.shaft_height_m
    return _detail(
        "Capital: reaches from the axis",
        (*order.shaft_head, *order.capital),
        column_lines,
        0.0,
        neck - head - 0.2 * order.diameter_m,
        order.column_height_m,
        (("", head), ("capital", order.capital_height_m)),
        order.abacus_width_m / 2.0,
        start=neck - head,
    )


def _beam_detail(order: FittedOrder) -> Detail:
    """The entablature's corner over a column."""
    half = order.upper_diameter_m / 2.0
    span = 1.1 * order.diameter_m + order.cornice_projection_m
    path = [(-half - span, -half), (half, -half), (half, span)]
    beam = entablature(
        order, path, back_m=order.upper_diameter_m, column_axes=[(0.0, 0.0), (-4.0 * span, 0.0)]
    )
    return _detail(
        "Entablature: reaches from the frieze",
        (*order.architrave, *order.frieze, *order.cornice),
        visible_lines(beam, FRONT, step_m=_STEP_M, falls_m=_FALLS_M),
        half,
        0.0,
        order.entablature_height_m,
        (
            ("architrave", order.architrave_height_m),
            ("frieze", order.frieze_height_m),
            ("cornice", order.cornice_height_m),
        ),
        half + order.cornice_projection_m,
        left=-0.9 * order.diameter_m,
    )


def _detail(
    title: str,
    members: Sequence[Member],
    lines: Lines,
    face: float,
    foot: float,
    top: float,
    groups: tuple[tuple[str, float], ...],
    reach: float,
    *,
    start: float | None = None,
    left: float = 0.0,
) -> Detail:
    cut = within(lines, np.array([left, foot]), np.array([reach + 0.01, top + 1e-4]))
    base = foot if start is None else start
    items = [i.moved(np.array([0.0, -base])) for i in line_items(cut)]
    return Detail(title, tuple(members), items, face, left, reach, foot - base, top - base, groups)


def order_sheet(
    design: Design,
    heading: Heading,
    paper_mm: tuple[float, float],
    number: str,
    notes: Sequence[str],
    sheets: int = 0,
) -> Sheet:
    """The order's members, named and dimensioned, as large as the paper lets them be."""
    figures, order = figures_of(design), order_of(design)
    found = details(order)
    left, foot, wide, tall = room_mm(paper_mm)
    for scale in scales(design.units):
        if scale < (4 if design.units == "feet" else 5):
            continue
        placed = _placed(found, scale, wide - 16.0, tall - 42.0)
        if placed is not None:
            break
    else:
        raise ValueError("the order's details fit the paper at no scale")
    name = f"Details of the order: {order.order.title()}"
    sheet = Sheet(number, "order", name, paper_mm, scale, design.units)
    for detail, (x, y) in zip(found, placed, strict=True):
        at = np.array([sheet.mm(left + 8.0 + x), sheet.mm(foot + tall - 14.0 + y)])
        sheet.add(_members(detail, figures, sheet.mm(1.0)), at)
    view_title(sheet, (sheet.mm(left + 8.0), sheet.mm(foot + 10.0)), name, 60.0)
    swelling = "" if order.entasis == "none" else f" Entasis: {order.entasis}."
    own = [
        f"After {order.canon.title()}. Shaft {figures.text(order.shaft_height_m)} high, "
        f"{_widths(order, figures)}.{swelling}",
        "Heights add up to the totals: each member is on the builder's fraction. Profiles at "
        "full size: massing profiles.",
        "Carving, flutes and enrichments are shown for their setting out.",
    ]
    frame(sheet, heading, [*own, *notes], sheets=sheets)
    return sheet


def _widths(order: FittedOrder, figures: Figures) -> str:
    """The shaft's widths, bottom to top, each with its place."""
    at = [("at the foot", order.foot_diameter_m), ("at the neck", order.upper_diameter_m)]
    if order.swelled:
        at.insert(1, ("at a third", order.diameter_m))
    return ", ".join(f"{figures.text(width)} {where}" for where, width in at)


def _placed(
    found: Sequence[Detail], scale: float, wide: float, tall: float
) -> list[tuple[float, float]] | None:
    """Where each detail's foot stands, in columns from the top left, or None without room."""
    k = 1000.0 / scale
    places = []
    x = y = 0.0
    column_mm = 0.0
    for detail in found:
        high = max((detail.top_m - detail.foot_m) * k, ROW_MM * (len(detail.members) + 1)) + 20.0
        across = (detail.right_m - detail.left_m) * k + 30.0 + _TABLE_MM
        if high > tall:
            return None
        if -y + high > tall:
            x, y, column_mm = x + column_mm, 0.0, 0.0
        column_mm = max(column_mm, across)
        if x + across > wide:
            return None
        places.append((x + 16.0 - detail.left_m * k, y - high + 12.0 - detail.foot_m * k))
        y -= high
    return places


def _members(detail: Detail, figures: Figures, mm: float) -> list[Item]:
    """A detail's lines, its axis, and its members' heights and reaches; ``mm`` on paper."""
    made: list[Item] = list(detail.lines)
    top, foot = detail.top_m, detail.foot_m
    axis = np.array([[0.0, foot - 3.0 * mm], [0.0, top + 3.0 * mm]])
    made.append(Line("CENTRE", axis))
    if detail.face_m:
        face = np.array([[detail.face_m, foot - 3.0 * mm], [detail.face_m, top + 3.0 * mm]])
        made.append(Line("CENTRE", face))
    made.append(_broken(detail.left_m, foot, top, mm))
    # heights, with the group's totals at the left
    edges = [0.0]
    for member in detail.members:
        edges.append(figures.on_step(edges[-1] + member.height))
    middles = [(a + b) / 2.0 for a, b in pairwise(edges)]
    places = spread(middles, ROW_MM * mm)
    x = detail.right_m + 6.0 * mm
    reaches = [
        max(a.head, b.foot) for a, b in zip(detail.members[:-1], detail.members[1:], strict=True)
    ]
    feet = [detail.members[0].foot, *reaches, detail.members[-1].head]
    for i, member in enumerate(detail.members):
        a = (detail.face_m + feet[i], edges[i])
        b = (detail.face_m + feet[i + 1], edges[i + 1])
        at = (x + 8.0 * mm, places[i] - 1.0 * mm)
        high = figures.text(edges[i + 1] - edges[i])
        made.append(Dimension(a, b, x, True, high, at, aside=True, text_mm=2.0))
        reach = figures.text(member.reach) if detail.face_m else figures.half(member.reach)
        name = member.name + (
            f", {member.kind}" if member.kind not in ("fillet", member.name) else ""
        )
        if member.row is not None:
            name += f"; {member.row.kind}s at {figures.text(member.row.spacing)}"
        made.append(Text((x + 25.0 * mm, at[1]), reach, 2.0))
        made.append(Text((x + 41.0 * mm, at[1]), name, 1.8))
    heads_y = max(places[-1], edges[-1]) + 3.6 * mm
    for dx, head in ((8.0, "high"), (25.0, "out"), (41.0, "member")):
        made.append(Text((x + dx * mm, heads_y), head, 1.7, face="italic"))
    made.append(Text((detail.left_m - 10.0 * mm, max(top, heads_y) + 4.4 * mm), detail.title, 2.6))
    totals = [0.0]
    for _, height in detail.groups:
        totals.append(figures.on_step(totals[-1] + height))
    made += chain(
        totals, detail.left_m - 6.0 * mm, figures, upright=True, foot=detail.left_m - mm, mm_m=mm
    )
    return made


def _broken(x: float, low: float, high: float, mm: float) -> Item:
    """A broken edge where a drawing stops and the thing goes on."""
    middle, z = (low + high) / 2.0, 1.4 * mm
    points = [
        (x, low - mm),
        (x, middle - 1.5 * z),
        (x - z, middle - 0.5 * z),
        (x + z, middle + 0.5 * z),
        (x, middle + 1.5 * z),
        (x, high + mm),
    ]
    return Line("FINE", np.array(points))


# --- the balustrade ------------------------------------------------------------------------


def baluster_members(
    design: BalustradeDesign, step_m: float, profile: str = "vase"
) -> list[Member]:
    """The turned baluster's members in metres, heights on the step and adding up."""
    table = balustrade_table(profile)
    out = design.belly_m / table.belly
    members = [scaled(m, design.baluster_m, out) for m in table.baluster]
    return members


def balustrade_sheet(
    design: Design,
    rail: BalustradeDesign,
    heading: Heading,
    paper_mm: tuple[float, float],
    number: str,
    notes: Sequence[str],
    *,
    title: str = "Balustrade over the entablature",
    sheets: int = 0,
) -> Sheet:
    """A bay of the balustrade, cut through, with the baluster's members."""
    figures = figures_of(design)
    left, foot, wide, tall = room_mm(paper_mm)
    bay = min(max(design.porch.gaps_m or (2.0,)), 3.2)
    parts = _one_bay(rail, bay)
    half = rail.pedestal_width_m / 2.0 + 0.12
    scale = fitting_scale(
        (bay + 2.0 * half + rail.pedestal_width_m + 0.6, rail.height_m),
        (wide - 150.0, tall - 90.0),
        design.units,
        8.0 if design.units == "feet" else 10.0,
    )
    name = "balustrade" if "entablature" in title else "guard"
    sheet = Sheet(number, name, title, paper_mm, scale, design.units)
    mm = sheet.mm(1.0)
    centres = sorted(
        float(x)
        for p in parts
        if p.name.endswith("/balusters") and p.placements is not None
        for x in p.placements[:, 0, 3]
    )
    items = _bay_front(parts, rail, bay, centres, figures, mm)
    cut_x = centres[len(centres) // 2] if centres else bay / 2.0
    items += _bay_cut(parts, rail, cut_x, bay + half + 20.0 * mm, figures, mm)
    at = np.array(
        [
            sheet.mm(left + 34.0) + half,
            sheet.mm(foot + 0.5 * tall) - rail.height_m / 2.0,
        ]
    )
    sheet.add(items, at)
    if rail.filling == "balusters":
        members = baluster_members(rail, figures.step_m)
        table_x = sheet.mm(left + wide - 92.0)
        _member_table(sheet, members, figures, (table_x, sheet.mm(foot + tall - 20.0)))
    view_title(sheet, (sheet.mm(left + 8.0), sheet.mm(foot + 10.0)), title, 60.0)
    own = [
        "One bay, its pedestals' middles over the columns' axes; and cut through a baluster.",
        "Guards: height, openings between balusters and strength are the local code's.",
    ]
    frame(sheet, heading, [*own, *notes], sheets=sheets)
    return sheet


def _bay_front(
    parts: Sequence[Part],
    rail: BalustradeDesign,
    bay: float,
    centres: Sequence[float],
    figures: Figures,
    mm: float,
) -> list[Item]:
    """A bay seen from the front, its heights to the left, its widths below; ``mm`` on paper."""
    die = rail.pedestal_width_m / 2.0
    half = die + 0.12
    lines = visible_lines(parts, FRONT, step_m=_STEP_M, falls_m=_FALLS_M)
    items: list[Item] = list(
        line_items(within(lines, np.array([-half, 0.0]), np.array([bay + half, rail.height_m])))
    )
    rise = [0.0, rail.plinth_m, rail.plinth_m + rail.baluster_m, rail.height_m]
    for heights, out, foot in ((rise, 8.0, 1.0), ([0.0, rail.height_m], 17.0, 9.0)):
        items += chain(
            heights, -half - out * mm, figures, upright=True, foot=-half - foot * mm, mm_m=mm
        )
    run = [-die, die, *centres, bay - die, bay + die]
    for widths, out, foot in ((run, 7.0, 1.0), ([0.0, bay], 16.0, 8.0)):
        items += chain(widths, -out * mm, figures, upright=False, foot=-foot * mm, mm_m=mm)
    return items


def _bay_cut(
    parts: Sequence[Part],
    rail: BalustradeDesign,
    cut_x: float,
    left_x: float,
    figures: Figures,
    mm: float,
) -> list[Item]:
    """The bay cut through at an x and seen from the right, standing right of an x on paper."""
    drawn = cut_view(Model(tuple(parts)), RIGHT, -cut_x, step_m=_STEP_M, grain=True)
    middle = left_x - float(drawn.low[0])
    belly = figures.on_step(rail.belly_m)
    width = chain([0.0, belly], -7.0 * mm, figures, upright=False, foot=-mm, mm_m=mm)
    return [
        *(item.moved(np.array([middle, 0.0])) for item in drawn.items),
        *(item.moved(np.array([middle - belly / 2.0, 0.0])) for item in width),
    ]


def _one_bay(rail: BalustradeDesign, bay: float) -> list[Part]:
    return balustrade(
        rail,
        np.array([[0.0, 0.0], [bay, 0.0]]),
        [(0, 1)],
    )


def _member_table(
    sheet: Sheet, members: Sequence[Member], figures: Figures, at: tuple[float, float]
) -> None:
    """A baluster's members from the top down: height, diameter, name."""
    mm = sheet.mm(1.0)
    x, y = at
    sheet.items.append(Text((x, y), "Baluster's members, from the top", 2.6))
    y -= 5.0 * mm
    for dx, head in ((0.0, "high"), (18.0, "across"), (38.0, "member")):
        sheet.items.append(Text((x + dx * mm, y), head, 1.7, face="italic"))
    edges = [0.0]
    for member in members:
        edges.append(edges[-1] + member.height)
    for i in range(len(members) - 1, -1, -1):
        y -= 4.2 * mm
        member = members[i]
        height = figures.on_step(edges[i + 1]) - figures.on_step(edges[i])
        of = "square" if member.square else member.kind
        name = member.name if member.name == of else f"{member.name}, {of}"
        cells = (
            (0.0, figures.text(height)),
            (18.0, figures.text(2.0 * member.reach)),
            (38.0, name),
        )
        for dx, cell in cells:
            sheet.items.append(Text((x + dx * mm, y), cell, 2.0))

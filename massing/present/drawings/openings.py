"""Window, door and head types: each drawn once, cut through its middle, with a schedule."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from massing.design.design import Design
from massing.design.opening import Opening
from massing.geometry.mesh import Floats
from massing.parts.part import Model, Part
from massing.present.drawings.cuts import cut_view, within
from massing.present.drawings.elevations import building, line_items, small
from massing.present.drawings.frame import Heading, frame, room_mm, view_title
from massing.present.drawings.heights import figures_of
from massing.present.drawings.items import Item, Line, Text
from massing.present.drawings.lettering import Figures, chain, text_width_mm
from massing.present.drawings.scales import scales
from massing.present.drawings.sheet import Sheet
from massing.units import floor_name
from massing.view.hidden_lines import BACK, FRONT, LEFT, RIGHT, visible_lines

VIEW_OF = {"front": FRONT, "back": BACK, "right": RIGHT, "left": LEFT}
_SECTION_OF = {"front": RIGHT, "back": LEFT, "right": BACK, "left": FRONT}  # outside at the left
_AROUND_M = 0.12
_DEEP_M = 0.30


def types(design: Design) -> list[tuple[str, Opening, list[Opening]]]:
    """Mark, pattern and all of each type of opening: windows by letters, doors D1 and on."""
    figures = figures_of(design)
    alike: dict[object, list[Opening]] = {}
    for opening in design.house.openings:
        pattern = replace(
            opening,
            place="",
            storey=None,
            wall="front",
            along_m=0.0,
            sill_z_m=0.0,
            back_m=0.0,
            width_m=figures.on_step(opening.width_m),
            height_m=figures.on_step(opening.height_m),
        )
        alike.setdefault(pattern, []).append(opening)
    made = []
    windows = doors = 0
    for group in alike.values():
        if group[0].kind == "door":
            doors += 1
            mark = f"D{doors}"
        else:
            mark = _letters(windows)
            windows += 1
        made.append((mark, group[0], group))
    return sorted(made, key=lambda m: (m[1].kind == "door", len(m[0]), m[0]))


def _letters(index: int) -> str:
    """A to Z, then AA and on; I and O are left out, which read as figures."""
    letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
    more, last = divmod(index, len(letters))
    return (letters[more - 1] if more else "") + letters[last]


def marks_of(design: Design) -> dict[Opening, str]:
    """The mark of every opening of the main house."""
    return {o: mark for mark, _, group in types(design) for o in group}


def openings_sheets(
    design: Design,
    model: Model,
    heading: Heading,
    paper_mm: tuple[float, float],
    number: str,
    notes: Sequence[str],
    sheets: int = 0,
) -> Sheet:
    """Every type on one sheet, at the largest scale at which they all fit."""
    figures = figures_of(design)
    found = types(design)
    left, foot, wide, tall = room_mm(paper_mm)
    table_mm = 14.0 + 4.6 * len(found) + 8.0
    sizes = [_size_m(design, o) for _, o, _ in found]
    for scale in scales(design.units):
        if scale < (12 if design.units == "feet" else 10):
            continue
        rows = _rows(sizes, scale, wide - 16.0)
        high = sum(max(sizes[i][1] * 1000 / scale + 34.0 for i in row) for row in rows)
        if high <= tall - table_mm - 24.0:
            break
    sheet = Sheet(
        number,
        "windows-and-doors",
        "Windows and doors: types and schedule",
        paper_mm,
        scale,
        design.units,
    )
    mm = sheet.mm
    top = tall + foot - 8.0
    for row in rows:
        high = max(sizes[i][1] * 1000 / scale for i in row) + 34.0
        x = left + 8.0
        for i in row:
            mark, opening, group = found[i]
            at = np.array([mm(x + 22.0), mm(top - high + 22.0)])
            sheet.add(_type(design, model, mark, opening, len(group), figures, mm(1.0)), at)
            x += sizes[i][0] * 1000 / scale + 58.0
        top -= high
    _schedule(sheet, found, figures, left + 8.0, foot + 22.0 + table_mm - 6.0)
    view_title(sheet, (mm(left + 8.0), mm(foot + 12.0)), "Windows and doors", 60.0)
    own = [
        "Each type once, from outside, and cut through its middle, outside at the left.",
        "Sizes are of the finished opening; sash, bars and casings are as modelled.",
        "Glass, guards at low sills and ways out: by the local code.",
    ]
    frame(sheet, heading, [*own, *notes], sheets=sheets)
    return sheet


def _size_m(design: Design, opening: Opening) -> tuple[float, float]:
    wide = 2.0 * opening.reach_m + design.house.wall_thickness_m + _DEEP_M + 2.0 * _AROUND_M
    return wide, opening.top_z_m - opening.foot_z_m + 2.0 * _AROUND_M


def _rows(sizes: Sequence[tuple[float, float]], scale: float, wide_mm: float) -> list[list[int]]:
    rows: list[list[int]] = [[]]
    x = 0.0
    for i, (width, _) in enumerate(sizes):
        need = width * 1000 / scale + 58.0
        if x + need > wide_mm and rows[-1]:
            rows.append([])
            x = 0.0
        rows[-1].append(i)
        x += need
    return rows


def _near(parts: Sequence[Part], low: Floats, high: Floats) -> list[Part]:
    """Parts, and of parts the copies, that reach into a box ``(3,)`` to ``(3,)``."""
    made = []
    for part in parts:
        if part.placements is None:
            box = part.mesh.bounds
            if (box[1] >= low).all() and (box[0] <= high).all():
                made.append(part)
            continue
        corners = np.array(np.meshgrid(*part.mesh.bounds.T)).reshape(3, -1)
        places = part.placements[:, :3, :3] @ corners + part.placements[:, :3, 3:]
        kept = (places.max(axis=2) >= low).all(axis=1) & (places.min(axis=2) <= high).all(axis=1)
        if kept.any():
            made.append(replace(part, placements=part.placements[kept]))
    return made


def _type(
    design: Design,
    model: Model,
    mark: str,
    opening: Opening,
    count: int,
    figures: Figures,
    mm: float,
) -> list[Item]:
    """One type, its outside view with (0, 0) at the lower left of what is drawn."""
    house, view = design.house, VIEW_OF[opening.wall]
    middle = _middle(design, opening)
    along = float(middle @ view.axes[0])
    half = opening.reach_m + _AROUND_M
    low = np.array([along - half, opening.foot_z_m - _AROUND_M])
    high = np.array([along + half, opening.top_z_m + _AROUND_M])
    out = -view.axes[2]
    box_low = middle - np.abs(view.axes[0]) * half - np.abs(out) * (house.wall_thickness_m + 0.3)
    box_high = middle + np.abs(view.axes[0]) * half + np.abs(out) * (house.wall_thickness_m + 0.3)
    box_low[2], box_high[2] = low[1], high[1]
    parts = [
        p for p in building(model) if p.name.startswith("house/") and "/interior" not in p.name
    ]
    near = _near(parts, box_low, box_high)
    lines = visible_lines(near, view, step_m=0.01, undrawn=small)
    shift = -low
    made: list[Item] = [i.moved(shift) for i in line_items(within(lines, low, high))]
    # the section beside it
    section = _SECTION_OF[opening.wall]
    face = float(middle @ section.axes[0])
    part = replace(model, parts=tuple(near))
    plane = float(middle @ section.axes[2])
    s_low = np.array([face - 0.2, low[1]])
    s_high = np.array([face + house.wall_thickness_m + 0.1, high[1]])
    drawn = cut_view(part, section, plane, low=s_low, high=s_high, step_m=0.01)
    across = 2.0 * half + 8.0 * mm
    made += [i.moved(np.array([across, 0.0]) - s_low) for i in drawn.items]
    # sizes
    w = figures.on_step(opening.width_m) / 2.0
    sill = opening.sill_z_m - low[1]
    head = sill + figures.on_step(opening.height_m)
    made += _snapped_chain([half - w, half + w], -6.0 * mm, figures, False, 0.0, mm)
    ups = [sill, head]
    if opening.rise_m:
        ups.insert(1, head - figures.on_step(opening.rise_m))
    made += _snapped_chain(ups, -8.0 * mm, figures, True, 0.0, mm)
    name = f"{mark}   {_kind(opening)}"
    made.append(Text((0.0, -13.5 * mm), name, 2.6))
    made.append(Text((0.0, -17.6 * mm), f"{count} of these", 2.0, face="italic"))
    return made


def _snapped_chain(
    places: Sequence[float], at: float, figures: Figures, upright: bool, foot: float, mm: float
) -> list[Item]:
    """A chain whose first place stays where it is, its lengths on the builder's steps."""
    first = places[0]
    chained = chain([p - first for p in places], at, figures, upright=upright, foot=foot, mm_m=mm)
    by = np.array([0.0, first] if upright else [first, 0.0])
    return [item.moved(by) for item in chained]


def _middle(design: Design, opening: Opening) -> Floats:
    """The opening's middle on its wall's face at the ground."""
    house, a = design.house, opening.along_m
    if opening.wall == "front":
        return np.array([a, opening.back_m, 0.0])
    if opening.wall == "back":
        return np.array([-a, house.depth_m, 0.0])
    if opening.wall == "right":
        return np.array([house.width_m / 2.0, house.depth_m / 2.0 + a, 0.0])
    return np.array([-house.width_m / 2.0, house.depth_m / 2.0 - a, 0.0])


def _kind(opening: Opening) -> str:
    if opening.kind == "door":
        return "Door"
    if opening.kind == "french":
        return "French window"
    kinds = {"casement": "Casement", "tripartite": "Tripartite window", "fixed": "Fixed window"}
    return kinds.get(opening.filling, "Hung window")


def _lights(opening: Opening) -> str:
    if opening.kind == "door":
        if opening.door is None:
            return ""
        words = f"{opening.door.leaves} leaf" if opening.door.leaves == 1 else "pair of leaves"
        return f"{words}, {opening.door.panels} panels"
    up, low = opening.upper_lights, opening.lower_lights
    if opening.filling == "hung" and opening.kind == "window":
        return f"{up[0] * up[1]} over {low[0] * low[1]}"
    if opening.filling == "fixed":
        return f"fixed, {up[0]} x {up[1]}"
    return f"{opening.leaves} leaves of {up[0]} x {up[1]}"


def schedule_rows(
    found: Sequence[tuple[str, Opening, list[Opening]]], figures: Figures
) -> list[tuple[str, ...]]:
    """The schedule's lines: mark, kind, number, width, height, lights, head, shutters, where."""
    rows: list[tuple[str, ...]] = []
    for mark, opening, group in found:
        walls: dict[str, int] = {}
        for one in group:
            place = f"{one.wall}, {floor_name(one.storey or 0, figures.units)}"
            walls[place] = walls.get(place, 0) + 1
        where = "; ".join(f"{place} {count}" for place, count in walls.items())
        rows.append(
            (
                mark,
                _kind(opening),
                str(len(group)),
                figures.text(opening.width_m),
                figures.text(opening.height_m),
                _lights(opening),
                opening.head,
                opening.shutters,
                where,
            )
        )
    return rows


_HEADS = ("Mark", "Kind", "No.", "Width", "Height", "Lights", "Head", "Shutters", "Where")


def _schedule(
    sheet: Sheet,
    found: Sequence[tuple[str, Opening, list[Opening]]],
    figures: Figures,
    left_mm: float,
    top_mm: float,
) -> None:
    rows = schedule_rows(found, figures)
    table = [_HEADS, *rows]
    widths = [max(text_width_mm(row[c], 2.1) for row in table) + 5.0 for c in range(len(_HEADS))]
    mm = sheet.mm
    y = top_mm
    for r, row in enumerate(table):
        x = left_mm
        for width, cell in zip(widths, row, strict=True):
            face = "italic" if r == 0 else "roman"
            if cell:
                sheet.items.append(Text((mm(x), mm(y)), cell, 2.1, face=face))
            x += width
        rule = np.array([[mm(left_mm), mm(y - 1.4)], [mm(left_mm + sum(widths)), mm(y - 1.4)]])
        sheet.items.append(Line("SHEET-FINE", rule))
        y -= 4.6

"""Window, door and head types: each drawn once, cut through its middle, with a schedule."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from massing.design.design import Design
from massing.design.opening import DoorOpening, FrenchWindow, Opening, WindowOpening
from massing.geometry.mesh import Floats
from massing.parts.part import Model, Part
from massing.present.drawings.cuts import cut_view, within
from massing.present.drawings.elevations import building, line_items, small
from massing.present.drawings.frame import Heading, frame, room_mm, view_title
from massing.present.drawings.heights import figures_of
from massing.present.drawings.items import Item, Line, Text
from massing.present.drawings.joinery import Placed, leaves_and_glass, placed
from massing.present.drawings.lettering import Figures, chain, text_width_mm, wrapped
from massing.present.drawings.scales import scales
from massing.present.drawings.sheet import Sheet
from massing.view.hidden_lines import BACK, FRONT, LEFT, RIGHT, visible_lines

VIEW_OF = {"front": FRONT, "back": BACK, "right": RIGHT, "left": LEFT}
_SECTION_OF = {"front": RIGHT, "back": LEFT, "right": BACK, "left": FRONT}  # outside at the left
_FILLINGS = {
    "casement": "Casement",
    "tripartite": "Tripartite window",
    "fixed": "Fixed window",
    "louvre": "Louvre",
}
_AROUND_M = 0.12
_DEEP_M = 0.30


def types(design: Design) -> list[tuple[str, Placed, list[Placed]]]:
    """Mark, pattern and all of each type of opening: windows by letters, doors D1 and on."""
    figures = figures_of(design)
    alike: dict[object, list[Placed]] = {}
    for one in placed(design):
        pattern = replace(
            one.opening,
            place="",
            storey=None,
            wing=None,
            wall="front",
            along_m=0.0,
            sill_z_m=0.0,
            back_m=0.0,
            width_m=figures.on_step(one.opening.width_m),
            height_m=figures.on_step(one.opening.height_m),
        )
        alike.setdefault((pattern, one.floor_z_m is None), []).append(one)
    made = []
    windows = doors = 0
    for group in alike.values():
        if isinstance(group[0].opening, DoorOpening):
            doors += 1
            mark = f"D{doors}"
        else:
            mark = _letters(windows)
            windows += 1
        made.append((mark, group[0], group))
    return sorted(made, key=lambda m: (isinstance(m[1].opening, DoorOpening), len(m[0]), m[0]))


def _letters(index: int) -> str:
    """A to Z, then AA and on; I and O are left out, which read as figures."""
    letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
    more, last = divmod(index, len(letters))
    return (letters[more - 1] if more else "") + letters[last]


def marks_of(design: Design) -> dict[Opening, str]:
    """The mark of every opening."""
    return {one.opening: mark for mark, _, group in types(design) for one in group}


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
    widths, cells = _table(found, figures, wide - 16.0)
    table_mm = 14.0 + _table_mm(cells) + 4.0
    sizes = [_size_m(one) for _, one, _ in found]
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
            mark, one, group = found[i]
            at = np.array([mm(x + 22.0), mm(top - high + 22.0)])
            sheet.add(_type(model, mark, one, len(group), figures, mm(1.0)), at)
            x += sizes[i][0] * 1000 / scale + 58.0
        top -= high
    _schedule(sheet, widths, cells, left + 8.0, foot + 22.0 + table_mm - 6.0)
    view_title(sheet, (mm(left + 8.0), mm(foot + 12.0)), "Windows and doors", 60.0)
    own = [
        "Each type once, from outside, and cut through its middle, outside at the left.",
        "Width and height are the hole in the wall, which is the outside of the frame; a rough "
        "opening is larger by the packing that the maker of the frame asks for. Sills and heads "
        "are the hole's foot and top over their own floor, those of dormers and gables over the "
        "ground.",
        "Sashes, leaves and glass are as modelled: each leaf over its rails, glass in its "
        "rebates without clearance. Lights under a curve are cut to a template.",
        "Glass, guards at low sills and ways out: by the local code.",
    ]
    frame(sheet, heading, [*own, *notes], sheets=sheets)
    return sheet


def _size_m(one: Placed) -> tuple[float, float]:
    opening = one.opening
    wide = 2.0 * opening.reach_m + one.wall_m + _DEEP_M + 2.0 * _AROUND_M
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
    model: Model,
    mark: str,
    one: Placed,
    count: int,
    figures: Figures,
    mm: float,
) -> list[Item]:
    """One type, its outside view with (0, 0) at the lower left of what is drawn."""
    opening, view = one.opening, VIEW_OF[one.opening.wall]
    middle = np.array([*one.middle_m, 0.0])
    along = float(middle @ view.axes[0])
    half = opening.reach_m + _AROUND_M
    low = np.array([along - half, opening.foot_z_m - _AROUND_M])
    high = np.array([along + half, opening.top_z_m + _AROUND_M])
    out = -view.axes[2]
    box_low = middle - np.abs(view.axes[0]) * half - np.abs(out) * (one.wall_m + 0.3)
    box_high = middle + np.abs(view.axes[0]) * half + np.abs(out) * (one.wall_m + 0.3)
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
    s_high = np.array([face + one.wall_m + 0.1, high[1]])
    drawn = cut_view(part, section, plane, low=s_low, high=s_high, step_m=0.01)
    across = 2.0 * half + 8.0 * mm
    made += [i.moved(np.array([across, 0.0]) - s_low) for i in drawn.items]
    # sizes
    w = figures.on_step(opening.width_m) / 2.0
    sill = opening.sill_z_m - low[1]
    head = sill + figures.on_step(opening.height_m)
    made += _snapped_chain([half - w, half + w], -6.0 * mm, figures, False, 0.0, mm)
    ups = [sill, head]
    if opening.curved:
        ups.insert(1, head - figures.on_step(opening.curved.rise_m))
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


def _kind(opening: Opening) -> str:
    match opening:
        case DoorOpening():
            return "Door"
        case FrenchWindow():
            return "French window"
        case WindowOpening():
            return _FILLINGS.get(opening.filling, "Hung window")
    raise ValueError(f"{opening.name} holds nothing to be drawn")


def _lights(opening: Opening) -> str:
    match opening:
        case DoorOpening(door=work):
            words = f"{work.leaves} leaf" if work.leaves == 1 else "pair of leaves"
            plain = {
                "flush": "flush",
                "flush with lights": "flush with lights in a column",
                "boarded": "boarded",
                "carriage": "carriage door: braced boards under lights",
            }
            return f"{words}, {plain.get(work.panels, f'{work.panels} panels')}"
        case FrenchWindow(lights=(across, up)):
            return f"2 leaves of {across} x {up}"
        case WindowOpening(upper_lights=(across, up), lower_lights=low):
            if opening.filling == "louvre":
                return "slats"
            if opening.filling == "hung":
                return f"{across * up} over {low[0] * low[1]}"
            if opening.filling == "fixed":
                return f"fixed, {across} x {up}"
            return f"{opening.leaves} leaves of {across} x {up}"
    return ""


def schedule_rows(
    found: Sequence[tuple[str, Placed, list[Placed]]], figures: Figures
) -> list[tuple[str, ...]]:
    """The schedule's lines, a cell for each of :data:`HEADINGS`."""
    rows: list[tuple[str, ...]] = []
    for mark, first, group in found:
        opening = first.opening
        where: dict[str, int] = {}
        for one in group:
            where[one.where] = where.get(one.where, 0) + 1
        sills = [one.opening.sill_z_m - (one.floor_z_m or 0.0) for one in group]
        heads = [one.opening.head_z_m - (one.floor_z_m or 0.0) for one in group]
        leaves, panes = leaves_and_glass(first)
        rows.append(
            (
                mark,
                _kind(opening),
                str(len(group)),
                figures.text(opening.width_m),
                figures.text(opening.height_m),
                _each(sills, figures),
                _each(heads, figures),
                _lights(opening),
                _sizes(leaves, figures),
                _sizes(panes, figures),
                opening.head,
                _shutters(opening),
                "; ".join(f"{place} {count}" for place, count in where.items()),
            )
        )
    return rows


def _shutters(opening: Opening) -> str:
    hung = opening.shutters if isinstance(opening, WindowOpening) else None
    return hung.kind if hung else "none"


def _each(heights_m: Sequence[float], figures: Figures) -> str:
    """The different heights among those given, lowest first."""
    return " / ".join(dict.fromkeys(figures.text(z) for z in sorted(heights_m)))


def _sizes(sizes: Sequence[Floats], figures: Figures) -> str:
    """The different sizes among those given, each with how many there are, the most first."""
    count: dict[str, int] = {}
    for wide, high in sizes:
        text = f"{figures.text(wide)} x {figures.text(high)}"
        count[text] = count.get(text, 0) + 1
    ranked = sorted(count.items(), key=lambda each: -each[1])
    shown = "; ".join(f"{n} of {text}" for text, n in ranked[:_MOST_SIZES])
    return shown + ("; others" if len(ranked) > _MOST_SIZES else "")


_MOST_SIZES = 2
HEADINGS = (
    "Mark",
    "Kind",
    "No.",
    "Width",
    "Height",
    "Sill",
    "Head at",
    "Lights",
    "Sashes, leaves",
    "Glass",
    "Head",
    "Shutters",
    "Where",
)
"""What the schedule's columns are."""


def _table(
    found: Sequence[tuple[str, Placed, list[Placed]]], figures: Figures, wide_mm: float
) -> tuple[list[float], list[tuple[list[str], ...]]]:
    """Widths of the schedule's columns and each row's cells as lines; places are broken."""
    table = [HEADINGS, *schedule_rows(found, figures)]
    widths = [max(text_width_mm(row[c], _CELL_MM) for row in table) + 4.0 for c in range(_LAST)]
    left = max(wide_mm - sum(widths), 40.0)
    rows = [
        (*([cell] for cell in row[:_LAST]), wrapped(row[_LAST], _CELL_MM, left)) for row in table
    ]
    return [*widths, left], rows


_CELL_MM, _ROW_MM, _LAST = 2.0, 4.4, len(HEADINGS) - 1


def _table_mm(rows: Sequence[tuple[list[str], ...]]) -> float:
    """How high the schedule is."""
    return _ROW_MM * sum(max(1, len(row[_LAST])) for row in rows)


def _schedule(
    sheet: Sheet,
    widths: Sequence[float],
    rows: Sequence[tuple[list[str], ...]],
    left_mm: float,
    top_mm: float,
) -> None:
    mm = sheet.mm
    y = top_mm
    for r, row in enumerate(rows):
        x = left_mm
        face = "italic" if r == 0 else "roman"
        for width, lines in zip(widths, row, strict=True):
            for k, line in enumerate(lines):
                at = (mm(x), mm(y - k * _ROW_MM))
                if line:
                    sheet.items.append(Text(at, line, _CELL_MM, face=face))
            x += width
        y -= _ROW_MM * (max(1, len(row[_LAST])) - 1)
        rule = np.array([[mm(left_mm), mm(y - 1.4)], [mm(left_mm + sum(widths)), mm(y - 1.4)]])
        sheet.items.append(Line("SHEET-FINE", rule))
        y -= _ROW_MM

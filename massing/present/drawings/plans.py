"""The ground plan, and the setting-out plan of the porch."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from massing.design.design import Design
from massing.design.porch import PorchDesign, StraightPorch
from massing.parts.part import Model
from massing.practice.joinery_sizes import CHEEK_WIDTH_M
from massing.present.drawings.cuts import cut_view
from massing.present.drawings.elevations import Drawn, building, view_extent
from massing.present.drawings.frame import Heading, frame, room_mm, view_title
from massing.present.drawings.heights import figures_of, order_of
from massing.present.drawings.items import Arc, Dimension, Item, Line, Symbol, Text
from massing.present.drawings.joinery import placed
from massing.present.drawings.lettering import Figures, chain
from massing.present.drawings.openings import VIEW_OF, marks_of
from massing.present.drawings.porch_section import section_x_m
from massing.present.drawings.scales import fitting_scale
from massing.present.drawings.sheet import Sheet
from massing.settingout.porch import on_step_along
from massing.settingout.side_porches import on_plan
from massing.units import floor_name
from massing.view.hidden_lines import PLAN

_PAVING = ("porch/floor/flags", "porch/floor/border")
CUT_HEIGHT_M = 1.2  # of a plan's cut over its floor: common practice, 4 ft
_MARGIN_MM = 46.0
_BELOW_MM = 58.0


def ground_plan_sheet(
    design: Design,
    model: Model,
    heading: Heading,
    paper_mm: tuple[float, float],
    number: str,
    notes: Sequence[str],
    sheets: int = 0,
) -> Sheet:
    """The house cut over its ground floor, seen from above."""
    figures = figures_of(design)
    floor = design.house.storey_floors_z_m[0]
    drawn = cut_view(model, PLAN, -(floor + _cut_height_m(design, floor)), fine=_PAVING)
    left, foot, wide, tall = room_mm(paper_mm)
    size = drawn.high - drawn.low
    scale = fitting_scale(
        (float(size[0]), float(size[1])),
        (wide - 2.0 * _MARGIN_MM, tall - _MARGIN_MM * 0.8 - _BELOW_MM),
        design.units,
        24.0 if design.units == "feet" else 20.0,
    )
    sheet = Sheet(number, "ground-plan", "Ground plan", paper_mm, scale, design.units)
    mm = sheet.mm
    at = np.array(
        [
            mm(left + wide / 2.0) - float(drawn.low[0] + drawn.high[0]) / 2.0,
            mm(foot + _BELOW_MM + 0.5 * (tall - 0.8 * _MARGIN_MM - _BELOW_MM))
            - float(drawn.low[1] + drawn.high[1]) / 2.0,
        ]
    )
    sheet.add(drawn.items, at)
    sheet.add(_plan_dimensions(design, drawn, figures, mm(1.0)), at)
    sheet.add(_plan_marks(design, figures, mm(1.0)), at)
    view_title(sheet, (mm(left + 8.0), mm(foot + 12.0)), "Ground plan")
    own = [
        f"Cut {figures.text(_cut_height_m(design, floor))} over the "
        f"{floor_name(0, design.units)}'s level.",
        "Widths run to the faces of the walls and to the middles of openings and columns.",
        "Letters at openings are those of the schedule of windows and doors.",
        "Rooms are not designed here: inside walls, stairs and hearths are not shown.",
    ]
    frame(sheet, heading, [*own, *notes], plan=True, sheets=sheets)
    return sheet


def _cut_height_m(design: Design, floor: float) -> float:
    """Over the sills and under the heads of the ground storey, or at the usual height."""
    tall = [o for o in design.house.windows if o.storey == 0 and o.wall == "front"]
    sill = max((o.sill_z_m - floor for o in tall), default=0.0)
    return max(CUT_HEIGHT_M, sill + 0.15)


def _plan_dimensions(design: Design, drawn: Drawn, figures: Figures, mm: float) -> list[Item]:
    """Chains of dimensions about a plan: openings, corners, porch, whole; ``mm`` on paper."""
    house, porch = design.house, design.porch
    half, deep = figures.on_step(house.width_m / 2.0), figures.on_step(house.depth_m)
    low, high = drawn.low, drawn.high
    back_y = float(high[1]) + 8.0 * mm
    under = float(low[1]) - 12.0 * mm
    axes = [figures.on_step(x) for x in porch.axes_m]
    sides = {figures.on_step(x) for _, x, _ in _side_axes(design)}
    outer = sorted({-half, half, *(figures.on_step(x) for x in house.reach_x_m), *sides})
    rows = [
        (sorted({-half, half, *_places(design, "back", figures)}), back_y, high[1] + 2.0 * mm),
        ([-half, half], back_y + 8.0 * mm, back_y + mm),
        (sorted({-half, half, *_places(design, "front", figures)}), under - 4.0 * mm, under),
        (axes if len(axes) > 1 else [], under - 12.0 * mm, under - 5.0 * mm),
        (outer, under - 20.0 * mm, under - 13.0 * mm),
    ]
    made: list[Item] = []
    for along, at, foot in rows:
        if along:
            made += chain(along, float(at), figures, upright=False, foot=float(foot), mm_m=mm)
    made += _bubbles(design, axes, figures, under, mm)
    for wall, edge, sign in (("left", float(low[0]), -1.0), ("right", float(high[0]), 1.0)):
        columns = {figures.on_step(y) for side, _, y in _side_axes(design) if side == wall}
        along = sorted({0.0, deep, *_places(design, wall, figures), *columns})
        near = edge + sign * 8.0 * mm
        made += chain(along, near, figures, upright=True, foot=edge + sign * 2.0 * mm, mm_m=mm)
        out = sorted({0.0, deep, figures.on_step(porch.column_y_m)})
        made += chain(
            out, near + sign * 8.0 * mm, figures, upright=True, foot=near + sign * mm, mm_m=mm
        )
    return made


def _places(design: Design, wall: str, figures: Figures) -> list[float]:
    """What is measured along a wall: middles of the ground's openings, corners of wings."""
    house, axis = design.house, 1 if wall in ("left", "right") else 0
    half = figures.on_step(house.width_m / 2.0)
    found = {
        figures.on_step(one.middle_m[axis])
        for one in placed(design)
        if one.opening.wall == wall and one.opening.storey == 0 and not one.opening.back_m
    }
    for wing in house.wings:
        start, turn = wing.set_back_m, 1.0 if wing.side == "right" else -1.0
        if wing.ahead:
            near = "right" if wing.x_m > 0.0 else "left"
            corners = [start] if wall == near else []
            corners += list(wing.run_m) if wall == "front" else []
        elif axis:
            corners = [start, start + wing.house.depth_m] if wall == wing.side else []
        else:
            corners = [turn * (half + wing.house.width_m)]
        found |= {figures.on_step(at) for at in corners}
    return sorted(found)


def _bubbles(
    design: Design, axes: Sequence[float], figures: Figures, under: float, mm: float
) -> list[Item]:
    """The columns' axes with their numbers, each broken where a row of figures stands."""
    made: list[Item] = []
    for i, x in enumerate(axes):
        y = figures.on_step(design.porch.front_axes_m[i][1])
        for start, end in (
            (y + 6.0 * mm, under + 6.0 * mm),
            (under - 12.5 * mm, under - 24.0 * mm),
        ):
            made.append(Line("CENTRE", np.array([[x, start], [x, end]])))
        made.append(Symbol("GRID-BUBBLE", (x, under - 27.6 * mm), str(i + 1)))
    return made


def _side_axes(design: Design) -> list[tuple[str, float, float]]:
    """The outer columns of side porches: which side, and x and y of each axis."""
    return [
        (one.side, *on_plan(design.house, one.side, x, one.porch.column_y_m))
        for one in design.side_porches
        for x in one.porch.axes_m
    ]


def _plan_marks(design: Design, figures: Figures, mm: float) -> list[Item]:
    """Letters of the schedule's types inside each opening, and what the rooms are."""
    made: list[Item] = []
    house = design.house
    letters = marks_of(design)
    for one in placed(design):
        if one.opening.storey != 0:
            continue
        letter = letters[one.opening]
        (x, y), out = one.middle_m, -VIEW_OF[one.opening.wall].axes[2]
        inside = one.wall_m + 5.0 * mm
        place = (x - out[0] * inside, y - out[1] * inside)
        made.append(Arc("GRID", place, 2.4 * mm))
        made.append(Text((place[0], place[1] - 0.75 * mm), letter, 2.1, "centre"))
    middle = house.depth_m / 2.0
    words = "Rooms are not designed here"
    made.append(Text((0.0, middle), words, 2.4, "centre", face="italic"))
    wall = figures.on_step(house.wall_thickness_m)
    inner = figures.on_step(house.width_m / 2.0) - wall
    corner = house.depth_m - wall - 9.0 * mm
    thick = figures.text(wall)
    beside = (inner - 6.0 * mm, corner - 0.8 * mm)
    made.append(Dimension((inner, corner), (inner + wall, corner), corner, False, thick, beside))
    x = section_x_m(design)
    front = porch_front_m(design) - 3.0 * mm
    for y, start in ((front - 2.0 * mm, front + 4.0 * mm), (wall + 22.0 * mm, wall + 10.0 * mm)):
        made.append(Line("CENTRE", np.array([[x, start], [x, y]])))
        made.append(Symbol("SECTION-MARK", (x, y), "S", 90.0))
    return made


def porch_front_m(design: Design) -> float:
    """Y of the lowest riser's edge."""
    porch = design.porch
    return porch.column_y_m - porch.floor_edge_m - porch.steps.run_m


# --- setting out ---------------------------------------------------------------------------


def setting_out_sheet(
    design: Design,
    model: Model,
    heading: Heading,
    paper_mm: tuple[float, float],
    number: str,
    notes: Sequence[str],
    sheets: int = 0,
) -> Sheet:
    """The porch's axes, columns, floor and steps from one datum, cut through the shafts."""
    figures = figures_of(design)
    porch = design.porch
    order = order_of(design)
    cut = porch.floor_z_m + order.pedestal_height_m + order.base_height_m + 0.35 * order.diameter_m
    parts = [p for p in building(model) if p.name.startswith("porch/") and "roof" not in p.name]
    low, high = view_extent([p for p in parts if "/floor" in p.name or "/steps" in p.name], PLAN)
    low = low - 0.12
    inside = max(high[1], porch.back_y_m) + design.house.wall_thickness_m
    high = np.array([high[0] + 0.12, inside + 0.05])
    drawn = cut_view(model, PLAN, -cut, low=low, high=high, step_m=0.008, fine=_PAVING)
    left, foot, wide, tall = room_mm(paper_mm)
    size = drawn.high - drawn.low
    table_mm = 12.0 + 4.6 * (len(porch.perimeter_axes_m) + 2)
    scale = fitting_scale(
        (float(size[0]), float(size[1])),
        (wide - 96.0, tall - 112.0),
        design.units,
        12.0 if design.units == "feet" else 10.0,
    )
    sheet = Sheet(
        number, "porch-setting-out", "Setting out of the porch", paper_mm, scale, design.units
    )
    mm = sheet.mm
    at = np.array(
        [
            mm(left + wide / 2.0 - 4.0) - float(drawn.low[0] + drawn.high[0]) / 2.0,
            mm(foot + tall - _room_above_mm(float(size[1]) * 1000.0 / scale, tall))
            - float(drawn.high[1]),
        ]
    )
    sheet.add(drawn.items, at)
    sheet.add(_setting_out(design, drawn, figures, mm(1.0)), at)
    _axis_table(sheet, design, figures, left + wide - 104.0, foot + 8.0 + table_mm)
    view_title(sheet, (mm(left + 8.0), mm(foot + 12.0)), sheet.title)
    own = [
        "All is set out from the datum: the middle of the front wall's outer face at the ground.",
        "Figures along the datum's line are running: each from the datum.",
        f"Cut over the columns' bases; shafts {figures.text(order.foot_diameter_m)} "
        f"{'square' if order.square else 'in diameter'} at the foot, "
        f"{figures.text(order.upper_diameter_m)} at the neck.",
        f"{porch.steps.risers} risers of {figures.text(porch.steps.riser_m)}, treads "
        f"{figures.text(porch.steps.tread_m)}; measure the ground before cutting.",
        "Footings and the ground under them: by the engineer.",
    ]
    frame(sheet, heading, [*own, *notes], plan=True, sheets=sheets)
    return sheet


def _room_above_mm(high_mm: float, tall_mm: float) -> float:
    """Over the drawing, so that it stands with its dimensions in the middle of the sheet."""
    return max(24.0, (tall_mm - 60.0 - high_mm - 68.0) / 2.0)


def _setting_out(design: Design, drawn: Drawn, figures: Figures, mm: float) -> list[Item]:
    """Every place on the porch's plan, from a datum on the wall's face at the front's middle."""
    porch = design.porch
    axes = [on_step_along(porch, x, figures.step_m) for x in porch.axes_m]
    edge = figures.on_step(figures.on_step(porch.column_y_m) - porch.floor_edge_m)
    noses = [
        figures.on_step(edge - k * figures.on_step(porch.steps.tread_m))
        for k in range(porch.steps.risers)
    ]
    return [
        *_datum(drawn, mm),
        *_piers(porch, drawn, figures, mm),
        *_along_the_front(design, drawn, axes, figures, mm),
        *_depths(porch, drawn, axes, edge, figures, mm),
        *_flight(porch, drawn, noses, edge, figures, mm),
        *_one_column(design, axes[0], edge, figures, mm),
        *(
            Text(
                (porch.centre_m + 0.03 + 2 * mm, (a + b) / 2.0 - 0.8 * mm), f"{k + 1}", 1.9, "left"
            )
            for k, (a, b) in enumerate(pairwise(noses))
        ),
    ]


def _datum(drawn: Drawn, mm: float) -> list[Item]:
    """The datum and its two lines."""
    low, high = drawn.low, drawn.high
    return [
        Symbol("DATUM", (0.0, 0.0), "Datum ±0"),
        Line("CENTRE", np.array([[low[0] - 8 * mm, 0.0], [high[0] + 8 * mm, 0.0]])),
        Line("CENTRE", np.array([[0.0, high[1] + 4 * mm], [0.0, low[1]]])),
    ]


def _piers(porch: PorchDesign, drawn: Drawn, figures: Figures, mm: float) -> list[Item]:
    """Behind the wall: an arcade's piers and the openings between them."""
    arcade = porch.arcade
    if arcade is None:
        return []
    edges = [-arcade.end_m, arcade.end_m]
    for bay in arcade.bays:
        edges += [bay.middle_m - bay.clear_m / 2.0, bay.middle_m + bay.clear_m / 2.0]
    places = [on_step_along(porch, porch.centre_m + x, figures.step_m) for x in edges]
    at = float(drawn.high[1]) + 8.0 * mm
    words = Text((max(places) + 3.0 * mm, at - 0.7 * mm), "piers and arches", 1.7, face="italic")
    row = chain(places, at, figures, upright=False, foot=at - 5.0 * mm, mm_m=mm)
    return [*row, words]


def _along_the_front(
    design: Design, drawn: Drawn, axes: list[float], figures: Figures, mm: float
) -> list[Item]:
    """Axis to axis, running from the datum, and the bubbles."""
    porch, order = design.porch, order_of(design)
    under = float(drawn.low[1]) - 16.0 * mm
    made: list[Item] = []
    ends: list[float] = []
    if isinstance(porch, StraightPorch):
        ends = [
            on_step_along(porch, porch.axes_m[0] - porch.floor_edge_m, figures.step_m),
            on_step_along(porch, porch.axes_m[-1] + porch.floor_edge_m, figures.step_m),
        ]
        made += chain(
            ends, under - 11.5 * mm, figures, upright=False, foot=under - 6.0 * mm, mm_m=mm
        )
    if len(axes) > 1:
        places = [*axes, *ends]
        made += chain(places, under - 5.0 * mm, figures, upright=False, foot=under, mm_m=mm)
    made += _running(axes, under - 31.0 * mm, figures, mm)
    for i, x in enumerate(axes):
        y = porch.front_axes_m[i][1]
        cross = 0.7 * order.foot_width_m
        made.append(Line("CENTRE", np.array([[x, y - cross], [x, y + cross]])))
        made.append(Line("CENTRE", np.array([[x, under + 4.0 * mm], [x, under - 32.4 * mm]])))
        made.append(Symbol("GRID-BUBBLE", (x, under - 36.0 * mm), str(i + 1)))
    return made


def _depths(
    porch: PorchDesign, drawn: Drawn, axes: list[float], edge: float, figures: Figures, mm: float
) -> list[Item]:
    """At the left: wall, axes, edge of the floor."""
    y_axis = figures.on_step(porch.column_y_m)
    back = figures.on_step(porch.back_y_m)
    returns = (figures.on_step(y) for y in max(porch.sides_m, key=len))
    faces = []
    if porch.arcade is not None:
        face = y_axis + figures.on_step(porch.arcade.behind_m)
        faces = [face, face + figures.on_step(porch.arcade.thick_m)]
    ys = sorted({0.0, back, y_axis, edge, *returns, *faces})
    left = float(drawn.low[0]) - 6.0 * mm
    return [
        *chain(ys, left - 6.0 * mm, figures, upright=True, foot=left, mm_m=mm),
        Line("CENTRE", np.array([[left - 16.0 * mm, y_axis], [axes[-1] + 6.0 * mm, y_axis]])),
        Symbol("GRID-BUBBLE", (left - 19.6 * mm, y_axis), "A"),
    ]


def _flight(
    porch: PorchDesign, drawn: Drawn, noses: list[float], edge: float, figures: Figures, mm: float
) -> list[Item]:
    """The flight at the right: edge, each riser's face; and its width."""
    right = float(drawn.high[0]) + 6.0 * mm
    made: list[Item] = []
    if len(noses) > 1:
        made += chain(noses, right + 4.0 * mm, figures, upright=True, foot=right, mm_m=mm)
    made += chain(
        [noses[-1], edge], right + 17.0 * mm, figures, upright=True, foot=right + 5 * mm, mm_m=mm
    )
    half = figures.on_step(porch.steps.width_m / 2.0)
    foot = float(drawn.low[1]) - 1.5 * mm
    middle = figures.on_step(porch.centre_m)
    sides = [middle - half, middle + half]
    if porch.steps.risers > 1:
        cheek = figures.on_step(CHEEK_WIDTH_M)
        sides = [sides[0] - cheek, *sides, sides[1] + cheek]
    made += chain(sides, foot - 5.0 * mm, figures, upright=False, foot=foot, mm_m=mm)
    words = "flight, clear between its cheeks"
    made.append(Text((middle, foot - 9.0 * mm), words, 1.7, "centre", face="italic"))
    return made


def _one_column(design: Design, x: float, edge: float, figures: Figures, mm: float) -> list[Item]:
    """One column's plan: plinth or pedestal, at the first axis."""
    order = order_of(design)
    plinth = figures.on_step(order.foot_width_m / 2.0)
    foot = figures.on_step(design.porch.column_y_m) - plinth
    words = f"{'pedestal' if order.pedestal else 'plinth'}, square"
    return [
        *chain(
            [x - plinth, x + plinth], edge - 10.0 * mm, figures, upright=False, foot=foot, mm_m=mm
        ),
        Text((x, edge - 13.6 * mm), words, 1.7, "centre", face="italic"),
    ]


def _running(places: Sequence[float], at: float, figures: Figures, mm: float) -> list[Item]:
    """Each place's distance from the datum, written along its axis."""
    made: list[Item] = []
    for x in places:
        text = figures.text(abs(x))
        made.append(Text((x - 0.8 * mm, at), text, 2.1, turn_deg=90.0))
    return made


def _axis_table(
    sheet: Sheet, design: Design, figures: Figures, left_mm: float, top_mm: float
) -> None:
    """Every column's place from the datum, as numbers."""
    mm = sheet.mm
    columns = (0.0, 18.0, 50.0, 76.0)
    heads = ("Column", "along the front", "before the wall", "from axis 1")
    porch = design.porch
    y = top_mm
    sheet.items.append(Text((mm(left_mm), mm(y + 3.0)), "Columns' centres, from the datum", 2.6))
    y -= 2.0
    for x, head in zip(columns, heads, strict=True):
        sheet.items.append(Text((mm(left_mm + x), mm(y)), head, 1.7, face="italic"))
    y -= 1.4
    sheet.items.append(
        Line("SHEET-FINE", np.array([[mm(left_mm), mm(y)], [mm(left_mm + 96.0), mm(y)]]))
    )
    first = on_step_along(porch, porch.axes_m[0], figures.step_m)
    for name, (px, py) in column_names(design):
        y -= 4.4
        x = on_step_along(porch, px, figures.step_m)
        side = "left" if x < 0 else "right" if x > 0 else ""
        cells = (
            name,
            f"{figures.text(abs(x))} {side}",
            figures.text(abs(figures.on_step(py))) + (" behind" if py > 1e-9 else ""),
            figures.text(x - first),
        )
        for column, cell in zip(columns, cells, strict=True):
            sheet.items.append(Text((mm(left_mm + column), mm(y)), cell, 2.1))


def column_names(design: Design) -> list[tuple[str, tuple[float, float]]]:
    """Each column's name by its axes, and its plan place."""
    porch = design.porch
    front = list(porch.perimeter_axes_m)
    left, right = (len(side) for side in porch.sides_m)
    rows = [str(i + 1) for i in range(len(porch.axes_m))]
    named = []
    for k, place in enumerate(front):
        if k < left:
            named.append((f"{rows[0]}, return {left - k}", place))
        elif k >= len(front) - right:
            named.append((f"{rows[-1]}, return {k - (len(front) - right) + 1}", place))
        else:
            named.append((rows[k - left], place))
    return named

"""The porch cut across, from the ground to the roof behind it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from massing.design.design import Design
from massing.geometry.mesh import Floats
from massing.parts.part import Model
from massing.present.drawings.cuts import cut_view
from massing.present.drawings.elevation_sheets import level_marks
from massing.present.drawings.elevations import Drawn
from massing.present.drawings.frame import Heading, frame, room_mm, view_title
from massing.present.drawings.heights import (
    ceiling_levels,
    figures_of,
    house_levels,
    order_of,
    pitch_text,
    pitches,
    porch_levels,
)
from massing.present.drawings.items import Item, Line, Symbol, Text
from massing.present.drawings.lettering import Figures, chain
from massing.present.drawings.scales import fitting_scale
from massing.present.drawings.sheet import Sheet
from massing.settingout.porch_roofs import rise_run_m
from massing.view.hidden_lines import RIGHT

_INTO_HOUSE_M = 1.2
_LEFT_MM, _RIGHT_MM, _ABOVE_MM, _BELOW_MM = 40.0, 62.0, 12.0, 52.0
_LARGEST = {"feet": 8.0, "metric": 10.0}  # scale


def section_x_m(design: Design) -> float:
    """Where the porch is cut: the middle of the opening nearest the porch's middle."""
    axes = design.porch.axes_m
    if len(axes) < 2:
        return axes[0] + 0.75 * design.porch.order.foot_width_m
    gaps = [(a + b) / 2.0 for a, b in pairwise(axes)]
    return min(gaps, key=design.porch.from_middle_m)


def section_sheet(
    design: Design,
    model: Model,
    heading: Heading,
    paper_mm: tuple[float, float],
    number: str,
    notes: Sequence[str],
    sheets: int = 0,
) -> Sheet:
    """The porch, its steps and the wall behind, cut from front to back."""
    figures = figures_of(design)
    x = section_x_m(design)
    low, high = _window(design)
    drawn = cut_view(model, RIGHT, -x, low=low, high=high, step_m=0.01, grain=True)
    left, foot, wide, tall = room_mm(paper_mm)
    size = drawn.high - drawn.low
    room = (wide - _LEFT_MM - _RIGHT_MM, tall - _ABOVE_MM - _BELOW_MM)
    scale = fitting_scale(
        (float(size[0]), float(size[1])), room, design.units, _LARGEST[design.units]
    )
    title = "Section through the porch"
    sheet = Sheet(number, "porch-section", title, paper_mm, scale, design.units)
    mm = sheet.mm(1.0)
    middle = mm * (left + _LEFT_MM + 0.5 * room[0])
    at = np.array([middle - float(size[0]) / 2.0, mm * (foot + _BELOW_MM)]) - drawn.low
    sheet.add([i for i in drawn.items if not _in_a_room(i, design)], at)
    sheet.add(_ground(design, drawn, x, mm), at)
    sheet.add(_flight(design, figures, mm), at)
    sheet.add(_heights(design, drawn, figures, mm), at)
    sheet.add(_levels(design, model, drawn, figures, mm), at)
    sheet.add(_depths(design, drawn, figures, mm), at)
    view_title(sheet, (sheet.mm(left + 8.0), sheet.mm(foot + 10.0)), sheet.title)
    frame(sheet, heading, [*_own_notes(design, x, figures), *notes], sheets=sheets)
    return sheet


def _in_a_room(item: Item, design: Design) -> bool:
    """Whether a line is of what is seen within the house: sills and casings in walls beyond."""
    if not isinstance(item, Line) or item.layer == "CUT":
        return False
    inside = design.porch.back_y_m + design.house.wall_thickness_m + 1e-3
    beyond, under = item.points[:, 0] > inside, item.points[:, 1] < design.house.wall_top_z_m
    return bool((beyond & under).all())


def _window(design: Design) -> tuple[Floats, Floats]:
    """Lowest and highest corner ``(2,)`` of what is drawn, as (into the house, up)."""
    porch = design.porch
    highest = porch.highest
    pitch = highest.roof_pitch or 0.0  # none of a flat one
    ridge = highest.top_z_m + pitch * rise_run_m(highest, design.roof)
    levels = [z for _, z in porch_levels(design)]
    top = max(*levels, design.house.wall_top_z_m, ridge) + 0.6
    edge = porch.column_y_m - porch.floor_edge_m - porch.steps.run_m
    low = np.array([edge - 0.5, min(0.0, porch.steps.foot_z_m) - 0.45])
    return low, np.array([porch.back_y_m + _INTO_HOUSE_M, top])


def _ground(design: Design, drawn: Drawn, x: float, mm: float) -> list[Item]:
    """The ground line, and the line under which footings are the engineer's."""
    low, high = drawn.low, drawn.high
    ys = np.array([low[0], design.porch.back_y_m])
    ground = np.column_stack([ys, design.site.ground.z_m(np.full(2, x), ys)])
    footing = low[1] + 0.12
    words = "Footing line: depth and footings by the engineer, by the ground and the frost there"
    return [
        Line("GROUND", ground),
        Line("HIDDEN", np.array([[low[0] + 0.3, footing], [high[0], footing]])),
        Text((low[0] + 0.3, footing - 3.4 * mm), words, 1.9, face="italic"),
    ]


def _flight(design: Design, figures: Figures, mm: float) -> list[Item]:
    """How many risers and goings the flight has, beside the floor's edge over it."""
    porch, steps = design.porch, design.porch.steps
    if steps.risers < 2:
        return []
    goings = steps.risers - 1
    lines = (
        f"{goings} going{'s' if goings > 1 else ''} of {figures.text(steps.tread_m)}",
        f"{steps.risers} risers of {figures.text(steps.riser_m)}",
    )
    x = porch.column_y_m - porch.floor_edge_m - 2.0 * mm
    foot = porch.floor_z_m + 2.0 * mm
    return [
        Text((x, foot + k * 3.4 * mm), line, 1.9, "right", face="italic")
        for k, line in enumerate(lines)
    ]


def _heights(design: Design, drawn: Drawn, figures: Figures, mm: float) -> list[Item]:
    """Chains at the left: the order's divisions near the drawing, the porch's parts beyond."""
    order = order_of(design)
    near = float(drawn.low[0]) - 3.0 * mm
    running = figures.on_step(design.porch.floor_z_m)
    divisions = [0.0, running]
    for part in (
        order.pedestal_height_m,
        order.base_height_m,
        order.shaft_height_m,
        order.capital_height_m,
        order.architrave_height_m,
        order.frieze_height_m,
        order.cornice_height_m,
    ):
        if part:
            running += part
            divisions.append(running)
    parts = [0.0, *(z for _, z in porch_levels(design))]
    beyond = near - 9.5 * mm
    return [
        *chain(divisions, near - 8.0 * mm, figures, upright=True, foot=near, mm_m=mm),
        *chain(parts, near - 19.0 * mm, figures, upright=True, foot=beyond, mm_m=mm),
    ]


def _levels(design: Design, model: Model, drawn: Drawn, figures: Figures, mm: float) -> list[Item]:
    """Levels at the right, each with its name, as far up as is drawn."""
    levels = [*house_levels(design, model), *porch_levels(design), *ceiling_levels(design)]
    edge = float(drawn.high[0]) + 3.0 * mm
    return level_marks([(n, z) for n, z in levels if z <= drawn.high[1]], edge, figures, mm)


def _depths(design: Design, drawn: Drawn, figures: Figures, mm: float) -> list[Item]:
    """Chains below: each tread, the wall and its thickness, then the flight, the axis, the wall."""
    porch, order = design.porch, order_of(design)
    axis = figures.on_step(porch.column_y_m)
    edge = figures.on_step(axis - porch.floor_edge_m)
    tread = figures.on_step(porch.steps.tread_m)
    noses = [edge - k * tread for k in range(porch.steps.risers)]
    under = float(drawn.low[1]) - 3.0 * mm
    wall = figures.on_step(porch.back_y_m)
    near = [*noses, wall, wall + figures.on_step(design.house.wall_thickness_m)]
    far = [noses[-1], edge, axis, wall]
    foot = under - 6.0 * mm
    items: list[Item] = [
        *chain(near, under - 5.0 * mm, figures, upright=False, foot=under, mm_m=mm),
        *chain(far, under - 14.0 * mm, figures, upright=False, foot=foot, mm_m=mm),
    ]
    top = figures.on_step(porch.floor_z_m) + order.pedestal_height_m + order.column_height_m
    # the axis is broken where words and figures stand
    for start, end in ((top, 0.0), (under - 9.0 * mm, under - 18.0 * mm)):
        items.append(Line("CENTRE", np.array([[axis, start], [axis, end]])))
    return [*items, Symbol("GRID-BUBBLE", (axis, under - 21.6 * mm), "A")]


def _own_notes(design: Design, x: float, figures: Figures) -> list[str]:
    steps, where = design.porch.steps, "on the front's middle"
    if abs(x) > 1e-6:
        side = "left" if x < 0 else "right"
        where = f"{figures.text(abs(x))} {side} of the front's middle"
    slopes = "; ".join(f"{name} {pitch_text(s, design.units)}" for name, s in pitches(design))
    return [
        f"Cut {where}, looking to the left.",
        f"Roofs as drawn: {slopes}.",
        "Cut masonry is filled, cut timber hatched. The building is drawn as modelled: what is "
        "inside walls, roofs and floors is for who builds them and for the engineer.",
        f"Riser {figures.text(steps.riser_m)}, tread {figures.text(steps.tread_m)}: "
        "stairs, guards and rails by the local code.",
    ]

"""The porch cut across, from the ground to the roof behind it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from massing.design.design import Design
from massing.parts.part import Model
from massing.present.drawings.cuts import cut_view
from massing.present.drawings.frame import Heading, frame, room_mm, view_title
from massing.present.drawings.heights import (
    figures_of,
    house_levels,
    order_of,
    porch_levels,
    spread,
)
from massing.present.drawings.items import Item, Line, Symbol, Text
from massing.present.drawings.lettering import chain
from massing.present.drawings.scales import fitting_scale
from massing.present.drawings.sheet import Sheet
from massing.view.hidden_lines import RIGHT

_INTO_HOUSE_M = 1.2
_LEFT_MM, _RIGHT_MM, _ABOVE_MM, _BELOW_MM = 40.0, 62.0, 12.0, 52.0


def section_x_m(design: Design) -> float:
    """Where the porch is cut: the middle of the opening nearest the front's middle."""
    axes = design.porch.axes_m
    if len(axes) < 2:
        return axes[0] + 0.75 * design.porch.order.foot_width_m
    gaps = [(a + b) / 2.0 for a, b in pairwise(axes)]
    return min(gaps, key=abs)


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
    figures, porch, order = figures_of(design), design.porch, order_of(design)
    x = section_x_m(design)
    top = max(z for _, z in [*porch_levels(design), ("", design.house.wall_top_z_m)]) + 0.6
    edge = porch.column_y_m - porch.floor_edge_m - porch.steps.run_m
    low = np.array([edge - 0.5, min(0.0, porch.steps.foot_z_m) - 0.45])
    high = np.array([porch.back_y_m + _INTO_HOUSE_M, top])
    drawn = cut_view(model, RIGHT, -x, low=low, high=high, step_m=0.01, grain=True)
    left, foot, wide, tall = room_mm(paper_mm)
    size = drawn.high - drawn.low
    scale = fitting_scale(
        (float(size[0]), float(size[1])),
        (wide - _LEFT_MM - _RIGHT_MM, tall - _ABOVE_MM - _BELOW_MM),
        design.units,
        8.0 if design.units == "feet" else 10.0,
    )
    sheet = Sheet(
        number, "porch-section", "Section through the porch", paper_mm, scale, design.units
    )
    mm = sheet.mm(1.0)
    at = (
        np.array(
            [
                mm * (left + _LEFT_MM + 0.5 * (wide - _LEFT_MM - _RIGHT_MM)) - float(size[0]) / 2.0,
                mm * (foot + _BELOW_MM),
            ]
        )
        - drawn.low
    )
    items: list[Item] = list(drawn.items)
    lie = design.site.ground
    ys = np.array([low[0], porch.back_y_m])
    items.append(Line("GROUND", np.column_stack([ys, lie.z_m(np.full(2, x), ys)])))
    footing = low[1] + 0.12
    items.append(Line("HIDDEN", np.array([[low[0] + 0.3, footing], [high[0], footing]])))
    items.append(
        Text(
            (low[0] + 0.3, footing - 3.4 * mm),
            "Footing line: depth and footings by the engineer, by the ground and the frost there",
            1.9,
            face="italic",
        )
    )
    # heights: the porch's parts near, the members' groups beyond
    names = porch_levels(design)
    near = float(drawn.low[0]) - 3.0 * mm
    groups = [0.0]
    floor = figures.on_step(porch.floor_z_m)
    running = floor
    groups.append(running)
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
            groups.append(running)
    items += chain(groups, near - 8.0 * mm, figures, upright=True, foot=near, mm_m=mm)
    items += chain(
        [0.0, *(z for _, z in names)],
        near - 19.0 * mm,
        figures,
        upright=True,
        foot=near - 9.5 * mm,
        mm_m=mm,
    )
    # levels at the right
    named: dict[float, list[str]] = {}
    for name, z in [*house_levels(design, model), *names]:
        if z <= high[1]:
            named.setdefault(round(z, 6), []).append(name)
    heights = sorted(named)
    places = spread(heights, 6.4 * mm)
    edge_x = float(drawn.high[0]) + 3.0 * mm
    for z, place in zip(heights, places, strict=True):
        elbow = np.array([[edge_x, z], [edge_x + 5.0 * mm, z], [edge_x + 10.0 * mm, place]])
        items.append(Line("LEVELS", elbow))
        items.append(Symbol("LEVEL", (edge_x + 14.0 * mm, place), figures.level(z)))
        first, *rest = named[z]
        words = ", ".join([first, *(r[:1].lower() + r[1:] for r in rest)])
        items.append(Text((edge_x + 17.2 * mm, place - 2.4 * mm), words, 1.6, face="italic"))
    # depths below
    axis = figures.on_step(porch.column_y_m)
    floor_edge = figures.on_step(axis - porch.floor_edge_m)
    tread = figures.on_step(porch.steps.tread_m)
    noses = [floor_edge - k * tread for k in range(porch.steps.risers)]
    under = float(drawn.low[1]) - 3.0 * mm
    wall = figures.on_step(porch.back_y_m)
    inside = wall + figures.on_step(design.house.wall_thickness_m)
    items += chain(
        [*noses, wall, inside], under - 5.0 * mm, figures, upright=False, foot=under, mm_m=mm
    )
    items += chain(
        [noses[-1], floor_edge, axis, wall],
        under - 14.0 * mm,
        figures,
        upright=False,
        foot=under - 6.0 * mm,
        mm_m=mm,
    )
    top_axis = floor + order.pedestal_height_m + order.column_height_m
    # broken where words and figures stand
    for start, end in ((top_axis, 0.0), (under - 9.0 * mm, under - 18.0 * mm)):
        items.append(Line("CENTRE", np.array([[axis, start], [axis, end]])))
    items.append(Symbol("GRID-BUBBLE", (axis, under - 21.6 * mm), "A"))
    sheet.add(items, at)
    view_title(sheet, (sheet.mm(left + 8.0), sheet.mm(foot + 10.0)), sheet.title)
    own = [
        f"Cut {figures.text(abs(x))} {'left' if x < 0 else 'right'} of the front's middle, "
        "looking to the left."
        if abs(x) > 1e-6
        else "Cut on the front's middle, looking to the left.",
        "Cut masonry is filled, cut timber hatched. The building is drawn as modelled: what is "
        "inside walls, roofs and floors is for who builds them and for the engineer.",
        f"Riser {figures.text(porch.steps.riser_m)}, tread {figures.text(porch.steps.tread_m)}: "
        "stairs, guards and rails by the local code.",
    ]
    frame(sheet, heading, [*own, *notes], sheets=sheets)
    return sheet

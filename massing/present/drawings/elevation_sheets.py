"""Elevations on their sheets: levels, pitches and chains of dimensions about the drawing."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from massing.design.design import Design
from massing.parts.part import Model
from massing.present.drawings.elevations import Drawn, Ready, building, elevation_view, view_extent
from massing.present.drawings.frame import Heading, frame, room_mm, view_title
from massing.present.drawings.heights import (
    arcade_levels,
    block_levels,
    dormer_levels,
    figures_of,
    house_levels,
    opening_levels,
    pitch_text,
    pitches,
    porch_levels,
    spread,
)
from massing.present.drawings.items import Item, Line, Symbol, Text
from massing.present.drawings.joinery import placed
from massing.present.drawings.lettering import Figures, chain, text_width_mm
from massing.present.drawings.scales import fitting_scale
from massing.present.drawings.sheet import Sheet
from massing.settingout.porch import on_step_along
from massing.settingout.side_porches import on_plan
from massing.units import floor_name
from massing.view.hidden_lines import (
    FRONT,
    LEFT,
    RIGHT,
    Square,
)

_WALL_OF = {"front": "front", "rear": "back", "right side": "right", "left side": "left"}
_LEFT_MM, _RIGHT_MM, _ABOVE_MM, _BELOW_MM = 34.0, 58.0, 10.0, 46.0
_ROW_ABOVE_MM = 9.0
_STEP_MM = {True: 0.18, False: 0.3}
"""Between the rays that look for shadows, on the paper: of the front, of the other sides."""


def elevation_sheet(
    design: Design,
    model: Model,
    view: Square,
    heading: Heading,
    paper_mm: tuple[float, float],
    number: str,
    notes: Sequence[str],
    *,
    to_sun: ArrayLike | None = None,
    light: str = "",
    sheets: int = 0,
    least_scale: float = 1.0,
    ready: Ready | None = None,
) -> Sheet:
    """One side of the house on a sheet, at ``least_scale`` or smaller."""
    figures = figures_of(design)
    scale = max(least_scale, elevation_scale(design, model, view, paper_mm))
    spacing = _STEP_MM[view is FRONT] * scale / 1000.0
    drawn = elevation_view(model, view, design.site.ground, to_sun, spacing, ready)
    left, foot, wide, tall = room_mm(paper_mm)
    size = drawn.high - drawn.low
    name = f"{view.name.capitalize()} elevation"
    sheet = Sheet(number, name.lower().replace(" ", "-"), name, paper_mm, scale, design.units)
    mm = sheet.mm
    spare_x = mm(wide - _LEFT_MM - _RIGHT_MM) - size[0]
    spare_y = mm(tall - _above_mm(design, view) - _BELOW_MM) - size[1]
    at = np.array(
        [
            mm(left + _LEFT_MM) + 0.5 * spare_x - drawn.low[0],
            mm(foot + _BELOW_MM) + 0.45 * spare_y - drawn.low[1],
        ]
    )
    sheet.add(drawn.items, at)
    sheet.add(_upright_chains(design, model, drawn, figures, sheet), at)
    sheet.add(_levels(design, model, view, drawn, figures, sheet), at)
    sheet.add(_pitches(design, drawn, sheet), at)
    sheet.add(_chains_above(design, view, drawn, figures, sheet), at)
    sheet.add(_level_chains(design, view, drawn, figures, sheet), at)
    title_y = mm(foot + 12.0)
    view_title(sheet, (mm(left + 8.0), title_y), name)
    own = [light] if light else []
    frame(sheet, heading, [*own, *notes], sheets=sheets)
    return sheet


def elevation_scale(
    design: Design, model: Model, view: Square, paper_mm: tuple[float, float]
) -> float:
    """The scale at which a side fits the paper."""
    low, high = view_extent(building(model), view)
    size = high - np.array([low[0], min(low[1], 0.0)])
    _, _, wide, tall = room_mm(paper_mm)
    return fitting_scale(
        (float(size[0]), float(size[1])),
        (wide - _LEFT_MM - _RIGHT_MM, tall - _above_mm(design, view) - _BELOW_MM),
        design.units,
        48.0 if design.units == "feet" else 50.0,
    )


def _above_mm(design: Design, view: Square) -> float:
    """Room over the drawing, for the roofs' pitches and rows of dimensions."""
    rows = len(rows_above(design, view))
    return _ABOVE_MM + (_ROW_ABOVE_MM * rows + 2.0 if rows else 0.0)


def _upright_chains(
    design: Design, model: Model, drawn: Drawn, figures: Figures, sheet: Sheet
) -> list[Item]:
    """Heights at the left: the porch's near the house, the storeys' beyond."""
    mm = sheet.mm(1.0)
    edge = float(drawn.low[0]) - 4.0 * mm
    porch = [0.0, *(z for _, z in porch_levels(design))]
    house = [z for _, z in house_levels(design, model)]
    made: list[Item] = []
    made += chain(porch, edge - 10.0 * mm, figures, upright=True, foot=edge, mm_m=mm)
    made += chain(house, edge - 21.0 * mm, figures, upright=True, foot=edge - 11.5 * mm, mm_m=mm)
    return made


def _levels(
    design: Design, model: Model, view: Square, drawn: Drawn, figures: Figures, sheet: Sheet
) -> list[Item]:
    """Levels at the right, each with its name."""
    mm = sheet.mm(1.0)
    wall = _WALL_OF[view.name]
    levels = [
        *house_levels(design, model),
        *porch_levels(design),
        *opening_levels(design, wall),
        *(arcade_levels(design) if view is FRONT else ()),
        *block_levels(design, model),
        *dormer_levels(design, wall),
    ]
    return level_marks(levels, float(drawn.high[0]) + 4.0 * mm, figures, mm)


def _pitches(design: Design, drawn: Drawn, sheet: Sheet) -> list[Item]:
    """Each roof's pitch over the drawing: a triangle of its run and rise, and words."""
    mm = sheet.mm(1.0)
    x, y = float(drawn.low[0]), float(drawn.high[1]) + 3.5 * mm
    made: list[Item] = []
    for name, slope in pitches(design):
        run = min(7.0, 4.5 / slope) * mm
        made.append(
            Line("FINE", np.array([[x, y], [x + run, y], [x + run, y + run * slope]]), True)
        )
        words = f"{name}: {pitch_text(slope, design.units)}"
        made.append(Text((x + run + 1.6 * mm, y), words, 1.9))
        x += run + mm * (text_width_mm(words, 1.9) + 9.0)
    return made


def rows_above(design: Design, view: Square) -> list[tuple[str, list[float]]]:
    """Where dormers and openings of upper storeys stand along a side, in the view's coordinates.

    A storey whose openings stand over those under it is left out: the plan has them.
    """
    figures, wall = figures_of(design), _WALL_OF[view.name]
    along = 0 if wall in ("front", "back") else 1
    turn = float(view.axes[0][along])
    half = design.house.width_m / 2.0
    ends = (-half, half) if along == 0 else (0.0, design.house.depth_m)
    found: dict[str, set[float]] = {}
    ground = set()
    for one in placed(design):
        if one.opening.wall != wall:
            continue
        x = figures.on_step(turn * one.middle_m[along])
        if one.floor_z_m is None:
            words = "Dormers" if "dormers" in one.where else "Openings in gables"
            found.setdefault(words, set()).add(x)
        elif one.opening.storey == 0:
            ground.add(x)
        elif one.opening.storey is not None:
            words = f"Openings, {floor_name(one.opening.storey, design.units)}"
            found.setdefault(words, set()).add(x)
    for gable in design.roof.gables:
        if gable.wall == wall:  # its corners, as seen from outside
            corners = (gable.along_m - gable.width_m / 2.0, gable.along_m + gable.width_m / 2.0)
            found.setdefault("Gables", set()).update(map(figures.on_step, corners))
    return [
        (words, sorted({*places, *(figures.on_step(turn * end) for end in ends)}))
        for words, places in found.items()
        if not places <= ground or not words.startswith("Openings, ")
    ]


def _chains_above(
    design: Design, view: Square, drawn: Drawn, figures: Figures, sheet: Sheet
) -> list[Item]:
    """Those rows as chains over the drawing, each with its name."""
    mm = sheet.mm(1.0)
    made: list[Item] = []
    for i, (words, places) in enumerate(rows_above(design, view)):
        at = float(drawn.high[1]) + (13.0 + _ROW_ABOVE_MM * i) * mm
        made += chain(places, at, figures, upright=False, foot=at - 4.5 * mm, mm_m=mm)
        made.append(Text((places[-1] + 3.0 * mm, at - 0.7 * mm), words, 1.7, face="italic"))
    return made


def level_marks(
    levels: Sequence[tuple[str, float]], edge: float, figures: Figures, mm: float
) -> list[Item]:
    """Names and heights as marks to the right of ``edge``, spread so that each can be read."""
    named: dict[float, list[str]] = {}
    for name, z in levels:
        named.setdefault(round(z, 6), []).append(name)
    heights = sorted(named)
    made: list[Item] = []
    for z, place in zip(heights, spread(heights, 6.4 * mm), strict=True):
        elbow = np.array([[edge, z], [edge + 5.0 * mm, z], [edge + 10.0 * mm, place]])
        first, *rest = named[z]
        words = ", ".join([first, *(n[:1].lower() + n[1:] for n in rest)])
        made += [
            Line("LEVELS", elbow),
            Symbol("LEVEL", (edge + 14.0 * mm, place), figures.level(z)),
            Text((edge + 17.2 * mm, place - 2.3 * mm), words, 1.5, face="italic"),
        ]
    return made


def grid_places(design: Design, view: Square) -> list[tuple[str, float]]:
    """Names of the porch's axes and where a view has them."""
    porch = design.porch
    if view is FRONT or view.name == "plan":
        return [(str(i + 1), x) for i, x in enumerate(porch.axes_m)]
    if view in (RIGHT, LEFT):
        side = 1.0 if view is RIGHT else -1.0
        along = porch.sides_m[1 if view is RIGHT else 0]
        ys = sorted({porch.column_y_m, *along})
        return [(chr(ord("A") + i), side * y) for i, y in enumerate(ys)]
    return []


def _level_chains(
    design: Design, view: Square, drawn: Drawn, figures: Figures, sheet: Sheet
) -> list[Item]:
    """Widths under the ground line: the porch's axes, then the walls'."""
    mm = sheet.mm(1.0)
    under = float(drawn.low[1]) - 6.0 * mm
    made: list[Item] = []
    house, porch = design.house, design.porch
    axes = grid_places(design, view)
    if view is FRONT:
        axes = [(name, on_step_along(porch, x, figures.step_m)) for name, x in axes]
    axes = [(name, figures.on_step(x)) for name, x in axes]
    if view in (RIGHT, LEFT):
        side = 1.0 if view is RIGHT else -1.0
        walls = sorted([0.0, side * figures.on_step(house.depth_m)])
        places = sorted([*(x for _, x in axes), *walls])
        made += chain(places, under - 6.0 * mm, figures, upright=False, foot=under, mm_m=mm)
        own = next((p for p in design.side_porches if p.side == view.name.split()[0]), None)
        if own is not None:  # its columns between the house's corners
            columns = [side * on_plan(house, own.side, x, 0.0)[1] for x in own.porch.axes_m]
            row = under - 14.0 * mm
            made += chain(
                [*columns, *walls], row, figures, upright=False, foot=row + 7.0 * mm, mm_m=mm
            )
            made += [
                Line("CENTRE", np.array([[x, under + 5.0 * mm], [x, row - 3.0 * mm]]))
                for x in columns
            ]
    else:
        half = figures.on_step(house.width_m / 2.0)
        walls = [-half, half]
        reach = sorted(house.reach_x_m)
        turn = 1.0 if view is FRONT else -1.0
        outer = sorted({*walls, *(turn * figures.on_step(x) for x in reach)})
        if len(axes) > 1:
            # from the walls where the porch stands off their middle
            places = [*(x for _, x in axes), *(walls if porch.centre_m else ())]
            made += chain(places, under - 6.0 * mm, figures, upright=False, foot=under, mm_m=mm)
        made += chain(
            outer, under - 14.0 * mm, figures, upright=False, foot=under - 7.0 * mm, mm_m=mm
        )
    for name, x in axes:
        made.append(Line("CENTRE", np.array([[x, under + 5.0 * mm], [x, under - 18.0 * mm]])))
        made.append(Symbol("GRID-BUBBLE", (x, under - 21.6 * mm), name))
    return made

"""Elevations: lines with hidden ones left out, materials, shade and shadow, levels, dimensions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import ArrayLike
from shapely.geometry import MultiPolygon

from massing.design.design import Design
from massing.design.site import GroundDesign
from massing.geometry.mesh import Floats
from massing.geometry.rays import Caster
from massing.parts.part import Model, Part
from massing.present.drawings.frame import Heading, frame, room_mm, view_title
from massing.present.drawings.heights import (
    figures_of,
    house_levels,
    opening_levels,
    pitch_text,
    pitches,
    porch_levels,
    spread,
)
from massing.present.drawings.items import Fill, Hatch, Item, Line, Symbol, Text
from massing.present.drawings.lettering import Figures, chain, text_width_mm
from massing.present.drawings.scales import fitting_scale
from massing.present.drawings.sheet import Sheet
from massing.view.hidden_lines import (
    EDGE,
    FINE,
    FRONT,
    LEFT,
    PROFILE,
    RIGHT,
    Lines,
    Square,
    nearest_m,
    visible_lines,
)
from massing.view.regions import (
    CAST,
    SHADE,
    SPACING_M,
    as_multipolygon,
    regions,
    seen_from,
)

SMALL = ("tile", "slate", "shingle", "brick", "mortar", "foliage")
"""Materials of many small pieces: hatched, not drawn piece by piece."""

# Of each material: angle in degrees and distance in metres of its hatching. Drawn conventions,
# common practice, no source; courses of brick are three to 8 in, of slates and shingles exposed.
HATCHES: dict[str, tuple[tuple[float, float], ...]] = {
    "tile": ((90.0, 0.22),),
    "slate": ((0.0, 0.11),),
    "shingle": ((0.0, 0.085),),
    "brick": ((0.0, 0.0677),),
}
_WALL_OF = {"front": "front", "rear": "back", "right side": "right", "left side": "left"}
LAYER_OF = {FINE: "FINE", EDGE: "EDGE", PROFILE: "PROFILE"}
CONVENTIONAL = np.array([-1.0, -1.0, 1.0]) / np.sqrt(3.0)
"""The light of drawn shadows, along the diagonal of a cube, from the left over the shoulder."""

_LEFT_MM, _RIGHT_MM, _ABOVE_MM, _BELOW_MM = 34.0, 58.0, 10.0, 46.0
_GAP_M = 0.012
_BESIDE_M = 0.006
_STEP_MM = {True: 0.18, False: 0.3}
"""Between the rays that look for shadows, on the paper: of the front, of the other sides."""


@dataclass(frozen=True, eq=False)
class Drawn:
    """A view of the building without words: its items in the view's own coordinates, and size."""

    items: list[Item]
    low: Floats
    high: Floats


def building(model: Model) -> list[Part]:
    """The solid parts of the building itself, without its setting."""
    return [p for p in model.parts if p.solid and not p.name.startswith("setting/")]


@dataclass(frozen=True, eq=False)
class Ready:
    """A building made ready for rays once, for all its elevations.

    Attributes:
        parts: the building's.
        seen: casts all of them.
        shading_laid: casts what throws shadows on the small pieces, which are not among it;
            None without any.
    """

    parts: list[Part]
    seen: Caster[Part]
    shading_laid: Caster[Part] | None

    @classmethod
    def of(cls, model: Model, shaded: bool) -> Ready:
        """A model's building; ``shaded`` where shadows will be drawn."""
        parts = building(model)
        # light comes down: what ends under the lowest small piece shades none
        heights = [
            (p, stuff, p.world_bounds[:, 2]) for p, stuff in zip(parts, stuffs(parts), strict=True)
        ]
        lowest = min((float(z[0]) for _, stuff, z in heights if stuff), default=np.inf)
        others = [p for p, stuff, z in heights if not stuff and z[1] >= lowest]
        return cls(parts, Caster(parts), Caster(others) if shaded and others else None)


def small(part: Part) -> bool:
    """Whether a part is one of many small pieces of a material."""
    return part.role.split("/")[0] in SMALL


def stuffs(parts: Sequence[Part]) -> list[tuple[str, str] | None]:
    """What small pieces each part is of, or the ground between them, and of bricks whose walls
    they face; None of other parts.

    Mortar is of its bricks, and so is the wall that shows in their joints.
    """
    of_brick = {p.name.partition("/bricks/")[0] for p in parts if "/bricks/" in p.name}
    made: list[tuple[str, str] | None] = []
    for part in parts:
        kind = part.role.split("/")[0]
        body = part.name.partition("/wall/")[0].partition("/bricks/")[0]
        if kind == "mortar" or (kind == "wall" and body in of_brick):
            kind = "brick"
        faced = body if kind == "brick" and body in of_brick else ""
        made.append((kind, faced) if kind in SMALL else None)
    return made


def view_extent(parts: Sequence[Part], view: Square) -> tuple[Floats, Floats]:
    """Lowest and highest corner ``(2,)`` of the parts as drawn."""
    boxes = np.concatenate([p.world_bounds for p in parts]) @ view.axes[:2].T
    return boxes.min(axis=0), boxes.max(axis=0)


def elevation_view(
    model: Model,
    view: Square,
    ground: GroundDesign,
    to_sun: ArrayLike | None = None,
    spacing_m: float = SPACING_M,
    ready: Ready | None = None,
) -> Drawn:
    """Lines, materials and shadows of a building from one side, over its ground line.

    ``ready`` is the model made ready by a caller who draws several sides.
    """
    ready = ready or Ready.of(model, to_sun is not None)
    parts, caster = ready.parts, ready.seen
    of = stuffs(parts)
    laid = [stuff is not None for stuff in of]
    pieces = {id(part) for part, is_laid in zip(parts, laid, strict=True) if is_laid}
    lines = visible_lines(parts, view, undrawn=lambda p: id(p) in pieces, caster=caster)
    low, high = view_extent(parts, view)
    kinds = sorted({stuff for stuff in of if stuff is not None})
    groups = [0 if stuff is None else kinds.index(stuff) + 1 for stuff in of]
    labelling = seen_from(
        caster,
        view,
        nearest_m(parts, view) - 1.0,
        groups,
        to_sun,
        laid=laid,
        shading_laid=ready.shading_laid,
    )
    materials, shadows, met = {}, {}, {}
    if any(laid) or to_sun is not None:
        found = regions(labelling, low - 0.02, high + 0.02, spacing_m, lines.ends)
        materials, shadows, met = found
    outline = shapely.boundary(met[1]) if 1 in met else shapely.MultiLineString()
    foot, slope = _ground_line(ground, view, parts)
    earth = _above(foot, slope, low, high)
    items: list[Item] = []
    for label, layer in ((SHADE, "SHADE"), (CAST, "SHADOW")):
        if label in shadows:
            items += _filled(layer, shadows[label], earth)
    for label, area in materials.items():
        items += _material(kinds[label - 1][0], as_multipolygon(area.intersection(earth)), outline)
    items += line_items(lines, foot, slope)
    left, right = low[0] - 0.4, high[0] + 0.4
    run = np.array([[left, foot + slope * left], [right, foot + slope * right]])
    items.append(Line("GROUND", run))
    return Drawn(items, np.array([low[0], min(low[1], 0.0)]), high)


def line_items(lines: Lines, foot: float = -np.inf, slope: float = 0.0) -> list[Item]:
    """Lines as items of their weights' layers, joined into polylines; none under the ground."""
    made: list[Item] = []
    for weight, layer in LAYER_OF.items():
        ends = _clipped(lines.of(weight), foot, slope)
        made += [Line(layer, points) for points in polylines(ends)]
    return made


def polylines(ends: Floats) -> list[Floats]:
    """Segments ``(n, 2, 2)`` that meet end to end, as polylines."""
    if not len(ends):
        return []
    ends = np.round(ends, 5)
    ends = ends[np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1) > 5e-4]
    if not len(ends):
        return []
    merged = shapely.line_merge(shapely.multilinestrings(shapely.linestrings(ends)))
    return [shapely.get_coordinates(part) for part in shapely.get_parts(merged)]


def _clipped(ends: Floats, foot: float, slope: float) -> Floats:
    """What of the segments lies over a line."""
    if not np.isfinite(foot) or not len(ends):
        return ends
    over = ends[..., 1] - (foot + slope * ends[..., 0]) + 1e-6
    whole = (over >= 0.0).all(axis=1)
    crossed = (over >= 0.0).any(axis=1) & ~whole
    part = ends[crossed].copy()
    share = over[crossed, 0] / (over[crossed, 0] - over[crossed, 1])
    at = part[:, 0] + share[:, None] * (part[:, 1] - part[:, 0])
    second = over[crossed, 1] < 0.0
    part[second, 1], part[~second, 0] = at[second], at[~second]
    return np.concatenate([ends[whole], part])


def _ground_line(ground: GroundDesign, view: Square, parts: Sequence[Part]) -> tuple[float, float]:
    """Height and slope of the ground just before the building, in the view's coordinates."""
    right, _, forward = view.axes
    nearest = nearest_m(parts, view)
    slope = float(np.array([ground.along, ground.back]) @ right[:2])
    at = nearest * forward
    return float(ground.along * at[0] + ground.back * at[1]), slope


def _above(foot: float, slope: float, low: Floats, high: Floats) -> shapely.Polygon:
    left, right, top = low[0] - 5.0, high[0] + 5.0, high[1] + 5.0
    return shapely.Polygon(
        [(left, foot + slope * left), (right, foot + slope * right), (right, top), (left, top)]
    )


def _filled(layer: str, area: MultiPolygon, within: shapely.Polygon) -> list[Item]:
    made = as_multipolygon(area.intersection(within))
    return [Fill(layer, made)] if not made.is_empty else []


def _material(kind: str, area: MultiPolygon, outline: shapely.Geometry) -> list[Item]:
    """An area of small pieces: hatched, and outlined, heavily where it stands against the open."""
    # gaps between pieces close up, so that a surface is outlined and not each piece
    whole = area.buffer(_GAP_M, join_style="mitre").buffer(-_GAP_M, join_style="mitre")
    if kind == "brick":  # and what shows of a wall in the joints of an arch falls away
        whole = whole.buffer(-_GAP_M, join_style="mitre").buffer(_GAP_M, join_style="mitre")
    area = as_multipolygon(whole)
    if area.is_empty:
        return []
    items: list[Item] = []
    if kind in HATCHES:
        items.append(Hatch("MATERIAL", area, HATCHES[kind], kind.upper()))
    rings = shapely.simplify(shapely.boundary(area), 2e-3)
    open_air = shapely.buffer(
        outline.intersection(shapely.box(*area.bounds).buffer(0.1)), _BESIDE_M
    )
    for layer, run in (("PROFILE", rings & open_air), ("EDGE", rings - open_air)):
        items += [Line(layer, points) for points in polylines(_pieces(run))]
    return items


def _pieces(lines: shapely.Geometry) -> Floats:
    """The straight pieces ``(n, 2, 2)`` of lines of any kind."""
    runs = [p for p in shapely.get_parts(lines) if p.geom_type in ("LineString", "LinearRing")]
    ends = [shapely.get_coordinates(run) for run in runs]
    pieces = [np.stack([points[:-1], points[1:]], axis=1) for points in ends]
    return np.concatenate(pieces) if pieces else np.zeros((0, 2, 2))


# --- the sheet -----------------------------------------------------------------------------


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
    spare_y = mm(tall - _ABOVE_MM - _BELOW_MM) - size[1]
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
    return _scale(high - np.array([low[0], min(low[1], 0.0)]), paper_mm, design.units)


def _scale(size_m: Floats, paper_mm: tuple[float, float], units: str) -> float:
    _, _, wide, tall = room_mm(paper_mm)
    return fitting_scale(
        (float(size_m[0]), float(size_m[1])),
        (wide - _LEFT_MM - _RIGHT_MM, tall - _ABOVE_MM - _BELOW_MM),
        units,
        48.0 if units == "feet" else 50.0,
    )


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
    levels = [*house_levels(design, model), *porch_levels(design), *opening_levels(design, wall)]
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
    axes = [(name, figures.on_step(x)) for name, x in grid_places(design, view)]
    house = design.house
    if view in (RIGHT, LEFT):
        side = 1.0 if view is RIGHT else -1.0
        walls = sorted([0.0, side * figures.on_step(house.depth_m)])
        places = sorted([*(x for _, x in axes), *walls])
        made += chain(places, under - 6.0 * mm, figures, upright=False, foot=under, mm_m=mm)
    else:
        half = figures.on_step(house.width_m / 2.0)
        walls = [-half, half]
        reach = sorted(house.reach_x_m)
        turn = 1.0 if view is FRONT else -1.0
        outer = sorted({*walls, *(turn * figures.on_step(x) for x in reach)})
        if len(axes) > 1:
            places = [x for _, x in axes]
            made += chain(places, under - 6.0 * mm, figures, upright=False, foot=under, mm_m=mm)
        made += chain(
            outer, under - 14.0 * mm, figures, upright=False, foot=under - 7.0 * mm, mm_m=mm
        )
    for name, x in axes:
        made.append(Line("CENTRE", np.array([[x, under + 5.0 * mm], [x, under - 18.0 * mm]])))
        made.append(Symbol("GRID-BUBBLE", (x, under - 21.6 * mm), name))
    return made

"""Elevations: lines with hidden ones left out, materials, shade and shadow, levels, dimensions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import ArrayLike
from shapely.geometry import MultiPolygon

from massing.design.site import GroundDesign
from massing.geometry.mesh import Floats
from massing.geometry.rays import Caster
from massing.parts.part import Model, Part
from massing.present.drawings.items import Fill, Hatch, Item, Line
from massing.view.hidden_lines import (
    EDGE,
    FINE,
    PROFILE,
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
LAYER_OF = {FINE: "FINE", EDGE: "EDGE", PROFILE: "PROFILE"}
CONVENTIONAL = np.array([-1.0, -1.0, 1.0]) / np.sqrt(3.0)
"""The light of drawn shadows, along the diagonal of a cube, from the left over the shoulder."""

_GAP_M = 0.012
_BESIDE_M = 0.006


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

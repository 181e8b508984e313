"""What a plane cuts and what is seen beyond it: the stuff of plans and sections."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import ArrayLike
from shapely.geometry import MultiPolygon

from massing.geometry.mesh import Floats
from massing.parts.part import Model, Part
from massing.present.drawings.elevations import Drawn, building, line_items, small
from massing.present.drawings.items import Fill, Hatch, Item, Line
from massing.view.hidden_lines import FINE, Lines, Square, visible_lines
from massing.view.regions import as_multipolygon
from massing.view.section import CUT_ROLE, cut_model

_THIN = ("glass",)
MASONRY = ("wall", "foundation", "stone", "brick", "ashlar", "mortar")
_GRAIN = ((45.0, 0.035),)
_BESIDE_M = 0.05


def cut_view(
    model: Model,
    view: Square,
    offset_m: float,
    *,
    low: ArrayLike | None = None,
    high: ArrayLike | None = None,
    step_m: float = 0.02,
    grain: bool = False,
    fine: tuple[str, ...] = (),
) -> Drawn:
    """What is seen along ``view`` where it is cut ``offset_m`` along the view from the origin.

    Cut masonry is filled, cut timber and metal outlined, and hatched with ``grain`` at scales
    where that can be read; parts whose names begin as ``fine`` says are drawn in the lightest
    line. ``low`` and ``high`` ``(2,)`` cut a piece out of the drawing.
    """
    parts = [p for p in building(model) if not _room(p) and _meets(p, view, low, high)]
    cut = cut_model(replace(model, parts=tuple(parts)), view.forward, offset_m)
    caps = [p for p in cut.parts if p.role == CUT_ROLE]
    roles = {p.name: p.role for p in parts}
    behind = list(cut.parts)
    lines = visible_lines(
        behind, view, step_m=step_m, undrawn=lambda p: p.role == CUT_ROLE or small(p)
    )
    boxes = np.concatenate([p.world_mesh().bounds for p in behind]) @ view.axes[:2].T
    first = np.asarray(low, dtype=float) if low is not None else boxes.min(axis=0)
    last = np.asarray(high, dtype=float) if high is not None else boxes.max(axis=0)
    window = shapely.box(*first, *last)
    items: list[Item] = []
    filled: dict[str, list[shapely.Geometry]] = {"masonry": [], "timber": []}
    for cap in caps:
        role = roles.get(cap.name.removesuffix(" cut"), "")
        if role.split("/")[0] in _THIN:
            continue
        kind = "masonry" if role.split("/")[0] in MASONRY else "timber"
        filled[kind].append(cap_area(cap, view))
    for kind, areas in filled.items():
        # joints between pieces of the same stuff close up, so that a wall reads as one
        whole = (
            shapely.union_all(areas)
            .buffer(5e-4, join_style="mitre")
            .buffer(-5e-4, join_style="mitre")
        )
        area = as_multipolygon(shapely.intersection(whole, window))
        if area.is_empty:
            continue
        if kind == "masonry":
            items.append(Fill("POCHE", area))
        elif grain:
            items.append(Hatch("MATERIAL", area, _GRAIN, "TIMBER"))
        broken_off = low is not None or high is not None
        items += [Line("CUT", p) for p in _outline(area, window if broken_off else None)]
    if fine:
        light = np.array([p.name.startswith(fine) for p in behind])
        lines = Lines(lines.ends, lines.owner, np.where(light[lines.owner], FINE, lines.weight))
    items += line_items(within(lines, first, last))
    return Drawn(items, first, last)


def _outline(area: MultiPolygon, window: shapely.Polygon | None) -> list[Floats]:
    """Lines round what is cut; where the drawing is broken off at a ``window``, it is open."""
    rings = [ring for polygon in area.geoms for ring in (polygon.exterior, *polygon.interiors)]
    if window is None:
        return [shapely.get_coordinates(ring) for ring in rings]
    edge = window.boundary.buffer(1e-6)
    made = []
    for ring in rings:
        left = shapely.difference(shapely.LineString(ring.coords), edge)
        merged = left if left.geom_type == "LineString" else shapely.line_merge(left)
        made += [shapely.get_coordinates(p) for p in shapely.get_parts(merged) if not p.is_empty]
    return made


def _meets(part: Part, view: Square, low: ArrayLike | None, high: ArrayLike | None) -> bool:
    """Whether a part reaches into the piece that is drawn, or close by."""
    if low is None or high is None:
        return True
    box = part.world_mesh().bounds @ view.axes[:2].T
    return bool(
        (box.min(axis=0) < np.asarray(high) + _BESIDE_M).all()
        and (box.max(axis=0) > np.asarray(low) - _BESIDE_M).all()
    )


def _room(part: Part) -> bool:
    """Whether a part only keeps views out of rooms that are not drawn, of house or wing."""
    return "interior" in part.path and part.path[-1].startswith("core")


def cap_area(cap: Part, view: Square) -> MultiPolygon:
    """A cut face as it is drawn."""
    flat = cap.mesh.triangles @ view.axes[:2].T
    area = shapely.union_all(shapely.make_valid(shapely.polygons(flat)), grid_size=1e-6)
    return as_multipolygon(area)


def within(lines: Lines, low: Floats, high: Floats) -> Lines:
    """The lines cut off at a box."""
    window = shapely.box(*low, *high)
    made = shapely.intersection(shapely.linestrings(lines.ends), window)
    kept = (shapely.get_type_id(made) == 1) & ~shapely.is_empty(made)
    ends = shapely.get_coordinates(made[kept]).reshape(-1, 2, 2)
    return Lines(ends, lines.owner[kept], lines.weight[kept])

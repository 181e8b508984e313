"""What crowns the house: its eaves cornice, the main roof with its covering, the chimneys."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from massing.build.cross_gables import cross_gable_parts, without_attics
from massing.build.dormers import dormer_parts, holes_for, with_rooms
from massing.build.drainage import drainage
from massing.build.gables import gabled
from massing.build.placing import covered, house_outline, raised
from massing.build.wings import wing_roof
from massing.design.house import HouseDesign
from massing.design.porch import PorchDesign
from massing.design.roof import DeckRoof, GableRoof, GambrelRoof, RoofDesign
from massing.geometry.mesh import Floats
from massing.geometry.plan_polygons import Hole, Side, clear_hole
from massing.geometry.solids import union
from massing.parts.orders.balustrade import balustrade
from massing.parts.part import Part, under
from massing.parts.roofs.deck import (
    FLAT_EDGE_M,
    decked_roof,
    gambrel_roof,
    hip_roof,
    roof_flat,
)
from massing.parts.walls.chimney import chimney, chimney_hole
from massing.settingout.cross_gables import cross_gable_hole, cross_gables
from massing.settingout.cross_roofs import porch_hole
from massing.settingout.eaves import EAVES_EDGE_M, eaves_reach
from massing.settingout.main_roof import deck_sinks_m, decked, main_planes
from massing.settingout.roof_heights import (
    BALUSTRADE_BAY_M,
    balustrade_corners,
    curb_m,
    nose_m,
)
from massing.settingout.roof_planes import RoofPlanes

_Ring = tuple[tuple[float, ...], ...]
_STOP_CLEAR_M = 0.02  # a gutter's stopped end to a porch's cornice: practice


def main_roof(house: HouseDesign, roof: RoofDesign, before: PorchDesign | None) -> list[Part]:
    """The main roof with its covering, what stands on it, and what comes through it.

    ``before`` is the porch that is as high as its eaves, if one is.

    Raises:
        ValueError: a chimney does not stand on the roof or does not top it.
    """
    gable = porch_hole(before, house, roof) if before else None
    through = None if gable is None else (tuple(map(tuple, gable.ring.tolist())), gable.sides)
    roofed, stacks = _roofed(house, roof, through)
    parts = [*roofed]
    if not house.open_side:
        stops = [gable or _level_porch(before)] if before else []
        stops += [cross_gable_hole(g, house, roof) for g in cross_gables(house, roof)]
        parts += drainage(house, roof, stops)
    return under("roof", parts) + [*stacks]


@lru_cache(maxsize=16)
def _roofed(
    house: HouseDesign, roof: RoofDesign, through: tuple[_Ring, tuple[Side, ...]] | None
) -> tuple[tuple[Part, ...], tuple[Part, ...]]:
    """The roof with its covering and dormers, and its chimneys: kept by what they look at.

    ``through`` is the ring, and its sides, of a porch's gable that comes through the covering.
    """
    corners = house_outline(house, eaves_reach(house, roof))
    low, high = corners.min(axis=0), corners.max(axis=0)
    if house.open_side:
        body, planes = wing_roof(house, roof)
        fields = [planes]
    else:
        body, fields = _of_form(low, high, house, roof)
    stacks = []
    solid = body[0].mesh
    if house.chimneys and isinstance(roof, DeckRoof):
        solid = union([p.mesh for p in body if p.path in _FLAT])
    for i, stack in enumerate(house.chimneys):
        made = chimney(stack.low_m, stack.high_m, solid, stack.top_z_m)
        stacks += under("chimneys", under(str(i + 1), made))
    holes = _holes(house, roof)
    gables = [] if house.open_side else cross_gables(house, roof)
    holes += [cross_gable_hole(gable, house, roof) for gable in gables]
    if through is not None:
        holes.append(Hole(np.array(through[0]), through[1]))
    fields = [replace(planes, holes=tuple(holes)) for planes in fields]
    body = without_attics(with_rooms(body, house, roof), house, roof)
    parts = covered(body, fields[0], roof)
    for planes in fields[1:]:
        parts += covered([], planes, roof)
    for row in roof.dormers:
        parts += dormer_parts(row, house, roof)
    for i, gable in enumerate(gables):
        parts += under("gables", under(str(i + 1), cross_gable_parts(gable, house, roof)))
    return tuple(parts), tuple(stacks)


def _level_porch(porch: PorchDesign) -> Hole:
    """The plan of a porch as high as the eaves, whose roof the gutters stop at."""
    top = porch.highest
    half = top.half_width_m + top.order.cornice_projection_m + _STOP_CLEAR_M
    middle = top.centre_m
    return clear_hole((middle - half, top.column_y_m - half), (middle + half, 0.0))


def _holes(house: HouseDesign, roof: RoofDesign) -> list[Hole]:
    """Where chimneys and dormers come through the main covering."""
    holes = [chimney_hole(c.low_m, c.high_m) for c in house.chimneys]
    for row in roof.dormers:
        holes += holes_for(row, house, roof.covering)
    return holes


_Form = tuple[list[Part], list[RoofPlanes]]  # what is to be built, and the slopes to cover


def _of_form(low: Floats, high: Floats, house: HouseDesign, roof: RoofDesign) -> _Form:
    match roof:
        case GableRoof():
            return _gable(low, high, house, roof)
        case GambrelRoof():
            return _gambrel(low, high, house, roof)
        case DeckRoof():
            return _deck(low, high, house, roof)
    return _hip(low, high, house, roof)


def _hip(low: Floats, high: Floats, house: HouseDesign, roof: RoofDesign) -> _Form:
    body = hip_roof(low, high, house.wall_top_z_m, roof.slope, EAVES_EDGE_M)
    return body, main_planes(house, roof)


def _gable(low: Floats, high: Floats, house: HouseDesign, roof: GableRoof) -> _Form:
    body = gabled((low, high), house, roof, sill_m=deck_sinks_m(roof), boards=not roof.raked)
    return body, main_planes(house, roof)


def _gambrel(low: Floats, high: Floats, house: HouseDesign, roof: GambrelRoof) -> _Form:
    half, eaves_z = house.width_m / 2.0, house.wall_top_z_m
    slopes, run, nose = (roof.lower_slope, roof.slope), roof.break_run_m, nose_m(roof)
    body = gambrel_roof(
        low, high, eaves_z, slopes, run, nose, (-half, half), house.wall_thickness_m, EAVES_EDGE_M
    )
    return body, main_planes(house, roof)


def _deck(low: Floats, high: Floats, house: HouseDesign, roof: DeckRoof) -> _Form:
    planes, flat = decked(house, roof)
    body = decked_roof(planes, flat, EAVES_EDGE_M)
    body += roof_flat(flat, curb_m(roof), roof.deck_surface)
    return body + _deck_balustrade(flat, roof), [planes]


_FLAT = (
    ("deck",),
    ("flat", "curb"),
    ("flat", "metal"),
    ("flat", "base"),
)  # what a chimney stands on


def _deck_balustrade(flat: Floats, roof: DeckRoof) -> list[Part]:
    """A balustrade round the flat: a pedestal at each corner, equal bays between."""
    rail = roof.deck_balustrade
    if rail is None:
        return []
    corners = balustrade_corners(flat[:, :2], rail)
    posts: list[Floats] = []
    for start, end in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        bays = max(1, round(float(np.linalg.norm(end - start)) / BALUSTRADE_BAY_M))
        posts += list(start + (end - start) * np.arange(bays)[:, None] / bays)
    runs = [(k, (k + 1) % len(posts)) for k in range(len(posts))]
    made = balustrade(rail, np.array(posts), runs)
    return raised(under("flat", made), float(flat[0, 2]) + curb_m(roof) + FLAT_EDGE_M)

"""The porch, put together: floor, steps, order, ceiling, roof, balustrades."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from typing import Any

import numpy as np

from massing.build.placing import house_outline, pedimented, raised
from massing.build.porch_roofs import gabled, porch_roof
from massing.build.recess import antae, recess_ceiling, recess_entablature
from massing.design.design import Design
from massing.design.house import HouseDesign
from massing.design.porch import (
    BalustradeDesign,
    PorchDesign,
    RecessedPorch,
    SemicircularPorch,
    WrappedPorch,
)
from massing.geometry.booleans import less
from massing.geometry.mesh import Floats, merged
from massing.geometry.solids import box_between, extrude, prism, translations
from massing.parts.floors.ceiling import ceiling, coffers
from massing.parts.floors.handrail import handrail
from massing.parts.floors.porch_floor import porch_floor, recess_floor, round_floor
from massing.parts.floors.steps import round_steps, steps
from massing.parts.orders.arcade import arcade
from massing.parts.orders.balustrade import balustrade, round_balustrade
from massing.parts.orders.blocking_course import blocking_course
from massing.parts.orders.column import column, engaged_column, engaged_pedestal, pedestal
from massing.parts.orders.entablature import entablature
from massing.parts.orders.pilaster import pilaster, pilaster_pedestal
from massing.parts.part import Part, under
from massing.parts.roofs.deck import FLAT_SLAB_M
from massing.parts.walls.wall import water_table
from massing.practice.defaults import default
from massing.practice.joinery_sizes import PILASTER_OF_WIDTH
from massing.settingout.eaves import eaves_reach
from massing.settingout.porch import (
    FRIEZE_BOARD_M,
    entablature_path,
    frieze_path,
    path_before,
    wrapped_rooms,
)

_CEILING_M = 0.02
_HOUSED_M = 0.002
_WITHIN_M = 0.02  # what stands within the entablature's returns, clear of their faces
_POST_CLEARANCE_M = 0.06  # guard posts to the plinth beside them
_TABLE_FOOT_M = 1.0  # how far below the porch floor the foundation is cut out of what is on it
_RAIL_CLEARANCE_M = 0.15  # crowning pedestals to the eaves behind them


def porch_parts(design: Design) -> list[Part]:
    """Every part of the porch, in its place.

    Raises:
        ValueError: parts of the design collide.
    """
    porch = design.porch
    if isinstance(porch, RecessedPorch):
        return _in_antis(porch, design.house)
    return _floor(porch) + above_floor(design)


def above_floor(design: Design) -> list[Part]:
    """What stands on the floor of a porch before the wall, and over it."""
    porch, highest = design.porch, design.porch.highest
    parts: list[Part] = []
    if porch.upper is not None:
        parts += _storey(porch, design.house, carried=False)
        parts += _deck(porch)
        parts += under("upper", _storey(highest, design.house, carried=True))
    else:
        parts += _storey(porch, design.house, carried=True)
    parts += porch_roof(highest, design) + _blocking_course(highest, design)
    return parts + _crowning(highest, design)


def _in_antis(porch: PorchDesign, house: HouseDesign) -> list[Part]:
    assert house.recess is not None
    parts = recess_floor(porch, house.recess)
    parts += _flight(porch, porch.column_y_m - porch.floor_edge_m)
    parts += _columns(porch) + antae(porch, house.recess)
    parts += raised(recess_entablature(porch, house), porch.column_top_z_m)
    return parts + recess_ceiling(porch, house)


def _floor(porch: PorchDesign) -> list[Part]:
    edge = porch.floor_edge_m - porch.column_y_m
    if isinstance(porch, SemicircularPorch):
        floor = round_floor(edge, porch.floor_z_m)
        flight = porch.steps
        spread = np.pi if porch.guard is None else float(np.arcsin(flight.width_m / 2.0 / edge))
        floor += round_steps(flight, porch.floor_z_m, edge, spread)
        return _about_middle(porch, floor)
    return porch_floor(porch) + _flight(porch, -edge)


def _flight(porch: PorchDesign, edge_y_m: float) -> list[Part]:
    flight = steps(porch.steps, porch.floor_z_m, edge_y_m)
    if porch.steps.rail != "none":
        flight += handrail(porch.steps, porch.floor_z_m, edge_y_m, porch.steps.rail)
    return _about_middle(porch, flight)


def _about_middle(porch: PorchDesign, parts: list[Part]) -> list[Part]:
    """Parts made about x = 0, moved to the porch's own middle."""
    if not porch.centre_m:
        return parts
    return [p.moved(translations([(porch.centre_m, 0.0, 0.0)])[0]) for p in parts]


def _axes(porch: PorchDesign) -> Floats:
    return np.array(porch.perimeter_axes_m)


def _storey(porch: PorchDesign, house: HouseDesign, *, carried: bool) -> list[Part]:
    """One order with its ceiling and guards; ``carried`` where its cornice may go on round."""
    return list(_under_roof(replace(porch, balustrade=None), house, carried))


@lru_cache(maxsize=4)
def _under_roof(porch: PorchDesign, house: HouseDesign, carried: bool) -> tuple[Part, ...]:
    """Kept by what it looks at, of which no balustrade over it is."""
    parts = _columns(porch) + _arcade(porch) + _responds(porch, house)
    parts += raised(_entablature(porch, house, carried), porch.column_top_z_m)
    return (*parts, *_ceiling(porch), *_guards(porch))


def _columns(porch: PorchDesign) -> list[Part]:
    """Columns on their pedestals; an Ionic porch's corners have four-faced capitals."""
    order, axes = porch.order, _axes(porch)
    feet = np.column_stack([axes, np.full(len(axes), porch.floor_z_m)])
    heads = translations(feet + [0.0, 0.0, order.pedestal_height_m])
    if isinstance(porch, SemicircularPorch):
        heads[:, :2, :2] = _turned_outwards(axes - [porch.centre_m, 0.0])
    parts = [p.placed(translations(feet)) for p in pedestal(order)]
    x, y = axes.T
    at_corner = (np.isclose(x, x.min()) | np.isclose(x, x.max())) & (y == porch.column_y_m)
    if isinstance(porch, WrappedPorch):
        at_corner |= y == porch.wrap_m
    if order.capital_kind != "ionic" or not at_corner.any() or isinstance(porch, SemicircularPorch):
        return parts + [p.placed(heads) for p in column(order)]
    corner = [p.renamed("column", "corner column") for p in column(order, angular=True)]
    parts += [p.placed(heads[at_corner]) for p in corner]
    if (~at_corner).any():
        parts += [p.placed(heads[~at_corner]) for p in column(order)]
    return parts


def _arcade(porch: PorchDesign) -> list[Part]:
    """Piers and arches behind the front's columns, up to the architrave and, behind it, to the
    ceiling."""
    design = porch.arcade
    if design is None:
        return []
    top = porch.column_top_z_m - porch.floor_z_m
    face_y = porch.column_y_m + design.behind_m
    matrix = translations([(porch.centre_m, face_y, porch.floor_z_m)])[0]
    parts = [p.moved(matrix) for p in arcade(design, top)]
    back_y, beam_y = face_y + design.thick_m, porch.column_y_m + porch.frieze_half_depth_m
    if porch.ceiling_z_m > porch.column_top_z_m + _HOUSED_M and back_y > beam_y:
        left, right = (porch.centre_m + s * (design.end_m - _WITHIN_M) for s in (-1.0, 1.0))
        above = box_between(
            (left, beam_y, porch.column_top_z_m), (right, back_y, porch.ceiling_z_m)
        )
        parts.append(Part(("arcade", "wall over it"), "order", above))
    return parts


def _turned_outwards(axes: Floats) -> Floats:
    """Plan rotations ``(k, 2, 2)`` that face columns on a curve about the origin outwards."""
    out = axes / np.linalg.norm(axes, axis=1)[:, None]
    return np.stack([np.column_stack([-out[:, 1], out[:, 0]]), -out], axis=-1)


def _responds(porch: PorchDesign, house: HouseDesign) -> list[Part]:
    """Pilasters or half columns on the wall, where the entablature comes home to it.

    They stand on the floor, or on pedestals like the columns', scribed to the water table.
    """
    order = porch.order
    match porch.responds:
        case "none":
            return []
        case "half columns":
            stand, made = engaged_pedestal(order), engaged_column(order)
        case _:
            stand = pilaster_pedestal(order)
            made = pilaster(order, fluted=porch.responds_fluted)
    above = house.floor_z_m - porch.floor_z_m
    x = porch.half_width_m - porch.frieze_half_depth_m
    places = translations([(porch.centre_m + s * x, 0.0, porch.floor_z_m) for s in (-1.0, 1.0)])
    made = [*stand, *raised(made, order.pedestal_height_m)]
    return [_scribed_to_table(p, above).placed(places) for p in made]


def _scribed_to_table(part: Part, floor_z_m: float) -> Part:
    """What stands against the wall, without what the weathered foundation takes of it.

    ``floor_z_m`` is the house's floor, in the part's own heights.
    """
    low, high = part.mesh.bounds
    if low[2] > floor_z_m - 1e-6:
        return part
    face = [(-out, z - _TABLE_FOOT_M) for out, z in water_table(floor_z_m + _TABLE_FOOT_M)]
    section = np.array([(1.0, -_TABLE_FOOT_M), *face, (1.0, floor_z_m)])
    wide = high[0] - low[0] + 2.0
    table = prism(section, (low[0] - 1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), wide)
    return replace(part, mesh=less(part.mesh, table))


def respond_out(porch: PorchDesign) -> float:
    """How far a respond stands before the wall at its foot."""
    order = porch.order
    half = order.foot_width_m / 2.0
    match porch.responds:
        case "none":
            return 0.0
        case "half columns":
            return half
        case _:
            return PILASTER_OF_WIDTH * order.upper_diameter_m + half - order.diameter_m / 2.0


def _entablature(porch: PorchDesign, house: HouseDesign, carried: bool) -> list[Part]:
    """Mouldings round the porch and the plain beam behind them, from z = 0 at the soffit."""
    path, order = entablature_path(porch), porch.order
    kept: dict[str, Any] = {"column_axes": _axes(porch), "back_m": FRIEZE_BOARD_M}
    if carried and house.cornice_continues_porch:
        _, before, after, _ = house_outline(house, FRIEZE_BOARD_M)
        meeting = path_before(porch, -FRIEZE_BOARD_M)
        parts = entablature(order, path, groups=("architrave",), **kept)
        ends = {"before": before, "after": after}
        if porch.roof == "pediment":
            parts += pedimented(
                order, meeting, porch.roof_slope, groups=("frieze",), **ends, **kept
            )
        elif porch.roof == "gable":
            parts += gabled(order, meeting, groups=("frieze",), **ends, **kept)
        else:
            parts += entablature(order, meeting, groups=("frieze", "cornice"), **ends, **kept)
    elif porch.roof == "pediment":
        returned = _with_returns(porch, path, house)
        parts = _off_the_wall(pedimented(order, returned, porch.roof_slope, **kept), house)
    elif porch.roof == "gable":
        parts = _off_the_wall(gabled(order, _with_returns(porch, path, house), **kept), house)
    else:
        parts = entablature(order, _with_returns(porch, path, house), **kept)
        parts = _off_the_wall(parts, house)
    height = order.architrave_height_m + order.frieze_height_m
    inner = frieze_path(porch, order.upper_diameter_m)
    ring = np.concatenate([entablature_path(porch, FRIEZE_BOARD_M), inner[::-1]])
    core = extrude(ring, height)
    return [*parts, Part(("entablature", "beam"), "order", core)]


def entablature_of(porch: PorchDesign, house: HouseDesign, *, carried: bool) -> list[Part]:
    """The porch's entablature by itself, from z = 0 at its soffit.

    ``carried`` where nothing stands on it, so that its cornice may go on round the house.
    """
    if isinstance(porch, RecessedPorch):
        return recess_entablature(porch, house)
    return _entablature(porch, house, carried)


def _with_returns(porch: PorchDesign, path: Floats, house: HouseDesign) -> Floats:
    """The path, turned along the house's side where its cornice passes the house's corner."""
    out, half = porch.order.cornice_projection_m, house.width_m / 2.0
    if isinstance(porch, SemicircularPorch):
        return path
    inwards = [1.25 * FRIEZE_BOARD_M, 0.0]
    at_front = path[[0, -1], 1] < 1e-9  # not home to a side wall, round a corner
    past_left = bool(at_front[0] and out - path[0, 0] - half >= 1e-6)
    past_right = bool(at_front[1] and out + path[-1, 0] - half >= 1e-6)
    before, after = [path[:1] + inwards] * past_left, [path[-1:] - inwards] * past_right
    return np.concatenate([*before, path, *after])


def _off_the_wall(parts: list[Part], house: HouseDesign) -> list[Part]:
    """The parts without what a return along the side would have within the wall."""
    half = house.width_m / 2.0
    kept = []
    for part in parts:
        if part.placements is not None:
            x, y = part.placements[:, 0, 3], part.placements[:, 1, 3]
            clear = (y < -1e-9) | (np.abs(x) > half - 1e-9)
            if clear.any():
                kept.append(
                    part if clear.all() else replace(part, placements=part.placements[clear])
                )
        elif part.mesh.bounds[1, 1] > 1e-9:
            high = part.mesh.bounds[1]
            wall = box_between((-half, 0.0, -1.0), (half, high[1] + 1.0, high[2] + 1.0))
            kept.append(replace(part, mesh=less(part.mesh, wall)))
        else:
            kept.append(part)
    return kept


def _ceiling(porch: PorchDesign) -> list[Part]:
    inner = frieze_path(porch, porch.order.upper_diameter_m)
    if isinstance(porch, WrappedPorch):
        rooms = wrapped_rooms(inner, porch)
        made = [ceiling(low, high, porch.ceiling_z_m) for low, high in rooms]
        return [_as_one(list(alike)) for alike in zip(*made, strict=True)]
    if isinstance(porch, SemicircularPorch):
        board = extrude(inner, _CEILING_M).shifted(z_m=porch.ceiling_z_m)
        return [Part(("ceiling",), "ceiling", board)]
    if porch.ceiling == "coffered":
        return coffers(inner[1], (inner[2, 0], 0.0), porch.ceiling_z_m, default("porch.coffer"))
    return ceiling(inner[1], (inner[2, 0], 0.0), porch.ceiling_z_m)


def _deck(porch: PorchDesign) -> list[Part]:
    """The level floor over a lower order, on which the upper one stands."""
    outline = entablature_path(porch, FRIEZE_BOARD_M)
    floor = extrude(outline, FLAT_SLAB_M).shifted(z_m=porch.top_z_m - FLAT_SLAB_M)
    return [Part(("deck",), "floor", floor)]


def _blocking_course(porch: PorchDesign, design: Design) -> list[Part]:
    """The plain course over the cornice, back to the house or short of its eaves."""
    if not porch.blocking_course_m:
        return []
    back_y = 0.0
    if design.house.cornice_continues_porch:
        back_y = -eaves_reach(design.house, design.roof) - _RAIL_CLEARANCE_M
    course = blocking_course(
        path_before(porch, back_y),
        porch.blocking_course_m,
        porch.order.upper_diameter_m - (porch.breaks_forward_m or 0.0),
        weathered=porch.balustrade is None,
    )
    return raised(course, porch.top_z_m)


def _crowning(porch: PorchDesign, design: Design) -> list[Part]:
    """The balustrade over the entablature, with a pedestal over each column."""
    rail, house = porch.balustrade, design.house
    if rail is None:
        return []
    die = rail.pedestal_width_m
    back_y = -die / 2.0
    if house.cornice_continues_porch:
        back_y -= eaves_reach(house, design.roof) + _RAIL_CLEARANCE_M
    room_y = back_y - 1.5 * die  # a nearer pedestal would crowd the one at the back
    axes = porch.perimeter_axes_m
    if isinstance(porch, SemicircularPorch):
        pedestals = [(x, y) for x, y in axes if y < room_y]
        path = path_before(porch, back_y, porch.frieze_half_depth_m)
        pedestals = [tuple(path[0]), *pedestals, tuple(path[-1])]
        middle = [porch.centre_m, 0.0]
        parts = round_balustrade(rail, path - middle, np.array(pedestals) - middle)
        return raised(_about_middle(porch, parts), porch.stands_on_z_m)
    pedestals = [(x, y) for x, y in axes if y == porch.column_y_m or y < room_y]
    if porch.column_y_m < room_y:
        left, right = porch.axes_m[0], porch.axes_m[-1]
        pedestals = [(left, back_y), *pedestals, (right, back_y)]
    runs = list(pairwise(range(len(pedestals))))
    apart = [math.dist(a, b) for a, b in pairwise(pedestals)]
    parts = balustrade(
        rail,
        np.array(pedestals),
        runs,
        joined=[
            i for i, m in enumerate(apart) if porch.couple_axis_m and m < porch.couple_axis_m + 1e-6
        ],
    )
    return raised(parts, porch.stands_on_z_m)


def _guards(porch: PorchDesign) -> list[Part]:
    """Guards on the floor between the columns and back to the wall, open at the steps."""
    guard = porch.guard
    if guard is None:
        return []
    half_post = guard.pedestal_width_m / 2.0 + _POST_CLEARANCE_M
    by_column = porch.order.foot_width_m / 2.0 + half_post
    by_wall = respond_out(porch) + half_post
    if isinstance(porch, SemicircularPorch):
        parts = _round_guards(porch, guard, half_post, by_column)
        return raised(under("guard", parts), porch.floor_z_m)
    open_m, middle = porch.flight.width_m if porch.flight else 0.0, porch.centre_m
    wall = np.array(porch.at_wall_m)
    stops = np.concatenate([wall[:1], _axes(porch), wall[1:]])
    posts = []
    for i, (start, end) in enumerate(pairwise(stops)):
        along = (end - start) / np.linalg.norm(end - start)
        before = abs(along[0]) > 0.5 and start[1] < 0.0
        at_steps = before and abs(start[0] + end[0] - 2.0 * middle) < open_m
        pair = [
            start + along * (by_wall if i == 0 else by_column),
            end - along * (by_wall if i == len(stops) - 2 else by_column),
        ]
        if not at_steps and (pair[1] - pair[0]) @ along > 4.0 * half_post:
            posts += pair
    runs = [(i, i + 1) for i in range(0, len(posts), 2)]
    parts = balustrade(guard, np.array(posts).reshape(-1, 2), runs)
    return raised(under("guard", parts), porch.floor_z_m)


def _round_guards(
    porch: SemicircularPorch, guard: BalustradeDesign, half_post: float, by_column: float
) -> list[Part]:
    """The same round a semicircle, each bay's rails on the columns' curve."""
    radius, axes = porch.radius_m, _axes(porch)
    open_m = porch.flight.width_m if porch.flight else 0.0
    turn = np.arctan2(-axes[:, 1], porch.centre_m - axes[:, 0])  # from the wall's left to its right
    stops = np.concatenate([[0.0], turn, [np.pi]])
    clear = np.full(len(stops), by_column) / radius
    clear[[0, -1]] = half_post / radius
    found: dict[str, list[Part]] = {}
    for i, (a, b) in enumerate(pairwise(stops)):
        start, end = a + clear[i], b - clear[i + 1]
        at_steps = abs(np.cos(a) + np.cos(b)) * radius < open_m
        if at_steps or (end - start) * radius < 4.0 * half_post:
            continue
        way = np.linspace(start, end, max(8, int((end - start) / 0.02)))
        line = -radius * np.column_stack([np.cos(way), np.sin(way)])
        for part in round_balustrade(guard, line, line[[0, -1]]):
            found.setdefault(part.name, []).append(part)
    return _about_middle(porch, [_as_one(parts) for parts in found.values()])


def _as_one(parts: list[Part]) -> Part:
    """Parts alike: copies of one mesh as one part with all their places, others as one mesh."""
    placed = [p.placements for p in parts if p.placements is not None]
    if placed:
        return replace(parts[0], placements=np.concatenate(placed))
    return replace(parts[0], mesh=merged([p.mesh for p in parts]))

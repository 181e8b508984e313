"""Design -> Model: every part in its place. The only module that knows where things go."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from typing import Any

import numpy as np

from massing.canon import FittedCornice, Member
from massing.coverings import covering
from massing.mesh import Floats, Model, Part
from massing.parts.balustrade import balustrade
from massing.parts.ceiling import ceiling
from massing.parts.chimney import chimney, chimney_hole
from massing.parts.column import column
from massing.parts.door import door
from massing.parts.entablature import cornice, entablature
from massing.parts.facing import belt_course, bricks, clapboards, quoin_cut, quoins
from massing.parts.figure import figure
from massing.parts.french import french_window
from massing.parts.ground import ground, walk
from massing.parts.head import head, head_cut
from massing.parts.opening import windows
from massing.parts.pediment import pediment
from massing.parts.plates import lay_plates
from massing.parts.porch_floor import porch_floor
from massing.parts.roof import (
    FLAT_SLAB_M,
    flat_roof,
    gable_roof,
    hip_roof,
    lean_to_hip,
)
from massing.parts.seam import lay_seams
from massing.parts.setting import hedge, neighbour, tree
from massing.parts.shutter import shutters
from massing.parts.steps import steps
from massing.parts.tiles import lay_tiles
from massing.parts.wall import opening_frame, wall_frame, walls
from massing.roofplanes import (
    RoofPlanes,
    gable_planes,
    hip_planes,
    lean_to_planes,
    porch_gable_planes,
)
from massing.scene.design import Design, HouseDesign, Opening, PorchDesign, RoofDesign
from massing.sections import BELT_M
from massing.solids import prism, sweep, translations
from massing.wallfaces import WALL_NAMES, Cut, Flare, run_m

FRIEZE_BOARD_M = 0.03  # entablature boards before the wall's face
EAVES_EDGE_M = 0.05  # upright edge of a roof's deck over the cornice
FLAT_FALL = 1.0 / 96.0
FACING_M = 0.03  # how far a wall's facing stands before it
COVERING_M = 0.2  # a roof's covering and flashing where it meets a wall
_POST_CLEARANCE_M = 0.06  # guard posts to the plinth beside them
_RAIL_CLEARANCE_M = 0.15  # crowning pedestals to the eaves behind them


def build(design: Design) -> Model:
    """The whole building and its setting as named parts.

    Raises:
        ValueError: parts of the design collide.
    """
    porch = _porch(design)
    parts = [
        *_house(design.house, design.roof),
        *_under("house", _eaves(design.house, design.porch.highest)),
        *_facing(design, porch),
        *_under("porch", porch),
        *_setting(design),
    ]
    notes = {"walls": design.house.walls, "roof colour": design.roof.colour}
    return Model(tuple(parts), design.name, notes)


def _under(prefix: str, parts: list[Part]) -> list[Part]:
    return [p.under(prefix) for p in parts]


def _raised(parts: list[Part], z_m: float) -> list[Part]:
    return [p.moved(translations([(0.0, 0.0, z_m)])[0]) for p in parts]


# --- the house ---------------------------------------------------------------------------


@lru_cache(maxsize=8)
def _house(house: HouseDesign, roof: RoofDesign) -> tuple[Part, ...]:
    """What does not look at the porch: kept, so that a change of the porch builds the porch."""
    openings = _under("house", _openings(house))
    return (*walls(house), *openings, *_under("house", _main_roof(house, roof)))


def _openings(house: HouseDesign) -> list[Part]:
    glazed = [o for o in house.openings if o.kind == "window"]
    frames = np.array([opening_frame(house, o) for o in glazed]).reshape(-1, 4, 4)
    parts = windows(glazed, frames, house.reveal_m, house.wall_thickness_m) if glazed else []
    for opening in house.openings:
        if opening.kind == "door":
            at = opening_frame(house, opening)
            leaf = door(opening, house.reveal_m, house.wall_thickness_m)
            parts += [p.moved(at) for p in leaf]
    parts += _alike(house, "french window", "french", french_window)
    parts += _alike(house, "shutters", "window", _shutters)
    parts += _alike(house, "head", "window", _head)
    return parts


def _alike(
    house: HouseDesign,
    name: str,
    kind: str,
    make: Callable[[Opening, float, float], list[Part]],
) -> list[Part]:
    """What belongs to each opening of a kind, made once for all that are alike."""
    frames: dict[Opening, list[Floats]] = {}
    for opening in house.openings:
        if opening.kind == kind:
            pattern = replace(opening, name=name, wall="front", along_m=0.0, sill_z_m=0.0)
            frames.setdefault(pattern, []).append(opening_frame(house, opening))
    parts: list[Part] = []
    number = 0
    for pattern, places in frames.items():
        made = make(pattern, house.reveal_m, house.wall_thickness_m)
        number += bool(made)
        parts += [p.placed(np.array(places)).under(f"{name} {number}") for p in made]
    return parts


def _shutters(opening: Opening, _reveal_m: float, _wall_m: float) -> list[Part]:
    if opening.shutters == "none":
        return []
    return shutters(opening, opening.shutters, closed=opening.shutters_closed)


def _head(opening: Opening, _reveal_m: float, _wall_m: float) -> list[Part]:
    return [] if opening.head == "casing" else head(opening, opening.head, opening.rise_m)


def _facing(design: Design, porch: list[Part]) -> list[Part]:
    """Boards or bricks in relief, quoins and belt courses, clear of openings and of the porch."""
    house = design.house
    if not (house.relief or house.quoins or house.belt_courses_z_m):
        return []
    top_z = house.wall_top_z_m - house.cornice.height_m
    frames = {name: wall_frame(house, name) for name in WALL_NAMES}
    met = _against_wall(design, porch)
    clear: dict[str, list[Cut]] = {name: [] for name in WALL_NAMES}
    for opening in house.openings:
        if opening.kind == "window":
            clear[opening.wall] += head_cut(opening)
    clear["front"] += met
    parts: list[Part] = []
    for z in house.belt_courses_z_m:
        taken = [c.over(z - BELT_M, z) if isinstance(c, Flare) else c for c in met]
        gap = [(c[0], c[2]) for c in taken if c[1] < z and c[3] > z - BELT_M]
        reach = (min(g[0] for g in gap), max(g[1] for g in gap)) if gap else None
        parts.append(belt_course(house, z, reach))
        for name in WALL_NAMES:
            half = run_m(house, name) / 2.0
            clear[name].append((-half, z - BELT_M, half, z))
    if house.quoins:
        parts += quoins(house, top_z)
        for name in WALL_NAMES:
            clear[name] += quoin_cut(house, name, top_z)
    if house.relief and house.walls == "clapboard":
        parts += clapboards(house, frames, top_z, house.clapboard_exposure_m, clear)
    if house.relief and house.walls == "brick":
        parts += bricks(house, frames, top_z, house.bond, clear)
    return parts


def _against_wall(design: Design, parts: list[Part]) -> list[Cut]:
    """What the porch covers of the front, in the wall's frame (which is the house's own)."""
    found: list[Cut] = []
    for part in parts:
        if part.name.startswith("roof/"):
            continue
        for low, high in _boxes(part):
            if high[1] > -FACING_M and high[2] > design.house.floor_z_m:
                found.append((float(low[0]), float(low[2]), float(high[0]), float(high[2])))
    return found + _roof_on_wall(design)


def _boxes(part: Part) -> Floats:
    """Bounds ``(k, 2, 3)`` of each copy of a part."""
    box = part.mesh.bounds
    if part.placements is None:
        return box[None]
    corners = np.array([[box[i, 0], box[j, 1], box[k, 2]] for i, j, k in np.ndindex(2, 2, 2)])
    world = np.einsum("kij,nj->kni", part.placements[:, :3, :3], corners)
    world += part.placements[:, None, :3, 3]
    return np.stack([world.min(axis=1), world.max(axis=1)], axis=1)


def _roof_on_wall(design: Design) -> list[Cut]:
    """What the porch's roof and its flashing take of the wall."""
    porch = design.porch.highest
    if porch.roof == "flat":
        return []
    half = -_porch_path(porch, -porch.order.cornice_projection_m)[0, 0] + design.roof.overhang_m
    eaves_z = porch.top_z_m
    run = half if porch.roof == "pediment" else min(half, porch.depth_m + half - porch.axes_m[-1])
    slope = porch.roof_slope

    def reach(z: float) -> float:
        return half - min(max(z - eaves_z - COVERING_M, 0.0) / slope, run) + COVERING_M

    return [Flare(0.0, eaves_z - COVERING_M, eaves_z + slope * run + 1.5 * COVERING_M, reach)]


def _outline(house: HouseDesign, out_m: float) -> Floats:
    """The house's plan, ``out_m`` before its walls, from the back left corner round the front."""
    x, back = house.width_m / 2.0 + out_m, house.depth_m + out_m
    return np.array([(-x, back), (-x, -out_m), (x, -out_m), (x, back)])


def _plain(members: tuple[Member, ...]) -> tuple[Member, ...]:
    """Members without the triglyphs, which belong over columns."""
    return tuple(
        replace(m, row=None) if m.row is not None and m.row.kind == "triglyph" else m
        for m in members
    )


def _eaves(house: HouseDesign, porch: PorchDesign) -> list[Part]:
    """The cornice at the wall's top; where it carries on the porch's, it meets it on a mitre."""
    crown = FittedCornice(_plain(house.cornice.members))
    foot_z = house.wall_top_z_m - crown.height_m
    corners = _outline(house, FRIEZE_BOARD_M)
    if house.cornice_continues_porch:
        left, right = _joints(porch)
        turn = _porch_path(porch)
        path = np.array([right, corners[2], corners[3], corners[0], corners[1], left])
        runs = cornice(crown, path, back_m=FRIEZE_BOARD_M, before=turn[2], after=turn[1])
    else:
        runs = cornice(crown, corners, closed=True, back_m=FRIEZE_BOARD_M)
    return _raised(runs, foot_z)


def _joints(porch: PorchDesign) -> Floats:
    """Where the porch's frieze face meets that of the house's front, left and right."""
    x = _half_width(porch)
    return np.array([(-x, -FRIEZE_BOARD_M), (x, -FRIEZE_BOARD_M)])


def _main_roof(house: HouseDesign, roof: RoofDesign) -> list[Part]:
    corners = _outline(house, _eaves_reach(house, roof))
    low, high, eaves_z = corners.min(axis=0), corners.max(axis=0), house.wall_top_z_m
    if roof.form == "gable":
        half = house.width_m / 2.0
        planes = gable_planes(low, high, eaves_z + EAVES_EDGE_M, roof.slope)
        body = gable_roof(
            low, high, eaves_z, roof.slope, (-half, half), house.wall_thickness_m, EAVES_EDGE_M
        )
    else:
        planes = hip_planes(low, high, eaves_z + EAVES_EDGE_M, roof.slope)
        body = hip_roof(low, high, eaves_z, roof.slope, EAVES_EDGE_M)
    deck = body[0].mesh
    stacks = []
    for i, stack in enumerate(house.chimneys):
        made = chimney(stack.low_m, stack.high_m, deck, stack.top_z_m)
        stacks += _under(f"chimneys/{i + 1}", made)
    if house.chimneys:
        holes = np.array([chimney_hole(c.low_m, c.high_m) for c in house.chimneys])
        planes = replace(planes, holes=holes)
    return _under("roof", _covered(body, planes, roof)) + stacks


def _eaves_reach(house: HouseDesign, roof: RoofDesign) -> float:
    """The wall's face to the roof's edge."""
    return FRIEZE_BOARD_M + house.cornice.projection_m + roof.overhang_m


def _covered(body: list[Part], planes: RoofPlanes, roof: RoofDesign) -> list[Part]:
    """A roof's deck with its covering laid; a plain covering is the deck itself, in grey felt."""
    if roof.covering == "plain":
        return [replace(p, role="roofing") if p.name == "deck" else p for p in body]
    chosen = covering(roof.covering)
    lay = {"barrel": lay_tiles, "plate": lay_plates, "seam": lay_seams}[chosen.kind]
    return [*body, *lay(planes, chosen)]


# --- the porch ---------------------------------------------------------------------------


def _half_width(porch: PorchDesign) -> float:
    """Middle of the front to the porch's frieze face at its side."""
    return porch.axes_m[-1] + porch.frieze_half_depth_m


def _porch_path(porch: PorchDesign, inset_m: float = 0.0) -> Floats:
    """The frieze face in plan, from the wall's left round the front to its right."""
    x = _half_width(porch) - inset_m
    y = -(porch.depth_m + porch.frieze_half_depth_m - inset_m)
    return np.array([(-x, 0.0), (-x, y), (x, y), (x, 0.0)])


def _axes(porch: PorchDesign) -> Floats:
    return np.array(porch.perimeter_axes_m)


def _porch(design: Design) -> list[Part]:
    porch, highest = design.porch, design.porch.highest
    edge_y = -(porch.depth_m + porch.floor_edge_m)
    parts = porch_floor(porch)
    parts += steps(porch.steps, porch.floor_z_m, edge_y)
    if porch.upper is not None:
        parts += _storey(porch, None)
        parts += _deck(porch)
        parts += _under("upper", _storey(highest, design.house))
    else:
        parts += _storey(porch, design.house)
    return parts + _porch_roof(highest, design) + _crowning(highest, design)


def _storey(porch: PorchDesign, house: HouseDesign | None) -> list[Part]:
    """One order with its ceiling and guards; ``house`` where it may carry its cornice round."""
    axes = _axes(porch)
    feet = translations(np.column_stack([axes, np.full(len(axes), porch.floor_z_m)]))
    parts = [p.placed(feet) for p in column(porch.order)]
    parts += _raised(_entablature(porch, house), porch.column_top_z_m)
    low, high = _inner(porch)
    return parts + ceiling(low, high, porch.ceiling_z_m) + _guards(porch)


def _deck(porch: PorchDesign) -> list[Part]:
    """The level floor over a lower order, on which the upper one stands."""
    path = _porch_path(porch, FRIEZE_BOARD_M)
    high = np.array([path[2, 0], 0.0])
    floor = flat_roof(path[1], high, porch.top_z_m - FLAT_SLAB_M, 0.0)
    return [replace(p, name="deck", role="floor") for p in floor]


def _entablature(porch: PorchDesign, house: HouseDesign | None) -> list[Part]:
    """Mouldings round the porch and the plain beam behind them, from z = 0 at the soffit."""
    path, axes = _porch_path(porch), _axes(porch)
    kept: dict[str, Any] = {"column_axes": axes, "back_m": FRIEZE_BOARD_M}
    if house is not None and house.cornice_continues_porch:
        upper = path.copy()
        upper[[0, 3]] = _joints(porch)
        _, before, after, _ = _outline(house, FRIEZE_BOARD_M)
        parts = entablature(porch.order, path, groups=("architrave",), **kept)
        parts += entablature(
            porch.order, upper, groups=("frieze", "cornice"), before=before, after=after, **kept
        )
    elif porch.roof == "pediment":
        parts = _under_pediment(porch, path, kept)
    else:
        parts = entablature(porch.order, path, **kept)
    height = porch.order.architrave_height_m + porch.order.frieze_height_m
    inner = FRIEZE_BOARD_M - porch.order.upper_diameter_m
    beam = [(inner, 0.0), (0.0, 0.0), (0.0, height), (inner, height)]
    core = sweep(beam, _porch_path(porch, FRIEZE_BOARD_M))
    return [*parts, Part("entablature/beam", "order", core)]


def _under_pediment(porch: PorchDesign, path: Floats, kept: dict[str, Any]) -> list[Part]:
    """An entablature whose front cornice is a pediment, its side cornices mitred to it."""
    order, (wall_left, left, right, wall_right) = porch.order, path
    foot_m = order.entablature_height_m - order.cornice_height_m
    parts = entablature(order, path, groups=("architrave", "frieze"), **kept)
    for run, before, after in (
        ([wall_left, left], None, right),
        ([right, wall_right], left, None),
    ):
        parts += entablature(
            order, np.array(run), groups=("cornice",), before=before, after=after, **kept
        )
    front = pediment(
        order.cornice,
        float(right[0] - left[0]),
        back_m=FRIEZE_BOARD_M,
        slope=porch.roof_slope,
    )
    at = translations([(0.0, left[1], foot_m)])[0]
    return [*parts, *(p.moved(at) for p in front)]


def _inner(porch: PorchDesign) -> tuple[Floats, Floats]:
    """Low and high plan corners of the space inside the porch's beam."""
    path = _porch_path(porch, porch.order.upper_diameter_m)
    return np.array([path[0, 0], path[1, 1]]), np.array([path[2, 0], 0.0])


def _porch_roof(porch: PorchDesign, design: Design) -> list[Part]:
    roof = design.roof
    if porch.roof == "hipped":
        path = _porch_path(porch, -porch.order.cornice_projection_m - roof.overhang_m)
        low, high, eaves_z = path[1], np.array([path[2, 0], 0.0]), porch.top_z_m
        planes = lean_to_planes(low, high, eaves_z + EAVES_EDGE_M, porch.roof_slope)
        body = lean_to_hip(low, high, eaves_z, porch.roof_slope, EAVES_EDGE_M)
        return _under("roof", _covered(body, planes, roof))
    if porch.roof == "pediment":
        return _under("roof", _gable_behind_pediment(porch, roof))
    path = _porch_path(porch, FRIEZE_BOARD_M)
    back_y = (
        -_eaves_reach(design.house, design.roof) if design.house.cornice_continues_porch else 0.0
    )
    high = np.array([path[2, 0], back_y])
    return _under("roof", flat_roof(path[1], high, porch.top_z_m - FLAT_SLAB_M, FLAT_FALL))


def _gable_behind_pediment(porch: PorchDesign, roof: RoofDesign) -> list[Part]:
    """Boarding on the raking cornices' backs, run to the wall, and the covering on it."""
    slope, edge = porch.roof_slope, EAVES_EDGE_M
    top = _porch_path(porch, -porch.order.cornice_projection_m)
    half = top[2, 0] + roof.overhang_m
    front_y = top[1, 1] - roof.overhang_m
    eaves_z = porch.top_z_m - slope * roof.overhang_m
    peak_z = eaves_z + slope * half
    section = [(-half, eaves_z), (0.0, peak_z), (half, eaves_z)]
    section += [(half, eaves_z + edge), (0.0, peak_z + edge), (-half, eaves_z + edge)]
    boards = prism(section, (0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), -front_y)
    low, high = (-half, front_y), (half, 0.0)
    planes = porch_gable_planes(low, high, eaves_z + edge, slope)
    return _covered([Part("deck", "trim", boards)], planes, roof)


def _crowning(porch: PorchDesign, design: Design) -> list[Part]:
    """The balustrade over the entablature, with a pedestal over each column."""
    house = design.house
    if porch.balustrade is None:
        return []
    die = porch.balustrade.pedestal_width_m
    back_y = -die / 2.0
    if house.cornice_continues_porch:
        back_y -= _eaves_reach(design.house, design.roof) + _RAIL_CLEARANCE_M
    room_y = back_y - 1.5 * die  # a nearer pedestal would crowd the one at the back
    pedestals = [(x, y) for x, y in porch.perimeter_axes_m if y == -porch.depth_m or y < room_y]
    if -porch.depth_m < room_y:
        left, right = porch.axes_m[0], porch.axes_m[-1]
        pedestals = [(left, back_y), *pedestals, (right, back_y)]
    runs = list(pairwise(range(len(pedestals))))
    parts = balustrade(porch.balustrade, np.array(pedestals), runs)
    return _raised(parts, porch.top_z_m)


def _guards(porch: PorchDesign) -> list[Part]:
    """Guards on the floor between the columns and back to the wall, open at the steps."""
    guard = porch.guard
    if guard is None:
        return []
    half_post = guard.pedestal_width_m / 2.0 + _POST_CLEARANCE_M
    by_column = porch.order.plinth_width_m / 2.0 + half_post
    wall = np.array([(porch.axes_m[0], 0.0), (porch.axes_m[-1], 0.0)])
    stops = np.concatenate([wall[:1], _axes(porch), wall[1:]])
    posts = []
    for start, end in pairwise(stops):
        along = (end - start) / np.linalg.norm(end - start)
        at_steps = abs(along[0]) > 0.5 and abs(start[0] + end[0]) < porch.steps.width_m
        pair = [
            start + along * (half_post if start[1] == 0.0 else by_column),
            end - along * (half_post if end[1] == 0.0 else by_column),
        ]
        if not at_steps and (pair[1] - pair[0]) @ along > 4.0 * half_post:
            posts += pair
    runs = [(i, i + 1) for i in range(0, len(posts), 2)]
    parts = balustrade(guard, np.array(posts).reshape(-1, 2), runs)
    return _raised(_under("guard", parts), porch.floor_z_m)


# --- the setting -------------------------------------------------------------------------


def _setting(design: Design) -> list[Part]:
    porch = design.porch
    foot_y = -(porch.depth_m + porch.floor_edge_m + porch.steps.risers * porch.steps.tread_m)
    parts = [ground(), walk(porch.steps.width_m, foot_y, 30.0)]
    if design.scale_figure:
        right = porch.axes_m[-1] + porch.floor_edge_m
        parts.append(figure((min(right + 1.2, design.house.width_m / 2.0), foot_y, 0.0)))
    around = design.setting
    for bush in around.hedges:
        parts.append(hedge(bush.low_m, bush.high_m, bush.height_m))
    for i, wood in enumerate(around.trees):
        parts += tree(wood.x_m, wood.y_m, wood.height_m, wood.spread_m, seed=i)
    for near in around.neighbours:
        parts += neighbour(near.low_m, near.high_m, near.eaves_z_m, near.ridge_z_m)
    return parts

"""Design -> Model: every part in its place. The only module that knows where things go."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import lru_cache
from typing import TypeVar
from weakref import WeakKeyDictionary, WeakSet

import numpy as np

from massing.build.bay_windows import bay_window_parts
from massing.build.doorway import doorway
from massing.build.eaves import eaves
from massing.build.facing import facing, is_faced
from massing.build.gables import gables
from massing.build.porch import porch_parts
from massing.build.roof import main_roof
from massing.build.side_porches import placed, side_porch_parts
from massing.build.wings import on_wing, scribed
from massing.canon import FittedCornice
from massing.design.design import Design
from massing.design.faults import BuildFault
from massing.design.house import HouseDesign
from massing.design.opening import Opening, WindowOpening
from massing.design.porch import PorchDesign, RecessedPorch, WrappedPorch
from massing.design.roof import RoofDesign
from massing.design.setting import SCENERY, Scenery, SettingDesign
from massing.design.site import GroundDesign
from massing.geometry.booleans import less
from massing.geometry.cleaning import cleaned
from massing.geometry.mesh import Floats, Mesh
from massing.geometry.solids import box_between, translations
from massing.parts.openings.french_window import french_window
from massing.parts.openings.head import KINDS as SPANNED
from massing.parts.openings.head import head
from massing.parts.openings.shutter import shutters
from massing.parts.openings.window import windows
from massing.parts.part import Model, Part, under
from massing.parts.site.ground import ground, laid, rooted, stood, walk
from massing.parts.site.person import figure
from massing.parts.site.planting import hedge, neighbour, tree
from massing.parts.walls.chimney import LowChimney
from massing.parts.walls.wall import foundation_role, opening_frame, wall_frame, walls
from massing.practice.finishes import PAINTED_NOTE
from massing.practice.joinery_sizes import NOSING_M
from massing.settingout.bay_windows import outline
from massing.settingout.porch import floor_plans
from massing.settingout.porch_roofs import on_side_wall, on_wall, top_on_wall_m
from massing.settingout.side_porches import design_of_side, drive_x_m, side_porch_plans
from massing.settingout.side_steps import carriage_ways, steps_plans
from massing.settingout.wall_faces import Cut
from massing.units import at_least, format_length

FACING_M = 0.03  # how far a facing stands before its wall
_NO_CORNICE = FittedCornice(())
_Kind = TypeVar("_Kind", bound=Opening)


def build(design: Design) -> Model:
    """The whole building and its setting as named parts.

    Raises:
        BuildFault: a chimney does not clear the roof.
        ValueError: parts of the design collide.
    """
    role = foundation_role(design.house)
    porch = [replace(p, role=role) if p.role == "foundation" else p for p in porch_parts(design)]
    at_eaves = design.house.cornice_continues_porch and not isinstance(design.porch, RecessedPorch)
    before = design.porch if at_eaves else None
    try:
        house_parts = _house(design.house, design.roof, before)
    except LowChimney as fault:
        raise _low_chimney(design, fault) from None
    faced = is_faced(design.house)
    met, beside = {"front": _against_wall(design, porch)} if faced else {}, []
    for side in ("left", "right") if faced else ():
        round_it = on_side_wall(design.porch, design.house, design.roof, side)
        if round_it:
            back = np.linalg.inv(wall_frame(design.house, side))
            against = _against(
                [p.moved(back) for p in porch if not p.within("roof")], design.house.floor_z_m
            )
            met[side] = [*against, *round_it]
    for one in design.side_porches:
        own = design_of_side(design, one)
        made = [
            replace(p, role=role) if p.role == "foundation" else p
            for p in side_porch_parts(own, one)
        ]
        if faced:
            met[one.side] = _against_wall(own, made)
        beside += placed(design, one, made)
    parts = [
        *house_parts,
        *under("house", eaves(design.house, design.porch.highest, design.roof)),
        *facing(
            design.house,
            design.roof,
            met,
            gables(design.house, design.porch.highest, design.roof),
        ),
        *bay_window_parts(design.house, design.roof),
        *under("porch", porch),
        *beside,
    ]
    parts = _under_the_roof(parts, design)
    parts = rooted(parts, design.site.ground, _feet(design))
    parts += _setting(design)
    house = design.house
    notes: dict[str, str] = {"walls": house.walls, "roof colour": design.roof.colour}
    if house.relief:
        notes["in relief"] = house.walls
    if design.colours:
        notes[PAINTED_NOTE] = json.dumps(dict(design.colours))
    notes[SCENERY] = scenery_of(design).written()
    if design.roof.laid:
        parts = [_without_slivers(part) for part in parts]
    return Model(tuple(parts), design.name, notes)


def _under_the_roof(parts: list[Part], design: Design) -> list[Part]:
    """Corner boards less what a porch's roof round the corner takes of them."""
    porch, house = design.porch, design.house
    if not isinstance(porch, WrappedPorch):
        return parts
    foot_z = porch.ceiling_z_m
    top_z = top_on_wall_m(porch, design.roof)
    kept = []
    for part in parts:
        if part.path == ("house", "corner boards"):
            for side, sign in (("left", -1.0), ("right", 1.0)):
                if porch.goes_round(side):
                    xs = sorted(
                        (sign * (house.width_m / 2.0 - 0.5), sign * (house.width_m / 2.0 + 0.1))
                    )
                    box = box_between((xs[0], -0.1, foot_z), (xs[1], 0.5, top_z))
                    part = replace(part, mesh=less(part.mesh, box))
        kept.append(part)
    return kept


def _low_chimney(design: Design, fault: LowChimney) -> BuildFault:
    """The fault by its field."""
    chimneys = design.house.chimneys
    at = next(i for i, c in enumerate(chimneys) if np.allclose(c.low_m, fault.low))
    field = f"house.chimneys.{at}.height"
    given_m = design.origins[field].value
    assert isinstance(given_m, float)
    least_m = given_m + fault.least_top_m - chimneys[at].top_z_m
    return BuildFault(
        field,
        format_length(given_m, design.units),
        f"at least {at_least(least_m, design.units)}, so that its head clears the roof",
    )


_WITHOUT_SLIVERS: WeakKeyDictionary[Mesh, Mesh] = WeakKeyDictionary()
_CLEAN: WeakSet[Mesh] = WeakSet()


def _without_slivers(part: Part) -> Part:
    """What cuts have left thin is joined; a mesh is looked at once."""
    if not part.solid or part.mesh in _CLEAN:
        return part
    mesh = _WITHOUT_SLIVERS.get(part.mesh)
    if mesh is None:
        mesh = cleaned(part.mesh)
        _CLEAN.add(mesh)
        if mesh is not part.mesh:
            _WITHOUT_SLIVERS[part.mesh] = mesh
    return part if mesh is part.mesh else replace(part, mesh=mesh)


def _feet(design: Design) -> list[float]:
    """Heights at which the building meets the ground: its own level, and the foot of flights."""
    doors = (o.door for o in design.house.doors)
    beside = (one.porch.flight for one in design.side_porches)
    flights = [design.porch.steps, *(d.steps for d in doors if d.steps), *filter(None, beside)]
    return [0.0, *(flight.foot_z_m for flight in flights)]


# --- the house ---------------------------------------------------------------------------


@lru_cache(maxsize=16)
def _house(
    house: HouseDesign, roof: RoofDesign, before: PorchDesign | None = None
) -> tuple[Part, ...]:
    """What does not look at the porch: kept, so that a change of the porch builds the porch.

    Only a porch that is as high as the eaves is given, as ``before``.
    """
    parts = [*_body(replace(house, cornice=_NO_CORNICE))]
    parts += under("house", main_roof(house, roof, before))
    for wing in house.wings:
        # Where it is as high as the main walls, roof and eaves are the main ones' too.
        own = (
            [*_body(replace(wing.house, cornice=_NO_CORNICE))]
            if wing.gable
            else [
                *_house(wing.house, wing.roof),
                *under("house", eaves(wing.house, None, wing.roof)),
            ]
        )
        parts += on_wing(wing, own)
    return tuple(parts)


@lru_cache(maxsize=16)
def _body(house: HouseDesign) -> tuple[Part, ...]:
    """Walls, and what stands in them: kept by what they look at, of which no cornice is."""
    openings = under("house", _openings(house))
    foundation, *body = walls(house)
    return (*scribed(house, [foundation]), *body, *openings)


def _openings(house: HouseDesign) -> list[Part]:
    glazed = house.windows
    frames = np.array([opening_frame(house, o) for o in glazed]).reshape(-1, 4, 4)
    parts = windows(glazed, frames, house.reveal_m, house.wall_thickness_m) if glazed else []
    for opening in house.doors:
        at = opening_frame(house, opening)
        made = doorway(opening, house.reveal_m, house.wall_thickness_m)
        placed = [p.moved(at) for p in made]
        parts += placed if opening.entrance else under("side door", placed)
    parts += _alike(house, "french window", house.french_windows, french_window)
    parts += _alike(house, "shutters", house.windows, _shutters)
    parts += _alike(house, "head", house.windows, _head)
    return parts


def _alike(
    house: HouseDesign,
    name: str,
    openings: Iterable[_Kind],
    make: Callable[[_Kind, float, float], list[Part]],
) -> list[Part]:
    """What belongs to each opening of a kind, made once for all that are alike."""
    frames: dict[_Kind, list[Floats]] = {}
    for opening in openings:
        pattern = replace(opening, place=name, storey=None, wall="front", along_m=0.0, sill_z_m=0.0)
        frames.setdefault(pattern, []).append(opening_frame(house, opening))
    parts: list[Part] = []
    number = 0
    for pattern, places in frames.items():
        made = make(pattern, house.reveal_m, house.wall_thickness_m)
        number += bool(made)
        parts += [p.placed(np.array(places)).under(f"{name} {number}") for p in made]
    return parts


def _shutters(opening: WindowOpening, _reveal_m: float, _wall_m: float) -> list[Part]:
    return [] if opening.shutters is None else shutters(opening, opening.shutters)


def _head(opening: Opening, _reveal_m: float, _wall_m: float) -> list[Part]:
    return head(opening, opening.head) if opening.head in SPANNED else []


def _against_wall(design: Design, parts: list[Part]) -> list[Cut]:
    """What the porch covers of the front, in the wall's frame (which is the house's own)."""
    found: list[Cut] = []
    recess, foot_z = design.house.recess, design.house.floor_z_m
    if recess is not None:
        left, right = (recess.centre_m + s * recess.opening_m for s in (-1.0, 1.0))
        found.append((left, foot_z, right, recess.ceiling_z_m))
    found += _against([p for p in parts if not p.within("roof")], foot_z)
    return [*found, *on_wall(design.porch.highest, design.house, design.roof)]


def _against(parts: list[Part], foot_z: float) -> list[Cut]:
    """What parts cover of a wall over its foot, in the wall's frame, in which they are given."""
    return [
        (float(low[0]), float(low[2]), float(high[0]), float(high[2]))
        for part in parts
        for low, high in _boxes(part)
        if high[1] > -FACING_M and high[2] > foot_z
    ]


def _boxes(part: Part) -> Floats:
    """Bounds ``(k, 2, 3)`` of each copy of a part."""
    box = part.mesh.bounds
    if part.placements is None:
        return box[None]
    corners = np.array([[box[i, 0], box[j, 1], box[k, 2]] for i, j, k in np.ndindex(2, 2, 2)])
    world = np.einsum("kij,nj->kni", part.placements[:, :3, :3], corners)
    world += part.placements[:, None, :3, 3]
    return np.stack([world.min(axis=1), world.max(axis=1)], axis=1)


# --- the setting -------------------------------------------------------------------------


def scenery_of(design: Design) -> Scenery:
    """What the planting of a picture is laid out by."""
    house, porch, lie = design.house, design.porch, design.site.ground
    half, middle = house.width_m / 2.0, porch.centre_m
    (left, _, right, _), *round_corners = floor_plans(porch)
    edge = porch.column_y_m - porch.floor_edge_m
    wings = [wing.plan_m for wing in house.wings]
    for bay in house.bay_windows:
        (x0, y0), (x1, y1) = (f(outline(bay), axis=0) for f in (np.min, np.max))
        wings.append((float(x0), float(y0), float(x1), float(y1)))
    beside = (*side_porch_plans(house, design.side_porches).values(), *round_corners)
    return Scenery(
        design.setting,
        design.site.latitude_deg,
        lie.along,
        lie.back,
        ((-half, 0.0, half, house.depth_m), *wings),
        (left, min(edge, 0.0), right, 0.0),
        house.floor_z_m,
        porch.steps.width_m / 2.0,
        edge - porch.steps.run_m,
        (*steps_plans(house).values(), *carriage_ways(house), *beside),
        design.scale_figure,
        middle,
        beside,
        drive_x_m(house, design.side_porches),
    )


def _setting(design: Design) -> list[Part]:
    porch = design.porch
    foot_y = porch.column_y_m - porch.floor_edge_m - porch.steps.run_m
    lie = design.site.ground
    path = walk(porch.steps.width_m, foot_y + NOSING_M, 30.0)
    if porch.centre_m:
        path = path.moved(translations([(porch.centre_m, 0.0, 0.0)])[0])
    parts = [ground(lie), laid(path, lie)]
    if design.scale_figure:
        right = porch.centre_m + porch.end_axis_m + porch.floor_edge_m
        x = min(right + 1.2, design.house.width_m / 2.0)
        parts.append(figure((x, foot_y, float(lie.z_m(x, foot_y)))))
    return [*parts, *_around(design.setting, lie)]


@lru_cache(maxsize=4)
def _around(around: SettingDesign, lie: GroundDesign) -> tuple[Part, ...]:
    """Hedges, trees and neighbours, which look at nothing of the house."""
    parts: list[Part] = []
    for bush in around.hedges:
        parts.append(laid(hedge(bush.low_m, bush.high_m, bush.height_m), lie))
    for i, wood in enumerate(around.trees):
        at = wood.x_m, wood.y_m
        parts += stood(tree(*at, wood.height_m, wood.spread_m, seed=i), lie, at)
    for i, near in enumerate(around.neighbours):
        mass = neighbour(near.low_m, near.high_m, near.eaves_z_m, near.ridge_z_m, i + 1)
        (x0, y0), (x1, y1) = near.low_m, near.high_m
        parts += stood(mass, lie, ((x0 + x1) / 2.0, (y0 + y1) / 2.0))
    return tuple(parts)

"""Wings against the main block: what they take of its side walls, and their roofs."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from massing.build.gables import gabled
from massing.build.placing import house_outline
from massing.canon.mouldings import stack
from massing.design.house import HouseDesign, WingDesign
from massing.design.roof import RoofDesign
from massing.geometry.booleans import less
from massing.geometry.mesh import Floats, Mesh
from massing.geometry.solids import prism, translations, turned_about_z
from massing.parts.part import Part
from massing.parts.roofs.deck import deck
from massing.parts.walls.facing import CORNER_THICK_M, belt_section
from massing.parts.walls.wall import wall_frame, water_table
from massing.settingout.eaves import EAVES_EDGE_M, eaves_reach, flashing_top, wing_run
from massing.settingout.porch import FRIEZE_BOARD_M
from massing.settingout.roof_planes import RoofPlanes, lean_to_planes, porch_gable_planes, turned
from massing.settingout.wall_faces import Rectangle, plan_path

_BEFORE_M = 0.1  # all that is scribed to a wing stands less than this before the wall
_BRICK_JOINT_M = 0.01
_RUSTIC_M = 0.02


def outline_on_wall(house: HouseDesign, wing: WingDesign) -> Floats:
    """The outline ``(n, 2)`` of all of a wing that meets a wall, in that wall's frame."""
    own, roof = wing.house, wing.roof
    beside = _beside(own)
    (out, foot), *rest = water_table(own.floor_z_m)
    edge = [(out, foot - _BEFORE_M), *rest, (beside, own.floor_z_m)]
    for z in own.belt_courses_z_m:
        band = belt_section()[1:3] + [0.0, z]
        edge += [(beside, band[0, 1]), *map(tuple, band), (beside, z)]
    top_z, reach = own.wall_top_z_m, eaves_reach(own, roof)
    foot_z = top_z - own.cornice.height_m
    members = stack(own.cornice.members, foot_z) + [FRIEZE_BOARD_M, 0.0]
    run, lift = wing_run(own, roof), flashing_top(roof)
    edge += [(beside, foot_z), *map(tuple, members), (reach, top_z), (reach, top_z + lift)]
    edge.append((reach - run, top_z + lift + roof.slope * run))
    right = np.array(edge) + [own.depth_m / 2.0, 0.0]
    ring = np.concatenate([right, (right * [-1.0, 1.0])[::-1]])
    ring = ring[np.linalg.norm(ring - np.roll(ring, 1, axis=0), axis=1) > 1e-6]
    return ring + [_along(house, wing), 0.0]


def wall_behind(house: HouseDesign, wing: WingDesign) -> Rectangle:
    """The rectangle of the wall it stands against, in its frame, within a wing's own walls."""
    half, x = wing.house.depth_m / 2.0 + _beside(wing.house), _along(house, wing)
    foot_z = wing.house.wall_top_z_m - wing.house.cornice.height_m
    return x - half, house.floor_z_m, x + half, foot_z


def _beside(house: HouseDesign) -> float:
    """How far a wing's facing stands before its walls where it meets the main block's."""
    if house.rustication != "none":
        return _RUSTIC_M
    if not house.relief:
        return 0.0
    return CORNER_THICK_M if house.walls == "clapboard" else _BRICK_JOINT_M


def _along(house: HouseDesign, wing: WingDesign) -> float:
    """A wing's middle in the frame of the wall it stands against."""
    if wing.ahead:
        return wing.x_m
    y = wing.set_back_m + wing.house.depth_m / 2.0 - house.depth_m / 2.0
    return y if wing.side == "right" else -y


def scribed(house: HouseDesign, parts: list[Part], inside_m: float = 0.0) -> list[Part]:
    """Parts before the walls less what the wings take of them.

    ``inside_m`` is how far into the wall the parts reach. Parts in many copies are left as
    they are.
    """
    for wing in house.wings:
        frame = wall_frame(house, wing.side)
        x, y, z, origin = frame[:3, :4].T
        mesh = prism(
            outline_on_wall(house, wing), origin + inside_m * y, x, z, inside_m + _BEFORE_M
        )
        parts = [q for q in (_less(p, mesh) for p in parts) if len(q.mesh.faces)]
    return parts


def _less(part: Part, mesh: Mesh) -> Part:
    a, b = part.mesh.bounds, mesh.bounds
    if part.placements is not None or (a[0] >= b[1]).any() or (b[0] >= a[1]).any():
        return part
    return replace(part, mesh=less(part.mesh, mesh))


def wing_roof(house: HouseDesign, roof: RoofDesign) -> tuple[list[Part], RoofPlanes]:
    """A wing's roof deck, in its own frame, and the slopes to cover."""
    low, high, eaves_z = *_roof_plan(house, roof), house.wall_top_z_m
    # Seen from its outer end: x along that end, y towards the main wall.
    sign = 1.0 if house.open_side == "left" else -1.0
    turn = turned_about_z(sign * np.pi / 2.0)
    ends = np.array([low, high]) @ np.round(turn[:2, :2])
    near, far = ends.min(axis=0), ends.max(axis=0)
    make = lean_to_planes if roof.hipped else porch_gable_planes
    planes = turned(make(near, far, eaves_z + EAVES_EDGE_M, roof.slope), np.round(turn))
    if roof.hipped:
        return [Part(("deck",), "trim", deck(planes, EAVES_EDGE_M))], planes
    return gabled((low, high), house, roof, against=house.open_side), planes


def _roof_plan(house: HouseDesign, roof: RoofDesign) -> tuple[Floats, Floats]:
    corners = house_outline(house, eaves_reach(house, roof))
    low, high = corners.min(axis=0), corners.max(axis=0)
    if house.open_side == "left":
        low[0] = -house.width_m / 2.0
    else:
        high[0] = house.width_m / 2.0
    return low, high


def eaves_path(house: HouseDesign, out_m: float) -> Floats:
    """The way of a wing's eaves cornice from the main wall round it and back, ``(4, 2)``."""
    half = house.width_m / 2.0
    plan = house_outline(house, out_m)[[1, 2, 3, 0]]
    inner = plan[:, 0] < 0.0 if house.open_side == "left" else plan[:, 0] > 0.0
    plan[inner, 0] = np.sign(plan[inner, 0]) * half
    return plan_path(house, plan)


def on_wing(wing: WingDesign, parts: list[Part]) -> list[Part]:
    """A wing's own parts, called after it and moved to where it stands."""
    frame = translations([(wing.x_m, wing.set_back_m, 0.0)])[0]
    if wing.ahead:
        low_x, low_y, _, high_y = wing.plan_m
        frame = np.round(turned_about_z(-np.pi / 2.0))
        frame[:2, 3] = low_x, (low_y + high_y) / 2.0
    return [p.renamed("house", "house", f"{wing.side} wing").moved(frame) for p in parts]

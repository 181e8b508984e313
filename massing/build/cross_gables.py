"""Gables over part of a wall, put together: deck, wall with its window, boards, covering."""

from __future__ import annotations

import numpy as np

from massing.build.dormers import deck_of, on_deck
from massing.build.placing import covered
from massing.design.house import HouseDesign
from massing.design.opening import WindowOpening
from massing.design.roof import CrossGable, RoofDesign
from massing.geometry.booleans import less
from massing.geometry.mesh import Floats, Mesh
from massing.geometry.solids import box_between, prism, translations
from massing.parts.openings.head import KINDS as SPANNED
from massing.parts.openings.head import head
from massing.parts.openings.window import window
from massing.parts.part import Part, under
from massing.parts.roofs.dormer import lining
from massing.parts.walls.wall import hole_of_opening
from massing.settingout.cross_gables import (
    BOARD_M,
    cross_gable_planes,
    eaves_half_m,
    gable_frame,
    main_slope_before,
    peak_z_m,
    verge_y_m,
)
from massing.settingout.eaves import EAVES_EDGE_M

_ROOM_M = (2.0, 0.12)  # depth of the room behind a window, and its walls beyond the opening
_BELOW_M = 0.01  # what a cut goes beyond what it cuts
_ACROSS, _UP = (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)


def cross_gable_parts(
    gable: CrossGable, house: HouseDesign, roof: RoofDesign, frame: Floats | None = None
) -> list[Part]:
    """Every part of a gable, in its place; ``frame`` where the house's frame is not its own."""
    planes = cross_gable_planes(gable, house, roof)
    main = main_slope_before(gable, house, roof)
    body = on_deck([deck_of(planes, EAVES_EDGE_M)], main, EAVES_EDGE_M + 1.0)
    if not gable.hipped:
        body += _barge_boards(gable, house, roof)
        body += gable_wall(
            peak_z_m(gable, house, roof) - house.wall_top_z_m,
            eaves_half_m(gable, house, roof),
            gable.out_m,
            house,
            gable.opening,
        )
    at = gable_frame(gable, house)
    return [p.moved(at) for p in covered(body, planes, roof)]


def gable_wall(
    rise_m: float, half_m: float, out_m: float, house: HouseDesign, opening: WindowOpening | None
) -> list[Part]:
    """The wall under a gable's deck, over the walls' top, and what is in it.

    In the gable's frame, its outer face ``out_m`` before the origin.
    """
    z, thick = house.wall_top_z_m, house.wall_thickness_m
    outline = np.array([(-half_m, z), (half_m, z), (0.0, z + rise_m)])
    holes = [] if opening is None else [hole_of_opening(opening)]
    wall = prism(outline, (0.0, thick - out_m, 0.0), _ACROSS, _UP, thick, holes)
    parts = [Part(("gable",), "wall", wall)]
    if opening is None:
        return parts
    own = window(opening, house.reveal_m, thick)
    if opening.head in SPANNED:
        own += head(opening, opening.head)
    own.append(lining(_room(opening, thick)))
    at = translations([(opening.along_m, -out_m, opening.sill_z_m)])[0]
    return parts + under("gable window", [p.moved(at) for p in own])


def without_attics(body: list[Part], house: HouseDesign, roof: RoofDesign) -> list[Part]:
    """The main roof's deck with what gables on the main walls stand in taken out of it."""
    rooms = [mesh for gable in roof.gables for mesh in _taken(gable, house, roof)]
    rooms += [
        mesh
        for wing in house.wings
        if wing.gable and wing.gable.opening
        for mesh in _taken(wing.gable, house, roof)[-1:]
    ]
    if not rooms:
        return body
    made = []
    for part in body:
        mesh = part.mesh
        if part.path == ("deck",):
            for room in rooms:
                mesh = less(mesh, room)
        made.append(part if mesh is part.mesh else Part(part.path, part.role, mesh))
    return made


def _taken(gable: CrossGable, house: HouseDesign, roof: RoofDesign) -> list[Mesh]:
    """What a gable takes of the main deck: to the back of its wall, and the room behind that."""
    half, peak = eaves_half_m(gable, house, roof), peak_z_m(gable, house, roof)
    low = house.wall_top_z_m
    drop = _BELOW_M / gable.slope
    front, back = verge_y_m(gable, house, roof) - 1.0, house.wall_thickness_m - gable.out_m
    outline = np.array([(-half - drop, low - _BELOW_M), (half + drop, low - _BELOW_M), (0.0, peak)])
    found = [prism(outline, (0.0, back, 0.0), _ACROSS, _UP, back - front)]
    if gable.opening is not None:
        at = translations([(gable.opening.along_m, -gable.out_m, gable.opening.sill_z_m)])[0]
        found.append(_room(gable.opening, house.wall_thickness_m).moved(at))
    frame = gable_frame(gable, house)
    return [mesh.moved(frame) for mesh in found]


def _room(opening: WindowOpening, thick_m: float) -> Mesh:
    """The room behind a gable's window, in the opening's frame."""
    deep, beyond = _ROOM_M
    half, foot = opening.width_m / 2.0 + beyond, -beyond
    return box_between((-half, thick_m, foot), (half, thick_m + deep, opening.height_m + 0.02))


def _barge_boards(gable: CrossGable, house: HouseDesign, roof: RoofDesign) -> list[Part]:
    """A board under each verge, clear of the eaves, like those of the main gables."""
    half, slope = eaves_half_m(gable, house, roof), gable.slope
    y, z = verge_y_m(gable, house, roof), house.wall_top_z_m
    deep, rise = 1.5 * EAVES_EDGE_M + 0.1, gable.slope * half
    foot = deep / slope
    if foot >= half:
        return []
    ring = [(foot - half, 0.0), (0.0, rise - deep), (half - foot, 0.0)]
    ring += [(half - foot, foot * slope), (0.0, rise), (foot - half, foot * slope)]
    board = prism(np.array(ring), (0.0, y + BOARD_M, z), _ACROSS, _UP, BOARD_M)
    return [Part(("barge boards",), "trim", board)]

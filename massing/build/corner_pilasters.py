"""Pilasters that turn the house's corners, and the blocks of foundation they stand on."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from massing.canon import FittedOrder
from massing.canon.mouldings import stack
from massing.design.house import HouseDesign
from massing.geometry.booleans import less
from massing.geometry.mesh import Floats, Mesh
from massing.geometry.solids import box_between, translations, union, wall_block
from massing.parts.orders.pilaster import pilaster
from massing.parts.part import Part
from massing.parts.walls.wall import foundation, wall_frame
from massing.settingout.corner_pilasters import (
    BLOCK_BEYOND_M,
    PROUD_M,
    block_leg,
    shaft_leg,
    widest_reach,
)
from massing.settingout.wall_faces import WALL_NAMES, Cut, free_corners, run_m

_PLAY_M = 0.002


def corner_pilasters(house: HouseDesign) -> list[Part]:
    """A pilaster at each corner, on both its walls as one, from the floor to the eaves cornice.

    Where that cornice carries on the porch's, the porch's architrave runs over each capital.
    """
    order = house.corner_pilasters
    if order is None:
        return []
    parts = pilaster(order, PROUD_M)
    if house.cornice_continues_porch:
        edge = stack(order.architrave, order.column_height_m)
        head = wall_block(edge, order.upper_diameter_m / 2.0, PROUD_M)
        parts.append(Part(("pilaster", "architrave"), "order", head))
    swap = np.eye(4)[[1, 0, 2, 3]]  # the other wall's: x along it for y into the house
    middle = translations([(order.upper_diameter_m / 2.0 - PROUD_M, 0.0, house.floor_z_m)])[0]
    frames = _corners(house)
    made = []
    for part in parts:
        one = part.mesh.moved(middle)
        both = union([one, one.moved(swap)])
        made.append(
            replace(
                part.renamed("pilaster", "house", "corner pilasters"), mesh=both, placements=frames
            )
        )
    block = Part(
        ("house", "corner pilasters", "footing"), foundation(house).role, _footing(house, order)
    )
    return [*made, block.placed(frames)]


def _corners(house: HouseDesign) -> Floats:
    """Frames ``(k, 4, 4)`` of the corners: x along one wall, y along the other, z up."""
    frames = []
    for q in free_corners(house):
        matrix = wall_frame(house, WALL_NAMES[q])
        matrix[:3, 3] -= matrix[:3, 0] * run_m(house, WALL_NAMES[q]) / 2.0
        frames.append(matrix)
    return np.array(frames)


def _footing(house: HouseDesign, order: FittedOrder) -> Mesh:
    """The block that carries a plinth, scribed to the foundation behind it."""
    out, leg = PROUD_M + widest_reach(order) + BLOCK_BEYOND_M, block_leg(order)
    one = box_between((-out, -out, 0.0), (leg, 0.0, house.floor_z_m))
    other = box_between((-out, -out, 0.0), (0.0, leg, house.floor_z_m))
    corner = translations([(house.width_m / 2.0, 0.0, 0.0)])[0]
    return less(union([one, other]), foundation(house).mesh.moved(corner))


def pilaster_cut(house: HouseDesign, wall: str) -> list[Cut]:
    """What the pilasters take of a wall's facing, in the wall's frame."""
    order = house.corner_pilasters
    if order is None:
        return []
    half, reach = run_m(house, wall) / 2.0, widest_reach(order)
    foot, top = house.floor_z_m, house.wall_top_z_m
    head = foot + order.column_height_m - order.capital_height_m
    neck = sum(m.height for m in order.shaft_head)
    spans = [
        (foot, top, 0.0),
        (foot, foot + order.base_height_m + sum(m.height for m in order.shaft_foot), reach),
        (head - neck, top, reach),
    ]
    found: list[Cut] = []
    for low, high, more in spans:
        leg = shaft_leg(order) + more + _PLAY_M
        found += [(-half, low, -half + leg, high), (half - leg, low, half, high)]
    return found


def between_pilasters(house: HouseDesign, part: Part) -> Part:
    """A band round the house, stopped against the pilasters' shafts."""
    order = house.corner_pilasters
    if order is None:
        return part
    low_z, high_z = part.mesh.bounds[:, 2]
    leg, out = shaft_leg(order), 1.0
    mesh = part.mesh
    for frame in _corners(house):
        box = union(
            [
                box_between((-out, -out, low_z - out), (leg, 0.01, high_z + out)),
                box_between((-out, -out, low_z - out), (0.01, leg, high_z + out)),
            ]
        )
        mesh = less(mesh, box.moved(frame))
    return replace(part, mesh=mesh)

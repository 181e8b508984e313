"""A porch recessed in the house, put together: columns between two antae under the front wall."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from massing.design.house import HouseDesign, RecessDesign
from massing.design.porch import PorchDesign
from massing.geometry.booleans import less
from massing.geometry.mesh import Floats, Mesh
from massing.geometry.solids import box_between, extrude, frame, turned_about_z
from massing.parts.floors.ceiling import ceiling
from massing.parts.openings.head import head_cut
from massing.parts.orders.entablature import entablature
from massing.parts.orders.pilaster import pilaster
from massing.parts.part import Part
from massing.parts.walls.facing import bricks, clapboards
from massing.settingout.porch import FRIEZE_BOARD_M, frieze_path

_BEHIND_M = FRIEZE_BOARD_M - 1e-4  # entablature boards, on the wall's face


def antae(porch: PorchDesign, recess: RecessDesign) -> list[Part]:
    """The wall's ends as square piers of the order, each two pilasters back to back.

    What would lie within the front wall or the recess's side walls is cut away.
    """
    order, half, middle = porch.order, porch.frieze_half_depth_m, porch.centre_m
    parts: list[Part] = []
    for name, side in (("left", -1.0), ("right", 1.0)):
        low, high = porch.floor_z_m - 1.0, porch.ceiling_z_m
        walls = [
            _block(
                middle + side * recess.opening_m,
                middle + side * (recess.opening_m + 2.0),
                0.0,
                3.0,
                low,
                high,
            ),
            _block(
                middle + side * recess.half_width_m,
                middle + side * (recess.half_width_m + 2.0),
                recess.side_y_m,
                recess.side_y_m + 3.0,
                low,
                high,
            ),
        ]
        for way, turn in (("front", 0.0), ("back", np.pi)):
            x = middle + side * porch.end_axis_m
            at = turned_about_z(turn, (x, porch.column_y_m, porch.floor_z_m))
            for part in pilaster(order, half, fluted=porch.responds_fluted and way == "front"):
                mesh = part.world_mesh().moved(at)
                for wall in walls:
                    if _meet(mesh, wall):
                        mesh = less(mesh, wall)
                if not len(mesh.faces):
                    continue
                label = part.renamed("pilaster", "anta", name, way).path
                parts.append(Part(label, part.role, mesh))
    return parts


def _block(x0: float, x1: float, y0: float, y1: float, z0: float, z1: float) -> Mesh:
    return box_between((min(x0, x1), y0, z0), (max(x0, x1), y1, z1))


def _meet(one: Mesh, other: Mesh) -> bool:
    a, b = one.bounds, other.bounds
    return bool((a[0] < b[1]).all() and (b[0] < a[1]).all())


def recess_entablature(porch: PorchDesign, house: HouseDesign) -> list[Part]:
    """The order's entablature across the front wall's face, from z = 0, and the beam behind it.

    It carries across the antae and returns to the wall. Where it is the house's own, the
    house's frieze and cornice go on over it and only the architrave is made here.
    """
    order, recess = porch.order, house.recess
    assert recess is not None
    y = porch.column_y_m
    ends = (porch.centre_m - porch.end_axis_m, porch.centre_m + porch.end_axis_m)
    axes = [*porch.perimeter_axes_m, *((x, y) for x in ends)]
    groups = ("architrave", "frieze", "cornice")
    parts = entablature(
        order,
        frieze_path(porch),
        groups=groups[:1] if house.cornice_continues_porch else groups,
        column_axes=np.array(axes),
        back_m=_BEHIND_M,
    )
    beam = extrude(_beam_plan(recess, house.wall_thickness_m), order.architrave_height_m)
    return [*parts, Part(("entablature", "beam"), "order", beam)]


def _beam_plan(recess: RecessDesign, wall_m: float) -> Floats:
    """Over the mouth as deep as the antae, and between the side walls as deep as the wall."""
    mouth, inside, y = recess.opening_m, recess.half_width_m, recess.side_y_m
    right = [(mouth, 0.0), (mouth, y)]
    if wall_m > y:
        right += [(inside, y), (inside, wall_m)]
    plan = np.array([*right, *((-x, z) for x, z in reversed(right))])
    return plan + [recess.centre_m, 0.0]


def recess_ceiling(porch: PorchDesign, house: HouseDesign) -> list[Part]:
    """Boards from behind the beam to the recessed wall."""
    recess = house.recess
    assert recess is not None
    left, right = (recess.centre_m + s * recess.half_width_m for s in (-1.0, 1.0))
    low = (left, max(recess.side_y_m, house.wall_thickness_m))
    return ceiling(low, (right, recess.depth_m), porch.ceiling_z_m)


def recess_facing(house: HouseDesign) -> list[Part]:
    """Boards or bricks in relief on the recess's three walls, as on the house's own."""
    recess = house.recess
    if recess is None or not house.relief:
        return []
    x, y = recess.half_width_m, (recess.side_y_m + recess.depth_m) / 2.0
    middle = recess.centre_m
    within = tuple(
        replace(o, back_m=0.0, along_m=o.along_m - middle) for o in house.openings if o.back_m
    )
    room = replace(
        house,
        width_m=2.0 * x,
        depth_m=recess.depth_m - recess.side_y_m,
        openings=within,
        recess=None,
        wings=(),
    )
    # seen from within, the left wall looks the way of a house's right one
    up = (0.0, 0.0, 1.0)
    frames = {
        "front": frame((middle, recess.depth_m, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), up),
        "right": frame((middle - x, y, 0.0), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0), up),
        "left": frame((middle + x, y, 0.0), (0.0, -1.0, 0.0), (1.0, 0.0, 0.0), up),
    }
    clear = {"front": [cut for o in within for cut in head_cut(o)]}
    top_z = recess.ceiling_z_m
    if house.walls == "brick":
        laid = bricks(room, frames, top_z, house.bond, clear, walls=tuple(frames))
    else:
        everywhere = {**frames, "back": np.eye(4)}
        boards = clapboards(room, everywhere, top_z, house.clapboard_exposure_m, clear)
        laid = [p for p in boards if p.path[-1] in frames]
    return [p.renamed("house", "house", "recess") for p in laid]

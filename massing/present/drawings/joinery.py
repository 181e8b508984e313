"""What a joiner asks of every opening: where it is, and the sizes of its leaves and glass."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from massing.design.design import Design
from massing.design.house import HouseDesign
from massing.design.opening import Opening
from massing.geometry.mesh import Floats, Mesh
from massing.parts.openings.door import door
from massing.parts.openings.window import window
from massing.parts.roofs.dormer import REVEAL_M
from massing.practice.joinery_sizes import DORMER_FACE_M
from massing.settingout.cross_roofs import dormer_frame, window_of
from massing.units import floor_name

_LEAST_M = 0.15  # narrower pieces are beads


@dataclass(frozen=True)
class Placed:
    """An opening of the main block, of a wing or of a dormer, where it stands.

    Attributes:
        opening: as its own wall has it.
        middle_m: x and y of its middle on the wall's face.
        where: what a schedule calls the place.
        floor_z_m: its floor above the ground; None of a dormer.
        reveal_m, wall_m: wall face back to the sash, and the wall's thickness.
    """

    opening: Opening
    middle_m: tuple[float, float]
    where: str
    floor_z_m: float | None
    reveal_m: float
    wall_m: float


def placed(design: Design) -> list[Placed]:
    """Every opening, the main block's first, then the wings' and the dormers'."""
    house = design.house
    made = _of_house(design, house, "", (0.0, 0.0))
    for wing in house.wings:
        start = (wing.x_m, wing.set_back_m)
        made += _of_house(design, wing.house, f"{wing.side} wing, ", start)
    blocks = [(house, design.roof, "", (0.0, 0.0))]
    blocks += [(w.house, w.roof, f"{w.side} wing, ", (w.x_m, w.set_back_m)) for w in house.wings]
    for block, roof, name, start in blocks:
        for row in roof.dormers:
            for x in row.centres_m:
                at = dormer_frame(row, x, block.depth_m)[:2, 3] + start
                own = replace(
                    window_of(row), wall=row.side, along_m=float(at[0]), sill_z_m=row.sill_z_m
                )
                where = f"{name}dormers, {row.side}"
                middle = (float(at[0]), float(at[1]))
                made.append(Placed(own, middle, where, None, REVEAL_M, DORMER_FACE_M))
    return made


def _of_house(
    design: Design, house: HouseDesign, name: str, start: tuple[float, float]
) -> list[Placed]:
    made = []
    for opening in house.openings:
        storey = opening.storey or 0
        x, y, _ = on_wall(opening, house)
        where = f"{name}{opening.wall}, {floor_name(storey, design.units)}"
        floor = house.storey_floors_z_m[storey]
        middle = (x + start[0], y + start[1])
        made.append(Placed(opening, middle, where, floor, house.reveal_m, house.wall_thickness_m))
    return made


def on_wall(opening: Opening, house: HouseDesign) -> tuple[float, float, tuple[float, float]]:
    """Plan place of an opening's middle on its wall's face, in its house's frame; the way out."""
    a = opening.along_m
    if opening.wall == "front":
        return a, opening.back_m, (0.0, -1.0)
    if opening.wall == "back":
        return -a, house.depth_m, (0.0, 1.0)
    if opening.wall == "right":
        return house.width_m / 2.0, house.depth_m / 2.0 + a, (1.0, 0.0)
    return -house.width_m / 2.0, house.depth_m / 2.0 - a, (-1.0, 0.0)


def leaves_and_glass(one: Placed) -> tuple[list[Floats], list[Floats]]:
    """Width and height ``(2,)`` of each leaf or sash, and of each pane in its rebates.

    They are measured off the joinery as it is built, left to right.
    """
    make = door if one.opening.kind == "door" else window
    leaves: list[Floats] = []
    panes: list[Floats] = []
    for part in make(one.opening, one.reveal_m, one.wall_m):
        if part.path[-1] in ("sash", "leaves", "stiles and rails"):
            leaves += [size for size in _pieces(part.mesh) if size.min() > _LEAST_M]
        elif part.role == "glass":
            panes += _pieces(part.mesh)
    return leaves, panes


def _pieces(mesh: Mesh) -> list[Floats]:
    """Width and height of what hangs together in a mesh, left to right and bottom to top."""
    label = np.arange(len(mesh.vertices))
    while True:
        least = label[mesh.faces].min(axis=1)
        grown = label.copy()
        np.minimum.at(grown, mesh.faces.reshape(-1), np.repeat(least, 3))
        if (grown == label).all():
            break
        label = grown
    boxes = []
    for one in np.unique(label[mesh.faces]):
        points = mesh.vertices[label == one][:, [0, 2]]
        boxes.append((points.min(axis=0), points.max(axis=0)))
    boxes.sort(key=lambda box: (round(float(box[0][0]), 4), float(box[0][1])))
    return [high - low for low, high in boxes]

"""What a joiner asks of every opening: where it is, and the sizes of its leaves and glass."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from massing.design.design import Design
from massing.design.house import HouseDesign, WingDesign
from massing.design.kinds import Wall, WingSide
from massing.design.opening import (
    SEEN_AHEAD,
    DoorOpening,
    FrenchWindow,
    Opening,
    WindowOpening,
)
from massing.design.roof import GableRoof, RoofDesign
from massing.geometry.mesh import Floats, Mesh
from massing.parts.openings.door import door
from massing.parts.openings.french_window import french_window
from massing.parts.openings.window import window
from massing.parts.part import Part
from massing.parts.roofs.dormer import REVEAL_M
from massing.parts.walls.wall import wall_frame
from massing.practice.joinery_sizes import DORMER_FACE_M
from massing.settingout.bay_windows import REVEAL_M as BAY_REVEAL_M
from massing.settingout.bay_windows import WALL_M as BAY_WALL_M
from massing.settingout.bay_windows import face_frames
from massing.settingout.cross_gables import cross_gables, gable_frame
from massing.settingout.cross_roofs import dormer_frame, window_of
from massing.units import floor_name

_LEAST_M = 0.15  # narrower pieces are beads


@dataclass(frozen=True)
class Placed:
    """An opening of the main block, of a wing, of a dormer or of a gable, where it stands.

    Attributes:
        opening: as its own wall has it.
        middle_m: x and y of its middle on the wall's face.
        where: what a schedule calls the place.
        floor_z_m: its floor above the ground; None of a dormer's or a gable's.
        reveal_m, wall_m: wall face back to the sash, and the wall's thickness.
    """

    opening: Opening
    middle_m: tuple[float, float]
    where: str
    floor_z_m: float | None
    reveal_m: float
    wall_m: float


def placed(design: Design) -> list[Placed]:
    """Every opening, the main block's first, then the wings', the dormers' and the gables'."""
    house = design.house
    made = _of_house(design, house, "", _as_it_is)
    for wing in house.wings:
        own = _of_house(design, wing.house, f"{wing.side} wing, ", wing.on_plan, wing.side)
        made += own
    blocks = [(house, design.roof, "", _as_it_is)]
    blocks += [(w.house, w.roof, f"{w.side} wing, ", w.on_plan) for w in house.wings]
    for block, roof, name, on_plan in blocks:
        for row in roof.dormers:
            for x in row.centres_m:
                at = dormer_frame(row, x, block.depth_m)[:2, 3]
                middle = on_plan(float(at[0]), float(at[1]))
                dormer = replace(
                    window_of(row), wall=row.side, along_m=middle[0], sill_z_m=row.sill_z_m
                )
                where = f"{name}dormers, {row.side}"
                made.append(Placed(dormer, middle, where, None, REVEAL_M, DORMER_FACE_M))
    return [*made, *_in_bays(house), *_in_gables(design)]


def _in_bays(house: HouseDesign) -> list[Placed]:
    """The lights of bay windows, each in its face."""
    made = []
    for bay in house.bay_windows:
        for name, frame in face_frames(bay).items():
            light = bay.front if name == "front" else bay.side
            x, y = frame[:2, 3]
            sizes = bay.floor_z_m, BAY_REVEAL_M, BAY_WALL_M
            made.append(Placed(light, (float(x), float(y)), "bay window, front", *sizes))
    return made


def _in_gables(design: Design) -> list[Placed]:
    """What stands in gables' walls: of cross gables, wings and the main roof's ends."""
    house, made = design.house, []

    def put(opening: Opening, frame: Floats, wall: Wall, where: str, own: HouseDesign) -> None:
        x, y, _ = frame[:3, :3] @ [opening.along_m, 0.0, 0.0] + frame[:3, 3]
        sizes = own.reveal_m, own.wall_thickness_m
        seen = replace(opening, wall=wall)
        made.append(Placed(seen, (float(x), float(y)), where, None, *sizes))

    for gable in cross_gables(house, design.roof):
        if gable.opening is not None:
            frame = gable_frame(gable, house)
            frame[:3, 3] += frame[:3, :3] @ [0.0, -gable.out_m, 0.0]
            put(gable.opening, frame, gable.wall, f"gable, {gable.wall}", house)
    blocks: list[tuple[HouseDesign, RoofDesign, WingDesign | None]] = [(house, design.roof, None)]
    blocks += [(wing.house, wing.roof, wing) for wing in house.wings if wing.gable is None]
    for own, roof, wing in blocks:
        opening = roof.opening if isinstance(roof, GableRoof) else None
        ends: tuple[Wall, ...] = ("right", "left")
        for side in ends if opening else ():
            if side == own.open_side or opening is None:
                continue
            frame = wall_frame(own, side)
            on_plan = _as_it_is if wing is None else wing.on_plan
            frame[:2, 3] = on_plan(*(float(v) for v in frame[:2, 3]))
            wall = SEEN_AHEAD[side] if wing is not None and wing.ahead else side
            name = f"{wing.side} wing, " if wing is not None else ""
            put(opening, frame, wall, f"{name}gable, {wall}", own)
    return made


def _as_it_is(x_m: float, y_m: float) -> tuple[float, float]:
    return x_m, y_m


def _of_house(
    design: Design,
    house: HouseDesign,
    name: str,
    on_plan: Callable[[float, float], tuple[float, float]],
    wing: WingSide | None = None,
) -> list[Placed]:
    made = []
    for opening in house.openings:
        storey = opening.storey or 0
        x, y, _ = on_wall(opening, house)
        wall = SEEN_AHEAD[opening.wall] if wing == "front" else opening.wall
        where = f"{name}{wall}, {floor_name(storey, design.units)}"
        floor = house.storey_floors_z_m[storey]
        seen = replace(opening, wall=wall)
        made.append(
            Placed(seen, on_plan(x, y), where, floor, house.reveal_m, house.wall_thickness_m)
        )
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
    leaves: list[Floats] = []
    panes: list[Floats] = []
    for part in _joinery(one):
        if part.path[-1] == "leaves":  # a French window's, of a glazed and a panelled piece each
            left = part.mesh.vertices[:, 0] < 0.0
            leaves += [
                np.ptp(part.mesh.vertices[side][:, [0, 2]], axis=0) for side in (left, ~left)
            ]
        elif part.path[-1] in ("sash", "stiles and rails"):
            leaves += [size for size in _pieces(part.mesh) if size.min() > _LEAST_M]
        elif part.role == "glass":
            panes += _pieces(part.mesh)
    return leaves, panes


def _joinery(one: Placed) -> list[Part]:
    match one.opening:
        case DoorOpening() as opening:
            return door(opening, one.reveal_m, one.wall_m)
        case FrenchWindow() as opening:
            return french_window(opening, one.reveal_m, one.wall_m)
        case WindowOpening() as opening:
            return window(opening, one.reveal_m, one.wall_m)
    raise ValueError(f"{one.opening.name} holds no joinery")


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

"""Bay windows put together: foot, posts and panels, windows, cornice, roof."""

from __future__ import annotations

import numpy as np

from massing.build.placing import covered, raised
from massing.design.bay_window import BayWindowDesign
from massing.design.house import HouseDesign
from massing.design.roof import RoofDesign
from massing.geometry.booleans import less
from massing.geometry.mesh import Floats, merged
from massing.geometry.solids import extrude, prism
from massing.parts.openings.window import window
from massing.parts.orders.entablature import cornice
from massing.parts.part import Part, under
from massing.parts.roofs.deck import deck
from massing.parts.walls.wall import foundation_role, hole_of_opening
from massing.settingout.bay_windows import (
    EDGE_M,
    FLASHING_M,
    REVEAL_M,
    WALL_M,
    bay_roof,
    face_frames,
    outline,
)

_BACK_M = 0.02  # of the cornice, behind the posts' faces
_FLOOR_M = 0.05
_SHEET_M = 0.003
_ACROSS, _UP = (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)


def bay_window_parts(house: HouseDesign, roof: RoofDesign) -> list[Part]:
    """Every bay window of the front, in its place."""
    parts: list[Part] = []
    for i, bay in enumerate(house.bay_windows):
        parts += under("house", under(f"bay window {i + 1}", _bay(bay, house, roof)))
    return parts


def _bay(bay: BayWindowDesign, house: HouseDesign, roof: RoofDesign) -> list[Part]:
    outer, inner = outline(bay), outline(bay, -WALL_M)
    foot, top = bay.floor_z_m, bay.eaves_z_m
    shell = extrude(np.concatenate([outer, inner[::-1]]), top - foot).shifted(z_m=foot)
    frames = face_frames(bay)
    own: list[Part] = []
    for name, frame in frames.items():
        light = bay.front if name == "front" else bay.side
        ring = hole_of_opening(light)
        hole = prism(ring, (0.0, WALL_M + 0.01, 0.0), _ACROSS, _UP, WALL_M + 0.06)
        shell = less(shell, hole.moved(frame))
        at = frame.copy()
        at[:3, 3] += frame[:3, :3] @ [light.along_m, 0.0, light.sill_z_m]
        made = window(light, REVEAL_M, WALL_M)
        own += [p.moved(at).under(f"{name} light") for p in made]
    base = extrude(outer, foot)
    floor = extrude(inner, _FLOOR_M).shifted(z_m=foot - _FLOOR_M)
    crown = cornice(bay.cornice, outer, back_m=_BACK_M)
    return [
        Part(("foundation",), foundation_role(house), less(base, floor)),
        Part(("floor",), "interior", floor),
        Part(("posts and panels",), "trim", shell),
        *own,
        *raised(crown, bay.cornice_foot_z_m),
        *under("roof", _roof(bay, roof)),
    ]


def _roof(bay: BayWindowDesign, main: RoofDesign) -> list[Part]:
    """Boards and the main roof's covering, or a sheet of lead dressed up the wall."""
    planes = bay_roof(bay)
    body = deck(planes, EDGE_M)
    if bay.roof == "covering":
        return covered([Part(("deck",), "trim", body)], planes, main)
    front, right, _ = planes.slopes
    line = np.array([planes.slopes[2][0], planes.slopes[2][2], front[2], right[1]])[:, [0, 2]]
    sheet = prism(_strip(line), (0.0, 0.0, 0.0), _ACROSS, _UP, _SHEET_M)
    return [Part(("lead",), "metal", body), Part(("flashing",), "metal", merged([sheet]))]


def _strip(line: Floats) -> Floats:
    """What a flashing covers of the wall, over the roof's line on it ``(4, 2)``."""
    return np.concatenate([line, (line + [0.0, FLASHING_M])[::-1]])

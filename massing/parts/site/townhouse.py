"""A house of the neighbourhood for pictures: walls, roof, sashes and a door, no more.

It faces -Y, the middle of its front's foot at the origin. Sizes are common practice, no source.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from massing.geometry.mesh import Mesh, merged
from massing.geometry.solids import box_between, loft, prism
from massing.parts.part import Part

STOREY_M = 3.2
_WALLS = ("neighbour/white", "neighbour/brick", "neighbour/grey", "neighbour/cream")
_ROOFS = ("neighbour roof", "neighbour roof/warm")
_EAVES_M, _BAY_M = 0.45, 2.7
_SASH_M = (1.0, 1.7)
_PLINTH_M = 0.6


@lru_cache(maxsize=32)
def townhouse(
    width_m: float, depth_m: float, eaves_m: float, rise_m: float, variant: int
) -> tuple[Part, ...]:
    """Walls, roof, chimney, trim and panes; even variants are hipped, odd ones gabled.

    Raises:
        ValueError: no size.
    """
    if min(width_m, depth_m, eaves_m, rise_m) <= 0.0:
        raise ValueError("a house needs a width, a depth, eaves and a roof")
    half = width_m / 2.0
    body = box_between((-half, 0.0, -0.5), (half, depth_m, eaves_m))
    hipped = variant % 2 == 0
    roof = (
        _hip(half, depth_m, eaves_m, rise_m) if hipped else _gable(half, depth_m, eaves_m, rise_m)
    )
    chimney = box_between(
        (0.55 * half, 0.4 * depth_m, eaves_m),
        (0.55 * half + 0.9, 0.4 * depth_m + 0.6, eaves_m + 1.12 * rise_m + 0.7),
    )
    trim = [
        box_between((-half - 0.25, -0.25, eaves_m - 0.4), (half + 0.25, depth_m + 0.25, eaves_m))
    ]
    trim.append(
        box_between((-half - 0.03, -0.03, -0.4), (half + 0.03, depth_m + 0.03, _PLINTH_M - 0.15))
    )
    panes: list[Mesh] = []
    door = _door(trim, panes, 0.0)
    storeys = max(1, round((eaves_m - 0.8) / STOREY_M))
    for storey in range(storeys):
        z = _PLINTH_M + storey * STOREY_M + 0.75
        if z + _SASH_M[1] > eaves_m - 0.3:
            break
        for run, at in _faces(half, depth_m):
            bays = max(2, int(run / _BAY_M))
            for k in range(bays):
                x = (k + 0.5) / bays * run - run / 2.0
                if at[0] == "front" and storey == 0 and abs(x) < 1.2:
                    continue
                _window(trim, panes, at, x, z)
    walls = _WALLS[variant % len(_WALLS)]
    parts = [
        Part(("walls",), walls, body),
        Part(("roof",), _ROOFS[(variant // 2) % 2], roof),
        Part(("chimney",), "neighbour/brick", chimney),
        Part(("trim",), "neighbour/trim", merged(trim)),
        Part(("door",), "door", door),
    ]
    if panes:
        parts.append(Part(("panes",), "glass", merged(panes)))
    if not hipped:
        parts.append(Part(("gables",), walls, _gable_walls(half, depth_m, eaves_m, rise_m)))
    return tuple(parts)


def _hip(half: float, depth: float, eaves: float, rise: float) -> Mesh:
    e = _EAVES_M
    run = min(half + e, depth / 2.0 + e) - 0.05
    rings = [(0.0, eaves), (0.0, eaves + 0.12), (run, eaves + 0.12 + rise)]
    x0, x1, y0, y1 = -half - e, half + e, -e, depth + e
    return loft(
        np.array(
            [
                [(x0 + c, y0 + c, z), (x1 - c, y0 + c, z), (x1 - c, y1 - c, z), (x0 + c, y1 - c, z)]
                for c, z in rings
            ]
        )
    )


def _gable(half: float, depth: float, eaves: float, rise: float) -> Mesh:
    e, thick = _EAVES_M, 0.16
    drop = rise * e / (depth / 2.0)
    section = [
        (-e, eaves - drop), (depth / 2.0, eaves + rise), (depth + e, eaves - drop),
        (depth + e, eaves - drop + thick), (depth / 2.0, eaves + rise + thick),
        (-e, eaves - drop + thick),
    ]  # fmt: skip
    return prism(section, (-half - e, 0.0, 0.0), (0, 1.0, 0), (0, 0, 1.0), 2.0 * (half + e))


def _gable_walls(half: float, depth: float, eaves: float, rise: float) -> Mesh:
    section = [(0.0, eaves), (depth, eaves), (depth / 2.0, eaves + rise)]
    return prism(section, (-half, 0.0, 0.0), (0, 1.0, 0), (0, 0, 1.0), 2.0 * half)


Face = tuple[str, float, float]


def _faces(half: float, depth: float) -> list[tuple[float, Face]]:
    return [
        (2.0 * half, ("front", 0.0, 0.0)),
        (2.0 * half, ("back", 0.0, depth)),
        (depth, ("left", -half, depth / 2.0)),
        (depth, ("right", half, depth / 2.0)),
    ]


def _window(trim: list[Mesh], panes: list[Mesh], at: Face, x: float, z: float) -> None:
    """A casing, a pane and bars on a face, standing a little before it."""
    wide, high = _SASH_M
    trim.append(_on(at, x - wide / 2 - 0.1, x + wide / 2 + 0.1, z - 0.08, z + high + 0.12, 0.05))
    panes.append(_on(at, x - wide / 2, x + wide / 2, z, z + high, 0.06))
    for bar in (-wide / 6, wide / 6):
        trim.append(_on(at, x + bar - 0.015, x + bar + 0.015, z, z + high, 0.075))
    for level in (0.25, 0.5, 0.75):
        half = 0.03 if level == 0.5 else 0.015
        middle = z + level * high
        trim.append(_on(at, x - wide / 2, x + wide / 2, middle - half, middle + half, 0.07))


def _door(trim: list[Mesh], panes: list[Mesh], x: float) -> Mesh:
    at: Face = ("front", 0.0, 0.0)
    trim.append(_on(at, x - 0.75, x + 0.75, 0.0, _PLINTH_M + 2.75, 0.07))
    trim.append(box_between((x - 1.1, -1.4, -0.2), (x + 1.1, 0.0, _PLINTH_M - 0.1)))
    panes.append(_on(at, x - 0.45, x + 0.45, _PLINTH_M + 2.15, _PLINTH_M + 2.5, 0.085))
    return _on(at, x - 0.47, x + 0.47, _PLINTH_M, _PLINTH_M + 2.1, 0.085)


def _on(at: Face, a: float, b: float, z0: float, z1: float, proud: float) -> Mesh:
    face, x, y = at
    match face:
        case "front":
            return box_between((a, y - proud, z0), (b, y + 0.02, z1))
        case "back":
            return box_between((a, y - 0.02, z0), (b, y + proud, z1))
        case "left":
            return box_between((x - proud, y + a, z0), (x + 0.02, y + b, z1))
        case _:
            return box_between((x - 0.02, y + a, z0), (x + proud, y + b, z1))

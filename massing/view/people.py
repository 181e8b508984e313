"""Where people stand in a picture: in the frame, before no column and not in the doorway."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from massing.geometry.mesh import Floats
from massing.parts.part import Model, Part
from massing.view.camera import Camera
from massing.view.framing import box_corners

# From the first one's foot to the right, as the eye sees them.
GROUP_M = {"man": 0.0, "woman": 0.78, "child": 1.24}
SHOULDERS_M = 0.33  # from a figure's middle to its outside
TALLEST_M = 1.80
_UPRIGHTS = ("column", "pilaster", "pier", "respond")
_DOOR = "leaf"
_EDGE = 0.02  # of the frame's width, kept clear at its sides
_STEP_M = 0.45

Box = tuple[float, float, float, float]


def standing_places(
    model: Model, camera: Camera, spots_m: Sequence[tuple[float, float]]
) -> dict[str, tuple[float, float]]:
    """The place ``(x, y)`` of each figure: at the first of ``spots_m`` where all are clear, of
    windows too if there is one.

    In an elevation the first figure stands alone, as a draughtsman's does. Where no spot is
    clear there is nobody.
    """
    names = list(GROUP_M)[:1] if camera.kind == "ortho" else list(GROUP_M)
    right = camera.axes[0][:2]
    uprights = _seen(model, camera, _is_upright)
    windows = _seen(model, camera, lambda part: part.role == "glass" and part.within("house"))
    for taken in ([*uprights, *windows], uprights):
        for spot in spots_m:
            places = {name: tuple(np.array(spot) + GROUP_M[name] * right) for name in names}
            if all(_is_clear(place, camera, taken, right) for place in places.values()):
                return {name: (float(x), float(y)) for name, (x, y) in places.items()}
    return {}


def spots_beside_the_path(model: Model) -> list[tuple[float, float]]:
    """Where they may stand, nearest to the porch's corner and the path first."""
    porch = [p for p in model.parts if p.within("porch")]
    low = np.min([_box(p)[0] for p in porch], axis=0)
    high = np.max([_box(p)[1] for p in porch], axis=0)
    spots = []
    for out in np.arange(0.4, 9.0, _STEP_M):
        for before in (0.3, 1.0, 2.0, 3.2):
            for side in (1.0, -1.0):
                edge = high[0] if side > 0 else low[0]
                spots.append((float(edge + side * out), float(low[1] - before)))
    return spots


def _is_upright(part: Part) -> bool:
    """Whether it is of a column, a pilaster or the front door."""
    words = part.path if part.within("porch") else ()
    named = any(word.startswith(kind) for word in words for kind in _UPRIGHTS)
    return named or part.within("house", _DOOR)


def _seen(model: Model, camera: Camera, wanted: Callable[[Part], bool]) -> list[Box]:
    """The picture's boxes of each copy of some parts."""
    found = []
    for part in filter(wanted, model.parts):
        corners = box_corners(part.mesh.bounds)
        for frame in part.placements if part.placements is not None else [np.eye(4)]:
            seen = camera.project(corners @ frame[:3, :3].T + frame[:3, 3])
            if np.isfinite(seen).all():
                (a, b), (c, d) = seen.min(axis=0), seen.max(axis=0)
                found.append((float(a), float(b), float(c), float(d)))
    return found


def _is_clear(
    place: tuple[float, ...], camera: Camera, taken: Sequence[Box], right: Floats
) -> bool:
    x, y = place
    half = SHOULDERS_M * right
    ends = [(x + s * half[0], y + s * half[1], z) for s in (-1, 1) for z in (0.0, TALLEST_M)]
    seen = camera.project(ends)
    if not np.isfinite(seen).all():
        return False
    (a, b), (c, d) = seen.min(axis=0), seen.max(axis=0)
    edge = _EDGE * camera.width_px
    if a < edge or c > camera.width_px - edge or b < 0.0 or d > camera.height_px:
        return False
    return not any(a < t[2] and t[0] < c and b < t[3] and t[1] < d for t in taken)


def _box(part: Part) -> Floats:
    return part.world_mesh().bounds

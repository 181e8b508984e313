"""Frames with screens or sash between a porch's columns: a sleeping porch, a closed side porch."""

from __future__ import annotations

import numpy as np

from massing.design.kinds import PorchFill
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between
from massing.parts.part import Part
from massing.practice.defaults import default

_FRAME_M = default("side_porch.frame")
_RAIL_M = default("side_porch.frame_rail")
_GLASS_M = 0.006
_WIDEST_M = 1.2  # of a light between mullions: common practice, no source


def porch_frame(width_m: float, height_m: float, fill: PorchFill) -> list[Part]:
    """A frame about x = 0 on z = 0: jambs, mullions, sill, rail and head, and glass in sash.

    The gauze of screens is finer than anything that is drawn, and is left out.

    Raises:
        ValueError: it is too small for its own members.
    """
    half, deep, f = width_m / 2.0, _FRAME_M / 2.0, _FRAME_M
    if width_m < 3.0 * f or height_m < 2.0 * f:
        raise ValueError(f"a frame {width_m:.2f} m by {height_m:.2f} m is too small")
    lights = max(1, round((width_m - f) / _WIDEST_M))
    uprights = np.linspace(-half, half - f, lights + 1)
    rail = min(_RAIL_M, 0.5 * height_m)
    levels = [0.0, rail - f / 2.0, height_m - f]
    bars = [box_between((x, -deep, 0.0), (x + f, deep, height_m)) for x in uprights]
    panes: list[Mesh] = []
    for a, b in zip(uprights[:-1] + f, uprights[1:], strict=True):
        bars += [box_between((a, -deep, z), (b, deep, z + f)) for z in levels]
        panes += [
            box_between((a, -_GLASS_M / 2.0, low + f), (b, _GLASS_M / 2.0, high))
            for low, high in ((levels[0], levels[1]), (levels[1], levels[2]))
        ]
    parts = [Part((fill, "frame"), "trim", merged(bars))]
    if fill == "sash":
        parts.append(Part((fill, "glass"), "glass", merged(panes)))
    return parts


def frame_places(stops: Floats, clear_m: Floats) -> list[tuple[Floats, float, float]]:
    """Where frames stand between stops ``(k, 2)``: middle, width and turn of each.

    ``clear_m`` is what each stop keeps clear about it.
    """
    found = []
    for i in range(len(stops) - 1):
        along = stops[i + 1] - stops[i]
        length = float(np.linalg.norm(along))
        start, end = clear_m[i], length - clear_m[i + 1]
        if end - start < 3.0 * _FRAME_M:
            continue
        middle = stops[i] + along / length * (start + end) / 2.0
        found.append((middle, end - start, float(np.arctan2(along[1], along[0]))))
    return found

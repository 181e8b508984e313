"""Where bars and panes stand: grids cut off by a curved head, half-round fans.

All stand in a wall's own frame: x right as seen from outside, z up. Lights are rings (n, 2) of
(x, z), counter-clockwise, as wide as the glass shows between the bars.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from massing.geometry.arches import HeadLine
from massing.geometry.mesh import Floats
from massing.practice.joinery_sizes import joinery_size

_ARC_STEPS = 24  # pieces of a half circle
_HUB_OF_RADIUS = joinery_size("fanlight.eye")


def bar_grid(
    start_m: float, end_m: float, first_m: float, last_m: float, lights: int, bar_m: float
) -> Floats:
    """Edges of frame and bars along one axis: ``(2 + 2 * lights,)``, lights all equal."""
    clear = end_m - start_m - first_m - last_m - (lights - 1) * bar_m
    light = clear / lights
    starts = start_m + first_m + (light + bar_m) * np.arange(lights)
    return np.concatenate([[start_m], np.column_stack([starts, starts + light]).ravel(), [end_m]])


def grid_lights(top: HeadLine, columns: Floats, rows: Floats) -> list[Floats]:
    """Lights between upright and level bars, the uppermost row running up to ``top``.

    Args:
        top: the line that ends the uppermost row; level, or springing above that row's foot.
        columns: ``(across, 2)`` left and right edge of each column.
        rows: ``(up, 2)`` foot and head of each row; the last row's head gives way to ``top``.
    """
    found = []
    for x0, x1 in columns:
        found += [np.array([(x0, a), (x1, a), (x1, b), (x0, b)]) for a, b in rows[:-1]]
        foot = rows[-1, 0]
        found.append(np.concatenate([[(x0, foot), (x1, foot)], top.between(x0, x1)]))
    return found


def fan_lights(radius_m: float, centre_z_m: float, across: int, bar_m: float) -> list[Floats]:
    """Lights of a half-round fan with ``across`` sectors between radial bars.

    The level bar at its foot is centred on the springing, as each radial bar is on its ray. From
    three sectors on the bars start from a half-round eye.

    Raises:
        ValueError: fewer than two sectors, or bars that leave no light between them.
    """
    d = bar_m / 2.0
    if across < 2 or radius_m < 4.0 * bar_m or _HUB_OF_RADIUS * radius_m * np.pi < 2 * across * d:
        raise ValueError(f"a fan of {across} lights has no room in a radius of {radius_m:.3f} m")
    middle = np.array([0.0, centre_z_m])
    rays = np.linspace(0.0, np.pi, across + 1)
    hub = _HUB_OF_RADIUS * radius_m if across > 2 else 0.0

    def arc(radius: float, start: float, end: float) -> Floats:
        a, b = start + np.arcsin(d / radius), end - np.arcsin(d / radius)
        angle = np.linspace(a, b, max(2, round(_ARC_STEPS * (b - a) / np.pi)) + 1)
        return middle + radius * np.column_stack([np.cos(angle), np.sin(angle)])

    found = []
    for a, b in pairwise(rays):
        half = (b - a) / 2.0
        apex = d / np.sin(half) * np.array([[np.cos(a + half), np.sin(a + half)]]) + middle
        inner = arc(hub, a, b)[::-1] if hub else apex
        found.append(np.concatenate([arc(radius_m, a, b), inner]))
    if hub:
        found.append(arc(hub - bar_m, 0.0, np.pi))
    return found

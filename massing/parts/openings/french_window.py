"""A French window: a pair of glazed leaves to the floor, panelled at the foot.

Everything is in the wall's own frame: x right as seen from outside, y into the wall, z up,
origin at the middle of the opening's foot on the wall's outer face.
"""

from __future__ import annotations

import numpy as np

from massing.design.opening import FrenchWindow
from massing.geometry.mesh import Mesh, merged
from massing.parts.openings.joinery import (
    doorway_frame,
    grid_plate,
    raised_panel,
    sash,
    surround,
    threshold,
)
from massing.parts.part import Part
from massing.practice.joinery_sizes import SASH, THRESHOLD_M, joinery_size
from massing.units import INCH_M

# Common practice, no source.
_LEAF_M = joinery_size("french.leaf")
_STILE_M = joinery_size("french.stile")
_PANEL_OF_LEAF = joinery_size("french.panel")
_BOTTOM_RAIL_M = joinery_size("french.bottom_rail")
_CLEAR_M = joinery_size("french.clear")
_TRANSOM_BAR_M = joinery_size("french.transom_bar")


def french_window(
    opening: FrenchWindow, reveal_m: float, wall_thickness_m: float, transom_m: float = 0.0
) -> list[Part]:
    """A pair of leaves filling the opening, with a light of ``transom_m`` over them if asked.

    ``opening.lights`` gives the lights of each leaf, across and up.

    Raises:
        ValueError: the wall is too thin, or the opening too small for its leaves.
    """
    half, height = opening.width_m / 2.0, opening.height_m
    jamb = SASH.jamb_face_m
    front, back = reveal_m - SASH.frame_before_sash_m, reveal_m + _LEAF_M + 1.0 * INCH_M
    if front < 0.0 or back > wall_thickness_m:
        raise ValueError(f"{opening.name}: the wall is too thin for a reveal and a pair of leaves")
    top = height - jamb - (transom_m + _TRANSOM_BAR_M if transom_m else 0.0)
    wide, tall = half - jamb, top - THRESHOLD_M
    across, up = opening.lights
    if wide < 2.0 * _STILE_M + 2.0 * across * SASH.bar_m or tall < 1.2 or transom_m < 0.0:
        raise ValueError(
            f"{opening.name}: {opening.width_m:.2f} x {height:.2f} m is too small for a pair of "
            "glazed leaves"
        )
    cells = [(-wide, wide, THRESHOLD_M, top)]
    if transom_m:
        cells.append((-wide, wide, top + _TRANSOM_BAR_M, height - jamb))
    foot = THRESHOLD_M + _CLEAR_M
    wood, panels, panes = [], [], []
    for x0, x1 in ((-wide + _CLEAR_M, -_CLEAR_M / 2.0), (_CLEAR_M / 2.0, wide - _CLEAR_M)):
        made = _leaf(x0, x1, foot, top - _CLEAR_M, (across, up))
        wood.append(made[0])
        panels.append(made[1])
        panes.append(made[2])
    if transom_m:
        x0, x1, z0, z1 = cells[1]
        made_light = sash((x0, z0), (x1, z1), (2 * across, 1), SASH.stile_m, SASH.stile_m)
        wood.append(made_light[0])
        panes.append(made_light[1])
    return [
        Part(("threshold",), "stone", threshold(half, reveal_m, back)),
        *surround(opening.width_m, height),
        Part(("frame",), "trim", doorway_frame(half, height, cells, front, back)),
        Part(("leaves",), "sash", merged(wood).shifted(y_m=reveal_m)),
        Part(("panels",), "sash", merged(panels).shifted(y_m=reveal_m)),
        Part(("glass",), "glass", merged(panes).shifted(y_m=reveal_m)),
    ]


def _leaf(
    x0: float, x1: float, z0: float, z1: float, lights: tuple[int, int]
) -> tuple[Mesh, Mesh, Mesh]:
    """Wood, panel and panes of one leaf, outer face at y = 0."""
    split = z0 + _PANEL_OF_LEAF * (z1 - z0)
    upper, panes = sash((x0, split), (x1, z1), lights, _STILE_M, _STILE_M)
    xs = np.array([x0, x0 + _STILE_M, x1 - _STILE_M, x1])
    zs = np.array([z0, z0 + _BOTTOM_RAIL_M, split - 0.5 * _STILE_M, split])
    lower = grid_plate([xs, xs], [zs, zs], [0.0, SASH.thickness_m])
    panel = raised_panel(
        (xs[1], zs[1]), (xs[2], zs[2]), 0.004, SASH.thickness_m - 0.004, 0.9 * INCH_M
    )
    return merged([lower, upper]), panel, panes

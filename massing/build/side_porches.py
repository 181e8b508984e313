"""Side porches, put together as the front porch is and turned to the wall they stand against."""

from __future__ import annotations

import numpy as np

from massing.build.porch import above_floor, porch_parts, respond_out
from massing.design.design import Design
from massing.design.kinds import PorchFill
from massing.design.porch import PorchDesign
from massing.design.side_porch import SidePorchDesign
from massing.geometry.solids import box_between, turned_about_z
from massing.parts.openings.porch_frames import frame_places, porch_frame
from massing.parts.part import Part
from massing.parts.walls.wall import wall_frame
from massing.practice.defaults import default

_KERB_BEYOND_M = default("side_porch.kerb_width")
_CLEAR_M = 0.002


def side_porch_parts(design: Design, one: SidePorchDesign) -> list[Part]:
    """Every part of a side porch, in the frame of its wall; see :func:`placed`.

    ``design`` is that of :func:`massing.settingout.side_porches.design_of_side`.
    """
    porch = one.porch
    if one.kind == "porte-cochere":
        return [_kerb(porch), *above_floor(design)]
    parts = porch_parts(design)
    parts += _frames(porch, one.fill)
    if porch.upper is not None:
        parts += [p.under("upper") for p in _frames(porch.upper, one.upper_fill)]
    return parts


def placed(design: Design, one: SidePorchDesign, parts: list[Part]) -> list[Part]:
    """Parts in the frame of a side wall, named by the porch and where they stand."""
    frame = wall_frame(design.house, one.side)
    return [p.under(one.name).moved(frame) for p in parts]


def _kerb(porch: PorchDesign) -> Part:
    """The kerb under a porte-cochere's columns, between which and the house one drives."""
    half = porch.order.foot_width_m / 2.0 + _KERB_BEYOND_M
    low = (porch.axes_m[0] - half, porch.column_y_m - half, 0.0)
    high = (porch.axes_m[-1] + half, porch.column_y_m + half, porch.floor_z_m)
    return Part(("kerb",), "stone", box_between(low, high))


def _frames(porch: PorchDesign, fill: PorchFill) -> list[Part]:
    """Screens or sash in every bay, from the floor or its guard up to the architrave."""
    if fill == "open":
        return []
    ends = [(porch.axes_m[0], 0.0), *porch.perimeter_axes_m, (porch.axes_m[-1], 0.0)]
    by_column = max(porch.order.foot_width_m, porch.order.abacus_width_m) / 2.0 + _CLEAR_M
    clear = np.full(len(ends), by_column)
    clear[[0, -1]] = respond_out(porch) + _CLEAR_M
    foot_z = porch.floor_z_m
    parts: list[Part] = []
    for middle, width, turn in frame_places(np.array(ends), clear):
        at = turned_about_z(turn, (middle[0], middle[1], foot_z))
        parts += [p.moved(at) for p in porch_frame(width, porch.column_top_z_m - foot_z, fill)]
    return parts

"""What is drawn over a view of a house: its first sizes as dimension lines, and its shadow's edge.

Lines and words only, in metres and in the house's frame; a face draws them.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from massing.canon.order import corona_index
from massing.design.design import Design
from massing.findings.shadow import cornice_shadow_m, shadow_under_corona
from massing.geometry.mesh import Floats
from massing.sun.position import SunTime
from massing.units import format_length, whole_steps

_OFF_M = 0.6  # dimension lines to what they measure
_NEXT_M = 0.9  # a second row of them beyond the first
_SAME_M = 1e-4
_BEFORE_M = 0.02  # a shadow's line before the face it lies on


@dataclass(frozen=True, eq=False)
class SizeLine:
    """One size of the house as a dimension line.

    Attributes:
        ends: ``(2, 3)`` the points it is measured between.
        line: ``(2, 3)`` the same on the dimension line, which stands off.
        text: the size, as the builder writes it.
        words: what it is the size of.
    """

    ends: Floats
    line: Floats
    text: str
    words: str


@dataclass(frozen=True, eq=False)
class ShadowLine:
    """The lower edge of a shadow on the front.

    Attributes:
        points: ``(2, 3)`` its ends.
        from_z_m: the height that its depth is measured from.
        text: the depth, as the builder writes it.
        words: what it is the depth of.
    """

    points: Floats
    from_z_m: float
    text: str
    words: str


def size_lines(design: Design) -> tuple[SizeLine, ...]:
    """The sizes that a porch is judged by: spacing, width, diameter, heights, depth."""
    porch = design.porch
    order = porch.order
    front_y = porch.column_y_m - porch.frieze_half_depth_m - order.cornice_projection_m
    right = porch.frieze_x_m[1] + order.cornice_projection_m
    found: list[SizeLine] = []

    def add(words: str, start: ArrayLike, end: ArrayLike, off: ArrayLike) -> None:
        ends = np.array([start, end], dtype=float)
        size = float(np.linalg.norm(ends[1] - ends[0]))
        if size > _SAME_M:
            found.append(SizeLine(ends, ends + np.asarray(off), _written(size, design), words))

    foot_z = porch.floor_z_m
    axes = sorted({round(x, 6) for x, y in porch.front_axes_m})
    down = (0.0, front_y - porch.column_y_m - _OFF_M, 0.0)
    for left, other in pairwise(axes):
        at = porch.column_y_m
        add("axis to axis", (left, at, foot_z), (other, at, foot_z), down)
    if len(axes) > 2:
        end = (0.0, down[1] - _NEXT_M, 0.0)
        at = porch.column_y_m
        add("axis to axis, outermost", (axes[0], at, foot_z), (axes[-1], at, foot_z), end)
    out = (_OFF_M, 0.0, 0.0)
    top = porch.column_top_z_m
    shaft_foot = top - order.column_height_m
    if order.pedestal_height_m:
        add("pedestal", (right, front_y, foot_z), (right, front_y, shaft_foot), out)
    add("column", (right, front_y, shaft_foot), (right, front_y, top), out)
    add("entablature", (right, front_y, top), (right, front_y, porch.top_z_m), out)
    highest = porch.highest
    if highest.balustrade is not None:
        stands = highest.stands_on_z_m
        crown = stands + highest.balustrade.height_m
        add("balustrade", (right, front_y, stands), (right, front_y, crown), out)
    half = order.diameter_m / 2.0
    middle, at = min(axes, key=porch.from_middle_m), porch.column_y_m - half
    level = shaft_foot + 0.12 * order.column_height_m
    add(
        "diameter",
        (middle - half, at, level),
        (middle + half, at, level),
        (0.0, -0.5 * _OFF_M, 0.0),
    )
    if porch.depth_m > 0.0 and porch.column_y_m < 0.0:
        x = porch.centre_m + porch.end_axis_m
        beside = (right - x + _OFF_M, 0.0, 0.0)
        add("depth", (x, porch.column_y_m, foot_z), (x, 0.0, foot_z), beside)
    return tuple(found)


def shadow_lines(design: Design, sun: SunTime) -> tuple[ShadowLine, ...]:
    """Where the cornice's shadow ends at an hour, with its depths; none while the sun is behind.

    In closed form, see :func:`massing.findings.shadow.cornice_shadow_m`.
    """
    porch = design.porch
    order = porch.order
    foot_z = porch.top_z_m - order.cornice_height_m
    y = porch.column_y_m - porch.frieze_half_depth_m - _BEFORE_M
    across = porch.frieze_x_m
    found: list[ShadowLine] = []
    whole = cornice_shadow_m(design, sun)
    if whole is not None:
        found.append(
            ShadowLine(
                _level(across, y, foot_z - whole),
                foot_z,
                _written(whole, design),
                "cornice's shadow, below its foot",
            )
        )
    under = shadow_under_corona(design, sun)
    if under is not None and whole is not None:
        edge_z = foot_z + sum(m.height for m in order.cornice[: corona_index(order.cornice)])
        found.append(
            ShadowLine(
                _level(across, y, edge_z - under.depth_m),
                edge_z,
                _written(under.depth_m, design),
                f"below the corona, on the {under.on}",
            )
        )
    return tuple(found)


def _level(across_m: tuple[float, float], y_m: float, z_m: float) -> Floats:
    return np.array([[x, y_m, z_m] for x in across_m])


def _written(size_m: float, design: Design) -> str:
    """On the builder's fraction, as the schedule has it."""
    step = design.rounding_m
    return format_length(whole_steps(size_m, step) * step, design.units)

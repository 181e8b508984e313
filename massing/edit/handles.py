"""What of a front a hand can move: lines of the elevation, and the field that each of them is.

A handle says where it stands, which way it goes, and how much its field grows for each metre of
the way; a face draws it and lets it be dragged, :func:`dragged` gives the size to write.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from massing.design.design import Design
from massing.design.opening import FloorWindow
from massing.design.porch import PorchDesign, StraightPorch, WrappedPorch
from massing.scene.edit import FieldPath
from massing.units import INCH_M, floor_name, format_length

SAME_M = 1e-6
INCH_STEPS_M = tuple(INCH_M / n for n in (16, 8, 4, 2, 1))
METRIC_STEPS_M = (0.001, 0.002, 0.005, 0.01, 0.02)


@dataclass(frozen=True)
class Handle:
    """One line of the front that a hand can move, metres.

    Attributes:
        field: the scene's field that it is.
        words: what it is called.
        way: ``x``, to the right, ``y``, into the house, or ``z``, up.
        at_m: its place along its way.
        low_m, high_m: its ends across its way.
        value_m: the field's size where the line stands.
        per_m: how much the field grows for each metre along its way.
    """

    field: FieldPath
    words: str
    way: Literal["x", "y", "z"]
    at_m: float
    low_m: float
    high_m: float
    value_m: float
    per_m: float

    @property
    def either_way(self) -> bool:
        """Whether its field is a place, which may be nothing or less, and no size."""
        return self.field[-1] == "along"


def dragged(handle: Handle, by_m: float, step_m: float) -> float:
    """The field's size after the line went ``by_m`` along its way, to the nearest ``step_m``.

    At least one step is left of a size.

    >>> foot = Handle(("porch", "entablature"), "entablature", "z", 3.0, -4.0, 4.0, 0.4, -1.0)
    >>> dragged(foot, -0.08, 0.05)
    0.5
    >>> dragged(foot, 2.0, 0.05)
    0.05
    """
    steps = round((handle.value_m + handle.per_m * by_m) / step_m)
    return (steps if handle.either_way else max(steps, 1)) * step_m


def snap_m(fraction_m: float, pixel_m: float, units: str) -> float:
    """The step that a drag goes by: the builder's fraction, or a coarser one that a hand can tell.

    A pixel of the screen is ``pixel_m`` wide; the step is at least half of it, up to an inch, or
    20 mm by ``metric`` units.

    >>> snap_m(INCH_M / 16, 0.0001, "feet") / INCH_M, snap_m(INCH_M / 16, 0.03, "feet") / INCH_M
    (0.0625, 1.0)
    >>> snap_m(0.001, 0.008, "metric")
    0.005
    """
    coarser = INCH_STEPS_M if units == "feet" else METRIC_STEPS_M
    steps = [fraction_m, *(step for step in coarser if step > fraction_m)]
    return next((step for step in steps if step >= pixel_m / 2.0), steps[-1])


def dragged_text(handle: Handle, by_m: float, step_m: float, units: str) -> str:
    """The size after a drag as the scene file has it; see :func:`dragged`."""
    return format_length(dragged(handle, by_m, step_m), units)


def handles(design: Design) -> tuple[Handle, ...]:
    """Every line of a design's front that can be moved: porch, then windows, then the house."""
    found = [*_porch(design.porch, ("porch",), design.porch.floor_z_m), _middle(design.porch)]
    if design.porch.upper is not None:
        upper = design.porch.upper
        found += _order(upper, ("porch", "upper"), upper.floor_z_m)
    return (*found, *_windows(design), *_house(design))


def depth_handles(design: Design) -> tuple[Handle, ...]:
    """What a front does not show: the line of the columns' axes, which makes the porch deeper."""
    porch = design.porch
    if not isinstance(porch, StraightPorch):
        return ()
    across, depth = _across(porch), porch.axis_depth_m
    at: FieldPath = ("porch", "depth")
    return (Handle(at, "columns' line", "y", porch.column_y_m, *across, depth, -1.0),)


def _porch(porch: PorchDesign, at: FieldPath, floor_z_m: float) -> Iterator[Handle]:
    yield from _order(porch, at, floor_z_m)
    yield from _axes(porch, at)
    top = porch.highest
    if top.balustrade is not None:
        stands_z = top.stands_on_z_m
        height = top.balustrade.height_m
        yield Handle(
            (*at, "balustrade", "height"),
            "balustrade's top",
            "z",
            stands_z + height,
            *_across(top),
            height,
            1.0,
        )
    if porch.flight is not None:
        half = porch.flight.width_m / 2.0
        yield Handle(
            (*at, "steps", "width"),
            "steps' end",
            "x",
            porch.centre_m + half,
            porch.flight.foot_z_m,
            floor_z_m,
            porch.flight.width_m,
            2.0,
        )


def _order(porch: PorchDesign, at: FieldPath, floor_z_m: float) -> Iterator[Handle]:
    """Diameter, foot and top of the entablature."""
    order = porch.order
    right = (x for x in porch.axes_m if x > porch.centre_m)
    axis = min(right, default=porch.axes_m[-1])
    foot_z = porch.column_top_z_m - order.column_height_m
    diameter = order.diameter_m
    shaft = foot_z + 0.1 * order.column_height_m, foot_z + 0.8 * order.column_height_m
    yield Handle(
        (*at, "diameter"), "shaft's edge", "x", axis + diameter / 2.0, *shaft, diameter, 2.0
    )
    yield Handle(
        (*at, "entablature"),
        "entablature's foot",
        "z",
        porch.column_top_z_m,
        *_across(porch),
        order.entablature_height_m,
        -1.0,
    )
    yield Handle(
        (*at, "height"),
        "entablature's top",
        "z",
        porch.top_z_m,
        *_across(porch),
        porch.top_z_m - floor_z_m,
        1.0,
    )


def _middle(porch: PorchDesign) -> Handle:
    """The porch's middle, by which all of it moves along the front."""
    at: FieldPath = ("porch", "along")
    middle, z = porch.centre_m, (porch.column_top_z_m, porch.top_z_m)
    return Handle(at, "porch's middle", "x", middle, *z, middle, 1.0)


def _across(porch: PorchDesign) -> tuple[float, float]:
    return porch.frieze_x_m


def _axes(porch: PorchDesign, at: FieldPath) -> Iterator[Handle]:
    """Column axes to the right of the porch's middle, where one size sets them all out."""
    if porch.couple_axis_m or not isinstance(porch, StraightPorch):
        return
    if isinstance(porch, WrappedPorch):  # they follow the bays
        return
    gaps = np.array(porch.gaps_m)
    if len(gaps) % 2:
        middle, others = gaps[len(gaps) // 2], gaps[: len(gaps) // 2]
    else:
        middle, others = gaps[0], gaps
    wide_centre = bool(len(others)) and abs(middle - others).max() > SAME_M
    low, high = porch.floor_z_m, porch.column_top_z_m
    right = [x - porch.centre_m for x in porch.axes_m if x - porch.centre_m > SAME_M]
    for number, x in enumerate(right):
        if wide_centre and len(gaps) % 2:
            if number == 0:
                field, value, per = "centre_spacing", 2.0 * x, 2.0
            else:
                field, value, per = "spacing", (x - right[0]) / number, 1.0 / number
        else:
            spacings = number + (0.5 if len(gaps) % 2 else 1.0)
            field, value, per = "spacing", x / spacings, 1.0 / spacings
        along = porch.centre_m + x
        yield Handle((*at, field), "column's axis", "x", along, low, high, float(value), per)


def _windows(design: Design) -> Iterator[Handle]:
    """Head, sill and jamb of one window of the front in each storey."""
    house = design.house
    seen: set[int] = set()
    front = [o for o in house.windows if o.wall == "front" and o.wing is None]
    for opening in sorted(front, key=lambda o: (o.along_m < 0.0, abs(o.along_m))):
        storey = opening.storey
        if storey is None or storey in seen:
            continue
        seen.add(storey)
        at: FieldPath = ("house", "windows", storey)
        x, half = opening.along_m, opening.width_m / 2.0
        across = x - half, x + half
        up = opening.sill_z_m, opening.head_z_m
        sill = opening.sill_z_m - house.storey_floors_z_m[storey]
        yield Handle((*at, "height"), "window's head", "z", up[1], *across, opening.height_m, 1.0)
        if not isinstance(opening, FloorWindow):
            yield Handle((*at, "sill"), "window's sill", "z", up[0], *across, sill, 1.0)
        yield Handle((*at, "width"), "window's jamb", "x", x + half, *up, opening.width_m, 2.0)


def _house(design: Design) -> Iterator[Handle]:
    """Floors, eaves and corner."""
    house = design.house
    half = house.width_m / 2.0
    floors = house.storey_floors_z_m
    lowest = floor_name(0, design.units)
    yield Handle(("house", "floor"), lowest, "z", floors[0], -half, half, floors[0], 1.0)
    for number, (low_z, high_z) in enumerate(
        zip(floors, (*floors[1:], house.wall_top_z_m), strict=True)
    ):
        last = number == len(floors) - 1
        yield Handle(
            ("house", "storeys", number),
            "eaves" if last else floor_name(number + 1, design.units),
            "z",
            high_z,
            -half,
            half,
            high_z - low_z,
            1.0,
        )
    yield Handle(
        ("house", "width"), "corner", "x", half, floors[0], house.wall_top_z_m, house.width_m, 2.0
    )

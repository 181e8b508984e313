"""The resolved porch: an order on a floor, its guards and roof."""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from dataclasses import dataclass
from itertools import pairwise
from typing import ClassVar

from massing.canon import FittedOrder
from massing.design.arcade import ArcadeDesign
from massing.design.kinds import (
    BalustradeFilling,
    Covering,
    PorchCeiling,
    PorchRoof,
    PorchShape,
    PorchWrap,
    RespondKind,
)
from massing.design.opening import StepsDesign
from massing.practice.joinery_sizes import FRIEZE_BOARD_M


@dataclass(frozen=True)
class BalustradeDesign:
    """A balustrade: heights above what it stands on, pedestals on given axes."""

    height_m: float
    plinth_m: float
    rail_m: float
    pedestal_width_m: float
    baluster_spacing_m: float
    belly_m: float  # widest diameter of the baluster
    panelled: bool = False
    half_balusters: bool = False
    filling: BalustradeFilling = "balusters"
    laid: bool = True  # its courses made one solid, where they only touch otherwise

    @property
    def baluster_m(self) -> float:
        """Height left for the baluster."""
        return self.height_m - self.plinth_m - self.rail_m


@dataclass(frozen=True, kw_only=True)
class PorchDesign(ABC):
    """A porch of any shape: an order on a floor, what stands over it and before it."""

    shape: ClassVar[PorchShape]

    order: FittedOrder
    axes_m: tuple[float, ...]  # column axes along the front, left to right
    floor_z_m: float
    floor_edge_m: float  # floor beyond the column axes
    flight: StepsDesign | None  # up to its floor; None of an order that stands on another
    balustrade: BalustradeDesign | None = None
    guard: BalustradeDesign | None = None
    roof: PorchRoof = "flat"
    roof_pitch: float | None = None  # rise over run; None of a flat roof
    upper: PorchDesign | None = None  # a second order standing on this one
    responds: RespondKind = "none"  # on the wall, where the entablature meets it
    responds_fluted: bool = False  # where they are pilasters
    breaks_forward_m: float | None = None  # of the entablature, over columns and responds
    couple_axis_m: float | None = None  # axis to axis of coupled columns
    blocking_course_m: float | None = None  # height of a plain course over the cornice
    roof_covering: Covering | None = None  # as the main roof's where it has none of its own
    ceiling: PorchCeiling = "boards"
    arcade: ArcadeDesign | None = None  # behind the front's columns
    ceiling_up_m: float | None = None  # over the architrave's soffit; else the architrave's height
    centre_m: float = 0.0  # the porch's own middle, right of the front's

    # --- what each shape answers for itself ---

    @property
    @abstractmethod
    def depth_m(self) -> float:
        """How deep it is said to be, as the scene's field is; each shape says from where."""

    @property
    @abstractmethod
    def column_y_m(self) -> float:
        """Y of the front's column axes, the foremost of them on a curve."""

    @property
    @abstractmethod
    def perimeter_axes_m(self) -> tuple[tuple[float, float], ...]:
        """All column axes (x, y) in order round the porch, from the wall's left to its right."""

    @property
    def back_y_m(self) -> float:
        """Y of the wall at the porch's back."""
        return 0.0

    @property
    def end_axis_m(self) -> float:
        """The porch's middle to its outermost axis, a column's or, in antis, an anta's."""
        return self.axes_m[-1] - self.centre_m

    @property
    def reach_m(self) -> float:
        """The porch's middle to the farthest axis, of columns or of the curve they stand on."""
        return self.end_axis_m

    @property
    def return_axes_m(self) -> tuple[float, ...]:
        """Y of the columns on each return, from the corner to the wall, corners left out."""
        return ()

    # --- what follows for all of them ---

    @property
    def roof_slope(self) -> float:
        """Rise over run of a roof that has a pitch.

        Raises:
            ValueError: it is flat, or its pitch is not known yet.
        """
        if self.roof_pitch is None:
            raise ValueError(f"a {self.roof} roof without a pitch has no slope")
        return self.roof_pitch

    @property
    def steps(self) -> StepsDesign:
        """The flight up to its floor.

        Raises:
            ValueError: of an order that stands on another, which has none.
        """
        if self.flight is None:
            raise ValueError("an upper porch has no steps of its own")
        return self.flight

    @property
    def highest(self) -> PorchDesign:
        """The porch itself, or the order that stands on it."""
        return self.upper or self

    @property
    def front_axes_m(self) -> tuple[tuple[float, float], ...]:
        """Axes (x, y) of the front's columns, left to right, those of the returns left out."""
        left, right = (len(side) for side in self.sides_m)
        axes = self.perimeter_axes_m
        return axes[left : len(axes) - right]

    @property
    def sides_m(self) -> tuple[tuple[float, ...], tuple[float, ...]]:
        """Y of the columns that go on behind the front's, left and right, from the corner."""
        return self.return_axes_m, self.return_axes_m

    @property
    def at_wall_m(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Where the line of its columns comes home to the house: (x, y) at its left and right."""
        return (self.axes_m[0], 0.0), (self.axes_m[-1], 0.0)

    @property
    def gaps_m(self) -> tuple[float, ...]:
        """Axis to axis of the front's columns, left to right."""
        return tuple(math.dist(a, b) for a, b in pairwise(self.front_axes_m))

    @property
    def open_gaps_m(self) -> tuple[float, ...]:
        """Axis to axis of the front's columns across its openings, not within couples."""
        return self.gaps_m[1::2] if self.couple_axis_m else self.gaps_m

    @property
    def couples_m(self) -> tuple[tuple[tuple[float, float], ...], ...]:
        """Column axes (x, y) by couples, or one by one; a coupled corner is in two of them."""
        axes = self.perimeter_axes_m
        if not self.couple_axis_m:
            return tuple((axis,) for axis in axes)
        return tuple(
            (a, b) for a, b in pairwise(axes) if math.dist(a, b) < self.couple_axis_m + 1e-6
        )

    @property
    def half_width_m(self) -> float:
        """The porch's middle to the frieze's face at its farthest."""
        return self.reach_m + self.frieze_half_depth_m

    @property
    def frieze_x_m(self) -> tuple[float, float]:
        """From and to along the front: the frieze's faces at their farthest."""
        return self.centre_m - self.half_width_m, self.centre_m + self.half_width_m

    def from_middle_m(self, along_m: float) -> float:
        """How far a place along the front is from the porch's middle."""
        return abs(along_m - self.centre_m)

    @property
    def column_top_z_m(self) -> float:
        """Underside of the architrave above the ground."""
        return self.floor_z_m + self.order.pedestal_height_m + self.order.column_height_m

    @property
    def top_z_m(self) -> float:
        """Top of the entablature above the ground."""
        return self.column_top_z_m + self.order.entablature_height_m

    @property
    def stands_on_z_m(self) -> float:
        """Top of what a balustrade over the porch stands on: entablature or blocking course."""
        return self.top_z_m + (self.blocking_course_m or 0.0)

    @property
    def ceiling_z_m(self) -> float:
        """Underside of the porch ceiling: as given, or level with the top of the architrave."""
        up = self.ceiling_up_m
        return self.column_top_z_m + (self.order.architrave_height_m if up is None else up)

    @property
    def frieze_half_depth_m(self) -> float:
        """Column axis to the face of architrave and frieze: the shaft's upper radius."""
        return self.order.upper_diameter_m / 2.0


@dataclass(frozen=True, kw_only=True)
class StraightPorch(PorchDesign):
    """Columns in a line before the wall, and maybe on the returns to it."""

    shape: ClassVar[PorchShape] = "straight"

    axis_depth_m: float  # wall's face to the front's column axes
    side_columns: int = 0  # on each return, between the corner column and the wall

    @property
    def depth_m(self) -> float:
        """The wall's face to the front's column axes."""
        return self.axis_depth_m

    @property
    def column_y_m(self) -> float:
        """Y of the front's column axes."""
        return -self.axis_depth_m

    @property
    def return_axes_m(self) -> tuple[float, ...]:
        """Y of the columns on each return, from the corner to the wall, corners left out.

        Coupled, the corner column has a mate on the return too, and equal couples follow it.
        """
        depth, couple = self.axis_depth_m, self.couple_axis_m
        if couple and self.side_columns:
            couples = (self.side_columns - 1) // 2
            clear = (depth - (couples + 1) * couple) / (couples + 1)
            mates = [couple + (clear + couple) * k for k in range(couples + 1)]
            rest = [(m + clear, m + clear + couple) for m in mates[:-1]]
            return tuple(d - depth for d in (mates[0], *(a for pair in rest for a in pair)))
        step = depth / (self.side_columns + 1)
        return tuple(-depth + step * (k + 1) for k in range(self.side_columns))

    @property
    def perimeter_axes_m(self) -> tuple[tuple[float, float], ...]:
        """All column axes (x, y) in order round the porch, from the wall's left to its right."""
        left, right = self.axes_m[0], self.axes_m[-1]
        return (
            *((left, y) for y in reversed(self.return_axes_m)),
            *((x, self.column_y_m) for x in self.axes_m),
            *((right, y) for y in self.return_axes_m),
        )


@dataclass(frozen=True, kw_only=True)
class WrappedPorch(StraightPorch):
    """A porch that goes on round a corner of the house, or both, along its sides.

    Attributes:
        wraps: round which corners.
        house_half_m: the front's middle to the side walls' faces.
        side_axes_m: y of the columns along a side, from behind the corner column to the last.
    """

    wraps: PorchWrap
    house_half_m: float
    side_axes_m: tuple[float, ...]

    @property
    def sides_m(self) -> tuple[tuple[float, ...], tuple[float, ...]]:
        """Y of the columns along the sides that it goes round to, from the corner back."""
        return (
            self.side_axes_m if self.goes_round("left") else (),
            self.side_axes_m if self.goes_round("right") else (),
        )

    def goes_round(self, side: str) -> bool:
        """Whether it goes round to that side."""
        return self.wraps in (side, "both")

    @property
    def wrap_m(self) -> float:
        """The front wall's face to the last axis along a side."""
        return self.side_axes_m[-1]

    @property
    def at_wall_m(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Where the line of its columns comes home to the house: (x, y) at its left and right."""
        half, back = self.house_half_m, self.wrap_m
        left = (-half, back) if self.goes_round("left") else (self.axes_m[0], 0.0)
        right = (half, back) if self.goes_round("right") else (self.axes_m[-1], 0.0)
        return left, right

    @property
    def perimeter_axes_m(self) -> tuple[tuple[float, float], ...]:
        """All column axes (x, y) in order, from the left end round the front to the right."""
        left, right = self.sides_m
        return (
            *((self.axes_m[0], y) for y in reversed(left)),
            *((x, self.column_y_m) for x in self.axes_m),
            *((self.axes_m[-1], y) for y in right),
        )

    @property
    def reach_m(self) -> float:
        """The porch's middle, where its steps are, to the farther of its end axes."""
        return max(self.axes_m[-1] - self.centre_m, self.centre_m - self.axes_m[0])

    @property
    def frieze_x_m(self) -> tuple[float, float]:
        """From and to along the front: the frieze's faces at their farthest."""
        half = self.frieze_half_depth_m
        return self.axes_m[0] - half, self.axes_m[-1] + half


@dataclass(frozen=True, kw_only=True)
class SemicircularPorch(PorchDesign):
    """Columns on half a circle about the porch's middle on the wall's face."""

    shape: ClassVar[PorchShape] = "semicircular"

    radius_m: float  # to the column axes

    @property
    def depth_m(self) -> float:
        """The radius to the column axes."""
        return self.radius_m

    @property
    def column_y_m(self) -> float:
        """Y of the foremost point of the columns' curve."""
        return -self.radius_m

    @property
    def reach_m(self) -> float:
        """The porch's middle to the end of the columns' curve."""
        return self.radius_m

    @property
    def perimeter_axes_m(self) -> tuple[tuple[float, float], ...]:
        """All column axes (x, y) in order round the porch, from the wall's left to its right."""
        middle, r = self.centre_m, self.radius_m
        return tuple((x, -math.sqrt(r**2 - (x - middle) ** 2)) for x in self.axes_m)


@dataclass(frozen=True, kw_only=True)
class RecessedPorch(PorchDesign):
    """Columns between antae in the plane of the front wall, a room in the house behind them."""

    shape: ClassVar[PorchShape] = "recessed"

    recess_depth_m: float  # front wall's face to the wall behind
    anta_axis_m: float  # the porch's middle to the middle of each anta

    @property
    def depth_m(self) -> float:
        """The front wall's face to the wall behind."""
        return self.recess_depth_m

    @property
    def column_y_m(self) -> float:
        """Y of the column axes, their frieze in the house's."""
        return self.frieze_half_depth_m - FRIEZE_BOARD_M

    @property
    def back_y_m(self) -> float:
        """Y of the wall at the recess's back."""
        return self.recess_depth_m

    @property
    def end_axis_m(self) -> float:
        """The porch's middle to the middle of each anta."""
        return self.anta_axis_m

    @property
    def perimeter_axes_m(self) -> tuple[tuple[float, float], ...]:
        """All column axes (x, y), left to right."""
        return tuple((x, self.column_y_m) for x in self.axes_m)

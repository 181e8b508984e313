"""The resolved porch: an order on a floor, its guards and roof."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from massing.canon import FittedOrder
from massing.design.kinds import BalustradeFilling, PorchRoof, PorchShape, RespondKind
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

    @property
    def baluster_m(self) -> float:
        """Height left for the baluster."""
        return self.height_m - self.plinth_m - self.rail_m


@dataclass(frozen=True)
class PorchDesign:
    """The porch: an order on a floor, before the front wall."""

    order: FittedOrder
    axes_m: tuple[float, ...]  # column axes along the front, left to right
    depth_m: float  # wall face to column axis
    floor_z_m: float
    floor_edge_m: float  # floor beyond the column axes
    steps: StepsDesign
    balustrade: BalustradeDesign | None
    guard: BalustradeDesign | None
    roof: PorchRoof
    roof_slope: float  # rise over run
    side_columns: int = 0  # on each return, between the corner column and the wall
    upper: PorchDesign | None = None  # a second order standing on this one
    # straight; semicircular, depth_m being then the radius to the axes; or recessed, its
    # columns in the front wall's plane and depth_m that wall's face to the wall behind
    shape: PorchShape = "straight"
    responds: RespondKind = "none"  # on the wall, where the entablature meets it
    responds_fluted: bool = False  # where they are pilasters
    breaks_forward_m: float = 0.0  # of the entablature, over columns and responds
    couple_axis_m: float | None = None  # axis to axis of coupled columns
    blocking_course_m: float = 0.0  # height of a plain course over the cornice
    anta_axis_m: float | None = None  # recessed: middle of the front to the middle of each anta

    @property
    def highest(self) -> PorchDesign:
        """The porch itself, or the order that stands on it."""
        return self.upper or self

    @property
    def return_axes_m(self) -> tuple[float, ...]:
        """Y of the columns on each return, from the corner to the wall, corners left out.

        Coupled, the corner column has a mate on the return too, and equal couples follow it.
        """
        if self.couple_axis_m and self.side_columns:
            couples = (self.side_columns - 1) // 2
            clear = (self.depth_m - (couples + 1) * self.couple_axis_m) / (couples + 1)
            mates = [
                self.couple_axis_m + (clear + self.couple_axis_m) * k for k in range(couples + 1)
            ]
            rest = [(m + clear, m + clear + self.couple_axis_m) for m in mates[:-1]]
            return tuple(d - self.depth_m for d in (mates[0], *(a for pair in rest for a in pair)))
        step = self.depth_m / (self.side_columns + 1)
        return tuple(-self.depth_m + step * (k + 1) for k in range(self.side_columns))

    @property
    def end_axis_m(self) -> float:
        """Middle of the front to its outermost axis, a column's or, in antis, an anta's."""
        return self.axes_m[-1] if self.anta_axis_m is None else self.anta_axis_m

    @property
    def column_y_m(self) -> float:
        """Y of the front's column axes, the foremost of them on a curve."""
        if self.shape == "recessed":
            return self.frieze_half_depth_m - FRIEZE_BOARD_M
        return -self.depth_m

    @property
    def back_y_m(self) -> float:
        """Y of the wall at the porch's back."""
        return self.depth_m if self.shape == "recessed" else 0.0

    @property
    def perimeter_axes_m(self) -> tuple[tuple[float, float], ...]:
        """All column axes (x, y) in order round the porch, from the wall's left to its right."""
        if self.shape == "semicircular":
            return tuple((x, -math.sqrt(self.depth_m**2 - x**2)) for x in self.axes_m)
        left, right = self.axes_m[0], self.axes_m[-1]
        return (
            *((left, y) for y in reversed(self.return_axes_m)),
            *((x, self.column_y_m) for x in self.axes_m),
            *((right, y) for y in self.return_axes_m),
        )

    @property
    def gaps_m(self) -> tuple[float, ...]:
        """Axis to axis of the front's columns, left to right."""
        axes = self.perimeter_axes_m
        if self.side_columns:
            axes = axes[self.side_columns : len(axes) - self.side_columns]
        return tuple(math.dist(a, b) for a, b in pairwise(axes))

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
        """Middle of the front to the frieze's face at its farthest."""
        if self.shape == "recessed":
            return self.end_axis_m + self.frieze_half_depth_m
        reach = self.depth_m if self.shape == "semicircular" else self.axes_m[-1]
        return reach + self.frieze_half_depth_m

    @property
    def column_top_z_m(self) -> float:
        """Underside of the architrave above the ground."""
        return self.floor_z_m + self.order.pedestal_height_m + self.order.column_height_m

    @property
    def top_z_m(self) -> float:
        """Top of the entablature above the ground."""
        return self.column_top_z_m + self.order.entablature_height_m

    @property
    def ceiling_z_m(self) -> float:
        """Underside of the porch ceiling: level with the top of the architrave."""
        return self.column_top_z_m + self.order.architrave_height_m

    @property
    def frieze_half_depth_m(self) -> float:
        """Column axis to the face of architrave and frieze: the shaft's upper radius."""
        return self.order.upper_diameter_m / 2.0

"""A porch at a side of the house, in the frame of the wall that it stands against.

That frame has its origin on the ground at the middle of the wall's outer face: x to the right as
the wall is seen from outside, y into the house, z up.
"""

from __future__ import annotations

from dataclasses import dataclass

from massing.design.kinds import PorchFill, Side, SidePorchKind
from massing.design.porch import StraightPorch


@dataclass(frozen=True)
class SidePorchDesign:
    """A porch at a side wall, its places in that wall's frame."""

    side: Side
    kind: SidePorchKind
    porch: StraightPorch
    fill: PorchFill = "open"
    upper_fill: PorchFill = "open"
    clear_from_m: float = 0.0  # of a porte-cochere: where the drive begins before the wall

    @property
    def name(self) -> str:
        """What it is called."""
        return f"{self.side} {self.kind}"

    @property
    def clear_width_m(self) -> float:
        """Clear of steps and columns' feet, in which a car passes a porte-cochere."""
        return self.porch.depth_m - self.porch.order.foot_width_m / 2.0 - self.clear_from_m

    @property
    def clear_height_m(self) -> float:
        """Ground to the underside of the architrave."""
        return self.porch.column_top_z_m

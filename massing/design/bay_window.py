"""A resolved bay window: lights between posts before the front, under a roof of its own."""

from __future__ import annotations

from dataclasses import dataclass

from massing.canon import FittedCornice
from massing.design.kinds import BayRoof, BayShape
from massing.design.opening import WindowOpening


@dataclass(frozen=True)
class BayWindowDesign:
    """A bay of the lowest storey: canted at 45 degrees, or a box, from the ground up.

    Its windows are those of its middle face and of each side face, x from the face's middle.
    """

    shape: BayShape
    along_m: float  # its middle, right of the front's
    front_m: float  # of its middle face
    depth_m: float  # before the wall's face
    floor_z_m: float
    front: WindowOpening
    side: WindowOpening
    cornice: FittedCornice
    cornice_foot_z_m: float
    roof: BayRoof
    roof_slope: float  # rise over run

    @property
    def width_m(self) -> float:
        """On the wall, over its side faces."""
        return self.front_m + (2.0 * self.depth_m if self.shape == "canted" else 0.0)

    @property
    def eaves_z_m(self) -> float:
        """Top of its cornice."""
        return self.cornice_foot_z_m + self.cornice.height_m

"""The resolved site: the place, the way the front looks, the lie of the ground."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats

GROUND_REACH_M = 50.0  # a slope goes on so far each way, and the ground level beyond


@dataclass(frozen=True)
class GroundDesign:
    """The lie of the ground, a plane through the origin; rise over run, 0 for level.

    ``along`` rises to the right of the front, ``back`` to the back. A plot has an end: past
    ``GROUND_REACH_M`` the ground goes on level, so that the horizon stays where it is.
    """

    along: float = 0.0
    back: float = 0.0
    origin_z_m: float = 0.0  # of a frame that stands elsewhere on it

    @property
    def level(self) -> bool:
        """Whether it has no slope."""
        return not (self.along or self.back)

    def z_m(self, x_m: ArrayLike, y_m: ArrayLike) -> Floats:
        """Heights of the ground at places of any one shape, metres."""
        reach = GROUND_REACH_M
        x, y = np.clip(x_m, -reach, reach), np.clip(y_m, -reach, reach)
        return np.asarray(self.along * x + self.back * y + self.origin_z_m, dtype=float)

    def seen_from(self, x_m: float, y_m: float, turn: int) -> GroundDesign:
        """The same in a frame that stands at a place, turned by ``turn`` right angles.

        ``turn`` is 1 where that frame's x runs into the house, -1 where it runs out of it.
        """
        along, back = turn * self.back, -turn * self.along
        return GroundDesign(along, back, float(self.along * x_m + self.back * y_m))


LEVEL = GroundDesign()


@dataclass(frozen=True)
class SiteDesign:
    """The place and the way the front looks."""

    place: str
    latitude_deg: float
    longitude_deg: float
    altitude_m: float
    time_zone: str
    front_azimuth_deg: float  # clockwise from north, of the front's outward normal
    year: int
    ground: GroundDesign = LEVEL

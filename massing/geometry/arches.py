"""The line of an opening's top: level, a segment of a circle up to its half, or half an ellipse.

Everything that follows an opening's head (the hole in the wall, what is cut from the facing, an
arch's blocks, a casing, a frame, a sash, a fanlight) asks the same :class:`HeadLine` for its line.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats

Curve = Literal["segment", "ellipse"]
_NEARLY_UPRIGHT = 1.3  # half angle from which the ends of a curve look upright
_HALF_ROUND_STEPS = 32
_FINE = 512  # points from which an ellipse is stepped off in equal lengths


@dataclass(frozen=True)
class HeadLine:
    """An opening's top, symmetrical about x = 0, metres.

    Attributes:
        width_m: between the jambs.
        crown_z_m: its highest point, in whatever frame the caller works in.
        rise_m: crown above springing; 0 is a level head.
        curve: ``segment`` of a circle, a semicircle where the rise is half the width, or
            ``ellipse``, the half above its springing.

    >>> round_topped = HeadLine(width_m=1.0, crown_z_m=2.0, rise_m=0.5)
    >>> round(float(round_topped.height_at(0.3)), 6), round(float(round_topped.half_at(1.9)), 6)
    (1.9, 0.3)
    """

    width_m: float
    crown_z_m: float
    rise_m: float = 0.0
    curve: Curve = "segment"

    @property
    def level(self) -> bool:
        """A straight head."""
        return self.rise_m <= 0.0

    @property
    def half_round(self) -> bool:
        """A semicircle."""
        return self.curve == "segment" and self.rise_m > self.width_m / 2.0 - 1e-6

    @property
    def springing_z_m(self) -> float:
        """Where the curve leaves the jambs."""
        return self.crown_z_m - max(self.rise_m, 0.0)

    @property
    def axes(self) -> tuple[float, float, float, float]:
        """Half axes across and up, height of the centre, and half angle, of a curved soffit."""
        if self.curve == "ellipse":
            return self.width_m / 2.0, self.rise_m, self.springing_z_m, np.pi / 2.0
        radius, centre_z, reach = segment(self.width_m, self.crown_z_m, self.rise_m)
        return radius, radius, centre_z, reach

    @property
    def steps(self) -> int:
        """Into how many straight pieces it is cut, so that all that butts on it agrees."""
        return 1 if self.level else 16 if self.axes[3] < _NEARLY_UPRIGHT else 32

    def line(self, steps: int | None = None) -> Floats:
        """Its points from right to left, ``(steps + 1, 2)`` of (x, z), equally far apart.

        A level soffit has its two ends only.
        """
        return self.moved_out(0.0, steps)

    def moved_out(self, by_m: float, steps: int | None = None) -> Floats:
        """The points of :meth:`line`, each moved outwards (up) square to the curve."""
        steps = self.steps if steps is None else steps
        points, normals = self.along(np.linspace(0.0, 1.0, 2 if self.level else steps + 1))
        return points + by_m * normals

    def along(self, shares: ArrayLike) -> tuple[Floats, Floats]:
        """Points ``(n, 2)`` at shares of its length from right to left, and outward normals."""
        at = np.asarray(shares, dtype=float)
        if self.level:
            x = (0.5 - at) * self.width_m
            points = np.column_stack([x, np.full_like(x, self.crown_z_m)])
            return points, np.tile([0.0, 1.0], (len(at), 1))
        a, b, centre_z, _ = self.axes
        turn, run = self._stepped_off()
        turn = np.interp(at * run[-1], run, turn)
        sine, cosine = np.sin(turn), np.cos(turn)
        normals = np.column_stack([b * sine, a * cosine])
        normals /= np.linalg.norm(normals, axis=1)[:, None]
        return np.column_stack([a * sine, centre_z + b * cosine]), normals

    def between(self, left_m: float, right_m: float) -> Floats:
        """Its points ``(n, 2)`` over a stretch of the width, right to left, both ends on it."""
        if self.level:
            return np.array([(right_m, self.crown_z_m), (left_m, self.crown_z_m)])
        a, b, centre_z, reach = self.axes
        ends = np.arcsin(np.clip(np.array([right_m, left_m]) / a, -1.0, 1.0))
        ends = np.clip(ends, -reach, reach)
        steps = max(3, round(_HALF_ROUND_STEPS * (ends[0] - ends[1]) / np.pi))
        turn = np.linspace(ends[0], ends[1], steps + 1)
        return np.column_stack([a * np.sin(turn), centre_z + b * np.cos(turn)])

    @property
    def length_m(self) -> float:
        """From springing to springing along the curve."""
        return self.width_m if self.level else float(self._stepped_off()[1][-1])

    def height_at(self, x_m: ArrayLike) -> Floats:
        """Height of the soffit over each ``x_m``; beyond the jambs that of the springing."""
        x = np.asarray(x_m, dtype=float)
        if self.level:
            return np.full_like(x, self.crown_z_m)
        a, b, centre_z, _ = self.axes
        rise = b * np.sqrt(np.maximum(1.0 - (x / a) ** 2, 0.0))
        return np.maximum(centre_z + rise, self.springing_z_m)

    def half_at(self, z_m: ArrayLike) -> Floats:
        """Half the opening's width at each height: nothing over the crown."""
        z = np.asarray(z_m, dtype=float)
        half = self.width_m / 2.0
        if self.level:
            return np.where(z <= self.crown_z_m, half, 0.0)
        a, b, centre_z, _ = self.axes
        across = a * np.sqrt(np.maximum(1.0 - ((z - centre_z) / b) ** 2, 0.0))
        return np.where(z <= self.springing_z_m, half, np.minimum(across, half))

    def inset(self, by_m: float) -> HeadLine:
        """The soffit of what stands ``by_m`` within this one, such as a frame's daylight.

        Circles stay concentric. An ellipse keeps its springing and loses ``by_m`` of each half
        axis, as a joiner sets it out, so that it never folds where it is sharpest. A negative
        ``by_m`` gives what stands around.

        Raises:
            ValueError: nothing is left of the width, or of an ellipse's rise.
        """
        width, crown_z = self.width_m - 2.0 * by_m, self.crown_z_m - by_m
        if width <= 0.0 or (self.curve == "ellipse" and not self.level and self.rise_m <= by_m):
            raise ValueError(
                f"an opening {self.width_m:.3f} m wide that rises {self.rise_m:.3f} m leaves "
                f"nothing {by_m:.3f} m within it"
            )
        if self.level:
            return HeadLine(width, crown_z)
        if self.curve == "ellipse":
            return HeadLine(width, crown_z, self.rise_m - by_m, "ellipse")
        radius = self.axes[0] - by_m
        return HeadLine(
            width, crown_z, radius - float(np.sqrt(radius**2 - min(width / 2, radius) ** 2))
        )

    def shifted(self, z_m: float) -> HeadLine:
        """The same line ``z_m`` higher."""
        return HeadLine(self.width_m, self.crown_z_m + z_m, self.rise_m, self.curve)

    def _stepped_off(self) -> tuple[Floats, Floats]:
        """Angles from the upright, right to left, and the curve's length to each."""
        a, b, _, reach = self.axes
        if self.curve == "segment":
            return np.array([reach, -reach]), np.array([0.0, 2.0 * reach * a])
        turn = np.linspace(reach, -reach, _FINE + 1)
        points = np.column_stack([a * np.sin(turn), b * np.cos(turn)])
        steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
        return turn, np.concatenate([[0.0], np.cumsum(steps)])


def segment(width_m: float, crown_z_m: float, rise_m: float) -> tuple[float, float, float]:
    """Radius, height of the centre, and half angle of a segmental arch's soffit.

    From the chord: r = (w^2 / 4 + h^2) / 2 h.
    """
    radius = (width_m**2 / 4.0 + rise_m**2) / (2.0 * rise_m)
    return radius, crown_z_m - radius, float(np.arcsin(min(width_m / 2.0 / radius, 1.0)))

"""A camera: where it stands, which way it looks, and where any point falls in its picture."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats

SENSOR_WIDTH_MM = 36.0

DEFAULT_SIZE_PX = (1600, 1000)


@dataclass(frozen=True)
class Camera:
    """A camera in the house frame (X along the front, Y into the house, Z up).

    Attributes:
        name: the view's name.
        kind: ``ortho`` or ``perspective``.
        position_m: where it stands.
        yaw_rad: turn of the view direction from +Y, counter-clockwise seen from above.
        pitch_rad: tilt upwards; 0 keeps verticals vertical.
        roll_rad: turn about the view direction, counter-clockwise as the camera sees it.
        ortho_width_m: width of the frame, for ``ortho``.
        focal_mm: focal length on a 36 mm wide frame, for ``perspective``.
        shift_x, shift_y: lens shift as a fraction of the frame's width.
        width_px, height_px: size of the picture.
        cut: a plane (unit normal, offset) that the model is cut by: what has
            ``normal . p >= offset`` is kept; None shows it whole.
    """

    name: str
    kind: str
    position_m: tuple[float, float, float]
    yaw_rad: float = 0.0
    pitch_rad: float = 0.0
    ortho_width_m: float = 0.0
    focal_mm: float = 0.0
    shift_x: float = 0.0
    shift_y: float = 0.0
    width_px: int = DEFAULT_SIZE_PX[0]
    height_px: int = DEFAULT_SIZE_PX[1]
    cut: tuple[float, float, float, float] | None = None
    roll_rad: float = 0.0

    @property
    def is_elevation(self) -> bool:
        """Whether it sees the building square, without perspective, and level."""
        return self.kind == "ortho" and self.pitch_rad == 0.0

    @property
    def axes(self) -> Floats:
        """``(3, 3)`` unit rows: right, up and forward of the camera."""
        return turned_axes(self.yaw_rad, self.pitch_rad, self.roll_rad)

    @property
    def metres_per_pixel(self) -> float:
        """Scale of an orthographic picture.

        Raises:
            ValueError: the camera is a perspective one.
        """
        if self.kind != "ortho":
            raise ValueError(f"view {self.name!r} is in perspective and has no single scale")
        return self.ortho_width_m / self.width_px

    def project(self, points_m: ArrayLike) -> Floats:
        """Pixel positions ``(n, 2)`` of points ``(n, 3)``: right and down from the top left
        corner of the picture. Points behind a perspective camera come out as NaN."""
        frame = on_film(self.kind, points_m, self.position_m, self.axes)
        across = self.ortho_width_m if self.kind == "ortho" else SENSOR_WIDTH_MM / self.focal_mm
        x = (frame[:, 0] / across - self.shift_x) * self.width_px + self.width_px / 2.0
        y = self.height_px / 2.0 - (frame[:, 1] / across - self.shift_y) * self.width_px
        return np.column_stack([x, y])

    def to_json(self) -> dict[str, Any]:
        """Plain values, for :meth:`from_json`."""
        return asdict(self)

    @classmethod
    def from_json(cls, values: Mapping[str, Any]) -> Camera:
        """The camera that :meth:`to_json` described."""
        position = tuple(float(v) for v in values["position_m"])
        cut = tuple(values["cut"]) if values.get("cut") else None
        return cls(**{**values, "position_m": position, "cut": cut})


def turned_axes(yaw_rad: float, pitch_rad: float, roll_rad: float = 0.0) -> Floats:
    c, s = np.cos(yaw_rad), np.sin(yaw_rad)
    level, rise = np.array([-s, c, 0.0]), np.array([0.0, 0.0, 1.0])
    cp, sp = np.cos(pitch_rad), np.sin(pitch_rad)
    right, up = np.array([c, s, 0.0]), cp * rise - sp * level
    cr, sr = np.cos(roll_rad), np.sin(roll_rad)
    return np.array([cr * right + sr * up, cr * up - sr * right, cp * level + sp * rise])


def on_film(kind: str, points_m: ArrayLike, position_m: ArrayLike, axes: Floats) -> Floats:
    """Film positions ``(n, 2)``: metres for ``ortho``, tangents for ``perspective``."""
    local = (np.asarray(points_m, dtype=float).reshape(-1, 3) - np.asarray(position_m)) @ axes.T
    if kind == "ortho":
        return local[:, :2]
    depth = np.where(local[:, 2] > 1e-9, local[:, 2], np.nan)
    return local[:, :2] / depth[:, None]

"""What pictures must show, and a frame that just holds it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import product

import numpy as np
from numpy.typing import ArrayLike

from massing.design.site import LEVEL, GroundDesign
from massing.geometry.mesh import Floats
from massing.parts.part import Model
from massing.units import INCH_M
from massing.view.camera import DEFAULT_SIZE_PX, SENSOR_WIDTH_MM, Camera, on_film, turned_axes

EYE_HEIGHT_M = 64.0 * INCH_M  # 5 ft 4 in, an eye standing: common practice, no source

LEAST_FILL = 0.76  # of height or width, by a house whose horizon is lowered to keep it large

_WAYS = 200


@dataclass(frozen=True)
class Subject:
    """What the pictures of one comparison must show; common to all its alternatives.

    Attributes:
        bounds_m: ``(2, 3)`` box round the buildings of all alternatives.
        focus: named points ``(3,)`` or ``(n, 3)`` and boxes (their two corners). Known names:
            ``porch`` (box of everything from steps to cornice or balustrade), ``capital``
            (top of the corner columns' capitals, on their axes), ``entablature`` (box),
            ``bay`` (a point in the middle of a bay; by default on the house's axis).
        width_px, height_px: size of the picture.
        ground: what an eye stands on.
        sun_side: how far the suns of the comparison stand to the right of the front's middle (1)
            or to its left (-1), in the mean.
        outline_m: ``(n, 3)`` outermost points of the buildings, which frame a view of the whole
            closer than the corners of the box do.
    """

    bounds_m: Floats
    focus: Mapping[str, Floats] = field(default_factory=dict)
    width_px: int = DEFAULT_SIZE_PX[0]
    height_px: int = DEFAULT_SIZE_PX[1]
    ground: GroundDesign = LEVEL
    sun_side: float = 0.0
    outline_m: Floats | None = None

    def at_eye_height(self, stand_m: ArrayLike) -> Floats:
        """The place ``(3,)`` or more of ``stand_m`` that an eye has, standing on the ground."""
        x, y = np.asarray(stand_m, dtype=float)[:2]
        return np.array([x, y, EYE_HEIGHT_M + float(self.ground.z_m(x, y))])

    @property
    def corners(self) -> Floats:
        """``(8, 3)`` corners of the bounds, with those of the ground under them."""
        low, high = self.bounds_m
        return box_corners([[low[0], low[1], min(low[2], 0.0)], high])

    @property
    def outline(self) -> Floats:
        """``(n, 3)`` points that a view of the whole house must hold; the corners if unknown."""
        if self.outline_m is None:
            return self.corners
        points = np.asarray(self.outline_m, dtype=float)
        return np.concatenate([points, points * [1.0, 1.0, 0.0]])

    @property
    def centre(self) -> Floats:
        """The middle of the bounds, metres."""
        return np.asarray(self.bounds_m, dtype=float).mean(axis=0)

    def named(self, name: str) -> Floats:
        """The focus points ``(n, 3)`` of that name.

        Raises:
            ValueError: the subject has no such focus.
        """
        if name not in self.focus:
            raise ValueError(f"this view needs the focus {name!r}; given: {sorted(self.focus)}")
        return np.asarray(self.focus[name], dtype=float).reshape(-1, 3)


def box_corners(box_m: ArrayLike) -> Floats:
    """The eight corners ``(8, 3)`` of a box given by two opposite ones ``(2, 3)``."""
    return np.array(list(product(*np.asarray(box_m, dtype=float).T)))


def framed(
    name: str,
    points_m: Floats,
    subject: Subject,
    *,
    kind: str,
    position_m: ArrayLike,
    yaw_rad: float = 0.0,
    pitch_rad: float = 0.0,
    margins: tuple[float, float, float] = (0.05, 0.07, 0.07),
    ground_share: float = 0.25,
    horizon: float | None = None,
) -> Camera:
    """A camera whose frame just holds ``points_m`` ``(n, 3)``.

    Args:
        margins: each side, above, below, as fractions of the picture's width and height.
        ground_share: how much of the height to spare goes below, the rest to the sky.
        horizon: of a level perspective, the height in the picture at which the eye's own level
            would best lie, as a fraction from below; ``margins`` then are the least.

    Raises:
        ValueError: a point lies behind a perspective camera.
    """
    side, above, below = margins
    position = np.asarray(position_m, dtype=float)
    film = on_film(kind, points_m, position, turned_axes(yaw_rad, pitch_rad))
    if not np.isfinite(film).all():
        raise ValueError(f"view {name!r}: a point to be shown lies behind the camera")
    (x0, y0), (x1, y1) = film.min(axis=0), film.max(axis=0)
    aspect = subject.width_px / subject.height_px
    wide = (x1 - x0) / (1.0 - 2.0 * side)
    tall = (y1 - y0) / (1.0 - above - below)
    if horizon is None:
        across = max(wide, tall * aspect)
        height = across / aspect
        spare = max(height - tall, 0.0) * (1.0 - above - below)
        middle_y = y0 - below * height - ground_share * spare + height / 2.0
    else:
        # A house has a lower horizon before it grows small in the frame both ways.
        wanted = max(y1 / (1.0 - horizon - above), -y0 / max(horizon - below, 0.01))
        most = max(y1 - y0, (x1 - x0) / aspect) / LEAST_FILL
        height = max(wide / aspect, tall, min(wanted, most))
        across = height * aspect
        level = float(np.clip(horizon, below - y0 / height, 1.0 - above - y1 / height))
        middle_y = (0.5 - level) * height
    return Camera(
        name=name,
        kind=kind,
        position_m=(float(position[0]), float(position[1]), float(position[2])),
        yaw_rad=float(yaw_rad),
        pitch_rad=float(pitch_rad),
        ortho_width_m=float(across) if kind == "ortho" else 0.0,
        focal_mm=0.0 if kind == "ortho" else float(SENSOR_WIDTH_MM / across),
        shift_x=float((x0 + x1) / 2.0 / across),
        shift_y=float(middle_y / across),
        width_px=subject.width_px,
        height_px=subject.height_px,
    )


def outline_points(model: Model) -> Floats:
    """The outermost points ``(n, 3)`` of a model's building, in a few hundred directions."""
    found = []
    for part in model.parts:
        if part.within("setting"):
            continue
        points = part.mesh.vertices
        if part.placements is not None:
            corners = box_corners(part.mesh.bounds)
            turned = np.einsum("kij,nj->kni", part.placements[:, :3, :3], corners)
            points = (turned + part.placements[:, None, :3, 3]).reshape(-1, 3)
        found.append(points)
    points = np.concatenate(found)
    steps = np.arange(_WAYS)
    z = 1.0 - 2.0 * (steps + 0.5) / _WAYS
    turn = steps * np.pi * (3.0 - np.sqrt(5.0))
    level = np.sqrt(1.0 - z * z)
    ways = np.column_stack([level * np.cos(turn), level * np.sin(turn), z])
    return points[np.unique([int(np.argmax(points @ way)) for way in ways])]

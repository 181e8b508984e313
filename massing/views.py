"""Cameras for the pictures: where to stand, which way to look, what the frame holds.

Nothing here needs a renderer: a :class:`Camera` says where any point of the house falls in the
picture, so that scale bars, labels and checks can be drawn without asking Blender. Level
cameras keep verticals vertical; the frame is moved by lens shift, as on a view camera.

Adding a view is adding a small function from a :class:`Subject` to a :class:`Camera` and its
name to :data:`VIEWS`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, field
from itertools import product
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from massing.mesh import Floats

SENSOR_WIDTH_MM = 36.0
EYE_HEIGHT_M = 1.6
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
        ortho_width_m: width of the frame, for ``ortho``.
        focal_mm: focal length on a 36 mm wide frame, for ``perspective``.
        shift_x, shift_y: lens shift as a fraction of the frame's width.
        width_px, height_px: size of the picture.
    """

    name: str
    kind: str
    position_m: tuple[float, float, float]
    yaw_rad: float = 0.0
    pitch_rad: float = 0.0
    ortho_width_m: float = 10.0
    focal_mm: float = 35.0
    shift_x: float = 0.0
    shift_y: float = 0.0
    width_px: int = DEFAULT_SIZE_PX[0]
    height_px: int = DEFAULT_SIZE_PX[1]

    @property
    def axes(self) -> Floats:
        """``(3, 3)`` unit rows: right, up and forward of the camera."""
        return _axes(self.yaw_rad, self.pitch_rad)

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
        frame = _on_film(self.kind, points_m, self.position_m, self.axes)
        across = self.ortho_width_m if self.kind == "ortho" else SENSOR_WIDTH_MM / self.focal_mm
        x = (frame[:, 0] / across - self.shift_x) * self.width_px + self.width_px / 2.0
        y = self.height_px / 2.0 - (frame[:, 1] / across - self.shift_y) * self.width_px
        return np.column_stack([x, y])

    def resized(self, width_px: int, height_px: int) -> Camera:
        """The same view at another size of the same or a wider shape."""
        return Camera(**{**asdict(self), "width_px": width_px, "height_px": height_px})

    def to_json(self) -> dict[str, Any]:
        """Plain values, for :meth:`from_json`."""
        return asdict(self)

    @classmethod
    def from_json(cls, values: Mapping[str, Any]) -> Camera:
        """The camera that :meth:`to_json` described."""
        position = tuple(float(v) for v in values["position_m"])
        return cls(**{**values, "position_m": position})


def _axes(yaw_rad: float, pitch_rad: float) -> Floats:
    c, s = np.cos(yaw_rad), np.sin(yaw_rad)
    level, rise = np.array([-s, c, 0.0]), np.array([0.0, 0.0, 1.0])
    cp, sp = np.cos(pitch_rad), np.sin(pitch_rad)
    return np.array([[c, s, 0.0], cp * rise - sp * level, cp * level + sp * rise])


def _on_film(kind: str, points_m: ArrayLike, position_m: ArrayLike, axes: Floats) -> Floats:
    """Film positions ``(n, 2)``: metres for ``ortho``, tangents for ``perspective``."""
    local = (np.asarray(points_m, dtype=float).reshape(-1, 3) - np.asarray(position_m)) @ axes.T
    if kind == "ortho":
        return local[:, :2]
    depth = np.where(local[:, 2] > 1e-9, local[:, 2], np.nan)
    return local[:, :2] / depth[:, None]


@dataclass(frozen=True)
class Subject:
    """What the pictures of one comparison must show; common to all its alternatives.

    Attributes:
        bounds_m: ``(2, 3)`` box round the buildings of all alternatives.
        focus: named points ``(3,)`` or ``(n, 3)`` and boxes (their two corners). Known names:
            ``porch`` (box of everything from steps to cornice or balustrade), ``capital``
            (top of the corner columns' capitals, on their axes), ``entablature`` (box).
        width_px, height_px: size of the picture.
    """

    bounds_m: Floats
    focus: Mapping[str, Floats] = field(default_factory=dict)
    width_px: int = DEFAULT_SIZE_PX[0]
    height_px: int = DEFAULT_SIZE_PX[1]

    @property
    def corners(self) -> Floats:
        """``(8, 3)`` corners of the bounds, with those of the ground under them."""
        low, high = self.bounds_m
        return box_corners([[low[0], low[1], min(low[2], 0.0)], high])

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
) -> Camera:
    """A camera whose frame just holds ``points_m`` ``(n, 3)``.

    ``margins`` (each side, above, below) are fractions of the picture's width and height.

    Raises:
        ValueError: a point lies behind a perspective camera.
    """
    side, above, below = margins
    position = np.asarray(position_m, dtype=float)
    film = _on_film(kind, points_m, position, _axes(yaw_rad, pitch_rad))
    if not np.isfinite(film).all():
        raise ValueError(f"view {name!r}: a point to be shown lies behind the camera")
    (x0, y0), (x1, y1) = film.min(axis=0), film.max(axis=0)
    aspect = subject.width_px / subject.height_px
    wide = (x1 - x0) / (1.0 - 2.0 * side)
    tall = (y1 - y0) / (1.0 - above - below)
    across = max(wide, tall * aspect)
    height = across / aspect
    spare = height - tall
    # Spare height goes to the sky rather than to the ground: three to one.
    middle_y = y0 - below * height - 0.25 * max(spare, 0.0) * (1.0 - above - below) + height / 2.0
    lens = {"ortho_width_m": across} if kind == "ortho" else {"focal_mm": SENSOR_WIDTH_MM / across}
    return Camera(
        name=name,
        kind=kind,
        position_m=(float(position[0]), float(position[1]), float(position[2])),
        yaw_rad=float(yaw_rad),
        pitch_rad=float(pitch_rad),
        shift_x=float((x0 + x1) / 2.0 / across),
        shift_y=float(middle_y / across),
        width_px=subject.width_px,
        height_px=subject.height_px,
        **{k: float(v) for k, v in lens.items()},
    )


def _standing(target_m: ArrayLike, yaw_rad: float, distance_m: float, height_m: float) -> Floats:
    """Where to stand to look along ``yaw_rad`` at a target from a distance in plan."""
    target = np.asarray(target_m, dtype=float)
    return np.array(
        [
            target[0] + distance_m * np.sin(yaw_rad),
            target[1] - distance_m * np.cos(yaw_rad),
            height_m,
        ]
    )


def _elevation(name: str, turn_deg: float) -> Callable[[Subject], Camera]:
    yaw = np.radians(turn_deg)

    def view(subject: Subject) -> Camera:
        radius = float(np.linalg.norm(np.diff(subject.bounds_m, axis=0))) / 2.0
        stand = _standing(subject.centre, yaw, radius + 20.0, subject.centre[2])
        return framed(name, subject.corners, subject, kind="ortho", position_m=stand, yaw_rad=yaw)

    return view


def _three_quarter(name: str, turn_deg: float) -> Callable[[Subject], Camera]:
    yaw = np.radians(turn_deg)

    def view(subject: Subject) -> Camera:
        size = np.diff(subject.bounds_m, axis=0)[0]
        stand = _standing(subject.centre, yaw, 1.6 * float(np.linalg.norm(size[:2])), EYE_HEIGHT_M)
        return framed(
            name,
            subject.corners,
            subject,
            kind="perspective",
            position_m=stand,
            yaw_rad=yaw,
            margins=(0.04, 0.05, 0.10),
        )

    return view


def _close_up(subject: Subject) -> Camera:
    """The porch's right corner: capital and entablature from below, the porch's depth behind."""
    capital = subject.named("capital")
    low, high = subject.named("entablature").min(axis=0), subject.named("entablature").max(axis=0)
    corner = capital[np.argmax(capital[:, 0])]
    foot_z = float(capital[:, 2].min())
    tall = float(high[2]) - foot_z
    left = corner[0] - 1.4 * tall
    shown = np.concatenate(
        [
            box_corners([[left, low[1], foot_z], [high[0], corner[1], high[2]]]),
            [[corner[0], corner[1], foot_z - 1.1 * tall]],
        ]
    )
    yaw = np.radians(30.0)
    distance = max(1.9 * (float(high[2]) - EYE_HEIGHT_M), 4.0)
    return framed(
        "close-up",
        shown,
        subject,
        kind="perspective",
        position_m=_standing(corner, yaw, distance, EYE_HEIGHT_M),
        yaw_rad=yaw,
        margins=(0.04, 0.06, 0.02),
    )


VIEWS: dict[str, Callable[[Subject], Camera]] = {
    "elevation": _elevation("elevation", 0.0),
    "street": _three_quarter("street", 35.0),
    "close-up": _close_up,
}


def camera_for(
    view: str,
    bounds_m: ArrayLike,
    *,
    width_px: int = DEFAULT_SIZE_PX[0],
    height_px: int = DEFAULT_SIZE_PX[1],
    focus: Mapping[str, ArrayLike] | None = None,
) -> Camera:
    """The camera of a named view, framed on what all alternatives have in common.

    Args:
        view: a key of :data:`VIEWS`.
        bounds_m: ``(2, 3)`` union of the alternatives' building bounds.
        focus: named points and boxes, see :class:`Subject`.

    Raises:
        ValueError: unknown view, or a focus that the view needs is missing.
    """
    if view not in VIEWS:
        raise ValueError(f"{view!r} is not a view; allowed: {', '.join(VIEWS)}")
    points = {k: np.asarray(v, dtype=float).reshape(-1, 3) for k, v in (focus or {}).items()}
    return VIEWS[view](Subject(np.asarray(bounds_m, dtype=float), points, width_px, height_px))

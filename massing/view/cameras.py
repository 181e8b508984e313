"""Cameras for the pictures: where to stand, which way to look, what the frame holds.

Nothing here needs a renderer: a :class:`Camera` says where any point of the house falls in the
picture, so that scale bars, labels and checks can be drawn without asking Blender. Level
cameras keep verticals vertical; the frame is moved by lens shift, as on a view camera.

Adding a view is adding a small function from a :class:`Subject` to a :class:`Camera` and its
name to :data:`VIEWS`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from massing.design.site import LEVEL, GroundDesign
from massing.geometry.mesh import Floats
from massing.view.camera import DEFAULT_SIZE_PX, SENSOR_WIDTH_MM, Camera
from massing.view.framing import EYE_HEIGHT_M, Subject, box_corners, framed

PORCH_FLOOR_M = 0.5  # about where eyes on a porch start from

HORIZON = 1.0 / 3.0  # of the picture's height, from below, in views of a whole house

EARTH = 0.04  # of an elevation's height, blank under the building

STREET_TURN_DEG = 33.0
SECTION_STAND_M = 60.0

NO_SIDE = 0.05  # suns that stand so little to one side of the front leave the street's view be


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
        return framed(
            name,
            subject.corners,
            subject,
            kind="ortho",
            position_m=stand,
            yaw_rad=yaw,
            margins=(0.05, 0.07, EARTH),
            ground_share=0.0,
        )

    return view


def _three_quarter(
    name: str, turn_deg: float, *, back: float = 1.35, eye: float = 0.0
) -> Callable[[Subject], Camera]:
    """From ``back`` diagonals of the plan away, at eye height or ``eye`` house heights up."""
    yaw = np.radians(turn_deg)

    def view(subject: Subject) -> Camera:
        size = np.diff(subject.bounds_m, axis=0)[0]
        distance = back * float(np.linalg.norm(size[:2]))
        stand = _standing(subject.centre, yaw, distance, eye * float(size[2]))
        stand[2] = max(stand[2], subject.at_eye_height(stand)[2])
        return framed(
            name,
            subject.outline,
            subject,
            kind="perspective",
            position_m=stand,
            yaw_rad=yaw,
            margins=(0.075, 0.05, 0.10),
            horizon=None if eye else HORIZON,
        )

    return view


def _street(subject: Subject) -> Camera:
    """From the right, or from the left where the sun stands to the right.

    From the far side of its sun a front is modelled: returns, soffits and the house's own flank
    lie in shade beside faces in light.
    """
    side = -1.0 if subject.sun_side > NO_SIDE else 1.0
    return _three_quarter("street", side * STREET_TURN_DEG)(subject)


def _across_the_street(subject: Subject) -> Camera:
    """From the far pavement, the front square to the view, a little off the axis."""
    low, high = subject.bounds_m
    stand = [0.5 * low[0] + 0.5 * high[0] - 0.18 * (high[0] - low[0])]
    stand.append(low[1] - max(1.25 * (high[0] - low[0]), 18.0))
    return framed(
        "across the street",
        subject.outline,
        subject,
        kind="perspective",
        position_m=subject.at_eye_height(stand),
        margins=(0.07, 0.06, 0.10),
        horizon=HORIZON,
    )


def _walk(subject: Subject) -> Camera:
    """On the axis, near enough that the porch fills the picture."""
    low, high = subject.named("porch").min(axis=0), subject.named("porch").max(axis=0)
    distance = max(0.85 * (high[0] - low[0]), 1.3 * (high[2] - low[2]))
    return framed(
        "walk",
        box_corners([low, high]),
        subject,
        kind="perspective",
        position_m=subject.at_eye_height([(low[0] + high[0]) / 2.0, low[1] - distance]),
        margins=(0.05, 0.08, 0.08),
    )


def _porch_corner(
    name: str,
    *,
    turn_deg: float,
    back: float,
    across: float,
    below: float,
    margins: tuple[float, float, float],
) -> Callable[[Subject], Camera]:
    """The porch's right corner from eye height: what lies ``across`` entablature heights along
    the front and ``below`` entablature heights under the capital's top, seen from ``back`` times
    its height away."""
    yaw = np.radians(turn_deg)

    def view(subject: Subject) -> Camera:
        capital = subject.named("capital")
        ends = subject.named("entablature")
        low, high = ends.min(axis=0), ends.max(axis=0)
        corner = capital[np.argmax(capital[:, 0])]
        foot_z = float(capital[:, 2].min())
        tall = float(high[2]) - foot_z
        box = [[corner[0] - across * tall, low[1], foot_z], [high[0], corner[1], high[2]]]
        shown = [*box_corners(box), [corner[0], corner[1], foot_z - below * tall]]
        distance = max(back * (float(high[2]) - EYE_HEIGHT_M), 4.0)
        return framed(
            name,
            np.array(shown),
            subject,
            kind="perspective",
            position_m=subject.at_eye_height(_standing(corner, yaw, distance, EYE_HEIGHT_M)),
            yaw_rad=yaw,
            margins=margins,
        )

    return view


def _under_the_porch(subject: Subject) -> Camera:
    """From the porch's right end along it and up: columns, soffit, ceiling, wall."""
    capital, ends = subject.named("capital"), subject.named("entablature")
    front_y = float(capital[:, 1].min())
    left, right = float(capital[:, 0].min()), float(capital[:, 0].max())
    back_y = float(ends[:, 1].max())
    soffit, deep = float(capital[:, 2].max()), back_y - front_y
    eye_z, stand_x = EYE_HEIGHT_M + PORCH_FLOOR_M, right - 0.04 * (right - left)
    # Far enough off that a high soffit is seen without a lens so wide that it distorts.
    off = max(1.15 * deep, 1.1 * (soffit - eye_z))
    near = stand_x - min(off, 0.6 * (right - left))
    shown = [
        *box_corners([[near - 0.1, front_y, soffit - 0.1], [near, back_y - 0.05 * deep, soffit]]),
        [left, front_y, 0.3 * soffit],
        [left, back_y, 0.3 * soffit],
    ]
    return framed(
        "under the porch",
        np.array(shown),
        subject,
        kind="perspective",
        position_m=[stand_x, front_y + 0.58 * deep, eye_z],
        yaw_rad=np.pi / 2.0,
        margins=(0.03, 0.03, 0.02),
    )


def _section(subject: Subject) -> Camera:
    """The porch cut through the middle of a bay and drawn to scale, with the rooms behind it."""
    porch, ends = subject.named("porch"), subject.named("entablature")
    at = float(np.asarray(subject.focus.get("bay", [[0.0, 0.0, 0.0]])).reshape(-1, 3)[0, 0])
    back_y = float(porch[:, 1].max())
    deep, tall = back_y - float(porch[:, 1].min()), float(max(ends[:, 2].max(), porch[:, 2].max()))
    shown = box_corners([[at, back_y - 1.4 * deep, 0.0], [at, back_y + 0.35 * deep, 1.16 * tall]])
    stand = [at + SECTION_STAND_M, back_y - 0.5 * deep, 0.5 * tall]
    camera = framed(
        "section",
        shown,
        subject,
        kind="ortho",
        position_m=stand,
        yaw_rad=np.pi / 2.0,
        margins=(0.05, 0.05, EARTH),
        ground_share=0.0,
    )
    return replace(camera, cut=(-1.0, 0.0, 0.0, -at))


def looking(
    name: str,
    position_m: ArrayLike,
    target_m: ArrayLike,
    *,
    focal_mm: float = 35.0,
    width_px: int = DEFAULT_SIZE_PX[0],
    height_px: int = DEFAULT_SIZE_PX[1],
) -> Camera:
    """A camera of one's own: level, with the target brought to the middle by lens shift.

    Raises:
        ValueError: position and target stand over one another.
    """
    stand = np.asarray(position_m, dtype=float)
    away = np.asarray(target_m, dtype=float) - stand
    distance = float(np.hypot(away[0], away[1]))
    if distance < 1e-6:
        raise ValueError(f"view {name!r}: the camera stands over or under its target")
    return Camera(
        name=name,
        kind="perspective",
        position_m=(float(stand[0]), float(stand[1]), float(stand[2])),
        yaw_rad=float(np.arctan2(-away[0], away[1])),
        focal_mm=focal_mm,
        shift_y=float(away[2]) / distance * focal_mm / SENSOR_WIDTH_MM,
        width_px=width_px,
        height_px=height_px,
    )


def at_one_scale(cameras: Sequence[tuple[Camera, ArrayLike]]) -> list[Camera]:
    """Perspective cameras widened until a metre at each one's own point ``(3,)`` is as long in
    all their pictures; each keeps the middle of its frame."""
    scales = []
    for camera, point in cameras:
        away = np.asarray(point, dtype=float) - np.asarray(camera.position_m)
        scales.append(camera.focal_mm / float(away @ camera.axes[2]))
    made = []
    for (camera, _), scale in zip(cameras, scales, strict=True):
        share = min(scales) / scale
        made.append(
            replace(
                camera,
                focal_mm=share * camera.focal_mm,
                shift_x=share * camera.shift_x,
                shift_y=share * camera.shift_y,
            )
        )
    return made


VIEWS: dict[str, Callable[[Subject], Camera]] = {
    "elevation": _elevation("elevation", 0.0),
    "right elevation": _elevation("right elevation", 90.0),
    "rear elevation": _elevation("rear elevation", 180.0),
    "left elevation": _elevation("left elevation", -90.0),
    "street": _street,
    "street left": _three_quarter("street left", -STREET_TURN_DEG),
    "across the street": _across_the_street,
    "walk": _walk,
    "close-up": _porch_corner(
        "close-up", turn_deg=30.0, back=1.9, across=1.4, below=1.1, margins=(0.04, 0.06, 0.02)
    ),
    "cornice": _porch_corner(
        "cornice", turn_deg=18.0, back=1.7, across=0.6, below=0.25, margins=(0.05, 0.12, 0.05)
    ),
    "under the porch": _under_the_porch,
    "roof": _three_quarter("roof", 35.0, back=2.2, eye=2.0),
    "section": _section,
}


def mean_sun_side(to_suns: ArrayLike) -> float:
    """How far suns ``(n, 3)`` stand to the right of the front's middle, -1 to 1, in the mean.

    Only those that meet the front count; a sun counts by its share on the level.
    """
    to_suns = np.asarray(to_suns, dtype=float).reshape(-1, 3)
    met = to_suns[(to_suns[:, 1] < 0.0) & (to_suns[:, 2] > 0.0)]
    return float(met[:, 0].mean()) if len(met) else 0.0


def camera_for(
    view: str,
    bounds_m: ArrayLike,
    *,
    width_px: int = DEFAULT_SIZE_PX[0],
    height_px: int = DEFAULT_SIZE_PX[1],
    focus: Mapping[str, ArrayLike] | None = None,
    ground: GroundDesign = LEVEL,
    sun_side: float = 0.0,
    outline_m: ArrayLike | None = None,
) -> Camera:
    """The camera of a named view, framed on what all alternatives have in common.

    Args:
        view: a key of :data:`VIEWS`.
        bounds_m: ``(2, 3)`` union of the alternatives' building bounds.
        focus: named points and boxes, see :class:`Subject`.
        ground: what an eye stands on.
        sun_side, outline_m: see :class:`Subject`.

    Raises:
        ValueError: unknown view, or a focus that the view needs is missing.
    """
    if view not in VIEWS:
        raise ValueError(f"{view!r} is not a view; allowed: {', '.join(VIEWS)}")
    points = {k: np.asarray(v, dtype=float).reshape(-1, 3) for k, v in (focus or {}).items()}
    outline = None if outline_m is None else np.asarray(outline_m, dtype=float).reshape(-1, 3)
    bounds = np.asarray(bounds_m, dtype=float)
    return VIEWS[view](Subject(bounds, points, width_px, height_px, ground, sun_side, outline))

"""Shadows on the front in closed form: angles, straight edges, the soft edge, stepped faces.

A sun is a unit vector towards it, ``(..., 3)``, in the house's frame: X right along the front
as seen from the street, Y into the house, Z up. All functions broadcast; where the sun is down
or behind the front the answer is NaN.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats

CONVENTIONAL_LIGHT: Floats = np.array([-1.0, -1.0, 1.0]) / np.sqrt(3.0)
"""Towards the draughtsman's light: over the left shoulder, along the diagonal of a cube.

Plan and elevation of the ray are at 45 degrees and its true altitude is atan(1 / sqrt 2), 35
degrees 15 minutes 52 seconds, so that shadows are as deep as what casts them stands out
(Gwilt, Encyclopaedia of Architecture, art. 2460: read, the title from memory).
"""
CONVENTIONAL_LIGHT.setflags(write=False)

SUN_DISC_RAD = float(np.radians(0.5332))
"""Mean apparent diameter of the sun: twice the semidiameter 0.2666 degree at 1 AU of the
Astronomical Almanac's low-precision formula (from memory); it runs from 0.524 in July to 0.542 in
January (computed)."""


def _lit(to_sun: ArrayLike) -> Floats:
    """Directions, with NaN where the sun is down or behind the front."""
    to_sun = np.asarray(to_sun, dtype=float)
    lit = (to_sun[..., 2] > 0.0) & (to_sun[..., 1] < 0.0)
    return np.where(lit[..., None], to_sun, np.nan)


def _slopes(to_sun: ArrayLike) -> tuple[Floats, Floats]:
    """Fall and shift to the right of a ray, per metre that it goes in towards the wall."""
    x, y, z = np.moveaxis(_lit(to_sun), -1, 0)
    return z / -y, x / y


def vertical_shadow_angle(to_sun: ArrayLike) -> Floats:
    """Vertical shadow angle (profile angle) on the front, radians, shape ``(...)``.

    The sun's altitude as seen in the section square to the front: tan W = tan(alt) / cos(d),
    with d the sun's azimuth from the front's normal (definition: IES RP-16, vertical shadow
    angle, read; formula: ASHRAE Fundamentals, Fenestration, from memory, and geometry).

    >>> float(np.degrees(vertical_shadow_angle(CONVENTIONAL_LIGHT)).round(6))
    45.0
    """
    lit = _lit(to_sun)
    return np.arctan2(lit[..., 2], -lit[..., 1])


def horizontal_shadow_angle(to_sun: ArrayLike) -> Floats:
    """Horizontal shadow angle: the sun's azimuth from the front's normal, radians.

    Positive when the sun stands to the left as seen from the street, so that shadows fall to
    the right.

    >>> float(np.degrees(horizontal_shadow_angle(CONVENTIONAL_LIGHT)).round(6))
    45.0
    """
    lit = _lit(to_sun)
    return np.arctan2(-lit[..., 0], -lit[..., 1])


def shadow_depth(projection_m: ArrayLike, to_sun: ArrayLike) -> Floats:
    """Depth of the shadow on the wall below a straight level edge, metres.

    p tan W, with W the vertical shadow angle (ASHRAE Fundamentals, Fenestration, from memory,
    and geometry).

    Args:
        projection_m: how far the edge stands before the wall, broadcast against ``(...)``.

    >>> float(shadow_depth(0.6, CONVENTIONAL_LIGHT).round(6))
    0.6
    """
    return np.asarray(projection_m, dtype=float) * _slopes(to_sun)[0]


def shadow_shift(projection_m: ArrayLike, to_sun: ArrayLike) -> Floats:
    """How far to the right (+X) the shadow of a point before the wall falls, metres.

    p tan d. The shadow of a straight edge reaches its full depth only this far in from the
    edge's sunward end.

    >>> float(shadow_shift(0.6, CONVENTIONAL_LIGHT).round(6))
    0.6
    """
    return np.asarray(projection_m, dtype=float) * _slopes(to_sun)[1]


def penumbra_width(
    projection_m: ArrayLike, to_sun: ArrayLike, disc_rad: float = SUN_DISC_RAD
) -> Floats:
    """Height of the soft edge on the wall under a straight level edge, metres.

    The sun's disc subtends disc / sqrt(sin^2 alt + cos^2 alt cos^2 d) in the section square to
    the front, and d(p tan W) = p dW / cos^2 W (derived).

    >>> float((1000 * penumbra_width(0.5, CONVENTIONAL_LIGHT)).round(1))
    11.4
    """
    lit = _lit(to_sun)
    in_section = np.hypot(lit[..., 1], lit[..., 2])
    cosine = -lit[..., 1] / in_section
    tangent_width = 2.0 * np.tan(disc_rad / 2.0)
    width_per_metre: Floats = tangent_width / (cosine**2 * in_section)
    return np.asarray(projection_m, dtype=float) * width_per_metre


def stepped_depth(
    edges_y_m: ArrayLike,
    edges_z_m: ArrayLike,
    face_y_m: ArrayLike,
    face_top_z_m: ArrayLike,
    to_sun: ArrayLike,
) -> Floats:
    """Depth of shadow from the top of a level face under long straight edges, metres.

    An edge at (y_e, z_e) throws its shadow on the face y = y_f down to the level
    z_e - (y_f - y_e) tan W; the lowest level of all edges that stand at or above the face's
    top and before it counts. On an entablature the level therefore jumps by the set-back from
    one member's face to the next (classical shades and shadows; derived).

    Args:
        edges_y_m, edges_z_m: ``(e,)`` lower arrises that cast, y into the house.
        face_y_m, face_top_z_m: ``(f,)`` faces that receive.
        to_sun: one direction ``(3,)`` or ``(n, 3)``.

    Returns:
        ``(f,)`` or ``(n, f)`` depths below each face's top, 0 where no edge reaches it; a depth
        beyond the face's own height means that the whole face is in shade.

    >>> stepped_depth([-1.0], [5.0], [-0.4, -0.3, 0.0], [5.0, 4.6, 4.2], CONVENTIONAL_LIGHT)
    array([0.6, 0.3, 0.2])
    """
    edges_y, edges_z = np.atleast_1d(edges_y_m), np.atleast_1d(edges_z_m)
    face_y, top = (
        np.atleast_1d(np.asarray(a, dtype=float))[:, None] for a in (face_y_m, face_top_z_m)
    )
    slope = np.asarray(shadow_depth(1.0, to_sun))[..., None, None]
    set_back = face_y - edges_y
    casts = (set_back > 0.0) & (edges_z >= top - 1e-9)
    depth = np.where(casts, top - edges_z + set_back * slope, -np.inf).max(axis=-1)
    return np.where(np.isnan(slope[..., 0]), np.nan, np.maximum(depth, 0.0))

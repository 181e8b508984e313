"""The swelling of a shaft: published constructions as functions of height.

``y`` runs from the foot of the shaft to ``height``; ``lower`` and ``upper`` are the radii
there; any one unit of length. :data:`CURVES` holds them by the names a designer chooses from:
two leave the lower third of the shaft straight, two curve from the base.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats

Curve = Callable[[ArrayLike, float, float, float], Floats]


def _rise(y: ArrayLike, height: float) -> Floats:
    """0 at the lower third, 1 at the top."""
    return np.clip((np.asarray(y, dtype=float) / height - 1 / 3) * 1.5, 0.0, 1.0)


def straight(y: ArrayLike, height: float, lower: float, upper: float) -> Floats:
    """No entasis: an even taper from foot to neck; upright where the radii agree."""
    return lower - (lower - upper) * np.asarray(y, dtype=float) / height


def quarter_circle(y: ArrayLike, height: float, lower: float, upper: float) -> Floats:
    """Vignola's first method, for Tuscan and Doric.

    A semicircle stands on the shaft at its lower third; a plumb line from the neck cuts it;
    the arc up to there and the shaft above are divided into the same number of parts, whose
    points are joined level with plumb: radius = lower cos(t acos(upper / lower)).
    (Construction from memory; formula derived.)

    >>> round(float(quarter_circle(2 / 3, 1.0, 0.5, 5 / 12)), 5)
    0.47871
    """
    return lower * np.cos(_rise(y, height) * np.arccos(upper / lower))


def conchoid(y: ArrayLike, height: float, lower: float, upper: float) -> Floats:
    """Vignola's second method: the radius laid off along rays from a pole on the base line.

    (Construction read in Sheraton, The Cabinet-Maker's Drawing-Book, 1793; formula derived.)
    The pole stands at p = upper (height - s) / s from the axis, s = sqrt(lower^2 - upper^2);
    a ray at angle f gives radius lower cos f at height p tan f + lower sin f. The base line
    is at the foot.

    >>> round(float(conchoid(3.5, 7.0, 0.5, 5 / 12)), 5)
    0.47484
    """
    y = np.asarray(y, dtype=float)
    s = np.sqrt(lower**2 - upper**2)
    if s == 0.0:
        return np.full_like(y, lower)
    pole = upper * (height - s) / s
    angle = np.linspace(0.0, np.arctan2(s, upper), 4001)
    rise = pole * np.tan(angle) + lower * np.sin(angle)
    return lower * np.cos(np.interp(y, rise, angle))


def from_the_base(y: ArrayLike, height: float, lower: float, upper: float) -> Floats:
    """One circular arc, upright at the foot (derived).

    >>> round(float(from_the_base(3.5, 7.0, 0.5, 5 / 12)), 5)
    0.47917
    """
    y = np.asarray(y, dtype=float)
    drop = lower - upper
    if drop == 0.0:
        return np.full_like(y, lower)
    radius = (height**2 + drop**2) / (2.0 * drop)
    return lower - radius + np.sqrt(radius**2 - y**2)


def bent_rule(y: ArrayLike, height: float, lower: float, upper: float) -> Floats:
    """Palladio's thin rule, held upright along the lower third and bent to the neck.

    (Method of Palladio's Four Books, I.13, read; the curve is derived, that of a beam fixed at
    one end and loaded at the other.)
    """
    t = _rise(y, height)
    return lower - (lower - upper) * (3.0 * t**2 - t**3) / 2.0


CURVES: dict[str, Curve] = {
    "none": straight,
    "lower third straight": quarter_circle,
    "from the base": from_the_base,
    "conchoid": conchoid,
    "bent rule": bent_rule,
}

"""The swelling of a shaft: published constructions as functions of height.

``y`` runs from the foot of the shaft to ``height``; ``upper`` is the radius there, ``lower`` the
module, the radius at the foot or, where it is less there, at a third; any one unit of length.
:data:`CURVES` holds them by the names a designer chooses from: two leave the lower third of the
shaft straight, two curve from the base, one is widest at a third and lessened both ways.
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
    """Vignola's first method, for Tuscan and Doric (Moxon, 1673, plate XXIX, read).

    A semicircle stands on the shaft at its lower third; a plumb line from the neck cuts it;
    the arc up to there and the shaft above are divided into the same number of parts, whose
    points are joined level with plumb: radius = lower cos(t acos(upper / lower)) (derived).

    >>> round(float(quarter_circle(2 / 3, 1.0, 0.5, 5 / 12)), 5)
    0.47871
    """
    return lower * np.cos(_rise(y, height) * np.arccos(upper / lower))


def widest_at_a_third(y: ArrayLike, height: float, lower: float, upper: float) -> Floats:
    """Vignola's second method, for Ionic, Corinthian, Composite (Moxon, 1673, plate XXX, read).

    A line CD is drawn through the shaft's axis at a third of its height, half the column's
    known thickness long; laid off from the neck's edge to the axis it gives a ray, which runs on
    to a pole on that line; along every other ray from the pole the same length is laid off from
    the axis. So the shaft is widest at a third and lessened both upwards and downwards.
    ``lower`` is here the radius at the third, the module; at the foot it is less.

    >>> x = widest_at_a_third([0.0, 7 / 3, 7.0], 7.0, 0.5, 5 / 12)
    >>> [round(float(r), 5) for r in x]
    [0.47496, 0.5, 0.41667]
    """
    y = np.asarray(y, dtype=float)
    if lower == upper:
        return np.full_like(y, lower)
    third = height / 3.0
    return _laid_off(np.abs(y - third), 2.0 * third, lower, upper)


def _laid_off(rise: Floats, height: float, lower: float, upper: float) -> Floats:
    """Radius at heights above a base line by rays from its pole: the conchoid of a line.

    The pole stands at p = upper (height - s) / s from the axis, s = sqrt(lower^2 - upper^2);
    a ray at angle f gives radius lower cos f at height p tan f + lower sin f.
    """
    s = np.sqrt(lower**2 - upper**2)
    pole = upper * (height - s) / s
    angle = np.linspace(0.0, np.arctan2(s, upper), 4001)
    heights = pole * np.tan(angle) + lower * np.sin(angle)
    return lower * np.cos(np.interp(rise, heights, angle))


def conchoid(y: ArrayLike, height: float, lower: float, upper: float) -> Floats:
    """The same construction with its base line at the foot, so that nowhere is it wider.

    (Read in Sheraton, The Cabinet-Maker's Drawing-Book, 1793, who has it of Chambers; formula
    derived.) Vignola's own line stands at a third: :func:`widest_at_a_third`.

    >>> round(float(conchoid(3.5, 7.0, 0.5, 5 / 12)), 5)
    0.47484
    """
    y = np.asarray(y, dtype=float)
    if lower == upper:
        return np.full_like(y, lower)
    return _laid_off(y, height, lower, upper)


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


FROM_THE_FOOT = ("none", "from the base", "conchoid")
"""The curves that begin to fall, or rise, over the mouldings at the shaft's foot."""

WIDEST_AT_A_THIRD = "widest at a third"

CURVES: dict[str, Curve] = {
    "none": straight,
    "lower third straight": quarter_circle,
    "from the base": from_the_base,
    WIDEST_AT_A_THIRD: widest_at_a_third,
    "conchoid": conchoid,
    "bent rule": bent_rule,
}

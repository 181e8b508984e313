"""The curves of mouldings as a shop draws them: straight, arcs of circles, and smooth curves.

Same points as :mod:`massing.canon.mouldings`, whose curves are circles wherever a member is as
high as it is deep; where it is not, they are ellipses and become smooth curves.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from massing.canon import Member
from massing.canon.mouldings import CURVES, stack
from massing.geometry.mesh import Floats
from massing.present.drawings.items import Arc, Item, Line, Spline

_FINE = 48
ROUND_M = 2e-5  # a curve nearer than this to an arc of a circle is one
TOLERANCE_M = 5e-5


def profile_items(members: Iterable[Member], layer: str = "PROFILE") -> list[Item]:
    """The edge of members standing on one another, as (reach, height), foot at 0.

    Flat faces and the steps between members are lines, rounds and hollows arcs or smooth
    curves through points nearer than :data:`TOLERANCE_M` to the curve.
    """
    made: list[Item] = []
    z = 0.0
    before: Floats | None = None
    for member in members:
        curve = CURVES[member.kind](member.foot, member.head, member.height, _FINE) + [0.0, z]
        if before is not None:
            first = _underside(before, member, curve[0])
            if np.linalg.norm(first[-1] - first[0]) > 1e-7:
                made.append(Line(layer, first))
        made += curve_items(curve, member.kind, layer)
        before = curve[-1]
        z += member.height
    return made


def _underside(before: Floats, member: Member, start: Floats) -> Floats:
    """From the member beneath to this one's foot, with its hollow if it has one."""
    z = float(start[1])
    if not member.recess:
        return np.array([before, start])
    below = Member("", "fillet", 1e-3, before[0], before[0])
    edge = stack([below, member], z - 1e-3)
    ends = np.flatnonzero(np.abs(edge[:, 1] - z) < 1e-9)
    return edge[ends[0] : ends[-1] + 1]


def curve_items(points: Floats, kind: str, layer: str) -> list[Item]:
    """One moulding's curve: a line, an arc, or a smooth curve; two where it turns over."""
    if len(points) == 2:
        return [Line(layer, points)]
    turns_over = kind in ("cyma recta", "cyma reversa", "scotia")
    pieces = [points[: _FINE + 1], points[_FINE:]] if turns_over else [points]
    return [arc_through(p, layer) or Spline(layer, p[:: _FINE // 24]) for p in pieces]


def arc_through(points: Floats, layer: str) -> Arc | None:
    """The arc that all points lie on, or None."""
    if len(points) < 3:
        return None
    a, b, c = points[0], points[len(points) // 2], points[-1]
    matrix = 2.0 * np.array([b - a, c - a])
    if abs(np.linalg.det(matrix)) < 1e-14:
        return None
    centre = np.linalg.solve(matrix, [b @ b - a @ a, c @ c - a @ a])
    reach = np.linalg.norm(points - centre, axis=1)
    radius = float(reach.mean())
    if np.abs(reach - radius).max() > ROUND_M:
        return None
    start, end = (float(np.degrees(np.arctan2(*(p - centre)[::-1]))) for p in (a, c))
    across = (b - a)[0] * (c - b)[1] - (b - a)[1] * (c - b)[0]
    if across < 0.0:
        start, end = end, start
    if end <= start:
        end += 360.0
    return Arc(layer, (float(centre[0]), float(centre[1])), radius, start, end)

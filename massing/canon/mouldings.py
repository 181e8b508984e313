"""Moulding curves, bottom to top, as (out, up) points.

Each curve runs from ``(out0, 0)`` to ``(out1, height)``. Constructions are those of the
Roman mouldings: torus a semicircle, ovolo and cavetto quarter circles, the cymas two quarter
curves tangent at mid-height, recta ending horizontally and reversa vertically (Building Trades
Pocketbook, Roman mouldings, figs. 4-5; W. R. Ware, The American Vignola, on recta and reversa).
Where the projection differs from the height the circles become ellipses.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

import numpy as np

from massing.canon.order import Member
from massing.geometry.mesh import Floats

Curve = Callable[[float, float, float, int], Floats]


def _arc(start_deg: float, end_deg: float, steps: int) -> Floats:
    angle = np.radians(np.linspace(start_deg, end_deg, steps + 1))
    return np.column_stack([np.cos(angle), np.sin(angle)])


def _fit(unit: Floats, out0: float, out1: float, height: float) -> Floats:
    """Unit curve (0,0)-(1,1) stretched to run from out0 to out1 over height."""
    return np.column_stack([out0 + (out1 - out0) * unit[:, 0], height * unit[:, 1]])


def fillet(out0: float, out1: float, height: float, steps: int = 8) -> Floats:
    """A flat face (fascia, plinth, corona, fillet); battered when ``out0 != out1``."""
    return np.array([[out0, 0.0], [out1, height]])


def ovolo(out0: float, out1: float, height: float, steps: int = 8) -> Floats:
    """A convex quarter round, upright where it is widest."""
    if out1 >= out0:
        return _fit(_arc(-90, 0, steps) + [0.0, 1.0], out0, out1, height)
    round_ = _arc(0, 90, steps)
    return _fit(np.column_stack([1.0 - round_[:, 0], round_[:, 1]]), out0, out1, height)


def cavetto(out0: float, out1: float, height: float, steps: int = 8) -> Floats:
    """A concave quarter hollow, upright where it is narrowest."""
    if out1 >= out0:
        return _fit(_arc(180, 90, steps) + [1.0, 0.0], out0, out1, height)
    hollow = _arc(270, 180, steps)
    return _fit(np.column_stack([-hollow[:, 0], hollow[:, 1] + 1.0]), out0, out1, height)


def cyma_recta(out0: float, out1: float, height: float, steps: int = 8) -> Floats:
    """Hollow above, round below when it crowns; the ends run horizontally."""
    lower = _arc(-90, 0, steps) * 0.5 + [0.0, 0.5]
    upper = _arc(180, 90, steps) * 0.5 + [1.0, 0.5]
    return _fit(np.concatenate([lower, upper[1:]]), out0, out1, height)


def cyma_reversa(out0: float, out1: float, height: float, steps: int = 8) -> Floats:
    """Round above, hollow below when it supports; the ends run vertically."""
    lower = _arc(180, 90, steps) * 0.5 + [0.5, 0.0]
    upper = _arc(-90, 0, steps) * 0.5 + [0.5, 1.0]
    return _fit(np.concatenate([lower, upper[1:]]), out0, out1, height)


def torus(out0: float, out1: float, height: float, steps: int = 8) -> Floats:
    """A convex half round standing out from its ends by half its height.

    ``out0`` and ``out1`` are its widest reach (equal); the round springs from
    ``out - height / 2`` below and above.
    """
    arc = _arc(-90, 90, 2 * steps) * (height / 2.0)
    return arc + [max(out0, out1) - height / 2.0, height / 2.0]


def scotia(out0: float, out1: float, height: float, steps: int = 8) -> Floats:
    """A hollow of two quarter arcs between a wider foot (out0) and a narrower head (out1)."""
    rise = height * 2.0 / 3.0
    deep = min(out0, out1) - 0.25 * height
    lower = np.column_stack(
        [
            deep + (out0 - deep) * (1 + _arc(270, 180, steps)[:, 0]),
            (height - rise) * (1 + _arc(270, 180, steps)[:, 1]),
        ]
    )
    upper = np.column_stack(
        [
            deep + (out1 - deep) * (1 + _arc(180, 90, steps)[:, 0]),
            (height - rise) + rise * _arc(180, 90, steps)[:, 1],
        ]
    )
    return np.concatenate([lower, upper[1:]])


_INFLECTION = 0.4  # of a baluster's sleeve: half-way between its cap and base (Ware, p. 39)


def sleeve(out0: float, out1: float, height: float, steps: int = 8) -> Floats:
    """The long S of a baluster from its belly up to its neck, upright at both ends."""
    t = np.linspace(0.0, 1.0, 2 * steps + 1)
    low = 1.0 - _INFLECTION * (1.0 - np.cos(np.pi / 2.0 * t / _INFLECTION))
    high = (1.0 - _INFLECTION) * (
        1.0 - np.sin(np.pi / 2.0 * (t - _INFLECTION) / (1.0 - _INFLECTION))
    )
    reach = np.where(t < _INFLECTION, low, high)
    return np.column_stack([out1 + (out0 - out1) * reach, height * t])


def rising_sleeve(out0: float, out1: float, height: float, steps: int = 8) -> Floats:
    """The sleeve turned over: from a neck up to a belly."""
    return sleeve(out1, out0, height, steps)[::-1] * [1.0, -1.0] + [0.0, height]


CURVES: dict[str, Curve] = {
    "fillet": fillet,
    "ovolo": ovolo,
    "cavetto": cavetto,
    "cyma recta": cyma_recta,
    "cyma reversa": cyma_reversa,
    "torus": torus,
    "bead": torus,
    "scotia": scotia,
    "sleeve": sleeve,
    "rising sleeve": rising_sleeve,
}


def without_repeats(points: Floats, tolerance_m: float = 1e-7) -> Floats:
    """The polyline less points that repeat the one before."""
    keep = np.concatenate([[True], np.linalg.norm(np.diff(points, axis=0), axis=1) > tolerance_m])
    return points[keep]


def stack(members: Iterable[Member], foot_z_m: float = 0.0, steps: int = 8) -> Floats:
    """The visible edge ``(n, 2)`` of members set one on another, as (reach, height).

    Members keep their own units. A hollow in a member's underside (:attr:`Member.recess`) is
    cut between the reach of the member beneath and a lip at its outer edge, the drip.
    """
    edge: list[Floats] = []
    z = foot_z_m
    for member in members:
        curve = CURVES[member.kind](member.foot, member.head, member.height, steps) + [0.0, z]
        if member.recess and edge:
            edge.append(_soffit(edge[-1][-1, 0], member) + [0.0, z])
        edge.append(curve)
        z += member.height
    return without_repeats(np.concatenate(edge), 1e-9)


def _soffit(inner: float, member: Member) -> Floats:
    """Underside of an overhanging member from the one beneath to its lip, hollowed."""
    start, lip = member.hollow(inner)
    splay = 0.25 * member.recess
    return np.array(
        [
            [inner, 0.0],
            [start, 0.0],
            [start + splay, member.recess],
            [lip - splay, member.recess],
            [lip, 0.0],
        ]
    )


def without_straights(ring: Floats, tolerance_m: float = 1e-9) -> Floats:
    """A closed outline ``(n, 2)`` less the points that lie on the line of their neighbours."""
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    return ring[np.abs(cross) > tolerance_m * np.linalg.norm(before, axis=1)]

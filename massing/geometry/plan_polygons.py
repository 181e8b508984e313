"""Holes in a roof's covering, and the flat convex polygons they are made of, in plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats, Mesh
from massing.units import INCH_M

Side = Literal["clear", "wall", "valley"]
# Covering to what stands along a side, metres. A valley is left open: practice, no source.
INSETS_M: dict[Side, float] = {"clear": 0.0, "wall": 0.012, "valley": 2.5 * INCH_M}


@dataclass(frozen=True, eq=False)
class Hole:
    """Where a roof is not covered, because something comes through it.

    Attributes:
        ring: convex plan polygon ``(n, 2)``, counter-clockwise.
        sides: what stands along each side, from ``ring[i]`` to ``ring[i + 1]``.
    """

    ring: Floats
    sides: tuple[Side, ...]

    def moved(self, matrix: Floats) -> Hole:
        """The hole under a ``(4, 4)`` matrix that keeps upright what is upright."""
        return replace(self, ring=self.ring @ matrix[:2, :2].T + matrix[:2, 3])


def clear_hole(low: ArrayLike, high: ArrayLike) -> Hole:
    """A rectangular hole whose sides are made by what stands in it.

    >>> clear_hole((0, 0), (2, 1)).ring.tolist()
    [[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]]
    """
    (x0, y0), (x1, y1) = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    return Hole(np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)]), ("clear",) * 4)


def opened(holes: Sequence[Hole]) -> list[Floats]:
    """What the covering is cut by: each hole grown by what stands along its sides."""
    return [grown(h.ring, [INSETS_M[side] for side in h.sides]) for h in holes]


def grown(ring: Floats, out_m: ArrayLike) -> Floats:
    """A convex plan polygon ``(n, 2)`` with each side moved outwards, mitred at its corners.

    >>> grown(np.array([(1.0, 0.0), (2.0, 0.0), (2.0, 1.0), (1.0, 1.0)]), [0.5, 0, 0, 0]).tolist()
    [[1.0, -0.5], [2.0, -0.5], [2.0, 1.0], [1.0, 1.0]]
    """
    normal = outwards(ring)
    offset = np.einsum("ij,ij->i", normal, ring) + np.asarray(out_m, dtype=float)
    pairs = np.stack([np.roll(normal, 1, axis=0), normal], axis=1)
    return np.linalg.solve(pairs, np.stack([np.roll(offset, 1), offset], axis=1)[..., None])[..., 0]


def outwards(ring: Floats) -> Floats:
    """Unit normals ``(n, 2)`` of the sides of a counter-clockwise plan polygon."""
    step = np.roll(ring, -1, axis=0) - ring
    return np.column_stack([step[:, 1], -step[:, 0]]) / np.linalg.norm(step, axis=1)[:, None]


def inside(ring: Floats, points: ArrayLike, margin_m: float = 0.0) -> bool:
    """Whether plan points ``(k, 2)`` all lie in a convex polygon, ``margin_m`` off its sides."""
    normal = outwards(ring)
    reach = np.asarray(points, dtype=float) @ normal.T - np.einsum("ij,ij->i", normal, ring)
    return bool((reach <= -margin_m).all())


def apart(one: Floats, other: Floats, gap_m: float = 0.0) -> bool:
    """Whether a side of one of two convex plan polygons has the other ``gap_m`` beyond it."""
    for a, b in ((one, other), (other, one)):
        normal = outwards(a)
        reach = b @ normal.T - np.einsum("ij,ij->i", normal, a)
        if (reach.min(axis=0) >= gap_m).any():
            return True
    return False


def clipped(ring: Floats, normal: ArrayLike, offset: float) -> Floats:
    """The part of a convex plan polygon where ``normal . p >= offset``; may be empty.

    >>> clipped(np.array([(0.0, 0.0), (2.0, 0.0), (0.0, 2.0)]), (1.0, 0.0), 1.0).tolist()
    [[1.0, 0.0], [2.0, 0.0], [1.0, 1.0]]
    """
    side = ring @ np.asarray(normal, dtype=float) - offset
    points = []
    for i in range(len(ring)):
        a, b = side[i], side[(i + 1) % len(ring)]
        if a >= 0.0:
            points.append(ring[i])
        if a * b < 0.0:
            points.append(ring[i] + a / (a - b) * (ring[(i + 1) % len(ring)] - ring[i]))
    return np.array(points).reshape(-1, 2)


def within(ring: Floats, bounds: Floats) -> Floats:
    """The part of a convex plan polygon that lies in another; may be empty."""
    for normal, point in zip(outwards(bounds), bounds, strict=True):
        if not len(ring):
            break
        ring = clipped(ring, -normal, float(-normal @ point))
    return ring


def on_plane(ring: Floats, plan: ArrayLike) -> Floats:
    """Plan points ``(k, 2)`` lifted ``(k, 3)`` to the plane of a slope's polygon ``(n, 3)``."""
    normal = np.cross(ring[1] - ring[0], ring[-1] - ring[0])
    plan = np.asarray(plan, dtype=float)
    z = ring[0, 2] - (plan - ring[0, :2]) @ normal[:2] / normal[2]
    return np.column_stack([plan, z])


def slab(ring: Floats, plan: Floats, low_m: float, high_m: float) -> Mesh:
    """A plate over a convex plan polygon, upright distances off the plane of a slope."""
    skin = on_plane(ring, plan)
    n = len(skin)
    fan = np.array([(0, k, k + 1) for k in range(1, n - 1)])
    i, j = np.arange(n), np.roll(np.arange(n), -1)
    sides = [np.stack([i, j, j + n], 1), np.stack([i, j + n, i + n], 1)]
    points = np.concatenate([skin + [0.0, 0.0, low_m], skin + [0.0, 0.0, high_m]])
    return Mesh(points, np.concatenate([fan[:, ::-1], fan + n, *sides]))

"""Courses with a moulded edge, run round whatever plan they have: without a Boolean in space."""

from __future__ import annotations

from collections.abc import Sequence

import manifold3d
import numpy as np

from massing.geometry.mesh import Floats, Ints, Mesh, merged
from massing.geometry.solids import triangulate

_SAME_M = 1e-6
# Clipping works in single precision: some micrometres at the far end of a house.
_NEAR_M = 1e-4
_STRAIGHT = 1e-3  # sine of a turn that is none
_NO_AREA_M2 = 1e-5


def moulded_plan(
    shapes: Sequence[Floats], edge: Floats, flat: Sequence[Floats] = ()
) -> Mesh | None:
    """One closed body a piece of plan: its sides moulded, mitred at every corner.

    Args:
        shapes: plan outlines ``(n, 2)``, counter-clockwise, that together are the plan.
        edge: ``(k, 2)`` of (reach out of the plan, z), bottom to top.
        flat: lines ``(2, 2)`` on which sides stay where they are, as where a course dies
            against a wall.

    Returns:
        None where a side is too short for its moulding to be mitred at both ends, or two pieces
        of the plan come so near that their mouldings meet.

    >>> square = np.array([[0, 0], [2, 0], [2, 2], [0, 2.0]])
    >>> made = moulded_plan([square], np.array([[0.0, 0.0], [0.1, 0.5]]))
    >>> made.bounds.round(3).tolist()
    [[-0.1, -0.1, 0.0], [2.1, 2.1, 0.5]]
    """
    plan = manifold3d.CrossSection.batch_boolean(
        [manifold3d.CrossSection([ring]) for ring in shapes], manifold3d.OpType.Add
    )
    bodies, widest = [], []
    most = float(edge[:, 0].max())
    for piece in plan.decompose():
        rings = [_exact(_corners(np.asarray(r, dtype=float)), shapes) for r in piece.to_polygons()]
        rings.sort(key=_area, reverse=True)  # the outline, then its holes
        ways = [_ways(ring, flat) for ring in rings]
        for reach in (float(edge[:, 0].min()), most):
            for ring, way in zip(rings, ways, strict=True):
                before = np.roll(ring, -1, axis=0) - ring
                moved = ring + reach * way
                after = np.roll(moved, -1, axis=0) - moved
                if (np.einsum("ij,ij->i", before, after) < _SAME_M).any():
                    return None
        widest += [ring + most * way for ring, way in zip(rings, ways, strict=True)]
        bodies.append(_body(rings, ways, edge))
    together = manifold3d.CrossSection(widest, manifold3d.FillRule.Positive)
    if abs(together.area() - sum(map(_area, widest))) > _NO_AREA_M2:
        return None
    return merged(bodies)


def _area(ring: Floats) -> float:
    x, y = ring.T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0


def _corners(ring: Floats) -> Floats:
    """A ring's true corners: what lies on a straight side, or twice in one place, is left out."""
    ring = ring[np.linalg.norm(ring - np.roll(ring, 1, axis=0), axis=1) > _NEAR_M]
    ahead, behind = np.roll(ring, -1, axis=0) - ring, ring - np.roll(ring, 1, axis=0)
    off = behind[:, 0] * ahead[:, 1] - behind[:, 1] * ahead[:, 0]
    lengths = np.linalg.norm(ahead, axis=1) * np.linalg.norm(behind, axis=1)
    return ring[np.abs(off) > _STRAIGHT * lengths]


def _exact(ring: Floats, shapes: Sequence[Floats]) -> Floats:
    """The corners where the shapes' own sides meet."""
    starts = np.concatenate(list(shapes))
    ends = np.concatenate([np.roll(shape, -1, axis=0) for shape in shapes])
    along = (ends - starts) / np.linalg.norm(ends - starts, axis=1)[:, None]
    out = np.column_stack([along[:, 1], -along[:, 0]])
    offsets = np.einsum("ij,ij->i", out, starts)
    off = np.abs(ring @ out.T - offsets)
    own = (off + np.roll(off, -1, axis=0)).argmin(axis=1)  # the line of the side after a corner
    before = np.roll(own, 1)
    pairs = np.stack([out[before], out[own]], axis=1)
    return np.linalg.solve(pairs, np.column_stack([offsets[before], offsets[own]])[..., None])[
        ..., 0
    ]


def _ways(ring: Floats, flat: Sequence[Floats]) -> Floats:
    """How each corner goes out as its two sides do by one; sides that are ``flat`` stay."""
    side = np.roll(ring, -1, axis=0) - ring
    along = side / np.linalg.norm(side, axis=1)[:, None]
    out = np.column_stack([along[:, 1], -along[:, 0]])
    goes = np.ones(len(ring))
    middle = ring + side / 2.0
    for a, b in flat:
        length = np.linalg.norm(b - a)
        way = (b - a) / length
        at, aside = (middle - a) @ way, (middle - a) @ [-way[1], way[0]]
        parallel = np.abs(along @ [-way[1], way[0]]) < _SAME_M
        goes[parallel & (np.abs(aside) < _SAME_M) & (at > 0.0) & (at < length)] = 0.0
    before, kept = np.roll(out, 1, axis=0), np.roll(goes, 1)
    pairs = np.stack([before, out], axis=1)
    return np.linalg.solve(pairs, np.column_stack([kept, goes])[..., None])[..., 0]


def _body(rings: Sequence[Floats], ways: Sequence[Floats], edge: Floats) -> Mesh:
    """The rings at every level of the edge, walls between levels, closed above and below."""
    levels = [
        np.concatenate([ring + reach * way for ring, way in zip(rings, ways, strict=True)])
        for reach, _ in edge
    ]
    count = len(levels[0])
    vertices = np.concatenate(
        [
            np.column_stack([ring, np.full(count, z)])
            for ring, (_, z) in zip(levels, edge, strict=True)
        ]
    )
    following: list[Ints] = []
    start = 0
    for ring in rings:
        following.append(start + np.roll(np.arange(len(ring)), -1))
        start += len(ring)
    i, j = np.arange(count), np.concatenate(following)
    walls = []
    for k in range(len(edge) - 1):
        a, b = i + k * count, j + k * count
        walls += [np.stack([a, b, b + count], 1), np.stack([a, b + count, a + count], 1)]
    sizes = np.cumsum([len(ring) for ring in rings])[:-1]
    bottom, top = (
        triangulate(parts[0], parts[1:])[1]
        for parts in (np.split(level, sizes) for level in (levels[0], levels[-1]))
    )
    return Mesh(vertices, np.concatenate([bottom[:, ::-1], top + (len(edge) - 1) * count, *walls]))

"""How a tree is grown for a picture: a skeleton from the ground to the tips, wood, and leaves.

A crown is given by the places of its twigs' tips. Each tip joins the skeleton where that is near
and on the way to the ground; the wood's thickness follows from how many tips it carries.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from massing.geometry.mesh import Floats, Mesh

Ints = NDArray[np.int64]

PIPE = 2.2  # a branch's radius to this power is the sum of its twigs': from memory, 2 to 2.5
_SIDES = {0: 4, 1: 6, 2: 9}  # of a branch: twig, branch, trunk


@dataclass(frozen=True)
class Skeleton:
    """Nodes of a tree's wood.

    Attributes:
        at_m: ``(n, 3)`` places; the first is the foot.
        parent: ``(n,)`` index of the node each grows from; the foot's is itself.
        tips: ``(t,)`` indices of the twigs' ends.
        radius_m: ``(n,)`` of the wood there.
    """

    at_m: Floats
    parent: Ints
    tips: Ints
    radius_m: Floats


def grown(
    trunk_m: Floats,
    tips_m: Floats,
    rng: np.random.Generator,
    *,
    twig_m: float,
    foot_m: float,
    step_m: float,
    down: float = 0.6,
    wander: float = 0.12,
) -> Skeleton:
    """A skeleton from a trunk's line ``(k, 3)`` to the tips ``(t, 3)``.

    Args:
        twig_m: radius of a twig at its tip.
        foot_m: radius of the trunk at its foot.
        step_m: about the length of a straight piece.
        down: how much rather a twig joins what lies below it than what lies beside it.
        wander: how far a branch bends aside, as a share of its length.
    """
    at = [*trunk_m]
    parent = [0, *range(len(trunk_m) - 1)]
    ends = []
    axis = trunk_m[:, :2].mean(axis=0)
    order = np.argsort(np.hypot(*(tips_m[:, :2] - axis).T) + 0.3 * tips_m[:, 2])
    for tip in tips_m[order]:
        nodes = np.array(at)
        away = tip - nodes
        far = np.linalg.norm(away, axis=1)
        rise = away[:, 2] / np.maximum(far, 1e-9)
        cost = far * (1.0 + down * (1.0 - rise))
        cost[0] = np.inf
        from_ = int(np.argmin(cost))
        line = tip - nodes[from_]
        long = float(np.linalg.norm(line))
        pieces = max(1, round(long / step_m))
        side = np.cross(line, rng.normal(size=3))
        side *= wander * long / max(float(np.linalg.norm(side)), 1e-9)
        t = np.arange(1, pieces + 1)[:, None] / pieces
        bow = np.sin(np.pi * t) * (side - [0.0, 0.0, 0.5 * wander * long])
        for k, place in enumerate(nodes[from_] + t * line + bow):
            parent.append(from_ if k == 0 else len(at) - 1)
            at.append(place)
        ends.append(len(at) - 1)
    parents = np.array(parent)
    carried = np.zeros(len(at))
    carried[ends] = 1.0
    for i in range(len(at) - 1, 0, -1):  # children come after their parents
        carried[parents[i]] += carried[i]
    radius = twig_m * np.maximum(carried, 1.0) ** (1.0 / PIPE)
    radius *= np.interp(radius, [twig_m, radius[0]], [1.0, foot_m / radius[0]])
    return Skeleton(np.array(at), parents, np.array(ends), radius)


def wood(skeleton: Skeleton, least_m: float = 0.0) -> Mesh:
    """The skeleton as tapered tubes, each from a node to its parent, but what is thinner."""
    child = np.arange(1, len(skeleton.parent))
    child = child[skeleton.radius_m[child] >= least_m]
    below = skeleton.parent[child]
    vertices, faces, count = [], [], 0
    thick = skeleton.radius_m[below] / skeleton.radius_m[0]
    kind = np.digitize(thick, [0.12, 0.4])
    for size, sides in _SIDES.items():
        chosen = kind == size
        a, b = skeleton.at_m[below[chosen]], skeleton.at_m[child[chosen]]
        ra, rb = skeleton.radius_m[below[chosen]], skeleton.radius_m[child[chosen]]
        if not len(a):
            continue
        along = (b - a) / np.maximum(np.linalg.norm(b - a, axis=1), 1e-9)[:, None]
        odd = np.where(np.abs(along[:, 2:]) < 0.9, [[0.0, 0.0, 1.0]], [[1.0, 0.0, 0.0]])
        x = np.cross(odd, along)
        x /= np.linalg.norm(x, axis=1)[:, None]
        y = np.cross(along, x)
        turn = 2.0 * np.pi * np.arange(sides) / sides
        ring = np.cos(turn)[:, None, None] * x + np.sin(turn)[:, None, None] * y
        # A smaller upper end than the next tube's foot would show a step at each fork.
        low, high = a + ring * ra[:, None], b + ring * np.minimum(ra, 1.15 * rb)[:, None]
        n = len(a)
        grid = np.arange(sides * n).reshape(sides, n)
        i, j = grid, np.roll(grid, -1, axis=0)
        quads = np.stack([i, j, j + sides * n, i + sides * n], -1).reshape(-1, 4) + count
        vertices += [low.reshape(-1, 3), high.reshape(-1, 3)]
        faces += [quads[:, [0, 1, 2]], quads[:, [0, 2, 3]]]
        count += 2 * sides * n
    if not vertices:
        return Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=int))
    return Mesh(np.concatenate(vertices), np.concatenate(faces))


def sheets(
    at_m: Floats,
    facing: Floats,
    along: Floats,
    long_m: Floats,
    wide_m: Floats,
    fold: float = 0.12,
) -> Mesh:
    """Leaves as lozenges, each a little folded along its middle.

    Args:
        at_m: ``(n, 3)`` middles.
        facing: ``(n, 3)`` unit normals.
        along: ``(n, 3)`` about the way each leaf points.
        long_m, wide_m: ``(n,)`` sizes.
        fold: depth of the fold as a share of the width.
    """
    n = len(at_m)
    y = along - facing * (along * facing).sum(axis=1)[:, None]
    y /= np.maximum(np.linalg.norm(y, axis=1), 1e-9)[:, None]
    x = np.cross(y, facing)
    half, side, dip = long_m[:, None] / 2.0, wide_m[:, None] / 2.0, fold * wide_m[:, None]
    widest = at_m - 0.1 * half * y + dip * facing
    corners = np.stack([at_m - half * y, widest + side * x, at_m + half * y, widest - side * x], 1)
    first = 4 * np.arange(n)[:, None]
    faces = np.concatenate([first + [0, 1, 2], first + [0, 2, 3]])
    return Mesh(corners.reshape(-1, 3), faces)


def unit(vectors: Floats) -> Floats:
    """``(n, 3)`` scaled to length one."""
    scaled: Floats = vectors / np.maximum(np.linalg.norm(vectors, axis=-1, keepdims=True), 1e-9)
    return scaled


def ball(count: int, rng: np.random.Generator, *, inner: float = 0.0) -> Floats:
    """``(count, 3)`` places even through a ball of radius 1, or its shell beyond ``inner``."""
    way = unit(rng.normal(size=(count, 3)))
    low = inner**3
    out: Floats = way * (low + (1.0 - low) * rng.uniform(size=(count, 1))) ** (1.0 / 3.0)
    return out

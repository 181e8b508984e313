"""Trees for pictures, by habit: rounded oak, tall pine, columnar cypress, palm, magnolia.

Each is wood and leaves as two open or closed meshes about the foot of its trunk at the origin,
drawn by chance from a seed. Shares of height and spread that tell the habits apart are common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import NamedTuple, get_args

import numpy as np

from massing.design.kinds import Habit
from massing.geometry.mesh import Floats, Mesh, merged
from massing.parts.site.growth import Ints, Skeleton, ball, grown, sheets, unit, wood

UP = np.array([0.0, 0.0, 1.0])
AFAR, NEAR = 1.45, 0.62  # how much larger leaves are, and so many fewer by its square


class Grown(NamedTuple):
    """A tree's meshes: ``wood`` and ``leaves``, and flowers (empty for most)."""

    wood: Mesh
    leaves: Mesh
    flowers: Mesh


@lru_cache(maxsize=64)
def grow(habit: Habit, height_m: float, spread_m: float, seed: int, *, afar: bool = False) -> Grown:
    """A tree of a habit, so high and so wide.

    ``afar`` gives it fewer, larger leaves and no twigs, for one that is never seen from nearby.

    Raises:
        ValueError: another habit, or no size.
    """
    if habit not in get_args(Habit):
        raise ValueError(f"{habit!r} is not a habit; allowed: {', '.join(get_args(Habit))}")
    if not (height_m > 0.0 and spread_m > 0.0):
        raise ValueError(f"a tree {height_m:g} m high and {spread_m:g} m wide is not a tree")
    rng = np.random.default_rng([seed, *habit.encode()])
    tree = _HABITS[habit](height_m, spread_m, rng, AFAR if afar else NEAR)
    # Leaves stand out beyond the tips that the crown was drawn by: the top is to be the height.
    fit = np.diag([1.0, 1.0, height_m / float(tree.leaves.vertices[:, 2].max()), 1.0])
    return Grown(*(mesh.moved(fit) for mesh in tree))


def _no_flowers() -> Mesh:
    return Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=int))


def _trunk(height_m: float, rng: np.random.Generator, *, lean: float, pieces: int = 7) -> Floats:
    z = np.linspace(0.0, height_m, pieces)
    drift = rng.normal(size=(pieces, 2)).cumsum(axis=0) * lean * height_m / pieces
    drift -= drift[0]
    return np.column_stack([drift, z])


def _sprays(
    centres: Floats,
    outward: Floats,
    rng: np.random.Generator,
    *,
    each: int,
    coarse: float,
    reach_m: float,
    long_m: float,
    wide_m: float,
    flat: float = 0.6,
    up: float = 0.7,
    loose: float = 0.7,
) -> Mesh:
    """``each`` leaves about every tip, facing out and up and every way a little."""
    each = max(2, round(each / coarse**2))
    long_m, wide_m = coarse * long_m, coarse * wide_m
    n = len(centres) * each
    about = ball(n, rng) * reach_m * [1.0, 1.0, flat]
    at = np.repeat(centres, each, axis=0) + about
    out = np.repeat(outward, each, axis=0)
    facing = unit(0.5 * out + up * UP + loose * rng.normal(size=(n, 3)))
    size = rng.uniform(0.7, 1.25, n)
    along = unit(about + 0.3 * out + 0.4 * rng.normal(size=(n, 3)) * reach_m)
    return sheets(at, facing, along, long_m * size, wide_m * size)


def _oak(height_m: float, spread_m: float, rng: np.random.Generator, coarse: float) -> Grown:
    """Broad and rounded: a short bole, limbs that spread, a crown in clouds of leaves."""
    base = 0.2 * height_m
    half = np.array([spread_m / 2.0, spread_m / 2.0, (height_m - base) / 2.0])
    middle = np.array([0.0, 0.0, base + half[2]])
    clouds = 26
    k = np.arange(clouds)
    z = 1.0 - 1.75 * (k + 0.5) / clouds  # none right below
    turn = k * np.pi * (3.0 - np.sqrt(5.0)) + rng.uniform(-0.4, 0.4, clouds)
    level = np.sqrt(1.0 - z * z)
    way = np.column_stack([level * np.cos(turn), level * np.sin(turn), z])
    size = rng.uniform(0.26, 0.42, clouds)
    heart = middle + half * way * (0.98 - size)[:, None] * rng.uniform(0.86, 1.0, (clouds, 1))
    per = 30
    tips, out = [], []
    for place, r in zip(heart, size, strict=True):
        shell = ball(per, rng, inner=0.55)
        shell = shell[(shell[:, 2] > -0.45)]
        tips.append(place + shell * half * r)
        out.append(unit(0.6 * shell + 0.8 * unit(place - middle)[None]))
    inner = middle + 0.55 * half * ball(60, rng)
    tips_m, outward = np.concatenate([*tips, inner]), np.concatenate([*out, unit(inner - middle)])
    trunk = _trunk(0.42 * height_m, rng, lean=0.05)
    foot = 0.018 * height_m + 0.008 * spread_m
    skeleton = grown(
        trunk, tips_m, rng, twig_m=0.011, foot_m=foot, step_m=0.09 * height_m, wander=0.14
    )
    unit_m = (height_m * spread_m) ** 0.5 / 12.0
    leaves = _sprays(
        tips_m,
        outward,
        rng,
        coarse=coarse,
        each=17,
        reach_m=0.52 * unit_m,
        long_m=0.30 * unit_m,
        wide_m=0.19 * unit_m,
    )
    return Grown(_flared(wood(skeleton, 0.03 * (coarse - 1.0)), foot), leaves, _no_flowers())


def _flared(mesh: Mesh, foot_m: float) -> Mesh:
    """Roots spread a trunk at the ground."""
    v = mesh.vertices.copy()
    spread = 1.0 + 0.55 * np.exp(-np.maximum(v[:, 2], 0.0) / (1.6 * foot_m))
    near = np.hypot(v[:, 0], v[:, 1]) < 2.5 * foot_m
    v[near, :2] *= spread[near, None]
    v[v[:, 2] < 1e-6, 2] = -0.3
    return Mesh(v, mesh.faces)


def _pine(height_m: float, spread_m: float, rng: np.random.Generator, coarse: float) -> Grown:
    """Tall and bare below: whorls of level limbs, their needles in flat tufts."""
    bole = 0.46 * height_m
    trunk = _trunk(0.985 * height_m, rng, lean=0.025, pieces=14)
    tips, out = [], []
    whorls = 13
    for k in range(whorls):
        z = bole + (height_m - bole) * ((k + 0.5) / whorls) ** 0.9
        share = (height_m - z) / (height_m - bole)
        reach = spread_m / 2.0 * (0.18 + 0.82 * np.sin(np.pi * (0.08 + 0.66 * share)))
        limbs = 5 if share > 0.15 else 4
        for turn in rng.uniform(0, 6.28) + np.arange(limbs) * 6.283 / limbs:
            far = reach * rng.uniform(0.6, 1.06)
            lift = rng.uniform(-0.05, 0.22) + 0.5 * (1.0 - share)
            way = np.array([np.cos(turn), np.sin(turn), lift])
            across = np.array([-np.sin(turn), np.cos(turn), 0.0])
            for s, aside in ((1.0, 0.0), (0.82, 0.3), (0.82, -0.3), (0.6, 0.22), (0.6, -0.25)):
                axis = np.array([*_axis_at(trunk, z), z])
                tips.append(axis + far * (s * way + aside * across) + 0.1 * rng.normal(size=3))
                out.append(unit((way + 0.6 * UP)[None])[0])
    tips_m, outward = np.array(tips), np.array(out)
    foot = 0.017 * height_m + 0.05
    skeleton = grown(
        trunk,
        tips_m,
        rng,
        twig_m=0.012,
        foot_m=foot,
        step_m=0.06 * height_m,
        down=0.15,
        wander=0.06,
    )
    unit_m = spread_m / 7.0
    leaves = _sprays(
        tips_m,
        outward,
        rng,
        coarse=coarse,
        each=44,
        reach_m=0.62 * unit_m,
        long_m=0.42 * unit_m,
        wide_m=0.07 * unit_m,
        flat=0.42,
        up=0.35,
        loose=0.9,
    )
    return Grown(
        _flared(wood(skeleton, 0.012 + 0.03 * (coarse - 1.0)), foot), leaves, _no_flowers()
    )


def _axis_at(trunk: Floats, z: float) -> tuple[float, float]:
    x = float(np.interp(z, trunk[:, 2], trunk[:, 0]))
    return x, float(np.interp(z, trunk[:, 2], trunk[:, 1]))


def _cypress(height_m: float, spread_m: float, rng: np.random.Generator, coarse: float) -> Grown:
    """A dark column, its sprays all upright, closing to a point."""
    coarse = min(coarse, 1.4)
    n = round(2600 / coarse**2)
    t = rng.uniform(0.0, 1.0, n) ** 0.9
    turn = rng.uniform(0.0, 2.0 * np.pi, n)
    ribs = 1.0 + 0.10 * np.sin(5.0 * turn + 3.0 * t) + 0.06 * np.sin(11.0 * turn + 17.0 * t)
    profile = np.sin(np.pi * np.clip(0.12 + 0.88 * t, 0.0, 1.0) ** 0.75) ** 0.62
    r = 0.80 * spread_m / 2.0 * profile * ribs * rng.uniform(0.78, 1.0, n)
    z = height_m * (0.03 + 0.955 * t)
    at = np.column_stack([r * np.cos(turn), r * np.sin(turn), z])
    out = np.column_stack([np.cos(turn), np.sin(turn), np.zeros(n)])
    facing = unit(out + 0.35 * UP + 0.45 * rng.normal(size=(n, 3)))
    along = unit(UP + 0.25 * out + 0.2 * rng.normal(size=(n, 3)))
    size = rng.uniform(0.7, 1.3, n) * spread_m / 2.0
    leaves = sheets(at, facing, along, 0.62 * coarse * size, 0.24 * coarse * size)
    trunk = np.column_stack([np.zeros((6, 2)), np.linspace(0.0, 0.9 * height_m, 6)])
    radius = np.linspace(0.09 * spread_m, 0.01, 6)
    skeleton = Skeleton(trunk, np.array([0, 0, 1, 2, 3, 4]), np.array([5]), radius)
    return Grown(wood(skeleton), leaves, _no_flowers())


def _palm(height_m: float, spread_m: float, rng: np.random.Generator, coarse: float) -> Grown:
    """A ringed stem that leans a little, and a head of feathered fronds, the lowest hanging."""
    stem = height_m - 0.33 * spread_m
    trunk = _trunk(stem, rng, lean=0.05, pieces=12)
    radius = np.interp(np.linspace(0, 1, 12), [0, 0.08, 0.9, 1.0], [0.2, 0.155, 0.13, 0.17])
    radius = radius * (1.0 + 0.05 * (-1.0) ** np.arange(12)) * (height_m / 9.0) ** 0.4
    skeleton = Skeleton(trunk, np.array([0, *range(11)]), np.array([11]), radius)
    top, long = trunk[-1], 0.58 * spread_m
    fronds = 34
    parts = []
    for k in range(fronds):
        turn = k * np.pi * (3.0 - np.sqrt(5.0)) + rng.uniform(-0.2, 0.2)
        start = np.radians(84.0 - 112.0 * (k + 0.5) / fronds)  # of the frond at its foot
        s = np.linspace(0.0, 1.0, 15)
        angle = start - s * np.radians(62.0) * (0.8 + 0.4 * np.cos(start))
        step = long * rng.uniform(0.88, 1.08) / 14.0
        run = np.concatenate([[0.0], np.cumsum(np.cos(angle[1:]) * step)])
        rise = np.concatenate([[0.0], np.cumsum(np.sin(angle[1:]) * step)])
        level = np.array([np.cos(turn), np.sin(turn), 0.0])
        spine = top + run[:, None] * level + rise[:, None] * UP
        heading = np.cos(angle)[:, None] * level + np.sin(angle)[:, None] * UP
        across = np.cross(UP, level)
        sides = []
        for sign in (-1.0, 1.0):
            away = unit(sign * across + 0.75 * heading - 0.35 * UP)
            blade = long * 0.30 * np.sin(np.pi * (0.1 + 0.87 * s)) ** 0.6
            at = spine + away * blade[:, None] / 2.0
            facing = unit(np.cross(heading, across) + 0.15 * rng.normal(size=(15, 3)))
            sides.append(sheets(at, facing, away, blade, np.full(15, 0.105 * long)))
        parts.append(merged(sides))
    return Grown(wood(skeleton), merged(parts), _no_flowers())


def _magnolia(height_m: float, spread_m: float, rng: np.random.Generator, coarse: float) -> Grown:
    """A dense cone to near the ground, its large leaves glossy; white flowers here and there."""
    base = 0.06 * height_m
    tiers, tips, out = 11, [], []
    for k in range(tiers):
        t = (k + 0.5) / tiers
        z = base + (height_m - base) * t**0.92
        reach = spread_m / 2.0 * (1.0 - t) ** 0.72 * (0.82 + 0.36 * np.sin(np.pi * min(1, 4 * t)))
        n = max(5, round(34 * (reach / (spread_m / 2.0)) ** 1.4))
        turn = rng.uniform(0, 6.28) + np.arange(n) * 6.283 / n + rng.uniform(-0.15, 0.15, n)
        far = reach * rng.uniform(0.62, 1.0, n)
        up = z + rng.uniform(-0.6, 0.6, n) * height_m / tiers
        tips.append(np.column_stack([far * np.cos(turn), far * np.sin(turn), up]))
        out.append(np.column_stack([np.cos(turn), np.sin(turn), np.full(n, 0.35)]))
    tips_m = np.concatenate([*tips, [[0.0, 0.0, height_m * 0.985]]])
    outward = unit(np.concatenate([*out, [UP]]))
    trunk = _trunk(0.9 * height_m, rng, lean=0.02, pieces=10)
    foot = 0.018 * height_m + 0.04
    skeleton = grown(
        trunk, tips_m, rng, twig_m=0.012, foot_m=foot, step_m=0.09 * height_m, down=0.3
    )
    unit_m = (height_m * spread_m) ** 0.5 / 7.0
    leaves = _sprays(
        tips_m,
        outward,
        rng,
        coarse=coarse,
        each=42,
        reach_m=0.62 * unit_m,
        long_m=0.30 * unit_m,
        wide_m=0.13 * unit_m,
        flat=0.75,
        up=0.45,
        loose=0.6,
    )
    chosen: Ints = rng.permutation(len(tips_m))[: len(tips_m) // 6]
    at = tips_m[chosen] + 0.6 * unit_m * outward[chosen]
    cups = [
        sheets(at, unit(outward[chosen] + tilt), np.roll(tilt, 1, axis=1), wide, 0.7 * wide)
        for tilt in (0.6 * rng.normal(size=(len(at), 3)) for _ in range(3))
        for wide in [np.full(len(at), 0.24 * unit_m)]
    ]
    return Grown(wood(skeleton, 0.012 + 0.03 * (coarse - 1.0)), leaves, merged(cups))


_HABITS: dict[str, Callable[[float, float, np.random.Generator, float], Grown]] = {
    "oak": _oak,
    "pine": _pine,
    "cypress": _cypress,
    "palm": _palm,
    "magnolia": _magnolia,
}

"""What stands about the house and throws shadows on it: hedges, trees, a neighbour's house.

They are plain masses, meant to obstruct sun and sky, not to be portraits; a crown's outline is
broken by leaves.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, lathe, loft, translations
from massing.parts.part import Part
from massing.units import FOOT_M

_BATTER = 0.06  # a clipped hedge is a little narrower at its top: practice
_EASE_M = 0.06
_TRUNK_OF_HEIGHT = 0.028  # radius at the foot: practice
_CROWN_FROM = 0.28  # of the height
# Long, wide: large, so as to read as leaves at a drawing's scale.
_LEAF_M = (0.17, 0.10)
_SPRAY_M = 0.32  # half the breadth of a spray of leaves
_LEAVES_OF_SPRAY = 12
_SPRAYS_PER_M2 = 7.0


def hedge(low: ArrayLike, high: ArrayLike, height_m: float) -> Part:
    """A clipped hedge over a plan rectangle, sides battered, upper edges eased.

    Raises:
        ValueError: no area, or too low or narrow to be clipped.
    """
    low, high = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    if not (high - low > 4.0 * _EASE_M).all() or height_m < 3.0 * _EASE_M:
        raise ValueError(f"a hedge from {low} to {high} m, {height_m:.2f} m high, is too small")
    inset = min(_BATTER * height_m, 0.2 * float((high - low).min()))
    levels = [(0.0, 0.0), (inset, height_m - _EASE_M)]
    levels += [(inset + 0.3 * _EASE_M, height_m - 0.3 * _EASE_M), (inset + _EASE_M, height_m)]
    sections = []
    for cut, z in levels:
        (x0, y0), (x1, y1) = low + cut, high - cut
        sections.append([(x0, y0, z), (x1, y0, z), (x1, y1, z), (x0, y1, z)])
    return Part(("setting", "hedge"), "foliage", loft(np.array(sections)))


def tree(x_m: float, y_m: float, height_m: float, spread_m: float, seed: int = 0) -> list[Part]:
    """A broad-leaved tree as a trunk, a crown of overlapping rounded masses, and leaves on it.

    Args:
        x_m, y_m: foot of the trunk, metres.
        height_m: top of the crown above the ground.
        spread_m: width of the crown.
        seed: another tree of the same size.

    Raises:
        ValueError: lower than 6 ft, or wider than twice its height.
    """
    if height_m < 6.0 * FOOT_M or not 0.0 < spread_m <= 2.0 * height_m:
        raise ValueError(f"a tree {height_m:.1f} m high and {spread_m:.1f} m wide is not a tree")
    name, rng = ("setting", "trees", str(seed + 1)), np.random.default_rng(seed)
    foot, bole = _TRUNK_OF_HEIGHT * height_m, _CROWN_FROM * height_m
    trunk = [(1.5 * foot, 0.0), (1.1 * foot, 0.06 * height_m), (0.8 * foot, 1.5 * bole)]
    base, top = bole, height_m
    middle = np.array([0.0, 0.0, (base + top) / 2.0])
    leafy = min(1.0, spread_m / (20.0 * _SPRAY_M))  # leaves of a small tree are kept small
    half = np.array([spread_m / 2.0, spread_m / 2.0, (top - base) / 2.0]) - leafy * _SPRAY_M
    masses = [(middle, 0.6 * half)]
    golden = np.pi * (3.0 - np.sqrt(5.0))
    count = 48
    for k in range(count):
        z = 1.0 - 2.0 * (k + 0.5) / count
        turn = golden * k + rng.uniform(-0.3, 0.3)
        way = np.array([np.cos(turn) * np.sqrt(1 - z * z), np.sin(turn) * np.sqrt(1 - z * z), z])
        size = rng.uniform(0.17, 0.3)
        out = (1.0 - size) * rng.uniform(0.9, 1.0)
        masses.append((middle + out * half * way, size * half))
    blobs = [_blob(*mass, rng) for mass in masses]
    places = _on_the_outside(masses, _SPRAYS_PER_M2 / leafy**2, rng)
    spray = _spray(leafy, rng)
    leaves = Part((*name, "leaves"), "foliage/leaves", spray, places, solid=False)
    place = {"x_m": x_m, "y_m": y_m}
    return [
        Part((*name, "trunk"), "bark", lathe(np.array(trunk), 16).shifted(**place)),
        Part((*name, "crown"), "foliage", merged(blobs).shifted(**place)),
        leaves.moved(translations([(x_m, y_m, 0.0)])[0]),
    ]


def _spray(scale: float, rng: np.random.Generator) -> Mesh:
    """A handful of leaves about the origin, facing every way but down, as open sheets."""
    long, wide = (scale * size for size in _LEAF_M)
    leaf = np.array([[-0.5, 0.0, 0.0], [0.0, -0.5, 0.0], [0.5, 0.0, 0.0], [0.0, 0.5, 0.0]])
    quad = Mesh(leaf * (long, wide, 1.0), np.array([[0, 1, 2], [0, 2, 3]]))
    at = rng.uniform(-1.0, 1.0, (_LEAVES_OF_SPRAY, 3))
    at *= (scale * _SPRAY_M - long / 2.0) / np.maximum(1.0, np.linalg.norm(at, axis=1))[:, None]
    up = [0.0, 0.0, 1.0] + rng.uniform(-0.9, 0.9, at.shape)
    return merged(quad.moved(frame) for frame in _frames(at, up, rng))


def _on_the_outside(
    masses: list[tuple[Floats, Floats]], per_m2: float, rng: np.random.Generator
) -> Floats:
    """Frames ``(k, 4, 4)`` on the masses' common outside, Z outwards, turned at random."""
    found = []
    centres, halves = (np.array(side) for side in zip(*masses, strict=True))
    for centre, half in masses:
        # Knud Thomsen's formula for the area of an ellipsoid, exact for a sphere.
        p = 1.6075
        pairs = (half * np.roll(half, 1)) ** p
        count = max(1, round(per_m2 * 4.0 * np.pi * pairs.mean() ** (1.0 / p)))
        way = rng.normal(size=(count, 3))
        way /= np.linalg.norm(way, axis=1)[:, None]
        at = centre + half * way
        inside = (((at[:, None] - centres) / halves) ** 2).sum(axis=2).min(axis=1) < 0.98
        normal = way / half
        found.append(np.stack([at, normal], 1)[~inside])
    at, normal = np.concatenate(found).swapaxes(0, 1)
    return _frames(at, normal, rng)


def _frames(at: Floats, normal: Floats, rng: np.random.Generator) -> Floats:
    """Frames ``(k, 4, 4)`` at ``(k, 3)``, Z along ``normal`` ``(k, 3)``, turned at random."""
    normal = normal / np.linalg.norm(normal, axis=1)[:, None]
    side = np.cross(normal, rng.normal(size=normal.shape))
    side /= np.linalg.norm(side, axis=1)[:, None]
    frames = translations(at)
    frames[:, :3, :3] = np.stack([side, np.cross(normal, side), normal], axis=2)
    return frames


def _blob(centre: Floats, half: Floats, rng: np.random.Generator) -> Mesh:
    """A rounded mass with an uneven surface inside the ellipsoid of half axes ``half``."""
    rings, round_ = 9, 14
    lat = np.linspace(-np.pi / 2.0, np.pi / 2.0, rings + 2)[1:-1]
    lon = np.linspace(0.0, 2.0 * np.pi, round_, endpoint=False)
    way = np.stack(
        [
            np.cos(lat)[:, None] * np.cos(lon),
            np.cos(lat)[:, None] * np.sin(lon),
            np.broadcast_to(np.sin(lat)[:, None], (rings, round_)),
        ],
        axis=-1,
    )
    way = np.concatenate([[[0, 0, -1.0]], way.reshape(-1, 3), [[0, 0, 1.0]]])
    phase = rng.uniform(0.0, 2.0 * np.pi, 3)
    uneven = 0.93 + 0.07 * np.sin(way @ (5.0 * np.eye(3)) + phase).mean(axis=1)
    points = centre + half * way * uneven[:, None]
    i = np.arange(round_)
    j = np.roll(i, -1)
    faces = [np.stack([np.zeros(round_, int), 1 + j, 1 + i], 1)]
    for k in range(rings - 1):
        a, b = 1 + k * round_ + i, 1 + k * round_ + j
        faces += [np.stack([a, b, b + round_], 1), np.stack([a, b + round_, a + round_], 1)]
    last = 1 + (rings - 1) * round_
    faces.append(np.stack([last + i, last + j, np.full(round_, len(points) - 1)], 1))
    return Mesh(points, np.concatenate(faces))


def neighbour(
    low: ArrayLike, high: ArrayLike, eaves_z_m: float, ridge_z_m: float, number: int = 1
) -> list[Part]:
    """A neighbour's house as a block under a hipped or gabled mass.

    Raises:
        ValueError: no area, or a ridge below the eaves.
    """
    low, high = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    if not (high > low).all() or not 0.0 < eaves_z_m < ridge_z_m:
        raise ValueError("a neighbour's house needs a plan and a ridge above its eaves")
    body = box_between((*low, 0.0), (*high, eaves_z_m))
    (x0, y0), (x1, y1) = low - 0.4, high + 0.4
    run = min(x1 - x0, y1 - y0) / 2.0 - 0.05
    rings = [(0.0, eaves_z_m), (run, ridge_z_m)]
    sections = [
        [(x0 + c, y0 + c, z), (x1 - c, y0 + c, z), (x1 - c, y1 - c, z), (x0 + c, y1 - c, z)]
        for c, z in rings
    ]
    return [
        Part(("setting", "neighbours", str(number), "walls"), "neighbour", body),
        Part(("setting", "neighbours", str(number), "roof"), "roofing", loft(np.array(sections))),
    ]

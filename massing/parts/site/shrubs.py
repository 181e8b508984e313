"""Shrubs and leafy hedges for pictures: a dark body that no light comes through, and leaves."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats, Mesh
from massing.geometry.solids import box_between, lathe
from massing.parts.site.growth import ball, sheets, unit

_LEAVES_OF_M2 = 480.0
UP = np.array([0.0, 0.0, 1.0])


class Bush(NamedTuple):
    """``body``, ``leaves`` and ``blossom`` (empty where there is none)."""

    body: Mesh
    leaves: Mesh
    blossom: Mesh


@lru_cache(maxsize=32)
def shrub(kind: str, size_m: float) -> Bush:
    """A shrub about the origin, ``size_m`` high and about as wide.

    Raises:
        ValueError: not ``box``, ``loose`` or ``bloom``.
    """
    if kind not in ("box", "loose", "bloom"):
        raise ValueError(f"{kind!r} is not a shrub; allowed: box, loose, bloom")
    rng = np.random.default_rng([int(1000 * size_m), *kind.encode()])
    half = size_m * np.array([0.5, 0.5, 0.5 if kind == "box" else 0.46])
    middle = np.array([0.0, 0.0, size_m - half[2]])
    count = round((1500 if kind == "box" else 800) * max(size_m, 0.5))
    way = ball(count, rng, inner=0.999)
    way = way[way[:, 2] > -0.75]
    if kind == "box":
        lumps = np.sin(way @ rng.normal(0.0, 4.0, (3, 4)) + rng.uniform(0.0, 6.28, 4)).mean(axis=1)
        out = (0.96 + 0.05 * lumps)[:, None] * rng.uniform(0.9, 1.04, (len(way), 1))
        long, wide, loose = 0.046, 0.030, 0.6
    else:
        lobes = np.sin(way @ rng.normal(0.0, 3.0, (3, 4)) + rng.uniform(0.0, 6.28, 4)).mean(axis=1)
        out = (0.90 + 0.22 * lobes)[:, None] * rng.uniform(0.72, 1.12, (len(way), 1))
        long, wide, loose = 0.075, 0.034, 0.8
    at = np.asarray(middle + half * way * out, dtype=float)
    at[:, 2] = np.maximum(at[:, 2], 0.02)
    facing = unit(way + 0.35 * UP + loose * rng.normal(size=way.shape))
    along = unit(way + 0.5 * UP + 0.6 * rng.normal(size=way.shape))
    size = rng.uniform(0.7, 1.3, len(way)) * (0.8 + 0.4 * size_m)
    leaves = sheets(at, facing, along, long * size, wide * size)
    core = 0.86 if kind == "box" else 0.66
    levels = np.linspace(-0.98, 0.98, 9)
    body = lathe(
        np.column_stack(
            [half[0] * core * np.sqrt(1.0 - levels**2) + 1e-3, middle[2] + core * half[2] * levels]
        ),
        12,
    )
    return Bush(body, leaves, _blossom(middle, half, kind, rng))


def _blossom(middle: Floats, half: Floats, kind: str, rng: np.random.Generator) -> Mesh:
    if kind != "bloom":
        return Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=int))
    way = ball(90, rng, inner=0.999)
    way = way[way[:, 2] > -0.1]
    at = middle + half * way * rng.uniform(0.95, 1.14, (len(way), 1))
    facing = unit(way + 0.6 * UP + 0.4 * rng.normal(size=way.shape))
    wide = rng.uniform(0.03, 0.055, len(way))
    return sheets(at, facing, unit(rng.normal(size=way.shape)), wide, wide)


def leafy_hedge(low: ArrayLike, high: ArrayLike, height_m: float, seed: int = 0) -> Bush:
    """A clipped hedge over a plan rectangle: its body, and the leaves of its faces and top."""
    low, high = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    rng = np.random.default_rng([seed, 7])
    (x0, y0), (x1, y1) = low, high
    in_ = min(0.06, 0.12 * float((high - low).min()))
    body = box_between((x0 + in_, y0 + in_, 0.0), (x1 - in_, y1 - in_, height_m - in_))
    faces = [
        ((x0, y0, 0), (x1 - x0, 0, 0), (0, 0, height_m), (0, -1, 0)),
        ((x0, y1, 0), (x1 - x0, 0, 0), (0, 0, height_m), (0, 1, 0)),
        ((x0, y0, 0), (0, y1 - y0, 0), (0, 0, height_m), (-1, 0, 0)),
        ((x1, y0, 0), (0, y1 - y0, 0), (0, 0, height_m), (1, 0, 0)),
        ((x0, y0, height_m), (x1 - x0, 0, 0), (0, y1 - y0, 0), (0, 0, 1)),
    ]
    at, out = [], []
    area = sum(float(np.linalg.norm(np.cross(u, v))) for _, u, v, _ in faces)
    thin = min(1.0, 22000.0 / (_LEAVES_OF_M2 * area))  # a long hedge is seen from afar
    for origin, u, v, normal in faces:
        n = round(thin * _LEAVES_OF_M2 * float(np.linalg.norm(np.cross(u, v))))
        a, b = rng.uniform(size=(2, n, 1))
        places = np.array(origin) + a * np.array(u) + b * np.array(v)
        at.append(places + 0.035 * rng.normal(size=(n, 1)) * np.array(normal))
        out.append(np.broadcast_to(np.array(normal, dtype=float), (n, 3)))
    places, normals = np.concatenate(at), np.concatenate(out)
    facing = unit(normals + 0.3 * UP + 0.5 * rng.normal(size=normals.shape))
    along = unit(UP + 0.7 * rng.normal(size=normals.shape))
    size = rng.uniform(0.7, 1.3, len(places)) / thin**0.5
    return Bush(
        body,
        sheets(places, facing, along, 0.058 * size, 0.038 * size),
        Mesh(np.zeros((0, 3)), np.zeros((0, 3), dtype=int)),
    )

"""Roof decks: hipped, lean-to with hips, flat. Coverings are laid by :mod:`massing.parts.tiles`.

A slope is a planar polygon ``(n, 3)``, counter-clockwise seen from above, whose first edge
is its eave, left to right as one looks at the slope from outside.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from massing.mesh import Floats, Mesh, Part
from massing.solids import prism, triangulate
from massing.units import INCH_M

FASCIA_M = 6.0 * INCH_M  # practice
_FLAT_SLAB_M = 2.0 * INCH_M
_FLAT_FALL = 1.0 / 48.0  # a quarter inch in the foot: common practice


@dataclass(frozen=True, eq=False)
class RoofPlanes:
    """The upper surface of a roof's deck.

    Attributes:
        slopes: polygons ``(n, 3)``, eave first.
        hips: ``(k, 2, 3)`` lines where two slopes meet and shed water apart, low end first.
        ridges: ``(k, 2, 3)`` level lines, the same.
    """

    slopes: tuple[Floats, ...]
    hips: Floats
    ridges: Floats


def hip_planes(low: ArrayLike, high: ArrayLike, eaves_z_m: float, slope: float) -> RoofPlanes:
    """Four slopes of one pitch over a plan rectangle.

    Args:
        low, high: corners ``(2,)`` of the eaves' outer edge, metres.
        eaves_z_m: the deck's upper surface at the eaves.
        slope: rise over run.

    Raises:
        ValueError: the rectangle has no area or the slope is not positive.
    """
    (x0, y0), (x1, y1) = _rectangle(low, high, slope)
    run = min(x1 - x0, y1 - y0) / 2.0
    top = eaves_z_m + slope * run
    corners = np.array([(x, y, eaves_z_m) for x, y in [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]])
    mid = 0.5 * np.array([x0 + x1, y0 + y1, 2.0 * top])
    half = np.array([max(x1 - x0 - 2.0 * run, 0.0), max(y1 - y0 - 2.0 * run, 0.0), 0.0]) / 2.0
    first, last = mid - half, mid + half
    if x1 - x0 > y1 - y0 + 1e-9:
        apex = [first, last, last, first]  # the apex of each corner's hip
    else:
        apex = [first, first, last, last]
    slopes = []
    for k in range(4):
        ring = np.array([corners[k], corners[(k + 1) % 4], apex[(k + 1) % 4], apex[k]])
        slopes.append(_without_repeats(ring))
    hips = np.array([[corners[k], apex[k]] for k in range(4)])
    ridges = np.array([[first, last]]) if half.any() else np.empty((0, 2, 3))
    return RoofPlanes(tuple(slopes), hips, ridges)


def lean_to_planes(low: ArrayLike, high: ArrayLike, eaves_z_m: float, slope: float) -> RoofPlanes:
    """Three slopes of one pitch against a wall along the rectangle's back edge (``high[1]``).

    A porch deeper than half its width gets a ridge that runs back to the wall.

    Raises:
        ValueError: the rectangle has no area or the slope is not positive.
    """
    (x0, y0), (x1, y1) = _rectangle(low, high, slope)
    run = min(y1 - y0, (x1 - x0) / 2.0)
    top = eaves_z_m + slope * run
    z = eaves_z_m
    left, right = np.array([x0 + run, y0 + run, top]), np.array([x1 - run, y0 + run, top])
    wall_left, wall_right = np.array([x0 + run, y1, top]), np.array([x1 - run, y1, top])
    a, b = np.array([x0, y0, z]), np.array([x1, y0, z])
    c, d = np.array([x1, y1, z]), np.array([x0, y1, z])
    slopes = tuple(
        _without_repeats(np.array(ring))
        for ring in ([a, b, right, left], [b, c, wall_right, right], [d, a, left, wall_left])
    )
    deep = (x1 - x0) / 2.0 < y1 - y0 - 1e-9
    ridges = np.array([[left, wall_left]]) if deep else np.empty((0, 2, 3))
    return RoofPlanes(slopes, np.array([[a, left], [b, right]]), ridges)


def _rectangle(low: ArrayLike, high: ArrayLike, slope: float) -> tuple[Floats, Floats]:
    low, high = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    if not (high > low).all():
        raise ValueError(f"a roof needs a plan rectangle, got {low} to {high}")
    if slope <= 0.0:
        raise ValueError("a pitched roof needs a slope above nothing")
    return low, high


def _without_repeats(ring: Floats) -> Floats:
    keep = np.linalg.norm(ring - np.roll(ring, 1, axis=0), axis=1) > 1e-9
    return ring[keep]


def deck(planes: RoofPlanes, fascia_m: float = FASCIA_M) -> Mesh:
    """The closed body under a roof's slopes: flat underside, upright edge, slopes on top.

    Every side that is not an eave (the wall side of a lean-to) is closed upright.
    """
    rings = list(planes.slopes)
    base = min(float(r[:, 2].min()) for r in rings) - fascia_m
    points, faces = _joined(rings)
    edges = np.concatenate([faces[:, [k, (k + 1) % 3]] for k in range(3)])
    both = {(int(a), int(b)) for a, b in edges}
    rim = {a: b for a, b in both if (b, a) not in both}
    loop = [next(iter(rim))]
    while rim[loop[-1]] != loop[0]:
        loop.append(rim[loop[-1]])
    foot = points[loop] * [1.0, 1.0, 0.0] + [0.0, 0.0, base]
    n = len(points)
    i = np.array(loop)
    low = n + np.arange(len(loop))
    j, low_j = np.roll(i, -1), np.roll(low, -1)
    sides = np.concatenate([np.stack([i, low, low_j], 1), np.stack([i, low_j, j], 1)])
    _, floor = triangulate(foot[:, :2])
    return Mesh(
        np.concatenate([points, foot]), np.concatenate([faces, sides, (floor + n)[:, ::-1]])
    )


def _joined(rings: list[Floats]) -> tuple[Floats, Floats]:
    """Slopes as one open skin whose shared corners are one vertex."""
    keys: dict[tuple[float, ...], int] = {}
    faces = []
    for ring in rings:
        index = [keys.setdefault(tuple(np.round(p, 9)), len(keys)) for p in ring]
        faces += [[index[0], index[k], index[k + 1]] for k in range(1, len(index) - 1)]
    return np.array(list(keys)), np.array(faces)


def hip_roof(
    low: ArrayLike, high: ArrayLike, eaves_z_m: float, slope: float, fascia_m: float = FASCIA_M
) -> list[Part]:
    """The deck of a hipped roof; ``eaves_z_m`` is its underside at the eaves.

    The slopes to cover are ``hip_planes(low, high, eaves_z_m + fascia_m, slope)``.
    """
    planes = hip_planes(low, high, eaves_z_m + fascia_m, slope)
    return [Part("deck", "trim", deck(planes, fascia_m))]


def lean_to_hip(
    low: ArrayLike, high: ArrayLike, eaves_z_m: float, slope: float, fascia_m: float = FASCIA_M
) -> list[Part]:
    """The deck of a porch roof that leans to the house; ``eaves_z_m`` is its underside.

    The slopes to cover are ``lean_to_planes(low, high, eaves_z_m + fascia_m, slope)``.
    """
    planes = lean_to_planes(low, high, eaves_z_m + fascia_m, slope)
    return [Part("deck", "trim", deck(planes, fascia_m))]


def flat_roof(
    low: ArrayLike, high: ArrayLike, base_z_m: float, fall: float = _FLAT_FALL
) -> list[Part]:
    """A sheet-metal flat over a plan rectangle, falling from the back edge to the front.

    ``base_z_m`` is its underside; it is 2 in thick at the front.
    """
    (x0, y0), (x1, y1) = _rectangle(low, high, 1.0)
    front, back = _FLAT_SLAB_M, _FLAT_SLAB_M + fall * (y1 - y0)
    section = np.array([(y0, 0.0), (y1, 0.0), (y1, back), (y0, front)])
    mesh = prism(section, (x0, 0.0, base_z_m), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), x1 - x0)
    return [Part("flat", "metal", mesh)]

"""How much of a front is in sun, and how deep its shadows fall, under one sun or several."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats, Ints
from massing.geometry.rays import Caster
from massing.parts.part import Part
from massing.shadow.elevation import Elevation, facade_only
from massing.shadow.front import Front
from massing.shadow.lines import Lines
from massing.shadow.surfaces import Surface

FIRST_POINTS = 512  # of a surface that are asked first, then twice as many, ...

SHARE_WITHIN = 0.01  # of a surface's area: how close a share in sun is, nineteen times of twenty

HOURS_WITHIN = 0.05  # hours a day: how close a surface's mean hours of sun are, likewise

_BLOCKS = 8  # of a sequence, whose spread tells how close its mean is

_HALVINGS = 15  # of a step: to a thousandth of a millimetre


@dataclass(frozen=True)
class Depth:
    """How far shade reaches from the start of the lines over a face.

    Attributes:
        name: the face and from where.
        least_m, mean_m, most_m: over the lines; a line wholly in shade counts its length.
        middle_m: half of the lines have less; one odd line does not move it.
        whole: share of the lines that are wholly in shade.
        length_m: of the lines.
    """

    name: str
    least_m: float
    mean_m: float
    most_m: float
    middle_m: float
    whole: float
    length_m: float


# --- measuring -----------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class Measured:
    """Means over a surface, and how close they are, nineteen times of twenty."""

    mean: Floats
    within: Floats


def _measured(samples: Callable[[int, int], Floats], count: int, wanted: float) -> Measured:
    """The mean of a surface's samples, as many as it takes to be ``wanted`` close.

    ``samples(a, b)`` gives those of points a to b, ``(b - a, g)``. The blocks of an evenly spread
    sequence are each evenly spread, so twice the spread of their means over the root of their
    number is more than the whole's own error; where the points run out it is what was reached.
    """
    done, more = 0, min(FIRST_POINTS, count)
    found: list[Floats] = []
    while True:
        found.append(samples(done, more))
        done = more
        every = np.concatenate(found)
        blocks = np.array_split(every, min(_BLOCKS, done))
        means = np.array([block.mean(axis=0) for block in blocks])
        spread_ = means.std(axis=0, ddof=1) if len(means) > 1 else np.ones(means.shape[1])
        within = 2.0 * spread_ / np.sqrt(len(means))
        if done >= count or (within <= wanted).all():
            return Measured(every.mean(axis=0), within)
        more = min(2 * done, count)


def shares_in_sun(
    front: Front, to_suns: ArrayLike, wanted: float = SHARE_WITHIN
) -> dict[str, Measured]:
    """Share of each surface in direct sun at ``(k, 3)`` suns, by surface name.

    Points are asked until the share is within ``wanted`` of the surface's area, or none are left.
    """
    found = {}
    for surface in front.surfaces:

        def samples(a: int, b: int, surface: Surface = surface) -> Floats:
            points, normals = surface.points[a:b], surface.normals[a:b]
            return front.caster.lit_by_each(points, normals, to_suns).T.astype(float)

        found[surface.name] = _measured(samples, len(surface.points), wanted)
    return found


def in_sun(front: Front, to_suns: ArrayLike) -> dict[str, Floats]:
    """Share of each surface in direct sun, ``(k,)``, by name, of all the points it has."""
    points = np.concatenate([s.points for s in front.surfaces])
    normals = np.concatenate([s.normals for s in front.surfaces])
    lit = front.caster.lit_by_each(points, normals, to_suns)
    ends = np.cumsum([len(s.points) for s in front.surfaces])[:-1]
    pieces = np.split(lit, ends, axis=1)
    return {s.name: p.mean(axis=1) for s, p in zip(front.surfaces, pieces, strict=True)}


def shade_from_start(caster: Caster[Part], lines: Lines, to_sun: ArrayLike) -> Floats:
    """How far along each line the first sunlit point of the face lies, metres, ``(s,)``.

    Zero where the face begins in the sun, the length of the line where none of it is. Between
    two points the edge is closed in on by halving, each middle looked for on whatever stands
    there.
    """
    lit = np.zeros(lines.valid.shape, dtype=bool)
    lit[lines.valid] = caster.lit(lines.points[lines.valid], lines.normals[lines.valid], to_sun)
    found = lit.any(axis=1)
    first = lit.argmax(axis=1)
    depth = np.where(found, lines.along_m[first], lines.length_m)
    at_start = found & (first == lines.valid.argmax(axis=1))
    depth[at_start] = 0.0
    rows = np.flatnonzero(found & ~at_start)
    depth[rows] = _closed_in(caster, lines, rows, first[rows], to_sun)
    return depth


def _closed_in(
    caster: Caster[Part], lines: Lines, rows: Ints, first: Ints, to_sun: ArrayLike
) -> Floats:
    from_m, to_m = lines.along_m[first - 1].copy(), lines.along_m[first].copy()
    for _ in range(_HALVINGS if len(rows) else 0):
        half = (from_m + to_m) / 2.0
        hits, kept = lines.see(rows, half)
        lit = kept.copy()
        lit[kept] = caster.lit(hits.points[kept], hits.normals[kept], to_sun)
        to_m, from_m = np.where(lit, half, to_m), np.where(lit, from_m, half)
    closed: Floats = (from_m + to_m) / 2.0
    return closed


def shade_depths(front: Front, to_sun: ArrayLike) -> tuple[Depth, ...]:
    """The depth of shade on each face that a cornice or ceiling shades, at one sun."""
    return tuple(
        _spread(lines, shade_from_start(front.caster, lines, to_sun)) for lines in front.shade
    )


def sun_reaches(front: Front, to_sun: ArrayLike) -> tuple[Depth, ...]:
    """How far in from its outer edge the sun reaches over the porch floor, at one sun.

    ``whole`` is here the share of the floor's width where the sun reaches the wall.
    """
    found = []
    for lines in front.reach:
        reach = lines.length_m - shade_from_start(front.caster, lines, to_sun)
        found.append(_spread(lines, reach))
    return tuple(found)


def _spread(lines: Lines, depth: Floats) -> Depth:
    return Depth(
        lines.name,
        float(depth.min()),
        float(depth.mean().clip(depth.min(), depth.max())),
        float(depth.max()),
        float(np.median(depth)),
        float((depth >= lines.length_m - 1e-9).mean()),
        lines.length_m,
    )


def sun_hours(
    caster: Caster[Part],
    elevation: Elevation,
    to_suns: ArrayLike,
    hours: ArrayLike,
    owned: Callable[[Part], bool] = facade_only,
) -> Floats:
    """Hours of direct sun on the elevation, ``(g, h, w)``, NaN off the façade.

    Args:
        to_suns: ``(k, 3)``.
        hours: ``(k, g)`` hours that each sun stands for, in each of g seasons.
    """
    chosen = elevation.of(owned)
    sums = caster.lit_sums(elevation.points[chosen], elevation.normals[chosen], to_suns, hours)
    out = np.full((sums.shape[1], *chosen.shape), np.nan)
    out[:, chosen] = sums.T
    return out


def surface_hours(
    front: Front, to_suns: ArrayLike, hours: ArrayLike, wanted_h: float = 0.0
) -> dict[str, Measured]:
    """Mean hours of direct sun on each surface, ``(g,)`` by name; see :func:`sun_hours`.

    Points are asked until the mean is within ``wanted_h`` hours, or none are left.
    """
    found = {}
    for surface in front.surfaces:

        def samples(a: int, b: int, surface: Surface = surface) -> Floats:
            points, normals = surface.points[a:b], surface.normals[a:b]
            return front.caster.lit_sums(points, normals, to_suns, hours)

        found[surface.name] = _measured(samples, len(surface.points), wanted_h)
    return found

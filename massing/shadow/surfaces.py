"""Points over each named surface of the front, met by rays on the built model.

Points are spread evenly over what is seen of each surface, so a share of points is a share of
its area as an elevation shows it. They are a sequence of which every beginning is as evenly
spread: a measure takes as many as it needs until it is as close as it states.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from massing.design.design import Design
from massing.design.opening import Opening
from massing.geometry.mesh import Floats, Ints
from massing.geometry.rays import Bools, Caster, Hits
from massing.parts.part import Part
from massing.units import floor_name

RAYS = 4096  # that look for points on one surface, at the most

BEFORE_WALL_M = 0.2  # clear of casings and sills, behind the columns

INSET_M = 1e-3  # from the ends of a line

INTO_HOUSE = np.array([0.0, 1.0, 0.0])

DOWN = np.array([0.0, 0.0, -1.0])


@dataclass(frozen=True, eq=False)
class Surface:
    """A named surface as evenly spread points: ``points`` and ``normals`` ``(n, 3)``.

    Every beginning of the sequence is spread evenly too.
    """

    name: str
    points: Floats
    normals: Floats


FRIEZE = "frieze, from the cornice down"

ARCHITRAVE = "architrave, from the frieze down"


# --- points on the model -------------------------------------------------------------------


def spaced(low: float, high: float, step: float) -> Floats:
    """Middles of equal steps no longer than ``step`` from ``low`` to ``high``.

    >>> spaced(0.0, 1.0, 0.3).tolist()
    [0.125, 0.375, 0.625, 0.875]
    """
    count = max(1, int(np.ceil((high - low) / step - 1e-9)))
    return low + (np.arange(count) + 0.5) * (high - low) / count


def spread(count: int = RAYS) -> Floats:
    """Points ``(count, 2)`` of the unit square, every beginning of them evenly spread.

    The additive sequence of the plastic number g, whose steps are 1/g and 1/g^2 (the two-
    dimensional kin of the golden section; derived).

    >>> spread(2).round(3).tolist()
    [[0.255, 0.07], [0.01, 0.64]]
    """
    steps = np.array([1.0 / _PLASTIC, 1.0 / _PLASTIC**2])
    placed: Floats = (0.5 + np.arange(1, count + 1)[:, None] * steps) % 1.0
    return placed


_PLASTIC = 1.3247179572447460  # the real root of g^3 = g + 1


def seen_at(
    caster: Caster[Part], x: Floats, z: Floats, from_y: float, owned: Callable[[Part], bool]
) -> tuple[Hits, Bools]:
    """What rays into the house from a plane meet, and whether it is met from outside and belongs
    to parts that pass ``owned``."""
    origins = np.column_stack([x, np.full(x.size, from_y), z])
    hits = caster.first_hit(origins, INTO_HOUSE)
    return hits, hits.outside & passing(caster, hits.owner, owned)


def _scattered(
    caster: Caster[Part],
    across: Sequence[tuple[float, float]],
    levels: tuple[float, float],
    from_y: float,
    owned: Callable[[Part], bool],
) -> tuple[Hits, Bools]:
    """The same of rays scattered over upright strips of one width, between two levels."""
    u, v = spread().T
    strip = np.minimum((u * len(across)).astype(int), len(across) - 1)
    low, high = np.array(across).T
    x = low[strip] + (u * len(across) - strip) * (high - low)[strip]
    return seen_at(caster, x, levels[0] + v * (levels[1] - levels[0]), from_y, owned)


def passing(caster: Caster[Part], owner: Ints, passes: Callable[[Part], bool]) -> Bools:
    table = np.array([*(passes(part) for part in caster.parts), False])
    return table[owner]


def surface_of(name: str, found: tuple[Hits, Bools]) -> Surface:
    hits, kept = found
    return Surface(name, hits.points[kept], hits.normals[kept])


def has_word(word: str) -> Callable[[Part], bool]:
    return lambda part: word in part.path


def anything(part: Part) -> bool:
    return True


def porch_front_y(design: Design) -> float:
    """Just before everything that stands on the porch."""
    porch = design.porch
    reach = max(porch.order.cornice_projection_m, porch.floor_edge_m, porch.order.plinth_width_m)
    return porch.column_y_m - (porch.frieze_half_depth_m + reach + 0.5)


def frieze_ends(design: Design) -> tuple[float, float]:
    """From and to along the front: the ends of the porch's frieze, over its outermost columns."""
    porch = design.porch
    half = porch.frieze_half_depth_m
    return porch.axes_m[0] - half, porch.axes_m[-1] + half


def entablature_faces(design: Design) -> list[tuple[str, str, float, float]]:
    porch = design.porch
    soffit = porch.column_top_z_m
    bed = soffit + porch.order.architrave_height_m
    top = bed + porch.order.frieze_height_m
    return [("frieze", FRIEZE, bed, top), ("architrave", ARCHITRAVE, soffit, bed)]


def entablature_surfaces(design: Design, caster: Caster[Part]) -> list[Surface]:
    across = [frieze_ends(design)]
    return [
        surface_of(name, _scattered(caster, across, (low, high), porch_front_y(design), anything))
        for name, _, low, high in entablature_faces(design)
    ]


def columns_surface(design: Design, caster: Caster[Part]) -> Surface:
    porch = design.porch
    half = max(porch.order.plinth_width_m, porch.order.abacus_width_m) / 2.0
    across = [(x - half, x + half) for x in porch.axes_m]
    levels = (porch.floor_z_m, porch.column_top_z_m)
    seen = _scattered(caster, across, levels, porch_front_y(design), has_word("column"))
    return surface_of("columns", seen)


def wall_surfaces(design: Design, caster: Caster[Part]) -> list[Surface]:
    house = design.house
    across = [(-house.width_m / 2.0, house.width_m / 2.0)]
    levels = [*house.storey_floors_z_m, house.wall_top_z_m]
    found = []
    for storey, (low, high) in enumerate(itertools.pairwise(levels)):
        seen = _scattered(caster, across, (low, high), -BEFORE_WALL_M, has_word("wall"))
        found.append(surface_of(f"wall, {floor_name(storey, design.units)}", seen))
    return found


def front_openings(design: Design) -> list[Opening]:
    return [o for o in design.house.openings if o.wall == "front"]


def opening_label(opening: Opening, units: str) -> str:
    """An opening's name for tables, such as ``window 2, second floor``."""
    if opening.storey is None:
        return opening.place
    return f"{opening.place}, {floor_name(opening.storey, units)}"


def surface_group(name: str) -> str:
    """A surface's name with the windows of a floor taken together.

    >>> surface_group("window 2, second floor"), surface_group("frieze")
    ('windows, second floor', 'frieze')
    """
    what, _, floor = name.partition(", ")
    return f"windows, {floor}" if what.startswith("window ") else name


def opening_surface(opening: Opening, units: str, caster: Caster[Part]) -> Surface:
    """Sash, glass, leaf and lights as seen through the opening, without its reveals."""
    half = opening.width_m / 2.0
    across = [(opening.along_m - half, opening.along_m + half)]
    levels = (opening.sill_z_m, opening.head_z_m)
    seen = _scattered(caster, across, levels, opening.back_m - INSET_M, anything)
    return surface_of(opening_label(opening, units), seen)


def floor_surface(design: Design, caster: Caster[Part]) -> Surface:
    (left, right), (edge, back) = floor_extent(design)
    u, v = spread().T
    hits, kept = floor_hits(design, caster, left + u * (right - left), edge + v * (back - edge))
    return Surface("porch floor", hits.points[kept], hits.normals[kept])


def floor_extent(design: Design) -> tuple[tuple[float, float], tuple[float, float]]:
    porch = design.porch
    across = porch.axes_m[0] - porch.floor_edge_m, porch.axes_m[-1] + porch.floor_edge_m
    return across, (porch.column_y_m - porch.floor_edge_m, porch.back_y_m)


def floor_hits(design: Design, caster: Caster[Part], x: Floats, y: Floats) -> tuple[Hits, Bools]:
    above = design.porch.floor_z_m + 0.02
    hits = caster.first_hit(np.column_stack([x, y, np.full(x.shape, above)]), DOWN)
    near = np.abs(hits.points[:, 2] - design.porch.floor_z_m) < 0.05
    return hits, hits.outside & near & (hits.normals[:, 2] > 0.9)

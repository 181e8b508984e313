"""What of the front is in sun and how deep its shadows fall, measured on the built model.

A front is made ready once for a design: its parts for the rays, points over each named
surface, and lines down the faces that the cornice shades. Every sun is then measured on the
same points, so that times and alternatives compare.

Points are spread evenly over what is seen of each surface, so a share of points is a share of
its area as an elevation shows it. They are a sequence of which every beginning is as evenly
spread: a measure takes as many as it needs until it is as close as it states. The scale figure
casts no shadow here.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from massing.canon.order import corona_index
from massing.design.design import Design
from massing.design.opening import Opening
from massing.geometry.mesh import Floats, Ints
from massing.geometry.rays import Bools, Caster, Hits
from massing.parts.part import Model, Part
from massing.units import floor_name

RAYS = 4096  # that look for points on one surface, at the most
FIRST_POINTS = 512  # of a surface that are asked first, then twice as many, ...
SHARE_WITHIN = 0.01  # of a surface's area: how close a share in sun is, nineteen times of twenty
HOURS_WITHIN = 0.05  # hours a day: how close a surface's mean hours of sun are, likewise
_BLOCKS = 8  # of a sequence, whose spread tells how close its mean is
LINE_STEP_M = 0.01  # of points down a line, thrice as much down a long one; between two points
FINE_STEP_M = 0.002  # of those over small mouldings
LONG_LINE_M = 2.0  # a shadow's edge is then closed in on
STATION_M = 0.15  # between lines down walls and floors
FINE_STATION_M = 0.05  # between lines down an entablature, whose ornaments are small
_HALVINGS = 15  # of a step: to a thousandth of a millimetre
_BEFORE_WALL_M = 0.2  # clear of casings and sills, behind the columns
_CASING_M = 0.2  # kept clear of beside an opening
_INSET_M = 1e-3  # from the ends of a line
_INTO_HOUSE = np.array([0.0, 1.0, 0.0])
_DOWN = np.array([0.0, 0.0, -1.0])


@dataclass(frozen=True, eq=False)
class Surface:
    """A named surface as evenly spread points: ``points`` and ``normals`` ``(n, 3)``.

    Every beginning of the sequence is spread evenly too.
    """

    name: str
    points: Floats
    normals: Floats


@dataclass(frozen=True, eq=False)
class Lines:
    """Straight lines over a face, along each of which the first sun is looked for.

    Attributes:
        name: what is measured.
        points, normals: ``(s, k, 3)``, s lines of k points from their start.
        valid: ``(s, k)``, the points that lie on the face.
        along_m: ``(k,)`` distance from the start.
        length_m: the whole line.
        see: what stands at given distances along given lines, and whether it is of the face.
    """

    name: str
    points: Floats
    normals: Floats
    valid: Bools
    along_m: Floats
    length_m: float
    see: Callable[[Ints, Floats], tuple[Hits, Bools]]


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


@dataclass(frozen=True, eq=False)
class Front:
    """A design made ready for measuring."""

    design: Design
    caster: Caster[Part]
    surfaces: tuple[Surface, ...]
    shade: tuple[Lines, ...]  # from under a cornice or ceiling downwards
    reach: tuple[Lines, ...]  # from the farthest point back towards where the sun comes in


FRIEZE = "frieze, from the cornice down"
ARCHITRAVE = "architrave, from the frieze down"
UNDER_CORONA = "under the corona, on what stands there"
SHAFTS = "shafts, from the capital down"
WALL_UNDER_EAVES = "wall, from the eaves cornice down"
WALL_IN_PORCH = "wall in the porch, from the ceiling down"
FLOOR = "porch floor, from the wall out"


def casting_parts(model: Model) -> list[Part]:
    """The parts that cast shadows in figures: all but the scale figure."""
    return [p for p in model.parts if not p.within("setting", "figure")]


def ready_front(design: Design, model: Model) -> Front:
    """Place points and lines on the front of a design's model."""
    caster = Caster(casting_parts(model))
    surfaces = [
        *_entablature_surfaces(design, caster),
        _columns_surface(design, caster),
        *_wall_surfaces(design, caster),
        *(_opening_surface(opening, design.units, caster) for opening in _front_openings(design)),
        _floor_surface(design, caster),
    ]
    shade = [
        *_entablature_lines(design, caster),
        _column_lines(design, caster),
        *_wall_lines(design, caster),
        _corona_lines(design, caster),
    ]
    return Front(
        design,
        caster,
        tuple(s for s in surfaces if len(s.points)),
        tuple(line for line in shade if len(line.points)),
        (_floor_lines(design, caster),),
    )


def thinned(front: Front, most: int = 300) -> Front:
    """The front with at most ``most`` points on each surface, for sums over many suns."""
    return replace(front, surfaces=tuple(_thin(s, most) for s in front.surfaces))


def _thin(surface: Surface, most: int) -> Surface:
    return Surface(surface.name, surface.points[:most], surface.normals[:most])


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


def _seen_at(
    caster: Caster[Part], x: Floats, z: Floats, from_y: float, owned: Callable[[Part], bool]
) -> tuple[Hits, Bools]:
    """What rays into the house from a plane meet, and whether it is met from outside and belongs
    to parts that pass ``owned``."""
    origins = np.column_stack([x, np.full(x.size, from_y), z])
    hits = caster.first_hit(origins, _INTO_HOUSE)
    return hits, hits.outside & _owned(caster, hits.owner, owned)


def _seen(
    caster: Caster[Part], xs: Floats, zs: Floats, from_y: float, owned: Callable[[Part], bool]
) -> tuple[Hits, Bools]:
    """The same of a grid of rays, ``(x, z)`` order."""
    x, z = np.meshgrid(xs, zs, indexing="ij")
    return _seen_at(caster, x.ravel(), z.ravel(), from_y, owned)


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
    return _seen_at(caster, x, levels[0] + v * (levels[1] - levels[0]), from_y, owned)


def _owned(caster: Caster[Part], owner: Ints, passes: Callable[[Part], bool]) -> Bools:
    table = np.array([*(passes(part) for part in caster.parts), False])
    return table[owner]


def _surface(name: str, found: tuple[Hits, Bools]) -> Surface:
    hits, kept = found
    return Surface(name, hits.points[kept], hits.normals[kept])


def _has(word: str) -> Callable[[Part], bool]:
    return lambda part: word in part.path


def _anything(part: Part) -> bool:
    return True


def _porch_front_y(design: Design) -> float:
    """Just before everything that stands on the porch."""
    porch = design.porch
    reach = max(porch.order.cornice_projection_m, porch.floor_edge_m, porch.order.plinth_width_m)
    return porch.column_y_m - (porch.frieze_half_depth_m + reach + 0.5)


def _half_width(design: Design) -> float:
    """Middle of the front to the end of the porch's frieze."""
    return design.porch.axes_m[-1] + design.porch.frieze_half_depth_m


def _entablature_faces(design: Design) -> list[tuple[str, str, float, float]]:
    porch = design.porch
    soffit = porch.column_top_z_m
    bed = soffit + porch.order.architrave_height_m
    top = bed + porch.order.frieze_height_m
    return [("frieze", FRIEZE, bed, top), ("architrave", ARCHITRAVE, soffit, bed)]


def _entablature_surfaces(design: Design, caster: Caster[Part]) -> list[Surface]:
    across = [(-_half_width(design), _half_width(design))]
    return [
        _surface(name, _scattered(caster, across, (low, high), _porch_front_y(design), _anything))
        for name, _, low, high in _entablature_faces(design)
    ]


def _columns_surface(design: Design, caster: Caster[Part]) -> Surface:
    porch = design.porch
    half = max(porch.order.plinth_width_m, porch.order.abacus_width_m) / 2.0
    across = [(x - half, x + half) for x in porch.axes_m]
    levels = (porch.floor_z_m, porch.column_top_z_m)
    seen = _scattered(caster, across, levels, _porch_front_y(design), _has("column"))
    return _surface("columns", seen)


def _wall_surfaces(design: Design, caster: Caster[Part]) -> list[Surface]:
    house = design.house
    across = [(-house.width_m / 2.0, house.width_m / 2.0)]
    levels = [*house.storey_floors_z_m, house.wall_top_z_m]
    found = []
    for storey, (low, high) in enumerate(itertools.pairwise(levels)):
        seen = _scattered(caster, across, (low, high), -_BEFORE_WALL_M, _has("wall"))
        found.append(_surface(f"wall, {floor_name(storey, design.units)}", seen))
    return found


def _front_openings(design: Design) -> list[Opening]:
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


def _opening_surface(opening: Opening, units: str, caster: Caster[Part]) -> Surface:
    """Sash, glass, leaf and lights as seen through the opening, without its reveals."""
    half = opening.width_m / 2.0
    across = [(opening.along_m - half, opening.along_m + half)]
    levels = (opening.sill_z_m, opening.head_z_m)
    seen = _scattered(caster, across, levels, opening.back_m - _INSET_M, _anything)
    return _surface(opening_label(opening, units), seen)


def _floor_surface(design: Design, caster: Caster[Part]) -> Surface:
    (left, right), (edge, back) = _floor_extent(design)
    u, v = spread().T
    hits, kept = _floor_hits(design, caster, left + u * (right - left), edge + v * (back - edge))
    return Surface("porch floor", hits.points[kept], hits.normals[kept])


def _floor_extent(design: Design) -> tuple[tuple[float, float], tuple[float, float]]:
    porch = design.porch
    x = porch.axes_m[-1] + porch.floor_edge_m
    return (-x, x), (porch.column_y_m - porch.floor_edge_m, porch.back_y_m)


def _floor_hits(design: Design, caster: Caster[Part], x: Floats, y: Floats) -> tuple[Hits, Bools]:
    above = design.porch.floor_z_m + 0.02
    hits = caster.first_hit(np.column_stack([x, y, np.full(x.shape, above)]), _DOWN)
    near = np.abs(hits.points[:, 2] - design.porch.floor_z_m) < 0.05
    return hits, hits.outside & near & (hits.normals[:, 2] > 0.9)


# --- lines over faces ----------------------------------------------------------------------


def _down_lines(
    name: str,
    caster: Caster[Part],
    xs: ArrayLike,
    top_z: float,
    foot_z: float,
    from_y: float,
    owned: Callable[[Part], bool] = _anything,
    step_m: float = LINE_STEP_M,
) -> Lines:
    """Upright lines at ``xs`` over whatever faces the street, from the top down."""
    xs = np.asarray(xs, dtype=float)
    length = top_z - foot_z
    along = _along(length, step_m)

    def see(rows: Ints, down: Floats) -> tuple[Hits, Bools]:
        return _seen_at(caster, xs[rows], top_z - down, from_y, owned)

    return _lines(name, len(xs), along, length, see)


def _lines(
    name: str,
    count: int,
    along: Floats,
    length_m: float,
    see: Callable[[Ints, Floats], tuple[Hits, Bools]],
) -> Lines:
    """Lines by what is seen along them."""
    rows, down = np.meshgrid(np.arange(count), along, indexing="ij")
    hits, kept = see(rows.ravel(), down.ravel())
    shape = (-1, len(along))
    return Lines(
        name,
        hits.points.reshape(*shape, 3),
        hits.normals.reshape(*shape, 3),
        kept.reshape(shape),
        along,
        length_m,
        see,
    )


def _along(length_m: float, step_m: float = LINE_STEP_M) -> Floats:
    step = step_m * float(np.clip(length_m / LONG_LINE_M, 1.0, 3.0))
    count = max(2, int(np.ceil(length_m / step)) + 1)
    return np.linspace(_INSET_M, length_m - _INSET_M, count)


def _entablature_lines(design: Design, caster: Caster[Part]) -> list[Lines]:
    xs = spaced(-_half_width(design), _half_width(design), FINE_STATION_M)
    return [
        _down_lines(label, caster, xs, high, low, _porch_front_y(design))
        for _, label, low, high in _entablature_faces(design)
    ]


def _corona_lines(design: Design, caster: Caster[Part]) -> Lines:
    """From the corona's lower edge down over bed mouldings, frieze and architrave."""
    porch = design.porch
    foot = porch.column_top_z_m + porch.order.architrave_height_m + porch.order.frieze_height_m
    below = porch.order.cornice[: corona_index(porch.order.cornice)]
    edge_z = foot + sum(m.height for m in below)
    xs = spaced(-_half_width(design), _half_width(design), 2.0 * FINE_STATION_M)
    return _down_lines(
        UNDER_CORONA,
        caster,
        xs,
        edge_z,
        porch.column_top_z_m,
        _porch_front_y(design),
        step_m=FINE_STEP_M,
    )


def _column_lines(design: Design, caster: Caster[Part]) -> Lines:
    """Down the front of each shaft, from its own head to its foot."""
    porch, order = design.porch, design.porch.order
    head = porch.column_top_z_m - order.capital_height_m
    return _down_lines(
        SHAFTS,
        caster,
        porch.axes_m,
        head,
        head - order.shaft_height_m,
        _porch_front_y(design),
        _has("shaft"),
    )


def _wall_lines(design: Design, caster: Caster[Part]) -> list[Lines]:
    porch, house = design.porch, design.house
    half = house.width_m / 2.0
    under_eaves = house.wall_top_z_m - house.cornice.height_m
    beside = _half_width(design) + porch.order.cornice_projection_m
    foot = house.storey_floors_z_m[-1]
    xs = _between_openings(design, spaced(-half, half, STATION_M), foot, under_eaves)
    if porch.top_z_m > foot:
        xs = xs[np.abs(xs) > beside + STATION_M]
    inner = _half_width(design) - porch.order.upper_diameter_m
    inside = _between_openings(
        design, spaced(-inner, inner, STATION_M), porch.floor_z_m, porch.ceiling_z_m
    )
    wall = _has("wall")
    return [
        _down_lines(WALL_UNDER_EAVES, caster, xs, under_eaves, foot, -_BEFORE_WALL_M, wall),
        _down_lines(
            WALL_IN_PORCH,
            caster,
            inside,
            porch.ceiling_z_m,
            porch.floor_z_m,
            porch.back_y_m - _BEFORE_WALL_M,
            wall,
        ),
    ]


def _between_openings(design: Design, xs: Floats, low_z: float, high_z: float) -> Floats:
    """The stations clear of every front opening between two levels, casings and all."""
    clear = np.ones(len(xs), dtype=bool)
    for opening in _front_openings(design):
        if opening.sill_z_m < high_z and opening.head_z_m > low_z:
            clear &= np.abs(xs - opening.along_m) > opening.width_m / 2.0 + _CASING_M
    return xs[clear]


def _floor_lines(design: Design, caster: Caster[Part]) -> Lines:
    """Over the porch floor from the wall out to its edge."""
    porch = design.porch
    xs = spaced(*_floor_extent(design)[0], STATION_M)
    length = porch.back_y_m - porch.column_y_m + porch.floor_edge_m

    def see(rows: Ints, out: Floats) -> tuple[Hits, Bools]:
        return _floor_hits(design, caster, xs[rows], porch.back_y_m - out)

    return _lines(FLOOR, len(xs), _along(length), length, see)


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


# --- the elevation -------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class Elevation:
    """The front as seen square on: for each point of a grid, the face met there.

    Attributes:
        x_m: ``(w,)`` to the right; ``z_m``: ``(h,)`` downwards from the top row.
        points, normals: ``(h, w, 3)``, NaN where there is only sky.
        owner: ``(h, w)`` index into ``parts``, -1 for sky.
        parts: the caster's.
    """

    x_m: Floats
    z_m: Floats
    points: Floats
    normals: Floats
    owner: Ints
    parts: tuple[Part, ...]

    def of(self, passes: Callable[[Part], bool]) -> Bools:
        """``(h, w)``: whether the part met there passes."""
        table = np.array([*(passes(part) for part in self.parts), False])
        return table[self.owner]


def see_elevation(
    caster: Caster[Part], x_m: ArrayLike, z_m: ArrayLike, from_y: float = -60.0
) -> Elevation:
    """Look at the front square on at every ``x_m`` ``(w,)`` and ``z_m`` ``(h,)``."""
    x_m, z_m = np.asarray(x_m, dtype=float), np.asarray(z_m, dtype=float)
    z, x = np.meshgrid(z_m, x_m, indexing="ij")
    origins = np.column_stack([x.ravel(), np.full(x.size, from_y), z.ravel()])
    hits = caster.first_hit(origins, _INTO_HOUSE)
    return Elevation(
        x_m,
        z_m,
        hits.points.reshape(*x.shape, 3),
        hits.normals.reshape(*x.shape, 3),
        hits.owner.reshape(x.shape),
        caster.parts,
    )


def shadow_mask(caster: Caster[Part], elevation: Elevation, to_sun: ArrayLike) -> Bools:
    """Which points of the elevation are in direct sun, ``(h, w)``; sky is False."""
    met = elevation.owner >= 0
    lit = np.zeros(met.shape, dtype=bool)
    lit[met] = caster.lit(elevation.points[met], elevation.normals[met], to_sun)
    return lit


def facade_only(part: Part) -> bool:
    """Whether a part belongs to the front that a designer asks about: no roof, no setting."""
    return "roof" not in part.path and not part.within("setting")


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

"""Lines down the faces that a cornice shades, and across the porch's floor."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from massing.canon.order import corona_index
from massing.design.design import Design
from massing.geometry.mesh import Floats, Ints
from massing.geometry.rays import Bools, Caster, Hits
from massing.parts.part import Part
from massing.shadow.surfaces import (
    BEFORE_WALL_M,
    INSET_M,
    anything,
    entablature_faces,
    floor_extent,
    floor_hits,
    frieze_ends,
    front_openings,
    has_word,
    porch_front_y,
    seen_at,
    spaced,
)

LINE_STEP_M = 0.01  # of points down a line, thrice as much down a long one; between two points

FINE_STEP_M = 0.002  # of those over small mouldings

LONG_LINE_M = 2.0  # a shadow's edge is then closed in on

STATION_M = 0.15  # between lines down walls and floors

FINE_STATION_M = 0.05  # between lines down an entablature, whose ornaments are small

_CASING_M = 0.2  # kept clear of beside an opening


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


UNDER_CORONA = "under the corona, on what stands there"

SHAFTS = "shafts, from the capital down"

WALL_UNDER_EAVES = "wall, from the eaves cornice down"

WALL_IN_PORCH = "wall in the porch, from the ceiling down"

FLOOR = "porch floor, from the wall out"


# --- lines over faces ----------------------------------------------------------------------


def _down_lines(
    name: str,
    caster: Caster[Part],
    xs: ArrayLike,
    top_z: float,
    foot_z: float,
    from_y: float,
    owned: Callable[[Part], bool] = anything,
    step_m: float = LINE_STEP_M,
) -> Lines:
    """Upright lines at ``xs`` over whatever faces the street, from the top down."""
    xs = np.asarray(xs, dtype=float)
    length = top_z - foot_z
    along = _along(length, step_m)

    def see(rows: Ints, down: Floats) -> tuple[Hits, Bools]:
        return seen_at(caster, xs[rows], top_z - down, from_y, owned)

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
    return np.linspace(INSET_M, length_m - INSET_M, count)


def entablature_lines(design: Design, caster: Caster[Part]) -> list[Lines]:
    xs = spaced(*frieze_ends(design), FINE_STATION_M)
    return [
        _down_lines(label, caster, xs, high, low, porch_front_y(design))
        for _, label, low, high in entablature_faces(design)
    ]


def corona_lines(design: Design, caster: Caster[Part]) -> Lines:
    """From the corona's lower edge down over bed mouldings, frieze and architrave."""
    porch = design.porch
    foot = porch.column_top_z_m + porch.order.architrave_height_m + porch.order.frieze_height_m
    below = porch.order.cornice[: corona_index(porch.order.cornice)]
    edge_z = foot + sum(m.height for m in below)
    xs = spaced(*frieze_ends(design), 2.0 * FINE_STATION_M)
    return _down_lines(
        UNDER_CORONA,
        caster,
        xs,
        edge_z,
        porch.column_top_z_m,
        porch_front_y(design),
        step_m=FINE_STEP_M,
    )


def column_lines(design: Design, caster: Caster[Part]) -> Lines:
    """Down the front of each shaft, from its own head to its foot."""
    porch, order = design.porch, design.porch.order
    head = porch.column_top_z_m - order.capital_height_m
    return _down_lines(
        SHAFTS,
        caster,
        porch.axes_m,
        head,
        head - order.shaft_height_m,
        porch_front_y(design),
        has_word("shaft"),
    )


def wall_lines(design: Design, caster: Caster[Part]) -> list[Lines]:
    porch, house = design.porch, design.house
    half = house.width_m / 2.0
    under_eaves = house.wall_top_z_m - house.cornice.height_m
    left, right = frieze_ends(design)
    beside = porch.order.cornice_projection_m + STATION_M
    foot = house.storey_floors_z_m[-1]
    xs = _between_openings(design, spaced(-half, half, STATION_M), foot, under_eaves)
    if porch.top_z_m > foot:
        xs = xs[(xs < left - beside) | (xs > right + beside)]
    within = porch.order.upper_diameter_m
    inside = _between_openings(
        design, spaced(left + within, right - within, STATION_M), porch.floor_z_m, porch.ceiling_z_m
    )
    wall = has_word("wall")
    return [
        _down_lines(WALL_UNDER_EAVES, caster, xs, under_eaves, foot, -BEFORE_WALL_M, wall),
        _down_lines(
            WALL_IN_PORCH,
            caster,
            inside,
            porch.ceiling_z_m,
            porch.floor_z_m,
            porch.back_y_m - BEFORE_WALL_M,
            wall,
        ),
    ]


def _between_openings(design: Design, xs: Floats, low_z: float, high_z: float) -> Floats:
    """The stations clear of every front opening between two levels, casings and all."""
    clear = np.ones(len(xs), dtype=bool)
    for opening in front_openings(design):
        if opening.sill_z_m < high_z and opening.head_z_m > low_z:
            clear &= np.abs(xs - opening.along_m) > opening.width_m / 2.0 + _CASING_M
    return xs[clear]


def floor_lines(design: Design, caster: Caster[Part]) -> Lines:
    """Over the porch floor from the wall out to its edge."""
    porch = design.porch
    xs = spaced(*floor_extent(design)[0], STATION_M)
    length = porch.back_y_m - porch.column_y_m + porch.floor_edge_m

    def see(rows: Ints, out: Floats) -> tuple[Hits, Bools]:
        return floor_hits(design, caster, xs[rows], porch.back_y_m - out)

    return _lines(FLOOR, len(xs), _along(length), length, see)

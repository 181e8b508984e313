"""Roof decks: hipped, cut off level, gabled, gambrel, lean-to with hips, flat.

Coverings are laid by :mod:`massing.parts.roofs.tiles` and its neighbours.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from massing.design.kinds import Side
from massing.geometry.mesh import Floats, Ints, Mesh, merged
from massing.geometry.solids import (
    box_between,
    offset_directions,
    prism,
    sweep,
    translations,
    triangulate,
)
from massing.parts.part import Part
from massing.practice.defaults import default
from massing.practice.joinery_sizes import joinery_size
from massing.settingout.roof_planes import RoofPlanes, hip_planes, lean_to_planes, rectangle
from massing.units import INCH_M

_Point = tuple[float, float]

FASCIA_M = joinery_size("flat.fascia")
FLAT_SLAB_M = joinery_size("flat.slab")
_FLAT_FALL = default("roof.flat_fall")
# Of a flat on a hipped roof: common practice, no source.
FLAT_OUT_M = joinery_size("flat.out")
FLAT_EDGE_M = joinery_size("flat.edge")
_RIM_M = joinery_size("flat.rim")
_BOARD_M = (5.5 * INCH_M, 0.25 * INCH_M, 1.0 * INCH_M)  # face, joint, thickness
_HOUSED_M = 0.003


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


def _joined(rings: list[Floats]) -> tuple[Floats, Ints]:
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
    return [Part(("deck",), "trim", deck(planes, fascia_m))]


def lean_to_hip(
    low: ArrayLike, high: ArrayLike, eaves_z_m: float, slope: float, fascia_m: float = FASCIA_M
) -> list[Part]:
    """The deck of a porch roof that leans to the house; ``eaves_z_m`` is its underside.

    The slopes to cover are ``lean_to_planes(low, high, eaves_z_m + fascia_m, slope)``.
    """
    planes = lean_to_planes(low, high, eaves_z_m + fascia_m, slope)
    return [Part(("deck",), "trim", deck(planes, fascia_m))]


def gable_roof(
    low: ArrayLike,
    high: ArrayLike,
    eaves_z_m: float,
    slope: float,
    walls_x_m: tuple[float, float],
    wall_thickness_m: float,
    edge_m: float = FASCIA_M,
    against: Side | None = None,
    *,
    sill_m: float = 0.0,
    boards: bool = True,
) -> list[Part]:
    """A gabled roof with its ridge along x: deck, gable walls, barge boards.

    The slopes to cover are ``gable_planes(low, high, eaves_z_m + edge_m, slope)``.

    Args:
        low, high: plan corners ``(2,)`` of the deck, eaves to eaves and verge to verge.
        eaves_z_m: the deck's underside at the eaves; the gables stand on it.
        slope: rise over run.
        walls_x_m: outer faces of the left and right wall.
        wall_thickness_m: thickness of the gable walls.
        edge_m: upright edge of the deck.
        against: the end, left or right, where the roof runs against a wall, without a gable.
        sill_m: foot of the gable walls above ``eaves_z_m``.
        boards: whether barge boards hang under the verges.

    Raises:
        ValueError: the rectangle has no area, or the verges do not pass the walls.
    """
    (x0, y0), (x1, y1) = rectangle(low, high, slope)
    _check_verges(x0, walls_x_m, x1, against)
    middle, rise = (y0 + y1) / 2.0, slope * (y1 - y0) / 2.0
    under = [(y0, 0.0), (middle, rise), (y1, 0.0)]
    across, up = (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
    chevron = np.array(under + [(y, z + edge_m) for y, z in reversed(under)])
    parts = [Part(("deck",), "trim", prism(chevron, (x0, 0, eaves_z_m), across, up, x1 - x0))]
    in_m = sill_m / slope
    gable = [(y0 + in_m, sill_m), (middle, rise), (y1 - in_m, sill_m)]
    walls = _gables(gable, eaves_z_m, walls_x_m, wall_thickness_m)
    parts += [p for p in walls if p.path[-1] != against]
    # A barge board hangs under the deck's end, clear of the eaves.
    deep, thick = 1.5 * edge_m + 0.1, 0.03
    foot = deep / slope
    if boards and foot < middle - y0:
        board = [(y0 + foot, foot * slope), (middle, rise), (y1 - foot, foot * slope)]
        board += [(y1 - foot, 0.0), (middle, rise - deep), (y0 + foot, 0.0)]
        runs = [
            prism(np.array(board), (x, 0.0, eaves_z_m), across, up, thick)
            for name, x in (("left", x0), ("right", x1 - thick))
            if name != against
        ]
        parts.append(Part(("barge boards",), "trim", merged(runs)))
    return parts


def gambrel_roof(
    low: ArrayLike,
    high: ArrayLike,
    eaves_z_m: float,
    slopes: tuple[float, float],
    break_run_m: float,
    nose_m: float,
    walls_x_m: tuple[float, float],
    wall_thickness_m: float,
    edge_m: float = FASCIA_M,
) -> list[Part]:
    """A gambrel with its ridge along x: deck, gable walls, barge boards to its profile.

    The slopes to cover are those of :func:`massing.settingout.roof_planes.gambrel_planes` at
    ``eaves_z_m + edge_m``.

    Args:
        low, high: plan corners ``(2,)`` of the deck, eaves to eaves and verge to verge.
        eaves_z_m: the deck's underside at the eaves; the gables stand on it.
        slopes: rise over run of the lower and the upper slopes.
        break_run_m: from the eaves' edge in to the lower slopes' heads.
        nose_m: the upper deck's edge before them.
        walls_x_m: outer faces of the left and right wall.
        wall_thickness_m: thickness of the gable walls.
        edge_m: upright edge of the deck.

    Raises:
        ValueError: the rectangle has no area, the verges do not pass the walls, the lower
            slope is not the steeper, or the slopes meet past the ridge.
    """
    (x0, y0), (x1, y1) = rectangle(low, high, min(slopes))
    _check_verges(x0, walls_x_m, x1)
    steep, flat = slopes
    half, middle = (y1 - y0) / 2.0, (y0 + y1) / 2.0
    if steep <= flat:
        raise ValueError("a gambrel's lower slopes are steeper than its upper ones")
    head = edge_m + steep * break_run_m
    out = break_run_m - nose_m
    edge = gambrel_underside(half, slopes, break_run_m, nose_m, edge_m)
    peak = edge[-1][1]
    under = _both_sides(edge, y0, middle)
    over = [(0.0, edge_m), (break_run_m, head), (out, head), (out, head + edge_m)]
    over = _both_sides([*over, (half, peak + edge_m)], y0, middle)
    across, up = (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
    body = prism([*under, *over[::-1]], (x0, 0.0, eaves_z_m), across, up, x1 - x0)
    deep, thick = 1.5 * edge_m + 0.1, 0.03
    inner = np.array(under) + deep * offset_directions(under)
    foot = deep * np.hypot(1.0, steep) / steep  # the board's foot is cut level
    inner[0], inner[-1] = (y0 + foot, 0.0), (y1 - foot, 0.0)
    board = [*under, *inner[::-1]]
    runs = [prism(board, (x, 0.0, eaves_z_m), across, up, thick) for x in (x0, x1 - thick)]
    return [
        Part(("deck",), "trim", body),
        *_gables(under, eaves_z_m, walls_x_m, wall_thickness_m),
        Part(("barge boards",), "trim", merged(runs)),
    ]


def gambrel_underside(
    half_m: float, slopes: tuple[float, float], break_run_m: float, nose_m: float, edge_m: float
) -> list[_Point]:
    """The underside of a gambrel's deck: eave, knee and ridge, (in from the eave, up).

    Arguments as of :func:`gambrel_roof`; ``half_m`` is from eave to ridge.

    Raises:
        ValueError: the slopes meet past the ridge.
    """
    steep, flat = slopes
    knee = break_run_m + (edge_m + flat * nose_m) / (steep - flat)
    if not knee < half_m:
        raise ValueError(f"slopes that meet {knee:.2f} m in lie past the ridge")
    peak = edge_m + steep * break_run_m + flat * (half_m - break_run_m + nose_m)
    return [(0.0, 0.0), (knee, steep * knee), (half_m, peak)]


def decked_roof(planes: RoofPlanes, flat: ArrayLike, fascia_m: float = FASCIA_M) -> list[Part]:
    """The body of a hip that is cut off level.

    Args:
        planes: its slopes, with the corners ``flat`` ``(4, 3)`` of the level top: see
            :func:`massing.settingout.roof_planes.decked_planes`.
        fascia_m: upright edge at the eaves.
    """
    closed = (*planes.slopes, np.asarray(flat, dtype=float))
    return [Part(("deck",), "trim", deck(replace(planes, slopes=closed), fascia_m))]


def roof_flat(flat: ArrayLike, curb_m: float, surface: str = "metal") -> list[Part]:
    """The flat on top of a hipped roof: a curb over the slopes' heads, metal or boards on it.

    Metal falls a quarter inch in the foot from its middle to all four edges; boards lie level,
    along x, within a rim.

    Args:
        flat: corners ``(4, 3)`` of the level top that the curb stands on, counter-clockwise
            from the lowest.
        curb_m: the curb's height.
        surface: ``metal`` or ``boards``.

    Raises:
        ValueError: the flat is too small for its boards, or there is no such surface.
    """
    corners = np.asarray(flat, dtype=float)
    low, high, z = corners[0, :2], corners[2, :2], float(corners[0, 2])
    top_z = z + curb_m
    curb = Part(("flat", "curb"), "trim", box_between((*low, z - _HOUSED_M), (*high, top_z)))
    a, b = low - FLAT_OUT_M, high + FLAT_OUT_M
    if surface == "metal":
        sheet = deck(hip_planes(a, b, top_z + FLAT_EDGE_M, _FLAT_FALL), FLAT_EDGE_M)
        return [curb, Part(("flat", "metal"), "metal", sheet)]
    if surface != "boards":
        raise ValueError(f"{surface!r} is no flat's surface; allowed: metal, boards")
    return [curb, *_boarded(a, b, top_z)]


def _boarded(low: Floats, high: Floats, z_m: float) -> list[Part]:
    """Boards along x on a sheet, within a mitred rim that stands flush with them."""
    face, joint, thick = _BOARD_M
    within = high - low - 2.0 * _RIM_M
    if within.min() < 2.0 * face:
        raise ValueError(f"a flat {within.min():.2f} m wide within its rim is too small for boards")
    base_z = z_m + FLAT_EDGE_M - thick
    count = int(np.ceil((within[1] - joint) / (face + joint)))
    board = (within[1] - joint) / count - joint
    foot, end = low + _RIM_M + joint, high - _RIM_M - joint
    strip = box_between((foot[0], 0.0, base_z), (end[0], board, base_z + thick))
    y = foot[1] + (board + joint) * np.arange(count)
    ring = np.array([low, (high[0], low[1]), high, (low[0], high[1])])
    section = np.array([(-_RIM_M, 0.0), (0.0, 0.0), (0.0, thick), (-_RIM_M, thick)])
    return [
        Part(("flat", "base"), "metal", box_between((*low, z_m), (*high, base_z))),
        Part(("flat", "rim"), "trim", sweep(section, ring, closed=True).shifted(z_m=base_z)),
        Part(
            ("flat", "boards"), "floor", strip, translations(np.column_stack([0.0 * y, y, 0.0 * y]))
        ),
    ]


def _both_sides(front: list[_Point], y0: float, middle: float) -> list[_Point]:
    """A profile from the front eave (y from it) to the ridge, and down the back."""
    points = [(y0 + y, z) for y, z in front]
    return points + [(2.0 * middle - y, z) for y, z in reversed(points[:-1])]


def _gables(
    under: list[_Point], eaves_z_m: float, walls_x_m: tuple[float, float], thickness_m: float
) -> list[Part]:
    """The walls under a roof's two ends, to its underside (y, z above the eaves)."""
    parts = []
    for name, x in (("left", walls_x_m[0]), ("right", walls_x_m[1] - thickness_m)):
        wall = prism(under, (x, 0.0, eaves_z_m), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), thickness_m)
        parts.append(Part(("gable", name), "wall", wall))
    return parts


def _check_verges(
    x0: float, walls_x_m: tuple[float, float], x1: float, against: Side | None = None
) -> None:
    left, right = walls_x_m
    ends = {"left": (x0, left), "right": (right, x1)}
    free = [name for name in ends if name != against]
    if left >= right or any(ends[name][0] >= ends[name][1] for name in free):
        raise ValueError(f"verges at {x0:.2f} and {x1:.2f} m do not pass the gables")


def flat_roof(low: ArrayLike, high: ArrayLike, base_z_m: float, fall: float) -> list[Part]:
    """A sheet-metal flat over a plan rectangle, falling from the back edge to the front.

    ``base_z_m`` is its underside; it is 2 in thick at the front.
    """
    (x0, y0), (x1, y1) = rectangle(low, high, 1.0)
    front, back = FLAT_SLAB_M, FLAT_SLAB_M + fall * (y1 - y0)
    section = np.array([(y0, 0.0), (y1, 0.0), (y1, back), (y0, front)])
    mesh = prism(section, (x0, 0.0, base_z_m), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), x1 - x0)
    return [Part(("flat",), "metal", mesh)]

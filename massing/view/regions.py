"""Regions of a drawing as polygons: what is of one material, what lies in shadow.

A grid of rays says what each point of the drawing is, coarse over plain faces and fine about lines
and borders; where two neighbours differ the border is closed in on between them by further rays,
and at corners again from the middle of each stretch, so that polygons are finer than the grid and
keep their corners. What is narrower than a step of the grid may be missed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import Any, Protocol

import contourpy
import numpy as np
import shapely
from numpy.typing import ArrayLike
from shapely.geometry import MultiPolygon

from massing.geometry.mesh import Floats, Ints
from massing.geometry.rays import Caster, threads
from massing.view.hidden_lines import Square

SPACING_M = 0.007
SHADE, CAST = 1, 2
"""Turned from the sun, and in the shadow of something else."""

_HALVINGS = 4
_SHARPENED = 2  # times that the middle of each stretch at a corner of a border is looked at
_CORNER = 0.97  # cosine of the turn from which a border has a corner
_SPECK_M2 = 1e-4
_LEAST_CELLS = 0.75  # of a grid; one point alone within others makes half a cell
_CRUMB_M2 = 1e-5  # what is smaller is not joined to what it touches either
_AT_ONCE = 300_000
_COARSE = 6


class Labelling(Protocol):
    """Says of points of the drawing what they are."""

    def __call__(self, film: Floats, column: int | None = None) -> Ints:
        """Points ``(n, 2)`` to ``(n, k)``: k labels of each, 0 for none.

        Where only one ``column`` is asked for the others may be left 0.
        """


def regions(
    labelling: Labelling,
    low_m: ArrayLike,
    high_m: ArrayLike,
    spacing_m: float = SPACING_M,
    lines: Floats | None = None,
) -> list[dict[int, MultiPolygon]]:
    """The polygons of every label but 0, one dictionary for each column of labels.

    Args:
        labelling: says of points what they are; called from several threads.
        low_m, high_m: ``(2,)`` corners of the drawing; what reaches beyond is cut off there.
        spacing_m: of the fine grid.
        lines: ``(n, 2, 2)`` the drawing's lines, about which the grid is fine, as it is where
            labels change; without them it is fine all over.
    """
    low, high = np.asarray(low_m, dtype=float), np.asarray(high_m, dtype=float)
    cells = np.maximum(1, np.ceil((high - low) / (_COARSE * spacing_m)).astype(int))
    xs, ys = (np.linspace(low[i], high[i], cells[i] * _COARSE + 1) for i in range(2))
    shape = (len(ys), len(xs))
    busy = np.ones(shape, dtype=bool)
    start = np.zeros((*shape, 1), dtype=int)
    if lines is not None:
        rough = _labelled(labelling, xs[::_COARSE], ys[::_COARSE], None)
        busy = _fine(rough, lines, low, (high - low) / cells)
        nearest = [
            np.minimum((np.arange(n) + _COARSE // 2) // _COARSE, n // _COARSE) for n in shape
        ]
        start = rough[nearest[0][:, None], nearest[1][None]]
    labels = _labelled(labelling, xs, ys, busy)
    labels = np.where(busy[..., None], labels, start)
    return [
        {
            int(label): _polygons(labels[..., k] == label, label, k, labelling, xs, ys)
            for label in np.unique(labels[..., k])
            if label
        }
        for k in range(labels.shape[-1])
    ]


def _labelled(labelling: Labelling, xs: Floats, ys: Floats, chosen: np.ndarray | None) -> Ints:
    """Labels ``(h, w, k)`` of a grid, or of its chosen points and 0 elsewhere; on all cores."""
    at = np.arange(len(xs) * len(ys)) if chosen is None else np.flatnonzero(chosen)
    parts = np.array_split(at, max(1, len(at) // _AT_ONCE))

    def some(indices: Ints) -> Ints:
        row, column = np.divmod(indices, len(xs))
        return labelling(np.column_stack([xs[column], ys[row]]))

    with ThreadPoolExecutor(threads()) as pool:
        found = np.concatenate(list(pool.map(some, parts)))
    labels = np.zeros((len(xs) * len(ys), found.shape[1]), dtype=int)
    labels[at] = found
    return labels.reshape(len(ys), len(xs), -1)


def _fine(rough: Ints, lines: Floats, low: Floats, cell_m: Floats) -> np.ndarray:
    """Which points of the fine grid are looked at: near lines, and near where labels change."""
    tall, wide = rough.shape[0] - 1, rough.shape[1] - 1
    near = np.zeros((tall, wide), dtype=bool)
    ray = lines[:, 1] - lines[:, 0]
    counts = np.ceil(np.linalg.norm(ray, axis=1) / (0.5 * cell_m.min())).astype(int) + 1
    of = np.repeat(np.arange(len(lines)), counts)
    step = (np.arange(len(of)) - np.repeat(np.cumsum(counts) - counts, counts)) / np.maximum(
        counts[of] - 1, 1
    )
    at = ((lines[of, 0] + step[:, None] * ray[of] - low) / cell_m).astype(int)
    near[np.clip(at[:, 1], 0, tall - 1), np.clip(at[:, 0], 0, wide - 1)] = True
    for k in range(rough.shape[-1]):
        grid = rough[..., k]
        changed = (grid[:-1, :-1] != grid[1:, 1:]) | (grid[:-1, 1:] != grid[1:, :-1])
        changed |= grid[:-1, :-1] != grid[:-1, 1:]
        near |= changed
    wider = np.pad(near, 1)
    near = np.zeros_like(near)
    for i in range(3):
        for j in range(3):
            near |= wider[i : i + tall, j : j + wide]
    fine = np.zeros((tall * _COARSE + 1, wide * _COARSE + 1), dtype=bool)
    spread = near.repeat(_COARSE, axis=0).repeat(_COARSE, axis=1)
    for i in (0, 1):
        for j in (0, 1):
            fine[i : i + spread.shape[0], j : j + spread.shape[1]] |= spread
    return fine


def _polygons(
    mask: np.ndarray, label: int, column: int, labelling: Labelling, xs: Floats, ys: Floats
) -> MultiPolygon:
    padded = np.pad(mask, 1).astype(float)
    generator = contourpy.contour_generator(z=padded, fill_type=contourpy.FillType.OuterOffset)
    found: Any = generator.filled(0.5, 2.0)
    points, offsets = _worth_drawing(*found)
    if not points:
        return MultiPolygon()
    joined = np.concatenate(points) - 1.0
    # Each point is half-way between two neighbours of the grid, one in and one out.
    ends = np.stack([np.floor(joined), np.ceil(joined)]).astype(int)
    inside = _get(mask, ends[0])
    a = np.where(inside[:, None], ends[0], ends[1])
    b = np.where(inside[:, None], ends[1], ends[0])
    a, b = _place(a, xs, ys), _place(b, xs, ys)
    halves = np.rint(2.0 * joined).astype(np.int64)
    places_once = halves[:, 1] * (2 * len(xs)) + halves[:, 0]
    _, first, back = np.unique(places_once, return_index=True, return_inverse=True)
    a, b = a[first], b[first]

    def is_label(film: Floats) -> np.ndarray:
        return labelling(film, column)[:, column] == label

    for _ in range(_HALVINGS):
        middle = (a + b) / 2.0
        is_in = is_label(middle)
        a, b = np.where(is_in[:, None], middle, a), np.where(is_in[:, None], b, middle)
    places = ((a + b) / 2.0)[back.reshape(-1)]
    marks = np.concatenate(
        [
            [0],
            *(m[1:] + s for m, s in zip(offsets, np.cumsum([0, *map(len, points)]), strict=False)),
        ]
    ).astype(int)
    for _ in range(_SHARPENED):
        places, marks = _sharpened(places, marks, is_label)
    places = np.clip(places, [xs[0], ys[0]], [xs[-1], ys[-1]])
    made = []
    ring = 0
    for own in offsets:
        rings = [places[marks[ring + i] : marks[ring + i + 1]] for i in range(len(own) - 1)]
        ring += len(rings)
        made.append(shapely.Polygon(rings[0], rings[1:]))
    whole = _apart(np.array(made))
    return MultiPolygon(list(whole[shapely.area(whole) > _SPECK_M2]))


def _worth_drawing(points: list[Floats], offsets: list[Ints]) -> tuple[list[Floats], list[Ints]]:
    """Without the areas of a grid that one of its points alone stands for."""
    kept = []
    for k, (rings, own) in enumerate(zip(points, offsets, strict=True)):
        (ax, ay), (bx, by) = rings[: own[1] - 1].T, rings[1 : own[1]].T
        if abs(float((ax * by - ay * bx).sum())) > 2.0 * _LEAST_CELLS:
            kept.append(k)
    return [points[k] for k in kept], [offsets[k] for k in kept]


def _apart(rings: np.ndarray) -> np.ndarray:
    """Polygons simplified, made valid, and those that touch joined; most touch no other."""
    shapes = shapely.simplify(rings, 5e-4)
    wrong = ~shapely.is_valid(shapes)
    shapes[wrong] = shapely.make_valid(shapes[wrong], method="structure", keep_collapsed=False)
    found = shapely.get_parts(shapely.get_parts(shapes))
    found = found[(shapely.get_type_id(found) == 3) & (shapely.area(found) > _CRUMB_M2)]
    if not len(found):
        return found
    i, j = shapely.STRtree(found).query(found)
    i, j = i[i < j], j[i < j]
    size = shapely.get_num_coordinates(found)
    large, little = np.where(size[i] >= size[j], i, j), np.where(size[i] >= size[j], j, i)
    shapely.prepare(found[np.unique(large)])
    meet = shapely.intersects(found[large], found[little])
    joined = np.union1d(large[meet], little[meet])
    alone = np.delete(found, joined)
    union = as_multipolygon(shapely.union_all(found[joined]))
    return np.concatenate([alone, np.array(union.geoms, dtype=object)])


def _sharpened(
    places: Floats, marks: Ints, is_in: Callable[[Floats], np.ndarray]
) -> tuple[Floats, Ints]:
    """Closed rings with a point more in each stretch, moved square to it onto the border.

    ``places`` are the rings' points one ring after another, ring k from ``marks[k]`` on.
    """
    ends = np.ones(len(places), dtype=bool)
    ends[marks[1:] - 1] = False  # a ring's last point is its first
    first = np.flatnonzero(ends)
    a, b = places[first], places[first + 1]
    length = np.linalg.norm(b - a, axis=1)
    bent = _bent(places, marks, ends)
    first = first[(length > 2e-3) & (bent[first] | bent[first + 1])]
    a, b = places[first], places[first + 1]
    length = np.linalg.norm(b - a, axis=1)
    across = np.column_stack([a[:, 1] - b[:, 1], b[:, 0] - a[:, 0]]) / length[:, None]
    middle = (a + b) / 2.0
    reach = np.minimum(0.7 * length, 0.02)[:, None] * across
    state = is_in(middle)
    left, right = is_in(middle + reach), is_in(middle - reach)
    far = np.where((left != state)[:, None], middle + reach, middle - reach)
    moved = (left != state) ^ (right != state)
    near, far = middle[moved], far[moved]
    for _ in range(_HALVINGS):
        half = (near + far) / 2.0
        same = is_in(half) == state[moved]
        near, far = np.where(same[:, None], half, near), np.where(same[:, None], far, half)
    middle[moved] = (near + far) / 2.0
    at = first[moved] + 1
    grown = np.insert(places, at, middle[moved], axis=0)
    return grown, marks + np.searchsorted(at, marks, side="right")


def _bent(places: Floats, marks: Ints, ends: np.ndarray) -> np.ndarray:
    """Where closed rings turn sharply; at their first and last point they are taken to."""
    ray = np.diff(places, axis=0)
    ray /= np.maximum(np.linalg.norm(ray, axis=1), 1e-12)[:, None]
    bent = np.ones(len(places), dtype=bool)
    bent[1:-1] = (ray[1:] * ray[:-1]).sum(axis=1) < _CORNER
    bent[marks[:-1]] = True
    bent[~ends] = True
    return bent


def as_multipolygon(shape: shapely.Geometry) -> MultiPolygon:
    """The areas of any shape; lines and points in it are dropped."""
    parts = [p for p in shapely.get_parts(shape) if p.geom_type in ("Polygon", "MultiPolygon")]
    flat = [q for p in parts for q in shapely.get_parts(p) if not q.is_empty]
    return MultiPolygon(flat)


def _get(mask: np.ndarray, at: Ints) -> np.ndarray:
    x, y = at.T
    within = (x >= 0) & (y >= 0) & (x < mask.shape[1]) & (y < mask.shape[0])
    got = np.zeros(len(at), dtype=bool)
    got[within] = mask[y[within], x[within]]
    return got


def _place(at: Ints, xs: Floats, ys: Floats) -> Floats:
    step = np.array([xs[1] - xs[0], ys[1] - ys[0]])
    return np.array([xs[0], ys[0]]) + at * step


def seen_from(
    caster: Caster,
    view: Square,
    near_m: float,
    groups: Sequence[int],
    to_sun: ArrayLike | None = None,
    shading: Caster | None = None,
    laid: Sequence[bool] = (),
    shading_laid: Caster | None = None,
) -> Labelling:
    """What a square view meets: the part's group, whether it is in shade or shadow, and whether
    it meets anything.

    Args:
        caster: the parts that are drawn.
        near_m: where rays start, along the view.
        groups: of each of the caster's parts, 0 for none.
        to_sun: ``(3,)`` towards the sun; without it nothing is in shadow.
        shading: throws the shadows, by default what is drawn.
        laid: of each of the caster's parts, whether it is one of many small pieces, such as
            tiles, whose shadows on one another are not drawn.
        shading_laid: throws the shadows on these; without it they have none.
    """
    axes = view.axes
    known = np.r_[np.asarray(groups, dtype=int), 0]
    sun = None if to_sun is None else np.asarray(to_sun, dtype=float)
    small = np.r_[np.asarray(laid, dtype=bool), False] if len(laid) else np.zeros(len(known), bool)

    def label(film: Floats, column: int | None = None) -> Ints:
        hits = caster.first_hit(film @ axes[:2] + near_m * axes[2], axes[2])
        made = np.zeros((len(film), 3), dtype=int)
        made[:, 0] = known[hits.owner]
        made[:, 2] = hits.owner >= 0
        if sun is not None and column in (None, 1):
            met = np.flatnonzero((hits.owner >= 0) & ~small[hits.owner])
            normals = hits.normals[met]
            normals = np.where((normals @ axes[2] > 0.0)[:, None], -normals, normals)
            lit = (shading or caster).lit(hits.points[met], normals, sun)
            away = normals @ sun <= 0.0
            made[met, 1] = np.where(lit, 0, np.where(away, SHADE, CAST))
            on = np.flatnonzero(small[hits.owner])
            if shading_laid is not None and len(on):
                upward = np.array([0.0, 0.0, 1.0])
                made[on, 1] = np.where(shading_laid.lit(hits.points[on], upward, sun), 0, CAST)
        return made

    return label

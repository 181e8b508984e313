"""Line drawings of a model from any square side, hidden lines taken out by geometry.

A line is an edge of a part's mesh: a crease, or the outline where the surface turns from the
viewer. What is seen of it is found by rays (Embree) at both sides of the edge, in steps, and
where a line comes out from behind something the place is closed in on. The same rays say how
far what lies beside the line falls back, which is the line's weight.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from massing.geometry.mesh import Floats, Ints, Mesh
from massing.geometry.rays import Caster
from massing.parts.part import Part

FINE, EDGE, PROFILE = 1, 2, 3
"""Weights of a line: a crease or slight step, a clear step, an outline against the open."""

EDGE_FALL_M = 0.02  # what lies beside an edge falls back so far, at the least
PROFILE_FALL_M = 0.6
_ASIDE_M = 3e-4  # from the edge to the rays at either side of it
_NEARER_M = 1.2e-3  # what lies nearer than this before an edge does not hide it
_SAME_M = 2e-4  # lines nearer than this to one another are one
_HALVINGS = 6


@dataclass(frozen=True)
class Square:
    """A way of looking square at a building: unit vectors to the right, up and away.

    Drawings have (right, up) as their coordinates, in metres, so that a front elevation has
    the house's own x and z, and a plan its x and y.
    """

    name: str
    right: tuple[float, float, float]
    up: tuple[float, float, float]
    forward: tuple[float, float, float]

    @property
    def axes(self) -> Floats:
        """``(3, 3)`` rows: right, up, forward."""
        return np.array([self.right, self.up, self.forward])


FRONT = Square("front", (1, 0, 0), (0, 0, 1), (0, 1, 0))
BACK = Square("rear", (-1, 0, 0), (0, 0, 1), (0, -1, 0))
RIGHT = Square("right side", (0, 1, 0), (0, 0, 1), (-1, 0, 0))
LEFT = Square("left side", (0, -1, 0), (0, 0, 1), (1, 0, 0))
PLAN = Square("plan", (1, 0, 0), (0, 1, 0), (0, 0, -1))


@dataclass(frozen=True, eq=False)
class Lines:
    """Visible lines of a drawing.

    Attributes:
        ends: ``(n, 2, 2)`` segments as (right, up), metres.
        owner: ``(n,)`` index of the part that each belongs to.
        weight: ``(n,)`` :data:`FINE`, :data:`EDGE` or :data:`PROFILE`.
    """

    ends: Floats
    owner: Ints
    weight: Ints

    def of(self, weight: int) -> Floats:
        """Segments ``(k, 2, 2)`` of one weight."""
        return self.ends[self.weight == weight]


def visible_lines(
    parts: Sequence[Part],
    view: Square = FRONT,
    *,
    sharp_deg: float = 30.0,
    step_m: float = 0.02,
    falls_m: tuple[float, float] = (EDGE_FALL_M, PROFILE_FALL_M),
    undrawn: Callable[[Part], bool] = lambda part: False,
    caster: Caster | None = None,
    drawn: Sequence[Floats] = (),
    from_m: float | None = None,
) -> Lines:
    """What is seen of the parts' edges from one side, without perspective.

    Args:
        parts: everything that is drawn or hides something.
        view: the side.
        sharp_deg: an edge where faces meet at more than this is a line.
        step_m: what hides a line for a shorter stretch than this may be missed.
        falls_m: how far what lies beside a line falls back, at the least, for an edge and for
            an outline; less than the first is fine.
        undrawn: parts that hide lines and have none themselves, such as tiles.
        caster: the same parts made ready for rays, where the caller has them.
        from_m: the depth, along the view, of the nearest that may hide a line, where the caster
            holds more than the parts.
        drawn: further lines ``(n, 3)`` on the parts' surfaces; the first part owns them.

    Raises:
        ValueError: no parts.
    """
    caster = caster or Caster(parts)
    axes = view.axes
    near = nearest_m(parts, view) if from_m is None else from_m
    small = falls_m[0] >= EDGE_FALL_M  # a drawing too small for the carving of mouldings
    carved = [p.carved or (p.carved_moulding and small) for p in parts]
    found = [
        (i, _edges(p, axes, 180.0 if carved[i] else sharp_deg))
        for i, p in enumerate(parts)
        if not undrawn(p)
    ]
    found += [(len(parts), np.stack([line[:-1], line[1:]], axis=1) @ axes.T) for line in drawn]
    owner = np.concatenate([np.full(len(e), i) for i, e in found] or [np.zeros(0, dtype=int)])
    edges = np.concatenate([e for _, e in found] or [np.zeros((0, 2, 3))])
    long = np.linalg.norm((edges[:, 1] - edges[:, 0])[:, :2], axis=1) > 2e-4
    edges, owner = _foremost(edges[long], owner[long])
    if not len(edges):
        return Lines(np.zeros((0, 2, 2)), np.zeros(0, dtype=int), np.zeros(0, dtype=int))
    sight = _Sight(edges, np.array([*carved, False])[owner], axes, near, falls_m, caster)
    edge, begin, end, weight = _stretches(sight, step_m)
    a = edges[edge, 0, :2]
    ray = edges[edge, 1, :2] - a
    seen = np.stack([a + begin[:, None] * ray, a + end[:, None] * ray], axis=1)
    of_part = np.where(owner[edge] == len(parts), 0, owner[edge])
    return _joined(Lines(seen, of_part, weight))


@dataclass(frozen=True, eq=False)
class _Sight:
    """Edges before a viewer, and what may stand before them.

    Attributes:
        edges: ``(n, 2, 3)`` ends as (right, up, along the view).
        carved: ``(n,)`` whether an edge is of carving, which has no fine lines.
        axes: ``(3, 3)`` the view's.
        near: depth from which rays set out.
        falls_m: as of :func:`visible_lines`.
        caster: what may stand before them.
    """

    edges: Floats
    carved: NDArray[np.bool_]
    axes: Floats
    near: float
    falls_m: tuple[float, float]
    caster: Caster

    def weights(self, edge: Ints, share: Floats) -> Ints:
        """0 where hidden, else the weight, of edges at shares of their length."""
        a, b = self.edges[edge, 0], self.edges[edge, 1]
        at = a + share[:, None] * (b - a)
        along = (b - a)[:, :2]
        along /= np.linalg.norm(along, axis=1)[:, None]
        aside = np.column_stack([-along[:, 1], along[:, 0]]) * _ASIDE_M
        behind = []
        for sign in (1.0, -1.0):
            film = at[:, :2] + sign * aside
            origins = film @ self.axes[:2] + (self.near - 1.0) * self.axes[2]
            hits = self.caster.first_hit(origins, self.axes[2]).points @ self.axes[2]
            behind.append(np.where(np.isnan(hits), np.inf, hits))
        seen = np.maximum(*behind) > at[:, 2] - _NEARER_M
        # one side may be something that stands before the edge and ends there
        nearest = np.maximum(np.minimum(*behind), at[:, 2] - _NEARER_M)
        with np.errstate(invalid="ignore"):
            fall = np.where(np.isinf(np.minimum(*behind)), np.inf, np.maximum(*behind) - nearest)
        edge_m, profile_m = self.falls_m
        heavy = np.where(fall > profile_m, PROFILE, np.where(fall > edge_m, EDGE, FINE))
        fine = (heavy == FINE) & self.carved[edge]  # of leaves only what stands clear
        return np.where(seen & ~fine, heavy, 0)

    def changes(self, edge: Ints, low: Floats, high: Floats, weight: Ints) -> Floats:
        """Shares of their length, between two, up to which edges keep a weight."""
        for _ in range(_HALVINGS):
            middle = (low + high) / 2.0
            same = self.weights(edge, middle) == weight
            low, high = np.where(same, middle, low), np.where(same, high, middle)
        return (low + high) / 2.0


def _stretches(sight: _Sight, step_m: float) -> tuple[Ints, Floats, Floats, Ints]:
    """Seen stretches of one weight: of which edge, from and to which share of it, the weight."""
    length = np.linalg.norm((sight.edges[:, 1] - sight.edges[:, 0])[:, :2], axis=1)
    counts = np.where(length < step_m, 1, np.ceil(length / step_m).astype(int) + 1)
    first = np.cumsum(counts) - counts
    of = np.repeat(np.arange(len(length)), counts)
    place = np.arange(len(of)) - first[of]
    inset = np.minimum(1e-3, 0.1 * length) / length
    share = np.where(
        counts[of] == 1,
        0.5,
        inset[of] + (1.0 - 2.0 * inset[of]) * place / np.maximum(counts[of] - 1, 1),
    )
    weight = sight.weights(of, share)
    change = np.flatnonzero((of[1:] == of[:-1]) & (weight[1:] != weight[:-1]))
    turn = np.full(len(of), np.nan)
    turn[change] = sight.changes(of[change], share[change], share[change + 1], weight[change])

    starts = np.flatnonzero(np.r_[True, (of[1:] != of[:-1]) | (weight[1:] != weight[:-1])])
    ends = np.r_[starts[1:] - 1, len(of) - 1]
    begin = np.where(place[starts] == 0, 0.0, turn[np.maximum(starts - 1, 0)])
    end = np.where(place[ends] == counts[of[ends]] - 1, 1.0, turn[ends])
    kept = weight[starts] > 0
    return of[starts][kept], begin[kept], end[kept], weight[starts][kept]


def nearest_m(parts: Sequence[Part], view: Square) -> float:
    """The depth of the nearest corner of a box about each part, along the view."""
    away = np.asarray(view.forward)
    boxes = np.array([part.world_bounds for part in parts])
    return float(np.where(away > 0.0, boxes[:, 0] * away, boxes[:, 1] * away).sum(axis=1).min())


def _edges(part: Part, axes: Floats, sharp_deg: float) -> Floats:
    """Sharp edges and outlines of all copies, ``(n, 2, 3)`` as (right, up, away)."""
    pairs, corners, normals, sharp = _adjacent(part.mesh, sharp_deg)
    frames = np.eye(4)[None] if part.placements is None else part.placements
    turns, of = np.unique(np.round(frames[:, :3, :3], 9), axis=0, return_inverse=True)
    made = []
    for k, turn in enumerate(turns):
        # a normal turns with the inverse transpose; its sign against the view counts
        away = (normals @ np.linalg.inv(turn)) @ axes[2]
        toward = away < 1e-9
        drawn = toward[pairs].any(axis=1) & (sharp | (toward[pairs[:, 0]] != toward[pairs[:, 1]]))
        local = part.mesh.vertices[corners[drawn]]
        shifts = frames[of.reshape(-1) == k, :3, 3]
        world = local @ turn.T
        made.append((world[None] + shifts[:, None, None, :]).reshape(-1, 2, 3) @ axes.T)
    return np.concatenate(made)


def _adjacent(mesh: Mesh, sharp_deg: float) -> tuple[Ints, Ints, Floats, NDArray[np.bool_]]:
    """Faces that meet, the edges they meet at, the faces' normals, and which edges are sharp."""
    return _adjacent_of(_Known(mesh), sharp_deg)


class _Known:
    """A mesh as a key: the same mesh is seen from several sides."""

    def __init__(self, mesh: Mesh) -> None:
        self.mesh = mesh

    def __hash__(self) -> int:
        return id(self.mesh)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Known) and other.mesh is self.mesh


@lru_cache(maxsize=256)
def _adjacent_of(known: _Known, sharp_deg: float) -> tuple[Ints, Ints, Floats, NDArray[np.bool_]]:
    mesh = known.mesh
    # Corners that lie in one place are one, or no face would have a neighbour there.
    places, index = np.unique(np.round(mesh.vertices, 7), axis=0, return_inverse=True)
    index = index.reshape(-1)
    a, b, c = (mesh.vertices[mesh.faces[:, i]] for i in range(3))
    across = np.cross(b - a, c - a)
    area = np.linalg.norm(across, axis=1)
    pairs, corners = _meeting(index[mesh.faces])
    normals = across / np.maximum(area, 1e-15)[:, None]
    whole = (area > 1e-12)[pairs].all(axis=1)
    pairs, corners = pairs[whole], corners[whole]
    sharp = (normals[pairs[:, 0]] * normals[pairs[:, 1]]).sum(axis=1) < np.cos(
        np.radians(sharp_deg)
    )
    back = np.zeros(len(places), dtype=np.int64)
    back[index] = np.arange(len(index))
    return pairs, back[corners], normals, sharp


def _meeting(faces: Ints) -> tuple[Ints, Ints]:
    """Faces ``(n, 2)`` that share an edge, and that edge's corners.

    Solids of one mesh that touch along an edge, such as a saddle's two wings at its crest, have
    it twice. Of such an edge each face is paired with those that run along it the other way.
    """
    runs = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    face = np.tile(np.arange(len(faces)), 3)
    low, high = runs.min(axis=1), runs.max(axis=1)
    key = low * (int(faces.max(initial=0)) + 1) + high
    order = np.argsort(key, kind="stable")
    order = order[(low != high)[order]]
    key, runs, face = key[order], runs[order], face[order]
    starts = np.flatnonzero(np.r_[True, key[1:] != key[:-1]]) if len(key) else np.zeros(0, int)
    count = np.diff(np.r_[starts, len(key)])
    first = starts[count == 2]
    pairs = [np.column_stack([face[first], face[first + 1]])]
    shared = [np.sort(runs[first], axis=1)]
    forward = runs[:, 0] < runs[:, 1]
    for start, many in zip(starts[count > 2], count[count > 2], strict=True):
        at = np.arange(start, start + many)
        there, back = face[at[forward[at]]], face[at[~forward[at]]]
        both = np.array(np.meshgrid(there, back)).reshape(2, -1).T
        pairs.append(both)
        shared.append(np.tile(np.sort(runs[start]), (len(both), 1)))
    found, corners = np.concatenate(pairs), np.concatenate(shared)
    apart = found[:, 0] != found[:, 1]
    return found[apart], corners[apart]


def _foremost(edges: Floats, owner: Ints) -> tuple[Floats, Ints]:
    """Of edges that fall on the very same segment of the drawing, only the nearest."""
    order = np.argsort(edges[..., 2].min(axis=1), kind="stable")
    edges, owner = edges[order], owner[order]
    ends = np.round(edges[..., :2] / 1e-5).astype(np.int64)
    swap = (ends[:, 0, 0] > ends[:, 1, 0]) | (
        (ends[:, 0, 0] == ends[:, 1, 0]) & (ends[:, 0, 1] > ends[:, 1, 1])
    )
    ends[swap] = ends[swap][:, ::-1]
    # each end as one number: unique finds pairs of numbers far sooner than rows of four
    ends -= ends.min(axis=(0, 1), initial=0)
    one, other = (
        ends[:, i, 0] * (int(ends[..., 1].max(initial=0)) + 1) + ends[:, i, 1] for i in (0, 1)
    )
    order = np.lexsort((np.arange(len(one)), other, one))
    new = np.r_[True, (np.diff(one[order]) != 0) | (np.diff(other[order]) != 0)][: len(one)]
    first = np.sort(order[new])
    return edges[first], owner[first]


def _joined(lines: Lines) -> Lines:
    """Lines on one straight line that touch or overlap made one; the heavier covers the lighter."""
    a, b = lines.ends[:, 0], lines.ends[:, 1]
    ray = b - a
    length = np.linalg.norm(ray, axis=1)
    kept = length > 1e-6
    a, b, ray, length = a[kept], b[kept], ray[kept], length[kept]
    owner, weight = lines.owner[kept], lines.weight[kept]
    unit = ray / length[:, None]
    flip = (unit[:, 0] < -1e-9) | ((np.abs(unit[:, 0]) <= 1e-9) & (unit[:, 1] < 0.0))
    unit[flip] *= -1.0
    off = unit[:, 0] * a[:, 1] - unit[:, 1] * a[:, 0]
    angle = np.arctan2(unit[:, 1], unit[:, 0])
    key = np.column_stack([np.round(angle / 2e-4), np.round(off / _SAME_M)]).astype(np.int64)
    _, group = np.unique(key, axis=0, return_inverse=True)
    group = group.reshape(-1)
    base = np.zeros((group.max() + 1, 4)) if len(group) else np.zeros((0, 4))
    base[group[::-1]] = np.column_stack([unit, a])[::-1]
    along = base[group, :2]
    s0 = ((a - base[group, 2:]) * along).sum(axis=1)
    s1 = ((b - base[group, 2:]) * along).sum(axis=1)
    low, high = np.minimum(s0, s1), np.maximum(s0, s1)
    made: list[tuple[int, float, float, int, int]] = []
    order = np.lexsort((low, group))
    bounds = np.flatnonzero(np.r_[True, np.diff(group[order]) != 0, True])
    for first, last in pairwise(bounds):
        members = order[first:last]
        if len(members) == 1:
            i = members[0]
            made.append((i, low[i], high[i], owner[i], weight[i]))
        else:
            made += _covered(members, low, high, owner, weight)
    if not made:
        return Lines(np.zeros((0, 2, 2)), np.zeros(0, dtype=int), np.zeros(0, dtype=int))
    table = np.array(made)
    g = group[table[:, 0].astype(int)]
    start = base[g, 2:] + table[:, 1, None] * base[g, :2]
    end = base[g, 2:] + table[:, 2, None] * base[g, :2]
    return Lines(np.stack([start, end], 1), table[:, 3].astype(int), table[:, 4].astype(int))


def _covered(
    members: Ints, low: Floats, high: Floats, owner: Ints, weight: Ints
) -> list[tuple[int, float, float, int, int]]:
    """Stretches of collinear lines, each once, the heaviest on top."""
    marks = np.unique(np.concatenate([low[members], high[members]]))
    made: list[tuple[int, float, float, int, int]] = []
    for start, end in pairwise(marks):
        if end - start < 1e-7:
            continue
        over = members[(low[members] <= start + 1e-9) & (high[members] >= end - 1e-9)]
        if not len(over):
            continue
        top = over[np.argmax(weight[over])]
        if made and made[-1][4] == weight[top] and start - made[-1][2] < _SAME_M:
            made[-1] = (made[-1][0], made[-1][1], end, made[-1][3], made[-1][4])
        else:
            made.append((int(top), start, end, int(owner[top]), int(weight[top])))
    return made

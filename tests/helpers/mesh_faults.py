"""What is wrong with the meshes of a model, whatever it is a model of.

Everything is asked of a part's own mesh and its placements, so that six thousand tiles are looked
at once; two questions are asked of the whole model: does every piece touch another or the ground,
and do faces of two materials share a plane and a place, looking the same way.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from massing.geometry.mesh import Floats, Ints, Mesh
from massing.parts.part import Model, Part

THINNEST_M = 10e-6
CRUMB_M3 = 1e-9
DRAWN_OUT = 0.05
TOUCHING_M = 1.5e-3
"""How near pieces must come: a joint that is open by less is none in a picture."""


@dataclass(frozen=True)
class Fault:
    """A fault of one part: its kind, how many, and the worst in numbers."""

    part: str
    kind: str
    count: int
    worst: str = ""

    def __str__(self) -> str:
        """One line."""
        return f"{self.part}: {self.count} {self.kind} {self.worst}".strip()


def bodies(mesh: Mesh) -> tuple[int, Ints]:
    """How many pieces a mesh has, and which piece each face is of; corners in one place are one."""
    _, same = np.unique(
        np.round(mesh.vertices / 1e-7).astype(np.int64), axis=0, return_inverse=True
    )
    faces = same.reshape(-1)[mesh.faces]
    n = int(faces.max()) + 1
    rows = np.concatenate([faces[:, 0], faces[:, 1]])
    columns = np.concatenate([faces[:, 1], faces[:, 2]])
    graph = coo_array((np.ones(len(rows), bool), (rows, columns)), shape=(n, n))
    _, of_vertex = connected_components(graph, directed=False)
    used, of_face = np.unique(of_vertex[faces[:, 0]], return_inverse=True)
    return len(used), of_face


def _heights_m(mesh: Mesh) -> Floats:
    """The least height of each triangle, by another way than the cleaning's: from its sides alone.

    Heron's formula in Kahan's order, which is exact to the last digits for needles too.
    """
    a, b, c = np.moveaxis(mesh.triangles, 1, 0)
    sides = np.sort([np.linalg.norm(e, axis=1) for e in (b - a, c - b, a - c)], axis=0)
    low, middle, high = sides
    square = (high + (middle + low)) * (low - (high - middle))
    square *= (low + (high - middle)) * (high + (middle - low))
    return 0.5 * np.sqrt(np.maximum(square, 0.0)) / np.maximum(high, 1e-12)


def volumes_m3(mesh: Mesh, count: int, of_face: Ints) -> Floats:
    """Signed volume of each piece."""
    middle = mesh.vertices.mean(axis=0)
    a, b, c = np.moveaxis(mesh.triangles - middle, 1, 0)
    six = np.einsum("ij,ij->i", a, np.cross(b, c))
    return np.bincount(of_face, six, minlength=count) / 6.0


def faults_of_part(part: Part) -> Iterator[Fault]:
    """Faults that a part has by itself."""
    mesh = part.mesh
    thin = _heights_m(mesh)
    bad = thin < THINNEST_M
    if bad.any():
        yield Fault(part.key, "thin triangles", int(bad.sum()), f"{thin.min() * 1e6:.2f} um")
    if part.placements is not None:
        turn = part.placements[:, :3, :3]
        # What stands plumb in a raking cornice is slid along, which keeps its size; a carver draws
        # eggs and beads out a little, so that a run of them comes out even.
        off = np.abs(np.abs(np.linalg.det(turn)) - 1.0)
        off -= DRAWN_OUT if part.carved_moulding else 0.0
        if (off > 1e-6).any():
            yield Fault(part.key, "stretched copies", int((off > 1e-6).sum()), f"{off.max():.2g}")
    if not part.solid:
        return
    edges = np.sort(mesh.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    directed = mesh.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    _, where = np.unique(edges, axis=0, return_inverse=True)
    ways = np.bincount(where.reshape(-1), np.where(directed[:, 0] < directed[:, 1], 1, -1))
    open_edges = int((ways != 0).sum())
    if open_edges:
        yield Fault(part.key, "open edges", open_edges)
    count, of_face = bodies(mesh)
    volume = volumes_m3(mesh, count, of_face)
    if (volume < -CRUMB_M3).any():
        yield Fault(part.key, "bodies inside out", int((volume < -CRUMB_M3).sum()))
    crumbs = np.abs(volume) <= CRUMB_M3
    if crumbs.any():
        yield Fault(part.key, "crumbs", int(crumbs.sum()), f"{np.abs(volume).min() * 1e9:.3f} mm3")


def _pieces(model: Model) -> tuple[list[tuple[int, int]], Floats]:
    """Every body of every copy: (part, copy) and its box ``(n, 2, 3)``."""
    names, boxes = [], []
    for index, part in enumerate(model.parts):
        if not part.solid:
            continue
        mesh = part.mesh
        count, of_face = bodies(mesh)
        frames = np.eye(4)[None] if part.placements is None else part.placements
        corner_body = np.empty(len(mesh.vertices), int)
        corner_body[mesh.faces.reshape(-1)] = np.repeat(of_face, 3)
        used = np.zeros(len(mesh.vertices), bool)
        used[mesh.faces.reshape(-1)] = True
        order = np.argsort(corner_body[used], kind="stable")
        points = mesh.vertices[used][order]
        starts = np.searchsorted(corner_body[used][order], np.arange(count))
        for copy, frame in enumerate(frames):
            world = points @ frame[:3, :3].T + frame[:3, 3]
            low = np.minimum.reduceat(world, starts)
            high = np.maximum.reduceat(world, starts)
            boxes.append(np.stack([low, high], axis=1))
            names += [(index, copy)] * count
    return names, np.concatenate(boxes)


def floating(model: Model, ground_z_m: float = 0.0) -> Iterator[Fault]:
    """Pieces whose boxes touch neither another part's or copy's nor the ground.

    By boxes, so that it finds what stands clear in the air, not what misses by less than its own
    shape.
    """
    names, boxes = _pieces(model)
    low, high = boxes[:, 0] - TOUCHING_M / 2, boxes[:, 1] + TOUCHING_M / 2
    order = np.argsort(low[:, 0])
    low, high = low[order], high[order]
    names = [names[i] for i in order]
    alone = low[:, 2] > ground_z_m + TOUCHING_M
    wide = np.argsort(-(high - low).max(axis=1))[:400]  # walls, floors, roofs meet the most
    for i in wide:
        alone &= ~_meet(low, high, low[i], high[i]) | (np.arange(len(low)) == i)
    ends = np.searchsorted(low[:, 0], high[:, 0], side="right")
    left = np.flatnonzero(alone)
    left = left[low[left, 2] > _ground_z_m(model, (low[left] + high[left])[:, :2] / 2.0)]
    reach = (high - low)[:, 0].max()
    counts: Counter[int] = Counter()
    for i in left:
        start = np.searchsorted(low[:, 0], low[i, 0] - reach)
        near = slice(start, ends[i])
        hit = _meet(low[near], high[near], low[i], high[i])
        if hit.sum() <= 1:  # itself
            counts[names[i][0]] += 1
    for index, n in counts.items():
        yield Fault(model.parts[index].key, "floating pieces", n)


def _ground_z_m(model: Model, at: Floats) -> Floats:
    """Height of the open sheets (ground, walks) under points ``(n, 2)``; nothing where is none."""
    sheets = [part.world_mesh().triangles for part in model.parts if not part.solid]
    found = np.full(len(at), -np.inf)
    for a, b, c in np.concatenate(sheets) if sheets else ():
        first, second, off = b - a, c - a, at - a[:2]
        area = first[0] * second[1] - first[1] * second[0]
        if abs(area) < 1e-12:
            continue
        u = (off[:, 0] * second[1] - off[:, 1] * second[0]) / area
        v = (first[0] * off[:, 1] - first[1] * off[:, 0]) / area
        inside = (u >= -1e-9) & (v >= -1e-9) & (u + v <= 1.0 + 1e-9)
        found[inside] = np.maximum(found[inside], (a[2] + u * first[2] + v * second[2])[inside])
    return found


def _meet(low: Floats, high: Floats, a: Floats, b: Floats) -> np.ndarray:
    return ((low <= b) & (high >= a)).all(axis=1)


PLANE_M, NORMAL = 0.2e-3, 1e-4
LEAST_SHARED_M2 = 4e-6
LEAST_WIDTH_M = 4e-3
"""Pieces are let into what they stand on by 2 or 3 mm: strips as narrow stay at a reveal."""


def coplanar(model: Model, within_m: float = PLANE_M) -> Iterator[Fault]:
    """Faces of two materials in one plane that look the same way and lie over each other.

    A renderer cannot tell which is before the other. Faces that look at each other touch, as they
    should, and what another solid stands against is hidden.
    """
    from shapely import STRtree, buffer, difference, intersection, is_empty, polygons, union_all
    from shapely import area as area_of

    triangles, owners = [], []
    for index, part in enumerate(model.parts):
        if part.carved or part.carved_moulding:  # leaves have no plane
            continue
        frames = np.eye(4)[None] if part.placements is None else part.placements
        local = part.mesh.triangles
        for frame in frames:
            triangles.append(local @ frame[:3, :3].T + frame[:3, 3])
            owners.append(np.full(len(local), index))
    at, owner = np.concatenate(triangles), np.concatenate(owners)
    kinds = {role: i for i, role in enumerate({part.role for part in model.parts})}
    role = np.array([kinds[part.role] for part in model.parts])[owner]
    normal = np.cross(at[:, 1] - at[:, 0], at[:, 2] - at[:, 0])
    size = np.linalg.norm(normal, axis=1)
    kept = size > 2 * LEAST_SHARED_M2
    at, owner, role, normal = at[kept], owner[kept], role[kept], normal[kept] / size[kept, None]
    offset = np.einsum("ij,ij->i", normal, at[:, 0])
    # neighbours in the space of planes: normals and offsets, each by its own step
    space = np.column_stack([normal / NORMAL, offset / within_m]) / 2.0
    cells = np.round(space).astype(np.int64)
    _, cell = np.unique(cells, axis=0, return_inverse=True)
    cell = cell.reshape(-1)
    order = np.argsort(cell, kind="stable")
    bounds = np.flatnonzero(np.diff(cell[order])) + 1
    groups = np.split(order, bounds)
    other_side = {tuple(-cells[group[0]]): group for group in groups}
    found: Counter[tuple[int, int]] = Counter()
    for group in groups:
        if len(group) < 2 or (role[group] == role[group[0]]).all():
            continue
        n = normal[group[0]]
        axis = int(np.argmax(np.abs(n)))
        shapes = polygons(np.delete(at[group], axis, axis=2))
        first, second = STRtree(shapes).query(shapes, predicate="intersects")
        differ = (role[group[first]] != role[group[second]]) & (first < second)
        first, second = first[differ], second[differ]
        shared = intersection(shapes[first], shapes[second])
        large = area_of(shared) / abs(n[axis]) > LEAST_SHARED_M2
        first, second, shared = first[large], second[large], shared[large]
        behind = other_side.get(tuple(cells[group[0]]))
        if len(shared) and behind is not None:  # what another solid stands against is not seen
            hides = union_all(polygons(np.delete(at[behind], axis, axis=2)))
            shared = difference(shared, hides)
        seen = ~is_empty(buffer(shared, -LEAST_WIDTH_M / 2.0))
        for i, j in zip(first[seen], second[seen], strict=True):
            pair = sorted((int(owner[group[i]]), int(owner[group[j]])))
            found[pair[0], pair[1]] += 1
    for (a, b), n in found.items():
        yield Fault(model.parts[a].key, f"faces in one plane with {model.parts[b].key}", n)


def faults(model: Model) -> list[Fault]:
    """All that is wrong with a model's meshes."""
    own = [fault for part in model.parts for fault in faults_of_part(part)]
    return [*own, *floating(model), *coplanar(model)]

"""Cutting leaves slivers and crumbs: a mesh without them, the same to 0.01 mm."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from massing.geometry.booleans import mesh_of, solid_of
from massing.geometry.mesh import Floats, Ints, Mesh, cross, merged
from massing.geometry.solids import bodies, body_of_faces, volumes_m3

THINNEST_M = 10e-6
"""The least height of a triangle: under it rounding decides which way it looks."""
CRUMB_M3 = 1e-9
"""A body of less than a cubic millimetre is dust."""
_WITHIN_M = (1.2e-5, 2.5e-5, 5e-5, 1e-4)  # one after the other, until no triangle is thin
_TURNS = 8
_NOTHING = Mesh(np.zeros((0, 3)), np.zeros((0, 3), np.int64))


def heights_m(mesh: Mesh) -> Floats:
    """The least height of each triangle, ``(m,)`` metres: twice its area over its longest side.

    >>> from massing.geometry.solids import box_between
    >>> float(heights_m(box_between((0, 0, 0), (3.0, 4.0, 1e-6))).min().round(9))
    1e-06
    """
    x, y, z = mesh.vertices.T
    a, b, c = mesh.faces.T
    ax, ay, az = x[b] - x[a], y[b] - y[a], z[b] - z[a]
    bx, by, bz = x[c] - x[b], y[c] - y[b], z[c] - z[b]
    twice = np.sqrt((ay * bz - az * by) ** 2 + (az * bx - ax * bz) ** 2 + (ax * by - ay * bx) ** 2)
    longest = np.maximum(ax * ax + ay * ay + az * az, bx * bx + by * by + bz * bz)
    longest = np.maximum(longest, (x[a] - x[c]) ** 2 + (y[a] - y[c]) ** 2 + (z[a] - z[c]) ** 2)
    return np.asarray(twice / np.maximum(np.sqrt(longest), 1e-12))


def cleaned(mesh: Mesh) -> Mesh:
    """A closed mesh without triangles thinner than :data:`THINNEST_M` and without crumbs.

    Edges shorter than that are drawn together, what lies flat is joined, and a needle whose corner
    lies on the side of its neighbour is taken in; nothing moves by more than a hundredth of a
    millimetre, or in rare cases a tenth. A mesh, and each body of one, without such faults stays
    as it is.
    """
    if not len(mesh.faces):
        return mesh
    thin = heights_m(mesh) < THINNEST_M
    if not thin.any():
        return mesh
    body = body_of_faces(mesh)
    _, number = np.unique(body, return_inverse=True)
    whole = (np.abs(volumes_m3(mesh, body)) > CRUMB_M3)[number]
    ill = np.isin(body, body[thin])
    parts = [_of_faces(mesh, whole & ~ill), _mended(_of_faces(mesh, whole & ill))]
    parts = [part for part in parts if len(part.faces)]
    return merged(parts) if parts else _NOTHING


def _mended(mesh: Mesh) -> Mesh:
    """Bodies with thin triangles, without them."""
    if not len(mesh.faces):
        return mesh
    for within_m in _WITHIN_M:
        made = mesh_of(solid_of(mesh).simplify(within_m))
        if not (heights_m(made) < THINNEST_M).any():
            break
        made = _drawn_in(_turned(_welded(made, within_m)))
        if not (heights_m(made) < THINNEST_M).any():
            break
    return without_scraps(made)


def _of_faces(mesh: Mesh, chosen: NDArray[np.bool_]) -> Mesh:
    """Some of a mesh's faces, and their corners."""
    used, renumbered = np.unique(mesh.faces[chosen], return_inverse=True)
    return Mesh(mesh.vertices[used], renumbered.reshape(-1, 3))


def without_scraps(mesh: Mesh, least_m3: float = CRUMB_M3) -> Mesh:
    """A mesh of closed bodies less those smaller than ``least_m3``, which nobody would lay.

    >>> from massing.geometry.solids import box_between
    >>> both = merged([box_between((0, 0, 0), (1, 1, 1)), box_between((2, 0, 0), (2.1, 0.1, 0.1))])
    >>> without_scraps(both, 0.01).bounds[1].tolist()
    [1.0, 1.0, 1.0]
    """
    if not len(mesh.faces):
        return mesh
    if (np.abs(volumes_m3(mesh, body_of_faces(mesh))) > least_m3).all():
        return mesh
    kept = [piece for piece in bodies(mesh) if abs(piece.volume_m3) > least_m3]
    return merged(kept) if kept else _NOTHING


def without_crumbs(mesh: Mesh, of: Ints, least_m3: float) -> Mesh:
    """Cut copies of a piece, cleaned and less bodies smaller than ``least_m3``.

    ``of`` ``(n,)`` says which copy each corner is of: copies that are one sound body, as nearly
    all are, are told by counting their corners and faces, and only the others looked into.
    """
    if not len(mesh.faces):
        return mesh
    copy = of[mesh.faces[:, 0]]
    a, b, c = (mesh.vertices[mesh.faces[:, i]] for i in range(3))
    many = int(of.max()) + 1
    m3 = np.bincount(copy, np.einsum("ij,ij->i", a, cross(b, c)), many) / 6.0
    thin = np.bincount(copy, heights_m(mesh) < THINNEST_M, many) > 0
    # Euler: a closed surface without handles has two corners more than half its faces.
    single = 2 * np.bincount(of, minlength=many) - np.bincount(copy, minlength=many) == 4
    sound = (~thin & single & (np.abs(m3) > least_m3))[copy]
    if sound.all():
        return mesh
    ill = cleaned(without_scraps(_of_faces(mesh, ~sound), least_m3))
    parts = [part for part in (_of_faces(mesh, sound), ill) if len(part.faces)]
    return merged(parts) if parts else _NOTHING


def _welded(mesh: Mesh, within_m: float) -> Mesh:
    """Corners nearer than ``within_m`` made one, and what has no area then left out.

    Where two pieces meet along a line a Boolean joins them by a strip of no width.
    """
    ends = np.stack([mesh.faces, np.roll(mesh.faces, -1, axis=1)], axis=-1).reshape(-1, 2)
    length = np.linalg.norm(mesh.vertices[ends[:, 0]] - mesh.vertices[ends[:, 1]], axis=1)
    one = np.arange(len(mesh.vertices))
    for a, b in np.unique(np.sort(ends[length < within_m], axis=1), axis=0).tolist():
        one[one == one[b]] = one[a]
    _, first, one = np.unique(one, return_index=True, return_inverse=True)
    faces = one[mesh.faces]
    whole = (faces != np.roll(faces, 1, axis=1)).all(axis=1)
    return Mesh(mesh.vertices[first], faces[whole])


def _turned(mesh: Mesh) -> Mesh:
    """Needles whose corner lies on a neighbour's side: the four-sided figure that the two make is
    divided by its other diagonal."""
    faces = mesh.faces.copy()
    for _ in range(_TURNS):
        thin = np.flatnonzero(heights_m(Mesh(mesh.vertices, faces)) < THINNEST_M)
        if not len(thin):
            break
        corners = mesh.vertices[faces[thin]]
        sides_m = np.linalg.norm(np.roll(corners, -1, axis=1) - corners, axis=2)
        turns = (np.argmax(sides_m, axis=1)[:, None] + np.arange(3)) % 3
        longest_first = np.take_along_axis(faces[thin], turns, axis=1)
        beside = _Sides(faces)
        turned: set[int] = set()
        for i, (a, b, tip) in zip(thin.tolist(), longest_first.tolist(), strict=True):
            other = beside.face(b, a)
            if other is None:
                continue
            far = next((v for v in faces[other].tolist() if v not in (a, b)), tip)
            joined = beside.face(tip, far) is not None or beside.face(far, tip) is not None
            if other == i or {i, other} & turned or joined:
                continue
            faces[i], faces[other] = (a, far, tip), (far, b, tip)
            turned |= {i, other}
        if not turned:
            break
    return Mesh(mesh.vertices, faces)


class _Sides:
    """Which face has a side from one corner to another; of two, the later."""

    def __init__(self, faces: Ints) -> None:
        self._count = int(faces.max()) + 1
        keys = (faces * self._count + np.roll(faces, -1, axis=1)).ravel()
        order = np.argsort(keys, kind="stable")
        self._keys, self._faces = keys[order], order // 3

    def face(self, start: int, end: int) -> int | None:
        key = start * self._count + end
        at = int(np.searchsorted(self._keys, key, side="right")) - 1
        return int(self._faces[at]) if at >= 0 and self._keys[at] == key else None


_STRAIGHT = 1.0 - 1e-7  # cosine: a face that leans no more than this has kept its plane


def _drawn_in(mesh: Mesh) -> Mesh:
    """Needles drawn in: the corner that lies on the longest side goes to one of its ends.

    Only where every other face round that corner keeps its plane and its side, and the mesh stays
    closed: the corner stood on a straight edge, or within a plane, and did nothing there.
    """
    faces = mesh.faces.copy()
    for _ in range(_TURNS):
        thin = np.flatnonzero(heights_m(Mesh(mesh.vertices, faces)) < THINNEST_M).tolist()
        kept = np.ones(len(faces), dtype=bool)
        for i in thin:
            if not kept[i] or len(set(faces[i].tolist())) < 3:
                continue
            corners = mesh.vertices[faces[i]]
            sides = np.linalg.norm(np.roll(corners, -1, axis=0) - corners, axis=1)
            a, b, tip = np.roll(faces[i], -int(np.argmax(sides))).tolist()
            for end in (a, b):
                if _may_go(mesh.vertices, faces, kept, tip, end):
                    faces[faces == tip] = end
                    kept &= (faces != np.roll(faces, 1, axis=1)).all(axis=1)
                    break
        if kept.all():
            break
        faces = faces[kept]
    used, renumbered = np.unique(faces, return_inverse=True)
    return Mesh(mesh.vertices[used], renumbered.reshape(-1, 3))


def _may_go(vertices: Floats, faces: Ints, kept: NDArray[np.bool_], tip: int, end: int) -> bool:
    """Whether a corner may be drawn to the other end of its edge."""
    here = faces[kept & (faces == tip).any(axis=1)]
    there = faces[kept & (faces == end).any(axis=1)]
    shared = set(here.ravel().tolist()) & set(there.ravel().tolist()) - {tip, end}
    if len(shared) != 2:
        return False
    stay = here[~(here == end).any(axis=1)]
    moved = np.where(stay == tip, end, stay)
    before, after = (_normals(vertices[f]) for f in (stay, moved))
    flat = np.linalg.norm(before, axis=1) < 0.5  # a needle has no plane to keep
    leans = np.einsum("ij,ij->i", before, after) < _STRAIGHT
    return not (leans & ~flat).any()


def _normals(triangles: Floats) -> Floats:
    """Unit normals ``(m, 3)``; nought for what is thinner than :data:`THINNEST_M`."""
    a, b, c = np.moveaxis(triangles, 1, 0)
    normal = np.cross(b - a, c - a)
    size = np.linalg.norm(normal, axis=1)
    longest = np.sqrt(((triangles - np.roll(triangles, 1, axis=1)) ** 2).sum(axis=2).max(axis=1))
    whole = size > THINNEST_M * longest
    return np.where(whole[:, None], normal / np.maximum(size, 1e-30)[:, None], 0.0)

"""Normals for drawing: smooth over curves, crisp at edges."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from massing.geometry.mesh import Floats, Ints, Mesh

CREASE_DEG = 30.0  # edges sharper than this stay crisp, curves below it read smooth
_WELD_M = 1e-6
_STEPS = 511  # of a normal's components, within which two corners share a vertex


@dataclass(frozen=True, eq=False)
class Shaded:
    """A mesh with a normal to each vertex; vertices on crisp edges stand there more than once.

    Attributes:
        vertices: ``(n, 3)`` metres.
        normals: ``(n, 3)`` unit vectors.
        faces: ``(m, 3)`` indices, counter-clockwise seen from outside; the mesh's own order.
    """

    vertices: Floats
    normals: Floats
    faces: Ints


def shaded(mesh: Mesh, crease_deg: float = CREASE_DEG) -> Shaded:
    """A mesh with normals: at each corner the mean of the faces round its point that lie within
    ``crease_deg`` of its own face, each by its angle there. Faces without area keep no normal of
    their own and take their neighbours'."""
    triangles = mesh.triangles
    across = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    size = np.linalg.norm(across, axis=1)
    flat = size < 1e-12
    own = across / np.where(flat, 1.0, size)[:, None]

    face_of = np.repeat(np.arange(len(mesh.faces)), 3)
    weight = np.where(flat[:, None], 0.0, _angles(triangles)).ravel()
    point = _welded(mesh.vertices)[mesh.faces.ravel()]
    first, second = _pairs_at_a_point(point)
    cos = np.einsum("ij,ij->i", own[face_of[first]], own[face_of[second]])
    near = (cos > np.cos(np.radians(crease_deg))) | (first == second) | flat[face_of[first]]
    first, second = first[near], second[near]
    corner_normal: Floats = np.stack(
        [
            np.bincount(first, weight[second] * own[face_of[second], axis], minlength=len(point))
            for axis in range(3)
        ],
        axis=1,
    )
    length = np.linalg.norm(corner_normal, axis=1)
    lost = length < 1e-9
    corner_normal[lost], length[lost] = [0.0, 0.0, 1.0], 1.0
    corner_normal /= length[:, None]

    rounded = np.round(corner_normal * _STEPS).astype(np.int64) + _STEPS
    key = mesh.faces.ravel().astype(np.int64)
    for axis in range(3):
        key = (key << 10) | rounded[:, axis]
    _, kept, faces = np.unique(key, return_index=True, return_inverse=True)
    return Shaded(
        mesh.vertices[mesh.faces.ravel()[kept]], corner_normal[kept], faces.reshape(-1, 3)
    )


def _angles(triangles: Floats) -> Floats:
    """The angle ``(m, 3)`` at each corner of ``(m, 3, 3)`` triangles, radians."""
    to_next = np.roll(triangles, -1, axis=1) - triangles
    to_last = np.roll(triangles, 1, axis=1) - triangles
    sine = np.linalg.norm(np.cross(to_next, to_last), axis=2)
    return np.arctan2(sine, np.einsum("ijk,ijk->ij", to_next, to_last))


def _welded(vertices: Floats) -> Ints:
    """For each vertex ``(n,)`` the number of its place; vertices in one place share it."""
    grid = np.round(vertices / _WELD_M).astype(np.int64)
    _, number = np.unique(grid, axis=0, return_inverse=True)
    return number.reshape(-1)


def _pairs_at_a_point(point: Ints) -> tuple[Ints, Ints]:
    """Every ordered pair of corners, each with itself too, that stand in one place."""
    order = np.argsort(point, kind="stable")
    counts = np.bincount(point)
    counts = counts[counts > 0]
    starts = np.cumsum(counts) - counts
    each = np.repeat(counts, counts)  # how many partners each corner has, in sorted order
    first = np.repeat(np.arange(len(point)), each)
    within = np.arange(len(first)) - np.repeat(np.cumsum(each) - each, each)
    second = np.repeat(np.repeat(starts, counts), each) + within
    return order[first], order[second]

"""Cutting leaves slivers and crumbs: a mesh without them, the same to a hundredth of a millimetre."""

from __future__ import annotations

import numpy as np

from massing.geometry.booleans import mesh_of, solid_of
from massing.geometry.mesh import Floats, Ints, Mesh, merged
from massing.geometry.solids import bodies

THINNEST_M = 10e-6
"""The least height of a triangle: under it rounding decides which way it looks."""
CRUMB_M3 = 1e-9
"""A body of less than a cubic millimetre is dust."""
_WITHIN_M = 1.2e-5


def heights_m(mesh: Mesh) -> Floats:
    """The least height of each triangle, ``(m,)`` metres: twice its area over its longest side.

    >>> from massing.geometry.solids import box_between
    >>> float(heights_m(box_between((0, 0, 0), (3.0, 4.0, 1e-6))).min().round(9))
    1e-06
    """
    corners = mesh.triangles
    sides = np.roll(corners, -1, axis=1) - corners
    ax, ay, az = sides[:, 0].T
    bx, by, bz = sides[:, 1].T
    twice = np.sqrt(
        (ay * bz - az * by) ** 2 + (az * bx - ax * bz) ** 2 + (ax * by - ay * bx) ** 2
    )
    longest = np.sqrt(np.einsum("mij,mij->mi", sides, sides).max(axis=1))
    return twice / np.maximum(longest, 1e-12)


def cleaned(mesh: Mesh) -> Mesh:
    """A closed mesh without triangles thinner than :data:`THINNEST_M` and without crumbs.

    Edges shorter than that are drawn together, what lies flat is joined, and a needle whose corner
    lies on the side of its neighbour is turned; nothing moves by more than a hundredth of a
    millimetre. A mesh without such faults comes back as it is.
    """
    if not len(mesh.faces):
        return mesh
    thin = bool((heights_m(mesh) < THINNEST_M).any())
    if not thin and len(mesh.faces) < 200:
        return mesh
    pieces = bodies(mesh)
    kept = [piece for piece in pieces if abs(piece.volume_m3) > CRUMB_M3]
    if len(kept) < len(pieces):
        mesh = merged(kept) if kept else Mesh(np.zeros((0, 3)), np.zeros((0, 3), np.int64))
    if not thin or not kept:
        return mesh
    simple = mesh_of(solid_of(mesh).simplify(_WITHIN_M))
    if (heights_m(simple) < THINNEST_M).any():
        simple = _turned(simple)
    return simple


def _turned(mesh: Mesh) -> Mesh:
    """Needles turned: the longest side of each is exchanged for the other diagonal of the four-sided
    figure that it makes with its neighbour."""
    faces = mesh.faces.copy()
    for _ in range(8):
        thin = np.flatnonzero(heights_m(Mesh(mesh.vertices, faces)) < THINNEST_M)
        if not len(thin):
            break
        beside = {
            (int(a), int(b)): i
            for i, face in enumerate(faces)
            for a, b in zip(face, np.roll(face, -1), strict=True)
        }
        touched: set[int] = set()
        for i in thin.tolist():
            _turn(mesh.vertices, faces, beside, i, touched)
    return Mesh(mesh.vertices, faces)


def _turn(
    vertices: Floats,
    faces: Ints,
    beside: dict[tuple[int, int], int],
    i: int,
    touched: set[int],
) -> None:
    corners = vertices[faces[i]]
    sides = np.linalg.norm(np.roll(corners, -1, axis=0) - corners, axis=1)
    at = int(np.argmax(sides))
    a, b, tip = (int(faces[i][(at + k) % 3]) for k in range(3))
    other = beside.get((b, a))
    if other is None or {i, other} & touched:
        return
    far = next(int(v) for v in faces[other] if v not in (a, b))
    if far == tip or (tip, far) in beside or (far, tip) in beside:
        return
    faces[i], faces[other] = (a, far, tip), (far, b, tip)
    touched |= {i, other}

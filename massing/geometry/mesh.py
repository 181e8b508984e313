"""The shape everything is made of: triangles, and copies of them in frames."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

if TYPE_CHECKING:
    import trimesh

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


def cross(a: ArrayLike, b: ArrayLike) -> Floats:
    """Cross products of vectors ``(3,)`` or ``(n, 3)``; for a few numpy's own takes far longer."""
    a, b = np.asarray(a, dtype=float), np.asarray(b, dtype=float)
    (ax, ay, az), (bx, by, bz) = a.T, b.T
    return np.stack([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx], axis=-1)


@dataclass(frozen=True, eq=False)
class Mesh:
    """A triangle mesh.

    Attributes:
        vertices: ``(n, 3)`` metres.
        faces: ``(m, 3)`` vertex indices, counter-clockwise seen from outside.
    """

    vertices: Floats
    faces: Ints

    @property
    def bounds(self) -> Floats:
        """``(2, 3)`` lowest and highest corner, metres."""
        return np.array([self.vertices.min(axis=0), self.vertices.max(axis=0)])

    @property
    def volume_m3(self) -> float:
        """Signed volume, cubic metres; positive when the faces look outwards."""
        a, b, c = (self.vertices[self.faces[:, i]] for i in range(3))
        return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6.0)

    @property
    def triangles(self) -> Floats:
        """``(m, 3, 3)`` corner positions, metres."""
        return self.vertices[self.faces]

    def moved(self, matrix: Floats) -> Mesh:
        """The mesh under a ``(4, 4)`` affine matrix; a mirroring matrix keeps faces outward."""
        matrix = np.asarray(matrix, dtype=float)
        vertices = self.vertices @ matrix[:3, :3].T + matrix[:3, 3]
        faces = self.faces if np.linalg.det(matrix[:3, :3]) > 0 else self.faces[:, ::-1]
        return Mesh(vertices, faces)

    def shifted(self, x_m: float = 0.0, y_m: float = 0.0, z_m: float = 0.0) -> Mesh:
        """The mesh moved by a vector in metres."""
        return Mesh(self.vertices + np.array([x_m, y_m, z_m]), self.faces)

    def to_trimesh(self) -> trimesh.Trimesh:
        """The same mesh as a :class:`trimesh.Trimesh`, vertices untouched."""
        import trimesh

        return trimesh.Trimesh(self.vertices, self.faces, process=False)


def merged(meshes: Iterable[Mesh]) -> Mesh:
    """One mesh from several; their solids stay separate bodies."""
    meshes = list(meshes)
    offsets = np.cumsum([0] + [len(m.vertices) for m in meshes[:-1]])
    return Mesh(
        np.concatenate([m.vertices for m in meshes]),
        np.concatenate([m.faces + k for m, k in zip(meshes, offsets, strict=True)]),
    )


class Copied(Protocol):
    """A mesh and the frames ``(k, 4, 4)`` of its copies, or None for one where it stands."""

    @property
    def mesh(self) -> Mesh: ...
    @property
    def placements(self) -> Floats | None: ...


def in_world(thing: Copied) -> Mesh:
    """All copies as one mesh in world coordinates."""
    return thing.mesh if thing.placements is None else laid_out(thing.mesh, thing.placements)


def laid_out(mesh: Mesh, frames: Floats) -> Mesh:
    """Copies of a mesh in frames ``(k, 4, 4)`` as one mesh."""
    k, n = len(frames), len(mesh.vertices)
    vertices = np.einsum("kij,nj->kni", frames[:, :3, :3], mesh.vertices)
    vertices += frames[:, None, :3, 3]
    faces = mesh.faces[None] + n * np.arange(k)[:, None, None]
    mirrored = np.linalg.det(frames[:, :3, :3]) < 0
    faces[mirrored] = faces[mirrored][:, :, ::-1]
    return Mesh(vertices.reshape(-1, 3), faces.reshape(-1, 3))

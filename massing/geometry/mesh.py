"""The data every part is made of: a mesh, a named part, a model.

A :class:`Part` is what a builder would name; it holds one closed mesh and, when the same
piece is set many times (columns, balusters, roof tiles), the placements of its copies.
Nothing downstream of a :class:`Model` knows about orders, windows or tiles.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    import trimesh

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


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


@dataclass(frozen=True, eq=False)
class Part:
    """A piece of the building under the name a builder would give it.

    Attributes:
        name: slash-separated, coarse to fine, e.g. ``porch/entablature/cornice/corona``.
        role: the material role, e.g. ``paint``, ``wall``, ``tile``, ``glass``.
        mesh: the shape in its own frame.
        placements: ``(k, 4, 4)`` frames of the copies, or None for one copy where it stands.
        solid: False for the few open sheets (the ground); every other mesh is closed.
    """

    name: str
    role: str
    mesh: Mesh
    placements: Floats | None = None
    solid: bool = True

    @property
    def count(self) -> int:
        """How many copies stand in the model."""
        return 1 if self.placements is None else len(self.placements)

    def under(self, prefix: str) -> Part:
        """The same part with ``prefix/`` before its name."""
        return replace(self, name=f"{prefix}/{self.name}")

    def placed(self, matrices: Floats) -> Part:
        """Copies at each of ``matrices`` ``(k, 4, 4)``; existing placements are composed."""
        matrices = np.asarray(matrices, dtype=float).reshape(-1, 4, 4)
        if self.placements is not None:
            matrices = np.einsum("aij,bjk->abik", matrices, self.placements).reshape(-1, 4, 4)
        return replace(self, placements=matrices)

    def moved(self, matrix: Floats) -> Part:
        """The part moved as a whole by one ``(4, 4)`` matrix."""
        if self.placements is None:
            return replace(self, mesh=self.mesh.moved(matrix))
        return self.placed(matrix)

    def world_mesh(self) -> Mesh:
        """All copies as one mesh in world coordinates."""
        if self.placements is None:
            return self.mesh
        k, n = len(self.placements), len(self.mesh.vertices)
        vertices = np.einsum("kij,nj->kni", self.placements[:, :3, :3], self.mesh.vertices)
        vertices += self.placements[:, None, :3, 3]
        faces = self.mesh.faces[None] + n * np.arange(k)[:, None, None]
        mirrored = np.linalg.det(self.placements[:, :3, :3]) < 0
        faces[mirrored] = faces[mirrored][:, :, ::-1]
        return Mesh(vertices.reshape(-1, 3), faces.reshape(-1, 3))


@dataclass(frozen=True, eq=False)
class Model:
    """The whole building as a flat list of parts, in metres.

    X runs along the front, Y into the house (the front faces -Y), Z up; the origin is on the
    ground at the middle of the front wall's face.
    """

    parts: tuple[Part, ...]
    name: str = ""
    notes: dict[str, str] = field(default_factory=dict)

    def select(self, *prefixes: str) -> list[Part]:
        """Parts whose name starts with any of ``prefixes`` (whole path steps)."""
        return [
            p
            for p in self.parts
            if any(p.name == q or p.name.startswith(q + "/") for q in prefixes)
        ]

    @cached_property
    def building_bounds(self) -> Floats:
        """``(2, 3)`` bounds of everything but the setting, metres."""
        boxes = [p.world_mesh().bounds for p in self.parts if not p.name.startswith("setting/")]
        return np.array(
            [np.min([b[0] for b in boxes], axis=0), np.max([b[1] for b in boxes], axis=0)]
        )

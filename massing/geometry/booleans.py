"""Cutting many copies of one closed mesh by planes, each cut closed with a cap."""

from __future__ import annotations

from collections.abc import Sequence

import manifold3d
import numpy as np

from massing.geometry.mesh import Floats, Ints, Mesh, cross, laid_out

Plane = tuple[Floats, float]  # unit normal (3,) and offset: what has n.p >= offset is kept
_OFF_PLANE_M = 1e-9


def cut_copies(mesh: Mesh, frames: Floats, planes: Sequence[Plane]) -> Mesh:
    """Copies of a closed mesh at ``frames`` ``(k, 4, 4)``, less what lies behind the planes.

    The copies must not touch one another on a plane; they come back as one mesh of closed
    bodies, without the copies that were wholly cut away.
    """
    return cut_apart(mesh, frames, planes)[0]


def cut_apart(mesh: Mesh, frames: Floats, planes: Sequence[Plane]) -> tuple[Mesh, Ints]:
    """As :func:`cut_copies`, and for each corner ``(n,)`` of what is left which copy it is of."""
    frames = np.asarray(frames, dtype=float)
    of = np.repeat(np.arange(len(frames)), len(mesh.vertices))
    if not planes:
        return laid_out(mesh, frames), of
    for normal, offset in planes:
        mesh, came_from = _cut_once(mesh, frames, normal, offset)
        of = of[came_from]
        frames = np.eye(4)[None]
        if not len(mesh.faces):
            break
    return mesh, of


def solid_of(mesh: Mesh) -> manifold3d.Manifold:
    """A closed mesh as a solid for Boolean work.

    Raises:
        ValueError: the mesh is not closed.
    """
    solid = manifold3d.Manifold(
        manifold3d.Mesh64(
            vert_properties=np.ascontiguousarray(mesh.vertices),
            tri_verts=np.ascontiguousarray(mesh.faces.astype(np.uint64)),
        )
    )
    if solid.status() != manifold3d.Error.NoError:
        raise ValueError(f"a mesh is not a closed solid: {solid.status()}")
    return solid


def mesh_of(solid: manifold3d.Manifold) -> Mesh:
    """The surface of a solid."""
    made = solid.to_mesh64()
    return Mesh(np.array(made.vert_properties)[:, :3], np.array(made.tri_verts).astype(np.int64))


def less(mesh: Mesh, other: Mesh) -> Mesh:
    """What is left of a closed mesh where another is taken out of it."""
    return mesh_of(solid_of(mesh) - solid_of(other))


def _cut_once(mesh: Mesh, frames: Floats, normal: Floats, offset: float) -> tuple[Mesh, Ints]:
    """Copies of a mesh in ``(k, 4, 4)`` frames cut by one plane, the cuts closed, in one mesh.

    With it, for each corner, a corner among those of all copies that it is or lies beside.
    """
    points = np.einsum("kij,nj->kni", frames[:, :3, :3], mesh.vertices) + frames[:, None, :3, 3]
    distance = points @ normal - offset
    distance[np.abs(distance) < _OFF_PLANE_M] = _OFF_PLANE_M
    kept = distance > 0.0

    ends, edge_of = _edges(mesh.faces)
    crossed = kept[:, ends[:, 0]] != kept[:, ends[:, 1]]
    copy, edge = np.nonzero(crossed)
    a, b = distance[copy, ends[edge, 0]], distance[copy, ends[edge, 1]]
    share = (a / (a - b))[:, None]
    on_plane = points[copy, ends[edge, 0]] * (1 - share) + points[copy, ends[edge, 1]] * share

    vertex_id = np.cumsum(kept.ravel()).reshape(kept.shape) - 1
    first = int(kept.sum())
    edge_id = np.full(crossed.shape, -1)
    edge_id[copy, edge] = first + np.arange(len(edge))

    inside = kept[:, mesh.faces]
    count = inside.sum(axis=-1)
    k, f = np.nonzero(count == 3)
    faces = [vertex_id[k[:, None], mesh.faces[f]]]

    following = np.full(len(edge), -1)
    for wanted in (1, 2):
        k, f = np.nonzero(count == wanted)
        odd = np.argmax(inside[k, f] == (wanted == 1), axis=1)
        turn = (odd[:, None] + np.arange(3)) % 3
        corner = vertex_id[k[:, None], mesh.faces[f[:, None], turn]]
        cut = edge_id[k[:, None], edge_of[f[:, None], turn]]
        before, after = cut[:, 2], cut[:, 0]
        if wanted == 1:
            faces.append(np.stack([corner[:, 0], after, before], 1))
            following[before - first] = after - first
        else:
            faces.append(np.stack([after, corner[:, 1], corner[:, 2]], 1))
            faces.append(np.stack([after, corner[:, 2], before], 1))
            following[after - first] = before - first
    faces.append(first + _caps(on_plane, following, normal))
    made = Mesh(np.concatenate([points[kept], on_plane]), np.concatenate(faces))
    beside = copy * len(mesh.vertices) + ends[edge, 0]
    return made, np.concatenate([np.flatnonzero(kept), beside])


def _edges(faces: Ints) -> tuple[Ints, Ints]:
    """Distinct edges ``(e, 2)`` and, per face, the edge that leaves each corner ``(m, 3)``."""
    following = faces[:, [1, 2, 0]]
    count = int(faces.max()) + 1
    keys = np.minimum(faces, following) * count + np.maximum(faces, following)
    edges, index = np.unique(keys, return_inverse=True)
    return np.stack(np.divmod(edges, count), axis=-1), index.reshape(faces.shape)


def _caps(points: Floats, following: Ints, normal: Floats) -> Ints:
    """Faces over the loops of a cut, looking away from ``normal``."""
    if not len(points):
        return np.empty((0, 3), dtype=np.int64)
    u = cross(normal, [0.0, 0.0, 1.0] if abs(normal[2]) < 0.9 else [1.0, 0.0, 0.0])
    u /= np.linalg.norm(u)
    flat = np.column_stack([points @ u, points @ cross(u, normal)])
    loops: list[list[int]] = []
    onward = following.tolist()
    seen = [False] * len(onward)
    for start in range(len(onward)):
        loop = []
        at = start
        while not seen[at]:
            seen[at] = True
            loop.append(at)
            at = onward[at]
        if loop:
            loops.append(loop)
    faces = manifold3d.triangulate([np.ascontiguousarray(flat[loop]) for loop in loops])
    return np.concatenate(loops)[np.asarray(faces, dtype=np.int64)]

"""The few shape makers that every part uses. Each returns a closed :class:`Mesh`, faces outward.

``box_between``  a block from its two extreme corners
``extrude``      a flat outline, with holes, pulled straight up
``prism``        an outline in any plane, pulled along a direction
``lathe``        a profile turned about the Z axis
``square_lathe`` a profile run round a square on the Z axis
``wall_block``   a profile run round three sides of a pier that stands on a wall
``sweep``        a moulding run along a plan path, mitred at its corners
``loft``         a skin through sections that share a vertex count
``union``        one solid from several that touch
"""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Sequence

import manifold3d
import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats, Ints, Mesh, cross

_BOX_FACES = np.array(
    [[0, 2, 1], [1, 2, 3], [4, 5, 6], [5, 7, 6], [0, 1, 4], [1, 5, 4]]
    + [[2, 6, 3], [3, 6, 7], [0, 4, 2], [2, 4, 6], [1, 3, 5], [3, 7, 5]]
)


def box_between(low: ArrayLike, high: ArrayLike) -> Mesh:
    """A block from its lowest to its highest corner (metres).

    Raises:
        ValueError: a side is not positive.
    """
    low, high = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    if not (high > low).all():
        raise ValueError(f"a block needs positive sides, got {low} to {high}")
    index = np.array([[i & 1, i >> 1 & 1, i >> 2 & 1] for i in range(8)])
    return Mesh(np.where(index == 1, high, low), _BOX_FACES)


def _next(count: int) -> Ints:
    """The place after each of a ring of ``count``."""
    places = np.arange(1, count + 1)
    places[-1] = 0
    return places


def signed_area(outline: ArrayLike) -> float:
    """Area of a plan polygon ``(n, 2)``; positive when it runs counter-clockwise."""
    x, y = np.asarray(outline, dtype=float).T
    return float(0.5 * (x[:-1] @ y[1:] - x[1:] @ y[:-1] + x[-1] * y[0] - x[0] * y[-1]))


def triangulate(outline: ArrayLike, holes: Sequence[ArrayLike] = ()) -> tuple[Floats, Ints]:
    """Triangles of a polygon with holes.

    Returns ``(points (n, 2), faces (m, 3))``, faces counter-clockwise; rings are re-ordered to
    outline counter-clockwise and holes clockwise, in the order given.
    """
    rings = [_turned(outline, +1), *(_turned(h, -1) for h in holes)]
    points = np.concatenate(rings)
    # Plain ear clipping may drop a point that a bridge to a hole makes collinear, and leave a
    # crack; this one keeps every edge of every ring.
    faces = manifold3d.triangulate([np.ascontiguousarray(r) for r in rings]).astype(np.int64)
    return points, faces


def _turned(ring: ArrayLike, sense: int) -> Floats:
    ring = np.asarray(ring, dtype=float)
    return ring if signed_area(ring) * sense > 0 else ring[::-1]


def extrude(outline: ArrayLike, height_m: float, holes: Sequence[ArrayLike] = ()) -> Mesh:
    """A plan outline ``(n, 2)`` with ``holes``, pulled from z = 0 up to ``height_m``."""
    points, faces = triangulate(outline, holes)
    n = len(points)
    walls = []
    start = 0
    for size in (len(np.asarray(ring)) for ring in (outline, *holes)):
        i = start + np.arange(size)
        j = start + _next(size)
        walls += [np.stack([i, j, j + n], 1), np.stack([i, j + n, i + n], 1)]
        start += size
    vertices = np.concatenate(
        [np.column_stack([points, np.full(n, z)]) for z in (0.0, float(height_m))]
    )
    return Mesh(vertices, np.concatenate([faces[:, ::-1], faces + n, *walls]))


def prism(
    outline: ArrayLike,
    origin: ArrayLike,
    u: ArrayLike,
    v: ArrayLike,
    depth_m: float,
    holes: Sequence[ArrayLike] = (),
) -> Mesh:
    """An outline ``(n, 2)`` in the plane of ``u`` and ``v``, pulled along ``u x v``.

    ``origin`` is where (0, 0) of the outline stands; ``u`` and ``v`` are unit and square to
    each other. An elevation drawn on the front (x right, z up) takes ``u=(1,0,0)``,
    ``v=(0,0,1)`` and then grows towards -Y.
    """
    u, v = np.asarray(u, dtype=float), np.asarray(v, dtype=float)
    frame = np.eye(4)
    frame[:3, 0], frame[:3, 1], frame[:3, 2] = u, v, cross(u, v)
    frame[:3, 3] = origin
    return extrude(outline, depth_m, holes).moved(frame)


def lathe(profile: ArrayLike, segments: int = 48) -> Mesh:
    """A profile ``(n, 2)`` of (radius, z), bottom to top, turned about the Z axis.

    Open ends are closed by discs; a radius of 0 at either end makes a point.

    Raises:
        ValueError: fewer than two points, or a negative radius.
    """
    profile = np.asarray(profile, dtype=float)
    if len(profile) < 2 or (profile[:, 0] < 0).any():
        raise ValueError("a lathe profile needs two or more points with radius >= 0")
    angle = np.linspace(0.0, 2.0 * np.pi, segments, endpoint=False)
    ring = np.column_stack([np.cos(angle), np.sin(angle)])
    body = profile[profile[:, 0] > 0]
    k = len(body)
    vertices = np.concatenate(
        [np.column_stack([r * ring, np.full(segments, z)]) for r, z in body]
        + [[[0.0, 0.0, profile[0, 1]], [0.0, 0.0, profile[-1, 1]]]]
    )
    faces = [_rings_skin(k, segments, closed=True)]
    i = np.arange(segments)
    j = np.roll(i, -1)
    bottom, top, last = k * segments, k * segments + 1, (k - 1) * segments
    faces.append(np.stack([np.full(segments, bottom), j, i], 1))
    faces.append(np.stack([np.full(segments, top), last + i, last + j], 1))
    return Mesh(vertices, np.concatenate(faces))


def square_lathe(profile: Floats) -> Mesh:
    """A profile ``(n, 2)`` of (half width, z), bottom to top, run round a square on the axis."""
    corners = np.array([[1.0, -1.0], [1.0, 1.0], [-1.0, 1.0], [-1.0, -1.0]])
    plan = profile[:, None, :1] * corners[None]
    rise = np.broadcast_to(profile[:, None, 1:], (len(profile), 4, 1))
    return loft(np.concatenate([plan, rise], axis=-1))


def wall_block(edge: Floats, half_width_m: float, out_m: float) -> Mesh:
    """A profile ``(n, 2)`` of (reach beyond the face, z) run round three sides of a pier."""
    reach, z = edge.T
    side, front = half_width_m + reach, -(out_m + reach)
    rings = np.stack(
        [
            np.column_stack([-side, np.zeros_like(z), z]),
            np.column_stack([-side, front, z]),
            np.column_stack([side, front, z]),
            np.column_stack([side, np.zeros_like(z), z]),
        ],
        axis=1,
    )
    return loft(rings)


def _rings_skin(rings: int, per_ring: int, *, closed: bool) -> Ints:
    """Faces between successive rings of ``per_ring`` vertices each."""
    i = np.arange(per_ring if closed else per_ring - 1)
    j = (i + 1) % per_ring
    k = per_ring * np.arange(rings - 1)[:, None]
    a, b, c, d = i + k, j + k, j + k + per_ring, i + k + per_ring
    return np.concatenate(
        [np.stack([a, b, c], -1).reshape(-1, 3), np.stack([a, c, d], -1).reshape(-1, 3)]
    )


def loft(sections: ArrayLike, *, closed: bool = False) -> Mesh:
    """A skin through ``sections`` ``(k, n, 3)``, each a ring of n points.

    With ``closed`` the last section joins the first; otherwise the two end sections, which
    must be planar, are capped. The sections may turn either way; faces come out outward.
    """
    sections = np.asarray(sections, dtype=float)
    k, n, _ = sections.shape
    vertices = sections.reshape(-1, 3)
    if closed:
        faces = _rings_skin(k + 1, n, closed=True) % (k * n)
    else:
        caps = []
        for ring, base in ((sections[0], 0), (sections[-1], (k - 1) * n)):
            caps.append(_cap(ring) + base)
        faces = np.concatenate([_rings_skin(k, n, closed=True), caps[0][:, ::-1], caps[1]])
    mesh = Mesh(vertices, faces)
    return mesh if mesh.volume_m3 > 0 else Mesh(vertices, faces[:, ::-1])


def _cap(ring: Floats) -> Ints:
    """Triangles over a planar ring of points ``(n, 3)``, in the ring's own sense."""
    normal = cross(ring, ring[_next(len(ring))]).sum(axis=0)
    normal /= np.linalg.norm(normal)
    u = cross(normal, [0.0, 0.0, 1.0] if abs(normal[2]) < 0.9 else [1.0, 0.0, 0.0])
    u /= np.linalg.norm(u)
    flat = np.column_stack([ring @ u, ring @ cross(normal, u)])
    _, faces = triangulate(flat)
    return faces


def offset_directions(path: ArrayLike, *, closed: bool = False) -> Floats:
    """Mitre directions ``(k, 2)`` at the points of a plan path ``(k, 2)``.

    Moving a point by ``d`` times its direction moves both neighbouring segments sideways by
    ``d`` to the right of travel: for unit normals a, b the direction is (a + b) / (1 + a.b).

    Raises:
        ValueError: two successive points coincide, or the path turns back on itself.
    """
    path = np.asarray(path, dtype=float)
    steps = (np.roll(path, -1, axis=0) if closed else path[1:]) - (path if closed else path[:-1])
    lengths = np.linalg.norm(steps, axis=1)
    if (lengths < 1e-9).any():
        raise ValueError("two successive points of a path coincide")
    normals = np.column_stack([steps[:, 1], -steps[:, 0]]) / lengths[:, None]
    if closed:
        before, after = np.roll(normals, 1, axis=0), normals
    else:
        before = np.concatenate([normals[:1], normals])
        after = np.concatenate([normals, normals[-1:]])
    cosine = np.einsum("ij,ij->i", before, after)
    if (cosine < -0.999).any():
        raise ValueError("a path turns back on itself")
    return (before + after) / (1.0 + cosine)[:, None]


def sweep(
    profile: ArrayLike,
    path: ArrayLike,
    *,
    closed: bool = False,
    before: ArrayLike | None = None,
    after: ArrayLike | None = None,
) -> Mesh:
    """A moulding run along a plan path with mitred corners.

    Args:
        profile: ``(n, 2)`` closed outline of the section, (out, up) in metres; ``out`` is
            measured to the right of travel from the path.
        path: ``(k, 2)`` plan points, metres.
        closed: the path returns to its first point.
        before, after: the plan point that another run comes from or goes on to; that end is
            then cut on the mitre instead of square.

    Returns:
        A closed mesh with capped ends.
    """
    profile, path = np.asarray(profile, dtype=float), np.asarray(path, dtype=float)
    ghosts = [[] if p is None else [np.asarray(p, dtype=float)] for p in (before, after)]
    across = offset_directions(np.array([*ghosts[0], *path, *ghosts[1]]), closed=closed)
    across = across[len(ghosts[0]) : len(ghosts[0]) + len(path)]
    plan = path[:, None, :] + profile[None, :, :1] * across[:, None, :]
    rise = np.broadcast_to(profile[None, :, 1:], (*plan.shape[:2], 1))
    return loft(np.concatenate([plan, rise], axis=-1), closed=closed)


_united: OrderedDict[bytes, Mesh] = OrderedDict()
_MOST_UNITED = 64


def union(meshes: Sequence[Mesh]) -> Mesh:
    """One solid from several that touch or overlap, as where rails run into a pedestal.

    The last few are kept: when a house is edited most of them are asked for again.
    """
    digest = hashlib.blake2b(digest_size=16)
    for mesh in meshes:
        for array in (mesh.vertices, mesh.faces):
            digest.update(repr(array.shape).encode())
            digest.update(np.ascontiguousarray(array).tobytes())
    key = digest.digest()
    if key not in _united:
        _united[key] = _union(meshes)
        if len(_united) > _MOST_UNITED:
            _united.popitem(last=False)
    _united.move_to_end(key)
    return _united[key]


def _union(meshes: Sequence[Mesh]) -> Mesh:
    whole = manifold3d.Manifold.batch_boolean(
        [
            manifold3d.Manifold(manifold3d.Mesh64(m.vertices, m.faces.astype(np.uint64)))
            for m in meshes
        ],
        manifold3d.OpType.Add,
    ).to_mesh64()
    return Mesh(
        np.array(whole.vert_properties, dtype=float)[:, :3],  # the original is read-only
        np.asarray(whole.tri_verts).astype(np.int64),
    )


def translations(points: ArrayLike) -> Floats:
    """Placement matrices ``(k, 4, 4)`` for ``points`` ``(k, 3)``, unturned."""
    points = np.asarray(points, dtype=float).reshape(-1, 3)
    frames = np.tile(np.eye(4), (len(points), 1, 1))
    frames[:, :3, 3] = points
    return frames


def frame(origin: ArrayLike, x: ArrayLike, y: ArrayLike, z: ArrayLike) -> Floats:
    """A ``(4, 4)`` placement from an origin and three axis directions."""
    matrix = np.eye(4)
    matrix[:3, 0], matrix[:3, 1], matrix[:3, 2], matrix[:3, 3] = x, y, z, origin
    return matrix


def turned_about_z(angle_rad: float, origin: ArrayLike = (0.0, 0.0, 0.0)) -> Floats:
    """A ``(4, 4)`` placement turned counter-clockwise about Z, seen from above."""
    c, s = np.cos(angle_rad), np.sin(angle_rad)
    return frame(origin, (c, s, 0.0), (-s, c, 0.0), (0.0, 0.0, 1.0))


def bodies(mesh: Mesh) -> list[Mesh]:
    """The separate bodies of a mesh, whose faces hang together by their edges.

    >>> from massing.geometry.mesh import merged
    >>> two = merged([box_between((0, 0, 0), (1, 1, 1)), box_between((2, 0, 0), (3, 1, 1))])
    >>> [body.bounds[0, 0].item() for body in bodies(two)]
    [0.0, 2.0]
    """
    body = body_of_faces(mesh)
    made = []
    for number in np.unique(body):
        faces = mesh.faces[body == number]
        used, renumbered = np.unique(faces, return_inverse=True)
        made.append(Mesh(mesh.vertices[used], renumbered.reshape(-1, 3)))
    return made


def body_of_faces(mesh: Mesh) -> Ints:
    """For each face ``(m,)`` the first face of its body: those that hang together by edges."""
    faces = mesh.faces
    following = faces[:, [1, 2, 0]]
    keys = np.minimum(faces, following) * (int(faces.max()) + 1) + np.maximum(faces, following)
    keys = keys.ravel()
    order = np.argsort(keys, kind="stable")
    starts = np.flatnonzero(np.diff(keys[order], prepend=-1))
    beside = order // 3
    # Face by face what stands beside it round each edge: in a closed mesh one face, or more.
    edge = np.repeat(np.arange(len(starts)), np.diff(starts, append=len(keys)))
    of_side = np.empty_like(edge)
    of_side[order] = edge
    paired = len(keys) == 2 * len(starts) and (np.diff(starts) == 2).all()
    across = np.empty_like(beside)
    if paired:
        across[order] = beside.reshape(-1, 2)[:, ::-1].ravel()
    body = np.arange(len(faces))
    while True:  # each face takes the least number among those beside it
        found = body[across] if paired else np.minimum.reduceat(body[beside], starts)[of_side]
        a, b, c = found.reshape(-1, 3).T
        lower = np.minimum(np.minimum(a, b), np.minimum(c, body))
        lower = lower[lower[lower]]  # and of those that these follow, so that few rounds are needed
        if (lower == body).all():
            return body
        body = lower


def volumes_m3(mesh: Mesh, body: Ints) -> Floats:
    """The signed volume of each body of :func:`body_of_faces`, in the order of their numbers."""
    a, b, c = (mesh.vertices[mesh.faces[:, i]] for i in range(3))
    _, number = np.unique(body, return_inverse=True)
    return np.bincount(number, np.einsum("ij,ij->i", a, cross(b, c))) / 6.0

"""Line elevations of parts: edges and outlines with the hidden ones left out."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from massing.geometry.mesh import Floats, Ints, Mesh
from massing.geometry.rays import Caster
from massing.parts.part import Part

_CLEARANCE = 2e-4  # of the parts' size: what lies nearer than this hides nothing
_FINE = (2e-5, 5e-4)  # of turned mouldings, whose curves meet at a tangent: aside, and nearer

_LEAF_FALL = 1.2e-3  # what lies beside an outline of carved leaves falls back so far, at least


def front_lines(
    parts: Sequence[Part],
    *,
    sharp_deg: float = 32.0,
    finest_m: float | None = None,
    drawn: Sequence[Floats] = (),
    turned: bool = False,
) -> Floats:
    """Visible lines of ``parts`` seen from the front, looking along +Y without perspective.

    A line is an edge where two faces meet at more than ``sharp_deg``, or where one faces the
    viewer and the other does not. Lines are tested in pieces no longer than ``finest_m``
    (default: a thousandth of the parts' size) and pieces in a row are joined again. ``drawn``
    are further lines ``(n, 3)`` on the parts' surfaces, where no edge is. ``turned`` shows the
    lines where one rounded moulding springs from another, as of a column.

    Returns:
        ``(n, 2, 2)`` segments as (x, z), metres.
    """
    caster = Caster(parts)
    meshes = [p.world_mesh() for p in parts]
    low = np.min([m.bounds[0] for m in meshes], axis=0)
    high = np.max([m.bounds[1] for m in meshes], axis=0)
    size = float(np.max(high - low))
    finest = finest_m or size / 1000.0
    found = [
        _edges(m, 180.0 if p.carved else sharp_deg) for p, m in zip(parts, meshes, strict=True)
    ]
    edges = np.concatenate(found)
    carved = np.repeat([p.carved for p in parts], [len(e) for e in found])
    if len(drawn):
        more = [np.stack([line[:-1], line[1:]], axis=1) for line in drawn]
        edges = np.concatenate([edges, *more])
        carved = np.concatenate([carved, np.zeros(sum(map(len, more)), dtype=bool)])
    seen = (edges[:, 1] - edges[:, 0])[:, [0, 2]]
    long = np.linalg.norm(seen, axis=1) > 1e-3 * finest
    edges, carved = edges[long], carved[long]
    if not len(edges):
        return np.zeros((0, 2, 2))
    kept = _nearest_of_those_in_line(edges, 1e-6 * size)
    edges, carved = edges[kept], carved[kept]
    counts = np.maximum(1, np.ceil(_length(edges) / finest)).astype(int)
    owner = np.repeat(np.arange(len(edges)), counts)
    step = np.arange(len(owner)) - np.repeat(np.cumsum(counts) - counts, counts)
    start, end = step / counts[owner], (step + 1) / counts[owner]
    ray = edges[:, 1] - edges[:, 0]
    middle = edges[owner, 0] + ((start + end) / 2.0)[:, None] * ray[owner]
    # An edge is seen if the view to either side of it is free: on the edge itself a ray may
    # graze the very faces that meet there.
    beside, nearer = _FINE if turned else (_CLEARANCE, _CLEARANCE)
    aside = beside * size * np.array([(0, 0), (1, 0), (-1, 0), (0, 1), (0, -1)])
    visible, fall = np.zeros(len(middle), dtype=bool), np.zeros(len(middle))
    for x, z in aside:
        origins = middle + [x, 0.0, z]
        origins[:, 1] = low[1] - size
        hits = caster.first_hit(origins, [0.0, 1.0, 0.0]).points[:, 1]
        visible |= ~(hits < middle[:, 1] - nearer * size)  # NaN: nothing in the way
        fall = np.fmax(fall, np.where(np.isnan(hits), np.inf, hits - middle[:, 1]))
    visible &= ~carved[owner] | (fall > _LEAF_FALL * size)

    new = visible.copy()
    new[1:] &= ~(visible[:-1] & (owner[1:] == owner[:-1]))
    last = visible.copy()
    last[:-1] &= ~(visible[1:] & (owner[1:] == owner[:-1]))
    first, final = np.flatnonzero(new), np.flatnonzero(last)
    a = edges[owner[first], 0] + start[first, None] * ray[owner[first]]
    b = edges[owner[final], 0] + end[final, None] * ray[owner[final]]
    return np.stack([a, b], axis=1)[..., [0, 2]]


def _nearest_of_those_in_line(edges: Floats, tolerance_m: float) -> Ints:
    """Of edges that fall on the very same segment of the drawing, the indices of the foremost."""
    rank = np.argsort(edges[..., 1].min(axis=1), kind="stable")
    edges = edges[rank]
    ends = np.round(edges[..., [0, 2]] / tolerance_m).astype(np.int64)
    swap = (ends[:, 0, 0] > ends[:, 1, 0]) | (
        (ends[:, 0, 0] == ends[:, 1, 0]) & (ends[:, 0, 1] > ends[:, 1, 1])
    )
    ends[swap] = ends[swap][:, ::-1]
    _, first = np.unique(ends.reshape(-1, 4), axis=0, return_index=True)
    return rank[np.sort(first)]


def _length(edges: Floats) -> Floats:
    return np.linalg.norm(edges[:, 1] - edges[:, 0], axis=1)


def _edges(mesh: Mesh, sharp_deg: float) -> Floats:
    """Sharp edges and outlines of one mesh, ``(n, 2, 3)``."""
    solid = mesh.to_trimesh()
    normals = solid.face_normals
    pairs, corners = solid.face_adjacency, solid.face_adjacency_edges
    toward = normals[:, 1] < 1e-9
    outline = toward[pairs[:, 0]] != toward[pairs[:, 1]]
    sharp = solid.face_adjacency_angles > np.radians(sharp_deg)
    front = toward[pairs].any(axis=1)
    return np.asarray(mesh.vertices[corners[(outline | sharp) & front]], dtype=float)

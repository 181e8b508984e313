"""What the tests of parts ask of a mesh, and small designs to build from."""

from __future__ import annotations

from collections.abc import Sequence

import manifold3d
import numpy as np

from massing.mesh import Mesh, Part


def assert_closed(parts: Sequence[Part]) -> None:
    """Every solid part is watertight, wound outwards, and has a volume."""
    for part in parts:
        if part.solid:
            solid = part.mesh.to_trimesh()
            assert solid.is_watertight, part.name
            assert solid.is_winding_consistent, part.name
            assert solid.volume > 0.0, part.name


def manifold(mesh: Mesh) -> manifold3d.Manifold:
    """The mesh as a solid for Boolean checks."""
    solid = manifold3d.Manifold(
        manifold3d.Mesh64(
            vert_properties=np.ascontiguousarray(mesh.vertices),
            tri_verts=np.ascontiguousarray(mesh.faces.astype(np.uint64)),
        )
    )
    assert solid.status() == manifold3d.Error.NoError
    return solid


def overlaps(parts: Sequence[Part], tolerance_m3: float = 1e-9) -> list[tuple[str, str, float]]:
    """Pairs of parts, all copies counted, that share more than ``tolerance_m3``."""
    solids = [(p.name, manifold(p.world_mesh()), p.world_mesh().bounds) for p in parts]
    found = []
    for i, (one, a, a_box) in enumerate(solids):
        for other, b, b_box in solids[i + 1 :]:
            if (a_box[0] < b_box[1]).all() and (b_box[0] < a_box[1]).all():
                shared = (a ^ b).volume()
                if shared > tolerance_m3:
                    found.append((one, other, shared))
    return found


def body_overlaps(parts: Sequence[Part], tolerance_m3: float = 1e-9) -> list[tuple[str, str]]:
    """The same between every two closed bodies, so also between copies of one part."""
    bodies = [
        (p.name, body, np.array(body.bounding_box()))
        for p in parts
        for body in manifold(p.world_mesh()).decompose()
    ]
    found = []
    for i, (one, a, a_box) in enumerate(bodies):
        for other, b, b_box in bodies[i + 1 :]:
            touching = (a_box[:3] < b_box[3:]).all() and (b_box[:3] < a_box[3:]).all()
            if touching and (a ^ b).volume() > tolerance_m3:
                found.append((one, other))
    return found


def extent(parts: Sequence[Part]) -> np.ndarray:
    """``(2, 3)`` bounds of several parts."""
    boxes = [p.world_mesh().bounds for p in parts]
    return np.array([np.min(boxes, axis=0)[0], np.max(boxes, axis=0)[1]])

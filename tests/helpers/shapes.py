"""What the tests of parts ask of a mesh, and small designs to build from."""

from __future__ import annotations

from collections.abc import Sequence

import manifold3d
import numpy as np

from massing.design.site import GroundDesign
from massing.geometry.mesh import Mesh
from massing.parts.part import Model, Part


def assert_closed(parts: Sequence[Part]) -> None:
    """Every solid part is watertight, wound outwards, and has a volume."""
    for part in parts:
        if part.solid:
            solid = part.mesh.to_trimesh()
            assert solid.is_watertight, part.name
            assert solid.is_winding_consistent, part.name
            assert solid.volume > 0.0, part.name


FOOTED = ("house/foundation", "wing/foundation", "floor/base", "landing/base")
FOOTED += ("steps/risers", "steps/cheek walls", "steps/rings")


def assert_on_the_ground(model: Model, lie: GroundDesign) -> None:
    """Every part that stands on the ground has its whole foot on it, or in it if it slopes."""
    standing = [p for p in model.parts if p.name.endswith(FOOTED)]
    assert standing
    for part in standing:
        vertices = part.world_mesh().vertices
        foot = vertices[vertices[:, 2] < vertices[:, 2].min() + 1e-6]
        ground = lie.z_m(foot[:, 0], foot[:, 1])
        assert (foot[:, 2] <= ground + 1e-9 if lie.level else foot[:, 2] < ground).all(), part.name
        (x0, y0), (x1, y1) = vertices[:, :2].min(axis=0), vertices[:, :2].max(axis=0)
        assert np.ptp(foot[:, 0]) > 0.8 * (x1 - x0), part.name
        assert np.ptp(foot[:, 1]) > 0.8 * (y1 - y0), part.name


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

"""The model as the two plain formats that every program reads: OBJ with its colours, and STL."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from massing.geometry.copies import rigid_groups
from massing.geometry.creases import Shaded, shaded
from massing.geometry.mesh import Mesh
from massing.parts.part import Model, Part
from massing.practice.cautions import CAUTION, comment
from massing.practice.finishes import finish_of, part_role
from massing.present.models.names import distinct

MM_PER_M = 1000.0


def obj(model: Model, colours_name: str) -> tuple[str, str]:
    """A model as Wavefront OBJ, metres, Y up; and the MTL file ``colours_name`` it refers to.

    Each part is an object under the builder's name, its copies laid out.
    """
    lines = [f"# {model.name}: metres, Y up", comment().rstrip(), f"mtllib {colours_name}"]
    roles: dict[str, str] = {}
    before = 0
    for part, name in zip(model.parts, distinct([p.name for p in model.parts]), strict=True):
        drawn = _laid_out(part)
        role = part_role(part.role, model.notes)
        roles[role] = role.replace(" ", "_")
        lines += [f"o {name.replace(' ', '_')}", f"usemtl {roles[role]}"]
        lines += _rows("v %.5f %.5f %.5f", _y_up(drawn.vertices))
        lines += _rows("vn %.3f %.3f %.3f", _y_up(drawn.normals))
        corners = np.repeat(drawn.faces + before + 1, 2, axis=1)
        lines += _rows("f %d//%d %d//%d %d//%d", corners)
        before += len(drawn.vertices)
    return "\n".join(lines) + "\n", _colours(roles)


def _laid_out(part: Part) -> Shaded:
    """A part with all its copies as one shaded mesh."""
    pieces = []
    for _, mesh, frames in rigid_groups(part):
        drawn = shaded(mesh)
        if frames is None:
            pieces.append(drawn)
            continue
        turns, places = frames[:, :3, :3], frames[:, :3, 3]
        vertices = np.einsum("kij,nj->kni", turns, drawn.vertices) + places[:, None]
        normals = np.einsum("kij,nj->kni", turns, drawn.normals)
        steps = len(drawn.vertices) * np.arange(len(frames))[:, None, None]
        faces = (drawn.faces[None] + steps).reshape(-1, 3)
        pieces.append(Shaded(vertices.reshape(-1, 3), normals.reshape(-1, 3), faces))
    starts = np.cumsum([0, *(len(p.vertices) for p in pieces[:-1])])
    return Shaded(
        np.concatenate([p.vertices for p in pieces]),
        np.concatenate([p.normals for p in pieces]),
        np.concatenate([p.faces + k for p, k in zip(pieces, starts, strict=True)]),
    )


def _colours(roles: dict[str, str]) -> str:
    lines = []
    for role, written in sorted(roles.items()):
        red, green, blue = (_to_srgb(c) for c in finish_of(role).colour)
        lines += [f"newmtl {written}", f"Kd {red:.4f} {green:.4f} {blue:.4f}", "illum 1", ""]
    return "\n".join(lines)


def _to_srgb(linear: float) -> float:
    """A linear value as programs of this format expect it (IEC 61966-2-1)."""
    return 12.92 * linear if linear <= 0.0031308 else 1.055 * linear ** (1 / 2.4) - 0.055


def _rows(form: str, values: np.ndarray) -> list[str]:
    return [form % tuple(row) for row in values.tolist()]


def _y_up(vectors: np.ndarray) -> np.ndarray:
    """``(n, 3)`` from Z up to Y up: x, z, -y; zeros without a sign."""
    return np.column_stack([vectors[:, 0], vectors[:, 2], -vectors[:, 1]]) + 0.0


def stl(model: Model) -> bytes:
    """The solids of a model as one binary STL, Z up, in millimetres, as those who print expect.

    The format has neither names nor copies nor colours; open sheets are left out. Of its head's
    80 letters the caution's beginning takes most.
    """
    solids: Sequence[Mesh] = [part.world_mesh() for part in model.parts if part.solid]
    triangles = np.concatenate([mesh.triangles for mesh in solids]) * MM_PER_M
    normals = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    size = np.linalg.norm(normals, axis=1, keepdims=True)
    record = np.zeros(
        len(triangles), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")]
    )
    record["normal"] = np.divide(normals, size, out=np.zeros_like(normals), where=size > 0.0)
    record["corners"] = triangles
    head = f"{CAUTION.partition(':')[0]}; mm, Z up: {model.name}".encode("ascii", "replace")[:80]
    return head.ljust(80) + np.array([len(triangles)], dtype="<u4").tobytes() + record.tobytes()

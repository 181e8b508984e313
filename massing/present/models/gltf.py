"""The model as glTF 2.0 in one binary file, its copies as instances.

A part is a node under the builder's name, with its role in ``extras``; a design is a scene, its
root turned so that Y is up. Pieces that designs have in common are held once. Copies are
``EXT_mesh_gpu_instancing``; ``compact`` adds ``KHR_mesh_quantization``, for a page that is to
be small: positions to a 65 535th of the part's longest side, normals to half a degree.

Specifications: Khronos, glTF 2.0 and the two extensions' registry pages.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import NDArray

from massing import __version__
from massing.geometry.copies import rigid_groups
from massing.geometry.creases import Shaded, shaded
from massing.geometry.mesh import Floats, Mesh
from massing.parts.part import Model, Part
from massing.practice.cautions import CAUTION
from massing.practice.finishes import finish_of, part_role

INSTANCES = "EXT_mesh_gpu_instancing"
QUANTISED = "KHR_mesh_quantization"
Y_UP = [-(0.5**0.5), 0.0, 0.0, 0.5**0.5]  # a quarter turn about X: Z to Y, and -Y to Z

_MAGIC, _JSON, _BIN = 0x46546C67, 0x4E4F534A, 0x004E4942
_TYPES = {"int8": 5120, "uint8": 5121, "int16": 5122, "uint16": 5123, "uint32": 5125}
_TYPES["float32"] = 5126
_VERTICES, _INDICES = 34962, 34963
_QUANTISED_UP_TO_M = 64.0  # a millimetre's step; what is larger keeps its floats


def glb(models: Sequence[Model], *, compact: bool = False) -> bytes:
    """Models as one binary glTF file, a scene for each, the first one shown.

    The same models give the same bytes.
    """
    file = _File(compact)
    scenes = [file.scene(model) for model in models]
    return file.packed(scenes)


@dataclass
class _File:
    compact: bool
    nodes: list[dict[str, Any]] = field(default_factory=list)
    meshes: list[dict[str, Any]] = field(default_factory=list)
    materials: list[dict[str, Any]] = field(default_factory=list)
    accessors: list[dict[str, Any]] = field(default_factory=list)
    views: list[dict[str, Any]] = field(default_factory=list)
    data: bytearray = field(default_factory=bytearray)
    extensions: set[str] = field(default_factory=set)
    _known: dict[Any, Any] = field(default_factory=dict)

    def once(self, key: Any, make: Any) -> Any:
        """What ``make`` gives for a key, made the first time."""
        if key not in self._known:
            self._known[key] = make()
        return self._known[key]

    # --- nodes ---------------------------------------------------------------------------

    def scene(self, model: Model) -> dict[str, Any]:
        parts = [self.part(part, part_role(part.role, model.notes)) for part in model.parts]
        root = self.node({"name": model.name, "rotation": Y_UP, "children": parts})
        return {"name": model.name, "nodes": [root]}

    def node(self, content: dict[str, Any]) -> int:
        self.nodes.append(content)
        return len(self.nodes) - 1

    def part(self, part: Part, role: str) -> int:
        extras = {"part": part.key, "role": role, "copies": part.count}
        groups = rigid_groups(part)
        if len(groups) == 1:
            _, mesh, frames = groups[0]
            return self.node(
                {"name": part.name, **self.piece(mesh, frames, role, part), "extras": extras}
            )
        children = [
            self.node({"name": part.name + suffix, **self.piece(mesh, frames, role, part)})
            for suffix, mesh, frames in groups
        ]
        return self.node({"name": part.name, "children": children, "extras": extras})

    def piece(self, mesh: Mesh, frames: Floats | None, role: str, part: Part) -> dict[str, Any]:
        """A node's mesh and where it stands."""
        number, step, origin = self.once(
            (_digest(mesh), role, part.solid), partial(self.mesh, mesh, role, part.solid)
        )
        if frames is None:
            moved = {"translation": origin.tolist(), "scale": [step] * 3} if step != 1.0 else {}
            return {"mesh": number, **moved}
        places = frames[:, :3, 3] + frames[:, :3, :3] @ origin
        turns = quaternions(frames[:, :3, :3])
        attributes = {"TRANSLATION": self.accessor(places.astype(np.float32), "VEC3")}
        if self.compact:
            turns = np.round(turns * 32767.0).astype(np.int16)
            attributes["ROTATION"] = self.accessor(turns, "VEC4", normalized=True)
        else:
            attributes["ROTATION"] = self.accessor(turns.astype(np.float32), "VEC4")
        if step != 1.0:
            steps = np.full((len(frames), 3), step, dtype=np.float32)
            attributes["SCALE"] = self.accessor(steps, "VEC3")
        self.extensions.add(INSTANCES)
        return {"mesh": number, "extensions": {INSTANCES: {"attributes": attributes}}}

    # --- meshes --------------------------------------------------------------------------

    def mesh(self, mesh: Mesh, role: str, solid: bool) -> tuple[int, float, Floats]:
        """A mesh's number, and what its positions are to be scaled and then moved by."""
        drawn = shaded(mesh)
        step, origin = 1.0, np.zeros(3)
        low, high = drawn.vertices.min(axis=0), drawn.vertices.max(axis=0)
        if self.compact and (high - low).max() <= _QUANTISED_UP_TO_M:
            self.extensions.add(QUANTISED)
            origin = (low + high) / 2.0
            step = max(float((high - low).max()), 1e-3) / 65534.0
            position = np.round((drawn.vertices - origin) / step).astype(np.int16)
        else:
            position = drawn.vertices.astype(np.float32)
        primitive = {
            "attributes": {
                "POSITION": self.accessor(position, "VEC3", target=_VERTICES, bounds=True),
                "NORMAL": self.normals(drawn, step != 1.0),
            },
            "indices": self.indices(drawn),
            "material": self.once((role, solid), partial(self.material, role, solid)),
        }
        self.meshes.append({"primitives": [primitive]})
        return len(self.meshes) - 1, step, origin

    def normals(self, drawn: Shaded, small: bool) -> int:
        if not small:
            normals = drawn.normals.astype(np.float32)
            return self.accessor(normals, "VEC3", target=_VERTICES)
        fine = np.round(drawn.normals * 127.0).astype(np.int8)
        return self.accessor(fine, "VEC3", target=_VERTICES, normalized=True)

    def indices(self, drawn: Shaded) -> int:
        kind = np.uint16 if len(drawn.vertices) < 65535 else np.uint32
        return self.accessor(drawn.faces.astype(kind).reshape(-1, 1), "SCALAR", target=_INDICES)

    def material(self, role: str, solid: bool) -> int:
        finish = finish_of(role)
        content: dict[str, Any] = {
            "name": finish.name,
            "pbrMetallicRoughness": {
                "baseColorFactor": [*(round(c, 4) for c in finish.colour), 1.0],
                "metallicFactor": 0.0,
                "roughnessFactor": round(finish.roughness, 3),
            },
            "extras": {"role": role},
        }
        if not solid:
            content["doubleSided"] = True
        self.materials.append(content)
        return len(self.materials) - 1

    # --- bytes ---------------------------------------------------------------------------

    def accessor(
        self,
        values: NDArray[Any],
        kind: str,
        *,
        target: int | None = None,
        normalized: bool = False,
        bounds: bool = False,
    ) -> int:
        key = (
            values.dtype.name,
            kind,
            target,
            normalized,
            hashlib.sha256(values.tobytes()).digest(),
        )
        return int(
            self.once(key, partial(self.fresh_accessor, values, kind, target, normalized, bounds))
        )

    def fresh_accessor(
        self, values: NDArray[Any], kind: str, target: int | None, normalized: bool, bounds: bool
    ) -> int:
        count, across = values.shape
        size = values.dtype.itemsize * across
        stride = size if target == _INDICES else -(-size // 4) * 4  # rows begin on four bytes
        rows = np.zeros((count, stride), dtype=np.uint8)
        rows[:, :size] = np.ascontiguousarray(values).view(np.uint8).reshape(count, size)
        view: dict[str, Any] = {"buffer": 0, "byteOffset": len(self.data), "byteLength": rows.size}
        if target is not None:
            view["target"] = target
        if target == _VERTICES or stride != size:
            view["byteStride"] = stride
        self.data += rows.tobytes()
        self.data += b"\0" * (-len(self.data) % 4)
        self.views.append(view)
        content: dict[str, Any] = {
            "bufferView": len(self.views) - 1,
            "componentType": _TYPES[values.dtype.name],
            "count": count,
            "type": kind,
        }
        if normalized:
            content["normalized"] = True
        if bounds:
            content["min"] = values.min(axis=0).tolist()
            content["max"] = values.max(axis=0).tolist()
        self.accessors.append(content)
        return len(self.accessors) - 1

    def packed(self, scenes: list[dict[str, Any]]) -> bytes:
        content: dict[str, Any] = {
            "asset": {
                "version": "2.0",
                "generator": f"massing {__version__}",
                "extras": {"caution": CAUTION},
            },
            "scene": 0,
            "scenes": scenes,
            "nodes": self.nodes,
            "meshes": self.meshes,
            "materials": self.materials,
            "accessors": self.accessors,
            "bufferViews": self.views,
            "buffers": [{"byteLength": len(self.data)}],
        }
        if self.extensions:
            content["extensionsUsed"] = sorted(self.extensions)
            content["extensionsRequired"] = sorted(self.extensions)
        text = json.dumps(content, separators=(",", ":"), ensure_ascii=False).encode()
        text += b" " * (-len(text) % 4)
        chunks = b"".join(
            np.array([len(chunk), kind], dtype="<u4").tobytes() + chunk
            for chunk, kind in ((text, _JSON), (bytes(self.data), _BIN))
        )
        return np.array([_MAGIC, 2, 12 + len(chunks)], dtype="<u4").tobytes() + chunks


def _digest(mesh: Mesh) -> bytes:
    digest = hashlib.sha256(mesh.vertices.tobytes())
    digest.update(mesh.faces.tobytes())
    return digest.digest()


def quaternions(turns: Floats) -> Floats:
    """Turns ``(k, 3, 3)`` as unit quaternions ``(k, 4)``, x y z w, w not negative.

    By the largest of the four components (Shepperd, 1978; from memory).
    """
    m = turns
    trace = m[:, 0, 0] + m[:, 1, 1] + m[:, 2, 2]
    # rows of the symmetric matrix 4 q q^T, in the order x y z w
    outer = np.empty((len(m), 4, 4))
    for i in range(3):
        outer[:, i, i] = 1.0 + 2.0 * m[:, i, i] - trace
        j, k = (i + 1) % 3, (i + 2) % 3
        outer[:, i, j] = outer[:, j, i] = m[:, i, j] + m[:, j, i]
        outer[:, i, 3] = outer[:, 3, i] = m[:, k, j] - m[:, j, k]
    outer[:, 3, 3] = 1.0 + trace
    largest = np.argmax(np.einsum("kii->ki", outer), axis=1)
    found = outer[np.arange(len(m)), largest]
    found /= np.linalg.norm(found, axis=1, keepdims=True)
    return np.asarray(np.where(found[:, 3:] < 0.0, -found, found))

"""What changed between two models, part by part, so that a face redraws only that."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any
from weakref import WeakKeyDictionary

import numpy as np

from massing.geometry.mesh import Floats, Mesh
from massing.parts.part import Model, Part

_digests: WeakKeyDictionary[Mesh, str] = WeakKeyDictionary()


@dataclass(frozen=True)
class Difference:
    """Parts by key, each in one of the lists.

    Attributes:
        added: not there before.
        removed: no longer there.
        reshaped: another mesh, or another material role.
        moved: the same mesh in other places, or in more or fewer of them.
    """

    added: tuple[str, ...] = ()
    removed: tuple[str, ...] = ()
    reshaped: tuple[str, ...] = ()
    moved: tuple[str, ...] = ()

    @property
    def keys(self) -> tuple[str, ...]:
        """All keys that are touched."""
        return (*self.added, *self.removed, *self.reshaped, *self.moved)

    def __bool__(self) -> bool:
        """Whether anything changed."""
        return bool(self.keys)


def parts_by_key(model: Model) -> dict[str, Part]:
    """A model's parts by keys that are each used once.

    A key is the part's name; where several share a name, the second is ``name #2``, and so on in
    the model's order.
    """
    return {part.key: part for part in model.parts}


def mesh_hash(mesh: Mesh) -> str:
    """A hash of a mesh's shape, kept as long as the mesh is."""
    kept = _digests.get(mesh)
    if kept is None:
        kept = _digests[mesh] = _hash((mesh.vertices, mesh.faces))
    return kept


def frames_hash(frames: Floats) -> str:
    """A hash of placements ``(k, 4, 4)``."""
    return _hash((frames,))


def part_hash(part: Part, role: str = "") -> str:
    """A hash of all that a part shows: its role (or that given for it), shape and placements."""
    places = "" if part.placements is None else frames_hash(part.placements)
    return _hash((), (role or part.role, mesh_hash(part.mesh), places))


def difference(before: Model | None, after: Model) -> Difference:
    """What is to be done to what stands of ``before`` so that it shows ``after``."""
    old = {} if before is None else parts_by_key(before)
    new = parts_by_key(after)
    reshaped, moved = [], []
    for key, part in new.items():
        was = old.get(key)
        if was is None or was is part:
            continue
        same_shape = was.mesh is part.mesh or mesh_hash(was.mesh) == mesh_hash(part.mesh)
        if not same_shape or was.role != part.role:
            reshaped.append(key)
        elif not _same(was.placements, part.placements):
            moved.append(key)
    return Difference(
        added=tuple(key for key in new if key not in old),
        removed=tuple(key for key in old if key not in new),
        reshaped=tuple(reshaped),
        moved=tuple(moved),
    )


def _same(a: Any, b: Any) -> bool:
    if a is None or b is None:
        return a is b
    return a is b or bool(np.array_equal(a, b))


def _hash(arrays: Iterable[Any], words: Iterable[str] = ()) -> str:
    digest = hashlib.blake2b("\0".join(words).encode(), digest_size=16)
    for array in arrays:
        digest.update(np.ascontiguousarray(array).tobytes())
    return digest.hexdigest()

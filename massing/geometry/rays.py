"""Rays against the built model: what is seen, and what the sun reaches (Embree by embreex).

Every copy of every part casts, as the triangles it is built of. Points and directions are in
the house's frame, metres: X right along the front, Y into the house, Z up. Directions point
towards the sun.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import cached_property
from typing import Generic, TypeVar

import numpy as np
from embreex.mesh_construction import TriangleMesh
from embreex.rtcore_scene import EmbreeScene
from numpy.typing import ArrayLike, NDArray

from massing.geometry.mesh import Copied, Floats, Ints, cross, in_world

Bools = NDArray[np.bool_]
Floats32 = NDArray[np.float32]
P = TypeVar("P", bound=Copied)

CLEARANCE_M = 1e-4
"""How far above its own face a ray to the sun starts; many times the error of a point in 32-bit
numbers. The start slides along the ray, so that no shadow's edge moves."""

_LIFT_M = 1e-5  # and this much is along the normal, for rays that only graze
_HANDS = 12  # shares of work for each core
_LEAST_FACING = np.float32(0.02)  # a grazing ray starts at most CLEARANCE_M / 0.02 = 5 mm on


def threads() -> int:
    """How many rays run side by side: the cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _merged(parts: Sequence[Copied]) -> tuple[Floats32, NDArray[np.int32]]:
    """All copies of all parts as corners ``(n, 3)`` and faces ``(m, 3)``."""
    corners: list[Floats32] = []
    faces: list[NDArray[np.int32]] = []
    start = 0
    for part in parts:
        mesh = in_world(part)
        corners.append(mesh.vertices.astype(np.float32))
        faces.append((mesh.faces + start).astype(np.int32))
        start += len(mesh.vertices)
    return np.concatenate(corners), np.concatenate(faces)


def _lifted(points: ArrayLike, normals: ArrayLike) -> tuple[Floats32, Floats32]:
    """Points just clear of their faces ``(n, 3)`` and their normals ``(3, n)``, for Embree."""
    points = np.asarray(points, dtype=np.float32).reshape(-1, 3)
    normals = np.broadcast_to(np.asarray(normals, dtype=np.float32), points.shape)
    starts = np.ascontiguousarray(points + np.float32(_LIFT_M) * normals, dtype=np.float32)
    return starts, np.ascontiguousarray(normals.T, dtype=np.float32)


@dataclass(frozen=True, eq=False)
class Hits:
    """What rays met first, ``(n,)`` each; where nothing was met ``owner`` is -1.

    Attributes:
        points: ``(n, 3)`` metres, NaN where nothing was met.
        owner: index into the caster's ``parts``.
        direction: ``(3,)`` of the rays.
        triangle: index into the caster's triangles, some triangle where nothing was met.
        face_normals: gives the normals ``(m, 3)`` of all of them.
    """

    points: Floats
    owner: Ints
    direction: Floats
    triangle: Ints
    face_normals: Callable[[], Floats]

    @cached_property
    def normals(self) -> Floats:
        """``(n, 3)`` unit, outward of the part met; worked out when first asked for."""
        normals = self.face_normals()[self.triangle]
        normals[self.owner < 0] = np.nan
        return normals

    @property
    def outside(self) -> Bools:
        """The ray met the part from outside, so it did not start within a solid."""
        return (self.owner >= 0) & (self.normals @ self.direction < 0.0)


class Caster(Generic[P]):
    """A model made ready for rays. Building it costs a second or so per million triangles.

    Attributes:
        parts: what casts, indexed by :attr:`Hits.owner`.
        triangle_count: all copies of all parts.
    """

    def __init__(self, parts: Sequence[P]) -> None:
        """Take all copies of ``parts``.

        Raises:
            ValueError: no parts.
        """
        if not parts:
            raise ValueError("there is nothing to cast a shadow")
        self.parts: tuple[P, ...] = tuple(parts)
        counts = [
            (1 if part.placements is None else len(part.placements)) * len(part.mesh.faces)
            for part in parts
        ]
        self.triangle_count = sum(counts)
        self._owner = np.repeat(np.arange(len(parts)), counts)
        self._corners, self._faces = _merged(parts)
        self._scene = EmbreeScene(robust=True)
        TriangleMesh(self._scene, self._corners, self._faces)
        self._blocked(np.zeros((1, 3), np.float32), np.array([[0, 0, 1]], np.float32))  # builds it

    def _blocked(self, origins: Floats32, direction: Floats32) -> Bools:
        return self._scene.run(origins, direction, query="OCCLUDED") == 0

    def lit(self, points: ArrayLike, normals: ArrayLike, to_sun: ArrayLike) -> Bools:
        """Whether each point is in direct sun: it faces the sun and nothing is in the way.

        Args:
            points: ``(n, 3)`` on faces of the model.
            normals: ``(n, 3)`` or ``(3,)`` outward unit normals of these faces.
            to_sun: ``(3,)`` unit vector; a sun at or below the horizon lights nothing.
        """
        return self._lit(*_lifted(points, normals), np.asarray(to_sun, dtype=np.float32))

    def _lit(self, starts: Floats32, normals: Floats32, sun: Floats32) -> Bools:
        # Column by column: numpy is slow on rows of three, and its products start threads of
        # their own that would wait for ours.
        answer = np.zeros(len(starts), dtype=bool)
        if sun[2] <= 0.0:
            return answer
        facing = normals[0] * sun[0] + normals[1] * sun[1] + normals[2] * sun[2]
        chosen = np.flatnonzero(facing > 0.0)
        if len(chosen):
            step = np.float32(CLEARANCE_M) / np.maximum(facing.take(chosen), _LEAST_FACING)
            origins = starts.take(chosen, axis=0)
            for axis in range(3):
                origins[:, axis] += step * sun[axis]
            answer[chosen] = ~self._blocked(origins, sun[None])
        return answer

    def lit_by_each(self, points: ArrayLike, normals: ArrayLike, to_suns: ArrayLike) -> Bools:
        """:meth:`lit` for ``(k, 3)`` suns, on all cores; returns ``(k, n)``."""
        starts, normals = _lifted(points, normals)
        suns = np.asarray(to_suns, dtype=np.float32).reshape(-1, 3)
        answer = np.zeros((len(suns), len(starts)), dtype=bool)

        def one(k: int) -> None:
            answer[k] = self._lit(starts, normals, suns[k])

        with ThreadPoolExecutor(threads()) as pool:
            list(pool.map(one, range(len(suns))))
        return answer

    def lit_sums(
        self, points: ArrayLike, normals: ArrayLike, to_suns: ArrayLike, weights: ArrayLike
    ) -> Floats:
        """Weights of the suns that reach each point, added up, on all cores.

        What faces away from a sun costs no ray, and no table of points by suns is kept.

        Args:
            points, normals: ``(n, 3)``.
            to_suns: ``(k, 3)``.
            weights: ``(k, g)``, for example the hours that a sun stands for in each season.

        Returns:
            ``(n, g)``.
        """
        starts, normals = _lifted(points, normals)
        suns = np.asarray(to_suns, dtype=np.float32).reshape(-1, 3)
        weights = np.asarray(weights, dtype=float).reshape(len(suns), -1)
        groups = weights.shape[1]

        def share(chosen: Ints) -> Floats:
            sums = np.zeros((groups, len(starts)))
            for k in chosen:
                lit = self._lit(starts, normals, suns[k])
                for g in np.flatnonzero(weights[k]):
                    sums[g] += weights[k, g] * lit
            return sums

        # dealt out like cards into many small hands: each has the same mixture of hours, and a
        # worker that is held up leaves the rest to the others
        count = max(1, min(len(suns), _HANDS * threads()))
        hands = [np.arange(first, len(suns), count) for first in range(count)]
        total = np.zeros((groups, len(starts)))
        with ThreadPoolExecutor(threads()) as pool:
            for sums in pool.map(share, hands):
                total += sums
        return total.T

    def first_hit(self, origins: ArrayLike, direction: ArrayLike) -> Hits:
        """What each ray from ``origins`` ``(n, 3)`` along one ``direction`` ``(3,)`` meets first.

        To three hundredths of a millimetre for a ray of 50 m.
        """
        origins = np.asarray(origins, dtype=float).reshape(-1, 3)
        direction = np.asarray(direction, dtype=float)
        found = self._scene.run(
            origins.astype(np.float32), direction.astype(np.float32)[None], output=1
        )
        index = found["primID"].astype(np.int64)
        met = index >= 0
        points = np.full_like(origins, np.nan)
        points[met] = origins[met] + found["tfar"][met, None].astype(float) * direction
        triangle = np.where(met, index, 0)
        owner = np.where(met, self._owner[triangle], -1)
        return Hits(points, owner, direction, triangle, lambda: self._face_normals)

    @cached_property
    def _face_normals(self) -> Floats:
        a, b, c = (self._corners.take(self._faces[:, i], axis=0).astype(float) for i in range(3))
        across = cross(b - a, c - a)
        with np.errstate(invalid="ignore"):  # a triangle without area is met by no ray
            across /= np.sqrt(np.einsum("ij,ij->i", across, across))[:, None]
        return across

"""Laying a covering on a roof: courses on slopes, pieces along hips, ridges and verges.

A covering is laid in each slope's own frame (u along the eave, v up the slope, w off the
deck). What crosses the slope's bounds is cut by upright planes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import manifold3d
import numpy as np
from numpy.typing import NDArray

from massing.geometry.booleans import Plane, cut_apart, mesh_of, solid_of
from massing.geometry.cleaning import cleaned, without_crumbs
from massing.geometry.mesh import Floats, Ints, Mesh
from massing.geometry.plan_polygons import INSETS_M, opened, outwards
from massing.geometry.solids import extrude
from massing.settingout.roof_planes import RoofPlanes

Bools = NDArray[np.bool_]

PLAY_M = 0.002  # deck, mortar and metal keep this far from what is laid
UNDER_LAP_M = 0.004  # covering to the underside of the slope above that laps it
_SCRAP_M = 0.04  # a piece with less than this left is not laid
SCRAP_SHARE = 0.03  # nor one of which less than this share is left round a hole
SAME_M = 1e-7
UP = np.array([0.0, 0.0, 1.0])


def unit(vector: Floats) -> Floats:
    """The vector made one long."""
    return np.asarray(vector / np.linalg.norm(vector), dtype=float)


def level(vector: Floats) -> Floats:
    return unit(vector * [1.0, 1.0, 0.0])


def same(a: Floats, b: Floats) -> bool:
    """Whether two points are one."""
    return bool((np.abs(a - b) < SAME_M).all())


def same_line(line: Floats, a: Floats, b: Floats) -> bool:
    low, high = line
    return (same(low, a) and same(high, b)) or (same(low, b) and same(high, a))


def lies_on(lines: Sequence[Floats], a: Floats, b: Floats) -> bool:
    """Whether an edge is one of the lines ``(2, 3)``."""
    return any(same_line(line, a, b) for line in lines)


def sides(ring: Floats) -> list[tuple[Floats, Floats]]:
    """A slope's edges but its eave."""
    return list(zip(ring[1:], np.roll(ring, -1, axis=0)[1:], strict=True))


# --- slopes ------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class SlopeField:
    """One slope to cover, with the planes that bound it.

    ``normals`` ``(k, 3)`` look inwards, level; a point p is on the roof where n.p >= offset.
    Only under the eave of a slope above does one look straight down.
    ``holes`` are convex plan polygons in the world, in which nothing is laid.
    """

    frame: Floats
    ring: Floats
    normals: Floats
    offsets: Floats
    holes: list[Floats]

    @classmethod
    def of(cls, ring: Floats, planes: RoofPlanes, channel_m: float, verge_m: float) -> SlopeField:
        """The field of a slope.

        Args:
            ring: the slope's polygon, eave first.
            planes: the roof it belongs to.
            channel_m: covering to a hip or ridge line.
            verge_m: covering to the verge; negative to pass over it.
        """
        u = unit(ring[1] - ring[0])
        normal = unit(np.cross(u, ring[-1] - ring[0]))
        matrix = np.eye(4)
        matrix[:3, 0], matrix[:3, 1], matrix[:3, 2] = u, np.cross(normal, u), normal
        matrix[:3, 3] = ring[0]
        lines = [*planes.hips, *planes.ridges]
        normals, offsets = [], []
        for a, b in sides(ring):
            if lies_on(list(planes.heads), a, b):
                normals.append(-UP)
                offsets.append(UNDER_LAP_M - a[2])
                continue
            level = unit(np.cross(UP, b - a))
            inset = INSETS_M["wall"]
            if lies_on(lines, a, b):
                inset = channel_m
            elif lies_on(list(planes.verges), a, b):
                inset = verge_m
            elif lies_on([v.line for v in planes.valleys], a, b):
                inset = INSETS_M["valley"]
            normals.append(level)
            offsets.append(level @ a + inset)
        return cls(matrix, ring, np.array(normals), np.array(offsets), opened(planes.holes))

    def planes(self) -> list[Plane]:
        """The bounds, for cutting."""
        return list(zip(self.normals, self.offsets, strict=True))

    @property
    def local(self) -> Floats:
        """The slope's polygon in its own (u, v), ``(n, 2)``."""
        return ((self.ring - self.ring[0]) @ self.frame[:3, :3])[:, :2]

    def lattice(
        self, spacing_m: float, exposure_m: float, overhang_m: float, shift: float = 0.0
    ) -> tuple[Floats, Floats]:
        """Places (u, v) of every piece that could touch the slope, course by course from the
        eave; columns stand about the eave's middle, ``shift`` of a spacing to the right.
        """
        points = self.local
        middle = points[1, 0] / 2.0
        reach = int(np.ceil(np.ptp(points[:, 0]) / spacing_m / 2.0)) + 2
        columns = middle + spacing_m * (np.arange(-reach, reach + 1) + shift)
        courses = int(np.ceil((points[:, 1].max() + overhang_m) / exposure_m))
        rows = exposure_m * np.arange(courses) - overhang_m
        u, v = np.meshgrid(columns, rows)
        return u.ravel(), v.ravel()

    def lay(
        self, mesh: Mesh, frames: Floats, hand: Floats | None = None
    ) -> tuple[Floats, list[Mesh]]:
        """Lay copies of a piece.

        Args:
            mesh: the piece.
            frames: ``(k, 4, 4)`` in the slope's frame, all turned alike.
            hand: ``(k, 4, 4)`` small displacements of each in its own frame.

        Returns:
            Placements of the whole pieces in the world, and the meshes of those cut.
        """
        if not len(frames):
            return np.empty((0, 4, 4)), []
        crossed, laid = self.crossings(mesh, frames)
        world = self.frame @ (frames if hand is None else frames @ hand)
        crossed, world = crossed[laid], world[laid]
        met = meet_holes(mesh, world, self.holes)
        crossed, world, met = crossed[met != GONE], world[met != GONE], met[met != GONE]
        touched = crossed.any(axis=1) | (met != CLEAR)
        sides = hole_planes(self.holes)
        scrap = SCRAP_SHARE * mesh.volume_m3
        cut = []
        # Each group of pieces meets only its own planes and holes: a cut costs by the piece.
        groups = np.column_stack([crossed, met])
        for group in np.unique(groups[touched], axis=0):
            planes = [q for q, yes in zip(self.planes(), group[:-1], strict=True) if yes]
            if group[-1] >= 0:
                planes.append(sides[group[-1]])
            made, of = cut_apart(mesh, world[(groups == group).all(axis=1)], planes)
            if group[-1] == ROUND:
                made = cleaned(without_holes(made, self.holes, scrap))
            else:  # a plane may leave the two tips of a hollow tile, two planes a corner
                made = without_crumbs(made, of, 0.1 * scrap)
            cut.append(made)
        return world[~touched], [m for m in cut if len(m.faces)]

    def crossings(self, mesh: Mesh, frames: Floats) -> tuple[Bools, Bools]:
        """Which of the bounding planes each piece meets ``(k, p)``, and which are laid.

        A piece wholly outside, or with only a scrap inside, is not laid.
        """
        normals = self.normals @ self.frame[:3, :3]
        offsets = self.offsets - self.normals @ self.frame[:3, 3]
        reach = (mesh.vertices @ frames[0, :3, :3].T) @ normals.T
        distance = frames[:, :3, 3] @ normals.T - offsets
        crossed = distance + reach.min(axis=0) < 2.0 * PLAY_M
        return crossed, (distance + reach.max(axis=0) > _SCRAP_M).all(axis=1)


CLEAR, ROUND, GONE = -1, -2, -3


def meet_holes(mesh: Mesh, frames: Floats, holes: Sequence[Floats]) -> Ints:
    """How each copy of a piece meets the holes, ``(k,)``.

    CLEAR of them, GONE in one (or but for a scrap), across a single side, which is its number
    among :func:`hole_planes`, or ROUND corners, where a plane does not cut it.
    """
    found = np.full(len(frames), CLEAR)
    reach = float(np.linalg.norm(mesh.vertices, axis=1).max())
    place = frames[:, :2, 3]
    first = 0
    for ring in holes:
        low, high = ring.min(axis=0), ring.max(axis=0)
        maybe = np.flatnonzero(((place > low - reach) & (place < high + reach)).all(axis=1))
        corners = np.einsum("kij,nj->kni", frames[maybe, :2, :3], mesh.vertices)
        corners += frames[maybe, None, :2, 3]
        normal = outwards(ring)
        beyond = corners @ normal.T - np.einsum("ij,ij->i", normal, ring)
        least, most = beyond.min(axis=1), beyond.max(axis=1)
        boxes = (corners.min(axis=1) < high) & (corners.max(axis=1) > low)
        near = (least < 0.0).all(axis=1) & boxes.all(axis=1)
        outside = (most > 0.0).sum(axis=1)
        scrap = (outside == 0) | ((outside == 1) & (most.max(axis=1) <= _SCRAP_M))
        state = np.where(outside == 1, first + np.argmax(most, axis=1), ROUND)
        state = np.where(scrap, GONE, state)
        before = found[maybe]
        state = np.where((before == CLEAR) | (state == GONE), state, ROUND)
        found[maybe] = np.where(near & (before != GONE), state, before)
        first += len(ring)
    return found


def hole_planes(holes: Sequence[Floats]) -> list[Plane]:
    """The upright planes through the sides of holes, looking out of them."""
    return [
        (np.array([*normal, 0.0]), float(normal @ point))
        for ring in holes
        for normal, point in zip(outwards(ring), ring, strict=True)
    ]


def without_holes(mesh: Mesh, holes: Sequence[Floats], scrap_m3: float = 0.0) -> Mesh:
    """A mesh of closed bodies less what stands in the holes, and less scraps of the cutting."""
    if not len(mesh.faces):
        return mesh
    (x0, y0, z0), (x1, y1, z1) = mesh.bounds
    met = [
        solid_of(extrude(ring, z1 - z0 + 2.0).shifted(z_m=z0 - 1.0))
        for ring in holes
        if (ring.min(axis=0) < (x1, y1)).all() and (ring.max(axis=0) > (x0, y0)).all()
    ]
    if not met:
        return mesh
    solid = manifold3d.Manifold.batch_boolean([solid_of(mesh), *met], manifold3d.OpType.Subtract)
    if scrap_m3 > 0.0:
        bodies = solid.decompose()
        kept = [b for b in bodies if b.volume() > scrap_m3]
        if len(kept) < len(bodies):
            solid = manifold3d.Manifold.compose(kept)
    return mesh_of(solid)


def at(u: Floats, v: Floats, w_m: float, turn: Floats | None = None) -> Floats:
    """Frames ``(k, 4, 4)`` in a slope's own coordinates, all turned alike."""
    frames = np.tile(np.eye(4), (len(u), 1, 1))
    if turn is not None:
        frames[:, :3, :3] = turn
    frames[:, 0, 3], frames[:, 1, 3], frames[:, 2, 3] = u, v, w_m
    return frames


@dataclass(frozen=True)
class Unevenness:
    """How far a roofer's hand strays: across and along the course, roll, turn in plane."""

    across_m: float
    along_m: float
    roll_rad: float = 0.0
    turn_rad: float = 0.0

    def draw(self, count: int, rng: np.random.Generator) -> Floats:
        """Displacements ``(count, 4, 4)`` in the pieces' own frames, evenly spread."""
        across, along, roll, turn = rng.uniform(-1.0, 1.0, (4, count))
        frames = np.tile(np.eye(4), (count, 1, 1))
        cr, sr = np.cos(self.roll_rad * roll), np.sin(self.roll_rad * roll)
        ct, st = np.cos(self.turn_rad * turn), np.sin(self.turn_rad * turn)
        frames[:, 0, 0], frames[:, 0, 1], frames[:, 0, 2] = ct * cr, -st, ct * sr
        frames[:, 1, 0], frames[:, 1, 1], frames[:, 1, 2] = st * cr, ct, st * sr
        frames[:, 2, 0], frames[:, 2, 2] = -sr, cr
        frames[:, 0, 3], frames[:, 1, 3] = self.across_m * across, self.along_m * along
        return frames


# --- hips, ridges and verges ---------------------------------------------------------------

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

from massing.geometry.booleans import Plane, cut_copies, mesh_of, solid_of
from massing.geometry.mesh import Floats, Ints, Mesh, merged
from massing.geometry.plan_polygons import INSETS_M, opened, outwards
from massing.geometry.solids import extrude, loft, prism
from massing.parts.part import Part
from massing.settingout.roof_planes import RoofPlanes

Bools = NDArray[np.bool_]

PLAY_M = 0.002  # deck, mortar and metal keep this far from what is laid
_HEAD_M = 0.004  # covering to the underside of the slope above that laps it
_SCRAP_M = 0.04  # a piece with less than this left is not laid
_SCRAP = 0.03  # nor one of which less than this share is left round a hole
_SAME_M = 1e-7
_UP = np.array([0.0, 0.0, 1.0])


def unit(vector: Floats) -> Floats:
    """The vector made one long."""
    return np.asarray(vector / np.linalg.norm(vector), dtype=float)


def _level(vector: Floats) -> Floats:
    return unit(vector * [1.0, 1.0, 0.0])


def same(a: Floats, b: Floats) -> bool:
    """Whether two points are one."""
    return bool((np.abs(a - b) < _SAME_M).all())


def _same_line(line: Floats, a: Floats, b: Floats) -> bool:
    low, high = line
    return (same(low, a) and same(high, b)) or (same(low, b) and same(high, a))


def lies_on(lines: Sequence[Floats], a: Floats, b: Floats) -> bool:
    """Whether an edge is one of the lines ``(2, 3)``."""
    return any(_same_line(line, a, b) for line in lines)


def sides(ring: Floats) -> list[tuple[Floats, Floats]]:
    """A slope's edges but its eave."""
    return list(zip(ring[1:], np.roll(ring, -1, axis=0)[1:], strict=True))


# --- slopes ------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class Field:
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
    def of(cls, ring: Floats, planes: RoofPlanes, channel_m: float, verge_m: float) -> Field:
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
                normals.append(-_UP)
                offsets.append(_HEAD_M - a[2])
                continue
            level = unit(np.cross(_UP, b - a))
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
        scrap = _SCRAP * mesh.volume_m3
        cut = []
        # Each group of pieces meets only its own planes and holes: a cut costs by the piece.
        groups = np.column_stack([crossed, met])
        for group in np.unique(groups[touched], axis=0):
            planes = [q for q, yes in zip(self.planes(), group[:-1], strict=True) if yes]
            if group[-1] >= 0:
                planes.append(sides[group[-1]])
            made = cut_copies(mesh, world[(groups == group).all(axis=1)], planes)
            cut.append(without_holes(made, self.holes, scrap) if group[-1] == ROUND else made)
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
class Hand:
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


@dataclass(frozen=True, eq=False)
class Line:
    """A hip, ridge or verge.

    Attributes:
        frame: ``(4, 4)``; y along the line (uphill), x level, z up from the deck.
        length_m: its length.
        fall: fall over run of the slopes beside it, in the section square to it.
        ends: planes that keep it off its neighbours and off walls.
        open_foot: its low end stands free at the eaves.
        eaves: upright planes of the deck's edges that meet at that end.
        verge_side: for a verge, +1 or -1: the side (x) on which the roof lies; else 0.
        holes: convex plan polygons in which nothing is laid.
        skew: how much farther its end may be cut than square across, where it runs to valleys.
    """

    frame: Floats
    length_m: float
    fall: float
    ends: list[Plane]
    open_foot: bool
    eaves: list[Plane]
    verge_side: float
    holes: list[Floats]
    skew: float = 1.0


def roof_lines(planes: RoofPlanes) -> list[Line]:
    """Every hip, ridge and verge of a roof."""
    segments = [(line, "hip") for line in planes.hips]
    segments += [(line, "ridge") for line in planes.ridges]
    segments += [(line, "verge") for line in planes.verges]
    walls = _abutments(planes)
    holes, skew = opened(planes.holes), _skew(planes)
    lines = []
    for segment, kind in segments:
        a, b = segment
        y = unit(b - a)
        x = unit(np.cross(y, [0.0, 0.0, 1.0]))
        matrix = np.eye(4)
        matrix[:3, 0], matrix[:3, 1], matrix[:3, 2], matrix[:3, 3] = x, y, np.cross(x, y), a
        ends = _before_walls(walls, a, b)
        for head in planes.heads:
            if any(same(b, p) for p in head):
                ends.append((-_UP, _HEAD_M - float(b[2])))
        for end, other_end in ((a, b), (b, a)):
            own = _level(other_end - end)
            for other, _ in segments:
                for k in (0, 1):
                    far = other[1 - k]
                    if same(other[k], end) and not same(far, other_end):
                        normal = unit(own - _level(far - end))
                        ends.append((normal, float(normal @ end)))
        fall, side = _fall(planes, segment, x, matrix[:3, 2])
        lines.append(
            Line(
                matrix,
                float(np.linalg.norm(b - a)),
                fall,
                ends,
                kind != "ridge",
                _eaves_at(planes, a),
                side if kind == "verge" else 0.0,
                holes,
                skew,
            )
        )
    return lines


def _skew(planes: RoofPlanes) -> float:
    """Length over width of the flattest valley, in plan; at least 1."""
    steps = [np.abs(v.line[1, :2] - v.line[0, :2]) for v in planes.valleys]
    return max([1.0, *(float(s.max() / max(s.min(), 0.1 * s.max())) for s in steps)])


def _eaves_at(planes: RoofPlanes, foot: Floats) -> list[Plane]:
    """Upright planes, a little within the deck's edges, of the eaves that end at a point."""
    met = []
    for ring in planes.slopes:
        if any(same(foot, p) for p in ring[:2]):
            level = unit(np.cross(_UP, ring[1] - ring[0]))
            met.append((level, float(level @ foot) + PLAY_M))
    return met


def _before_walls(walls: list[Plane], a: Floats, b: Floats) -> list[Plane]:
    """The walls that a line does not lie behind; at a wall's corner, one plane square to it."""
    away = INSETS_M["wall"]
    before = [(n, o) for n, o in walls if max(n @ a, n @ b) > o - away - _SAME_M]
    met = [n for n, o in before if n[2] == 0.0 and abs(n @ b - o + away) < _SAME_M]
    if len(met) < 2:
        return before
    back = -_level(b - a)
    return [(back, float(back @ b) + away)]


def _abutments(planes: RoofPlanes) -> list[Plane]:
    """Upright planes of the walls, and of the other roof's covering, that slopes run against."""
    found: list[Plane] = []
    shared = [*planes.hips, *planes.ridges, *planes.verges, *planes.heads]
    valleys = [v.line for v in planes.valleys]
    for ring in planes.slopes:
        for a, b in sides(ring):
            if not lies_on(shared, a, b):
                level = unit(np.cross([0.0, 0.0, 1.0], b - a))
                away = INSETS_M["wall"]
                if lies_on(valleys, a, b):  # in a level one a saddle is in the way
                    level_one = abs(a[2] - b[2]) < _SAME_M
                    away = PLAY_M + INSETS_M["valley"] * (1.0 if level_one else -1.0)
                offset = float(level @ a) + away
                if not any(same(level, n) and abs(offset - o) < _SAME_M for n, o in found):
                    found.append((level, offset))
    for valley in planes.valleys:  # and nothing goes down into the other roof
        up = unit(np.cross(valley.other[1] - valley.other[0], valley.other[-1] - valley.other[0]))
        offset = float(up @ valley.other[0]) + 1.5 * PLAY_M
        if not any(same(up, n) and abs(offset - o) < _SAME_M for n, o in found):
            found.append((up, offset))
    return found


def _fall(planes: RoofPlanes, segment: Floats, x: Floats, z: Floats) -> tuple[float, float]:
    """Fall away from a line of the slopes that meet on it, and the side one of them lies."""
    for ring in planes.slopes:
        for a, b in sides(ring):
            if _same_line(segment, a, b):
                normal = np.cross(ring[1] - ring[0], ring[-1] - ring[0])
                side = float(np.sign((ring.mean(axis=0) - segment[0]) @ x))
                return float(abs(normal @ x) / (normal @ z)), side
    raise ValueError("a hip, ridge or verge lies on no slope")


def along(line: Line, length_m: float, exposure_m: float, overhang_m: float) -> Floats:
    """Places along a line of pieces that lap, from its foot."""
    start = -overhang_m if line.open_foot else 0.0
    count = int(np.ceil((line.length_m - start) / exposure_m))
    return start + exposure_m * np.arange(count, dtype=float)


def lay_along(line: Line, mesh: Mesh, local: Floats, free_m: float) -> tuple[Floats, list[Mesh]]:
    """Lay pieces along a line; those within ``free_m`` of an end that meets others are cut."""
    free_m *= line.skew
    reach = mesh.bounds[:, 1]
    y = local[:, 1, 3]
    away = y + reach[1] < line.length_m - free_m
    away &= line.open_foot | (y + reach[0] > free_m)
    frames = line.frame @ local
    met = meet_holes(mesh, frames, line.holes)
    near, gone = met != CLEAR, met == GONE
    cut = [] if away.all() else [cut_copies(mesh, frames[~away], line.ends)]
    if (away & near & ~gone).any():
        cut.append(cut_copies(mesh, frames[away & near & ~gone], []))
    cut = [without_holes(m, line.holes, _SCRAP * mesh.volume_m3) for m in cut]
    return frames[away & ~near], [m for m in cut if len(m.faces)]


def run_along(line: Line, section: Floats, start_m: float) -> Mesh:
    """A section (x, z) run along a line from ``start_m`` of its foot, cut at its ends."""
    run = line.length_m - start_m
    long = prism(section, (0.0, line.length_m, 0.0), (1.0, 0, 0), (0, 0, 1.0), run)
    return without_holes(cut_copies(long, line.frame[None], line.ends), line.holes)


@dataclass(frozen=True)
class Barrel:
    """A tapered half barrel's sizes, metres and radians."""

    wide_m: float
    narrow_m: float
    length_m: float
    thickness_m: float
    half_angle: float

    def mesh(self, *, pan: bool, steps: int = 8) -> Mesh:
        """One tile, axis along y from its lower end.

        A pan lies hollow up with its wide end uphill, a cover hollow down, wide end downhill.
        """
        angle = np.linspace(-self.half_angle, self.half_angle, steps + 1)
        arc = np.column_stack([np.sin(angle), np.cos(angle) * (-1.0 if pan else 1.0)])
        radii = (self.narrow_m, self.wide_m) if pan else (self.wide_m, self.narrow_m)
        sections = []
        for radius, y in zip(radii, (0.0, self.length_m), strict=True):
            ring = np.concatenate([radius * arc, (radius - self.thickness_m) * arc[::-1]])
            sections.append(np.column_stack([ring[:, 0], np.full(len(ring), y), ring[:, 1]]))
        return loft(np.array(sections))


@dataclass(frozen=True)
class BarrelLines:
    """How hips, ridges and verges are closed with barrel tiles."""

    barrel: Barrel
    exposure_m: float
    overhang_m: float
    clearance_m: float
    channel_m: float
    field_top_m: float  # crown of the field's covering above the deck
    role: str


def lay_barrel_lines(planes: RoofPlanes, how: BarrelLines) -> list[Part]:
    """Hip, ridge and verge tiles over a bed of mortar."""
    tile = how.barrel.mesh(pan=False)
    whole, cut, beds = [], [], []
    for line in roof_lines(planes):
        axis = _line_axis(line, how)
        y = along(line, how.barrel.length_m, how.exposure_m, how.overhang_m)
        frames, trimmed = lay_along(
            line, tile, at(np.zeros(len(y)), y, axis), 2.0 * how.barrel.wide_m
        )
        whole.append(frames)
        cut += trimmed
        beds.append(_bed(line, how, axis))
        if line.open_foot:
            beds.append(_plug(line, how, axis))
    parts = []
    if whole:
        parts.append(Part(("tiles", "hips and ridges"), how.role, tile, np.concatenate(whole)))
        parts.append(Part(("tiles", "mortar"), "mortar", merged(beds)))
    if cut:
        parts.append(Part(("tiles", "hips and ridges cut"), how.role, merged(cut)))
    return parts


def _line_axis(line: Line, how: BarrelLines) -> float:
    """Axis of a line's tile above the deck, its feet clear of the covering beside it."""
    b = how.barrel
    lift = how.field_top_m * np.hypot(1.0, line.fall)
    sine, cosine = np.sin(b.half_angle), np.cos(b.half_angle)
    inner = [r - b.thickness_m for r in (b.wide_m, b.narrow_m)]
    least = max(lift - r * sine * line.fall - r * cosine for r in inner)
    return float(least) + how.clearance_m


def _bed(line: Line, how: BarrelLines, axis_m: float) -> Mesh:
    """Mortar from the deck up into the tiles, between the cut edges of the field."""
    half = how.channel_m - 2.0 * PLAY_M
    inner = how.barrel.narrow_m - how.barrel.thickness_m - 2.0 * PLAY_M
    top = axis_m + np.sqrt(inner**2 - half**2)
    side = -half * line.fall
    outline = np.array([(-half, side), (0.0, 0.0), (half, side), (half, top), (-half, top)])
    if line.verge_side:  # a board on the deck's edge instead
        outline = np.array([(0.0, 0.0), (half, 0.0), (half, top), (0.0, top)])
        outline[:, 0] *= line.verge_side
    if line.verge_side:
        return run_along(line, outline, PLAY_M)
    if not line.open_foot:
        return run_along(line, outline, 0.0)
    # A hip's bed fills the corner out to the two edges of the deck that meet there.
    whole = run_along(line, outline, -half)
    return cut_copies(whole, np.eye(4)[None], line.eaves)


def _plug(line: Line, how: BarrelLines, axis_m: float) -> Mesh:
    """Mortar that stops the mouth of the lowest tile, down to the covering beside it."""
    radius = how.barrel.wide_m - how.barrel.thickness_m - 3.0 * PLAY_M
    angle = np.linspace(-how.barrel.half_angle, how.barrel.half_angle, 13)
    arc = np.column_stack([np.sin(angle), np.cos(angle)]) * radius
    foot = (0.0, how.field_top_m * np.hypot(1.0, line.fall) - axis_m + 2.0 * PLAY_M)
    disc = prism(np.array([*arc, foot]), (0, 0.025, 0), (1.0, 0, 0), (0, 0, 1.0), 0.025)
    return disc.shifted(y_m=0.015 - how.overhang_m, z_m=axis_m).moved(line.frame)


def lay_rolls(
    planes: RoofPlanes, field_top_m: float, channel_m: float, wing_m: float, role: str = "metal"
) -> list[Part]:
    """A sheet-metal roll over each hip and ridge, wings lying over the covering beside it.

    A solid core stands on the deck between the cut edges of the field, so nothing shows
    through. Verges get a plain drip edge.
    """
    runs = []
    for line in roof_lines(planes):
        lift = field_top_m * np.hypot(1.0, line.fall) + 2.0 * PLAY_M
        half = channel_m - 2.0 * PLAY_M
        t, r, f = 0.0025, 0.02, line.fall
        if line.verge_side:
            section = np.array([(0.0, 0.0), (half, 0.0), (half, lift + t), (0.0, lift + t)])
            section[:, 0] *= line.verge_side
            runs.append(run_along(line, section, 0.0))
            continue
        angle = np.linspace(-0.35 * np.pi, 1.35 * np.pi, 13)
        roll = np.column_stack([r * np.cos(angle), r * np.sin(angle) + lift + 0.8 * r])
        right = [(half, -half * f), (half, lift - half * f), (wing_m, lift - wing_m * f)]
        right.append((wing_m, lift - wing_m * f + t))
        left = [(-x, z) for x, z in reversed(right)]
        section = np.array([(0.0, 0.0), *right, *roll, *left])
        runs.append(run_along(line, section, 2.0 * half if line.open_foot else 0.0))
    return [Part(("tiles", "hip and ridge rolls"), role, merged(runs))] if runs else []


def lay_caps(
    planes: RoofPlanes,
    field_top_m: float,
    channel_m: float,
    wing_m: float,
    length_m: float,
    exposure_m: float,
    thickness_m: float,
    role: str,
) -> list[Part]:
    """Pairs of boards or slates bent over each hip and ridge, lapping from the foot up."""
    parts: list[Part] = []
    cores, cut = [], []
    step = thickness_m + 0.001
    tilt = np.arcsin(step / exposure_m)
    c, s = np.cos(tilt), np.sin(tilt)
    turn = np.array([[1.0, 0, 0], [0, c, s], [0, -s, c]])
    for i, line in enumerate(roof_lines(planes)):
        half, f = channel_m - 2.0 * PLAY_M, line.fall
        lift = field_top_m * np.hypot(1.0, f) + 2.0 * PLAY_M
        if line.verge_side:
            continue
        wing = np.array([(-wing_m, -wing_m * f), (0.0, 0.0), (wing_m, -wing_m * f)])
        outline = np.concatenate([wing, (wing + [0.0, thickness_m])[::-1]])
        cap = prism(outline, (0.0, length_m, 0.0), (1.0, 0, 0), (0, 0, 1.0), length_m)
        y = along(line, length_m, exposure_m, 0.02)
        frames, trimmed = lay_along(
            line, cap, at(np.zeros(len(y)), y, lift + length_m * s, turn), 2.0 * wing_m
        )
        cut += trimmed
        parts.append(Part(("tiles", f"caps {i + 1}"), role, cap, frames))
        core = [(-half, -half * f), (0.0, 0.0), (half, -half * f)]
        core += [(half, lift - half * f - PLAY_M), (0.0, lift - PLAY_M)]
        core += [(-half, lift - half * f - PLAY_M)]
        cores.append(run_along(line, np.array(core), 2.0 * half if line.open_foot else 0.0))
    if cores:
        parts.append(Part(("tiles", "hip and ridge boards"), "trim", merged(cores)))
    if cut:
        parts.append(Part(("tiles", "caps cut"), role, merged(cut)))
    return [p for p in parts if p.count]

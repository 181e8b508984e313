"""Two-piece barrel tiles laid on a roof's slopes, with hip and ridge tiles and their mortar.

Pans and covers are tapered half barrels of one shape. A pan lies hollow side up with its wide
end uphill, a cover hollow side down with its wide end downhill; the taper over one exposure is
the tile's thickness and a little play, so every course nests in the next on one straight axis
and nothing passes through anything.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from massing.coverings import Covering
from massing.cutting import Plane, cut_copies
from massing.mesh import Floats, Mesh, Part, merged
from massing.roofplanes import RoofPlanes
from massing.solids import box_between, extrude, loft, prism

Bools = NDArray[np.bool_]

_CHANNEL_M = 0.045  # field tiles are cut this far from a hip or ridge line
_ABUTMENT_M = 0.012  # and this far from a wall
_SCRAP_M = 0.04  # a tile with less than this left is not laid
_ARC_STEPS = 8
_LEAD_M, _LEAD_OUT_M, _LEAD_UP_M = 0.003, 0.15, 0.12
_SAME_M = 1e-7
_PLAY_M = 0.002  # deck and mortar keep this far from the tiles
# A tiler's hand: shifts across and along the course, roll and turn. Within the clearance.
_ACROSS_M, _ALONG_M, _ROLL_RAD, _TURN_RAD = 0.0008, 0.0025, 0.012, 0.0017


@dataclass(frozen=True)
class _Barrel:
    """A tapered barrel's sizes and the axes of pans and covers above the deck."""

    wide_m: float
    narrow_m: float
    length_m: float
    thickness_m: float
    half_angle: float
    pan_axis_m: float
    cover_axis_m: float

    @property
    def top_m(self) -> float:
        """Crown of the covers above the deck."""
        return self.cover_axis_m + self.wide_m


def lay_tiles(planes: RoofPlanes, covering: Covering, seed: int = 0) -> list[Part]:
    """Cover every slope, hip and ridge with barrel tiles.

    Whole tiles are instances; those cut at a hip, ridge or wall are one mesh of many closed
    bodies. The same seed lays the same roof.

    Raises:
        ValueError: the covering is not a barrel tile.
    """
    if covering.kind != "barrel":
        raise ValueError(f"{covering.name!r} is not laid as barrel tiles")
    barrel = _barrel(covering)
    rng = np.random.default_rng(seed)
    pan, cover = _half_barrel(barrel, pan=True), _half_barrel(barrel, pan=False)
    whole: dict[str, list[Floats]] = {"pans": [], "covers": [], "eaves": []}
    cut: list[Mesh] = []
    mortar: list[Mesh] = []
    for ring in planes.slopes:
        field = _Field.of(ring, planes)
        for name, mesh, half in (("pans", pan, 0.0), ("covers", cover, 0.5)):
            axis = barrel.pan_axis_m if name == "pans" else barrel.cover_axis_m
            frames = _lattice(field, covering, half, axis)
            crossed, laid = field.crossings(frames, barrel)
            frames = field.frame @ (frames @ _by_hand(len(frames), rng))
            whole[name].append(frames[laid & ~crossed.any(axis=1)])
            # Each group of tiles meets only its own planes: a trim costs by the tile.
            for planes_met in np.unique(crossed[laid], axis=0):
                group = laid & (crossed == planes_met).all(axis=1)
                if planes_met.any():
                    met = [q for q, yes in zip(field.planes(), planes_met, strict=True) if yes]
                    cut.append(cut_copies(mesh, frames[group], met))
        whole["eaves"].append(_closures(field, covering, barrel))
        mortar.append(_starter(field, barrel))
    lines = _lines(planes, covering, barrel)
    closure = _closure(covering, barrel)
    parts = [
        Part("tiles/pans", covering.role, pan, np.concatenate(whole["pans"])),
        Part("tiles/covers", covering.role, cover, np.concatenate(whole["covers"])),
        Part("tiles/eaves closures", "mortar", closure, np.concatenate(whole["eaves"])),
        Part("tiles/eaves starter", "mortar", merged(mortar)),
        Part("tiles/cut", covering.role, merged(cut)),
        *lines,
        *_flashings(planes, covering, barrel),
    ]
    return [p for p in parts if p.count and len(p.mesh.faces)]


def _barrel(covering: Covering) -> _Barrel:
    taper = covering.thickness_m + covering.clearance_m
    taper *= covering.length_m / covering.exposure_m
    wide = covering.width_m / 2.0
    pan_axis = wide + _PLAY_M
    drop = max(
        _overlap_drop(covering, pan, cover)
        for pan, cover in ((wide - taper, wide - taper), (wide - taper, wide), (wide, wide - taper))
    )
    return _Barrel(
        wide_m=wide,
        narrow_m=wide - taper,
        length_m=covering.length_m,
        thickness_m=covering.thickness_m,
        half_angle=covering.half_angle_rad,
        pan_axis_m=pan_axis,
        cover_axis_m=pan_axis + drop + covering.clearance_m,
    )


def _overlap_drop(covering: Covering, pan_m: float, cover_m: float) -> float:
    """Least height of a cover's axis above the pan's at which their sections only touch.

    Both ends are tried: the cover's feet in the pan's hollow, the pan's edges under the cover.
    """
    sine, cosine = np.sin(covering.half_angle_rad), np.cos(covering.half_angle_rad)
    least = -np.inf
    for foot_of, hollow_of in ((cover_m, pan_m), (pan_m, cover_m)):
        hollow = hollow_of - covering.thickness_m
        for radius in (foot_of, foot_of - covering.thickness_m):
            x = covering.spacing_m / 2.0 - radius * sine
            if abs(x) < hollow:
                least = max(least, -np.sqrt(hollow**2 - x**2) - radius * cosine)
    return float(least)


def _half_barrel(barrel: _Barrel, *, pan: bool) -> Mesh:
    """One tile, axis along y from its lower end, hollow up (pan) or down (cover)."""
    angle = np.linspace(-barrel.half_angle, barrel.half_angle, _ARC_STEPS + 1)
    arc = np.column_stack([np.sin(angle), np.cos(angle) * (-1.0 if pan else 1.0)])
    sections = []
    low, high = barrel.wide_m, barrel.narrow_m
    ends = [(high, 0.0), (low, barrel.length_m)] if pan else [(low, 0.0), (high, barrel.length_m)]
    for radius, y in ends:
        ring = np.concatenate([radius * arc, (radius - barrel.thickness_m) * arc[::-1]])
        sections.append(np.column_stack([ring[:, 0], np.full(len(ring), y), ring[:, 1]]))
    return loft(np.array(sections))


@dataclass(frozen=True, eq=False)
class _Field:
    """One slope to cover, with the upright planes that bound it.

    ``normals`` ``(k, 3)`` look inwards, level; a point p is on the roof where n.p >= offset.
    """

    frame: Floats
    ring: Floats
    normals: Floats
    offsets: Floats

    @classmethod
    def of(cls, ring: Floats, planes: RoofPlanes) -> _Field:
        u = _unit(ring[1] - ring[0])
        normal = _unit(np.cross(u, ring[-1] - ring[0]))
        matrix = np.eye(4)
        matrix[:3, 0], matrix[:3, 1], matrix[:3, 2] = u, np.cross(normal, u), normal
        matrix[:3, 3] = ring[0]
        shared = [*planes.hips, *planes.ridges]
        normals, offsets = [], []
        for a, b in zip(ring[1:], np.roll(ring, -1, axis=0)[1:], strict=True):
            level = _unit(np.cross([0.0, 0.0, 1.0], b - a))
            met = any(_same_line(line, a, b) for line in shared)
            normals.append(level)
            offsets.append(level @ a + (_CHANNEL_M if met else _ABUTMENT_M))
        return cls(matrix, ring, np.array(normals), np.array(offsets))

    def planes(self) -> list[Plane]:
        return list(zip(self.normals, self.offsets, strict=True))

    @property
    def local(self) -> Floats:
        """The slope's polygon in its own (u, v), ``(n, 2)``."""
        return ((self.ring - self.ring[0]) @ self.frame[:3, :3])[:, :2]

    def crossings(self, frames: Floats, barrel: _Barrel) -> tuple[Bools, Bools]:
        """Which of the bounding planes each tile meets ``(t, k)``, and which tiles are laid.

        A tile wholly outside, or with only a scrap inside, is not laid.
        """
        normals = self.normals @ self.frame[:3, :3]
        offsets = self.offsets - self.normals @ self.frame[:3, 3]
        middle = frames[:, :3, 3] + [0.0, barrel.length_m / 2.0, 0.0]
        half = np.array([barrel.wide_m, barrel.length_m / 2.0, barrel.wide_m])
        reach = np.abs(normals) @ (half + _PLAY_M)
        distance = middle @ normals.T - offsets
        return distance < reach, (distance > _SCRAP_M - reach).all(axis=1)


def _unit(vector: Floats) -> Floats:
    return np.asarray(vector / np.linalg.norm(vector), dtype=float)


def _same(a: Floats, b: Floats) -> bool:
    return bool((np.abs(a - b) < _SAME_M).all())


def _same_line(line: Floats, a: Floats, b: Floats) -> bool:
    low, high = line
    return (_same(low, a) and _same(high, b)) or (_same(low, b) and _same(high, a))


def _lattice(field: _Field, covering: Covering, half: float, axis_m: float) -> Floats:
    """Unturned local frames of every tile that could touch the slope, course by course."""
    points = field.local
    middle = points[1, 0] / 2.0
    reach = int(np.ceil(np.ptp(points[:, 0]) / covering.spacing_m / 2.0)) + 2
    columns = middle + covering.spacing_m * (np.arange(-reach, reach + 1) + half)
    courses = int(np.ceil((points[:, 1].max() + covering.overhang_m) / covering.exposure_m))
    rows = covering.exposure_m * np.arange(courses) - covering.overhang_m
    u, v = (a.ravel() for a in np.meshgrid(columns, rows))
    frames = np.tile(np.eye(4), (len(u), 1, 1))
    frames[:, 0, 3], frames[:, 1, 3], frames[:, 2, 3] = u, v, axis_m
    return frames


def _by_hand(count: int, rng: np.random.Generator) -> Floats:
    """Small displacements ``(count, 4, 4)`` in the tiles' own frames."""
    across, along, roll, turn = rng.uniform(-1.0, 1.0, (4, count))
    frames = np.tile(np.eye(4), (count, 1, 1))
    cr, sr = np.cos(_ROLL_RAD * roll), np.sin(_ROLL_RAD * roll)
    ct, st = np.cos(_TURN_RAD * turn), np.sin(_TURN_RAD * turn)
    frames[:, 0, 0], frames[:, 0, 1], frames[:, 0, 2] = ct * cr, -st, ct * sr
    frames[:, 1, 0], frames[:, 1, 1], frames[:, 1, 2] = st * cr, ct, st * sr
    frames[:, 2, 0], frames[:, 2, 2] = -sr, cr
    frames[:, 0, 3], frames[:, 1, 3] = _ACROSS_M * across, _ALONG_M * along
    return frames


def _closure(covering: Covering, barrel: _Barrel) -> Mesh:
    """The mortar that stops a cover's mouth at the eaves, standing on the deck, from y = 0."""
    gap = covering.spacing_m / 2.0 - barrel.narrow_m
    half = gap - covering.clearance_m
    radius = barrel.wide_m - barrel.thickness_m - 2.0 * covering.clearance_m
    limit = np.arcsin(min(half / radius, 1.0))
    angle = np.linspace(limit, -limit, 9)
    top = np.column_stack([np.sin(angle), np.cos(angle)]) * radius
    foot = -barrel.cover_axis_m
    outline = np.concatenate([[(-half, foot), (half, foot)], top])
    return prism(outline, (0.0, 0.03, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), 0.03)


def _closures(field: _Field, covering: Covering, barrel: _Barrel) -> Floats:
    frames = _lattice(field, covering, 0.5, barrel.cover_axis_m)
    first = frames[frames[:, 1, 3] <= -covering.overhang_m + 1e-9]
    crossed, laid = field.crossings(first, barrel)
    first = first[laid & ~crossed.any(axis=1)]
    first[:, 1, 3] = 0.0
    return field.frame @ first


def _starter(field: _Field, barrel: _Barrel) -> Mesh:
    """A strip of mortar under the first pans, a little back from the eave."""
    low, high = 0.032, 0.06
    height = barrel.wide_m - barrel.narrow_m - 0.008
    mesh = box_between((0.0, low, 0.0), (field.local[1, 0], high, height))
    return cut_copies(mesh, field.frame[None], field.planes())


@dataclass(frozen=True, eq=False)
class _Line:
    """A hip or ridge: its frame (y uphill or along), length, and what bounds it."""

    frame: Floats
    length_m: float
    fall: float  # of the slopes beside it, in the upright section square to it
    ends: list[Plane]
    open_foot: bool


def _lines(planes: RoofPlanes, covering: Covering, barrel: _Barrel) -> list[Part]:
    """Hip and ridge tiles over a bed of mortar."""
    lines = _all_lines(planes)
    if not lines:
        return []
    sizes = _Barrel(
        wide_m=covering.ridge_width_m / 2.0,
        narrow_m=covering.ridge_width_m / 2.0 - (barrel.wide_m - barrel.narrow_m),
        length_m=barrel.length_m,
        thickness_m=barrel.thickness_m,
        half_angle=barrel.half_angle,
        pan_axis_m=0.0,
        cover_axis_m=0.0,
    )
    tile = _half_barrel(sizes, pan=False)
    whole, cut, beds, plugs = [], [], [], []
    for line in lines:
        axis = _line_axis(line, sizes, barrel.top_m) + covering.clearance_m
        start = -covering.overhang_m if line.open_foot else 0.0
        count = int(np.ceil((line.length_m - start) / covering.exposure_m))
        local = np.tile(np.eye(4), (count, 1, 1))
        local[:, 1, 3] = start + covering.exposure_m * np.arange(count)
        local[:, 2, 3] = axis
        free = covering.ridge_width_m
        away = local[:, 1, 3] + sizes.length_m < line.length_m - free
        away &= line.open_foot | (local[:, 1, 3] > free)
        frames = line.frame @ local
        whole.append(frames[away])
        if (~away).any():
            cut.append(cut_copies(tile, frames[~away], line.ends))
        beds.append(_bed(line, sizes, axis))
        if line.open_foot:
            plugs.append(_plug(line, sizes, axis, start, barrel.top_m))
    parts = [Part("tiles/hips and ridges", covering.role, tile, np.concatenate(whole))]
    if cut:
        parts.append(Part("tiles/hips and ridges cut", covering.role, merged(cut)))
    parts.append(Part("tiles/mortar", "mortar", merged([*beds, *plugs])))
    return parts


def _all_lines(planes: RoofPlanes) -> list[_Line]:
    segments = [(line, True) for line in planes.hips] + [(line, False) for line in planes.ridges]
    walls = _abutments(planes)
    lines = []
    for segment, hip in segments:
        a, b = segment
        y = _unit(b - a)
        x = _unit(np.cross(y, [0.0, 0.0, 1.0]))
        matrix = np.eye(4)
        matrix[:3, 0], matrix[:3, 1], matrix[:3, 2], matrix[:3, 3] = x, y, np.cross(x, y), a
        ends = list(walls)
        for end, other_end in ((a, b), (b, a)):
            own = _level(other_end - end)
            for other, _ in segments:
                for k in (0, 1):
                    far = other[1 - k]
                    if _same(other[k], end) and not _same(far, other_end):
                        normal = _unit(own - _level(far - end))
                        ends.append((normal, float(normal @ end)))
        fall = _fall(planes, segment, x, matrix[:3, 2])
        lines.append(_Line(matrix, float(np.linalg.norm(b - a)), fall, ends, hip))
    return lines


def _level(vector: Floats) -> Floats:
    return _unit(vector * [1.0, 1.0, 0.0])


def _abutments(planes: RoofPlanes) -> list[Plane]:
    """Upright planes of the walls that slopes run against."""
    found: list[Plane] = []
    shared = [*planes.hips, *planes.ridges]
    for ring in planes.slopes:
        for a, b in zip(ring[1:], np.roll(ring, -1, axis=0)[1:], strict=True):
            if not any(_same_line(line, a, b) for line in shared):
                level = _unit(np.cross([0.0, 0.0, 1.0], b - a))
                plane = (level, float(level @ a) + _ABUTMENT_M)
                if not any(_same(level, n) and abs(plane[1] - o) < _SAME_M for n, o in found):
                    found.append(plane)
    return found


def _fall(planes: RoofPlanes, segment: Floats, x: Floats, z: Floats) -> float:
    """Fall over run, away from a line, of the slopes that meet on it."""
    for ring in planes.slopes:
        for a, b in zip(ring, np.roll(ring, -1, axis=0), strict=True):
            if _same_line(segment, a, b):
                normal = np.cross(ring[1] - ring[0], ring[-1] - ring[0])
                return float(abs(normal @ x) / (normal @ z))
    raise ValueError("a hip or ridge lies on no slope")


def _line_axis(line: _Line, sizes: _Barrel, cover_m: float) -> float:
    """Axis of a hip tile above the line, its feet clear of the covers beside it."""
    lift = cover_m * np.hypot(1.0, line.fall)
    sine, cosine = np.sin(sizes.half_angle), np.cos(sizes.half_angle)
    inner = [r - sizes.thickness_m for r in (sizes.wide_m, sizes.narrow_m)]
    return float(max(lift - r * sine * line.fall - r * cosine for r in inner))


def _bed(line: _Line, sizes: _Barrel, axis_m: float) -> Mesh:
    """Mortar from the deck up into the hip tiles, between the cut edges of the field."""
    half = _CHANNEL_M - 2.0 * _PLAY_M
    inner = sizes.narrow_m - sizes.thickness_m - 2.0 * _PLAY_M
    top = axis_m + np.sqrt(inner**2 - half**2)
    side = -half * line.fall
    outline = np.array([(-half, side), (0.0, 0.0), (half, side), (half, top), (-half, top)])
    start = 2.0 * half if line.open_foot else 0.0  # behind the two fasciae at a corner
    run = line.length_m - start
    long = prism(outline, (0.0, line.length_m, 0.0), (1.0, 0, 0), (0, 0, 1.0), run)
    return cut_copies(long, line.frame[None], line.ends)


def _plug(line: _Line, sizes: _Barrel, axis_m: float, start_m: float, cover_m: float) -> Mesh:
    """Mortar that stops the mouth of the lowest hip tile, down to the covers beside it."""
    radius = sizes.wide_m - sizes.thickness_m - 3.0 * _PLAY_M
    angle = np.linspace(-sizes.half_angle, sizes.half_angle, 13)
    arc = np.column_stack([np.sin(angle), np.cos(angle)]) * radius
    ridge = (0.0, cover_m * np.hypot(1.0, line.fall) - axis_m + 2.0 * _PLAY_M)
    disc = extrude(np.array([*arc, ridge]), 0.025)
    turn = np.array([[1.0, 0, 0, 0], [0, 0, -1.0, 0], [0, 1.0, 0, 0], [0, 0, 0, 1.0]])
    return disc.moved(turn).shifted(y_m=start_m + 0.04, z_m=axis_m).moved(line.frame)


def _flashings(planes: RoofPlanes, covering: Covering, barrel: _Barrel) -> list[Part]:
    """Lead aprons where the tiles run against a wall: up the wall, and out over the covers."""
    shared = [*planes.hips, *planes.ridges]
    tops = [p for line in shared for p in line]
    sheets = []
    for ring in planes.slopes:
        normal = np.cross(ring[1] - ring[0], ring[-1] - ring[0])
        for a, b in zip(ring[1:], np.roll(ring, -1, axis=0)[1:], strict=True):
            if any(_same_line(line, a, b) for line in shared):
                continue
            y = _unit(a - b)
            x = _unit(np.cross(y, [0.0, 0.0, 1.0]))
            z = np.cross(x, y)
            fall = float(normal @ x / (normal @ z))
            base = barrel.top_m * np.hypot(1.0, fall) + _PLAY_M
            t, out, up = _LEAD_M, _LEAD_OUT_M, _LEAD_UP_M
            section = [(0.0, base), (out, base - fall * out), (out, base - fall * out + t)]
            section += [(t, base - fall * t + t), (t, base + up), (0.0, base + up)]
            # The aprons stop short of a hip or ridge tile that comes to the wall.
            low, high = (0.75 * covering.ridge_width_m * _any_same(p, tops) for p in (b, a))
            run = float(np.linalg.norm(a - b)) - low - high
            if run > 0.5 * out:
                matrix = np.eye(4)
                matrix[:3, 0], matrix[:3, 1], matrix[:3, 2], matrix[:3, 3] = x, y, z, b
                sheet = prism(np.array(section), (0, low + run, 0), (1.0, 0, 0), (0, 0, 1.0), run)
                sheets.append(sheet.moved(matrix))
    return [Part("tiles/flashing", "metal", merged(sheets))] if sheets else []


def _any_same(point: Floats, points: list[Floats]) -> bool:
    return any(_same(point, p) for p in points)

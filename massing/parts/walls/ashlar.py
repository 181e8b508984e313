"""Walls faced with squared stone: courses, broken perpends, joints sunk or cut to a V."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from massing.design.house import HouseDesign
from massing.geometry.booleans import mesh_of, solid_of
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import loft, prism, translations
from massing.parts.part import Part, Path
from massing.practice.joinery_sizes import joinery_size
from massing.practice.rules import read_rules
from massing.settingout.wall_faces import (
    WALL_NAMES,
    Cut,
    CutShape,
    Gable,
    Rectangle,
    free_corners,
    run_m,
    strips,
    taken,
)

RUSTICATIONS = ("channelled", "v-jointed")
_HOUSED_M = 0.002
_LEAST_LEG_M = joinery_size("facing.least_leg")
_LEAST_STONE_M = joinery_size("facing.least_stone")
_SCRAP_M = 0.012
_FLARE_STEPS = 24
_ALIKE = 6  # stones of one size from which they are copies of one

KeepOut = Mapping[str, Sequence[Cut]]
Bools = NDArray[np.bool_]
Stone = tuple[float, float, float, float]  # x from, x to, z from, z to in a wall's frame


@dataclass(frozen=True)
class Work:
    """One way of working stone; lengths in metres, see ``ashlar.yaml``."""

    courses_m: tuple[float, ...]
    length_m: float
    joint_m: float
    proud_m: float
    bevel_m: float


@cache
def works() -> dict[str, Work]:
    """All ways of working stone by name, from ``practice/ashlar.yaml``."""
    rows = {name: row.value for name, row in read_rules("ashlar.yaml").items()}
    found = {}
    for name in dict.fromkeys(key.partition(".")[0] for key in rows):
        first = rows[f"{name}.course"]
        courses = (
            (first, rows[f"{name}.next_course"]) if f"{name}.next_course" in rows else (first,)
        )
        joint, proud, bevel = (rows[f"{name}.{size}"] for size in ("joint", "proud", "bevel"))
        found[name] = Work(courses, rows[f"{name}.length"] * first, joint, proud, bevel)
    return found


@dataclass(frozen=True)
class Band:
    """A height of wall in one kind of work, or of the ``gables`` over some."""

    low_z_m: float
    high_z_m: float
    work: str
    gables: Mapping[str, Gable] | None = None


def courses(low_z_m: float, high_z_m: float, heights_m: Sequence[float]) -> Floats:
    """Levels ``(n + 1,)`` of the courses that fill a height, each near what is asked.

    ``heights_m`` repeat from the foot; all are drawn out or in alike, to come out whole.

    >>> courses(0.0, 1.0, [0.3]).round(3)
    array([0.   , 0.333, 0.667, 1.   ])
    """
    tall = high_z_m - low_z_m
    count = int(np.ceil(2.0 * tall / min(heights_m))) + 2
    sums = np.cumsum(np.resize(heights_m, count))
    best = int(np.argmin(np.abs(np.log(sums / tall))))
    return np.concatenate([[low_z_m], low_z_m + tall * sums[: best + 1] / sums[best]])


def ashlar(
    house: HouseDesign,
    frames: Mapping[str, Floats],
    bands: Sequence[Band],
    keep_out: KeepOut | None = None,
    role: str = "ashlar",
    scribed: Mapping[str, Rectangle] | None = None,
) -> list[Part]:
    """Every stone of the walls' faces in ``bands``, standing a joint's depth before the wall.

    Perpends are broken by half a stone from course to course. Corner stones turn the corner,
    long and short on each face by turns, where openings and ``keep_out`` leave them room.
    Stones of one size are copies of one.

    Args:
        house: the house.
        frames: each wall's frame ``(4, 4)``, by name.
        bands: heights of wall and how each is worked.
        keep_out: what is left bare of each wall besides the openings.
        role: the material.
        scribed: a rectangle of a wall whose stones are no copies, for what meets the wall there
            to be taken out of them.
    """
    parts = []
    for i, band in enumerate(bands):
        work_name = band.work if band.work in RUSTICATIONS else "ashlar"
        name = ("house", f"{work_name} {i + 1}")
        parts += _band(house, frames, band, keep_out or {}, scribed or {}, name, role)
    return parts


def _band(
    house: HouseDesign,
    frames: Mapping[str, Floats],
    band: Band,
    keep_out: KeepOut,
    rims: Mapping[str, Rectangle],
    name: tuple[str, ...],
    role: str,
) -> list[Part]:
    """The stones of one band, course by course: those of the faces, then those of the corners."""
    work, over = works()[band.work], band.gables or {}
    faced = [w for w in WALL_NAMES if w != house.open_side and w in (over or WALL_NAMES)]
    cut = {w: taken(house, w, keep_out.get(w, ())) for w in WALL_NAMES}
    cut |= {w: list(gable.taken) for w, gable in over.items()}
    near = {w: [*cut[w], *([rims[w]] if w in rims else [])] for w in WALL_NAMES}
    laid: dict[str, list[Stone]] = {wall: [] for wall in faced}
    corners: dict[tuple[float, float, float], list[Floats]] = {}
    for k, (z0, z1) in enumerate(pairwise(courses(band.low_z_m, band.high_z_m, work.courses_m))):
        met = {w: _over(near[w], z0, z1) for w in WALL_NAMES}
        legs: Sequence[tuple[float, float] | None] = (
            [None] * 4 if over else _corner_legs(house, met, work, k)
        )
        for q, pair in enumerate(legs):
            if pair is not None:
                height = z1 - z0 - work.joint_m
                size = (*(leg - work.joint_m / 2.0 for leg in pair), height)
                key = (round(size[0], 6), round(size[1], 6), round(size[2], 6))
                frame = _corner_frame(house, frames, q, z0 + work.joint_m / 2.0)
                corners.setdefault(key, []).append(frame)
        for wall in faced:
            w = WALL_NAMES.index(wall)
            half = over[wall].half_m if over else run_m(house, wall) / 2.0
            x = over[wall].x_m if over else 0.0
            low, high = _between_corners(x, half, legs[w], legs[(w + 1) % 4])
            if high - low > _LEAST_STONE_M:
                surely = _over(cut[wall], z0, z1, narrowest=True)
                rows = strips((low, z0), (high, z1), z1 - z0, surely)
                laid[wall] += _stones(rows, x + _perpends(half, work, k + w), work.joint_m)
    sloping = {w: [c for c in cut[w] if isinstance(c, CutShape)] for w in faced}
    parts = _laid(laid, sloping, rims, frames, work, name, role)
    for n, ((along_x, along_y, height), placed) in enumerate(sorted(corners.items())):
        stone = angle_stone(along_x, along_y, height, work)
        parts.append(Part((*name, f"corner stones {n + 1}"), role, stone, np.array(placed)))
    return parts


def _between_corners(
    x_m: float,
    half_m: float,
    at_left: tuple[float, float] | None,
    at_right: tuple[float, float] | None,
) -> tuple[float, float]:
    """From where to where a course is of plain stones, between corner stones or the wall's ends."""
    low = x_m - half_m + (at_left[0] if at_left else 0.0)
    return low, x_m + half_m - (at_right[1] if at_right else 0.0)


def _over(cut: Sequence[Cut], z0: float, z1: float, *, narrowest: bool = False) -> list[Rectangle]:
    """What of the cuts lies in a course, as rectangles: round each flare, or within it."""
    found = []
    for c in cut:
        shape = _within(c, z0, z1) if narrowest and isinstance(c, CutShape) else c
        shape = shape.over(z0, z1) if isinstance(shape, CutShape) else shape
        if shape[1] < z1 - 1e-6 and shape[3] > z0 + 1e-6 and shape[2] > shape[0] + 1e-3:
            found.append(shape)
    return found


def _within(flare: CutShape, z0: float, z1: float) -> Rectangle:
    a, b = max(z0, flare.low_z_m), min(z1, flare.high_z_m)
    half = min(flare.half_m(a), flare.half_m(b)) if b > a else 0.0
    return (flare.x_m - half, flare.low_z_m, flare.x_m + half, flare.high_z_m)


def _flare_prism(flare: CutShape, gap_m: float) -> Mesh:
    """A flare with a joint round it as a block through the face of a wall."""
    z = np.linspace(flare.low_z_m, flare.high_z_m, _FLARE_STEPS + 1)
    half = np.array([max(flare.half_m(float(h)), 0.0) for h in z]) + gap_m
    z[[0, -1]] += [-gap_m, gap_m]
    right = np.column_stack([flare.x_m + half, z])
    left = np.column_stack([flare.x_m - half, z])[::-1]
    outline = np.concatenate([right, left])
    return prism(outline, (0.0, 0.1, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), 0.2)


def _length(half_m: float, work: Work) -> float:
    """A stone's length with its joint, such that whole ones fill a wall."""
    return 2.0 * half_m / max(2, round(2.0 * half_m / work.length_m))


def _perpends(half_m: float, work: Work, turn: int) -> Floats:
    """Middles of the upright joints of a course; in every other one half a stone on."""
    length = _length(half_m, work)
    start = -half_m + (0.5 * length if turn % 2 else 0.0)
    return np.asarray(start + length * np.arange(round(2.0 * half_m / length) + 1))


def _corner_legs(
    house: HouseDesign, cut: Mapping[str, Sequence[Rectangle]], work: Work, k: int
) -> list[tuple[float, float] | None]:
    """For each corner, how far its stone runs along the wall right of it and the one left of it;
    None where there is no room for it."""
    found: list[tuple[float, float] | None] = []
    free = free_corners(house)
    for q in range(4):
        right, left = WALL_NAMES[q], WALL_NAMES[q - 1]
        a, b = run_m(house, right) / 2.0, run_m(house, left) / 2.0
        # Long and short by turns; both ends of a wall alike, so that its perpends break.
        share = (1.0, 0.5) if (k + q) % 2 == 0 else (0.5, 1.0)
        along_right, along_left = share[0] * _length(a, work), share[1] * _length(b, work)
        free_right = min((c[0] + a for c in cut[right]), default=np.inf)
        free_left = min((b - c[2] for c in cut[left]), default=np.inf)
        pair = (
            float(min(along_right, free_right, a)),
            float(min(along_left, free_left, b)),
        )
        found.append(pair if q in free and min(pair) >= _LEAST_LEG_M else None)
    return found


def _corner_frame(house: HouseDesign, frames: Mapping[str, Floats], q: int, z_m: float) -> Floats:
    """The corner at the left end of wall ``q``: x along it, y into the house, z up."""
    matrix = frames[WALL_NAMES[q]].copy()
    half = run_m(house, WALL_NAMES[q]) / 2.0
    matrix[:3, 3] += matrix[:3, :3] @ [-half, 0.0, z_m]
    return matrix


def _stones(rows: Floats, perpends: Floats, joint_m: float) -> list[Stone]:
    """Stones in the strips of one course."""
    found: list[Stone] = []
    half = joint_m / 2.0
    for x0, x1, z0, z1, _ in rows:
        clear = (perpends > x0 + _LEAST_STONE_M) & (perpends < x1 - _LEAST_STONE_M)
        ends = np.concatenate([[x0], perpends[clear], [x1]])
        low, high = z0 + half, z1 - half
        if high - low < _SCRAP_M:
            continue
        for a, b in zip(ends[:-1] + half, ends[1:] - half, strict=True):
            if b - a >= _SCRAP_M:
                found.append((float(a), float(b), float(low), float(high)))
    return found


def _laid(
    laid: Mapping[str, list[Stone]],
    sloping: Mapping[str, list[CutShape]],
    rims: Mapping[str, Rectangle],
    frames: Mapping[str, Floats],
    work: Work,
    name: Path,
    role: str,
) -> list[Part]:
    """Stones of one size as copies of one; the rest, and those cut on a slope, as one mesh for
    each wall."""
    alike: dict[tuple[float, float], list[Floats]] = {}
    every_stone = {wall: np.array(rows).reshape(-1, 4) for wall, rows in laid.items()}
    crossed = {w: _crossed(rows, sloping[w]) for w, rows in every_stone.items()}
    stones = {w: rows[~crossed[w]] for w, rows in every_stone.items()}
    sizes = {
        w: np.round(np.column_stack([s[:, 1] - s[:, 0], s[:, 3] - s[:, 2]]), 6)
        for w, s in stones.items()
    }
    every = np.concatenate(list(sizes.values()))
    common, counts = np.unique(every, axis=0, return_counts=True)
    parts = []
    for size, count in zip(common, counts, strict=True):
        if count >= _ALIKE:
            for wall, rows in stones.items():
                same = (sizes[wall] == size).all(axis=1) & ~_in_rim(rows, rims.get(wall))
                at = np.column_stack([rows[same, 0], np.zeros(same.sum()), rows[same, 2]])
                alike.setdefault((size[0], size[1]), []).append(frames[wall] @ translations(at))
    for n, ((wide, tall), placed) in enumerate(alike.items()):
        mesh = bevelled_stones(np.array([[0.0, wide, 0.0, tall]]), work)
        frames_of = np.concatenate(placed)
        if len(frames_of):
            parts.append(Part((*name, f"stones {n + 1}"), role, mesh, frames_of))
    for wall, rows in stones.items():
        odd = np.array([tuple(s) not in alike for s in sizes[wall]], dtype=bool)
        odd |= _in_rim(rows, rims.get(wall))
        if odd.any():
            mesh = bevelled_stones(rows[odd], work).moved(frames[wall])
            parts.append(Part((*name, f"cut {wall}"), role, mesh))
        mesh = _cut_on_slopes(every_stone[wall][crossed[wall]], sloping[wall], work)
        if len(mesh.faces):
            parts.append(Part((*name, f"sloping {wall}"), role, mesh.moved(frames[wall])))
    return parts


def _in_rim(stones: Floats, rim: Rectangle | None) -> Bools:
    if rim is None:
        return np.zeros(len(stones), dtype=bool)
    x0, x1, z0, z1 = stones.T
    return (x1 > rim[0]) & (x0 < rim[2]) & (z1 > rim[1]) & (z0 < rim[3])


def _crossed(stones: Floats, sloping: Sequence[CutShape]) -> Bools:
    """Which stones a flare may reach."""
    met = np.zeros(len(stones), dtype=bool)
    for f in sloping:
        z = np.linspace(f.low_z_m, f.high_z_m, _FLARE_STEPS + 1)
        half = max(f.half_m(float(h)) for h in z) + _LEAST_STONE_M
        low, high = f.low_z_m - _LEAST_STONE_M, f.high_z_m + _LEAST_STONE_M
        x0, x1, z0, z1 = stones.T
        met |= (x0 < f.x_m + half) & (x1 > f.x_m - half) & (z0 < high) & (z1 > low)
    return met


def _cut_on_slopes(stones: Floats, sloping: Sequence[CutShape], work: Work) -> Mesh:
    """Stones less what flares take of them; scraps are not laid."""
    mesh = bevelled_stones(stones, work)
    if not len(mesh.faces):
        return mesh
    solid = solid_of(mesh)
    for flare in sloping:
        solid -= solid_of(_flare_prism(flare, work.joint_m / 2.0))
    least = _SCRAP_M * _LEAST_STONE_M * work.proud_m
    kept = [mesh_of(body) for body in solid.decompose() if body.volume() > least]
    return merged(kept) if kept else Mesh(np.empty((0, 3)), np.empty((0, 3), dtype=int))


def angle_stone(along_x_m: float, along_y_m: float, height_m: float, work: Work) -> Mesh:
    """A stone on the corner at the origin, along +x and +y, foot on z = 0, arrises bevelled."""
    p, b, t = work.proud_m, _eased(work, height_m), _HOUSED_M
    x, y = along_x_m, along_y_m

    def ring(out: float, inset: float, z: float) -> Floats:
        back = b - p  # where the bevels of the ends begin
        plan = [(x, t), (t, t), (t, y), (back, y), (-out, y - inset), (-out, -out)]
        plan += [(x - inset, -out), (x, back)]
        return np.column_stack([plan, np.full(8, z)])

    levels = [(p - b, 0.5 * b, 0.0), (p, b, b), (p, b, height_m - b), (p - b, 0.5 * b, height_m)]
    return loft(np.array([ring(*level) for level in levels]))


def _eased(work: Work, least_m: float) -> float:
    return min(work.bevel_m, 0.3 * least_m)


_CAPS = np.array([[0, 2, 1], [0, 3, 2], [8, 9, 10], [8, 10, 11]])
_SIDES = np.array(
    [
        face
        for ring in (0, 4)
        for i, j in ((0, 1), (1, 2), (2, 3), (3, 0))
        for face in ([ring + i, ring + j, ring + 4 + j], [ring + i, ring + 4 + j, ring + 4 + i])
    ]
)
_STONE_FACES = np.concatenate([_CAPS, _SIDES])


def bevelled_stones(stones: Floats, work: Work) -> Mesh:
    """Stones ``(n, 4)`` (x from, x to, z from, z to) on a wall's face as one mesh.

    Each stands proud of y = 0 towards -y with its arrises bevelled, and is let in by 2 mm.
    """
    x0, x1, z0, z1 = np.asarray(stones, dtype=float).T
    bevel = np.minimum(work.bevel_m, 0.3 * np.minimum(x1 - x0, z1 - z0))
    rings = []
    for inset, y in (
        (0.0 * bevel, np.full_like(bevel, _HOUSED_M)),
        (0.0 * bevel, bevel - work.proud_m),
        (bevel, np.full_like(bevel, -work.proud_m)),
    ):
        a, b, c, d = x0 + inset, x1 - inset, z0 + inset, z1 - inset
        rings += [np.stack([x, y, z], axis=-1) for x, z in ((a, c), (b, c), (b, d), (a, d))]
    corners = np.stack(rings, axis=1)
    faces = _STONE_FACES[None] + 12 * np.arange(len(corners))[:, None, None]
    return Mesh(corners.reshape(-1, 3), faces.reshape(-1, 3))

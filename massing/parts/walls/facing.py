"""What walls are faced with, in relief: clapboards, bricks in a bond, quoins, belt courses."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

import numpy as np

from massing.design.house import HouseDesign
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, extrude, loft, prism, sweep, translations
from massing.parts.part import Part
from massing.practice.defaults import default
from massing.practice.joinery_sizes import (
    BELT_M,
    BRICK_COURSE_M,
    CLAPBOARD_EXPOSURE_M,
    joinery_size,
)
from massing.settingout.wall_faces import (
    WALL_NAMES,
    Cut,
    CutShape,
    Gable,
    Rectangle,
    Scribed,
    areas,
    blocks,
    face_ends,
    free_corners,
    plan_path,
    run_m,
    scribe,
    strips,
    taken,
)
from massing.units import INCH_M

EXPOSURE_M = default("house.least_exposure"), default("house.most_exposure")

# Common practice, no source, unless a source is named.
_BUTT_M, _TOP_M = 9.0 / 16.0 * INCH_M, 3.0 / 16.0 * INCH_M
_CORNER_M, CORNER_THICK_M = 5.0 * INCH_M, 1.125 * INCH_M
BRICK_M = (8.0 * INCH_M, 2.25 * INCH_M)  # length and height of a common brick
_HEADER_M = joinery_size("facing.header")
_JOINT_M = joinery_size("facing.joint")
_BRICK_PROUD_M = 0.006
_HOUSED_M = 0.002
_PLAY_OF_JOINT_M = joinery_size("facing.joint_play")
_BRICK_DEEP_M = _BRICK_PROUD_M + _HOUSED_M
BONDS = ("running", "flemish", "common")
_HEADER_COURSE = 6  # every sixth course of common bond is headers
_QUOIN_M = (16.0 * INCH_M, 10.0 * INCH_M)  # long face, short face
_QUOIN_COURSES = 4
_QUOIN_PROUD_M = joinery_size("facing.quoin_proud")
_QUOIN_BEVEL_M = joinery_size("facing.quoin_bevel")
_BELT_PROUD_M = joinery_size("facing.belt_proud")

KeepOut = Mapping[str, Sequence[Cut]]


def clapboards(
    house: HouseDesign,
    frames: Mapping[str, Floats],
    top_z_m: float,
    exposure_m: float = CLAPBOARD_EXPOSURE_M,
    keep_out: KeepOut | None = None,
    gables: Mapping[str, Sequence[Gable]] | None = None,
) -> list[Part]:
    """Bevelled boards between corner boards, from the floor to ``top_z_m``.

    Args:
        house: the house.
        frames: each wall's frame ``(4, 4)``, by name.
        top_z_m: where the boards stop, under the cornice.
        exposure_m: height of a board that shows.
        keep_out: rectangles of each wall left bare besides the openings.
        gables: the gables over walls, boarded in line with them.

    Raises:
        ValueError: an exposure outside 2 to 12 in.
    """
    least, most = EXPOSURE_M
    if not least <= exposure_m <= most:
        allowed = f"{least:.3f} to {most:.3f} m"
        raise ValueError(f"clapboards of {exposure_m:.3f} m exposure; allowed: {allowed}")
    parts = []
    for wall in _faced(house):
        ends = face_ends(house, wall, _CORNER_M - CORNER_THICK_M, CORNER_THICK_M)
        cut = taken(house, wall, (keep_out or {}).get(wall, ()))
        boards = []
        for low, high, top, cut_out in areas(ends, top_z_m, cut, (gables or {}).get(wall, ())):
            curves = [c for c in cut_out if isinstance(c, CutShape)]
            level = [c for c in cut_out if not isinstance(c, CutShape)]
            rows = strips((low, house.floor_z_m), (high, top), exposure_m, level)
            whole, pieces = scribe(rows, curves)
            boards += [_boards(whole, exposure_m), *_scribed_boards(pieces, exposure_m)]
        parts.append(
            Part(("house", "clapboards", wall), "siding", merged(boards).moved(frames[wall]))
        )
    return parts if house.corner_pilasters else [*parts, _corner_boards(house, top_z_m)]


def _faced(house: HouseDesign) -> list[str]:
    return [wall for wall in WALL_NAMES if wall != house.open_side]


def _boards(rows: Floats, exposure_m: float) -> Mesh:
    x0, x1, z0, z1, foot = rows.T
    taper = (_BUTT_M - _TOP_M) / exposure_m
    low, high = _BUTT_M - taper * (z0 - foot), _BUTT_M - taper * (z1 - foot)
    corners = np.zeros((len(rows), 2, 2, 2, 3))
    corners[:, 0, :, :, 0], corners[:, 1, :, :, 0] = x0[:, None, None], x1[:, None, None]
    corners[:, :, 0, 0, 1], corners[:, :, 0, 1, 1] = -low[:, None], -high[:, None]
    corners[:, :, :, 0, 2], corners[:, :, :, 1, 2] = z0[:, None, None], z1[:, None, None]
    return blocks(corners.reshape(-1, 8, 3))


def _scribed_boards(pieces: Scribed, exposure_m: float) -> list[Mesh]:
    """Boards cut to a curve, as thick at each height as their neighbours."""
    taper = (_BUTT_M - _TOP_M) / exposure_m
    made = []
    for row, ring in pieces:
        flat = prism(ring, (0.0, 0.0, 0.0), (1.0, 0, 0), (0, 0, 1.0), 1.0)
        at = flat.vertices.copy()
        at[:, 1] *= _BUTT_M - taper * (at[:, 2] - row[4])
        made.append(Mesh(at, flat.faces))
    return made


def _corner_boards(house: HouseDesign, top_z_m: float) -> Part:
    """Two boards at each corner, as one angle; a strip where a wing meets the main wall."""
    t, w = CORNER_THICK_M, _CORNER_M - CORNER_THICK_M
    angle = np.array([(w, 0.0), (0.0, 0.0), (0.0, w), (-t, w), (-t, -t), (w, -t)])
    x, depth = house.width_m / 2.0, house.depth_m
    corners = [(-x, 0.0, 1, 1), (x, 0.0, -1, 1), (x, depth, -1, -1), (-x, depth, 1, -1)]
    meshes = []
    strip = np.array([(0.0, 0.0), (0.0, -t), (t, -t), (t, 0.0)])
    free = free_corners(house)
    for k, (cx, cy, sx, sy) in enumerate(corners):
        outline = (angle if k in free else strip) * [sx, sy] + [cx, cy]
        ring = outline if sx * sy < 0 else outline[::-1]
        for low_z, high_z in _between_belts(house, top_z_m):
            meshes.append(extrude(ring, high_z - low_z).shifted(z_m=low_z))
    return Part(("house", "corner boards"), "trim", merged(meshes))


def bricks(
    house: HouseDesign,
    frames: Mapping[str, Floats],
    top_z_m: float,
    bond: str = "running",
    keep_out: KeepOut | None = None,
    walls: Sequence[str] = WALL_NAMES,
    scribed: Mapping[str, Rectangle] | None = None,
    gables: Mapping[str, Sequence[Gable]] | None = None,
) -> list[Part]:
    """Every brick of the walls' faces, standing a joint's depth before the wall.

    Whole stretchers and headers are instances; bricks cut at openings and corners are one
    mesh per wall. The bonds: running (stretchers, half lapped), flemish (stretcher and header
    by turns), common (every sixth course headers). They turn the corners as bricklayers do: a
    course that ends on one wall with a stretcher shows its end as a header on the other, a closer
    beside it where the bond asks for one; what a wall is longer or shorter than so many bricks
    goes into the joints. Bricks that reach into a wall's rectangle in
    ``scribed`` count as cut, for what meets the wall there to be taken out of them. ``gables``
    over walls are laid in line with them.

    Raises:
        ValueError: an unknown bond.
    """
    if bond not in BONDS:
        raise ValueError(f"{bond!r} is not a bond; allowed: {', '.join(BONDS)}")
    course = BRICK_COURSE_M
    whole: dict[str, list[Floats]] = {"stretchers": [], "headers": []}
    parts = []
    free = free_corners(house)
    for wall in [w for w in walls if w != house.open_side]:
        half = run_m(house, wall) / 2.0
        left = WALL_NAMES.index(wall)
        turns = left in free, (left + 1) % 4 in free
        cut = taken(house, wall, (keep_out or {}).get(wall, ()))
        every, pieces = [], []
        for low, high, top, cut_out in areas(
            (-half, half), top_z_m, cut, (gables or {}).get(wall, ())
        ):
            curves = [c for c in cut_out if isinstance(c, CutShape)]
            level = [c for c in cut_out if not isinstance(c, CutShape)]
            rows = strips((low, house.floor_z_m), (high, top), course, level)
            found = _bricks_of(rows, house.floor_z_m, course, bond, half, turns)
            found, fitted = scribe(found, curves, _JOINT_M)
            every.append(found)
            pieces += fitted
        laid = np.concatenate(every)
        size = {"stretchers": BRICK_M[0], "headers": _HEADER_M}
        full = np.abs(laid[:, 3] - laid[:, 2] - BRICK_M[1]) < 1e-6
        if scribed and wall in scribed:
            x0, z0, x1, z1 = scribed[wall]
            full &= (laid[:, 1] < x0) | (laid[:, 0] > x1) | (laid[:, 3] < z0) | (laid[:, 2] > z1)
        cut_ones = np.ones(len(laid), dtype=bool)
        for name, length in size.items():
            same = full & (np.abs(laid[:, 1] - laid[:, 0] - length) < 1e-6)
            cut_ones &= ~same
            at = np.column_stack([laid[same, 0], np.zeros(same.sum()), laid[same, 2]])
            whole[name].append(frames[wall] @ translations(at))
        if cut_ones.any() or pieces:
            shaped = [
                prism(r, (0.0, _HOUSED_M, 0.0), (1.0, 0, 0), (0, 0, 1.0), _BRICK_DEEP_M)
                for _, r in pieces
            ]
            mesh = merged([_brick_blocks(laid[cut_ones]), *shaped]).moved(frames[wall])
            parts.append(Part(("house", "bricks", f"cut {wall}"), "brick", mesh))
    for name, length in (("stretchers", BRICK_M[0]), ("headers", _HEADER_M)):
        placed = np.concatenate(whole[name])
        brick = box_between((0.0, -_BRICK_PROUD_M, 0.0), (length, _HOUSED_M, BRICK_M[1]))
        if len(placed):
            parts.append(Part(("house", "bricks", name), "brick", brick, placed))
    return parts


def _bricks_of(
    rows: Floats, foot_z: float, course_m: float, bond: str, half_m: float, turns: tuple[bool, bool]
) -> Floats:
    """Bricks ``(n, 4)`` x from, x to, z from, z to in the strips of a wall.

    ``turns`` says whether the wall turns a corner at its left and its right end.
    """
    found = []
    joint, bed = _JOINT_M / 2.0, (course_m - BRICK_M[1]) / 2.0
    for x0, x1, z0, z1, foot in rows:
        k = round((foot - foot_z) / course_m)
        edges = _perpends(k, bond, half_m)
        inside = edges[(edges > x0 + 1e-6) & (edges < x1 - 1e-6)]
        a = np.concatenate([[x0], inside])
        b = np.concatenate([inside, [x1]])
        low = max(z0, foot + bed)
        high = min(z1, foot + course_m - bed)
        keep = b - a > 4.0 * joint
        if high - low > 2.0 * bed and keep.any():
            a, b = a[keep], b[keep]
            start, end = _between_joints(a, b)
            if turns[0] and abs(a[0] + half_m) < 1e-6:
                start[0] = a[0] - _turn_m(k % 2 == 0)
            if turns[1] and abs(b[-1] - half_m) < 1e-6:
                end[-1] = b[-1] + _turn_m(k % 2 == 1)
            heights = np.full(len(a), low), np.full(len(a), high)
            found.append(np.column_stack([start, end, *heights]))
    return np.concatenate(found) if found else np.empty((0, 4))


def _between_joints(a: Floats, b: Floats) -> tuple[Floats, Floats]:
    """From and to of bricks between the middles of their joints, whole ones of their true size."""
    middle, length = (a + b) / 2.0, b - a - _JOINT_M
    for size in (BRICK_M[0], _HEADER_M):
        length = np.where(np.abs(length - size) < _PLAY_OF_JOINT_M, size, length)
    return middle - length / 2.0, middle + length / 2.0


def _turn_m(whole: bool) -> float:
    """How far a course goes past the wall's end: its own brick round the arris, or up to one."""
    return _BRICK_PROUD_M if whole else -_HOUSED_M


def _perpends(course: int, bond: str, half_m: float) -> Floats:
    """Middles of the upright joints of a course, from corner to corner.

    Even courses begin at the left with the face of their corner brick and end at the right with
    the end of the next wall's; odd courses the other way about.
    """
    stretch, head = BRICK_M[0] + _JOINT_M, _HEADER_M + _JOINT_M
    begin: list[float] = []
    if bond == "flemish":
        closer = (stretch - head) / 2.0  # brings each header over the middle of a stretcher
        repeat, end = [stretch, head], [stretch, closer, head]
    elif bond == "common" and course % _HEADER_COURSE == _HEADER_COURSE - 1:
        begin, repeat, end = [1.5 * head], [head], [head]  # a three-quarter bat for a closer
    else:
        repeat, end = [stretch], [head]
    run = 2.0 * half_m
    count = max(1, round((run - sum(begin) - sum(end)) / sum(repeat)))
    sizes = [*begin, *(repeat * count), *end]
    edges = np.cumsum(sizes)[:-1] * (run / sum(sizes)) - half_m
    return edges if course % 2 == 0 else -edges[::-1]


def _brick_blocks(laid: Floats) -> Mesh:
    x0, x1, z0, z1 = laid.T
    corners = np.zeros((len(laid), 2, 2, 2, 3))
    corners[:, 0, :, :, 0], corners[:, 1, :, :, 0] = x0[:, None, None], x1[:, None, None]
    corners[:, :, 0, :, 1], corners[:, :, 1, :, 1] = -_BRICK_PROUD_M, _HOUSED_M
    corners[:, :, :, 0, 2], corners[:, :, :, 1, 2] = z0[:, None, None], z1[:, None, None]
    return blocks(corners.reshape(-1, 8, 3))


def quoins(house: HouseDesign, top_z_m: float) -> list[Part]:
    """Dressed corner stones, long and short by turns on each face, four brick courses high.

    The uppermost under a belt course or cornice takes what is left.
    """
    x, depth = house.width_m / 2.0, house.depth_m
    corners = [(-x, 0.0, 0), (x, 0.0, 1), (x, depth, 2), (-x, depth, 3)]
    corners = [corners[k] for k in free_corners(house)]
    levels = _quoin_levels(house, top_z_m)
    kinds: dict[tuple[int, float], list[Floats]] = {}
    for cx, cy, quarter in corners:
        c, s = np.cos(quarter * np.pi / 2.0), np.sin(quarter * np.pi / 2.0)
        for k, (z0, z1) in enumerate(levels):
            frame = np.eye(4)
            frame[:2, :2] = np.round([[c, -s], [s, c]])
            frame[:3, 3] = cx, cy, z0
            kinds.setdefault(((k + quarter) % 2, round(z1 - z0, 9)), []).append(frame)
    return [
        Part(
            ("house", "quoins", str(i + 1)),
            "stone",
            _quoin(_QUOIN_M[turn], _QUOIN_M[1 - turn], height),
            np.array(frames),
        )
        for i, ((turn, height), frames) in enumerate(kinds.items())
    ]


def _between_belts(house: HouseDesign, top_z_m: float) -> list[tuple[float, float]]:
    """Heights of the wall from the floor to ``top_z_m`` that belt courses leave."""
    feet = [house.floor_z_m, *house.belt_courses_z_m]
    tops = [*(z - BELT_M for z in house.belt_courses_z_m), top_z_m]
    return [(low, high) for low, high in zip(feet, tops, strict=True) if high > low + 0.01]


def _quoin_levels(house: HouseDesign, top_z_m: float) -> list[tuple[float, float]]:
    height = _QUOIN_COURSES * BRICK_COURSE_M
    found: list[tuple[float, float]] = []
    for low, high in _between_belts(house, top_z_m):
        whole = max(1, int((high - low) / height + 0.5))
        found += pairwise([*(low + height * np.arange(whole)), high])
    return found


def quoin_cut(house: HouseDesign, wall: str, top_z_m: float) -> list[Cut]:
    """What the quoins take of a wall's facing, in the wall's frame."""
    half = run_m(house, wall) / 2.0
    left, free = WALL_NAMES.index(wall), free_corners(house)
    found: list[Cut] = []
    for k, (z0, z1) in enumerate(_quoin_levels(house, top_z_m)):
        # A stone runs along the wall to the right of its corner and along the one before it.
        at_left = _QUOIN_M[(k + left) % 2]
        at_right = _QUOIN_M[1 - (k + left + 1) % 2]
        if left in free:
            found.append((-half, z0, -half + at_left, z1))
        if (left + 1) % 4 in free:
            found.append((half - at_right, z0, half, z1))
    return found


def _quoin(along_x_m: float, along_y_m: float, height_m: float) -> Mesh:
    """An angle stone on the corner at the origin, its arrises bevelled to the joints."""
    p, b = _QUOIN_PROUD_M, _QUOIN_BEVEL_M
    t = _HOUSED_M

    def ring(out: float, short_by: float) -> Floats:
        x, y = along_x_m - short_by, along_y_m - short_by
        return np.array([(x, t), (t, t), (t, y), (-out, y), (-out, -out), (x, -out)])

    levels = [(p - b, b, 0.0), (p, 0.0, b), (p, 0.0, height_m - b), (p - b, b, height_m)]
    sections = [np.column_stack([ring(out, cut), np.full(6, z)]) for out, cut, z in levels]
    return loft(np.array(sections))


def belt_section() -> Floats:
    """Outline of a belt course, (out from the wall, up from its top)."""
    out, deep = _BELT_PROUD_M, BELT_M
    return np.array([(-_HOUSED_M, -deep), (out, -deep), (out, -0.4 * out), (-_HOUSED_M, 0.0)])


def belt_course(house: HouseDesign, z_m: float, gap_m: tuple[float, float] | None = None) -> Part:
    """A plain band round the house, of stone or on clapboards of wood, its top weathered.

    ``z_m`` is its top.

    ``gap_m`` is a part of the front, from x to x, that it leaves to the porch.
    """
    x, depth = house.width_m / 2.0, house.depth_m
    profile = belt_section()
    plan = np.array([[-x, 0.0], [x, 0.0], [x, depth], [-x, depth]])
    if gap_m is None:
        mesh = sweep(profile, plan_path(house, plan), closed=not house.open_side)
    else:
        left, right = gap_m
        ends = np.array([[right, 0.0], *plan[1:], plan[0], [left, 0.0]])
        mesh = sweep(profile, ends)
    role = "trim" if house.walls == "clapboard" else "stone"
    return Part(("house", "belt course"), role, mesh.shifted(z_m=z_m))

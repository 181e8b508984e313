"""Where planting, paths, street and distance lie about a house, by the kind of its setting.

For pictures alone. Nothing stands before the front within the wedge from which it is looked at;
what stands before the porch is lower than its floor. Places are drawn by chance from a fixed
seed, so that a scene always has the same garden; sizes and distances are common practice, no
source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from massing.design.kinds import Habit, PathKind
from massing.design.setting import HedgeDesign, Plan, Scenery
from massing.geometry.mesh import Floats
from massing.units import FOOT_M

Bools = NDArray[np.bool_]

SEED = 20
WARM_DEG = 36.0  # nearer to the equator than this palms stand outdoors: from memory
BED_M = 1.15
CLEAR_M = 0.35  # of planting from steps and paths
WEDGE = np.tan(np.radians(56.0))  # half the width of what is kept free, to the distance before it
BELOW_FLOOR = 0.72  # height of what grows before the porch, as a share of its floor's
PATH_WIDTH_M = 1.5
DRIVE_WIDTH_M = 3.0
VERGE_M, WALKWAY_M, STREET_M = 1.4, 1.7, 7.0
EDGE_M = {"open country": 92.0, "garden": 58.0, "village street": 120.0, "none": 0.0}
SHRUB_SIZES_M = (0.4, 0.55, 0.7, 0.9, 1.2)
# A few sizes of each habit, so that all of one size are copies of one: height and spread.
SIZES_M: dict[Habit, tuple[tuple[float, float], ...]] = {
    "oak": ((9.5, 9.0), (12.5, 13.5), (15.0, 15.0)),
    "pine": ((17.0, 6.5), (21.0, 8.0)),
    "cypress": ((6.0, 1.3), (8.0, 1.6)),
    "palm": ((6.5, 4.4), (8.5, 4.8)),
    "magnolia": ((5.0, 3.6), (8.5, 6.0)),
}
VARIANTS = 2
THICKET_M = ((4.2, 5.6), (6.0, 6.4))


@dataclass(frozen=True)
class Tree:
    """A tree of the setting; trees alike in all but place and turn are copies."""

    habit: Habit
    x_m: float
    y_m: float
    height_m: float
    spread_m: float
    turn_rad: float
    variant: int


@dataclass(frozen=True)
class Shrub:
    """A bush in a bed: ``box`` is clipped round, ``loose`` is not, ``bloom`` is in flower."""

    kind: str
    x_m: float
    y_m: float
    size_m: float
    turn_rad: float


@dataclass(frozen=True)
class Strip:
    """A path, drive or pavement over a plan, with or without kerbs along its long sides."""

    plan: Plan
    laid: PathKind | str
    kerbs: bool = True


@dataclass(frozen=True)
class House:
    """A house of the neighbourhood: middle of its front, size, the way it faces."""

    x_m: float
    y_m: float
    width_m: float
    depth_m: float
    eaves_m: float
    turn_rad: float
    variant: int


@dataclass
class Garden:
    """All that is set out about a house."""

    trees: list[Tree] = field(default_factory=list)
    shrubs: list[Shrub] = field(default_factory=list)
    beds: list[Plan] = field(default_factory=list)
    strips: list[Strip] = field(default_factory=list)
    hedges: list[HedgeDesign] = field(default_factory=list)
    houses: list[House] = field(default_factory=list)
    street_y_m: tuple[float, float] | None = None
    edge: list[Tree] = field(default_factory=list)


def garden(scenery: Scenery) -> Garden:
    """The garden of a scenery; ``none`` has a path alone."""
    # One chance for each, so that designs that differ in one alone share the rest.
    beds, rng, edge = (np.random.default_rng([SEED, i]) for i in range(3))
    made = Garden()
    _ways(scenery, made)
    if scenery.setting.kind == "none":
        return made
    _beds(scenery, made, beds)
    match scenery.setting.kind:
        case "open country":
            _country(scenery, made, rng)
        case "village street":
            _village(scenery, made, rng)
        case "garden":
            _walled(scenery, made, rng)
    _edge(scenery, made, edge)
    return made


def extent(scenery: Scenery) -> Plan:
    """The plan that holds house, wings and porch, of all designs that are compared."""
    return scenery.extent


def eyes_m(scenery: Scenery) -> tuple[tuple[float, float], tuple[float, float]]:
    """About where the views from the street are taken from, right and left."""
    x0, y0, x1, y1 = extent(scenery)
    back = 1.35 * float(np.hypot(x1 - x0 + 2.0, y1 - y0 + 2.0))
    x, y = (x0 + x1) / 2.0, (y0 + y1) / 2.0
    out, before = back * np.sin(np.radians(33.0)), back * np.cos(np.radians(33.0))
    return (float(x + out), float(y - before)), (float(x - out), float(y - before))


def street_edge_m(scenery: Scenery) -> float:
    """Where a village's pavement begins before the house, y: the eye stands at the street's far
    kerb, so that street, kerb and pavement lie before it."""
    stands = eyes_m(scenery)[0][1] + 0.8 + STREET_M + VERGE_M + WALKWAY_M
    return min(scenery.farthest_foot_y_m - 4.0, stands)


def on_lawn(scenery: Scenery, made: Garden, at_m: Floats, reach_m: float) -> Bools:
    """``(n,)`` which of some places ``(n, 2)`` lie on the grass, with so much of it about them."""
    setting, far = scenery.setting, 1e4
    foot = scenery.foot_y_m
    taken = [*scenery.blocks, scenery.porch, *scenery.clear, *made.beds]
    taken += [s.plan for s in made.strips]
    taken += [(*h.low_m, *h.high_m) for h in (*setting.hedges, *made.hedges)]
    taken += [(*n.low_m, *n.high_m) for n in setting.neighbours]
    middle, half = scenery.way_x_m, scenery.way_m
    taken.append((middle - half, foot, middle + half, 0.0))
    if made.street_y_m is not None:
        taken.append((-far, made.street_y_m[0] - 0.2, far, made.street_y_m[1] + 0.2))
    x, y = at_m.T
    free = np.ones(len(at_m), dtype=bool)
    for a, b, c, d in taken:
        free &= (x < a - reach_m) | (x > c + reach_m) | (y < b - reach_m) | (y > d + reach_m)
    return free


def _before_an_eye(scenery: Scenery, x: float, y: float, reach: float) -> bool:
    """Whether something so wide stands on a line of sight to the house, or round the eye."""
    x0, y0, x1, y1 = extent(scenery)
    aim = np.array([[x0, y0], [x1, y0], [(x0 + x1) / 2.0, (y0 + y1) / 2.0], [x0, y1], [x1, y1]])
    at = np.array([x, y])
    for eye in np.array(eyes_m(scenery)):
        for way in aim - eye:
            t = np.clip((at - eye) @ way / (way @ way), 0.0, 0.8)
            if np.linalg.norm(eye + t * way - at) < reach + 1.5:
                return True
    return False


def _free(scenery: Scenery, x: float, y: float, reach: float) -> bool:
    """Whether something so wide stands clear of house, steps, path and the scene's own things."""
    setting = scenery.setting
    taken = [*scenery.blocks, scenery.porch, *scenery.clear]
    taken += [(*h.low_m, *h.high_m) for h in setting.hedges]
    taken += [(*n.low_m, *n.high_m) for n in setting.neighbours]
    way, middle = scenery.way_m + CLEAR_M, scenery.way_x_m
    taken.append((middle - way, scenery.foot_y_m - 40.0, middle + way, 0.0))
    if setting.drive != "none" or scenery.drive_x_m is not None:
        taken.append(_drive(scenery))
    inside = any(a - reach < x < c + reach and b - reach < y < d + reach for a, b, c, d in taken)
    near = any(
        np.hypot(x - t.x_m, y - t.y_m) < 0.8 * reach + 0.35 * t.spread_m for t in setting.trees
    )
    return not inside and not near


def _before_the_front(scenery: Scenery, x: float, y: float, reach: float) -> bool:
    """Whether something that high would stand between the front and who looks at it."""
    x0, _, x1, _ = extent(scenery)
    if y - reach > 1.0:
        return False
    out = max(0.0, reach - y) * WEDGE
    return x0 - out - reach < x < x1 + out + reach


# --- paths ---------------------------------------------------------------------------------


def _drive(scenery: Scenery) -> Plan:
    x0, _, x1, y1 = extent(scenery)
    near = 2.4
    if scenery.drive_x_m is not None:
        x = scenery.drive_x_m - DRIVE_WIDTH_M / 2.0
        return (x, scenery.farthest_foot_y_m - 45.0, x + DRIVE_WIDTH_M, 1.2 * y1)
    x = x1 + near if scenery.setting.drive == "right" else x0 - near - DRIVE_WIDTH_M
    return (x, scenery.farthest_foot_y_m - 45.0, x + DRIVE_WIDTH_M, 0.6 * y1)


def _ways(scenery: Scenery, made: Garden) -> None:
    setting, half = scenery.setting, max(PATH_WIDTH_M / 2.0, min(scenery.way_m, 1.4))
    middle = scenery.way_x_m
    end = scenery.foot_y_m - (60.0 if setting.kind == "open country" else 30.0)
    if setting.kind == "village street":
        end = street_edge_m(scenery)
    plan = (middle - half, end, middle + half, scenery.foot_y_m + 0.02)
    made.strips.append(Strip(plan, setting.path))
    if setting.drive != "none" or scenery.drive_x_m is not None:
        x0, y0, x1, y1 = _drive(scenery)
        y0 = max(y0, end) if setting.kind == "village street" else y0
        laid = "gravel" if setting.kind != "village street" else setting.path
        made.strips.append(Strip((x0, y0, x1, y1), laid))


# --- beds along the foundation -------------------------------------------------------------


def _beds(scenery: Scenery, made: Garden, rng: np.random.Generator) -> None:
    for plan, low in _bed_plans(scenery):
        x0, y0, x1, y1 = plan
        if max(x1 - x0, y1 - y0) < 0.8:
            continue
        made.beds.append(plan)
        made.shrubs += _planted(scenery, plan, low, rng)


def _bed_plans(scenery: Scenery) -> Iterator[tuple[Plan, bool]]:
    """Beds, and whether what stands there is to be low."""
    px0, py0, px1, _ = scenery.porch
    left, right = (scenery.way_x_m + s * (scenery.way_m + 0.5) for s in (-1.0, 1.0))
    if px1 - px0 > 0.5 and py0 < -0.3:
        for a, b in ((px0, left), (right, px1)):
            if b - a > 0.6:
                yield (a, py0 - 0.8 * BED_M, b, py0), True
    for a, b, c, d in scenery.blocks:
        fronts = [(a, px0, False), (px1, c, False)] if b == 0.0 else [(a, c, False)]
        if py0 >= -0.3 and b == 0.0:  # before a recess too
            fronts += [(px0, left, True), (right, px1, True)]
        for x0, x1, low in fronts:
            for s, e in _less(x0, x1, [p for p in _others(scenery, b) if p[1] < b <= p[3]]):
                yield (s, b - BED_M, e, b), low
        for x, sign in ((a, -1.0), (c, 1.0)):
            side = (x - BED_M, x) if sign < 0 else (x, x + BED_M)
            if any(p[0] < sum(side) / 2.0 < p[2] for p in scenery.blocks if p != (a, b, c, d)):
                continue
            stops = [p for p in scenery.clear if p[0] < max(side) and p[2] > min(side)]
            for s, e in _less(b, d, [(p[1], 0.0, p[3], 0.0) for p in stops]):
                yield (side[0], s, side[1], e), False


def _others(scenery: Scenery, front_y: float) -> list[Plan]:
    return [p for p in (*scenery.blocks, *scenery.clear) if p[1] < front_y]


def _less(x0: float, x1: float, taken: list[Plan]) -> list[tuple[float, float]]:
    """A stretch without what is taken of it; nothing of one too short, or turned about."""
    left = [(x0, x1)] if x1 - x0 > 0.4 else []
    for a, _, c, _ in taken:
        left = [
            piece
            for s, e in left
            for piece in ((s, min(e, a - 0.2)), (max(s, c + 0.2), e))
            if piece[1] - piece[0] > 0.4
        ]
    return left


def _planted(scenery: Scenery, plan: Plan, low: bool, rng: np.random.Generator) -> list[Shrub]:
    """Shrubs in a row by the wall and lower ones before them."""
    x0, y0, x1, y1 = plan
    along_x = x1 - x0 > y1 - y0
    long = (x1 - x0) if along_x else (y1 - y0)
    most = BELOW_FLOOR * scenery.floor_m if low else 1.2
    made = []
    at = 0.35
    while at < long - 0.25:
        corner = not low and (at < 1.0 or at > long - 1.2)
        wanted = most if corner else rng.uniform(0.55, 0.95) * min(most, 1.0)
        size = max([s for s in SHRUB_SIZES_M if s <= wanted], default=SHRUB_SIZES_M[0])
        kind = (
            "box" if corner or rng.uniform() < 0.45 else "bloom" if rng.uniform() < 0.3 else "loose"
        )
        across = rng.uniform(0.42, 0.58) * BED_M * (0.8 if low else 1.0)
        made.append(_shrub(scenery, plan, along_x, kind, at, across, size, rng))
        if size > 0.5 and rng.uniform() < 0.8:
            front = 0.18 if along_x else 0.82
            more = _shrub(
                scenery,
                plan,
                along_x,
                "bloom" if rng.uniform() < 0.35 else "loose",
                at + 0.5 * size + 0.1,
                front * BED_M,
                SHRUB_SIZES_M[0],
                rng,
            )
            made.append(more)
        at += 0.82 * size + rng.uniform(0.12, 0.35)
    return [shrub for shrub in made if shrub is not None]


def _shrub(
    scenery: Scenery,
    plan: Plan,
    along_x: bool,
    kind: str,
    at: float,
    across: float,
    size: float,
    rng: np.random.Generator,
) -> Shrub | None:
    x, y = (plan[0] + at, plan[1] + across) if along_x else (plan[0] + across, plan[1] + at)
    turn = float(rng.uniform(0.0, 2.0 * np.pi))
    taken = [(*h.low_m, *h.high_m) for h in scenery.setting.hedges] + list(scenery.clear)
    way = scenery.way_m + 0.4 * size + 0.1
    if any(a - 0.2 < x < c + 0.2 and b - 0.2 < y < d + 0.2 for a, b, c, d in taken):
        return None
    if abs(x - scenery.way_x_m) < way and y < 0.0:
        return None
    return Shrub(kind, x, y, size, turn)


# --- the kinds of setting ------------------------------------------------------------------


def _tree(
    scenery: Scenery,
    made: Garden,
    habit: Habit,
    x: float,
    y: float,
    size: int,
    rng: np.random.Generator,
) -> None:
    height, spread = SIZES_M[habit][size]
    turn, variant = float(rng.uniform(0.0, 2.0 * np.pi)), int(rng.integers(VARIANTS))
    reach = 0.5 * spread
    if not _free(scenery, x, y, 0.3 * spread) or _before_the_front(scenery, x, y, reach):
        return
    if _before_an_eye(scenery, x, y, reach):
        return
    if any(np.hypot(x - t.x_m, y - t.y_m) < 0.42 * (spread + t.spread_m) for t in made.trees):
        return
    made.trees.append(Tree(habit, x, y, height, spread, turn, variant))


def _country(scenery: Scenery, made: Garden, rng: np.random.Generator) -> None:
    """A house among large trees on open ground."""
    x0, _, x1, y1 = extent(scenery)
    warm = abs(scenery.latitude_deg) < WARM_DEG
    _tree(scenery, made, "oak", x0 - 11.0, 0.55 * y1, 1, rng)
    _tree(scenery, made, "oak", x1 + 13.0, 0.8 * y1 + 2.0, 2, rng)
    _tree(scenery, made, "magnolia" if warm else "oak", x1 + 7.5, y1 + 9.0, 1, rng)
    _tree(scenery, made, "oak", -0.22 * (x1 - x0), y1 + 15.0, 2, rng)
    _tree(scenery, made, "oak", 0.30 * (x1 - x0), y1 + 19.0, 2, rng)
    for dx, dy, size in ((17.0, 15.0, 1), (21.5, 20.0, 0), (15.0, 24.0, 1), (25.0, 13.0, 0)):
        _tree(scenery, made, "pine", x0 - dx, y1 + dy - 6.0, size, rng)
        _tree(scenery, made, "pine", x1 + dx + 8.0, y1 + dy + 6.0, size, rng)
    _tree(scenery, made, "oak", x0 - 26.0, -10.0, 1, rng)
    _tree(scenery, made, "oak", x1 + 30.0, -12.0, 2, rng)
    for _ in range(26):  # single trees on the way to the wood
        turn, far = rng.uniform(0.0, 2.0 * np.pi), rng.uniform(42.0, 84.0)
        habit: Habit = "oak" if rng.uniform() < 0.75 else "pine"
        x, y = far * np.cos(turn), far * np.sin(turn) + 0.5 * y1
        _tree(scenery, made, habit, x, y, int(rng.integers(2)), rng)


def _village(scenery: Scenery, made: Garden, rng: np.random.Generator) -> None:
    """Houses beside and behind, a pavement, a kerb, a street."""
    x0, _, x1, y1 = extent(scenery)
    edge = street_edge_m(scenery)
    kerb = edge - WALKWAY_M - VERGE_M
    made.street_y_m = (kerb - STREET_M, kerb)
    far = 160.0
    made.strips.append(Strip((-far, edge - WALKWAY_M, far, edge), "brick", kerbs=False))
    over = kerb - STREET_M - VERGE_M
    made.strips.append(Strip((-far, over - WALKWAY_M, far, over), "brick", kerbs=False))
    own = [(*n.low_m, *n.high_m) for n in scenery.setting.neighbours]
    rows = [
        (2.5, 0.0, 1.0),
        (y1 + 34.0, np.pi, 1.3),
        (y1 + 62.0, 0.0, 1.6),
        (over - 9.0, np.pi, 1.0),
    ]
    for y, turn, gap in rows:
        x = -95.0 + float(rng.uniform(0.0, 8.0))
        while x < 95.0:
            width = float(rng.choice([10.0, 12.0, 14.5]))
            depth, eaves = float(rng.choice([9.0, 10.5])), float(rng.choice([4.3, 6.6, 7.0]))
            middle = x + width / 2.0
            back = y if turn == 0.0 else y - depth
            plan = (x - 2.0, back - 2.0, x + width + 2.0, back + depth + 2.0)
            round_ = 0.5 * float(np.hypot(width, depth))
            hides = _before_an_eye(scenery, middle, back + depth / 2.0, round_)
            beside = hides or (y < y1 + 20.0 and x0 - 9.0 < x + width and x < x1 + 9.0 and y > kerb)
            if not beside and not any(_meet(plan, o) for o in own):
                variant = int(rng.integers(4))
                front = y + float(rng.uniform(-1.5, 1.5))
                made.houses.append(House(middle, front, width, depth, eaves, turn, variant))
            x += width + gap * float(rng.uniform(7.0, 13.0))
    for x in np.arange(-88.0, 89.0, 14.0):
        _tree(scenery, made, "oak", float(x), kerb + 0.5 * VERGE_M, 0, rng)
        _tree(scenery, made, "oak", float(x) + 6.0, over + 0.5 * VERGE_M, 0, rng)
    _tree(scenery, made, "oak", x0 - 6.5, y1 + 6.0, 1, rng)
    _tree(scenery, made, "magnolia", x1 + 5.0, y1 + 4.0, 1, rng)
    _tree(scenery, made, "oak", 0.1 * (x1 - x0), y1 + 14.0, 2, rng)
    _tree(scenery, made, "oak", x1 + 3.0, y1 + 18.0, 1, rng)
    for _ in range(40):
        x, y = float(rng.uniform(-90.0, 90.0)), float(rng.uniform(y1 + 12.0, y1 + 85.0))
        if all(np.hypot(x - h.x_m, y - h.y_m - 5.0) > 9.0 for h in made.houses):
            _tree(scenery, made, "oak", x, y, int(rng.integers(3)), rng)


def _walled(scenery: Scenery, made: Garden, rng: np.random.Generator) -> None:
    """Hedges about a lawn, low box along the path, tall trees behind."""
    x0, _, x1, y1 = extent(scenery)
    warm = abs(scenery.latitude_deg) < WARM_DEG
    foot, middle = scenery.foot_y_m, scenery.way_x_m
    out = 7.5
    for side, x in (("left", x0 - out), ("right", x1 + out)):
        shift = 5.5 if scenery.setting.drive == side else 0.0
        x += shift if side == "right" else -shift
        made.hedges.append(HedgeDesign((x - 0.45, -2.0), (x + 0.45, y1 + 8.0), 1.9))
        for y in (1.0, 5.0, 9.0, 13.0):
            _tree(scenery, made, "cypress", x + (1.6 if side == "right" else -1.6), y, 1, rng)
    made.hedges.append(HedgeDesign((x0 - out, y1 + 7.6), (x1 + out, y1 + 8.5), 1.9))
    half = max(PATH_WIDTH_M / 2.0, min(scenery.way_m, 1.4)) + 0.55
    for hand in (-1.0, 1.0):
        a, b = sorted((middle + hand * half, middle + hand * (half + 0.42)))
        made.hedges.append(HedgeDesign((a, foot - 24.0), (b, foot - 1.6), 0.42))
        for y in np.arange(foot - 22.0, foot - 2.0, 0.62):
            kind = "bloom" if rng.uniform() < 0.6 else "loose"
            made.shrubs.append(
                Shrub(
                    kind,
                    middle + hand * (half + 0.85),
                    float(y),
                    SHRUB_SIZES_M[int(rng.integers(2))],
                    float(rng.uniform(0, 6.28)),
                )
            )
        bed = sorted((middle + hand * (half + 0.42), middle + hand * (half + 1.25)))
        made.beds.append((bed[0], foot - 22.4, bed[1], foot - 1.7))
    _tree(scenery, made, "magnolia", x0 - 4.2, 0.6 * y1, 0, rng)
    _tree(scenery, made, "palm" if warm else "magnolia", x1 + 4.2, 0.35 * y1, 0, rng)
    _tree(scenery, made, "palm" if warm else "oak", x1 + 5.0, y1 + 2.0, 0, rng)
    _tree(scenery, made, "oak", x0 - 13.0, y1 + 5.0, 1, rng)
    _tree(scenery, made, "oak", x1 + 14.0, y1 + 6.0, 2, rng)
    _tree(scenery, made, "oak", -0.15 * (x1 - x0), y1 + 17.0, 2, rng)
    _tree(scenery, made, "pine", x0 - 7.0, y1 + 19.0, 1, rng)
    _tree(scenery, made, "pine", x1 + 6.0, y1 + 22.0, 1, rng)
    _tree(scenery, made, "oak", x1 + 4.0, y1 + 15.0, 1, rng)


def _edge(scenery: Scenery, made: Garden, rng: np.random.Generator) -> None:
    """A wood's edge all round, so that no view and no pane shows a bare horizon."""
    radius = EDGE_M[scenery.setting.kind]
    turn = 0.0
    while turn < 2.0 * np.pi:
        wave = np.sin(2.0 * turn + 0.6) + 0.6 * np.sin(5.0 * turn + 2.0)
        far = radius * (1.0 + 0.13 * wave) + float(rng.uniform(-4.0, 9.0))
        for row in range(2):
            habit: Habit = "pine" if rng.uniform() < 0.22 else "oak"
            size = int(rng.integers(len(SIZES_M[habit])))
            height, spread = SIZES_M[habit][size]
            out = far + 8.0 * row + float(rng.uniform(-3.0, 3.0))
            x, y = out * np.cos(turn), out * np.sin(turn)
            turned, variant = float(rng.uniform(0.0, 6.28)), int(rng.integers(VARIANTS))
            made.edge.append(Tree(habit, x, y, height, spread, turned, variant))
        for _ in range(2):  # what closes the view between the trunks
            out, aside = far + float(rng.uniform(-3.0, 5.0)), float(rng.uniform(-0.03, 0.03))
            x, y = out * np.cos(turn + aside), out * np.sin(turn + aside)
            height, spread = THICKET_M[int(rng.integers(len(THICKET_M)))]
            made.edge.append(Tree("magnolia", x, y, height, spread, float(rng.uniform(0, 6.28)), 0))
        turn += float(rng.uniform(0.7, 1.15)) * 7.5 / radius


def _meet(one: Plan, other: Plan) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def low_before_porch_m(scenery: Scenery) -> float:
    """How high planting before the porch may be, metres."""
    return max(BELOW_FLOOR * scenery.floor_m, 0.4 * FOOT_M)

"""Trees, shrubs and hedges of a drawn elevation: signs in ink and wash, by size and habit.

What grows is not drawn leaf by leaf. A crown is an outline of scallops, a wash that is darker away
from the sun, and a few clumps inside; it stands behind what is nearer than itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from zlib import crc32

import numpy as np
from PIL import Image, ImageDraw

from massing.design.setting import SCENERY, Scenery, TreeDesign
from massing.geometry.mesh import Floats
from massing.parts.part import Model
from massing.present.ink.contours import strokes
from massing.present.ink.seen import Singles
from massing.present.ink.washes import INK
from massing.settingout.garden import Tree, garden
from massing.view.camera import Camera

LEAF_WASH = np.array([0.700, 0.775, 0.560], dtype=np.float32)
LEAF_SHADE = np.array([0.600, 0.690, 0.560], dtype=np.float32)
BARK_WASH = np.array([0.760, 0.710, 0.640], dtype=np.float32)
FARTHEST_M = 22.0  # from the house; what is farther is the distance's wash
CLEAR_M = 0.4  # of trees at the sides from the building
PALE = 0.34  # of ink and wash, behind the building
_FINE = 3
# Crown's foot as a share of the height; its shape: how wide it is at heights from foot to top.
_HABITS: dict[str, tuple[float, tuple[float, ...]]] = {
    "oak": (0.26, (0.55, 0.92, 1.0, 0.95, 0.72, 0.30)),
    "magnolia": (0.12, (0.70, 1.0, 0.95, 0.75, 0.45, 0.10)),
    "pine": (0.50, (0.55, 1.0, 0.85, 0.90, 0.55, 0.12)),
    "cypress": (0.04, (0.55, 0.95, 1.0, 0.80, 0.45, 0.05)),
    "palm": (0.72, (0.55, 1.0, 0.95, 0.70, 0.45, 0.15)),
    "shrub": (0.0, (0.85, 1.0, 0.98, 0.88, 0.66, 0.28)),
    "hedge": (0.0, (1.0, 1.0, 1.0, 1.0, 1.0, 0.97)),
}


@dataclass(frozen=True)
class Plant:
    """What grows in an elevation, metres on its film.

    Attributes:
        habit: a tree's, ``shrub`` or ``hedge``.
        x_m, foot_m: the middle of its foot.
        depth_m: before the camera.
    """

    habit: str
    x_m: float
    foot_m: float
    depth_m: float
    height_m: float
    spread_m: float


@dataclass
class Drawn:
    """A plant's outlines on the film: closed shapes, and lines in ink."""

    crown: Floats
    trunk: Floats | None
    lines: list[Floats] = field(default_factory=list)


def plants(model: Model, camera: Camera, ground_m: Callable[[float], float]) -> list[Plant]:
    """What grows about a model, the farthest first; nothing tall before the building.

    ``ground_m`` is the height of the ground line on the film at a place across it.
    """
    if SCENERY not in model.notes:
        return []
    scenery = Scenery.read(model.notes[SCENERY])
    right, _, forward = camera.axes
    position = np.asarray(camera.position_m)
    low, high = model.building_bounds
    corners = np.array([[x, y, 0.0] for x in (low[0], high[0]) for y in (low[1], high[1])])
    depths = (corners - position) @ forward
    sides = (corners - position) @ right

    def placed(habit: str, x: float, y: float, height: float, spread: float) -> Plant:
        at = np.array([x, y, 0.0]) - position
        across = float(at @ right)
        return Plant(habit, across, ground_m(across), float(at @ forward), height, spread)

    found = []
    plan = garden(scenery)
    trees: list[TreeDesign | Tree] = [*scenery.setting.trees, *plan.trees]
    for tree in trees:
        one = placed(tree.habit, tree.x_m, tree.y_m, tree.height_m, tree.spread_m)
        aside = one.x_m < sides.min() - CLEAR_M or one.x_m > sides.max() + CLEAR_M
        nearest = depths.min() if aside else depths.max()
        if nearest < one.depth_m < depths.max() + FARTHEST_M:
            found.append(one)
    for bush in plan.shrubs:
        one = placed("shrub", bush.x_m, bush.y_m, 0.95 * bush.size_m, 1.05 * bush.size_m)
        if one.depth_m < depths.max():
            found.append(one)
    for hedge in (*scenery.setting.hedges, *plan.hedges):
        (x0, y0), (x1, y1) = hedge.low_m, hedge.high_m
        ends = np.array([[x, y, 0.0] for x in (x0, x1) for y in (y0, y1)]) - position
        across, deep = ends @ right, ends @ forward
        if deep.min() > depths.min():
            middle = float(across.min() + across.max()) / 2.0
            wide = float(np.ptp(across))
            foot, depth = ground_m(middle), float(deep.min())
            found.append(Plant("hedge", middle, foot, depth, hedge.height_m, wide))
    return sorted(found, key=lambda plant: -plant.depth_m)


def drawn(plant: Plant, sun_right: float) -> Drawn:
    """A plant's outlines, the same for the same plant; clumps lie away from the sun."""
    key = f"{plant.habit} {plant.x_m:.2f} {plant.height_m:.2f} {plant.spread_m:.2f}"
    rng = np.random.default_rng(crc32(key.encode()))
    share, widths = _HABITS.get(plant.habit, _HABITS["oak"])
    low, high = plant.foot_m + share * plant.height_m, plant.foot_m + plant.height_m
    levels = np.linspace(low, high, len(widths))
    half = plant.spread_m / 2.0

    def reach(z: Floats) -> Floats:
        return half * np.interp(z, levels, widths)

    z = np.linspace(low, high, 40)
    rim = np.concatenate(
        [
            np.column_stack([plant.x_m + reach(z), z]),
            np.column_stack([plant.x_m - reach(z[::-1]), z[::-1]]),
        ]
    )
    if plant.habit != "hedge":
        rim = _lobed(rim, rng)
    size = float(np.clip(0.13 * min(plant.spread_m, high - low), 0.13, 0.55))
    crown = np.concatenate(list(_scallops(rim, size, rng)))
    made = Drawn(crown, None, [np.vstack([crown, crown[:1]])])
    if share > 0.1:
        thick = (0.035 if plant.habit in ("palm", "pine") else 0.05) * plant.height_m / 2.0
        top = low + 0.35 * (high - low) if plant.habit != "palm" else low + 0.1 * (high - low)
        trunk = np.array([[-1.25, plant.foot_m], [-0.7, top], [0.7, top], [1.25, plant.foot_m]])
        made.trunk = np.column_stack([plant.x_m + thick * trunk[:, 0], trunk[:, 1]])
        below = np.column_stack([made.trunk[:, 0], np.minimum(made.trunk[:, 1], low)])
        made.lines += [below[:2], below[2:]]  # the crown hides the rest
    count = int(np.clip(2.2 * plant.spread_m * (high - low) / size**2 / 12.0, 3, 60))
    for _ in range(count):
        at = low + (high - low) * rng.uniform(0.08, 0.92)
        lean = rng.uniform(-0.9, 0.9)
        if lean * sun_right > 0.25 and rng.uniform() < 0.7:
            continue  # the lit side is left open
        x = plant.x_m + lean * 0.88 * float(reach(np.array([at]))[0])
        for step in range(int(rng.integers(1, 4))):
            made.lines.append(_arc(x + 0.62 * size * step, at, 0.42 * size, rng.uniform(-0.2, 0.2)))
    return made


def _lobed(rim: Floats, rng: np.random.Generator) -> Floats:
    """A closed line made uneven about its middle, by a few broad lobes."""
    middle = rim.mean(axis=0)
    turn = np.arctan2(*(rim - middle).T[::-1])
    swell = sum(
        depth * np.sin(n * turn + rng.uniform(0.0, 2.0 * np.pi))
        for n, depth in ((3, 0.02), (5, 0.035), (7, 0.04), (9, 0.04), (13, 0.025))
    )
    foot = rim[:, 1].min()
    out = middle + (rim - middle) * (1.0 + np.asarray(swell))[:, None]
    return np.column_stack([out[:, 0], np.maximum(out[:, 1], foot)])


def _scallops(rim: Floats, size: float, rng: np.random.Generator) -> Iterator[Floats]:
    """Arcs that bulge out along a closed line, of uneven size."""
    closed = np.vstack([rim, rim[:1]])
    along = np.r_[0.0, np.cumsum(np.linalg.norm(np.diff(closed, axis=0), axis=1))]
    marks, at = [0.0], 0.0
    while at < along[-1]:
        at += size * rng.uniform(0.6, 1.5)
        marks.append(min(at, along[-1]))
    points = np.column_stack([np.interp(marks, along, closed[:, k]) for k in (0, 1)])
    for a, b in pairwise(points):
        ray = b - a
        out = np.array([ray[1], -ray[0]]) * rng.uniform(0.28, 0.48)
        t = np.linspace(0.0, 1.0, 8)[:-1]
        yield a + t[:, None] * ray + (4.0 * t * (1.0 - t))[:, None] * out


def _arc(x: float, z: float, radius: float, lean: float) -> Floats:
    t = np.linspace(0.15 * np.pi, 0.95 * np.pi, 7) + lean
    return np.column_stack([x + radius * np.cos(t), z + 0.8 * radius * np.sin(t)])


def planted(
    sheet: Singles,
    found: list[Plant],
    camera: Camera,
    nearer: Singles,
    sun_right: float,
    behind_m: float,
) -> Singles:
    """Lay plants on a sheet ``(h, w, 3)``; returns how much of each pixel they cover before what
    is built, ``(h, w)``.

    Args:
        nearer: ``(h, w, 2)`` of each pixel the share that is built, and the mean of one over its
            depth there.
        sun_right: from which side the sun comes, -1 to 1.
        behind_m: what is deeper than this is paler.
    """
    tall, wide = sheet.shape[:2]
    before = np.zeros((tall, wide), dtype=np.float32)
    built, inverse = nearer[..., 0], nearer[..., 1]
    unit = wide / 1000.0

    def at_px(points: Floats) -> Floats:
        x = (points[:, 0] / camera.ortho_width_m - camera.shift_x) * wide + wide / 2.0
        y = tall / 2.0 - (points[:, 1] / camera.ortho_width_m - camera.shift_y) * wide
        return np.column_stack([x, y])

    for plant in found:
        shapes = drawn(plant, sun_right)
        crown = at_px(shapes.crown)
        x0, y0 = np.floor(crown.min(axis=0)).astype(int) - 3
        x1 = int(np.ceil(crown[:, 0].max())) + 3
        y1 = int(np.ceil(at_px(np.array([[plant.x_m, plant.foot_m]]))[0, 1])) + 2
        x0, y0, x1, y1 = max(x0, 0), max(y0, 0), min(x1, wide), min(y1, tall)
        if x1 <= x0 or y1 <= y0:
            continue
        box, corner = (slice(y0, y1), slice(x0, x1)), np.array([x0, y0])
        size = (x1 - x0, y1 - y0)
        hidden = np.where(inverse[box] > built[box] / plant.depth_m, built[box], 0.0)
        free = 1.0 - hidden
        pale = PALE if plant.depth_m > behind_m else 1.0
        leaves = _filled(crown - corner, size)
        wood = np.zeros_like(leaves)
        if shapes.trunk is not None:
            wood = _filled(at_px(shapes.trunk) - corner, size) * (1.0 - leaves)
        columns = (np.arange(x0, x1) + 0.5 - crown[:, 0].mean()) / max(np.ptp(crown[:, 0]), 1.0)
        rows = (np.arange(y0, y1) + 0.5 - crown[:, 1].mean()) / max(np.ptp(crown[:, 1]), 1.0)
        dark = np.clip(0.5 - 0.9 * sun_right * columns[None, :] + 0.7 * rows[:, None], 0.0, 1.0)
        wash = LEAF_WASH + dark[..., None].astype(np.float32) * (LEAF_SHADE - LEAF_WASH)
        piece = sheet[box]
        opaque = 0.55 if pale < 1.0 else 0.92  # what lies behind is covered
        for mask, tone in ((leaves, wash), (wood, np.broadcast_to(BARK_WASH, wash.shape))):
            cover = (mask * free)[..., None]
            ground = piece * (1.0 - opaque * cover) + opaque * cover * 0.97
            piece[:] = ground * (1.0 - pale * cover * (1.0 - tone))
        ends = [np.stack([line[:-1], line[1:]], axis=1) for line in map(at_px, shapes.lines)]
        ink = strokes(np.concatenate(ends) - corner, max(0.75 * unit, 0.45), size)
        cover = ((0.66 if pale == 1.0 else 0.40) * ink * free)[..., None]
        piece[:] = piece * (1.0 - cover) + INK * cover
        if plant.depth_m <= behind_m:
            before[box] = np.maximum(before[box], np.maximum(leaves, wood) * free)
    return before


def _filled(points_px: Floats, size: tuple[int, int]) -> Singles:
    """How much of each pixel a closed shape covers."""
    wide, tall = size
    image = Image.new("L", (wide * _FINE, tall * _FINE), 0)
    ImageDraw.Draw(image).polygon([tuple(p) for p in points_px * _FINE], fill=255)
    small = np.asarray(image, dtype=np.float32).reshape(tall, _FINE, wide, _FINE)
    return np.asarray(small.mean(axis=(1, 3)) / 255.0, dtype=np.float32)

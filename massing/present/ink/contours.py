"""Lines of an elevation from the model's own edges: chosen by scale, of steady weight.

An edge is found once, hidden stretches are taken out by geometry, and it is inked where it lies,
between pixels too, so that its weight does not step. What repeats (courses, joints, rolls, flutes)
is drawn where its lines stand apart at the scale in hand, else every second one, every third, or
none: the tone then says what they would.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from massing.geometry.mesh import Floats, Ints
from massing.geometry.rays import Caster
from massing.parts.part import Part
from massing.view.hidden_lines import EDGE, FINE, PROFILE, Lines, Square, nearest_m, visible_lines

Bools = NDArray[np.bool_]
Singles = NDArray[np.float32]

FIELDS = ("tile", "slate", "shingle", "roofing", "brick", "ashlar", "siding", "mortar")
ROLLS = ("tile", "roofing")  # their joints run up the slope from course to course
PLANTS = ("foliage", "bark", "blossom")
LEVEL_SLOPE = 0.35  # rise over run up to which a line is part of a course
RIM = 0.12  # of a shaft's width, at either side, where lines are its outline
FLUTES_APART = 1.6  # in the middle of a shaft, to the gap: at its sides they crowd
_SAME_LEVEL_M = 0.008
_BED_M = 0.012  # a bed joint and a little more
# Width of each weight as a share of a thousandth of the picture's width, and its strength.
WEIGHTS = {FINE: (0.55, 0.62), EDGE: (0.80, 0.88), PROFILE: (1.45, 1.0)}
COURSE = (0.45, 0.30)
APART = 3.6  # pixels from line to line of what repeats, at the least
CELL, MOST_INK = 5.0, 0.30  # pixels, and the share of a cell that lines may cover


@dataclass(frozen=True, eq=False)
class Contours:
    """Lines that are drawn at one scale.

    Attributes:
        ends_m: ``(n, 2, 2)`` as (right, up) in the house's frame.
        weight: ``(n,)`` as in :mod:`massing.view.hidden_lines`.
        course: ``(n,)`` of what covers a wall or a roof.
    """

    ends_m: Floats
    weight: Ints
    course: Bools


def contours(
    parts: Sequence[Part],
    view: Square,
    gap_m: float,
    *,
    step_m: float,
    caster: Caster | None = None,
) -> Contours:
    """What is drawn of the parts where lines nearer than ``gap_m`` would run together.

    Args:
        parts: all that hides or is drawn; planting hides nothing here and is left out.
        step_m: what hides a line for a shorter stretch may be missed.
    """
    caster = caster or Caster(parts)
    found = visible_lines(parts, view, step_m=step_m, undrawn=is_field, caster=caster)
    kept = ~flutes(parts, view, found, FLUTES_APART * gap_m)
    kept &= (found.weight > FINE) | ~_of(parts, found.owner, ("figure",))
    # What of the wall shows between bricks at a corner would be a row of dots along it.
    long = np.linalg.norm(found.ends[:, 1] - found.ends[:, 0], axis=1)
    kept &= (long > _BED_M) | ~_of(parts, found.owner, ("wall",))
    ends, weight = [found.ends[kept]], [found.weight[kept]]
    course = [np.zeros(int(kept.sum()), dtype=bool)]
    fields = [part for part in parts if is_field(part)]
    near = nearest_m(parts, view)
    level, rising = courses(fields, view, gap_m), joints(fields, view, gap_m)
    for chosen, is_level in ((level, True), (rising, False)):
        if not chosen:
            continue
        lines = visible_lines(chosen, view, step_m=3.0 * step_m, caster=caster, from_m=near)
        ray = np.abs(lines.ends[:, 1] - lines.ends[:, 0])
        of_course = ray[:, 1] <= LEVEL_SLOPE * ray[:, 0]
        which = of_course if is_level else ~of_course
        ends.append(lines.ends[which])
        weight.append(lines.weight[which])
        course.append(lines.weight[which] < PROFILE)
    return Contours(np.concatenate(ends), np.concatenate(weight), np.concatenate(course))


def is_field(part: Part) -> bool:
    """One of the many alike that cover a roof or a wall."""
    return part.role.split("/")[0] in FIELDS


def _of(parts: Sequence[Part], owner: Ints, roles: tuple[str, ...]) -> Bools:
    table = np.array([*(part.role.split("/")[0] in roles for part in parts), False])
    return np.asarray(table[owner])


# --- what repeats --------------------------------------------------------------------------


def courses(fields: Sequence[Part], view: Square, gap_m: float) -> list[Part]:
    """The copies whose level lines are drawn: of every course, or of every second, third ..."""
    return _thinned(fields, lambda frames: frames[:, :3, 3] @ view.axes[1], gap_m, lambda n: n)


def joints(fields: Sequence[Part], view: Square, gap_m: float) -> list[Part]:
    """The copies whose rising lines are drawn. Rolls that run on from course to course are thinned
    as courses are; joints that are broken in each are drawn where all are, or not at all."""
    rolls = [part for part in fields if part.role.split("/")[0] in ROLLS]
    broken = [part for part in fields if part not in rolls]
    fine = courses(broken, view, gap_m)
    whole = [p for p in fine if any(p is each for each in broken)]  # no course was left out
    across = partial(_across, view)
    return [
        *_thinned(rolls, across, gap_m, lambda n: n),
        *_thinned(whole, across, gap_m, lambda n: n if n == 1 else 0),
    ]


def _across(view: Square, frames: Floats) -> Floats:
    return np.asarray(frames[:, :3, 3] @ view.axes[0])


def _thinned(
    fields: Sequence[Part],
    place: Callable[[Floats], Floats],
    gap_m: float,
    every: Callable[[int], int],
) -> list[Part]:
    """Every n-th of the places that copies of one role, turned one way, stand at."""
    made = []
    for role in dict.fromkeys(part.role for part in fields):
        alike = [part for part in fields if part.role == role]
        frames = [np.eye(4)[None] if p.placements is None else p.placements for p in alike]
        turn = [np.round(f[:, :3, :3].reshape(len(f), 9), 2) for f in frames]
        ways, way = np.unique(np.concatenate(turn), axis=0, return_inverse=True)
        way = way.reshape(-1)
        at = np.concatenate([place(f) for f in frames])
        kept = np.zeros(len(at), dtype=bool)
        for k in range(len(ways)):
            mine = way == k
            index, apart_m = _levels(at[mine])
            step = every(max(1, int(np.ceil(gap_m / apart_m - 1e-6))) if apart_m else 1)
            kept[mine] = step > 0 and (index % max(step, 1) == 0)
        start = 0
        for part, own in zip(alike, frames, strict=True):
            chosen = kept[start : start + len(own)]
            start += len(own)
            if chosen.all():
                made.append(part)
            elif chosen.any():
                made.append(replace(part, placements=own[chosen]))
    return made


def _levels(at: Floats) -> tuple[Ints, float]:
    """The number of each place's level, from the lowest, and how far levels stand apart."""
    order = np.argsort(at, kind="stable")
    steps = np.diff(at[order]) > _SAME_LEVEL_M
    number = np.zeros(len(at), dtype=int)
    number[order] = np.r_[0, np.cumsum(steps)]
    heights = at[order][np.r_[True, steps]]
    return number, float(np.median(np.diff(heights))) if len(heights) > 1 else 0.0


def flutes(parts: Sequence[Part], view: Square, lines: Lines, gap_m: float) -> Bools:
    """Which lines lie within shafts whose flutes would run together; tone models those shafts."""
    within = np.zeros(len(lines.ends), dtype=bool)
    middle = lines.ends.mean(axis=1)
    right, up, _ = view.axes
    for i, part in enumerate(parts):
        if part.path[-1] != "shaft":
            continue
        mine = np.flatnonzero(lines.owner == i)
        if not len(mine):
            continue
        for frame in np.eye(4)[None] if part.placements is None else part.placements:
            at = part.mesh.vertices @ frame[:3, :3].T + frame[:3, 3]
            across, height = at @ right, at @ up
            levels, of = np.unique(np.round(height, 3), return_inverse=True)
            if len(levels) < 2:
                continue
            left, far = np.full(len(levels), np.inf), np.full(len(levels), -np.inf)
            np.minimum.at(left, of.reshape(-1), across)
            np.maximum.at(far, of.reshape(-1), across)
            z = middle[mine, 1]
            low, high = np.interp(z, levels, left), np.interp(z, levels, far)
            rim = RIM * (high - low)
            x = middle[mine, 0]
            inside = (x > low + rim) & (x < high - rim) & (z >= levels[0]) & (z <= levels[-1])
            ray = np.abs(np.diff(lines.ends[mine], axis=1)[:, 0])
            inside &= ray[:, 1] > ray[:, 0]
            apart = np.diff(np.unique(np.round(x[inside] / _SAME_LEVEL_M)))
            if inside.sum() > 2 and len(apart) and np.median(apart) * _SAME_LEVEL_M < gap_m:
                within[mine[inside]] = True
    return within


# --- ink -----------------------------------------------------------------------------------


def inked(lines: Contours, at_px: Callable[[Floats], Floats], size: tuple[int, int]) -> Singles:
    """Ink ``(h, w)`` from 0 to 1 on a picture of ``size`` (wide, tall).

    Args:
        at_px: pixel positions ``(n, 2)`` of points ``(n, 2)`` of the lines.
    """
    wide, tall = size
    ends = at_px(lines.ends_m.reshape(-1, 2)).reshape(-1, 2, 2)
    unit = wide / 1000.0
    widths = np.empty(len(ends))
    strength = np.empty(len(ends))
    for weight, (width, strong) in WEIGHTS.items():
        widths[lines.weight == weight], strength[lines.weight == weight] = width, strong
    widths[lines.course], strength[lines.course] = COURSE
    widths = np.maximum(widths * unit, 0.42)
    steady = (lines.weight == PROFILE) & ~lines.course
    strength = strength * np.where(steady, 1.0, _room(ends, widths, size))
    ink = np.zeros((tall, wide), dtype=np.float32)
    strength = np.round(strength / 0.08) * 0.08
    kinds = np.column_stack([widths, strength])
    for width, strong in np.unique(kinds, axis=0):
        chosen = (widths == width) & (strength == strong)
        ink = np.maximum(ink, strong * strokes(ends[chosen], width, size))
    return np.minimum(ink, 1.0)


def strokes(ends_px: Floats, width_px: float, size: tuple[int, int]) -> Singles:
    """How much of each pixel ``(h, w)`` straight strokes ``(n, 2, 2)`` cover, ends round."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.collections import LineCollection
    from matplotlib.figure import Figure

    wide, tall = size
    if not len(ends_px):
        return np.zeros((tall, wide), dtype=np.float32)
    figure = Figure(figsize=(wide / 100.0, tall / 100.0), dpi=100, facecolor="white")
    canvas = FigureCanvasAgg(figure)
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_axis_off()
    axes.set_xlim(0.0, wide)
    axes.set_ylim(tall, 0.0)
    drawn = LineCollection(
        list(ends_px),
        linewidths=width_px * 0.72,
        colors="black",
        capstyle="round",
        joinstyle="round",
    )
    drawn.set_snap(False)
    axes.add_collection(drawn, autolim=False)
    canvas.draw()
    grey = np.asarray(canvas.buffer_rgba())[:, :, 0].astype(np.float32)
    return np.asarray(1.0 - grey / 255.0, dtype=np.float32)


def _room(ends_px: Floats, widths_px: Floats, size: tuple[int, int]) -> Floats:
    """The share of its strength that each line keeps: less where ink would cover more than a share
    of the paper about it, so that balusters and leaves drawn small stay grey and do not clot."""
    if not len(ends_px):
        return np.ones(0)
    long = np.linalg.norm(ends_px[:, 1] - ends_px[:, 0], axis=1)
    counts = np.maximum(1, np.ceil(long / (0.5 * CELL)).astype(int))
    of = np.repeat(np.arange(len(ends_px)), counts)
    place = np.arange(len(of)) - np.repeat(np.cumsum(counts) - counts, counts)
    share = (place + 0.5) / counts[of]
    at = ends_px[of, 0] + share[:, None] * (ends_px[of, 1] - ends_px[of, 0])
    cells = np.floor(at / CELL).astype(np.int64)
    cells -= cells.min(axis=0)
    key = cells[:, 0] * (cells[:, 1].max() + 1) + cells[:, 1]
    ink = (long / counts * widths_px)[of] / CELL**2
    mean = np.bincount(of, np.bincount(key, ink)[key]) / counts
    return np.clip(MOST_INK / np.maximum(mean, 1e-9), 0.25, 1.0)

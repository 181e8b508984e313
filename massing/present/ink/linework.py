"""Ink: the lines of a drawn elevation and their weights."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from massing.geometry.mesh import Floats
from massing.parts.part import Part
from massing.present.ink.seen import Bools, Seen, Singles, of_roles
from massing.view.camera import Camera

INK = np.array([0.16, 0.14, 0.13], dtype=np.float32)

CREASE_COSINE = np.cos(np.radians(28.0))

# Depth of a jump, metres, from which each weight of line is drawn, and its width as a share of
# a thousandth of the picture's width.
WEIGHTS = ((0.004, 0.35), (0.03, 0.45), (0.15, 0.65), (0.60, 0.90))

PROFILE_WEIGHT = 1.25  # against the sky

GROUND_WEIGHT = 2.4

SHAFT_WEIGHT = 0.9  # of a shaft's sides, whatever stands behind them

CREASE_STRENGTH = 0.55

FIELD_STRENGTH = 0.35  # lines within a roof's covering or a wall's bricks, which are many

_FIELDS = ("tile", "slate", "shingle", "brick", "ashlar", "siding", "foliage", "mortar")


# --- ink -----------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class ShaftOutline:
    """One side of a shaft as it is seen: the part it is of, and its line on the film, metres.

    ``up_m`` ``(n,)`` ascends; ``across_m`` ``(n,)`` is measured from the camera's own axis.
    """

    owner: int
    up_m: Floats
    across_m: Floats


def shaft_outlines(parts: list[Part], camera: Camera) -> list[ShaftOutline]:
    """Both sides of every shaft, from its own outline and not from what stands behind it."""
    right, up, _ = camera.axes
    found = []
    for i, part in enumerate(parts):
        if part.path[-1] != "shaft":
            continue
        places = np.eye(4)[None] if part.placements is None else part.placements
        for place in places:
            at = part.mesh.vertices @ place[:3, :3].T + place[:3, 3] - camera.position_m
            across, height = at @ right, at @ up
            levels = np.unique(np.round(height, 4))
            if len(levels) < 2:
                continue
            at_level = np.searchsorted(levels, np.round(height, 4))
            for pick, far in ((np.minimum, np.inf), (np.maximum, -np.inf)):
                side = np.full(len(levels), far)
                pick.at(side, at_level, across)
                found.append(ShaftOutline(i, levels, side))
    return found


def shaft_ink(seen: Seen, camera: Camera, shafts: Sequence[ShaftOutline]) -> tuple[Singles, Bools]:
    """Steady lines of the shafts' sides on the fine grid, and where they take other lines' place.

    A line is drawn where the shaft itself is seen beside it.
    """
    tall, wide = seen.depth.shape
    unit, step = wide / 1000.0, seen.step_m
    ink = np.zeros((tall, wide), dtype=np.float32)
    taken = np.zeros((tall, wide), dtype=bool)
    width = max(SHAFT_WEIGHT * unit, 1.0)
    reach = int(np.ceil(width / 2.0)) + 2
    rows = np.arange(tall)
    above = seen.up_m
    for line in shafts:
        on = (above >= line.up_m[0]) & (above <= line.up_m[-1])
        x = np.interp(above, line.up_m, line.across_m) / step
        x += wide / 2.0 - 0.5 - camera.shift_x * camera.ortho_width_m / step
        near = np.rint(x).astype(int)
        inside = on & (near > reach) & (near < wide - reach - 1)
        columns = near[:, None] + np.arange(-reach, reach + 1)
        columns = np.clip(columns, 0, wide - 1)
        beside = (seen.owner[rows[:, None], columns] == line.owner).any(axis=1) & inside
        at = rows[beside, None], columns[beside]
        away = np.abs(columns - x[:, None])[beside]
        cover = np.clip(width / 2.0 + 0.5 - away, 0.0, 1.0).astype(np.float32)
        ink[at] = np.maximum(ink[at], cover)
        taken[at] = True
    return ink, taken


def lines_of(
    seen: Seen, parts: list[Part], camera: Camera, shafts: Sequence[ShaftOutline] = ()
) -> Singles:
    """Ink on the fine grid, 0 to 1."""
    jump, crease, profile = edges(seen, camera)
    steady, taken = shaft_ink(seen, camera, shafts)
    jump[taken], profile[taken], crease[taken] = 0.0, False, False
    crease &= ~_beside_a_twin(crease)
    field = of_roles(seen, parts, _FIELDS)
    unit = seen.depth.shape[1] / 1000.0
    ink = np.zeros(seen.depth.shape, dtype=np.float32)
    strength = np.where(field, FIELD_STRENGTH, CREASE_STRENGTH)
    ink = np.maximum(ink, _thick(crease, 0.30 * unit) * strength)
    for least, weight in WEIGHTS:
        within = 1.0 if least >= 0.15 else np.where(field, FIELD_STRENGTH, 0.85)
        ink = np.maximum(ink, _thick(jump >= least, weight * unit) * within)
    ink = np.maximum(ink, _thick(profile, PROFILE_WEIGHT * unit))
    ink = np.maximum(ink, steady)
    ink[seen.height_m < 0.0] = 0.0
    ink[np.abs(seen.height_m) < 0.5 * GROUND_WEIGHT * unit * seen.step_m] = 1.0
    return ink


def _beside_a_twin(line: Bools) -> Bools:
    """Where a line runs a ray or two to the right of another, or under it: one of both is enough.

    So near each other, as the two arrises of a panel's narrow bevel, they run together unevenly.
    """
    twin = np.zeros(line.shape, dtype=bool)
    for axis in (0, 1):
        for gap in (2, 3):
            before = np.zeros(line.shape, dtype=bool)
            between = np.ones(line.shape, dtype=bool)
            whole = [slice(None), slice(None)]
            here, there = list(whole), list(whole)
            here[axis], there[axis] = slice(gap, None), slice(None, -gap)
            before[tuple(here)] = line[tuple(there)]
            for k in range(1, gap):
                here[axis], there[axis] = slice(k, None), slice(None, -k)
                between[tuple(here)] &= ~line[tuple(there)]
            twin |= line & before & between
    return twin


def edges(seen: Seen, camera: Camera) -> tuple[Singles, Bools, Bools]:
    """Where lines run, kept on the nearer side of each.

    Returns:
        Depth of the jump in metres (0 where there is none), whether the face turns, and
        whether the sky begins.
    """
    right, up, forward = camera.axes.astype(np.float32)
    jump = np.zeros(seen.depth.shape, dtype=np.float32)
    crease = np.zeros(seen.depth.shape, dtype=bool)
    profile = np.zeros(seen.depth.shape, dtype=bool)
    for axis, direction in ((1, right), (0, -up)):
        here, there = _neighbours(axis)
        d0, d1 = seen.depth[here], seen.depth[there]
        n0, n1 = seen.normals[here], seen.normals[there]
        solid0, solid1 = np.isfinite(d0), np.isfinite(d1)
        both = solid0 & solid1
        with np.errstate(invalid="ignore"):
            fall = np.where(both, d1 - d0, 0.0)
        move = fall[..., None] * forward + seen.step_m * direction
        off = np.minimum(np.abs((move * n0).sum(-1)), np.abs((move * n1).sum(-1)))
        apart = np.where(both & (off > 0.6 * seen.step_m + 0.002), np.abs(fall), 0.0)
        nearer0 = d0 <= d1
        jump[here] = np.maximum(jump[here], np.where(nearer0, apart, 0.0))
        jump[there] = np.maximum(jump[there], np.where(nearer0, 0.0, apart))
        turned = both & ((n0 * n1).sum(-1) < CREASE_COSINE) & (apart == 0.0)
        crease[here] |= turned
        profile[here] |= solid0 & ~solid1
        profile[there] |= solid1 & ~solid0
    return jump, crease, profile


def _neighbours(axis: int) -> tuple[tuple[slice, slice], tuple[slice, slice]]:
    whole, first, last = slice(None), slice(0, -1), slice(1, None)
    if axis == 1:
        return (whole, first), (whole, last)
    return (first, whole), (last, whole)


def _thick(line: Bools, width: float) -> Singles:
    """A line one ray wide drawn ``width`` rays wide; thinner ones are fainter instead."""
    if width <= 1.0:
        return line.astype(np.float32) * np.float32(max(width, 0.35))
    size = max(1, round(width))
    reach = np.zeros(line.shape, dtype=bool)
    low = size // 2
    wider = np.pad(line, ((size - 1 - low, low), (size - 1 - low, low)))
    tall, wide = line.shape
    for dy in range(size):
        for dx in range(size):
            reach |= wider[dy : dy + tall, dx : dx + wide]
    return reach.astype(np.float32)

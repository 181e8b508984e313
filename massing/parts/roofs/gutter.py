"""Gutters hung at the eaves, half round or moulded, their brackets and their downspouts."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from massing.canon.mouldings import cyma_recta
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, loft, offset_directions, prism, sweep
from massing.parts.part import Part

# Common practice, no source.
GAP_M = 0.004  # the deck's edge to the gutter's back
_SHEET_M = 0.0025
_BEAD_M = 0.009
_STRAP_M = (0.022, 0.004)  # width and thickness of a bracket's strap
_TAIL_M = 0.008  # a strap's tail up the deck's edge, under the drip
_SHOE_Z_M, _SHOE_OUT_M = 0.10, 0.16
_SIDES = 16


def gutter_section(kind: str, width_m: float) -> Floats:
    """The trough's section ``(n, 2)``, (out, up) from the back's rim, a closed outline.

    Raises:
        ValueError: no such kind, or a width that is not positive.
    """
    line = _trough(kind, width_m)
    inner = line - _SHEET_M * offset_directions(line)
    front = float(line[-1, 0])
    bead = [
        (front + _BEAD_M, -0.2 * _BEAD_M),
        (front + _BEAD_M, 0.8 * _BEAD_M),
        (front - _SHEET_M, 0.8 * _BEAD_M),
    ]
    return np.concatenate([line, bead, inner[::-1]])


def _trough(kind: str, width_m: float) -> Floats:
    """The outer face of the trough, from the back's rim under it to the front's."""
    if not width_m > 0.0:
        raise ValueError(f"a gutter needs a width, got {width_m}")
    if kind == "half round":
        angle = np.linspace(np.pi, 2.0 * np.pi, 17)
        radius = width_m / 2.0
        return np.column_stack([radius + radius * np.cos(angle), radius * np.sin(angle)])
    if kind != "moulded":
        raise ValueError(f"{kind!r} is not a gutter; allowed: half round, moulded")
    deep = 0.8 * width_m
    ogee = cyma_recta(0.62 * width_m, width_m, deep * 0.85)
    ogee = ogee + [0.0, -deep - float(ogee[0, 1]) + 0.05 * deep]
    return np.concatenate(
        [[(0.0, 0.0), (0.0, -deep), (0.62 * width_m, -deep)], ogee, [(width_m, 0.0)]]
    )


def outlet(kind: str, width_m: float) -> tuple[float, float]:
    """The middle of a trough's underside: out from the deck's edge, and below its rim."""
    if kind == "half round":
        return GAP_M + width_m / 2.0, width_m / 2.0
    return GAP_M + 0.31 * width_m, 0.8 * width_m


def gutters(
    kind: str,
    runs: list[Floats],
    *,
    closed: bool,
    rim_z_m: float,
    width_m: float,
    spacing_m: float,
    role: str,
) -> list[Part]:
    """Troughs along the eaves and the brackets that carry them.

    Args:
        kind: ``half round`` or ``moulded``.
        runs: plan paths ``(k, 2)`` of the deck's edge, outwards to the right of travel.
        closed: each path returns to its first point; else its ends are stopped.
        rim_z_m: the trough's rim.
        width_m: of the trough at its rim.
        spacing_m: brackets stand this far apart at the most.
        role: the material role.

    Raises:
        ValueError: no such kind, or a size that is not positive.
    """
    section = gutter_section(kind, width_m) + [GAP_M, rim_z_m]
    troughs = [sweep(section, path, closed=closed) for path in runs]
    line = _trough(kind, width_m) + [GAP_M, rim_z_m]
    frames, stops = [], []
    for path in runs:
        ring = np.concatenate([path, path[:1]]) if closed else np.asarray(path)
        for start, end in pairwise(ring):
            frames.append(_along(start, end, spacing_m))
        if not closed:
            first, last = ((b - a) / np.linalg.norm(b - a) for a, b in (ring[:2], ring[-2:]))
            stops += [_stop(line, ring[0], first)]
            stops += [_stop(line, ring[-1] + _SHEET_M * last, last)]
    parts = [Part(("gutter", "trough"), role, merged([*troughs, *stops]))]
    bracket = _bracket(kind, width_m).shifted(z_m=rim_z_m)
    return [*parts, Part(("gutter", "brackets"), role, bracket, np.concatenate(frames))]


def _stop(line: Floats, end: Floats, along: Floats) -> Mesh:
    """A plate that closes a trough before a point of its path, square to it."""
    out = (along[1], -along[0], 0.0)
    return prism(line, (*end, 0.0), out, (0.0, 0.0, 1.0), _SHEET_M)


def _along(start: Floats, end: Floats, spacing_m: float) -> Floats:
    """Frames of brackets along an edge, x outwards, y along, evenly spread."""
    length = float(np.linalg.norm(end - start))
    along = (end - start) / length
    count = max(2, int(np.ceil(length / spacing_m)))
    at = length * (np.arange(count) + 0.5) / count
    frames = np.tile(np.eye(4), (count, 1, 1))
    frames[:, :2, 0] = (along[1], -along[0])
    frames[:, :2, 1] = along
    frames[:, :2, 3] = start + at[:, None] * along
    return frames


def _bracket(kind: str, width_m: float) -> Mesh:
    """A strap under a half round trough, up the deck's edge; or across a moulded one's top."""
    wide, thick = _STRAP_M
    if kind == "moulded":
        low = (0.0, -wide / 2.0, -0.6 * thick)
        return box_between(low, (width_m + GAP_M - _SHEET_M, wide / 2.0, 0.4 * thick))
    line = _trough(kind, width_m)[1:-1] + [GAP_M, 0.0]
    centre = np.array([GAP_M + width_m / 2.0, 0.0])
    away = (line - centre) / np.linalg.norm(line - centre, axis=1)[:, None]
    inner, outer = line + 0.0002 * away, line + thick * away
    ring = np.concatenate([inner, outer[::-1]])
    back = [(0.0, float(outer[0, 1])), (0.0, _TAIL_M), (GAP_M - 0.0002, _TAIL_M)]
    back += [(GAP_M - 0.0002, float(inner[0, 1]))]
    ring = np.concatenate([ring, back])
    return prism(ring, (0.0, wide / 2.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), wide)


def downspout(
    start: tuple[float, float],
    wall_m: float,
    edge: ArrayLike,
    radius_m: float,
    role: str,
    foot_z_m: float = 0.0,
) -> list[Part]:
    """A pipe from a trough's outlet back under the cornice to the wall and down it.

    No elbow turns more than 45 degrees (City of Irving, Gutters and downspouts, read).

    Its frame is the wall's: x along it, y into it, z up; the pipe stands on x = 0.

    Args:
        start: (out from the wall's face, height) of the trough's underside.
        wall_m: the pipe's axis before the wall's face.
        edge: ``(n, 2)`` (out, z) of what it must clear, the cornice's face.
        radius_m: of the pipe.
        role: the material role.
        foot_z_m: the ground.

    Raises:
        ValueError: the pipe does not fit between trough, cornice and ground.
    """
    out, top_z = start
    points = np.asarray(edge, dtype=float)
    clear = np.sqrt(2.0) * (radius_m + 0.015)
    wall_z = min(
        float((wall_m + points[:, 1] - points[:, 0] - clear).min()),
        top_z - (out - wall_m) - 2.0 * radius_m,
    )
    knee_z = wall_z + out - wall_m
    shoe_z = foot_z_m + _SHOE_Z_M
    if wall_z < shoe_z + 0.5:
        raise ValueError(f"a downspout meets the wall at {wall_z:.2f} m, too near the ground")
    line = [(out, top_z + 0.01), (out, knee_z), (wall_m, wall_z)]
    line += [(wall_m, shoe_z + _SHOE_OUT_M), (wall_m + _SHOE_OUT_M, shoe_z)]
    pipe = _tube(np.array(line), radius_m)
    heights = np.linspace(wall_z - 0.25, shoe_z + 0.45, max(2, int((wall_z - shoe_z) / 1.8) + 1))
    straps = [_strap(wall_m, radius_m).shifted(z_m=float(z)) for z in heights]
    return [
        Part(("downspout", "pipe"), role, pipe),
        Part(("downspout", "straps"), role, merged(straps)),
    ]


def _tube(line: Floats, radius_m: float) -> Mesh:
    """A round pipe along a path ``(k, 2)`` of (out, z), mitred where it bends."""
    across = offset_directions(line)
    angle = np.linspace(0.0, 2.0 * np.pi, _SIDES, endpoint=False)
    rings = []
    for point, side in zip(line, across, strict=True):
        flat = point + radius_m * np.cos(angle)[:, None] * side
        rings.append(np.column_stack([radius_m * np.sin(angle), -flat[:, 0], flat[:, 1]]))
    return loft(np.array(rings))


def _strap(wall_m: float, radius_m: float) -> Mesh:
    """A lug from the wall to a clip round the pipe."""
    wide, thick = _STRAP_M
    lug = box_between((-0.01, -wall_m + radius_m - 0.002, 0.0), (0.01, 0.004, wide))
    angle = np.linspace(0.0, 2.0 * np.pi, _SIDES, endpoint=False)
    ring = np.column_stack([np.sin(angle), np.cos(angle)])
    outer, inner = (radius_m + thick) * ring, (radius_m - 0.001) * ring
    clip = prism(outer, (0.0, -wall_m, 0.0), (1.0, 0, 0), (0, 1.0, 0), wide, [inner])
    return merged([lug, clip])

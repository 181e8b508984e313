"""Mouldings carved along a run: egg and dart on an ovolo, bead and reel, leaves on a cyma.

The moulding's body is sunk, the carving stands on it up to the moulding's own profile, one unit
over every column's axis; what is left at corners and ends is plain.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from massing.canon import Member
from massing.canon.mouldings import CURVES
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import lathe, offset_directions, sweep
from massing.parts.orders.ornament import BEAD_AND_REEL, HOUSED_M, egg_relief, slab
from massing.parts.orders.runs import Run
from massing.parts.part import Part, Path

_ROWS, _COLUMNS = 9, 13
_SUNK = {"egg and dart": 0.3, "bead and reel": 0.5, "leaf": 0.14}  # of the height


def sunk(member: Member) -> Member:
    """The body of a carved moulding, behind its carving; any other as it is."""
    if not member.carving:
        return member
    deep = _SUNK[member.carving] * member.height
    kind = "fillet" if member.kind in ("bead", "torus") else member.kind
    return replace(member, kind=kind, foot=member.foot - deep, head=member.head - deep)


def _leaf_relief(across: Floats, up: Floats) -> Floats:
    """Pointed leaves side by side with a dart between each two, as :func:`egg_relief`."""
    half = 0.44 * np.sqrt(np.clip(np.sin(np.pi * np.clip(0.12 + 0.88 * up, 0.0, 1.0)), 0.0, 1.0))
    inside = np.abs(across) / np.maximum(half, 1e-9)
    relief = np.where(inside < 1.0, -0.05 - 0.25 * inside**2, -1.0)
    relief = np.where((inside > 0.55) & (inside < 0.72), -0.75, relief)
    relief -= 0.5 * np.exp(-((across / 0.035) ** 2)) * (inside < 0.55)
    dart = 1.0 - np.abs(np.abs(across) - 0.5) / 0.06
    return np.maximum(relief, np.where(up > 0.3, -1.0 + 0.7 * np.clip(dart, 0.0, 1.0), -1.0))


_RELIEFS: dict[str, Callable[[Floats, Floats], Floats]] = {
    "egg and dart": egg_relief,
    "leaf": _leaf_relief,
}


def carved_unit(member: Member, pitch_m: float) -> Mesh:
    """One unit of a member's carving, centred on x = 0, the frieze's face on y = 0."""
    if member.carving == "bead and reel":
        x, size = (np.array(v) for v in BEAD_AND_REEL)
        edge = np.column_stack([size * member.height / 2.0, x * pitch_m])
        both = np.concatenate([(edge * [1.0, -1.0])[:0:-1], edge])
        middle = member.reach - member.height / 2.0
        turn = np.array(
            [[0, 0, 1.0, 0], [1.0, 0, 0, -middle], [0, 1.0, 0, member.height / 2.0], [0, 0, 0, 1.0]]
        )
        return lathe(both, 8).moved(turn)
    curve = CURVES[member.kind](member.foot, member.head, member.height, 8)
    run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(curve, axis=0), axis=1))])
    s = np.linspace(0.0, 1.0, _ROWS)
    reach, z = (np.interp(s, run / run[-1], curve[:, k]) for k in (0, 1))
    tangent = np.gradient(np.column_stack([reach, z]), axis=0)
    tangent /= np.linalg.norm(tangent, axis=1)[:, None]
    across, up = np.meshgrid(np.linspace(-0.5, 0.5, _COLUMNS), s)
    fade = np.clip(np.minimum(s / 0.1, (1.0 - s) / 0.08), 0.0, 1.0)[:, None]
    depth = 0.75 * _SUNK[member.carving] * member.height
    lift = depth * _RELIEFS[member.carving](across, up) * fade
    front = np.stack(
        [
            across * pitch_m,
            -(reach[:, None] + lift * tangent[:, 1:]),
            z[:, None] - lift * tangent[:, :1],
        ],
        axis=-1,
    )
    back = np.stack(
        [
            across * pitch_m,
            np.broadcast_to(-(reach - depth / 0.75 - HOUSED_M)[:, None], across.shape),
            np.broadcast_to(z[:, None], across.shape),
        ],
        axis=-1,
    )
    return slab(front, back)


def _pitches(members: Sequence[Member]) -> dict[str, float]:
    """Unit lengths by what is carved: an egg or a leaf to a dentil, two beads."""
    dentils = [m.row.spacing for m in members if m.row and m.row.kind == "dentil"]
    found = {}
    for member in members:
        if member.carving:
            whole = dentils[0] if dentils else 1.4 * member.height
            string = member.carving == "bead and reel"
            found[member.name] = whole / 2.0 if string and dentils else whole
    return found


def carved_mouldings(
    name: Path, members: Sequence[Member], foot_z_m: float, runs: Sequence[Run]
) -> list[Part]:
    """The carving of ``members``, stacked from ``foot_z_m`` up, along ``runs``."""
    parts, z = [], foot_z_m
    pitches = _pitches(members)
    for member in members:
        if member.carving:
            parts += _along((*name, member.carving), member, pitches[member.name], z, runs)
        z += member.height
    return parts


def _along(name: Path, member: Member, pitch: float, z: float, runs: Sequence[Run]) -> list[Part]:
    inner = min(member.foot, member.head)
    frames, plain = [], []
    for run in runs:
        low, high = (-inner * (run.start or 0.0), run.length + inner * (run.end or 0.0))
        at = run.stations(pitch, low, high, pitch / 2.0)
        ends = [(low, high)]
        if len(at):
            outer = [at[0] - pitch / 2.0, at[-1] + pitch / 2.0]
            if len(at) > 1:
                outer = [1.5 * at[0] - 0.5 * at[1], 1.5 * at[-1] - 0.5 * at[-2]]
            outer = [max(outer[0], low), min(outer[1], high)]
            if run.ring:  # the seam is like any other joint
                outer = [(at[0] + at[-1] - run.length) / 2.0, (at[0] + at[-1] + run.length) / 2.0]
            edges = np.concatenate([outer[:1], (at[:-1] + at[1:]) / 2.0, outer[1:]])
            placed = run.frames((edges[:-1] + edges[1:]) / 2.0, z)
            placed[:, :3, 0] *= (np.diff(edges) / pitch)[:, None]
            frames.append(placed)
            ends = [(low, edges[0]), (edges[-1], high)]
        if len(run.points) > 2 or run.ring:
            continue  # round a curve what is left is less than a unit
        plain += [_plain(member, run, inner, a, b, z) for a, b in ends if b - a > 1e-6]
    parts = []
    if frames:
        parts.append(Part(name, "order", carved_unit(member, pitch), np.concatenate(frames)))
    if plain:
        parts.append(Part((*name, "plain ends"), "order", merged(plain)))
    return parts


def _plain(member: Member, run: Run, inner: float, start: float, end: float, z: float) -> Mesh:
    """The moulding uncarved from one distance along a run to another, mitred at a corner."""
    ghosts = np.array([run.origin - run.along, run.origin, run.origin + run.along])
    if run.before is not None and run.start is not None:
        ghosts[0] = run.origin - run.before
    base = run.origin + inner * offset_directions(ghosts)[1]
    shift = -inner * (run.start or 0.0)  # where the base line begins along the run
    line = np.array([base + (t - shift) * run.along for t in (start, end)])
    at_start = abs(start - shift) < 1e-6 and run.start is not None and run.before is not None
    before = line[0] - run.before if at_start and run.before is not None else None
    at_end = run.end is not None and abs(end - run.length - inner * run.end) < 1e-6
    after = None
    if at_end and run.end is not None:
        turn = 2.0 * np.arctan(run.end)
        c, s = np.cos(turn), np.sin(turn)
        after = line[1] + np.array([[c, -s], [s, c]]) @ run.along
    edge = CURVES[member.kind](member.foot, member.head, member.height, 8) + [-inner, z]
    deep = _SUNK[member.carving] * member.height + HOUSED_M
    outline = np.concatenate([edge, [[-deep, z + member.height], [-deep, z]]])
    return sweep(outline, line, before=before, after=after)

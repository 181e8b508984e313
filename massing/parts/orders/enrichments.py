"""Enrichments: the ornaments set along a moulding, evenly and on the columns' axes.

Dentils, triglyphs, regulae with their guttae, mutules and modillions, each as one mesh and its
placements.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from massing.canon import Member, Ornament
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, extrude, offset_directions
from massing.parts.orders.modillions import caisson_frame, modillion, modillion_leaf
from massing.parts.orders.ornament import HOUSED_M, gutta, rosette, triglyph
from massing.parts.orders.runs import SMOOTH, Run
from massing.parts.part import Part, Path
from massing.settingout.ornament_rows import stations, with_corners


def _extent(run: Run, convex_m: float, concave_m: float) -> tuple[float, float]:
    """Room for ornaments along a run: past a standing corner, short of a re-entrant one."""

    def reach(bend: float | None) -> float:
        if bend is None:
            return 0.0
        return bend * (convex_m if bend > 0 else concave_m)

    return -reach(run.start), run.length + reach(run.end)


def _dentils(
    name: Path, member: Member, row: Ornament, z: float, runs: Sequence[Run]
) -> list[Part]:
    """Dentils on every column axis, with a dentil turning each standing corner.

    The corner dentil widens by up to a spacing to meet the even row (the plates' double
    dentil); re-entrant corners and ends at a wall are left clear. A corner belongs to the run
    that starts there.
    """
    foot = z + member.height - row.height
    gap, depth = row.spacing - row.width, row.reach - member.reach
    placed, corners = [], []
    legs: list[list[float]] = []
    for run in runs:
        low, high = _extent(run, row.reach, row.reach + gap)
        keep = []
        for bend in (run.start, run.end):
            turns = bend is not None and bend > 0
            keep.append(max(row.width, 1.1 * depth * (bend or 0.0)) + gap if turns else 0.0)
        at = run.stations(row.spacing, low + keep[0], high - keep[1], row.width / 2.0)
        if not len(at):
            leg = (high - low) / 2.0 - gap / 2.0
            if ((run.start or 0.0) > 0.0) != ((run.end or 0.0) > 0.0):  # one corner to turn
                leg = max(high - low, 1.1 * depth)
            legs.append([leg, leg])
            continue
        placed.append(run.frames(at, foot))
        half = row.width / 2.0 + gap
        legs.append([at[0] - half - low, high - at[-1] - half])
    for i, run in enumerate(runs):
        if run.start is None or run.start <= 0 or run.before is None:
            continue
        previous = runs[i - 1]
        joined = np.allclose(previous.points[-1], run.origin)
        lead = legs[i - 1][1] if joined else max(row.width, 1.1 * depth * run.start)
        inner = member.reach - HOUSED_M
        outline = _corner_outline(run, run.before, row.reach, inner, lead, legs[i][0])
        corners.append(extrude(outline, row.height).shifted(z_m=foot))
    parts = []
    if placed:
        block = box_between(
            (-row.width / 2.0, -row.reach, 0.0),
            (row.width / 2.0, HOUSED_M - member.reach, row.height),
        )
        parts.append(Part((*name, "dentils"), "order", block, np.concatenate(placed)))
    if corners:
        parts.append(Part((*name, "corner dentils"), "order", merged(corners)))
    return parts


def _corner_outline(
    run: Run, lead: Floats, outer_m: float, inner_m: float, leg_before: float, leg_after: float
) -> Floats:
    """Plan of a block turning a standing corner, its outer faces ``leg`` long each way."""
    across = offset_directions(np.array([run.origin - lead, run.origin, run.origin + run.along]))[1]
    tip, heart = run.origin + outer_m * across, run.origin + inner_m * across
    thick = outer_m - inner_m
    before, after = tip - leg_before * lead, tip + leg_after * run.along
    side = np.array([lead[1], -lead[0]])
    return np.array([before, tip, after, after - thick * run.out, heart, before - thick * side])


def _triglyphs(
    name: Path, member: Member, row: Ornament, z: float, runs: Sequence[Run]
) -> list[Part]:
    """A triglyph over every column and evenly between; the corner has part of a metope."""
    mesh = triglyph(row.width, row.height, row.reach - member.reach).shifted(y_m=-member.reach)
    return _repeated((*name, "triglyphs"), mesh, row, z, runs)


def _regulae(
    name: Path, member: Member, row: Ornament, z: float, runs: Sequence[Run]
) -> list[Part]:
    """Under the taenia and each triglyph a regula with its guttae."""
    bar = box_between(
        (-row.width / 2.0, -row.reach, -row.height), (row.width / 2.0, HOUSED_M, HOUSED_M)
    )
    return _repeated((*name, "regulae"), bar, row, z, runs) + _guttae(name, row, z, runs)


def _guttae(name: Path, row: Ornament, z: float, runs: Sequence[Run]) -> list[Part]:
    pitch = row.width / row.guttae
    drop = gutta(0.62 * pitch, 0.92 * pitch, row.gutta_height).shifted(
        y_m=-row.reach + 0.48 * pitch, z_m=-row.height
    )
    across = (np.arange(row.guttae) - (row.guttae - 1) / 2.0) * pitch
    frames = []
    for run in runs:
        low, high = _extent(run, 0.0, row.reach)
        at = run.stations(row.spacing, low, high, row.width / 2.0)
        frames.append(run.frames((at[:, None] + across).ravel(), z))
    return [Part((*name, "guttae"), "order", drop, np.concatenate(frames))]


def _mutules(
    name: Path, member: Member, row: Ornament, z: float, runs: Sequence[Run]
) -> list[Part]:
    """A mutule over every triglyph, studded beneath with rows of drops."""
    top = z + member.height
    block = box_between(
        (-row.width / 2.0, -row.reach, -row.height), (row.width / 2.0, HOUSED_M - member.reach, 0.0)
    )
    pitch = row.width / row.guttae
    drop = gutta(0.7 * pitch, 0.8 * pitch, row.gutta_height + HOUSED_M)
    rows = max(1, int((row.reach - member.reach) / pitch))
    across = (np.arange(row.guttae) - (row.guttae - 1) / 2.0) * pitch
    deep = row.reach - (np.arange(rows) + 0.6) * pitch
    grid = np.stack(np.meshgrid(across, -deep, [HOUSED_M - row.height]), -1).reshape(-1, 3)
    drops = merged([drop.shifted(*p) for p in grid])
    return [
        *_repeated((*name, "mutules"), block, row, top, runs),
        *_repeated((*name, "mutule guttae"), drops, row, top, runs),
    ]


def _modillions(
    name: Path, member: Member, row: Ornament, z: float, runs: Sequence[Run]
) -> list[Part]:
    """Brackets under the corona, one over every column and one at every standing corner."""
    placed = [run.frames(at, z + member.height) for run, at in modillion_stations(member, runs)]
    every = np.concatenate(placed)
    if not len(every):
        return []
    length = row.reach - member.reach
    bracket = modillion(row.width, length, row.height).shifted(y_m=-member.reach)
    leaf = modillion_leaf(row.width, length, row.height).shifted(y_m=-member.reach)
    return [
        Part((*name, "modillions"), "order", bracket, every),
        Part((*name, "modillions", "leaves"), "order", leaf, every),
    ]


def modillion_stations(member: Member, runs: Sequence[Run]) -> list[tuple[Run, Floats]]:
    """Where the modillions of a member stand along each run."""
    row = member.row
    assert row is not None
    found = []
    for run in runs:
        low, high = _extent(run, member.reach, row.reach)
        if not run.ring:
            corners = ((run.start or 0.0) > SMOOTH, (run.end or 0.0) > SMOOTH)
            # clear of what its neighbour round the corner is housed by
            ends = low + HOUSED_M * corners[0], high - HOUSED_M * corners[1]
            anchors = with_corners(run.anchors, *ends, row.width, corners)
            run = replace(run, anchors=anchors)
        found.append((run, run.stations(row.spacing, low, high, row.width / 2.0)))
    return found


def _caissons(
    name: Path, member: Member, above: Member, z: float, runs: Sequence[Run]
) -> list[Part]:
    """Sunk panels in the soffit between modillions, as wide as deep, a rose in each.

    The hollow behind the drip runs on; a frame over each modillion parts it into panels. How
    wide the frames are is common practice.
    """
    row = member.row
    assert row is not None
    inner, outer = above.hollow(member.head)
    deep = outer - inner
    wide = max(1.3 * row.width, row.spacing - deep)
    border, panels, corners = [], [], []
    for run, at in modillion_stations(member, runs):
        if run.slope or not len(at):
            continue
        within = np.full(len(at), True)  # a frame does not enter the wall at an end
        if run.start is None and not run.ring:
            within &= at > wide / 2.0
        if run.end is None and not run.ring:
            within &= at < run.length - wide / 2.0
        border.append(run.frames(at[within], z))
        gaps = np.diff(at)
        open_ = gaps > wide + 0.6 * deep
        middles = (at[:-1] + gaps / 2.0)[open_]
        if (run.start or 0.0) > SMOOTH and abs((run.start or 0.0) - 1.0) < 1e-6:
            square = np.array([-(inner + outer) / 2.0])  # a corner belongs to the run it starts
            corners.append(run.frames(square, z))
        panels.append(run.frames(middles, z))
    if not border:
        return []
    frame = caisson_frame(wide, inner, outer, above.recess)
    flower = rosette(0.36 * deep, 0.9 * above.recess, 8).moved(_FACING_DOWN)
    flower = flower.shifted(y_m=-(inner + outer) / 2.0, z_m=above.recess)
    parts = [Part((*name, "caisson frames"), "order", frame, np.concatenate(border))]
    for word, placed in (("rosettes", panels), ("corner rosettes", corners)):
        if sum(map(len, placed)):
            parts.append(Part((*name, word), "order", flower, np.concatenate(placed)))
    return parts


_FACING_DOWN = np.array([[1.0, 0, 0, 0], [0, 0, -1.0, 0], [0, 1.0, 0, 0], [0, 0, 0, 1.0]])


def _repeated(name: Path, mesh: Mesh, row: Ornament, z: float, runs: Sequence[Run]) -> list[Part]:
    frames = []
    for run in runs:
        low, high = _extent(run, 0.0, row.reach)
        frames.append(run.frames(stations(run.anchors, row.spacing, low, high, row.width / 2.0), z))
    placed = np.concatenate(frames)
    return [Part(name, "order", mesh, placed)] if len(placed) else []


_ROWS: dict[str, Callable[[Path, Member, Ornament, float, Sequence[Run]], list[Part]]] = {
    "dentil": _dentils,
    "triglyph": _triglyphs,
    "regula": _regulae,
    "mutule": _mutules,
    "modillion": _modillions,
}


def enrichments(
    name: Path, members: Sequence[Member], foot_z_m: float, runs: Sequence[Run]
) -> list[Part]:
    """The ornaments of ``members``, stacked from ``foot_z_m`` up, along ``runs``."""
    parts, z = [], foot_z_m
    for i, member in enumerate(members):
        if member.row is not None:
            parts += _ROWS[member.row.kind](name, member, member.row, z, runs)
        z += member.height
        above = members[i + 1] if i + 1 < len(members) else None
        if member.row and member.row.kind == "modillion" and above is not None and above.recess:
            parts += _caissons(name, member, above, z, runs)
    return parts

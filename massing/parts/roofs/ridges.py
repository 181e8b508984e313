"""What covers hips and ridges: barrel tiles in mortar, rolls, caps and boards."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from massing.geometry.booleans import cut_copies
from massing.geometry.mesh import Mesh, merged
from massing.geometry.solids import loft, prism
from massing.parts.part import Part
from massing.parts.roofs.laying import PLAY_M, at
from massing.parts.roofs.lines import RoofLine, along, lay_along, roof_lines, run_along
from massing.settingout.roof_planes import RoofPlanes


@dataclass(frozen=True)
class Barrel:
    """A tapered half barrel's sizes, metres and radians."""

    wide_m: float
    narrow_m: float
    length_m: float
    thickness_m: float
    half_angle: float

    def mesh(self, *, pan: bool, steps: int = 8) -> Mesh:
        """One tile, axis along y from its lower end.

        A pan lies hollow up with its wide end uphill, a cover hollow down, wide end downhill.
        """
        angle = np.linspace(-self.half_angle, self.half_angle, steps + 1)
        arc = np.column_stack([np.sin(angle), np.cos(angle) * (-1.0 if pan else 1.0)])
        radii = (self.narrow_m, self.wide_m) if pan else (self.wide_m, self.narrow_m)
        sections = []
        for radius, y in zip(radii, (0.0, self.length_m), strict=True):
            ring = np.concatenate([radius * arc, (radius - self.thickness_m) * arc[::-1]])
            sections.append(np.column_stack([ring[:, 0], np.full(len(ring), y), ring[:, 1]]))
        return loft(np.array(sections))


@dataclass(frozen=True)
class BarrelLines:
    """How hips, ridges and verges are closed with barrel tiles."""

    barrel: Barrel
    exposure_m: float
    overhang_m: float
    clearance_m: float
    channel_m: float
    field_top_m: float  # crown of the field's covering above the deck
    role: str


def lay_barrel_lines(planes: RoofPlanes, how: BarrelLines) -> list[Part]:
    """Hip, ridge and verge tiles over a bed of mortar."""
    tile = how.barrel.mesh(pan=False)
    whole, cut, beds = [], [], []
    for line in roof_lines(planes):
        axis = _line_axis(line, how)
        y = along(line, how.barrel.length_m, how.exposure_m, how.overhang_m)
        frames, trimmed = lay_along(
            line, tile, at(np.zeros(len(y)), y, axis), 2.0 * how.barrel.wide_m
        )
        whole.append(frames)
        cut += trimmed
        beds.append(_bed(line, how, axis))
        if line.open_foot:
            beds.append(_plug(line, how, axis))
    parts = []
    if whole:
        parts.append(Part(("tiles", "hips and ridges"), how.role, tile, np.concatenate(whole)))
        parts.append(Part(("tiles", "mortar"), "mortar", merged(beds)))
    if cut:
        parts.append(Part(("tiles", "hips and ridges cut"), how.role, merged(cut)))
    return parts


def _line_axis(line: RoofLine, how: BarrelLines) -> float:
    """Axis of a line's tile above the deck, its feet clear of the covering beside it."""
    b = how.barrel
    lift = how.field_top_m * np.hypot(1.0, line.fall)
    sine, cosine = np.sin(b.half_angle), np.cos(b.half_angle)
    inner = [r - b.thickness_m for r in (b.wide_m, b.narrow_m)]
    least = max(lift - r * sine * line.fall - r * cosine for r in inner)
    return float(least) + how.clearance_m


def _bed(line: RoofLine, how: BarrelLines, axis_m: float) -> Mesh:
    """Mortar from the deck up into the tiles, between the cut edges of the field."""
    half = how.channel_m - 2.0 * PLAY_M
    inner = how.barrel.narrow_m - how.barrel.thickness_m - 2.0 * PLAY_M
    top = axis_m + np.sqrt(inner**2 - half**2)
    side = -half * line.fall
    outline = np.array([(-half, side), (0.0, 0.0), (half, side), (half, top), (-half, top)])
    if line.verge_side:  # a board on the deck's edge instead
        outline = np.array([(0.0, 0.0), (half, 0.0), (half, top), (0.0, top)])
        outline[:, 0] *= line.verge_side
    if line.verge_side:
        return run_along(line, outline, PLAY_M)
    if not line.open_foot:
        return run_along(line, outline, 0.0)
    # A hip's bed fills the corner out to the two edges of the deck that meet there.
    whole = run_along(line, outline, -half)
    return cut_copies(whole, np.eye(4)[None], line.eaves)


def _plug(line: RoofLine, how: BarrelLines, axis_m: float) -> Mesh:
    """Mortar that stops the mouth of the lowest tile, down to the covering beside it."""
    radius = how.barrel.wide_m - how.barrel.thickness_m - 3.0 * PLAY_M
    angle = np.linspace(-how.barrel.half_angle, how.barrel.half_angle, 13)
    arc = np.column_stack([np.sin(angle), np.cos(angle)]) * radius
    foot = (0.0, how.field_top_m * np.hypot(1.0, line.fall) - axis_m + 2.0 * PLAY_M)
    disc = prism(np.array([*arc, foot]), (0, 0.025, 0), (1.0, 0, 0), (0, 0, 1.0), 0.025)
    return disc.shifted(y_m=0.015 - how.overhang_m, z_m=axis_m).moved(line.frame)


def lay_rolls(
    planes: RoofPlanes, field_top_m: float, channel_m: float, wing_m: float, role: str = "metal"
) -> list[Part]:
    """A sheet-metal roll over each hip and ridge, wings lying over the covering beside it.

    A solid core stands on the deck between the cut edges of the field, so nothing shows
    through. Verges get a plain drip edge.
    """
    runs = []
    for line in roof_lines(planes):
        lift = field_top_m * np.hypot(1.0, line.fall) + 2.0 * PLAY_M
        half = channel_m - 2.0 * PLAY_M
        t, r, f = 0.0025, 0.02, line.fall
        if line.verge_side:
            section = np.array([(0.0, 0.0), (half, 0.0), (half, lift + t), (0.0, lift + t)])
            section[:, 0] *= line.verge_side
            runs.append(run_along(line, section, 0.0))
            continue
        angle = np.linspace(-0.35 * np.pi, 1.35 * np.pi, 13)
        roll = np.column_stack([r * np.cos(angle), r * np.sin(angle) + lift + 0.8 * r])
        right = [(half, -half * f), (half, lift - half * f), (wing_m, lift - wing_m * f)]
        right.append((wing_m, lift - wing_m * f + t))
        left = [(-x, z) for x, z in reversed(right)]
        section = np.array([(0.0, 0.0), *right, *roll, *left])
        runs.append(run_along(line, section, 2.0 * half if line.open_foot else 0.0))
    return [Part(("tiles", "hip and ridge rolls"), role, merged(runs))] if runs else []


def lay_caps(
    planes: RoofPlanes,
    field_top_m: float,
    channel_m: float,
    wing_m: float,
    length_m: float,
    exposure_m: float,
    thickness_m: float,
    role: str,
) -> list[Part]:
    """Pairs of boards or slates bent over each hip and ridge, lapping from the foot up."""
    parts: list[Part] = []
    cores, cut = [], []
    step = thickness_m + 0.001
    tilt = np.arcsin(step / exposure_m)
    c, s = np.cos(tilt), np.sin(tilt)
    turn = np.array([[1.0, 0, 0], [0, c, s], [0, -s, c]])
    for i, line in enumerate(roof_lines(planes)):
        half, f = channel_m - 2.0 * PLAY_M, line.fall
        lift = field_top_m * np.hypot(1.0, f) + 2.0 * PLAY_M
        if line.verge_side:
            continue
        wing = np.array([(-wing_m, -wing_m * f), (0.0, 0.0), (wing_m, -wing_m * f)])
        outline = np.concatenate([wing, (wing + [0.0, thickness_m])[::-1]])
        cap = prism(outline, (0.0, length_m, 0.0), (1.0, 0, 0), (0, 0, 1.0), length_m)
        y = along(line, length_m, exposure_m, 0.02)
        frames, trimmed = lay_along(
            line, cap, at(np.zeros(len(y)), y, lift + length_m * s, turn), 2.0 * wing_m
        )
        cut += trimmed
        parts.append(Part(("tiles", f"caps {i + 1}"), role, cap, frames))
        core = [(-half, -half * f), (0.0, 0.0), (half, -half * f)]
        core += [(half, lift - half * f - PLAY_M), (0.0, lift - PLAY_M)]
        core += [(-half, lift - half * f - PLAY_M)]
        cores.append(run_along(line, np.array(core), 2.0 * half if line.open_foot else 0.0))
    if cores:
        parts.append(Part(("tiles", "hip and ridge boards"), "trim", merged(cores)))
    if cut:
        parts.append(Part(("tiles", "caps cut"), role, merged(cut)))
    return [p for p in parts if p.count]

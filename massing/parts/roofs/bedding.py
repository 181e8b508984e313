"""Mortar that beds barrel tiles where they are cut along valleys, and stops their mouths."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import manifold3d
import numpy as np

from massing.geometry.booleans import mesh_of, solid_of
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.plan_polygons import INSETS_M, Hole, clipped, grown, outwards, within
from massing.geometry.solids import loft
from massing.parts.roofs.laying import PLAY_M, Bools, SlopeField, at, lies_on, sides
from massing.parts.roofs.ridges import Barrel
from massing.settingout.roof_planes import RoofPlanes

# Common practice, no source.
_BACK_M, _DEEP_M = 0.006, 0.025  # mortar behind the tiles' cut edge, and its thickness
_EAVES_M = 0.07  # clear of what stops the tiles there
_APART_M = 0.0003
_LEAST_M3 = 1e-6
_ARC_STEPS = 7


class Laid(NamedTuple):
    """How barrel tiles lie on a slope: spacing and exposure, and both axes above the deck."""

    barrel: Barrel
    spacing_m: float
    exposure_m: float
    overhang_m: float
    pan_axis_m: float
    cover_axis_m: float


def lay_bedding(
    field: SlopeField, planes: RoofPlanes, laid: Laid, tiles: Sequence[Mesh]
) -> list[Mesh]:
    """Mortar under the tiles along a slope's valleys, from the deck up into them.

    Args:
        field: the slope.
        planes: the roof it belongs to.
        laid: how its tiles lie.
        tiles: those near its valleys, which the mortar is taken out of.
    """
    bands = [ring for ring in valley_bands(field, planes) if len(ring) > 2]
    if not bands:
        return []
    plan = manifold3d.CrossSection.batch_boolean(
        [manifold3d.CrossSection([ring]) for ring in bands], manifold3d.OpType.Add
    )
    for hole in field.holes:
        plan -= manifold3d.CrossSection([hole])
    low, high = float(field.ring[:, 2].min()) - 1.0, float(field.ring[:, 2].max()) + 1.0
    region = plan.extrude(high - low).translate((0.0, 0.0, low))
    core = _core(laid)
    u, v = field.lattice(laid.spacing_m, laid.exposure_m, laid.overhang_m, 0.5)
    frames = field.frame @ at(u, v, 0.0)
    frames = frames[near(core, frames, bands, 0.0)]
    if not len(frames):
        return []
    cores = [solid_of(core.moved(frame)) for frame in frames]
    beds = manifold3d.Manifold.compose(cores) ^ region
    if tiles:
        beds -= solid_of(merged(tiles))
    return [mesh_of(b) for b in beds.decompose() if b.volume() > _LEAST_M3]


def valley_bands(field: SlopeField, planes: RoofPlanes) -> list[Floats]:
    """Plan polygons ``(k, 2)`` of the mortar along a slope's valleys, and round holes'."""
    lines = [v.line for v in planes.valleys]
    ring = field.ring[:, :2]
    bands = []
    for a, b in sides(field.ring):
        if lies_on(lines, a, b):
            inwards = np.array([a[1] - b[1], b[0] - a[0]]) / np.linalg.norm((b - a)[:2])
            start = float(inwards @ a[:2]) + INSETS_M["valley"] + _BACK_M
            bands.append(clipped(clipped(ring, inwards, start), -inwards, -start - _DEEP_M))
    for hole in planes.holes:
        bands += [within(quad, ring) for quad in _round(hole)]
    eave = ring[1] - ring[0]
    up = np.array([-eave[1], eave[0]]) / np.linalg.norm(eave)
    bands = [clipped(b, up, float(up @ ring[0]) + _EAVES_M) for b in bands if len(b) > 2]
    for normal, offset in zip(field.normals, field.offsets, strict=True):
        if normal[2] == 0.0:
            bands = [clipped(b, normal[:2], float(offset) + PLAY_M) for b in bands if len(b) > 2]
    return [b for b in bands if len(b) > 2]


def _round(hole: Hole) -> list[Floats]:
    """Strips beside the valley sides of a hole."""
    valley = np.array([side == "valley" for side in hole.sides])
    base = np.array([INSETS_M[side] for side in hole.sides])
    if not valley.any():
        return []
    inner, outer = (grown(hole.ring, base + valley * out) for out in (_BACK_M, _BACK_M + _DEEP_M))
    n = len(hole.ring)
    sides_ = [(i, (i + 1) % n) for i in np.flatnonzero(valley)]
    return [np.array([inner[i], outer[i], outer[j], inner[j]]) for i, j in sides_]


def near(mesh: Mesh, frames: Floats, bands: Sequence[Floats], margin_m: float) -> Bools:
    """Which copies of a mesh may come within ``margin_m`` of plan polygons, by its box."""
    low, high = mesh.bounds
    box = np.array(
        [(x, y, z) for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])]
    )
    reach = float(np.linalg.norm(box, axis=1).max()) + margin_m
    place = frames[:, :2, 3]
    found = np.zeros(len(frames), dtype=bool)
    for band in bands:
        least, most = band.min(axis=0), band.max(axis=0)
        beside = ((place > least - reach) & (place < most + reach)).all(axis=1)
        maybe = np.flatnonzero(beside & ~found)
        points = np.einsum("kij,nj->kni", frames[maybe, :2, :3], box)
        points += frames[maybe, None, :2, 3]
        normal = outwards(band)
        beyond = points @ normal.T - np.einsum("ij,ij->i", normal, band)
        met = (points.min(axis=1) < most + margin_m).all(axis=1)
        met &= (points.max(axis=1) > least - margin_m).all(axis=1)
        found[maybe] = met & (beyond.min(axis=1) < margin_m).all(axis=1)
    return found


def _core(laid: Laid) -> Mesh:
    """What is hollow under one cover and half of each pan beside it, over one exposure.

    It reaches to the middle of their thickness; y from the cover's lower end.
    """
    barrel = laid.barrel
    lap = barrel.length_m - laid.exposure_m
    half = laid.spacing_m / 2.0
    sections = []
    for y in (lap + _APART_M, barrel.length_m - _APART_M):
        share = y / barrel.length_m
        cover = barrel.wide_m + (barrel.narrow_m - barrel.wide_m) * share
        pan = barrel.narrow_m + (barrel.wide_m - barrel.narrow_m) * share
        cover, pan = cover - barrel.thickness_m / 2.0, pan - barrel.thickness_m / 2.0
        angle = np.linspace(0.0, barrel.half_angle, _ARC_STEPS)
        arch = np.column_stack([np.sin(angle), np.cos(angle)]) * cover + [0.0, laid.cover_axis_m]
        reach = float(arch[-1, 0])
        start = np.arcsin(np.clip((half - reach) / pan, -1.0, 1.0))
        angle = np.linspace(start, 0.0, _ARC_STEPS)
        trough = np.column_stack(
            [half - pan * np.sin(angle), laid.pan_axis_m - pan * np.cos(angle)]
        )
        trough[0, 0] += 1e-6
        trough[-1, 0] = half - _APART_M
        right = np.concatenate([arch, trough, [(half - _APART_M, PLAY_M)]])
        ring = np.concatenate([right, (right * [-1.0, 1.0])[::-1][:-1]])
        sections.append(np.column_stack([ring[:, 0], np.full(len(ring), y), ring[:, 1]]))
    return loft(np.array(sections))

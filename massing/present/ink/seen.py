"""What an orthographic eye sees of a model, ray by ray: owner, depth, normal, light.

Rays go through a grid finer than the picture, in bands, so that a large sheet does not fill the
memory. No renderer is needed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from massing.geometry.mesh import Floats, Ints
from massing.geometry.rays import Caster
from massing.parts.part import Model, Part
from massing.view.camera import Camera
from massing.view.foreground import standing_before
from massing.view.ground_line import GroundLine, ground_line

Bools = NDArray[np.bool_]
Singles = NDArray[np.float32]

_RAYS_AT_ONCE = 1_000_000
_LAP_PX = 12  # rows that bands share, more than the rims of washes reach
_FLUTED = 0.2  # of a radius: no flute is deeper, and every square pier's corner is


@dataclass(frozen=True, eq=False)
class Seen:
    """What an orthographic camera sees, one value for each ray ``(h, w)``.

    Attributes:
        depth: metres before the camera, infinite where nothing is met.
        normals: ``(h, w, 3)`` of the faces met.
        owner: index of the part, -1 for none.
        lit: in direct sun.
        height_m: ``(h, w)`` above the ground line.
        step_m: from ray to ray.
        up_m: ``(h,)`` of the rows, above the camera's own axis.
    """

    depth: Singles
    normals: Singles
    owner: Ints
    lit: Bools
    height_m: Singles
    step_m: float
    up_m: Floats


def drawable(model: Model, camera: Camera) -> tuple[list[Part], list[Part], GroundLine]:
    """What is drawn, what only throws its shadow, and where the earth is cut.

    The ground is drawn where it is seen to rise.
    """
    line = ground_line(model, camera)
    before = [p for p in standing_before(model, camera) if p.solid]
    left_out = {p.key for p in before}
    parts = [
        p
        for p in model.parts
        if p.solid and p.role not in ("grass", "walk") and p.key not in left_out
    ]
    return parts + (model.select("setting/ground") if line.seen else []), before, line


def by_bands(
    camera: Camera,
    fineness: int,
    seen: Callable[[range], Seen],
    made: Callable[[Seen], Singles],
) -> Singles:
    """What ``made`` makes of the fine grid ``(h, w, c)``, averaged to the camera's pixels.

    Band by band, or the fine grid of a large sheet would fill the memory.
    """
    done = []
    rows = max(16, _RAYS_AT_ONCE // (camera.width_px * fineness**2))
    lap = _LAP_PX * fineness
    for top in range(0, camera.height_px, rows):
        band = range(top, min(top + rows, camera.height_px))
        fine = range(
            max(0, band.start * fineness - lap),
            min(camera.height_px * fineness, band.stop * fineness + lap),
        )
        sheet = made(seen(fine))
        first = band.start * fineness - fine.start
        kept = sheet[first : first + len(band) * fineness]
        small = kept.reshape(len(band), fineness, camera.width_px, fineness, -1)
        done.append(small.mean(axis=(1, 3)))
    return np.concatenate(done)


def look(
    caster: Caster,
    camera: Camera,
    sun: Floats | None,
    fineness: int,
    rows: range | None = None,
    line: GroundLine | None = None,
    *,
    shading: Caster | None = None,
    rounds: Mapping[int, Floats] | None = None,
) -> Seen:
    """Rays through a grid ``fineness`` times as fine as the camera's pixels, or some rows of it.

    Without a ``sun`` nothing is lit; without a ``line`` the ground is level. ``shading`` throws
    the shadows, by default what is seen. ``rounds`` are upright round parts, by their index, with
    their axes ``(k, 2)`` in plan: they have the normals of a cylinder, whatever faces or flutes
    they are made of.
    """
    wide, tall = camera.width_px * fineness, camera.height_px * fineness
    rows = range(tall) if rows is None else rows
    step = camera.metres_per_pixel / fineness
    right, up, forward = camera.axes
    u = np.asarray((np.arange(wide) + 0.5 - wide / 2.0) * step, dtype=float)
    u += camera.shift_x * camera.ortho_width_m
    v: Floats = (tall / 2.0 - np.array(rows) - 0.5) * step + camera.shift_y * camera.ortho_width_m
    across, rise = np.meshgrid(u, v)
    origins = np.asarray(camera.position_m) + across.reshape(-1, 1) * right
    origins += rise.reshape(-1, 1) * up
    line = line or GroundLine(camera)
    origins += line.from_m * forward
    hits = caster.first_hit(origins, forward)
    met = hits.owner >= 0
    depth = np.where(met, (hits.points - origins) @ forward, np.inf)
    facing = np.where((hits.normals @ forward < 0.0)[:, None], hits.normals, -hits.normals)
    lit = np.zeros(len(met), dtype=np.bool_)
    if sun is not None:
        lit[met] = (shading or caster).lit(hits.points[met], facing[met], sun)
    for owner, axes in (rounds or {}).items():
        of = hits.owner == owner
        facing[of] = _from_the_axis(hits.points[of], axes, facing[of])
    shape = across.shape
    return Seen(
        depth.astype(np.float32).reshape(shape),
        np.nan_to_num(facing).astype(np.float32).reshape(*shape, 3),
        hits.owner.reshape(shape),
        lit.reshape(shape),
        (camera.position_m[2] + v[:, None] - line.heights_m(u)).astype(np.float32),
        step,
        v,
    )


def _from_the_axis(points: Floats, axes: Floats, flat: Floats) -> Floats:
    """Level normals ``(k, 3)`` away from the nearest of some upright axes; ends stay ``flat``."""
    away = points[:, None, :2] - axes[None]
    nearest = away[np.arange(len(points)), np.linalg.norm(away, axis=2).argmin(axis=1)]
    size = np.linalg.norm(nearest, axis=1)
    made = np.column_stack([nearest / np.maximum(size, 1e-9)[:, None], np.zeros(len(points))])
    ends = (np.abs(flat[:, 2]) > 0.7) | (size < 1e-9)
    return np.where(ends[:, None], flat, made)


def round_shafts(parts: list[Part]) -> dict[int, Floats]:
    """Shafts that are round, fluted or not, by their index with their axes ``(k, 2)``."""
    found = {}
    for i, part in enumerate(parts):
        if part.path[-1] != "shaft":
            continue
        middle = part.mesh.vertices.mean(axis=0)
        height = part.mesh.vertices[:, 2]
        level = np.abs(height - height[np.abs(height - middle[2]).argmin()]) < 1e-4
        ring = np.unique(np.round(part.mesh.vertices[level, :2] - middle[:2], 5), axis=0)
        radius = np.linalg.norm(ring, axis=1)
        radius = radius[radius > 0.5 * radius.max()]  # without the middle of an end
        if len(radius) < 12 or np.ptp(radius) > _FLUTED * radius.max():
            continue
        frames = np.eye(4)[None] if part.placements is None else part.placements
        found[i] = (frames @ np.append(middle, 1.0))[:, :2]
    return found

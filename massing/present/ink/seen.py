"""What an orthographic camera sees of a model, ray by ray."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from massing.geometry.mesh import Floats, Ints
from massing.geometry.rays import Caster
from massing.parts.part import Part
from massing.view.camera import Camera
from massing.view.ground_line import GroundLine

Bools = NDArray[np.bool_]

Singles = NDArray[np.float32]


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


def look(
    caster: Caster,
    camera: Camera,
    sun: Floats | None,
    fineness: int,
    rows: range | None = None,
    line: GroundLine | None = None,
    *,
    shading: Caster | None = None,
    crowns: Mapping[int, tuple[Floats, Floats]] | None = None,
) -> Seen:
    """Rays through a grid ``fineness`` times as fine as the camera's pixels, or some rows of it.

    Without a ``sun`` nothing is lit; without a ``line`` the ground is level. ``shading`` throws
    the shadows, by default what is seen. ``crowns`` are parts, by their index, that are shaded
    as the egg of a centre and half axes: a tree is light on one side, not leaf by leaf.
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
        for owner, (centre, half) in (crowns or {}).items():
            crown = hits.owner == owner
            facing[crown] = _on_an_egg(hits.points[crown] - centre, half, camera.axes)
            lit[crown] = facing[crown] @ sun > 0.0
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


def _on_an_egg(offsets: Floats, half: Floats, axes: Floats) -> Floats:
    """Normals ``(k, 3)`` of the egg of half axes ``half`` where it is seen at ``offsets`` from
    its centre; outside its outline those of the outline."""
    reach = np.abs(axes) @ half
    film = offsets @ axes[:2].T / reach[:2]
    radius = np.hypot(*film.T)
    film /= np.maximum(radius, 1.0)[:, None]
    out = -np.sqrt(1.0 - np.minimum(radius, 1.0) ** 2)
    normals = np.column_stack([film, out]) / reach @ axes
    return normals / np.linalg.norm(normals, axis=1)[:, None]


def highest(camera: Camera) -> float:
    """Height of the picture's upper edge above the ground, metres."""
    half = 0.5 * camera.height_px * camera.metres_per_pixel
    return float(camera.position_m[2] + camera.shift_y * camera.ortho_width_m + half)


def of_roles(seen: Seen, parts: list[Part], roles: tuple[str, ...]) -> Bools:
    table = np.array([*(part.role.split("/")[0] in roles for part in parts), False])
    return table[seen.owner]

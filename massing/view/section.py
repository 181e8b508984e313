"""A model cut by a plane, for sections: what lies behind stays, the cut faces show."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.booleans import cut_copies
from massing.geometry.mesh import Floats, Mesh
from massing.parts.part import Model, Part

CUT_ROLE = "cut"
_ON_PLANE_M = 1e-7


def cut_model(model: Model, normal: ArrayLike, offset_m: float) -> Model:
    """The part of a model where ``normal . p >= offset_m``.

    Args:
        normal: ``(3,)`` unit vector towards what is kept.
        offset_m: the plane's distance from the origin along it, metres.

    Returns:
        Whole parts as they were, cut ones closed by a sheet of role ``cut`` named after
        them. Open sheets, such as the ground, are left whole.
    """
    direction = np.asarray(normal, dtype=float)
    parts: list[Part] = []
    for part in model.parts:
        parts += _cut_part(part, direction, offset_m) if part.solid else [part]
    return replace(model, parts=tuple(parts))


def _cut_part(part: Part, normal: Floats, offset_m: float) -> list[Part]:
    frames = np.eye(4)[None] if part.placements is None else part.placements
    reach = part.mesh.vertices @ (frames[:, :3, :3].transpose(0, 2, 1) @ normal).T
    reach = reach + (frames[:, :3, 3] @ normal - offset_m)
    whole, gone = reach.min(axis=0) >= 0.0, reach.max(axis=0) <= 0.0
    if whole.all():
        return [part]
    made = []
    if whole.any():
        made.append(replace(part, placements=frames[whole]))
    for i in np.flatnonzero(~whole & ~gone):
        mesh = cut_copies(part.mesh, frames[i][None], [(normal, offset_m)])
        on_plane = np.abs(mesh.vertices @ normal - offset_m) < _ON_PLANE_M
        cap = on_plane[mesh.faces].all(axis=1)
        made += [
            Part(path, role, Mesh(mesh.vertices, mesh.faces[chosen]), None, solid=False)
            for path, role, chosen in (
                (part.path, part.role, ~cap),
                ((*part.path[:-1], f"{part.path[-1]} cut"), _cut_role(part), cap),
            )
            if chosen.any()
        ]
    return made


def _cut_role(part: Part) -> str:
    """The core stands for rooms not drawn, so its cut is no section through a wall."""
    return (
        part.role
        if part.within("house", "interior") and part.path[2].startswith("core")
        else CUT_ROLE
    )

"""What the house stands on: the ground, and a walk to the steps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from massing.design.site import GROUND_REACH_M, LEVEL, GroundDesign
from massing.geometry.mesh import Mesh
from massing.geometry.solids import box_between, translations
from massing.parts.part import Model, Part

_REACH_M = 4000.0
_WALK_M = 0.02
EMBEDDED_M = 0.15  # a foot under the lowest ground it meets: so that none shows
_TOUCH_M = 1e-6


def ground(lie: GroundDesign = LEVEL) -> Part:
    """A sheet through the origin that reaches past the eye's horizon; open, not a solid.

    Level it is one rectangle, else nine: the slope goes on for ``GROUND_REACH_M`` each way, and
    the ground is level in that direction past it.
    """
    r = _REACH_M
    if lie.level:
        corners = np.array([[-r, -r, 0.0], [r, -r, 0.0], [r, r, 0.0], [-r, r, 0.0]])
        faces = np.array([[0, 1, 2], [0, 2, 3]])
        return Part(("setting", "ground"), "grass", Mesh(corners, faces), solid=False)
    at = np.array([-r, -GROUND_REACH_M, GROUND_REACH_M, r])
    y, x = (grid.ravel() for grid in np.meshgrid(at, at, indexing="ij"))
    corners = np.column_stack([x, y, lie.z_m(x, y)])
    first = (4 * np.arange(3)[:, None] + np.arange(3)).ravel()
    faces = np.concatenate(
        [
            np.column_stack([first, first + 1, first + 5]),
            np.column_stack([first, first + 5, first + 4]),
        ]
    )
    return Part(("setting", "ground"), "grass", Mesh(corners, faces), solid=False)


def lie_of(model: Model) -> GroundDesign:
    """The lie of a model's ground, read from its sheet; level where it has none."""
    sheets = model.select("setting/ground")
    if not sheets or len(sheets[0].mesh.vertices) < 16:
        return LEVEL
    z = sheets[0].mesh.vertices[:, 2].reshape(4, 4)
    span = 2.0 * GROUND_REACH_M
    return GroundDesign(float(z[1, 2] - z[1, 1]) / span, float(z[2, 1] - z[1, 1]) / span)


def laid(part: Part, lie: GroundDesign) -> Part:
    """What lies on level ground, laid on the slope and sheared with it: a walk, a hedge."""
    if lie.level:
        return part
    x, y, z = part.mesh.vertices.T
    return replace(part, mesh=Mesh(np.column_stack([x, y, z + lie.z_m(x, y)]), part.mesh.faces))


def stood(parts: Sequence[Part], lie: GroundDesign, at_m: tuple[float, float]) -> list[Part]:
    """What stands upright on level ground, moved up or down to the ground at a place.

    What has a foot there is taken down to the lowest ground under it, and a little into it.
    """
    if lie.level:
        return list(parts)
    z = float(lie.z_m(*at_m))
    up = translations([(0.0, 0.0, z)])[0]
    return rooted([p.moved(up) for p in parts], lie, [z])


def rooted(parts: Sequence[Part], lie: GroundDesign, feet_z_m: Sequence[float]) -> list[Part]:
    """Parts whose lowest points, where they lie at one of some heights, go down into the ground.

    All go to one depth, ``EMBEDDED_M`` under the lowest ground that any of them meets. The
    others are returned as they are.
    """
    if lie.level:
        return list(parts)
    feet = np.asarray(feet_z_m, dtype=float)
    standing: dict[int, tuple[Mesh, NDArray[np.bool_]]] = {}
    for i, part in enumerate(parts):
        if not part.solid or part.placements is not None:
            continue
        z = part.mesh.vertices[:, 2]
        if np.abs(feet - z.min()).min() < _TOUCH_M:
            standing[i] = part.mesh, z < z.min() + _TOUCH_M
    if not standing:
        return list(parts)
    lowest = min(
        float(lie.z_m(mesh.vertices[foot, 0], mesh.vertices[foot, 1]).min())
        for mesh, foot in standing.values()
    )
    made = list(parts)
    for i, (mesh, foot) in standing.items():
        vertices = mesh.vertices.copy()
        vertices[foot, 2] = np.minimum(vertices[foot, 2], lowest) - EMBEDDED_M
        made[i] = replace(parts[i], mesh=Mesh(vertices, mesh.faces))
    return made


def walk(width_m: float, from_y_m: float, length_m: float) -> Part:
    """A straight walk about x = 0, away from the house from ``from_y_m``, lying on the ground."""
    half = width_m / 2.0
    mesh = box_between((-half, from_y_m - length_m, 0.0), (half, from_y_m, _WALK_M))
    return Part(("setting", "walk"), "walk", mesh)

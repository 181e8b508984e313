"""Copies of a part, for formats that can turn and move a mesh but not stretch or mirror it."""

from __future__ import annotations

import numpy as np

from massing.geometry.mesh import Copied, Floats, Mesh, merged

_MIRROR = np.diag([-1.0, 1.0, 1.0, 1.0])


def rigid_groups(part: Copied) -> list[tuple[str, Mesh, Floats | None]]:
    """Placements sorted into turned copies, mirrored copies and the rest.

    Where copies can only be turned and moved, a mirroring placement gets a mirrored mesh, and
    stretching ones are laid out as one mesh of their own (frames None), as is a part without
    placements.

    Returns:
        For each group the end of its name, its mesh, and its frames ``(k, 4, 4)`` or None.
    """
    frames = part.placements
    if frames is None:
        return [("", part.mesh, None)]
    axes = frames[:, :3, :3]
    rigid = np.abs(np.einsum("kji,kjl->kil", axes, axes) - np.eye(3)).max(axis=(1, 2)) < 1e-6
    mirrored = np.linalg.det(axes) < 0.0
    groups: list[tuple[str, Mesh, Floats | None]] = []
    if (rigid & ~mirrored).any():
        groups.append(("", part.mesh, frames[rigid & ~mirrored]))
    if (rigid & mirrored).any():
        groups.append((" mirrored", part.mesh.moved(_MIRROR), frames[rigid & mirrored] @ _MIRROR))
    if (~rigid).any():
        groups.append((" fitted", merged(part.mesh.moved(f) for f in frames[~rigid]), None))
    return groups

"""What the viewer is handed: finishes, views and the models, so that it keeps no rule itself."""

from __future__ import annotations

import gzip
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from massing.design.site import LEVEL, GroundDesign
from massing.parts.part import Model
from massing.practice.finishes import CLAY_FINISHES, FINISHES, Finish
from massing.present.models.gltf import glb
from massing.view.camera import SENSOR_WIDTH_MM, Camera
from massing.view.cameras import camera_for
from massing.view.foreground import standing_before

NEARER = 0.9  # a page has less room for sky than a picture
VIEWS = ("elevation", "street", "close-up", "walk", "roof")


def finishes_json() -> dict[str, dict[str, dict[str, Any]]]:
    """The finishes of each look by role: linear ``colour``, and how ``uneven`` pieces are."""
    return {"clay": _table(CLAY_FINISHES), "materials": _table(FINISHES)}


def _table(finishes: Mapping[str, Finish]) -> dict[str, dict[str, Any]]:
    return {
        role: {"colour": [round(c, 4) for c in finish.colour], "uneven": finish.uneven}
        for role, finish in finishes.items()
    }


def views_json(
    bounds_m: ArrayLike,
    focus: Mapping[str, ArrayLike],
    names: Sequence[str] = VIEWS,
    ground: GroundDesign = LEVEL,
    models: Sequence[Model] = (),
) -> dict[str, dict[str, Any]]:
    """The named views as the viewer takes them, framed as the pictures are.

    Args:
        focus: as for :func:`massing.view.cameras.camera_for`.
        models: what an elevation leaves out of them, since it stands before the building, is
            named in its ``hides``.
    """
    centre = np.asarray(bounds_m, dtype=float).mean(axis=0)
    cameras = {name: camera_for(name, bounds_m, focus=focus, ground=ground) for name in names}
    return {
        name: {
            **_view(camera, centre),
            "hides": sorted({p.key for model in models for p in standing_before(model, camera)}),
        }
        for name, camera in cameras.items()
    }


def _view(camera: Camera, centre: np.ndarray) -> dict[str, Any]:
    """A camera and what it is turned about; in perspective its lens keeps its shift, so that
    uprights stay upright."""
    right, up, forward = camera.axes
    stand = np.asarray(camera.position_m)
    if camera.kind == "ortho":
        stand = stand + camera.ortho_width_m * (camera.shift_x * right + camera.shift_y * up)
        across, shift = camera.ortho_width_m, (0.0, 0.0)
    else:
        frame = SENSOR_WIDTH_MM / camera.focal_mm
        across = 2.0 * float(np.arctan(NEARER * frame / 2.0))
        shift = (frame * camera.shift_x, frame * camera.shift_y)
    distance = max(float((centre - stand) @ forward), 2.0)
    target = stand + distance * forward
    return {
        "kind": camera.kind,
        "position": [round(float(v), 4) for v in stand],
        "target": [round(float(v), 4) for v in target],
        "across": round(float(across), 5),
        "shift": [round(float(v), 5) for v in shift],
        "aspect": round(camera.width_px / camera.height_px, 4),
    }


def packed_models(models: Sequence[Model]) -> bytes:
    """All models as one gzipped glTF, small enough to be mailed."""
    return gzip.compress(glb(models, compact=True), 9, mtime=0)

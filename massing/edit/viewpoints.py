"""A view of one's own, from where an eye stands in any face, as the scene file says it."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from massing.units import format_length

_STEP_M = {"feet": 0.0254, "metric": 0.01}
_NEAR_M = 5.0


def camera_entry(
    name: str, eye_m: ArrayLike, look: ArrayLike, lens_mm: float, units: str
) -> dict[str, Any]:
    """An entry of the scene's ``cameras`` for an eye ``(3,)`` that looks along ``look`` ``(3,)``.

    It looks level, so that upright lines stay upright: ``look_at`` is on the wall's face where
    the eye looks at it, else a few metres on. Lengths are on whole inches or centimetres.

    >>> entry = camera_entry("From the gate", (3.0, -12.0, 1.6), (-0.1, 1.0, 0.1), 35.0, "metric")
    >>> entry["stand"]["before"], entry["look_at"]["along"], entry["lens"]
    ('12.000 m', '1.800 m', '35 mm')

    Raises:
        ValueError: it looks straight up or down.
    """
    eye, way = np.asarray(eye_m, dtype=float), np.asarray(look, dtype=float)
    level = float(np.hypot(way[0], way[1]))
    if level < 0.05 * float(np.linalg.norm(way)):
        raise ValueError("given a view straight up or down, allowed: one that looks to a side")
    far = -eye[1] / way[1] if way[1] * -eye[1] > 0.0 else 0.0  # to the wall's face
    if far * level < _NEAR_M:
        far = _NEAR_M / level
    at = eye + far * way
    return {
        "name": name,
        "stand": _spot(eye, units),
        "look_at": _spot(at, units),
        "lens": f"{round(lens_mm)} mm",
    }


def _spot(point: np.ndarray, units: str) -> dict[str, str]:
    step = _STEP_M[units]
    x, y, z = np.round(point / step) * step
    written = {"along": x, "before": -y, "height": max(z, 0.0)}
    return {field: format_length(float(size) + 0.0, units) for field, size in written.items()}

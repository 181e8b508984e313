"""Blocking courses: a plain course over a cornice, in the plane of the frieze."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.solids import sweep
from massing.parts.part import Part

WASH = 1.0 / 12.0  # fall over run of its top: common practice


def blocking_course(
    path: ArrayLike, height_m: float, depth_m: float, *, weathered: bool = True
) -> list[Part]:
    """A course along a path, standing on z = 0.

    Args:
        path: ``(k, 2)`` plan points of its face, metres; outwards is to the right.
        height_m: at its back, where it is highest.
        depth_m: from the face back.
        weathered: the top falls outwards; level where a balustrade stands on it.

    Raises:
        ValueError: a size is not positive, or the top would fall to nothing.
    """
    front = height_m - (WASH * depth_m if weathered else 0.0)
    if not (height_m > 0.0 and depth_m > 0.0 and front > 0.0):
        raise ValueError(f"a course {height_m:.3f} m high and {depth_m:.3f} m deep has no face")
    section = [(-depth_m, 0.0), (0.0, 0.0), (0.0, front), (-depth_m, height_m)]
    return [Part(("blocking course",), "order", sweep(np.array(section), path))]

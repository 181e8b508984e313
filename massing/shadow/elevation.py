"""The front as an elevation shows it, and which of its points a sun leaves in shadow."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats, Ints
from massing.geometry.rays import Bools, Caster
from massing.parts.part import Part
from massing.shadow.surfaces import INTO_HOUSE

# --- the elevation -------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class Elevation:
    """The front as seen square on: for each point of a grid, the face met there.

    Attributes:
        x_m: ``(w,)`` to the right; ``z_m``: ``(h,)`` downwards from the top row.
        points, normals: ``(h, w, 3)``, NaN where there is only sky.
        owner: ``(h, w)`` index into ``parts``, -1 for sky.
        parts: the caster's.
    """

    x_m: Floats
    z_m: Floats
    points: Floats
    normals: Floats
    owner: Ints
    parts: tuple[Part, ...]

    def of(self, passes: Callable[[Part], bool]) -> Bools:
        """``(h, w)``: whether the part met there passes."""
        table = np.array([*(passes(part) for part in self.parts), False])
        return table[self.owner]


def see_elevation(
    caster: Caster[Part], x_m: ArrayLike, z_m: ArrayLike, from_y: float = -60.0
) -> Elevation:
    """Look at the front square on at every ``x_m`` ``(w,)`` and ``z_m`` ``(h,)``."""
    x_m, z_m = np.asarray(x_m, dtype=float), np.asarray(z_m, dtype=float)
    z, x = np.meshgrid(z_m, x_m, indexing="ij")
    origins = np.column_stack([x.ravel(), np.full(x.size, from_y), z.ravel()])
    hits = caster.first_hit(origins, INTO_HOUSE)
    return Elevation(
        x_m,
        z_m,
        hits.points.reshape(*x.shape, 3),
        hits.normals.reshape(*x.shape, 3),
        hits.owner.reshape(x.shape),
        caster.parts,
    )


def shadow_mask(caster: Caster[Part], elevation: Elevation, to_sun: ArrayLike) -> Bools:
    """Which points of the elevation are in direct sun, ``(h, w)``; sky is False."""
    met = elevation.owner >= 0
    lit = np.zeros(met.shape, dtype=bool)
    lit[met] = caster.lit(elevation.points[met], elevation.normals[met], to_sun)
    return lit


def facade_only(part: Part) -> bool:
    """Whether a part belongs to the front that a designer asks about: no roof, no setting."""
    return "roof" not in part.path and not part.within("setting")

"""Sheet metal in pans with standing seams, eave to ridge."""

from __future__ import annotations

import numpy as np

from massing.geometry.booleans import cut_copies
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between
from massing.parts.part import Part
from massing.parts.roofs.flashings import lay_flashings
from massing.parts.roofs.laying import PLAY_M, SlopeField, at, without_holes
from massing.parts.roofs.ridges import lay_rolls
from massing.parts.roofs.saddles import lay_saddles
from massing.practice.coverings import Covering
from massing.settingout.roof_planes import RoofPlanes

_CHANNEL_M = 0.02
_SEAM_WIDTH_M = 0.0127  # half an inch, folded twice: practice


def lay_seams(planes: RoofPlanes, covering: Covering) -> list[Part]:
    """Cover every slope with metal pans, and hips and ridges with a roll.

    Raises:
        ValueError: the covering is not laid in pans.
    """
    if covering.kind != "seam":
        raise ValueError(f"{covering.name!r} is not laid in pans")
    sheets: list[Mesh] = []
    cut: list[Mesh] = []
    for ring in planes.slopes:
        field = SlopeField.of(ring, planes, _CHANNEL_M, _CHANNEL_M)
        points = field.local
        low, high = points.min(axis=0), points.max(axis=0)
        foot, thick = -covering.overhang_m, covering.thickness_m
        sheet = box_between((low[0] - 0.1, foot, 0.0), (high[0] + 0.1, high[1] + 0.1, thick))
        sheet = cut_copies(sheet, field.frame[None], field.planes())
        sheets.append(without_holes(sheet, field.holes))
        half = _SEAM_WIDTH_M / 2.0
        top = thick + covering.seam_m
        seam = box_between((-half, foot, thick), (half, high[1] + 0.1, top))
        _, trimmed = field.lay(seam, at(*_seams(points, covering.spacing_m), 0.0))
        cut += trimmed
    top = covering.thickness_m + covering.seam_m + PLAY_M
    stop, roll_m = 0.9 * covering.ridge_width_m, covering.ridge_width_m / 2.0
    return [
        Part(("tiles", "pans"), covering.role, merged(sheets)),
        Part(("tiles", "seams"), covering.role, merged(cut)),
        *lay_rolls(planes, top, _CHANNEL_M, covering.ridge_width_m / 2.0, covering.role),
        *lay_flashings(planes, top, stop, under_m=0.0),
        *lay_saddles(planes, top, stop, roll_m),
    ]


def _seams(points: Floats, spacing_m: float) -> tuple[Floats, Floats]:
    """Places of the seams along the eave, about its middle."""
    low, high = points[:, 0].min(), points[:, 0].max()
    middle = points[1, 0] / 2.0
    reach = int(np.ceil((high - low) / spacing_m / 2.0)) + 1
    u = middle + spacing_m * (np.arange(-reach, reach) + 0.5)
    return u, np.zeros_like(u)

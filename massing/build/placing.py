"""What house and porch share in being put together: names, heights, outlines, coverings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from massing.canon import FittedOrder
from massing.design.house import HouseDesign
from massing.design.roof import RoofDesign
from massing.geometry.mesh import Floats
from massing.geometry.solids import translations
from massing.parts.orders.entablature import entablature
from massing.parts.orders.pediment import pediment
from massing.parts.part import Part
from massing.parts.roofs.seam import lay_seams
from massing.parts.roofs.slates import lay_plates
from massing.parts.roofs.tiles import lay_tiles
from massing.practice.coverings import covering
from massing.settingout.eaves import EAVES_EDGE_M as EAVES_EDGE_M
from massing.settingout.eaves import eaves_reach as eaves_reach
from massing.settingout.roof_planes import RoofPlanes

_LAY = {"barrel": lay_tiles, "plate": lay_plates, "seam": lay_seams}


def raised(parts: list[Part], z_m: float) -> list[Part]:
    """The parts lifted by ``z_m``."""
    return [p.moved(translations([(0.0, 0.0, z_m)])[0]) for p in parts]


def pedimented(
    order: FittedOrder,
    path: Floats,
    slope: float,
    *,
    back_m: float,
    front_back_m: float | None = None,
    column_axes: Floats | None = None,
    groups: Sequence[str] = ("architrave", "frieze"),
    before: Floats | None = None,
    after: Floats | None = None,
) -> list[Part]:
    """An entablature whose front cornice is a pediment, its side cornices mitred to it.

    ``path`` ``(k, 2)`` runs from the wall's left round the front, its middle stretch, to its
    right, z = 0 at the soffit; ``front_back_m`` is the pediment's depth where it differs.
    ``before`` and ``after`` are points of the runs that it comes from and goes on to, if any.
    """
    half = len(path) // 2
    left, right = path[half - 1], path[half]
    kept: dict[str, Any] = {"column_axes": column_axes, "back_m": back_m}
    foot_m = order.entablature_height_m - order.cornice_height_m
    parts = entablature(order, path, groups=groups, before=before, after=after, **kept)
    for run, start, end in ((path[:half], before, right), (path[half:], left, after)):
        parts += entablature(order, run, groups=("cornice",), before=start, after=end, **kept)
    front = pediment(
        order.cornice, float(right[0] - left[0]), back_m=front_back_m or back_m, slope=slope
    )
    at = translations([((left[0] + right[0]) / 2.0, left[1], foot_m)])[0]
    return [*parts, *(p.moved(at) for p in front)]


def house_outline(house: HouseDesign, out_m: float) -> Floats:
    """The house's plan, ``out_m`` before its walls, from the back left corner round the front."""
    x, back = house.width_m / 2.0 + out_m, house.depth_m + out_m
    return np.array([(-x, back), (-x, -out_m), (x, -out_m), (x, back)])


def covered(body: list[Part], planes: RoofPlanes, roof: RoofDesign) -> list[Part]:
    """A roof's deck with its covering laid; a plain covering is the deck itself, in grey felt.

    Where the roof is not to be laid the deck is left as it is.
    """
    if roof.covering == "plain":
        return [replace(p, role="roofing") if p.path == ("deck",) else p for p in body]
    if not roof.laid:
        return list(body)
    chosen = covering(roof.covering)
    return [*body, *_LAY[chosen.kind](planes, chosen)]

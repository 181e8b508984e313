"""Where the main roof's gutters and downspouts run."""

from __future__ import annotations

import numpy as np

from massing.build.dormers import clear_of
from massing.build.placing import house_outline
from massing.canon.mouldings import stack
from massing.design.house import HouseDesign
from massing.design.roof import RoofDesign
from massing.geometry.mesh import Floats
from massing.geometry.plan_polygons import Hole
from massing.geometry.solids import translations
from massing.parts.part import Part
from massing.parts.roofs.gutter import downspout, gutters, outlet
from massing.parts.walls.wall import wall_frame
from massing.practice.coverings import covering
from massing.settingout.eaves import EAVES_EDGE_M, eaves_reach
from massing.settingout.main_roof import deck_sinks_m
from massing.settingout.porch import FRIEZE_BOARD_M

# Common practice, no source.
BEFORE_WALL_M = 0.045  # a pipe's back, clear of facings, quoins and the water table
_UNDER_DRIP_M = 0.012  # the trough's rim under the covering's drip


def drainage(house: HouseDesign, roof: RoofDesign, gable: Hole | None = None) -> list[Part]:
    """Gutters along the eaves, all round under a hip, and the pipes that take them down.

    Before a ``gable`` that runs back into the front slope they are left out, their ends stopped.

    Raises:
        ValueError: a pipe does not fit under the cornice.
    """
    hung = roof.gutter
    if hung is None:
        return []
    drip = 0.0 if roof.covering == "plain" else covering(roof.covering).overhang_m
    rim_z = house.wall_top_z_m + EAVES_EDGE_M - roof.eaves_slope * drip - _UNDER_DRIP_M
    rim_z -= deck_sinks_m(roof)
    reach = eaves_reach(house, roof)
    parts = gutters(
        hung.kind,
        _runs(house_outline(house, reach), roof.hipped, gable),
        closed=roof.hipped and gable is None,
        rim_z_m=rim_z,
        width_m=hung.width_m,
        spacing_m=hung.bracket_spacing_m,
        role=_ROLES[hung.metal],
    )
    out, deep = outlet(hung.kind, hung.width_m)
    radius = hung.downspout_m / 2.0
    foot_z = house.wall_top_z_m - house.cornice.height_m
    line = stack(house.cornice.members, foot_z) + [FRIEZE_BOARD_M, 0.0]
    grounds = hung.downspout_feet_m
    for ground_z in dict.fromkeys(grounds):
        pipes = downspout(
            (reach + out, rim_z - deep),
            BEFORE_WALL_M + radius,
            line,
            radius,
            _ROLES[hung.metal],
            ground_z,
        )
        frames = [
            wall_frame(house, wall) @ translations([(along, 0.0, 0.0)])[0]
            for (wall, along), z in zip(hung.downspouts, grounds, strict=True)
            if z == ground_z
        ]
        down = [p.placed(np.array(frames)) for p in pipes]
        parts += clear_of(down, gable) if gable else down
    return parts


def _runs(ring: Floats, hipped: bool, gable: Hole | None) -> list[Floats]:
    """Ways of the gutters; ``ring`` ``(4, 2)`` is the eaves' outline from the back left corner."""
    if gable is None:
        return [ring] if hipped else [ring[1:3], ring[[3, 0]]]
    y = ring[1, 1]
    left, right = (np.array([(x, y)]) for x in (gable.ring[:, 0].min(), gable.ring[:, 0].max()))
    if hipped:
        return [np.concatenate([right, ring[2:], ring[:2], left])]
    return [np.concatenate([ring[1:2], left]), np.concatenate([right, ring[2:3]]), ring[[3, 0]]]


_ROLES = {"copper": "copper", "painted": "trim"}

"""Where the main roof's gutters and downspouts run."""

from __future__ import annotations

from collections.abc import Sequence

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


def drainage(house: HouseDesign, roof: RoofDesign, gables: Sequence[Hole] = ()) -> list[Part]:
    """Gutters along the eaves, all round under a hip, and the pipes that take them down.

    Before ``gables`` that run back into the main slopes they are left out, their ends stopped.

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
        _runs(house_outline(house, reach), roof.hipped, gables),
        closed=roof.hipped and not gables,
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
        for gable in gables:
            down = clear_of(down, gable)
        parts += down
    return parts


def _runs(ring: Floats, hipped: bool, gables: Sequence[Hole]) -> list[Floats]:
    """Ways of the gutters; ``ring`` ``(4, 2)`` is the eaves' outline from the back left corner."""
    if not gables:
        return [ring] if hipped else [ring[1:3], ring[[3, 0]]]
    back_left, left, right, back_right = ring
    front = _between(left, right, [g for g in gables if g.ring[:, 1].min() < left[1]])
    back = _between(
        back_right, back_left, [g for g in gables if g.ring[:, 1].max() > back_right[1]]
    )
    if not hipped:
        return [*front, *back]
    # Round the right corners, then round the left ones.
    if len(back) == 1:
        whole = [np.concatenate([front[-1], back[0], front[0]])]
        return [*whole, *front[1:-1]]
    if len(front) == 1:
        return [np.concatenate([back[-1], front[0], back[0]]), *back[1:-1]]
    by_right = np.concatenate([front[-1], back[0]])
    return [by_right, np.concatenate([back[-1], front[0]]), *front[1:-1], *back[1:-1]]


def _between(start: Floats, end: Floats, gables: Sequence[Hole]) -> list[Floats]:
    """A line of eaves along x less what gables stand on."""
    sign = 1.0 if end[0] > start[0] else -1.0
    spans = sorted(tuple(sorted(sign * g.ring[:, 0])[:: len(g.ring) - 1]) for g in gables)
    x = [sign * start[0], *(at for span in spans for at in span), sign * end[0]]
    return [
        np.array([(sign * a, start[1]), (sign * b, start[1])])
        for a, b in zip(x[::2], x[1::2], strict=True)
    ]


_ROLES = {"copper": "copper", "painted": "trim"}

"""Doorways, put together: joinery, the order about them, landing and steps.

Everything is in the opening's own frame: x right as seen from outside, y into the wall, z up,
origin at the middle of the opening's foot on the wall's outer face.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from massing.build.placing import pedimented, raised
from massing.canon import FittedOrder
from massing.canon.arcades import impost_members
from massing.canon.mouldings import stack
from massing.design.arcade import ArchBay
from massing.design.opening import DoorOpening, Opening, SurroundDesign
from massing.geometry.mesh import merged
from massing.geometry.solids import box_between, offset_directions, prism, translations
from massing.parts.floors.porch_floor import landing
from massing.parts.floors.steps import steps
from massing.parts.openings.door import door
from massing.parts.openings.head import KINDS as SPANNED
from massing.parts.openings.head import head
from massing.parts.openings.joinery import scribed_block
from massing.parts.orders.arcade import arch_about
from massing.parts.orders.column import engaged_column
from massing.parts.orders.entablature import entablature
from massing.parts.orders.pilaster import pilaster
from massing.parts.part import Part, under
from massing.practice.joinery_sizes import (
    CASING_PROJECTION_M,
    CHEEK_WIDTH_M,
    SURROUND_BOARD_M,
    joinery_size,
)
from massing.settingout.doorways import archivolt_over
from massing.settingout.wall_faces import Cut, CutShape

_BOARD_BESIDE_M = joinery_size("casing.surround_board")
_HOUSED_M = 0.002
_LEAD_M = 0.004
_LEAD_FALL = 1.0 / 12.0
_ENGAGED: dict[str, Callable[[FittedOrder], list[Part]]] = {
    "pilasters": pilaster,
    "half columns": engaged_column,
}


def doorway(opening: DoorOpening, reveal_m: float, wall_thickness_m: float) -> list[Part]:
    """Leaf, lights and frame of a door, its head and surround, and steps of its own if any.

    Raises:
        ValueError: what is asked for does not fit the opening or the wall.
    """
    work = opening.door
    parts = door(opening, reveal_m, wall_thickness_m)
    if opening.head in SPANNED:
        parts += head(opening, opening.head)
    if work.surround is not None:
        parts += under("surround", surround(opening, work.surround))
    if work.steps is not None:
        flight, floor_z = work.steps, work.steps.top_z_m
        wide = flight.width_m + 2.0 * CHEEK_WIDTH_M
        own = landing(wide, flight.landing_m, floor_z) + steps(flight, floor_z, -flight.landing_m)
        parts += raised(own, -opening.sill_z_m)
    return parts


def surround(opening: Opening, design: SurroundDesign) -> list[Part]:
    """Pilasters or half columns on a board each side of the doorway, and their entablature.

    The entablature runs over both and returns to the wall at each end; a pediment takes its
    cornice's place.
    """
    order, foot, out = design.order, -design.drop_m, design.out_m
    places = translations([(x, -SURROUND_BOARD_M, foot) for x in (-design.axis_m, design.axis_m)])
    parts = [_board(opening, design)]
    parts += [p.placed(places) for p in _ENGAGED[design.engaged](order)]
    if design.arch:
        parts += _arch(opening, design)
    return parts + raised(_over(design, out), foot + order.column_height_m)


def _arch(opening: Opening, design: SurroundDesign) -> list[Part]:
    """Imposts that run from the doorway into the order, archivolt over the casing, keystone."""
    module = design.order.diameter_m / 2.0
    top = design.order.column_height_m - design.drop_m
    bay = ArchBay(0.0, opening.width_m, opening.height_m - opening.width_m / 2.0)
    members = archivolt_over(opening, design)
    face_y = -max(SURROUND_BOARD_M, CASING_PROJECTION_M)
    made = arch_about(members, impost_members(module), bay, design.axis_m, top)
    return [p.moved(translations([(0.0, face_y, 0.0)])[0]) for p in made]


def _over(design: SurroundDesign, out: float) -> list[Part]:
    """The entablature from its soffit up, with the solid behind it and lead on its top."""
    order, x = design.order, design.frieze_half_m
    path = np.array([(-x, 0.0), (-x, -out), (x, -out), (x, 0.0)])
    back = 0.5 * out
    axes = np.array([(s * design.axis_m, order.upper_diameter_m / 2.0 - out) for s in (-1, 1)])
    high = order.entablature_height_m
    if design.pediment_slope is not None:
        parts = pedimented(
            order, path, design.pediment_slope, back_m=back, front_back_m=out, column_axes=axes
        )
        level = order.architrave_height_m + order.frieze_height_m
    else:
        parts = entablature(order, path, back_m=back, column_axes=axes)
        parts.append(_lead(design, out, high))
        level = high
    core = box_between((back - x, back - out, 0.0), (x - back, _HOUSED_M, level))
    return [*parts, Part(("entablature", "core"), "order", core)]


def _lead(design: SurroundDesign, out: float, foot_z: float) -> Part:
    """Sheet lead over the cornice, falling from the wall, its front edge on the cymatium."""
    reach = design.order.cornice_projection_m - 0.004
    x, y = design.frieze_half_m + reach, out + reach
    section = [(_HOUSED_M, 0.0), (-y, 0.0), (-y, _LEAD_M), (0.0, _LEAD_M + _LEAD_FALL * y)]
    section.append((_HOUSED_M, _LEAD_M + _LEAD_FALL * y))
    sheet = prism(section[::-1], (-x, 0.0, foot_z), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), 2.0 * x)
    return Part(("entablature", "lead"), "metal", sheet)


def _board_half(design: SurroundDesign) -> float:
    """Middle of the doorway to the board's outer edge."""
    order = design.order
    wide = max(order.foot_width_m, order.abacus_width_m)
    if design.engaged == "pilasters":
        wide -= order.diameter_m - order.upper_diameter_m
    return design.axis_m + wide / 2.0 + _BOARD_BESIDE_M


def _board(opening: Opening, design: SurroundDesign) -> Part:
    """Boarding on the wall from the casing outwards and over it, up to the architrave.

    Its foot is scribed to the water table's wash; it is thick enough to bring the pilasters
    before the water table.
    """
    half, face, thick = opening.width_m / 2.0, opening.face_m, SURROUND_BOARD_M
    top, side = design.order.column_height_m - design.drop_m, _board_half(design)
    foot = 2.0 * thick
    path = np.array([(half, foot), *opening.soffit.line(), (-half, foot)])
    inner = path + face * offset_directions(path)
    outline = np.array([(side, foot), (side, top), (-side, top), (-side, foot), *inner[::-1]])
    board = prism(outline, (0.0, _HOUSED_M, 0.0), (1.0, 0, 0), (0, 0, 1.0), thick + _HOUSED_M)
    blocks = [
        scribed_block(x0, x1, foot, thick)
        for x0, x1 in ((-side, -half - face), (half + face, side))
    ]
    return Part(("board",), "trim", merged([board, *blocks]))


def surround_cut(opening: Opening) -> list[Cut]:
    """What a doorway's surround takes of the wall's facing, in the wall's frame."""
    design = opening.door.surround if isinstance(opening, DoorOpening) else None
    if design is None:
        return []
    order, x = design.order, opening.along_m
    foot = opening.sill_z_m - design.drop_m
    soffit, top = foot + order.column_height_m, foot + order.order_height_m
    side = max(_board_half(design), opening.width_m / 2.0 + CASING_PROJECTION_M)
    edge = stack((*order.architrave, *order.frieze, *order.cornice), soffit)
    reach = np.maximum.accumulate(edge[:, 0])

    def half(z: float) -> float:
        return design.frieze_half_m + float(np.interp(z, edge[:, 1], reach))

    cuts: list[Cut] = [(x - side, opening.sill_z_m, x + side, soffit)]
    cuts.append(CutShape(x, soffit, top + _LEAD_M, half))
    if design.pediment_slope is not None:
        wide = design.frieze_half_m + order.cornice_projection_m
        slope, apex = design.pediment_slope, opening.sill_z_m + design.top_m
        cuts.append(CutShape(x, top, apex, lambda z: wide - max(z - top, 0.0) / slope))
    return cuts

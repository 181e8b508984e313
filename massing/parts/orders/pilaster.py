"""Pilasters: the order as a flat pier against a wall."""

from __future__ import annotations

import numpy as np

from massing.canon import FittedOrder
from massing.canon.mouldings import stack
from massing.canon.order import beyond_face
from massing.geometry.mesh import Floats
from massing.geometry.solids import wall_block
from massing.parts.orders.fluting import fluted_flat
from massing.parts.orders.pilaster_capitals import WALLED
from massing.parts.part import Part
from massing.practice.joinery_sizes import PILASTER_OF_WIDTH

FLUTES = 7  # on the face, none on the sides; common practice, no source


def pilaster(
    order: FittedOrder, projection_m: float | None = None, *, fluted: bool = False
) -> list[Part]:
    """A pilaster as wide as the shaft's neck, upright, with the order's own base and capital.

    It faces -Y from a wall whose face is on y = 0, its middle on x = 0, its foot on z = 0, and
    its sides stand under those of an architrave that returns to the wall. ``projection_m`` is
    the shaft's from the wall, by default a sixth of its width. With ``fluted`` the face has seven
    flutes between fillets.

    Raises:
        ValueError: the projection is not positive.
    """
    width = order.upper_diameter_m
    out = PILASTER_OF_WIDTH * width if projection_m is None else projection_m
    if not out > 0.0:
        raise ValueError(f"a pilaster's projection must be more than nothing, got {out}")
    half, lower = width / 2.0, order.diameter_m / 2.0
    base = beyond_face(order.base, lower)
    foot, neck = beyond_face(order.shaft_foot, lower), beyond_face(order.shaft_head, half)
    foot_z, neck_z = order.base_height_m, order.base_height_m + order.shaft_height_m
    head_z = neck_z - sum(m.height for m in neck)
    edges = [np.array([(0.0, foot_z), (0.0, head_z)])]
    if foot:
        rise = foot_z + sum(m.height for m in foot)
        edges = [stack(foot, foot_z), np.array([(0.0, rise), (0.0, head_z)])]
    if neck:
        edges.append(stack(neck, head_z))
    shaft = np.concatenate(edges)
    keep = np.concatenate([[True], np.abs(np.diff(shaft, axis=0)).sum(axis=1) > 1e-9])
    if fluted:
        rise = foot_z + sum(m.height for m in foot)
        body = fluted_flat(shaft[keep], half, out, FLUTES, rise, head_z)
    else:
        body = wall_block(shaft[keep], half, out)
    parts = [
        Part(("pilaster", "base"), "order", wall_block(stack(base), half, out)),
        Part(("pilaster", "shaft"), "order", body),
    ]
    if order.capital_kind in WALLED:
        carved = WALLED[order.capital_kind](order, half, out)
        return parts + [p.moved(_raise(neck_z)) for p in carved]
    capital = stack(beyond_face(order.capital, half), neck_z)
    return [*parts, Part(("pilaster", "capital"), "order", wall_block(capital, half, out))]


def pilaster_pedestal(order: FittedOrder, projection_m: float | None = None) -> list[Part]:
    """The order's pedestal under a :func:`pilaster`, its die as much beyond the shaft's faces as
    under a column; nothing where the order has none.
    """
    if not order.pedestal:
        return []
    width = order.upper_diameter_m
    out = PILASTER_OF_WIDTH * width if projection_m is None else projection_m
    edge = stack(beyond_face(order.pedestal, order.diameter_m / 2.0))
    return [Part(("pilaster", "pedestal"), "order", wall_block(edge, width / 2.0, out))]


def _raise(z_m: float) -> Floats:
    matrix = np.eye(4)
    matrix[2, 3] = z_m
    return matrix

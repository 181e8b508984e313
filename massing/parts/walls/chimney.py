"""A masonry chimney through a roof: stack, corbelled head, cap, pots, and its lead collar."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.booleans import less
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.plan_polygons import Hole, clear_hole
from massing.geometry.solids import bodies, box_between, extrude, lathe, translations
from massing.parts.part import Part
from massing.practice.joinery_sizes import joinery_size
from massing.units import INCH_M

# Common practice, no source.
COLLAR_M = 0.012
_COLLAR_UP_M = joinery_size("chimney.collar")
_COURSE_M = 8.0 * INCH_M / 3.0
_CORBEL_M = joinery_size("chimney.corbel")
_CAP_M = joinery_size("chimney.cap")
_LEAST_STACK_M = 0.3  # of plain stack under the corbels: common practice, no source
_POT_M = (0.13, 0.10, 0.35)  # foot and head radius, height


class LowChimney(ValueError):
    """A chimney whose top does not clear the roof.

    Attributes:
        low: corner ``(2,)`` of the stack, metres.
        least_top_m: the lowest that its cap may top out there, as a z.
    """

    def __init__(self, low: Floats, top_m: float, least_top_m: float) -> None:
        self.low, self.least_top_m = low, least_top_m
        super().__init__(f"a chimney's top at {top_m:.2f} m does not clear the roof")


def chimney_hole(low: ArrayLike, high: ArrayLike) -> Hole:
    """The hole that a chimney of that plan asks of the roof's covering."""
    grown = COLLAR_M + 0.003
    return clear_hole(np.asarray(low, dtype=float) - grown, np.asarray(high, dtype=float) + grown)


def chimney(low: ArrayLike, high: ArrayLike, deck: Mesh, top_z_m: float) -> list[Part]:
    """A chimney over a plan rectangle, standing on a roof's deck.

    Args:
        low, high: corners ``(2,)`` of the stack, metres.
        deck: the roof's closed deck; the stack is scribed to it.
        top_z_m: top of the cap above the ground.

    Raises:
        LowChimney: its top does not clear the roof.
        ValueError: the stack's plan is not under the roof.
    """
    low, high = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    box = deck.bounds
    if not ((high > low).all() and (low > box[0, :2]).all() and (high < box[1, :2]).all()):
        raise ValueError(f"a chimney from {low} to {high} m does not stand on the roof")
    least_m = _least_top_m(low, high, deck)
    if top_z_m < least_m - 1e-6:
        raise LowChimney(low, top_z_m, least_m)
    head_z, foot = top_z_m - _CAP_M - 3.0 * _COURSE_M, box[0, 2] + 1e-3
    stack = _topmost(less(box_between((*low, foot), (*high, head_z)), deck))
    corbels = [
        box_between((*(low - k * _CORBEL_M), z), (*(high + k * _CORBEL_M), z + _COURSE_M))
        for k, z in ((1, head_z), (2, head_z + _COURSE_M), (1, head_z + 2.0 * _COURSE_M))
    ]
    cap = box_between(
        (*(low - 2.0 * _CORBEL_M), top_z_m - _CAP_M), (*(high + 2.0 * _CORBEL_M), top_z_m)
    )
    ring = np.array([[low[0], low[1]], [high[0], low[1]], [high[0], high[1]], [low[0], high[1]]])
    away = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * COLLAR_M
    collar = extrude(ring + away, head_z - foot, [ring]).shifted(z_m=foot)
    collar = _topmost(less(collar, deck))
    air = box_between((*(low - 0.1), foot), (*(high + 0.1), top_z_m))
    upstand = less(collar, _topmost(less(air, deck.shifted(z_m=_COLLAR_UP_M))))
    return [
        Part(("chimney", "stack"), "wall/brick", stack),
        Part(("chimney", "corbels"), "wall/brick", merged(corbels)),
        Part(("chimney", "cap"), "stone", cap),
        Part(("chimney", "collar"), "metal", upstand),
        _pots(low, high, top_z_m),
    ]


def _topmost(mesh: Mesh) -> Mesh:
    """The body of a cut solid that reaches highest."""
    return max(bodies(mesh), key=lambda body: float(body.bounds[1, 2]))


def _pots(low: Floats, high: Floats, top_z_m: float) -> Part:
    """A row of pots along the stack's longer side."""
    foot, head, tall = _POT_M
    profile = [(foot, 0.0), (foot, 0.04), (head + 0.01, 0.06), (head, tall - 0.06)]
    profile += [(head + 0.02, tall - 0.05), (head + 0.02, tall), (head - 0.015, tall)]
    profile += [(head - 0.015, tall - 0.1), (0.0, tall - 0.1)]
    size = high - low
    long = int(np.argmax(size))
    count = max(1, int((size[long] - 0.05) / (2.4 * foot)))
    places = np.tile(np.append((low + high) / 2.0, top_z_m), (count, 1))
    places[:, long] = low[long] + size[long] * (np.arange(count) + 0.5) / count
    return Part(("chimney", "pots"), "tile", lathe(np.array(profile), 24), translations(places))


def _least_top_m(low: Floats, high: Floats, deck: Mesh) -> float:
    """The lowest that a cap may top out: over the roof all round, with some plain stack below."""
    foot, over = deck.bounds[0, 2] + 1e-3, deck.bounds[1, 2] + 1.0
    stack = _topmost(less(box_between((*low, foot), (*high, over)), deck))
    corbels_m = _CAP_M + 3.0 * _COURSE_M
    scribed = stack.vertices[stack.vertices[:, 2] < over - 1e-6, 2]
    return max(float(scribed.min()) + _LEAST_STACK_M, float(scribed.max())) + corbels_m

"""Columns and square piers: base, shaft and capital as turned and square solids."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import groupby

import numpy as np

from massing.canon import FittedOrder, Member
from massing.canon.mouldings import stack, without_repeats
from massing.geometry.booleans import cut_copies
from massing.geometry.mesh import Floats, Mesh
from massing.geometry.solids import lathe, square_lathe
from massing.parts.orders.capitals import ionic, ionic_angular
from massing.parts.orders.fluting import channel_outlines, fluted_round
from massing.parts.orders.leafed_capitals import carving_lines, composite, corinthian
from massing.parts.part import Part

ROUND_SEGMENTS = 64
_SHAFT_STEPS = 24
CARVED: dict[str, Callable[[FittedOrder, bool], list[Part]]] = {
    "ionic": ionic,
    "corinthian": corinthian,
    "composite": composite,
}


def column(
    order: FittedOrder,
    *,
    angular: bool = False,
    enriched: bool = True,
) -> list[Part]:
    """One column or pier on its axis, standing on z = 0, in parts named bottom to top.

    ``column/plinth``, ``column/base``, ``column/shaft``, ``column/capital`` and
    ``column/abacus``; a square pier has ``base``, ``shaft`` and ``capital`` only. ``angular``
    gives an Ionic capital four like faces, for a corner; other orders look alike from all sides
    as they are.
    ``enriched`` carves the echinus of Ionic and Composite with eggs and darts. A pedestal is a
    part of its own, :func:`pedestal`.
    """
    stands = replace(
        order, architrave=(), frieze=(), cornice=(), pedestal=(), triglyph_width_m=0.0, origins=()
    )
    return list(_column(stands, angular, enriched))


@lru_cache(maxsize=12)
def _column(order: FittedOrder, angular: bool, enriched: bool) -> tuple[Part, ...]:
    """Kept by what it looks at, of which nothing over or under the column is."""
    foot = order.base_height_m
    neck = foot + order.shaft_height_m
    parts = _mouldings(order.base, 0.0, ("base", "plinth"), order.square)
    parts.append(Part(("column", "shaft"), "order", _shaft(order).shifted(z_m=foot)))
    if angular and order.capital_kind == "ionic":
        head = [p.moved(_raise(neck)) for p in ionic_angular(order, enriched)]
    elif order.capital_kind in CARVED:
        head = [p.moved(_raise(neck)) for p in CARVED[order.capital_kind](order, enriched)]
    else:
        head = _mouldings(order.capital, neck, ("capital", "abacus"), order.square)
    return (*parts, *head)


def pedestal(order: FittedOrder) -> list[Part]:
    """The order's pedestal on z = 0, under the column's axis; nothing where it has none."""
    if not order.pedestal:
        return []
    return [Part(("pedestal",), "order", square_lathe(stack(order.pedestal)))]


def engaged_column(order: FittedOrder, share: float = 0.5) -> list[Part]:
    """A column that stands out of the wall by ``share`` of its lower diameter.

    Half columns and three-quarter columns alike, facing -Y from a wall on y = 0; what would lie
    within the wall is cut away.

    Raises:
        ValueError: the share is not between 0 and 1.
    """
    if not 0.0 < share < 1.0:
        raise ValueError(f"an engaged column shows a share between 0 and 1, got {share}")
    axis_y = (0.5 - share) * order.diameter_m
    parts = []
    for part in column(order):
        cut = _before_wall(part, axis_y)
        if len(cut.faces):
            parts.append(Part(part.renamed("column", "engaged column").path, "order", cut))
    return parts


def engaged_pedestal(order: FittedOrder, share: float = 0.5) -> list[Part]:
    """What stands before the wall of the pedestal under an :func:`engaged_column`, on z = 0."""
    axis_y = (0.5 - share) * order.diameter_m
    return [
        Part(("engaged column", "pedestal"), "order", _before_wall(part, axis_y))
        for part in pedestal(order)
    ]


def _before_wall(part: Part, axis_y_m: float) -> Mesh:
    whole = part.world_mesh().shifted(y_m=axis_y_m)
    return cut_copies(whole, np.eye(4)[None], [(np.array([0.0, -1.0, 0.0]), 0.0)])


def _raise(z_m: float) -> Floats:
    matrix = np.eye(4)
    matrix[2, 3] = z_m
    return matrix


def _mouldings(
    members: Sequence[Member], z_m: float, names: tuple[str, str], square_order: bool
) -> list[Part]:
    """Members gathered into one solid for each change from round to square."""
    parts = []
    for square, group in groupby(members, key=lambda m: m.square):
        run = tuple(group)
        profile = stack(run, z_m)
        mesh = square_lathe(profile) if square else lathe(profile, ROUND_SEGMENTS)
        name = names[1] if square and not square_order else names[0]
        parts.append(Part(("column", name), "order", mesh))
        z_m += _height(run)
    return parts


def _height(members: Iterable[Member]) -> float:
    return sum(m.height for m in members)


def shaft_profile(order: FittedOrder) -> Floats:
    """The shaft's edge ``(n, 2)`` as (radius, z) from z = 0, with its end mouldings.

    The diminution runs from the foot to the underside of the neck mouldings.
    """
    body = order.shaft_height_m - _height(order.shaft_head)
    foot = _height(order.shaft_foot)
    upright = order.diameter_m == order.upper_diameter_m
    y = np.linspace(foot, body, 2 if upright else _SHAFT_STEPS + 1)
    if order.swelled:
        y = np.union1d(y, body / 3.0)  # where it is widest
    pieces = [np.column_stack([order.shaft_radii(y), y])]
    if order.shaft_foot:
        pieces.insert(0, stack(order.shaft_foot))
    if order.shaft_head:
        pieces.append(stack(order.shaft_head, body))
    return without_repeats(np.concatenate(pieces))


def flute_lines(order: FittedOrder) -> list[Floats]:
    """The edges of the shaft's flutes ``(n, 3)``, for a drawing of a column without them."""
    if not order.flutes or order.square:
        return []
    low, high = _height(order.shaft_foot), order.shaft_height_m - _height(order.shaft_head)
    radius, kind = order.diameter_m / 2.0, order.flute_kind
    lines = channel_outlines(shaft_profile(order), radius, order.flutes, kind, low, high)
    return [line + [0.0, 0.0, order.base_height_m] for line in lines]


def carved_lines(order: FittedOrder) -> list[Floats]:
    """The edges and veins of its capital's leaves ``(n, 3)``, for a drawing of the column."""
    neck = order.base_height_m + order.shaft_height_m
    return [line + [0.0, 0.0, neck] for line in carving_lines(order)]


def _shaft(order: FittedOrder) -> Mesh:
    profile = shaft_profile(order)
    if order.square:
        return square_lathe(profile)
    if not order.flutes:
        return lathe(profile, ROUND_SEGMENTS)
    return fluted_round(
        profile,
        order.diameter_m / 2.0,
        order.flutes,
        order.flute_kind,
        _height(order.shaft_foot),
        order.shaft_height_m - _height(order.shaft_head),
    )

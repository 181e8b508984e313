"""Columns and square piers: base, shaft and capital as turned and square solids."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

import numpy as np

from massing.canon import FittedOrder, Member
from massing.canon.entasis import CURVES as ENTASIS
from massing.capitals import CARVED, ionic_angular, square_lathe
from massing.cutting import cut_copies
from massing.mesh import Floats, Mesh, Part
from massing.profiles import stack, without_repeats
from massing.solids import lathe, loft

ROUND_SEGMENTS = 64
_SHAFT_STEPS = 24
_FLUTE_STEPS = 8


def column(
    order: FittedOrder,
    *,
    fluted: bool | None = None,
    angular: bool = False,
    enriched: bool = True,
) -> list[Part]:
    """One column or pier on its axis, standing on z = 0, in parts named bottom to top.

    ``column/plinth``, ``column/base``, ``column/shaft``, ``column/capital`` and
    ``column/abacus``; a square pier has ``base``, ``shaft`` and ``capital`` only. ``fluted``
    defaults to the plate's own: Doric channelled, Tuscan plain. ``angular`` gives an Ionic
    capital four like faces, for a corner; other orders look alike from all sides as they are.
    ``enriched`` carves the echinus of Ionic and Composite with eggs and darts. A pedestal is a
    part of its own, :func:`pedestal`.
    """
    foot = order.base_height_m
    neck = foot + order.shaft_height_m
    flutes = order.flutes if fluted is None else (order.flutes or 20) if fluted else 0
    parts = _mouldings(order.base, 0.0, ("base", "plinth"), order.square)
    parts.append(Part("column/shaft", "order", _shaft(order, flutes).shifted(z_m=foot)))
    if angular and order.capital_kind == "ionic":
        return parts + [p.moved(_raise(neck)) for p in ionic_angular(order, enriched)]
    if order.capital_kind in CARVED:
        return parts + [p.moved(_raise(neck)) for p in CARVED[order.capital_kind](order, enriched)]
    return parts + _mouldings(order.capital, neck, ("capital", "abacus"), order.square)


def pedestal(order: FittedOrder) -> list[Part]:
    """The order's pedestal on z = 0, under the column's axis; nothing where it has none."""
    if not order.pedestal:
        return []
    return [Part("pedestal", "order", square_lathe(stack(order.pedestal)))]


def engaged_column(
    order: FittedOrder, share: float = 0.5, *, fluted: bool | None = None
) -> list[Part]:
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
    for part in column(order, fluted=fluted):
        whole = part.world_mesh().shifted(y_m=axis_y)
        cut = cut_copies(whole, np.eye(4)[None], [(np.array([0.0, -1.0, 0.0]), 0.0)])
        if len(cut.faces):
            parts.append(Part(part.name.replace("column", "engaged column", 1), "order", cut))
    return parts


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
        parts.append(Part(f"column/{name}", "order", mesh))
        z_m += _height(run)
    return parts


def _height(members: Iterable[Member]) -> float:
    return sum(m.height for m in members)


def shaft_profile(order: FittedOrder) -> Floats:
    """The shaft's edge ``(n, 2)`` as (radius, z) from z = 0, with its end mouldings.

    The diminution runs from the foot to the underside of the neck mouldings.
    """
    body = order.shaft_height_m - _height(order.shaft_head)
    lower, upper = order.diameter_m / 2.0, order.upper_diameter_m / 2.0
    foot = _height(order.shaft_foot)
    y = np.linspace(foot, body, 2 if lower == upper else _SHAFT_STEPS + 1)
    curve = ENTASIS[order.entasis](y, body, lower, upper)
    pieces = [np.column_stack([curve, y])]
    if order.shaft_foot:
        pieces.insert(0, stack(order.shaft_foot))
    if order.shaft_head:
        pieces.append(stack(order.shaft_head, body))
    return without_repeats(np.concatenate(pieces))


def _shaft(order: FittedOrder, flutes: int) -> Mesh:
    profile = shaft_profile(order)
    if order.square:
        return square_lathe(profile)
    if not flutes:
        return lathe(profile, ROUND_SEGMENTS)
    return _fluted(order, profile, flutes)


def _fluted(order: FittedOrder, profile: Floats, count: int) -> Mesh:
    """The shaft with ``count`` channels, rounded off short of its end mouldings.

    Arris: arcs of 60 degrees meeting in a sharp edge (Ware, The American Vignola, pp. 11-14).
    Fillet: semicircles parted by fillets a third of their width.
    """
    ring, depth, side = _flute_ring(count, order.flute_kind or "arris")
    radius = order.diameter_m / 2.0
    end = 2.0 * np.pi * radius / count / 2.0  # the channel's ends are half rounds
    low = _height(order.shaft_foot) + 0.1 * end
    high = order.shaft_height_m - _height(order.shaft_head) - 0.6 * end
    ease = end * np.sin(np.linspace(0.0, np.pi / 2.0, 7)) ** 2
    heights = np.concatenate(
        [profile[:, 1], low + ease, high - ease[::-1]],
    )
    body = (profile[:, 1] > low + end) & (profile[:, 1] < high - end)
    ends = (profile[:, 1] <= low) | (profile[:, 1] >= high)
    keep = np.concatenate([body | ends, np.ones(2 * len(ease), dtype=bool)])
    inner = profile[(profile[:, 1] >= _height(order.shaft_foot))]
    inner = inner[inner[:, 1] <= order.shaft_height_m - _height(order.shaft_head)]
    extra = np.interp(heights[len(profile) :], inner[:, 1], inner[:, 0])
    radii = np.concatenate([profile[:, 0], extra])
    rank = np.argsort(heights[keep], kind="stable")
    z, r = heights[keep][rank], radii[keep][rank]
    up, down = np.clip((z - low) / end, 0.0, 1.0), np.clip((high - z) / end, 0.0, 1.0)
    short = 1.0 - np.minimum(up, down)  # of full depth, along the channel: 1 at its very end
    left = np.clip(1.0 - side[None] ** 2 - short[:, None] ** 2, 0.0, None)
    sunk = np.sqrt(left / np.maximum(1.0 - side[None] ** 2, 1e-12))
    plan = r[:, None, None] * (ring[None] + sunk[..., None] * depth[None])
    rise = np.broadcast_to(z[:, None, None], (len(z), len(ring), 1))
    return loft(np.concatenate([plan, rise], axis=-1))


def _flute_ring(count: int, kind: str) -> tuple[Floats, Floats, Floats]:
    """Unit circle points ``(n, 2)``, the way from each down into its channel, and how far each
    lies from the channel's middle, ``(n,)`` from -1 to 1."""
    pitch = 2.0 * np.pi / count
    channel = pitch if kind == "arris" else 0.75 * pitch
    half_arc = np.pi / 6.0 if kind == "arris" else np.pi / 2.0
    turn = np.linspace(-half_arc, half_arc, _FLUTE_STEPS + 1)
    if kind == "arris":
        turn = turn[:-1]
    chord = 2.0 * np.sin(channel / 2.0)
    radius = chord / 2.0 / np.sin(half_arc)
    across = radius * np.sin(turn)
    inward = np.cos(channel / 2.0) - radius * (np.cos(turn) - np.cos(half_arc))
    hollow = np.column_stack([inward, across])
    surface = np.column_stack([np.sqrt(1.0 - across**2), across])
    middle = pitch * np.arange(count)
    turned = np.stack(
        [
            np.stack([np.cos(middle), -np.sin(middle)], -1),
            np.stack([np.sin(middle), np.cos(middle)], -1),
        ],
        -2,
    )
    ring = np.einsum("kij,nj->kni", turned, surface).reshape(-1, 2)
    sunk = np.einsum("kij,nj->kni", turned, hollow).reshape(-1, 2)
    return ring, sunk - ring, np.tile(across / np.abs(across).max(), count)

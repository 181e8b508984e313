"""Flutes: the channels of shafts, round or flat, rounded off at both ends.

Arris: arcs of 60 degrees that meet in a sharp edge (Ware, The American Vignola, pp. 11-14).
Fillet: semicircles, in which a square turns with its point on the channel and its arms on the
fillets (Vitruvius III.5.14), parted by fillets a third of their width (a third to a quarter,
Chambers as quoted in Rudiments of Ancient Architecture, 1810; a third to a fifth,
Encyclopaedia of Architecture, 1852). A pilaster's are semicircles too, and it is plain or fluted
without regard to the columns (Edinburgh Encyclopaedia, Civil Architecture).
"""

from __future__ import annotations

import numpy as np

from massing.geometry.mesh import Floats, Mesh
from massing.geometry.solids import loft
from massing.parts.orders.ornament import slab

_STEPS = 8
_FILLET_OF_FLUTE = 1.0 / 3.0
_END_ROWS = 7


def fluted_round(
    profile: Floats, radius_m: float, count: int, kind: str, low_m: float, high_m: float
) -> Mesh:
    """A turned shaft with ``count`` channels between its end mouldings.

    Args:
        profile: ``(n, 2)`` (radius, z) of the shaft, with its end mouldings.
        radius_m: at the foot, from which the channels' width follows.
        kind: ``arris`` or ``fillet``.
        low_m, high_m: top of the mouldings at the foot, foot of those at the head.
    """
    ring, depth, side = _ring(count, kind)
    end = np.pi * radius_m / count
    radii, z, sunk = _rows(profile, end, low_m, high_m, side)
    plan = radii[:, None, None] * (ring[None] + sunk[..., None] * depth[None])
    rise = np.broadcast_to(z[:, None, None], (len(z), len(ring), 1))
    return loft(np.concatenate([plan, rise], axis=-1))


def fluted_flat(
    profile: Floats, half_width_m: float, out_m: float, count: int, low_m: float, high_m: float
) -> Mesh:
    """A pilaster's shaft, its front channelled between fillets, its sides plain.

    It faces -Y from a wall on y = 0. A fillet stands at each edge; where the pilaster projects
    little the channels are shallower than semicircles.

    Args:
        profile: ``(n, 2)`` (reach beyond the face, z) of the shaft, with its end mouldings.
        out_m: projection of the face from the wall.
        count: of the channels.
    """
    flute = 2.0 * half_width_m / (count + (count + 1) * _FILLET_OF_FLUTE)
    pitch = flute * (1.0 + _FILLET_OF_FLUTE)
    turn = np.linspace(-np.pi / 2.0, np.pi / 2.0, _STEPS + 1)
    middle = pitch * (np.arange(count) - (count - 1) / 2.0)
    across = (middle[:, None] + flute / 2.0 * np.sin(turn)).ravel()
    reach, z, sunk = _rows(profile, flute / 2.0, low_m, high_m, np.tile(np.sin(turn), count))
    depth = sunk * np.tile(np.cos(turn), count) * min(flute / 2.0, 0.6 * out_m)
    edge = half_width_m + reach[:, None]
    front = np.empty((len(z), len(across) + 2, 3))
    front[..., 0] = np.hstack([-edge, np.tile(across, (len(z), 1)), edge])
    front[..., 1] = -(out_m + reach[:, None]) + np.pad(depth, ((0, 0), (1, 1)))
    front[..., 2] = z[:, None]
    back = front.copy()
    back[..., 1] = 0.0
    return slab(front, back)


def channel_outlines(
    profile: Floats, radius_m: float, count: int, kind: str, low_m: float, high_m: float
) -> list[Floats]:
    """Where the channels of :func:`fluted_round` meet the shaft, as closed lines ``(n, 3)``."""
    pitch = 2.0 * np.pi / count
    channel = pitch if kind == "arris" else pitch / (1.0 + _FILLET_OF_FLUTE)
    end = np.pi * radius_m / count
    low, high = low_m + 0.1 * end, high_m - 0.6 * end
    turn = np.linspace(-np.pi / 2.0, np.pi / 2.0, 4 * _STEPS + 1)
    rise = np.linspace(low + end, high - end, 60)[1:-1]
    side = np.concatenate([np.ones_like(rise), np.sin(-turn), -np.ones_like(rise), np.sin(turn)])
    ends = end * (1.0 - np.cos(turn))
    z = np.concatenate([rise, high - ends, rise[::-1], low + ends])
    along = profile[(profile[:, 1] >= low_m) & (profile[:, 1] <= high_m)]
    radius = np.interp(z, along[:, 1], along[:, 0])
    spread = np.arcsin(np.sin(channel / 2.0) * side)
    lines = []
    for angle in pitch * np.arange(count):
        turned = angle + spread
        line = np.column_stack([radius * np.cos(turned), radius * np.sin(turned), z])
        lines.append(np.concatenate([line, line[:1]]))
    return lines


def _rows(
    profile: Floats, end: float, low_m: float, high_m: float, side: Floats
) -> tuple[Floats, Floats, Floats]:
    """Rows of a fluted shaft: its reach and height, and ``(rows, n)`` how deep it is sunk.

    ``side`` ``(n,)`` is how far each point lies from its channel's middle, -1 to 1; ``end`` the
    radius that rounds the channels off. Depths are shares of the full depth at that place.
    """
    low, high = low_m + 0.1 * end, high_m - 0.6 * end
    ease = end * np.sin(np.linspace(0.0, np.pi / 2.0, _END_ROWS)) ** 2
    heights = np.concatenate([profile[:, 1], low + ease, high - ease[::-1]])
    body = (profile[:, 1] > low + end) & (profile[:, 1] < high - end)
    ends = (profile[:, 1] <= low) | (profile[:, 1] >= high)
    keep = np.concatenate([body | ends, np.ones(2 * len(ease), dtype=bool)])
    inner = profile[(profile[:, 1] >= low_m) & (profile[:, 1] <= high_m)]
    extra = np.interp(heights[len(profile) :], inner[:, 1], inner[:, 0])
    reach = np.concatenate([profile[:, 0], extra])
    rank = np.argsort(heights[keep], kind="stable")
    z, reach = heights[keep][rank], reach[keep][rank]
    up, down = np.clip((z - low) / end, 0.0, 1.0), np.clip((high - z) / end, 0.0, 1.0)
    short = 1.0 - np.minimum(up, down)  # along the channel: 1 at its very end
    left = np.clip(1.0 - side[None] ** 2 - short[:, None] ** 2, 0.0, None)
    return reach, z, np.sqrt(left / np.maximum(1.0 - side[None] ** 2, 1e-12))


def _ring(count: int, kind: str) -> tuple[Floats, Floats, Floats]:
    """Unit circle points ``(n, 2)``, the way from each down into its channel, and how far each
    lies from the channel's middle, ``(n,)`` from -1 to 1."""
    pitch = 2.0 * np.pi / count
    channel = pitch if kind == "arris" else pitch / (1.0 + _FILLET_OF_FLUTE)
    half_arc = np.pi / 6.0 if kind == "arris" else np.pi / 2.0
    turn = np.linspace(-half_arc, half_arc, _STEPS + 1)
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

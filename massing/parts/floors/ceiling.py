"""The porch's ceiling: matched boards with V joints, or coffers."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import merged
from massing.geometry.solids import prism
from massing.parts.part import Part
from massing.practice.joinery_sizes import joinery_size

_BOARD_M = joinery_size("ceiling.board")
_THICKNESS_M = joinery_size("ceiling.thickness")
_JOINT_M = joinery_size("ceiling.joint")
_COFFER_M = joinery_size("ceiling.coffer")
_BEAM_M = joinery_size("ceiling.beam")
_LEDGE_M = joinery_size("ceiling.ledge")


def ceiling(low: ArrayLike, high: ArrayLike, z_m: float) -> list[Part]:
    """Boards along x filling a plan rectangle, faces at ``z_m``, V joints cut from below.

    Args:
        low, high: corners ``(2,)`` (x, y), metres.
        z_m: underside above the ground.

    Raises:
        ValueError: the rectangle has no area.
    """
    (x0, y0), (x1, y1) = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    if x1 <= x0 or y1 <= y0:
        raise ValueError("a ceiling needs a rectangle with an area")
    boards = max(1, round((y1 - y0) / _BOARD_M))
    joints = y0 + (y1 - y0) / boards * np.arange(1, boards)
    cut = _JOINT_M
    notches = np.stack(
        [
            np.column_stack([joints - cut / 2.0, np.zeros_like(joints)]),
            np.column_stack([joints, np.full_like(joints, cut)]),
            np.column_stack([joints + cut / 2.0, np.zeros_like(joints)]),
        ],
        axis=1,
    ).reshape(-1, 2)
    top = _THICKNESS_M
    outline = np.concatenate([[(y0, 0.0)], notches, [(y1, 0.0), (y1, top), (y0, top)]])
    mesh = prism(outline, (x0, 0.0, z_m), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), x1 - x0)
    return [Part(("ceiling",), "ceiling", mesh)]


def coffers(low: ArrayLike, high: ArrayLike, z_m: float, deep_m: float) -> list[Part]:
    """Coffers between beams that fill a plan rectangle, a ledge within each, boards over them.

    The coffers are about square, as many as go into the shorter side, at least one.

    Args:
        low, high: corners ``(2,)`` (x, y), metres.
        z_m: the beams' underside above the ground.
        deep_m: their depth.

    Raises:
        ValueError: the rectangle has no area.
    """
    (x0, y0), (x1, y1) = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    if x1 <= x0 or y1 <= y0:
        raise ValueError("a ceiling needs a rectangle with an area")
    deep = max(1, round((y1 - y0) / _COFFER_M))
    wide = max(1, round((x1 - x0) / ((y1 - y0) / deep)))
    ledge = 0.3 * deep_m
    made = []
    for inset, foot, height in ((0.0, 0.0, deep_m - ledge), (_LEDGE_M, deep_m - ledge, ledge)):
        edges = [
            _clear(a, b, count, _BEAM_M / 2.0 + inset)
            for a, b, count in ((x0, x1, wide), (y0, y1, deep))
        ]
        holes = [
            np.array([(a, c), (b, c), (b, d), (a, d)]) for a, b in edges[0] for c, d in edges[1]
        ]
        rim = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
        plate = prism(rim, (0.0, 0.0, z_m + foot), (1.0, 0, 0), (0, 1.0, 0), height, holes)
        made.append(plate)
    return [
        Part(("ceiling", "coffers"), "ceiling", merged(made)),
        *ceiling(low, high, z_m + deep_m),
    ]


def _clear(start: float, end: float, count: int, half_m: float) -> list[tuple[float, float]]:
    """From and to of the spaces between beams of a half breadth, one beam against each end."""
    step = (end - start) / count
    return [(start + step * k + half_m, start + step * (k + 1) - half_m) for k in range(count)]

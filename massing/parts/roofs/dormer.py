"""A dormer's own joinery: its face round the window, cheeks, boards, lining, curved roof.

In the dormer's frame: x right as seen from outside, y into the roof, z up, origin at the middle
of the window's foot on the face's outer plane.
"""

from __future__ import annotations

import numpy as np

from massing.geometry.booleans import less
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, prism
from massing.parts.part import Part
from massing.practice.joinery_sizes import (
    DORMER_FACE_M,
    SASH,
    SILL_HEIGHT_M,
    casing_width,
    joinery_size,
    sill_length,
)

# Common practice, no source.
REVEAL_M = SASH.frame_before_sash_m
_CHEEK_M = joinery_size("dormer.cheek")
_BOARD_M = joinery_size("dormer.board")
_BOARD_OUT_M = joinery_size("dormer.board_out")
_BACK_M = 0.004  # boards behind the face's edge
_LINING_M = 0.012
_SEAM_M = (0.018, 0.008)  # height and width of a seam in sheet metal
_SHEET_M = 0.002
_SEAM_SPACING_M = joinery_size("dormer.seam_spacing")


def face(width_m: float, height_m: float, half_m: float, low_m: float, high_m: float) -> Part:
    """The board wall before a dormer, its window's opening and the bed of its sill cut out."""
    x = width_m / 2.0
    lug = sill_length(width_m, casing_width(width_m)) / 2.0
    hole = [(x, 0.0), (x, height_m), (-x, height_m), (-x, 0.0), (-lug, 0.0)]
    hole += [(-lug, -SILL_HEIGHT_M), (lug, -SILL_HEIGHT_M), (lug, 0.0)]
    outline = [(-half_m, low_m), (half_m, low_m), (half_m, high_m), (-half_m, high_m)]
    wall = prism(
        np.array(outline),
        (0.0, DORMER_FACE_M, 0.0),
        (1.0, 0.0, 0.0),
        (0.0, 0.0, 1.0),
        DORMER_FACE_M,
        [np.array(hole)],
    )
    return Part(("face",), "trim", wall)


def cheeks(half_m: float, low_m: float, high_m: float, back_m: float, boards: bool) -> Part:
    """Both side walls behind the face, plain or in lapped boards, to be cut to the roofs."""
    out = half_m - _BACK_M
    inner = out - _CHEEK_M
    outline = [(inner, high_m), (inner, low_m)]
    if boards:
        count = int(np.ceil((high_m - low_m) / _BOARD_M))
        for z in high_m - _BOARD_M * np.arange(count, 0, -1):
            outline += [(out, z), (out - _BOARD_OUT_M, z + _BOARD_M)]
        outline[1] = (inner, float(high_m - count * _BOARD_M))
    else:
        outline += [(out, low_m), (out, high_m)]
    right = prism(
        np.array(outline),
        (0.0, back_m, 0.0),
        (1.0, 0.0, 0.0),
        (0.0, 0.0, 1.0),
        back_m - DORMER_FACE_M,
    )
    return Part(("cheeks",), "trim", merged([right, right.moved(np.diag([-1.0, 1.0, 1.0, 1.0]))]))


def well(half_m: float, floor_m: float, ceiling_m: float, back_m: float) -> Mesh:
    """The room behind the window, which the main deck is to be cut out for."""
    x = half_m - _BACK_M - _CHEEK_M
    return box_between((-x, DORMER_FACE_M, floor_m), (x, back_m, ceiling_m))


def lining(room: Mesh) -> Part:
    """A dark inside for that room, open to the window."""
    (x0, y0, z0), (x1, y1, z1) = room.bounds
    t, gap = _LINING_M, 0.001
    shell = box_between((x0 + gap, y0 + gap, z0 + gap), (x1 - gap, y1 - gap, z1 - gap))
    inner = box_between((x0 + t, y0 - 1.0, z0 + t), (x1 - t, y1 - t, z1 - t))
    return Part(("inside",), "interior", less(shell, inner))


def curved_roof(arch: Floats, deck_m: float, front_y_m: float, back_y_m: float) -> list[Part]:
    """Boards and sheet metal bent over a curve ``(n, 2)`` of (x, z), left to right.

    The metal has seams across the dormer, over the curve; the boards lie on the curve.
    """

    def band(low: float, high: float, y0: float, y1: float) -> Mesh:
        ring = np.concatenate([arch + [0.0, low], (arch + [0.0, high])[::-1]])
        return prism(ring, (0.0, y1, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), y1 - y0)

    top, (tall, wide) = deck_m + _SHEET_M, _SEAM_M
    over = front_y_m - 0.012
    count = max(1, round((back_y_m - front_y_m) / _SEAM_SPACING_M))
    places = front_y_m + (back_y_m - front_y_m) * (np.arange(count) + 0.5) / count
    seams = [band(top, top + tall, y - wide / 2.0, y + wide / 2.0) for y in places]
    return [
        Part(("deck",), "trim", band(0.0, deck_m, front_y_m, back_y_m)),
        Part(("tiles", "sheet"), "metal", band(deck_m, top, over, back_y_m)),
        Part(("tiles", "seams"), "metal", merged(seams)),
    ]

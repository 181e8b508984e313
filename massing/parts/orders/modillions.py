"""Modillions: scrolled brackets under a corona, a leaf beneath each."""

from __future__ import annotations

import numpy as np

from massing.geometry.mesh import Mesh, merged
from massing.geometry.solids import frame, lathe, prism
from massing.parts.orders.acanthus import BellLeaf, bezier
from massing.parts.orders.ornament import HOUSED_M


def modillion(width_m: float, length_m: float, height_m: float) -> Mesh:
    """A scrolled bracket hanging from z = 0, its root on y = 0, reaching to -Y.

    Deep at the wall, shallow at the outer end, with a roll at each and a leaf beneath.
    """
    t = np.linspace(0.0, 1.0, 17)
    front, back = 0.42 * height_m, 0.96 * height_m
    belly = bezier(
        [(0.0, -back), (0.5 * length_m, -back), (0.45 * length_m, -0.55 * front),
         (0.86 * length_m, -front)],
        t,
    )  # fmt: skip
    nose = 0.14 * length_m
    curl = np.linspace(-np.pi / 2.0, np.pi / 2.0, 9)
    roll = np.column_stack(
        [0.86 * length_m + nose * np.cos(curl), -front / 2.0 + front / 2.0 * np.sin(curl)]
    )
    outline = np.concatenate(
        [[[0.0, 0.0], [-HOUSED_M, 0.0], [-HOUSED_M, -back]], belly[1:], roll[1:]]
    )
    body = prism(outline, (width_m / 2.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0), width_m)
    rolls = [
        _roll(0.42 * front, width_m, (0.86 * length_m, front / 2.0)),
        _roll(0.36 * back, width_m, (0.42 * back, 0.52 * back)),
    ]
    # the leaf lies along the underside: it grows outwards and faces down
    flat = 40.0 * width_m
    size = (0.84 * length_m, 0.84 * width_m, 0.5 * front, 0.3 * front)
    leaf = BellLeaf(*size, flat, detail=0.5).mesh()
    fall = np.arctan2(back - front, 0.86 * length_m)
    c, s = np.cos(fall), np.sin(fall)
    lay = frame(
        (0.0, flat * s - 0.03 * length_m, flat * c - back),
        (1.0, 0.0, 0.0),
        (0.0, s, c),
        (0.0, -c, s),
    )
    return merged([body, *rolls, leaf.moved(lay)])


def _roll(radius_m: float, width_m: float, centre: tuple[float, float]) -> Mesh:
    """A roll across a bracket, standing a little proud of its two sides with a turned end.

    ``centre`` is its distance (out, down) from the bracket's root.
    """
    half, proud = width_m / 2.0, 0.04 * width_m
    end = [(1.0, half - proud), (1.0, half + 0.8 * proud), (0.9, half + 0.8 * proud), (0.7, half),
           (0.45, half + proud), (0.0, half + proud)]  # fmt: skip
    edge = np.array([(radius_m * r, x) for r, x in end])
    both = np.concatenate([(edge * [1.0, -1.0])[::-1], edge])
    out, down = centre
    turn = np.array([[0, 0, 1.0, 0], [0, 1.0, 0, -out], [-1.0, 0, 0, -down], [0, 0, 0, 1.0]])
    return lathe(both, 20).moved(turn)

"""Modillions: scrolled brackets under a corona, a leaf beneath each."""

from __future__ import annotations

import numpy as np

from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, lathe, prism
from massing.parts.orders.acanthus import bezier, leaf
from massing.parts.orders.ornament import HOUSED_M

_PROUD = 0.04  # of its width: how far a bracket's rolls stand out of its sides


def modillion(width_m: float, length_m: float, height_m: float) -> Mesh:
    """A scrolled bracket hanging from z = 0, its root on y = 0, reaching to -Y.

    Deep at the wall, shallow at the outer end, with a roll at each and a leaf beneath.
    """
    front, back = _depths(height_m)
    belly = _belly(length_m, height_m, 17)
    nose = 0.14 * length_m
    curl = np.linspace(-np.pi / 2.0, np.pi / 2.0, 9)
    roll = np.column_stack(
        [0.86 * length_m + nose * np.cos(curl), -front / 2.0 + front / 2.0 * np.sin(curl)]
    )
    outline = np.concatenate(
        [[[0.0, 0.0], [-HOUSED_M, 0.0], [-HOUSED_M, -back]], belly[1:], roll[1:]]
    )
    narrow = width_m / (1.0 + 2.0 * _PROUD)
    body = prism(outline, (narrow / 2.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0), narrow)
    rolls = [
        _roll(0.42 * front, narrow, (0.86 * length_m, front / 2.0)),
        _roll(0.36 * back, narrow, (0.42 * back, 0.52 * back)),
    ]
    return merged([body, *rolls])


def _depths(height_m: float) -> tuple[float, float]:
    """A bracket's depth at its outer end and at the wall."""
    return 0.42 * height_m, 0.96 * height_m


def _belly(length_m: float, height_m: float, steps: int) -> Floats:
    """The S of its underside ``(steps, 2)`` as (out, up), from the wall."""
    front, back = _depths(height_m)
    points = [(0.0, -back), (0.5 * length_m, -back), (0.45 * length_m, -0.55 * front),
              (0.86 * length_m, -front)]  # fmt: skip
    return bezier(points, np.linspace(0.0, 1.0, steps))


def modillion_leaf(width_m: float, length_m: float, height_m: float) -> Mesh:
    """The leaf under a :func:`modillion`, from the wall along its belly, its tip curled down."""
    front, _ = _depths(height_m)
    belly = _belly(0.92 * length_m, height_m, 40)
    end, curl = belly[-1], 0.55 * front
    turn = np.linspace(np.pi / 2.0, -0.7 * np.pi, 24)[1:]
    tip = end + [0.0, -curl] + curl * np.column_stack([np.cos(turn), np.sin(turn)])
    line = np.concatenate([belly, tip])
    run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    tangent = np.gradient(line, axis=0)
    tangent /= np.linalg.norm(tangent, axis=1)[:, None]

    def surface(across: Floats, along: Floats, lift: Floats) -> Floats:
        out, up, t_out, t_up = (
            np.interp(along, run, a) for a in (line[:, 0], line[:, 1], tangent[:, 0], tangent[:, 1])
        )
        return np.stack([across, -(out + lift * t_up), up - lift * t_out], axis=-1)

    return leaf(surface, 0.46 * width_m, float(run[-1]), 0.6)


def caisson_frame(width_m: float, inner_m: float, outer_m: float, depth_m: float) -> Mesh:
    """What parts two sunk panels of a soffit over a modillion, from the soffit at z = 0 up."""
    half = width_m / 2.0
    return box_between((-half, -outer_m, 0.0), (half, -inner_m, depth_m + HOUSED_M))


def _roll(radius_m: float, width_m: float, centre: tuple[float, float]) -> Mesh:
    """A roll across a bracket, standing a little proud of its two sides with a turned end.

    ``centre`` is its distance (out, down) from the bracket's root.
    """
    half, proud = width_m / 2.0, _PROUD * width_m
    end = [(1.0, half - proud), (1.0, half + 0.8 * proud), (0.9, half + 0.8 * proud), (0.7, half),
           (0.45, half + proud), (0.0, half + proud)]  # fmt: skip
    edge = np.array([(radius_m * r, x) for r, x in end])
    both = np.concatenate([(edge * [1.0, -1.0])[::-1], edge])
    out, down = centre
    turn = np.array([[0, 0, 1.0, 0], [0, 1.0, 0, -out], [-1.0, 0, 0, -down], [0, 0, 0, 1.0]])
    return lathe(both, 20).moved(turn)

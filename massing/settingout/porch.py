"""The porch in plan: where its frieze runs, where it meets the house, what it covers."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from massing.design.porch import PorchDesign, SemicircularPorch, WrappedPorch
from massing.geometry.mesh import Floats
from massing.geometry.solids import offset_directions
from massing.practice.defaults import default
from massing.practice.joinery_sizes import FRIEZE_BOARD_M, PILASTER_OF_WIDTH
from massing.units import whole_steps

__all__ = [
    "FRIEZE_BOARD_M",
    "break_plans",
    "breaking_forward",
    "entablature_path",
    "flat_fall",
    "frieze_path",
    "joints",
    "on_step_along",
    "path_before",
]

_ARC_STEPS = 64
_TOUCH_M = 1e-6


def on_step_along(porch: PorchDesign, x_m: float, step_m: float) -> float:
    """A place along a porch's front on the builder's fraction.

    Taken from the porch's own middle, which is on a step itself, so that its bays are written
    alike to both sides of it wherever it stands.
    """
    beside = whole_steps(x_m - porch.centre_m, step_m)
    return (whole_steps(porch.centre_m, step_m) + beside) * step_m


def frieze_path(porch: PorchDesign, inset_m: float = 0.0) -> Floats:
    """The frieze's foremost face ``(k, 2)``, from the wall's left round the front to its right.

    ``inset_m`` moves it inwards. Outwards is to the right of travel.
    """
    if isinstance(porch, SemicircularPorch):
        turn = np.linspace(np.pi, 0.0, _ARC_STEPS + 1)
        arc = np.column_stack([np.cos(turn), -np.sin(turn)]) * (porch.half_width_m - inset_m)
        arc[[0, -1], 1] = 0.0
        return arc + [porch.centre_m, 0.0]
    if isinstance(porch, WrappedPorch):
        return _wrapped_path(porch, inset_m)
    x, middle = porch.half_width_m - inset_m, porch.centre_m
    y = porch.column_y_m - porch.frieze_half_depth_m + inset_m
    left, right = middle - x, middle + x
    return np.array([(left, 0.0), (left, y), (right, y), (right, 0.0)])


def _wrapped_path(porch: WrappedPorch, inset_m: float) -> Floats:
    """The same round the corners that it goes round, home to the side walls."""
    left, right = (x + s * inset_m for x, s in zip(porch.frieze_x_m, (1.0, -1.0), strict=True))
    y = porch.column_y_m - porch.frieze_half_depth_m + inset_m
    back = porch.wrap_m + porch.frieze_half_depth_m - inset_m
    half = porch.house_half_m
    start = [(-half, back), (left, back)] if porch.goes_round("left") else [(left, 0.0)]
    end = [(right, back), (half, back)] if porch.goes_round("right") else [(right, 0.0)]
    return np.array([*start, (left, y), (right, y), *end])


def wrapped_rooms(ring: Floats, porch: WrappedPorch) -> list[tuple[Floats, Floats]]:
    """Low and high corners of the rectangles within a path round corners: the front's, the sides'.

    ``ring`` is the path (:func:`frieze_path`), by as much inset as is wanted.
    """
    low, high = ring.min(axis=0), ring.max(axis=0)
    half = porch.house_half_m
    rooms = [(low, np.array([high[0], 0.0]))]
    if porch.goes_round("left"):
        rooms.append((np.array([low[0], 0.0]), np.array([-half, high[1]])))
    if porch.goes_round("right"):
        rooms.append((np.array([half, 0.0]), high))
    return rooms


def floor_plans(porch: PorchDesign) -> list[tuple[float, float, float, float]]:
    """Plans (low x, low y, high x, high y) of its floor: before the front, and along the sides."""
    edge, front = porch.floor_edge_m, porch.column_y_m - porch.floor_edge_m
    if not isinstance(porch, WrappedPorch):
        middle, x = porch.centre_m, porch.reach_m + edge
        return [(middle - x, front, middle + x, 0.0)]
    low, high = porch.axes_m[0] - edge, porch.axes_m[-1] + edge
    half, back = porch.house_half_m, porch.wrap_m + edge
    plans = [(low, front, high, 0.0)]
    if porch.goes_round("left"):
        plans.append((low, 0.0, -half, back))
    if porch.goes_round("right"):
        plans.append((half, 0.0, high, back))
    return plans


def entablature_path(porch: PorchDesign, inset_m: float = 0.0) -> Floats:
    """The frieze's face as it is built: :func:`frieze_path`, or stepping back between columns."""
    if not porch.breaks_forward_m:
        return frieze_path(porch, inset_m)
    receded = frieze_path(porch, inset_m + porch.breaks_forward_m)
    plans = break_plans(porch) + np.array([[inset_m], [-inset_m]])
    return breaking_forward(receded, plans, porch.breaks_forward_m)


def break_plans(porch: PorchDesign) -> Floats:
    """What stands forward under an entablature that breaks: ``(m, 2, 2)`` low and high corners.

    One for each column, each couple, and each respond.
    """
    half = porch.frieze_half_depth_m
    plans = [
        (np.min(group, axis=0) - half, np.max(group, axis=0) + half) for group in porch.couples_m
    ]
    if porch.responds != "none":
        out = half if porch.responds == "half columns" else 2.0 * half * PILASTER_OF_WIDTH
        for end in (half - porch.half_width_m, porch.half_width_m - half):
            x = porch.centre_m + end
            plans.append((np.array([x - half, -out]), np.array([x + half, out])))
    return np.array(plans)


def breaking_forward(path: ArrayLike, plans: ArrayLike, forward_m: float) -> Floats:
    """A path that steps out round what stands before it, for an entablature that breaks forward.

    Args:
        path: ``(k, 2)`` the face between the columns; outwards is to the right.
        plans: ``(m, 2, 2)`` low and high plan corners of what it steps out round, each as far
            before the path as the step. Those that meet or overlap share a step.
        forward_m: how far it steps out.

    Returns:
        The points of the broken path.

    Raises:
        ValueError: a step reaches a corner on one side of it only.
    """
    path = np.asarray(path, dtype=float)
    corners = forward_m * offset_directions(path)
    points: list[Floats] = []
    ended = None
    for i, (start, end) in enumerate(pairwise(path)):
        length = float(np.linalg.norm(end - start))
        along = (end - start) / length
        out = forward_m * np.array([along[1], -along[0]])
        steps = _stretches(start, along, length, plans, forward_m)
        starts = bool(steps) and steps[0][0] < _TOUCH_M
        if ended not in (None, starts):
            raise ValueError("a projection reaches a corner on one side of it only")
        ended = bool(steps) and steps[-1][1] > length - _TOUCH_M
        points.append(path[i] + corners[i] * starts)
        for a, b in steps:
            if a > _TOUCH_M:
                points += [start + a * along, start + a * along + out]
            if b < length - _TOUCH_M:
                points += [start + b * along + out, start + b * along]
    points.append(path[-1] + corners[-1] * bool(ended))
    return np.array(points)


def _stretches(
    start: Floats, along: Floats, length_m: float, plans: ArrayLike, forward_m: float
) -> list[tuple[float, float]]:
    """From where to where along a straight part of a path something stands before it."""
    boxes = np.asarray(plans, dtype=float).reshape(-1, 2, 2)
    corners = np.stack([boxes[:, [0, 0, 1, 1], 0], boxes[:, [0, 1, 0, 1], 1]], axis=-1)
    offset = corners - start
    station = offset @ along
    before = (offset @ np.array([along[1], -along[0]])).max(axis=1) > forward_m - _TOUCH_M
    found = [(float(s.min()), float(s.max())) for s in station[before]]
    merged: list[tuple[float, float]] = []
    for a, b in sorted((max(a, 0.0), min(b, length_m)) for a, b in found):
        if b - a < _TOUCH_M:
            continue
        if merged and a < merged[-1][1] + _TOUCH_M:
            merged[-1] = (merged[-1][0], max(b, merged[-1][1]))
        else:
            merged.append((a, b))
    return merged


def path_before(porch: PorchDesign, back_y_m: float, inset_m: float = 0.0) -> Floats:
    """The entablature's path cut off at a line along the front, ``back_y_m`` (not above 0)."""
    path = entablature_path(porch, inset_m)
    before = np.flatnonzero(path[:, 1] < back_y_m - 1e-6)
    left, right = path[before[0] - 1, 0], path[before[-1] + 1, 0]
    if isinstance(porch, SemicircularPorch):
        half = float(np.sqrt((path[0, 0] - porch.centre_m) ** 2 - back_y_m**2))
        left, right = porch.centre_m - half, porch.centre_m + half
    within = path[before]
    return np.concatenate([[(left, back_y_m)], within, [(right, back_y_m)]])


def flat_fall(porch: PorchDesign, *, under_eaves: bool) -> float:
    """Rise over run of a flat porch roof, from its front edge back to the house.

    The book's fall; half of it where the flat runs in under the house's eaves, which leave no
    more room; none over a semicircular porch.
    """
    if isinstance(porch, SemicircularPorch):
        return 0.0
    return default("roof.flat_fall_at_eaves") if under_eaves else default("roof.flat_fall")


def joints(porch: PorchDesign) -> Floats:
    """Where the porch's frieze face meets that of the house's front, left and right."""
    return path_before(porch, -FRIEZE_BOARD_M)[[0, -1]]


def porch_reach_m(porch: PorchDesign) -> float:
    """Middle of a porch to the farthest of its cornice, its floor and its steps."""
    eaves = porch.half_width_m + porch.order.cornice_projection_m
    flight = porch.flight.width_m / 2.0 if porch.flight else 0.0
    return max(eaves, porch.end_axis_m + porch.floor_edge_m, flight)

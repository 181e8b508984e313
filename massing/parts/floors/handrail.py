"""Handrails beside a straight flight: newels, graspable rail, bars under it.

Local codes decide whether, where and how high.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from massing.design.opening import StepsDesign
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, lathe, loft, prism, translations
from massing.parts.part import Part
from massing.practice.joinery_sizes import NOSING_M, RAIL_HEIGHT_M, joinery_size
from massing.units import INCH_M

KINDS = ("iron", "wood")
RAIL_GAP_M = 4.0 * INCH_M  # bar to bar, under the 4 3/8 in sphere of IRC R312.1.3 exc.: read
_CLEAR_M = joinery_size("floor.newel_clear")
_FOOT_RAIL_OVER_NOSINGS_M = joinery_size("floor.foot_rail")
_HOUSED_M = 0.004


@dataclass(frozen=True)
class _Sizes:
    """Common practice, no source, but for the grip."""

    newel_m: float
    grip_m: tuple[float, float]  # width and height of the rail
    foot_rail_m: tuple[float, float]
    bar_m: float
    role: str


# A round grip is 1 1/4 to 2 in across (IRC R311.7.8.5, type I: from memory).
_SIZES = {
    "iron": _Sizes(
        1.5 * INCH_M,
        (1.5 * INCH_M, 1.5 * INCH_M),
        (1.0 * INCH_M, 0.5 * INCH_M),
        0.625 * INCH_M,
        "metal",
    ),
    "wood": _Sizes(
        3.5 * INCH_M,
        (1.5 * INCH_M, 2.0 * INCH_M),
        (1.5 * INCH_M, 1.5 * INCH_M),
        1.25 * INCH_M,
        "trim",
    ),
}


def handrail(design: StepsDesign, floor_z_m: float, edge_y_m: float, kind: str) -> list[Part]:
    """A rail each side of a flight that :func:`massing.parts.floors.steps.steps` builds alike.

    The lower newel stands over the lowest riser, the upper one on the floor behind its nosing;
    the rail runs 35 in over the line of the nosings.

    Args:
        design: the flight; two risers or more.
        floor_z_m, edge_y_m: the floor's height and the place of its nosing.
        kind: iron or wood.

    Raises:
        ValueError: an unknown kind, a single riser, or a flight too narrow for two rails.
    """
    if kind not in _SIZES:
        raise ValueError(f"{kind!r} is not a handrail; allowed: {', '.join(KINDS)}")
    sizes = _SIZES[kind]
    x = design.width_m / 2.0 - _CLEAR_M - sizes.newel_m / 2.0
    if design.risers < 2 or x < 12.0 * INCH_M:
        raise ValueError("a handrail needs two risers and a flight of 3 ft or so")
    slope = design.riser_m / design.tread_m
    first_z = floor_z_m - (design.risers - 1) * design.riser_m
    first_y = edge_y_m - (design.risers - 1) * design.tread_m

    def nosing(y: float) -> float:
        return first_z + (y - first_y) * slope

    half = sizes.newel_m / 2.0
    feet = [
        (first_y + max(NOSING_M, half + _HOUSED_M), first_z),
        (edge_y_m + NOSING_M + half, floor_z_m),
    ]
    (low_y, _), (high_y, _) = feet
    start, end = low_y + half - _HOUSED_M, high_y - half + _HOUSED_M
    steep = float(np.hypot(1.0, slope))
    grip_low = RAIL_HEIGHT_M - sizes.grip_m[1] * steep
    foot_top = _FOOT_RAIL_OVER_NOSINGS_M + sizes.foot_rail_m[1] * steep
    rails = [
        _run(_grip(sizes.grip_m, round_=kind == "iron"), start, end, nosing, RAIL_HEIGHT_M, steep),
        _run(_flat(sizes.foot_rail_m), start, end, nosing, foot_top, steep),
    ]
    room = high_y - low_y - sizes.newel_m
    count = max(1, int(np.ceil((room - RAIL_GAP_M) / (RAIL_GAP_M + sizes.bar_m) - 1e-9)))
    gap = (room - count * sizes.bar_m) / (count + 1)
    at = low_y + half + gap + (gap + sizes.bar_m) * np.arange(count)
    bar = _bar(sizes.bar_m, slope, foot_top - _HOUSED_M, grip_low + 2.0 * _HOUSED_M)
    sides = (-x, x)
    bars = [(side, y, nosing(float(y))) for side in sides for y in at]
    parts = [
        Part(
            ("steps", "rail", "rails"),
            sizes.role,
            merged(rails),
            translations([(s, 0, 0) for s in sides]),
        ),
        Part(("steps", "rail", "bars"), sizes.role, bar, translations(bars)),
    ]
    for name, (y, z) in zip(("lower", "upper"), feet, strict=True):
        newel = _newel(sizes.newel_m, nosing(y) + RAIL_HEIGHT_M - z + 1.5 * INCH_M, kind)
        places = translations([(side, y, z) for side in sides])
        parts.append(Part(("steps", "rail", f"{name} newels"), sizes.role, newel, places))
    return parts


def _grip(size_m: tuple[float, float], *, round_: bool) -> Floats:
    """Section of a rail ``(n, 2)``: x, and height from its top."""
    wide, tall = size_m
    turn = np.linspace(0.0, 2.0 * np.pi, 24, endpoint=False)
    if round_:
        return np.column_stack([np.cos(turn) * wide, np.sin(turn) * tall - tall]) / 2.0
    # A flat oval: half rounds of the width over and under an upright middle.
    r = wide / 2.0
    x, z = r * np.cos(turn), r * np.sin(turn)
    return np.column_stack([x, z + np.where(z >= -1e-9, 0.0, 2.0 * r - tall) - r])


def _flat(size_m: tuple[float, float]) -> Floats:
    wide, tall = size_m
    return np.array([(wide / 2, -tall), (wide / 2, 0.0), (-wide / 2, 0.0), (-wide / 2, -tall)])


def _run(
    section: Floats,
    start_y: float,
    end_y: float,
    nosing: Callable[[float], float],
    top_m: float,
    steep: float,
) -> Mesh:
    """A section along the slope, its ends upright."""
    rings = []
    for y in (start_y, end_y):
        z = nosing(y) + top_m + section[:, 1] * steep
        rings.append(np.column_stack([section[:, 0], np.full(len(section), y), z]))
    return loft(np.array(rings))


def _bar(wide_m: float, slope: float, low_m: float, high_m: float) -> Mesh:
    """An upright bar cut to the slope at both ends, its first face on y = 0."""
    rise = slope * wide_m
    section = [(0.0, low_m), (wide_m, low_m + rise), (wide_m, high_m + rise), (0.0, high_m)]
    return prism(section, (-wide_m / 2, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), wide_m)


def _newel(wide_m: float, height_m: float, kind: str) -> Mesh:
    half = wide_m / 2.0
    post = box_between((-half, -half, 0.0), (half, half, height_m))
    if kind == "wood":
        cap = [(1.25 * half, 0.0), (1.45 * half, 0.4 * half), (1.45 * half, 0.7 * half)]
        block = loft(
            [
                [(-a, -a, z), (a, -a, z), (a, a, z), (-a, a, z)]
                for a, z in [*cap, (0.2 * half, 1.3 * half)]
            ]
        )
        return merged([post, block.shifted(z_m=height_m - _HOUSED_M / 4.0)])
    turn = np.linspace(-0.45 * np.pi, 0.5 * np.pi, 9)
    radius = 0.75 * wide_m
    ball = np.column_stack([np.cos(turn), np.sin(turn)]) * radius
    ball[-1, 0] = 0.0
    ball[:, 1] += height_m + radius * np.sin(0.45 * np.pi) - _HOUSED_M / 4.0
    return merged([post, lathe(ball, 16)])

"""A masonry flight between cheek walls. Local codes decide on risers, treads and rails."""

from __future__ import annotations

import numpy as np

from massing.design.opening import StepsDesign
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, prism, sweep
from massing.parts.part import Part
from massing.practice.joinery_sizes import (
    CHEEK_WIDTH_M,
    FOUNDATION_PROJECTION_M,
    NOSING_M,
    PAVING_M,
    joinery_size,
)

_CAP_OF_RISER = 0.6
_CAP_OVERHANG_M = joinery_size("floor.cap_overhang")


def steps(design: StepsDesign, floor_z_m: float, edge_y_m: float) -> list[Part]:
    """A flight from the ground to a floor whose nosing stands at ``edge_y_m``, about x = 0.

    The top riser stands under the floor's own edge, so the flight has one tread fewer than
    risers. ``design.width_m`` is the clear width between the cheek walls. The flight's foot is
    at ``design.foot_z_m``.

    Raises:
        ValueError: the risers do not add up to the floor, or leave no room for a tread stone.
    """
    n, riser, going = design.risers, design.riser_m, design.tread_m
    foot_z, rise = design.foot_z_m, floor_z_m - design.foot_z_m
    if n < 1 or abs(n * riser - rise) > 1e-6:
        raise ValueError(
            f"{n} risers of {riser:.4f} m make {n * riser:.4f} m; allowed: {rise:.4f} m, "
            "the floor's height over the flight's foot"
        )
    if n == 1:
        return []
    stone = PAVING_M
    if riser <= stone or going <= 2.0 * NOSING_M:
        raise ValueError(f"steps of {riser:.3f} by {going:.3f} m leave no room for tread stones")
    half, back = design.width_m / 2.0, edge_y_m + NOSING_M
    blocks, treads = [], []
    for k in range(1, n):
        face = back - (n - k) * going
        top = foot_z + k * riser
        blocks.append(box_between((-half, face, top - riser), (half, back, top - stone)))
        treads.append(_tread(face - NOSING_M, back, top, half))
    foot = back - (n - 1) * going
    parts = [
        Part(("steps", "risers"), "stone", merged(blocks)),
        Part(("steps", "treads"), "stone", merged(treads)),
    ]
    # Level cheeks stop one tread short of the foot, so that the lowest tread comes forward.
    front = foot + (going if n > 2 else 0.0)
    return parts + _cheeks(half, front, back, foot_z, floor_z_m, _CAP_OF_RISER * riser)


def _tread(front_m: float, back_m: float, top_z_m: float, half_m: float) -> Mesh:
    """A tread stone with a half-round nosing."""
    radius = PAVING_M / 2.0
    angle = np.radians(np.linspace(90.0, 270.0, 9))
    nose = np.column_stack([radius * np.cos(angle), radius * np.sin(angle)])
    nose += [front_m + radius, top_z_m - radius]
    section = np.concatenate([nose, [(back_m, top_z_m - PAVING_M), (back_m, top_z_m)]])
    return prism(section, (-half_m, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), 2.0 * half_m)


def _cheeks(
    half_m: float, front_m: float, back_m: float, foot_z_m: float, top_z_m: float, cap_m: float
) -> list[Part]:
    """A block each side, capped level with the floor; the cap butts the floor's edge."""
    walls, caps = [], []
    for side in (-1.0, 1.0):
        x = sorted((side * half_m, side * (half_m + CHEEK_WIDTH_M)))
        bed = top_z_m - cap_m
        walls.append(box_between((x[0], front_m, foot_z_m), (x[1], back_m, bed)))
        out = _CAP_OVERHANG_M
        low, high = (x[0] - out, front_m - out, bed), (x[1] + out, back_m - NOSING_M, top_z_m)
        caps.append(box_between(low, high))
    return [
        Part(("steps", "cheek walls"), "stone", merged(walls)),
        Part(("steps", "cheek caps"), "stone", merged(caps)),
    ]


def round_steps(
    design: StepsDesign, floor_z_m: float, radius_m: float, half_turn_rad: float = np.pi
) -> list[Part]:
    """Concentric steps round a semicircular floor whose nosing has ``radius_m``.

    They go all round, or ``half_turn_rad`` to either side of the middle.

    Raises:
        ValueError: the risers do not add up to the floor.
    """
    n, riser, going = design.risers, design.riser_m, design.tread_m
    rise = floor_z_m - design.foot_z_m
    if abs(n * riser - rise) > 1e-6:
        raise ValueError(f"{n} risers of {riser:.4f} m do not make {rise:.4f} m")
    inner = radius_m - NOSING_M
    start = np.arcsin(FOUNDATION_PROJECTION_M / inner)
    whole = half_turn_rad > np.pi / 2.0 - start
    half = np.pi / 2.0 - start if whole else half_turn_rad
    turn = np.linspace(np.pi / 2.0 + half, np.pi / 2.0 - half, 97)
    path = inner * np.column_stack([np.cos(turn), -np.sin(turn)])
    behind = list(path[[0, -1]] + [0.0, 1.0]) if whole else [None, None]
    rings, nose = [], _nosing()
    for k in range(1, n):
        out, top = (n - k) * going, design.foot_z_m + k * riser
        face = [
            (0.0, top - riser),
            (out, top - riser),
            (out, top - PAVING_M),
            (0.0, top - PAVING_M),
        ]
        tread = np.concatenate([[(0.0, top - PAVING_M)], nose + [out, top], [(0.0, top)]])
        rings += [sweep(s, path, before=behind[0], after=behind[1]) for s in (face, tread)]
    return [Part(("steps", "rings"), "stone", merged(rings))] if rings else []


def _nosing() -> Floats:
    """Half-round edge of a tread ``(n, 2)`` as (out, up) from its riser's face and its top."""
    radius = PAVING_M / 2.0
    angle = np.radians(np.linspace(-90.0, 90.0, 9))
    round_ = radius * np.column_stack([np.cos(angle), np.sin(angle)])
    return round_ + [NOSING_M - radius, -radius]

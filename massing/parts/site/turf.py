"""Blades of grass for the lawn near an eye: a patch of turf that is laid again and again.

Sizes are those of a mown lawn, common practice, no source. Fewer blades than grow stand in a patch,
the wider the farther it lies from the eye: what counts is that they cover the ground.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from massing.geometry.mesh import Mesh

PATCH_M = 0.26  # from one patch's middle to the next one's
# To how far from the eye, metres; blades of a patch; their height and width there, metres.
TIERS: tuple[tuple[float, int, float, float], ...] = (
    (9.0, 150, 0.060, 0.0048),
    (14.0, 90, 0.042, 0.0075),
    (22.0, 60, 0.026, 0.0120),
)


@lru_cache(maxsize=8)
def turf(tier: int) -> Mesh:
    """A patch about the origin of one of :data:`TIERS`: each blade bends once; open.

    The blades stand over a round a little wider than the patch, so that no joint shows.
    """
    _, count, tall, wide = TIERS[tier]
    rng = np.random.default_rng([31, tier])
    turn = rng.uniform(0.0, 2.0 * np.pi, count)
    out = 0.72 * PATCH_M * np.sqrt(rng.uniform(size=count))
    foot = np.column_stack([out * np.cos(turn), out * np.sin(turn), np.full(count, -0.004)])
    height = tall * rng.uniform(0.55, 1.15, count)
    face = rng.uniform(0.0, 2.0 * np.pi, count)
    side = np.column_stack([np.cos(face), np.sin(face), np.zeros(count)])
    way = rng.uniform(0.0, 2.0 * np.pi, count)
    lean = rng.uniform(0.1, 0.75, count)[:, None] * height[:, None]
    lean = lean * np.column_stack([np.cos(way), np.sin(way), np.zeros(count)])
    half = 0.5 * wide * rng.uniform(0.7, 1.25, count)[:, None] * side
    up = height[:, None] * np.array([0.0, 0.0, 1.0])
    knee = foot + 0.55 * up + 0.3 * lean
    tip = foot + up + lean
    corners = np.stack(
        [foot - half, foot + half, knee + 0.8 * half, knee - 0.8 * half, tip], axis=1
    )
    first = 5 * np.arange(count)[:, None]
    faces = np.concatenate([first + [0, 1, 2], first + [0, 2, 3], first + [3, 2, 4]])
    return Mesh(corners.reshape(-1, 3), faces)

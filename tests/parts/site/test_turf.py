"""Turf: blades that cover the ground about them, in patches laid side by side."""

import numpy as np
import pytest

from massing.parts.site.turf import PATCH_M, TIERS, turf


@pytest.mark.parametrize("tier", range(len(TIERS)))
def test_a_patch_reaches_over_its_neighbours_and_no_blade_is_taller_than_a_lawn(tier: int) -> None:
    _, count, tall, _ = TIERS[tier]
    v = turf(tier).vertices
    assert len(turf(tier).faces) == 3 * count
    assert -0.01 < v[:, 2].min() < 0.0
    assert 0.9 * tall < v[:, 2].max() < 1.16 * tall
    out = np.hypot(v[:, 0], v[:, 1])
    assert 0.5 * PATCH_M < out.max() < PATCH_M


def test_blades_farther_off_are_fewer_shorter_and_wider() -> None:
    reach, count, tall, wide = map(np.array, zip(*TIERS, strict=True))
    for growing in (reach, wide, -count, -tall):
        assert (np.diff(growing) > 0).all()

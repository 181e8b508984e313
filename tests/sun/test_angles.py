from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from massing.sun.angles import (
    CONVENTIONAL_LIGHT,
    horizontal_shadow_angle,
    penumbra_width,
    shadow_depth,
    shadow_shift,
    stepped_depth,
    vertical_shadow_angle,
)
from massing.sun.position import to_house_frame

sun_angles = st.tuples(st.floats(1, 89), st.floats(-85, 85))


@given(sun_angles, st.floats(0.01, 5))
def test_shadow_of_a_point_is_where_its_ray_meets_the_wall(angles: tuple, p: float) -> None:
    sun = to_house_frame(angles[0], 180 + angles[1], 180.0)
    point = np.array([0.0, -p, 0.0])
    on_wall = point - sun * (p / -sun[1])
    assert on_wall[1] == pytest.approx(0.0, abs=1e-9)
    assert -on_wall[2] == pytest.approx(shadow_depth(p, sun))
    assert on_wall[0] == pytest.approx(shadow_shift(p, sun))


@given(sun_angles)
def test_angles_and_lengths_agree(angles: tuple) -> None:
    sun = to_house_frame(angles[0], 180 + angles[1], 180.0)
    assert np.tan(vertical_shadow_angle(sun)) == pytest.approx(shadow_depth(1.0, sun))
    assert np.tan(horizontal_shadow_angle(sun)) == pytest.approx(shadow_shift(1.0, sun), abs=1e-12)


def test_no_sun_on_the_front_gives_nan() -> None:
    behind, down = to_house_frame(30.0, 0.0, 180.0), to_house_frame(-5.0, 180.0, 180.0)
    for sun in (behind, down):
        assert np.isnan(vertical_shadow_angle(sun))
        assert np.isnan(horizontal_shadow_angle(sun))
        assert np.isnan(shadow_depth(1.0, sun))
        assert np.isnan(shadow_shift(1.0, sun))
        assert np.isnan(penumbra_width(1.0, sun))
        assert np.isnan(stepped_depth([-1.0], [3.0], [0.0], [3.0], sun)).all()


def test_arrays_broadcast() -> None:
    suns = to_house_frame(np.array([20.0, 40.0, -1.0]), 200.0, 180.0)
    assert shadow_depth(0.5, suns).shape == (3,)
    assert shadow_depth(np.array([[0.5], [1.0]]), suns).shape == (2, 3)
    assert np.isnan(shadow_depth(0.5, suns)).tolist() == [False, False, True]
    assert stepped_depth([-1.0, -0.8], [3.0, 2.9], [0.0, -0.2], [2.9, 2.9], suns).shape == (3, 2)


def test_conventional_light_is_not_writable() -> None:
    with pytest.raises(ValueError, match="read-only"):
        CONVENTIONAL_LIGHT[0] = 0.0


def test_only_edges_above_and_before_a_face_shade_it() -> None:
    face = ([0.0], [2.0])
    assert stepped_depth([0.3], [2.5], *face, CONVENTIONAL_LIGHT) == [0.0]  # behind
    assert stepped_depth([-0.3], [1.5], *face, CONVENTIONAL_LIGHT) == [0.0]  # below its top
    assert stepped_depth([-0.3], [2.5], *face, CONVENTIONAL_LIGHT) == [0.0]  # too high to reach
    assert stepped_depth([-0.8], [2.5], *face, CONVENTIONAL_LIGHT) == pytest.approx([0.3])


def test_the_lowest_of_several_edges_counts() -> None:
    both = stepped_depth([-0.8, -0.5], [2.5, 2.05], [0.0], [2.0], CONVENTIONAL_LIGHT)
    assert both == pytest.approx([0.45])


def test_a_sun_in_the_plane_of_the_front_or_on_the_horizon_does_not_light_it() -> None:
    for sun in ((1.0, 0.0, 0.5), (0.0, -1.0, 0.0)):
        assert np.isnan(shadow_depth(1.0, sun))


def test_an_edge_at_the_very_top_of_a_face_shades_it() -> None:
    level = stepped_depth([-0.4], [2.0], [0.0], [2.0], CONVENTIONAL_LIGHT)
    assert level == pytest.approx([0.4])
    a_hair_below = stepped_depth([-0.4], [2.0 - 5e-10], [0.0], [2.0], CONVENTIONAL_LIGHT)
    assert a_hair_below == pytest.approx([0.4])  # the same edge, but for rounding


def test_every_face_has_its_own_depth_under_every_sun() -> None:
    suns = to_house_frame(np.array([20.0, 40.0, 60.0, 70.0]), 200.0, 180.0)
    edges, faces = ([-1.0, -0.8, -0.2], [3.0, 2.9, 2.95]), ([0.0, -0.3], [2.9, 2.5])
    together = stepped_depth(*edges, *faces, suns)
    for i, sun in enumerate(suns):
        for j, (y, top) in enumerate(zip(*faces, strict=True)):
            rays = [
                top - z + (y - e) * sun[2] / -sun[1]
                for e, z in zip(*edges, strict=True)
                if e < y and z >= top
            ]
            assert together[i, j] == pytest.approx(max([0.0, *rays]), abs=1e-12)

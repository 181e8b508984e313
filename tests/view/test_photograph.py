"""Cameras are found again from what they saw."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from massing.geometry.mesh import Floats
from massing.view.camera import Camera
from massing.view.photograph import bent, solve_camera, straightened, sun_by_shadow

SIZE = (1600, 1067)
# Of a front 12 m wide: wall, eaves, a porch 2.4 m deep, its steps, a ridge.
HOUSE = np.array(
    [
        (-6.0, 0.0, 0.6),
        (6.0, 0.0, 0.6),
        (-6.0, 0.0, 6.8),
        (6.0, 0.0, 6.8),
        (-3.0, -2.4, 0.6),
        (3.0, -2.4, 0.6),
        (-3.0, -2.4, 4.1),
        (3.0, -2.4, 4.1),
        (-3.5, 4.5, 9.6),
        (0.0, 0.0, 5.6),
    ]
)


def taken(
    turn_deg: float, away_m: float, focal_mm: float, tilt_deg: float, roll_deg: float
) -> Camera:
    turn = np.radians(turn_deg)
    return Camera(
        "photograph",
        "perspective",
        (away_m * float(np.sin(turn)), -away_m * float(np.cos(turn)), 1.62),
        yaw_rad=float(turn) + 0.03,
        pitch_rad=float(np.radians(tilt_deg)),
        focal_mm=focal_mm,
        width_px=SIZE[0],
        height_px=SIZE[1],
        roll_rad=float(np.radians(roll_deg)),
    )


def seen_by(camera: Camera, bend: float = 0.0, points: Floats = HOUSE) -> Floats:
    return bent(camera.project(points), camera, bend)


@settings(deadline=None, max_examples=12)
@example(0.0, 22.0, 28.0, 6.0, 0.0, 0.0)
@given(
    st.floats(-50.0, 50.0),
    st.floats(18.0, 45.0),
    st.floats(22.0, 60.0),
    st.floats(-2.0, 10.0),
    st.floats(-3.0, 3.0),
    st.floats(-0.12, 0.06),
)
def test_the_camera_is_found_again(
    turn: float, away: float, focal: float, tilt: float, roll: float, bend: float
) -> None:
    """Focal length to 0.5 %, place to 2 cm, every point within a pixel; with a lens's bend too."""
    camera = taken(turn, away, focal, tilt, roll)
    found = solve_camera(seen_by(camera, bend), HOUSE, SIZE)
    assert found.camera.focal_mm == pytest.approx(focal, rel=0.005)
    assert np.linalg.norm(np.subtract(found.camera.position_m, camera.position_m)) < 0.02
    assert found.misses_px.max() < 1.0
    assert found.bend == pytest.approx(bend, abs=0.002)


def test_six_points_are_enough_for_a_straight_lens_and_five_are_not() -> None:
    camera = taken(25.0, 24.0, 32.0, 5.0, 1.0)
    found = solve_camera(seen_by(camera)[2:8], HOUSE[2:8], SIZE)
    assert np.linalg.norm(np.subtract(found.camera.position_m, camera.position_m)) < 0.02
    with pytest.raises(ValueError, match="6 known points or more, not 5"):
        solve_camera(seen_by(camera)[:5], HOUSE[:5], SIZE)


def test_a_vertical_and_a_width_are_enough_with_the_horizon() -> None:
    camera = taken(32.0, 24.0, 32.0, 4.0, 0.0)
    points = HOUSE[[0, 2, 1, 3]]
    level = SIZE[1] / 2.0 + 32.0 / 36.0 * SIZE[0] * np.tan(np.radians(4.0))
    found = solve_camera(seen_by(camera, points=points), points, SIZE, horizon_px=float(level))
    assert np.linalg.norm(np.subtract(found.camera.position_m, camera.position_m)) < 0.02
    assert found.camera.focal_mm == pytest.approx(32.0, rel=0.005)


@pytest.mark.parametrize("wrong", [0, 4, 9])
def test_a_wrong_point_is_named_and_left_out(wrong: int) -> None:
    camera = taken(-20.0, 26.0, 35.0, 5.0, 0.5)
    pixels = seen_by(camera) + np.random.default_rng(3).normal(0.0, 0.3, (len(HOUSE), 2))
    pixels[wrong] += (45.0, -30.0)
    found = solve_camera(pixels, HOUSE, SIZE)
    assert found.bad == (wrong,)
    assert found.misses_px[wrong] > 40.0
    assert found.miss_px < 1.0


def test_a_wall_seen_square_tells_no_lens() -> None:
    wall = np.array([(x, 0.0, z) for x in (-6.0, -1.0, 6.0) for z in (0.6, 6.8)])
    camera = taken(0.0, 24.0, 32.0, 0.0, 0.0)
    square = Camera(**{**camera.to_json(), "yaw_rad": 0.0})
    with pytest.raises(ValueError, match="off the wall's face"):
        solve_camera(seen_by(square, points=wall), wall, SIZE)


def test_a_straightened_photograph_has_its_points_where_the_pinhole_sees_them() -> None:
    camera = taken(15.0, 24.0, 30.0, 4.0, 0.0)
    found = solve_camera(seen_by(camera, -0.1), HOUSE, SIZE)
    where = straightened(SIZE, found)
    right, down = found.camera.project(HOUSE[[9]])[0]
    assert where[int(down), int(right)] == pytest.approx(seen_by(camera, -0.1)[9], abs=1.5)


@pytest.mark.parametrize("bend", [-0.12, 0.0, 0.06])
def test_a_place_unbent_and_bent_again_is_itself(bend: float) -> None:
    camera = taken(15.0, 24.0, 30.0, 4.0, 0.0)
    found = replace(solve_camera(seen_by(camera), HOUSE, SIZE), bend=bend)
    places = np.array([(0.0, 0.0), (800.0, 533.5), (1600.0, 1067.0), (31.0, 900.0)])
    assert bent(found.straight(places), found.camera, bend) == pytest.approx(places, abs=1e-6)


def test_a_shadow_gives_the_sun() -> None:
    """An edge 0.5 m before a wall, its shadow 0.5 m lower straight below: 45 degrees up."""
    assert sun_by_shadow((0, -0.5, 3.0), (0, 0, 2.5)) == pytest.approx((0, -(0.5**0.5), 0.5**0.5))
    with pytest.raises(ValueError, match="lower"):
        sun_by_shadow((0, 0, 2.0), (0, 0, 2.5))

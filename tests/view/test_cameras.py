"""Cameras against plain trigonometry."""

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from massing.view.camera import SENSOR_WIDTH_MM, Camera
from massing.view.cameras import VIEWS, camera_for, looking
from massing.view.framing import EYE_HEIGHT_M, LEAST_FILL, box_corners

BOUNDS = np.array([[-7.0, -4.0, -0.3], [7.0, 10.0, 9.5]])
FOCUS = {
    "porch": np.array([[-4.5, -4.0, 0.0], [4.5, 0.0, 5.4]]),
    "capital": np.array([[-4.0, -3.0, 4.0], [4.0, -3.0, 4.0]]),
    "entablature": np.array([[-4.7, -3.7, 4.0], [4.7, 0.0, 5.2]]),
}


def test_perspective_projection_is_the_pinhole() -> None:
    camera = Camera("x", "perspective", (0.0, -10.0, 2.0), focal_mm=36.0, width_px=800)
    # 36 mm on a 36 mm frame: one metre at ten metres is a tenth of the width.
    pixel = camera.project([[1.0, 0.0, 3.0]])
    assert pixel == pytest.approx(np.array([[480.0, 500.0 - 80.0]]))


def test_points_behind_a_perspective_camera_have_no_picture() -> None:
    camera = Camera("x", "perspective", (0.0, 0.0, 0.0), focal_mm=35.0)
    assert np.isnan(camera.project([[0.0, -1.0, 0.0]])).all()


def test_shift_moves_the_frame_by_its_fraction_of_the_width() -> None:
    plain = Camera("x", "perspective", (0.0, -10.0, 2.0), focal_mm=35.0)
    moved = Camera("x", "perspective", (0.0, -10.0, 2.0), focal_mm=35.0, shift_x=0.1, shift_y=0.2)
    change = moved.project([[1.0, 2.0, 3.0]]) - plain.project([[1.0, 2.0, 3.0]])
    assert change == pytest.approx(np.array([[-160.0, 320.0]]))


def test_only_orthographic_pictures_have_a_scale() -> None:
    camera = Camera("x", "ortho", (0.0, -10.0, 2.0), ortho_width_m=20.0, width_px=1000)
    assert camera.metres_per_pixel == pytest.approx(0.02)
    two = camera.project([[0.0, 0.0, 0.0], [1.0, 5.0, 0.0]])
    assert two[1] - two[0] == pytest.approx([50.0, 0.0])
    with pytest.raises(ValueError, match="no single scale"):
        _ = Camera("street", "perspective", (0.0, 0.0, 0.0)).metres_per_pixel


@pytest.mark.parametrize("view", sorted(VIEWS))
def test_verticals_are_vertical_in_level_views(view: str) -> None:
    camera = camera_for(view, BOUNDS, focus=FOCUS)
    if camera.pitch_rad == 0.0:
        foot, head = camera.project([[2.0, 1.0, 0.0], [2.0, 1.0, 5.0]])
        assert foot[0] == pytest.approx(head[0], abs=1e-6)
        assert head[1] < foot[1]


lengths = st.floats(2.0, 60.0)


@given(
    lengths, lengths, lengths, st.floats(-30.0, 30.0), st.sampled_from([(1600, 1000), (90, 160)])
)
def test_whole_house_views_crop_nothing_and_fill_the_frame(
    width: float, depth: float, height: float, left: float, size: tuple[int, int]
) -> None:
    bounds = np.array([[left, -2.0, 0.0], [left + width, depth, height]])
    for view in WHOLE_HOUSE & VIEWS.keys():
        camera = camera_for(view, bounds, width_px=size[0], height_px=size[1], focus=FOCUS)
        pixels = camera.project(box_corners(bounds))
        low, high = pixels.min(axis=0), pixels.max(axis=0)
        assert (low > 0.0).all()
        assert (high < size).all()
        assert max((high - low) / size) > 0.75


WHOLE_HOUSE = {
    "elevation",
    "right elevation",
    "rear elevation",
    "left elevation",
    "street",
    "street left",
    "across the street",
}


def test_side_and_rear_elevations_look_at_their_own_walls() -> None:
    for view, away in (
        ("elevation", (0.0, -1.0)),
        ("right elevation", (1.0, 0.0)),
        ("rear elevation", (0.0, 1.0)),
        ("left elevation", (-1.0, 0.0)),
    ):
        camera = camera_for(view, BOUNDS)
        assert camera.axes[2, :2] == pytest.approx(-np.array(away), abs=1e-9)
        beyond = np.array(camera.position_m)[:2] - BOUNDS.mean(axis=0)[:2]
        assert beyond @ away > 0.5 * np.ptp(BOUNDS[:, :2], axis=0) @ np.abs(away)


def test_section_keeps_what_lies_beyond_the_middle_of_the_bay() -> None:
    camera = camera_for("section", BOUNDS, focus={**FOCUS, "bay": np.array([1.5, 0.0, 0.0])})
    assert camera.cut == (-1.0, 0.0, 0.0, -1.5)
    assert camera.position_m[0] > 1.5
    assert Camera.from_json(camera.to_json()) == camera
    porch = camera.project([[1.5, -4.0, 0.0], [1.5, 0.0, 5.2]])
    assert (porch > 0.0).all()
    assert (porch < [1600, 1000]).all()


def test_a_camera_of_ones_own_puts_its_target_in_the_middle() -> None:
    camera = looking("mine", (3.0, -12.0, 1.6), (-1.0, 0.0, 4.0), focal_mm=50.0)
    assert camera.project([[-1.0, 0.0, 4.0]]) == pytest.approx(np.array([[800.0, 500.0]]))
    assert camera.pitch_rad == 0.0
    with pytest.raises(ValueError, match="stands over"):
        looking("mine", (0.0, 0.0, 9.0), (0.0, 0.0, 0.0))


def test_street_view_is_taken_at_eye_height_outside_the_house() -> None:
    camera = camera_for("street", BOUNDS)
    assert camera.position_m[2] == EYE_HEIGHT_M
    assert camera.position_m[1] < BOUNDS[0, 1]
    assert camera.position_m[0] > BOUNDS[1, 0]
    assert SENSOR_WIDTH_MM / camera.focal_mm < 1.2  # under 62 degrees across: no wide-angle look


def test_close_up_holds_the_corner_capital_and_the_cornice() -> None:
    camera = camera_for("close-up", BOUNDS, focus=FOCUS)
    shown = camera.project([[4.0, -3.0, 4.0], [4.7, -3.7, 5.2], [4.0, -3.0, 3.0]])
    assert (shown > 0.0).all()
    assert (shown < [1600, 1000]).all()


def test_elevation_is_framed_alike_for_every_alternative_in_the_same_bounds() -> None:
    a = camera_for("elevation", BOUNDS)
    assert a == camera_for("elevation", BOUNDS.copy())
    assert Camera.from_json(a.to_json()) == a


def test_unknown_view_and_missing_focus_are_named() -> None:
    with pytest.raises(ValueError, match="allowed: elevation"):
        camera_for("plan", BOUNDS)
    with pytest.raises(ValueError, match="needs the focus"):
        camera_for("close-up", BOUNDS)


def test_eyes_are_five_feet_four_inches_up() -> None:
    """Common practice, no source."""
    assert pytest.approx(5 * 0.3048 + 4 * 0.0254) == EYE_HEIGHT_M


@example(31.0, 13.0, 12.5)
@example(26.0, 23.0, 12.0)
@given(st.floats(6.0, 60.0), st.floats(6.0, 30.0), st.floats(4.0, 14.0))
def test_a_street_view_has_its_horizon_about_a_third_up(
    width: float, depth: float, height: float
) -> None:
    bounds = np.array([[-width / 2.0, 0.0, 0.0], [width / 2.0, depth, height]])
    camera = camera_for("street", bounds)
    forward = np.asarray(camera.position_m) + 1e6 * camera.axes[2]
    level = 1.0 - camera.project([forward])[0, 1] / camera.height_px
    seen = camera.project(box_corners(bounds))
    low, high = seen.min(axis=0), seen.max(axis=0)
    fill = (high - low) / (camera.width_px, camera.height_px)
    assert fill.max() > 2.0 / 3.0
    assert 0.1 < level < 0.42
    # Lower than a third only where the house would else grow small in the frame both ways.
    assert level > 1.0 / 3.0 - 1e-6 or fill.max() < LEAST_FILL + 1e-6


def test_an_elevation_has_no_more_blank_earth_than_a_twenty_fifth() -> None:
    for height in (3.0, 9.5, 30.0):
        bounds = BOUNDS.copy()
        bounds[:, 2] = 0.0, height
        camera = camera_for("elevation", bounds)
        foot = camera.project([[0.0, 0.0, 0.0]])[0, 1]
        assert 1.0 - foot / camera.height_px <= 0.04 + 1e-9


def test_the_street_is_seen_from_the_side_away_from_the_sun() -> None:
    from massing.view.cameras import mean_sun_side

    right_sun = mean_sun_side([(0.5, -0.5, 0.7), (0.3, -0.6, 0.7), (0.9, 0.4, 0.2)])
    assert right_sun == pytest.approx(0.4)  # one that is not on the front does not count
    assert camera_for("street", BOUNDS, sun_side=right_sun).position_m[0] < BOUNDS[0, 0]
    assert camera_for("street", BOUNDS, sun_side=-0.4).position_m[0] > BOUNDS[1, 0]
    assert camera_for("street", BOUNDS).position_m[0] > BOUNDS[1, 0]
    assert mean_sun_side([]) == 0.0


def test_cameras_at_one_scale_show_a_metre_alike_and_keep_their_middle() -> None:
    from massing.view.cameras import at_one_scale

    near = looking("a", (0.0, -6.0, 1.6), (0.0, 0.0, 4.0), focal_mm=40.0)
    far = looking("b", (3.0, -15.0, 1.6), (0.0, 0.0, 5.0), focal_mm=35.0)
    points = [(0.0, 0.0, 4.0), (0.0, 0.0, 5.0)]
    made = at_one_scale([(near, points[0]), (far, points[1])])
    lengths_px = []
    for camera, point in zip(made, points, strict=True):
        a, b = camera.project([point, np.add(point, (0.0, 0.0, 1.0))])
        lengths_px.append(a[1] - b[1])
        assert camera.project([point])[0] == pytest.approx([800.0, 500.0])
    assert lengths_px[0] == pytest.approx(lengths_px[1], rel=1e-6)
    assert max(c.focal_mm for c in made) <= 40.0

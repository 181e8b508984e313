"""Lines, steps and corners found to a part of a pixel, and nothing where nothing is."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageDraw

from massing.edit.takeoff.snapping import Picture

FINE = 8


def picture(*lines: tuple[float, float, float, float], size=(160, 120), wide=1.0, ground=250):
    """Lines drawn eight times as fine and made smaller."""
    image = Image.new("L", (size[0] * FINE, size[1] * FINE), ground)
    pen = ImageDraw.Draw(image)
    half = wide / 2.0
    for x0, y0, x1, y1 in lines:
        if x0 == x1:
            box = (x0 - half, y0, x1 + half, y1)
        elif y0 == y1:
            box = (x0, y0 - half, x1, y1 + half)
        else:
            pen.line([v * FINE for v in (x0, y0, x1, y1)], fill=30, width=round(wide * FINE))
            continue
        pen.rectangle([v * FINE for v in box[:2]] + [v * FINE - 1 for v in box[2:]], fill=30)
    return Picture(image.resize(size, Image.Resampling.BOX))


@settings(max_examples=60, deadline=None)
@given(
    st.floats(40.0, 110.0),
    st.floats(-4.0, 4.0),
    st.floats(20.0, 100.0),
    st.sampled_from([1.0, 1.5, 2.0, 3.0]),
)
def test_a_drawn_line_is_found_to_a_quarter_of_a_pixel(at, off, along, wide):
    at = round(at * FINE) / FINE
    upright = picture((at, 0.0, at, 120.0), wide=wide).snap(at + off, along, 6.0)
    assert (upright.on_x, upright.on_y) == (True, False)
    assert upright.x == pytest.approx(at, abs=0.25)
    assert upright.y == along, "along the line a click stays"
    level = picture((0.0, at, 160.0, at), wide=wide).snap(60.0, at + off, 6.0)
    assert (level.on_x, level.on_y) == (False, True)
    assert level.y == pytest.approx(at, abs=0.25)


@pytest.mark.parametrize("edge", [50.0, 50.25, 50.5, 50.875])
def test_the_edge_of_a_tone_is_found_as_in_a_photograph(edge):
    grey = np.full((80, 100 * FINE), 200.0)
    grey[:, : round(edge * FINE)] = 90.0
    grey = grey.reshape(80, 100, FINE).mean(axis=2)
    noise = np.random.default_rng(3).normal(0.0, 4.0, grey.shape)
    found = Picture(Image.fromarray((grey + noise).clip(0, 255).astype(np.uint8))).snap(52.5, 40, 6)
    assert found.on_x
    assert found.x == pytest.approx(edge, abs=0.3)


def test_the_nearest_of_two_lines_is_meant_even_beside_a_darker_one():
    drawn = picture((60.0, 0.0, 60.0, 120.0), (67.5, 0.0, 67.5, 120.0), (67.5, 0.0, 67.5, 120.0))
    assert drawn.snap(61.5, 50.0, 10.0).x == pytest.approx(60.0, abs=0.25)
    assert drawn.snap(65.5, 50.0, 10.0).x == pytest.approx(67.5, abs=0.25)


def test_a_corner_is_where_its_lines_meet():
    drawn = picture((50.0, 0.0, 50.0, 80.0), (50.0, 80.0, 160.0, 80.0))
    found = drawn.snap(52.0, 77.5, 6.0)
    assert (found.on_x, found.on_y) == (True, True)
    assert (found.x, found.y) == pytest.approx((50.0, 80.0), abs=0.4)


def test_slanting_lines_meet_in_a_corner_too():
    drawn = picture((20.0, 90.0, 80.0, 40.0), (80.0, 40.0, 140.0, 90.0), wide=1.5)
    found = drawn.snap(82.0, 42.0, 6.0)
    assert found.on_x
    assert found.on_y
    assert (found.x, found.y) == pytest.approx((80.0, 40.5), abs=1.0)


def test_on_blank_paper_a_click_stays():
    found = picture((20.0, 0.0, 20.0, 120.0)).snap(90.0, 60.0, 8.0)
    assert (found.x, found.y, found.on_x, found.on_y) == (90.0, 60.0, False, False)
    at_the_edge = picture().snap(0.0, 119.9, 8.0)
    assert (at_the_edge.on_x, at_the_edge.on_y) == (False, False)


def posts(middles, extra=()):
    lines = [(x + side, 10.0, x + side, 110.0) for x in middles for side in (-5.0, 5.0)]
    return picture(*lines, *extra, size=(400, 120))


def test_others_like_one_are_found_and_single_lines_are_not():
    middles = [40.0, 120.25, 200.5, 355.75]
    drawn = posts(middles, [(280.0, 0.0, 280.0, 120.0)])
    box = (35.0, 30.0, 45.0, 90.0)
    assert drawn.repeats(box) == pytest.approx(middles[1:], abs=0.25)
    assert drawn.one_at(box, 203.0) == pytest.approx(200.5, abs=0.25)
    assert drawn.one_at(box, 320.0) == 320.0, "nothing is there: the hand is believed"
    assert drawn.repeats((500.0, 0.0, 510.0, 50.0)) == []

"""A photograph taken askew is made square, and its sizes are then the front's."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image

from massing.edit.takeoff.snapping import Picture
from massing.edit.takeoff.straighten import homography, straightened
from tests.helpers.takeoff import DRAWING

FOOT_PX, MIDDLE_PX, GROUND_PX = 15.0, 620.0, 606.0


def test_a_photograph_of_the_drawing_taken_askew_has_its_sizes_again():
    """The drawing as a camera would see it from the left; its corners are known by their map."""
    image = Image.open(DRAWING).convert("RGB")
    seen = [(80.0, 690.0), (1150.0, 560.0), (1120.0, 60.0), (130.0, 20.0)]
    flat = [(0.0, 700.0), (1240.0, 700.0), (1240.0, 0.0), (0.0, 0.0)]
    askew = image.transform(
        (1240, 720),
        Image.Transform.PERSPECTIVE,
        tuple((to := homography(seen, flat)).ravel()[:8]),
        Image.Resampling.BICUBIC,
        fillcolor="white",
    )
    wall = [(-33.0, 0.0), (33.0, 0.0), (33.0, 26 + 10 / 12), (-33.0, 26 + 10 / 12)]
    back = np.linalg.inv(to)
    corners = []
    for x, z in wall:
        u, v, w = back @ (MIDDLE_PX + x * FOOT_PX, GROUND_PX - z * FOOT_PX, 1.0)
        corners.append((u / w, v / w))
    made, scale = straightened(askew, corners, 66.0, 26 + 10 / 12)  # feet for metres

    picture = Picture(made)
    grey = picture.grey
    row = int(grey.shape[0] * 0.5)
    # the outermost upright lines: that of the heights' dimension, and the right corner
    rule = [x for x in range(2, made.width - 2) if grey[row - 25 : row + 25, x].mean() < 175]
    left, right = picture.snap(rule[0], row, 4).x, picture.snap(rule[-1], row, 4).x
    assert (right - left) * scale == pytest.approx(38.6 + 33.0, rel=0.002)


def test_what_is_no_rectangle_is_refused():
    image = Image.new("RGB", (200, 200))
    right = [(20.0, 180.0), (180.0, 180.0), (180.0, 20.0), (20.0, 20.0)]
    assert straightened(image, right, 16.0, 16.0)[1] == pytest.approx(0.1)
    for corners, size in (
        (right[::-1], (16.0, 16.0)),
        ([right[0], right[0], right[2], right[3]], (16.0, 16.0)),
        (right[:3], (16.0, 16.0)),
        (right, (0.0, 16.0)),
        ([(20.0, 24.0), (24.0, 24.0), (24.0, 20.0), (20.0, 20.0)], (16.0, 16.0)),
    ):
        with pytest.raises(ValueError, match="allowed: "):
            straightened(image, corners, *size)

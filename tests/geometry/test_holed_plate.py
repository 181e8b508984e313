import numpy as np
import pytest

from massing.geometry.holed_plate import holed_plate, widened


def test_the_holes_of_a_plate_open_towards_its_faces():
    square = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
    hole = 0.25 + 0.5 * square
    plain = holed_plate(square, [[hole, hole]], [0.0, 0.1])
    open_ = holed_plate(square, [[widened(hole, 0.05), hole, hole]], [0.0, 0.05, 0.1])
    assert plain.volume_m3 == pytest.approx(0.075)
    # Less a frustum ring: (0.6^2 + 0.6 x 0.5 + 0.5^2) / 3 against 0.25, 0.05 deep.
    assert open_.volume_m3 == pytest.approx(0.075 - 0.05 * ((0.36 + 0.30 + 0.25) / 3 - 0.25))

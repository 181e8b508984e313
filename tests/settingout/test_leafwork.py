from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.geometry.mesh import Part
from massing.practice.joinery_sizes import LEAF
from massing.settingout.leafwork import PATTERNS, holed_plate, leaf, lock_height, panel_holes
from tests.helpers.shapes import assert_closed

COUNTS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8}


def test_every_pattern_has_as_many_panels_as_its_name_says():
    assert set(COUNTS) == set(PATTERNS)
    for name, count in COUNTS.items():
        assert len(panel_holes(0.9, 2.1, name)) == count


def test_a_pair_shares_the_columns_of_its_pattern():
    assert len(panel_holes(0.9, 2.1, "six", leaves=2)) == 3
    assert len(panel_holes(0.9, 2.1, "two", leaves=2)) == 2


@settings(deadline=None, max_examples=60)
@given(
    width=st.floats(0.7, 1.3),
    height=st.floats(1.9, 2.8),
    pattern=st.sampled_from(sorted(PATTERNS)),
    leaves=st.sampled_from([1, 2]),
    raised=st.booleans(),
    glazed=st.booleans(),
)
def test_any_leaf_is_closed_and_holds_its_panels(width, height, pattern, leaves, raised, glazed):
    frame, panels, panes = leaf(width, height, pattern, leaves=leaves, raised=raised, glazed=glazed)
    filling = [m for m in (panels, panes) if m is not None]
    assert_closed([Part("leaf", "door", m) for m in (frame, *filling)])
    holes = panel_holes(width, height, pattern, leaves)
    assert sum(len(m.to_trimesh().split()) for m in filling) == len(holes)
    assert (panes is not None) == glazed
    assert frame.bounds[:, [0, 2]] == pytest.approx(np.array([(0.0, 0.0), (width, height)]))
    for mesh in filling:
        low, high = mesh.bounds
        assert low[0] > 0.5 * LEAF.stile_m
        assert high[0] < width - 0.5 * LEAF.stile_m
        assert low[2] > 0.5 * LEAF.bottom_rail_m
        assert high[2] < height - 0.5 * LEAF.rail_m
        assert low[1] > 0.0
        assert high[1] < LEAF.thickness_m


def test_no_panel_crosses_the_lock_rail_where_there_is_one():
    for name in PATTERNS:
        if PATTERNS[name].lower:
            middle = lock_height(2.1)
            for hole in panel_holes(0.9, 2.1, name):
                assert hole.z1_m < middle or hole.z0_m > middle


def test_panels_of_a_row_are_alike_and_rails_are_left_between():
    holes = panel_holes(0.95, 2.1, "eight")
    assert len({round(h.x1_m - h.x0_m, 9) for h in holes}) == 1
    left = sorted((h.z0_m, h.z1_m) for h in holes if h.x0_m == LEAF.stile_m)
    gaps = [b[0] - a[1] for a, b in pairwise(left)]
    assert gaps == pytest.approx([LEAF.lock_rail_m, LEAF.rail_m, LEAF.rail_m])


@pytest.mark.parametrize(
    ("width", "height", "pattern", "word"),
    [(0.9, 2.1, "nine", "allowed"), (0.4, 2.1, "six", "panelled"), (0.9, 0.8, "five", "panelled")],
)
def test_what_cannot_be_panelled_is_refused(width, height, pattern, word):
    with pytest.raises(ValueError, match=word):
        panel_holes(width, height, pattern)


def test_the_holes_of_a_plate_open_towards_its_faces():
    square = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
    hole = 0.25 + 0.5 * square
    plain = holed_plate(square, [hole], [0.0, 0.1], [0.0, 0.0])
    open_ = holed_plate(square, [hole], [0.0, 0.05, 0.1], [0.05, 0.0, 0.0])
    assert plain.volume_m3 == pytest.approx(0.075)
    # Less a frustum ring: (0.6^2 + 0.6 x 0.5 + 0.5^2) / 3 against 0.25, 0.05 deep.
    assert open_.volume_m3 == pytest.approx(0.075 - 0.05 * ((0.36 + 0.30 + 0.25) / 3 - 0.25))

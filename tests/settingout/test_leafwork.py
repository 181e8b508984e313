from itertools import pairwise

import pytest

from massing.practice.joinery_sizes import LEAF
from massing.settingout.leafwork import PATTERNS, lock_height, panel_holes

COUNTS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "eight": 8}


def test_every_pattern_has_as_many_panels_as_its_name_says():
    assert {*COUNTS, "carriage"} == set(PATTERNS)
    for name, count in COUNTS.items():
        assert len(panel_holes(0.9, 2.1, name)) == count


def test_a_pair_shares_the_columns_of_its_pattern():
    assert len(panel_holes(0.9, 2.1, "six", leaves=2)) == 3
    assert len(panel_holes(0.9, 2.1, "two", leaves=2)) == 2


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

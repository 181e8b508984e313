import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.parts.openings.leaf import leaf
from massing.parts.part import Part
from massing.practice.joinery_sizes import LEAF
from massing.settingout.leafwork import PATTERNS, panel_holes
from tests.helpers.shapes import assert_closed


@settings(deadline=None, max_examples=60)
@given(
    width=st.floats(0.7, 1.3),
    height=st.floats(1.9, 2.8),
    pattern=st.sampled_from(sorted(set(PATTERNS) - {"carriage"})),  # boards under lights
    leaves=st.sampled_from([1, 2]),
    raised=st.booleans(),
    glazed=st.booleans(),
)
def test_any_leaf_is_closed_and_holds_its_panels(width, height, pattern, leaves, raised, glazed):
    frame, panels, panes = leaf(width, height, pattern, leaves=leaves, raised=raised, glazed=glazed)
    filling = [m for m in (panels, panes) if m is not None]
    assert_closed([Part(("leaf",), "door", m) for m in (frame, *filling)])
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


def test_a_carriage_leaf_is_of_braced_boards_under_four_lights():
    frame, boards, panes = leaf(1.2, 2.2, "carriage")
    assert_closed([Part(("leaf",), "door", m) for m in (frame, boards, panes)])
    assert len(panes.to_trimesh().split()) == 4
    assert panes.bounds[0, 2] > boards.bounds[1, 2]
    assert boards.bounds[1, 1] < LEAF.thickness_m

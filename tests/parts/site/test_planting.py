import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.parts.site.planting import hedge, neighbour, tree
from tests.helpers.shapes import assert_closed, extent


def test_a_hedge_fills_its_bed():
    bush = hedge((0.0, 0.0), (4.0, 0.8), 1.1)
    assert_closed([bush])
    assert bush.mesh.bounds == pytest.approx(np.array([[0, 0, 0], [4, 0.8, 1.1]]))


@settings(deadline=None, max_examples=30)
@given(
    height=st.floats(2.0, 25.0),
    ratio=st.floats(0.3, 1.6),
    seed=st.integers(0, 99),
)
def test_a_tree_keeps_to_its_height_and_spread(height, ratio, seed):
    parts = tree(5.0, -8.0, height, ratio * height, seed)
    assert_closed(parts)
    low, high = extent(parts)
    assert low[2] == pytest.approx(0.0)
    assert 0.85 * height < high[2] <= height + 1e-9
    assert high[0] - low[0] <= ratio * height + 1e-9 or ratio < 0.35  # a thick trunk shows


def test_two_seeds_are_two_trees():
    one, other = (tree(0, 0, 9.0, 7.0, s)[1].mesh.vertices for s in (1, 2))
    assert not np.allclose(one, other)


def test_a_neighbour_stands_on_the_ground():
    parts = neighbour((10.0, 0.0), (18.0, 9.0), 5.0, 8.0)
    assert_closed(parts)
    assert extent(parts)[:, 2] == pytest.approx([0.0, 8.0])


@pytest.mark.parametrize(
    "make",
    [
        lambda: hedge((0, 0), (1, 0.1), 1.0),
        lambda: tree(0, 0, 1.0, 1.0),
        lambda: neighbour((0, 0), (5, 5), 5.0, 4.0),
    ],
)
def test_what_cannot_be_is_refused(make):
    with pytest.raises(ValueError, match=r"hedge|tree|neighbour"):
        make()

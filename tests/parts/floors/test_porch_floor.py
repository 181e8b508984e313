import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.parts.floors.ceiling import ceiling
from massing.parts.floors.porch_floor import porch_floor
from massing.parts.walls.wall import walls
from tests.helpers.house_designs import house, porch
from tests.helpers.shapes import assert_closed, body_overlaps, extent, overlaps


def test_the_floor_fills_its_plan_and_meets_the_house():
    design = porch()
    parts = porch_floor(design)
    assert_closed(parts)
    low, high = extent(parts)
    assert (low[0], high[0]) == pytest.approx((-4.95, 4.95))
    assert (low[1], low[2], high[2]) == pytest.approx((-2.85, 0.0, 0.64))
    foundation = [p for p in walls(house()) if p.role in ("foundation", "wall")]
    assert overlaps(parts + foundation) == []
    assert high[1] == pytest.approx(extent(foundation)[0, 1])


def test_stones_butt_without_overlapping():
    assert body_overlaps(porch_floor(porch(axes_m=(-1.5, 1.5)))) == []


def test_a_plinth_over_the_edge_is_refused():
    with pytest.raises(ValueError, match="plinth"):
        porch_floor(porch(floor_edge_m=0.34))


@settings(deadline=None, max_examples=40)
@given(half=st.floats(1.0, 8.0), depth=st.floats(1.2, 5.0), edge=st.floats(0.4, 0.8))
def test_any_floor_is_closed(half, depth, edge):
    assert_closed(porch_floor(porch(axes_m=(-half, half), axis_depth_m=depth, floor_edge_m=edge)))


@settings(deadline=None, max_examples=40)
@given(width=st.floats(0.5, 20.0), depth=st.floats(0.1, 5.0))
def test_a_ceiling_fills_its_rectangle(width, depth):
    parts = ceiling((0.0, -depth), (width, 0.0), 3.5)
    assert_closed(parts)
    low, high = extent(parts)
    assert (low[0], high[0], low[1], high[1]) == pytest.approx((0.0, width, -depth, 0.0))
    assert low[2] == pytest.approx(3.5)


def test_a_ceiling_without_area_is_refused():
    with pytest.raises(ValueError, match="area"):
        ceiling((0.0, 0.0), (1.0, 0.0), 3.0)

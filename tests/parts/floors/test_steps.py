import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.design.opening import StepsDesign
from massing.parts.floors.porch_floor import porch_floor
from massing.parts.floors.steps import steps
from massing.practice.joinery_sizes import CHEEK_WIDTH_M, NOSING_M
from tests.helpers.house_designs import porch
from tests.helpers.shapes import assert_closed, extent, overlaps

EDGE_Y_M = -(2.4 + 0.45)


def test_the_flight_reaches_from_the_ground_to_the_floor():
    design = porch()
    parts = steps(design.steps, design.floor_z_m, EDGE_Y_M)
    assert_closed(parts)
    low, high = extent(parts)
    assert (low[2], high[2]) == pytest.approx((0.0, 0.64))
    assert high[0] - low[0] == pytest.approx(2.6 + 2 * (CHEEK_WIDTH_M + 0.03175))
    # Three goings, then the lowest tread's nosing.
    assert low[1] == pytest.approx(EDGE_Y_M + NOSING_M - 3 * 0.32 - NOSING_M)


def test_every_riser_and_tread_is_the_same():
    design = porch()
    treads = next(p for p in steps(design.steps, 0.64, EDGE_Y_M) if p.name == "steps/treads")
    bodies = sorted((b.bounds for b in treads.mesh.to_trimesh().split()), key=lambda b: b[1, 2])
    tops = [b[1, 2] for b in bodies]
    fronts = [b[0, 1] for b in bodies]
    assert np.diff([0.0, *tops, 0.64]) == pytest.approx(0.16)
    assert np.diff([*fronts, EDGE_Y_M]) == pytest.approx(0.32)


def test_flight_and_floor_meet_without_passing_through():
    design = porch()
    flight = steps(design.steps, design.floor_z_m, EDGE_Y_M)
    assert overlaps(flight + porch_floor(design)) == []


def test_one_riser_needs_no_flight():
    assert steps(StepsDesign(2.0, 1, 0.15, 0.3), 0.15, -2.0) == []


@pytest.mark.parametrize(
    "design",
    [
        StepsDesign(2.0, 4, 0.15, 0.3),
        StepsDesign(2.0, 10, 0.064, 0.3),
        StepsDesign(2.0, 4, 0.16, 0.05),
    ],
)
def test_a_flight_that_cannot_be_is_refused(design):
    with pytest.raises(ValueError, match=r"risers|steps"):
        steps(design, 0.64, -2.0)


@settings(deadline=None, max_examples=30)
@given(
    n=st.integers(2, 9),
    riser=st.floats(0.1, 0.2),
    tread=st.floats(0.26, 0.45),
    width=st.floats(1.0, 6.0),
)
def test_any_flight_is_closed_and_apart(n, riser, tread, width):
    parts = steps(StepsDesign(width, n, riser, tread), n * riser, -2.0)
    assert_closed(parts)
    assert overlaps(parts) == []

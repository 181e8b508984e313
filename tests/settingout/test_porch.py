"""The porch in plan: where its entablature runs, breaks forward and is coupled."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.canon import fit_order
from massing.geometry.solids import signed_area
from massing.parts.orders.entablature import entablature
from massing.settingout.porch import break_plans, breaking_forward, entablature_path, frieze_path
from tests.helpers.shapes import assert_closed
from tests.resolve.test_design import design

ORDERS = ["tuscan", "doric", "mutular doric", "ionic", "corinthian", "composite"]


def squares(axes: list[tuple[float, float]], half: float) -> np.ndarray:
    middle = np.array(axes)
    return np.stack([middle - half, middle + half], axis=1)


@pytest.mark.parametrize("order", ORDERS)
def test_an_entablature_breaks_forward_over_its_columns(order: str) -> None:
    fitted = fit_order(order, diameter_m=0.5)
    half = fitted.upper_diameter_m / 2.0
    axes = [(x, -0.4) for x in (2.0, 5.0, 8.0)]
    path = breaking_forward([(0.0, 0.0), (10.0, 0.0)], squares(axes, half), 0.4 + half)
    assert len(path) == 2 + 4 * 3
    assert path[:, 1].min() == pytest.approx(-0.4 - half)
    parts = entablature(fitted, path, back_m=0.2, column_axes=axes)
    assert_closed(parts)
    low = np.min([p.world_mesh().bounds[0] for p in parts], axis=0)
    assert low[1] == pytest.approx(-0.4 - half - fitted.cornice_projection_m)


@given(
    st.lists(st.floats(0.6, 2.0), min_size=1, max_size=6),
    st.floats(0.05, 0.25),
    st.floats(0.02, 0.3),
)
def test_a_broken_path_encloses_what_it_steps_round(
    gaps: list[float], half: float, forward: float
) -> None:
    """By areas: each step adds its own width by its depth, and no more."""
    x = np.cumsum(gaps)
    start, end = (0.0, 0.0), (float(x[-1]) + 1.0, 0.0)
    plans = squares([(float(a), half - forward) for a in x], half)
    path = breaking_forward([start, end], plans, forward)
    area = abs(signed_area(path))
    assert area == pytest.approx(len(gaps) * 2.0 * half * forward)
    steps = np.diff(path, axis=0)
    assert (np.isclose(steps, 0.0).sum(axis=1) == 1).all()


def test_steps_that_meet_are_one() -> None:
    plans = squares([(1.0, -0.2), (1.5, -0.2)], 0.4)
    path = breaking_forward([(0.0, 0.0), (4.0, 0.0)], plans, 0.6)
    assert path[1:-1] == pytest.approx(np.array([(0.6, 0), (0.6, -0.6), (1.9, -0.6), (1.9, 0)]))


def test_a_step_on_one_side_of_a_corner_is_refused() -> None:
    corner = [(0.0, 2.0), (0.0, 0.0), (4.0, 0.0)]
    with pytest.raises(ValueError, match="corner"):
        breaking_forward(corner, [[(0.0, -0.3), (0.5, 0.2)]], 0.3)


BROKEN = {"breaking_forward": True, "height": "eaves"}


@pytest.mark.parametrize(
    "porch",
    [
        BROKEN,
        {**BROKEN, "responds": "half columns"},
        {**BROKEN, "order": "corinthian", "paired": True, "spacing": "6 m"},
        {**BROKEN, "side_columns": 1, "columns": 2, "spacing": "3 m"},
        {**BROKEN, "paired": True, "spacing": "6 m", "side_columns": 3, "depth": "8 m"},
    ],
)
def test_the_frieze_recedes_between_and_stands_flush_over_its_columns(porch: dict) -> None:
    made = design(porch=porch).porch
    path = entablature_path(made)
    assert path == pytest.approx(path[::-1] * [-1.0, 1.0])  # alike on both sides
    outer = frieze_path(made)
    for step in np.diff(path, axis=0):
        assert np.isclose(step, 0.0).any()  # square to the house throughout
    # all of it lies on the foremost face or as far behind it as the break
    for a, b in pairwise(path):
        middle = (a + b) / 2.0
        depths = (made.half_width_m - abs(middle[0]), middle[1] - outer[1, 1])
        if np.linalg.norm(b - a) > made.breaks_forward_m + 1e-6:
            assert min(depths) == pytest.approx(0.0) or min(depths) == pytest.approx(
                made.breaks_forward_m
            )
    half = made.frieze_half_depth_m
    for x, y in made.perimeter_axes_m:
        covers = ((break_plans(made) - (x, y)) * [[[-1], [1]]]).min(axis=(1, 2))
        assert covers.max() == pytest.approx(half)


def test_couples_are_ware_s() -> None:
    # Ware, The American Vignola, p. 44 (read): half a diameter apart, three and a half between
    # the couples, six from axis to axis; Doric bases touch before they stand a triglyph apart.
    ionic = design(porch={"order": "ionic", "paired": True, "height": "3 m"}).porch
    assert ionic.couple_axis_m / ionic.order.diameter_m == pytest.approx(1.5)
    doric = design(porch={"order": "doric", "paired": True, "height": "3 m"}).porch
    pitch = next(m.row.spacing for m in doric.order.frieze if m.row)
    assert doric.couple_axis_m > pitch
    assert doric.couple_axis_m / doric.order.foot_width_m < 1.1


@settings(deadline=None)
@given(
    st.sampled_from(["pier", "tuscan", "doric", "ionic", "corinthian"]),
    st.sampled_from([4, 6, 8]),
    st.sampled_from([0, 1, 3]),
)
def test_couples_stand_evenly_about_the_middle(order: str, columns: int, side: int) -> None:
    asked = {"order": order, "paired": True, "columns": columns, "side_columns": side}
    house = {"width": "22 m", "windows": [{"height": "1.6 m"}]}
    made = design(house, porch={**asked, "height": "3.2 m", "spacing": "3.6 m"}).porch
    axes = np.array(made.axes_m)
    assert axes == pytest.approx(-axes[::-1], abs=1e-9)
    gaps = np.diff(axes)
    assert gaps[::2] == pytest.approx(made.couple_axis_m, abs=1e-9)
    assert gaps[1::2] + made.couple_axis_m == pytest.approx(3.6, abs=1e-9)
    assert made.couple_axis_m > made.order.foot_width_m
    assert len(made.return_axes_m) == side
    run = np.diff([-made.depth_m, *made.return_axes_m, 0.0])
    if side:
        assert run[::2] == pytest.approx(made.couple_axis_m, abs=1e-9)
        assert np.ptp(run[1::2]) < 1e-9

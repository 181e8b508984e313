"""Where the front's named surfaces lie, from the porch's own sizes, and how evenly points fall."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from massing.shadow import surfaces
from tests.findings.test_limits_of_findings import design
from tests.helpers.house_designs import porch


def test_frieze_and_architrave_lie_over_the_columns() -> None:
    # floor 0.64 + base 0.25 + shaft 2.9 + capital 0.25 = 4.04 m; then 0.3 m and 0.3 m
    found = {name: (low, high) for name, _, low, high in surfaces.entablature_faces(design())}
    assert found["architrave"] == pytest.approx((4.04, 4.34))
    assert found["frieze"] == pytest.approx((4.34, 4.64))


def test_the_front_ends_at_the_outer_columns_and_the_floors_edge() -> None:
    made = design()
    assert surfaces.frieze_ends(made) == pytest.approx((-4.5 - 0.42 / 2, 4.5 + 0.42 / 2))
    (left, right), (edge, back) = surfaces.floor_extent(made)
    assert (left, right) == pytest.approx((-4.95, 4.95))
    assert edge == pytest.approx(-2.4 - 0.45)
    assert back == pytest.approx(made.porch.back_y_m)


@pytest.mark.parametrize(
    ("floor_edge", "plinth", "farthest"), [(0.45, 0.34, 0.68), (0.9, 0.34, 0.9), (0.45, 0.7, 1.4)]
)
def test_rays_start_before_all_that_stands_out(
    floor_edge: float, plinth: float, farthest: float
) -> None:
    made = porch()
    base = (replace(made.order.base[0], foot=plinth, head=plinth),)
    made = replace(made, floor_edge_m=floor_edge, order=replace(made.order, base=base))
    # the axis at 2.4 m, the frieze half of 0.42 before it, and half a metre to be clear
    expected = -2.4 - 0.21 - farthest - 0.5
    assert surfaces.porch_front_y(design(porch=made)) == pytest.approx(expected)


def test_points_follow_the_plastic_number_and_fall_evenly() -> None:
    (g,) = [root.real for root in np.roots([1, 0, -1, -1]) if abs(root.imag) < 1e-12]
    points = surfaces.spread(1000)
    steps = np.diff(points, axis=0) % 1.0
    assert steps[:, 0] == pytest.approx(1 / g)
    assert steps[:, 1] == pytest.approx(1 / g**2)
    assert points[0] == pytest.approx([(0.5 + 1 / g) % 1, (0.5 + 1 / g**2) % 1])
    for count in (100, 333, 1000):  # every beginning: each ninth of the square has its share
        cells = (points[:count] * 3).astype(int)
        tally = np.bincount(cells[:, 0] * 3 + cells[:, 1], minlength=9)
        assert tally == pytest.approx(count / 9, abs=4)


def test_middles_are_no_farther_apart_than_asked() -> None:
    assert surfaces.spaced(0.0, 1.0, 0.25).tolist() == [0.125, 0.375, 0.625, 0.875]
    assert surfaces.spaced(2.0, 4.0, 5.0).tolist() == [3.0]
    assert surfaces.spaced(-1.0, 1.0, 0.9) == pytest.approx([-2 / 3, 0.0, 2 / 3])


def test_names_of_windows_are_taken_together_by_floor() -> None:
    assert surfaces.surface_group("window 12, first floor, left") == "windows, first floor, left"
    assert surfaces.surface_group("wall, first floor") == "wall, first floor"

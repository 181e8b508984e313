"""Moulding curves: where they start and end, their tangents, their areas."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from massing.canon import Member
from massing.canon.mouldings import CURVES, stack, without_straights

SPRINGING = {"torus", "bead"}
reach = st.floats(0.0, 2.0)
height = st.floats(0.01, 1.0)


@given(kind=st.sampled_from(sorted(set(CURVES) - SPRINGING)), a=reach, b=reach, h=height)
def test_a_curve_runs_from_its_foot_to_its_head(kind, a, b, h):
    points = CURVES[kind](a, b, h, 8)
    assert points[0] == pytest.approx([a, 0.0], abs=1e-12)
    assert points[-1] == pytest.approx([b, h], abs=1e-12)
    assert (np.diff(points[:, 1]) > -1e-12).all()


@given(kind=st.sampled_from(["ovolo", "cavetto", "cyma recta", "cyma reversa", "sleeve"]),
       a=reach, b=reach, h=height)  # fmt: skip
def test_a_curve_stays_between_its_ends(kind, a, b, h):
    out = CURVES[kind](a, b, h, 8)[:, 0]
    assert out.min() >= min(a, b) - 1e-12
    assert out.max() <= max(a, b) + 1e-12


def _area(points):
    """Between the curve and the vertical through its foot."""
    x, z = points.T
    return float(np.sum((x[1:] + x[:-1]) / 2.0 * np.diff(z)))


@pytest.mark.parametrize(
    ("kind", "expected"),
    [("ovolo", math.pi / 4), ("cavetto", 1 - math.pi / 4), ("cyma recta", 0.5),
     ("cyma reversa", 0.5)],
)  # fmt: skip
def test_areas_of_the_unit_curves(kind, expected):
    """Quarter circles: pi/4 and its complement; a cyma halves its square."""
    assert _area(CURVES[kind](0.0, 1.0, 1.0, 200)) == pytest.approx(expected, abs=2e-5)


def test_a_torus_is_half_a_circle_reaching_its_measure():
    points = CURVES["torus"](0.5, 0.5, 0.2, 200)
    assert points[:, 0].max() == pytest.approx(0.5)
    assert points[0] == pytest.approx([0.4, 0.0])
    assert np.linalg.norm(points - [0.4, 0.1], axis=1) == pytest.approx(0.1)


@pytest.mark.parametrize(
    ("kind", "upright"), [("cyma recta", False), ("cyma reversa", True), ("sleeve", True)]
)
def test_recta_ends_level_and_reversa_upright(kind, upright):
    """W. R. Ware, The American Vignola: recta horizontal, reversa vertical at its ends (read)."""
    points = CURVES[kind](0.0, 1.0, 1.0, 400)
    for a, b in ((points[0], points[1]), (points[-2], points[-1])):
        step = np.abs(b - a)
        assert (step[1] > 20 * step[0]) == upright
        assert (step[0] > 20 * step[1]) == (not upright)


def test_a_supporting_ovolo_is_convex_and_a_cavetto_hollow():
    middle = {k: CURVES[k](0.0, 1.0, 1.0, 2)[1] for k in ("ovolo", "cavetto")}
    assert middle["ovolo"][0] > middle["ovolo"][1]
    assert middle["cavetto"][0] < middle["cavetto"][1]


def test_members_stack_without_gaps():
    edge = stack([Member("a", "fillet", 1.0, 2.0, 2.0), Member("b", "ovolo", 0.5, 2.5, 3.0)], 10.0)
    assert edge[0].tolist() == [2.0, 10.0]
    assert edge[-1].tolist() == [3.0, 11.5]
    assert [2.5, 11.0] in edge.tolist()


def test_a_recess_hollows_the_underside_behind_a_lip():
    corona = Member("corona", "fillet", 1.0, 3.0, 3.0, recess=0.25)
    edge = stack([Member("bed", "fillet", 1.0, 1.0, 1.0), corona])
    under = edge[(edge[:, 0] > 1.0) & (edge[:, 0] < 3.0)]
    assert under[:, 1].max() == pytest.approx(1.25)
    lip = edge[edge[:, 1] == 1.0][:, 0]
    assert lip.max() == 3.0
    assert sorted(lip)[-2] < 3.0


def test_straight_points_are_left_out():
    square = np.array([[0, 0], [0.5, 0], [1, 0], [1, 1], [0, 1.0]])
    assert without_straights(square).tolist() == [[0, 0], [1, 0], [1, 1], [0, 1]]

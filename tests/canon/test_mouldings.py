"""Moulding curves: where they start and end, their tangents, their areas."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from massing.canon import Member
from massing.canon.mouldings import (
    CURVES,
    cavetto,
    cyma_recta,
    cyma_reversa,
    ovolo,
    rising_sleeve,
    scotia,
    sleeve,
    stack,
    torus,
    without_straights,
)

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


def test_the_recta_s_two_quarters_meet_at_mid_height_without_a_kink():
    """Two quarter circles tangent at mid-height (Building Trades Pocketbook, Roman mouldings)."""
    edge = cyma_recta(0.0, 1.0, 1.0, steps=32)
    assert len(edge) == 65
    assert [0.5, 0.5] in edge.round(12).tolist()
    lower, upper = edge[edge[:, 1] <= 0.5 + 1e-12], edge[edge[:, 1] >= 0.5 - 1e-12]
    assert np.hypot(lower[:, 0], lower[:, 1] - 0.5) == pytest.approx(0.5)
    assert np.hypot(upper[:, 0] - 1.0, upper[:, 1] - 0.5) == pytest.approx(0.5)
    turns = np.degrees(np.unwrap(np.arctan2(*np.diff(edge, axis=0).T)))
    assert np.abs(np.diff(turns)).max() < 90 / 32 + 1e-6


@pytest.mark.parametrize("curve", [cyma_recta, cyma_reversa, ovolo, cavetto, scotia, torus])
def test_a_curve_is_divided_alike_for_the_steps_asked(curve):
    same = (2.0, 2.0) if curve is torus else (2.0, 1.0) if curve is scotia else (1.0, 2.0)
    arcs = 1 if curve in (ovolo, cavetto) else 2
    for steps in (4, 8, 16):
        assert len(curve(*same, 0.7, steps)) == arcs * steps + 1
    assert len(curve(*same, 0.7)) == arcs * 8 + 1


def test_a_sleeve_bends_the_other_way_at_two_fifths():
    """Half-way between a baluster's cap and base: Ware, The American Vignola, p. 39."""
    edge = sleeve(2.0, 1.0, 1.0, steps=200)
    assert len(edge) == 401
    assert edge[0] == pytest.approx([2.0, 0.0])
    assert edge[-1] == pytest.approx([1.0, 1.0])
    slope = np.diff(edge[:, 0]) / np.diff(edge[:, 1])
    assert slope[[0, -1]] == pytest.approx([0.0, 0.0], abs=0.02)  # upright at both ends
    assert edge[:-1, 1][slope.argmin()] == pytest.approx(0.4, abs=0.006)
    # the quarter waves are as broad as they are high: at the bend 0.4 of the way in, slope pi / 2
    assert edge[160, 0] == pytest.approx(1.6)
    assert slope.min() == pytest.approx(-np.pi / 2.0, abs=0.01)
    turned = rising_sleeve(1.0, 2.0, 1.0, steps=200)
    assert turned == pytest.approx(np.column_stack([edge[::-1, 0], 1.0 - edge[::-1, 1]]))


def test_a_drip_is_cut_between_the_bed_and_the_lip():
    """A sixth of the overhang for the lip, an eighth behind, sides splayed a quarter (a choice)."""
    corona = Member("corona", "fillet", 1.0, 3.0, 3.0, recess=0.2)
    edge = stack([Member("bed", "fillet", 1.0, 1.0, 1.0), corona])
    under = edge[1:-1].round(9).tolist()
    assert under == [
        [1.0, 1.0],
        [1.24, 1.0],
        [1.29, 1.2],
        [2.63, 1.2],
        [2.68, 1.0],
        [3.0, 1.0],
    ]


def test_points_a_hair_off_the_line_stay():
    off = np.array([[0, 0], [500.0, 1e-6], [1000.0, 0], [1000.0, 1000.0]])
    assert len(without_straights(off, tolerance_m=1e-9)) == 4
    assert len(without_straights(off, tolerance_m=2e-6)) == 3
    bent = np.array([[0, 0], [1, 1], [2, 2], [3, 1.0]])
    assert without_straights(bent).tolist() == [[0, 0], [2, 2], [3, 1]]

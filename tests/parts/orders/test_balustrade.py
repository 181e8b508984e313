"""Balustrades: closed solids, equal gaps, heights as designed."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.design.porch import BalustradeDesign
from massing.parts.orders.balustrade import baluster, balustrade, spread
from tests.helpers.shapes import assert_closed

DESIGN = BalustradeDesign(
    height_m=0.9,
    plinth_m=0.2,
    rail_m=0.1,
    pedestal_width_m=0.4,
    baluster_spacing_m=0.28,
    belly_m=0.2,
)
POINTS = [(0.0, 0.0), (3.0, 0.0), (6.0, 0.0)]


def check_solid(part):
    mesh = part.mesh.to_trimesh()
    assert mesh.is_watertight, part.name
    assert mesh.is_winding_consistent, part.name
    assert mesh.volume > 0, part.name


def by_name(parts):
    return {p.name: p for p in parts}


def test_parts_are_solids_of_the_designed_heights():
    parts = by_name(balustrade(DESIGN, POINTS, [(0, 1), (1, 2), (0, 3)], free_ends=[(0.0, 2.5)]))
    assert list(parts) == [
        "balustrade/base",
        "balustrade/dies",
        "balustrade/balusters",
        "balustrade/rail",
    ]
    for part in parts.values():
        check_solid(part)
    assert parts["balustrade/base"].mesh.bounds[:, 2] == pytest.approx([0.0, 0.2])
    assert parts["balustrade/rail"].mesh.bounds[:, 2] == pytest.approx([0.8, 0.9])
    assert parts["balustrade/balusters"].world_mesh().bounds[:, 2] == pytest.approx([0.2, 0.8])
    assert parts["balustrade/dies"].count == 3
    assert parts["balustrade/rail"].mesh.bounds[1, 1] == pytest.approx(2.5)  # stops at the wall


@settings(max_examples=100)
@given(clear=st.floats(0.2, 10.0), belly=st.floats(0.05, 0.3), over=st.floats(1.2, 3.0))
def test_gaps_are_equal_and_none_wider_than_asked(clear, belly, over):
    at = spread(clear, belly, over * belly)
    edges = np.concatenate(
        [[0.0], np.sort(np.concatenate([at - belly / 2, at + belly / 2])), [clear]]
    )
    gaps = np.diff(edges)[::2]
    assert gaps == pytest.approx(np.full(len(gaps), gaps[0]), abs=1e-9)
    asked = (over - 1.0) * belly
    one_more = (clear - (len(at) + 1) * belly) / (len(at) + 2)
    assert gaps[0] > 0.0
    assert gaps[0] <= asked + 1e-9 or one_more < 0.1 * asked


def test_balusters_stand_on_the_run_between_the_dies():
    parts = by_name(balustrade(DESIGN, POINTS, [(0, 1)]))
    at = parts["balustrade/balusters"].placements[:, :3, 3]
    assert at[:, 1] == pytest.approx(0.0)
    gap = at[0, 0] - DESIGN.belly_m / 2 - DESIGN.pedestal_width_m / 2
    assert np.diff(at[:, 0]) == pytest.approx(np.full(len(at) - 1, gap + DESIGN.belly_m))


def test_a_guard_between_columns_has_no_pedestals():
    guard = BalustradeDesign(0.95, 0.12, 0.09, 0.0, 0.145, 0.11)
    parts = by_name(balustrade(guard, [(0.2, 0.0), (2.8, 0.0)], [(0, 1)]))
    assert "balustrade/dies" not in parts
    assert parts["balustrade/rail"].mesh.bounds[:, 0] == pytest.approx([0.2, 2.8])
    for part in parts.values():
        check_solid(part)


@settings(max_examples=30)
@given(
    height=st.floats(0.3, 1.5),
    slender=st.floats(0.1, 0.5),
    profile=st.sampled_from(["vase", "double", "column"]),
)
def test_a_baluster_has_the_height_and_belly_asked(height, slender, profile):
    mesh = baluster(height, slender * height, profile)
    assert mesh.to_trimesh().is_watertight
    low, high = mesh.bounds
    assert high[2] - low[2] == pytest.approx(height)
    assert high[0] - low[0] == pytest.approx(slender * height, rel=0.01)


def test_bad_designs_are_refused():
    with pytest.raises(ValueError, match="no gap"):
        spread(2.0, 0.2, 0.2)
    with pytest.raises(ValueError, match="no room"):
        balustrade(DESIGN, [(0, 0), (0.3, 0)], [(0, 1)])
    flat = BalustradeDesign(0.3, 0.2, 0.1, 0.4, 0.28, 0.2)
    with pytest.raises(ValueError, match="no height"):
        balustrade(flat, POINTS, [(0, 1)])


def test_half_balusters_stand_against_the_dies_at_the_same_spacing():
    parts = by_name(balustrade(replace(DESIGN, half_balusters=True), POINTS, [(0, 1), (1, 2)]))
    for part in parts.values():
        check_solid(part)
    halves = parts["balustrade/half balusters"]
    whole = parts["balustrade/balusters"]
    assert halves.mesh.volume_m3 == pytest.approx(whole.mesh.volume_m3 / 2.0, rel=1e-3)
    x = np.sort(np.concatenate([p.placements[:, 0, 3] for p in (halves, whole)]))
    first = x[x < 3.0]
    assert first[0] == pytest.approx(DESIGN.pedestal_width_m / 2.0)
    steps = np.diff(first)
    assert steps == pytest.approx(np.full(len(steps), steps[0]))
    assert steps[0] <= DESIGN.baluster_spacing_m + 1e-9
    half_die = DESIGN.pedestal_width_m / 2.0
    for frame in halves.placements:  # each turns its round side into the run
        inside = frame[0, 3] + 0.01 * frame[0, 0]
        assert min(abs(inside - p[0]) for p in POINTS) > half_die


def test_panels_are_sunk_in_the_dies():
    plain = by_name(balustrade(DESIGN, POINTS, [(0, 1)]))["balustrade/dies"]
    sunk = by_name(balustrade(replace(DESIGN, panelled=True), POINTS, [(0, 1)]))["balustrade/dies"]
    check_solid(sunk)
    panel = (0.4 - 2 * 0.08) * (0.606 - 2 * 0.08) * 0.02
    assert plain.mesh.volume_m3 - sunk.mesh.volume_m3 == pytest.approx(4 * panel)


def test_a_parapet_fills_the_run_between_the_dies():
    parts = by_name(balustrade(replace(DESIGN, filling="parapet"), POINTS, [(0, 1), (1, 2)]))
    assert "balustrade/balusters" not in parts
    wall = parts["balustrade/parapet"]
    check_solid(wall)
    assert wall.mesh.bounds[:, 0] == pytest.approx([0.2, 5.8])
    assert wall.mesh.bounds[:, 2] == pytest.approx([0.2, 0.8])


def test_two_pedestals_over_a_couple_are_one():
    rail = BalustradeDesign(0.9, 0.18, 0.1, 0.4, 0.2, 0.14)
    places = [(0.0, 0.0), (0.6, 0.0), (3.0, 0.0)]
    parts = {p.name: p for p in balustrade(rail, places, [(0, 1), (1, 2)], joined=[0])}
    assert_closed(list(parts.values()))
    block = parts["balustrade/joined dies"].mesh.bounds
    assert block[:, 0] == pytest.approx([0.2, 0.4])  # from die to die
    assert block[:, 1] == pytest.approx([-0.2, 0.2])  # as deep as they
    stands = parts["balustrade/balusters"].placements
    assert stands is not None
    assert stands[:, 0, 3].min() > 0.8  # no baluster within the couple

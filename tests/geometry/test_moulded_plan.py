"""Courses moulded round a plan, against the same united in space by Booleans."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.geometry.mesh import Floats, Mesh
from massing.geometry.moulded_plan import moulded_plan
from massing.geometry.solids import prism, square_lathe, union
from massing.parts.part import Part
from tests.helpers.mesh_faults import faults_of_part

EDGE = np.array([[0.0, 0.0], [0.0, 0.05], [0.03, 0.05], [0.05, 0.09], [0.02, 0.11], [0.02, 0.15]])


def block(x: float, y: float, half_x: float, half_y: float) -> Floats:
    return np.array(
        [
            (x - half_x, y - half_y),
            (x + half_x, y - half_y),
            (x + half_x, y + half_y),
            (x - half_x, y + half_y),
        ]
    )


def bar(half_m: float, start: Floats, end: Floats) -> Mesh:
    """A course moulded on both sides with square ends: a prism of its section."""
    right = EDGE + [half_m, 0.0]
    section = np.concatenate([right, (right * [-1.0, 1.0])[::-1]])
    along = (end - start) / np.linalg.norm(end - start)
    across = np.array([-along[1], along[0], 0.0])
    length = float(np.linalg.norm(end - start))
    return prism(section, (*start, 0.0), across, (0.0, 0.0, 1.0), length)


@settings(max_examples=30)
@given(
    half=st.floats(0.12, 0.3),
    narrow=st.floats(0.05, 0.1),
    gap=st.floats(0.8, 3.0),
    count=st.integers(2, 4),
    turned=st.booleans(),
)
def test_a_rail_with_its_caps_is_the_union_of_its_blocks(half, narrow, gap, count, turned):
    centres = np.array([(k * gap, 0.0) for k in range(count)])
    if turned:
        centres = np.vstack([centres, [centres[-1, 0], gap]])
    plans = [block(x, y, half, half) for x, y in centres]
    blocks = [square_lathe(EDGE + [half, 0.0]).shifted(*c) for c in centres]
    for a, b in pairwise(centres):
        low, high = np.minimum(a, b), np.maximum(a, b)
        wide = np.where(high - low > 0, (high - low) / 2.0, narrow)
        plans.append(block(*(low + high) / 2.0, *wide))
        blocks.append(bar(narrow, a, b))
    made = moulded_plan(plans, EDGE)
    assert made is not None
    assert made.volume_m3 == pytest.approx(union(blocks).volume_m3, rel=1e-9)
    assert made.bounds == pytest.approx(union(blocks).bounds, abs=1e-9)
    assert list(faults_of_part(Part(("rail",), "order", made))) == []


@pytest.mark.parametrize("at_m", [0.0, 17.3, 61.7])
def test_a_rail_is_as_exact_far_from_the_middle(at_m):
    plans = [block(at_m + k * 2.31, at_m / 3.0, 0.15, 0.15) for k in range(6)]
    plans += [block(at_m + (k + 0.5) * 2.31, at_m / 3.0, 1.155, 0.06) for k in range(5)]
    near = [plan - plans[0].mean(axis=0) for plan in plans]
    made, there = moulded_plan(near, EDGE), moulded_plan(plans, EDGE)
    assert made is not None
    assert there is not None
    assert len(there.faces) == len(made.faces)
    assert there.volume_m3 == pytest.approx(made.volume_m3, rel=1e-9)


def test_an_end_against_a_wall_stays_flat():
    plan = block(1.0, 0.0, 1.0, 0.06)
    made = moulded_plan([plan], EDGE, [plan[[1, 2]], plan[[3, 0]]])
    assert made is not None
    expected = bar(0.06, np.array([0.0, 0.0]), np.array([2.0, 0.0]))
    assert made.volume_m3 == pytest.approx(expected.volume_m3, rel=1e-9)
    assert made.bounds == pytest.approx(expected.bounds, abs=1e-9)


def test_a_ring_of_rails_leaves_its_middle_open():
    around = [block(0, -1, 1.1, 0.1), block(0, 1, 1.1, 0.1)]
    around += [block(-1, 0, 0.1, 1.1), block(1, 0, 0.1, 1.1)]
    made = moulded_plan(around, EDGE)
    assert made is not None
    by_level = [  # between levels the plan's area goes as a square of the reach: Simpson is exact
        (high - low)
        / 6.0
        * sum(
            w * ((2.2 + 2 * r) ** 2 - (1.8 - 2 * r) ** 2)
            for w, r in zip((1, 4, 1), (a, (a + b) / 2, b), strict=True)
        )
        for (a, low), (b, high) in pairwise(EDGE)
    ]
    assert made.volume_m3 == pytest.approx(sum(by_level), rel=1e-9)


def test_mouldings_that_would_meet_are_left_to_a_boolean():
    apart = [block(0, 0, 0.2, 0.2), block(0.49, 0, 0.2, 0.2)]
    assert moulded_plan(apart, EDGE) is None  # 0.09 between them, 0.05 from each
    notch = [block(0, 0, 0.5, 0.2), block(0.3, 0.2, 0.03, 0.03)]
    assert moulded_plan(notch, EDGE) is not None
    slot = [block(0, 0, 0.5, 0.2), block(-0.3, 0.3, 0.1, 0.2), block(0.02, 0.3, 0.1, 0.2)]
    narrow = [*slot[:2], block(-0.12, 0.3, 0.04, 0.2)]
    assert moulded_plan(slot, EDGE) is not None
    assert moulded_plan(narrow, EDGE) is None

"""Lines of drawn elevations: what repeats stands apart at any scale, strokes keep their weight."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from massing.geometry.solids import box_between, lathe, loft
from massing.parts.part import Part
from massing.present.ink.contours import contours, courses, joints, strokes
from massing.view.hidden_lines import FINE, FRONT

COURSE_M, LONG_M = 0.075, 0.2


def bricks(rows: int = 24, across: int = 6) -> Part:
    """A wall of bricks in relief, joints broken by half a brick."""
    frames = np.tile(np.eye(4), (rows * across, 1, 1))
    row, column = np.divmod(np.arange(rows * across), across)
    frames[:, 0, 3] = LONG_M * (column + 0.5 * (row % 2))
    frames[:, 2, 3] = COURSE_M * row
    one = box_between([0.0, -0.01, 0.0], [LONG_M - 0.01, 0.05, COURSE_M - 0.01])
    return Part(("house", "stretchers"), "brick", one, frames)


@given(st.floats(0.004, 0.6))
def test_courses_stand_apart_at_any_scale_and_are_left_whole_where_there_is_room(gap_m):
    kept = courses([bricks()], FRONT, gap_m)
    heights = np.unique(np.round(np.concatenate([p.placements[:, 2, 3] for p in kept]), 6))
    step = max(1, int(np.ceil(gap_m / COURSE_M - 1e-6)))
    assert np.diff(heights) == pytest.approx(step * COURSE_M)
    assert len(heights) == -(-24 // step)


def test_broken_joints_are_drawn_all_or_not_at_all_and_rolls_are_thinned():
    wall = bricks()
    assert joints([wall], FRONT, 0.05) == [wall]
    assert joints([wall], FRONT, 0.08) == []  # courses are left out: so are the joints
    roll = Part(("roof", "covers"), "tile", wall.mesh, wall.placements)
    (thin,) = joints([roll], FRONT, 0.15)
    places = np.unique(np.round(thin.placements[:, 0, 3], 6))
    assert np.diff(places).min() >= 0.15


@pytest.mark.parametrize(("gap_m", "inside"), [(0.005, True), (0.2, False)])
def test_flutes_are_lines_only_where_they_stand_apart(gap_m, inside):
    turn = np.linspace(0.0, 2.0 * np.pi, 240, endpoint=False)
    radius = 0.3 - 0.03 * np.abs(np.sin(10.0 * turn))  # twenty flutes with sharp arrises
    ring = np.column_stack([radius * np.cos(turn), radius * np.sin(turn)])
    sections = [np.column_stack([ring, np.full(len(ring), z)]) for z in (0.0, 3.0)]
    shaft = Part(("column", "shaft"), "order", loft(sections, closed=False))
    drawn = contours([shaft], FRONT, gap_m, step_m=0.02)
    x = drawn.ends_m.mean(axis=1)[:, 0]
    upright = np.abs(np.diff(drawn.ends_m, axis=1)[:, 0, 1]) > 1.0
    assert (np.abs(x[upright]) > 0.27).any()  # its sides are drawn
    assert (np.abs(x[upright]) < 0.2).any() == inside


def test_of_a_figure_only_its_outline_is_drawn():
    body = lathe([(0.2, 0.0), (0.1, 0.8), (0.3, 0.81), (0.05, 1.7)], 12)
    wall = Part(("wall",), "wall", box_between([-2, 2, 0], [2, 2.1, 3]))
    drawn = contours([wall, Part(("figure",), "figure", body)], FRONT, 0.1, step_m=0.02)
    fine = drawn.ends_m[drawn.weight == FINE]
    assert not len(fine)


@given(st.floats(0.5, 4.0), st.floats(8.2, 11.7))
def test_a_stroke_has_its_weight_wherever_it_lies_between_pixels(width, at):
    ink = strokes(np.array([[[at, -5.0], [at, 30.0]]]), width, (20, 24))
    assert ink[12].sum() == pytest.approx(width, abs=0.06 + 0.05 * width)

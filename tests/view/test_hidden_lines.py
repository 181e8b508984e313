import numpy as np
import pytest

from massing.geometry.mesh import Mesh, merged
from massing.geometry.solids import box_between, lathe, translations
from massing.parts.part import Part
from massing.view.hidden_lines import (
    BACK,
    EDGE,
    FRONT,
    LEFT,
    PLAN,
    PROFILE,
    RIGHT,
    visible_lines,
)


def box(low, high, name="box"):
    return Part((name,), "wall", box_between(low, high))


def length(lines, weight=None):
    ends = lines.ends if weight is None else lines.of(weight)
    return float(np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1).sum())


def test_a_box_shows_its_four_edges_from_every_side():
    parts = [box((0.0, 0.0, 0.0), (3.0, 2.0, 1.0))]
    around = {FRONT: 8.0, BACK: 8.0, RIGHT: 6.0, LEFT: 6.0, PLAN: 10.0}
    for view, whole in around.items():
        lines = visible_lines(parts, view)
        assert length(lines) == pytest.approx(whole, abs=1e-6), view.name
        assert set(lines.weight) == {PROFILE}


def test_sides_are_seen_with_the_front_where_a_viewer_has_it():
    parts = [box((0.0, 0.0, 0.0), (3.0, 2.0, 1.0))]
    assert visible_lines(parts, RIGHT).ends[..., 0].max() == pytest.approx(2.0)
    assert visible_lines(parts, LEFT).ends[..., 0].min() == pytest.approx(-2.0)
    assert visible_lines(parts, BACK).ends[..., 0].min() == pytest.approx(-3.0)


def test_what_stands_behind_is_cut_where_it_goes_behind():
    before = box((0.0, 0.0, 0.0), (1.0, 0.5, 2.0), "before")
    behind = box((-1.003, 1.0, 0.5), (2.007, 1.5, 1.5), "behind")
    lines = visible_lines([before, behind])
    of_behind = lines.ends[lines.owner == 1]
    level = of_behind[np.abs(of_behind[:, 0, 1] - of_behind[:, 1, 1]) < 1e-9]
    ends = np.sort(np.unique(np.round(level[..., 0], 3)))
    # to half a millimetre, not to the 20 mm of the steps
    assert np.abs(ends - [-1.003, 0.0, 1.0, 2.007]).max() <= 1e-3
    assert length(lines) == pytest.approx(6.0 + 2.0 * (1.003 + 1.007) + 2.0, abs=4e-3)


def test_weights_follow_what_lies_beside():
    wall = box((-3.0, 1.0, 0.0), (3.0, 2.0, 3.0), "wall")
    board = box((-1.0, 0.9, 1.0), (1.0, 1.0, 2.0), "board")
    post = box((-2.0, -1.0, -0.5), (-1.8, -0.8, 3.5), "post")
    lines = visible_lines([wall, board, post])
    assert set(lines.weight[lines.owner == 1]) == {EDGE}
    assert set(lines.weight[lines.owner == 2]) == {PROFILE}


def test_a_round_shows_its_outline_and_no_facets():
    profile = np.array([[0.25, 0.0], [0.25, 3.0]])
    shaft = Part(
        ("shaft",), "order", lathe(profile, 64), translations([[0.0, 0.0, 0.0], [2.0, 0.0, 0.0]])
    )
    lines = visible_lines([shaft])
    upright = np.abs(lines.ends[:, 0, 0] - lines.ends[:, 1, 0]) < 1e-9
    places = np.sort(np.unique(np.round(lines.ends[upright][:, 0, 0], 2)))
    assert places == pytest.approx([-0.25, 0.25, 1.75, 2.25], abs=0.011)


def test_an_edge_that_four_faces_share_is_drawn():
    """Two wedges of one mesh back to back, whose crests are one edge, as of a saddle."""

    def wedge(side):
        points = [(0.0, 0.0), (side, 0.0), (0.0, 1.0)]
        corners = np.array([(x, y, z) for y in (0.0, 2.0) for x, z in points])
        faces = np.array(
            [[0, 1, 2], [3, 5, 4], [0, 3, 4], [0, 4, 1], [1, 4, 5], [1, 5, 2], [2, 5, 3], [2, 3, 0]]
        )
        return Mesh(corners, faces if side > 0.0 else faces[:, ::-1])

    both = Part(("saddle",), "metal", merged([wedge(1.0), wedge(-1.0)]))
    lines = visible_lines([both], RIGHT)
    top = lines.ends[(lines.ends[..., 1] > 1.0 - 1e-6).all(axis=1)]
    assert np.abs(top[:, 1, 0] - top[:, 0, 0]).sum() == pytest.approx(2.0, abs=1e-3)


def test_lines_on_one_line_are_drawn_once():
    left = box((0.0, 0.0, 0.0), (1.0, 1.0, 1.0), "left")
    right = box((1.0, 0.0, 0.0), (2.0, 1.0, 1.0), "right")
    lines = visible_lines([left, right])
    assert length(lines) == pytest.approx(2.0 * 2.0 + 3.0, abs=1e-6)
    assert len(lines.ends) == 5


def test_what_is_not_drawn_hides_all_the_same():
    before = box((0.0, 0.0, 0.0), (1.0, 0.5, 2.0), "tile")
    behind = box((0.2, 1.0, 0.5), (0.8, 1.5, 1.5), "behind")
    lines = visible_lines([before, behind], undrawn=lambda part: part.name == "tile")
    assert not len(lines.ends)


def test_a_line_drawn_on_a_part_is_seen_before_it_and_not_behind():
    box = Part(("box",), "paint", box_between((0.0, 0.0, 0.0), (1.0, 1.0, 1.0)))
    before = np.array([(0.2, 0.0, 0.5), (0.5, 0.0, 0.6), (0.8, 0.0, 0.5)])
    behind = before + [0.0, 1.0, 0.2]
    plain = visible_lines([box], FRONT).ends
    assert len(visible_lines([box], FRONT, drawn=[before]).ends) == len(plain) + 2
    assert len(visible_lines([box], FRONT, drawn=[behind]).ends) == len(plain)


def test_of_leaves_only_what_stands_clear_is_drawn():
    wall = Part(("wall",), "paint", box_between((-1.0, 0.0, -1.0), (2.0, 0.1, 2.0)))
    turn = np.linspace(-np.pi / 2.0, np.pi / 2.0, 25)
    edge = np.column_stack([0.3 * np.cos(turn), 0.5 + 0.3 * np.sin(turn)])
    edge[[0, -1], 0] = 0.0
    for proud, drawn in ((0.005, False), (0.05, True)):
        ball = lathe(edge, 32).shifted(x_m=0.5, y_m=-proud)
        leaf = Part(("capital", "lower leaves"), "order", ball)
        owners = visible_lines([wall, leaf], FRONT).owner
        assert (1 in owners) is drawn
        stone = Part(("capital", "block"), "order", ball)
        assert 1 in visible_lines([wall, stone], FRONT).owner

import numpy as np
import pytest

from massing.geometry.booleans import less
from massing.geometry.solids import box_between
from massing.parts.site.ground import ground, walk
from massing.parts.site.person import figure
from tests.helpers.shapes import assert_closed, extent


def test_the_ground_is_a_level_sheet_past_the_horizon():
    sheet = ground()
    assert not sheet.solid
    assert sheet.mesh.bounds[:, 2] == pytest.approx(0.0)
    # From an eye at 1.6 m the level horizon is some 4.5 km off: practice of perspective, the
    # sheet's edge then stands less than a pixel below it.
    assert sheet.mesh.bounds[1, 0] >= 2000.0
    normals = sheet.mesh.to_trimesh().face_normals
    assert normals == pytest.approx(np.tile([0.0, 0.0, 1.0], (2, 1)))


def test_the_walk_lies_on_the_ground_before_the_steps():
    path = walk(2.0, -4.0, 10.0)
    assert_closed([path])
    low, high = extent([path])
    assert (low[1], high[1], low[2]) == pytest.approx((-14.0, -4.0, 0.0))


def test_the_figure_is_five_feet_eight():
    person = figure((2.0, -5.0, 0.0))
    assert_closed([person])
    low, high = extent([person])
    assert high[2] - low[2] == pytest.approx(68 * 0.0254)
    assert (low[0] + high[0]) / 2 == pytest.approx(2.0)
    assert low[1] < -5.0 < high[1]
    assert 0.2 < high[1] - low[1] < high[0] - low[0] < 0.6


def test_the_figure_is_alike_on_both_sides():
    mesh = figure((0.0, 0.0, 0.0)).mesh
    assert mesh.vertices[:, 0].min() == pytest.approx(-mesh.vertices[:, 0].max())
    halves = [((-1.0, -1.0, -1.0), (0.0, 1.0, 2.0)), ((0.0, -1.0, -1.0), (1.0, 1.0, 2.0))]
    left, right = (less(mesh, box_between(*box)).volume_m3 for box in halves)
    assert left == pytest.approx(right, rel=1e-3)
    assert 0.05 < mesh.volume_m3 < 0.11  # a grown person, about as dense as water


def test_the_figure_turns_about_its_place():
    unturned, turned = (extent([figure((2.0, -5.0, 0.0), a)]) for a in (0.0, np.pi / 2))
    assert (turned[1] - turned[0])[:2] == pytest.approx((unturned[1] - unturned[0])[1::-1])
    assert (turned[0][1] + turned[1][1]) / 2 == pytest.approx(-5.0)

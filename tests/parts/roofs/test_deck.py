import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.parts.roofs.deck import deck, flat_roof, hip_roof, lean_to_hip
from massing.practice.defaults import default
from massing.settingout.roof_planes import hip_planes, lean_to_planes
from tests.helpers.shapes import assert_closed, extent

SIZE = st.floats(2.0, 30.0)
SLOPE = st.floats(0.1, 1.5)


def test_a_hipped_deck_has_the_volume_of_its_pieces():
    # A wedge between two halves of a pyramid over a slab: solid geometry.
    run, length, rise = 4.0, 12.0, 2.0
    (body,) = hip_roof((0.0, 0.0), (length, 8.0), 5.0, 0.5, fascia_m=0.2)
    wedge = (length - 2 * run) * 8.0 * rise / 2.0
    pyramid = 8.0 * 8.0 * rise / 3.0
    assert body.mesh.volume_m3 == pytest.approx(wedge + pyramid + length * 8.0 * 0.2)
    assert body.mesh.bounds[:, 2] == pytest.approx([5.0, 5.0 + 0.2 + rise])


def test_hips_run_at_45_degrees_in_plan_where_pitches_are_equal():
    # Common practice: equal pitches meet on the bisector.
    planes = hip_planes((0.0, 0.0), (12.0, 8.0), 5.0, 0.5)
    steps = planes.hips[:, 1] - planes.hips[:, 0]
    assert np.abs(steps[:, 0]) == pytest.approx(np.abs(steps[:, 1]))
    assert planes.ridges[0, :, 2] == pytest.approx(7.0)


def test_a_square_hip_comes_to_a_point():
    planes = hip_planes((0.0, 0.0), (6.0, 6.0), 3.0, 0.5)
    assert len(planes.ridges) == 0
    assert planes.hips[:, 1] == pytest.approx(np.tile([3.0, 3.0, 4.5], (4, 1)))
    assert_closed(hip_roof((0.0, 0.0), (6.0, 6.0), 3.0, 0.5))


@settings(deadline=None, max_examples=40)
@given(width=SIZE, depth=SIZE, slope=SLOPE)
def test_any_deck_is_closed_and_its_slopes_have_their_pitch(width, depth, slope):
    corners = (-width / 2, 0.0), (width / 2, depth)
    for planes in (hip_planes(*corners, 6.0, slope), lean_to_planes(*corners, 6.0, slope)):
        body = deck(planes).to_trimesh()
        assert body.is_watertight
        assert body.volume > 0.0
        for ring in planes.slopes:
            normal = np.cross(ring[1] - ring[0], ring[-1] - ring[0])
            assert np.hypot(normal[0], normal[1]) / normal[2] == pytest.approx(slope)
            assert ring[:2, 2] == pytest.approx(6.0)
    parts = hip_roof(*corners, 6.0, slope) + lean_to_hip(*corners, 6.0, slope)
    assert extent(parts)[0] == pytest.approx([-width / 2, 0.0, 6.0])


def test_a_flat_falls_to_the_front():
    (flat,) = flat_roof((-3.0, -2.4), (3.0, 0.0), 4.0, default("roof.flat_fall"))
    assert_closed([flat])
    top = flat.mesh.vertices[flat.mesh.vertices[:, 2] > 4.0]
    rise = np.ptp(top[:, 2])
    assert rise / 2.4 == pytest.approx(1 / 48)  # a quarter inch in the foot: common practice


@pytest.mark.parametrize("high", [(0.0, 5.0), (5.0, -1.0)])
def test_a_roof_over_nothing_is_refused(high):
    with pytest.raises(ValueError, match="rectangle"):
        hip_roof((0.0, 0.0), high, 3.0, 0.5)

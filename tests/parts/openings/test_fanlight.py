import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.parts.openings.fanlight import fan
from massing.parts.part import Part
from massing.practice.joinery_sizes import SASH
from massing.settingout.fanlights import RINGS, lights_by_rule
from tests.helpers.shapes import assert_closed


@settings(deadline=None, max_examples=40)
@given(half=st.floats(0.4, 1.5), flat=st.floats(0.38, 1.0), ring=st.sampled_from(RINGS))
def test_any_fan_is_closed_and_keeps_within_its_curve(half, flat, ring):
    rise = half * flat
    wood, panes, hub = fan(half, rise, lights_by_rule(half, rise), ring)
    assert_closed([Part(("fan",), "sash", m) for m in (wood, panes, hub)])
    for mesh in (wood, panes, hub):
        x, _, z = mesh.vertices.T
        over = z > 0.0
        assert ((x[over] / half) ** 2 + (z[over] / rise) ** 2).max() <= 1.0 + 1e-9
        assert z.min() >= -SASH.stile_m - 1e-9


def test_a_fan_has_a_pane_for_each_light_and_twice_as_many_with_a_ring():
    for ring, count in (("none", 7), ("ring", 14), ("swags", 14)):
        _, panes, _ = fan(0.6, 0.6, 7, ring)
        assert len(panes.to_trimesh().split()) == count


def test_the_glass_of_a_half_circle_is_what_rim_hub_and_bars_leave():
    radius, count = 0.6, 7
    _, panes, _ = fan(radius, radius, count)
    rim, hub = radius - SASH.stile_m, 0.24 * radius
    sight = np.pi / 2 * (rim**2 - hub**2) - (count - 1) * SASH.bar_m * (rim - hub)
    edges = np.pi * (rim + hub) - 2 * (count - 1) * SASH.bar_m + 2 * count * (rim - hub)
    glass = sight + edges * SASH.rebate_m
    assert panes.volume_m3 / SASH.glass_m == pytest.approx(glass, rel=0.01)

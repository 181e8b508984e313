import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.geometry.arches import HeadLine
from massing.geometry.solids import signed_area
from massing.parts.openings.glazing import glazed
from massing.practice.joinery_sizes import SASH
from massing.settingout.lights import fan_lights, grid_lights
from tests.helpers.shapes import manifold


def sash_outline(top: HeadLine) -> np.ndarray:
    half = top.width_m / 2.0
    return np.array([(-half, 0.0), (half, 0.0), *top.line()])


@settings(deadline=None, max_examples=30)
@given(radius=st.floats(0.3, 1.2), across=st.integers(2, 6))
def test_a_fan_is_closed_and_its_bars_are_of_one_width(radius, across):
    bar = SASH.bar_m
    lights = fan_lights(radius, 1.0, across, bar)
    assert all(signed_area(ring) > 0.0 for ring in lights)
    top = HeadLine(2.0 * radius, 1.0 + radius, radius).inset(-SASH.stile_m)
    wood, panes = glazed(sash_outline(top), lights)
    assert wood.to_trimesh().is_watertight
    assert wood.to_trimesh().is_winding_consistent
    assert wood.volume_m3 > 0
    bodies = panes.to_trimesh().split()
    assert len(bodies) == across + (across > 2)
    # Straight sides of neighbouring lights are parallel and a bar apart.
    rays = np.linspace(0.0, np.pi, across + 1)[1:-1]
    points = np.concatenate(lights[:across]) - [0.0, 1.0]
    for ray in rays:
        off = points @ [-np.sin(ray), np.cos(ray)]
        along = points @ [np.cos(ray), np.sin(ray)]
        near = np.abs(off[along > 0.31 * radius])
        assert near.min() == pytest.approx(bar / 2.0, abs=1e-6)


@settings(deadline=None, max_examples=30)
@given(
    width=st.floats(0.6, 1.6),
    share=st.floats(0.25, 0.5),
    curve=st.sampled_from(["segment", "ellipse"]),
    across=st.integers(1, 4),
)
def test_a_grid_under_a_curve_is_cut_off_by_it(width, share, curve, across):
    top = HeadLine(width, 2.0, share * width, curve)
    sight = top.inset(SASH.stile_m)
    edges = np.linspace(-sight.width_m / 2.0, sight.width_m / 2.0, across + 1)
    columns = np.column_stack([edges[:-1] + 0.011, edges[1:] - 0.011])
    lights = grid_lights(sight, columns, np.array([[0.1, 0.5], [0.53, 1.0]]))
    wood, panes = glazed(sash_outline(top), lights)
    assert wood.to_trimesh().is_watertight
    assert wood.volume_m3 > 0
    assert len(panes.to_trimesh().split()) == 2 * across
    for ring in lights:
        assert (ring[:, 1] <= sight.height_at(ring[:, 0]) + 1e-6).all()
    # A pane is let into its rebate and goes no further.
    shared = (manifold(wood) ^ manifold(panes)).volume()
    rims = sum(np.linalg.norm(r - np.roll(r, 1, axis=0), axis=1).sum() for r in lights)
    assert shared == pytest.approx(rims * SASH.rebate_m * SASH.glass_m, rel=0.05)


def test_a_fan_without_room_is_refused():
    with pytest.raises(ValueError, match="no room"):
        fan_lights(0.05, 1.0, 3, SASH.bar_m)
    with pytest.raises(ValueError, match="no room"):
        fan_lights(0.5, 1.0, 1, SASH.bar_m)

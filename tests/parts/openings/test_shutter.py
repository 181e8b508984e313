from typing import get_args

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.design.kinds import HungShutter
from massing.design.opening import ShuttersDesign
from massing.parts.openings.shutter import shutters
from massing.parts.openings.window import window
from massing.parts.walls.wall import opening_frame, walls
from massing.practice.joinery_sizes import SHUTTER, shutter_leaf
from massing.units import INCH_M
from tests.helpers.house_designs import headed, house, window_at
from tests.helpers.shapes import assert_closed, overlaps

KINDS = get_args(HungShutter)


def hung(kind="louvred", **changes):
    return ShuttersDesign(kind, **changes)


def by_name(parts):
    return {p.name: p for p in parts}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("closed", [False, True])
def test_shutters_touch_neither_wall_nor_window(kind, closed):
    o = window_at()
    design = house((o,))
    at = opening_frame(design, o)
    parts = [p.moved(at) for p in window(o, 0.1, 0.3) + shutters(o, hung(kind, closed=closed))]
    assert_closed(parts)
    shell = [p for p in walls(design) if p.role == "wall"]
    assert {(a, b) for a, b, _ in overlaps(shell + parts)} == {("sash", "glass")}


@pytest.mark.parametrize("head", ["segmental arch", "semicircular casing", "elliptical arch"])
@pytest.mark.parametrize("closed", [False, True])
def test_shutters_under_a_curved_head_stop_at_its_springing(head, closed):
    o = headed(head)
    design = house((o,))
    at = opening_frame(design, o)
    made = shutters(o, hung(closed=closed))
    parts = [p.moved(at) for p in window(o, 0.1, 0.3) + made]
    shell = [p for p in walls(design) if p.role == "wall"]
    assert {(a, b) for a, b, _ in overlaps(shell + parts)} == {("sash", "glass")}
    top = by_name(made)["shutters/leaves"].world_mesh().bounds[1, 2]
    assert top == pytest.approx(1.95 - o.soffit.rise_m, abs=2 * SHUTTER.clear_m)


def test_a_pair_closes_its_window():
    # Common practice, no source: each leaf half the opening wide, and as tall.
    o = window_at()
    leaves = by_name(shutters(o, hung(closed=True)))["shutters/leaves"].world_mesh().bounds
    assert leaves[:, 0] == pytest.approx([-0.525, 0.525], abs=2 * SHUTTER.clear_m)
    assert leaves[1, 2] - leaves[0, 2] == pytest.approx(1.95, abs=3 * SHUTTER.clear_m)
    assert shutter_leaf(1.05) == pytest.approx(0.525, abs=2 * SHUTTER.clear_m)


def test_slats_shed_water_outwards_when_closed():
    leaf = by_name(shutters(window_at(), hung(closed=True)))["shutters/leaves"].mesh
    slat = min(leaf.to_trimesh().split(), key=lambda b: b.volume)
    outer, inner = (
        slat.vertices[slat.vertices[:, 1] < 0.5 * SHUTTER.thickness_m],
        slat.vertices[slat.vertices[:, 1] > 0.5 * SHUTTER.thickness_m],
    )
    assert outer[:, 2].mean() < inner[:, 2].mean()


def test_hold_backs_sit_low_with_the_heavy_end_down():
    # Common practice, no source: on the wall about an inch under the opened leaf, four inches
    # from its outer edge; gravity hangs the heavy end.
    o = window_at()
    parts = by_name(shutters(o, hung()))
    leaves = parts["shutters/leaves"].world_mesh().bounds
    dogs = parts["shutters/hold-backs"]
    pins = dogs.placements[:, :3, 3]
    assert leaves[0, 2] - pins[:, 2] == pytest.approx(1.0 * INCH_M)
    assert leaves[1, 0] - pins[:, 0].max() == pytest.approx(4.0 * INCH_M, abs=0.003)
    scroll = max(dogs.mesh.to_trimesh().split(), key=lambda b: np.ptp(b.bounds[:, 2]))
    assert scroll.center_mass[2] < -0.02  # below the pin
    # Its upper arm stands before the leaf's face and rises past its lower edge.
    assert scroll.bounds[1, 2] > 1.0 * INCH_M
    assert pins[0, 1] == pytest.approx(0.0)
    near = leaves[0, 1]
    assert scroll.bounds[0, 1] < near + 0.02


def test_an_opening_too_narrow_for_leaves_is_refused():
    with pytest.raises(ValueError, match="narrow"):
        shutters(window_at(width_m=0.3), hung())


@settings(deadline=None, max_examples=25)
@given(width=st.floats(0.5, 1.8), height=st.floats(0.8, 3.0), kind=st.sampled_from(KINDS))
def test_any_pair_is_closed_and_opens_clear(width, height, kind):
    o = window_at(width_m=width, height_m=height)
    parts = shutters(o, hung(kind))
    assert_closed(parts)
    leaves = by_name(parts)["shutters/leaves"].world_mesh()
    assert leaves.bounds[1, 1] < -0.03  # before the casing


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("closed", [False, True])
def test_hinges_lie_on_the_leaf_and_their_plates_at_the_hinge(kind, closed):
    # Common practice, no source: a strap lies on the leaf's outer face, its barrel on the pin.
    made = by_name(shutters(window_at(), hung(kind, closed=closed)))
    leaf = made["shutters/leaves"]
    hinges, plates = made["shutters/hinges"], made["shutters/pintles"]
    assert len(hinges.placements) == len(plates.placements) == 4
    for k, placement in enumerate(hinges.placements):
        assert np.linalg.det(placement[:3, :3]) == pytest.approx(1.0)
        points = hinges.mesh.moved(placement).vertices
        on_leaf = points @ np.linalg.inv(leaf.placements[k // 2])[:3, :3].T
        on_leaf += np.linalg.inv(leaf.placements[k // 2])[:3, 3]
        on_face = on_leaf[np.abs(on_leaf[:, 1]) < 1e-6]
        assert np.ptp(on_face[:, 0]) > 0.08  # that much of the strap lies on the face
        low, high = leaf.mesh.bounds
        assert (on_face[:, 0] > low[0] - 1e-6).all()
        assert (on_face[:, 0] < high[0] + 1e-6).all()
        assert (on_leaf[:, 1] < 1e-6).all()  # nothing stands in the leaf
        plate = plates.mesh.moved(plates.placements[k]).bounds
        barrel = placement[:3, 3]
        assert plate[0, 1] == pytest.approx(barrel[1] + 0.007)
        assert plate[0, 0] < barrel[0] < plate[1, 0]

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.parts.opening import window, windows
from massing.parts.wall import opening_frame, walls
from massing.sections import SASH, SILL_PROJECTION_M, casing_width
from tests.house_designs import house, window_at
from tests.shapes import assert_closed, extent, overlaps

LIGHTS = st.tuples(st.integers(1, 4), st.integers(1, 3))


def by_name(parts):
    return {p.name: p for p in parts}


def test_a_window_sits_in_its_hole_and_touches_nothing_it_should_not():
    o = window_at(1.0)
    design = house((o,))
    parts = [p.moved(opening_frame(design, o)) for p in window(o, 0.1, 0.3)]
    shell = [p for p in walls(design) if p.role in ("wall", "foundation")]
    assert_closed(parts)
    # Only the panes are let into the sash.
    assert {(a, b) for a, b, _ in overlaps(shell + parts)} == {("sash", "glass")}


def test_a_six_over_six_has_twelve_panes_housed_in_the_rebates():
    glass = by_name(window(window_at(), 0.1, 0.3))["glass"]
    bodies = glass.mesh.to_trimesh().split()
    assert len(bodies) == 12
    sizes = np.array([np.ptp(b.bounds, axis=0) for b in bodies])
    assert np.ptp(sizes, axis=0) == pytest.approx(0.0, abs=1e-9)
    daylight = 1.05 - 2 * SASH.jamb_face_m - 2 * SASH.stile_m - 2 * SASH.bar_m
    assert sizes[0, 0] == pytest.approx(daylight / 3 + 2 * SASH.rebate_m)


def test_the_upper_sash_stands_outside_the_lower():
    sashes = by_name(window(window_at(), 0.1, 0.3))["sash"].mesh.to_trimesh().split()
    lower, upper = sorted(sashes, key=lambda s: s.bounds[0, 2])
    assert upper.bounds[0, 1] == pytest.approx(0.1)  # the reveal
    assert lower.bounds[0, 1] == pytest.approx(0.1 + SASH.thickness_m + SASH.parting_m)
    # The meeting rails stand one behind the other.
    assert lower.bounds[1, 2] - upper.bounds[0, 2] == pytest.approx(SASH.meeting_rail_m)


def test_casing_is_a_sixth_of_the_opening():
    # A country-house book on Palladio: the architrave is one sixth of the width.
    casing = by_name(window(window_at(), 0.1, 0.3))["casing"]
    assert np.ptp(casing.mesh.vertices[:, 0]) == pytest.approx(1.05 + 2 * 1.05 / 6)
    assert casing_width(1.05) == pytest.approx(1.05 / 6)


def test_the_sill_sheds_water_clear_of_the_wall():
    sill = by_name(window(window_at(), 0.1, 0.3))["sill"]
    assert sill.mesh.bounds[0, 1] == pytest.approx(-SILL_PROJECTION_M)
    middle = sill.mesh.vertices[np.abs(sill.mesh.vertices[:, 0]) < 0.6]
    edge = middle[np.isclose(middle[:, 1], -SILL_PROJECTION_M)]
    assert np.sort(np.unique(np.round(edge[:, 2], 9)))[1] < -0.005  # the wash falls outwards


def test_windows_of_one_size_share_a_mesh():
    openings = [window_at(-4.0), window_at(4.0), window_at(0.0, 4.9, height_m=1.6)]
    design = house(tuple(openings))
    frames = np.array([opening_frame(design, o) for o in openings])
    parts = windows(openings, frames, 0.1, 0.3)
    assert {p.name.split("/")[0]: p.count for p in parts} == {"window A": 2, "window B": 1}
    assert extent(parts)[1, 2] == pytest.approx(4.9 + 1.6 + casing_width(1.05))


@pytest.mark.parametrize(
    ("opening", "reveal", "thickness"),
    [(window_at(), 0.1, 0.15), (window_at(), 0.01, 0.3), (window_at(width_m=0.3), 0.1, 0.3)],
)
def test_what_does_not_fit_is_refused(opening, reveal, thickness):
    with pytest.raises(ValueError, match="window at"):
        window(opening, reveal, thickness)


@settings(deadline=None, max_examples=40)
@given(
    width=st.floats(0.7, 1.8), height=st.floats(1.2, 3.2), upper=LIGHTS, lower=LIGHTS,
    reveal=st.floats(0.03, 0.15),
)  # fmt: skip
def test_any_light_pattern_is_closed(width, height, upper, lower, reveal):
    o = window_at(width_m=width, height_m=height, upper_lights=upper, lower_lights=lower)
    parts = window(o, reveal, 0.4)
    assert_closed(parts)
    panes = len(by_name(parts)["glass"].mesh.to_trimesh().split())
    assert panes == upper[0] * upper[1] + lower[0] * lower[1]

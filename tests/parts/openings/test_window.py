import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.design.opening import FloorWindow, WindowOpening
from massing.parts.openings.window import window, windows
from massing.parts.walls.wall import opening_frame, walls
from massing.practice.joinery_sizes import HEADS, SASH, SILL_PROJECTION_M, THRESHOLD_M, casing_width
from massing.settingout.sashes import check_window, head_of_daylight
from tests.helpers.house_designs import headed, house, window_at
from tests.helpers.shapes import assert_closed, extent, overlaps

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
    # Palladio, Four Books, I.25 (from memory): the architrave is one sixth of the width.
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
    width=st.floats(0.7, 1.8),
    height=st.floats(1.2, 3.2),
    upper=LIGHTS,
    lower=LIGHTS,
    reveal=st.floats(0.03, 0.15),
)
def test_any_light_pattern_is_closed(width, height, upper, lower, reveal):
    o = window_at(width_m=width, height_m=height, upper_lights=upper, lower_lights=lower)
    parts = window(o, reveal, 0.4)
    assert_closed(parts)
    panes = len(by_name(parts)["glass"].mesh.to_trimesh().split())
    assert panes == upper[0] * upper[1] + lower[0] * lower[1]


ROUND_HEADS = [name for name, kind in HEADS.items() if kind.line in ("semicircular", "elliptical")]


def stands_in_its_hole(o):
    """The window's parts in the wall; nothing meets the wall, and the sash meets its panes only."""
    design = house((o,))
    parts = [p.moved(opening_frame(design, o)) for p in window(o, 0.1, 0.3)]
    assert_closed(parts)
    shell = [p for p in walls(design) if p.role in ("wall", "foundation")]
    found = {(a, b) for a, b, _ in overlaps(shell + parts, 1e-7)}
    assert found <= {("sash", "glass")}, found
    frame = extent([p for p in parts if p.name == "frame"])
    for p in parts:
        if p.name in ("sash", "glass"):
            box = p.world_mesh().bounds
            assert (box[0] > frame[0] - 1e-9).all()
            assert (box[1] < frame[1] + 1e-9).all()
    return by_name(parts)


@settings(deadline=None, max_examples=40)
@given(
    head=st.sampled_from(ROUND_HEADS),
    width=st.floats(0.8, 1.6),
    height=st.floats(1.9, 3.0),
    upper=LIGHTS,
    lower=LIGHTS,
    filling=st.sampled_from(["hung", "casement"]),
    to_floor=st.booleans(),
)
def test_sashes_and_leaves_follow_a_round_head(
    head, width, height, upper, lower, filling, to_floor
):
    o = headed(
        head,
        width_m=width,
        height_m=height,
        upper_lights=upper,
        lower_lights=lower,
        filling=filling,
        kind=FloorWindow if to_floor else WindowOpening,
        sill_z_m=0.7 if to_floor else 1.2,
    )
    try:
        check_window(o)
    except ValueError:
        with pytest.raises(ValueError, match="window at"):
            window(o, 0.1, 0.3)
        return
    parts = stands_in_its_hole(o)
    # Nothing of the sash passes the daylight's curve.
    top = head_of_daylight(o).shifted(o.sill_z_m)
    points = parts["sash"].mesh.vertices
    assert (points[:, 2] <= top.height_at(points[:, 0]) + 2e-3).all()
    wide = points[points[:, 2] > top.crown_z_m - 0.01]
    assert len(wide)  # and it reaches the crown


def test_a_half_round_sash_has_a_fan_and_an_oval_one_upright_bars():
    round_, oval = (
        by_name(window(headed(head, height_m=2.2), 0.1, 0.3))
        for head in ("semicircular arch", "elliptical arch")
    )
    panes = [len(p["glass"].mesh.to_trimesh().split()) for p in (round_, oval)]
    # Three sectors and the eye of the fan, a row of three under it, six below; six over six.
    assert panes == [3 + 1 + 3 + 6, 12]


@settings(deadline=None, max_examples=25)
@given(
    width=st.floats(0.5, 1.6),
    height=st.floats(0.8, 2.6),
    lights=LIGHTS,
    leaves=st.sampled_from([1, 2]),
)
def test_any_casement_is_closed_and_stands_in_its_hole(width, height, lights, leaves):
    o = window_at(
        width_m=width,
        height_m=height,
        filling="casement",
        leaves=leaves,
        lower_lights=lights,
        upper_lights=lights,
    )
    try:
        check_window(o)
    except ValueError:
        return
    parts = stands_in_its_hole(o)
    panes = parts["glass"].mesh.to_trimesh().split()
    assert len(panes) == leaves * lights[0] * lights[1]
    assert len(parts["sash"].mesh.to_trimesh().split()) == leaves + (leaves == 2)  # and the bead


@settings(deadline=None, max_examples=20)
@given(width=st.floats(1.5, 2.8), height=st.floats(1.4, 2.6), to_floor=st.booleans())
def test_a_tripartite_window_has_a_wide_middle_between_mullions(width, height, to_floor):
    o = window_at(
        width_m=width,
        height_m=height,
        filling="tripartite",
        kind=FloorWindow if to_floor else WindowOpening,
        sill_z_m=0.7 if to_floor else 1.3,
    )
    parts = stands_in_its_hole(o)
    sashes = parts["sash"].mesh.to_trimesh().split()
    assert len(sashes) == 6
    spans = sorted({(round(b.bounds[0, 0], 6), round(b.bounds[1, 0], 6)) for b in sashes})
    assert len(spans) == 3
    wide = [b - a for a, b in spans]
    assert wide[0] == pytest.approx(wide[2], abs=1e-5)
    assert 1 / 3 - 1e-6 <= wide[0] / wide[1] <= 1 / 2  # common practice, no source
    assert spans[1][0] - spans[0][1] == pytest.approx(SASH.mullion_m, abs=1e-5)
    # The meeting rails of all three are level.
    lower = [b for b in sashes if b.bounds[0, 2] < o.sill_z_m + 0.3]
    assert np.ptp([b.bounds[1, 2] for b in lower]) < 1e-9


def test_a_window_to_the_floor_stands_on_a_threshold():
    o = window_at(sill_z_m=0.7, height_m=2.6, kind=FloorWindow)
    parts = stands_in_its_hole(o)
    assert "sill" not in parts
    assert {"threshold", "casing", "plinth blocks"} <= set(parts)
    assert parts["sash"].mesh.bounds[0, 2] == pytest.approx(0.7 + THRESHOLD_M)

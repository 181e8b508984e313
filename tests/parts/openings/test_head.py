from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.design.opening import CurvedHead
from massing.geometry.arches import segment
from massing.parts.openings.head import KINDS, head, head_cut
from massing.parts.openings.window import window, windows
from massing.parts.walls.facing import bricks
from massing.parts.walls.wall import opening_frame, wall_frame, walls
from massing.practice.joinery_sizes import HEADS, arch_depth, head_reach
from massing.settingout.wall_faces import WALL_NAMES
from tests.helpers.house_designs import headed, house, window_at
from tests.helpers.shapes import assert_closed, body_overlaps, extent, overlaps


@settings(deadline=None, max_examples=40)
@given(width=st.floats(0.5, 2.5), kind=st.sampled_from(KINDS), rise=st.floats(0.15, 0.5))
def test_any_head_is_closed_with_its_blocks_apart(width, kind, rise):
    o = headed(kind, width_m=width)
    if HEADS[kind].line in ("segmental", "elliptical"):
        o = replace(o, curved=replace(o.curved, rise_m=rise * width))
    parts = head(o, kind)
    assert_closed(parts)
    assert body_overlaps(parts) == []
    reach, above = head_reach(width, kind)
    high = extent(parts)[1]
    assert high[0] <= width / 2 + reach + 0.01
    assert high[2] == pytest.approx(o.height_m + above, abs=0.01)


ROUND = ["semicircular arch", "elliptical arch", "stone semicircular arch", "stone elliptical arch"]


@pytest.mark.parametrize("kind", ROUND)
def test_joints_of_a_round_arch_are_square_to_its_curve(kind):
    o = headed(kind, width_m=1.4)
    parts = {p.name: p for p in head(o, kind)}
    blocks = parts["head/voussoirs"].mesh.to_trimesh().split()
    assert len(blocks) % 2 == 0  # with the keystone an odd number: common practice
    a, b, centre_z, _ = o.soffit.axes
    for block in blocks:
        flat = block.vertices[np.isclose(block.vertices[:, 1], block.bounds[0, 1])][:, [0, 2]]
        for foot in flat:
            # The blocks' inner corners lie on the curve: (x / a)^2 + (z / b)^2 = 1.
            if abs((foot[0] / a) ** 2 + ((foot[1] - centre_z) / b) ** 2 - 1.0) > 2e-2:
                continue
            normal = np.array([foot[0] / a**2, (foot[1] - centre_z) / b**2])
            normal /= np.linalg.norm(normal)
            outer = foot + arch_depth(1.4, kind) * normal
            assert np.linalg.norm(flat - outer, axis=1).min() < 0.012
    key = parts["head/keystone"].mesh.bounds
    assert key[:, 0].sum() == pytest.approx(0.0, abs=1e-9)
    assert key[1, 2] > max(b.bounds[1, 2] for b in blocks)
    assert key[0, 1] < min(b.bounds[0, 1] for b in blocks)  # prouder than its neighbours


def test_a_hood_is_a_frieze_and_a_cornice_returned_to_the_wall():
    # Palladio I.25 (from memory): over an architrave of 4 parts a frieze of 3, a cornice of 5.
    (hood,) = head(headed("hood", width_m=0.96), "hood")
    low, high = hood.mesh.bounds
    assert low[2] == pytest.approx(1.95 + 0.16)
    assert high[2] == pytest.approx(1.95 + 0.16 * (1 + 3 / 4 + 5 / 4) + 0.0127)
    cornice = hood.mesh.vertices[hood.mesh.vertices[:, 2] > 1.95 + 0.16 * 1.76]
    assert np.ptp(cornice[:, 0]) > 0.96 + 2 * 0.16 + 0.2  # beyond the casing at both ends
    ends = cornice[np.isclose(np.abs(cornice[:, 0]), high[0])]
    assert ends[:, 1].max() == pytest.approx(0.003)  # let into the wall


def test_a_jack_arch_radiates_about_an_odd_middle():
    parts = {p.name: p for p in head(window_at(), "jack arch")}
    blocks = parts["head/voussoirs"].mesh.to_trimesh().split()
    assert len(blocks) % 2 == 0  # with the keystone an odd number: common practice
    key = parts["head/keystone"].mesh.bounds
    assert key[:, 0].sum() == pytest.approx(0.0)
    assert key[1, 2] > max(b.bounds[1, 2] for b in blocks)
    assert key[0, 1] < min(b.bounds[0, 1] for b in blocks)  # prouder than its neighbours


def test_every_joint_of_a_jack_arch_points_at_one_centre():
    (voussoirs, _) = head(window_at(), "stone jack arch")
    centres = []
    for block in voussoirs.mesh.to_trimesh().split():
        ring = block.vertices[np.isclose(block.vertices[:, 1], block.bounds[0, 1])][:, [0, 2]]
        low, high = ring[ring[:, 1] < 2.0], ring[ring[:, 1] > 2.0]
        a, b = low.mean(axis=0), high.mean(axis=0)
        centres.append(a[1] - a[0] * (b[1] - a[1]) / (b[0] - a[0]))
    assert np.ptp(centres) < 1e-6


def test_a_segment_meets_its_three_points():
    # Geometry of the circle: half chord, rise, radius.
    radius, centre, reach = segment(1.2, 2.0, 0.2)
    assert centre + radius == pytest.approx(2.0)
    assert radius * np.sin(reach) == pytest.approx(0.6)
    assert centre + radius * np.cos(reach) == pytest.approx(1.8)
    half_round = segment(1.0, 2.0, 0.5)
    assert half_round == pytest.approx((0.5, 1.5, np.pi / 2))


@pytest.mark.parametrize(("kind", "rise"), [("ogee", 0.0), ("segmental arch", 0.0)])
def test_heads_that_cannot_be_are_refused(kind, rise):
    with pytest.raises(ValueError, match="allowed"):
        head(window_at(), kind, rise)


@settings(deadline=None)
@given(width=st.floats(0.4, 2.5))
def test_arches_are_as_deep_as_the_rules_of_thumb_ask(width):
    # Kicklighter, Modern Masonry, p. 299 (read): jack arch 4 in and an inch to the
    # foot, 8 in at least; segmental an inch to the foot, 4 in at least.
    inch, foot = 0.0254, 0.3048
    jack, segmental = arch_depth(width, "jack arch"), arch_depth(width, "segmental arch")
    assert jack >= min(4 * inch + width / foot * inch, 5 * 8 / 3 * inch) - 1e-9
    assert jack >= 8 * inch - 1e-9
    assert segmental >= max(width / foot * inch, 4 * inch) - 1e-9
    # Common practice, no source: the keystone rises by a third at most.
    parts = {p.name: p for p in head(window_at(width_m=width), "jack arch")}
    key = parts["head/keystone"].mesh.bounds[1, 2] - 1.95 - jack
    assert 0.0 < key <= jack / 3


@settings(deadline=None, max_examples=20)
@given(width=st.floats(0.7, 2.5))
def test_consoles_hang_beside_the_casing_under_a_hood_that_stands_out(width):
    # Sizes of consoles and hood: common practice, no source.
    opening = window_at(width_m=width, head="hood on consoles")
    parts = {p.name: p.mesh for p in head(opening, opening.head)}
    assert_closed(head(opening, opening.head))
    hood, consoles = parts["head/hood"].bounds, parts["head/consoles"]
    casing_top = opening.height_m + opening.face_m
    assert hood[0, 2] == pytest.approx(casing_top) == consoles.bounds[1, 2]
    assert hood[0, 1] == pytest.approx(-22 * 0.0254)
    assert consoles.bounds[0, 1] > hood[0, 1]
    inner = np.abs(consoles.vertices[:, 0]).min()
    assert inner == pytest.approx(width / 2 + opening.face_m)
    assert hood[1, 0] <= opening.reach_m + 1e-9
    assert hood[1, 2] <= opening.top_z_m - opening.sill_z_m + 1e-9
    # Its top falls to the weather.
    top = parts["head/hood"].vertices
    edge = top[np.isclose(top[:, 1], hood[0, 1])]
    assert edge[:, 2].max() < hood[1, 2]


HEADED = [
    [
        headed(kind, 2.7 * (i - 1.5), panel_below_m=0.45 if i == 3 else None)
        for i, kind in enumerate(four)
    ]
    for four in (KINDS[:4], KINDS[4:8], KINDS[8:])
]


@pytest.mark.parametrize("row", HEADED)
def test_headed_windows_stand_in_brickwork_cut_to_them(row):
    design = house(tuple(row))
    frames = np.array([opening_frame(design, o) for o in row])
    parts = windows(row, frames, 0.1, 0.3)
    heads = [p.moved(at) for o, at in zip(row, frames, strict=True) for p in head(o, o.head)]
    cut = {"front": [c for o in row for c in head_cut(o)]}
    sides = {name: wall_frame(design, name) for name in WALL_NAMES}
    faced = bricks(design, sides, 6.0, keep_out=cut, walls=["front"])
    shell = [p for p in walls(design) if p.role == "wall"]
    assert_closed(parts + heads + faced + shell)
    cased = sum(p.name.endswith("casing") for p in parts)
    assert cased == sum(o.head.startswith("hood") for o in row)
    found = {(a.split("/")[-1], b.split("/")[-1]) for a, b, _ in overlaps(parts + heads + faced)}
    assert found == {("sash", "glass")}
    # Heads are let into the wall by their 3 mm, nothing else meets it.
    for a, b, shared in overlaps(shell + parts + heads):
        assert "sash" in a or shared < 0.004 * 1.0, (a, b, shared)


@settings(deadline=None, max_examples=25)
@given(width=st.floats(0.7, 1.6), rise=st.floats(0.03, 0.4), height=st.floats(1.5, 2.6))
def test_a_segmental_window_fills_its_curved_hole(width, rise, height):
    curved = CurvedHead(rise * width)
    o = window_at(width_m=width, height_m=height, curved=curved, head="segmental arch")
    design = house((o,))
    parts = [p.moved(opening_frame(design, o)) for p in window(o, 0.1, 0.3)]
    assert_closed(parts)
    shell = [p for p in walls(design) if p.role == "wall"]
    assert {(a, b) for a, b, _ in overlaps(shell + parts)} == {("sash", "glass")}
    frame = next(p for p in parts if p.name == "frame")
    assert frame.mesh.bounds[1, 2] == pytest.approx(o.head_z_m, abs=1e-6)

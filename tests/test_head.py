import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.parts.head import KINDS, arch_depth, head, segment
from tests.house_designs import window_at
from tests.shapes import assert_closed, body_overlaps


@settings(deadline=None, max_examples=30)
@given(width=st.floats(0.5, 2.5), kind=st.sampled_from(KINDS), rise=st.floats(0.05, 0.45))
def test_any_head_is_closed_with_its_blocks_apart(width, kind, rise):
    parts = head(window_at(width_m=width), kind, rise * width)
    assert_closed(parts)
    assert body_overlaps(parts) == []


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
    # Modern Masonry, p. 299 (g-wonlinetextbooks.com, read): jack arch 4 in and an inch to the
    # foot, 8 in at least; segmental an inch to the foot, 4 in at least.
    inch, foot = 0.0254, 0.3048
    jack, segmental = arch_depth(width, "jack arch"), arch_depth(width, "segmental arch")
    assert jack >= min(4 * inch + width / foot * inch, 5 * 8 / 3 * inch) - 1e-9
    assert jack >= 8 * inch - 1e-9
    assert segmental >= max(width / foot * inch, 4 * inch) - 1e-9
    # Masonry Magazine, October 1995 (read): the keystone rises by a third at most.
    parts = {p.name: p for p in head(window_at(width_m=width), "jack arch")}
    key = parts["head/keystone"].mesh.bounds[1, 2] - 1.95 - jack
    assert 0.0 < key <= jack / 3

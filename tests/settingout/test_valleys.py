"""Roofs that run back into another roof's slope: their planes, their holes, what is laid there."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.build.placing import covered
from massing.design.roof import GableRoof
from massing.geometry.mesh import merged
from massing.geometry.plan_polygons import (
    INSETS_M,
    Hole,
    apart,
    clipped,
    grown,
    inside,
    opened,
    outwards,
    slab,
)
from massing.geometry.rays import Caster
from massing.parts.part import Part
from massing.settingout.roof_planes import gable_planes
from massing.settingout.valleys import gable_into, hole_of, meets, shed_into
from tests.helpers.shapes import assert_closed, overlaps

SLOPE = st.floats(0.15, 1.6)


def main(slope=0.75, half=6.0):
    """A front slope 12 m long, its eave on y = 0 at z = 3."""
    planes = gable_planes((-half, 0.0), (half, 10.0), 3.0, slope)
    return planes, planes.slopes[0]


def lay(planes, name):
    return covered([], planes, GableRoof(0.75, 0.05, name, "terracotta"))


def off_plane(ring, points):
    normal = np.cross(ring[1] - ring[0], ring[-1] - ring[0])
    return np.abs((points - ring[0]) @ normal) / np.linalg.norm(normal)


@settings(deadline=None)
@given(half=st.floats(0.4, 4.0), slope=SLOPE, other=SLOPE, up=st.floats(0.0, 1.0))
def test_valleys_lie_on_both_planes(half, slope, other, up):
    ring = main(other)[1]
    planes = gable_into(half, -1.0, 3.0 + up, slope, ring)
    for valley, own in zip(planes.valleys, reversed(planes.slopes), strict=True):
        assert off_plane(ring, valley.line).max() < 1e-9
        assert off_plane(own, valley.line).max() < 1e-9
    assert all(off_plane(r, r).max() < 1e-9 for r in planes.slopes)


@given(slope=SLOPE, other=SLOPE)
def test_a_shed_meets_the_slope_on_a_level_line(slope, other):
    ring = main(other)[1]
    if slope > other - 0.05:
        with pytest.raises(ValueError, match="slope"):
            shed_into(1.0, 0.5, 9.0, max(slope, other + 0.01), ring)
        return
    (valley,) = shed_into(1.0, 0.5, 5.0, slope, ring).valleys
    assert np.ptp(valley.line[:, 2]) < 1e-9
    assert off_plane(ring, valley.line).max() < 1e-9


def test_equal_pitches_meet_at_45_degrees_in_plan_and_fall_as_a_hip_does():
    # Common practice: the framing square's "length of hip or valley per foot of run" is to a
    # run of 17 in (12 times the root of 2) for each foot of the common rafter's.
    (left, right) = gable_into(2.0, -1.0, 3.0, 0.75, main(0.75)[1]).valleys
    for valley in (left, right):
        run = np.abs(valley.line[1] - valley.line[0])
        assert run[0] == pytest.approx(run[1])
        assert run[2] / np.hypot(run[0], run[1]) == pytest.approx(0.75 * 12.0 / 16.97, rel=1e-4)


def test_the_hole_is_bounded_by_the_valleys():
    planes = gable_into(2.0, -1.0, 3.5, 0.75, main(0.75)[1])
    hole = hole_of(planes, -0.5, 0.1)
    assert hole.sides == ("clear", "clear", "valley", "valley", "clear")
    right, apex = planes.valleys[1].line[:, :2]
    assert hole.ring[3] == pytest.approx(apex)
    across = hole.ring[2] - right
    assert across[0] == pytest.approx(0.1)  # on the valley's line, drawn on past its foot
    assert across[0] * (apex - right)[1] == pytest.approx(across[1] * (apex - right)[0])
    with pytest.raises(ValueError, match="behind"):
        hole_of(planes, 2.0, 0.1)


def test_a_gable_that_stands_in_the_slope_is_refused():
    with pytest.raises(ValueError, match="within the slope"):
        gable_into(1.0, 4.0, 3.2, 0.75, main()[1])
    with pytest.raises(ValueError, match="along"):
        meets(main()[1], (0.0, 0.0, 3.0), (1.0, 0.0, 0.0))


@pytest.mark.parametrize("name", ["barrel tile", "slate", "standing seam", "wood shingle"])
def test_coverings_keep_clear_of_a_valley_and_of_each_other(name):
    planes, ring = main(0.75, half=2.2)
    cross = gable_into(1.0, -0.6, 3.0, 0.6, ring)
    hole = hole_of(cross, -0.6, 0.25)
    laid = lay(replace(planes, holes=(hole,)), name)
    over = lay(cross, name)
    assert_closed([*laid, *over])
    cut = opened([hole])[0]
    for part in laid:
        if part.name.endswith("flashing"):
            continue
        middles = part.world_mesh().triangles.mean(axis=1)[:, :2]
        reach = middles @ outwards(cut).T - np.einsum("ij,ij->i", outwards(cut), cut)
        assert not (reach < -1e-6).all(axis=1).any(), part.name
    ridge = {"hips", "rolls", "caps", "flashing", "mortar", "boards"}
    field = [p for p in over if not ridge & set(p.name.replace("/", " ").split())]
    assert field
    for valley in cross.valleys:
        low, high = valley.line[:, :2]
        step = (high - low) / np.linalg.norm(high - low)
        inwards = np.array([step[1], -step[0]])
        inwards *= np.sign(inwards @ -low)
        for part in field:
            points = part.world_mesh().vertices[:, :2]
            side = points[:, 0] * low[0] > 0.0
            reach = (points[side] - low) @ inwards
            assert (reach > INSETS_M["valley"] - 1e-6).all(), part.name
    one, other = (
        Part((what,), "tile", merged(p.world_mesh() for p in parts if "flashing" not in p.name))
        for what, parts in (("main", laid), ("cross", over))
    )
    assert overlaps([one, other], 1e-7) == []


@pytest.mark.parametrize(
    ("slope", "other", "half"), [(0.6, 0.75, 1.0), (0.4, 0.6, 1.3), (0.75, 0.75, 1.4)]
)
def test_tiles_cut_along_a_valley_are_bedded_in_mortar(slope, other, half):
    """A look out of the valley's metal meets tile or mortar, not the dark under the tiles."""
    planes, ring = main(other, half=3.0)
    cross = gable_into(half, -0.6, 3.0, slope, ring)
    hole = hole_of(cross, -0.6, 0.25)
    laid = lay(replace(planes, holes=(hole,)), "barrel tile")
    over = lay(cross, "barrel tile")
    beds = [p for p in (*laid, *over) if p.name.endswith("valley mortar")]
    assert len(beds) == 2
    assert_closed(beds)
    for bed, parts in zip(beds, (laid, over), strict=True):
        others = [p for p in parts if p is not bed and "flashing" not in p.name]
        assert [o for p in others for o in overlaps([bed, p], 1e-7)] == []
    for valley in cross.valleys:
        low, high = valley.line
        level = (high - low) * [1.0, 1.0, 0.0] / np.linalg.norm((high - low)[:2])
        aside = np.array([level[1], -level[0], 0.0])
        aside *= np.sign(aside[0] * -low[0])  # towards the cross roof
        for parts, look, pitch in ((over, aside, slope), (laid, -aside, other)):
            share = np.linspace(0.35, 0.75, 150)[:, None]
            # On that roof's deck at the tiles' edge, then up into the covers' mouths.
            normal = (pitch * np.sign(-low[0]), 0.0) if parts is over else (0.0, pitch)
            edge = low + share * (high - low) + look * INSETS_M["valley"]
            edge[:, 2] += INSETS_M["valley"] * float(look[:2] @ normal)
            starts = np.concatenate([edge + [0.0, 0.0, up] for up in (0.015, 0.03, 0.05)])
            starts -= 0.005 * look
            hits = Caster(parts).first_hit(starts, look)
            deep = np.where(hits.owner >= 0, (hits.points - starts) @ look, np.inf)
            bare = [p for p in parts if p not in beds]
            before = Caster(bare).first_hit(starts, look)
            dark = np.where(before.owner >= 0, (before.points - starts) @ look, np.inf)
            assert (deep < 0.05).mean() > 0.9
            assert (dark < 0.05).mean() < 0.75


RING = st.integers(3, 8).flatmap(
    lambda n: st.tuples(st.just(n), st.floats(0.5, 3.0), st.floats(0.5, 3.0), st.floats(0.0, 6.0))
)


def polygon(shape):
    n, a, b, turn = shape
    angle = turn + 2.0 * np.pi * np.arange(n) / n
    return np.column_stack([a * np.cos(angle), b * np.sin(angle)])


@given(shape=RING, out=st.floats(0.0, 1.0))
def test_a_grown_polygon_keeps_each_side_that_far_out(shape, out):
    ring = polygon(shape)
    bigger = grown(ring, np.full(len(ring), out))
    assert inside(bigger, ring, out - 1e-9)
    assert not inside(bigger, ring, out + 1e-6)


@given(shape=RING, other=RING, gap=st.floats(0.0, 1.0))
def test_polygons_are_told_apart(shape, other, gap):
    one, two = polygon(shape), polygon(other)
    assert not apart(one, two)  # both hold the origin
    shift = 8.0 * float(np.abs([*one, *two]).max()) + 4.0 * gap
    assert apart(one, two + [shift, 0.0], gap)


@given(shape=RING, cut=st.floats(-0.4, 0.4))
def test_a_clipped_polygon_and_the_rest_make_the_whole(shape, cut):
    ring = polygon(shape)
    flat = np.array([(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 0.0), (0.0, 1.0, 0.0)])
    halves = [clipped(ring, (1.0, 0.0), cut), clipped(ring, (-1.0, 0.0), -cut)]
    volumes = [slab(flat, half, 0.0, 1.0).volume_m3 for half in halves if len(half) > 2]
    assert sum(volumes) == pytest.approx(slab(flat, ring, 0.0, 1.0).volume_m3)


def test_a_slab_lies_upright_off_its_plane():
    ring = main(0.5)[1]
    plate = slab(ring, np.array([(0.0, 1.0), (1.0, 1.0), (1.0, 2.0)]), 0.1, 0.4)
    assert plate.volume_m3 == pytest.approx(0.5 * 0.3)
    assert plate.bounds[:, 2] == pytest.approx([3.0 + 0.5 + 0.1, 3.0 + 1.0 + 0.4])


def test_a_hole_is_moved_with_what_makes_it():
    hole = Hole(np.array([(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)]), ("wall", "clear", "valley"))
    half_turn = np.diag([-1.0, -1.0, 1.0, 1.0])
    half_turn[:2, 3] = 3.0, 4.0
    assert hole.moved(half_turn).ring == pytest.approx(np.array([(3, 4), (2, 4), (3, 3)]))
    assert hole.moved(half_turn).sides == hole.sides

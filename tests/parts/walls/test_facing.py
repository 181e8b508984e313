import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.parts.openings.door import door
from massing.parts.openings.head import head_cut
from massing.parts.openings.window import windows
from massing.parts.walls.facing import (
    BONDS,
    BRICK_M,
    belt_course,
    bricks,
    clapboards,
    quoin_cut,
    quoins,
)
from massing.parts.walls.wall import opening_frame, wall_frame, walls
from massing.practice.joinery_sizes import arch_depth
from massing.settingout.wall_faces import WALL_NAMES, strips, taken
from massing.units import INCH_M
from tests.helpers.house_designs import door_at, headed, house, window_at
from tests.helpers.shapes import assert_closed, body_overlaps, extent, overlaps

OPENINGS = (window_at(-4.0), window_at(4.0), window_at(1.0, 4.9, wall="left"), door_at())
DESIGN = house(OPENINGS)
FRAMES = {wall: wall_frame(DESIGN, wall) for wall in WALL_NAMES}
TOP_M = 6.7


def everything_else():
    glazed = [o for o in OPENINGS if o.kind == "window"]
    frames = np.array([opening_frame(DESIGN, o) for o in glazed])
    entrance = OPENINGS[-1]
    at = opening_frame(DESIGN, entrance)
    return windows(glazed, frames, 0.1, 0.3) + [p.moved(at) for p in door(entrance, 0.1, 0.3)]


def clashes(facing, others):
    names = {p.name for p in facing}
    return [o for o in overlaps([*facing, *others], 1e-8) if names & set(o[:2])]


def test_clapboards_fill_the_wall_between_openings_and_corners():
    parts = clapboards(DESIGN, FRAMES, TOP_M)
    assert_closed(parts)
    shell = [p for p in walls(DESIGN) if p.role in ("wall", "foundation")]
    assert clashes(parts, shell + everything_else()) == []
    low, high = extent(parts)
    assert (low[2], high[2]) == pytest.approx((0.7, TOP_M))


def test_a_clapboard_shows_its_exposure():
    rows = strips((-1.0, 0.0), (1.0, 1.0), 4 * INCH_M, [])
    assert np.diff(rows[:-1, 4]) == pytest.approx(4 * INCH_M)


@pytest.mark.parametrize("bond", BONDS)
def test_bricks_are_closed_and_clear_of_the_openings(bond):
    parts = bricks(DESIGN, FRAMES, TOP_M, bond)
    assert_closed(parts)
    assert clashes(parts, everything_else()) == []
    stretcher = next(p for p in parts if p.name.endswith("stretchers"))
    size = np.ptp(stretcher.mesh.vertices, axis=0)
    assert (size[0], size[2]) == pytest.approx((8 * INCH_M, 2.25 * INCH_M))


def test_three_courses_of_brick_make_eight_inches():
    # Common practice, no source: the mason's gauge.
    front = next(p for p in bricks(DESIGN, FRAMES, TOP_M) if p.name.endswith("stretchers"))
    z = np.unique(np.round(front.placements[:, 2, 3], 6))
    assert z[3] - z[0] == pytest.approx(8.0 * INCH_M, abs=1e-5)
    assert BRICK_M[1] < np.diff(z).min()


def test_running_bond_breaks_joint_and_flemish_turns_by_turn():
    rows = house((), storey_floors_z_m=(0.7,), wall_top_z_m=4.0)
    frames = {wall: wall_frame(rows, wall) for wall in WALL_NAMES}
    for bond, ratio in (("running", 0.0), ("flemish", 1.0)):
        parts = {p.name: p for p in bricks(rows, frames, 3.7, bond, walls=["front"])}
        whole = parts["house/bricks/stretchers"].count
        heads = parts["house/bricks/headers"].count if "house/bricks/headers" in parts else 0
        assert heads / whole == pytest.approx(ratio, abs=0.05)
    places = parts["house/bricks/headers"].placements
    z = np.round(places[:, 2, 3], 5)
    first, second = (np.sort(places[z == level, 0, 3]) for level in np.unique(z)[:2])
    assert not np.isclose(first[5], second, atol=0.05).any()


def test_quoins_meet_at_the_corner_and_alternate():
    parts = quoins(DESIGN, TOP_M)
    assert_closed(parts)
    assert body_overlaps(parts) == []
    assert extent(parts)[:, 2] == pytest.approx([0.7, TOP_M])
    # Bricks cut to them share nothing with them.
    cut = {wall: quoin_cut(DESIGN, wall, TOP_M) for wall in WALL_NAMES}
    assert clashes(bricks(DESIGN, FRAMES, TOP_M, keep_out=cut), parts) == []
    left = [p for p in parts if p.mesh.bounds[1, 0] > 0.4]
    assert 0 < sum(p.count for p in left) < sum(p.count for p in parts)


def test_a_belt_course_goes_round_the_house():
    belt = belt_course(DESIGN, 4.0)
    assert_closed([belt])
    assert belt.mesh.bounds[1, 2] == pytest.approx(4.0)
    assert belt.mesh.bounds[0, 0] < -7.0
    parted = belt_course(DESIGN, 4.0, (-2.0, 2.0))
    assert_closed([parted])
    front = parted.mesh.vertices[parted.mesh.vertices[:, 1] < -0.01]
    assert np.abs(front[:, 0]).min() == pytest.approx(2.0)


@pytest.mark.parametrize(
    "make",
    [lambda: clapboards(DESIGN, FRAMES, TOP_M, 0.5), lambda: bricks(DESIGN, FRAMES, TOP_M, "odd")],
)
def test_what_cannot_be_is_refused(make):
    with pytest.raises(ValueError, match="allowed"):
        make()


RECT = st.tuples(st.floats(-4, 4), st.floats(0, 2.5), st.floats(0.1, 2.0), st.floats(0.1, 1.5)).map(
    lambda r: (r[0], r[1], r[0] + r[2], r[1] + r[3])
)


@settings(deadline=None)
@given(cut=st.lists(RECT, max_size=5), course=st.floats(0.05, 0.4))
def test_strips_cover_all_that_is_left_and_nothing_else(cut, course):
    rows = strips((-5.0, 0.0), (5.0, 3.0), course, cut)
    x, z = np.meshgrid(np.linspace(-4.987, 4.987, 57), np.linspace(0.0123, 2.987, 43))
    inside = np.zeros(x.shape, dtype=int)
    for x0, x1, z0, z1, _ in rows:
        inside += (x > x0) & (x < x1) & (z > z0) & (z < z1)
    free = np.ones(x.shape, dtype=bool)
    margin = np.zeros(x.shape, dtype=bool)
    for a, b, c, d in cut:
        free &= ~((x > a) & (x < c) & (z > b) & (z < d))
        margin |= (abs(x - a) < 2e-4) | (abs(x - c) < 2e-4)
    edge = np.zeros(x.shape, dtype=bool)
    for z0 in {*rows[:, 2], *rows[:, 3]}:
        edge |= abs(z - z0) < 1e-6
    sure = ~margin & ~edge
    assert (inside <= 1).all()
    assert (inside[sure] == free[sure]).all()


def test_an_opening_takes_its_casing_and_sill():
    (around, sill) = taken(house((window_at(),)), "front")
    assert around[2] - around[0] == pytest.approx(1.05 * 4 / 3)
    assert sill[3] == around[1]


@pytest.mark.parametrize("faced", ["brick", "clapboard"])
def test_bricks_and_boards_are_cut_to_the_curve_they_meet(faced):
    if faced == "brick":
        o = headed("stone semicircular arch", width_m=1.3)
        design = house((o,))
        sides = {name: wall_frame(design, name) for name in WALL_NAMES}
        keep = {"front": head_cut(o)}
        parts = bricks(design, sides, 6.0, keep_out=keep, walls=["front"])
        out, joint = arch_depth(1.3, o.head), 3.0 / 8.0 * INCH_M
    else:
        o = headed("elliptical casing", width_m=1.3)
        design = house((o,))
        sides = {name: wall_frame(design, name) for name in WALL_NAMES}
        parts = [p for p in clapboards(design, sides, 6.0) if p.name.endswith("/front")]
        out, joint = o.face_m, 0.0
    assert_closed(parts)
    curve = o.soffit.shifted(o.sill_z_m)
    points = np.concatenate([p.world_mesh().vertices[:, [0, 2]] for p in parts])
    line = curve.moved_out(out, 2000)
    above = points[(points[:, 1] > line[0, 1] + joint) & (np.abs(points[:, 0]) < line[0, 0])]
    arch_z = np.interp(above[:, 0], line[::-1, 0], line[::-1, 1])
    assert (above[:, 1] > arch_z - 1e-3).all()  # nothing stands in the arch
    # Pieces follow it all the way: no course leaves a step bare, as whole bricks would.
    near = np.linalg.norm(line[300:800:20, None] - points[None], axis=2).min(axis=1)
    assert near.max() < BRICK_M[1] + joint

"""Squared stone: true courses, broken perpends, corners that turn, clear of what is in the wall."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.build.house import build
from massing.parts.openings.door import door
from massing.parts.openings.window import windows
from massing.parts.walls.ashlar import Band, ashlar, courses, works
from massing.parts.walls.wall import opening_frame, wall_frame, walls
from massing.scene.errors import DesignError
from massing.settingout.wall_faces import WALL_NAMES, CutShape
from massing.units import INCH_M
from tests.build.test_random_houses import drawn
from tests.helpers.house_designs import door_at, house, window_at
from tests.helpers.shapes import assert_closed, body_overlaps, extent, overlaps

OPENINGS = (window_at(-4.0), window_at(4.0), window_at(1.0, 4.9, wall="left"), door_at())
DESIGN = house(OPENINGS, walls="limestone")
FRAMES = {wall: wall_frame(DESIGN, wall) for wall in WALL_NAMES}
TOP_M = 6.7
WORKS = ("equal", "alternate", "channelled", "v-jointed")


def everything_else():
    glazed = [o for o in OPENINGS if o.kind == "window"]
    frames = np.array([opening_frame(DESIGN, o) for o in glazed])
    entrance = OPENINGS[-1]
    at = opening_frame(DESIGN, entrance)
    return windows(glazed, frames, 0.1, 0.3) + [p.moved(at) for p in door(entrance, 0.1, 0.3)]


def clashes(facing, others):
    names = {p.name for p in facing}
    return [o for o in overlaps([*facing, *others], 1e-8) if names & set(o[:2])]


@pytest.mark.parametrize("work", WORKS)
def test_stones_are_closed_apart_and_clear_of_the_openings(work):
    parts = ashlar(DESIGN, FRAMES, [Band(0.7, TOP_M, work)])
    assert_closed(parts)
    assert body_overlaps(parts) == []
    assert clashes(parts, everything_else()) == []
    low, high = extent(parts)
    joint, proud = works()[work].joint_m, works()[work].proud_m
    assert (low[2], high[2]) == pytest.approx((0.7 + joint / 2, TOP_M - joint / 2))
    # Corner stones turn the corner: the faces run through to it on both walls.
    assert (low[0], low[1]) == pytest.approx((-7.0 - proud, -proud))
    # Stones are let into the wall, by less than a joint is deep.
    shell = [p for p in walls(DESIGN) if p.role == "wall"]
    shared = sum(o[2] for o in clashes(parts, shell))
    assert 0.0 < shared < 0.0025 * (2 * 14.0 + 2 * 9.0) * 6.0


@given(st.floats(0.4, 8.0), st.sampled_from(WORKS))
def test_courses_come_out_whole_and_near_what_was_asked(tall, work):
    heights = works()[work].courses_m
    levels = courses(0.7, 0.7 + tall, heights)
    made = np.diff(levels)
    assert levels[[0, -1]] == pytest.approx([0.7, 0.7 + tall])
    assert (made > 0.0).all()
    asked = np.resize(heights, len(made))
    ratio = made / asked
    assert np.ptp(ratio) < 1e-9
    if tall > 3.0:
        assert 0.9 < ratio[0] < 1.1


def test_equal_and_unequal_courses_are_what_vitruvius_calls_them():
    # Vitruvius II.8.6 (from memory): isodomum has courses of one height, pseudisodomum unequal.
    assert np.ptp(np.diff(courses(0.0, 6.0, works()["equal"].courses_m))) < 1e-9
    unequal = np.diff(courses(0.0, 6.0, works()["alternate"].courses_m))
    assert unequal[0] == pytest.approx(2.0 * unequal[1])


def test_no_perpend_stands_over_another():
    bare = house((), walls="limestone")
    frames = {wall: wall_frame(bare, wall) for wall in WALL_NAMES}
    parts = ashlar(bare, frames, [Band(0.7, TOP_M, "equal")])
    joints: dict[float, list[float]] = {}
    for part in parts:
        for low, high in _boxes_of(part):
            if low[1] < -0.005 and high[1] < 0.01 and "corner" not in part.name:
                joints.setdefault(round(low[2], 4), []).append(low[0])
    for below, above in pairwise(joints[z] for z in sorted(joints)):
        gaps = np.abs(np.array(below)[:, None] - np.array(above)[None])
        assert gaps.min() > 8.0 * INCH_M


def _boxes_of(part):
    size = np.ptp(part.mesh.vertices, axis=0)
    if part.placements is None:
        solids = part.mesh.to_trimesh().split()
        return [s.bounds for s in solids]
    whole = part.world_mesh().vertices.reshape(part.count, -1, 3)
    assert size.min() > 0.0
    return [(v.min(axis=0), v.max(axis=0)) for v in whole]


def test_stones_are_cut_to_a_slope_and_not_stepped_from_it():
    slope = CutShape(0.0, 2.0, 4.0, lambda z: 3.0 - 1.5 * (z - 2.0))
    keep = {"front": [slope]}
    parts = ashlar(house((), walls="limestone"), FRAMES, [Band(0.7, TOP_M, "equal")], keep)
    assert_closed(parts)
    cut = next(p for p in parts if p.name.endswith("sloping front"))
    at = cut.mesh.vertices[:, [0, 2]]
    within = (at[:, 1] > 2.0) & (at[:, 1] < 4.0)
    out = np.abs(at[within, 0]) - (3.0 - 1.5 * (at[within, 1] - 2.0))
    assert out.min() > -1e-3
    # All along the slope, every hand's breadth or less, a stone comes up to it.
    touching = at[within][out < 0.02, 1]
    assert np.diff(np.sort(touching)).max() < 13.0 * INCH_M


HOUSE = {
    "width": "48 ft",
    "depth": "30 ft",
    "storeys": ["12 ft", "10 ft"],
    "walls": "limestone",
    "relief": True,
}
PORCH = {"order": "tuscan", "columns": 4, "roof": "hipped", "height": "9'-6\""}
ROOF = {"covering": "plain"}


def roles(model, start):
    return {p.role for p in model.parts if p.name.startswith(start)}


@pytest.mark.parametrize("belt", [True, False])
def test_a_rusticated_ground_storey_under_ashlar(belt):
    given_ = HOUSE | {"rustication": "channelled", "belt_courses": belt, "coursing": "alternate"}
    design = drawn(given_, PORCH, ROOF)
    model = build(design)
    assert_closed(model.parts)
    rustic = [p for p in model.parts if p.name.startswith("house/channelled")]
    above = [p for p in model.parts if p.name.startswith("house/ashlar")]
    floor = design.house.storey_floors_z_m[1]
    assert extent(rustic)[1, 2] <= floor
    assert extent(above)[0, 2] >= floor - 8.0 * INCH_M
    assert body_overlaps([*rustic, *above]) == []
    porch = [p for p in model.parts if p.name.startswith("porch/")]
    assert clashes([*rustic, *above], porch) == []


def test_stucco_may_be_channelled_and_other_walls_not():
    stucco = HOUSE | {"walls": "stucco", "relief": False, "rustication": "v-jointed"}
    model = build(drawn(stucco, PORCH, ROOF))
    assert roles(model, "house/v-jointed") == {"wall"}
    with pytest.raises(DesignError, match="limestone or stucco"):
        drawn(HOUSE | {"walls": "brick", "rustication": "channelled"}, PORCH, ROOF)
    with pytest.raises(DesignError, match=r"house\.relief"):
        drawn(HOUSE | {"walls": "stucco"}, PORCH, ROOF)


@settings(deadline=None, max_examples=6)
@given(
    st.lists(st.tuples(st.floats(-5.5, 5.5), st.floats(1.2, 4.6)), max_size=3),
    st.sampled_from(WORKS),
    st.floats(3.2, 6.7),
)
def test_any_wall_is_faced_with_stones_that_do_not_meet(places, work, top):
    openings = tuple(window_at(x, z) for x, z in places)
    design = house(openings, walls="limestone")
    parts = ashlar(design, FRAMES, [Band(0.7, top, work)])
    assert_closed(parts)
    assert body_overlaps(parts) == []

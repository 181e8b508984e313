"""Sloping ground: what stands on it reaches it, and nothing hangs over it."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from massing.build.house import build
from massing.design.design import Design
from massing.design.opening import StepsDesign
from massing.design.site import GROUND_REACH_M, GroundDesign
from massing.findings.report import findings
from massing.parts.floors.handrail import handrail
from massing.parts.floors.steps import steps
from massing.parts.part import Model
from massing.parts.site.ground import ground, laid, lie_of, rooted, stood
from massing.parts.site.planting import hedge, neighbour, tree
from massing.present.reports.schedule import schedule
from massing.resolve.design import resolve
from massing.resolve.ground import flight
from massing.scene.errors import DesignError
from massing.scene.spec import Scene, parse_slope
from massing.view.cameras import camera_for
from massing.view.framing import EYE_HEIGHT_M
from massing.view.ground_line import ground_line
from tests.helpers.shapes import assert_closed, assert_on_the_ground, extent

SLOPES = st.floats(-1 / 8, 1 / 8)


def design(along: float | str = 0.0, back: float | str = 0.0, **changes: dict) -> Design:
    given = {
        "title": "On a slope",
        "site": {
            "place": "Natchez",
            "latitude": 31.56,
            "longitude": -91.4,
            "front_faces": "S",
            "ground_slope": {"along": along, "back": back},
        },
        "house": {
            "width": "44 ft",
            "depth": "30 ft",
            "storeys": ["11 ft", "10 ft"],
            "floor": "44 in",
            "walls": "stucco",
            "bays": 5,
            "side_bays": 3,
            "side_door": {"wall": "right", "bay": 2},
            "wings": [{"side": "left", "width": "14 ft", "storeys": ["9 ft"]}],
        },
        "porch": {"order": "tuscan", "columns": 4, "height": "storey"},
        "roof": {"form": "hip", "covering": "plain", "gutter": "half round"},
        "times": ["equinox 10:00"],
        **changes,
    }
    return resolve(Scene.model_validate(given), "any")


def test_a_slope_is_read_as_rise_over_run():
    assert parse_slope("1:20") == pytest.approx(0.05)
    assert parse_slope(" -1 : 8 ") == pytest.approx(-0.125)
    assert parse_slope("level") == 0.0
    assert parse_slope(0.03) == 0.03


@pytest.mark.parametrize("wrong", ["1:7", "steep", "1:0", True, "1/7", None, [1]])
def test_no_slope(wrong):
    with pytest.raises(ValueError, match="allowed"):
        parse_slope(wrong)


def test_level_given_is_level():
    level = design("level", 0.0)
    assert level.site.ground.level
    assert build(level).building_bounds[0, 2] == pytest.approx(0.0)


@given(along=SLOPES, back=SLOPES)
def test_the_sheet_goes_through_the_origin_and_ends_level(along, back):
    lie = GroundDesign(along, back)
    sheet = ground(lie)
    assert lie.z_m(0.0, 0.0) == 0.0
    assert lie.z_m(10.0, 0.0) == pytest.approx(10 * along)
    far = GROUND_REACH_M * (abs(along) + abs(back))
    assert np.abs(sheet.mesh.vertices[:, 2]).max() == pytest.approx(far)
    normals = sheet.mesh.to_trimesh().face_normals
    assert (normals[:, 2] > 0.98).all()
    if not lie.level:
        found = lie_of(Model((sheet,)))
        assert (found.along, found.back) == pytest.approx((along, back))


@settings(deadline=None, max_examples=60)
@given(floor=st.floats(0.3, 1.6), slope=SLOPES, edge=st.floats(0.0, 4.0))
def test_a_flight_has_equal_risers_down_to_the_ground_at_its_foot(floor, slope, edge):
    tread = 0.33

    def before(out: float) -> float:
        return -slope * (edge + out)

    count, foot = flight("porch.steps.riser", floor + edge, 0.165, tread, before, "feet")
    assert foot == pytest.approx(before((count - 1) * tread))
    rise = (floor + edge - foot) / count
    assert 0.0 < rise <= 0.165 + 1e-9
    if count > 1:  # one riser fewer would be too few
        fewer = floor + edge - before((count - 2) * tread)
        assert fewer > (count - 1) * 0.165


def test_ground_that_falls_with_the_flight_is_refused():
    with pytest.raises(DesignError, match="allowed"):
        flight("porch.steps.riser", 1.0, 0.05, 0.5, lambda out: -out / 8.0, "feet")


@pytest.mark.parametrize("foot", [-0.6, 0.2])
def test_steps_and_rail_start_at_their_foot(foot):
    made = StepsDesign(2.0, 6, (0.9 - foot) / 6, 0.33, "iron", foot)
    parts = steps(made, 0.9, -2.0)
    assert_closed(parts)
    low, high = extent(parts)
    assert (low[2], high[2]) == pytest.approx((foot, 0.9))
    rail = handrail(made, 0.9, -2.0, "iron")
    assert extent(rail)[0, 2] == pytest.approx(foot + made.riser_m, abs=0.02)


@settings(deadline=None, max_examples=12)
@given(along=st.floats(-1 / 14, 1 / 22), back=st.floats(-1 / 12, 1 / 22))
def test_nothing_floats(along, back):
    # Where it rises both ways, the far corner of a wing comes too near its floor; that is refused.
    assume(-36.0 * along + 26.0 * back < 3.25)
    made = design(along, back)
    model = build(made)
    lie = made.site.ground
    assert_closed(model.parts)
    assert_on_the_ground(model, lie)
    pipes = [p for p in model.parts if p.name.endswith("downspout/pipe")]
    shoes = [p.mesh.bounds[0, 2] for p in pipes]
    for part, shoe in zip(pipes, shoes, strict=True):
        for frame in part.placements:
            over = shoe - float(lie.z_m(frame[0, 3], frame[1, 3]))
            assert 0.0 < over < 0.3


def test_parts_over_the_ground_stay_where_they_are():
    level, sloped = build(design()), build(design(0.03, -0.03))
    before, after = ({p.name: p for p in m.parts} for m in (level, sloped))
    moved = {
        name
        for name, part in after.items()
        if name in before
        and not name.startswith("setting/")
        and not np.array_equal(before[name].world_mesh().bounds, part.world_mesh().bounds)
    }
    grounded = ("foundation", "floor/base", "landing/base", "downspout")
    assert moved
    assert all("/steps/" in n or any(g in n for g in grounded) for n in moved), moved


def test_risers_are_counted_from_the_ground_at_the_foot():
    level, down, up = design(), design(0.0, 0.08), design(0.0, -0.08)
    n = [d.porch.steps.risers for d in (up, level, down)]
    assert n[0] < n[1] < n[2]
    for d in (down, up):
        assert d.porch.steps.top_z_m == pytest.approx(d.porch.floor_z_m)
        door = next(o.door for o in d.house.doors if o.door.steps)
        assert door.steps.top_z_m == pytest.approx(d.house.floor_z_m - 2 * 0.0254)
    foot = down.porch.column_y_m - down.porch.floor_edge_m - (n[2] - 1) * down.porch.steps.tread_m
    assert down.porch.steps.foot_z_m == pytest.approx(0.08 * foot)


@pytest.mark.parametrize(
    ("slope", "what"),
    [((0.0, 0.12), "house"), ((-0.1, 0.0), "left wing"), ((0.0, -0.125), "porch")],
)
def test_ground_over_a_floor_is_refused(slope, what):
    low = {"porch": {"order": "tuscan", "columns": 4, "height": "storey", "floor": "9 in"}}
    with pytest.raises(DesignError, match=what) as refusal:
        design(*slope, **(low if what == "porch" else {}))
    assert "\n" not in str(refusal.value)
    assert "site.ground_slope" in str(refusal.value)


@given(along=SLOPES, back=SLOPES)
@settings(deadline=None, max_examples=30)
def test_what_stands_about_the_house_is_on_the_ground(along, back):
    lie = GroundDesign(along, back)
    bush = laid(hedge((-9.0, -8.0), (-4.0, -7.0), 1.0), lie)
    assert_closed([bush])
    x, y, z = bush.mesh.vertices.T
    over = z - lie.z_m(x, y)
    assert (over.min(), over.max()) == pytest.approx((0.0, 1.0))
    wood = stood(tree(12.0, -9.0, 8.0, 5.0), lie, (12.0, -9.0))
    mass = stood(neighbour((20.0, 0.0), (30.0, 9.0), 5.0, 8.0), lie, (25.0, 4.5))
    assert_closed([*wood, *mass])
    for part in (wood[0], mass[0]):
        foot = part.mesh.vertices[part.mesh.vertices[:, 2] < part.mesh.bounds[0, 2] + 1e-6]
        assert (foot[:, 2] <= lie.z_m(foot[:, 0], foot[:, 1]) + 1e-9).all()
    middle = float(lie.z_m(12.0, -9.0))
    crown = tree(12.0, -9.0, 8.0, 5.0)[1].mesh.bounds[1, 2]
    assert wood[1].mesh.bounds[1, 2] == pytest.approx(crown + middle)


def test_rooted_leaves_what_hangs():
    beam = tree(0.0, 0.0, 8.0, 5.0)[1]
    assert rooted([beam], GroundDesign(0.1, 0.0), [0.0]) == [beam]


def test_eyes_stand_on_the_ground():
    made = design(0.02, -0.05)
    lie = made.site.ground
    bounds = build(made).building_bounds
    for view in ("street", "across the street", "street left"):
        x, y, z = camera_for(view, bounds, ground=lie).position_m
        assert z == pytest.approx(EYE_HEIGHT_M + float(lie.z_m(x, y)))


def test_an_elevation_shows_the_cross_slope_as_it_is():
    made = design(0.04, -0.05)
    model = build(made)
    front, rear, right = (
        ground_line(model, camera_for(view, model.building_bounds))
        for view in ("elevation", "rear elevation", "right elevation")
    )
    at = np.array([-5.0, 5.0])
    assert np.diff(front.heights_m(at)) == pytest.approx([0.4])
    assert np.diff(rear.heights_m(at)) == pytest.approx([-0.4])
    assert np.diff(right.heights_m(at)) == pytest.approx([-0.5])
    # To the front the ground rises towards the viewer, and is left out up to the cut.
    assert front.from_m > 0.0
    assert not front.seen
    assert rear.seen
    assert not rear.from_m


def test_level_ground_says_nothing_and_a_slope_says_where_water_comes():
    # IRC R401.3 (from memory): a fall away from the house of 6 in in the first 10 ft.
    def kinds(d: Design) -> dict[str, str]:
        return {f.key: f.text for f in findings(d)}

    assert not {"ground drainage", "lowest riser", "foundation reveal"} & set(kinds(design()))
    sloped = kinds(design(0.03, -0.02))
    assert "right wall at 1 in 33.3 and front wall at 1 in 50" in sloped["ground drainage"]
    # A flight 8 ft 6 in or so wide across 3 in 100: some 1 1/2 in at each end.
    uneven = [f.text for f in findings(design(0.03, -0.02)) if f.key == "lowest riser"]
    assert [text.count("the porch's steps") for text in uneven] == [1, 0]


def test_a_guard_is_judged_by_the_lowest_ground_at_the_edge():
    # IRC R312.1.1: a drop of more than 30 in.
    porch = {"order": "tuscan", "columns": 4, "height": "storey", "floor": "28 in"}
    house = {
        "width": "44 ft",
        "depth": "30 ft",
        "storeys": ["11 ft"],
        "floor": "30 in",
        "walls": "stucco",
        "bays": 5,
    }
    flat, down = (design(0.0, b, porch=porch, house=house) for b in (0.0, 0.03))
    assert "guard missing" not in {f.key for f in findings(flat)}
    assert "guard missing" in {f.key for f in findings(down)}


def test_the_schedule_gives_the_ground_at_the_corners_and_the_flight_s_own_rise():
    level, sloped = (schedule(d) for d in (design(), design(0.05, -0.025)))
    assert not [row for row in level if row.group == "House: ground"]
    tops = {row.item: row.top_m for row in sloped if row.group == "House: ground"}
    # 44 ft by 30 ft: 22 ft at 1 in 20 is 13.2 in, 30 ft at 1 in 40 is 9 in.
    assert tops["Front right"] == pytest.approx(13.2 * 0.0254, abs=0.001)
    assert tops["Back left"] == pytest.approx(-22.2 * 0.0254, abs=0.001)
    flight_row = next(row for row in sloped if row.item == "Flight")
    made = design(0.05, -0.025).porch
    rise = made.floor_z_m - made.steps.foot_z_m
    assert flight_row.height_m == pytest.approx(rise, abs=0.001)
    assert rise < made.floor_z_m - 0.05

"""Wings: lower, set back, closed, and scribed into the main side wall."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.build.house import build
from massing.design.design import Design
from massing.findings.report import findings
from massing.present.drawings.joinery import placed
from massing.present.reports.schedule import schedule
from massing.resolve.design import resolve
from massing.scene.errors import DesignError
from massing.scene.spec import Scene
from massing.settingout.eaves import covered_run, eaves_reach, wing_top
from massing.settingout.side_steps import wing_steps_plan
from tests.helpers.shapes import assert_closed, extent, overlaps


def drawn(
    wings: list[dict[str, Any]],
    roof: dict[str, Any] | None = None,
    setting: dict[str, Any] | None = None,
    **house: Any,
) -> Design:
    """A house of two storeys, 50 by 34 ft, with wings."""
    body = {
        "width": "50 ft",
        "depth": "34 ft",
        "storeys": ["13 ft", "11 ft"],
        "side_bays": 3,
        "wings": wings,
        **house,
    }
    scene = {
        "title": "A house with wings",
        "site": {"place": "Natchez", "latitude": 31.56, "longitude": -91.4, "front_faces": "S"},
        "house": body,
        "porch": {"height": "10 ft", "roof": "hipped"},
        "roof": {"covering": "plain", **(roof or {})},
        "setting": setting or {},
        "times": ["equinox 10:00"],
    }
    return resolve(Scene.model_validate(scene), "any")


BOTH = [{"side": "both"}]


def of_wing(design: Design, side: str = "right") -> list[Any]:
    return build(design).select(f"house/{side} wing")


def test_a_wing_by_rule_is_smaller_lower_and_set_back():
    # The rules are common practice, no source.
    house = drawn(BOTH).house
    assert [w.side for w in house.wings] == ["right", "left"]
    for wing in house.wings:
        own = wing.house
        assert own.width_m == pytest.approx(0.4 * house.width_m)
        assert own.depth_m == pytest.approx(0.7 * house.depth_m)
        assert wing.set_back_m == pytest.approx(0.2 * own.depth_m)
        assert own.floor_z_m == house.floor_z_m
        assert len(own.storey_floors_z_m) == 1
        assert own.wall_top_z_m < house.wall_top_z_m
        assert own.walls == house.walls


def test_a_house_of_one_storey_gets_a_lower_wing():
    house = drawn([{"side": "left", "depth": "16 ft"}], {"pitch": "4:12"}, storeys=["16 ft"]).house
    assert house.wings[0].house.wall_top_z_m < house.wall_top_z_m
    assert len(house.wings[0].house.storey_floors_z_m) == 1


@pytest.mark.parametrize("form", ["hip", "gable"])
def test_it_stands_against_the_side_wall_and_all_is_closed(form):
    design = drawn(BOTH, {"form": form})
    model = build(design)
    assert_closed(model.parts)
    half = design.house.width_m / 2.0
    reach = eaves_reach(design.house.wings[0].house, design.house.wings[0].roof)
    right = extent([p for p in of_wing(design) if p.solid])
    left = extent([p for p in of_wing(design, "left") if p.solid])
    assert right[0, 0] == pytest.approx(half)
    assert left[1, 0] == pytest.approx(-half)
    assert -left[0, 0] == pytest.approx(right[1, 0])
    wide = design.house.wings[0].house.width_m
    assert right[1, 0] >= half + wide + reach - 1e-9


@pytest.mark.parametrize(
    ("form", "covering"),
    [
        ("hip", "slate"),
        ("gable", "slate"),
        ("hip", "barrel tile"),
        ("gable", "interlocking tile"),
        ("hip", "standing seam"),
    ],
)
def test_the_roof_runs_into_the_main_wall_below_its_cornice(form, covering, rules_hold):
    design = drawn(BOTH, {"form": form, "covering": covering})
    house, wing = design.house, design.house.wings[0]
    roof = [p for p in of_wing(design) if p.name.startswith("house/right wing/roof")]
    tops = {p.path[-1]: p.world_mesh().bounds[1, 2] for p in roof}
    assert max(tops.values()) <= wing_top(wing.house, wing.roof)
    assert wing_top(wing.house, wing.roof) <= house.wall_top_z_m - house.cornice.height_m
    deck = next(p for p in roof if p.name.endswith("deck")).mesh
    ridge = deck.vertices[deck.vertices[:, 2] > deck.bounds[1, 2] - 1e-6]
    assert ridge[:, 0].min() == pytest.approx(house.width_m / 2.0)
    assert np.ptp(ridge[:, 1]) == pytest.approx(0.0, abs=1e-6)


def test_no_inner_wall_and_no_opening_behind_a_wing():
    plain, design = drawn([]), drawn(BOTH)
    names = [p.name for p in of_wing(design)]
    assert "house/right wing/wall/right" in names
    assert "house/right wing/wall/left" not in names
    gone = {o.name for o in plain.house.openings} - {o.name for o in design.house.openings}
    assert gone
    assert {name.split("/")[0] for name in gone} == {"left", "right"}
    for wing in design.house.wings:
        for o in (o for o in design.house.openings if o.wall == wing.side):
            sign = 1.0 if wing.side == "right" else -1.0
            y = design.house.depth_m / 2.0 + sign * o.along_m
            low, high = covered_run(wing, o.foot_z_m)
            assert y + o.width_m / 2.0 < low or y - o.width_m / 2.0 > high or low >= high
    assert "left out behind a wing" in design.origins["house.wings.windows"].written


@pytest.mark.parametrize(
    ("walls", "more"),
    [
        ("stucco", {"quoins": True, "belt_courses": True}),
        ("clapboard", {"relief": True, "belt_courses": True}),
        ("brick", {"relief": True, "bond": "flemish"}),
    ],
)
def test_what_faces_the_walls_stops_at_the_junction(walls, more):
    one = {"side": "right", "bays": 1, "side_bays": 0}
    model = build(drawn([one], walls=walls, **{"side_bays": 0, **more}))
    assert_closed(model.parts)
    fronts = ("front", "back", "stretchers", "headers", "window", "head", "shutters")
    house = [p for p in model.parts if p.name.startswith("house/") and p.solid]
    wing = [p for p in house if "wing" in p.name and not any(f in p.name for f in fronts)]
    main = [p for p in house if "wing" not in p.name and not any(f in p.name for f in fronts)]
    met = [
        (a, b, share) for a, b, share in overlaps([*wing, *main]) if ("wing" in a) != ("wing" in b)
    ]
    assert sum(share for *_, share in met) < 1e-4


def test_wing_windows_are_the_main_ones_where_its_storey_holds_them():
    windows = [{"width": "3 ft", "height": "5.5 ft", "sill": "2 ft", "lights": "2 over 2"}]
    wing = drawn(BOTH, windows=windows).house.wings[0].house
    assert {(o.kind, round(o.width_m / 0.3048, 6)) for o in wing.openings} == {("window", 3.0)}
    assert {round(o.height_m / 0.3048, 6) for o in wing.openings} == {5.5}
    low = drawn([{"side": "right", "storeys": ["8.5 ft"]}], windows=windows).house.wings[0].house
    assert max(o.head_z_m for o in low.openings) < low.wall_top_z_m


def test_a_chimney_on_both_wings_is_mirrored():
    stack = {"along": "3 ft", "back": "12 ft"}
    right, left = drawn([{"side": "both", "chimneys": [stack]}]).house.wings
    assert right.house.chimneys[0].low_m[0] == pytest.approx(-left.house.chimneys[0].high_m[0])
    assert right.house.chimneys[0].top_z_m == left.house.chimneys[0].top_z_m


@pytest.mark.parametrize(
    ("wings", "field"),
    [
        ([{"side": "right", "storeys": ["13 ft", "11 ft"]}], "house.wings.0.storeys"),
        ([{"side": "right", "depth": "30 ft", "set_back": "3 ft"}], "house.wings.0.depth"),
        ([{"side": "right", "set_back": "6 in"}], "house.wings.0.set_back"),
        ([{"side": "both"}, {"side": "left"}], "house.wings.1.side"),
        ([{"side": "left", "windows": [{"height": "12 ft"}]}], "house.wings.0.windows.0.height"),
        (
            [{"side": "left", "chimneys": [{"along": "30 ft", "back": "9 ft"}]}],
            "house.wings.0.chimneys.0.along",
        ),
        (
            [
                {
                    "side": "right",
                    "chimneys": [{"along": "-8 ft", "back": "12 ft", "height": "7 ft"}],
                }
            ],
            "house.wings.0.chimneys.0.along",
        ),
    ],
)
def test_what_cannot_stand_is_refused_under_its_own_field(wings, field, rules_hold):
    with pytest.raises(DesignError) as refusal:
        drawn(wings)
    assert refusal.value.field == field


def test_the_setting_keeps_clear_of_wings():
    hedge = {"along": "35 ft", "before": "-10 ft", "length": "4 ft", "width": "3 ft"}
    setting = {"hedges": [{**hedge, "height": "3 ft"}]}
    assert drawn([], setting=setting)
    with pytest.raises(DesignError, match="right wing"):
        drawn(BOTH, setting=setting)


def test_the_schedule_gives_the_wings_sizes():
    groups = {row.group for row in schedule(drawn(BOTH))}
    assert {"Right wing: plan", "Left wing: levels", "Right wing: cornice"} <= groups


@pytest.mark.parametrize(
    ("wings", "found"),
    [
        (BOTH, set()),
        ([{"side": "right", "width": "56 ft"}], {"wide wing"}),
        ([{"side": "right", "set_back": "2.5 ft", "width": "14 ft"}], {"flush wing"}),
        (
            [
                {
                    "side": "right",
                    "storeys": ["20.5 ft"],
                    "depth": "14 ft",
                    "width": "12 ft",
                    "set_back": "10 ft",
                    "roof": {"pitch": "1:12"},
                }
            ],
            {"high wing"},
        ),
        ([{"side": "right"}, {"side": "left", "width": "12 ft"}], {"unlike wings"}),
    ],
)
def test_a_wing_that_is_no_lesser_mass_is_remarked_on(wings, found):
    # Common practice, no source.
    said = {f.key for f in findings(drawn(wings))}
    assert said & {"wide wing", "flush wing", "high wing", "unlike wings"} == found


@settings(deadline=None, max_examples=25)
@given(
    width=st.integers(120, 500),
    depth=st.integers(140, 320),
    storey=st.integers(96, 150),
    form=st.sampled_from(["hip", "gable"]),
    pitch=st.sampled_from(["3:12", "6:12", "10:12"]),
    bays=st.integers(1, 4),
)
def test_any_wing_stands_or_is_refused(width, depth, storey, form, pitch, bays):
    wing = {
        "side": "right",
        "width": f"{width} in",
        "depth": f"{depth} in",
        "storeys": [f"{storey} in"],
        "bays": bays,
        "roof": {"form": form, "pitch": pitch},
    }
    design, field = None, ""
    try:
        design = drawn([wing], belt_courses=True)
    except DesignError as refusal:
        field = refusal.field
    if design is None:
        assert field.startswith("house.wings.0"), field
        return
    assert_closed(build(design).parts)
    own = design.house.wings[0]
    assert (
        wing_top(own.house, own.roof) <= design.house.wall_top_z_m - design.house.cornice.height_m
    )


# --- before the front ----------------------------------------------------------------------

AHEAD = {"side": "front", "storeys": ["10 ft"], "width": "14 ft", "roof": {"pitch": "6:12"}}


def test_a_wing_before_the_front_turns_its_gable_to_the_street():
    design = drawn([AHEAD], {"form": "gable", "covering": "slate"}, walls="brick", relief=True)
    wing = design.house.wings[0]
    # Worked by hand: out as far as its walls need, four of them and 1 m, more than half its
    # width; its eaves 100 mm clear of the main corner, at the front's right.
    assert wing.depth_m == pytest.approx(4 * 14 * 0.0254 + 1.0)
    assert wing.plan_m[1] == pytest.approx(-4 * 14 * 0.0254 - 1.0)
    reach = max(eaves_reach(wing.house, wing.roof) + 0.1, 18 * 0.0254)
    assert wing.plan_m[2] == pytest.approx(25 * 0.3048 - reach)
    parts = of_wing(design, "front")
    assert_closed(build(design).parts)
    deck = next(p for p in parts if p.name.endswith("roof/deck")).world_mesh().vertices
    ridge = deck[deck[:, 2] > deck[:, 2].max() - 1e-6]
    assert np.ptp(ridge[:, 0]) == pytest.approx(0.0, abs=1e-6)  # the ridge runs out from the wall
    assert ridge[:, 0].mean() == pytest.approx(wing.x_m)
    assert ridge[:, 1].max() == pytest.approx(0.0, abs=1e-6)
    solid = extent([p for p in parts if p.solid])
    assert solid[1, 1] < 0.01  # nothing of it within the house


def test_windows_behind_it_are_left_out_and_its_own_are_called_by_the_front():
    design = drawn([{**AHEAD, "depth": "9 ft", "side_bays": 1}])
    low, high = design.house.wings[0].run_m
    on_front = [o for o in design.house.openings if o.wall == "front" and o.storey == 0]
    assert all(o.along_m < low or o.along_m > high for o in on_front)
    assert "front/ground" in design.origins["house.wings.windows"].written
    groups = {row.group for row in schedule(design)}
    assert {"Front wing: front, first floor", "Front wing: left, first floor"} <= groups
    plan = {row.item: row.across_m for row in schedule(design) if row.group == "Front wing: plan"}
    assert plan["Front"] == pytest.approx(14 * 0.3048, abs=0.001)
    assert plan["Stands out"] == pytest.approx(9 * 0.3048, abs=0.001)


def test_drawings_have_its_windows_where_they_are_built():
    design = drawn([{**AHEAD, "depth": "9 ft", "side_bays": 1}])
    wing = design.house.wings[0]
    low_x, low_y, high_x, _ = wing.plan_m
    own = {p.opening.wall: p for p in placed(design) if p.where.startswith("front wing")}
    # Worked by hand: one window in the middle of each of its three walls.
    assert own["front"].middle_m == pytest.approx((wing.x_m, low_y))
    assert own["left"].middle_m == pytest.approx((low_x, low_y / 2.0))
    assert own["right"].middle_m == pytest.approx((high_x, low_y / 2.0))
    assert own["left"].where == "front wing, left, first floor"
    glass = [p for p in of_wing(design, "front") if p.path[-1] == "glass"]
    boxes = [b for p in glass for b in copies(p)]
    for one in own.values():
        assert any(np.hypot(*((b[0] + b[1])[:2] / 2.0 - one.middle_m)) < 0.3 for b in boxes)


def copies(part: Any) -> list[Any]:
    """Low and high corners of each copy of a part in the world, by its own mesh."""
    vertices = part.mesh.vertices
    frames = [np.eye(4)] if part.placements is None else part.placements
    at = [vertices @ f[:3, :3].T + f[:3, 3] for f in frames]
    return [(v.min(axis=0), v.max(axis=0)) for v in at]


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"along": "0 ft"}, "along"),  # before the porch
        ({"along": "24 ft"}, "along"),  # past the corner
        ({"width": "49 ft", "roof": {"pitch": "1:12"}}, "width"),
        ({"storeys": ["12.5 ft", "11 ft"]}, "storeys"),  # neither as high nor plainly lower
        ({"depth": "4 ft"}, "depth"),  # its walls leave no room
        ({"width": "5 ft"}, "width"),
        ({"set_back": "3 ft"}, "set_back"),
        ({"bay_spacing": "5 ft"}, "bay_spacing"),
        ({"chimneys": [{"along": "0 ft", "back": "6 ft"}]}, "chimneys"),
        ({"side": "right", "along": "5 ft"}, "along"),
    ],
)
def test_a_wing_before_the_front_keeps_its_place(more, field):
    with pytest.raises(DesignError) as refusal:
        drawn([{**AHEAD, **more}])
    assert refusal.value.field == f"house.wings.0.{field}"


@settings(deadline=None, max_examples=12)
@given(
    width=st.integers(100, 260),
    out=st.integers(60, 200),
    along=st.integers(-260, 260),
    form=st.sampled_from(["hip", "gable"]),
    walls=st.sampled_from(["brick", "clapboard", "limestone"]),
)
def test_any_wing_before_the_front_stands_or_is_refused(width, out, along, form, walls):
    sizes = {"width": f"{width} in", "depth": f"{out} in", "along": f"{along} in"}
    wing = {**AHEAD, **sizes, "roof": {"form": form, "pitch": "5:12"}}
    field, design = "", None
    try:
        design = drawn([wing], {"covering": "slate"}, walls=walls, relief=True)
    except DesignError as refusal:
        field = refusal.field
    if design is None:
        assert field.startswith("house.wings.0"), field
        return
    model = build(design)
    assert_closed(model.parts)
    own = [p for p in model.parts if p.name.startswith("house/front wing") and p.solid]
    porch = [p for p in model.parts if p.name.startswith("porch/") and p.solid]
    met = [m for m in overlaps([*own, *porch]) if ("wing" in m[0]) != ("wing" in m[1])]
    assert not met


def test_a_wing_that_leads_the_front_is_remarked_on():
    # Common practice, no source: the door's gable or porch is the one that comes first.
    def said(width: str) -> set[str]:
        return {f.key for f in findings(drawn([{**AHEAD, "width": width, "depth": "8 ft"}]))}

    assert "leading wing" in said("14 ft")  # wider than the porch, and farther out than it
    assert "leading wing" not in said("10 ft")


# --- doors in wings ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("wing", "wall"),
    [
        ({"side": "right", "width": "18 ft", "bays": 2}, "front"),
        ({"side": "front", "storeys": ["10 ft"], "width": "14 ft"}, "right"),
    ],
)
def test_a_door_in_a_wing_has_steps_before_its_front(wing, wall):
    roof = {"pitch": "6:12"}
    plain = drawn([wing], roof).house.wings[0]
    design = drawn([{**wing, "door": {}}], roof)
    made = design.house.wings[0]
    door = next(o for o in made.house.openings if o.kind == "door")
    assert (door.wall, door.entrance) == (wall, False)
    assert len(made.house.openings) == len(plain.house.openings)
    assert_closed(build(design).parts)
    parts = of_wing(design, wing["side"])
    steps = extent([p for p in parts if "/side door/steps/" in p.name])
    landing = extent([p for p in parts if "/side door/landing" in p.name])
    # Worked by hand: the landing lies against the water table, 1 1/2 in before the wing's front;
    # the flight goes on from its edge.
    assert landing[1, 1] == pytest.approx(made.set_back_m - 1.5 * 0.0254)
    assert steps[0, 1] < landing[0, 1] < made.set_back_m
    assert steps[0, 2] == pytest.approx(0.0)
    middle = (steps[0, 0] + steps[1, 0]) / 2.0
    assert abs(middle - made.x_m) < made.width_m / 2.0
    plan = wing_steps_plan(made)
    assert plan is not None
    assert plan[1] == pytest.approx(steps[0, 1], abs=0.03)
    assert (plan[0] + plan[2]) / 2.0 == pytest.approx(middle, abs=1e-6)
    groups = {row.group for row in schedule(design)}
    assert f"{wing['side'].capitalize()} wing: door" in groups
    # Four risers or more want a handrail (IRC R311.7.8): told of a wing's flight too.
    assert ("side door handrail" in {f.key for f in findings(design)}) == (
        door.door.steps.risers >= 4
    )


def test_a_wing_s_door_is_refused_by_the_wing_s_own_field():
    wing = {"side": "front", "storeys": ["10 ft"], "width": "14 ft", "roof": {"pitch": "6:12"}}
    with pytest.raises(DesignError) as refusal:
        drawn([{**wing, "door": {"bay": 3}}])
    assert refusal.value.field == "house.wings.0.door.bay"
    with pytest.raises(DesignError) as refusal:
        drawn([{**wing, "door": {"landing": "1 ft"}}])
    assert refusal.value.field == "house.wings.0.door.landing"


def test_doors_of_two_wings_are_each_other_s_mirror():
    both = {"side": "both", "width": "24 ft", "bays": 3, "door": {"bay": 1}}
    right, left = drawn([both]).house.wings
    at = [next(o.along_m for o in w.house.openings if o.kind == "door") for w in (right, left)]
    assert at[0] == pytest.approx(-at[1])
    assert at[0] < 0.0

"""Wings worked by hand: their plan, height, roof, bays, windows, chimneys and doors.

A main block of two storeys of 3.6 m over a floor at 2 ft, its cornice an eighteenth of its walls.
Ratios that a scene leaves out are common practice, no source.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from massing.design.roof import GableRoof, HipRoof
from massing.practice.coverings import covering
from massing.scene.errors import DesignError
from tests.resolve.test_design import design

INCH = 0.0254
FLOOR_M = 24 * INCH
CLEAR_M = 0.1
BROAD = {"width": "30 m", "bays": 9}  # with room for a wing beside a porch
NARROW = {"columns": 4, "spacing": "2.2 m"}

pytestmark = pytest.mark.usefixtures("rules_hold")


def wing(house: dict[str, Any] | None = None, **asked: Any) -> tuple[Any, Any]:
    """The design, and its first wing."""
    groups = {k: asked.pop(k) for k in ("roof_of_main", "porch", "site") if k in asked}
    if "roof_of_main" in groups:
        groups["roof"] = groups.pop("roof_of_main")
    made = design({"wings": [asked], **(house or {})}, **groups)
    return made, made.house.wings[0]


def main_reach(made: Any) -> float:
    return 0.03 + made.house.cornice.projection_m + made.roof.overhang_m


def over_m(roof: Any) -> float:
    """What stands over a roof's deck at a wall: edge, covering, flashing, lead on the ridge."""
    laid = covering(roof.covering)
    return 0.05 + (laid.rise_m + 0.16) * math.hypot(1.0, roof.slope) + laid.over_ridge_m


def cornice_foot_z(made: Any) -> float:
    return made.house.wall_top_z_m * 17 / 18


# --- beside --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("main", "kind"),
    [("hip", HipRoof), ("gable", GableRoof), ("gambrel", GableRoof), ("deck", HipRoof)],
)
def test_its_roof_is_like_the_main_one_s(main: str, kind: type) -> None:
    made, side = wing(side="right", roof_of_main={"form": main, "pitch": "5:12"})
    assert type(side.roof) is kind
    assert (side.roof.slope, side.roof.overhang_m) == (made.roof.slope, made.roof.overhang_m)
    assert side.roof.covering == made.roof.covering
    own = {"form": "gable", "pitch": "4:12", "overhang": "4 in", "covering": "slate"}
    _, side = wing(side="right", roof=own, roof_of_main={"form": main})
    assert isinstance(side.roof, GableRoof)
    assert side.roof.slope == pytest.approx(4 / 12)
    assert side.roof.overhang_m == pytest.approx(4 * INCH)
    assert side.roof.covering == "slate"


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        ({}, (6.4, 7.0, 1.4)),  # 0.4 of 16, 0.7 of 10, 0.2 of 7
        ({"width": "5 m"}, (5.0, 7.0, 1.4)),
        ({"depth": "5 m"}, (6.4, 5.0, 1.0)),
        ({"depth": "5 m", "set_back": "2 m"}, (6.4, 5.0, 2.0)),
        # no nearer to the main corner than quoins want, 18 in, or its eaves and 100 mm
        ({"depth": "2.3 m"}, (6.4, 2.3, None)),
    ],
)
def test_its_plan(asked: dict[str, Any], expected: tuple[float, float, float | None]) -> None:
    made, side = wing(side="left", **asked)
    width, depth, back = expected
    if back is None:
        back = max(main_reach(made) + CLEAR_M, 18 * INCH)
    assert (side.house.width_m, side.house.depth_m) == pytest.approx((width, depth))
    assert side.set_back_m == pytest.approx(back)
    assert side.x_m == pytest.approx(-(16 + width) / 2)


def test_a_steep_roof_makes_it_less_deep() -> None:
    """So that its ridge stays under the main cornice."""
    made, side = wing(side="right", roof_of_main={"pitch": "10:12"})
    room = cornice_foot_z(made) - over_m(side.roof) - (FLOOR_M + 3.6)
    assert side.house.depth_m == pytest.approx(2 * (room / (10 / 12) - main_reach(made)))
    assert side.set_back_m == pytest.approx(0.2 * side.house.depth_m)


def test_beside_one_storey_it_is_lower() -> None:
    """Three quarters of the storey, or less for its roof; 7 ft 6 in at least."""
    low = {"height": "3.6 m"}  # a porch below the eaves, whose cornice is then the house's own
    made, side = wing({"storeys": ["5 m"]}, side="right", porch=low)
    assert side.house.depth_m == pytest.approx(4.0)
    room = cornice_foot_z(made) - over_m(side.roof) - FLOOR_M
    walls = side.house.wall_top_z_m - FLOOR_M
    assert walls == pytest.approx(min(0.75 * 5, room - 0.5 * (2.0 + main_reach(made))))
    assert 90 * INCH < walls < 0.75 * 5
    _, high = wing({"storeys": ["6 m"]}, side="right", roof_of_main={"pitch": "2:12"}, porch=low)
    assert high.house.wall_top_z_m - FLOOR_M == pytest.approx(0.75 * 6)
    with pytest.raises(DesignError) as refused:  # 7 ft 6 in, and its roof has no room over that
        wing({"storeys": ["4 m"]}, side="right", porch={"height": "3.2 m"})
    assert "7'-6\"" in refused.value.given


def test_its_bays_are_about_the_main_block_s() -> None:
    _, side = wing(side="right")
    assert side.house.bay_centres_m == pytest.approx((-1.6, 1.6))  # 5 bays of 16 m: 2 of 6.4
    on_side = [o.along_m for o in side.house.openings if o.wall == "right"]
    assert on_side == pytest.approx([-1.75, 1.75])  # 3 of 10 m: 2 of 7
    _, side = wing(side="right", bays=1, side_bays=1)
    assert side.house.bay_centres_m == (0.0,)
    assert [o.along_m for o in side.house.openings if o.wall == "right"] == [0.0]
    _, side = wing(side="right", side_bays=0)
    assert not [o for o in side.house.openings if o.wall == "right"]
    _, side = wing(side="right", bay_spacing="2.4 m")
    assert side.house.bay_centres_m == pytest.approx((-1.2, 1.2))
    _, side = wing(side="right", width="2.5 m")
    assert len(side.house.bay_centres_m) == 1  # one at least
    _, side = wing({"side_bays": 0}, side="right")
    assert not [o for o in side.house.openings if o.wall == "right"]
    _, side = wing({"rhythm": "paired", "bays": 6}, side="right")
    assert side.house.bay_centres_m == pytest.approx((-1.6, 1.6))  # its own are equal
    _, side = wing({"rhythm": "wide centre", "centre_bay": "4 m"}, side="right")
    assert side.house.bay_centres_m == pytest.approx((-1.6, 1.6))


def test_its_windows_are_the_main_front_s() -> None:
    made, side = wing(side="right")
    main = next(o for o in made.house.openings if o.wall == "front" and o.place == "window 1")
    for o in side.house.openings:
        assert (o.width_m, o.height_m) == pytest.approx((main.width_m, main.height_m))
    assert made.origins["house.wings.0.windows.0.width"].source == "as the main front's windows"
    made, side = wing(side="right", windows=[{"width": "0.9 m", "height": "1.6 m"}])
    assert {(o.width_m, o.height_m) for o in side.house.openings} == {(0.9, 1.6)}
    assert made.origins["house.wings.0.windows.0.width"].source == "given"
    # where its storey is too low for the main ones, as wide and lower
    made, side = wing(side="right", storeys=["3 m"])
    [height] = {round(o.height_m, 6) for o in side.house.openings}
    room = 3.0 - (3.0 + FLOOR_M) / 18 - 2 * INCH - 1.15 / 6 - 24 * INCH
    assert height == pytest.approx(room, abs=1e-6)
    upper, side = wing({"storeys": ["3.6 m", "3.4 m", "3 m"]}, side="right", depth="5 m")
    first = next(o for o in upper.house.openings if o.wall == "front" and o.storey == 1)
    assert {round(o.height_m, 9) for o in side.house.openings if o.storey == 1} == {
        round(first.height_m, 9)
    }


def test_its_cornice_is_its_own() -> None:
    _, side = wing(side="right")
    assert side.house.cornice.height_m == pytest.approx((FLOOR_M + 3.6) / 18)
    _, side = wing({"cornice": "50 cm"}, side="right", cornice="20 cm")
    assert side.house.cornice.height_m == pytest.approx(0.2)
    _, side = wing({"cornice": "50 cm"}, side="right")
    assert side.house.cornice.height_m == pytest.approx((FLOOR_M + 3.6) / 18)


def test_a_stack_tops_the_wing_s_ridge_by_three_feet() -> None:
    made, side = wing(side="right", chimneys=[{"along": "1 m", "back": "3 m"}])
    [stack] = side.house.chimneys
    reach = 0.03 + side.house.cornice.projection_m + made.roof.overhang_m
    ridge = side.house.wall_top_z_m + 0.5 * (3.5 + reach)
    assert stack.top_z_m == pytest.approx(ridge + 36 * INCH)
    assert stack.low_m == pytest.approx((1.0 - 15 * INCH, 3.0 - 12 * INCH))
    assert stack.high_m == pytest.approx((1.0 + 15 * INCH, 3.0 + 12 * INCH))
    # a narrow wing under a hip is no higher than its slope over its width
    _, slim = wing(side="right", width="2.5 m", chimneys=[{"along": "0 m", "back": "3.5 m"}])
    reach = 0.03 + slim.house.cornice.projection_m + made.roof.overhang_m
    [stack] = slim.house.chimneys
    assert stack.top_z_m == pytest.approx(slim.house.wall_top_z_m + 0.5 * (2.5 + reach) + 36 * INCH)
    with pytest.raises(
        DesignError, match=r"wings\.0\.chimneys\.0\.along: .* clear of the main eave"
    ):
        wing(
            side="right",
            width="6.4 m",
            chimneys=[{"along": "-2.8 m", "back": "3.5 m", "height": "3 m"}],
        )


def test_main_windows_that_it_touches_are_left_out() -> None:
    """Under its eaves over their whole reach; over them less and less, and none over its ridge."""
    house = {"side_bays": 3}
    plain = [o for o in design(house).house.openings if o.wall == "right"]
    made, side = wing(house, side="right", depth="3 m", set_back="6 m")
    kept = {(o.storey, o.place) for o in made.house.openings if o.wall == "right"}
    reach = 0.03 + side.house.cornice.projection_m + made.roof.overhang_m
    for o in plain:
        y, near = 5.0 + o.along_m, o.reach_m + CLEAR_M
        above = o.foot_z_m - CLEAR_M - side.house.wall_top_z_m
        flashing = over_m(side.roof) - covering(side.roof.covering).over_ridge_m
        into = max(above - flashing, 0.0) / 0.5 - reach
        meets = y - near < 9.0 - into and y + near > 6.0 + into and into < 1.5
        assert ((o.storey, o.place) in kept) is not meets, o.name
    assert kept == {(0, "window 1"), (1, "window 1")}
    tall, low = wing(
        {"storeys": ["3.6 m", "3.6 m", "3.6 m"], "side_bays": 1},
        side="left",
        storeys=["3 m"],
        depth="6 m",
    )
    left = [o.storey for o in tall.house.openings if o.wall == "left"]
    assert left == [2]
    assert low.house.open_side == "right"


def test_a_door_in_its_front() -> None:
    made, side = wing(side="both", door={"bay": 1})
    right, left = made.house.wings
    for each, along in ((right, -1.6), (left, 1.6)):  # the other way about on the left
        [door] = [o for o in each.house.openings if o.place == "side door"]
        assert (door.wall, door.along_m) == ("front", pytest.approx(along))
        assert door.door.steps.risers == 4
    slope = {"ground_slope": {"along": "1:60", "back": "level"}}
    made, side = wing(side="right", door={"bay": 2}, site=slope, depth="5 m")
    [door] = [o for o in side.house.openings if o.place == "side door"]
    assert door.door.steps.foot_z_m == pytest.approx((11.2 + 1.6) / 60)


# --- before the front ----------------------------------------------------------------------------


def test_one_before_the_front() -> None:
    """Its gable to the front; its roof's ridge under the main cornice, half as deep as wide."""
    made, front = wing(BROAD, side="front", porch=NARROW)
    room = cornice_foot_z(made) - over_m(front.roof) - (FLOOR_M + 3.6)
    wide = 2 * (room / 0.5 - main_reach(made))
    assert 0.2 * 30 < wide < 0.35 * 30
    assert front.width_m == pytest.approx(wide)
    assert front.set_back_m == pytest.approx(-wide / 2)
    assert isinstance(front.roof, GableRoof)
    own_reach = 0.03 + front.house.cornice.projection_m + made.roof.overhang_m
    beside = max(own_reach + CLEAR_M, 18 * INCH)
    assert front.x_m == pytest.approx(15 - beside - wide / 2)
    # windows at the main bays' spacing of 10/3 m: two across its front, one along its sides
    rows = {
        wall: sum(o.wall == wall and o.storey == 0 for o in front.house.openings)
        for wall in ("front", "right", "back", "left")
    }
    assert rows == {"front": 1, "right": int(wide * 3 / 10), "back": 1, "left": 0}


def test_before_the_front_its_width_is_a_third_at_most_and_a_fifth_at_least() -> None:
    _, flat = wing(
        BROAD, side="front", roof={"pitch": "2:12"}, porch={"columns": 2, "spacing": "2.2 m"}
    )
    assert flat.width_m == pytest.approx(0.35 * 30)
    _, steep = wing(BROAD, side="front", roof={"pitch": "9:12"}, porch=NARROW)
    assert steep.width_m == pytest.approx(0.2 * 30)
    assert steep.set_back_m == pytest.approx(-3.0)
    _, given = wing(
        BROAD,
        side="front",
        along="-9 m",
        width="5 m",
        depth="2.4 m",
        bays=1,
        side_bays=0,
        door={"bay": 1},
        porch=NARROW,
    )
    assert (given.x_m, given.width_m, given.set_back_m) == pytest.approx((-9.0, 5.0, -2.4))
    [door] = [o for o in given.house.openings if o.place == "side door"]
    assert door.wall == "right"  # of its own frame, turned to face the front
    assert {o.wall for o in given.house.openings} == {"right"}
    # half its width would be less than its walls want: four times 1 ft and 1 m
    _, slim = wing(BROAD, side="front", width="4 m", porch=NARROW)
    assert slim.set_back_m == pytest.approx(-(4 * 12 * INCH + 1.0))


def test_what_stands_before_the_front_is_clear_of_the_porch() -> None:
    made, front = wing(BROAD, side="front", width="5 m", along="10 m", porch=NARROW)
    own_reach = 0.03 + front.house.cornice.projection_m + made.roof.overhang_m
    beside = max(own_reach + CLEAR_M, 18 * INCH)
    porch = made.porch
    out = porch.half_width_m + porch.order.cornice_projection_m
    floor = porch.axes_m[-1] + porch.floor_edge_m
    least = max(out, floor) + beside + 2.5
    for side in (1.0, -1.0):
        assert wing(
            BROAD, side="front", width="5 m", along=f"{side * (least + 0.06)} m", porch=NARROW
        )
        with pytest.raises(DesignError, match=r"wings\.0\.along: .* clear of the porch"):
            wing(BROAD, side="front", width="5 m", along=f"{side * (least - 0.06)} m", porch=NARROW)
    most = 15 - beside - 2.5
    assert wing(BROAD, side="front", width="5 m", along=f"{most - 0.001} m", porch=NARROW)
    with pytest.raises(DesignError, match=r"wings\.0\.along: .* clear of each other"):
        wing(BROAD, side="front", width="5 m", along=f"{most + 0.001} m", porch=NARROW)


# --- as high as the main walls -------------------------------------------------------------------

LEVEL = {"storeys": ["3.6 m", "3.6 m"], "side": "front"}


def level(**asked: Any) -> tuple[Any, Any]:
    return wing(BROAD, porch=NARROW, **{**LEVEL, **asked})


def test_one_as_high_as_the_main_walls_runs_into_the_main_roof() -> None:
    """Its ridge 8 in under the main one; its eaves the main one's carried round."""
    made, front = level()
    most = 2 * ((0.5 * (5.0 + main_reach(made)) - 8 * INCH) / 0.5 - main_reach(made))
    assert front.width_m == pytest.approx(min(0.35 * 30, most))
    assert front.width_m < 0.35 * 30
    assert front.house.cornice == made.house.cornice
    assert front.house.wall_top_z_m == made.house.wall_top_z_m
    gable = front.gable
    assert (gable.wall, gable.along_m, gable.width_m) == ("front", front.x_m, front.width_m)
    assert (gable.slope, gable.foot, gable.hipped) == (0.5, "returns", False)
    assert gable.out_m == pytest.approx(front.depth_m)
    assert gable.opening is not None
    assert "run out on the main slope" in made.origins["house.wings.0.width"].source
    steep = level(along="9 m", roof={"pitch": "8:12"})[1]
    least = 2 * ((0.5 * (5.0 + main_reach(made)) - 8 * INCH) * 1.5 - main_reach(made))
    assert steep.width_m == pytest.approx(least)
    assert least > 0.2 * 30
    _, lower = wing(BROAD, side="front", width="5 m", porch=NARROW)
    assert lower.gable is None


def test_beside_a_house_of_one_storey_one_before_it_is_as_high() -> None:
    house = {**BROAD, "storeys": ["3.6 m"]}
    _, front = wing(house, side="front", width="5 m", porch={**NARROW, "height": "3 m"})
    assert front.gable is not None
    assert front.house.wall_top_z_m == pytest.approx(FLOOR_M + 3.6)


def test_its_gable_has_what_is_asked() -> None:
    asked = {"width": "5 m", "along": "9 m"}
    hip = level(**asked, roof={"form": "hip"})[1]
    assert hip.gable.hipped
    assert hip.gable.opening is None
    across = level(**asked, roof={"gable_foot": "across", "gable_opening": {"kind": "none"}})[1]
    assert (across.gable.foot, across.gable.opening) == ("across", None)
    louvre = {"kind": "louvre", "width": "40 cm"}
    own = level(**asked, roof={"gable_opening": louvre})[1].gable.opening
    assert (own.filling, own.width_m) == ("louvre", 0.4)
    # one that is lower, and one at the side, have a window where it is asked for
    _, low = wing(BROAD, side="front", width="5 m", roof={"gable_opening": louvre}, porch=NARROW)
    assert low.roof.opening.filling == "louvre"
    _, side = wing(side="right", roof={"form": "gable", "gable_opening": louvre})
    assert side.roof.opening.width_m == 0.4
    _, plain = wing(side="right", roof={"form": "gable"})
    assert plain.roof.opening is None


@pytest.mark.parametrize(
    ("asked", "field"),
    [
        ({**LEVEL, "cornice": "30 cm"}, "cornice"),
        ({**LEVEL, "roof": {"overhang": "5 in"}}, "roof.overhang"),
        ({**LEVEL, "roof": {"covering": "slate"}}, "roof.covering"),
        ({**LEVEL, "width": "9.4 m"}, "width"),
        ({"side": "front", "width": "5 m", "roof": {"gable_foot": "returns"}}, "roof.gable_foot"),
        ({"side": "right", "roof": {"form": "gable", "gable_foot": "across"}}, "roof.gable_foot"),
        ({"side": "right", "roof": {"gable_opening": {}}}, "roof.gable_opening"),
        ({"side": "front", "roof": {"form": "hip", "gable_foot": "across"}}, "roof.gable_foot"),
    ],
)
def test_what_goes_with_another_wing(asked: dict[str, Any], field: str) -> None:
    with pytest.raises(DesignError) as refused:
        wing(BROAD, porch={"columns": 2, "spacing": "2 m"}, **asked)
    assert refused.value.field == f"house.wings.0.{field}"

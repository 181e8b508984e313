"""Doorways worked by hand: leaf, frame, lights, fanlight, surround, and a second one's steps.

The house: 16 by 10 m, floors at 2 ft and 3.6 m over it, bays of 3.2 m, its Tuscan porch 2 in lower.
Sizes that a scene leaves out are common practice, no source, unless a line names one.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from massing.scene.errors import DesignError
from tests.resolve.test_design import design

INCH = 0.0254
FLOOR_M, PORCH_M = 24 * INCH, 22 * INCH
LEAF_M, HIGH_M = 36 * INCH, 84 * INCH
FRAME_M, SIDE_M, TRANSOM_M = 0.12, 0.42, 0.35
CLEAR_M = 2 * INCH  # under what stands over it
# Threshold, play over and under the leaf, a bar of 4 in, and the stile of a light.
UNDER_FAN_M = (0.75 + 2 / 8 + 4 + 2) * INCH
DIAMETER_M = (3.6 + CLEAR_M) / 8.75
CEILING_M = 7.5 * DIAMETER_M - CLEAR_M  # of the porch, over the house's floor
WINDOW_M = CEILING_M - CLEAR_M - 1.15 / 6  # head of the ground windows, over the same
TALL = {"storeys": ["4.6 m", "3.6 m"]}

pytestmark = pytest.mark.usefixtures("rules_hold")


def entrance(house: dict[str, Any] | None = None, **door: Any) -> Any:
    made = design({"door": door, **(house or {})}).house.openings
    return next(o for o in made if o.place == "door")


def second(house: dict[str, Any] | None = None, site: Any = None, **door: Any) -> Any:
    body = {"side_bays": 3, "side_door": door, **(house or {})}
    made = design(body, **({"site": site} if site else {})).house.openings
    return next(o for o in made if o.place == "side door")


def casing(width_m: float) -> float:
    return min(width_m / 6, 8 * INCH)


# --- the leaf, and what is beside and over it ----------------------------------------------------


@pytest.mark.parametrize(
    ("asked", "leaf_m", "wide_m"),
    [
        ({}, LEAF_M, LEAF_M + 2 * FRAME_M),
        ({"leaves": 2}, 72 * INCH, 72 * INCH + 2 * FRAME_M),
        ({"sidelights": True}, LEAF_M, LEAF_M + 2 * FRAME_M + 2 * SIDE_M),
        ({"width": "1 m"}, 1.0, 1.24),
    ],
)
def test_leaf_frame_and_sidelights(asked: dict[str, Any], leaf_m: float, wide_m: float) -> None:
    """A pair 6 ft wide: Edinburgh Encyclopaedia, Civil Architecture."""
    made = entrance(**asked)
    assert (made.leaf_width_m, made.width_m) == pytest.approx((leaf_m, wide_m))
    assert made.leaf_height_m == pytest.approx(HIGH_M)
    assert made.sill_z_m == pytest.approx(FLOOR_M)
    assert made.door.leaves == asked.get("leaves", 1)
    assert made.sidelights == asked.get("sidelights", False)


def test_a_transom_fills_what_the_window_heads_leave() -> None:
    made = entrance()
    assert made.transom
    assert made.height_m == pytest.approx(WINDOW_M)
    assert not entrance(transom=False).transom
    assert entrance(transom=False).height_m == pytest.approx(HIGH_M + FRAME_M)


@pytest.mark.parametrize(("window", "transom"), [("1.773 m", True), ("1.771 m", False)])
def test_a_strip_of_glass_is_no_transom(window: str, transom: bool) -> None:
    """It wants 350 mm over a leaf of 6 ft 8 in; a scene that asks for it has it."""
    low = {"windows": [{"height": window}]}
    over_leaf = 24 * INCH + 1.772 - 80 * INCH
    assert over_leaf == pytest.approx(TRANSOM_M, abs=1e-3)
    made = entrance(low)
    assert made.transom is transom
    heads_m = 24 * INCH + float(window.split()[0])
    if transom:
        assert made.leaf_height_m == pytest.approx(heads_m - TRANSOM_M)
        assert made.height_m == pytest.approx(heads_m)
    else:
        assert made.leaf_height_m == pytest.approx(HIGH_M)
        words = design({"door": {}, **low}).origins["house.door.transom"]
        assert words.written == "left out"
    assert entrance(low, transom=True).transom


def test_a_leaf_under_low_heads() -> None:
    made = entrance({"windows": [{"height": "1.4 m"}]}, transom=False)
    assert made.leaf_height_m == pytest.approx(24 * INCH + 1.4)
    assert made.height_m == pytest.approx(24 * INCH + 1.4 + FRAME_M)
    given = entrance({"windows": [{"height": "1.4 m"}]}, height="2.2 m", transom=True)
    # a transom of 300 mm at least
    assert given.height_m == pytest.approx(2.5)


# --- heads and fanlights -------------------------------------------------------------------------


def test_a_half_round_fanlight() -> None:
    """Half the doorway high; the leaf has what is left under the ceiling."""
    made = entrance(fanlight="semicircular")
    wide = LEAF_M + 2 * FRAME_M
    assert made.soffit.rise_m == pytest.approx(wide / 2)
    assert made.soffit.half_round
    assert made.head_z_m - FLOOR_M == pytest.approx(CEILING_M - CLEAR_M - casing(wide))
    assert made.leaf_height_m == pytest.approx(made.height_m - wide / 2 - UNDER_FAN_M)
    assert not made.transom
    high = entrance(TALL, fanlight="semicircular", height="2.2 m")
    assert high.height_m == pytest.approx(2.2 + wide / 2 + UNDER_FAN_M)


def test_an_elliptical_fanlight_over_sidelights() -> None:
    made = entrance(fanlight="elliptical", sidelights=True)
    wide = LEAF_M + 2 * FRAME_M + 2 * SIDE_M
    assert (made.soffit.rise_m, made.soffit.curve) == (pytest.approx(0.3 * wide), "ellipse")
    assert made.leaf_height_m == pytest.approx(made.height_m - 0.3 * wide - UNDER_FAN_M)
    given = entrance(fanlight="elliptical", sidelights=True, fanlight_rise="45 cm")
    assert given.soffit.rise_m == pytest.approx(0.45)
    # a fifth of the doorway at least, less than half
    for rise in (0.2 * wide + 0.001, wide / 2 - 0.001):
        assert entrance(TALL, fanlight="elliptical", sidelights=True, fanlight_rise=f"{rise} m")
    for rise in (0.2 * wide - 0.001, wide / 2 + 0.001):
        with pytest.raises(DesignError, match=r"door\.fanlight_rise"):
            entrance(TALL, fanlight="elliptical", sidelights=True, fanlight_rise=f"{rise} m")


def test_what_a_fanlight_is_made_of() -> None:
    made = entrance(
        fanlight="semicircular", fanlight_lights=7, fanlight_ring="ring", panels=4, glazed=False
    )
    door = made.door
    assert (door.fanlight, door.fanlight_lights, door.fanlight_ring) == ("semicircular", 7, "ring")
    assert door.panels == "four"
    assert entrance(fanlight="semicircular").door.fanlight_lights == 5
    plain = entrance().door
    assert (plain.fanlight, plain.fanlight_lights, plain.panels) == ("none", 0, "six")
    assert plain.raised
    assert not plain.glazed
    assert not entrance(panelling="flat").door.raised


@pytest.mark.parametrize(
    ("walls", "asked", "head"),
    [
        ("stucco", {"fanlight": "semicircular"}, "casing"),
        ("clapboard", {"fanlight": "elliptical"}, "casing"),
        ("brick", {"fanlight": "semicircular"}, "semicircular arch"),
        ("brick", {"fanlight": "elliptical"}, "elliptical arch"),
        ("limestone", {"fanlight": "semicircular"}, "stone semicircular arch"),
        ("limestone", {"fanlight": "elliptical"}, "stone elliptical arch"),
        ("brick", {}, "casing"),
        ("brick", {"head": "segmental arch"}, "segmental arch"),
        ("brick", {"head": "lintel"}, "lintel"),
        ("brick", {"fanlight": "semicircular", "head": "casing"}, "casing"),
    ],
)
def test_masonry_turns_an_arch_over_a_fanlight(
    walls: str, asked: dict[str, Any], head: str
) -> None:
    assert entrance({"walls": walls, **TALL}, **asked).head == head


def test_a_segmental_head_rises_an_eighth_of_the_doorway() -> None:
    made = entrance({"walls": "brick"} | TALL, head="segmental arch", transom=False)
    wide = LEAF_M + 2 * FRAME_M
    assert made.soffit.rise_m == pytest.approx(wide / 8)
    assert made.height_m == pytest.approx(HIGH_M + FRAME_M + wide / 8)
    level = entrance({"walls": "brick"} | TALL, head="jack arch", transom=False)
    assert level.soffit.rise_m == 0.0
    assert level.height_m == pytest.approx(HIGH_M + FRAME_M)


# --- an order about it ---------------------------------------------------------------------------


def test_an_order_about_a_doorway() -> None:
    """Its column reaches an inch over the casing; an inch from casing to base."""
    asked = {"diameter": "30 cm", "entablature": "45 cm"}
    made = entrance(TALL, surround=asked)
    frame = made.door.surround
    wide = made.width_m
    over = FLOOR_M - PORCH_M + made.height_m + casing(wide) + INCH
    assert frame.drop_m == pytest.approx(FLOOR_M - PORCH_M)
    assert frame.order.column_height_m == pytest.approx(over)
    assert (frame.order.diameter_m, frame.order.entablature_height_m) == pytest.approx((0.3, 0.45))
    neck = frame.order.upper_diameter_m
    plinth = frame.order.foot_width_m / 2
    # pilasters are as wide as the neck throughout
    assert frame.axis_m == pytest.approx(wide / 2 + casing(wide) + INCH + plinth - (0.3 - neck) / 2)
    assert (frame.engaged, frame.pediment_slope, frame.arch) == ("pilasters", None, False)
    half = entrance(TALL, surround=asked | {"engaged": "half columns", "pediment": True})
    frame = half.door.surround
    assert frame.axis_m == pytest.approx(wide / 2 + casing(wide) + INCH + plinth)
    assert frame.pediment_slope == pytest.approx(2 / 9)  # Vitruvius III.5.12


def test_an_order_by_its_column_s_height() -> None:
    """Vignola's Tuscan: 7 diameters, and a quarter of the column over it."""
    frame = entrance(TALL, surround={}).door.surround
    assert frame.order.order == "tuscan"
    assert frame.order.diameter_m == pytest.approx(frame.order.column_height_m / 7)
    assert frame.order.entablature_height_m == pytest.approx(frame.order.column_height_m / 4)
    for asked in ({}, {"pediment": True, "order": "doric", "engaged": "half columns"}):
        low = entrance({"storeys": ["4.2 m", "3.6 m"]}, surround=asked)
        ceiling = (4.2 + CLEAR_M) * 7.5 / 8.75 - CLEAR_M
        assert low.top_z_m - FLOOR_M == pytest.approx(ceiling - CLEAR_M, abs=1e-6)


def test_an_archivolt_is_a_module_broad() -> None:
    made = entrance(TALL, fanlight="semicircular", surround={"arch": True})
    frame = made.door.surround
    crown = FLOOR_M - PORCH_M + made.height_m
    module = frame.order.diameter_m / 2
    assert frame.arch
    assert frame.order.column_height_m == pytest.approx(crown + module)
    given = entrance(
        {"storeys": ["5.2 m", "3.6 m"]},
        fanlight="semicircular",
        height="2.1 m",
        surround={"arch": True, "diameter": "46 cm"},
    )
    frame = given.door.surround
    crown = FLOOR_M - PORCH_M + given.height_m
    assert frame.order.column_height_m == pytest.approx(crown + 0.23)


def test_a_surround_leaves_two_feet_behind_the_columns() -> None:
    house = {"door": {"surround": {"engaged": "half columns", "diameter": "30 cm"}}} | TALL
    porch = {"columns": 4, "spacing": "2.4 m", "diameter": "40 cm", "height": "4 m"}
    made = design(house, porch=porch | {"depth": "2 m"})
    frame = next(o for o in made.house.openings if o.place == "door").door.surround
    out = frame.out_m + frame.order.cornice_projection_m
    least = out + made.porch.order.foot_width_m / 2 + 24 * INCH
    assert design(house, porch=porch | {"depth": f"{least + 0.001} m"})
    with pytest.raises(DesignError, match=r"door\.surround"):
        design(house, porch=porch | {"depth": f"{least - 0.001} m"})


# --- a second door -------------------------------------------------------------------------------


def test_a_second_door_has_a_landing_and_steps() -> None:
    made = second(wall="left", bay=1)
    steps = made.door.steps
    wide = LEAF_M + 2 * FRAME_M
    assert made.along_m == pytest.approx(-10 / 3)
    assert not made.transom
    assert made.height_m == pytest.approx(HIGH_M + FRAME_M)
    assert steps.width_m == pytest.approx(wide + 2 * casing(wide))
    # 22 in to a landing 2 in below the floor
    assert (steps.risers, steps.riser_m) == (math.ceil(22 / 6.5), pytest.approx(22 / 4 * INCH))
    assert (steps.tread_m, steps.landing_m) == pytest.approx((13 * INCH, 42 * INCH))
    assert steps.foot_z_m == 0.0
    own = {"width": "2 m", "riser": "10 cm", "tread": "30 cm"}
    steps = second(wall="right", bay=2, landing="1.5 m", steps=own).door.steps
    assert (steps.width_m, steps.tread_m, steps.landing_m) == pytest.approx((2.0, 0.3, 1.5))
    assert steps.risers == 6


def test_on_low_ground_it_needs_no_steps() -> None:
    """Its landing would be no higher than two pavings of 3 in."""
    assert second({"floor": f"{8.01 * INCH} m"}, wall="left", bay=2).door.steps is not None
    assert second({"floor": f"{7.99 * INCH} m"}, wall="left", bay=2).door.steps is None


def test_an_order_about_a_second_door_stands_on_its_landing() -> None:
    made = second(TALL, wall="left", bay=2, surround={})
    frame, steps = made.door.surround, made.door.steps
    foot = frame.order.foot_width_m
    assert frame.drop_m == pytest.approx(CLEAR_M)
    assert steps.landing_m == pytest.approx(42 * INCH + frame.out_m + foot / 2)
    # cheeks of 14 in stand under the pilasters
    assert steps.width_m == pytest.approx(2 * frame.axis_m + foot - 28 * INCH)
    with pytest.raises(DesignError, match=r"side_door\.landing"):
        second(TALL, wall="left", bay=2, surround={}, landing="80 cm")


def test_a_second_door_on_the_porch_goes_up_no_steps() -> None:
    made = design(
        {"side_door": {"wall": "front", "bay": 2}, "bays": 7},
        porch={"columns": 6, "spacing": "2.4 m"},
    ).house.openings
    door = next(o for o in made if o.place == "side door")
    assert door.door.steps is None
    assert door.along_m == pytest.approx(-16 / 7 * 2)
    beside = design({"side_door": {"wall": "front", "bay": 1}}).house.openings
    assert next(o for o in beside if o.place == "side door").door.steps.risers == 4


@pytest.mark.parametrize(
    ("wall", "bay", "out"),
    [
        # right of the front's middle, and behind the front; the landing goes out from the wall
        ("right", 1, lambda o: (8 + o, 5 - 10 / 3)),
        ("left", 1, lambda o: (-8 - o, 5 + 10 / 3)),
        ("back", 2, lambda o: (3.2, 10 + o)),
        ("front", 1, lambda o: (-6.4, -o)),
    ],
)
def test_steps_reach_sloping_ground(wall: str, bay: int, out: Any) -> None:
    """Rising 1 in 40 to the right, falling 1 in 30 to the back."""
    slope = {"along": "1:40", "back": "-1:30"}
    made = second({"floor": "1 m"}, {"ground_slope": slope}, wall=wall, bay=bay)
    steps = made.door.steps

    def ground(risers: int) -> float:
        x, y = out(42 * INCH + (risers - 1) * 13 * INCH)
        return x / 40 - y / 30

    landing = 1.0 - CLEAR_M
    fewest = next(n for n in range(1, 40) if n * 6.5 * INCH >= landing - ground(n))
    assert steps.risers == fewest
    assert steps.foot_z_m == pytest.approx(ground(fewest))
    assert steps.riser_m == pytest.approx((landing - ground(fewest)) / fewest)


def test_the_porch_s_steps_reach_sloping_ground() -> None:
    slope = {"along": "1:40", "back": "1:30"}
    made = design({"floor": "1 m"}, site={"ground_slope": slope})
    porch, steps = made.porch, made.porch.steps
    edge = porch.depth_m + porch.order.foot_width_m / 2 + 3 * INCH

    def ground(risers: int) -> float:
        return -(edge + (risers - 1) * 13 * INCH) / 30

    fewest = next(n for n in range(1, 40) if n * 6.5 * INCH >= 1.0 - CLEAR_M - ground(n))
    assert (steps.risers, steps.foot_z_m) == (fewest, pytest.approx(ground(fewest)))
    assert steps.riser_m == pytest.approx((1.0 - CLEAR_M - ground(fewest)) / fewest)


def test_risers_on_sloping_ground_are_higher_than_a_tread_stone() -> None:
    """3 in, and a twentieth."""
    slope = {"ground_slope": {"along": "level", "back": "1:60"}}
    house = {"floor": "1 m"}
    with pytest.raises(DesignError, match=r"porch\.steps\.riser: .* over 3 1/8"):
        design(house, porch={"steps": {"riser": "8.03 cm"}}, site=slope)
    assert design(house, porch={"steps": {"riser": "8.8 cm"}}, site=slope)


def test_a_plan_s_highest_ground_is_at_a_corner() -> None:
    """A floor of 2 ft wants 4 1/2 in over the ground: 0.4953 m at a corner 8 m off at 1:16.15."""
    for along, back in (("1:16.2", "level"), ("-1:16.2", "level"), ("level", "1:20.3")):
        assert design(site={"ground_slope": {"along": along, "back": back}})
    for along, back in (("1:16.1", "level"), ("-1:16.1", "level"), ("level", "1:20.1")):
        with pytest.raises(DesignError, match=r"site\.ground_slope"):
            design(site={"ground_slope": {"along": along, "back": back}})


def test_a_plain_door_s_casing_stays_under_the_ceiling() -> None:
    low = {"storeys": ["2.9 m", "3 m"]}
    made = entrance(low, transom=False)
    ceiling = (2.9 + CLEAR_M) * 7.5 / 8.75 - CLEAR_M
    wide = LEAF_M + 2 * FRAME_M
    assert made.leaf_height_m == pytest.approx(ceiling - CLEAR_M - FRAME_M - casing(wide))
    assert made.top_z_m - FLOOR_M == pytest.approx(ceiling - CLEAR_M)
    lintel = entrance(low, transom=False, head="lintel")
    assert lintel.top_z_m - FLOOR_M <= ceiling - CLEAR_M + 1e-6
    assert lintel.leaf_height_m == pytest.approx(lintel.height_m - FRAME_M)


def test_a_glazed_door() -> None:
    assert entrance(glazed=True).door.glazed


def test_a_head_that_leaves_no_door_is_refused_by_its_name() -> None:
    with pytest.raises(DesignError) as refused:
        entrance({"storeys": ["2.5 m", "3 m"]}, head="hood on consoles")
    assert refused.value.field == "house.door.head"
    assert refused.value.given.startswith("hood on consoles, which leaves a leaf of")


def test_where_a_head_is_said_to_come_from() -> None:
    said = design({"walls": "brick", "door": {"fanlight": "semicircular"}, **TALL}).origins
    assert said["house.door.head"].written == "semicircular arch"
    assert said["house.door.head"].source.startswith("over a fanlight in brick")


@pytest.mark.parametrize(
    ("house", "wall", "known"),
    [
        ({}, "front", "1, 2, 4, 5, a bay of the front wall"),
        ({}, "back", "1 to 5, a bay of the back wall"),
        ({"side_bays": 2}, "left", "1 to 2, a bay of the left wall"),
        ({"side_bays": 1}, "left", "1, a bay of the left wall"),
    ],
)
def test_the_bays_for_a_second_door(house: dict[str, Any], wall: str, known: str) -> None:
    with pytest.raises(DesignError) as refused:
        design({**house, "side_door": {"wall": wall, "bay": 9}})
    assert refused.value.allowed.startswith(known)


def test_a_second_door_stands_wholly_on_the_porch_or_clear_of_it() -> None:
    """Within the outer columns' feet, or beyond all that stands out of the porch."""
    porch = {"columns": 4, "spacing": "2.4 m", "diameter": "30 cm", "depth": "2.4 m"}
    foot = 1.375 * 0.3 / 2
    half = (LEAF_M + 2 * FRAME_M) / 2 * 4 / 3  # and its casing, a sixth to each side
    for at, stands in ((3.6 - foot - half - 0.002, True), (3.6 - foot - half + 0.002, False)):
        house = {
            "bay_centres": [f"{-at} m", "0 m", f"{at} m"],
            "side_door": {"wall": "front", "bay": 1},
        }
        if stands:
            assert design(house, porch=porch)
            continue
        with pytest.raises(DesignError, match=r"side_door\.bay: .* wholly on the porch"):
            design(house, porch=porch)


def test_the_highest_and_the_lowest_ground_of_a_plan() -> None:
    """8 m off at 1:40 and 10 m back at -1:20: 0.2 m up, and 0.2 and 0.5 m down."""
    from massing.design.site import GroundDesign
    from massing.resolve.ground import highest_over, lowest_over

    ground, plan = GroundDesign(1 / 40, -1 / 20), (-8.0, 0.0, 8.0, 10.0)
    assert highest_over(ground, plan) == pytest.approx(0.2)
    assert lowest_over(ground, plan) == pytest.approx(-0.7)

"""Roofs, wings, dormers and gutters worked by hand beside what the resolver makes of few words.

Ratios and sizes that a scene leaves out are common practice, no source, unless a line names one.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from massing.design.design import Design
from massing.design.roof import DeckRoof, GambrelRoof
from massing.scene.errors import DesignError
from massing.settingout.cross_roofs import cornice_out_m, half_m
from tests.resolve.test_design import design

INCH, FOOT = 0.0254, 0.3048

pytestmark = pytest.mark.usefixtures("rules_hold")
BOARDS_M = 0.03  # the cornice's boards before the wall's face


def reach(made: Design) -> float:
    """The wall's face to the roof's edge: boards, cornice, and 2 in beyond it."""
    return BOARDS_M + made.house.cornice.projection_m + 2 * INCH


def test_a_roof_rises_six_in_twelve_and_hangs_two_inches_over_its_cornice() -> None:
    roof = design(roof={}).roof
    assert roof.slope == 0.5
    assert roof.overhang_m == pytest.approx(2 * INCH)
    given = design(roof={"pitch": "8:12", "overhang": "3 in"}).roof
    assert given.slope == pytest.approx(8 / 12)
    assert given.overhang_m == pytest.approx(3 * INCH)


def test_a_gambrel_is_half_an_octagon_over_the_eaves() -> None:
    """Four equal chords of a semicircle: 67 1/2 degrees, then 22 1/2 (carpenters' practice)."""
    made = design(roof={"form": "gambrel"})
    roof = made.roof
    assert isinstance(roof, GambrelRoof)
    radius = 5.0 + reach(made)
    assert math.degrees(math.atan(roof.slope)) == pytest.approx(22.5)
    assert math.degrees(math.atan(roof.lower_slope)) == pytest.approx(67.5)
    assert roof.break_run_m == pytest.approx(radius * (1.0 - math.cos(math.pi / 4)))
    rise = roof.break_run_m * roof.lower_slope
    assert rise == pytest.approx(radius * math.sin(math.pi / 4))
    assert rise + (radius - roof.break_run_m) * roof.slope == pytest.approx(radius)


def test_a_gambrel_s_break_may_be_given() -> None:
    roof = design(
        roof={"form": "gambrel", "pitch": "5:12", "lower_pitch": "24:12", "break_height": "2 m"}
    ).roof
    assert isinstance(roof, GambrelRoof)
    assert (roof.slope, roof.lower_slope) == pytest.approx((5 / 12, 2.0))
    assert roof.break_run_m == pytest.approx(1.0)
    lower = design(roof={"form": "gambrel", "pitch": "4:12"}).roof
    assert isinstance(lower, GambrelRoof)
    # chords of a semicircle from its foot and from its top meet at a right angle less a half
    assert math.degrees(math.atan(lower.lower_slope)) == pytest.approx(
        math.degrees(math.atan(4 / 12)) + 45.0
    )


@pytest.mark.parametrize(
    ("roof", "field"),
    [
        ({"form": "gambrel", "pitch": "11:12"}, "roof.pitch"),
        ({"form": "gambrel", "pitch": "9:12", "lower_pitch": "9:12"}, "roof.lower_pitch"),
        ({"form": "gambrel", "pitch": "6:12", "lower_pitch": "12:12"}, "roof.lower_pitch"),
        ({"form": "gambrel", "break_height": "29 cm"}, "roof.break_height"),
        ({"form": "hip", "lower_pitch": "20:12"}, "roof.lower_pitch"),
        ({"form": "gable", "break_height": "2 m"}, "roof.break_height"),
        ({"form": "hip", "deck_width": "3 m"}, "roof.deck_width"),
        ({"form": "gable", "deck_balustrade": {}}, "roof.deck_balustrade"),
        ({"form": "hip", "gable": "raking cornice"}, "roof.gable"),
        ({"form": "deck", "deck_width": "1.1 m"}, "roof.deck_width"),
        ({"form": "deck", "deck_width": "11 m"}, "roof.deck_width"),
        ({"form": "gable", "gable": "raking cornice", "pitch": "1:12"}, "roof.pitch"),
        ({"gutter_width": "5 in"}, "roof.gutter_width"),
        ({"gutter": "half round", "gutter_width": "8 cm"}, "roof.gutter_width"),
        ({"gutter": "half round", "gutter_width": "26 cm"}, "roof.gutter_width"),
    ],
)
def test_what_a_roof_cannot_have_names_its_field(roof: dict[str, Any], field: str) -> None:
    with pytest.raises(DesignError) as refused:
        design(roof=roof)
    assert refused.value.field == field


def test_a_flat_takes_a_third_of_the_depth_over_the_eaves() -> None:
    made = design(roof={"form": "deck", "deck_balustrade": {}})
    roof = made.roof
    assert isinstance(roof, DeckRoof)
    assert roof.deck_run_m == pytest.approx(2 / 3 * (5.0 + reach(made)))
    given = design(roof={"form": "deck", "deck_width": "3 m"}).roof
    assert isinstance(given, DeckRoof)
    assert given.deck_run_m == pytest.approx(5.0 + reach(made) - 1.5)


def test_the_flat_s_balustrade_by_ware() -> None:
    """Rail a sixth, plinth two sixths, belly a third of the balusters: The American Vignola, p. 39.

    36 in high as a guard is, so its balusters stand 24 in; gaps two fifths of the belly.
    """
    roof = design(roof={"form": "deck", "deck_balustrade": {}}).roof
    assert isinstance(roof, DeckRoof)
    rail = roof.deck_balustrade
    assert rail is not None
    sizes = (rail.height_m, rail.rail_m, rail.plinth_m, rail.belly_m, rail.baluster_spacing_m)
    assert sizes == pytest.approx([m * INCH for m in (36, 4, 8, 8, 11.2)])
    assert rail.pedestal_width_m == pytest.approx(0.3 * 36 * INCH)
    for fault in ({"height": "39 cm"}, {"height": "2.1 m"}):
        with pytest.raises(DesignError, match=r"roof\.deck_balustrade\.height"):
            design(roof={"form": "deck", "deck_balustrade": fault})
    with pytest.raises(DesignError, match="baluster_spacing"):
        design(roof={"form": "deck", "deck_balustrade": {"baluster_spacing": "8 in"}})


@pytest.mark.parametrize(
    ("width", "depth", "pipe_in"), [("16 m", "10 m", 3), ("24 m", "12 m", 4), ("30 m", "20 m", 5)]
)
def test_a_square_inch_of_pipe_to_a_hundred_square_feet_of_roof(
    width: str, depth: str, pipe_in: int
) -> None:
    """Irving's sizes of gutters: a square inch to 100 square feet; a 5 in gutter at least."""
    made = design({"width": width, "depth": depth}, roof={"gutter": "half round"})
    gutter = made.roof.gutter
    assert gutter is not None
    assert gutter.downspout_m == pytest.approx(pipe_in * INCH)
    assert gutter.width_m == pytest.approx(5 * INCH)
    assert gutter.bracket_spacing_m == pytest.approx(32 * INCH)
    assert {wall for wall, _ in gutter.downspouts} <= {"front", "back"}
    out = reach(made)
    roof_ft2 = (made.house.width_m + 2 * out) * (made.house.depth_m + 2 * out) / FOOT**2
    each = roof_ft2 / len(gutter.downspouts) / 100
    area_in2 = math.pi * pipe_in**2 / 4
    assert area_in2 >= each
    if pipe_in > 3:
        assert math.pi * (pipe_in - 1) ** 2 / 4 < each


def test_a_downspout_stands_by_each_corner() -> None:
    gutter = design(roof={"gutter": "moulded", "form": "gable"}).roof.gutter
    assert gutter is not None
    by_wall = {
        wall: sorted(x for w, x in gutter.downspouts if w == wall) for wall in ("front", "back")
    }
    for places in by_wall.values():
        left, right = places
        assert left == pytest.approx(-right)
        assert 7.0 < right < 8.0
    assert gutter.downspout_feet_m == (0.0,) * 4


# --- dormers -------------------------------------------------------------------------------


@pytest.mark.parametrize("side", ["front", "back"])
def test_a_dormer_by_the_windows_below_it(side: str) -> None:
    made = design(
        {"windows": [{"width": "1 m"}], "depth": "16 m"},
        roof={"pitch": "5:12", "dormers": {"slope": side}},
    )
    [row] = made.roof.dormers
    assert row.side == side
    assert row.width_m == pytest.approx(0.75)
    assert row.height_m == pytest.approx(1.5 * 0.75)
    assert row.cornice.height_m == pytest.approx(0.75 / 7)
    assert row.sill_z_m == pytest.approx(made.house.wall_top_z_m + 30 * INCH)
    assert row.main_slope == pytest.approx(5 / 12)
    assert row.roof_slope == pytest.approx(5 / 12)
    # its face stands where the slope passes under the sill; 5 cm of the deck's edge at the eaves
    deck_z = made.house.wall_top_z_m + 0.05 + 5 / 12 * (row.face_y_m + reach(made))
    assert deck_z == pytest.approx(row.sill_z_m - row.drop_m)
    bays = made.house.bay_centres_m
    assert all(min(abs(x - bay) for bay in bays) < 1e-9 for x in row.centres_m)


@pytest.mark.parametrize(
    ("window", "width"), [("0.76 m", 24 * INCH), ("1.2 m", 0.9), ("1.5 m", 42 * INCH)]
)
def test_a_dormer_is_three_quarters_of_the_window_within_limits(window: str, width: float) -> None:
    made = design(
        {"windows": [{"width": window}], "bays": 5}, roof={"pitch": "12:12", "dormers": {}}
    )
    assert made.roof.dormers[0].width_m == pytest.approx(width)


def test_a_dormer_s_face_keeps_off_the_eaves_of_a_steep_roof() -> None:
    made = design(roof={"pitch": "12:12", "dormers": {}})
    [row] = made.roof.dormers
    assert row.sill_z_m > made.house.wall_top_z_m + 30 * INCH
    assert row.face_y_m == pytest.approx(0.0, abs=1e-9)  # over the wall's own face


def test_the_roofs_of_dormers() -> None:
    def row(pitch: str, **dormers: Any) -> Any:
        house = {"depth": "14 m"}
        return design(house, roof={"pitch": pitch, "dormers": dormers}).roof.dormers[0]

    assert row("14:12").roof_slope == 1.0  # a gable no steeper than twelve in twelve
    assert row("9:12", kind="shed").roof_slope == pytest.approx(4 / 12)
    assert row("7:12", kind="shed").roof_slope == pytest.approx(3.5 / 12)
    round_ = row("9:12", kind="segmental")
    assert not hasattr(round_, "roof_slope")
    chord = 2 * (half_m(round_) + cornice_out_m(round_))
    assert round_.rise_m == pytest.approx(chord / 6)


@pytest.mark.parametrize(
    ("dormers", "field"),
    [
        ({"kind": "segmental", "pitch": "4:12"}, "pitch"),
        ({"kind": "gabled", "rise": "30 cm"}, "rise"),
        ({"kind": "shed", "pitch": "8.5:12"}, "pitch"),
        ({"kind": "gabled", "pitch": "1:12"}, "pitch"),
        ({"count": 2, "centres": ["1 m"]}, "count"),
        ({"centres": ["0 m", "0.5 m"]}, "centres"),
        ({"height": "50 cm"}, "height"),
        ({"height": "4 m"}, "height"),
        ({"centres": ["7.5 m"]}, "centres"),
    ],
)
def test_what_a_dormer_cannot_be(dormers: dict[str, Any], field: str) -> None:
    with pytest.raises(DesignError) as refused:
        design(roof={"pitch": "9:12", "dormers": dormers})
    assert refused.value.field == f"roof.dormers.{field}"


# --- wings ---------------------------------------------------------------------------------


def test_a_wing_by_the_main_block() -> None:
    made = design({"wings": [{"side": "right"}]})
    [wing] = made.house.wings
    assert wing.side == "right"
    assert wing.house.width_m == pytest.approx(0.4 * 16.0)
    assert wing.x_m == pytest.approx((16.0 + 6.4) / 2)
    assert wing.house.depth_m == pytest.approx(0.7 * 10.0)
    assert wing.set_back_m == pytest.approx(0.2 * 7.0)
    assert wing.house.floor_z_m == made.house.floor_z_m
    assert wing.house.storey_floors_z_m == made.house.storey_floors_z_m[:1]
    assert wing.house.wall_top_z_m == pytest.approx(made.house.storey_floors_z_m[1])
    assert wing.house.open_side == "left"
    assert not [o for o in wing.house.openings if o.wall == "left"]
    assert (wing.roof.slope, wing.roof.overhang_m) == (made.roof.slope, made.roof.overhang_m)
    # at the main block's spacing of 3.2 m
    assert len(wing.house.bay_centres_m) == 2


def test_two_wings_face_each_other() -> None:
    both = design(
        {"wings": [{"side": "both", "chimneys": [{"along": "1 m", "back": "3 m"}]}]}
    ).house.wings
    right, left = both
    assert (right.side, left.side) == ("right", "left")
    assert right.x_m == pytest.approx(-left.x_m)
    assert right.house.open_side == "left"
    assert left.house.open_side == "right"
    [a], [b] = right.house.chimneys, left.house.chimneys
    assert (a.low_m[0], a.high_m[0]) == pytest.approx((-b.high_m[0], -b.low_m[0]))
    assert (a.low_m[1], a.high_m[1], a.top_z_m) == (b.low_m[1], b.high_m[1], b.top_z_m)


def test_side_windows_that_a_wing_meets_are_left_out() -> None:
    without = design({"side_bays": 3}).house.openings
    made = design({"side_bays": 3, "wings": [{"side": "right"}]})
    [wing] = made.house.wings
    gone = [o for o in without if o not in made.house.openings]
    assert {o.wall for o in gone} == {"right"}
    low, high = wing.set_back_m, wing.set_back_m + wing.house.depth_m
    for o in without:
        y = 5.0 + o.along_m
        if o.wall == "right" and o.storey == 0 and low < y < high:
            assert o in gone
    assert "left out behind a wing" in made.origins["house.wings.windows"].written


@pytest.mark.parametrize(
    ("wings", "field"),
    [
        ([{"side": "right", "set_back": "30 cm"}], "house.wings.0.set_back"),
        ([{"side": "right", "depth": "9.5 m"}], "house.wings.0.depth"),
        ([{"side": "right", "storeys": ["3.6 m", "3 m"]}], "house.wings.0.storeys"),
        ([{"side": "right"}, {"side": "both"}], "house.wings.1.side"),
        ([{"side": "left"}, {"side": "left"}], "house.wings.1.side"),
    ],
)
def test_what_a_wing_cannot_be(wings: list[dict[str, Any]], field: str) -> None:
    with pytest.raises(DesignError) as refused:
        design({"wings": wings})
    assert refused.value.field == field


def test_a_wing_of_a_house_of_one_storey_is_lower() -> None:
    made = design({"storeys": ["5 m"], "wings": [{"side": "left", "depth": "4 m"}]})
    [wing] = made.house.wings
    high = wing.house.wall_top_z_m - wing.house.floor_z_m
    assert 7.5 * FOOT - 1e-9 <= high <= 0.75 * 5.0 + 1e-9
    ridge = wing.house.wall_top_z_m + wing.roof.slope * (wing.house.depth_m / 2 + reach(made))
    assert ridge < made.house.wall_top_z_m


@pytest.mark.parametrize(
    ("house", "count", "places"),
    [
        ({}, None, (-3.2, 0.0, 3.2)),
        ({}, 2, (-3.2, 3.2)),
        ({"bays": 4}, None, (-2.0, 2.0)),
        ({"bays": 4}, 2, (-2.0, 2.0)),
        ({"bays": 4}, 3, (-4.0, 0.0, 4.0)),  # between them: over four bays no three stand evenly
        ({"rhythm": "wide centre"}, None, (-3.5, 0.0, 3.5)),
        ({"bays": 6, "rhythm": "paired"}, 4, (-4.4, -14 / 15, 14 / 15, 4.4)),
        ({"bays": 7}, 3, (-32 / 7, 0.0, 32 / 7)),
    ],
)
def test_dormers_stand_over_the_bays(
    house: dict[str, Any], count: int | None, places: tuple[float, ...]
) -> None:
    dormers = {} if count is None else {"count": count}
    [row] = design(house, roof={"pitch": "9:12", "dormers": dormers}).roof.dormers
    assert row.centres_m == pytest.approx(places)


def test_more_dormers_than_bays_are_refused() -> None:
    with pytest.raises(DesignError, match=r"6, which puts more on the slope .* 1 or 2 or 3 over"):
        design(roof={"pitch": "9:12", "dormers": {"count": 6}})

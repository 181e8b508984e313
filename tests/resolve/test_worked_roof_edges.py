"""Where roofs meet what stands through them, worked by hand: dormers, porch gables, flats, pipes.

The house: 16 by 10 m, walls' top at 7.8096 m, a hip unless another form is asked for. Distances are
common practice, no source.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from massing.design.roof import DeckRoof
from massing.scene.errors import DesignError
from tests.resolve.test_design import design

INCH = 0.0254
WALL_Z = 24 * INCH + 7.2

pytestmark = pytest.mark.usefixtures("rules_hold")


def reach(made: Any) -> float:
    return 0.03 + made.house.cornice.projection_m + made.roof.overhang_m


# --- dormers -------------------------------------------------------------------------------------


def dormers(house: Any = None, pitch: str = "9:12", porch: Any = None, **asked: Any) -> Any:
    groups = {"porch": porch} if porch else {}
    return design(house, roof={"pitch": pitch, "dormers": asked}, **groups)


@pytest.mark.parametrize(
    ("lights", "width", "rows"),
    [
        ("two lights wide", 0.8, round(0.6 / (0.4 * 15 / 11))),
        ("three lights wide", 0.8, round(0.6 / (0.8 / 3 * 15 / 11))),
        ("four lights wide", 0.8, round(0.6 / (0.2 * 15 / 11))),
    ],
)
def test_a_dormer_s_lights_follow_its_height(lights: str, width: float, rows: int) -> None:
    """Each as high to its breadth as 15 to 11; a sash half the window, 1 1/2 times its width."""
    [row] = dormers(lights=lights, width=f"{width} m").roof.dormers
    assert row.upper_lights == row.lower_lights == (row.upper_lights[0], rows)
    [own] = dormers(lights="2x2 over 2x3", width="80 cm").roof.dormers
    assert (own.upper_lights, own.lower_lights) == ((2, 2), (2, 3))
    [like] = dormers({"windows": [{"lights": "2x1 over 2x1"}]}).roof.dormers
    assert like.upper_lights == (2, 1)
    tall = dormers(lights="two lights wide", width="80 cm", height="1.9 m", pitch="12:12")
    assert tall.roof.dormers[0].upper_lights == (2, round(0.95 / (0.4 * 15 / 11)))


def test_a_dormer_s_sizes_as_given() -> None:
    asked = {"width": "90 cm", "height": "1.1 m", "sill": "1 m", "cornice": "15 cm"}
    made = dormers(**asked, cheeks="boards", kind="gabled")
    [row] = made.roof.dormers
    assert (row.width_m, row.height_m, row.cheeks) == (0.9, 1.1, "boards")
    assert row.sill_z_m == pytest.approx(WALL_Z + 1.0)
    assert row.cornice.height_m == pytest.approx(0.15)
    for field in ("width", "height", "sill", "cornice"):
        assert made.origins[f"roof.dormers.{field}"].source.startswith("given")
    assert made.origins["roof.dormers.front"].value == len(row.centres_m)
    centres = dormers(centres=["3 m", "-2.8 m"])
    assert centres.roof.dormers[0].centres_m == (-2.8, 3.0)
    assert centres.origins["roof.dormers.front"].source.startswith("given")


def test_a_window_two_feet_high_at_least() -> None:
    for height, stands in (("24.1 in", True), ("23.9 in", False)):
        if stands:
            assert dormers(height=height).roof.dormers
            continue
        with pytest.raises(DesignError, match=r"roof\.dormers\.height"):
            dormers(height=height)


def test_a_dormer_keeps_eight_inches_off_hips() -> None:
    """A place is on its slope or it is not; what stands at x stands at -x."""
    stood = []
    for third in range(10):
        x = 3.0 + 0.5 * third
        both = []
        for side in (1.0, -1.0):
            try:
                dormers(centres=[f"{side * x} m"])
                both.append(True)
            except DesignError as refused:
                both.append(refused.field != "roof.dormers.centres")
        assert both[0] == both[1], x
        stood.append(both[0])
    assert stood[0]
    assert not stood[-1]
    assert stood == sorted(stood, reverse=True)
    # the nearer to the eaves the farther out: the hip runs in at 45 degrees in plan
    last = 3.0 + 0.5 * (stood.index(False) - 1)
    [row] = dormers(centres=["0 m"]).roof.dormers
    made = dormers(centres=["0 m"])
    hip = 8.0 + reach(made) - (row.face_y_m + reach(made))  # where it passes the dormer's face
    assert last + row.width_m / 2 < hip


def test_dormers_keep_six_inches_apart() -> None:
    for apart, stands in ((2.6, True), (0.9, False)):
        centres = [f"{-apart / 2} m", f"{apart / 2} m"]
        if stands:
            assert dormers(centres=centres)
            continue
        with pytest.raises(DesignError) as refused:
            dormers(centres=centres)
        assert "clear of dormer 1" in refused.value.allowed


def test_beside_a_porch_s_gable_they_stand_over_the_bays_clear_of_it() -> None:
    house = {"width": "24 m", "bays": 7, "windows": [{"width": "80 cm"}]}
    porch = {"height": "eaves", "roof": "pediment", "columns": 4, "spacing": "2 m"}
    made = dormers(house, porch=porch)
    [row] = made.roof.dormers
    bays = made.house.bay_centres_m
    assert row.centres_m
    assert len(row.centres_m) % 2 == 0
    assert all(min(abs(x - bay) for bay in bays) < 1e-9 for x in row.centres_m)
    assert row.centres_m == pytest.approx([-x for x in reversed(row.centres_m)])
    half = made.porch.half_width_m + made.porch.order.cornice_projection_m
    assert min(abs(x) for x in row.centres_m) - row.width_m / 2 > half * 0.3
    two = dormers(house, porch=porch, count=2).roof.dormers[0]
    assert len(two.centres_m) == 2
    with pytest.raises(DesignError) as refused:
        dormers(house, porch=porch, count=3)
    assert refused.value.field == "roof.dormers.count"
    back = dormers(house, porch=porch, slope="back").roof.dormers[0]
    assert 0.0 in back.centres_m  # the gable is at the front
    both = dormers(house, porch=porch, slope="both").roof.dormers
    assert [each.side for each in both] == ["front", "back"]


# --- a porch's gable at the eaves ----------------------------------------------------------------


def test_a_pediment_s_ridge_keeps_under_the_main_one() -> None:
    """8 in of deck; its own rises from its cornice's outer edge and 50 mm."""
    porch = {"height": "eaves", "roof": "gable", "columns": 2, "spacing": "3 m", "depth": "3 m"}
    made = design(porch=porch)
    out = made.porch.order.cornice_projection_m + made.roof.overhang_m
    half = made.porch.half_width_m + out
    top = 0.5 * (5.0 + reach(made)) - 8 * INCH
    most = top / half
    for pitch, stands in ((most * 0.99, True), (most * 1.01, False)):
        asked = {**porch, "roof_pitch": f"{12 * pitch:.4f}:12"}
        if stands:
            assert design(porch=asked)
            continue
        with pytest.raises(DesignError, match=r"porch\.roof_pitch: .* under the main ridge"):
            design(porch=asked)


def test_a_chimney_is_clear_of_a_porch_s_gable() -> None:
    porch = {"height": "eaves", "roof": "pediment", "columns": 4, "spacing": "2 m"}
    stack = {"along": "0 m", "back": "1.2 m"}
    with pytest.raises(DesignError) as refused:
        design({"chimneys": [stack]}, porch=porch)
    assert refused.value.field == "house.chimneys.0.along"
    assert refused.value.allowed == "clear of the porch's gable"
    assert design({"chimneys": [{**stack, "back": "8 m"}]}, porch=porch)


# --- a flat on top -------------------------------------------------------------------------------


@pytest.mark.parametrize("rail", [False, True])
def test_a_stack_stands_clear_of_a_flat_s_edge(rail: bool) -> None:
    """200 mm outside it; inside it as much, and one and a half pedestals of a balustrade."""
    roof: dict[str, Any] = {"form": "deck", "deck_width": "4 m"}
    if rail:
        roof["deck_balustrade"] = {"height": "1 m"}
    made = design(roof=roof)
    assert isinstance(made.roof, DeckRoof)
    inside = 0.2 + (1.5 * 0.3 if rail else 0.0)
    deep = 12 * INCH  # half of a stack's depth of 2 ft
    for back, stands in (
        (5.0 - 2.0 - 0.2 - deep - 0.002, True),  # before it, on the slope
        (5.0 - 2.0 - 0.2 - deep + 0.002, False),
        (5.0 - 2.0 + inside + deep - 0.002, False),
        (5.0 - 2.0 + inside + deep + 0.002, True),  # on the flat
        (5.0 + 2.0 - inside - deep - 0.002, True),
        (5.0 + 2.0 - inside - deep + 0.002, False),
        (5.0 + 2.0 + 0.2 + deep - 0.002, False),
        (5.0 + 2.0 + 0.2 + deep + 0.002, True),
    ):
        house = {"chimneys": [{"along": "0 m", "back": f"{back} m"}]}
        if stands:
            assert design(house, roof=roof), back
            continue
        with pytest.raises(DesignError, match=r"house\.chimneys\.0\.back"):
            design(house, roof=roof)
    # along it too: the flat is as much longer as the house is
    half = made.house.width_m / 2 + reach(made) - made.roof.deck_run_m
    assert half == pytest.approx(2.0 + 3.0)
    wide = 15 * INCH
    for along, stands in (
        (half - inside - wide - 0.002, True),
        (half - inside - wide + 0.002, False),
        (half + 0.2 + wide - 0.002, False),
        (half + 0.2 + wide + 0.002, True),
    ):
        for side in (1.0, -1.0):
            house = {"chimneys": [{"along": f"{side * along} m", "back": "5 m"}]}
            if stands:
                assert design(house, roof=roof), along
                continue
            with pytest.raises(DesignError, match=r"house\.chimneys\.0\.back"):
                design(house, roof=roof)


# --- downspouts ----------------------------------------------------------------------------------

PIPE_M = 250e-3  # from the corner
ROOM_M = 5 * INCH / 2 + 0.04  # half of the largest, and 40 mm


def spouts(house: Any = None, **groups: Any) -> list[tuple[str, float]]:
    gutter = {"gutter": "half round", **groups.pop("roof", {})}
    return list(design(house, roof=gutter, **groups).roof.gutter.downspouts)


def test_a_downspout_a_quarter_of_a_metre_from_each_corner() -> None:
    assert spouts() == [
        ("front", pytest.approx(-7.75)),
        ("front", pytest.approx(7.75)),
        ("back", pytest.approx(-7.75)),
        ("back", pytest.approx(7.75)),
    ]


def test_a_window_in_its_way_sends_it_round_the_corner_of_a_hip() -> None:
    """The back's right end is the house's left; a gabled house has no gutter there."""
    sill = 0.5 + 1 / 6 + INCH
    at = 7.75 - sill - ROOM_M
    for along, moved in ((at - 0.002, False), (at + 0.002, True)):
        house = {
            "bay_centres": [f"{-along} m", "0 m", f"{along} m"],
            "windows": [{"width": "1 m"}],
            "side_bays": 0,
        }
        found = spouts(house)
        if not moved:
            assert {wall for wall, _ in found} == {"front", "back"}
            continue
        assert found == [
            ("left", pytest.approx(4.75)),
            ("right", pytest.approx(-4.75)),
            ("right", pytest.approx(4.75)),
            ("left", pytest.approx(-4.75)),
        ]
        with pytest.raises(DesignError, match=r"roof\.gutter: .* behind front/ground/window"):
            spouts(house, roof={"form": "gable"})


def test_a_wide_porch_or_a_wing_sends_it_away() -> None:
    wide = spouts({"side_bays": 1}, porch={"columns": 6, "spacing": "2.9 m"})
    assert [wall for wall, _ in wide[:2]] == ["left", "right"]
    wing = spouts({"wings": [{"side": "right"}], "side_bays": 0, "bays": 3})
    assert all(wall != "right" for wall, _ in wing)


def test_a_downspout_s_foot_stands_on_the_ground() -> None:
    slope = {"ground_slope": {"along": "1:40", "back": "-1:50"}}
    made = design({"floor": "1 m"}, roof={"gutter": "half round"}, site=slope).roof.gutter
    where = {"front": (1.0, 0.0), "back": (-1.0, 10.0)}
    for (wall, along), foot in zip(made.downspouts, made.downspout_feet_m, strict=True):
        side, back = where[wall]
        assert foot == pytest.approx(side * along / 40 - back / 50)


def test_pipes_share_the_roof() -> None:
    """A square inch to a hundred square feet, the 5 in one where none is enough."""
    gutter = design({"width": "60 m", "depth": "30 m", "bays": 9}, roof={"gutter": "moulded"})
    each = (60 + 2 * reach(gutter)) * (30 + 2 * reach(gutter)) / 4
    assert each / 0.3048**2 / 100 > math.pi * 2.5**2
    assert gutter.roof.gutter.downspout_m == pytest.approx(5 * INCH)

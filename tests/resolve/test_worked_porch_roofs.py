"""Porch roofs worked by hand: what pitch, covering and height a porch has under the eaves.

Ratios that a scene leaves out are common practice, no source, unless a line names one. The house
is 16 by 10 m with its floor at 2 ft, the porch Tuscan, its floor 2 in lower; the main roof 6:12 in
the covering that a scene leaves out.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from massing.design.design import Design
from massing.practice.coverings import covering
from massing.scene.errors import DesignError
from tests.resolve.test_design import design

INCH = 0.0254
FLOOR_M = 24 * INCH
PORCH_M = FLOOR_M - 2 * INCH
EDGE_M, FLASHING_M = 0.05, 0.16  # a roof's upright edge over its cornice; its flashing on the wall

pytestmark = pytest.mark.usefixtures("rules_hold")


def under(
    storeys: list[float], roof: str, main: dict[str, Any] | None = None, **porch: Any
) -> Design:
    return design(
        {"storeys": [f"{s} m" for s in storeys]}, porch={"roof": roof, **porch}, roof=main or {}
    )


def high(made: Design) -> float:
    return made.porch.top_z_m - made.porch.floor_z_m


def limit_z(made: Design) -> float:
    """The foot of the main cornice, an eighteenth of the walls that it crowns."""
    return made.house.wall_top_z_m * 17 / 18


def head_z(made: Design) -> float:
    """Where the porch's roof ends on the wall: deck, covering, flashing, lead over a ridge."""
    porch = made.porch.highest
    out = porch.depth_m + porch.order.upper_diameter_m / 2 + porch.order.cornice_projection_m
    half = porch.half_width_m + porch.order.cornice_projection_m
    past = made.roof.overhang_m  # only a hipped one rises from its own edge
    run = {
        "hipped": min(half + past, out + past),
        "lean-to": out,
        "gable": half,
        "pediment": half,
    }[porch.roof]
    laid = covering(porch.roof_covering or made.roof.covering)
    ridge = laid.over_ridge_m if porch.roof != "lean-to" else 0.0
    thick = laid.rise_m * math.hypot(1.0, porch.roof_slope)
    return porch.top_z_m + EDGE_M + porch.roof_slope * run + thick + FLASHING_M + ridge


@pytest.mark.parametrize(
    ("roof", "pitch"), [("hipped", 3.0), ("lean-to", 3.0), ("pediment", 12 * 2 / 9)]
)
def test_an_order_under_a_roof_has_seventy_two_hundredths_of_its_storey(
    roof: str, pitch: float
) -> None:
    """A pediment by Vitruvius III.5.12: its tympanum a ninth of the front, so 2/9 of the half."""
    made = under([3.6, 3.6], roof)
    assert high(made) == pytest.approx(0.72 * (FLOOR_M + 3.6 - PORCH_M))
    assert 12 * made.porch.roof_slope == pytest.approx(pitch)
    assert made.porch.roof_covering is None
    assert made.origins["porch.roof_pitch"].source == "common practice"
    assert "porch.roof_covering" not in made.origins
    assert head_z(made) < made.house.storey_floors_z_m[1] + 24 * INCH - 4 * INCH


@pytest.mark.parametrize("roof", ["hipped", "lean-to", "pediment", "gable"])
def test_it_is_eight_feet_high_where_there_is_room(roof: str) -> None:
    assert 0.72 * (3.0 + 2 * INCH) < 96 * INCH
    assert high(under([3.0, 3.0], roof)) == pytest.approx(96 * INCH)


def test_a_pitch_gives_way_to_the_windows_over_it() -> None:
    """A gable is as steep as the main roof, or touches the stone of the sill over it."""
    made = under([3.6, 3.6], "gable")
    sill_z = FLOOR_M + 3.6 + 24 * INCH - 4 * INCH
    assert 12 * made.porch.roof_slope < 6.0
    assert sill_z - 0.002 < head_z(made) <= sill_z + 1e-6
    low = under([4.6, 3.6], "gable")
    assert low.porch.roof_slope == pytest.approx(0.5)
    assert low.origins["porch.roof_pitch"].source == "as the main roof's"
    wide = under([4.6, 3.6], "gable", {"pitch": "8:12"}, height="3 m", columns=2, spacing="2.2 m")
    assert wide.porch.roof_slope == pytest.approx(8 / 12)


def test_a_roof_under_the_eaves_of_one_storey() -> None:
    made = under([3.6], "lean-to")
    assert high(made) == pytest.approx(0.72 * (3.6 + 2 * INCH))
    assert 2.5 < 12 * made.porch.roof_slope < 3.0
    assert limit_z(made) - 0.002 < head_z(made) <= limit_z(made) + 1e-6
    assert made.origins["porch.roof_pitch"].source == "what the eaves leave room for"


def test_flatter_than_two_and_a_half_in_twelve_it_is_metal() -> None:
    made = under([3.6], "hipped")
    assert 12 * made.porch.roof_slope == pytest.approx(2.5, abs=1e-4)
    assert 12 * made.porch.roof_slope < 2.5
    assert made.porch.roof_covering == "standing seam"
    assert "metal, flatter than 2 1/2:12" in made.origins["porch.roof_covering"].source
    assert head_z(made) <= limit_z(made)
    low = under([3.0], "lean-to")
    assert 1.0 < 12 * low.porch.roof_slope < 2.5
    assert low.porch.roof_covering == "standing seam"
    assert high(low) == pytest.approx(96 * INCH)
    assert limit_z(low) - 0.002 < head_z(low) <= limit_z(low) + 1e-6


def test_at_its_least_pitch_the_order_gives_way() -> None:
    """1:12 of metal, a millimetre under the cornice."""
    made = under([3.0], "hipped")
    assert 12 * made.porch.roof_slope == pytest.approx(1.0)
    assert high(made) < 96 * INCH
    assert head_z(made) == pytest.approx(limit_z(made) - 0.001)
    gable = under([3.6], "gable")
    assert 12 * gable.porch.roof_slope == pytest.approx(3.0)  # no flatter: it is a gable
    assert head_z(gable) == pytest.approx(limit_z(gable) - 0.001, abs=0.002)
    pediment = under([3.6], "pediment")
    assert pediment.porch.roof_slope == pytest.approx(2 / 9)  # no flatter: the books' own
    assert pediment.porch.roof_covering is None
    assert head_z(pediment) == pytest.approx(limit_z(pediment) - 0.001, abs=0.002)
    given = under([3.0], "hipped", roof_pitch="2:12")
    assert 12 * given.porch.roof_slope == pytest.approx(2.0)
    assert head_z(given) == pytest.approx(limit_z(given) - 0.001, abs=0.002)


def test_an_order_lower_than_seven_feet_is_no_porch() -> None:
    """It keeps its 0.72 of the storey, and its roof is refused."""
    for roof in ("pediment", "gable"):
        with pytest.raises(DesignError) as refused:
            under([3.0], roof)
        assert refused.value.field == "porch.height"
        assert "meets the wall" in refused.value.given


def test_what_the_scene_says_of_a_roof_stands() -> None:
    made = under([3.6], "hipped", roof_pitch="2:12", roof_covering="slate")
    assert 12 * made.porch.roof_slope == pytest.approx(2.0)
    assert made.porch.roof_covering == "slate"
    for field in ("roof_pitch", "roof_covering"):
        assert made.origins[f"porch.{field}"].source.startswith("given")
    metal = under([3.6, 3.6], "hipped", roof_covering="standing seam")
    assert metal.porch.roof_covering == "standing seam"
    seamed = under([3.6], "hipped", {"covering": "standing seam"})
    assert seamed.porch.roof_covering is None  # as the main roof's
    plain = under([3.6], "hipped", {"covering": "plain"})
    assert plain.porch.roof_covering is None
    assert 12 * plain.porch.roof_slope == pytest.approx(3.0)
    out = plain.porch.depth_m + plain.porch.order.upper_diameter_m / 2
    out += plain.porch.order.cornice_projection_m + 2 * INCH
    assert plain.porch.top_z_m + EDGE_M + out / 4 < limit_z(plain)  # neither tile nor flashing


def test_a_pinned_order_keeps_its_height_under_a_roof() -> None:
    for pinned in ({"height": "3.2 m"}, {"column_height": "2.6 m", "entablature": "0.6 m"}):
        made = under([3.6, 3.6], "hipped", **pinned)
        assert high(made) == pytest.approx(3.2)
        sill_z = FLOOR_M + 3.6 + 20 * INCH
        assert head_z(made) <= sill_z + 1e-6
        assert 12 * made.porch.roof_slope < 3.0


# --- at the eaves --------------------------------------------------------------------------------


def test_a_gable_at_the_eaves_keeps_a_foot_below_the_main_ridge() -> None:
    made = under([3.6, 3.6], "gable", height="eaves")
    porch = made.porch
    half = porch.half_width_m + porch.order.cornice_projection_m + made.roof.overhang_m
    reach = 0.03 + made.house.cornice.projection_m + made.roof.overhang_m
    ridge = made.roof.slope * (5.0 + reach)
    assert porch.roof_slope * half == pytest.approx(ridge - 12 * INCH)
    assert "ridge below the main one" in made.origins["porch.roof_pitch"].source
    narrow = under([3.6, 3.6], "gable", {"pitch": "5:12"}, height="eaves", columns=2, spacing="3 m")
    assert narrow.porch.roof_slope == pytest.approx(5 / 12)
    assert narrow.origins["porch.roof_pitch"].source == "as the main roof's"
    given = under([3.6, 3.6], "gable", height="eaves", roof_pitch="4:12")
    assert given.porch.roof_slope == pytest.approx(4 / 12)


def test_a_pediment_at_the_eaves() -> None:
    made = under([3.6, 3.6], "pediment", height="eaves")
    assert made.porch.roof_slope == pytest.approx(2 / 9)
    upper = under([3.6, 3.6], "pediment", upper={}, columns=4, spacing="2.8 m").porch
    assert upper.upper is not None
    assert upper.roof_slope == upper.upper.roof_slope == pytest.approx(2 / 9)


# --- under the main slope ------------------------------------------------------------------------


def carried(made: Design) -> float:
    """Rise over run from the porch's cornice to the main eaves, less the main covering's depth."""
    porch = made.porch
    out = porch.depth_m + porch.order.upper_diameter_m / 2 + porch.order.cornice_projection_m
    reach = 0.03 + made.house.cornice.projection_m + made.roof.overhang_m
    laid = covering(porch.roof_covering or made.roof.covering).rise_m
    thick = laid * math.hypot(1.0, porch.roof_slope) + 0.006
    return (made.house.wall_top_z_m - thick - porch.top_z_m) / (out - reach)


@pytest.mark.parametrize("depth", ["2.4 m", "3 m", "4 m"])
def test_a_main_slope_is_carried_down_at_three_in_twelve(depth: str) -> None:
    made = under([3.6], "main slope", depth=depth)
    assert 12 * made.porch.roof_slope == pytest.approx(3.0, abs=1e-4)
    assert carried(made) == pytest.approx(made.porch.roof_slope, abs=1e-4)
    assert made.origins["porch.roof_pitch"].source == "from the porch's cornice to the main eaves"


def test_a_main_slope_as_given() -> None:
    made = under([3.6], "main slope", roof_pitch="4:12")
    assert 12 * made.porch.roof_slope == pytest.approx(4.0, abs=1e-3)
    assert carried(made) == pytest.approx(4 / 12, abs=1e-4)
    high_one = under([3.6], "main slope", height="3 m", depth="2 m")
    assert high(high_one) == pytest.approx(3.0)
    assert carried(high_one) == pytest.approx(high_one.porch.roof_slope, abs=1e-5)
    flat = under([3.6], "main slope", height="3.3 m")
    assert 1.0 < 12 * flat.porch.roof_slope < 2.5
    assert flat.porch.roof_covering == "standing seam"
    assert carried(flat) == pytest.approx(flat.porch.roof_slope, abs=1e-5)


def test_a_low_order_takes_a_flatter_slope_down_to_one_in_twelve() -> None:
    """Eight feet if a slope of 1:12 or more leaves it so much."""
    made = under([3.0], "main slope", depth="3.5 m")
    assert high(made) == pytest.approx(96 * INCH)
    assert 1.0 < 12 * made.porch.roof_slope < 3.0
    lower = under([2.7], "main slope", depth="4.4 m")
    assert high(lower) < 96 * INCH
    assert 12 * lower.porch.roof_slope == pytest.approx(1.0, abs=1e-3)


def test_under_raked_gables_the_eaves_lie_lower() -> None:
    """A raking cornice's deck starts at the cornice's edge, its eaves as much lower."""
    plain = under([3.6], "main slope", {"form": "gable"})
    raked = under([3.6], "main slope", {"form": "gable", "gable": "raking cornice"})
    assert 12 * raked.porch.roof_slope == pytest.approx(3.0, abs=1e-4)
    assert high(plain) - high(raked) == pytest.approx(0.5 * 2 * INCH, abs=2e-3)


# --- what stands over it -------------------------------------------------------------------------


def gable_beside(window_m: float, **house: Any) -> Design:
    """A gable over two columns 3 m apart; upper windows 2 m to both sides of the middle."""
    body = {"storeys": ["3.2 m", "3.6 m"], "bays": 4, "windows": [{"width": f"{window_m} m"}]}
    porch = {"roof": "gable", "columns": 2, "spacing": "2.4 m", "depth": "2.4 m", "height": "2.5 m"}
    return design({**body, **house}, porch=porch)


def test_only_windows_over_it_make_it_flatter() -> None:
    """Of those half over its deck's edge as well, of none on another wall."""
    made = gable_beside(0.76)
    porch = made.porch
    half = porch.half_width_m + porch.order.cornice_projection_m + 2 * INCH
    for beyond, slope in ((0.002, 6.0), (-0.002, None)):
        window = 2 * (2.0 - half - beyond)
        if window < 0.3:
            pytest.skip("the porch reaches over the windows' middles")
        pitch = 12 * gable_beside(window).porch.roof_slope
        assert pitch == pytest.approx(slope) if slope else pitch < 5.9


def test_a_window_on_the_back_does_not_matter() -> None:
    house = {"storeys": ["3.6 m", "3.6 m"]}
    porch = {"roof": "gable", "columns": 2, "spacing": "3 m", "depth": "2.4 m", "height": "2.9 m"}
    assert 12 * design(house, porch=porch).porch.roof_slope < 6.0
    none = [{"wall": "front", "storey": 2, "bay": 3, "number": "none"}]
    free = design(house | {"odd_windows": none}, porch=porch)
    assert 12 * free.porch.roof_slope == pytest.approx(6.0)


@pytest.mark.parametrize(
    "windows",
    [
        [{}, {"sill": "14 cm"}],
        [{"sill": "14 cm"}],
        [{}, {"sill": "20 cm", "panel_below": "6 cm"}],
    ],
)
def test_low_sills_over_a_hipped_roof_bring_its_order_down(windows: list[dict[str, Any]]) -> None:
    """To 1:12 of metal, a millimetre under the stone of the sill or the panel under it."""
    made = design({"storeys": ["2.7 m", "3 m"], "windows": windows}, porch={"roof": "hipped"})
    foot = FLOOR_M + 2.7 + 0.14 - 4 * INCH
    assert 12 * made.porch.roof_slope == pytest.approx(1.0)
    assert high(made) < 96 * INCH
    assert head_z(made) == pytest.approx(foot - 0.001, abs=1e-6)


@pytest.mark.parametrize(
    "main", [{"overhang": "6 in"}, {"covering": "plain"}, {"covering": "slate"}, {"pitch": "8:12"}]
)
def test_a_carried_slope_goes_by_the_main_roof(main: dict[str, Any]) -> None:
    made = under([3.6], "main slope", main)
    assert 12 * made.porch.roof_slope == pytest.approx(3.0, abs=1e-3)
    porch = made.porch
    out = porch.depth_m + porch.order.upper_diameter_m / 2 + porch.order.cornice_projection_m
    reach = 0.03 + made.house.cornice.projection_m + made.roof.overhang_m
    name = porch.roof_covering or made.roof.covering
    laid = 0.0 if name == "plain" else covering(name).rise_m
    thick = laid * math.hypot(1.0, 0.25) + 0.006
    run = out - reach
    assert made.house.wall_top_z_m - thick - 0.25 * run == pytest.approx(porch.top_z_m, abs=1e-3)


def test_a_main_slope_wants_a_foot_before_the_eaves_and_their_length() -> None:
    near = {"depth": "50 cm", "diameter": "25 cm", "columns": 2, "spacing": "2.2 m"}
    with pytest.raises(DesignError, match=r"porch\.depth: .* 1'-0\" or more before the main eaves"):
        design({"storeys": ["3.6 m"], "cornice": "60 cm"}, porch={"roof": "main slope", **near})
    wide = {"columns": 6, "spacing": "3.14 m", "depth": "2.4 m"}
    with pytest.raises(DesignError, match=r"porch\.spacing: given a roof .* main eaves'"):
        design({"storeys": ["3.6 m"], "cornice": "8 cm"}, porch={"roof": "main slope", **wide})

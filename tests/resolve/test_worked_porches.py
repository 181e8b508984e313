"""Porches worked by hand beside what the resolver makes of few words.

Ratios and sizes that a scene leaves out are common practice, no source, unless a line names one.
The house: 16 by 10 m, floors at 2 ft, two storeys of 3.6 m.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from massing.design.porch import PorchDesign, RecessedPorch, SemicircularPorch, StraightPorch
from massing.scene.errors import DesignError
from tests.resolve.test_design import design

INCH, FOOT = 0.0254, 0.3048
HOUSE_FLOOR_M = 2 * FOOT
FLOOR_M = HOUSE_FLOOR_M - 2 * INCH  # a step below the house's
STOREY_TOP_M = HOUSE_FLOOR_M + 3.6

pytestmark = pytest.mark.usefixtures("rules_hold")


def porch(house: dict[str, Any] | None = None, **given: Any) -> PorchDesign:
    return design(house, porch=given).porch


# --- height and order ----------------------------------------------------------------------


def test_the_floor_is_a_step_below_the_house_s() -> None:
    made = porch()
    assert made.floor_z_m == pytest.approx(FLOOR_M)
    assert made.floor_edge_m == pytest.approx(made.order.foot_width_m / 2 + 3 * INCH)
    assert porch(floor="50 cm").floor_z_m == pytest.approx(0.5)
    with pytest.raises(DesignError, match=r"porch\.floor"):
        porch(floor="70 cm")
    recessed = porch({"bays": 3}, shape="recessed", columns=2, spacing="2.4 m", entablature="40 cm")
    assert recessed.floor_z_m == pytest.approx(HOUSE_FLOOR_M)


@pytest.mark.parametrize(
    ("given", "top"),
    [
        ({}, STOREY_TOP_M),
        ({"height": "storey"}, STOREY_TOP_M),
        ({"height": "eaves"}, HOUSE_FLOOR_M + 7.2),
        ({"height": "3 m"}, FLOOR_M + 3.0),
        ({"column_height": "2.8 m", "entablature": "60 cm"}, FLOOR_M + 3.4),
        ({"upper": {}}, STOREY_TOP_M - 2 * INCH),
    ],
)
def test_the_height_that_an_order_fills(given: dict[str, Any], top: float) -> None:
    made = porch({"bays": 3}, **({"columns": 4, "spacing": "2.6 m"} | given))
    assert made.top_z_m == pytest.approx(top)
    assert made.order.order_height_m == pytest.approx(top - FLOOR_M)


def test_pedestals_take_their_share_of_the_height() -> None:
    """A third of the column in Vignola: 12 + 4 + 3 parts of 19 (The Canon of the Five Orders)."""
    made = porch(order="ionic", pedestals=True)
    assert made.order.whole_height_m == pytest.approx(STOREY_TOP_M - FLOOR_M)
    shares = [made.order.pedestal_height_m, made.order.column_height_m]
    shares.append(made.order.entablature_height_m)
    assert np.array(shares) / made.order.whole_height_m * 19 == pytest.approx([4, 12, 3], abs=0.02)


def test_the_upper_order_is_the_next_lighter_and_stands_on_the_lower() -> None:
    """From the heaviest to the lightest: Vitruvius V.1.3 (from memory)."""
    lighter = {
        "pier": "pier",
        "tuscan": "doric",
        "doric": "ionic",
        "ionic": "corinthian",
        "corinthian": "composite",
        "composite": "composite",
    }
    for lower, upper in lighter.items():
        made = porch(order=lower, upper={}, columns=4, spacing="2.8 m")
        assert made.upper is not None
        assert made.upper.order.order == upper
        assert made.upper.axes_m == made.axes_m
        assert made.upper.flight is None
        assert made.upper.top_z_m == pytest.approx(HOUSE_FLOOR_M + 7.2)
        assert made.upper.floor_z_m == made.top_z_m


@pytest.mark.parametrize("field", ["entasis", "fluted"])
def test_a_pier_has_no_shaft_to_finish(field: str) -> None:
    value = {"entasis": "bent rule", "fluted": True}[field]
    with pytest.raises(DesignError, match=rf"porch\.{field}"):
        porch(order="pier", **{field: value})


# --- spacing -------------------------------------------------------------------------------


def test_a_given_spacing_stands_about_the_middle() -> None:
    assert porch(columns=4, spacing="2.4 m").axes_m == pytest.approx((-3.6, -1.2, 1.2, 3.6))
    wide = porch(columns=4, spacing="2.4 m", centre_spacing="3 m")
    assert wide.axes_m == pytest.approx((-3.9, -1.5, 1.5, 3.9))
    six = porch(
        columns=6, spacing="2 m", centre_spacing="3 m", diameter="30 cm", entablature="40 cm"
    )
    assert six.axes_m == pytest.approx((-5.5, -3.5, -1.5, 1.5, 3.5, 5.5))
    with pytest.raises(DesignError, match=r"porch\.columns"):
        porch(columns=5, spacing="2.4 m", centre_spacing="3 m")


def test_thin_columns_as_drawn_follow_the_bays_and_those_by_rule_what_suits_them() -> None:
    thin = porch(order="pier", columns=4, diameter="12 in")
    assert np.diff(thin.axes_m) == pytest.approx([3.2] * 3)  # 16 m in five bays
    # four before three bays would stand past the house's sides
    within = porch({"bays": 3}, order="pier", columns=4, diameter="12 in")
    assert within.axes_m[-1] + within.order.upper_diameter_m / 2 <= 8.0
    by_rule = porch(order="tuscan", columns=4)
    clears = np.diff(by_rule.axes_m) / by_rule.order.diameter_m - 1.0
    assert max(clears) <= 4.0 * 1.02  # araeostyle, the widest that the books name


@pytest.mark.parametrize("columns", [4, 5, 6])
def test_the_full_width_brings_the_frieze_over_the_house_s_sides(columns: int) -> None:
    made = porch(columns=columns, spacing="full width")
    gaps = np.diff(made.axes_m)
    assert gaps == pytest.approx([gaps[0]] * (columns - 1))
    assert made.axes_m[-1] + made.order.upper_diameter_m / 2 == pytest.approx(8.0)
    if columns % 2 == 0:
        wide = porch(columns=columns, spacing="full width", centre_spacing="4 m")
        assert wide.axes_m[-1] + wide.order.upper_diameter_m / 2 == pytest.approx(8.0)
        assert np.diff(wide.axes_m)[columns // 2 - 1] == pytest.approx(4.0)
    with pytest.raises(DesignError, match=r"porch\.columns"):
        porch(columns=2, spacing="full width", centre_spacing="4 m")


def test_couples_stand_half_a_diameter_clear() -> None:
    """Ware, The American Vignola, p. 44; in the Doric their bases nearly touch."""
    made = porch(order="corinthian", columns=4, paired=True, spacing="3.6 m", height="3 m")
    d = made.order.diameter_m
    touching = max(made.order.foot_width_m, made.order.abacus_width_m) + INCH
    assert made.couple_axis_m == pytest.approx(max(1.5 * d, touching))
    assert np.diff(made.axes_m)[[0, 2]] == pytest.approx([made.couple_axis_m] * 2)
    # middle to middle of the couples as given
    assert (made.axes_m[2] + made.axes_m[3]) / 2 == pytest.approx(1.8)
    doric = porch(order="doric", columns=4, paired=True, spacing="3.6 m")
    assert doric.couple_axis_m == pytest.approx(
        max(doric.order.foot_width_m, doric.order.abacus_width_m) + INCH
    )
    given = porch(order="tuscan", columns=4, paired="90 cm", spacing="3.6 m")
    assert given.couple_axis_m == pytest.approx(0.9)


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"columns": 5}, "columns"),
        ({"columns": 2}, "columns"),
        ({"columns": 4, "side_columns": 2}, "side_columns"),
        ({"columns": 4, "paired": "30 cm"}, "paired"),
    ],
)
def test_what_makes_no_couples(given: dict[str, Any], field: str) -> None:
    with pytest.raises(DesignError) as refused:
        porch(**({"paired": True, "spacing": "3.6 m"} | given))
    assert refused.value.field == f"porch.{field}"


def test_columns_stand_an_inch_or_four_clear_of_each_other() -> None:
    foot = porch(columns=4, diameter="30 cm").order.foot_width_m
    assert porch(columns=4, diameter="30 cm", spacing=f"{foot + 0.101} m")
    with pytest.raises(DesignError, match=r"porch\.spacing"):
        porch(columns=4, diameter="30 cm", spacing=f"{foot + 0.099} m")


# --- depth ---------------------------------------------------------------------------------


def test_a_porch_is_as_deep_as_its_bays_are_wide() -> None:
    made = porch(columns=4, spacing="2.4 m", centre_spacing="2.8 m")
    assert isinstance(made, StraightPorch)
    assert made.axis_depth_m == pytest.approx(2.8)
    returns = porch(columns=4, spacing="2.4 m", side_columns=2)
    assert isinstance(returns, StraightPorch)
    assert returns.axis_depth_m == pytest.approx(3 * 2.4)
    with pytest.raises(DesignError, match=r"porch\.depth"):
        porch(diameter="30 cm", depth="44 cm")
    assert porch(diameter="30 cm", depth="52 cm")


def test_a_semicircle_keeps_the_columns_spacing_on_its_arc() -> None:
    made = porch(shape="semicircular", columns=6, spacing="1.6 m", height="3 m")
    assert isinstance(made, SemicircularPorch)
    by_wall = made.order.foot_width_m / 2 + 2.5 * INCH
    assert made.radius_m == pytest.approx((5 * 1.6 + 2 * by_wall) / math.pi)
    y = -np.sqrt(made.radius_m**2 - np.square(made.axes_m))
    assert y[[0, -1]] == pytest.approx([-by_wall] * 2)  # clear of the wall by 2 1/2 in
    chords = np.hypot(np.diff(made.axes_m), np.diff(y))
    assert chords == pytest.approx([chords[0]] * 5)
    given = porch(shape="semicircular", columns=4, spacing="1.6 m", height="3 m", depth="3 m")
    assert isinstance(given, SemicircularPorch)
    assert given.radius_m == pytest.approx(3.0)


@pytest.mark.parametrize(
    "given",
    [
        {"roof": "hipped"},
        {"steps": {"rail": "iron"}},
        {"side_columns": 1},
        {"centre_spacing": "3 m"},
        {"paired": True},
        {"responds": "pilasters"},
        {"breaking_forward": True},
        {"balustrade": {"filling": "parapet"}},
        {"depth": "50 cm"},
    ],
)
def test_what_a_semicircle_cannot_have(given: dict[str, Any]) -> None:
    with pytest.raises(DesignError) as refused:
        porch(**({"shape": "semicircular", "columns": 4, "spacing": "2 m"} | given))
    assert refused.value.field.startswith(f"porch.{next(iter(given))}")


def test_a_recess_is_as_deep_as_its_columns_stand_apart() -> None:
    given = {"shape": "recessed", "columns": 2, "spacing": "2.4 m", "entablature": "40 cm"}
    made = design({"bays": 3}, porch=given)
    recessed = made.porch
    assert isinstance(recessed, RecessedPorch)
    assert recessed.axes_m == pytest.approx((-1.2, 1.2))
    assert recessed.anta_axis_m == pytest.approx(3.6)
    assert recessed.recess_depth_m == pytest.approx(2.4)
    recess = made.house.recess
    assert recess is not None
    half = recessed.frieze_half_depth_m
    assert recess.opening_m == pytest.approx(3.6 + half)
    assert recess.half_width_m == pytest.approx(3.6 - half + 0.03)
    assert recess.depth_m == pytest.approx(2.4)
    behind = [o for o in made.house.openings if o.back_m]
    assert behind
    assert {o.back_m for o in behind} == {recess.depth_m}
    assert all(o.storey == 0 for o in behind)
    narrow = porch(
        {"bays": 3},
        shape="recessed",
        columns=2,
        spacing="1.1 m",
        diameter="30 cm",
        entablature="40 cm",
    )
    assert isinstance(narrow, RecessedPorch)
    # 3 ft clear behind the antae at least
    assert narrow.recess_depth_m == pytest.approx(narrow.order.upper_diameter_m + 3 * FOOT)


@pytest.mark.parametrize(
    "given",
    [
        {"roof": "hipped"},
        {"guard": {}},
        {"balustrade": {}},
        {"blocking_course": True},
        {"breaking_forward": True},
        {"upper": {}},
        {"side_columns": 1},
        {"responds": "pilasters"},
        {"pedestals": True},
        {"floor": "55 cm"},
        {"depth": "80 cm"},
        {"depth": "9.2 m"},
        {"spacing": "5 m"},
    ],
)
def test_what_a_recess_cannot_have(given: dict[str, Any]) -> None:
    with pytest.raises(DesignError) as refused:
        porch({"bays": 3}, **({"shape": "recessed", "columns": 2, "spacing": "2.4 m"} | given))
    assert refused.value.field == f"porch.{next(iter(given))}"


# --- over the entablature ------------------------------------------------------------------


def test_a_crowning_balustrade_by_nicholson_and_ware() -> None:
    """Three quarters of the entablature: Nicholson; rail 1/6, plinth 2/6, belly 1/3: Ware p. 39."""
    made = porch(balustrade={})
    rail = made.balustrade
    assert rail is not None
    height = 0.75 * made.order.entablature_height_m
    baluster = height / 1.5
    assert rail.height_m == pytest.approx(height)
    assert (rail.rail_m, rail.plinth_m) == pytest.approx((baluster / 6, baluster / 3))
    assert rail.belly_m == pytest.approx(baluster / 3)
    assert rail.baluster_spacing_m == pytest.approx(1.4 * baluster / 3)
    assert rail.pedestal_width_m == made.order.upper_diameter_m
    assert porch(balustrade={"height": "90 cm"}).balustrade.height_m == pytest.approx(0.9)


def test_a_guard_by_rule() -> None:
    made = porch({"bays": 3}, guard={}, columns=4, spacing="2.4 m")
    guard = made.guard
    assert guard is not None
    sizes = (guard.height_m, guard.rail_m, guard.plinth_m, guard.belly_m, guard.pedestal_width_m)
    assert sizes == pytest.approx([m * INCH for m in (36, 3.5, 4.5, 4.5, 5.5)])
    # the neck is 0.45 of the belly: a gap of 3 3/4 in at the necks
    assert guard.baluster_spacing_m == pytest.approx((3.75 + 0.45 * 4.5) * INCH)
    with pytest.raises(DesignError, match=r"porch\.guard\.height"):
        porch({"bays": 3}, guard={"height": "39 cm"})
    assert porch({"bays": 3}, guard={"height": "42 cm"})


def test_an_entablature_breaks_forward_a_quarter_of_the_neck() -> None:
    wide = {"columns": 4, "spacing": "3 m", "height": "3 m"}
    made = porch(breaking_forward=True, **wide)
    neck = made.order.upper_diameter_m
    assert made.breaks_forward_m == pytest.approx(neck / 4)
    assert porch(**wide).breaks_forward_m is None
    assert porch(breaking_forward=f"{neck * 0.49} m", **wide).breaks_forward_m
    for forward in (neck * 0.51, 0.9 * INCH):
        with pytest.raises(DesignError, match=r"porch\.breaking_forward"):
            porch(breaking_forward=f"{forward} m", **wide)
    # two cornices and two inches between them
    least = neck + 2 * made.order.cornice_projection_m + 2 * INCH
    assert porch(breaking_forward=True, **(wide | {"spacing": f"{least + 0.002} m"}))
    with pytest.raises(DesignError, match=r"porch\.breaking_forward"):
        porch(breaking_forward=True, **(wide | {"spacing": f"{least - 0.002} m"}))
    with pytest.raises(DesignError, match=r"porch\.roof"):
        porch(breaking_forward=True, roof="pediment", **wide)


def test_a_blocking_course_is_as_high_as_the_cornice() -> None:
    made = porch(blocking_course=True)
    assert made.blocking_course_m == pytest.approx(made.order.cornice_height_m)
    assert porch().blocking_course_m is None
    assert porch(blocking_course="80 mm").blocking_course_m == pytest.approx(0.08)
    for height in ("70 mm", "91 cm"):
        with pytest.raises(DesignError, match=r"porch\.blocking_course"):
            porch(blocking_course=height)
    with pytest.raises(DesignError, match=r"porch\.blocking_course"):
        porch(blocking_course=True, roof="pediment", columns=4, spacing="2.4 m")


def test_a_pediment_stands_over_a_cymatium() -> None:
    with pytest.raises(DesignError, match=r"porch\.balustrade"):
        porch(roof="pediment", balustrade={}, columns=4, spacing="2.4 m")


# --- before it -----------------------------------------------------------------------------


def test_equal_risers_of_about_six_inches_and_a_half() -> None:
    steps = porch(columns=4, spacing="2.4 m").steps
    # 22 in to climb, none of them higher
    assert steps.risers * steps.riser_m == pytest.approx(FLOOR_M)
    assert steps.risers == math.ceil(22 / 6.5)
    assert steps.tread_m == pytest.approx(13 * INCH)
    six = porch(columns=4, spacing="2.4 m", steps={"riser": "5 in", "tread": "12 in"}).steps
    assert (six.risers, six.tread_m) == (5, pytest.approx(12 * INCH))


def test_a_flight_fills_the_middle_bay_or_three_of_five() -> None:
    four = porch(columns=4, spacing="2.4 m")
    assert four.steps.width_m == pytest.approx(2.4 - four.order.foot_width_m)
    six = porch(columns=6, spacing="2 m", diameter="30 cm", entablature="40 cm")
    assert six.steps.width_m == pytest.approx(6.0 - six.order.foot_width_m)
    given = porch(columns=4, spacing="2.4 m", steps={"width": "1.5 m"})
    assert given.steps.width_m == pytest.approx(1.5)


def test_rails_by_rule_from_four_risers() -> None:
    low = porch({"floor": "20 in"}, columns=4, spacing="2.8 m", steps={"rail": "by rule"})
    assert (low.steps.risers, low.steps.rail) == (3, "none")
    high = porch({"floor": "90 cm"}, columns=4, spacing="2.8 m", steps={"rail": "by rule"})
    assert high.steps.risers >= 4
    assert high.steps.rail == "iron"
    with pytest.raises(DesignError, match=r"porch\.steps\.width"):
        porch(columns=4, spacing="2.8 m", steps={"rail": "iron", "width": "2 ft 11 in"})
    assert porch(columns=4, spacing="2.8 m", steps={"rail": "iron", "width": "3 ft 1 in"})
    with pytest.raises(DesignError, match=r"porch\.steps\.width"):
        porch(columns=4, spacing="2.8 m", steps={"rail": "iron", "width": "2.8 m"})

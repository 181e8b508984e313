"""An order's sizes, columns and floor worked by hand, and where each is said to come from.

The house: floors at 2 ft and 3.6 m over it, walls' top at 7.8096 m; the porch floor 2 in lower.
Vignola's Tuscan: column 7 diameters, his Doric 8, his Ionic 9, each entablature a quarter of its
column; Palladio's Ionic entablature a fifth. Other ratios are common practice, no source.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from massing.scene.errors import DesignError
from tests.resolve.test_design import design

INCH, FOOT = 0.0254, 0.3048
FLOOR_M, PORCH_M = 24 * INCH, 22 * INCH
STOREY_M, EAVES_M = 3.6 + 2 * INCH, 7.2 + 2 * INCH
TO_STOREY = "from the porch floor to the storey's top"

pytestmark = pytest.mark.usefixtures("rules_hold")


@pytest.mark.parametrize(
    ("asked", "height", "column", "diameter", "why"),
    [
        ({}, STOREY_M, STOREY_M / 1.25, STOREY_M / 8.75, TO_STOREY),
        ({"height": "storey"}, STOREY_M, STOREY_M / 1.25, STOREY_M / 8.75, TO_STOREY),
        ({"height": "eaves"}, EAVES_M, EAVES_M / 1.25, EAVES_M / 8.75, "eaves"),
        ({"height": "3 m"}, 3.0, 2.4, 2.4 / 7, "given"),
        (
            {"roof": "hipped"},
            0.72 * STOREY_M,
            0.72 * STOREY_M / 1.25,
            0.72 * STOREY_M / 8.75,
            "0.72 of the storey, to leave room for its roof (common practice)",
        ),
        (
            {"upper": {}, "columns": 4, "spacing": "2.8 m"},
            3.6,
            3.6 / 1.25,
            3.6 / 8.75,
            "from the porch floor to just below the floor above",
        ),
        ({"diameter": "30 cm"}, STOREY_M, STOREY_M / 1.25, 0.3, TO_STOREY),
        ({"column_height": "2.9 m"}, STOREY_M, 2.9, 2.9 / 7, TO_STOREY),
        ({"entablature": "60 cm"}, STOREY_M, STOREY_M - 0.6, (STOREY_M - 0.6) / 7, TO_STOREY),
        (
            {"column_height": "2.8 m", "entablature": "60 cm"},
            3.4,
            2.8,
            0.4,
            "column and entablature",
        ),
        ({"order": "doric"}, STOREY_M, STOREY_M / 1.25, STOREY_M / 10, TO_STOREY),
        (
            {"order": "ionic", "canon": "palladio"},
            STOREY_M,
            STOREY_M / 1.2,
            STOREY_M / 1.2 / 9,
            TO_STOREY,
        ),
    ],
)
def test_sizes_and_their_sources(
    asked: dict[str, Any], height: float, column: float, diameter: float, why: str
) -> None:
    made = design(porch=asked)
    order, said = made.porch.order, made.origins
    assert (order.order_height_m, order.column_height_m) == pytest.approx((height, column))
    assert order.diameter_m == pytest.approx(diameter)
    assert why in said["porch.height"].source
    for field, value in (
        ("height", height),
        ("column_height", column),
        ("diameter", diameter),
        ("entablature", height - column),
    ):
        assert said[f"porch.{field}"].value == pytest.approx(value)
        typed = asked.get(field, "").endswith(" m") or asked.get(field, "").endswith(" cm")
        assert said[f"porch.{field}"].source.startswith("given") is typed, field


def test_under_pedestals_the_whole_fills_the_height() -> None:
    made = design(porch={"order": "ionic", "pedestals": True, "columns": 4, "spacing": "2.4 m"})
    order = made.porch.order
    whole = order.pedestal_height_m + order.column_height_m + order.entablature_height_m
    assert whole == pytest.approx(STOREY_M)
    assert order.pedestal_height_m == pytest.approx(order.column_height_m / 3)  # Vignola
    bare = design(porch={"order": "ionic", "columns": 4, "spacing": "2.4 m"}).porch.order
    assert bare.pedestal_height_m == 0


def test_the_second_order() -> None:
    """On the first's top, to the eaves; what the scene says of it stands."""
    body = {"columns": 4, "spacing": "2.8 m"}
    made = design(porch={**body, "upper": {}})
    upper = made.porch.upper
    assert upper.floor_z_m == pytest.approx(FLOOR_M + 3.6 - 2 * INCH)
    assert upper.order.order_height_m == pytest.approx(7.2 + FLOOR_M - upper.floor_z_m)
    assert upper.order.order == "doric"
    asked = {"order": "ionic", "height": "3 m", "diameter": "25 cm", "entablature": "50 cm"}
    given = design(porch={**body, "upper": asked}).porch.upper.order
    assert (given.order, given.order_height_m) == ("ionic", pytest.approx(3.0))
    assert (given.diameter_m, given.entablature_height_m) == pytest.approx((0.25, 0.5))
    tall = design(porch={**body, "upper": {"column_height": "2.6 m"}}).porch.upper.order
    assert tall.column_height_m == pytest.approx(2.6)
    pier = design(
        porch={**body, "fluted": True, "entasis": "bent rule", "upper": {"order": "pier"}}
    )
    assert pier.porch.order.flutes
    assert not pier.porch.upper.order.flutes
    fluted = design(porch={**body, "fluted": True, "upper": {}}).porch.upper.order
    assert fluted.flutes
    guarded = design(porch={**body, "upper": {"guard": {"height": "1 m"}}}).porch.upper
    assert guarded.guard.height_m == 1.0
    assert guarded.ceiling_up_m is None
    assert guarded.arcade is None


def test_a_second_order_clears_its_neighbours() -> None:
    """Plinths leave 100 mm between them on the axes below."""
    body = {"columns": 4, "spacing": "1.2 m", "diameter": "30 cm", "depth": "2 m"}
    for diameter, stands in (("0.799 m", True), ("0.801 m", False)):
        upper = {"order": "tuscan", "diameter": diameter}
        if stands:
            made = design({"storeys": ["3.6 m", "8 m"]}, porch={**body, "upper": upper})
            assert made.porch.upper.order.plinth_width_m == pytest.approx(1.375 * 0.799)
            continue
        with pytest.raises(DesignError, match=r"porch\.upper"):
            design({"storeys": ["3.6 m", "8 m"]}, porch={**body, "upper": upper})


def test_the_floor_reaches_three_inches_beyond_the_plinths() -> None:
    porch = design(porch={"diameter": "30 cm"}).porch
    assert porch.floor_edge_m == pytest.approx(1.375 * 0.3 / 2 + 3 * INCH)
    assert design(porch={"floor": "40 cm"}).porch.floor_z_m == 0.4
    assert design(porch={"floor": "2 ft"}).porch.floor_z_m == pytest.approx(FLOOR_M)


@pytest.mark.parametrize(
    ("porch", "gaps"),
    [
        ({"columns": 2, "spacing": "3 m"}, [3.0]),
        ({"columns": 4, "spacing": "2.4 m", "centre_spacing": "3 m"}, [2.4, 3.0, 2.4]),
        ({"columns": 6, "spacing": "2 m", "diameter": "30 cm"}, [2.0] * 5),
        ({"columns": 4, "spacing": "bays"}, [3.2] * 3),
        # in diameters and one: Vitruvius III.3
        ({"columns": 4, "spacing": "systyle", "diameter": "40 cm"}, [1.2] * 3),
        ({"columns": 4, "spacing": "diastyle", "diameter": "40 cm"}, [1.6] * 3),
        ({"columns": 4, "spacing": "eustyle", "diameter": "40 cm"}, [1.3, 1.6, 1.3]),
        (
            {"columns": 4, "spacing": "eustyle", "diameter": "40 cm", "centre_spacing": "2 m"},
            [1.3, 2.0, 1.3],
        ),
        ({"columns": 6, "spacing": "pycnostyle", "diameter": "40 cm"}, [1.0] * 5),
    ],
)
def test_columns_stand_as_they_are_spaced(porch: dict[str, Any], gaps: list[float]) -> None:
    made = design({"storeys": ["3.8 m", "3.6 m"]}, porch={"depth": "2.4 m", **porch})
    axes = made.porch.axes_m
    assert np.diff(axes) == pytest.approx(gaps)
    assert axes[0] == pytest.approx(-axes[-1])
    assert made.origins["porch.spacing"].value == pytest.approx(gaps[0])


def test_where_a_spacing_is_said_to_come_from() -> None:
    def said(field: str, **porch: Any) -> str:
        return design(porch=porch).origins[f"porch.{field}"].source

    assert said("spacing", columns=4, spacing="2.4 m").startswith("given")
    assert said("spacing", columns=4, spacing="bays") == "the house's bays"
    assert said("spacing.2", columns=4, spacing="bays") == "the house's bays"
    assert said("spacing", columns=4, spacing="full width").startswith("frieze flush")
    named = said("spacing", columns=4, spacing="eustyle", diameter="40 cm")
    assert named.startswith("eustyle, given")
    centre = said("centre_spacing", columns=4, spacing="eustyle", diameter="40 cm")
    assert centre.startswith("eustyle, given")
    own = said("centre_spacing", columns=4, spacing="2.4 m", centre_spacing="3 m")
    assert own.startswith("given")


def test_a_named_spacing_is_between_the_couples() -> None:
    porch = {"columns": 8, "paired": "50 cm", "diameter": "30 cm", "depth": "2.4 m"}
    made = design(porch={**porch, "spacing": "eustyle"}).porch
    assert made.couple_axis_m == 0.5
    middles = [(a + b) / 2 for a, b in zip(made.axes_m[::2], made.axes_m[1::2], strict=True)]
    assert np.diff(middles) == pytest.approx([3.25 * 0.3 + 0.5, 4 * 0.3 + 0.5, 3.25 * 0.3 + 0.5])


@pytest.mark.parametrize("side_columns", [0, 1, 2])
def test_returns_keep_the_front_s_spacing(side_columns: int) -> None:
    porch = {"columns": 4, "spacing": "2 m", "centre_spacing": "2.2 m", "diameter": "30 cm"}
    made = design(porch={**porch, "side_columns": side_columns}).porch
    assert made.depth_m == pytest.approx((side_columns + 1) * 2.2)
    coupled = {"columns": 4, "spacing": "2.4 m", "paired": "50 cm", "diameter": "30 cm"}
    if side_columns == 1:  # the corner and its mate: one couple to the wall
        made = design(porch={**coupled, "side_columns": 1}).porch
        assert made.depth_m == pytest.approx(2.4)


def test_couples_of_the_ionic_clear_their_volutes() -> None:
    porch = {"order": "ionic", "columns": 4, "spacing": "3.6 m", "height": "3 m"}
    made = design(porch={**porch, "paired": True}).porch
    order = made.order
    # an eye's distance and eight and a half of its radii to either side (Vignola's volute)
    eye = sum(m.height for m in order.capital if m.name in ("channel", "rim")) / 4
    volutes = 2 * (dict(order.capital_sizes)["eye"] + 8.5 * eye)
    square = max(order.foot_width_m, order.abacus_width_m) + INCH
    assert made.couple_axis_m == pytest.approx(max(1.5 * order.diameter_m, square, volutes))


# --- flights -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("columns", "spacing", "width"),
    [(2, 3.0, 3.0), (4, 2.4, 2.4), (6, 1.9, 5.7), (8, 1.6, 4.8), (5, 2.0, 4.0), (3, 2.4, 4.8)],
)
def test_how_wide_a_flight_is(columns: int, spacing: float, width: float) -> None:
    """The middle bay, or three of five and more, between the plinths."""
    porch = {"columns": columns, "spacing": f"{spacing} m", "diameter": "30 cm", "depth": "2 m"}
    made = design(porch=porch).porch
    assert made.steps.width_m == pytest.approx(width - 1.375 * 0.3)


def test_the_inner_columns_of_couples_bound_a_flight() -> None:
    porch = {"columns": 8, "paired": "50 cm", "diameter": "30 cm", "spacing": "2.6 m"}
    made = design(porch=porch).porch
    assert made.steps.width_m == pytest.approx(2 * 1.05 - 1.375 * 0.3)


@pytest.mark.parametrize(
    ("floor", "riser", "count"),
    [
        ("2 ft", None, 4),
        ("30 in", None, 5),
        ("28.1 in", None, 5),
        ("28 in", None, 4),
        ("2 ft", 7.4, 3),
    ],
)
def test_the_fewest_risers_none_over_six_and_a_half_inches(
    floor: str, riser: float | None, count: int
) -> None:
    steps = {} if riser is None else {"riser": f"{riser} in"}
    made = design({"floor": floor}, porch={"steps": steps}).porch.steps
    climb = float(floor.split()[0]) * (12 if "ft" in floor else 1) - 2
    assert (made.risers, made.riser_m) == (count, pytest.approx(climb / count * INCH))


def test_a_newel_stands_clear_of_a_column_s_foot() -> None:
    """With its clearance it takes 6 in within the flight's side; or stands beyond the foot."""
    porch = {"columns": 4, "spacing": "2.8 m", "diameter": "30 cm", "depth": "2.8 m"}
    foot = 1.375 * 0.3 / 2
    free = 2 * (1.4 - foot)  # between the plinths
    beyond = 2 * (1.4 + foot + 6 * INCH)
    for width, good in (
        (free - 0.002, True),
        (free + 0.002, False),
        (beyond - 0.004, False),
        (beyond + 0.002, True),
    ):
        steps = {"rail": "iron", "width": f"{width} m"}
        if good:
            assert design(porch={**porch, "steps": steps}).porch.steps.rail == "iron"
            continue
        with pytest.raises(DesignError, match=r"porch\.steps\.width"):
            design(porch={**porch, "steps": steps})


def test_one_riser_has_no_rail() -> None:
    low = design({"floor": "8 in"}, porch={"steps": {"rail": "iron"}}).porch.steps
    assert (low.risers, low.rail) == (1, "none")
    two = design({"floor": "10 in"}, porch={"steps": {"rail": "iron"}}).porch.steps
    assert (two.risers, two.rail) == (2, "iron")


def test_a_couple_of_the_ionic_no_closer_than_its_volutes() -> None:
    """Vignola's volute: its eye's middle, and eight and a half of the eye's radii beyond it."""
    porch = {"order": "ionic", "columns": 4, "spacing": "3.6 m", "height": "3 m"}
    order = design(porch=porch).porch.order
    eye = sum(m.height for m in order.capital if m.name in ("channel", "rim")) / 4
    volutes = 2 * (dict(order.capital_sizes)["eye"] + 8.5 * eye)
    least = max(volutes, order.foot_width_m, order.abacus_width_m)
    assert volutes == least
    assert design(porch={**porch, "paired": f"{least + 0.0005} m"})
    with pytest.raises(DesignError, match=r"porch\.paired"):
        design(porch={**porch, "paired": f"{least - 0.0005} m"})

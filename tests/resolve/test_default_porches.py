"""A porch of which only the order is said draws no remark on where its columns stand."""

from __future__ import annotations

import pytest

from massing.design.design import Design
from massing.findings.report import findings
from massing.resolve.design import resolve
from massing.scene.spec import Scene

OF_COLUMNS = {
    "araeostyle",
    "wide spacing",
    "close spacing",
    "slender for spacing",
    "slenderness",
    "metopes",
    "corner modillions",
    "masked openings",
}
ORDERS = ("tuscan", "doric", "mutular doric", "ionic", "corinthian", "composite", "pier")


def house(order: str, width_ft: int, storeys: tuple[str, ...] = ("12 ft", "10 ft")) -> Design:
    scene = {
        "title": "Any house",
        "site": {"place": "Anywhere", "latitude": 35, "longitude": -80, "front_faces": "S"},
        "house": {"width": f"{width_ft} ft", "depth": "34 ft", "storeys": list(storeys)},
        "porch": {"order": order},
        "times": ["equinox 10:00"],
    }
    return resolve(Scene.model_validate(scene), "any")


def of_columns(design: Design) -> set[str]:
    return OF_COLUMNS & {finding.key for finding in findings(design)}


STOREYS = (("9 ft",), ("9 ft", "8 ft"), ("10 ft", "9 ft"), ("11 ft", "10 ft"), ("14 ft", "12 ft"))


@pytest.mark.parametrize("order", ORDERS)
def test_no_default_porch_of_any_order_and_width_is_remarked_on(order: str) -> None:
    """Notes too."""
    for width_ft in (24, 28, 32, 36, 40, 44, 50, 56, 60, 66, 72):
        assert not of_columns(house(order, width_ft)), width_ft
    for storeys in STOREYS:
        for width_ft in (24, 32, 44, 60):
            assert not of_columns(house(order, width_ft, storeys)), (width_ft, storeys)


def test_two_columns_wider_apart_than_the_doorway_wants_are_remarked_on() -> None:
    """Under nine feet a Corinthian pair stands as the doorway wants; 10 mm more is wide."""
    scene = {
        "title": "Any house",
        "site": {"place": "Anywhere", "latitude": 35, "longitude": -80, "front_faces": "S"},
        "house": {"width": "28 ft", "depth": "34 ft", "storeys": ["9 ft"]},
        "porch": {"order": "corinthian"},
        "times": ["equinox 10:00"],
    }
    left = resolve(Scene.model_validate(scene), "any")
    (gap_m,) = left.porch.gaps_m
    assert gap_m / left.porch.order.diameter_m - 1.0 > 4.0  # wider than araeostyle
    scene["porch"] |= {"columns": 2, "spacing": f"{gap_m + 0.01:.4f} m"}
    assert "wide spacing" in of_columns(resolve(Scene.model_validate(scene), "any"))


def test_two_columns_stand_where_four_would_stand_far_apart() -> None:
    design = house("tuscan", 40)
    assert len(design.porch.axes_m) == 2
    assert "two columns" in design.origins["porch.spacing"].source
    asked = resolve(
        Scene.model_validate(
            {
                "title": "Any house",
                "site": {"place": "Any", "latitude": 35, "longitude": -80, "front_faces": "S"},
                "house": {"width": "40 ft", "depth": "34 ft", "storeys": ["12 ft", "10 ft"]},
                "porch": {"order": "tuscan", "columns": 4},
                "times": ["equinox 10:00"],
            }
        ),
        "any",
    )
    assert len(asked.porch.axes_m) == 4
    assert of_columns(asked) == {"araeostyle"}

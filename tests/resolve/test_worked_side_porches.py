"""Side porches worked by hand: as the front one by rule, deep enough for chairs or for a car.

The house: 16 by 10 m, floor at 2 ft, storeys of 3.6 m; the front porch Tuscan, its floor 2 in
lower, its top level with the floor above. Sizes left out are common practice, no source.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from massing.scene.errors import DesignError
from tests.resolve.test_design import design

INCH, FOOT = 0.0254, 0.3048
FLOOR_M, PORCH_M = 24 * INCH, 22 * INCH
TOP_M = FLOOR_M + 3.6

pytestmark = pytest.mark.usefixtures("rules_hold")

FRONT = {"columns": 4, "spacing": "2.2 m"}


def beside(house: Any = None, front: Any = None, **asked: Any) -> tuple[Any, Any]:
    made = design(house, porch=FRONT | (front or {}), side_porches=[{"side": "left", **asked}])
    return made, made.side_porches[0]


def test_one_by_rule() -> None:
    """Level with the front's top; 8 ft deep; as the front's spacing, a foot from the corners."""
    made, one = beside()
    porch = one.porch
    assert (one.side, one.kind, one.fill) == ("left", "porch", "open")
    assert porch.floor_z_m == pytest.approx(PORCH_M)
    assert porch.top_z_m == pytest.approx(TOP_M)
    assert porch.order.order == "tuscan"
    assert porch.depth_m == pytest.approx(8 * FOOT)
    assert porch.centre_m == 0.0
    assert np.diff(porch.axes_m) == pytest.approx([2.2] * 3)
    assert made.origins["side_porches.0.spacing"].source == "as of the front porch"
    assert made.origins["side_porches.0.back"].value == pytest.approx(5.0)
    assert porch.responds == "none"


def test_it_has_what_room_the_side_leaves() -> None:
    made, one = beside({"depth": "7 m"}, columns=4)
    order = one.porch.order
    reach = order.upper_diameter_m + 2 * order.cornice_projection_m
    room = 7.0 - 2 * FOOT - reach
    assert np.diff(one.porch.axes_m) == pytest.approx([room / 3] * 3)
    assert made.origins["side_porches.0.spacing"].source == "what the side leaves"


def test_a_porch_as_given() -> None:
    asked = {
        "columns": 3,
        "spacing": "1.8 m",
        "depth": "2 m",
        "height": "3 m",
        "order": "doric",
        "floor": "40 cm",
        "back": "6 m",
        "diameter": "25 cm",
        "entablature": "50 cm",
        "fill": "screens",
    }
    made, one = beside({"side_bays": 0}, **asked)
    porch = one.porch
    assert (porch.order.order, one.fill) == ("doric", "screens")
    assert np.diff(porch.axes_m) == pytest.approx([1.8, 1.8])
    assert (porch.depth_m, porch.floor_z_m) == pytest.approx((2.0, 0.4))
    assert porch.order.order_height_m == pytest.approx(3.0)
    assert (porch.order.diameter_m, porch.order.entablature_height_m) == pytest.approx((0.25, 0.5))
    # the left wall's right end is the front: 6 m back is a metre to its left
    assert porch.centre_m == pytest.approx(-1.0)
    for field in ("spacing", "depth", "floor", "back"):
        assert made.origins[f"side_porches.0.{field}"].source.startswith("given")


def test_a_porte_cochere_leaves_a_car_ten_feet() -> None:
    """Two columns on pedestals, 12 ft apart, on a kerb of 6 in; from the wall to their feet."""
    made, one = beside(kind="porte-cochere")
    porch = one.porch
    assert porch.floor_z_m == pytest.approx(6 * INCH)
    assert porch.order.pedestal_height_m > 0
    assert len(porch.axes_m) == 2
    assert np.diff(porch.axes_m) == pytest.approx([12 * FOOT])
    assert porch.depth_m == pytest.approx(10 * FOOT + porch.order.foot_width_m / 2)
    assert porch.top_z_m == pytest.approx(TOP_M)
    assert porch.flight is None
    assert not [name for name in made.origins if ".steps." in name and "side_porches" in name]
    pier = beside(kind="porte-cochere", order="pier")[1].porch.order
    assert pier.pedestal_height_m == 0
    bare = beside(kind="porte-cochere", pedestals=False)[1].porch.order
    assert bare.pedestal_height_m == 0
    least = 8 * FOOT + porch.order.foot_width_m / 2
    assert beside(kind="porte-cochere", depth=f"{least + 0.001} m")
    with pytest.raises(DesignError, match=r"side_porches\.0\.depth: .* to leave a car 8'-0\""):
        beside(kind="porte-cochere", depth=f"{least - 0.001} m")


def test_it_is_as_much_deeper_as_a_door_s_steps_stand_out() -> None:
    """A landing of 3 ft 6 in and four risers' three treads of 13 in."""
    house = {"side_door": {"wall": "left", "bay": 2}}
    _, one = beside(house, kind="porte-cochere")
    out = (42 + 3 * 13) * INCH
    assert one.porch.depth_m == pytest.approx(out + 10 * FOOT + one.porch.order.foot_width_m / 2)


def test_a_door_opens_on_a_side_porch() -> None:
    made, _ = beside({"side_door": {"wall": "left", "bay": 2}})
    door = next(o for o in made.house.openings if o.place == "side door")
    assert door.door.steps is None


def test_a_sleeping_porch_over_it() -> None:
    """Posts under a beam of 12 in, up to 5 mm under edge and flashing below the main cornice."""
    made, one = beside({"side_bays": 1}, upper={})
    upper = one.porch.upper
    assert upper.order.order == "pier"
    assert upper.order.entablature_height_m == pytest.approx(12 * INCH)
    limit = made.house.wall_top_z_m * 17 / 18
    assert upper.top_z_m == pytest.approx(limit - 0.05 - 0.16 - 0.005)
    assert one.upper_fill == "screens"
    given = beside({"side_bays": 1}, upper={"fill": "sash", "height": "2.4 m", "order": "tuscan"})[
        1
    ]
    assert given.upper_fill == "sash"
    assert given.porch.upper.order.order_height_m == pytest.approx(2.4)
    assert given.porch.upper.order.order == "tuscan"


@pytest.mark.parametrize(
    ("house", "asked", "field"),
    [
        ({"wings": [{"side": "left"}]}, {}, "side"),
        ({"wings": [{"side": "both"}]}, {}, "side"),
        ({}, {"kind": "porte-cochere", "guard": {}}, "guard"),
        ({}, {"kind": "porte-cochere", "steps": {}}, "steps"),
        ({}, {"kind": "porte-cochere", "fill": "sash"}, "fill"),
        ({}, {"kind": "porte-cochere", "upper": {}}, "upper"),
        ({"storeys": ["4 m"]}, {"upper": {}, "height": "3 m"}, "upper"),
        ({}, {"floor": "70 cm"}, "floor"),
        ({}, {"spacing": "3 m", "columns": 4}, "spacing"),
        ({}, {"back": "1 m"}, "back"),
    ],
)
def test_what_a_side_porch_cannot_be(
    house: dict[str, Any], asked: dict[str, Any], field: str
) -> None:
    with pytest.raises(DesignError) as refused:
        beside(house, **asked)
    assert refused.value.field == f"side_porches.0.{field}"


def test_one_porch_to_a_side() -> None:
    two = [{"side": "left"}, {"side": "left", "kind": "porte-cochere"}]
    with pytest.raises(DesignError) as refused:
        design(porch=FRONT, side_porches=two)
    assert (refused.value.field, refused.value.given) == ("side_porches.1.side", "left twice")
    both = [{"side": "left"}, {"side": "right", "kind": "porte-cochere"}]
    made = design(porch=FRONT, side_porches=both)
    assert {(one.side, one.kind) for one in made.side_porches} == {
        ("left", "porch"),
        ("right", "porte-cochere"),
    }


def test_it_keeps_a_foot_from_the_corners() -> None:
    _, one = beside(columns=2, spacing="3 m")
    order = one.porch.order
    half = 1.5 + order.upper_diameter_m / 2 + order.cornice_projection_m
    half = max(half, 1.5 + one.porch.floor_edge_m)
    for back, stands in ((FOOT + half + 0.002, True), (FOOT + half - 0.002, False)):
        if stands:
            assert beside({"side_bays": 0}, columns=2, spacing="3 m", back=f"{back} m")
            continue
        with pytest.raises(DesignError, match=r"side_porches\.0\.back: .* clear of the corners"):
            beside({"side_bays": 0}, columns=2, spacing="3 m", back=f"{back} m")

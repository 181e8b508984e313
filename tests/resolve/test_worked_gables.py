"""Gables over parts of a front worked by hand: how wide, how steep, where, and what is in them.

The house: 16 by 10 m under a hip of 6:12, walls' top at 7.8096 m. Ratios that a scene leaves out
are common practice, no source.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from massing.practice.joinery_sizes import head_reach
from massing.scene.errors import DesignError
from massing.settingout.cross_gables import span_m
from tests.resolve.test_design import design

INCH = 0.0254
CLEAR_M = 8 * INCH  # of hips, verges, the ridge, and other gables

pytestmark = pytest.mark.usefixtures("rules_hold")


def gables(*asked: dict[str, Any], house: Any = None, **groups: Any) -> Any:
    roof = {"gables": list(asked), **groups.pop("roof", {})}
    return design({"bays": 7, **(house or {})}, roof=roof, **groups)


def reach(made: Any) -> float:
    return 0.03 + made.house.cornice.projection_m + made.roof.overhang_m


def most_m(made: Any, slope: float) -> float:
    """The widest: its ridge runs out on the main slope 8 in below its head."""
    rise = made.roof.slope * (5.0 + reach(made)) - CLEAR_M
    return 2 * (rise / slope - reach(made))


def test_a_gable_is_three_tenths_of_its_wall_or_as_wide_as_its_ridge_lets_it() -> None:
    made = gables({"along": "-4 m"})
    [gable] = made.roof.gables
    assert (gable.wall, gable.along_m, gable.out_m) == ("front", -4.0, 0.0)
    assert gable.width_m == pytest.approx(0.3 * 16)
    assert gable.slope == pytest.approx(0.5)
    assert made.origins["roof.gables.0.pitch"].source == "as the main roof"
    steep = gables({"along": "0 m", "wall": "back", "pitch": "12:12"})
    [gable] = steep.roof.gables
    assert gable.slope == pytest.approx(1.0)
    assert gable.width_m == pytest.approx(most_m(steep, 1.0))
    assert gable.width_m < 0.3 * 16
    assert steep.origins["roof.gables.0.pitch"].source.startswith("given")
    given = gables({"along": "3.9 m", "width": "3 m", "wall": "back", "foot": "across"})
    [gable] = given.roof.gables
    assert (gable.wall, gable.width_m, gable.foot) == ("back", 3.0, "across")


@pytest.mark.parametrize("pitch", [6, 9, 12])
def test_its_ridge_keeps_under_the_main_one(pitch: int) -> None:
    asked = {"along": "0 m", "wall": "back", "pitch": f"{pitch}:12", "opening": {"kind": "none"}}
    plain = design({"bays": 7})
    most = most_m(plain, pitch / 12)
    assert gables({**asked, "width": f"{most - 0.001} m"}, house={"width": "24 m"})
    with pytest.raises(DesignError, match=r"gables\.0\.width: .* its ridge under the main one"):
        gables({**asked, "width": f"{most + 0.001} m"}, house={"width": "24 m"})


def test_its_valleys_keep_off_the_hips() -> None:
    """Valley and hip of one pitch go parallel: 8 in apart, square to a hip at 45 degrees in plan.

    The gable's eaves are its half and the main reach from its middle, the hip's foot at the corner.
    """
    asked = {"width": "4 m", "opening": {"kind": "none"}}
    made = gables({"along": "-4 m", **asked})
    corner = 8.0 + reach(made)
    half = 2.0 + reach(made)
    room = corner - half  # where a valley's foot meets the hip's
    for along, stands in ((room - 0.35, True), (room + 0.01, False)):
        for side in (1.0, -1.0):
            gable = {"along": f"{side * along} m", **asked}
            if stands:
                assert gables(gable).roof.gables
                continue
            with pytest.raises(DesignError) as refused:
                gables(gable, units="metric")
            assert refused.value.field == "roof.gables.0.along"
            low, high = (
                float(t) for t in refused.value.allowed.split(" m")[0:2] for t in [t.split()[-1]]
            )
            assert low == pytest.approx(-high)
            # what is allowed stands, a hand's breadth more does not
            assert gables({"along": f"{side * (high - 0.001)} m", **asked})
            with pytest.raises(DesignError, match=r"roof\.gables\.0\.along"):
                gables({"along": f"{side * (high + 0.002)} m", **asked})


def test_two_gables_stand_eight_inches_apart() -> None:
    asked = {"width": "3 m", "opening": {"kind": "none"}}
    made = gables({"along": "-4 m", **asked})
    low, high = span_m(made.roof.gables[0], made.house, made.roof)
    apart = high - low + CLEAR_M
    assert (
        len(
            gables(
                {"along": "-4 m", **asked}, {"along": f"{-4 + apart + 0.001} m", **asked}
            ).roof.gables
        )
        == 2
    )
    with pytest.raises(DesignError) as refused:
        gables({"along": "-4 m", **asked}, {"along": f"{-4 + apart - 0.001} m", **asked})
    assert refused.value.field == "roof.gables.1.along"
    assert refused.value.allowed == "clear of gable 1"
    # another wall's is no neighbour
    assert gables({"along": "-4 m", **asked}, {"along": "-4 m", "wall": "back", **asked})


@pytest.mark.parametrize(
    ("gable", "house", "groups", "beside"),
    [
        ({"along": "-4 m"}, {"chimneys": [{"along": "-4 m", "back": "1 m"}]}, {}, "chimney 1"),
        ({"along": "-4 m"}, {"chimneys": [{"along": "-4 m", "back": "9 m"}]}, {}, None),
        (
            {"along": "0 m", "width": "4 m"},
            {},
            {"porch": {"height": "eaves", "columns": 4, "spacing": "2 m"}},
            "porch",
        ),
        (
            {"along": "0 m", "wall": "back", "width": "4 m"},
            {},
            {"porch": {"height": "eaves", "columns": 4, "spacing": "2 m"}},
            None,
        ),
        ({"along": "0 m"}, {}, {}, None),
        (
            {"along": "-4 m"},
            {
                "width": "30 m",
                "wings": [{"side": "front", "along": "-5 m", "width": "4 m", "depth": "3 m"}],
            },
            {"porch": {"columns": 2, "spacing": "2.2 m"}},
            "front wing",
        ),
    ],
)
def test_a_gable_is_clear_of_what_else_is_there(
    gable: dict[str, Any], house: dict[str, Any], groups: dict[str, Any], beside: str | None
) -> None:
    asked = {"width": "3 m", "opening": {"kind": "none"}, **gable}
    if beside is None:
        assert gables(asked, house=house, **groups).roof.gables
        return
    with pytest.raises(DesignError) as refused:
        gables(asked, house=house, **groups)
    assert refused.value.field == "roof.gables.0.along"
    assert beside in refused.value.allowed


# --- what is in it -------------------------------------------------------------------------------


def rise_m(made: Any) -> float:
    [gable] = made.roof.gables
    return gable.slope * (gable.width_m / 2 + reach(made))


@pytest.mark.parametrize("kind", ["louvre", "sash", "casement", "fixed"])
def test_a_window_by_the_gable_s_rise(kind: str) -> None:
    """0.28 of it wide, 1 1/2 times as high, its sill a quarter of it over the walls' top."""
    made = gables({"along": "-4 m", "pitch": "10:12", "width": "4 m", "opening": {"kind": kind}})
    opening, rise = made.roof.gables[0].opening, rise_m(made)
    assert opening.width_m == pytest.approx(0.28 * rise)
    assert opening.height_m == pytest.approx(1.5 * 0.28 * rise)
    assert opening.sill_z_m == pytest.approx(made.house.wall_top_z_m + rise / 4)
    assert opening.filling == {"sash": "hung"}.get(kind, kind)
    assert opening.along_m == 0.0


def test_it_is_a_foot_wide_at_least_and_a_yard_at_most() -> None:
    # by the rule a low gable has none where there is no room
    low = gables({"along": "-4 m", "width": "3 m", "pitch": "3:12"})
    assert low.roof.gables[0].opening is None
    assert low.origins["roof.gables.0.opening"].written == "left out"
    high = design(
        {"width": "40 m", "depth": "24 m"},
        roof={"pitch": "12:12", "gables": [{"along": "-10 m", "width": "9 m"}]},
    )
    assert high.roof.gables[0].opening.width_m == pytest.approx(36 * INCH)
    small = {"kind": "louvre", "height": "30 cm", "sill": "20 cm"}
    little = gables({"along": "-4 m", "pitch": "6:12", "width": "3 m", "opening": small})
    assert little.roof.gables[0].opening.width_m == pytest.approx(
        max(12 * INCH, 0.28 * rise_m(little))
    )


def test_a_window_as_given() -> None:
    asked = {"kind": "sash", "width": "60 cm", "height": "90 cm", "sill": "40 cm", "lights": "2x2"}
    made = gables({"along": "0 m", "wall": "back", "pitch": "12:12", "opening": asked})
    opening = made.roof.gables[0].opening
    assert (opening.width_m, opening.height_m) == (0.6, 0.9)
    assert opening.sill_z_m == pytest.approx(made.house.wall_top_z_m + 0.4)
    assert opening.upper_lights == (2, 2)
    for field in ("width", "height", "sill"):
        assert made.origins[f"roof.gables.0.opening.{field}"].source.startswith("given")
    none = gables({"along": "0 m", "wall": "back", "pitch": "12:12", "opening": {"kind": "none"}})
    assert none.roof.gables[0].opening is None


def test_its_sill_stands_on_the_wall() -> None:
    """A stone of 4 in and 30 mm over the walls' top."""
    least = 4 * INCH + 0.03
    asked = {"kind": "sash", "width": "60 cm", "height": "80 cm"}
    for sill, stands in ((least + 0.001, True), (least - 0.001, False)):
        gable = {
            "along": "0 m",
            "wall": "back",
            "pitch": "12:12",
            "opening": {**asked, "sill": f"{sill} m"},
        }
        if stands:
            assert gables(gable).roof.gables[0].opening
            continue
        with pytest.raises(DesignError, match=r"gables\.0\.opening\.sill"):
            gables(gable)


@pytest.mark.parametrize("head", ["casing", "lintel"])
def test_its_casing_clears_the_rakes_by_four_inches(head: str) -> None:
    """Square to them: over a level head its corner, so far out and so far up."""
    asked = {"kind": "sash", "width": "60 cm", "sill": "30 cm", "head": head}
    made = gables({"along": "0 m", "wall": "back", "pitch": "12:12", "opening": {"kind": "none"}})
    beside, above = head_reach(0.6, head)
    corner = 0.3 + max(beside, 0.1)
    most = rise_m(made) - 0.3 - (corner + above) - 4 * INCH * math.sqrt(2)
    for height, stands in ((most - 0.001, True), (most + 0.001, False)):
        gable = {
            "along": "0 m",
            "wall": "back",
            "pitch": "12:12",
            "opening": {**asked, "height": f"{height} m"},
        }
        if stands:
            assert gables(gable).roof.gables[0].opening.head == head
            continue
        with pytest.raises(DesignError, match=r"gables\.0\.opening\.height: .* under the rakes"):
            gables(gable)


def test_a_round_head_s_arch_clears_the_rakes() -> None:
    """A half circle and its arch round one middle, square to rakes at 45 degrees."""
    head = "semicircular arch"
    asked = {"kind": "fixed", "width": "60 cm", "sill": "30 cm", "head": head}
    made = gables({"along": "0 m", "wall": "back", "pitch": "12:12", "opening": {"kind": "none"}})
    radius = 0.3 + head_reach(0.6, head)[1]
    # from its middle to the apex as far as the arch and 4 in, square to the rake
    apex = (radius + 4 * INCH) * math.sqrt(2)
    most = rise_m(made) - 0.3 - apex + 0.3
    for height, stands in ((most - 0.001, True), (most + 0.001, False)):
        gable = {
            "along": "0 m",
            "wall": "back",
            "pitch": "12:12",
            "opening": {**asked, "height": f"{height} m"},
        }
        if stands:
            assert gables(gable).roof.gables[0].opening.curved
            continue
        with pytest.raises(DesignError, match=r"gables\.0\.opening\.height"):
            gables(gable)


def test_a_gable_roof_s_own_gables_have_what_is_asked() -> None:
    plain = design(roof={"form": "gable"}).roof
    assert plain.opening is None
    made = design(roof={"form": "gable", "pitch": "8:12", "gable_opening": {"kind": "louvre"}})
    assert made.roof.opening.filling == "louvre"
    with pytest.raises(DesignError, match=r"roof\.gable_opening"):
        design(roof={"form": "hip", "gable_opening": {"kind": "louvre"}})
    tall = {"kind": "louvre", "height": "6 m"}
    with pytest.raises(DesignError, match=r"roof\.gable_opening\.height"):
        design(roof={"form": "gable", "gable_opening": tall})

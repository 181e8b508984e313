"""Worked by hand: corner pilasters, arcades, ceilings, what stands about, what a design says.

Ratios that a scene leaves out are common practice, no source, unless a line names one. The house:
16 by 10 m, its floor at 2 ft, storeys of 3.6 m; its porch 2 in lower.
"""

from __future__ import annotations

from typing import Any

import pytest

from massing.design.site import LEVEL, GroundDesign
from massing.resolve.design import resolve
from massing.scene.errors import DesignError
from massing.scene.spec import Scene
from tests.resolve.test_design import SITE, design

INCH = 0.0254
FLOOR_M, PORCH_M = 24 * INCH, 22 * INCH
DIAMETER_M = (3.6 + 2 * INCH) / 8.75  # Vignola's Tuscan fills the storey: 7 and 1 3/4 diameters
FEW = {"bays": 3, "side_bays": 1}

pytestmark = pytest.mark.usefixtures("rules_hold")


# --- corners -------------------------------------------------------------------------------------


def test_a_corner_pilaster_is_a_twelfth_of_its_height() -> None:
    made = design({"corner_pilasters": "tuscan", **FEW})
    order = made.house.corner_pilasters
    tall = (FLOOR_M + 7.2) * 17 / 18 - FLOOR_M
    assert order.order == "tuscan"
    assert order.column_height_m == pytest.approx(tall)
    assert order.diameter_m == pytest.approx(tall / 12)
    assert "a twelfth of the height" in made.origins["house.corner_pilasters"].source
    assert made.origins["house.corner_pilasters"].value == pytest.approx(tall / 12)
    assert design().house.corner_pilasters is None


def test_under_the_porch_s_own_entablature_it_is_as_its_columns() -> None:
    eaves = {"height": "eaves", "columns": 2, "spacing": "4 m"}
    made = design({"corner_pilasters": "as porch", **FEW}, porch=eaves)
    own, order = made.porch.order, made.house.corner_pilasters
    assert order.diameter_m == pytest.approx(own.diameter_m)
    assert order.architrave == own.architrave
    # from the floor of the house, 2 in over the porch's
    assert order.column_height_m == pytest.approx(own.column_height_m - 2 * INCH)
    assert "as the porch's columns" in made.origins["house.corner_pilasters"].source
    other = design({"corner_pilasters": "doric", **FEW}, porch=eaves)
    order = other.house.corner_pilasters
    assert order.diameter_m == pytest.approx(order.column_height_m / 12)
    assert order.architrave == other.porch.order.architrave
    two = {"upper": {"order": "tuscan"}, "columns": 2, "spacing": "4 m"}
    upper = design({"corner_pilasters": "tuscan", **FEW}, porch=two).house.corner_pilasters
    assert upper.diameter_m == pytest.approx(upper.column_height_m / 12)


def test_a_corner_pilaster_wants_two_inches_beside_it() -> None:
    """50 mm, to be exact, from the block under its foot to the next sill."""
    from massing.settingout.corner_pilasters import block_leg

    house = {"corner_pilasters": "tuscan", "side_bays": 0}
    order = design(house).house.corner_pilasters
    sill = 0.5 + 1.0 / 6 + INCH  # half of a window a metre wide, its casing and its lug
    most = 8.0 - block_leg(order) - 0.05 - sill
    for at, stands in ((most - 0.002, True), (most + 0.002, False)):
        asked = house | {
            "bay_centres": [f"{-at} m", "0 m", f"{at} m"],
            "windows": [{"width": "1 m"}],
        }
        if stands:
            assert design(asked)
            continue
        with pytest.raises(
            DesignError, match=r"corner_pilasters: .* clear of front/ground/window 1"
        ):
            design(asked)


@pytest.mark.parametrize(
    ("house", "groups", "beside"),
    [
        ({"wings": [{"side": "right", "set_back": "1 m"}]}, {}, None),
        ({"wings": [{"side": "right", "set_back": "0.9 m"}]}, {}, "right wing"),
        ({"wings": [{"side": "left", "set_back": "1 m", "depth": "8 m"}]}, {}, None),
        ({"wings": [{"side": "left", "set_back": "1 m", "depth": "8.1 m"}]}, {}, "left wing"),
        ({}, {"porch": {"columns": 6, "spacing": "2.8 m"}}, "porch"),
        ({}, {"porch": {"columns": 4, "spacing": "2.8 m"}}, None),
    ],
)
def test_a_corner_pilaster_is_clear_of_wings_and_porch(
    house: dict[str, Any], groups: dict[str, Any], beside: str | None
) -> None:
    body = {"corner_pilasters": "tuscan", **FEW, **house}
    if beside is None:
        assert design(body, **groups).house.corner_pilasters
        return
    with pytest.raises(DesignError) as refused:
        design(body, **groups)
    assert refused.value.field == "house.corner_pilasters"
    assert beside in refused.value.allowed


# --- arcades -------------------------------------------------------------------------------------


def arcade(order: str = "tuscan", **porch: Any) -> Any:
    house = {"bays": 3, "side_bays": 1, "storeys": ["5 m", "3.6 m"]}
    return design(house, porch={"columns": 4, "order": order, "arcade": {}, **porch})


def test_an_arcade_by_vignola() -> None:
    """Tuscan (from memory): a pier of 3 modules, its arch twice as high as wide, half a module
    of wall and more left under the architrave."""
    made = arcade(spacing="3 m", height="eaves")
    order, arches = made.porch.order, made.porch.arcade
    module = order.diameter_m / 2
    assert (arches.pier_m, arches.thick_m) == pytest.approx((3 * module, 1.5 * module))
    assert [b.middle_m for b in arches.bays] == pytest.approx([-3.0, 0.0, 3.0])
    for bay in arches.bays:
        assert bay.clear_m == pytest.approx(3.0 - 3 * module)
        assert bay.crown_m == pytest.approx(2 * bay.clear_m)
    assert sum(m.height for m in arches.archivolt) == pytest.approx(module)
    assert arches.behind_m == pytest.approx(module / 3)
    assert arches.end_m == pytest.approx(4.5 + order.upper_diameter_m / 2)
    assert arches.plinth_m == pytest.approx(order.base_height_m)
    assert arches.keystone
    said = made.origins
    assert "2 of its width" in said["porch.arcade.arch_height"].source
    assert "from memory" in said["porch.arcade.pier"].source
    assert "porch.arcade.arch_height.1" not in said


def test_an_arch_may_have_less_room_than_the_books_give_it() -> None:
    made = arcade(spacing="3.4 m")
    order, arches = made.porch.order, made.porch.arcade
    module = order.diameter_m / 2
    assert 2 * (3.4 - 3 * module) > order.column_height_m - module / 2
    for bay in arches.bays:
        assert bay.crown_m == pytest.approx(order.column_height_m - module / 2)
    assert sum(m.height for m in arches.archivolt) == pytest.approx(module / 2)
    assert made.origins["porch.arcade.arch_height"].source == "as high as the architrave leaves"


def test_an_arcade_as_given() -> None:
    asked = {"pier": "50 cm", "thickness": "40 cm", "arch_height": "2.6 m", "keystone": False}
    made = arcade(spacing="2.4 m", arcade=asked, depth="3 m")
    arches = made.porch.arcade
    assert (arches.pier_m, arches.thick_m, arches.keystone) == (0.5, 0.4, False)
    assert {round(b.crown_m, 9) for b in arches.bays} == {2.6}
    assert {round(b.clear_m, 9) for b in arches.bays} == {1.9}
    for field in ("pier", "thickness", "arch_height"):
        assert made.origins[f"porch.arcade.{field}"].source.startswith("given")


def test_on_pedestals_and_with_a_wider_middle() -> None:
    """Ionic on pedestals: a pier of 4 modules (Moxon, XIV)."""
    made = arcade("ionic", spacing="2.6 m", centre_spacing="3 m", pedestals=True, height="4.6 m")
    order, arches = made.porch.order, made.porch.arcade
    module = order.diameter_m / 2
    assert arches.pier_m == pytest.approx(4 * module)
    clear = [b.clear_m for b in arches.bays]
    assert clear == pytest.approx([2.6 - 4 * module, 3.0 - 4 * module, 2.6 - 4 * module])
    assert arches.plinth_m == pytest.approx(order.pedestal[0].height)
    room = order.pedestal_height_m + order.column_height_m
    assert {round(b.crown_m, 9) for b in arches.bays} == {round(room - module / 2, 9)}
    assert "porch.arcade.arch_height.1" in made.origins
    assert "porch.arcade.arch_height.2" not in made.origins


def test_the_canon_s_own_arcade_spaces_the_columns() -> None:
    """Doric: 10 modules from axis to axis (Moxon, VII)."""
    made = arcade("doric", spacing="canon", depth="3 m")
    module = made.porch.order.diameter_m / 2
    gaps = [b - a for a, b in zip(made.porch.axes_m, made.porch.axes_m[1:], strict=False)]
    assert gaps == pytest.approx([10 * module] * 3)
    assert made.origins["porch.spacing"].source == "the order's own arcade"


@pytest.mark.parametrize(
    ("spacing", "arch", "stands"),
    [
        # 30 in between piers of 50 cm
        ("1.263 m", "1.6 m", True),
        ("1.261 m", "1.6 m", False),
        # spring a module and a quarter of the width up, at least: 0.2886 + 0.475, and half of 1.9
        ("2.4 m", "1.72 m", True),
        ("2.4 m", "1.71 m", False),
        # half a module under the architrave, at 4.0406 m
        ("2.4 m", "3.89 m", True),
        ("2.4 m", "3.90 m", False),
    ],
)
def test_the_room_of_an_arch(spacing: str, arch: str, stands: bool) -> None:
    asked = {"pier": "50 cm", "thickness": "40 cm", "arch_height": arch}
    porch = {"spacing": spacing, "arcade": asked, "depth": "3 m"}
    if stands:
        assert arcade(**porch).porch.arcade
        return
    with pytest.raises(DesignError, match=r"porch\.(arcade\.arch_height|spacing)"):
        arcade(**porch)


# --- ceilings ------------------------------------------------------------------------------------


def test_a_ceiling_lies_level_with_the_architrave_s_top() -> None:
    porch = design().porch
    assert porch.ceiling_up_m is None
    assert porch.ceiling_z_m == pytest.approx(PORCH_M + 7.5 * DIAMETER_M)
    assert "porch.ceiling_height" not in design().origins


@pytest.mark.parametrize(("ceiling", "high"), [("boards", 2.4), ("coffered", 2.3)])
def test_it_rises_over_openings_of_a_given_height(ceiling: str, high: float) -> None:
    """Over the casing by 2 in and a hair; no higher than frieze and boards let it."""
    window = {"height": f"{high} m", "width": "1 m", "sill": "2 ft"}
    house = {"windows": [window, {"height": "1.8 m"}]}
    made = design(house, porch={"ceiling": ceiling})
    over = 24 * INCH + high + 1 / 6 + 2 * INCH + 0.001
    deep = 5 * INCH if ceiling == "coffered" else 0.0
    most = DIAMETER_M * (7 + 0.5 + 7 / 12) - 0.03 - deep - 2 * INCH
    assert made.porch.ceiling_z_m - FLOOR_M == pytest.approx(min(over, most))
    assert made.origins["porch.ceiling_height"].source == "over the openings behind it"


def test_it_rises_over_a_door_of_a_given_height() -> None:
    made = design({"door": {"height": "2.9 m", "width": "1 m", "transom": False}})
    over = 2.9 + 0.12 + 1 / 6 + 2 * INCH
    assert made.porch.ceiling_z_m - FLOOR_M == pytest.approx(over)
    low = design({"door": {"height": "2.2 m"}})
    assert low.porch.ceiling_up_m is None


def test_a_ceiling_as_given() -> None:
    for height in (7 * DIAMETER_M, 3.1, (8 + 1 / 12) * DIAMETER_M - 0.03):
        made = design({"windows": [{"width": "0.9 m"}]}, porch={"ceiling_height": f"{height} m"})
        assert made.porch.ceiling_z_m - PORCH_M == pytest.approx(height)
        assert made.porch.ceiling_up_m == pytest.approx(height - 7 * DIAMETER_M, abs=1e-9)
    for height in (7 * DIAMETER_M - 0.001, (8 + 1 / 12) * DIAMETER_M - 0.029):
        with pytest.raises(DesignError, match=r"porch\.ceiling_height"):
            design({"windows": [{"width": "0.9 m"}]}, porch={"ceiling_height": f"{height} m"})


def test_a_shallow_beam_brings_coffers_down() -> None:
    """Architrave and frieze of 13/21 of the entablature, less 5 in, 20 mm and 10 mm."""
    made = design(
        {"windows": [{"width": "0.8 m"}]}, porch={"entablature": "30 cm", "ceiling": "coffered"}
    )
    porch = made.porch
    beam = 0.3 * 13 / 21
    assert porch.ceiling_up_m == pytest.approx(beam - 5 * INCH - 0.03)
    assert porch.ceiling_up_m < porch.order.architrave_height_m
    assert made.origins["porch.ceiling_height"].source == "what the beam leaves"
    assert made.origins["porch.ceiling_height"].value == pytest.approx(
        porch.order.column_height_m + porch.ceiling_up_m
    )
    none = design(
        {"windows": [{"width": "0.8 m"}]}, porch={"entablature": "20 cm", "ceiling": "coffered"}
    )
    assert none.porch.ceiling_up_m == 0.0


# --- about the house -----------------------------------------------------------------------------


def test_what_stands_about() -> None:
    setting = {
        "kind": "garden",
        "hedges": [
            {"along": "6 m", "before": "4 m", "length": "2 m", "width": "1 m", "height": "80 cm"}
        ],
        "trees": [{"along": "12 m", "before": "-3 m", "height": "8 m", "spread": "6 m"}],
        "neighbours": [
            {
                "along": "24 m",
                "before": "-4 m",
                "width": "9 m",
                "depth": "8 m",
                "eaves": "6 m",
                "ridge": "9 m",
            }
        ],
    }
    made = design(setting=setting).setting
    [hedge], [tree], [near] = made.hedges, made.trees, made.neighbours
    assert (hedge.low_m, hedge.high_m, hedge.height_m) == ((5.0, -4.5), (7.0, -3.5), 0.8)
    assert (tree.x_m, tree.y_m, tree.height_m, tree.spread_m) == (12.0, 3.0, 8.0, 6.0)
    assert near.low_m == pytest.approx((19.5, 0.0))
    assert near.high_m == pytest.approx((28.5, 8.0))
    assert (near.eaves_z_m, near.ridge_z_m) == (6.0, 9.0)
    assert made.path == "flags"


@pytest.mark.parametrize(
    ("kind", "path"),
    [
        ("open country", "gravel"),
        ("village street", "brick"),
        ("garden", "flags"),
        ("none", "gravel"),
    ],
)
def test_a_path_is_of_its_place(kind: str, path: str) -> None:
    assert design(setting={"kind": kind}).setting.path == path
    assert design(setting={"kind": kind, "path": "brick"}).setting.path == "brick"


def stands(setting: dict[str, Any], house: dict[str, Any] | None = None, **groups: Any) -> bool:
    try:
        design(house, setting=setting, **groups)
    except DesignError as refusal:
        if refusal.field.startswith("setting."):
            return False
        raise
    return True


def tree(x_m: float, y_m: float, height_m: float = 5.0) -> dict[str, Any]:
    """A trunk that wants 0.12 of its height clear."""
    size = {"height": f"{height_m} m", "spread": "2 m"}
    return {"trees": [{"along": f"{x_m} m", "before": f"{-y_m} m", **size}]}


def test_nothing_stands_in_the_way() -> None:
    """100 mm about house and wings; the porch's floor; a walk between cheeks of 16 in for 30 m."""
    house = {"wings": [{"side": "right"}]}
    made = design(house)
    trunk = 0.12 * 5.0 / 2
    edge = 3 * INCH + made.porch.order.foot_width_m / 2
    way = made.porch.steps.width_m / 2 + 16 * INCH
    foot = made.porch.depth_m + edge + made.porch.steps.run_m
    places = [
        # left of the house, behind it, before it
        ((-8.1 - trunk, 5.0), (-1, 0)),
        ((0.0, 10.1 + trunk), (0, 1)),
        ((-7.0, -0.1 - trunk), (0, -1)),
        # right of the wing, behind it, and before it
        ((8 + 6.4 + 0.1 + trunk, 3.0), (1, 0)),
        ((11.2, 1.4 + 7 + 0.1 + trunk), (0, 1)),
        ((11.2, 1.4 - 0.1 - trunk), (0, -1)),
        # beside the porch, beside its walk, beyond the walk's end
        ((made.porch.axes_m[-1] + edge + trunk, -1.0), (1, 0)),
        ((-(made.porch.axes_m[-1] + edge + trunk), -1.0), (-1, 0)),
        ((way + trunk, -foot - 20), (1, 0)),
        ((-way - trunk, -foot - 29.9), (-1, 0)),
        ((0.0, -foot - 30 - trunk), (0, -1)),
    ]
    for (x, y), (dx, dy) in places:
        assert stands(tree(x + 0.002 * dx, y + 0.002 * dy), house), (x, y)
        assert not stands(tree(x - 0.002 * dx, y - 0.002 * dy), house), (x, y)


def test_nothing_stands_on_a_side_door_s_steps() -> None:
    house = {"side_bays": 3, "side_door": {"wall": "left", "bay": 1}}
    made = design(house)
    steps = next(o for o in made.house.openings if o.place == "side door").door.steps
    end = -8.0 - 42 * INCH - 3 * 13 * INCH - 0.3
    assert steps.run_m == pytest.approx(3 * 13 * INCH)
    assert stands(tree(end - 0.002, 5 + 10 / 3), house)
    assert not stands(tree(end + 0.002, 5 + 10 / 3), house)


@pytest.mark.parametrize(
    ("hedge", "good"),
    [
        ({"length": "30 cm", "width": "1 m", "height": "1 m"}, True),
        ({"length": "29 cm", "width": "1 m", "height": "1 m"}, False),
        ({"length": "1 m", "width": "29 cm", "height": "1 m"}, False),
        ({"length": "1 m", "width": "1 m", "height": "29 cm"}, False),
    ],
)
def test_a_hedge_is_a_foot_each_way(hedge: dict[str, str], good: bool) -> None:
    assert stands({"hedges": [{"along": "7 m", "before": "5 m", **hedge}]}) is good


@pytest.mark.parametrize(
    ("height", "spread", "good"),
    [
        ("6.01 ft", "3 ft", True),
        ("5.99 ft", "3 ft", False),
        ("6 m", "12 m", True),
        ("6 m", "12.01 m", False),
    ],
)
def test_a_tree_is_six_feet_high_and_at_most_twice_as_broad(
    height: str, spread: str, good: bool
) -> None:
    at = {"along": "14 m", "before": "5 m"}
    assert stands({"trees": [{**at, "height": height, "spread": spread}]}) is good


def test_a_neighbour_stands_as_far_off_as_its_eaves_reach() -> None:
    def near(x_m: float, eaves: str = "6 m", ridge: str = "9 m") -> dict[str, Any]:
        size = {"width": "9 m", "depth": "8 m", "eaves": eaves, "ridge": ridge}
        return {"neighbours": [{"along": f"{x_m} m", "before": "-4 m", **size}]}

    assert stands(near(8.1 + 0.4 + 4.5 + 0.002))
    assert not stands(near(8.1 + 0.4 + 4.5 - 0.002))
    assert stands(near(30.0, ridge="6.01 m"))
    assert not stands(near(30.0, ridge="6 m"))
    # its plan of 9.8 by 8.8 m on ground that rises 1 in 60 both ways: 4.9/60 + 4.4/60 at a corner
    slope = {"ground_slope": {"along": "1:60", "back": "1:60"}}
    over = (4.9 + 4.4) / 60
    assert stands(near(30.0, eaves=f"{over + 0.002} m"), site=slope)
    assert not stands(near(30.0, eaves=f"{over - 0.002} m"), site=slope)


# --- what a design says of itself ----------------------------------------------------------------


def test_a_site_s_zone_is_by_its_place() -> None:
    made = design()
    assert made.site.time_zone == "America/New_York"
    assert made.origins["site.time_zone"].source == "by position"
    assert made.site.ground == LEVEL
    given = design(site={"time_zone": "America/Chicago", "altitude": "200 m", "year": 2031})
    assert (given.site.time_zone, given.site.altitude_m, given.site.year) == (
        "America/Chicago",
        200.0,
        2031,
    )
    assert given.origins["site.time_zone"].source.startswith("given")
    slope = {"ground_slope": {"along": "1:40", "back": "-1:20"}}
    assert design(site=slope).site.ground == GroundDesign(1 / 40, -1 / 20)
    assert (made.site.place, made.site.latitude_deg, made.site.longitude_deg) == (
        "Testwick",
        40.0,
        -75.0,
    )
    assert made.site.front_azimuth_deg == pytest.approx(180.0)


@pytest.mark.parametrize(
    ("units", "asked", "step_m"),
    [
        ("feet", None, INCH / 16),
        ("feet", "1/2 in", INCH / 2),
        ("feet", "1/4 in", INCH / 4),
        ("feet", "1/8 in", INCH / 8),
        ("feet", "1/16 in", INCH / 16),
        ("feet", "1/32 in", INCH / 32),
        ("metric", None, 0.001),
        ("metric", "2 mm", 0.002),
        ("metric", "5 mm", 0.005),
        ("metric", "1 mm", 0.001),
    ],
)
def test_a_builder_s_fraction(units: str, asked: str | None, step_m: float) -> None:
    large = {"porch": {"height": "eaves", "columns": 4, "spacing": "4 m"}}
    made = design(units=units, rounding=asked, **large)
    assert made.rounding_m == pytest.approx(step_m)
    assert made.units == units


def test_a_fraction_that_loses_a_member_is_refused() -> None:
    with pytest.raises(DesignError, match=r"rounding: .* a finer step"):
        design(rounding="1 in")
    small = {"height": "4.6 m", "columns": 4, "spacing": "2.8 m"}
    upper = {"diameter": "12 cm", "entablature": "20 cm"}
    house = {"storeys": ["4.6 m", "3.6 m"]}
    assert design(house, rounding="1/4 in", porch=small)
    with pytest.raises(DesignError, match="rounding"):
        design(house, rounding="1/2 in", porch=small | {"height": None, "upper": upper})


def test_a_design_keeps_what_its_scene_says() -> None:
    scene = Scene.model_validate(
        {
            "title": "Test",
            "site": SITE,
            "times": ["equinox 12:00"],
            "house": {"width": "16 m", "depth": "10 m", "storeys": ["3.6 m", "3.6 m"]},
            "scale_figure": False,
            "colours": {"walls": "#aabbcc"},
        }
    )
    lines = {("house", "storeys", 0): 7, ("house", "width"): 5}
    made = resolve(scene, "other name", lines)
    assert made.name == "other name"
    assert made.scale_figure == scene.scale_figure
    assert dict(made.colours)["walls"] == scene.colours.walls
    assert made.origins["house.storeys.0"].source == "given, line 7"
    assert made.origins["house.storeys.1"].source == "given"
    assert made.origins["house.wall_top"].value == pytest.approx(FLOOR_M + 7.2)

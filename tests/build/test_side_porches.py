"""Porches at the sides: a front porch turned to its wall; a porte-cochere; a sleeping porch."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from massing.build.house import build, scenery_of
from massing.design.design import Design
from massing.design.setting import Scenery
from massing.design.site import GroundDesign
from massing.findings.report import findings
from massing.parts.part import Model
from massing.practice.defaults import default
from massing.practice.rules import rule
from massing.present.reports.schedule import schedule
from massing.scene.errors import DesignError
from massing.settingout.side_porches import on_plan, seen_from, side_porch_plan
from massing.units import FOOT_M
from tests.helpers.mesh_faults import faults
from tests.resolve.test_design import design

HOUSE = {"width": "14 m", "depth": "12 m", "side_bays": 3, "walls": "clapboard", "relief": True}
WITH_DOOR = {**HOUSE, "side_door": {"wall": "right", "bay": 2}}


def made(*porches: dict[str, Any], house: dict[str, Any] | None = None, **groups: Any) -> Design:
    return design(house or HOUSE, side_porches=list(porches), **groups)


def bounds(model: Model, *path: str) -> np.ndarray:
    boxes = [p.world_mesh().bounds for p in model.parts if p.within(*path)]
    return np.array([np.min([b[0] for b in boxes], 0), np.max([b[1] for b in boxes], 0)])


def test_few_words_give_a_porch_as_the_front_one_level_with_it() -> None:
    drawn = made({"side": "right"}, house=WITH_DOOR, porch={"order": "doric"})
    (one,) = drawn.side_porches
    assert one.porch.order == drawn.porch.order
    assert one.porch.top_z_m == pytest.approx(drawn.porch.top_z_m)
    assert one.porch.floor_z_m == pytest.approx(drawn.porch.floor_z_m)
    # 8 ft from wall to column axis: common practice, no source.
    assert one.porch.depth_m == default("side_porch.depth") == 8 * FOOT_M
    assert drawn.origins["side_porches.0.depth"].source.startswith("8 ft")
    (door,) = [d for d in drawn.house.doors if d.wall == "right"]
    assert door.door.steps is None  # it opens on the porch
    box = bounds(build(drawn.unlaid), "right porch")
    assert box[0, 0] == pytest.approx(7.0, abs=0.1)
    assert (box[0, 1] + box[1, 1]) / 2.0 == pytest.approx(6.0, abs=1e-3)
    assert box[0, 1] > 0.0
    assert box[1, 1] < 12.0


def test_left_and_right_mirror_each_other() -> None:
    asked = {"back": "5 m", "columns": 3, "spacing": "2 m", "roof": "lean-to", "height": "3 m"}
    drawn = made({"side": "left", **asked}, {"side": "right", **asked})
    model = build(drawn.unlaid)
    left, right = bounds(model, "left porch"), bounds(model, "right porch")
    assert left[:, 1:] == pytest.approx(right[:, 1:], abs=1e-4)
    assert left[:, 0] == pytest.approx(-right[::-1, 0], abs=1e-4)
    axes = [on_plan(drawn.house, "left", x, 0.0)[1] for x in drawn.side_porches[0].porch.axes_m]
    assert sorted(axes) == pytest.approx([3.0, 5.0, 7.0])


PORCHES: dict[str, tuple[dict[str, Any], ...]] = {
    "flat, guarded": (
        {"side": "left", "guard": {}, "balustrade": {}, "steps": {"rail": "iron"}, "columns": 3},
    ),
    "hipped": ({"side": "right", "roof": "hipped"}, {"side": "left", "roof": "lean-to"}),
    "sash under a gable": ({"side": "left", "back": "5 m", "fill": "sash", "roof": "gable"},),
    "sleeping porch": ({"side": "right", "order": "pier", "fill": "screens", "upper": {}},),
    "porte-cochere": ({"side": "left", "kind": "porte cochere"},),
}


@pytest.mark.parametrize("name", PORCHES)
def test_every_one_is_without_a_fault(name: str) -> None:
    house = {**HOUSE, "width": "9 m", "bays": 3}
    house |= {"side_door": {"wall": PORCHES[name][0]["side"], "bay": 2}}
    if name == "hipped":
        house |= {"walls": "brick"}
    drawn = made(*PORCHES[name], house=house, roof={"covering": "plain"})
    model = build(drawn)
    assert not faults(model)
    facing = [p for p in model.parts if p.role.startswith("wall") and p.within("house")]
    assert facing
    for one in drawn.side_porches:  # the boards are cut to it
        assert any(p.within(one.name) for p in model.parts)


def test_boards_stop_at_what_stands_against_their_wall() -> None:
    drawn = made({"side": "right", "balustrade": {}}, roof={"covering": "plain"})
    (one,) = drawn.side_porches
    plain = made(roof={"covering": "plain"})

    def boarded(design_of: Design) -> float:
        parts = build(design_of).parts
        boards = [p for p in parts if p.within("house", "clapboards")]
        return sum(p.world_mesh().to_trimesh().volume for p in boards)

    beam = one.porch.order.entablature_height_m * one.porch.order.upper_diameter_m
    assert boarded(plain) - boarded(drawn) > 0.5 * 2.0 * beam * 0.01


def test_a_car_passes_under_a_porte_cochere() -> None:
    drawn = made({"side": "left", "kind": "porte-cochere"}, setting={"kind": "garden"})
    (one,) = drawn.side_porches
    # 10 ft clear, 8 ft at the least; a van clears 8 ft: common practice, no source.
    assert one.clear_width_m == pytest.approx(10 * FOOT_M)
    assert one.clear_height_m > rule("drive_height").value == 8 * FOOT_M
    assert one.porch.top_z_m == pytest.approx(drawn.porch.top_z_m)
    assert one.porch.order.pedestal_height_m > 0.0
    model = build(drawn.unlaid)
    feet = bounds(model, "left porte-cochere", "pedestal")
    assert -7.0 - feet[1, 0] == pytest.approx(10 * FOOT_M, abs=0.02)
    assert not [p for p in model.parts if p.within("left porte-cochere", "floor")]
    scenery = scenery_of(drawn)
    assert scenery.drive_x_m == pytest.approx(-7.0 - 5 * FOOT_M, abs=0.01)
    read = Scenery.read(scenery.written())
    assert read.drive_x_m == pytest.approx(scenery.drive_x_m, abs=1e-4)
    assert np.array(read.beside) == pytest.approx(np.array(scenery.beside), abs=1e-4)
    rows = [row for row in schedule(drawn) if row.group == "Left porte-cochere: way under it"]
    assert rows[0].across_m == pytest.approx(10 * FOOT_M, abs=0.002)


def test_steps_under_it_do_not_narrow_the_way() -> None:
    house = {**HOUSE, "side_door": {"wall": "left", "bay": 2}}
    drawn = made({"side": "left", "kind": "porte-cochere"}, house=house)
    (one,) = drawn.side_porches
    assert one.clear_from_m > 1.0
    assert one.clear_width_m == pytest.approx(10 * FOOT_M)
    with pytest.raises(DesignError) as refused:
        made({"side": "left", "kind": "porte-cochere", "depth": "3.4 m"}, house=house)
    assert refused.value.field == "side_porches.0.depth"


def test_a_sleeping_porch_stands_under_the_eaves_and_is_closed() -> None:
    drawn = made({"side": "right", "order": "pier", "upper": {"fill": "sash"}})
    upper = drawn.side_porches[0].porch.upper
    assert upper is not None
    under = drawn.house.wall_top_z_m - drawn.house.cornice.height_m
    assert upper.top_z_m < under
    assert upper.order.square
    names = {p.name for p in build(drawn.unlaid).parts if p.within("right porch", "upper")}
    assert {"right porch/upper/sash/frame", "right porch/upper/sash/glass"} <= names
    screened = made({"side": "right", "order": "pier", "upper": {}})
    names = {p.name for p in build(screened.unlaid).parts if p.within("right porch", "upper")}
    assert "right porch/upper/screens/frame" in names


@pytest.mark.parametrize(
    ("porches", "house", "field"),
    [
        ([{"side": "left"}, {"side": "left"}], {}, "side_porches.1.side"),
        ([{"side": "left"}], {"wings": [{"side": "left"}]}, "side_porches.0.side"),
        ([{"side": "left", "back": "1 m"}], {}, "side_porches.0.back"),
        ([{"side": "left", "upper": {}}], {"storeys": ["3.6 m"]}, "side_porches.0.upper"),
        ([{"side": "left", "kind": "porte-cochere", "guard": {}}], {}, "side_porches.0.guard"),
        ([{"side": "left", "depth": "0.2 m"}], {}, "side_porches.0.depth"),
        ([{"side": "left", "roof": "flat", "roof_pitch": "4:12"}], {}, "side_porches.0.roof_pitch"),
    ],
)
def test_what_cannot_stand_is_refused_by_its_field(
    porches: list[dict[str, Any]], house: dict[str, Any], field: str
) -> None:
    with pytest.raises(DesignError) as refused:
        made(*porches, house={**HOUSE, **house})
    assert refused.value.field == field


def keys(drawn: Design) -> set[str]:
    return {f.key for f in findings(drawn)}


def test_findings_speak_of_doors_depth_clear_way_and_guards() -> None:
    # Common practice, no source, but for the code's guards (IRC R312.1, as of the front's).
    assert "side porch without a door" in keys(made({"side": "right"}))
    assert "side porch without a door" not in keys(made({"side": "right"}, house=WITH_DOOR))
    assert "shallow side porch" in keys(made({"side": "right", "depth": "5 ft"}))
    assert "shallow side porch" not in keys(made({"side": "right", "depth": "6 ft"}))
    narrow = {"side": "left", "kind": "porte-cochere", "depth": "3 m"}
    assert "narrow porte-cochere" in keys(made(narrow))
    assert "low porte-cochere" in keys(made({**narrow, "depth": "4 m", "height": "2.7 m"}))
    assert "screens no guard" not in keys(made({"side": "right", "order": "pier", "upper": {}}))
    high = made({"side": "right", "floor": "1.1 m"}, house={**HOUSE, "floor": "1.2 m"})
    said = [f.text for f in findings(high) if f.key == "guard missing"]
    assert any(text.startswith("Right porch: the porch floor is 3'-7") for text in said)


def test_ground_turned_to_a_side_has_the_same_heights() -> None:
    lie = GroundDesign(0.03, -0.05)
    drawn = design(HOUSE)
    for side, turn in (("right", 1), ("left", -1)):
        own = lie.seen_from(*on_plan(drawn.house, side, 0.0, 0.0), turn)
        for x, y in ((0.0, 0.0), (2.5, -3.0), (-4.0, 1.0)):
            there = on_plan(drawn.house, side, x, y)
            assert own.z_m(x, y) == pytest.approx(lie.z_m(*there))


def test_the_house_seen_from_a_side_has_that_walls_openings() -> None:
    house = design(HOUSE).house
    turned = seen_from(house, "right")
    assert (turned.width_m, turned.depth_m) == (12.0, 14.0)
    assert {o.wall for o in turned.openings} == {"front"}
    assert len(turned.openings) == sum(o.wall == "right" for o in house.openings) == 6


def test_its_plan_holds_all_of_it() -> None:
    drawn = made({"side": "right", "roof": "flat"})
    low_x, low_y, high_x, high_y = side_porch_plan(drawn.house, drawn.side_porches[0])
    box = bounds(build(drawn.unlaid), "right porch")
    assert low_x == pytest.approx(7.0)
    assert box[1, 0] <= high_x + 0.05
    assert low_y - 0.05 <= box[0, 1]
    assert box[1, 1] <= high_y + 0.05


def test_beside_a_house_of_one_storey_it_stands_under_the_eaves() -> None:
    """Also where the front porch is as high as these, and its cornice carried round."""
    house = {**HOUSE, "storeys": ["3 m"]}
    drawn = made({"side": "right"}, {"side": "left", "kind": "porte-cochere"}, house=house)
    under = drawn.house.wall_top_z_m - drawn.house.cornice.height_m
    assert drawn.house.cornice_continues_porch
    for one in drawn.side_porches:
        assert under - 0.25 < one.porch.top_z_m < under  # deck and flashing go up the wall

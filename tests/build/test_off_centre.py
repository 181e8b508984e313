"""A porch off the front's middle is the same porch, moved: all that belongs to it goes with it."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from massing.build.house import build, scenery_of
from massing.design.design import Design
from massing.design.setting import Scenery
from massing.edit.handles import dragged, dragged_text, handles
from massing.edit.over import size_lines
from massing.findings.report import figures, findings
from massing.parts.part import Model
from massing.present.drawings.porch_section import section_x_m
from massing.present.reports.porch_sizes import setting_out_rows
from massing.resolve.ground import porch_plan
from massing.scene.errors import DesignError
from massing.settingout.porch_roofs import on_wall
from massing.shadow.surfaces import floor_extent, frieze_ends
from massing.study.pictures import focus_points
from massing.units import FOOT_M
from tests.helpers.mesh_faults import faults
from tests.resolve.test_design import design

ALONG_M = 4.0
WIDE = {"width": "34 m", "bay_centres": ["-15 m"], "side_bays": 0, "door": {"bay": 1}}
KEPT = {"height": "3.4 m", "spacing": "2.4 m", "columns": 4}
PORCHES: dict[str, dict[str, Any]] = {
    "flat": {**KEPT, "guard": {}, "balustrade": {}, "steps": {"rail": "iron", "width": "1.4 m"}},
    "hipped": {**KEPT, "roof": "hipped", "side_columns": 1, "responds": "pilasters"},
    "lean-to": {**KEPT, "roof": "lean-to", "breaking_forward": True, "blocking_course": False},
    "gable": {**KEPT, "roof": "gable", "ceiling": "coffered"},
    "pediment": {**KEPT, "roof": "pediment", "order": "ionic"},
    "gable at the eaves": {**KEPT, "height": "eaves", "spacing": "3.4 m", "roof": "gable"},
    "pediment at the eaves": {**KEPT, "height": "eaves", "spacing": "3.4 m", "roof": "pediment"},
    "flat at the eaves": {**KEPT, "height": "eaves", "balustrade": {}, "blocking_course": True},
    "arcade": {**KEPT, "order": "doric", "spacing": "3.4 m", "arcade": {}},
    "couples": {**KEPT, "paired": True, "spacing": "4 m", "breaking_forward": True},
    "two orders": {"spacing": "2.6 m", "columns": 4, "upper": {}, "guard": {}},
    "half circle": {**KEPT, "shape": "semicircular", "columns": 6, "guard": {}, "balustrade": {}},
    "in antis": {**KEPT, "shape": "recessed", "columns": 2},
}


def pair(name: str) -> tuple[Design, Design]:
    """The porch in the middle and off it, before walls in relief."""
    house = {**WIDE, "walls": "clapboard", "relief": True}
    porch = {"order": "tuscan", **PORCHES[name]}
    return design(house, porch=porch), design(house, porch={**porch, "along": f"{ALONG_M} m"})


def boxes(model: Model) -> dict[str, list[tuple[float, ...]]]:
    """Bounds of every copy of each part of the porch, in order, to a tenth of a millimetre."""
    found: dict[str, list[tuple[float, ...]]] = {}
    for part in model.parts:
        if not part.within("porch"):
            continue
        frames = [np.eye(4)] if part.placements is None else part.placements
        for frame in frames:
            low, high = part.mesh.moved(frame).bounds
            found.setdefault(part.name, []).append((*low, *high))
    return {name: sorted(map(tuple, np.round(each, 4))) for name, each in found.items()}


@pytest.mark.parametrize("name", PORCHES)
def test_every_part_of_the_porch_moves_with_its_middle(name: str) -> None:
    middle, beside = pair(name)
    assert beside.porch.centre_m == ALONG_M
    still, moved = boxes(build(middle.unlaid)), boxes(build(beside.unlaid))
    assert still.keys() == moved.keys()
    step = np.array([ALONG_M, 0.0, 0.0, ALONG_M, 0.0, 0.0])
    for part, each in still.items():
        there = np.array(moved[part])
        assert there.shape == np.shape(each), part
        assert there == pytest.approx(np.array(each) + step, abs=3e-4), part


@pytest.mark.parametrize(
    ("name", "along"), [("hipped", "4.2 m"), ("gable at the eaves", "-2 m"), ("in antis", "3 m")]
)
def test_it_meets_house_and_roof_without_a_fault(name: str, along: str) -> None:
    house = {"bay_centres": ["-7 m"], "side_bays": 0, "walls": "clapboard", "relief": True}
    porch = {"order": "tuscan", **PORCHES[name], "along": along}
    assert not faults(build(design(house, porch=porch, roof={"covering": "slate"})))


def test_a_cornice_past_one_corner_returns_along_that_side_alone() -> None:
    porch = {**KEPT, "order": "tuscan", "along": "4.15 m"}
    off = design(
        {"bays": 1, "side_bays": 0, "door": {"bay": 1}}, porch=porch, roof={"covering": "plain"}
    )
    assert off.porch.frieze_x_m[1] + off.porch.order.cornice_projection_m > 8.0
    model = build(off)
    assert not faults(model)
    cornice = next(p for p in model.parts if p.name == "porch/entablature/cornice")
    behind = cornice.mesh.vertices[cornice.mesh.vertices[:, 1] > 1e-6]
    assert len(behind)
    assert (behind[:, 0] > 8.0 - 1e-6).all()


def test_what_stands_about_it_follows() -> None:
    _, beside = pair("hipped")
    porch, scenery = beside.porch, scenery_of(beside)
    assert scenery.way_x_m == ALONG_M
    assert (scenery.porch[0] + scenery.porch[2]) / 2.0 == pytest.approx(ALONG_M)
    assert Scenery.read(scenery.written()).way_x_m == ALONG_M
    low, high = np.array(porch_plan(porch)).reshape(2, 2)
    assert (low[0] + high[0]) / 2.0 == pytest.approx(ALONG_M)
    walk = next(p for p in build(beside.unlaid).parts if "walk" in p.name)
    assert walk.world_mesh().bounds[:, 0].mean() == pytest.approx(ALONG_M)
    assert on_wall(porch, beside.house, beside.roof)[0].x_m == ALONG_M
    assert sum(frieze_ends(beside)) / 2.0 == pytest.approx(ALONG_M)
    assert sum(floor_extent(beside)[0]) / 2.0 == pytest.approx(ALONG_M)
    focus = focus_points([beside])
    for what in ("entablature", "porch", "capital"):
        assert focus[what][:, 0].mean() == pytest.approx(ALONG_M)
    assert focus["bay"][0, 0] == pytest.approx(ALONG_M)
    assert section_x_m(beside) == pytest.approx(ALONG_M)
    axes = [line for line in size_lines(beside) if line.words.startswith("axis to axis")]
    assert np.mean([line.ends[:, 0].mean() for line in axes]) == pytest.approx(ALONG_M)


def test_its_middle_can_be_dragged_past_the_fronts_own() -> None:
    _, beside = pair("hipped")
    (middle,) = [h for h in handles(beside) if h.field == ("porch", "along")]
    assert middle.at_m == ALONG_M
    assert dragged(middle, -2.0 * ALONG_M, 0.01) == pytest.approx(-ALONG_M)
    assert dragged_text(middle, -5.5, 0.05, "metric") == "-1.500 m"
    steps = next(h for h in handles(beside) if h.field[-1] == "width" and h.field[0] == "porch")
    assert steps.at_m == pytest.approx(ALONG_M + beside.porch.steps.width_m / 2.0)


def entrance(made: Design) -> float:
    assert made.house.entrance is not None
    return made.house.entrance.along_m


def test_door_columns_and_windows_go_by_its_bay() -> None:
    # Five bays of 3.2 m: the second stands 3.2 m left of the middle.
    made = design(porch={"along": "bay 2", "columns": 2, "spacing": "bays"})
    assert made.porch.centre_m == pytest.approx(-3.2)
    assert made.porch.axes_m == pytest.approx([-4.8, -1.6])
    assert entrance(made) == pytest.approx(-3.2)
    ground = [o for o in made.house.openings if o.wall == "front" and o.storey == 0]
    windows = sorted(o.along_m for o in ground if o is not made.house.entrance)
    assert windows == pytest.approx([-6.4, 0.0, 3.2, 6.4])
    between = design(porch={"along": "bays 4 and 5", "columns": 2, "spacing": "2.2 m"})
    assert between.porch.centre_m == pytest.approx(4.8)


def test_the_door_may_stand_in_a_bay_of_its_own() -> None:
    assert entrance(design({"door": {"bay": 4}}, porch={"columns": 4})) == pytest.approx(3.2)
    off = design(porch={"along": "2.9 m", "columns": 4, "spacing": "2 m"})
    assert entrance(off) == pytest.approx(3.2)  # the nearest bay


@pytest.mark.parametrize(
    ("house", "porch", "field"),
    [
        ({}, {"along": "bay 7"}, "porch.along"),
        ({}, {"along": "6 m", "columns": 4, "spacing": "3 m"}, "porch.along"),
        ({}, {"along": "1 m", "spacing": "full width"}, "porch.along"),
        ({"bays": 5, "door": {"bay": 6}}, {}, "house.door.bay"),
        ({}, {"along": "6.4 m", "shape": "recessed", "columns": 2}, "porch.along"),
    ],
)
def test_a_place_that_it_cannot_have_is_refused_by_its_field(
    house: dict[str, Any], porch: dict[str, Any], field: str
) -> None:
    with pytest.raises(DesignError) as refused:
        design(house, porch=porch)
    assert refused.value.field == field


def test_a_place_is_written_in_the_trades_words() -> None:
    from pydantic import ValidationError

    for wrong in ("bay two", "bays", "beside the tree"):
        with pytest.raises(ValidationError, match="bay 2"):
            design(porch={"along": wrong})
    assert design(porch={"along": "Bay  2"}).porch.centre_m == pytest.approx(-3.2)


def keys(made: Design) -> set[str]:
    return {f.key for f in findings(made)}


def test_a_designer_remarks_on_a_middle_that_matches_nothing() -> None:
    # Common practice, no source.
    two = {"columns": 2, "spacing": "2.2 m"}
    assert not keys(design(porch=two)) & {"porch off the bays", "porch off centre"}
    at_bay = keys(design(porch={**two, "along": "bay 2"}))
    assert "porch off the bays" not in at_bay
    assert "porch off centre" in at_bay
    assert "porch off the bays" not in keys(design(porch={**two, "along": "3.24 m"}))
    lost = design(porch={**two, "along": "2.4 m"})
    assert {"porch off the bays", "door off the porch"} <= keys(lost)
    said = next(f.text for f in findings(lost) if f.key == "porch off the bays")
    assert "7'-10 1/2\"" in said  # 2.4 m
    assert "2'-7 1/2\"" in said  # to the middle between two bays
    hall = design({"bays": 3}, porch={**two, "along": "bay 3"})  # a side hall's
    assert not keys(hall) & {"porch off the bays", "porch off centre", "door off the porch"}
    assert "even bays" not in keys(design({"bays": 4}, porch={**two, "along": "bay 2"}))


def test_a_door_beside_its_porch_is_told() -> None:
    off = design({"door": {"bay": 5}}, porch={"columns": 2, "spacing": "2.2 m"})
    said = next(f.text for f in findings(off) if f.key == "door off the porch")
    assert "shelters wall" in said


def test_figures_and_sizes_say_where_it_stands() -> None:
    made = design(porch={"along": "-6 ft", "columns": 2, "spacing": "2.2 m"})
    assert next(f.value for f in figures(made) if f.key == "porch_off_centre") == 6 * FOOT_M
    rows = {row.item: row.across_m for row in setting_out_rows(made, made.rounding_m)}
    assert rows["Porch's middle, left of the front's"] == pytest.approx(6 * FOOT_M)
    assert "porch_off_centre" not in {f.key for f in figures(design())}

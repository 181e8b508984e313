"""Doors as builders draw them: carriage doors of a garage wing, flush leaves, boards."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from massing.build.house import build
from massing.design.design import Design
from massing.findings.report import findings
from massing.resolve.design import resolve
from massing.scene.errors import DesignError
from massing.scene.load import load_scene
from massing.scene.spec import Scene
from massing.settingout.leafwork import panel_holes
from tests.helpers.mesh_faults import faults_of_part, floating

FOOT = 0.3048


def drawn(**house: Any) -> Design:
    """A house of one storey, 44 by 30 ft."""
    scene = {
        "title": "A house with a garage",
        "site": {"place": "Natchez", "latitude": 31.56, "longitude": -91.4, "front_faces": "S"},
        "house": {
            "width": "44 ft",
            "depth": "30 ft",
            "storeys": ["13 ft"],
            "windows": [{"height": "5 ft", "sill": "2 ft"}],
            "door": {"transom": False},
            **house,
        },
        "porch": {"columns": 2, "depth": "6 ft", "height": "10.5 ft"},
        "roof": {"covering": "plain"},
        "times": ["equinox 10:00"],
    }
    return resolve(Scene.model_validate(scene), "any")


def wrong(design: Design) -> list[str]:
    model = build(design)
    own = [fault for part in model.parts for fault in faults_of_part(part)]
    return [str(fault) for fault in (*own, *floating(model))]


GARAGE = {"side": "right", "width": "24 ft", "door": {"panels": "carriage", "number": 2}}


def test_carriage_doors_stand_near_the_ground_a_pair_in_each_bay():
    design = drawn(wings=[GARAGE])
    wing = design.house.wings[0].house
    # Widths and floor: common practice, no source.
    assert wing.floor_z_m == pytest.approx(FOOT / 3.0)
    doors = [d for d in wing.doors if d.door.panels == "carriage"]
    assert [d.leaf_width_m for d in doors] == pytest.approx([8.0 * FOOT, 8.0 * FOOT])
    assert {d.door.leaves for d in doors} == {2}
    assert doors[0].leaf_height_m == pytest.approx(doors[1].leaf_height_m)
    assert doors[0].height_m == pytest.approx(doors[1].height_m)
    assert {d.door.steps for d in doors} == {None}
    assert {d.sill_z_m for d in doors} == {wing.floor_z_m}
    apart = abs(doors[1].along_m - doors[0].along_m)
    assert apart == pytest.approx(12.0 * FOOT)
    assert wrong(design) == []
    said = [f.text for f in findings(design) if f.key == "carriage doors"]
    assert len(said) == 1
    assert "17'-6 7/8" in said[0]  # two pairs of 8 ft with their frames


def test_they_are_mirrored_on_both_wings_and_stand_in_a_front_wing_joined_to_the_roof():
    both = drawn(width="60 ft", wings=[{**GARAGE, "side": "both"}])
    right, left = (sorted(d.along_m for d in w.house.doors) for w in both.house.wings)
    assert right == pytest.approx([-x for x in left[::-1]])
    ahead = {"side": "front", "along": "20 ft", "width": "16 ft", "depth": "10 ft"}
    design = drawn(width="60 ft", wings=[{**ahead, "door": {"panels": "carriage"}}])
    wing = design.house.wings[0]
    assert wing.gable is not None
    assert wing.house.wall_top_z_m == pytest.approx(design.house.wall_top_z_m)
    assert wing.house.floor_z_m < design.house.floor_z_m
    assert wrong(design) == []


def test_more_doors_than_one_stand_on_the_ground_only():
    wing = {"side": "right", "width": "24 ft", "bays": 2, "door": {"number": 2}}
    with pytest.raises(DesignError) as refusal:
        drawn(wings=[wing])
    assert refusal.value.field == "house.wings.0.door.number"


@pytest.mark.parametrize("panels", ["flush", "flush with lights", "boarded", "carriage"])
@pytest.mark.parametrize("leaves", [1, 2])
def test_leaves_of_every_kind_are_whole(panels, leaves):
    design = drawn(door={"transom": False, "panels": panels, "leaves": leaves})
    assert wrong(design) == []
    names = {p.key for p in build(design).parts if "/leaf/" in p.key}
    assert any("strap hinges" in n for n in names) == (panels in ("boarded", "carriage"))
    assert any(n.endswith("glass") for n in names) == (panels in ("flush with lights", "carriage"))
    said = {f.key for f in findings(design)}
    assert ("door of another time" in said) == panels.startswith("flush")


def test_four_lights_stand_in_a_column_in_the_middle_of_a_flush_leaf():
    holes = panel_holes(0.9, 2.1, "flush with lights")
    assert len(holes) == 4
    assert {round((h.x0_m + h.x1_m) / 2.0, 9) for h in holes} == {0.45}
    gaps = [b.z0_m - a.z1_m for a, b in pairwise(holes)]
    assert gaps == pytest.approx([holes[0].z0_m] * 3)
    with pytest.raises(ValueError, match="no room"):
        panel_holes(0.4, 2.1, "flush with lights")


def test_a_garage_is_said_in_a_line_of_a_scene(tmp_path: Path):
    path = tmp_path / "suburb.yaml"
    path.write_text(
        "title: A wide house\n"
        "site: {place: Natchez, latitude: 31.56, longitude: -91.4, front_faces: S}\n"
        "times: [equinox 10:00]\n"
        "house:\n"
        "  {width: 52 ft, depth: 30 ft, storeys: [10 ft, 9 ft],\n"
        "   door: {panels: flush with lights},\n"
        "   wings: [{side: right, door: {panels: carriage, number: 2}}]}\n"
        "porch: {columns: 2}\n"
    )
    loaded = load_scene(path)
    name = loaded.scene.as_drawn
    design = resolve(loaded.designs[name], name, loaded.lines[name])
    assert len([d for d in design.house.wings[0].house.doors if d.door.panels == "carriage"]) == 2

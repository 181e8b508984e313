"""Bay windows, canted and square, before the front: whole, clear of all, with their own lights."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from massing.build.house import build, scenery_of
from massing.design.design import Design
from massing.present.drawings.joinery import placed
from massing.present.reports.schedule import schedule
from massing.resolve.design import resolve
from massing.scene.errors import DesignError
from massing.scene.load import load_scene
from massing.scene.spec import Scene
from massing.settingout.bay_windows import bay_roof, face_frames, outline, top_z_m
from tests.helpers.mesh_faults import coplanar, faults_of_part, floating
from tests.helpers.shapes import extent

FOOT = 0.3048


def drawn(
    roof: dict[str, Any] | None = None, *, porch: dict[str, Any] | None = None, **house: Any
) -> Design:
    """A cottage of one storey, 44 by 30 ft, with a bay window in its first bay."""
    scene = {
        "title": "A cottage with a bay window",
        "site": {"place": "Natchez", "latitude": 31.56, "longitude": -91.4, "front_faces": "S"},
        "house": {
            "width": "44 ft",
            "depth": "30 ft",
            "storeys": ["13 ft"],
            "windows": [{"height": "5 ft", "sill": "2 ft"}],
            "door": {"transom": False},
            "bay_windows": [{"bay": 1}],
            **house,
        },
        "porch": porch or {"columns": 2, "depth": "6 ft", "height": "10.5 ft"},
        "roof": {"covering": "plain", **(roof or {})},
        "times": ["equinox 10:00"],
    }
    return resolve(Scene.model_validate(scene), "any")


@pytest.mark.parametrize("shape", ["canted", "box"])
@pytest.mark.parametrize(
    ("roof", "walls"), [("lead", "clapboard"), ("covering", "brick"), ("lead", "limestone")]
)
def test_it_is_closed_nothing_floats_and_no_faces_share_a_plane(shape, roof, walls):
    bays = [{"bay": 1, "shape": shape, "roof": roof}]
    design = drawn({"covering": "slate"}, bay_windows=bays, walls=walls, relief=True)
    model = build(design)
    own = [fault for part in model.parts for fault in faults_of_part(part)]
    assert [str(f) for f in (*own, *floating(model), *coplanar(model))] == []


def test_it_takes_the_window_s_place_and_stands_on_the_ground_before_the_wall():
    design = drawn()
    (bay,) = design.house.bay_windows
    # Two feet before the wall: common practice, no source.
    assert bay.depth_m == pytest.approx(2.0 * FOOT)
    assert "front/ground/window 1" not in {o.name for o in design.house.openings}
    parts = build(design).select("house/bay window 1")
    box = extent([p for p in parts if "roof" not in p.key and "cornice" not in p.key])
    assert box[0, 2] == pytest.approx(0.0, abs=1e-6)
    assert box[0, 1] < -bay.depth_m
    lights = {p.path[2] for p in parts if "light" in p.key}
    assert lights == {"left light", "front light", "right light"}
    where = [one for one in placed(design) if one.where == "bay window, front"]
    assert len(where) == 3
    assert {round(one.opening.head_z_m, 6) for one in where} == {round(bay.front.head_z_m, 6)}
    assert "House: bay window 1, canted" in {row.group for row in schedule(design)}
    assert any(x0 < bay.along_m < x1 and y0 < 0.0 for x0, y0, x1, y1 in scenery_of(design).blocks)


@pytest.mark.parametrize("shape", ["canted", "box"])
def test_its_faces_turn_by_their_angle_and_its_roof_is_of_one_pitch(shape):
    (bay,) = drawn(bay_windows=[{"bay": 1, "shape": shape}]).house.bay_windows
    frames = face_frames(bay)
    turn = np.degrees(np.arccos(frames["left"][:3, 0] @ frames["front"][:3, 0]))
    assert turn == pytest.approx(45.0 if shape == "canted" else 90.0)
    for ring in bay_roof(bay).slopes:
        normal = np.cross(ring[1] - ring[0], ring[-1] - ring[0])
        assert np.hypot(*normal[:2]) / normal[2] == pytest.approx(bay.roof_slope)
        assert np.abs((ring - ring[0]) @ normal).max() < 1e-9
    grown = outline(bay, 0.1)
    assert grown[1, 1] == pytest.approx(-bay.depth_m - 0.1)


@pytest.mark.parametrize(
    ("bay", "more", "field"),
    [
        ({"bay": 3}, {}, "bay"),  # the door's
        ({"bay": 1, "depth": "6 ft"}, {}, "depth"),
        ({"bay": 1, "width": "5 ft"}, {}, "width"),
        ({"bay": 1, "width": "14 ft"}, {}, "bay"),
        ({"bay": 2, "width": "14 ft"}, {}, "bay"),
        ({"bay": 1, "pitch": "20:12"}, {}, "depth"),
    ],
)
def test_what_has_no_room_is_refused_by_its_field(bay, more, field, rules_hold):
    with pytest.raises(DesignError) as refusal:
        drawn(bay_windows=[bay], **more)
    assert refusal.value.field == f"house.bay_windows.0.{field}"


def test_its_roof_ends_under_the_window_over_it(rules_hold):
    windows = [{"height": "5 ft", "sill": "2 ft"}, {"height": "4 ft"}]
    design = drawn(storeys=["14 ft", "9 ft"], windows=windows)
    (bay,) = design.house.bay_windows
    over = [o for o in design.house.openings if o.storey == 1 and o.wall == "front"]
    assert top_z_m(bay) < min(o.foot_z_m for o in over)


def test_a_bay_window_is_said_in_a_word_of_a_scene(tmp_path: Path):
    path = tmp_path / "cottage.yaml"
    path.write_text(
        "title: Cottage\n"
        "site: {place: Natchez, latitude: 31.56, longitude: -91.4, front_faces: S}\n"
        "times: [equinox 10:00]\n"
        "house: {width: 44 ft, depth: 30 ft, storeys: [12 ft], bay_windows: [{bay: 2}]}\n"
        "porch: {columns: 2, roof: lean-to}\n"
    )
    loaded = load_scene(path)
    name = loaded.scene.as_drawn
    design = resolve(loaded.designs[name], name, loaded.lines[name])
    assert len(design.house.bay_windows) == 1


def test_a_bay_that_the_porch_covers_is_refused_by_its_bay():
    # It was told as a width of less than nothing.
    with pytest.raises(DesignError, match="a bay of the front that the porch leaves free") as fault:
        drawn(porch={"order": "tuscan", "wraps": "left"})
    assert fault.value.field == "house.bay_windows.0.bay"

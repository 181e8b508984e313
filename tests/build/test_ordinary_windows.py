"""Windows and shutters as builders draw them, each asked for through a scene file."""

from __future__ import annotations

import re

import pytest

from massing.build.house import build
from massing.design.opening import FloorWindow
from massing.findings.report import findings
from massing.practice.joinery_sizes import SHUTTER
from massing.scene.errors import SceneError
from massing.scene.load import load_scene
from massing.units import INCH_M
from tests.helpers.scene_files import design_of
from tests.helpers.shapes import assert_closed

SIZE = "width: 52 ft\ndepth: 34 ft\nstoreys: [11 ft, 10 ft]\nfloor: 30 in\n"


def windows(design, storey=0):
    return [o for o in design.house.openings if o.kind == "window" and o.storey == storey]


def said(design):
    return {f.key: f.text for f in findings(design)}


def test_a_sill_of_nothing_takes_the_ground_windows_to_the_floor(tmp_path):
    made = design_of(
        tmp_path, SIZE + "windows: [{sill: 0 ft, height: 8 ft}, {sill: 2 ft, height: 5 ft}]"
    )
    low = windows(made)
    assert low
    assert all(isinstance(o, FloorWindow) and o.sill_z_m == pytest.approx(30 * INCH_M) for o in low)
    assert any(p.path[-1] == "threshold" for p in build(made).parts)


def test_a_panel_under_a_window_to_the_floor_is_refused(tmp_path):
    with pytest.raises(SceneError, match=r"panel_below: given 1'-0.*at most 0"):
        design_of(tmp_path, SIZE + "windows: [{sill: 0 ft, panel_below: 12 in}]")


def test_hold_backs_of_windows_to_the_floor_stand_beside_the_leaf_on_the_wall(tmp_path):
    made = design_of(
        tmp_path,
        SIZE + "windows: [{sill: 0 ft, shutters: louvred, width: 3 ft}, {sill: 2 ft}]",
    )
    parts = {p.name.split("/", 2)[-1]: p for p in build(made).parts if "shutters 1" in p.name}
    dogs = parts["shutters/hold-backs"].mesh  # in the opening's own frame
    assert_closed(list(parts.values()))
    # Common practice, no source: low, at the side of the leaf's foot, on the wall.
    assert 0.0 < dogs.bounds[0, 2] < dogs.bounds[1, 2] < 12 * INCH_M
    assert dogs.bounds[1, 0] > windows(made)[0].width_m - 2 * SHUTTER.clear_m
    assert dogs.bounds[1, 1] == pytest.approx(0.0, abs=1e-6)  # the pins, home to the wall
    assert "hold-backs beside the leaf" not in said(made)


def test_shutters_are_drawn_as_drawn_and_what_is_wrong_is_named(tmp_path):
    window = (
        "{width: 6 ft, height: 5 ft, kind: fixed, shutters: panelled, shutter_width: 14 in, %s}"
    )
    made = design_of(
        tmp_path,
        SIZE + "bays: 3\nwindows: [" + window % "hold_backs: beside" + "]",
        "spacing: 8 ft",
    )
    (opening, *_) = windows(made)
    assert opening.leaf_m == pytest.approx(14 * INCH_M)
    parts = build(made).parts
    (leaf,) = {p.mesh.bounds[1, 0] - p.mesh.bounds[0, 0] for p in parts if p.path[-1] == "leaves"}
    assert leaf == pytest.approx(14 * INCH_M)
    texts = said(made)
    assert "covers half its opening" in texts["shutters that do not close"]
    assert "by its own weight" in texts["hold-backs beside the leaf"]
    assert "a sash that opens" in texts["shutters on fixed glass"]
    assert "panes" in texts["picture windows"]


def test_a_single_shutter_hangs_on_its_side_alone(tmp_path):
    made = design_of(tmp_path, SIZE + "windows: [{shutters: board, shutter_side: left}]")
    leaves = [p for p in build(made).parts if p.path[-1] == "leaves"]
    hung = sum(len(p.placements) for p in leaves)
    shuttered = sum(o.kind == "window" for o in made.house.openings)
    assert hung == shuttered  # one to a window, where a pair would be two
    assert "pairs" in said(made)["shutters that do not close"]


@pytest.mark.parametrize(
    ("window", "fault"),
    [
        ("shutters: none, shutter_width: 12 in", "only with shutters"),
        ("shutters: board, shutters_closed: true, shutter_width: 12 in", "left out where shutters"),
        ("shutters: board, shutter_width: 9 ft", "the opening's width"),
        ("sill: 0 ft, shutters: board, hold_backs: below", "no wall is left"),
    ],
)
def test_shutters_that_cannot_be_hung_are_refused(tmp_path, window, fault):
    with pytest.raises(SceneError, match=fault):
        design_of(tmp_path, SIZE + "windows: [{" + window + "}]")


def test_a_transom_without_headroom_is_left_out_and_said(tmp_path):
    low = design_of(tmp_path, SIZE + "windows: [{sill: 20 in, height: 5 ft}]")
    door = next(o for o in low.house.openings if o.kind == "door")
    assert not door.transom
    assert door.leaf_height_m == pytest.approx(80 * INCH_M)  # to the windows' heads
    assert "leaves it no glass" in str(low.origins["house.door.transom"])
    high = design_of(tmp_path, SIZE + "windows: [{sill: 2 ft, height: 6'-6\"}, {height: 5 ft}]")
    door = next(o for o in high.house.openings if o.kind == "door")
    assert door.transom
    assert "house.door.transom" not in high.origins


@pytest.mark.parametrize(
    ("house", "porch"),
    [
        (SIZE, "diameter: 4 ft\nheight: 5 ft"),
        (SIZE, "height: 9 ft\ncolumn_height: 8 ft\nentablature: 3 ft"),
    ],
)
def test_a_scene_in_feet_is_refused_in_feet(tmp_path, house, porch):
    with pytest.raises(SceneError) as refused:
        design_of(tmp_path, house, porch)
    said = str(refused.value).split("house.yaml")[1]
    assert not re.search(r"\d m\b", said)
    assert re.search(r"\d(\"|'-)", said)


def test_what_cannot_be_built_of_a_scene_in_feet_is_told_in_feet(tmp_path):
    design_of(tmp_path, SIZE)
    fault = ValueError("front/ground/window 2: 1.05 x 2.10 m is too small, 0.305 m at least")
    told = str(load_scene(tmp_path / "house.yaml").build_error("as drawn", fault))
    assert told.endswith("3'-5 5/16\" x 6'-10 11/16\" is too small, 1'-0\" at least")


def test_a_scene_in_metres_is_refused_in_metres(tmp_path):
    metric = "width: 14 m\ndepth: 9 m\nstoreys: [3.2 m]\nwindows: [{height: 3 m}]\n"
    with pytest.raises(SceneError) as refused:
        design_of(tmp_path, metric, "", "units: metric")
    assert " ft" not in str(refused.value)
    assert "mm" in str(refused.value) or " m" in str(refused.value)


ODD = """\
bays: 5
odd_windows:
  - {storey: 2, bay: 3, width: 5 ft, height: 4 ft, kind: fixed, shutters: none}
  - {bay: 1, number: two}
  - {wall: left, bay: 1, number: none}
  - {wall: right, storey: 2, bay: 2, head: semicircular casing, width: 3 ft}
"""


def test_heads_out_of_line_are_drawn_so_and_named(tmp_path):
    # Common practice, no source: the heads of a storey's windows stand in one line.
    size = "bays: 5\nwindows: [{sill: 2 ft, height: 5 ft}, {sill: 2 ft, height: 4 ft}]\n"
    low = "odd_windows: [{bay: 1, sill: 2 ft, height: 4 ft}]\n"
    same = "odd_windows: [{bay: 1, sill: 3 ft, height: 4 ft}]\n"
    said = [
        [
            f.text
            for f in findings(design_of(tmp_path, SIZE + size + odd))
            if f.key == "uneven heads"
        ]
        for odd in (low, same, "")
    ]
    assert said[1:] == [[], []]
    assert "6'-0\" and 7'-0\"" in said[0][0]


def test_one_window_of_a_storey_differs_two_stand_for_one_and_one_is_left_out(tmp_path):
    plain, made = design_of(tmp_path, SIZE), design_of(tmp_path, SIZE + ODD)
    by_name = {o.name: o for o in made.house.openings}
    big = by_name["front/first/window 3"]
    assert (big.width_m, big.filling) == (pytest.approx(60 * INCH_M), "fixed")
    one = next(o for o in plain.house.openings if o.name == "front/ground/window 1")
    two = [by_name[f"front/ground/window 1{letter}"] for letter in "ab"]
    assert sum(o.along_m for o in two) / 2 == pytest.approx(one.along_m)
    assert all(o.width_m < 0.7 * one.width_m for o in two)
    assert two[1].along_m - two[0].along_m > two[0].reach_m + two[1].reach_m
    assert "left/ground/window 1" not in by_name
    assert "left/first/window 1" in by_name
    assert by_name["right/first/window 2"].soffit.rise_m == pytest.approx(18 * INCH_M)
    assert len(made.house.openings) == len(plain.house.openings)  # one more, one less
    assert_closed([p for p in build(made).parts if p.path[1].startswith("window")])


@pytest.mark.parametrize(
    ("odd", "fault"),
    [
        ("{bay: 3}", r"odd_windows\[1\].bay: given 3, allowed: a bay with a window: 1, 2, 4, 5"),
        ("{bay: 1, storey: 3}", "storey: given 3, allowed: 1 to 2"),
        ("{bay: 1, height: 20 ft}", r"odd_windows\[1\].height: given 20'-0"),
        ("{bay: 1, width: 30 ft}", "house.width: given 52"),
    ],
)
def test_an_odd_window_that_cannot_stand_is_refused(tmp_path, odd, fault):
    with pytest.raises(SceneError, match=fault):
        design_of(tmp_path, SIZE + f"bays: 5\nodd_windows: [{odd}]")

"""Two ordinary houses said in scene files, with the faults that a builder's drawing has."""

from __future__ import annotations

from pathlib import Path

import pytest

from massing.build.house import build
from massing.design.opening import FloorWindow
from massing.findings.report import findings
from massing.study.study import Study, read_study
from tests.helpers.shapes import assert_closed

SUBURBAN = """\
title: Quarry Lane
site: {place: Macon, latitude: 32.84, longitude: -83.63, front_faces: S 15 W}
house:
  width: 72 ft
  depth: 32 ft
  storeys: [9 ft 6 in, 9 ft]
  walls: brick
  relief: true
  windows:
    - {lights: 6 over 6, shutters: louvred, shutter_width: 12 in}
    - {lights: 6 over 6}
  odd_windows:
    - {bay: 1, kind: fixed, width: 6 ft, shutters: louvred, shutter_width: 12 in}
  wings:
    - {side: front, width: 14 ft, windows: [{lights: 6 over 6}], roof: {pitch: "6:12"}}
  door: {sidelights: true}
porch: {columns: 4, spacing: 6 ft, diameter: 8 in, height: 9 ft, entablature: 14 in, roof: hipped}
roof: {form: gable, pitch: "7:12", covering: slate}
times: [equinox 10:00, equinox 15:00]
alternatives:
  thicker columns: {porch: {diameter: 12 in, entablature: 20 in}}
  a gable: {porch: {diameter: 12 in, entablature: 20 in, roof: gable}}
  shutters that close:
    house: {windows: [{lights: 6 over 6, shutters: louvred}], odd_windows: []}
"""
COTTAGE = """\
title: Sedge Cottage
site: {place: Fairhope, latitude: 30.52, longitude: -87.90, front_faces: W}
house:
  width: 36 ft
  depth: 28 ft
  storeys: [10 ft]
  walls: clapboard
  relief: true
  bays: 3
  door: {glazed: true, transom: false}
  windows: [{sill: 0 ft, lights: 6 over 9, shutters: louvred}]
porch:
  {columns: 4, order: pier, spacing: full width, roof: main slope, depth: 6 ft, entablature: 10 in}
roof: {form: gable, pitch: "9:12", covering: standing seam}
colours: {walls: chalk, shutters: bottle green}
times: [equinox 10:00, equinox 16:00]
alternatives:
  a flat lean-to: {porch: {roof: lean-to, roof_pitch: "1:12"}}
  closer: {porch: {columns: 6, order: tuscan, diameter: 10 in, entablature: 15 in}}
"""


def study_of(folder: Path, text: str) -> Study:
    file = folder / "scene.yaml"
    file.write_text(text, encoding="utf-8")
    return read_study(file)


@pytest.mark.parametrize(("text", "designs"), [(SUBURBAN, 4), (COTTAGE, 3)])
def test_it_is_said_in_a_scene_as_short_as_the_bundled_ones_and_taken(tmp_path, text, designs):
    bundled = Path(__file__).parents[2] / "scenes"
    shortest = min(len(f.read_text("utf-8").splitlines()) for f in bundled.glob("*.yaml"))
    assert len(text.splitlines()) <= shortest
    assert len(study_of(tmp_path, text).designs) == designs


def test_the_wide_house_is_drawn_with_its_faults_and_each_is_named(tmp_path):
    drawn, thicker, _, closing = study_of(tmp_path, SUBURBAN).designs
    said = {f.key: f.text for f in findings(drawn)}
    # Vignola's Tuscan is 1:7 and its entablature a quarter of the column; half an opening is what
    # a leaf covers (common practice, no source).
    for words in ("slenderer than any", "too shallow", "half its opening", "fixed glass"):
        assert any(words in text for text in said.values()), words
    mended = {f.key for f in findings(thicker)}
    assert set(said) - mended == {"slender", "shallow entablature"}
    assert not any("opening" in f.text and "shutters" in f.text for f in findings(closing))
    assert [w.side for w in drawn.house.wings] == ["front"]


def test_the_cottage_has_windows_to_the_floor_and_a_roof_carried_down_under_low_eaves(tmp_path):
    design = study_of(tmp_path, COTTAGE).designs[0]
    front = [o for o in design.house.openings if o.wall == "front" and o.kind != "door"]
    assert all(isinstance(o, FloorWindow) and o.shutters.kind == "louvred" for o in front)
    assert design.porch.roof_slope < design.roof.slope
    assert_closed(build(design).parts)

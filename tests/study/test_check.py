"""Every fault at once, and what was understood of a scene that is fine."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from massing.build.house import build
from massing.cli import main
from massing.design.design import Design
from massing.geometry.cleaning import cleaned
from massing.parts.part import Part
from massing.present.reports.understood import understood
from massing.study.check import every_fault
from massing.study.study import read_study

FINE = """\
title: House by the ford
site: {place: Anywhere, latitude: 44, longitude: 11.5, front_faces: S}
times: [summer solstice 10:00, winter solstice 12:00]
house:
  width: 40 ft
  depth: 30 ft
  storeys: [11 ft, 10 ft]
porch:
  order: pier
  columns: 4
  diameter: 1 ft
  entablature: 16 in
  spacing: 8 ft
  depth: 8 ft
  height: eaves
alternatives:
  Tuscan:
    porch: {order: tuscan, diameter: null, entablature: null}
  Wide:
    porch: {order: tuscan, diameter: null, entablature: null, spacing: 8 ft}
"""


def told(*changes: tuple[str, str]) -> list[str]:
    text = FINE
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    faults = every_fault("scene.yaml", text)
    return [str(fault).partition(", allowed")[0] for fault in faults]


def test_a_scene_that_is_fine_has_none() -> None:
    assert every_fault("scene.yaml", FINE) == []


def test_faults_of_fields_designs_alternatives_and_times_come_at_once_by_line() -> None:
    found = told(
        ("front_faces: S", "front_faces: Q"),
        ("solstice 12:00", "solstice 3:00"),
        ("[11 ft, 10 ft]", "[11 ft, 10 rods]"),
        ("  spacing: 8 ft\n", "  spacing: 1 ft\n"),
        ("height: eaves", "height: 60 ft"),
        ("{order: tuscan, diameter: null, entablature: null}", "{order: toscan}"),
        ("spacing: 8 ft}", "spacing: 20 ft}"),
    )
    assert [text.partition(": given")[0] for text in found] == [
        "scene.yaml:2: site.front_faces",
        "scene.yaml:3: times[2]",
        "scene.yaml:7: house.storeys[2]",
        "scene.yaml:13: porch.spacing",
        "scene.yaml:15: porch.height",
        "scene.yaml:18: alternatives.Tuscan.porch.order",
        "scene.yaml:20: alternatives.Wide.porch.spacing",
    ]


def test_a_fault_as_drawn_is_not_said_again_of_each_alternative() -> None:
    assert told(("height: eaves", "height: 60 ft")) == [
        "scene.yaml:15: porch.height: given an order 60'-0\" high on a floor at 1'-10\""
    ]


def test_a_name_written_wrong_is_not_missing_too() -> None:
    (fault,) = told(("  depth: 30 ft", "  deepth: 30 ft"))
    assert "no such field (did you mean depth?)" in fault
    assert [f.partition(";")[0] for f in told(("  depth: 30 ft\n", ""))] == [
        "scene.yaml:4: house.depth: missing"
    ]


@pytest.mark.parametrize("text", ["", "title: [", "- a list", "title: a\ntitle: b"])
def test_what_is_no_scene_has_one_fault(text) -> None:
    assert len(every_fault("scene.yaml", text)) == 1


def test_an_alternative_that_is_nothing_but_its_fault() -> None:
    found = told(("{order: tuscan, diameter: null, entablature: null}", "{columns: 40}"))
    assert found == ["scene.yaml:18: alternatives.Tuscan.porch.columns: given 40"]


def test_check_prints_each_on_a_line_with_code_2(tmp_path, capsys) -> None:
    path = tmp_path / "scene.yaml"
    path.write_text(FINE.replace("8 ft\n", "1 ft\n", 1).replace("columns: 4", "columns: 99"))
    assert main(["check", str(path)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert [line.split(": ")[1] for line in err.splitlines()] == ["porch.columns", "porch.spacing"]


def lines_of(text: str) -> list[str]:
    study = read_study(Path("scene.yaml"), text)
    return understood(study.designs, study.suns, date(2026, 6, 21))


def test_what_was_understood_is_said_back() -> None:
    lines = lines_of(FINE)
    said = "\n".join(lines)
    assert "44° N, 11.5° E, the clock of Europe/Rome (UTC+02:00)" in said
    assert "on 2026-06-21 it is up from 05:3" in said
    assert "The front faces S (180°)" in said
    assert "40'-0\" wide, 30'-0\" deep, 2 floors" in said
    assert "as drawn: 4 piers, 1'-0\" thick" in said
    assert "8'-0\" axis to axis" in said
    assert (
        "winter solstice 12:00 (2026-12-21 12:00): the sun 23° high in the S, on the front" in said
    )
    assert "Look again" not in said


def test_a_longitude_without_its_minus_and_a_front_without_sun_are_looked_at_again() -> None:
    georgia = FINE.replace("latitude: 44, longitude: 11.5", "latitude: 32.08, longitude: 81.09")
    (slip,) = [line for line in lines_of(georgia) if "Look again" in line]
    assert "longitude 81.09 is in Asia/" in slip
    assert "-81.09, in America/New_York" in slip
    metric = georgia.replace("title:", "units: metric\ntitle:")
    assert not [line for line in lines_of(metric) if "Look again" in line]
    for latitude, faces, dark in ((44, "N", True), (44, "E", False), (-34, "S", True)):
        text = FINE.replace("latitude: 44", f"latitude: {latitude}").replace(": S}", f": {faces}}}")
        said = "\n".join(lines_of(text))
        assert ("next to no direct sun from autumn to spring" in said) is dark


def test_a_place_that_is_not_known_says_nothing_of_its_sun() -> None:
    found = told(("latitude: 44", "latitude: 95"), ("solstice 12:00", "solstice 3:00"))
    assert found == ["scene.yaml:2: site.latitude: given 95"]


@pytest.mark.parametrize("name", ["vineyard_cottage", "osier_turn"])
def test_a_light_model_is_all_of_a_house_but_its_coverings_and_relief(name: str) -> None:
    """So that what collides is found: each part that is left out is of a role that cannot."""
    study = read_study(Path("scenes") / f"{name}.yaml")
    for design in study.designs:
        whole = {(p.path, p.role, _measure(p)) for p in build(design).parts}
        checked = {(p.path, p.role, _measure(p)) for p in build(design.unlaid).parts}
        assert checked <= whole
        left_out = {(words, role) for words, role, _ in whole - checked}
        assert any("tiles" in words for words, _ in left_out) or design.roof.covering == "plain"
        pieces = {"tiles", "clapboards", "corner boards", "bricks", "ashlar 2", "setting"}
        assert all(pieces & set(words) for words, _ in left_out)


@pytest.mark.parametrize("name", ["heron_bluff", "osier_turn"])
def test_what_is_checked_keeps_every_moulding_and_leaves_out_ornament_alone(name: str) -> None:
    """So that what collides is found: bodies and openings are there, as far out as they are."""
    left_out = set()
    for design in read_study(Path("scenes") / f"{name}.yaml").designs:
        whole, checked = (_reach(d) for d in (design.unlaid, design.unadorned))
        assert checked.keys() <= whole.keys()
        for words, box in checked.items():
            if words[-1] not in ("capital", "abacus", "shaft"):
                assert np.allclose(box, whole[words], atol=1e-6), words
        left_out |= {words[-1] for words in whole.keys() - checked.keys()}
    assert {"dentils", "leaves"} <= left_out <= ORNAMENT


ORNAMENT = {
    *("corner dentils", "dentils", "modillions", "caisson frames", "rosettes", "corner rosettes"),
    *("triglyphs", "regulae", "guttae", "plain ends", "leaf", "bead and reel", "egg and dart"),
    *("volutes", "leaves", "lower leaves", "upper leaves", "calyx leaves", "stems", "fleurons"),
}


def _reach(design: Design) -> dict[tuple[str, ...], np.ndarray]:
    """The box round each thing's copies."""
    boxes: dict[tuple[str, ...], np.ndarray] = {}
    for part in build(design).parts:
        words = tuple(
            word.removeprefix("corner ") for word in part.path
        )  # an Ionic porch's, carved
        words = part.path if words[-1] in ("dentils", "rosettes", "boards") else words
        box = part.world_mesh().bounds
        was = boxes.setdefault(words, box)
        boxes[words] = np.array([np.minimum(was[0], box[0]), np.maximum(was[1], box[1])])
    return boxes


def _measure(part: Part) -> float:
    """A part's volume; of a balustrade's courses, whose pieces may overlap, their height."""
    if {"balustrade", "guard"} & set(part.path) and part.path[-1] in ("base", "rail"):
        return float(np.ptp(part.mesh.bounds[:, 2]))
    return cleaned(part.mesh).volume_m3 if part.solid else part.mesh.volume_m3


def test_what_is_likely_not_meant_is_told_beside_the_faults(tmp_path, capsys) -> None:
    """All at once: times none of which is one, a window, and a longitude without its minus."""
    text = (
        FINE.replace("place: Anywhere", "place: 'Savannah, Georgia'")
        .replace("latitude: 44, longitude: 11.5", "latitude: 32.08, longitude: 81.09")
        .replace("times: [summer solstice 10:00, winter solstice 12:00]", "times: [10am, soon]")
        .replace("  depth: 30 ft\n", "  depth: 30 ft\n  windows: [{height: 14 ft}]\n")
    )
    scene = tmp_path / "scene.yaml"
    scene.write_text(text)
    assert main(["check", str(scene)]) == 2
    told = capsys.readouterr().err.splitlines()
    assert len([line for line in told if ": times[" in line]) == 2
    assert any("house.windows[1].height: given 14'-0\"" in line for line in told)
    assert told[-1].startswith("Look again: 32.08, 81.09 is in Asia/")
    scene.write_text(text.replace("latitude: 32.08", "latitude: 95"))
    assert main(["check", str(scene)]) == 2
    assert "Look again" not in capsys.readouterr().err

"""``massing propose``."""

from __future__ import annotations

from pathlib import Path

import pytest

from massing.cli import main
from massing.practice.cautions import CAUTION
from massing.present.board.elevation import Drawn
from massing.scene.load import load_scene
from massing.study import proposals as study

SCENES = Path(__file__).parents[2] / "scenes"
NARROW = [
    "--orders",
    "tuscan",
    "--columns",
    "4",
    "--keep",
    "windows,height,bays",
    "--roofs",
    "flat",
]


@pytest.fixture
def scene(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(study, "DESIGNS", 60)
    one = Drawn('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 2 1"/>', 20.0, 10.0, 100.0)
    monkeypatch.setattr(study, "elevations", lambda each, *_: [one] * (1 + len(each.few)))
    path = tmp_path / "marsh.yaml"
    path.write_bytes((SCENES / "marsh_road.yaml").read_bytes())
    return path


def said(text):
    return " ".join(text.split())


def test_it_prints_writes_and_adds(scene, capsys, tmp_path):
    before = scene.read_text(encoding="utf-8")
    arguments = ["propose", str(scene), *NARROW, "--most", "2", "--add", "A", "--out", "out"]
    assert main(arguments) == 0
    out = said(capsys.readouterr().out)
    assert CAUTION in out
    assert "porches resolved and measured" in out
    assert "Within these limits every porch has findings on: no graduation" in out
    made = {p.name for p in (tmp_path / "out").iterdir() if not p.name.startswith(".")}
    endings = {"proposals.pdf", "proposals.svg", "proposals.png"}
    assert made == endings | {"front.csv", "front.png"}
    after = scene.read_text(encoding="utf-8")
    lines = iter(after.splitlines())
    assert all(line in lines for line in before.splitlines())
    new = set(load_scene(scene).designs) - set(load_scene(scene, before).designs)
    assert len(new) == 1
    assert f"{new.pop()} added as alternatives" in out


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (["--orders", "gothic"], "--orders: given gothic, allowed: pier, tuscan"),
        (["--columns", "many"], "--columns: given many, allowed"),
        (["--largest-diameter", "22"], "--largest-diameter: given 22, allowed: a length"),
        (["--keep", "secrets"], "--keep: given secrets, allowed: windows"),
        (["--shadow", "door in the dark"], "--shadow: given door in the dark, allowed: frieze"),
        (["--shadow", "door in sun at equinox 9:00", "--add", "A"], "--add: given with --shadow"),
        (["--design", "nobody"], "--design: given nobody"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line_and_nothing_is_written(
    scene, capsys, tmp_path, arguments, line
):
    assert main(["propose", str(scene), *arguments, "--out", "out"]) == 2
    err = capsys.readouterr().err
    assert line in err
    assert err.count("\n") == 1
    assert not (tmp_path / "out").exists()


def test_limits_that_leave_nothing_are_told(scene, capsys, tmp_path):
    narrow = ["--columns", "8", "--width", "6 ft", "--out", "out"]
    assert main(["propose", str(scene), *narrow]) == 2
    assert "within which no porch can be built" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_letters_that_there_are_not_are_refused(scene, capsys):
    assert main(["propose", str(scene), *NARROW, "--most", "2", "--add", "Z", "--out", "o"]) == 2
    assert "--add: given Z, allowed: letters of" in capsys.readouterr().err
    assert not Path("o").exists()


def test_a_shadow_that_is_wanted_is_answered_with_the_caution(scene, capsys):
    assert main(["propose", str(scene), "--shadow", "frieze half in shadow at 14 May 10:00"]) == 0
    out = said(capsys.readouterr().out)
    assert out.startswith("Wanted: the frieze 50 % in sun")
    assert CAUTION in out

"""What all commands have in common: naming a design, ``--out``, refusing, a light start."""

from __future__ import annotations

import argparse
import subprocess
import sys
from pathlib import Path

import pytest

from massing.cli import main
from massing.cli.program import COMMANDS
from massing.cli.shared import takes_picture_options
from tests.helpers.tables import rows

SCENES = Path(__file__).parents[2] / "scenes"

SCENE = """\
title: House by the ford
site: {place: Anywhere, latitude: 44, longitude: 11.5, front_faces: S}
times: [summer solstice 10:00]
house: {width: 12 m, depth: 9 m, storeys: [3.3 m, 3 m]}
porch: {order: pier, columns: 4, diameter: 30 cm, entablature: 40 cm, height: eaves}
alternatives:
  Tall Tuscan: {porch: {order: tuscan, diameter: null, entablature: null}}
  Low Tuscan: {porch: {order: tuscan, diameter: null, entablature: null, height: storey}}
"""


@pytest.fixture
def run(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "scene.yaml").write_text(SCENE)

    def run(*arguments):
        code = main([str(a) for a in arguments])
        return code, *capsys.readouterr()

    return run


def help_of(command, capsys) -> str:
    with pytest.raises(SystemExit):
        main([command, "--help"])
    return capsys.readouterr().out


def names() -> list[str]:
    return [command.__name__.rpartition(".")[2].replace("_", "-") for command in COMMANDS]


@pytest.mark.parametrize("command", names())
def test_help_teaches_one_way_to_name_a_design_and_one_to_say_where_to(command, capsys) -> None:
    shown = help_of(command, capsys)
    assert "--alternative" not in shown
    assert "[NAME]" not in shown
    if "--out" in shown:
        assert "-o" in shown
    if command in (
        "study",
        "show",
        "figures",
        "sizes",
        "series",
        "overlay",
        "plate",
        "board",
        "drawings",
        "profiles",
        "model",
    ):
        assert "--design NAME" in shown


@pytest.mark.parametrize("name", ["tall tuscan", "Tall", "  TALL   tuscan "])
def test_a_design_is_known_by_what_alone_begins_with_or_holds_it(run, name) -> None:
    code, out, err = run("sizes", "scene.yaml", "--format", "csv", "--design", name)
    assert (code, err) == (0, "")
    assert "Tall Tuscan" in out
    assert "Low Tuscan" not in out
    assert "as drawn" not in out


def test_designs_come_in_the_scene_s_order_whatever_the_order_asked(run) -> None:
    asked = ("--design", "low", "--design", "as drawn", "--design", "low tuscan")
    _, out, _ = run("figures", "scene.yaml", "--format", "csv", *asked)
    assert list(dict.fromkeys(row["design"] for row in rows(out))) == ["as drawn", "Low Tuscan"]


@pytest.mark.parametrize("command", ["show", "figures", "sizes", "overlay", "series", "study"])
@pytest.mark.parametrize(
    ("name", "words"),
    [("Doric", "allowed: as drawn, Tall Tuscan, Low Tuscan"), ("tuscan", "more of its name")],
)
def test_a_name_of_none_or_of_several_is_one_line(run, tmp_path, command, name, words) -> None:
    more = ("--day", "14 May") if command == "series" else ()
    code, out, err = run(command, "scene.yaml", "--design", name, *more)
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert err.startswith(f"--design: given {name}, ")
    assert words in err
    assert [p.name for p in tmp_path.iterdir()] == ["scene.yaml"]


@pytest.mark.parametrize("where", ["scene.yaml", "scene.yaml/further/down"])
@pytest.mark.parametrize("command", ["study", "series", "shadows", "overlay"])
def test_an_out_folder_that_is_a_file_is_one_line(run, tmp_path, command, where) -> None:
    more = ("--hour", "10:00") if command == "series" else ()
    code, out, err = run(command, "scene.yaml", *more, "-o", where)
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert err.startswith(f"--out: given {where}, ")
    assert "allowed: a folder" in err
    assert [p.name for p in tmp_path.iterdir()] == ["scene.yaml"]


def test_an_out_file_that_is_a_folder_or_under_a_file_is_one_line(run, tmp_path) -> None:
    (tmp_path / "plate.svg").mkdir()
    for where, allowed in (("plate.svg", "allowed: a file"), ("scene.yaml/a.svg", "a folder")):
        code, out, err = run("plate", "tuscan", "--out", where)
        assert (code, out, err.count("\n")) == (2, "", 1)
        assert allowed in err


def imported_by(*arguments: str) -> set[str]:
    """The modules that a command has imported when it ends."""
    listed = "import sys; sys.argv[0] = 'massing'; import massing.cli, atexit; "
    listed += "atexit.register(lambda: print(*sorted(sys.modules), file=sys.stderr)); "
    listed += "sys.exit(massing.cli.main(sys.argv[1:]))"
    done = subprocess.run(
        [sys.executable, "-c", listed, *arguments], capture_output=True, text=True, check=True
    )
    return set(done.stderr.splitlines()[-1].split())


def test_help_and_version_import_next_to_nothing() -> None:
    for argument in ("--help", "--version"):
        assert not imported_by(argument) & {"numpy", "pydantic", "ruamel", "rich", "PIL"}


def test_checking_a_scene_imports_no_library_that_it_does_not_use() -> None:
    loaded = imported_by("check", str(SCENES / "vineyard_cottage.yaml"))
    assert "numpy" in loaded
    assert not loaded & {"scipy", "pandas", "pvlib", "trimesh", "matplotlib", "skimage", "bpy"}


def test_devices_are_taught_in_our_words_and_known_by_their_makers_too(capsys) -> None:
    shown = help_of("study", capsys)
    assert "{auto,processor,graphics}" in shown
    assert "cuda" not in shown.lower()
    parser = argparse.ArgumentParser()
    takes_picture_options(parser)
    asked = ("auto", "processor", "graphics", "CPU", "gpu", "cuda", "METAL")
    got = [parser.parse_args(["--device", word]).device for word in asked]
    assert got == ["auto", "processor", "graphics", "processor", "graphics", "cuda", "metal"]
    with pytest.raises(SystemExit):
        parser.parse_args(["--device", "abacus"])
    assert "given abacus, allowed: auto, processor or graphics" in capsys.readouterr().err


@pytest.mark.parametrize("path", sorted(SCENES.glob("*.yaml")), ids=lambda path: path.stem)
def test_every_bundled_scene_says_first_that_it_is_invented(path) -> None:
    first = path.read_text().splitlines()[0]
    assert first.startswith("# House and people are invented")


@pytest.mark.parametrize("command", names())
def test_every_command_can_be_quiet_or_say_more(command, capsys) -> None:
    shown = help_of(command, capsys)
    assert "-q, --quiet" in shown
    assert "-v, --verbose" in shown


def test_quiet_prints_nothing_but_faults_and_verbose_each_file(run, tmp_path) -> None:
    for command in (["show", "scene.yaml"], ["figures", "scene.yaml"], ["sizes", "scene.yaml"]):
        code, loud, faults = run(*command)
        assert code == 0
        assert loud
        assert run(*command, "-q") == (0, "", "")
        code, out, more = run(*command, "-v")
        assert out == loud
        assert "s of processor" in more
        assert not faults
    code, out, fault = run("figures", "nowhere.yaml", "-q")
    assert code == 2
    assert not out
    assert fault.count("\n") == 1
    code, out, more = run("model", "scene.yaml", "-o", "house.glb", "-v")
    assert code == 0
    assert "written: house.glb" in more
    assert run("model", "scene.yaml", "-o", "house.glb")[2] == ""

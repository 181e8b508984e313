"""A scene in a folder made to do harm: nothing in it runs, and nothing outside it is touched."""

from __future__ import annotations

import os
import subprocess
import sys
import textwrap
from pathlib import Path

import numpy as np
import pytest
from PIL import EpsImagePlugin, Image

from massing import cli
from massing.render.driver import process, requirements
from massing.render.driver.run import render_shots
from massing.render.driver.shots import Shot
from massing.scene.errors import SceneError
from massing.study.overlay import read_sheet
from massing.study.study import read_study
from massing.view.camera import Camera
from tests.helpers.hostile import SCENE, hostile_folder, link

ROOT = Path(__file__).parents[2]
needs_blender = pytest.mark.skipif(
    requirements.check_blender() is not None, reason="no Blender module here"
)


@pytest.fixture
def trap(tmp_path, monkeypatch):
    laid = hostile_folder(tmp_path)
    monkeypatch.chdir(laid.folder)
    return laid


def environment(**values):
    kept = {k: v for k, v in os.environ.items() if not k.startswith("PYTHON")}
    return {**kept, **values}


# --- code beside the scene -----------------------------------------------------------------


@pytest.mark.parametrize("path", [str(ROOT), f"{ROOT}:", f":{ROOT}"])
def test_python_m_massing_runs_nothing_of_the_working_folder(trap, path):
    done = subprocess.run(
        [sys.executable, "-m", "massing", "figures", "scene.yaml"],
        capture_output=True,
        text=True,
        env=environment(PYTHONPATH=path),
    )
    # An empty entry of PYTHONPATH is the working folder for Python's own start, before any code
    # of ours; what Python itself loads by then is not ours to keep out.
    assert set(trap.sprung) <= ({"sitecustomize.sprung"} if path != str(ROOT) else set())
    assert "as drawn" in done.stdout, done.stderr


def test_the_command_runs_nothing_of_the_working_folder(trap):
    script = "from massing.__main__ import run; raise SystemExit(run())"
    done = subprocess.run(
        [sys.executable, "-P", "-c", script, "figures", "scene.yaml"],
        capture_output=True,
        text=True,
        env=environment(PYTHONPATH=f"{ROOT}{os.pathsep}"),
    )
    assert "as drawn" in done.stdout, done.stderr
    assert set(trap.sprung) <= {"sitecustomize.sprung"}


@pytest.mark.parametrize("path", ["", ":", ".", "lib:"])
def test_a_worker_is_this_package_and_runs_nothing_of_the_working_folder(trap, path):
    done = subprocess.run(
        [*process.python_command("massing.scene.schema"), "unused"],
        capture_output=True,
        text=True,
        env=process.safe_environment(environment(PYTHONPATH=path)),
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert trap.sprung == []


@needs_blender
@pytest.mark.render
def test_pictures_are_made_without_running_what_lies_beside_the_scene(trap):
    camera = Camera("elevation", "ortho", (0.0, -20.0, 3.0), ortho_width_m=16.0)
    camera = Camera(**{**camera.__dict__, "width_px": 32, "height_px": 20})
    shot = Shot(
        camera, trap.folder / "out" / "a.png", tuple(np.array([1.0, -2.0, 2.0]) / 3.0), 41.8
    )
    model = read_study(trap.scene).models["as drawn"]
    (done,) = render_shots(model, [shot], log_path=trap.folder / "out" / "log")
    assert done.error == ""
    assert trap.sprung == []
    assert sorted(p.name for p in (trap.folder / "out").iterdir()) == [".massing", "a.png", "log"]


def test_the_check_for_blender_s_module_runs_nothing_of_the_working_folder(trap):
    requirements.check_blender()
    assert trap.sprung == []


# --- what it would write to ----------------------------------------------------------------


@pytest.mark.parametrize("command", ["study", "shadows", "overlay", "series"])
def test_an_out_that_holds_the_user_s_files_is_refused_in_one_line(
    trap, command, capsys, monkeypatch
):
    hidden = [".2024-budget.txt", ".note.2024.tmpl", "sub/.2024-07-notes.md"]
    for name in hidden:
        (trap.precious / name).parent.mkdir(exist_ok=True)
        (trap.precious / name).write_text("mine")
    monkeypatch.chdir(trap.precious)
    before = sorted(p.as_posix() for p in trap.precious.rglob("*"))
    hour = ["--hour", "10:00"] if command == "series" else []
    code = cli.main([command, str(trap.scene), *hour, "--out", "."])
    out, err = capsys.readouterr()
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert "--out: given ., but it holds .2024-budget.txt, which this tool did not make" in err
    assert sorted(p.as_posix() for p in trap.precious.rglob("*")) == before


def test_links_laid_in_the_output_folder_are_refused(trap, capsys):
    will = trap.precious / "will.txt"
    for name in (".in-use", "render.log", "study.json", "as-drawn", "figures.csv"):
        folder = trap.folder / f"out for {name}"
        link(folder / name, trap.precious if name == "as-drawn" else will)
        assert cli.main(["study", str(trap.scene), "--out", str(folder)]) == 2
        assert "is a link" in capsys.readouterr().err
    link(trap.folder / "renders", trap.precious)
    assert cli.main(["study", "scene.yaml"]) == 2
    assert "renders is a link" in capsys.readouterr().err
    assert will.read_text() == "all to the cat"
    assert [p.name for p in trap.precious.iterdir()] == ["will.txt"]


# --- images --------------------------------------------------------------------------------


def test_a_program_named_as_an_image_is_not_run(trap, monkeypatch):
    ran = []
    monkeypatch.setattr(EpsImagePlugin, "Ghostscript", lambda *a, **k: ran.append(a))
    with pytest.raises(SceneError, match=r"scene\.yaml:\d+: drawing\.image: .*PNG, JPEG, TIFF"):
        read_sheet(read_study(trap.scene).loaded)
    assert ran == []


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "TIFF", "WEBP"])
def test_the_kinds_on_the_list_are_told_by_their_content(trap, kind):
    Image.new("RGB", (100, 200), "white").save(trap.folder / "front.png", format=kind)
    assert read_sheet(read_study(trap.scene).loaded).image.size == (100, 200)


@pytest.mark.parametrize("kind", ["BMP", "GIF", "PPM", "PDF", "ICO", "TGA"])
def test_other_kinds_are_refused(trap, kind):
    Image.new("RGB", (100, 200), "white").save(trap.folder / "front.png", format=kind)
    with pytest.raises(SceneError, match="cannot be read"):
        read_sheet(read_study(trap.scene).loaded)


def test_an_image_s_size_is_known_before_it_is_decoded(trap, monkeypatch):
    Image.new("1", (20_000, 20_000)).save(trap.folder / "front.png")
    monkeypatch.setattr(Image.Image, "load", lambda *_: pytest.fail("it was decoded"))
    with pytest.raises(SceneError, match="million pixels"):
        read_sheet(read_study(trap.scene).loaded)


@pytest.mark.parametrize("name", ["../precious/front.png", "link.png", "{precious}/front.png"])
def test_an_image_outside_the_scene_s_folder_is_refused(trap, name):
    Image.new("RGB", (100, 200)).save(trap.precious / "front.png")
    link(trap.folder / "link.png", trap.precious / "front.png")
    name = name.format(precious=trap.precious)
    trap.scene.write_text(SCENE.replace("front.png", name))
    with pytest.raises(SceneError, match="a path within the scene file's folder"):
        read_sheet(read_study(trap.scene).loaded)


def test_a_pipe_or_a_device_as_an_image_is_refused_at_once(trap):
    (trap.folder / "front.png").unlink()
    os.mkfifo(trap.folder / "front.png")
    with pytest.raises(SceneError, match="not a regular file"):
        read_sheet(read_study(trap.scene).loaded)


# --- cells ---------------------------------------------------------------------------------


def test_no_cell_of_a_table_begins_a_formula(trap, capsys):
    scene = SCENE.replace(
        "drawing:", "alternatives:\n  =cmd|x!A1:\n    porch: {diameter: 13 in}\nDROP"
    )
    trap.scene.write_text(textwrap.dedent(scene.split("DROP")[0]))
    for command in (["figures"], ["sizes"]):
        assert cli.main([*command, str(trap.scene), "--format", "csv"]) == 0
        text = capsys.readouterr().out
        assert "'=cmd" in text
        cells = [c.strip('"') for line in text.splitlines() for c in line.split(",")]
        risky = [c for c in cells if c[:1] in tuple("=+-@") and not _is_number(c)]
        assert risky == []


def _is_number(text):
    try:
        float(text)
    except ValueError:
        return False
    return True

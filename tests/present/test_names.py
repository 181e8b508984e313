"""Names are data: whatever a designer calls a thing, nothing breaks, runs or is lost."""

from __future__ import annotations

import csv
import io
import os
import subprocess
import sys
from pathlib import Path

import matplotlib
import numpy as np
import pytest
from PIL import Image

from massing import cli
from massing.files import slug
from massing.present.names import CsvTable, csv_cell
from massing.present.plots.style import STYLE, plot_figure, save_plot
from massing.present.sheets import glyphs
from massing.present.sheets.paper import font, text_width, write
from massing.scene.errors import SceneError
from massing.scene.load import MOST_ALTERNATIVES, load_scene
from massing.scene.names import MOST_TIMES

SCENE = """\
title: "{name}"
site: {{place: "{name}", latitude: 44, longitude: 11.5, front_faces: S}}
times: [summer solstice 10:00]
house: {{width: 40 ft, depth: 30 ft, storeys: [11 ft, 10 ft]}}
porch: {{order: pier, columns: 4, diameter: 1 ft, entablature: 16 in, spacing: 8 ft}}
alternatives:
  "{name}":
    porch: {{diameter: 13 in}}
"""
NAMES = ["A [/red]", "$1 & 50% of $2 porch", "[bold]x", "東の家", "=cmd|x!A1", "100%", "{title}"]


@pytest.fixture
def scene(tmp_path):
    def write(name, text=SCENE):
        path = tmp_path / "scene.yaml"
        path.write_text(text.format(name=name), encoding="utf-8")
        return path

    return write


@pytest.mark.parametrize("name", NAMES)
def test_a_name_is_printed_as_it_is_written(scene, capsys, name):
    assert cli.main(["figures", str(scene(name))]) == 0
    assert name in capsys.readouterr().out


def test_a_path_s_brackets_are_printed(tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert cli.main(["plate", "tuscan", "--out", "a [b]/[c].svg"]) == 0
    assert capsys.readouterr().out == "a [b]/[c].svg\n"


@pytest.mark.parametrize("command", ["figures", "show", "sizes", "check"])
def test_a_terminal_that_knows_ascii_alone_is_no_fault(scene, command):
    done = subprocess.run(
        [sys.executable, "-m", "massing", command, str(scene("東の家"))],
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONIOENCODING": "ascii", "LC_ALL": "C"},
        cwd=Path(__file__).parents[2],
    )
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize("name", NAMES)
def test_a_name_stands_on_a_plot_as_it_is_written(tmp_path, name):
    with matplotlib.rc_context(STYLE):
        figure = plot_figure(3.0, 2.0, name, name)
        axes = figure.subplots()
        axes.plot([0, 1], [0, 1], label=name)
        axes.legend()
    assert not figure.texts[0].get_parse_math()
    save_plot(figure, tmp_path / "plot.svg")
    assert (tmp_path / "plot.svg").stat().st_size > 1000


def test_letters_that_the_house_style_lacks_are_set_in_another_font():
    face = font("roman", 30)
    assert glyphs.set_in("Six Tuscan columns, 45° · ½", face) is face
    if not glyphs.candidates():
        pytest.skip("this machine has no font for them, nor Blender's module")
    assert glyphs.set_in("東の家", face) is not face
    pictures = []
    for name in ("東", "家"):
        image = Image.new("RGB", (80, 60), "white")
        write(image, (5, 5), name, face, 70)
        pictures.append(np.asarray(image))
    assert (pictures[0] != pictures[1]).any()  # two shapes, not one sign for both
    assert text_width("東の家", face) == pytest.approx(90.0, abs=5.0)


def test_what_no_font_has_is_seen_as_missing(monkeypatch):
    monkeypatch.setattr(glyphs, "candidates", lambda: ())
    image = Image.new("RGB", (80, 60), "white")
    write(image, (5, 5), "東", font("roman", 30), 70)
    assert np.asarray(image).min() < 128


# --- cells ---------------------------------------------------------------------------------


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n", " =", "＝"])
def test_a_cell_that_would_run_is_shown(start):
    assert csv_cell(f"{start}cmd()") == f"'{start}cmd()"


@pytest.mark.parametrize("value", ["-2.5", "+1e3", "12", -2.5, 0, None, "eight", "8'-0\""])
def test_numbers_and_plain_words_stay(value):
    assert csv_cell(value) == value


def test_a_table_of_csv_reads_back():
    buffer = io.StringIO()
    table = CsvTable(buffer)
    table.writerow(["=1", -1.5, "a,b"])
    assert list(csv.reader(io.StringIO(buffer.getvalue()))) == [["'=1", "-1.5", "a,b"]]


# --- file names ----------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["con", "Aux", "NUL", "com1", "LPT9"])
def test_names_that_some_systems_keep_for_devices_are_not_file_names(name):
    assert slug(name) == f"{name.lower()}-"


def test_a_long_name_is_cut_and_stays_its_own():
    one, other = (slug("家" * 59 + end) for end in "東西")
    assert one != other
    assert len(one.encode()) <= 72
    assert (
        slug("six tuscan columns " * 3)
        == "six-tuscan-columns-six-tuscan-columns-six-tuscan-columns"
    )


CAMERA = 'cameras: [{{name: "{name}", stand: {{along: 0 ft, before: 60 ft, height: 5 ft}}, '
CAMERA += "look_at: {{along: 0 ft, before: 0 ft, height: 10 ft}}}}]\n"


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("Street", "street names a view"),
        ("Shadows", "shadows names a folder of the tool's own"),
        ("sheets!", "sheets names a folder"),
        ("Clay", "clay names a look"),
        ("As drawn", "as-drawn names the design as drawn"),
        ("summer solstice 10:00", "names"),
        ("...", "letters or figures"),
    ],
)
@pytest.mark.parametrize("what", ["camera", "alternative"])
def test_no_two_names_make_one_file_name(scene, name, words, what):
    text = SCENE.replace('  "{name}":', '  "another":')
    text = CAMERA + text if what == "camera" else text.replace("another", "{name}")
    with pytest.raises(SceneError, match=r"scene\.yaml:\d+: .*allowed: a") as caught:
        load_scene(scene(name, text))
    if name != "summer solstice 10:00" or what == "alternative":
        assert words in str(caught.value)


def test_signs_that_are_not_seen_are_refused(scene):
    for sign in ("\\e[31m", "\\0", "\\u202e", "\\a"):
        with pytest.raises(SceneError, match=r"not seen|unseen"):
            load_scene(scene(f"a{sign}b"))


def test_alternatives_and_times_are_bounded(scene):
    many = "".join(f"  a{i}: {{{{porch: {{{{diameter: 13 in}}}}}}}}\n" for i in range(41))
    with pytest.raises(
        SceneError, match=rf"alternatives: given 42, allowed: up to {MOST_ALTERNATIVES}"
    ):
        load_scene(scene("x", SCENE + many))
    times = ", ".join(f"summer solstice 10:{i:02d}" for i in range(41))
    with pytest.raises(SceneError, match=rf"times: given 41, allowed: up to {MOST_TIMES}"):
        load_scene(scene("x", SCENE.replace("summer solstice 10:00", times)))

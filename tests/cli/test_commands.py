"""The commands as a user meets them: what they print, where, and their exit codes."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from massing import cli
from tests.helpers.tables import rows as table_rows

SCENES = sorted((Path(__file__).parents[2] / "scenes").glob("*.yaml"))

SCENE = """\
title: House by the ford
site: {place: Anywhere, latitude: 44, longitude: 11.5, front_faces: S}
times: [summer solstice 10:00]
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
"""

BAD = {
    "unknown field": ("  depth: 30 ft", "  deepth: 30 ft", 6, "house.deepth"),
    "wrong unit": ("  depth: 30 ft", "  depth: 30 rods", 6, "house.depth"),
    "no unit": ("  depth: 30 ft", "  depth: 30", 6, "house.depth"),
    "impossible size": ("  diameter: 1 ft", "  diameter: 0 ft", 11, "porch.diameter"),
    "columns that touch": ("  spacing: 8 ft", "  spacing: 1 ft", 13, "porch.spacing"),
    "a porch wider than the house": ("  spacing: 8 ft", "  spacing: 16 ft", 13, "porch.spacing"),
    "a porch taller than the house": ("  height: eaves", "  height: 60 ft", 15, "porch.height"),
    "latitude 95": ("latitude: 44", "latitude: 95", 2, "site.latitude"),
    "a time that is none": ("solstice 10:00", "solstice 10 o'clock", 3, "times[1]"),
    "the sun below the horizon": ("solstice 10:00", "solstice 1:00", 3, "times[1]"),
    "a fault in an alternative": (
        "order: tuscan,",
        "order: tuscan, spacing: 20 ft,",
        18,
        "alternatives.Tuscan.porch.spacing",
    ),
}


@pytest.fixture
def run(tmp_path, monkeypatch, capsys):
    """Run a command in an empty folder; gives its exit code, output and errors."""
    monkeypatch.chdir(tmp_path)

    def run(*arguments):
        code = cli.main([str(a) for a in arguments])
        out, err = capsys.readouterr()
        return code, out, err

    return run


@pytest.fixture
def scene(tmp_path):
    def write(text=SCENE):
        path = tmp_path / "scene.yaml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


@pytest.mark.parametrize("command", ["study", "check", "show", "figures", "sizes"])
@pytest.mark.parametrize("what", BAD)
def test_a_bad_scene_is_one_line_on_stderr_code_2_and_nothing_written(
    run, scene, tmp_path, command, what
):
    old, new, line, field = BAD[what]
    assert SCENE.count(old) == 1
    path = scene(SCENE.replace(old, new))
    code, out, err = run(command, path)
    assert code == 2
    assert out == ""
    assert err.count("\n") == 1
    assert err.startswith(f"{path}:{line}: {field}: "), err
    assert "given" in err or "no such field" in err
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("missing.yaml", None, "no such file"),
        ("empty.yaml", b"", "empty"),
        ("notyaml.yaml", b"title: [\n", "not YAML"),
        ("binary.yaml", b"\xff\xfe\x00\x01", "not text"),
    ],
)
def test_a_file_that_is_no_scene_is_one_line_too(run, tmp_path, name, content, words):
    if content is not None:
        (tmp_path / name).write_bytes(content)
    code, out, err = run("study", name)
    assert (code, out) == (2, "")
    assert err.startswith(name)
    assert words in err
    assert err.count("\n") == 1
    assert [p.name for p in tmp_path.iterdir()] == ([name] if content is not None else [])


@pytest.mark.parametrize("path", SCENES, ids=lambda p: p.stem)
def test_the_bundled_scenes_are_fine(run, path):
    code, out, err = run("check", path)
    assert (code, err) == (0, "")
    assert "fine" in out


def test_an_unknown_only_is_refused_before_anything_is_written(run, scene, tmp_path):
    path = scene()
    code, out, err = run("study", path, "--only", "Corinthian")
    assert (code, out) == (2, "")
    assert "--only: given Corinthian, allowed: as drawn, Tuscan, " in err
    assert list(tmp_path.iterdir()) == [path]


def test_an_out_that_is_a_file_is_refused(run, scene, tmp_path):
    path = scene()
    code, _, err = run("study", path, "--out", path)
    assert code == 2
    assert "allowed: a folder" in err


def test_a_missing_renderer_is_said_and_is_a_failure(run, scene, tmp_path, monkeypatch):
    monkeypatch.setattr(
        "massing.render.driver.requirements.check_blender", lambda: "Blender's module is missing"
    )
    path = scene()
    code, out, err = run("study", path)
    assert (code, err) == (1, "Blender's module is missing\n")
    assert "Entablature height" in out  # figures need no renderer
    assert list(tmp_path.iterdir()) == [path]


def test_show_says_where_every_number_came_from(run, scene):
    code, out, _ = run("show", scene(), "tuscan")
    assert code == 0
    rows = {line.split("  ")[0].strip(): line for line in out.splitlines()}
    assert "given, line 5" in rows["house.width"]
    assert "given, line 13" in rows["porch.spacing"]
    assert "given, line 18" in rows["porch.order"]
    assert "vignola" in rows["porch.diameter"]
    assert "default" in rows["house.bays"]
    assert run("show", scene(), "nobody")[0] == 2


def test_figures_come_as_table_json_and_csv_that_agree(run, scene):
    path = scene()
    _, table, _ = run("figures", path)
    _, text, _ = run("figures", path, "--format", "json")
    _, rows, _ = run("figures", path, "--format", "csv")
    values = json.loads(text)
    assert [d["name"] for d in values["designs"]] == ["as drawn", "Tuscan"]
    assert values["suns"][0]["on_front"] is True
    by_key = {(r["design"], r["key"]): r for r in table_rows(rows)}
    for design in values["designs"]:
        for figure in design["figures"]:
            row = by_key.pop((design["name"], figure["key"]))
            assert float(row["value"]) == pytest.approx(figure["value"], rel=1e-5)
            assert row["written"] == figure["written"]
            assert figure["written"] in table
        assert design["findings"]
    assert not by_key
    assert "slenderer than any canonical order" in " ".join(table.split())
    assert "licensed practice" in table
    assert "licensed practice" in values["caution"]


def test_sizes_add_up(run, scene):
    _, text, _ = run("sizes", scene(), "--format", "csv")
    rows = [r for r in table_rows(text) if r["design"] == "Tuscan"]
    stack = [r for r in rows if r["part"].startswith(("Column", "Entablature")) and r["height_mm"]]
    running = 0.0
    for row in stack:
        running += float(row["height_mm"])
        assert running == pytest.approx(float(row["top_mm"]), abs=0.3)
    # porch floor to the eaves: wall top less floor, 23 ft above ground less 1 ft 10 in
    assert stack[-1]["top"] == "21'-2\""
    code, table, _ = run("sizes", scene())
    assert code == 0
    assert "echinus" in table


def test_a_second_order_has_its_own_figures_and_sizes(run, scene):
    text = SCENE.replace(
        "porch: {order: tuscan,", "porch: {order: tuscan, upper: {}, height: storey,"
    )
    path = scene(text.replace("storeys: [11 ft, 10 ft]", "storeys: [12 ft, 11 ft]\n  floor: 2 ft"))
    code, out, err = run("figures", path, "--format", "json")
    assert (code, err) == (0, "")
    below, above = (
        {f["key"]: f["value"] for f in design["figures"]} for design in json.loads(out)["designs"]
    )
    assert not [key for key in below if key.startswith("upper_")]
    assert above["upper_slenderness"] > above["slenderness"]  # the lighter order stands above
    assert above["order_height"] + above["upper_order_height"] <= above["wall_top"]
    _, rows, _ = run("sizes", path, "--format", "csv")
    groups = {(r["design"], r["part"], r["top_over"]) for r in table_rows(rows)}
    assert ("Tuscan", "Above: column: base", "the upper floor") in groups
    assert ("as drawn", "Column: base", "the porch floor") in groups


def test_the_schema_is_printed_as_json(run):
    code, out, _ = run("schema")
    assert code == 0
    assert json.loads(out)["title"] == "Scene"


def test_a_plate_is_drawn_to_a_file(run, tmp_path):
    code, out, _ = run("plate", "tuscan")
    assert code == 0
    assert out == "renders/plates/vignola-tuscan.svg\n"
    assert "<svg" in (tmp_path / out.strip()).read_text()


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("tuskan",), "tuscan"),
        (("tuscan", "--canon", "nobody"), "vignola"),
        (("tuscan", "--out", "plate.doc"), ".svg, .pdf or .png"),
    ],
)
def test_a_plate_that_cannot_be_drawn_is_one_line(run, tmp_path, arguments, words):
    code, out, err = run("plate", *arguments)
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert words in err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((), "--day DAY, or --hour"),
        (("--day", "14 May", "--hour", "10:00"), "--day DAY, or --hour"),
        (("--day", "the ides"), "a day"),
        (("--hour", "25:00"), "clock"),
        (("--hour", "2:00"), "horizon"),
        (("--day", "14 May", "--design", "Corinthian"), "as drawn, Tuscan"),
    ],
)
def test_a_series_that_cannot_be_made_is_one_line(run, scene, tmp_path, arguments, words):
    path = scene()
    code, out, err = run("series", path, *arguments)
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert words in err
    assert list(tmp_path.iterdir()) == [path]


def test_help_and_misuse(run):
    with pytest.raises(SystemExit) as left:
        run("--help")
    assert left.value.code == 0
    with pytest.raises(SystemExit) as left:
        run("study")
    assert left.value.code == 2
    with pytest.raises(SystemExit) as left:
        run("study", "x.yaml", "--size", "big")
    assert left.value.code == 2


def test_ctrl_c_ends_with_130(run, scene, monkeypatch):
    def interrupted(*_, **__):
        raise KeyboardInterrupt

    monkeypatch.setattr("massing.study.study.read_study", interrupted)
    code, _, err = run("check", scene())
    assert code == 130
    assert "stopped" in err


def test_an_interrupt_that_python_drops_is_given_again(run, scene, monkeypatch):
    class Dying:
        def __del__(self):
            raise KeyboardInterrupt  # as where a signal comes while something is cleared away

    def busy(*_, **__):
        Dying()
        for _ in range(1000):
            time.sleep(0.001)
        pytest.fail("the interrupt was lost")

    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    monkeypatch.setattr("massing.study.study.read_study", busy)
    try:
        code, _, err = run("check", scene())
    finally:
        signal.signal(signal.SIGINT, before)
    assert code == 130
    assert err == "stopped; what is finished is kept, run again to go on\n"


def test_it_runs_as_a_module_and_without_blender_s_module(tmp_path, scene):
    blocked = "import sys; sys.modules['bpy'] = None; sys.argv[0] = 'massing'; import runpy; "
    blocked += "runpy.run_module('massing', run_name='__main__')"
    for start in (["-m", "massing"], ["-c", blocked]):
        done = subprocess.run(
            [sys.executable, *start, "check", str(scene())], capture_output=True, text=True
        )
        assert done.returncode == 0, done.stderr
        assert "fine" in done.stdout


def test_a_reader_that_has_had_enough_is_no_fault(scene):
    done = subprocess.run(
        f"{sys.executable} -m massing schema | head -1; exit ${{PIPESTATUS[0]}}",
        shell=True,
        executable="/bin/bash",
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0
    assert done.stderr == ""

"""``massing model`` as a user meets it."""

from __future__ import annotations

from pathlib import Path

import pytest

from massing import cli

MARSH = Path(__file__).parents[2] / "scenes/marsh_road.yaml"


@pytest.fixture
def run(tmp_path, monkeypatch, capsys):
    """Run a command in an empty folder; gives its exit code, output and errors."""
    monkeypatch.chdir(tmp_path)

    def run(*arguments):
        code = cli.main([str(a) for a in arguments])
        out, err = capsys.readouterr()
        return code, out, err

    return run


def test_a_model_goes_under_renders_and_says_its_units(run, tmp_path):
    code, out, err = run("model", MARSH)
    made = tmp_path / "renders/marsh_road/models/as-drawn.glb"
    assert (code, err) == (0, "")
    assert made.is_file()
    assert "metres, Y up" in out
    assert "as-drawn.glb" in out


def test_the_ending_of_out_gives_the_format(run, tmp_path):
    code, out, _ = run("model", MARSH, "--out", "porch.stl")
    assert code == 0
    assert "millimetres" in out
    assert [p.name for p in tmp_path.iterdir()] == ["porch.stl"]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--out", "a.glb", "--format", "obj"), "given a.glb, allowed: a name in .obj"),
        (("--out", "a.dwg"), "given a.dwg, allowed: a name in .glb, .usd, .obj, .stl or .blend"),
        (("--design", "nobody's"), "--design: given nobody's, allowed: "),
    ],
)
def test_a_bad_argument_is_one_line_and_nothing_is_written(run, tmp_path, arguments, words):
    code, out, err = run("model", MARSH, *arguments)
    assert (code, out) == (2, "")
    assert words in err
    assert err.count("\n") == 1
    assert not list(tmp_path.iterdir())

"""``massing page`` as a user meets it."""

from __future__ import annotations

from pathlib import Path

import pytest

from massing import cli
from massing.study.run import Outcome
from tests.cli.test_shared import SCENE


@pytest.fixture
def run(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "scene.yaml").write_text(SCENE)

    def run(*arguments):
        code = cli.main([str(a) for a in arguments])
        out, err = capsys.readouterr()
        return code, out, err

    return run


def test_without_a_study_it_is_made_and_says_what_is_missing(run):
    code, out, err = run("page", "scene.yaml")
    path = Path("renders/scene/page.html")
    assert code == 0
    assert f"{path}: 0 pictures" in out
    assert "pictures do not stand in renders/scene as they would be made now" in err
    assert err.count("\n") == 1
    assert path.read_text(encoding="utf-8").startswith("<!doctype html>")
    assert [p.name for p in path.parent.iterdir() if not p.name.startswith(".")] == ["page.html"]


def test_a_study_makes_it_along_the_way_and_shows_it_when_asked(run, monkeypatch):
    folder, shown = Path("renders/scene"), []

    def run_study(study, to, **options):
        assert options["also"] == ["jpg"]
        options["page"].make_if_due(3)
        options["on_sheet"]([to / "sheets" / "one.png"])
        options["on_sheet"]([to / "sheets" / "two.png"])
        assert "3 pictures are still being made" in (folder / "page.html").read_text()
        return Outcome(to, (), (), {})

    monkeypatch.setattr("massing.study.run.run_study", run_study)
    monkeypatch.setattr("massing.cli.study.require_blender", lambda: None)
    monkeypatch.setattr("webbrowser.open", shown.append)
    monkeypatch.setenv("DISPLAY", ":0")
    code, out, _ = run("study", "scene.yaml", "--also", "jpg", "--open")
    assert code == 0
    assert shown == [(folder / "page.html").resolve().as_uri()]
    assert "page.html" in out
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    code, _, err = run("study", "scene.yaml", "--also", "jpg", "--open")
    assert (code, len(shown)) == (0, 1)
    assert err.startswith("no display here; open renders/scene/page.html")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--out", "page.pdf"), "--out: given page.pdf, allowed: a name in .html"),
        (("--pictures", "nowhere"), "--pictures: given nowhere, allowed: a folder"),
    ],
)
def test_a_bad_argument_is_one_line_and_nothing_is_written(run, arguments, words):
    code, out, err = run("page", "scene.yaml", *arguments)
    assert (code, out) == (2, "")
    assert words in err
    assert err.count("\n") == 1
    assert [p.name for p in Path().iterdir()] == ["scene.yaml"]

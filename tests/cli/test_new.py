"""``massing new``: a scene from answers, never over a file that stands."""

from __future__ import annotations

from massing.cli.program import main
from massing.scene.load import load_scene


def test_it_writes_a_scene_that_can_be_read(tmp_path, capsys):
    path = tmp_path / "mill_house.yaml"
    assert main(["new", str(path), "--yes", "--place", "Natchez", "--bays", "3"]) == 0
    scene = load_scene(path).scene
    assert (scene.title, scene.house.bays, scene.site.place) == (
        "Mill house",
        3,
        "Natchez, Mississippi",
    )
    assert "31.56" in capsys.readouterr().out


def test_it_never_writes_over_a_file(tmp_path, capsys):
    path = tmp_path / "mine.yaml"
    path.write_text("mine", encoding="utf-8")
    assert main(["new", str(path), "--yes"]) == 2
    assert path.read_text(encoding="utf-8") == "mine"
    assert "exists" in capsys.readouterr().err


def test_a_wrong_answer_writes_nothing(tmp_path, capsys):
    path = tmp_path / "mine.yaml"
    assert main(["new", str(path), "--yes", "--width", "9 parsecs"]) == 2
    assert not path.exists()
    assert capsys.readouterr().err.startswith("width: given 9 parsecs")

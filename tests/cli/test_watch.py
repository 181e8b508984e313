"""A scene that is looked on while it is written, with a stand-in for its pictures."""

from __future__ import annotations

from pathlib import Path

import pytest

from massing.cli import main
from massing.practice.cautions import CAUTION
from massing.study.run import Outcome

SCENE = """\
title: House by the ford
site: {place: Anywhere, latitude: 44, longitude: 11.5, front_faces: S}
times: [summer solstice 10:00]
house: {width: 12 m, depth: 9 m, storeys: [3.3 m, 3 m]}
porch: {order: pier, columns: 4, diameter: 30 cm, entablature: 40 cm, height: eaves}
"""


@pytest.fixture
def watched(tmp_path, monkeypatch):
    """Runs ``massing watch``; each look at the clock is a chance to save the scene again."""
    monkeypatch.chdir(tmp_path)
    scene, saves, made = tmp_path / "scene.yaml", [], []
    scene.write_text(SCENE, encoding="utf-8")

    def run_study(study, folder, *, progress, on_sheet, **options):
        assert options["small_only"]
        if saves and saves[0] == "meanwhile":
            saves.pop(0)
            scene.write_text(SCENE.replace("30 cm", "36 cm"), encoding="utf-8")
        progress(1, 2, "a picture")
        made.append(round(100 * study.designs[0].porch.order.diameter_m))
        on_sheet([folder / "sheets" / "small.png"])
        return Outcome(Path(folder), (), (), {})

    def wait(_seconds):
        if not saves:
            raise KeyboardInterrupt
        scene.write_text(saves.pop(0), encoding="utf-8")

    monkeypatch.setattr("massing.study.run.run_study", run_study)
    monkeypatch.setattr("massing.cli.watch.require_blender", lambda: None)
    monkeypatch.setattr("massing.cli.watch.time.sleep", wait)
    return scene, saves, made


def test_each_save_gives_small_sheets_or_every_fault(watched, capsys) -> None:
    scene, saves, made = watched
    saves += [
        SCENE.replace("30 cm", "35 cm"),
        SCENE.replace("latitude: 44", "latitude: 144").replace("columns: 4", "colums: 5"),
        SCENE.replace("30 cm", "37 cm"),
    ]
    assert main(["watch", str(scene)]) == 130
    assert made == [30, 35, 37]
    out, err = capsys.readouterr()
    assert CAUTION in out
    assert out.count("small.png") == 3
    assert "latitude: given 144" in err
    assert "did you mean columns?" in err


def test_a_save_while_pictures_are_made_begins_them_again(watched) -> None:
    scene, saves, made = watched
    saves.append("meanwhile")
    assert main(["watch", str(scene)]) == 130
    assert made == [36]


def test_once_ends_and_a_fault_is_the_exit_code(watched) -> None:
    scene, _, made = watched
    assert main(["watch", str(scene), "--once"]) == 0
    assert made == [30]
    scene.write_text(SCENE.replace("44", "144"), encoding="utf-8")
    assert main(["watch", str(scene), "--once"]) == 2
    assert main(["watch", "-"]) == 2

"""Papers made at the desk: from what is in hand, whole, and nothing else is handed out."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from massing.cli.desk import jobs, papers
from massing.cli.desk.desk import Desk
from massing.cli.desk.jobs import Job, Pictures

SCENES = Path(__file__).parents[3] / "scenes"


@pytest.fixture
def desk(tmp_path):
    shutil.copy(SCENES / "vineyard_cottage.yaml", tmp_path / "cottage.yaml")
    return Desk(tmp_path / "cottage.yaml")


def test_sizes_are_of_what_is_in_hand(desk, tmp_path):
    desk.do("set", {"field": "porch.diameter", "text": "333 mm"})
    making = Pictures(tmp_path / "out")
    assert making.start_paper(desk.study(), "sizes", "as drawn")
    making.wait(60)
    said = making.said()
    assert (said["over"], said["fault"], said["papers"]) == (True, "", ["sizes.csv"])
    assert "333 mm" in making.paper("sizes.csv").read_text(encoding="utf-8")
    assert "333 mm" not in desk.path.read_text(encoding="utf-8"), "it was not saved"
    assert making.paper("cottage.yaml") is None


def test_the_time_left_is_by_the_mean_of_the_pictures_made(monkeypatch):
    clock = [100.0]
    monkeypatch.setattr(jobs.time, "monotonic", lambda: clock[0])
    job = Job()
    job.tell(0, 5, "elevation")
    assert job.left == "", "nobody knows yet"
    clock[0] = 160.0
    job.tell(2, 5, "street")
    assert job.left == "1 min 30 s left"
    clock[0] = 190.0
    assert job.left == "1 min 0 s left", "it runs down while a picture is in hand"
    clock[0] = 400.0
    assert job.left == "0 s left"
    job.tell(5, 5, "close-up")
    assert job.left == ""


def test_what_goes_wrong_is_one_line(desk, tmp_path, monkeypatch):
    def broken(*_given):
        raise ValueError("no\nhouse")

    monkeypatch.setattr(papers, "PAPERS", {"sizes": broken})
    making = Pictures(tmp_path / "out")
    making.start_paper(desk.study(), "sizes", "as drawn")
    making.wait(60)
    assert making.said()["fault"] == "no house"
    assert making.said()["papers"] == []

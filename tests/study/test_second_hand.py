"""A set drawn by two processes is the set that one draws, whatever becomes of the other."""

from __future__ import annotations

import datetime
import os
import signal
from pathlib import Path
from threading import Event

import pytest

from massing.present.drawings.drawing_set import Wanted, heading_of
from massing.study import drawings
from massing.study.drawings import make_drawings
from massing.study.second_hand import Drawn, SecondHand, Task
from massing.study.study import Study, read_study

SCENES = Path(__file__).parents[2] / "scenes"
LAST = 8
"""The sheet of windows and doors, which is soon drawn."""


@pytest.fixture(scope="module")
def study() -> Study:
    return read_study(SCENES / "vineyard_cottage.yaml")


@pytest.fixture(scope="module")
def task(study: Study) -> Task:
    design = study.designs[0]
    heading = heading_of(design, "House", datetime.date(2026, 11, 28), {})
    wanted = Wanted(design, study.models[design.name], heading, "A2", light=None)
    return Task(wanted, design.rounding_m, ("dxf",))


def test_the_other_process_draws_what_this_one_does(task: Task) -> None:
    with SecondHand() as other:
        other.take(task)
        answer = other.drawn(LAST)
        assert other.drawn(99) is None  # no such sheet; it goes on
        assert other.drawn(LAST) is not None
    assert answer is not None
    own, texts = task.drawn(LAST)
    sheet, files = answer
    assert (sheet.title, len(sheet.items)) == (own.title, len(own.items))
    assert files.keys() == texts.keys()


def test_a_process_that_has_ended_answers_nothing(task: Task) -> None:
    with SecondHand() as other:
        os.kill(other._process.pid, signal.SIGKILL)
        other.take(task)
        assert other.drawn(LAST) is None
    assert other._process.returncode is not None


def test_what_the_other_leaves_is_drawn_here(
    study: Study, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two sheets stand for the set; the other process takes one and dies over it."""
    makers = Wanted.makers
    monkeypatch.setattr(Wanted, "makers", lambda self: makers(self)[-2:])
    monkeypatch.setattr(drawings, "threads", lambda: 2)
    asked: list[int] = []
    dead = Event()

    def dies(self: SecondHand, place: int) -> None:
        asked.append(place)
        self._process.kill()
        dead.set()

    def waits(self: Task, place: int) -> Drawn:
        assert dead.wait(60.0)
        return draw(self, place)

    draw = Task.drawn
    monkeypatch.setattr(Task, "drawn", waits)
    monkeypatch.setattr(SecondHand, "drawn", dies)
    made = make_drawings(study, study.designs[0], tmp_path, light=None, formats=("dxf",))
    assert len(asked) == 1
    assert len(made) == len({path.name for path in made}) == 2
    assert all(path.stat().st_size > 1000 for path in made)


def test_without_a_second_core_one_process_draws_all(
    study: Study, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    makers = Wanted.makers
    monkeypatch.setattr(Wanted, "makers", lambda self: makers(self)[-1:])
    monkeypatch.setattr(drawings, "threads", lambda: 1)
    monkeypatch.setattr(drawings, "SecondHand", None)  # not to be called
    made = make_drawings(study, study.designs[0], tmp_path, light=None, formats=("dxf",))
    assert [path.suffix for path in made] == [".dxf"]

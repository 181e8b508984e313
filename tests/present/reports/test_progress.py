"""What is told during long work."""

from __future__ import annotations

import io

import pytest
from rich.console import Console

from massing.present.reports import progress
from massing.present.reports.progress import duration, progress_on, time_left


@pytest.fixture
def clock(monkeypatch):
    """A clock that stands until it is moved."""
    now = [100.0]
    monkeypatch.setattr(progress.time, "monotonic", lambda: now[0])
    return now


def test_without_a_terminal_each_picture_is_one_line_with_the_time_left(clock):
    out = io.StringIO()
    with progress_on(Console(file=out, width=40)) as report:
        report(0, 3, "first")
        clock[0] += 30.0
        report(1, 3, "first")
        report(1, 3, "second")
        clock[0] += 30.0
        report(2, 3, "second · with a name that is longer than the line is wide")
        report(3, 3, "third")
    assert out.getvalue().splitlines() == [
        "1/3 first, 1 min 0 s left",
        "2/3 second · with a name that is longer than the line is wide, 30 s left",
        "3/3 third",
    ]


def test_small_first_pictures_say_nothing_of_the_time_left(clock):
    """Three small ones in 3 s each, then large ones of 40 s: two more take 80."""
    out = io.StringIO()
    with progress_on(Console(file=out, width=40)) as report:
        for done in (1, 2, 3):
            clock[0] += 3.0
            report(done, 6, "porch, small")
        clock[0] += 40.0
        report(4, 6, "porch")
    assert out.getvalue().splitlines() == [
        "1/6 porch, small",
        "2/6 porch, small",
        "3/6 porch, small",
        "4/6 porch, 1 min 20 s left",
    ]


def test_on_a_terminal_there_is_a_bar_with_the_time_left(clock):
    out = io.StringIO()
    console = Console(file=out, width=100, force_terminal=True, force_interactive=False)
    with progress_on(console) as report:
        report(0, 2, "first")
        clock[0] += 50.0
        report(1, 2, "second")
        clock[0] += 20.0
    said = out.getvalue()
    assert "second" in said
    assert "1/2" in said
    assert "30 s left" in said


def test_nothing_to_do_shows_no_bar():
    out = io.StringIO()
    console = Console(file=out, width=100, force_terminal=True, force_interactive=False)
    with progress_on(console) as report:
        report(0, 0, "")
    assert "0/0" not in out.getvalue()


def test_time_left_is_by_the_mean_pace():
    assert time_left(60.0, 2, 5) == pytest.approx(90.0)
    assert time_left(60.0, 5, 5) == 0.0


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(0.4, "0 s"), (59.6, "1 min 0 s"), (3600, "1 h 0 min"), (61, "1 min 1 s")],
)
def test_durations_in_words(seconds, words):
    assert duration(seconds) == words

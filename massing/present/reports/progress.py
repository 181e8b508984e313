"""Progress of long work: a bar with the time left, or plain lines where there is no terminal."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.progress import (
    BarColumn,
    MofNCompleteColumn,
    Progress,
    ProgressColumn,
    Task,
    TextColumn,
    TimeElapsedColumn,
)
from rich.text import Text

from massing.present.words import SMALL

Report = Callable[[int, int, str], None]


@contextmanager
def progress_on(console: Console) -> Iterator[Report]:
    """A function to tell: how many are done, of how many, and what is in hand or just done."""
    if not console.is_terminal:
        yield _plain_lines(console)
        return
    columns = (
        TextColumn("{task.description}", markup=False),
        BarColumn(bar_width=None),
        MofNCompleteColumn(),
        TimeElapsedColumn(),
        _TimeLeft(),
    )
    pace = _Pace()
    with Progress(*columns, console=console) as bar:
        task = bar.add_task("", total=1, visible=False, until=None)

        def report(done: int, total: int, what: str) -> None:
            known = bar.tasks[task].fields["until"]
            if done > bar.tasks[task].completed:
                left = pace.left(done, total, what)
                known = None if left is None else time.monotonic() + left
            shown = total > 0
            bar.update(
                task, completed=done, total=total, description=what, until=known, visible=shown
            )

        yield report


class _TimeLeft(ProgressColumn):
    """The time left by the mean of all pictures so far: each takes too long for a faster rate."""

    def render(self, task: Task) -> Text:
        """Words for the task's time left."""
        until = task.fields["until"]
        if task.finished or until is None:
            return Text("")
        return Text(f"{duration(max(until - time.monotonic(), 0.0))} left")


def time_left(spent_s: float, done: int, total: int) -> float:
    """Seconds that the rest will take at the mean pace so far.

    >>> time_left(60.0, 2, 5)
    90.0
    """
    return spent_s / done * (total - done)


class _Pace:
    """How long a picture takes, the small first ones left aside: they say little of the rest."""

    def __init__(self) -> None:
        self.began, self.small = time.monotonic(), 0

    def left(self, done: int, total: int, what: str) -> float | None:
        """Seconds that the rest will take; None while it cannot be told."""
        if what.endswith(SMALL):
            self.began, self.small = time.monotonic(), done
        if done == self.small:
            return None
        return time_left(time.monotonic() - self.began, done - self.small, total - self.small)


def _plain_lines(console: Console) -> Report:
    pace = _Pace()
    told = 0

    def report(done: int, total: int, what: str) -> None:
        nonlocal told
        if done <= told:
            return
        told = done
        rest = pace.left(done, total, what)
        left = f", {duration(rest)} left" if done < total and rest is not None else ""
        console.print(f"{done}/{total} {what}{left}", soft_wrap=True)

    return report


def duration(seconds: float) -> str:
    """A time span in words.

    >>> duration(42), duration(200), duration(7260)
    ('42 s', '3 min 20 s', '2 h 1 min')
    """
    whole = round(seconds)
    if whole < 60:
        return f"{whole} s"
    minutes, rest = divmod(whole, 60)
    if minutes < 60:
        return f"{minutes} min {rest} s"
    return f"{minutes // 60} h {minutes % 60} min"

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
    TextColumn,
    TimeElapsedColumn,
    TimeRemainingColumn,
)

Report = Callable[[int, int, str], None]
_WINDOW_S = 1800.0  # pictures take many seconds each: the rate is taken over all of them


@contextmanager
def progress_on(console: Console) -> Iterator[Report]:
    """A function to tell: how many are done, of how many, and the name of the last one."""
    if not console.is_terminal:
        yield _plain_lines(console)
        return
    columns = (
        TextColumn("{task.description}"),
        BarColumn(bar_width=None),
        MofNCompleteColumn(),
        TimeElapsedColumn(),
        TextColumn("left"),
        TimeRemainingColumn(),
    )
    with Progress(*columns, console=console, speed_estimate_period=_WINDOW_S) as bar:
        task = bar.add_task("pictures", total=None)

        def report(done: int, total: int, what: str) -> None:
            bar.update(task, completed=done, total=total, description=what or "pictures")
            if total == 0:
                bar.update(task, visible=False)

        yield report


def _plain_lines(console: Console) -> Report:
    began = time.monotonic()

    def report(done: int, total: int, what: str) -> None:
        if done == 0 or total == 0:
            return
        left_s = (time.monotonic() - began) / done * (total - done)
        left = f", {duration(left_s)} left" if done < total else ""
        console.print(f"{done}/{total} {what}{left}", highlight=False, soft_wrap=True)

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

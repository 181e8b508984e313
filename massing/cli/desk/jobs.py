"""Pictures and papers made while the designer goes on: one at a time, its progress, its files."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from massing.present.reports.progress import duration, time_left
from massing.study.study import Study


@dataclass
class Job:
    """A study being made.

    Attributes:
        done, total: of its pictures.
        what: the picture in hand.
        over: whether it has ended, and ``fault`` why not well.
        stopped: whether it was asked to end.
        began_s, until_s: when it began and when all may be done, by a steady clock; the second
            is known once a picture is done.
    """

    done: int = 0
    total: int = 0
    what: str = ""
    over: bool = False
    fault: str = ""
    stopped: bool = False
    began_s: float = field(default_factory=lambda: time.monotonic())
    until_s: float | None = None

    def tell(self, done: int, total: int, what: str) -> None:
        """How far it has come; the time left is by the mean of all pictures so far."""
        if done > self.done:
            now = time.monotonic()
            self.until_s = now + time_left(now - self.began_s, done, total)
        self.done, self.total, self.what = done, total, what

    @property
    def left(self) -> str:
        """The time left in words, "" where that is not known."""
        if self.over or self.until_s is None or self.done >= self.total:
            return ""
        return f"{duration(max(self.until_s - time.monotonic(), 0.0))} left"


class Stopped(Exception):
    """The designer has had enough."""


class Pictures:
    """The output folder of a scene and the study that fills it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._job: Job | None = None
        self._thread: threading.Thread | None = None
        self._lock = threading.Lock()
        self._papers: dict[str, Path] = {}  # made by this desk, by the name to ask for

    def start(self, study: Study, only: Sequence[str], options: dict[str, Any]) -> bool:
        """Begin a study's pictures unless something is being made; whether they were begun."""
        return self._begin(Job(), lambda job: self._study(job, study, tuple(only), options))

    def start_paper(self, study: Study, kind: str, design: str) -> bool:
        """Begin one of :data:`~massing.cli.desk.papers.PAPERS` unless something is being made."""
        return self._begin(Job(what=kind), lambda job: self._paper(job, study, kind, design))

    def stop(self) -> None:
        """Ask the study to end after the picture in hand."""
        if self._job is not None:
            self._job.stopped = True

    def wait(self, timeout_s: float | None = None) -> None:
        """Until the study has ended."""
        if self._thread is not None:
            self._thread.join(timeout_s)

    def said(self) -> dict[str, Any]:
        """How far it is, and every picture that stands in the folder, the newest first."""
        job = self._job or Job(over=True)
        return {
            "done": job.done,
            "total": job.total,
            "what": job.what,
            "left": job.left,
            "over": job.over,
            "fault": job.fault,
            "pictures": self.standing(),
            "papers": list(self._papers),
        }

    def standing(self) -> list[str]:
        """Finished pictures from the folder, sheets first, each under its path there."""
        found = [p for p in self.folder.glob("*/*.png") if not p.name.startswith(".")]
        found.sort(key=lambda p: (p.parent.name != "sheets", p.as_posix()))
        return [p.relative_to(self.folder).as_posix() for p in found]

    def file(self, name: str) -> Path | None:
        """A finished picture by its path in the folder, None for anything else."""
        return self.folder / name if name in self.standing() else None

    def paper(self, name: str) -> Path | None:
        """A paper that this desk made, None for anything else."""
        return self._papers.get(name)

    def _begin(self, job: Job, make: Callable[[Job], None]) -> bool:
        with self._lock:
            if self._thread is not None and self._thread.is_alive():
                return False
            self._job = job
            self._thread = threading.Thread(target=_carry_out, args=(job, make), daemon=True)
            self._thread.start()
            return True

    def _study(self, job: Job, study: Study, only: Sequence[str], options: dict[str, Any]) -> None:
        from massing.study.run import run_study

        study.build()
        outcome = run_study(study, self.folder, only=only, progress=_progress(job), **options)
        job.fault = "; ".join(f"{name}: {why}" for name, why in outcome.failed.items())

    def _paper(self, job: Job, study: Study, kind: str, design: str) -> None:
        from massing.cli.desk.papers import PAPERS

        for path in PAPERS[kind](study, self.folder, design, _progress(job)):
            self._papers.pop(path.name, None)
            self._papers[path.name] = path


def _carry_out(job: Job, make: Callable[[Job], None]) -> None:
    """Make it; whatever goes wrong is the job's fault, in one line."""
    try:
        make(job)
    except Stopped:
        job.fault = "stopped; what is finished is kept"
    except Exception as fault:
        job.fault = " ".join(str(fault).split())
    finally:
        job.over = True


def _progress(job: Job) -> Callable[[int, int, str], None]:
    def progress(done: int, total: int, what: str) -> None:
        job.tell(done, total, what)
        if job.stopped:
            raise Stopped

    return progress

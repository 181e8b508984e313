"""Pictures and papers made while the designer goes on: one at a time, its progress, its files."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from massing.study.study import Study


@dataclass
class Job:
    """A study being made.

    Attributes:
        done, total: of its pictures.
        what: the picture in hand.
        made: files that are finished, from the output folder.
        over: whether it has ended, and ``fault`` why not well.
    """

    done: int = 0
    total: int = 0
    what: str = ""
    made: list[str] = field(default_factory=list)
    over: bool = False
    fault: str = ""
    stopped: bool = False


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

    def start(
        self, ready: Callable[[], Study], only: Sequence[str], options: dict[str, Any]
    ) -> bool:
        """Begin a study unless one is being made; whether it was begun."""
        with self._lock:
            if self._thread is not None and self._thread.is_alive():
                return False
            self._job = Job()
            self._thread = threading.Thread(
                target=self._run, args=(self._job, ready, tuple(only), options), daemon=True
            )
            self._thread.start()
            return True

    def start_paper(self, ready: Callable[[], Study], kind: str, design: str) -> bool:
        """Begin one of :data:`~massing.cli.desk.papers.PAPERS` unless something is being made."""
        with self._lock:
            if self._thread is not None and self._thread.is_alive():
                return False
            self._job = Job(what=kind)
            self._thread = threading.Thread(
                target=self._run_paper, args=(self._job, ready, kind, design), daemon=True
            )
            self._thread.start()
            return True

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

    def _run_paper(self, job: Job, ready: Callable[[], Study], kind: str, design: str) -> None:
        from massing.cli.desk.papers import PAPERS

        try:
            for path in PAPERS[kind](ready(), self.folder, design, self._progress(job)):
                self._papers.pop(path.name, None)
                self._papers[path.name] = path
        except Stopped:
            job.fault = "stopped; what is finished is kept"
        except Exception as fault:
            job.fault = " ".join(str(fault).split())
        finally:
            job.over = True

    def _progress(self, job: Job) -> Callable[[int, int, str], None]:
        def progress(done: int, total: int, what: str) -> None:
            job.done, job.total, job.what = done, total, what
            if job.stopped:
                raise Stopped

        return progress

    def _run(
        self, job: Job, ready: Callable[[], Study], only: Sequence[str], options: dict[str, Any]
    ) -> None:
        from massing.study.run import run_study

        try:
            study = ready()
            study.build()
            outcome = run_study(
                study, self.folder, only=only, progress=self._progress(job), **options
            )
            job.made = list(outcome.made)
            job.fault = "; ".join(f"{name}: {why}" for name, why in outcome.failed.items())
        except Stopped:
            job.fault = "stopped; what is finished is kept"
        except Exception as fault:
            job.fault = " ".join(str(fault).split())
        finally:
            job.over = True

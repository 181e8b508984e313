"""A process beside this one that draws half of a set of sheets.

Run as ``python -m massing.study.second_hand``. Standard input carries, pickled, a :class:`Task`
and then the sheets wanted, by their places in the set; standard output answers each in turn. It
ends when its input does, however the asking process ended.
"""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from typing import IO, Any

from massing.present.drawings.drawing_set import Wanted, files_of
from massing.present.drawings.sheet import Sheet
from massing.render.driver.process import python_command, safe_environment

Drawn = tuple[Sheet, dict[str, str]]
"""A sheet, and the texts of its own files by their names."""


@dataclass(frozen=True, eq=False)
class Task:
    """A set, and how its files are written: as of :func:`files_of`."""

    wanted: Wanted
    step_m: float
    formats: Sequence[str]

    def drawn(self, place: int) -> Drawn:
        """One sheet of the set."""
        sheet = self.wanted.makers()[place]()
        return sheet, files_of(sheet, self.wanted.heading, self.step_m, self.formats)


class SecondHand:
    """The process, from before there is a task for it, so that it starts meanwhile.

    Where it fails it answers None, and the sheet is drawn by who asked.
    """

    def __init__(self) -> None:
        self._process = subprocess.Popen(
            python_command("massing.study.second_hand"),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=safe_environment(),
        )

    def __enter__(self) -> SecondHand:
        return self

    def __exit__(self, *_: object) -> None:
        self._process.kill()
        self._process.communicate()

    def take(self, task: Task) -> None:
        """What the next places are of."""
        self._put(task)

    def drawn(self, place: int) -> Drawn | None:
        """One sheet, drawn there."""
        self._put(place)
        try:
            answer: Drawn | None = pickle.load(self._pipe(self._process.stdout))
        except (EOFError, OSError, ValueError, pickle.UnpicklingError):
            return None
        return answer

    def _put(self, message: object) -> None:
        pipe = self._pipe(self._process.stdin)
        try:
            pickle.dump(message, pipe)
            pipe.flush()
        except (OSError, ValueError):  # it has ended, and will answer nothing
            return

    @staticmethod
    def _pipe(pipe: IO[bytes] | None) -> Any:
        assert pipe is not None
        return pipe


def main() -> int:
    """Answer until the input ends."""
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # what a library prints is no answer
    try:
        task = pickle.load(sys.stdin.buffer)
        while True:
            place = pickle.load(sys.stdin.buffer)
            try:
                drawn = task.drawn(place)
            except Exception:  # who asked meets it too, and says it
                drawn = None
            pickle.dump(drawn, answers)
            answers.flush()
    except (EOFError, KeyboardInterrupt, BrokenPipeError):
        return 0


if __name__ == "__main__":
    sys.exit(main())

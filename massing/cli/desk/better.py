"""Better porches looked for while the designer goes on: one search at a time, its few proposals."""

from __future__ import annotations

import threading
from typing import Any

from massing.cli.desk.desk import Desk
from massing.cli.desk.refusal import Refusal
from massing.practice.cautions import CAUTION
from massing.present.board.elevation import Drawn
from massing.scene.load import LoadedScene
from massing.study.proposals import Proposed, elevations, propose

ELEVATION_MM = 90.0


class Porches:
    """The search in hand, and what the last one found."""

    def __init__(self, workers: int | None = None) -> None:
        """``workers`` are processes; by default one for each core."""
        self._workers = workers
        self._lock = threading.Lock()
        self._thread: threading.Thread | None = None
        self._done, self._total, self._fault = 0, 0, ""
        self._found: Proposed | None = None
        self._drawn: list[Drawn] = []

    def start(self, desk: Desk) -> bool:
        """Look for porches from the design shown, within the scene's limits, unless one is looked
        for already; whether it was begun.

        Raises:
            Refusal: the text in hand is at fault.
        """
        with desk.lock:
            if desk.hand.fault is not None:
                raise Refusal(desk.hand.fault.detail)
            text, name, loaded = desk.hand.text, desk.hand.shown, desk.hand.reading.loaded
        with self._lock:
            if self._thread is not None and self._thread.is_alive():
                return False
            self._done, self._total, self._fault = 0, 0, ""
            self._found, self._drawn = None, []
            self._thread = threading.Thread(
                target=self._look, args=(desk, text, name, loaded), daemon=True
            )
            self._thread.start()
            return True

    def wait(self, timeout_s: float | None = None) -> None:
        """Until the search has ended."""
        if self._thread is not None:
            self._thread.join(timeout_s)

    def _look(self, desk: Desk, text: str, name: str, loaded: LoadedScene) -> None:
        """Search and draw; whatever goes wrong is the fault, in one line."""

        def progress(done: int, total: int) -> None:
            self._done, self._total = done, total

        try:
            found = propose(
                desk.hand.path,
                text,
                loaded,
                design=name,
                workers=self._workers,
                progress=progress,
            )
            if not found.few:
                self._fault = "Within these limits no porch can be built."
                return
            self._drawn = elevations(found, ELEVATION_MM, self._workers)[1:]
            self._found = found
        except Exception as fault:
            self._fault = " ".join(str(fault).split())

    def said(self) -> dict[str, Any]:
        """How far it is, and each proposal in words."""
        over = self._thread is None or not self._thread.is_alive()
        found = self._found
        return {
            "done": self._done,
            "total": self._total,
            "over": over,
            "fault": self._fault,
            "from": found.outcome.begun.name if found else "",
            "count": f"{found.outcome.tried:,}" if found else "",
            "few": [
                {"letter": each.letter, "name": each.name, "why": each.why}
                for each in (found.few if found else ())
            ],
            "caution": CAUTION,
        }

    def picture(self, letter: str) -> str | None:
        """A proposal's elevation as SVG, None where there is none such."""
        found = self._found
        letters = [each.letter for each in found.few] if found else []
        return self._drawn[letters.index(letter)].svg if letter in letters else None

    def take(self, desk: Desk, letter: str) -> dict[str, Any]:
        """Put a proposal into the scene in hand as an alternative; the state after it.

        Raises:
            Refusal: there is none such, or the scene takes no more.
        """
        from massing.edit.proposals.writing import with_proposal

        found = self._found
        chosen = [each for each in found.few if each.letter == letter] if found else []
        if found is None or not chosen:
            raise Refusal(f"given {letter}, allowed: a proposal that was found")
        (each,), begun = chosen, found.outcome.begun
        return desk.put(each.name, lambda text: with_proposal(text, begun, each))

"""A design's sheets for the builder."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence
from contextlib import nullcontext
from datetime import date
from pathlib import Path
from queue import SimpleQueue
from threading import Thread

from massing.design.design import Design
from massing.geometry.rays import threads
from massing.present.drawings.drawing_set import (
    CONVENTIONAL_LIGHT,
    FORMATS,
    Light,
    Wanted,
    heading_of,
    paper_for,
    write_set,
)
from massing.present.drawings.notes import finding_notes
from massing.present.drawings.sheet import Sheet
from massing.study.second_hand import Drawn, SecondHand, Task
from massing.study.study import Study


def make_drawings(
    study: Study,
    design: Design,
    folder: Path,
    *,
    paper: str | None = None,
    light: Light | None = CONVENTIONAL_LIGHT,
    formats: Sequence[str] = FORMATS,
) -> list[Path]:
    """Draw a design's set of sheets into ``folder``; the files' paths.

    Args:
        paper: one of :data:`massing.present.drawings.scales.PAPERS_MM`, else by the front's size.
        light: of the front's shadows; none are drawn without it.
        formats: of :data:`massing.present.drawings.drawing_set.FORMATS`.

    Raises:
        SceneError: parts of the design collide.
        OSError: a file cannot be written.
    """
    alone = threads() == 1
    with nullcontext() if alone else SecondHand() as other:
        model = study.models[design.name]
        scene = study.loaded.scene
        given = scene.sheet.model_dump() if scene.sheet else {}
        heading = heading_of(design, scene.title, date.today(), given)
        on = paper or paper_for(design, model)
        wanted = Wanted(design, model, heading, on, finding_notes(design), light)
        task = Task(wanted, design.rounding_m, formats)
        texts: dict[str, dict[str, str]] = {}

        def sheets() -> Iterator[Sheet]:
            for sheet, own in _drawn(task, other):
                texts[sheet.number] = own
                yield sheet

        return write_set(sheets(), heading, folder, task.step_m, formats, texts)


def _drawn(task: Task, other: SecondHand | None) -> Iterator[Drawn]:
    """The sheets in their order, each drawn as soon as a hand is free.

    The other hand begins with the elevations, which take longest; this one with the last sheet.
    """
    count = len(task.wanted.makers())
    left = deque(range(count))
    made: dict[int, Drawn] = {}
    told: SimpleQueue[None] = SimpleQueue()

    def elsewhere(hand: SecondHand) -> None:
        place = None
        try:
            hand.take(task)
            while left:
                place = left.popleft()
                found = hand.drawn(place)
                if found is None:
                    break
                made[place], place = found, None
                told.put(None)
        finally:
            if place is not None:
                left.append(place)
            told.put(None)

    if other is not None:
        Thread(target=elsewhere, args=(other,), daemon=True).start()
    for place in range(count):
        while place not in made:
            try:
                own = left.pop()
            except IndexError:
                told.get()
            else:
                made[own] = task.drawn(own)
        yield made[place]

"""Proposals for a scene: searched, drawn, and put down in a folder."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Executor, ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path
from typing import Any

from massing.design.design import Design
from massing.edit.proposals.kinds import MOST
from massing.edit.proposals.sayings import Proposal, proposals
from massing.edit.proposals.search import DESIGNS, Outcome, begin, search
from massing.files import slug, write_whole
from massing.findings.change import telling_sun
from massing.present.board.elevation import Drawn, Window
from massing.present.proposals.elevation import drawn, widest, window_of
from massing.scene.load import LoadedScene
from massing.sun.position import SunTime

Progress = Callable[[int, int], object]


@dataclass(frozen=True, eq=False)
class Proposed:
    """What was found for a scene.

    Attributes:
        text: of the scene.
        outcome: of the search.
        few: the proposals.
        sun: that shows their cornices best; None without sun on the front at any hour.
    """

    text: str
    outcome: Outcome
    few: tuple[Proposal, ...]
    sun: SunTime | None


def propose(
    path: Path,
    text: str,
    loaded: LoadedScene,
    *,
    design: str | None = None,
    more: Mapping[str, Any] | None = None,
    designs: int | None = None,
    most: int = MOST,
    workers: int | None = None,
    others: Executor | None = None,
    progress: Progress = lambda done, total: None,
) -> Proposed:
    """Search a scene for better porches; see :func:`massing.edit.proposals.search.search`.

    Raises:
        SceneError: the scene cannot be built.
        pydantic.ValidationError: ``more`` holds what is no limit.
    """
    begun = begin(path, text, design, more)
    outcome = search(
        begun,
        designs=designs or DESIGNS,
        most=most,
        workers=workers,
        others=others,
        progress=progress,
    )
    taken = {slug(name) for name in loaded.designs}
    few = proposals(outcome, taken)
    return Proposed(text, outcome, tuple(few), telling_sun(begun.suns))


def elevations(proposed: Proposed, width_mm: float, workers: int | None = None) -> list[Drawn]:
    """The design that they begin from, then each proposal, all at one scale."""
    designs = [proposed.outcome.begun.space.start, *(each.design for each in proposed.few)]
    window = widest([window_of(each) for each in designs])
    jobs = [(each, window, width_mm, proposed.sun) for each in designs]
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    hands = min(workers or int(cores or 1), len(jobs))
    if hands == 1:
        return [_draw(job) for job in jobs]
    with ProcessPoolExecutor(hands, get_context("spawn")) as pool:
        return list(pool.map(_draw, jobs))


def _draw(job: tuple[Design, Window, float, SunTime | None]) -> Drawn:
    return drawn(*job)


def write_proposals(
    proposed: Proposed, folder: Path, title: str, workers: int | None = None
) -> list[Path]:
    """The sheet, the elevations, the table and the plot, each whole or not there."""
    from massing.present.proposals.front import front_csv, plot_front
    from massing.present.proposals.sheet import WIDTH_MM, Panel, panel, sheet

    pictures = elevations(proposed, WIDTH_MM, workers)
    start = proposed.outcome.begun
    panels = [
        Panel("", start.name, "The design that the proposals begin from.", "", pictures[0]),
        *(panel(each, picture) for each, picture in zip(proposed.few, pictures[1:], strict=True)),
    ]
    made: list[Path] = []
    for ending, content in sheet(proposed.outcome, title, panels, proposed.sun).items():
        made.append(folder / f"proposals{ending}")
        write_whole(made[-1], content)
    made.append(folder / "front.csv")
    write_whole(made[-1], front_csv(proposed.outcome, proposed.few))
    if proposed.few:
        made.append(folder / "front.png")
        plot_front(proposed.outcome, proposed.few, made[-1], title)
    return made


def added(proposed: Proposed, letters: Sequence[str]) -> str:
    """The scene's text with the proposals of those letters as alternatives."""
    from massing.edit.proposals.writing import with_proposal

    text = proposed.text
    for each in proposed.few:
        if each.letter in letters:
            text = with_proposal(text, proposed.outcome.begun, each)
    return text

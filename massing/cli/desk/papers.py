"""What the desk hands out on paper: sizes, the client's page and board, the builder's drawings."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from massing.study.study import Study

Progress = Callable[[int, int, str], object]
Maker = Callable[[Study, Path, str, Progress], list[Path]]


def _sizes(study: Study, folder: Path, _design: str, _progress: Progress) -> list[Path]:
    from massing.files import write_whole
    from massing.present.reports.schedule import schedule_csv

    path = folder / "sizes.csv"
    write_whole(path, schedule_csv(study.designs))
    return [path]


def _page(study: Study, folder: Path, _design: str, _progress: Progress) -> list[Path]:
    from massing.study.page import make_page

    return [make_page(study, folder, folder / "page.html").path]


def _board(study: Study, folder: Path, _design: str, progress: Progress) -> list[Path]:
    from massing.study.board import make_board

    study.build()
    board = make_board(study, folder, folder / "board.pdf", quality="draft", progress=progress)
    if board.failed:
        raise OSError("; ".join(f"{name}: {why}" for name, why in board.failed.items()))
    return [board.path]


def _drawings(study: Study, folder: Path, design: str, _progress: Progress) -> list[Path]:
    from massing.files import slug
    from massing.study.drawings import make_drawings

    chosen = next(d for d in study.designs if d.name == design)
    return make_drawings(study, chosen, folder / "drawings" / slug(design), formats=("pdf", "dxf"))


PAPERS: Mapping[str, Maker] = {
    "sizes": _sizes,
    "page": _page,
    "board": _board,
    "drawings": _drawings,
}
"""Each makes its files from a study, in the folder of its pictures."""

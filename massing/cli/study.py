"""``massing study``."""

from __future__ import annotations

import argparse
import time
from collections.abc import Sequence
from math import prod
from pathlib import Path
from typing import TYPE_CHECKING, Any

from massing.cli.shared import (
    FAILED,
    FINE,
    Refused,
    chosen,
    console,
    device_words,
    out_folder,
    require_blender,
    say,
    show,
    takes_designs,
    takes_only,
    takes_out_folder,
    takes_picture_options,
    takes_scene,
    takes_workers,
)

if TYPE_CHECKING:
    from rich.console import Console

    from massing.study.board import Board
    from massing.study.page import PageAlongTheWay
    from massing.study.run import Outcome
    from massing.study.study import Study

SUMMARY = "make a scene's pictures, sheets and figures"
DOCUMENTS = ("board", "page")  # what --also makes of the whole study; the page comes anyway


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, what of it, where to, and how it is photographed."""
    from massing.render.driver.shots import ALSO

    takes_scene(parser)
    takes_out_folder(parser, "renders/ and the scene's name, with -final for final quality")
    takes_designs(parser)
    takes_only(parser)
    takes_picture_options(parser)
    takes_workers(parser)
    parser.add_argument(
        "--also",
        action="append",
        default=[],
        choices=(*ALSO, *DOCUMENTS),
        help="write each picture as this too: PNG of 16 bits, OpenEXR, JPEG; or lay out a board "
        "of all designs in board.pdf; may be repeated (the page is always made)",
    )
    parser.add_argument(
        "--pairs",
        action="store_true",
        help="also lay each alternative beside the design as drawn, in sheets/pairs/",
    )
    parser.add_argument(
        "--open",
        action="store_true",
        help="show the study's page as soon as there is something to compare; it takes in the "
        "pictures as they come",
    )


def run(options: argparse.Namespace) -> int:
    """Say what can be said at once, make what is new, end with what there is to say of it."""
    from massing.practice.cautions import CAUTION
    from massing.present.reports.tables import print_figures, print_first, print_in_short
    from massing.study.board import check_board
    from massing.study.page import PageAlongTheWay
    from massing.study.study import read_study

    began = time.monotonic()
    study = read_study(options.scene)
    only = _only(study, options)
    suffix = "" if options.quality == "draft" else f"-{options.quality}"
    folder = out_folder(options, f"{study.loaded.name}{suffix}")
    if "board" in options.also:
        check_board(study)
    out = console(options.quiet)
    print_first(out, study.designs, study.suns)
    study.build()  # a design that cannot be built is said before anything is written
    require_blender()
    page = PageAlongTheWay(study, folder)
    laid = _Laid(out, page.path, began, options)
    outcome, board = _made(options, study, folder, only, page, laid)
    if options.verbose:
        print_figures(out, study.designs, study.suns)
    laid.show_page()
    _say_what_stands(out, outcome, folder, time.monotonic() - began, page.path)
    if board is not None and not board.failed:
        out.print(f"{board.pages} pages: {board.path}", soft_wrap=True)
    out.print()
    print_in_short(out, study.designs, study.suns)
    out.print(CAUTION, style="italic")
    failed = {**outcome.failed, **(board.failed if board else {})}
    for path, error in failed.items():
        say(FAILED, f"{path}: {error}")
    return FAILED if failed else FINE


def _made(
    options: argparse.Namespace,
    study: Study,
    folder: Path,
    only: list[str],
    page: PageAlongTheWay,
    laid: _Laid,
) -> tuple[Outcome, Board | None]:
    """Pictures, sheets and page; and the board, where it is asked for and nothing failed."""
    from massing.present.reports.progress import progress_on
    from massing.study.board import make_board
    from massing.study.run import run_study

    how: dict[str, Any] = {
        "quality": options.quality,
        "size_px": options.size,
        "device": options.device,
        "workers": options.workers,
    }
    with progress_on(laid.out) as progress:
        outcome = run_study(
            study,
            folder,
            only=only,
            on_device=device_words(options.device, lambda text: say(FINE, text)),
            progress=progress,
            say=lambda text: say(FINE, text),
            shadows=not only,
            also=[kind for kind in options.also if kind not in DOCUMENTS],
            pairs=options.pairs,
            page=page,
            on_sheet=laid.tell,
            **how,
        )
        board = None
        if "board" in options.also and not outcome.failed:
            board = make_board(study, folder, folder / "board.pdf", progress=progress, **how)
    return outcome, board


def _only(study: Study, options: argparse.Namespace) -> list[str]:
    """Words for what is to be made: designs named, and what ``--only`` says.

    Raises:
        Refused: nothing has such a name, or the pictures are more than a run can have.
    """
    from massing.study.budget import check_pictures
    from massing.study.pictures import SIZES_PX, choose

    named = [design.name for design in chosen(study, options.design)] if options.design else []
    only = [*named, *options.only]
    try:
        choice = choose(study, only)
        count = prod(len(names) for names in choice.values())
        check_pictures(count, options.size or SIZES_PX[options.quality], study.designs)
    except ValueError as fault:
        raise Refused(str(fault)) from None
    return only


class _Laid:
    """Tells of sheets as they are laid, and shows the page once there is something on it."""

    def __init__(self, out: Console, page: Path, began: float, options: argparse.Namespace) -> None:
        self.out, self.page, self.began, self.options = out, page, began, options
        self.shown = False

    def tell(self, paths: Sequence[Path]) -> None:
        """Of the first sheets, and where they are seen; of later ones on demand."""
        from massing.present.reports.progress import duration

        for path in paths:
            if not self.shown or self.options.verbose:
                took = duration(time.monotonic() - self.began)
                self.out.print(f"{path} ({took})", soft_wrap=True)
        if not self.shown:
            page = self.show_page()
            self.out.print(f"to watch the pictures come: {page}", soft_wrap=True)

    def show_page(self) -> Path:
        """Show the page where it is asked for and was not shown yet."""
        if self.shown:
            return self.page
        self.shown = True
        return show(self.page, self.options.open)


def _say_what_stands(
    out: Console, outcome: Outcome, folder: Path, took_s: float, page: Path
) -> None:
    """How much was made and kept, and where to look at it."""
    from massing.present.reports.progress import duration

    sheets = sum(path.startswith("sheets/") for path in outcome.made)
    measured = sum(path.startswith("shadows/") for path in outcome.made)
    made = sum(path.endswith(".png") for path in outcome.made if not path.startswith("shadows/"))
    out.print(
        f"{made - sheets} pictures made, {len(outcome.kept)} kept as they were, {sheets} sheets "
        f"laid out, {measured} files of shadows in {duration(took_s)}: {folder}",
        soft_wrap=True,
    )
    out.print(
        f"every figure and finding: {folder / 'figures.txt'}, {folder / 'findings.txt'}; all on "
        f"one page: {page}",
        soft_wrap=True,
    )

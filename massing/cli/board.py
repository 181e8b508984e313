"""``massing board``."""

from __future__ import annotations

import argparse

from massing.cli.shared import (
    DEFAULT_FOLDER,
    FAILED,
    FINE,
    Refused,
    console,
    one_chosen,
    out_file,
    require_blender,
    say,
    takes_device,
    takes_out_file,
    takes_scene,
    takes_workers,
)

SUMMARY = "lay the alternatives out for the client, as a PDF to print"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, the paper, where to, and how fine its pictures are."""
    from massing.present.board.layout import PAPERS

    takes_scene(parser)
    takes_out_file(parser, (".pdf",), "board.pdf in the study's folder")
    parser.add_argument(
        "--paper",
        choices=tuple(PAPERS),
        help="lying on its side (default: letter for feet, A4 for metric)",
    )
    parser.add_argument(
        "--design",
        metavar="NAME",
        help="the alternative that stands beside the design as drawn (default: the first)",
    )
    parser.add_argument(
        "--draft",
        action="store_true",
        help="take the study's draft pictures, and make those that are missing as drafts",
    )
    takes_device(parser)
    takes_workers(parser)


def run(options: argparse.Namespace) -> int:
    """Make the pictures that are missing, then the PDF."""
    from massing.practice.cautions import CAUTION
    from massing.present.reports.progress import progress_on
    from massing.study.board import check_board, make_board
    from massing.study.study import read_study

    study = read_study(options.scene)
    after = one_chosen(study, options.design).name if options.design else None
    if after == study.designs[0].name:
        allowed = "an alternative, to stand beside the design as drawn"
        raise Refused(f"--design: given {options.design}, allowed: {allowed}")
    name = study.loaded.name
    quality = "draft" if options.draft else "final"
    folder = DEFAULT_FOLDER / (name if options.draft else f"{name}-final")
    path = out_file(options, (".pdf",), folder.name, "board.pdf")
    check_board(study)  # a logo that cannot be used is said before anything is built
    study.build()
    require_blender()
    out = console()
    with progress_on(out) as progress:
        board = make_board(
            study,
            folder,
            path,
            paper=options.paper,
            quality=quality,
            after=after,
            progress=progress,
            say=lambda text: say(FINE, text),
            device=options.device,
            workers=options.workers,
        )
    for picture, error in board.failed.items():
        say(FAILED, f"{picture}: {error}")
    if board.failed:
        return say(FAILED, f"no board: {len(board.failed)} of its pictures failed")
    out.print(f"{board.pages} pages: {board.path}", soft_wrap=True)
    out.print(CAUTION, style="italic")
    return FINE

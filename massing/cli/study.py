"""``massing study``."""

from __future__ import annotations

import argparse
import time
from math import prod

from massing.cli.shared import (
    FAILED,
    FINE,
    Refused,
    chosen,
    console,
    out_folder,
    require_blender,
    say,
    takes_designs,
    takes_out_folder,
    takes_picture_options,
    takes_scene,
)

SUMMARY = "make a scene's pictures, sheets and figures"
DOCUMENTS = ("board", "page")  # what --also makes of the whole study, not of each picture


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, what of it, where to, and how it is photographed."""
    from massing.render.driver.shots import ALSO

    takes_scene(parser)
    takes_out_folder(parser, "renders/ and the scene's name, with -final for final quality")
    takes_designs(parser)
    parser.add_argument(
        "--only",
        action="append",
        default=[],
        metavar="NAME",
        help="only this time, view or look; may be repeated",
    )
    takes_picture_options(parser)
    parser.add_argument(
        "--also",
        action="append",
        default=[],
        choices=(*ALSO, *DOCUMENTS),
        help="write each picture as this too: PNG of 16 bits, OpenEXR, JPEG; or lay out a board "
        "of all designs in board.pdf, or a page to open in page.html; may be repeated",
    )
    parser.add_argument(
        "--pairs",
        action="store_true",
        help="also lay each alternative beside the design as drawn, in sheets/pairs/",
    )


def run(options: argparse.Namespace) -> int:
    """Make what is new, print the figures, and say what was made."""
    from massing.practice.cautions import CAUTION
    from massing.present.reports.progress import duration, progress_on
    from massing.present.reports.tables import print_figures
    from massing.study.board import check_board, make_board
    from massing.study.budget import check_pictures
    from massing.study.page import make_page
    from massing.study.pictures import SIZES_PX, choose
    from massing.study.run import run_study
    from massing.study.study import read_study

    study = read_study(options.scene)
    named = [design.name for design in chosen(study, options.design)] if options.design else []
    only = [*named, *options.only]
    try:
        choice = choose(study, only)
        count = prod(len(names) for names in choice.values())
        check_pictures(count, options.size or SIZES_PX[options.quality], study.designs)
    except ValueError as fault:
        raise Refused(str(fault)) from None
    suffix = "" if options.quality == "draft" else f"-{options.quality}"
    folder = out_folder(options, f"{study.loaded.name}{suffix}")
    with_board = "board" in options.also
    if with_board:
        check_board(study)
    study.build()  # a design that cannot be built is said before anything is written
    require_blender()
    out = console()
    began = time.monotonic()
    with progress_on(out) as progress:
        outcome = run_study(
            study,
            folder,
            only=only,
            quality=options.quality,
            size_px=options.size,
            device=options.device,
            progress=progress,
            say=lambda text: say(FINE, text),
            shadows=not only,
            also=[kind for kind in options.also if kind not in DOCUMENTS],
            pairs=options.pairs,
        )
        board = None
        if with_board and not outcome.failed:
            board = make_board(
                study,
                folder,
                folder / "board.pdf",
                quality=options.quality,
                size_px=options.size,
                device=options.device,
                progress=progress,
            )
        page = None
        if "page" in options.also and not outcome.failed:
            page = make_page(study, folder, folder / "page.html")
    print_figures(out, study.designs, study.suns)
    out.print(CAUTION, style="italic")
    sheets = sum(path.startswith("sheets/") for path in outcome.made)
    measured = sum(path.startswith("shadows/") for path in outcome.made)
    made = sum(path.endswith(".png") for path in outcome.made if not path.startswith("shadows/"))
    made -= sheets
    out.print(
        f"{made} pictures made, {len(outcome.kept)} kept as they were, {sheets} sheets laid out, "
        f"{measured} files of shadows "
        f"in {duration(time.monotonic() - began)}: {folder}",
        soft_wrap=True,
    )
    if board is not None and not board.failed:
        out.print(f"{board.pages} pages: {board.path}", soft_wrap=True)
    if page is not None:
        out.print(page.words, soft_wrap=True)
    failed = {**outcome.failed, **(board.failed if board else {})}
    for path, error in failed.items():
        say(FAILED, f"{path}: {error}")
    return FAILED if failed else FINE

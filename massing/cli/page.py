"""``massing page``."""

from __future__ import annotations

import argparse
from pathlib import Path

from massing.cli.shared import (
    DEFAULT_FOLDER,
    FINE,
    Refused,
    console,
    out_file,
    say,
    takes_out_file,
    takes_scene,
)

SUMMARY = "write one page to open or to mail: pictures, the model, figures"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, where its pictures stand, and where to."""
    takes_scene(parser)
    parser.add_argument(
        "--pictures",
        type=Path,
        metavar="FOLDER",
        help="of massing study (default: renders/, scene)",
    )
    takes_out_file(parser, (".html",), "renders/, scene, page.html")


def run(options: argparse.Namespace) -> int:
    """Write the page, and say which pictures it lacks."""
    from massing.practice.cautions import CAUTION
    from massing.study.page import make_page
    from massing.study.study import read_study

    study = read_study(options.scene)
    path = out_file(options, (".html",), study.loaded.name, "page.html")
    folder = options.pictures or DEFAULT_FOLDER / study.loaded.name
    if options.pictures and not folder.is_dir():
        raise Refused(f"--pictures: given {folder}, allowed: a folder that massing study made")
    made = make_page(study, folder, path)
    missing = made.wanted - made.pictures
    if missing:
        say(
            FINE,
            f"{missing} of {made.wanted} pictures do not stand in {folder} as they would be made "
            f"now; massing study {options.scene} makes them",
        )
    out = console()
    out.print(made.words, soft_wrap=True)
    out.print(CAUTION, soft_wrap=True)
    return FINE

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
    from massing.files import write_whole
    from massing.practice.cautions import CAUTION
    from massing.present.page.page import page_html
    from massing.study.page import page_subject, wanted_pictures
    from massing.study.study import read_study

    study = read_study(options.scene)
    path = out_file(options, (".html",), study.loaded.name, "page.html")
    folder = options.pictures or DEFAULT_FOLDER / study.loaded.name
    if options.pictures and not folder.is_dir():
        raise Refused(f"--pictures: given {folder}, allowed: a folder that massing study made")
    subject = page_subject(study, folder)
    missing = wanted_pictures(study) - len(subject.pictures)
    if missing:
        say(
            FINE,
            f"{missing} of {wanted_pictures(study)} pictures do not stand in {folder} as they "
            f"would be made now; massing study {options.scene} makes them",
        )
    write_whole(path, page_html(subject))
    size = path.stat().st_size / 1e6
    out = console()
    out.print(f"{path}: {len(subject.pictures)} pictures, {size:.1f} MB", soft_wrap=True)
    out.print(CAUTION, soft_wrap=True)
    return FINE

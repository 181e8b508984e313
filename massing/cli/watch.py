"""``massing watch``."""

from __future__ import annotations

import argparse
import time
from collections.abc import Sequence
from pathlib import Path

from massing.cli.shared import (
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
    takes_device,
    takes_only,
    takes_out_folder,
    takes_scene,
)

SUMMARY = "look on while a scene is written: after each save its faults, or new small sheets"
LOOK_EVERY_S = 0.3


class _Saved(Exception):
    """The scene was saved again while its pictures were being made."""


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, what of it, and where to."""
    takes_scene(parser)
    takes_out_folder(parser, "renders/ and the scene's name, as massing study")
    takes_designs(parser)
    takes_only(parser)
    takes_device(parser)
    parser.add_argument("--open", action="store_true", help="show the page of the small sheets")
    parser.add_argument(
        "--once", action="store_true", help="make the small sheets once, and end without waiting"
    )


def run(options: argparse.Namespace) -> int:
    """Make small sheets, wait for the file to be saved, and again, until Ctrl-C."""
    path: Path = options.scene
    if str(path) == "-":
        raise Refused("SCENE: given standard input, allowed: a file, which can be saved again")
    require_blender()
    opened = False
    while True:
        seen = _stamp(path)
        try:
            opened = _sheets(options, seen, opened) or opened
        except _Saved:
            continue
        if options.once:
            return FINE
        say(FINE, f"waiting for {path} to be saved; Ctrl-C ends")
        while _stamp(path) == seen:
            time.sleep(LOOK_EVERY_S)


def _sheets(options: argparse.Namespace, seen: tuple[int, int], opened: bool) -> bool:
    """The scene's faults, or its small sheets; whether its page was shown."""
    from massing.practice.cautions import CAUTION
    from massing.present.reports.tables import print_in_short
    from massing.scene.errors import SceneError
    from massing.study.check import every_fault
    from massing.study.page import PageAlongTheWay
    from massing.study.pictures import choose
    from massing.study.run import run_study
    from massing.study.study import read_study

    began = time.monotonic()
    try:
        study = read_study(options.scene)
        study.build()
    except SceneError as first:
        if options.once:
            raise
        for fault in every_fault(options.scene) or [first]:
            say(FINE, str(fault))
        return False
    named = [design.name for design in chosen(study, options.design)] if options.design else []
    only = [*named, *options.only]
    try:
        choose(study, only)
    except ValueError as fault:
        raise Refused(str(fault)) from None
    folder = out_folder(options, study.loaded.name)
    page = PageAlongTheWay(study, folder)
    out = console()
    print_in_short(out, study.designs, study.suns)

    def look_up(done: int, total: int, what: str) -> None:
        if not options.once and _stamp(options.scene) != seen:
            raise _Saved

    def laid(paths: Sequence[Path]) -> None:
        for path in paths:
            out.print(f"{path} ({time.monotonic() - began:.0f} s)", soft_wrap=True)

    run_study(
        study,
        folder,
        only=only,
        small_only=True,
        device=options.device,
        on_device=device_words(options.device, lambda text: say(FINE, text)),
        progress=look_up,
        say=lambda text: say(FINE, text),
        page=page,
        on_sheet=laid,
    )
    out.print(f"all on one page: {page.path}", soft_wrap=True)
    out.print(CAUTION, style="italic", soft_wrap=True)
    if not opened and options.open:
        show(page.path, True)
    return True


def _stamp(path: Path) -> tuple[int, int]:
    """What changes when a file is saved; an editor may have taken it away for a moment."""
    for _ in range(20):
        try:
            found = path.stat()
        except OSError:
            time.sleep(0.05)
        else:
            return found.st_mtime_ns, found.st_size
    return 0, 0

"""``massing plate``."""

from __future__ import annotations

import argparse
from pathlib import Path

from massing.cli.shared import (
    FINE,
    Refused,
    listed,
    one_chosen,
    out_file,
    takes_design,
    takes_out_file,
)

SUMMARY = "draw an order as a book's plate does"
ENDINGS = (".svg", ".pdf", ".png")


def arguments(parser: argparse.ArgumentParser) -> None:
    """An order and its canon, or a scene and one of its designs; where to."""
    from massing.canon import CANONS, ORDERS

    parser.add_argument("order", nargs="?", metavar="ORDER", help=listed(ORDERS))
    parser.add_argument("--canon", help=f"{listed(CANONS)} (default: vignola)")
    parser.add_argument(
        "--scene",
        type=Path,
        metavar="SCENE",
        help="the order as a scene's porch has it, beside the canon's",
    )
    takes_design(parser)
    parser.add_argument("--alternative", dest="design", help=argparse.SUPPRESS)
    takes_out_file(parser, ENDINGS, "in renders/plates/")


def run(options: argparse.Namespace) -> int:
    """Draw it and print the file's name."""
    if (options.order is None) == (options.scene is None):
        raise Refused("plate: give an ORDER, or --scene SCENE")
    path = _of_order(options) if options.scene is None else _of_scene(options)
    print(path)
    return FINE


def _of_order(options: argparse.Namespace) -> Path:
    from massing.present.ink.engravings import save_plate

    if options.design is not None:
        raise Refused("--design: only with --scene")
    canon = options.canon or "vignola"
    name = f"{canon}-{options.order.replace(' ', '-')}.svg"
    path = out_file(options, ENDINGS, "plates", name)
    try:
        save_plate(options.order, canon, path)
    except ValueError as fault:
        raise Refused(str(fault)) from None
    return path


def _of_scene(options: argparse.Namespace) -> Path:
    from massing.files import slug
    from massing.present.ink.engravings import save_design_plate
    from massing.study.study import read_study

    if options.canon is not None:
        raise Refused("--canon: only with an ORDER; a scene names its own canon")
    study = read_study(options.scene)
    design = one_chosen(study, options.design)
    path = out_file(options, ENDINGS, "plates", f"{study.loaded.name}-{slug(design.name)}.svg")
    save_design_plate(design, path)
    return path

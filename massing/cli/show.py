"""``massing show``."""

from __future__ import annotations

import argparse

from massing.cli.shared import FINE, chosen, console, takes_designs, takes_scene

SUMMARY = "print every dimension and where it came from"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, and which of its designs."""
    takes_scene(parser)
    takes_designs(parser)
    parser.add_argument("name", nargs="?", metavar="NAME", help=argparse.SUPPRESS)


def run(options: argparse.Namespace) -> int:
    """Print a table for each design."""
    from massing.present.reports.tables import print_origins
    from massing.scene.load import given_fields
    from massing.study.study import read_study

    study = read_study(options.scene)
    names = [*options.design, *([options.name] if options.name else [])]
    out = console()
    for design in chosen(study, names):
        spec, lines = study.loaded.designs[design.name], study.loaded.lines[design.name]
        print_origins(out, design, given_fields(spec, lines, design.origins))
    return FINE

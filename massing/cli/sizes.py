"""``massing sizes``."""

from __future__ import annotations

import argparse

from massing.cli.shared import FINE, chosen, console, takes_designs, takes_scene

SUMMARY = "print the builder's schedule of every member"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, which of its designs, and the form."""
    takes_scene(parser)
    takes_designs(parser)
    parser.add_argument(
        "--format", choices=("table", "csv"), default="table", help="default: table"
    )


def run(options: argparse.Namespace) -> int:
    """Print a schedule for each design."""
    from massing.present.reports.schedule import schedule_csv
    from massing.present.reports.tables import print_schedule
    from massing.study.study import read_study

    study = read_study(options.scene)
    designs = chosen(study, options.design)
    if options.format == "csv":
        print(schedule_csv(designs), end="")
        return FINE
    out = console()
    for design in designs:
        print_schedule(out, design)
    return FINE

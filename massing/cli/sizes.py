"""``massing sizes``."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from massing.cli.shared import (
    FINE,
    chosen,
    console,
    out_file,
    takes_designs,
    takes_out_file,
    takes_scene,
)

if TYPE_CHECKING:
    from massing.design.design import Design
    from massing.study.study import Study

SUMMARY = "print the builder's schedule of every member"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, which of its designs, and the form."""
    takes_scene(parser)
    takes_designs(parser)
    parser.add_argument(
        "--format", choices=("table", "csv"), default="table", help="default: table"
    )
    takes_out_file(parser, (".xlsx",), "print; a workbook has the quantities too")


def _workbook(options: argparse.Namespace, study: Study, designs: Sequence[Design]) -> int:
    """Write sizes and quantities as a workbook, and print its name."""
    from massing.files import write_whole
    from massing.present.reports.workbook import workbook

    path = out_file(options, (".xlsx",))
    write_whole(path, workbook([(design, study.models[design.name]) for design in designs]))
    print(path)
    return FINE


def run(options: argparse.Namespace) -> int:
    """Print a schedule for each design."""
    from massing.present.reports.schedule import schedule_csv
    from massing.present.reports.tables import print_schedule
    from massing.study.study import read_study

    study = read_study(options.scene)
    designs = chosen(study, options.design)
    if options.out is not None:
        return _workbook(options, study, designs)
    if options.format == "csv":
        print(schedule_csv(designs), end="")
        return FINE
    out = console()
    for design in designs:
        print_schedule(out, design)
    return FINE

"""``massing figures``."""

from __future__ import annotations

import argparse

from massing.cli.shared import FINE, chosen, console, takes_designs, takes_scene

SUMMARY = "print proportions, shadows and findings"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, which of its designs, and the form."""
    takes_scene(parser)
    takes_designs(parser)
    parser.add_argument(
        "--format", choices=("table", "json", "csv"), default="table", help="default: table"
    )


def run(options: argparse.Namespace) -> int:
    """Print them side by side."""
    from massing.present.reports.tables import (
        figures_csv,
        figures_json,
        print_figures,
        print_findings,
        print_in_short,
    )
    from massing.study.study import read_study

    study = read_study(options.scene)
    designs = chosen(study, options.design)
    if options.format == "json":
        print(figures_json(designs, study.suns), end="")
    elif options.format == "csv":
        print(figures_csv(designs, study.suns), end="")
    else:
        out = console()
        print_figures(out, designs, study.suns)
        print_findings(out, designs, study.designs[0])
        if len(designs) == len(study.designs):
            print_in_short(out, designs, study.suns)
    return FINE

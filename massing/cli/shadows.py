"""``massing shadows``."""

from __future__ import annotations

import argparse

from massing.cli.shared import (
    FINE,
    console,
    out_folder,
    say,
    takes_out_folder,
    takes_scene,
    takes_workers,
)

SUMMARY = "measure sun and shadow on the built model, as tables and plots"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, where to, and whether the whole year too."""
    takes_scene(parser)
    takes_out_folder(parser, "renders/, scene, shadows")
    takes_workers(parser, "measure the designs")
    parser.add_argument(
        "--year", action="store_true", help="also the hours of sun through the whole year"
    )


def run(options: argparse.Namespace) -> int:
    """Write the files and print the tables."""
    from massing.files import sole_use
    from massing.practice.cautions import CAUTION
    from massing.present.reports.shadow_tables import print_moments, print_raking, print_year
    from massing.render.driver.cluster import hands
    from massing.study.shadows import write_shadows
    from massing.study.study import read_study

    study = read_study(options.scene)
    folder = out_folder(options, study.loaded.name, "shadows")
    study.build()
    with (
        sole_use(folder, lambda: say(FINE, f"{folder} is in use by another run; waiting")),
        hands(options.workers, folder / "shadows.json", lambda text: say(FINE, text)) as others,
    ):
        report = write_shadows(
            study, folder, year=options.year, others=others, say=lambda text: say(FINE, text)
        )
    out = console()
    site = study.designs[0].site
    print_moments(out, report.moments, study.loaded.scene.units)
    print_raking(out, report.raking, site)
    if report.suns is not None:
        print_year(out, report.years, report.suns, site)
    out.print(CAUTION, style="italic")
    out.print(f"{len(report.made)} files: {folder}", soft_wrap=True)
    return FINE

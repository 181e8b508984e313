"""``massing profiles``."""

from __future__ import annotations

import argparse

from massing.cli.shared import (
    FINE,
    one_chosen,
    out_folder,
    say,
    takes_design,
    takes_out_folder,
    takes_scene,
)

SUMMARY = "draw every moulding of a design at full size, for knives and templates"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, one design, and the paper that pages are printed on."""
    takes_scene(parser)
    takes_design(parser)
    parser.add_argument(
        "--paper", choices=("letter", "A4"), help="default: letter by feet, A4 by metres"
    )
    takes_out_folder(parser, "renders/, scene, profiles, design")


def run(options: argparse.Namespace) -> int:
    """Write them and print the files' names."""
    from massing.files import slug, sole_use
    from massing.present.drawings.profiles import write_profiles
    from massing.study.study import read_study

    study = read_study(options.scene)
    design = one_chosen(study, options.design)
    folder = out_folder(options, study.loaded.name, "profiles", slug(design.name))
    page = options.paper or ("letter" if design.units == "feet" else "A4")
    with sole_use(folder, lambda: say(FINE, f"{folder} is in use by another run; waiting")):
        written = write_profiles(design, folder, page)
    for path in written:
        print(path)
    return FINE

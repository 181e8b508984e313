"""``massing montage``."""

from __future__ import annotations

import argparse

from massing.cli.shared import (
    FAILED,
    FINE,
    chosen,
    console,
    device_words,
    out_folder,
    require_blender,
    say,
    takes_designs,
    takes_device,
    takes_out_folder,
    takes_scene,
)

SUMMARY = "stand the alternatives in a photograph of the site"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, which of its designs, where to, and how they are rendered."""
    from massing.render.driver.shots import QUALITIES

    takes_scene(parser)
    takes_designs(parser)
    takes_out_folder(parser, "renders/, scene, montage")
    parser.add_argument(
        "--quality",
        choices=QUALITIES,
        default="draft",
        help="draft for looking, final for keeping (default: draft)",
    )
    takes_device(parser)


def run(options: argparse.Namespace) -> int:
    """Say how the camera was found, make the montages and print the files' names."""
    from massing.practice.cautions import CAUTION
    from massing.present.reports.progress import progress_on
    from massing.study.montage import LONGEST_PX, lines_said, make_montages, read_photograph
    from massing.study.study import read_study

    study = read_study(options.scene)
    designs = chosen(study, options.design)
    folder = out_folder(options, study.loaded.name, "montage")
    # A photograph that cannot be used is said before anything is built.
    site = read_photograph(study.loaded, study.designs[0], LONGEST_PX[options.quality])
    out = console()
    for line in lines_said(site, study.loaded.scene.units):
        out.print(line[:1].upper() + line[1:], soft_wrap=True)
    study.build()
    require_blender()
    with progress_on(out) as progress:
        outcome = make_montages(
            study,
            designs,
            folder,
            site,
            quality=options.quality,
            progress=progress,
            device=options.device,
            on_device=device_words(options.device, lambda text: say(FINE, text)),
            on_quiet=lambda text: say(FINE, text),
        )
    out.print(CAUTION, style="italic")
    for path in outcome.made:
        out.print(str(path), soft_wrap=True)
    for name, error in outcome.failed.items():
        say(FAILED, f"{name}: {error}")
    return FAILED if outcome.failed else FINE

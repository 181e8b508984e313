"""``massing series``."""

from __future__ import annotations

import argparse

from massing.cli.shared import (
    FAILED,
    FINE,
    Refused,
    chosen,
    console,
    out_folder,
    require_blender,
    say,
    takes_designs,
    takes_out_folder,
    takes_picture_options,
    takes_scene,
    takes_workers,
)

SUMMARY = "make the film of a day, or one hour in four seasons"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, which of its designs, a day or an hour, and how it is photographed."""
    from massing.render.driver.shots import LOOKS
    from massing.view.cameras import VIEWS

    takes_scene(parser)
    parser.add_argument("--day", help="a film and a strip of this day, such as 14 May")
    parser.add_argument("--hour", metavar="HH:MM", help="a strip of this hour in four seasons")
    takes_designs(parser)
    parser.add_argument(
        "--view", default="street", choices=VIEWS, metavar="VIEW", help=", ".join(VIEWS)
    )
    parser.add_argument("--look", default="materials", choices=LOOKS, help="default: materials")
    parser.add_argument(
        "--step", type=float, default=20.0, metavar="MIN", help="minutes between frames (20)"
    )
    takes_out_folder(parser, "renders/, scene, series")
    takes_picture_options(parser)
    takes_workers(parser)


def run(options: argparse.Namespace) -> int:
    """Make them and print the files' names."""
    from massing.practice.cautions import CAUTION
    from massing.present.reports.progress import progress_on
    from massing.study.series import run_day, run_seasons
    from massing.study.study import read_study

    if (options.day is None) == (options.hour is None):
        raise Refused("series: give --day DAY, or --hour HH:MM for the four seasons")
    study = read_study(options.scene)
    study.build()
    names = [design.name for design in chosen(study, options.design)]
    folder = out_folder(options, study.loaded.name, "series")
    require_blender()
    common = {
        "view": options.view,
        "look": options.look,
        "quality": options.quality,
        "size_px": options.size,
        "device": options.device,
        "workers": options.workers,
        "on_quiet": lambda text: say(FINE, text),
    }
    out = console()
    outcomes = []
    try:
        with progress_on(out) as progress:
            common["progress"] = progress
            if options.hour is not None:
                clock = options.hour
                outcomes.append(run_seasons(study, folder, clock=clock, designs=names, **common))
            else:
                day, step = options.day, options.step
                for name in names:
                    outcomes.append(
                        run_day(study, folder, day=day, design=name, step_min=step, **common)
                    )
    except ValueError as fault:
        raise Refused(f"series: {fault}") from None
    for outcome in outcomes:
        for path in outcome.made:
            out.print(str(path), soft_wrap=True)
        for name, error in outcome.failed.items():
            say(FAILED, f"{name}: {error}")
    out.print(CAUTION, style="italic")
    return FAILED if any(outcome.failed for outcome in outcomes) else FINE

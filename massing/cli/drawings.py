"""``massing drawings``."""

from __future__ import annotations

import argparse

from massing.cli.shared import (
    FINE,
    Refused,
    listed,
    one_chosen,
    out_folder,
    say,
    takes_design,
    takes_out_folder,
    takes_scene,
)

SUMMARY = "draw a design's sheets to scale for the builder: DXF, SVG and PDF"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, one design, the paper, the light and the kinds of file."""
    from massing.present.drawings.drawing_set import FORMATS
    from massing.present.drawings.scales import PAPERS_MM

    takes_scene(parser)
    takes_design(parser)
    parser.add_argument(
        "--paper", choices=tuple(PAPERS_MM), help="default: by the size of the front"
    )
    parser.add_argument(
        "--light",
        metavar="TIME",
        default="conventional",
        help="of the front's shadows: conventional (45 degrees from the left), none, or one of "
        "the scene's times by a part of its name (default: conventional)",
    )
    parser.add_argument(
        "--format",
        action="append",
        choices=FORMATS,
        default=[],
        help="may be repeated (default: all)",
    )
    takes_out_folder(parser, "renders/, scene, drawings, design")


def run(options: argparse.Namespace) -> int:
    """Write the set and print the files' names."""
    from massing.files import slug, sole_use
    from massing.present.drawings.drawing_set import CONVENTIONAL_LIGHT, FORMATS, Light
    from massing.present.words import light_line
    from massing.study.drawings import make_drawings
    from massing.study.study import read_study

    study = read_study(options.scene)
    design = one_chosen(study, options.design)
    folder = out_folder(options, study.loaded.name, "drawings", slug(design.name))
    light: Light | None = CONVENTIONAL_LIGHT
    if options.light == "none":
        light = None
    elif options.light != "conventional":
        wanted = options.light.lower()
        found = [s for s in study.suns if wanted in s.label.lower()]
        if len(found) != 1:
            names = listed([s.label for s in study.suns])
            raise Refused(f"--light: given {options.light}, allowed: conventional, none, {names}")
        words = light_line(design.site.place, found[0])
        light = Light(found[0].direction, f"Shadows: {words}.")
    formats = options.format or FORMATS
    with sole_use(folder, lambda: say(FINE, f"{folder} is in use by another run; waiting")):
        written = make_drawings(
            study, design, folder, paper=options.paper, light=light, formats=formats
        )
    for path in written:
        print(path)
    return FINE

"""``massing overlay``."""

from __future__ import annotations

import argparse

from massing.cli.shared import (
    FINE,
    console,
    one_chosen,
    out_folder,
    takes_design,
    takes_out_folder,
    takes_scene,
)

SUMMARY = "lay the model's front over the builder's drawing"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, which of its designs, and where to."""
    takes_scene(parser)
    takes_design(parser)
    takes_out_folder(parser, "renders/, scene, overlay")


def run(options: argparse.Namespace) -> int:
    """Write the overlay and say how far the points agree."""
    from massing.practice.cautions import CAUTION
    from massing.study.overlay import make_overlay, read_sheet
    from massing.study.study import read_study

    study = read_study(options.scene)
    design = one_chosen(study, options.design)
    folder = out_folder(options, study.loaded.name, "overlay")
    read_sheet(study.loaded)  # a drawing that cannot be used is said before anything is built
    made, said = make_overlay(study, design, folder)
    out = console()
    for line in said:
        out.print(line[:1].upper() + line[1:], soft_wrap=True)
    out.print(CAUTION, style="italic")
    for path in made:
        out.print(str(path), soft_wrap=True)
    return FINE

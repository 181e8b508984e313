"""``massing check``."""

from __future__ import annotations

import argparse
import sys

from massing.cli.shared import BAD_INPUT, FINE, takes_scene

SUMMARY = "say all that is wrong with a scene file, or what was understood of it"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene."""
    takes_scene(parser)


def run(options: argparse.Namespace) -> int:
    """Read, resolve and build every design, and read the drawing; say what was understood."""
    from massing.practice.cautions import CAUTION
    from massing.present.reports.understood import understood
    from massing.scene.errors import SceneError
    from massing.study.study import read_study

    try:
        study = read_study(options.scene)
        study.check()
    except SceneError as first:
        from massing.present.reports.understood import slips
        from massing.study.check import faults_and_rest

        faults, rest = faults_and_rest(options.scene)
        for fault in faults or [first]:
            print(fault, file=sys.stderr)
        wrong = {fault.field[-1] for fault in faults if fault.field[:1] == ("site",)}
        placed = not wrong & {"latitude", "longitude", "place"}
        for slip in slips(rest, placed=placed, faced="front_faces" not in wrong) if rest else ():
            print(f"Look again: {slip}", file=sys.stderr)
        return BAD_INPUT
    if study.loaded.scene.drawing is not None:
        from massing.study.overlay import read_sheet

        read_sheet(study.loaded)
    others = "; ".join(design.name for design in study.designs[1:]) or "no alternatives"
    print(f"{options.scene}: fine; {study.designs[0].name}; {others}")
    for line in understood(study.designs, study.suns):
        print(line)
    print(CAUTION)
    return FINE

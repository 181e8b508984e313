"""``massing check``."""

from __future__ import annotations

import argparse

from massing.cli.shared import FINE, takes_scene

SUMMARY = "say whether a scene file is valid"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene."""
    takes_scene(parser)


def run(options: argparse.Namespace) -> int:
    """Read, resolve and build every design, and read the drawing."""
    from massing.study.study import read_study

    study = read_study(options.scene)
    study.build()
    if study.loaded.scene.drawing is not None:
        from massing.study.overlay import read_sheet

        read_sheet(study.loaded)
    others = "; ".join(design.name for design in study.designs[1:]) or "no alternatives"
    print(f"{options.scene}: fine; {study.designs[0].name}; {others}")
    return FINE

"""``massing schema``."""

from __future__ import annotations

import argparse
import json

from massing.cli.shared import FINE

SUMMARY = "print the scene file's JSON Schema, for editors"


def arguments(parser: argparse.ArgumentParser) -> None:
    """None."""


def run(options: argparse.Namespace) -> int:
    """Print it."""
    from massing.scene.schema import scene_schema

    print(json.dumps(scene_schema(), indent=2, ensure_ascii=False))
    return FINE

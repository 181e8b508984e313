"""``massing licences``."""

from __future__ import annotations

import argparse
from importlib import resources

from massing.cli.shared import FINE

SUMMARY = "list what others made that this tool stands on, with its licences"
TABLE = "third_party.txt"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Nothing to say."""


def run(options: argparse.Namespace) -> int:
    """Print the list, which ``python -m addon.third_party`` makes."""
    print(resources.files("massing.cli").joinpath(TABLE).read_text(encoding="utf-8"), end="")
    return FINE

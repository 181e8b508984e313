"""``massing explain``."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from massing.cli.shared import FINE, Refused

if TYPE_CHECKING:
    from massing.study.study import Study

SUMMARY = "say what a field of a scene means: its values, its default and rule, an example"
MOST_LISTED = 40


def arguments(parser: argparse.ArgumentParser) -> None:
    """The field, or all."""
    parser.add_argument(
        "field",
        nargs="*",
        metavar="FIELD",
        help="such as porch.depth, depth, or words to look for, such as cornice height; without: "
        "the groups",
    )
    parser.add_argument(
        "--all", action="store_true", help="every field, as a page of Markdown (scenes/FIELDS.md)"
    )
    parser.add_argument(
        "-o", "--out", type=Path, metavar="FILE", help="where the page goes (default: printed)"
    )


def run(options: argparse.Namespace) -> int:
    """Explain one field, list those that may be meant, or write the page."""
    from massing.files import write_users_own
    from massing.practice.cautions import CAUTION
    from massing.study.reference import entries, explained, fields_page, found

    every = entries(bundled())
    if options.all:
        page = fields_page(every)
        if options.out:
            write_users_own(options.out, page)
        else:
            print(page, end="")
        return FINE
    words = " ".join(options.field)
    if not words:
        for name, entry in every.items():
            if "." not in name:
                print(f"{name}: {entry.field.description}")
        return FINE
    some = found(every, words)
    if not some:
        raise Refused(f"FIELD: given {words}, allowed: a field or a word of one; massing explain")
    if len(some) == 1:
        print("\n".join(explained(some[0], every)))
        print(CAUTION)
        return FINE
    for entry in some[:MOST_LISTED]:
        print(f"{entry.name}: {entry.field.description}")
    if len(some) > MOST_LISTED:
        print(f"and {len(some) - MOST_LISTED} more; say more of the name")
    return FINE


def bundled() -> list[Study]:
    """The bundled scenes, for their rules and examples."""
    from massing.cli.demo import HERE, scenes
    from massing.study.study import read_study

    return [read_study(HERE / f"{name}.yaml") for name in scenes()]

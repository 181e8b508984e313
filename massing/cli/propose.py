"""``massing propose``."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from massing.cli.shared import (
    FINE,
    Refused,
    console,
    listed,
    one_chosen,
    out_folder,
    takes_design,
    takes_out_folder,
    takes_scene,
    takes_workers,
)

if TYPE_CHECKING:
    from pathlib import Path

    from rich.console import Console

    from massing.study.proposals import Proposed
    from massing.study.study import Study

SUMMARY = "look for better porches within limits, or for one that throws a wanted shadow"

_LISTS = {
    "orders": ("ORDER", "orders allowed"),
    "columns": ("N", "numbers of columns allowed across the front"),
    "bays": ("N", "numbers of the house's bays allowed"),
    "roofs": ("ROOF", "roofs of the porch allowed: flat, hipped, pediment"),
    "keep": (
        "WHAT",
        "what stays: windows, bays, height, spacing, columns, depth, roof, width",
    ),
    "without": ("WHAT", "what no proposal has: pedestals, balustrade, side columns, pediment"),
}
_LENGTHS = {
    "width": "of the porch over its entablature, at most",
    "largest_diameter": "of a column, such as 22 in",
    "entablature": "its depth, as it must be",
}


def arguments(parser: argparse.ArgumentParser) -> None:
    """The scene, the limits, and what to do with what is found."""
    takes_scene(parser)
    takes_design(parser)
    for name, (metavar, words) in _LISTS.items():
        parser.add_argument(
            f"--{name}", metavar=f"{metavar},{metavar}", help=f"{words}, with commas between"
        )
    for name, words in _LENGTHS.items():
        parser.add_argument(f"--{name.replace('_', '-')}", metavar="LENGTH", help=words)
    parser.add_argument(
        "--most", type=int, default=8, choices=range(2, 9), metavar="N", help="proposals (8)"
    )
    parser.add_argument(
        "--add",
        metavar="LETTERS",
        help="write these of the proposals into the scene as alternatives, such as AC; or all",
    )
    parser.add_argument(
        "--shadow",
        metavar="WORDS",
        help='a shadow wanted instead, such as "frieze half in shadow at 14 May 10:00"',
    )
    takes_workers(parser, "resolve and measure the porches")
    takes_out_folder(parser, "renders/, scene, proposals")


def run(options: argparse.Namespace) -> int:
    """Search, print, write the sheet, and add what is asked for."""
    from massing.study.study import read_study

    study = read_study(options.scene)
    if options.shadow is not None:
        return _shadow(options, study)
    return _porches(options, study)


def _limits(options: argparse.Namespace) -> dict[str, Any]:
    asked: dict[str, Any] = {}
    for name in _LISTS:
        written = getattr(options, name)
        if written is not None:
            words = [word.strip() for word in written.split(",") if word.strip()]
            whole = name in ("columns", "bays")
            asked[name] = [int(w) if whole and w.isdecimal() else w for w in words]
    asked |= {n: getattr(options, n) for n in _LENGTHS if getattr(options, n) is not None}
    return asked


def _porches(options: argparse.Namespace, study: Study) -> int:
    """Look for porches within the limits, print them and write what was asked for."""
    from massing.files import write_users_own
    from massing.practice.cautions import CAUTION
    from massing.scene.text import read_text
    from massing.study.proposals import added, write_proposals

    folder = out_folder(options, study.loaded.name, "proposals")
    text, out = read_text(options.scene), console()
    proposed = _found(options, study, text, folder, out)
    wanted = _letters(options.add, proposed)
    _print_found(out, proposed)
    made = write_proposals(proposed, folder, study.loaded.scene.title)
    if wanted:
        write_users_own(options.scene, added(proposed, wanted))
    out.print(CAUTION, style="italic")
    for path in made:
        out.print(str(path), soft_wrap=True)
    if wanted:
        names = listed([e.name for e in proposed.few if e.letter in wanted], "and")
        out.print(f"{options.scene}: {names} added as alternatives", soft_wrap=True)
    return FINE


def _found(
    options: argparse.Namespace, study: Study, text: str, folder: Path, out: Console
) -> Proposed:
    """The porches within the limits; refuses limits that are none."""
    from pydantic import ValidationError

    from massing.present.reports.progress import progress_on
    from massing.render.driver.cluster import hands
    from massing.scene.explain import explain
    from massing.scene.spec import Propose
    from massing.study.proposals import propose

    design = one_chosen(study, options.design)
    try:
        near = folder / "proposals.pdf"
        with progress_on(out) as report, hands(options.workers, near, out.print) as others:
            return propose(
                options.scene,
                text,
                study.loaded,
                design=design.name,
                more=_limits(options),
                most=options.most,
                others=others,
                progress=lambda done, total: (
                    report(done, total, "porches resolved and measured")
                    if out.is_terminal
                    else None
                ),
            )
    except ValidationError as invalid:
        fault = invalid.errors(include_url=False)[0]
        name = str(fault["loc"][0]).replace("_", "-") if fault["loc"] else "limits"
        raise Refused(f"--{name}: {explain(Propose, fault)}") from None


def _print_found(out: Console, proposed: Proposed) -> None:
    """How many there are, and the few of them with what speaks for each; refuses none."""
    from massing.present.proposals.front import measures_table, sources

    outcome = proposed.outcome
    out.print(
        f"{outcome.tried:,} porches resolved and measured, {len(outcome.built):,} can be built; "
        f"{len(outcome.front):,} of them nothing of their own character betters."
    )
    if outcome.unavoidable:
        keys = ", ".join(sorted(outcome.unavoidable))
        out.print(f"Within these limits every porch has findings on: {keys}.")
    if not proposed.few:
        raise Refused("propose: given limits within which no porch can be built; allowed: wider")
    for each in proposed.few:
        out.print(f"\n{each.letter}  {each.name}  ({each.like} of its kind)", style="bold")
        out.print(f"   {each.why}")
    out.print()
    out.print(measures_table(outcome, proposed.few))
    out.print()
    for line in sources():
        out.print(line, style="dim")


def _letters(asked: str | None, proposed: Proposed) -> str:
    """The letters to add, all of them known."""
    have = "".join(each.letter for each in proposed.few)
    if asked is None:
        return ""
    if asked.strip().lower() == "all":
        return have
    letters = "".join(asked.upper().replace(",", " ").split())
    if not letters or any(letter not in have for letter in letters):
        raise Refused(f"--add: given {asked}, allowed: letters of {have or 'none'}, or all")
    return letters


def _shadow(options: argparse.Namespace, study: Study) -> int:
    from massing.edit.proposals.shadow_wanted import find, read_wish
    from massing.practice.cautions import CAUTION

    if options.add is not None:
        raise Refused("--add: given with --shadow, allowed: without it")
    design = one_chosen(study, options.design)
    try:
        answer = find(read_wish(options.shadow, design.site), design)
    except ValueError as fault:
        raise Refused(f"--shadow: {fault}") from None
    out = console()
    for line in answer.lines:
        out.print(line, soft_wrap=True)
    out.print(CAUTION, style="italic")
    return FINE

"""``massing new``."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from massing.cli.shared import FINE, Refused, say

SUMMARY = "ask eight questions and write a scene that already compares three porches"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The file to write, and answers that need no asking."""
    from massing.edit.begin import questions

    parser.add_argument("scene", type=Path, metavar="SCENE", help="scene file to write (YAML)")
    parser.add_argument("--title", help="of the house (default: from the file's name)")
    for question in questions():
        flag = "--" + question.field.replace("_", "-")
        parser.add_argument(flag, metavar="ANSWER", help=f"{question.allowed} ({question.default})")
    parser.add_argument("--yes", action="store_true", help="ask nothing, take what is usual")


def run(options: argparse.Namespace) -> int:
    """Ask, write the scene, and say what may be done with it."""
    from massing.edit.begin import answer, new_scene, questions
    from massing.files import write_users_own

    path: Path = options.scene
    if path.suffix.lower() not in (".yaml", ".yml"):
        raise Refused(f"SCENE: given {path}, allowed: a name in .yaml")
    if path.exists():
        raise Refused(f"SCENE: given {path}, which exists, allowed: a new name")
    asking = sys.stdin.isatty() and not options.yes
    said: dict[str, str] = {}
    units = options.units or "feet"
    for field in [question.field for question in questions()]:
        given = getattr(options, field)
        said[field] = given or (_ask(field, said, units) if asking else "")
        if field == "units":
            units = "metric" if said[field].lower().startswith("m") else "feet"
    try:
        asked = answer(said)
        text = new_scene(asked, options.title or path.stem.replace("_", " ").capitalize())
    except ValueError as fault:
        raise Refused(str(fault)) from None
    write_users_own(path, text)
    print(f"{path}: {asked.place}, {asked.latitude_deg:g}, {asked.longitude_deg:g}")
    return say(FINE, f"Next: massing figures {path}; massing study {path}")


def _ask(field: str, said: dict[str, str], units: str) -> str:
    """The answer typed to one question, asked again until it can be read."""
    from massing.edit.begin import answer, questions

    question = next(q for q in questions(units) if q.field == field)
    while True:
        typed = input(f"{question.words} ({question.allowed}) [{question.default}]: ").strip()
        try:
            answer({**said, field: typed})
        except ValueError as fault:
            if str(fault).startswith(f"{field}:"):
                say(FINE, str(fault))
                continue
        return typed

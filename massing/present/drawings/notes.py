"""What the findings say of a design, in the words of who builds it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from massing.design.design import Design
from massing.design.opening import STOREYS
from massing.findings.finding import Finding
from massing.findings.report import findings
from massing.units import floor_name

_RANK = {"caution": 0, "check": 1, "note": 2}
_OPENING = re.compile(
    r"\b(?:(left|right) wing, )?(front|back|left|right)/"
    rf"({'|'.join(STOREYS)})/([a-z]+(?: [a-z]+)*)(?: (\d+[a-z]?))?"
)
_FIELD = re.compile(r"\b[a-z_]+(?:\[\d+\])?(?:\.[a-z_]+(?:\[\d+\])?)+\b")
_OF_EACH = ("first", "second", "third", "fourth", "fifth", "sixth")


def finding_notes(design: Design) -> list[str]:
    """The findings as notes on a sheet, the cautions first, each with its source."""
    found = sorted(findings(design), key=lambda f: _RANK.get(f.severity, 3))
    return [_note(each, design.units) for each in found]


def _note(found: Finding, units: str) -> str:
    text = found.text
    if found.key == "gave way":
        # what could have been typed instead is the designer's, at the desk
        text = text.partition("; allowed: ")[0].rstrip(".") + "."
        text = re.sub(r"( which would have made )[a-z_.\[\]0-9]+, ", r"\1", text)
        text = text.replace(" by rule, which", ", the usual, which")
    text = in_words(text, units)
    source = found.source.replace(" (read)", "").replace(" (from memory)", ", from memory")
    return f"{text[:1].upper()}{text[1:]} ({source})" if source else f"{text[:1].upper()}{text[1:]}"


def in_words(text: str, units: str) -> str:
    """A sentence whose openings and parts are called by the trade's words instead of by paths.

    >>> in_words("front/ground/window 2 is low; porch.floor is high.", "metric")
    'window 2 on the ground floor of the front is low; the floor of the porch is high.'
    """
    text = _OPENING.sub(lambda m: _opening(m.groups(), units), text)
    return _FIELD.sub(lambda m: _field(m.group().split(".")), text)


def _opening(found: Sequence[str | None], units: str) -> str:
    wing, wall, storey, kind, number = found
    which = f"{kind} {number}" if number else f"the {kind}"
    whose = f"the {wing} wing's {wall}" if wing else f"the {wall}"
    floor = floor_name(STOREYS.index(storey or STOREYS[0]), units)
    return f"{which} on the {floor} of {whose}"


def _field(steps: Sequence[str]) -> str:
    """A dotted name read from its end: what, of what, of what."""
    words = []
    for i, step in enumerate(reversed(steps)):
        name, _, index = step.rstrip("]").partition("[")
        name = name.replace("_", " ")
        if i == len(steps) - 1 and name == "house" and len(steps) > 2:
            continue
        if index:
            single = name.removesuffix("s")
            place = int(index) - 1
            name = f"{_OF_EACH[place]} {single}" if place < len(_OF_EACH) else f"{single} {index}"
        words.append(f"the {name}")
    return " of ".join(words)

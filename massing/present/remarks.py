"""What the findings say of a design, as a client and a builder read it: by the trade's words
instead of by the paths and fields of the scene."""

from __future__ import annotations

import re
from collections.abc import Sequence

from massing.design.opening import STOREYS
from massing.findings.finding import Finding
from massing.units import floor_name

_OPENING = re.compile(
    r"\b(?:(left|right) wing, )?(front|back|left|right)/"
    rf"({'|'.join(STOREYS)})/([a-z]+(?: [a-z]+)*)(?: (\d+[a-z]?))?"
)
_FIELD = re.compile(r"\b[a-z_]+(?:\[\d+\])?(?:\.[a-z_]+(?:\[\d+\])?)+\b")
_OF_EACH = ("first", "second", "third", "fourth", "fifth", "sixth")


def remark_text(found: Finding, units: str) -> str:
    """A finding's sentence without its source, beginning with a capital."""
    text = found.text
    if found.key == "gave way":
        # what could have been typed instead is the designer's, at the desk
        text = text.partition("; allowed: ")[0].rstrip(".") + "."
        text = re.sub(r"( which would have made )[a-z_.\[\]0-9]+, ", r"\1", text)
        text = text.replace(" by rule, which", ", the usual, which")
    text = in_words(text, units)
    return text[:1].upper() + text[1:]


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

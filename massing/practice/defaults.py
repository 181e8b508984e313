"""The book of practice: what a scene leaves out, as the trade would have it.

An architect can proofread ``practice/defaults.yaml`` in one sitting: a row is a value as the
trade writes it, its source and what it measures. Resolvers take the value, sentences the words.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from massing.practice.rules import Rule, read_rules


@cache
def defaults() -> Mapping[str, Rule]:
    """Every row by section and name, such as ``steps.riser``."""
    return read_rules("defaults.yaml")


def default_rule(name: str) -> Rule:
    """The row of a name, with its writing, source and words.

    >>> default_rule("steps.riser").written
    '6 1/2 in'
    """
    return defaults()[name]


def default(name: str) -> float:
    """The value of a row: metres, or a plain number for a share or a slope.

    >>> round(default("steps.tread"), 4)
    0.3302
    """
    return default_rule(name).value


def sourced(words: str, name: str) -> str:
    """Words that say a row's share, with its source and how that is known.

    >>> sourced("1/7 of the width", "dormers.cornice")
    '1/7 of the width (common practice)'
    >>> sourced("3/4 of the entablature", "guards.balustrade").endswith("(read))")
    True
    """
    row = default_rule(name)
    return f"{words} ({'common practice' if row.source == 'practice' else row.cited})"


def share(name: str) -> str:
    """A row's share in words.

    >>> share("windows.two_of_one"), share("gables.foot")
    ('three fifths', 'a quarter')
    """
    return default_rule(name).share


def said_default(name: str, units: str = "feet") -> str:
    """A row for the sentence on where a number came from: its value and source.

    >>> said_default("steps.tread")
    'common practice: 13 in'
    >>> said_default("roof.gutter")
    '5 in (City of Irving, Gutters and downspouts, edition not noted, sizes (read))'
    """
    row = default_rule(name)
    if row.source == "practice":
        return f"common practice: {row.said(units)}"
    return f"{row.said(units)} ({row.cited})"

"""Parts' names where a format allows each only once."""

from __future__ import annotations

from collections.abc import Sequence


def distinct(names: Sequence[str]) -> list[str]:
    """The names, each once: the second of a name has `` 2`` added, and so on.

    >>> distinct(["hedge", "walk", "hedge", "hedge 2"])
    ['hedge', 'walk', 'hedge 3', 'hedge 2']
    """
    taken = set(names)
    given: set[str] = set()
    found = []
    for name in names:
        number, own = 1, name
        while own in given or (number > 1 and own in taken):
            number += 1
            own = f"{name} {number}"
        given.add(own)
        found.append(own)
    return found

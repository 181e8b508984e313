"""The register of sources: whose each number is, and how it is known."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from massing.files import table

READ, FROM_MEMORY = "read", "from memory"
MARKS = (READ, FROM_MEMORY, "common practice, no source", "derived")


@dataclass(frozen=True)
class Source:
    """Where a number was taken from.

    Attributes:
        key: its name in tables: a work's name and the place in it, ``practice`` or ``derived``.
        mark: one of :data:`MARKS`.
    """

    key: str
    author: str
    work: str
    edition: str
    place: str
    mark: str

    @property
    def name(self) -> str:
        """Author, work, edition and place, without the mark.

        >>> source("ware p. 8").name
        'W. R. Ware, The American Vignola, part 1, 1920, p. 8'
        """
        parts = (self.author, self.work, self.edition, self.place)
        return ", ".join(part for part in parts if part)

    def __str__(self) -> str:
        """As it is printed: the name with its mark, or the mark alone.

        >>> str(source("irc R312.1.1"))
        'International Residential Code, 2018, R312.1.1 (read)'
        >>> str(source("practice"))
        'common practice, no source'
        """
        return f"{self.name} ({self.mark})" if self.name else self.mark


@cache
def sources() -> Mapping[str, Source]:
    """Every source by its key, from ``canon/sources.yaml``."""
    found = {
        "practice": Source("practice", "", "", "", "", "common practice, no source"),
        "derived": Source("derived", "", "", "", "", "derived"),
    }
    works: Mapping[str, Any] = table("massing.canon", "sources.yaml")["works"]
    for name, row in works.items():
        for place, mark in row["places"].items():
            key = f"{name} {place}"
            found[key] = Source(
                key, row.get("author", ""), row["work"], row["edition"], place, mark
            )
    return found


_GIVEN: dict[str, Source] = {}  # of canons that scenes brought along


def give_source(canon: str, words: str, file: str, mark: str) -> str:
    """Enter where a scene's own canon has its members from; its key."""
    key = f"{canon}, the scene's own"
    _GIVEN[key] = Source(key, "", words, "", file, mark)
    return key


def source(key: str) -> Source:
    """The source of a key.

    Raises:
        ValueError: the register has no such key.
    """
    if key in _GIVEN:
        return _GIVEN[key]
    if key not in sources():
        raise ValueError(f"source {key!r} is not in the register, canon/sources.yaml")
    return sources()[key]


def cited(keys: str | Iterable[str]) -> str:
    """Sources as they are printed: each once, with its mark.

    >>> cited(["practice", "practice"])
    'common practice, no source'
    """
    each = [keys] if isinstance(keys, str) else keys
    return "; ".join(dict.fromkeys(str(source(key)) for key in each))

"""Towns by name, offline: where a house stands, for who knows the town and not its latitude.

The table is GeoNames' (Creative Commons Attribution 4.0), packed by ``examples/pack_towns.py``.
"""

from __future__ import annotations

import lzma
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

TABLE = Path(__file__).with_name("towns.tsv.xz")


@dataclass(frozen=True)
class Town:
    """A town; ``region`` is its state in the United States, else its country.

    ``country`` is the two letters of ISO 3166; latitude and longitude are in degrees, north and
    east positive, to a hundredth.
    """

    name: str
    region: str
    country: str
    latitude_deg: float
    longitude_deg: float

    @property
    def words(self) -> str:
        """As a scene file names the place.

        >>> Town("Beaufort", "South Carolina", "US", 32.43, -80.67).words
        'Beaufort, South Carolina'
        """
        return f"{self.name}, {self.region}"


def towns_named(text: str, most: int = 8) -> list[Town]:
    """Towns whose name is, begins with or holds ``text``, the best and the largest first.

    A region may follow after a comma; accents and the case of letters do not matter.

    >>> [t.words for t in towns_named("beaufort, south", 2)]
    ['Beaufort, South Carolina', 'Beaufort West, South Africa']
    >>> towns_named("nowhere at all")
    []
    """
    name, _, region = (_plain(part) for part in text.partition(","))
    if not name:
        return []
    found: list[list[Town]] = [[], [], []]
    for plain, row in _towns():
        if name not in plain:
            continue
        town = _town(*row.split("\t"))
        if region not in _plain(town.region):
            continue
        found[0 if plain == name else 1 if plain.startswith(name) else 2].append(town)
    return [town for group in found for town in group][:most]


def _plain(text: str) -> str:
    if text.isascii():
        return " ".join(text.lower().split())
    letters = unicodedata.normalize("NFKD", text.casefold())
    return " ".join("".join(c for c in letters if not unicodedata.combining(c)).split())


@cache
def _towns() -> Sequence[tuple[str, str]]:
    """Every town's name, plainly, and its row, the largest first; towns are made of those found."""
    rows = lzma.decompress(TABLE.read_bytes()).decode().splitlines()
    return [(_plain(row.partition("\t")[0]), row) for row in rows]


def _town(name: str, region: str, country: str, latitude: str, longitude: str) -> Town:
    return Town(name, region, country, float(latitude), float(longitude))

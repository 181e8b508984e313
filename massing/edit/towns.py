"""Towns by name, offline: where a house stands, for who knows the town and not its latitude.

The table is GeoNames' (Creative Commons Attribution 4.0), packed by ``examples/pack_towns.py``.
"""

from __future__ import annotations

import unicodedata
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

TABLE = Path(__file__).with_name("towns.tsv.z")


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
    for row in _rows_with(name):
        plain, town = _plain(row.partition("\t")[0]), _town(*row.split("\t")[:5])
        if name not in plain or region not in _plain(town.region):
            continue
        found[0 if plain == name else 1 if plain.startswith(name) else 2].append(town)
    return [town for group in found for town in group][:most]


def plain_column(name: str) -> str:
    """What a row has after its numbers, where small letters alone do not make its name plain."""
    return "" if name.isascii() and name.lower() == _plain(name) else f"\t{_plain(name)}"


def _plain(text: str) -> str:
    if text.isascii():
        return " ".join(text.lower().split())
    letters = unicodedata.normalize("NFKD", text.casefold())
    return " ".join("".join(c for c in letters if not unicodedata.combining(c)).split())


def _rows_with(text: str) -> Iterator[str]:
    """Rows that hold ``text``, the largest town first.

    They are looked for in the table as one string: to take it apart costs forty times as much.
    """
    table, wanted = _table(), text.encode()
    at = table.find(wanted)
    while at >= 0:
        start, end = table.rfind(b"\n", 0, at) + 1, table.find(b"\n", at)
        yield _written()[start:end].decode()
        at = table.find(wanted, end)


@cache
def _written() -> bytes:
    return zlib.decompress(TABLE.read_bytes())


@cache
def _table() -> bytes:
    """The same in small letters; those beyond ASCII stand plainly after their row's numbers."""
    return _written().lower()


def _town(name: str, region: str, country: str, latitude: str, longitude: str) -> Town:
    return Town(name, region, country, float(latitude), float(longitude))

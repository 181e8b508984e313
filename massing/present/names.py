"""Names that a designer gives, written where a program may take them for more than names.

File names are made by :func:`massing.files.slug`.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable
from typing import IO

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", *"＝＋－＠")


def csv_cell(value: object) -> object:
    """A cell that a spreadsheet shows and never runs; numbers stay numbers.

    >>> csv_cell("=1+1"), csv_cell("-2.5"), csv_cell(-2.5), csv_cell("four columns")
    ("'=1+1", '-2.5', -2.5, 'four columns')
    """
    if not isinstance(value, str) or not value.lstrip(" ").startswith(_FORMULA):
        return value
    try:
        float(value)
    except ValueError:
        return f"'{value}"
    return value


class CsvTable:
    """Rows written as CSV, each cell harmless."""

    def __init__(self, file: IO[str]) -> None:
        """Write to ``file``."""
        self._writer = csv.writer(file, lineterminator="\n")

    def writerow(self, row: Iterable[object]) -> None:
        """Write one row."""
        self._writer.writerow([csv_cell(cell) for cell in row])

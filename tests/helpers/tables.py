"""Reading back the tables that the tool writes for other programs."""

from __future__ import annotations

import csv


def rows(text: str) -> list[dict[str, str]]:
    """The rows of a CSV by their headings; comments, such as the caution at its head, left out."""
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))

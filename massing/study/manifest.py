"""What stands in a folder, and what each file was made from.

``study.json`` keeps, beside each file, a hash of all that it depends on, its key, and a hash of
what was written, so that a file that was cut short or changed since does not count.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from massing import __version__
from massing.files import read_bounded, write_whole
from massing.parts.part import Model

MANIFEST = "study.json"
MOST_BYTES = 50_000_000


@dataclass(frozen=True)
class Entry:
    """One file: the hash of what it was made from, of what was written, of the words in it."""

    key: str
    sha256: str
    words: str = ""


class Manifest:
    """The record of one folder, on disk after every change."""

    def __init__(self, folder: Path) -> None:
        """Read the folder's record; one that is spoilt or missing costs only time."""
        self.folder = folder
        self.entries: dict[str, Entry] = {}
        try:
            text = read_bounded(folder / MANIFEST, MOST_BYTES)
            for path, entry in json.loads(text)["files"].items():
                found = [str(entry[field]) for field in ("key", "sha256", "words")]
                self.entries[str(path)] = Entry(*found)
        except (OSError, ValueError, KeyError, AttributeError, TypeError, RecursionError):
            self.entries = {}

    def stands(self, path: str, key: str) -> bool:
        """Whether the file is as it was written, and was made from the same things."""
        entry = self.entries.get(path)
        return (
            entry is not None
            and entry.key == key
            and _file_hash(self.folder / path) == entry.sha256
        )

    def says(self, path: str, metadata: Mapping[str, str]) -> bool:
        """Whether the words inside a file that stands are these."""
        return self.entries[path].words == hash_of(dict(metadata))

    def record(self, paths: list[str], key: str, metadata: Mapping[str, str] | None = None) -> None:
        """Note that files were just made from what ``key`` says, with these words inside."""
        for path in paths:
            words = hash_of(dict(metadata or {}))
            self.entries[path] = Entry(key, _file_hash(self.folder / path), words)
        files = {path: vars(entry) for path, entry in sorted(self.entries.items())}
        content = {"version": __version__, "files": files}
        write_whole(self.folder / MANIFEST, json.dumps(content, indent=1) + "\n")


def _file_hash(path: Path) -> str:
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""


def model_hash(model: Model) -> str:
    """A hash of all that a model shows: names, roles, shapes, placements and notes."""
    digest = hashlib.sha256(hash_of(model.name, model.notes).encode())
    for part in model.parts:
        digest.update(hash_of(part.name, part.role, part.solid).encode())
        for array in (part.mesh.vertices, part.mesh.faces, part.placements):
            if array is not None:
                digest.update(f"{array.dtype}{array.shape}".encode())
                digest.update(np.ascontiguousarray(array).tobytes())
    return digest.hexdigest()


def hash_of(*values: Any) -> str:
    """A hash of plain values."""
    return hashlib.sha256(json.dumps(values, sort_keys=True).encode()).hexdigest()

"""Files that are whole or not there, and folders that one run at a time writes to."""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

try:
    import fcntl
except ImportError:  # pragma: no cover - no such locks on this system
    fcntl = None  # type: ignore[assignment]

LOCK_NAME = ".in-use"
_TEMPORARY = re.compile(r"\.\d+-|\..*\.\d+\.tmp")  # ours, and a render worker's


def slug(text: str) -> str:
    """A name fit for a file on any system: lower-case letters and figures between hyphens.

    >>> slug("Six Tuscan columns"), slug("summer solstice 10:30"), slug("Côté Jardin!")
    ('six-tuscan-columns', 'summer-solstice-10-30', 'cote-jardin')
    """
    plain = unicodedata.normalize("NFKD", text)
    plain = "".join(c for c in plain if not unicodedata.combining(c))
    return re.sub(r"[\W_]+", "-", plain.lower()).strip("-")


def write_whole(path: Path, content: str | bytes) -> None:
    """Write a file that appears complete or not at all; makes its folder."""
    data = content.encode("utf-8") if isinstance(content, str) else content
    write_by(path, lambda temporary: temporary.write_bytes(data))


def write_by(path: Path, write: Callable[[Path], object]) -> None:
    """Let ``write`` fill a temporary file beside ``path``, then give it its name.

    The temporary file keeps the ending, for writers that go by it; on any failure it is gone.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    temporary = path.with_name(f".{os.getpid()}-{path.name}")
    try:
        write(temporary)
        temporary.replace(path)
    finally:
        temporary.unlink(missing_ok=True)


def sweep(folder: Path) -> None:
    """Remove temporary files that a killed run left; only for who has sole use of the folder."""
    for path in folder.rglob(".*"):
        if _TEMPORARY.match(path.name) and path.is_file():
            path.unlink(missing_ok=True)


@contextmanager
def sole_use(folder: Path, waiting: Callable[[], object]) -> Iterator[None]:
    """Hold ``folder`` for this process; calls ``waiting`` once if another holds it, and waits.

    The hold ends with the process, however it ends.
    """
    folder.mkdir(parents=True, exist_ok=True)
    with (folder / LOCK_NAME).open("w") as lock:
        if fcntl is not None:
            try:
                fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                waiting()
                fcntl.flock(lock, fcntl.LOCK_EX)
        yield

"""Files that are whole or not there, and folders that are the tool's own.

A folder that the tool makes is marked: the mark lists every file that the tool wrote in it, and
the one name under which temporary files stand there. Nothing else in it is ever replaced or
removed, links are not followed, and a folder that holds anything else is refused.
"""

from __future__ import annotations

import errno
import hashlib
import importlib.util
import json
import marshal
import os
import re
import secrets
import shutil
import stat
import sys
import time
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from importlib import resources
from pathlib import Path
from typing import IO, Any

LOCK_NAME = ".in-use"
MARK_NAME = ".massing"
MOST_MARK_BYTES = 20_000_000
_FIRST_LINE = "made by massing; what is listed here is its own, and is replaced without asking"
_TEMPORARY = re.compile(r"\.massing-[0-9a-f]{32}")
_UNFINISHED = re.compile(r"\.[0-9a-f]{32}(\.\w+)?")
_LONG_AGO_S = 3600.0
_LONGEST_NAME_BYTES = 72
_DEVICES = {"con", "prn", "aux", "nul", *(f"{d}{n}" for d in ("com", "lpt") for n in range(10))}
_LITTER = {".DS_Store", "Thumbs.db", "desktop.ini", ".directory"}  # of file managers
_HEIGHT = 5  # folders above a file in which its mark is looked for
_NOFOLLOW = getattr(os, "O_NOFOLLOW", 0)
_NONBLOCK = getattr(os, "O_NONBLOCK", 0)  # a pipe without a writer must not hold us up

told_of_files: list[Callable[[Path], object]] = []
"""Who wants to hear of each file as it gets its name in this process."""

_held: dict[Path, Path] = {}  # folders in this process's sole use, with where temporary files go


class NotOwnFolderError(OSError):
    """A folder that the tool may not write to; its text is the one line to print."""


def slug(text: str) -> str:
    """A name fit for a file on any system: lower-case letters and figures between hyphens.

    A long name is cut and told apart by a hash; names that some systems keep for devices get a
    hyphen.

    >>> slug("Six Tuscan columns"), slug("summer solstice 10:30"), slug("Côté Jardin!")
    ('six-tuscan-columns', 'summer-solstice-10-30', 'cote-jardin')
    """
    plain = unicodedata.normalize("NFKD", text)
    plain = "".join(c for c in plain if not unicodedata.combining(c))
    name = re.sub(r"[\W_]+", "-", plain.lower()).strip("-")
    if len(name.encode()) > _LONGEST_NAME_BYTES:  # three of them make one file's name
        cut = name.encode()[: _LONGEST_NAME_BYTES - 9].decode(errors="ignore").strip("-")
        name = f"{cut}-{hashlib.sha256(text.encode()).hexdigest()[:8]}"
    return f"{name}-" if name in _DEVICES else name


# --- reading -------------------------------------------------------------------------------


def read_bounded(path: Path, most_bytes: int) -> bytes:
    """A regular file's bytes, of which there are at most ``most_bytes``.

    Raises:
        OSError: no such file; also one that is no regular file (``EINVAL``) or too long
            (``EFBIG``).
    """
    with os.fdopen(os.open(path, os.O_RDONLY | _NONBLOCK), "rb") as file:
        if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
            raise OSError(errno.EINVAL, "not a regular file", str(path))
        data = file.read(most_bytes + 1)
    if len(data) > most_bytes:
        raise OSError(errno.EFBIG, f"more than {most_bytes} bytes", str(path))
    return data


def given_path(folder: Path, name: str) -> Path:
    """Where a file stands that a scene in ``folder`` names.

    Raises:
        ValueError: it would stand outside the folder; the text says what is allowed.
    """
    try:
        path = (folder / name).resolve()
        inside = path.is_relative_to(folder.resolve())
    except (OSError, ValueError, RuntimeError):  # a loop of links, or a NUL
        inside = False
    if not inside:
        raise ValueError(f"given {name!r}, allowed: a path within the scene file's folder")
    return path


# --- writing -------------------------------------------------------------------------------


def write_whole(path: Path, content: str | bytes) -> None:
    """Write a file that appears complete or not at all; makes its folder."""
    data = content.encode("utf-8") if isinstance(content, str) else content
    write_by(path, lambda temporary: temporary.write_bytes(data))


def write_by(path: Path, write: Callable[[Path], object]) -> None:
    """Let ``write`` fill a temporary file, see it to the disk, then give it its name.

    The temporary file keeps the ending, for writers that go by it; on any failure it is gone.
    A folder that has to be made for it is marked as the tool's own.

    Raises:
        NotOwnFolderError: the way to the file leads over a link out of the tool's own folder.
    """
    _make_folder(path.parent)
    claim([path])
    temporary = temporary_name(path)
    if temporary.parent == path.parent:
        _note_unfinished(temporary)
    _fill(temporary, path, write)


def write_users_own(path: Path, content: str | bytes) -> None:
    """Write a file that is the user's, as a scene is, whole or not at all; makes its folder.

    Neither the file nor its folder becomes the tool's own.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    data = content.encode("utf-8") if isinstance(content, str) else content
    _fill(temporary_name(path), path, lambda temporary: temporary.write_bytes(data))


def _fill(temporary: Path, path: Path, write: Callable[[Path], object]) -> None:
    try:
        os.close(os.open(temporary, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _NOFOLLOW, 0o666))
        write(temporary)
        put_in_place(temporary, path)
    finally:
        temporary.unlink(missing_ok=True)


def put_in_place(temporary: Path, path: Path) -> None:
    """Give a finished file its name, and see both to the disk."""
    _to_disk(temporary, os.O_RDWR)
    temporary.replace(path)
    if not path.name.startswith("."):
        for tell in told_of_files:
            tell(path)
    with suppress(OSError):  # folders cannot be opened everywhere
        _to_disk(path.parent, os.O_RDONLY)


def temporary_name(path: Path) -> Path:
    """A name that no one can foresee for a file that will become ``path``.

    It stands among the temporary files of the folder that this process holds, or beside.
    """
    staging = _staging(path)
    return (staging or path.parent) / f".{secrets.token_hex(16)}{path.suffix}"


@contextmanager
def temporary_folder(near: Path) -> Iterator[Path]:
    """A folder that is gone afterwards, on the disk of ``near``."""
    _make_folder(near.parent)
    folder = temporary_name(near).with_suffix("")
    if folder.parent == near.parent:
        _note_unfinished(folder)
    folder.mkdir(mode=0o700)
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def open_to_append(path: Path) -> IO[str]:
    """Open a text file to add lines to, following no link.

    Raises:
        NotOwnFolderError: a link, or something that is no file, stands there.
    """
    _make_folder(path.parent)
    claim([path])
    flags = os.O_WRONLY | os.O_CREAT | os.O_APPEND | _NOFOLLOW | _NONBLOCK
    try:
        file = os.fdopen(os.open(path, flags, 0o666), "a", encoding="utf-8")
    except OSError as fault:
        if fault.errno in (errno.ELOOP, errno.ENXIO, errno.EISDIR):
            raise _not_own(path, "is no plain file") from None
        raise
    if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
        file.close()
        raise _not_own(path, "is no plain file")
    return file


def _to_disk(path: Path, way: int) -> None:
    at = os.open(path, way | _NOFOLLOW)
    try:
        os.fsync(at)
    finally:
        os.close(at)


# --- the tool's own folders ----------------------------------------------------------------


def strangers(folder: Path) -> str | None:
    """What ``folder`` holds that is not the tool's own, in a few words; None where nothing is.

    A folder that is not there, or empty, is fine. Links count as strangers wherever they point.
    """
    link = link_on_the_way(folder)
    if link is not None:
        return f"{link} is a link"
    if not folder.is_dir():
        return f"{folder} is no folder" if folder.exists() else None
    known: set[Path] = set()
    for home in (folder.absolute() / "any").parents[:_HEIGHT]:
        known |= _listed(home)
    return _stranger_in(folder, known)


def link_on_the_way(path: Path) -> Path | None:
    """A link at a path, or at a folder above it where the path starts from the working folder.

    There a stranger may have laid it; whoever writes a path in full knows where it leads.
    """
    steps = [path] if path.is_absolute() else [path, *path.parents]
    return next((p for p in steps if p.is_symlink()), None)


def _stranger_in(folder: Path, known: set[Path]) -> str | None:
    with os.scandir(folder) as entries:
        found = sorted(entries, key=lambda entry: entry.name)
    for entry in found:
        path = folder / entry.name
        if entry.is_symlink():
            return f"{path} is a link"
        if entry.is_dir():
            marked = _marked(path) or path.absolute() in known
            deeper = None if marked else _stranger_in(path, known)
            if deeper is not None:
                return deeper
        elif not entry.is_file():
            return f"{path} is no plain file"
        elif entry.name not in (MARK_NAME, LOCK_NAME, *_LITTER) and path.absolute() not in known:
            return f"it holds {path}, which this tool did not make"
    return None


def claim(paths: Iterable[Path]) -> None:
    """List files as the tool's own, before they are written, where their folder is marked.

    Raises:
        NotOwnFolderError: a link stands on the way, or a file that the tool did not make.
    """
    for path in map(Path.absolute, paths):
        home = _home(path)
        if home is None:
            continue
        for step in (path, *path.parents):
            if step == home:
                break
            if step.is_symlink():
                raise _not_own(home, f"{step} is a link")
        if any(path in _listed(above) for above in path.parents[:_HEIGHT]):
            continue
        if path.exists():
            raise _not_own(home, f"it holds {path}, which this tool did not make")
        _add_line(home, ["file", path.relative_to(home).as_posix()])


def own_folder(folder: Path) -> None:
    """Make a folder and mark it as the tool's own.

    Raises:
        NotOwnFolderError: it holds what the tool did not make.
    """
    _refuse_strangers(folder)
    _make_folder(folder)
    if not _marked(folder):
        _mark(folder)


@contextmanager
def sole_use(folder: Path, waiting: Callable[[], object]) -> Iterator[None]:
    """Hold ``folder`` for this process; calls ``waiting`` once if another holds it, and waits.

    The folder is marked as the tool's own. Temporary files that a killed run left in it are
    removed. The hold ends with the process, however it ends.

    Raises:
        NotOwnFolderError: it holds what the tool did not make.
    """
    from filelock import FileLock, Timeout

    _refuse_strangers(folder)
    _make_folder(folder)
    lock = FileLock(folder / LOCK_NAME)
    try:
        lock.acquire(blocking=False)
    except Timeout:
        waiting()
        lock.acquire()
    try:
        own_folder(folder)
        staging = _temporary_of(folder)
        _empty(staging)
        _sweep_unfinished(folder)
        staging.mkdir(mode=0o700)
        _held[folder.absolute()] = staging
        try:
            yield
        finally:
            del _held[folder.absolute()]
            _empty(staging)
    finally:
        lock.release()


def _refuse_strangers(folder: Path) -> None:
    stranger = strangers(folder)
    if stranger is not None:
        raise _not_own(folder, stranger)


def _not_own(folder: Path, stranger: str) -> NotOwnFolderError:
    return NotOwnFolderError(
        f"given {folder}, but {stranger}; allowed: a new or empty folder, or one of its own"
    )


def _make_folder(folder: Path) -> None:
    """Make a folder and those above it; each that is new is marked, unless one above them is."""
    new = [path for path in (folder, *folder.parents) if not path.is_dir()]
    folder.mkdir(parents=True, exist_ok=True)
    if new and _home(folder.absolute() / "any") is None:
        for made in new:
            _mark(made)


def _home(path: Path) -> Path | None:
    """The nearest marked folder above an absolute path."""
    return next((p for p in path.parents[:_HEIGHT] if _marked(p)), None)


def _mark(folder: Path) -> None:
    lines = [_FIRST_LINE, json.dumps(["temporary", f".massing-{secrets.token_hex(16)}"]), ""]
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | _NOFOLLOW
    with (
        suppress(FileExistsError),
        os.fdopen(os.open(folder / MARK_NAME, flags, 0o666), "w", encoding="utf-8") as file,
    ):
        file.write("\n".join(lines))


def _marked(folder: Path) -> bool:
    return bool(_lines(folder))


def _lines(folder: Path) -> list[list[str]]:
    """What a folder's mark says; nothing where there is none that the tool could have made."""
    path = folder / MARK_NAME
    if path.is_symlink():
        return []
    try:
        text = read_bounded(path, MOST_MARK_BYTES).decode("utf-8", errors="replace")
    except OSError:
        return []
    first, *rest = text.split("\n")
    found = []
    for line in rest if first == _FIRST_LINE else ():
        try:
            kind, name = json.loads(line)
        except (ValueError, TypeError):  # a line that a killed run did not finish
            continue
        found.append([str(kind), str(name)])
    return found


def _listed(folder: Path) -> set[Path]:
    """The files, and the folder of temporary ones, that a folder's mark lists."""
    at = folder.absolute()
    return {at / name for _, name in _lines(folder)}


def _temporary_of(folder: Path) -> Path:
    """Where temporary files of a marked folder stand; a name that is not ours is not believed."""
    names = [name for kind, name in _lines(folder) if kind == "temporary"]
    for name in names:
        if _TEMPORARY.fullmatch(name):
            return folder.absolute() / name
    own = f".massing-{secrets.token_hex(16)}"
    _add_line(folder, ["temporary", own])
    return folder.absolute() / own


def _add_line(folder: Path, line: list[str]) -> None:
    flags = os.O_WRONLY | os.O_APPEND | _NOFOLLOW
    with os.fdopen(os.open(folder / MARK_NAME, flags), "a", encoding="utf-8") as file:
        file.write(f"\n{json.dumps(line)}\n")


def _note_unfinished(temporary: Path) -> None:
    """List a temporary file that stands beside others, in case it is left there."""
    home = _home(temporary.absolute())
    if home is not None:
        _add_line(home, ["unfinished", temporary.absolute().relative_to(home).as_posix()])


def _sweep_unfinished(folder: Path) -> None:
    """Remove what writers of single files left long ago; a fresh one may be in hand."""
    for kind, name in _lines(folder):
        path = folder / name
        if kind == "unfinished" and _UNFINISHED.fullmatch(path.name) and path.parent == folder:
            with suppress(OSError):
                if time.time() - path.lstat().st_mtime > _LONG_AGO_S:
                    _remove(path)


def _remove(path: Path) -> None:
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path, ignore_errors=True)
    else:
        path.unlink()


def _empty(staging: Path) -> None:
    """Remove the folder of temporary files; a link of that name is no folder of ours."""
    if staging.is_symlink():
        raise _not_own(staging.parent, f"{staging.name} is a link")
    if staging.is_dir():
        shutil.rmtree(staging, ignore_errors=True)


def _staging(path: Path) -> Path | None:
    return next((_held[p] for p in path.absolute().parents if p in _held), None)


def table(package: str, name: str) -> Any:
    """A YAML table of one of our packages, as plain values.

    What was read is kept where Python keeps its compiled modules, by a hash of the text: to read
    YAML takes fifty times as long.
    """
    path = resources.files(package).joinpath(name)
    text = path.read_bytes()
    digest = hashlib.sha256(text).digest()
    kept = _kept_beside(path) if isinstance(path, Path) else None
    if kept is not None:
        with suppress(OSError, ValueError, EOFError, TypeError):
            found = kept.read_bytes()
            if found.startswith(digest):
                return marshal.loads(found[len(digest) :])
    from ruamel.yaml import YAML

    values = YAML(typ="safe").load(text.decode())
    if kept is not None and not sys.dont_write_bytecode:
        new = kept.with_suffix(f".{secrets.token_hex(8)}")
        with suppress(OSError):
            kept.parent.mkdir(exist_ok=True)
            new.write_bytes(digest + marshal.dumps(values))
            new.replace(kept)
    return values


def _kept_beside(path: Path) -> Path | None:
    try:
        return Path(importlib.util.cache_from_source(f"{path}.py"))
    except NotImplementedError:  # this Python keeps nothing
        return None

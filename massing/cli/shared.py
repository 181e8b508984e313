"""What commands share: the scene, ``--out``, ``--design``, how to refuse, where to print."""

from __future__ import annotations

import argparse
import os
import re
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, redirect_stdout
from pathlib import Path
from typing import TYPE_CHECKING

from massing.files import link_on_the_way, strangers, told_of_files

if TYPE_CHECKING:
    from rich.console import Console

    from massing.design.design import Design
    from massing.study.study import Study

FINE, FAILED, BAD_INPUT, INTERRUPTED = 0, 1, 2, 130
DEFAULT_FOLDER = Path("renders")
PIPED_WIDTH = 160


class Refused(Exception):
    """An argument that cannot be used; its text is the one line to print, the exit code is 2."""


def say(code: int, line: str) -> int:
    """Print one line where errors go; hands the exit code on."""
    print(" ".join(line.split()), file=sys.stderr)
    return code


def console(quiet: bool = False) -> Console:
    """Standard output; wide where it is not a terminal, so that tables keep their lines.

    Nothing is printed where it is ``quiet``.
    """
    from rich.console import Console

    made = Console(highlight=False, markup=False, quiet=quiet)  # a name's brackets are brackets
    if made.is_terminal:
        return made
    return Console(highlight=False, markup=False, quiet=quiet, width=PIPED_WIDTH)


def takes_loudness(parser: argparse.ArgumentParser) -> None:
    """``-q`` and ``-v``, as ``options.quiet`` and ``options.verbose``."""
    loudness = parser.add_mutually_exclusive_group()
    loudness.add_argument(
        "-q", "--quiet", action="store_true", help="print nothing but what goes wrong"
    )
    loudness.add_argument(
        "-v",
        "--verbose",
        action="store_true",
        help="print more of what is done: each file written, the time taken",
    )


@contextmanager
def as_loud(options: argparse.Namespace) -> Iterator[None]:
    """Print nothing but faults meanwhile, or each file and the time taken where faults go."""
    if options.quiet:
        with open(os.devnull, "w", encoding="utf-8") as nowhere, redirect_stdout(nowhere):
            yield
        return
    if not options.verbose:
        yield
        return
    began = time.monotonic()

    def tell(path: Path) -> None:
        say(FINE, f"written: {path} ({path.stat().st_size / 1000:,.0f} kB)")

    told_of_files.append(tell)
    try:
        yield
    finally:
        told_of_files.remove(tell)
        say(FINE, f"{time.monotonic() - began:.1f} s, {time.process_time():.1f} s of processor")


def show(path: Path, asked: bool) -> Path:
    """Open a page in the user's browser if that was asked and there is one; hands the path on.

    Nothing is opened in a terminal, where it would take the place of what is printed.
    """
    import webbrowser

    desktop = sys.platform in ("win32", "darwin") or any(
        os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY")
    )
    if asked and desktop:
        webbrowser.open(path.resolve().as_uri())
    elif asked:
        say(FINE, f"no display here; open {path} in a browser")
    return path


def listed(words: Sequence[str], joint: str = "or") -> str:
    """Words as a sentence has them.

    >>> listed([".svg", ".pdf", ".png"]), listed(["one"])
    ('.svg, .pdf or .png', 'one')
    """
    *rest, last = words
    return f"{', '.join(rest)} {joint} {last}" if rest else last


# --- the scene and its designs -------------------------------------------------------------


def takes_scene(parser: argparse.ArgumentParser) -> None:
    """The scene file, as ``options.scene``."""
    parser.add_argument(
        "scene", type=Path, metavar="SCENE", help="scene file (YAML), or - for standard input"
    )


def takes_designs(parser: argparse.ArgumentParser, default: str = "all") -> None:
    """``--design``, which may be repeated, as the list ``options.design``; see :func:`chosen`."""
    action = parser.add_argument(
        "--design",
        action="append",
        default=[],
        metavar="NAME",
        help=f"the design as drawn or an alternative; may be repeated (default: {default})",
    )
    _completed(action)


def takes_design(parser: argparse.ArgumentParser, default: str = "as drawn") -> None:
    """``--design``, once, as ``options.design`` or None; see :func:`one_chosen`."""
    action = parser.add_argument(
        "--design",
        metavar="NAME",
        help=f"the design as drawn or an alternative (default: {default})",
    )
    _completed(action)


def _completed(action: argparse.Action) -> None:
    """Let a shell complete the names of a scene's designs."""

    def names(prefix: str, parsed_args: argparse.Namespace, **_: object) -> list[str]:
        from massing.scene.load import load_scene

        try:
            found = load_scene(parsed_args.scene).designs
        except (ValueError, OSError, AttributeError, TypeError):
            return []
        return [name for name in found if name.lower().startswith(prefix.lower())]

    action.completer = names  # type: ignore[attr-defined]


def takes_only(parser: argparse.ArgumentParser) -> None:
    """``--only``, which may be repeated, as the list ``options.only``."""
    parser.add_argument(
        "--only",
        action="append",
        default=[],
        metavar="NAME",
        help="only this time, view or look; may be repeated",
    )


def chosen(study: Study, names: Sequence[str]) -> list[Design]:
    """The designs of those names, in the scene's order; all where none is named.

    A name is known by what alone begins with it or holds it, in any case of letters.

    Raises:
        Refused: a name of no design, or of several.
    """
    picked = {_named(study, name).name for name in names}
    return [design for design in study.designs if design.name in picked or not names]


def one_chosen(study: Study, name: str | None) -> Design:
    """The design of that name, known as by :func:`chosen`; else the one as drawn.

    Raises:
        Refused: a name of no design, or of several.
    """
    return study.designs[0] if name is None else _named(study, name)


def _named(study: Study, name: str) -> Design:
    wanted = " ".join(name.lower().split())
    for like in (str.__eq__, str.startswith, str.__contains__):
        found = [d for d in study.designs if wanted and like(d.name.lower(), wanted)]
        if len(found) == 1:
            return found[0]
        if found:
            names = ", ".join(d.name for d in found)
            raise Refused(f"--design: given {name}, allowed: one of {names} by more of its name")
    names = ", ".join(d.name for d in study.designs)
    raise Refused(f"--design: given {name}, allowed: {names}")


# --- where to ------------------------------------------------------------------------------


def takes_out_folder(parser: argparse.ArgumentParser, default: str) -> None:
    """``--out FOLDER``, as ``options.out`` or None; ``default`` in words, for the help."""
    parser.add_argument(
        "-o", "--out", type=Path, metavar="FOLDER", help=f"where to (default: {default})"
    )


def takes_out_file(parser: argparse.ArgumentParser, endings: Sequence[str], default: str) -> None:
    """``--out FILE``, as ``options.out`` or None; ``default`` in words, for the help."""
    parser.add_argument(
        "-o",
        "--out",
        type=Path,
        metavar="FILE",
        help=f"{listed(endings)} (default: {default})",
    )


def out_folder(options: argparse.Namespace, *default: str) -> Path:
    """The folder to write to: ``--out``, or ``default`` under ``renders/``.

    Raises:
        Refused: a file stands there, or in the way, or the folder holds what is not the tool's.
    """
    folder: Path = options.out or DEFAULT_FOLDER.joinpath(*default)
    _refuse_file_in_the_way(folder, folder)
    stranger = strangers(folder)
    if stranger is not None:
        allowed = "a new or empty folder, or one that this tool made"
        raise Refused(f"--out: given {folder}, but {stranger}; allowed: {allowed}")
    return folder


def out_file(options: argparse.Namespace, endings: Sequence[str], *default: str) -> Path:
    """The file to write: ``--out``, or ``default`` under ``renders/``.

    Raises:
        Refused: another ending, a folder of that name, or a file in the way of its folder.
    """
    path: Path = options.out or DEFAULT_FOLDER.joinpath(*default)
    if path.suffix.lower() not in endings:
        raise Refused(f"--out: given {path}, allowed: a name in {listed(endings)}")
    if path.is_dir():
        raise Refused(f"--out: given {path}, a folder, allowed: a file")
    _refuse_file_in_the_way(path.parent, path)
    link = None if options.out else link_on_the_way(path)
    if link is not None:
        raise Refused(f"{path}: {link} is a link; give the file by --out")
    return path


def _refuse_file_in_the_way(folder: Path, given: Path) -> None:
    standing = next((p for p in (folder, *folder.parents) if p.exists()), None)
    if standing is not None and not standing.is_dir():
        what = "a file" if standing == given else f"under {standing}, a file"
        raise Refused(f"--out: given {given}, {what}, allowed: a folder")


# --- how pictures are made -----------------------------------------------------------------


def takes_picture_options(parser: argparse.ArgumentParser) -> None:
    """``--quality``, ``--size`` and ``--device``."""
    from massing.render.driver.shots import QUALITIES

    parser.add_argument(
        "--quality",
        choices=QUALITIES,
        default="draft",
        help="draft for looking, final for keeping (default: draft)",
    )
    parser.add_argument(
        "--size",
        type=_size,
        metavar="WxH",
        help="pixels of a picture (default: 800x500 for draft, 1600x1000 for final)",
    )
    takes_device(parser)


def takes_device(parser: argparse.ArgumentParser) -> None:
    """``--device``."""
    from massing.render.driver.shots import DEVICES

    parser.add_argument(
        "--device",
        type=_device,
        metavar=f"{{{','.join(DEVICES)}}}",
        default="auto",
        help="what renders: the graphics card where there is one, or the processor (default: auto)",
    )


def takes_workers(parser: argparse.ArgumentParser, doing: str = "make the pictures") -> None:
    """``--workers``."""
    parser.add_argument(
        "--workers",
        type=_workers,
        metavar="N|ADDRESS",
        help=f"{doing} by so many processes of this machine, or by the workers of the Dask "
        "scheduler at tcp://host:8786",
    )


def _workers(text: str) -> str:
    from massing.render.driver.cluster import check_workers

    try:
        return check_workers(text)
    except ValueError as fault:
        raise argparse.ArgumentTypeError(str(fault)) from None


def device_words(asked: str, tell: Callable[[str], object]) -> Callable[[str], None]:
    """What tells a user, once, that no graphics card was found where one was asked for."""
    told: set[str] = set()

    def on_device(found: str) -> None:
        from massing.render.driver.shots import PROCESSOR

        if asked not in ("auto", PROCESSOR) and found.startswith(PROCESSOR) and not told:
            told.add(found)
            tell(f"--device {asked}: no graphics card found; the processor renders, more slowly")

    return on_device


def _size(text: str) -> tuple[int, int]:
    from massing.study.budget import check_size

    match = re.fullmatch(r"(\d{1,6})[x×](\d{1,6})", text)
    if not match:
        raise argparse.ArgumentTypeError(f"given {text}, allowed: pixels such as 1200x750")
    size = int(match[1]), int(match[2])
    try:
        check_size(*size)
    except ValueError as fault:
        raise argparse.ArgumentTypeError(str(fault)) from None
    return size


def _device(text: str) -> str:
    """A device of our words, or quietly of its makers'."""
    from massing.render.driver.shots import DEVICES, GPU_KINDS, GRAPHICS, PROCESSOR

    word = {"cpu": PROCESSOR, "gpu": GRAPHICS}.get(text.lower(), text.lower())
    if word not in (*DEVICES, *GPU_KINDS):
        raise argparse.ArgumentTypeError(f"given {text}, allowed: {listed(DEVICES)}")
    return word


def require_blender() -> None:
    """Refuse to go on where Blender's module cannot be used.

    Raises:
        OSError: what is missing, and what to do.
    """
    from massing.render.driver.requirements import check_blender

    hindrance = check_blender()
    if hindrance:
        raise OSError(hindrance)

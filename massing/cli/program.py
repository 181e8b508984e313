"""The command line as a whole: which commands there are, and what their ends mean."""

from __future__ import annotations

import _thread
import argparse
import io
import os
import signal
import sys
import threading
from collections.abc import Sequence
from typing import Any, Protocol

from massing import __version__
from massing.cli import (
    board,
    check,
    completion,
    demo,
    desk,
    drawings,
    explain,
    figures,
    licences,
    model,
    montage,
    new,
    overlay,
    page,
    plate,
    profiles,
    propose,
    schema,
    series,
    shadows,
    show,
    sizes,
    study,
    watch,
)
from massing.cli.shared import (
    BAD_INPUT,
    FAILED,
    FINE,
    INTERRUPTED,
    Refused,
    as_loud,
    say,
    takes_loudness,
)
from massing.files import NotOwnFolderError
from massing.scene.errors import SceneError


class Command(Protocol):
    """What a command's file holds; the file's name is the command's."""

    __name__: str
    SUMMARY: str

    def arguments(self, parser: argparse.ArgumentParser, /) -> None:
        """Say what the command takes; called only when it is the one given."""

    def run(self, options: argparse.Namespace, /) -> int:
        """Do it; the exit code. What is heavy to import is imported in here."""


COMMANDS: tuple[Command, ...] = (
    demo,
    new,
    desk,
    propose,
    watch,
    study,
    page,
    check,
    explain,
    show,
    figures,
    shadows,
    series,
    board,
    sizes,
    overlay,
    montage,
    plate,
    drawings,
    profiles,
    model,
    schema,
    completion,
    licences,
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns its exit code.

    0 fine, 1 something failed, 2 the input is at fault, 130 stopped by the user.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # what a terminal cannot show is no fault
            stream.reconfigure(errors="replace")
    parser = _parser()
    if "_ARGCOMPLETE" in os.environ:  # a shell asks how a line may go on
        import argcomplete

        parser = _parser(asked_now=os.environ.get("COMP_LINE", "").split()[1:2])
        argcomplete.autocomplete(parser)
    options = parser.parse_args(arguments)
    before = signal.signal(signal.SIGTERM, _stop)
    hook, sys.unraisablehook = sys.unraisablehook, _stop_again
    try:
        with as_loud(options):
            return int(options.run(options))
    except (SceneError, Refused) as fault:
        return say(BAD_INPUT, str(fault))
    except BrokenPipeError:  # the reader, such as head, has had enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FINE
    except NotOwnFolderError as fault:
        return say(BAD_INPUT, f"--out: {fault}")
    except OSError as fault:
        return say(FAILED, str(fault))
    except KeyboardInterrupt:
        return say(INTERRUPTED, "stopped; what is finished is kept, run again to go on")
    finally:
        signal.signal(signal.SIGTERM, before)
        sys.unraisablehook = hook


def _stop_again(lost: sys.UnraisableHookArgs) -> None:
    """An interrupt that came where Python can only drop it is given once more, a moment later.

    Other faults that come while things are cleared away follow from one that is told already.
    """
    if issubclass(lost.exc_type, KeyboardInterrupt):
        again = threading.Timer(0.05, _thread.interrupt_main)
        again.daemon = True
        again.start()


def _stop(*_: object) -> None:
    raise KeyboardInterrupt


class _CommandParser(argparse.ArgumentParser):
    """A command's parser, which asks for its arguments when the command is the one given.

    Their choices come from the rooms that know them, which would be slow to import for all.
    """

    command: Command | None = None

    def parse_known_args(self, *args: Any, **kwargs: Any) -> Any:
        if self.command is not None:
            _filled(self, self.command)
            self.command = None
        return super().parse_known_args(*args, **kwargs)


def _filled(parser: argparse.ArgumentParser, command: Command) -> None:
    """Let a command say what it takes, and add what all take."""
    command.arguments(parser)
    takes_loudness(parser)


def _parser(asked_now: Sequence[str] = ()) -> argparse.ArgumentParser:
    """The parser of all commands; those ``asked_now`` are asked for their arguments at once."""
    parser = argparse.ArgumentParser(
        prog="massing",
        description="Compare the alternatives of a house's porch: the same pictures in the same "
        "true sunlight, side by side, and the figures that explain the difference.",
    )
    parser.add_argument("--version", action="version", version=f"massing {__version__}")
    commands = parser.add_subparsers(
        required=True, metavar="COMMAND", parser_class=_CommandParser, dest="command"
    )
    for command in COMMANDS:
        name = command.__name__.rpartition(".")[2].replace("_", "-")
        summary = command.SUMMARY
        filled = commands.add_parser(
            name, help=summary, description=f"{summary[:1].upper()}{summary[1:]}."
        )
        if name in asked_now:
            _filled(filled, command)
        else:
            filled.command = command
        filled.set_defaults(run=command.run)
    return parser

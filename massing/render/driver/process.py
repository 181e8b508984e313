"""The Python processes that hold Blender: how they are started and how they end.

None of them runs code from the working folder, where a scene from a stranger may lie.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

_START = str(Path(__file__).with_name("start.py"))


def python_command(module: str) -> list[str]:
    """A command that runs a module of this package, as it stands here, in a new Python.

    The module's arguments are to be added.
    """
    return [sys.executable, "-P", _START, module]


_workers_by: list[str] = []


def start_workers_by(command: Sequence[str]) -> None:
    """Start this process's render workers by a command from now on, the path of the job added.

    For where Blender is the program that runs this: no other Python has a module of it.
    """
    _workers_by[:] = command


def worker_command() -> list[str]:
    """The command that starts a render worker here, the path of the job to be added."""
    return [*_workers_by] or python_command("massing.render.blender.worker")


def workers_are_given() -> bool:
    """Whether :func:`start_workers_by` said how workers start."""
    return bool(_workers_by)


def safe_environment(environment: Mapping[str, str] | None = None) -> dict[str, str]:
    """An environment, by default this process's, whose ``PYTHONPATH`` has only whole paths.

    An empty or relative entry would mean the working folder, or one under it.
    """
    values = dict(os.environ if environment is None else environment)
    paths = [p for p in values.get("PYTHONPATH", "").split(os.pathsep) if os.path.isabs(p)]
    values.pop("PYTHONPATH", None)
    return {**values, "PYTHONPATH": os.pathsep.join(paths)} if paths else values


def how_it_died(code: int) -> str:
    """A worker's exit code in words; negative codes are signals."""
    if code == -9:
        return "the render worker was killed, perhaps for want of memory"
    if code < 0:
        return f"the render worker crashed (signal {-code})"
    return f"the render worker stopped (exit code {code})"

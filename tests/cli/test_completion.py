"""A shell's question how a line may go on, as argcomplete asks it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


def completed(line: str) -> list[str]:
    asked = {
        "COMP_LINE": line,
        "COMP_POINT": str(len(line)),
        "COMP_TYPE": "9",
        "_ARGCOMPLETE": "1",
        "_ARGCOMPLETE_IFS": "\n",
        "_ARGCOMPLETE_STDOUT_FILENAME": "/dev/stdout",
    }
    done = subprocess.run(
        [sys.executable, "-m", "massing"],
        env={**os.environ, **asked, "PYTHONPATH": str(ROOT)},
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    return [word.strip() for word in done.stdout.splitlines()]


def test_commands_choices_and_designs_are_completed() -> None:
    assert completed("massing wat") == ["watch"]
    assert completed("massing study scenes/marsh_road.yaml --quality ") == ["draft", "final"]
    names = completed("massing sizes scenes/marsh_road.yaml --design Six")
    assert [name.replace("\\", "") for name in names] == ["Six Tuscan columns", "Six Doric columns"]


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_each_shell_gets_lines_of_its_own(shell, capsys) -> None:
    from massing.cli import main

    assert main(["completion", shell]) == 0
    assert "massing" in capsys.readouterr().out

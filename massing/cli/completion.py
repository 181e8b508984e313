"""``massing completion``."""

from __future__ import annotations

import argparse

from massing.cli.shared import FINE

SUMMARY = "print what makes a shell complete commands, options, choices and designs' names"
SHELLS = ("bash", "zsh", "fish")


def arguments(parser: argparse.ArgumentParser) -> None:
    """The shell."""
    parser.add_argument(
        "shell",
        choices=SHELLS,
        metavar="SHELL",
        help='bash: eval "$(massing completion bash)" in ~/.bashrc; zsh: the same in ~/.zshrc '
        "after compinit; fish: massing completion fish | source in ~/.config/fish/config.fish",
    )


def run(options: argparse.Namespace) -> int:
    """Print the shell's own lines."""
    import argcomplete

    print(argcomplete.shellcode(["massing"], shell=options.shell))
    return FINE

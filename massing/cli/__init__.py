"""The commands, one file each: they read arguments, call the library and print."""

from massing.cli.program import main

__all__ = ["main"]

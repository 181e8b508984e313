"""The Python processes that hold Blender: how they are started and how they end."""

from __future__ import annotations


def how_it_died(code: int) -> str:
    """A worker's exit code in words; negative codes are signals."""
    if code == -9:
        return "the render worker was killed, perhaps for want of memory"
    if code < 0:
        return f"the render worker crashed (signal {-code})"
    return f"the render worker stopped (exit code {code})"

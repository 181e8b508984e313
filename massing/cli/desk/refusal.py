"""How the desk says no."""

from __future__ import annotations


class Refusal(Exception):
    """What was asked for cannot be done; its text is the one line to show."""

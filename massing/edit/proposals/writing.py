"""Proposals put into a scene as alternatives, letter for letter leaving the rest."""

from __future__ import annotations

from typing import Any

from massing.edit.proposals.sayings import Proposal
from massing.edit.proposals.search import Begun
from massing.edit.writing import ALTERNATIVES, add_alternative
from massing.scene.edit import edit_scene, plain_scene
from massing.scene.load import laid_over, without_nulls

_WIDE = 96  # of a comment's lines


def own_changes(begun: Begun, proposal: Proposal, text: str) -> dict[str, Any]:
    """What an alternative for a proposal must say over the design as drawn, and no more.

    Only what differs is said; what the design as drawn gives and the proposal leaves to its rule
    is said as null.
    """
    drawn = without_nulls(
        {key: value for key, value in plain_scene(text).items() if key != ALTERNATIVES}
    )
    wanted = without_nulls(laid_over(begun.space.fields, begun.space.changes(proposal.found.place)))
    changeable = ("house", "porch", "roof", "setting")
    own = _difference(
        {key: drawn.get(key, {}) for key in changeable},
        {key: wanted.get(key, {}) for key in changeable},
    )
    return own or {"porch": {"order": proposal.found.kind.order}}


def _difference(old: Any, new: Any) -> Any:
    made: dict[str, Any] = {}
    for key in (*new, *(key for key in old if key not in new)):
        was, now = old.get(key), new.get(key)
        if key not in new:
            made[key] = None
        elif isinstance(was, dict) and isinstance(now, dict):
            inner = _difference(was, now)
            if inner:
                made[key] = inner
        elif str(was) != str(now) or key not in old:
            made[key] = now
    return made


def with_proposal(text: str, begun: Begun, proposal: Proposal) -> str:
    """The scene's text with a proposal as one more alternative, its reasons as a comment over it."""
    own = own_changes(begun, proposal, text)
    had = bool(plain_scene(text).get(ALTERNATIVES))
    added = add_alternative(text, proposal.name)
    added = edit_scene(added, {(ALTERNATIVES, proposal.name): own})
    return _with_comment(added, proposal, had)


def _with_comment(text: str, proposal: Proposal, had: bool) -> str:
    """A comment above the alternative's line, where it has a line of its own."""
    newline = "\r\n" if "\r\n" in text else "\n"
    lines = text.split(newline)
    at = next(
        (
            i
            for i in range(len(lines) - 1, -1, -1)
            if lines[i].lstrip().strip("'\"").startswith(proposal.name)
        ),
        None,
    )
    if at is None:
        return text
    indent = lines[at][: len(lines[at]) - len(lines[at].lstrip())]
    said = _wrapped(f"Proposed: {proposal.why}", _WIDE - len(indent) - 2)
    comment = [f"{indent}# {line}" for line in said]
    blank = [""] if had and lines[at - 1].strip() else []
    return newline.join([*lines[:at], *blank, *comment, *lines[at:]])


def _wrapped(text: str, width: int) -> list[str]:
    import textwrap

    return textwrap.wrap(text, width, break_long_words=False, break_on_hyphens=False)

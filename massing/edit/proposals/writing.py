"""Proposals put into a scene as alternatives, letter for letter leaving the rest."""

from __future__ import annotations

import textwrap
from typing import Any

from massing.edit.proposals.sayings import Proposal
from massing.edit.proposals.search import Begun
from massing.edit.writing import ALTERNATIVES, add_alternative
from massing.scene.edit import edit_scene, on_one_line, plain_scene
from massing.scene.layers import laid_over, without_nulls

_WIDE = 96  # of a comment's lines
_EMPTY = "{porch: {}}"  # what an alternative says that is only begun


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
    """The scene's text with a proposal as one more alternative, its reasons as a comment."""
    own = own_changes(begun, proposal, text)
    newline = "\r\n" if "\r\n" in text else "\n"
    lines = add_alternative(text, proposal.name).split(newline)
    last = f"{on_one_line(proposal.name)}: {_EMPTY}"
    at = next((i for i in reversed(range(len(lines))) if lines[i].lstrip() == last), None)
    if at is None:  # the alternatives stand on one line, which has no room for a comment
        return edit_scene(newline.join(lines), {(ALTERNATIVES, proposal.name): own})
    indent = lines[at][: len(lines[at]) - len(last)]
    said = textwrap.wrap(
        f"Proposed: {proposal.why}",
        _WIDE - len(indent) - 2,
        break_long_words=False,
        break_on_hyphens=False,
    )
    blank = [""] if plain_scene(text).get(ALTERNATIVES) and lines[at - 1].strip() else []
    step = indent or "  "
    made = [
        *(f"{indent}# {line}" for line in said),
        f"{indent}{on_one_line(proposal.name)}:",
        *(f"{indent}{step}{group}: {on_one_line(value)}" for group, value in own.items()),
    ]
    return newline.join([*lines[:at], *blank, *made, *lines[at + 1 :]])

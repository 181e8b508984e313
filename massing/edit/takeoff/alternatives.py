"""Alternatives under a house whose sizes have changed: what of it they cannot stand with."""

from __future__ import annotations

from pathlib import Path

from massing.edit.reading import reading
from massing.edit.writing import set_field
from massing.scene.edit import FieldPath
from massing.scene.errors import SceneError

# What an alternative gives up of the house as drawn, the least first.
GIVES_UP: tuple[tuple[tuple[FieldPath, ...], str], ...] = (
    ((("house", "windows"),), "its windows are by rule, for those drawn do not fit its porch"),
    ((("porch", "spacing"),), "its spacing is by rule, for that drawn does not suit its columns"),
    (
        (("house", "windows"), ("porch", "spacing")),
        "its windows and spacing are by rule, for those drawn do not fit its porch",
    ),
)


def standing_alternatives(path: Path, text: str) -> tuple[str, tuple[str, ...]]:
    """The text with every alternative standing that can by giving up little of the house.

    Returns:
        The text, and what was given up, a sentence each; what cannot stand even so is said too
        and stays as it is.
    """
    said = []
    for name in reading(str(path), text).names[1:]:
        why = _fault(path, text, name)
        if why is None:
            continue
        for fields, words in GIVES_UP:
            tried = text
            for field in fields:
                tried = set_field(tried, field, None, name)
            if _fault(path, tried, name) is None:
                text = tried
                said.append(f"{name}: {words}")
                break
        else:
            said.append(f"{name} cannot stand with these sizes: {why}")
    return text, tuple(said)


def _fault(path: Path, text: str, name: str) -> str | None:
    """Why a design cannot be built, None where it can."""
    try:
        reading(str(path), text).model(name)
    except SceneError as fault:
        return fault.detail
    return None

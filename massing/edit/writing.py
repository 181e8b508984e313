"""Changes of a scene's text, each a pure step from text to text; see :mod:`massing.scene.edit`."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from massing.scene.edit import (
    FieldPath,
    edit_scene,
    plain_scene,
    with_copy,
    with_item,
    with_key,
    with_order,
    without_entry,
)
from massing.scene.load import CHANGEABLE

ALTERNATIVES = "alternatives"


def set_field(text: str, path: FieldPath, value: Any, alternative: str | None = None) -> str:
    """The text with a field given a value, as it would be written; ``None`` is "by rule".

    What all designs share (site, times, views ...) is set for all of them. An item of a list
    that this design has from elsewhere, or has not yet, is given with the rest of that list.

    >>> drawn = "house: {windows: [{width: 3 ft}]}\\nalternatives: {Tall: {porch: {}}}"
    >>> print(set_field(drawn, ("house", "windows", 1, "height"), "6 ft"))
    house: {windows: [{width: 3 ft}, {height: 6 ft}]}
    alternatives: {Tall: {porch: {}}}
    >>> print(set_field(drawn, ("house", "windows", 0, "height"), "6 ft", "Tall"))
    house: {windows: [{width: 3 ft}]}
    alternatives: {Tall: {porch: {}, house: {windows: [{width: 3 ft, height: 6 ft}]}}}
    """
    if path[0] not in CHANGEABLE:
        alternative = None
    own: FieldPath = () if alternative is None else (ALTERNATIVES, alternative)
    at = next((i for i, step in enumerate(path) if isinstance(step, int)), None)
    if at is not None:
        data = plain_scene(text)
        stands = _at(data, (*own, *path[:at]))
        index = int(path[at])
        if not isinstance(stands, list) or index >= len(stands):
            if not isinstance(stands, list):
                stands = _at(data, path[:at])
            items = list(stands) if isinstance(stands, list) else []
            items += [{} for _ in range(index + 1 - len(items))]
            items[index] = _laid(items[index], path[at + 1 :], value)
            path, value = path[:at], items
    return edit_scene(text, {path: value}, alternative)


def unset_field(text: str, path: FieldPath, alternative: str | None = None) -> str:
    """The text without what a design itself says of a field.

    An alternative then has what the design as drawn has, and that has what the rule gives.

    >>> unset_field("porch: {depth: 8 ft}\\nalternatives: {A: {porch: {depth: 9 ft}}}",
    ...             ("porch", "depth"), "A")
    'porch: {depth: 8 ft}\\nalternatives: {A: {porch: {}}}'
    """
    if alternative is None or path[0] not in CHANGEABLE:
        return without_entry(text, path)
    changes = _at(plain_scene(text), (ALTERNATIVES, alternative)) or {}
    if len(path) == 1 and list(changes) == [path[0]]:
        return edit_scene(text, {(ALTERNATIVES, alternative, path[0]): {}})  # it must say something
    return without_entry(text, (ALTERNATIVES, alternative, *path))


def add_item(text: str, path: FieldPath, value: Any) -> str:
    """The text with one more item in a list of the design as drawn, such as a time or a view."""
    return with_item(text, path, value)


def add_alternative(text: str, name: str, like: str | None = None) -> str:
    """The text with one more alternative, at the end: as drawn, or a copy of another.

    >>> print(add_alternative("porch: {depth: 8 ft}\\n", "Deeper"), end="")
    porch: {depth: 8 ft}
    <BLANKLINE>
    alternatives:
      Deeper: {porch: {}}
    """
    if like is not None:
        return with_copy(text, (ALTERNATIVES, like), name)
    if plain_scene(text).get(ALTERNATIVES):
        return edit_scene(text, {(ALTERNATIVES, name): {"porch": {}}})
    bare = without_entry(text, (ALTERNATIVES,))
    made = edit_scene("x: {}", {(name,): {"porch": {}}}).removeprefix("x: {}\n").rstrip("\n")
    newline = "\r\n" if "\r\n" in text else "\n"
    lead = "" if bare.endswith("\n") or not bare else newline
    return f"{bare}{lead}{newline}{ALTERNATIVES}:{newline}  {made}{newline}"


def rename_alternative(text: str, name: str, new: str) -> str:
    """The text with an alternative called otherwise."""
    return with_key(text, (ALTERNATIVES, name), new)


def delete_alternative(text: str, name: str) -> str:
    """The text without an alternative, and without the empty list of them."""
    if list(plain_scene(text).get(ALTERNATIVES) or {}) == [name]:
        return without_entry(text, (ALTERNATIVES,))
    return without_entry(text, (ALTERNATIVES, name))


def order_alternatives(text: str, names: Sequence[str]) -> str:
    """The text with the alternatives in the order of ``names``, all of them."""
    return with_order(text, (ALTERNATIVES,), names)


def _at(data: Any, path: FieldPath) -> Any:
    for step in path:
        if isinstance(data, dict):
            data = data.get(step)
        elif isinstance(data, list) and isinstance(step, int) and step < len(data):
            data = data[step]
        else:
            return None
    return data


def _laid(data: Any, path: FieldPath, value: Any) -> Any:
    if not path:
        return value
    group = dict(data) if isinstance(data, dict) else {}
    if value is None and len(path) == 1:
        group.pop(path[0], None)
    else:
        group[path[0]] = _laid(group.get(path[0]), path[1:], value)
    return group

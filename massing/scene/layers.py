"""Alternatives laid over the design as drawn."""

from __future__ import annotations

from typing import Any

from massing.scene.lines import FieldPath, Lines


def without_nulls(node: Any) -> Any:
    """Plain values without the fields that are null: those are left to their rules."""
    if isinstance(node, dict):
        return {key: without_nulls(value) for key, value in node.items() if value is not None}
    return node


def laid_over(base: Any, changes: Any) -> Any:
    """Plain values of a design with an alternative's changes laid over them; null takes away."""
    if not isinstance(changes, dict):
        return changes
    merged = dict(base) if isinstance(base, dict) else {}
    for key, value in changes.items():
        if value is None:
            merged.pop(key, None)
        else:
            merged[key] = laid_over(merged.get(key), value)
    return merged


def changed_lines(drawn: Lines, changes: dict[str, Any], lines: Lines, at: FieldPath) -> Lines:
    """The lines of an alternative's fields: those as drawn, but for what it changes."""
    changed = dict(drawn)

    def lay(node: Any, field: FieldPath) -> None:
        if not isinstance(node, dict):
            for old in [k for k in changed if k[: len(field)] == field]:
                del changed[old]
        if node is None:
            return
        changed[field] = lines[(*at, *field)]
        if isinstance(node, dict):
            for key, value in node.items():
                lay(value, (*field, key))
        elif isinstance(node, list):
            for index, value in enumerate(node):
                lay(value, (*field, index))

    for key, value in changes.items():
        lay(value, (key,))
    return changed

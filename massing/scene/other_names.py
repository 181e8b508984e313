"""Fields by the other names that the trade has for them, read as our own.

Only names that can mean one field are taken (:data:`massing.scene.explain.SAME`); of the others a
fault's hint tells.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, get_args

from pydantic import BaseModel

from massing.scene.explain import our_name
from massing.scene.lines import FieldPath, Lines


def in_our_names(
    fields: dict[str, Any], lines: Lines, model: type[BaseModel]
) -> tuple[dict[str, Any], Lines]:
    """A scene's fields, and the line of each, with those of other names under ours.

    A group that gives a field twice, by two names, is left as it is written.
    """
    renamed: dict[FieldPath, str] = {}
    named = _named(fields, [model], (), renamed)
    if not renamed:
        return named, lines

    def ours(path: FieldPath) -> FieldPath:
        return tuple(renamed.get(path[: i + 1], step) for i, step in enumerate(path))

    return named, {ours(path): line for path, line in lines.items()}


def _named(
    node: Any, models: list[type[BaseModel]], at: FieldPath, renamed: dict[FieldPath, str]
) -> Any:
    if isinstance(node, list):
        return [_named(item, models, (*at, i), renamed) for i, item in enumerate(node)]
    if not isinstance(node, dict) or not models:
        return node
    known = {name: info.annotation for each in models for name, info in each.model_fields.items()}
    ours = {key: key if key in known else our_name(str(key)) for key in node}
    counts = list(ours.values())
    made = {}
    for key, value in node.items():
        name = ours[key] if ours[key] in known and counts.count(ours[key]) == 1 else key
        if name != key:
            renamed[(*at, key)] = name
        if name == "alternatives" and isinstance(value, dict):
            made[name] = {
                each: _named(changes, models, (*at, key, each), renamed)
                for each, changes in value.items()
            }
        else:
            made[name] = _named(value, list(_models(known.get(name))), (*at, key), renamed)
    return made


def _models(annotation: Any) -> Iterator[type[BaseModel]]:
    """The groups that a field's value may be, in lists and choices too."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in get_args(annotation):
        yield from _models(inner)

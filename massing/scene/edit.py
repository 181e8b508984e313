"""Changes to a scene file that leave the rest of it, comments included, letter for letter.

The file is parsed for where things stand; the change is then made in its text.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.nodes import MappingNode, ScalarNode, SequenceNode

FieldPath = tuple[str | int, ...]
AnyNode = ScalarNode | SequenceNode | MappingNode

_MERGE = "<<"
_LONG_LINE = 100_000


def edit_scene(text: str, changes: Mapping[FieldPath, Any], alternative: str | None = None) -> str:
    """The text of a scene file with fields changed.

    Args:
        text: a valid scene file's text.
        changes: values by field path, as they would be written (``("porch", "depth"): "8 ft"``);
            ``None`` leaves a field to its rule.
        alternative: the alternative that changes; by default the design as drawn.

    What several alternatives share by an anchor stays as it is for the others.

    >>> drawn = "porch: {depth: 8 ft} # shallow\\nalternatives: {Deep: {porch: {columns: 6}}}\\n"
    >>> print(edit_scene(drawn, {("porch", "depth"): "10 ft"}, "Deep"), end="")
    porch: {depth: 8 ft} # shallow
    alternatives: {Deep: {porch: {columns: 6, depth: 10 ft}}}
    >>> print(edit_scene(drawn, {("porch", "depth"): None}, "Deep"), end="")
    porch: {depth: 8 ft} # shallow
    alternatives: {Deep: {porch: {columns: 6, depth: null}}}
    """
    own: FieldPath = () if alternative is None else ("alternatives", alternative)
    for path, value in changes.items():
        root = _parsed(text)
        if value is not None or _found(root, path) or _found(root, (*own, *path)):
            text = _changed(text, root, (*own, *path), value)
    return text


def _changed(text: str, root: AnyNode, path: FieldPath, value: Any) -> str:
    """The text with one field set; a group on the way that is missing is made."""
    node = root
    for depth, step in enumerate(path):
        rest = path[depth + 1 :]
        if isinstance(node, MappingNode):
            pair = _own(node, step)
            if pair is None:
                inherited = _found(node, (step,))
                return _inserted(text, node, str(step), _laid(_plain(inherited), rest, value))
            key, inner = pair
            if inner.start_mark.index < key.end_mark.index:  # an alias: defined further up
                return _overridden(text, key, inner, rest, value)
            place = _after_colon(text, key)
        elif isinstance(node, SequenceNode):
            inner = node.value[int(step)]
            place = inner.start_mark.index
        else:
            raise KeyError(path)
        others = [p for p in _places(root, inner, rest) if p != path[: depth + 1]]
        if others:
            was = _found(inner, rest)
            kept = _plain(was) if was is not None else _plain(_found(root, _drawn(path)))
            text = _held(text, others, rest, kept)
            return _changed(text, _parsed(text), path, value)
        if not rest or not isinstance(inner, (MappingNode, SequenceNode)):
            if value is None and _plain(inner) is None:
                return text
            fresh = _laid(None, rest, value)
            return _replaced(text, inner, place, fresh)
        node = inner
    return text


def _drawn(path: FieldPath) -> FieldPath:
    return path[2:] if path[0] == "alternatives" else path


def _held(text: str, places: list[FieldPath], rest: FieldPath, value: Any) -> str:
    """The text with a shared group's field written out at each other place that shares it."""
    for *above, last in places:
        owner = _found(_parsed(text), tuple(above))
        assert isinstance(owner, MappingNode)
        if last == _MERGE:
            was = _plain(_found(owner, rest[:1]))
            text = _inserted(text, owner, str(rest[0]), _laid(was, rest[1:], value))
        else:
            key, inner = _own(owner, last) or (owner, owner)
            text = _overridden(text, key, inner, rest, value)
    return text


def _overridden(text: str, key: AnyNode, shared: AnyNode, rest: FieldPath, value: Any) -> str:
    """An alias as the group it stands for with one field laid over."""
    start = text.index("*", key.end_mark.index)
    end = start + 1 + len(str(shared.anchor))
    if not rest:
        return text[:start] + _flow(value) + text[end:]
    inner = _laid(_plain(_found(shared, rest[:1])), rest[1:], value)
    entry = _entries({str(rest[0]): inner})
    return f"{text[:start]}{{<<: *{shared.anchor}, {entry}}}{text[end:]}"


def _laid(data: Any, path: FieldPath, value: Any) -> Any:
    """Plain data with a value laid at a path inside it."""
    if not path:
        return value
    if isinstance(data, list):
        return [_laid(d, path[1:], value) if i == path[0] else d for i, d in enumerate(data)]
    group = dict(data) if isinstance(data, dict) else {}
    group[path[0]] = _laid(group.get(path[0]), path[1:], value)
    return group


# --- text ----------------------------------------------------------------------------------


def _inserted(text: str, group: MappingNode, key: str, value: Any) -> str:
    entry = _entries({key: value})
    if group.flow_style:
        if not group.value:
            at = group.start_mark.index + 1
            return text[:at] + entry + text[at:]
        at = _end(text, group.value[-1])
        return f"{text[:at]}, {entry}{text[at:]}"
    newline = "\r\n" if "\r\n" in text else "\n"
    at = _end(text, group.value[-1])
    if text[at - 1] != "\n":
        at = text.find("\n", at) + 1 or len(text)
    lead = "" if text[at - 1] == "\n" else newline
    indent = " " * group.value[0][0].start_mark.column
    return f"{text[:at]}{lead}{indent}{entry}{newline}{text[at:]}"


def _replaced(text: str, node: AnyNode, place: int, value: Any) -> str:
    start, end = node.start_mark.index, _end(text, node)
    flow = isinstance(node, ScalarNode) or node.flow_style
    if start == end:  # nothing is written there
        return f"{text[:place]} {_flow(value)}{text[place:]}"
    if not flow:
        return f"{text[:place]} {_flow(value)}{text[end:]}"
    return text[:start] + _flow(value) + text[end:]


def _after_colon(text: str, key: AnyNode) -> int:
    return text.index(":", key.end_mark.index) + 1


def _end(text: str, node: AnyNode | tuple[AnyNode, AnyNode]) -> int:
    """Where the last letter of a node, or of a key and its value, stands; one further."""
    if isinstance(node, tuple):
        key, inner = node
        if inner.start_mark.index < key.end_mark.index:
            return text.index("*", key.end_mark.index) + 1 + len(str(inner.anchor))
        if inner.start_mark.index == inner.end_mark.index:
            return _after_colon(text, key)
        return _end(text, inner)
    if isinstance(node, ScalarNode) or node.flow_style or not node.value:
        return int(node.end_mark.index)
    return _end(text, node.value[-1])


def _flow(value: Any) -> str:
    """A value as YAML on one line."""
    if isinstance(value, dict):
        return f"{{{_entries(value)}}}"
    if isinstance(value, list):
        return f"[{', '.join(map(_flow, value))}]"
    writer = YAML(typ="safe", pure=True)
    writer.default_flow_style = True
    writer.width = _LONG_LINE
    out = io.StringIO()
    writer.dump([value], out)
    return out.getvalue().strip()[1:-1]


def _entries(group: dict[str, Any]) -> str:
    return ", ".join(f"{_flow(key)}: {_flow(value)}" for key, value in group.items())


# --- the parsed file -----------------------------------------------------------------------


def _parsed(text: str) -> AnyNode:
    return YAML(typ="rt", pure=True).compose(text)


def _own(group: MappingNode, step: str | int) -> tuple[AnyNode, AnyNode] | None:
    """A group's own key and value, not one that it merges in."""
    for key, value in group.value:
        if key.value == str(step):
            return key, value
    return None


def _merged(group: MappingNode) -> Iterator[MappingNode]:
    for key, value in group.value:
        if key.value == _MERGE:
            yield from value.value if isinstance(value, SequenceNode) else [value]


def _found(node: AnyNode | None, path: FieldPath) -> AnyNode | None:
    """What stands at a path, merged groups included; None where nothing or null does."""
    for step in path:
        if isinstance(node, SequenceNode):
            node = node.value[int(step)] if int(step) < len(node.value) else None
        elif isinstance(node, MappingNode):
            pair = _own(node, step)
            found = [f for f in (_found(m, (step,)) for m in _merged(node)) if f is not None]
            node = pair[1] if pair else found[0] if found else None
        else:
            return None
    return None if isinstance(node, ScalarNode) and _plain(node) is None else node


def _plain(node: AnyNode | None) -> Any:
    """A node as plain data; scalars that are not null, true, false or whole stay text."""
    if node is None:
        return None
    if isinstance(node, SequenceNode):
        return [_plain(inner) for inner in node.value]
    if isinstance(node, MappingNode):
        data = {}
        for group in [*reversed(list(_merged(node))), node]:
            pairs = group.value if group is node else _plain(group).items()
            for key, value in pairs:
                name = key if isinstance(key, str) else key.value
                if name != _MERGE:
                    data[name] = _plain(value) if isinstance(value, AnyNode) else value
        return data
    if node.style is None:
        return YAML(typ="safe", pure=True).load(node.value or "null")
    return node.value


def _places(root: AnyNode, wanted: AnyNode, rest: FieldPath) -> list[FieldPath]:
    """Every path at which one and the same node stands and gives the field ``rest`` in it."""
    found: list[FieldPath] = []
    seen: set[int] = set()

    def visit(node: AnyNode, path: FieldPath) -> None:
        if node is wanted:
            found.append(path)
        if id(node) in seen:
            return
        seen.add(id(node))
        if isinstance(node, MappingNode):
            for key, value in node.value:
                if key.value != _MERGE or value is not wanted or _own(node, rest[0]) is None:
                    visit(value, (*path, key.value))
        elif isinstance(node, SequenceNode):
            for index, value in enumerate(node.value):
                visit(value, (*path, index))

    visit(root, ())
    return found

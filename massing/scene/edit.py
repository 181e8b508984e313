"""Changes to a scene file that leave the rest of it, comments included, letter for letter.

The file is parsed for where things stand; the change is then made in its text.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.events import AliasEvent
from ruamel.yaml.nodes import MappingNode, SequenceNode

from massing.scene.nodes import (
    MERGE,
    AnyNode,
    FieldPath,
    found_at,
    own_pair,
    parsed,
    places_of,
    plain_data,
)
from massing.scene.other_names import in_our_names
from massing.scene.spec import Scene
from massing.scene.splices import (
    after_colon,
    end_of,
    entries,
    inserted,
    line_end,
    on_one_line,
    replaced,
    start_of,
)


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
        root = parsed(text)
        if value is not None or found_at(root, path) or found_at(root, (*own, *path)):
            text = _changed(text, root, (*own, *path), value)
    return text


def plain_scene(text: str) -> dict[str, Any]:
    """What a scene file's text holds as plain data, shared groups laid in, nothing checked.

    Fields of other names in the trade stand under ours.

    >>> plain_scene("porch: &p {depth: 8 ft}\\nother: {<<: *p, columns: 6}")["other"]
    {'depth': '8 ft', 'columns': 6}
    """
    data = plain_data(parsed(text)) if text.strip() else None
    return in_our_names(data, {}, Scene)[0] if isinstance(data, dict) else {}


def without_entry(text: str, path: FieldPath) -> str:
    """The text with a field or a list's item taken out; the same text where it is not written.

    A group that becomes empty stays as ``{}``. What others share by an anchor they keep.

    >>> without_entry("porch:\\n  depth: 8 ft  # deep\\n  columns: 6\\n", ("porch", "depth"))
    'porch:\\n  columns: 6\\n'
    """
    root = parsed(text)
    node: AnyNode = root
    for depth, step in enumerate(path):
        rest = path[depth + 1 :]
        pair = own_pair(node, step) if isinstance(node, MappingNode) else None
        if pair is None and not isinstance(node, SequenceNode):
            merged = isinstance(node, MappingNode) and found_at(node, path[depth:]) is not None
            return _unshared(text, root, path[:depth], path[depth:]) if merged else text
        if isinstance(node, SequenceNode) and int(step) >= len(node.value):
            return text
        inner = pair[1] if pair else node.value[int(step)]
        if pair and inner.start_mark.index < pair[0].end_mark.index and rest:
            return _unshared(text, root, path[: depth + 1], rest)
        if rest:
            others = [p for p in places_of(root, inner, rest) if p != path[: depth + 1]]
            was = found_at(inner, rest)
            if others and was is not None:
                return without_entry(_held(text, others, rest, plain_data(was)), path)
            node = inner
    return _cut_out(_freed(text, root, path), root, path)


def _freed(text: str, root: AnyNode, path: FieldPath) -> str:
    """The text with anchors inside the entry at ``path`` defined anew where first needed.

    Only what stands behind the entry changes, so that ``root`` still tells where that is.
    """
    group = found_at(root, path[:-1])
    assert isinstance(group, (MappingNode, SequenceNode))
    pair = own_pair(group, path[-1]) if isinstance(group, MappingNode) else None
    node: AnyNode = pair[1] if pair else group.value[int(path[-1])]
    start, end = start_of(pair or node), end_of(text, pair or node)
    inside = {n.anchor: n for n in _inner(node) if n.anchor}
    first: dict[str, tuple[int, int]] = {}
    defined_in: dict[str, bool] = {}
    for event in YAML(typ="rt", pure=True).parse(text) if inside else ():
        at = event.start_mark.index
        anchor = str(getattr(event, "anchor", None) or "")
        if isinstance(event, AliasEvent):
            if not start <= at < end and defined_in.get(anchor):
                first.setdefault(anchor, (at, at + 1 + len(anchor)))
        elif anchor:
            defined_in[anchor] = start <= at < end
    for anchor, (a, b) in sorted(first.items(), key=lambda item: -item[1][0]):
        text = f"{text[:a]}&{anchor} {on_one_line(plain_data(inside[anchor]))}{text[b:]}"
    return text


def _inner(node: AnyNode) -> Iterator[AnyNode]:
    """A node and all that stands in it."""
    yield node
    if isinstance(node, MappingNode):
        for _, value in node.value:
            yield from _inner(value)
    elif isinstance(node, SequenceNode):
        for value in node.value:
            yield from _inner(value)


def _unshared(text: str, root: AnyNode, owner: FieldPath, rest: FieldPath) -> str:
    """The text with a shared group written out at ``owner`` without what stands at ``rest``."""
    group = plain_data(found_at(root, owner))
    inner = group
    for step in rest[:-1]:
        inner = inner[step]
    del inner[rest[-1]]
    return _written_over(text, root, owner, group)


def _written_over(text: str, root: AnyNode, path: FieldPath, value: Any) -> str:
    above = found_at(root, path[:-1])
    assert isinstance(above, MappingNode)
    key, inner = own_pair(above, path[-1]) or (above, above)
    if inner.start_mark.index < key.end_mark.index:
        start = text.index("*", key.end_mark.index)
        return text[:start] + on_one_line(value) + text[start + 1 + len(str(inner.anchor)) :]
    return replaced(text, inner, after_colon(text, key), value)


def _cut_out(text: str, root: AnyNode, path: FieldPath) -> str:
    group = found_at(root, path[:-1])
    assert isinstance(group, (MappingNode, SequenceNode))
    entries = list(group.value)
    if isinstance(group, MappingNode):
        index = next(i for i, (key, _) in enumerate(entries) if key.value == str(path[-1]))
    else:
        index = int(path[-1])
    if len(entries) == 1:
        empty = "{}" if isinstance(group, MappingNode) else "[]"
        start, end = group.start_mark.index, end_of(text, group)
        if group.flow_style or not path[:-1]:
            named = f"&{group.anchor} " if group.anchor and text[start] == "&" else ""
            return text[:start] + named + empty + text[end:]
        above = found_at(root, path[:-2])
        pair = own_pair(above, path[-2]) if isinstance(above, MappingNode) else None
        start = after_colon(text, pair[0]) if pair else start - 1
        anchor = f" &{group.anchor}" if group.anchor else ""
        return f"{text[:start]}{anchor} {empty}{text[end:]}"
    starts = [start_of(entry) for entry in entries]
    end = end_of(text, entries[index])
    if group.flow_style:
        if index + 1 < len(entries):
            return text[: starts[index]] + text[starts[index + 1] :]
        return text[: end_of(text, entries[index - 1])] + text[end:]
    start = starts[index]
    if isinstance(group, SequenceNode):
        start = text.rindex("-", 0, start)
    line = text.rfind("\n", 0, start) + 1
    if text[line:start].strip():  # the first field of a list's item, after its dash
        return text[:start] + text[starts[index + 1] :]
    return text[:line] + text[line_end(text, end) :]


def with_item(text: str, path: FieldPath, value: Any) -> str:
    """The text with one more item at the end of the list at ``path``, made where missing.

    >>> with_item("times: [equinox 9:00]", ("times",), "equinox 15:00")
    'times: [equinox 9:00, equinox 15:00]'
    """
    root = parsed(text)
    found = found_at(root, path)
    shared = isinstance(found, SequenceNode) and len(places_of(root, found, (0,))) > 1
    if not isinstance(found, SequenceNode) or shared or not found.value:
        items = plain_data(found) if isinstance(found, SequenceNode) else []
        return _changed(text, root, path, [*items, value])
    at = end_of(text, found.value[-1])
    if found.flow_style:
        return f"{text[:at]}, {on_one_line(value)}{text[at:]}"
    newline = "\r\n" if "\r\n" in text else "\n"
    at = line_end(text, at)
    lead = "" if text[at - 1] == "\n" else newline
    indent = " " * found.start_mark.column
    return f"{text[:at]}{lead}{indent}- {on_one_line(value)}{newline}{text[at:]}"


def with_copy(text: str, path: FieldPath, name: str) -> str:
    """The text with a copy of the entry at ``path`` under another name, at its group's end.

    A copy keeps the form and the comments of what it is a copy of; an anchor is not made twice.
    """
    root = parsed(text)
    group = found_at(root, path[:-1])
    assert isinstance(group, MappingNode)
    pair = own_pair(group, path[-1])
    if pair is None:
        raise KeyError(path)
    body = text[pair[0].end_mark.index : line_end(text, end_of(text, pair))]
    if group.flow_style or pair[1].start_mark.index < pair[0].end_mark.index or "&" in body:
        return inserted(text, group, name, plain_data(pair[1]))
    newline = "\r\n" if "\r\n" in text else "\n"
    at = line_end(text, end_of(text, group.value[-1]))
    lead = "" if text[at - 1] == "\n" else newline
    tail = "" if body.endswith("\n") else newline
    indent = " " * group.value[0][0].start_mark.column
    return f"{text[:at]}{lead}{indent}{on_one_line(name)}{body}{tail}{text[at:]}"


def with_key(text: str, path: FieldPath, name: str) -> str:
    """The text with the entry at ``path`` called by another name, in its place."""
    group = found_at(parsed(text), path[:-1])
    pair = own_pair(group, path[-1]) if isinstance(group, MappingNode) else None
    if pair is None:
        raise KeyError(path)
    key = pair[0]
    return text[: key.start_mark.index] + on_one_line(name) + text[key.end_mark.index :]


def with_order(text: str, path: FieldPath, names: Sequence[str]) -> str:
    """The text with the entries of the group at ``path`` in the order of ``names``.

    Comments above an entry go with it.

    Raises:
        KeyError: ``names`` are not the group's entries, each once.
    """
    root = parsed(text)
    group = found_at(root, path)
    if not isinstance(group, MappingNode):
        raise KeyError(path)
    stand = [key.value for key, _ in group.value]
    if sorted(stand) != sorted(names):
        raise KeyError(names)
    if group.flow_style:
        spans = [(start_of(pair), end_of(text, pair)) for pair in group.value]
    else:
        ends = [line_end(text, end_of(text, pair)) for pair in group.value]
        above = found_at(root, path[:-1])
        own = own_pair(above, path[-1]) if isinstance(above, MappingNode) else None
        first = line_end(text, after_colon(text, own[0]) if own else 0)
        spans = list(zip([first, *ends[:-1]], ends, strict=True))
    pieces = dict(zip(stand, (text[a:b] for a, b in spans), strict=True))
    start, end = spans[0][0], spans[-1][1]
    if group.flow_style:
        return text[:start] + ", ".join(pieces[name] for name in names) + text[end:]
    newline = "\r\n" if "\r\n" in text else "\n"
    laid = [p if p.endswith("\n") else p + newline for p in (pieces[n] for n in names)]
    return _defined_first(text[:start] + "".join(laid) + text[end:], root)


def _defined_first(text: str, before: AnyNode) -> str:
    """The text with each anchor defined where it is first used, when that comes too early.

    ``before`` is the file before its entries changed places. The definition that comes too late
    stays, as a group of its own.
    """
    anchored = {n.anchor: n for n in _inner(before) if n.anchor}
    late: dict[str, tuple[int, int]] = {}
    known: dict[str, int] = {}
    for event in YAML(typ="rt", pure=True).parse(text) if anchored else ():
        at = event.start_mark.index
        anchor = str(getattr(event, "anchor", None) or "")
        if isinstance(event, AliasEvent):
            if anchor not in known:
                late.setdefault(anchor, (at, -1))
        elif anchor:
            known.setdefault(anchor, at)
            if anchor in late and late[anchor][1] < 0:
                late[anchor] = late[anchor][0], text.index(f"&{anchor}", at)
    cuts = []
    for anchor, (use, definition) in late.items():
        if definition >= 0 and anchor in anchored:
            whole = f"&{anchor} {on_one_line(plain_data(anchored[anchor]))}"
            cuts.append((use, use + 1 + len(anchor), whole))
            after = definition + 1 + len(anchor)
            cuts.append((definition, after + (text[after : after + 1] == " "), ""))
    for a, b, fresh in sorted(cuts, reverse=True):
        text = text[:a] + fresh + text[b:]
    return text


def _changed(text: str, root: AnyNode, path: FieldPath, value: Any) -> str:
    """The text with one field set; a group on the way that is missing is made."""
    node = root
    for depth, step in enumerate(path):
        rest = path[depth + 1 :]
        if isinstance(node, MappingNode):
            pair = own_pair(node, step)
            if pair is None:
                inherited = found_at(node, (step,))
                return inserted(text, node, str(step), _laid(plain_data(inherited), rest, value))
            key, inner = pair
            if inner.start_mark.index < key.end_mark.index:  # an alias: defined further up
                return _overridden(text, key, inner, rest, value)
            place = after_colon(text, key)
        elif isinstance(node, SequenceNode):
            inner = node.value[int(step)]
            place = inner.start_mark.index
        else:
            raise KeyError(path)
        others = [p for p in places_of(root, inner, rest) if p != path[: depth + 1]]
        if others:
            was = found_at(inner, rest)
            kept = plain_data(was) if was is not None else plain_data(found_at(root, _drawn(path)))
            text = _held(text, others, rest, kept)
            return _changed(text, parsed(text), path, value)
        if not rest or not isinstance(inner, (MappingNode, SequenceNode)):
            if value is None and plain_data(inner) is None:
                return text
            fresh = _laid(None, rest, value)
            return replaced(text, inner, place, fresh)
        node = inner
    return text


def _drawn(path: FieldPath) -> FieldPath:
    return path[2:] if path[0] == "alternatives" else path


def _held(text: str, places: list[FieldPath], rest: FieldPath, value: Any) -> str:
    """The text with a shared group's field written out at each other place that shares it."""
    for *above, last in places:
        owner = found_at(parsed(text), tuple(above))
        assert isinstance(owner, MappingNode)
        if last == MERGE:
            was = plain_data(found_at(owner, rest[:1]))
            text = inserted(text, owner, str(rest[0]), _laid(was, rest[1:], value))
        else:
            key, inner = own_pair(owner, last) or (owner, owner)
            text = _overridden(text, key, inner, rest, value)
    return text


def _overridden(text: str, key: AnyNode, shared: AnyNode, rest: FieldPath, value: Any) -> str:
    """An alias as the group it stands for with one field laid over."""
    start = text.index("*", key.end_mark.index)
    end = start + 1 + len(str(shared.anchor))
    if not rest:
        return text[:start] + on_one_line(value) + text[end:]
    inner = _laid(plain_data(found_at(shared, rest[:1])), rest[1:], value)
    entry = entries({str(rest[0]): inner})
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

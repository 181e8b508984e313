"""Reading a text again after a change: only the entries that changed are parsed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import StringMark, YAMLError
from ruamel.yaml.nodes import MappingNode, ScalarNode, SequenceNode

AnyNode = ScalarNode | SequenceNode | MappingNode

_DEEPEST = 5  # groups in groups that are read apart; an alternative's porch is the third
_SPEAKS_ELSEWHERE = re.compile(r"[\t\r\0\x85\u2028\u2029\ufeff]|<<|^(%|---|\.\.\.)", re.MULTILINE)
"""What speaks to the reader, is merged in, or is a line that the reader counts in its own way."""
_KEY = re.compile(r"""[^\s#\-?!|>@`"'{}\[\],:][^#"'{}\[\],:]*:(?=[ \n]|$)""")
_HEAD = re.compile(r"[^#&*\n]*:(?: +(&(\w+)))? *(#[^\n]*)?\n")
_SHARED = re.compile(r"([^#&*\n]*:) +\*(\w+) *(#[^\n]*)?\n *$")


def composed(text: str) -> AnyNode:
    """The nodes of a text as the reader composes them, those of entries read before kept.

    Raises:
        YAMLError: as the reader has it for the whole text.
    """
    if text.endswith("\n") and not _SPEAKS_ELSEWHERE.search(text):
        try:
            return _block(text, 0, 0, _DEEPEST, {})
        except (YAMLError, _BoundError, _WholeOnlyError):
            pass  # a bracket or a quote that goes on over lines; or a fault, told by its own line
    return YAML(typ="rt", pure=True).compose(text)


_Shared = dict[str, MappingNode]


class _BoundError(Exception):
    """Bound to other entries in a way that only the reader follows."""


class _WholeOnlyError(Exception):
    """Not a block of entries, one below the other."""


def _block(text: str, index: int, line: int, deepest: int, shared: _Shared) -> MappingNode:
    """A group whose entries stand one below the other, from a place in a file on.

    A text ends with the indent of what follows it, for there the reader lets a group end.
    """
    pairs = []
    for part, at, above in _entries(text):
        place = (index + at, line + above, deepest - 1)
        joined = "&" in part or "*" in part
        pairs.append(_joined(part, *place, shared) if joined else _entry(part, *place))
    column = len(text) - text.rfind("\n") - 1
    end = _mark(index + len(text), line + text.count("\n"), column)
    return MappingNode("tag:yaml.org,2002:map", pairs, pairs[0][0].start_mark, end, False)


@lru_cache(maxsize=512)
def _entry(text: str, index: int, line: int, deepest: int) -> tuple[AnyNode, AnyNode]:
    head = _HEAD.match(text)
    if deepest and head:
        try:
            group = _block(text[head.end() :], index + head.end(), line + 1, deepest, {})
        except _WholeOnlyError:
            pass
        else:
            key = _key(head[0])
            if group.start_mark.column > key.start_mark.column:
                return _moved(key, index, line), group
    key, value = _read(text)
    if value.start_mark.index == value.end_mark.index:
        raise _WholeOnlyError  # where nothing stands depends on what follows
    return _moved(key, index, line), _moved(value, index, line)


def _joined(
    text: str, index: int, line: int, deepest: int, shared: _Shared
) -> tuple[AnyNode, AnyNode]:
    """An entry that names a group for others, is another's, or has such entries in it."""
    alias, head = _SHARED.match(text), _HEAD.match(text)
    if alias and alias[2] in shared:
        return _moved(_key(alias[1] + "\n"), index, line), shared[alias[2]]
    if not head or not deepest or head[2] in shared:
        raise _BoundError
    value = _block(text[head.end() :], index + head.end(), line + 1, deepest, shared)
    key = _moved(_key(text[: head.start(1)] + "\n" if head[1] else head[0]), index, line)
    if value.start_mark.column <= key.start_mark.column:
        raise _BoundError
    if head[1]:
        value.anchor, at = head[2], head.start(1)
        value.start_mark = _mark(index + at, line, at)
        shared[head[2]] = value
    return key, value


def _key(head: str) -> AnyNode:
    return _read(head)[0]


@lru_cache(maxsize=512)
def _read(text: str) -> tuple[AnyNode, AnyNode]:
    made = YAML(typ="rt", pure=True).compose(text)
    if not isinstance(made, MappingNode) or len(made.value) != 1:
        raise _WholeOnlyError
    key, value = made.value[0]
    return key, value


def _entries(text: str) -> Iterator[tuple[str, int, int]]:
    """The entries of a block, each with where it begins: signs and lines above it.

    What stands above the first belongs to it, what stands above another to the one before.
    """
    lines = text.splitlines(keepends=True)  # the last of them may be an indent only
    said = [(n, line) for n, line in enumerate(lines) if line.strip() and _bare(line)[0] != "#"]
    if not said:
        raise _WholeOnlyError
    indent = min(len(line) - len(_bare(line)) for _, line in said)
    if len(said[0][1]) - len(_bare(said[0][1])) != indent:
        raise _WholeOnlyError
    starts = [n for n, line in said if len(line) - len(_bare(line)) == indent]
    if not all(_KEY.match(lines[n][indent:]) for n in starts):
        raise _WholeOnlyError
    starts[0] = 0
    at = 0
    for start, end in zip(starts, [*starts[1:], len(lines)], strict=True):
        part = "".join(lines[start:end])
        yield part + (" " * indent if end < len(lines) else ""), at, start
        at += len(part)


def _bare(line: str) -> str:
    return line.lstrip(" ")


def _moved(node: AnyNode, index: int, line: int) -> AnyNode:
    """A node and those in it, as they stand further down in a file."""
    if not index:
        return node
    value: Any = node.value
    if isinstance(node, SequenceNode):
        value = [_moved(inner, index, line) for inner in value]
    elif isinstance(node, MappingNode):
        value = [(_moved(k, index, line), _moved(v, index, line)) for k, v in value]
    start, end = (
        _mark(mark.index + index, mark.line + line, mark.column)
        for mark in (node.start_mark, node.end_mark)
    )
    return _like(node, value, start, end)


def _like(node: AnyNode, value: Any, start: StringMark, end: StringMark) -> AnyNode:
    made: AnyNode
    if isinstance(node, ScalarNode):
        made = ScalarNode(node.ctag, value, start, end, node.style, anchor=node.anchor)
    else:
        made = type(node)(node.ctag, value, start, end, node.flow_style, anchor=node.anchor)
    return made


def _mark(index: int, line: int, column: int) -> StringMark:
    return StringMark(None, index, line, column, None, None)

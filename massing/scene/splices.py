"""Pieces of a scene file's text: where they begin and end, and how others take their place."""

from __future__ import annotations

import io
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.nodes import MappingNode, ScalarNode

from massing.scene.nodes import (
    AnyNode,
)

_LONG_LINE = 100_000


def inserted(text: str, group: MappingNode, key: str, value: Any) -> str:
    entry = entries({key: value})
    if group.flow_style:
        if not group.value:
            at = group.start_mark.index + 1
            return text[:at] + entry + text[at:]
        at = end_of(text, group.value[-1])
        return f"{text[:at]}, {entry}{text[at:]}"
    newline = "\r\n" if "\r\n" in text else "\n"
    at = end_of(text, group.value[-1])
    if text[at - 1] != "\n":
        at = text.find("\n", at) + 1 or len(text)
    lead = "" if text[at - 1] == "\n" else newline
    indent = " " * group.value[0][0].start_mark.column
    return f"{text[:at]}{lead}{indent}{entry}{newline}{text[at:]}"


def replaced(text: str, node: AnyNode, place: int, value: Any) -> str:
    start, end = node.start_mark.index, end_of(text, node)
    flow = isinstance(node, ScalarNode) or node.flow_style
    if start == end:  # nothing is written there
        return f"{text[:place]} {on_one_line(value)}{text[place:]}"
    if not flow:
        return f"{text[:place]} {on_one_line(value)}{text[end:]}"
    return text[:start] + on_one_line(value) + text[end:]


def start_of(entry: AnyNode | tuple[AnyNode, AnyNode]) -> int:
    return int((entry[0] if isinstance(entry, tuple) else entry).start_mark.index)


def line_end(text: str, at: int) -> int:
    """Where the line that ends at or after ``at`` is over, its line break included."""
    if at and text[at - 1] == "\n":
        return at
    return text.find("\n", at) + 1 or len(text)


def after_colon(text: str, key: AnyNode) -> int:
    return text.index(":", key.end_mark.index) + 1


def end_of(text: str, node: AnyNode | tuple[AnyNode, AnyNode]) -> int:
    """Where the last letter of a node, or of a key and its value, stands; one further."""
    if isinstance(node, tuple):
        key, inner = node
        if inner.start_mark.index < key.end_mark.index:
            return text.index("*", key.end_mark.index) + 1 + len(str(inner.anchor))
        if inner.start_mark.index == inner.end_mark.index:
            return after_colon(text, key)
        return end_of(text, inner)
    if isinstance(node, ScalarNode) or node.flow_style or not node.value:
        return int(node.end_mark.index)
    return end_of(text, node.value[-1])


def on_one_line(value: Any) -> str:
    """A value as YAML on one line.

    >>> on_one_line({"columns": 4, "depth": "8 ft"}), on_one_line("10'-6\\"")
    ('{columns: 4, depth: 8 ft}', '10\\'-6"')
    """
    if isinstance(value, dict):
        return f"{{{entries(value)}}}"
    if isinstance(value, list):
        return f"[{', '.join(map(on_one_line, value))}]"
    writer = YAML(typ="safe", pure=True)
    writer.default_flow_style = True
    writer.width = _LONG_LINE
    out = io.StringIO()
    writer.dump([value], out)
    return out.getvalue().strip()[1:-1]


def entries(group: dict[str, Any]) -> str:
    return ", ".join(f"{on_one_line(key)}: {on_one_line(value)}" for key, value in group.items())

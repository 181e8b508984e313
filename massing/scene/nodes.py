"""The nodes of a scene file as parsed: what stands where, groups that are merged in included."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.nodes import MappingNode, ScalarNode, SequenceNode

from massing.scene.blocks import AnyNode, composed
from massing.scene.explain import our_name

FieldPath = tuple[str | int, ...]

MERGE = "<<"


@lru_cache(maxsize=8)
def parsed(text: str) -> AnyNode:
    """The nodes of a text, which nothing here changes; several steps look at the same text."""
    return composed(text)


def own_pair(group: MappingNode, step: str | int) -> tuple[AnyNode, AnyNode] | None:
    """A group's own key and value, not one that it merges in; by another name where not by ours."""
    for key, value in group.value:
        if key.value == str(step):
            return key, value
    for key, value in group.value:
        if our_name(str(key.value)) == step:
            return key, value
    return None


def merged_groups(group: MappingNode) -> Iterator[MappingNode]:
    for key, value in group.value:
        if key.value == MERGE:
            yield from value.value if isinstance(value, SequenceNode) else [value]


def found_at(node: AnyNode | None, path: FieldPath) -> AnyNode | None:
    """What stands at a path, merged groups included; None where nothing or null does."""
    for step in path:
        if isinstance(node, SequenceNode):
            node = node.value[int(step)] if int(step) < len(node.value) else None
        elif isinstance(node, MappingNode):
            pair = own_pair(node, step)
            found = [
                f for f in (found_at(m, (step,)) for m in merged_groups(node)) if f is not None
            ]
            node = pair[1] if pair else found[0] if found else None
        else:
            return None
    return None if isinstance(node, ScalarNode) and plain_data(node) is None else node


def plain_data(node: AnyNode | None) -> Any:
    """A node as plain data; scalars that are not null, true, false or whole stay text."""
    if node is None:
        return None
    if isinstance(node, SequenceNode):
        return [plain_data(inner) for inner in node.value]
    if isinstance(node, MappingNode):
        data = {}
        for group in [*reversed(list(merged_groups(node))), node]:
            pairs = group.value if group is node else plain_data(group).items()
            for key, value in pairs:
                name = key if isinstance(key, str) else key.value
                if name != MERGE:
                    data[name] = plain_data(value) if isinstance(value, AnyNode) else value
        return data
    return _plain_scalar(node.value) if node.style is None else node.value


@lru_cache(maxsize=4096)
def _plain_scalar(word: str) -> Any:
    """What a word without quotes says; kept, for each change asks for every word of the file."""
    return YAML(typ="safe", pure=True).load(word or "null")


def places_of(root: AnyNode, wanted: AnyNode, rest: FieldPath) -> list[FieldPath]:
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
                if key.value != MERGE or value is not wanted or own_pair(node, rest[0]) is None:
                    own = key.value if path == ("alternatives",) else our_name(str(key.value))
                    visit(value, (*path, own))
        elif isinstance(node, SequenceNode):
            for index, value in enumerate(node.value):
                visit(value, (*path, index))

    visit(root, ())
    return found

"""Reading a text again: the nodes are those of the reader itself, read whole."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError
from ruamel.yaml.nodes import MappingNode, ScalarNode

from massing.scene import blocks
from massing.scene.blocks import composed
from massing.scene.edit import edit_scene

SCENES = sorted((Path(__file__).parents[2] / "scenes").glob("*.yaml"))


def told(node: Any) -> Any:
    marks = [(m.index, m.line, m.column) for m in (node.start_mark, node.end_mark)]
    if isinstance(node, ScalarNode):
        return "word", node.tag, node.value, node.style, node.anchor, marks
    inner = [
        tuple(told(n) for n in pair) if isinstance(pair, tuple) else told(pair)
        for pair in node.value
    ]
    return type(node).__name__, node.tag, bool(node.flow_style), inner, node.anchor, marks


def twice(node: Any, seen: list[int]) -> list[int]:
    """How many nodes in were met before each that stands in two places."""
    if id(node) in seen:
        return [seen.index(id(node))]
    seen.append(id(node))
    inner = [] if isinstance(node, ScalarNode) else node.value
    flat = [n for pair in inner for n in (pair if isinstance(pair, tuple) else (pair,))]
    return [n for each in flat for n in twice(each, seen)]


def whole(text: str) -> Any:
    return told(YAML(typ="rt", pure=True).compose(text))


def outcome(read: Callable[[], Any]) -> Any:
    try:
        return read()
    except YAMLError as fault:
        return str(fault)


@pytest.mark.parametrize("path", SCENES, ids=lambda p: p.stem)
def test_nodes_are_those_of_the_reader(path: Path) -> None:
    text = path.read_text("utf-8")
    made = composed(text)
    assert told(made) == whole(text)
    assert twice(made, []) == twice(YAML(typ="rt", pure=True).compose(text), [])


def test_after_a_change_too_and_only_what_changed_is_read(monkeypatch) -> None:
    text = next(p for p in SCENES if p.stem == "marsh_road").read_text("utf-8")
    composed(text)
    changed = edit_scene(
        "# a line above\n" + text, {("porch", "depth"): "9'-1\""}, "With a tile roof"
    )
    read: list[str] = []
    reader = YAML.compose
    monkeypatch.setattr(YAML, "compose", lambda self, t: read.append(t) or reader(self, t))
    made = told(composed(changed))
    assert sum(map(len, read)) < 400, "an alternative's porch, and what stands first"
    monkeypatch.undo()
    assert made == whole(changed)


@pytest.mark.parametrize(
    "text",
    [
        "a: 1\nb: {c: 1,\nd: 2}\n",  # a bracket over lines that begin as entries do
        'a: "one\nb: two"\nc: 3\n',
        "a: |\n  b: 1\n\n  c: 2\nd: 3\n",
        "a:\n  - b: 1\n    c: 2\n  - d\ne:\n- f\n- g\n",
        "a: one\n two\n three: 3\n",
        "# above\na: 1 # beside\n\n# between\nb:\n  # inside\n  c: 2\n\n  # under\nd: 4\n# last\n",
        "a:\nb:\n  c:\n  d: ~\n",
        "a:   # to come\n    b: 1\n    c:\n        d: [1, 2]\n",
        "'a b': 1\nc d: 2\n? e\n: 3\n",
        "a: &x {b: 1}\nc: *x\n",
        "a:\n  b: &x  # one\n    c: 1\n    d: 2\n  e: *x  # again\nf: *x\n",
        pytest.param(
            "a: &x\n  c: 1\nb: &x\n  c: 2\nd: *x\n",
            marks=pytest.mark.filterwarnings("ignore::ruamel.yaml.error.ReusedAnchorWarning"),
        ),
        "a: *x\nb: &x\n  c: 2\n",
        "a: &x\nb: *x\n",
        "a: 'five & six *'\nb: 2\n",
        "a: !!str 1\nb: 2\n",
        "  a: 1\n  b: 2\n",
        "- 1\n- 2\n",
        "word\n",
        "a: 1",
        "a:\n  b: 1\n c: 2\n",
        "a: 1\n  b: 2\n",
        "a: {b: 1\nc: 2\n",
        "a: ]\n",
        "a: b: c\n",
    ],
)
def test_other_texts_are_read_as_the_reader_reads_them(text: str) -> None:
    for _ in range(2):
        assert outcome(lambda: told(composed(text))) == outcome(lambda: whole(text))


def test_what_is_kept_is_not_mixed_up_by_its_place() -> None:
    blocks._entry.cache_clear()
    first, second = composed("a: 1\nb: 2\n"), composed("b: 2\na: 1\n")
    assert isinstance(first, MappingNode)
    assert told(first) == whole("a: 1\nb: 2\n")
    assert told(second) == whole("b: 2\na: 1\n")

"""Changes to a scene file's text: what was asked changes, and nothing else."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from massing.scene.edit import edit_scene
from massing.scene.load import load_scene
from massing.units import parse_length

SCENES = Path(__file__).parents[2] / "scenes"
TEXT = (SCENES / "marsh_road.yaml").read_text(encoding="utf-8")
NAMES = tuple(load_scene(SCENES / "marsh_road.yaml").designs)

COMMENTED = """\
title: x # the title
porch: {order: tuscan}  # short
# about the house
house:
  width: 20 m   # wide

  # depth next
  depth: 8 m    # deep
# roof below

roof:
    covering: plain
    # end of roof
alternatives:
    A:
        porch:
            columns: 6
        # more
        roof: &r   # shared
            colour: buff

    # B next
    B:
        roof: *r
    C:
        roof:
            <<: *r
            pitch: 30
# the end
"""


def plain(text: str) -> dict:
    return YAML(typ="safe", pure=True).load(text)


def comments(text: str) -> list[str]:
    return re.findall(r"#.*", text)


def test_no_change_is_no_change() -> None:
    assert edit_scene(TEXT, {}) == TEXT


def test_one_field_is_one_line() -> None:
    changed = edit_scene(TEXT, {("porch", "depth"): "9 ft"})
    before, after = TEXT.splitlines(), changed.splitlines()
    assert len(before) == len(after)
    assert [(a.strip(), b.strip()) for a, b in zip(before, after, strict=True) if a != b] == [
        ("depth: 10 ft", "depth: 9 ft")
    ]


def test_a_new_field_keeps_the_indent_and_comes_before_the_comment_that_follows() -> None:
    changed = edit_scene(COMMENTED, {("roof", "colour"): "grey", ("house", "bays"): 3})
    assert "    covering: plain\n    colour: grey\n    # end of roof\n" in changed
    assert "  depth: 8 m    # deep\n  bays: 3\n# roof below\n" in changed


def test_groups_that_are_missing_are_made() -> None:
    changed = edit_scene(COMMENTED, {("porch", "balustrade", "height"): "1 m"}, "B")
    assert plain(changed)["alternatives"]["B"]["porch"] == {"balustrade": {"height": "1 m"}}


@pytest.mark.parametrize("name", ["A", "B", "C"])
def test_what_is_shared_by_an_anchor_changes_for_one_only(name: str) -> None:
    changed = edit_scene(COMMENTED, {("roof", "colour"): "grey"}, name)
    roofs = {k: v["roof"] for k, v in plain(changed)["alternatives"].items()}
    assert {k: r["colour"] for k, r in roofs.items()} == {
        k: "grey" if k == name else "buff" for k in "ABC"
    }
    assert roofs["C"]["pitch"] == 30
    assert comments(changed) == comments(COMMENTED)


def test_nothing_given_is_null_only_where_something_was() -> None:
    assert edit_scene(COMMENTED, {("porch", "depth"): None}) == COMMENTED
    assert edit_scene(COMMENTED, {("porch", "depth"): None}, "A") == COMMENTED
    assert "order: null" in edit_scene(COMMENTED, {("porch", "order"): None})
    own = plain(edit_scene(COMMENTED, {("porch", "order"): None}, "A"))
    assert own["alternatives"]["A"]["porch"] == {"columns": 6, "order": None}
    once = edit_scene(COMMENTED, {("porch", "order"): None})
    assert edit_scene(once, {("porch", "order"): None}) == once


def test_a_group_can_be_taken_away_and_given_again() -> None:
    text = "porch:\n  balustrade:\n    height: 1 m\n  depth: 2 m # deep\n"
    gone = edit_scene(text, {("porch", "balustrade"): None})
    assert gone == "porch:\n  balustrade: null\n  depth: 2 m # deep\n"
    assert edit_scene(gone, {("porch", "balustrade"): {}}) == gone.replace("null", "{}")


@pytest.mark.parametrize(
    ("text", "path", "expected"),
    [
        ("porch:\nroof: 1\n", ("porch", "columns"), "porch: {columns: 3}\nroof: 1\n"),
        ("porch: {}\n", ("porch", "columns"), "porch: {columns: 3}\n"),
        ("porch:\n  depth: 1 m", ("porch", "columns"), "porch:\n  depth: 1 m\n  columns: 3\n"),
        ("a: 1\r\nb:\r\n  c: 2\r\n", ("b", "d"), "a: 1\r\nb:\r\n  c: 2\r\n  d: 3\r\n"),
        ("times:\n- x # c\n- y\n", ("times", 0), "times:\n- 3 # c\n- y\n"),
    ],
)
def test_layouts(text: str, path: tuple, expected: str) -> None:
    assert edit_scene(text, {path: 3}) == expected


WIDTH = ("house", "windows", 0, "width")
FIELDS = {
    ("porch", "depth"): st.integers(1, 90).map(lambda n: f"{n}'-6 1/2\""),
    ("porch", "columns"): st.integers(2, 16),
    ("porch", "diameter"): st.none() | st.integers(1, 40).map(lambda n: f"{n} in"),
    ("porch", "balustrade"): st.none() | st.just({}),
    ("porch", "steps", "width"): st.none() | st.just("5 ft"),
    ("house", "bays"): st.integers(1, 15),
    WIDTH: st.none() | st.just("3 ft"),
    ("roof", "covering"): st.sampled_from(["plain", "barrel tile"]),
}


@settings(max_examples=25, deadline=None)
@example(NAMES[2], {("house", "bays"): 1, WIDTH: None})  # an anchor's own group, changed twice
@given(st.sampled_from(NAMES), st.fixed_dictionaries({}, optional=FIELDS))
def test_a_design_changes_as_asked_and_no_other(name: str, changes: dict) -> None:
    alternative = None if name == NAMES[0] else name
    if name == NAMES[1]:  # has no windows of its own to be the first of
        changes = {path: value for path, value in changes.items() if path != WIDTH}
    changed = edit_scene(TEXT, changes, alternative)
    assert comments(changed) == comments(TEXT)
    before = load_scene(SCENES / "marsh_road.yaml").designs
    after = load_scene(SCENES / "marsh_road.yaml", changed).designs
    assert list(after) == list(before)
    for path, value in changes.items():
        found = after[name]
        for step in path:
            found = found[step] if isinstance(step, int) else getattr(found, step)
        if isinstance(value, str) and value[0].isdigit():
            assert found == pytest.approx(parse_length(value))
        elif value == {}:
            assert found is not None
        else:
            assert found == value
    if alternative is not None:
        for other in NAMES:
            assert other == name or after[other] == before[other]

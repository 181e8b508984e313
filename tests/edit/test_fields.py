"""The fields of a scene and how they stand in a design."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from massing.edit import writing
from massing.edit.fields import (
    APPLIES,
    FIRST,
    found_fields,
    rule_value,
    scene_fields,
    standing,
    standings,
)
from massing.edit.reading import Reading, reading
from massing.edit.scene_field import KINDS, typed
from massing.scene.errors import SceneError
from massing.scene.lines import parse_field
from massing.scene.load import given_fields

SCENES = Path(__file__).parents[2] / "scenes"
MARSH = SCENES / "marsh_road.yaml"
TUSCAN = "Six Tuscan columns"


def marsh(text: str | None = None) -> Reading:
    return reading(str(MARSH), text or MARSH.read_text("utf-8"))


@pytest.mark.parametrize("path", sorted(SCENES.glob("*.yaml")), ids=lambda p: p.stem)
def test_every_field_that_holds_a_value_is_offered_and_can_be_set_to_what_it_is(path: Path) -> None:
    read = reading(str(path), path.read_text("utf-8"))
    for name in read.names:
        fields = scene_fields(read, name)
        offered = {each.name for each in fields}
        assert len(offered) == len(fields)
        spec, lines = read.loaded.designs[name], read.loaded.lines[name]
        held = {row[0] for row in given_fields(spec, lines)}
        lists = tuple(f"{each.name}[" for each in fields if each.kind == "list")
        assert {f for f in held if not f.startswith(lists)} <= offered
        assert {each.kind for each in fields} <= set(KINDS)


def test_first_fields_come_first_and_search_finds_by_words() -> None:
    fields = scene_fields(marsh(), TUSCAN)
    assert tuple(f.path for f in found_fields(fields, ""))[: len(FIRST)] == FIRST
    assert [f.name for f in found_fields(fields, "dormer pitch")] == ["roof.dormers.pitch"]
    assert "porch.spacing" in [f.name for f in found_fields(fields, "eustyle")]
    assert found_fields(fields, "nothing of the kind") == []


def test_where_a_value_comes_from() -> None:
    read = marsh()
    given = standing(read, TUSCAN, ("porch", "columns"))
    assert (given.written, given.shown, given.source, given.value) == (6, "6", "given", 6)
    assert given.line == read.text.splitlines().index("      columns: 6") + 1
    drawn = standing(read, TUSCAN, ("porch", "depth"))
    assert (drawn.written, drawn.source) == ("10 ft", "as drawn")
    by_rule = standing(read, TUSCAN, ("porch", "diameter"))
    assert (by_rule.written, by_rule.source, by_rule.line) == (None, "rule", None)
    assert by_rule.shown
    assert by_rule.rule.startswith("column height / 7")  # Vignola's Tuscan column: 7 diameters
    assert standing(read, read.drawn, ("porch", "depth")).source == "given"
    assert standing(read, TUSCAN, ("site", "latitude")).source == "given"
    with pytest.raises(KeyError):
        standing(read, TUSCAN, ("porch", "colour"))


def test_a_given_field_tells_what_the_rule_would_give() -> None:
    read = marsh()
    told = rule_value(read, TUSCAN, ("porch", "depth"))
    text = writing.unset_field(read.text, ("porch", "depth"))
    assert told == str(Reading(MARSH, text).design(TUSCAN).origins["porch.depth"])
    with pytest.raises(SceneError):
        rule_value(read, TUSCAN, ("house", "width"))


def test_limits_are_those_of_the_spec() -> None:
    read = marsh()
    columns = standing(read, TUSCAN, ("porch", "columns")).field
    assert (columns.least, columns.most) == (2, 16)
    assert columns.allowed == "a whole number 2 to 16"
    assert "eustyle" in standing(read, TUSCAN, ("porch", "spacing")).field.names
    assert standing(read, TUSCAN, ("roof", "form")).field.choices == (
        "hip",
        "gable",
        "gambrel",
        "deck",
    )


def test_a_field_of_a_group_that_is_not_there_waits_for_it() -> None:
    read = marsh()
    waiting = standing(read, read.drawn, ("porch", "balustrade", "height"))
    assert (waiting.applies, waiting.waits_for) == (False, "porch.balustrade")
    assert standing(read, "Six Doric columns", ("porch", "balustrade", "height")).applies


VALUES: dict[str, Any] = {
    "length": "0.15 m",
    "pitch": "5:12",
    "count": 5,
    "switch": True,
    "group": {},
}
GIVEN_FIRST = {  # what must stand for a field of these to be there at all
    "roof.dormers": {("roof", "dormers"): {"width": "2 ft", "height": "3 ft"}},
    "house.side_door": {("house", "side_door"): {"wall": "left", "bay": 2}},
    "house.wings": {("house", "wings"): [{"side": "right", "door": {}}]},
    "side_porches": {("side_porches",): [{"side": "right"}]},
}


@pytest.mark.usefixtures("rules_hold")
@pytest.mark.parametrize("name", APPLIES)
def test_a_field_that_does_not_apply_changes_nothing_or_is_refused(name: str) -> None:
    """Set where its condition does not hold; if it had a say, the model would show it."""
    text = MARSH.read_text("utf-8")
    for lead, changes in GIVEN_FIRST.items():
        if name.startswith(lead):
            for path, value in changes.items():
                text = writing.set_field(text, path, value)
    where = parse_field(name.replace("[]", "[1]"))
    before = marsh(text)
    now = standing(before, before.drawn, where)
    if now.applies:  # its condition holds by rule: shut it
        text = writing.set_field(text, parse_field(APPLIES[name][0].replace("[]", "[1]")), "shed")
        pytest.skip("holds by rule") if name != "roof.dormers.pitch" else None
        text = writing.set_field(text, ("roof", "dormers", "kind"), "segmental")
        before = marsh(text)
        now = standing(before, before.drawn, where)
    assert not now.applies
    assert now.waits_for
    value = now.field.choices[-1] if now.field.choices else VALUES[now.field.kind]
    after = writing.set_field(text, where, value)
    try:
        changed = marsh(after).design(before.drawn)
    except SceneError:
        return  # refused: it must not be offered
    was = before.design(before.drawn)
    assert repr(replace_origins(changed)) == repr(replace_origins(was)) or _only_kept(
        changed, was, name
    )


def replace_origins(design: Any) -> Any:
    from dataclasses import replace

    return replace(design, origins={})


def _only_kept(changed: Any, was: Any, name: str) -> bool:
    """A field may be carried in the design unused: then the built model is the same."""
    from massing.build.house import build
    from massing.edit.difference import difference

    return not difference(build(was), build(changed))


def test_what_is_typed_becomes_what_would_be_written() -> None:
    read = marsh()

    def of(field: str) -> Any:
        return standing(read, TUSCAN, parse_field(field)).field

    assert typed(of("porch.columns"), "6") == 6
    assert typed(of("porch.depth"), " 8 ft ") == "8 ft"
    assert typed(of("porch.depth"), "") is None
    assert typed(of("house.quoins"), "yes") is True
    assert typed(of("porch.paired"), "no") is False
    assert typed(of("porch.paired"), "2 ft") == "2 ft"
    assert typed(of("porch.balustrade"), "yes") == {}
    assert typed(of("site.latitude"), "32.5") == 32.5
    assert typed(of("site.front_faces"), "S 20 E") == "S 20 E"
    assert typed(of("site.front_faces"), "160") == 160
    assert typed(of("roof.pitch"), "26.5") == 26.5
    assert typed(of("house.storeys"), "11 ft, 10 ft") == ["11 ft", "10 ft"]
    assert typed(of("house.windows[1].lights"), "6 over 6") == "6 over 6"


def test_windows_are_offered_for_every_storey() -> None:
    bare = MARSH.read_text("utf-8").split("alternatives:")[0]
    bare = writing.unset_field(bare + "times: [equinox 10:30]\n", ("house", "windows", 1))
    read = reading("one.yaml", bare)
    rows = {s.field.name: s for s in standings(read, read.drawn, scene_fields(read, read.drawn))}
    second = rows["house.windows[2].height"]
    assert (second.written, second.source, second.rule) == (None, "rule", "as the storey below")
    assert second.shown == "5'-0\""

"""Scene files: what is read, how alternatives lie over the base, and how faults are told."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from massing.scene.errors import DesignError, SceneError
from massing.scene.lines import parse_field
from massing.scene.load import load_scene
from massing.scene.schema import scene_schema

GOOD = """\
title: House by the ford
site:
  place: Anywhere
  latitude: 44
  longitude: 11.5
  front_faces: S 20 E
times:
  - summer solstice 10:00
house:
  width: 48 ft
  depth: 32 ft
  storeys: [11 ft, 10 ft]
  windows:
    - {height: 6 ft, width: 3 ft}
    - height: 5 ft
porch:
  columns: 4
  diameter: 20 in
  balustrade: {height: 33 in}
alternatives:
  Tuscan 1.5:
    porch:
      order: tuscan
      diameter: null
      balustrade: null
  Tall windows:
    house:
      windows: [{height: 8 ft}]
"""


@pytest.fixture
def write(tmp_path):
    def write(text, name="scene.yaml"):
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return write


def refusal(path):
    """What is said against a scene, nothing if it is good."""
    try:
        load_scene(path)
    except SceneError as fault:
        return str(fault)
    return ""


def changed(old, new):
    assert GOOD.count(old) == 1, old
    return GOOD.replace(old, new)


def test_designs_come_as_drawn_first_then_in_the_file_s_order(write):
    loaded = load_scene(write(GOOD))
    assert list(loaded.designs) == ["as drawn", "Tuscan 1.5", "Tall windows"]
    assert loaded.scene.title == "House by the ford"
    assert loaded.name == "scene"


def test_the_design_as_drawn_can_be_named(write):
    loaded = load_scene(write("as_drawn: the builder's\n" + GOOD))
    assert next(iter(loaded.designs)) == "the builder's"


def test_groups_merge_lists_replace_and_null_restores_the_default(write):
    designs = load_scene(write(GOOD)).designs
    drawn, tuscan, tall = designs.values()
    assert tuscan.porch.columns == drawn.porch.columns == 4
    assert drawn.porch.balustrade is not None
    assert drawn.porch.diameter is not None
    assert tuscan.porch.balustrade is None
    assert tuscan.porch.diameter is None
    assert tuscan.house == drawn.house
    assert len(drawn.house.windows) == 2
    assert len(tall.house.windows) == 1
    assert tall.house.windows[0].width is None
    assert tall.porch == drawn.porch


def test_every_field_knows_its_line(write):
    loaded = load_scene(write(GOOD))
    lines = GOOD.splitlines()
    for name, own in loaded.lines.items():
        for path, line in own.items():
            last = path[-1]
            if isinstance(last, str):
                assert last in lines[line - 1], (name, path, line)
    assert ("porch", "balustrade", "height") in loaded.lines["as drawn"]
    assert ("porch", "balustrade", "height") not in loaded.lines["Tuscan 1.5"]
    assert ("house", "windows", 1) not in loaded.lines["Tall windows"]


def test_anchors_and_merge_keys_are_understood(write):
    text = changed("  Tall windows:\n    house:\n", "  Tall windows:\n    house: &tall\n")
    loaded = load_scene(write(text + "  Again:\n    house: *tall\n"))
    assert loaded.designs["Again"].house == loaded.designs["Tall windows"].house


def test_a_plain_date_is_text(write):
    text = changed("summer solstice 10:00", "2026-05-14 16:00")
    assert load_scene(write(text)).scene.times == ["2026-05-14 16:00"]


# Each row: what is written, in place of what; the line; the field; a word of what is allowed.
FAULTS = [
    ("  width: 48 ft", "  widht: 48 ft", 10, "house.widht", "did you mean width?"),
    ("porch:\n  columns", "porhc:\n  columns", 16, "porhc", "did you mean porch?"),
    (
        "    porch:\n      order",
        "    prch:\n      order",
        22,
        "alternatives.Tuscan 1.5.prch",
        "porch",
    ),
    ("order: tuscan", "ordr: tuscan", 23, "alternatives.Tuscan 1.5.porch.ordr", "order"),
    ("- height: 5 ft", "- hight: 5 ft", 15, "house.windows[2].hight", "height"),
    ("48 ft", "48", 10, "house.width", "a length with its unit"),
    ("48 ft", "48 yd", 10, "house.width", "a length with its unit"),
    ("48 ft", "-48 ft", 10, "house.width", "more than nothing"),
    ("48 ft", "0 ft", 10, "house.width", "more than nothing"),
    ("48 ft", "4800 ft", 10, "house.width", "up to 200 m"),
    ("48 ft", "[48 ft]", 10, "house.width", "a length with its unit"),
    ("latitude: 44", "latitude: 95", 4, "site.latitude", "-90 to 90"),
    ("latitude: 44", "latitude: -90.1", 4, "site.latitude", "-90 to 90"),
    ("latitude: 44", "latitude: .nan", 4, "site.latitude", "-90 to 90"),
    ("latitude: 44", "latitude: north", 4, "site.latitude", "-90 to 90"),
    ("longitude: 11.5", "longitude: 181", 5, "site.longitude", "-180 to 180"),
    ("S 20 E", "sunny side", 6, "site.front_faces", "a compass point"),
    ("summer solstice 10:00", "midsummer tea", 8, "times[1]", "a day and an hour"),
    ("summer solstice 10:00", "10 May 25:00", 8, "times[1]", ""),
    ("summer solstice 10:00", "2026-13-45", 8, "times[1]", "a day and an hour"),
    ("11 ft, 10 ft", "11 ft, ten", 12, "house.storeys[2]", "a length with its unit"),
    ("[11 ft, 10 ft]", "[]", 12, "house.storeys", "1 to 3"),
    ("columns: 4", "columns: 1", 17, "porch.columns", "2 to 16"),
    ("columns: 4", "columns: four", 17, "porch.columns", "2 to 16"),
    ("columns: 4", "columns: 4.5", 17, "porch.columns", "2 to 16"),
    ("order: tuscan", "order: doic", 23, "alternatives.Tuscan 1.5.porch.order", "doric"),
    ("balustrade: {height: 33 in}", "balustrade: yes", 19, "porch.balustrade", "height"),
    ("title: House by the ford", "title: 7", 1, "title", "text"),
    ("  depth: 32 ft\n", "", 9, "house.depth", "a length with its unit"),
    ("windows: [{height: 8 ft}]", "width: null", 28, "alternatives.Tall windows.house.width", ""),
    ("      windows: [{height: 8 ft}]\n", "", 27, "alternatives.Tall windows.house", ""),
    (
        "  Tall windows:\n    house:",
        "  Tall windows: small\n  x:",
        26,
        "alternatives.Tall windows",
        "",
    ),
    ("  Tall windows:", "  As Drawn!:", 26, "alternatives.As Drawn!", "a name of its own"),
    ("  Tall windows:", "  '!!':", 26, "alternatives.!!", "a name of its own"),
    ("  Tall windows:", "  sheets:", 26, "alternatives.sheets", "a name of its own"),
    ("  depth: 32 ft", "  width: 32 ft", 11, "width", "once"),
    ("  - summer solstice 10:00", "  - equinox 9:00\n  - Equinox 9:00", 9, "times[2]", "once"),
]


@pytest.mark.parametrize(("old", "new", "line", "field", "allowed"), FAULTS)
def test_a_fault_is_one_line_with_file_line_field_and_what_is_allowed(
    write, old, new, line, field, allowed
):
    path = write(changed(old, new))
    with pytest.raises(SceneError) as caught:
        load_scene(path)
    text = str(caught.value)
    assert "\n" not in text
    assert text.startswith(f"{path}:{line}: {field}: "), text
    assert allowed in text


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("", None, "empty"),
        ("# only a remark\n", None, "empty"),
        ("a: [1,\nb: 2\n", 3, "not YAML"),
        ("title: x\n\tsite: y\n", 2, "not YAML"),
        ("title: 'x\n", 2, "not YAML"),
        ("a: 1\n---\nb: 2\n", 2, "not YAML"),
        ("just words\n", 1, "not a scene"),
        ("- a\n- b\n", 1, "not a scene"),
        ("&a\ntitle: *a\n", 2, "refers to itself"),
        ("a: &a\n  <<: *a\n", None, "not YAML"),
        ("a: \x01\n", None, "not YAML"),
        ("[" * 300, None, ""),
        (
            "".join(
                f"a{i}: &a{i} [{', '.join([f'*a{i - 1}' if i else 'x'] * 9)}]\n" for i in range(9)
            ),
            None,
            "too much",
        ),
    ],
)
def test_what_is_not_a_scene_is_said_in_one_line(write, text, line, words):
    path = write(text)
    with pytest.raises(SceneError) as caught:
        load_scene(path)
    said = str(caught.value)
    assert "\n" not in said
    assert said.startswith(f"{path}:{line}: " if line else f"{path}:")
    assert words in said


def test_files_that_cannot_be_read(tmp_path):
    with pytest.raises(SceneError, match="no such file"):
        load_scene(tmp_path / "none.yaml")
    with pytest.raises(SceneError, match="is a folder"):
        load_scene(tmp_path)
    (tmp_path / "latin.yaml").write_bytes(b"title: caf\xe9\n")
    with pytest.raises(SceneError, match="UTF-8"):
        load_scene(tmp_path / "latin.yaml")


def test_a_fault_found_later_gets_its_line_and_its_alternative(write):
    path = write(GOOD)
    loaded = load_scene(path)
    fault = DesignError("porch.diameter", "20 in", "less")
    assert str(loaded.error("as drawn", fault)) == (
        f"{path}:18: porch.diameter: given 20 in, allowed: less"
    )
    assert str(loaded.error("Tuscan 1.5", fault)) == (
        f"{path}:24: alternatives.Tuscan 1.5.porch.diameter: given 20 in, allowed: less"
    )
    assert str(loaded.error("Tall windows", fault)) == (
        f"{path}:26: alternatives.Tall windows: porch.diameter: given 20 in, allowed: less"
    )
    window = DesignError("house.windows.0.height", "8 ft", "6 ft")
    assert str(loaded.error("Tall windows", window)).startswith(
        f"{path}:28: alternatives.Tall windows.house.windows[1].height: "
    )


def test_field_paths_count_from_one_in_brackets_and_from_none_after_a_dot():
    assert parse_field("house.windows[2].height") == ("house", "windows", 1, "height")
    assert parse_field("house.windows.1.height") == ("house", "windows", 1, "height")
    assert parse_field("times[1]") == ("times", 0)


@settings(
    suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=100, deadline=None
)
@given(
    line=st.integers(min_value=0, max_value=len(GOOD.splitlines()) - 1),
    text=st.text(alphabet="abc:-[]{}\"'#&*!|>%@ \t\n0159.~é", max_size=12),
)
def test_whatever_is_typed_is_read_or_refused_in_one_line(write, line, text):
    lines = GOOD.splitlines()
    lines[line] = lines[line][: len(text)] + text
    said = refusal(write("\n".join(lines)))
    assert "\n" not in said


def test_the_schema_knows_every_field_and_lets_an_alternative_change_only_some():
    schema = scene_schema()
    assert schema["$schema"].startswith("https://json-schema.org/")
    assert {"title", "site", "house", "times"} <= set(schema["required"])
    alternative = schema["properties"]["alternatives"]["additionalProperties"]
    groups = {"house", "porch", "side_porches", "roof", "setting", "colours"}
    assert set(alternative["properties"]) == groups
    assert not alternative["additionalProperties"]
    definitions = schema["$defs"]
    assert "width" in definitions["House"]["required"]
    assert "required" not in definitions["HouseChange"]
    for name, definition in definitions.items():
        if not name.endswith("Change"):
            continue
        for field in definition["properties"].values():
            assert {"type": "null"} in field["anyOf"]
    references = set()

    def collect(node):
        if isinstance(node, dict):
            references.update([node["$ref"]] if "$ref" in node else [])
            [collect(value) for value in node.values()]
        elif isinstance(node, list):
            [collect(value) for value in node]

    collect(schema)
    assert all(r.removeprefix("#/$defs/") in definitions for r in references)
    json.dumps(schema)


@pytest.mark.parametrize(
    ("given", "line"),
    [
        ("{owner: x}", "sheet.owner: no such field; allowed: project, designer, client, date"),
        ("{issue: true}", "sheet.issue: given true, allowed: up to 120 characters"),
        (f"{{client: {'x' * 121}}}", "allowed: up to 120 characters"),
    ],
)
def test_a_title_block_that_cannot_be_read_is_one_line(
    tmp_path: Path, given: str, line: str
) -> None:
    scene = GOOD
    with pytest.raises(SceneError) as fault:
        load_scene(tmp_path / "scene.yaml", f"{scene}\nsheet: {given}\n")
    assert line in str(fault.value)
    assert "\n" not in str(fault.value)


def test_a_title_block_keeps_dates_and_numbers_as_written(tmp_path: Path) -> None:
    scene = GOOD
    block = "\nsheet: {project: Ford  House, date: 2026-11-27, issue: 3}\n"
    sheet = load_scene(tmp_path / "scene.yaml", scene + block).scene.sheet
    assert sheet is not None
    assert (sheet.project, sheet.date, sheet.issue) == ("Ford House", "2026-11-27", "3")
    assert (sheet.designer, sheet.client, sheet.logo) == (None, None, None)


def test_a_group_over_a_setting_s_word_keeps_its_kind(write):
    text = GOOD.replace("porch:\n  columns", "setting: village-street\nporch:\n  columns", 1)
    text = text.replace("  Tuscan 1.5:\n", "  Tuscan 1.5:\n    setting: {drive: left}\n")
    designs = load_scene(write(text)).designs
    assert designs["Tuscan 1.5"].setting.kind == "village street"
    assert designs["Tuscan 1.5"].setting.drive == "left"
    assert designs["Tall windows"].setting.kind == "village street"

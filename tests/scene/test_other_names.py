"""Fields by other names of the trade: read as ours, told at their line, changed in place."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pydantic import BaseModel

from massing.scene.edit import edit_scene, plain_scene
from massing.scene.errors import SceneError
from massing.scene.explain import OTHER_NAMES, SAME, our_name
from massing.scene.load import load_scene
from massing.scene.other_names import _models
from massing.scene.spec import Scene

OURS = """\
title: Own house
site: {place: Beaufort, latitude: 32.43, longitude: -80.67, front_faces: S 20 E}
house:
  width: 50 ft
  depth: 34 ft
  storeys: [10 ft, 9 ft]
  walls: clapboard
porch: {order: doric, columns: 4, steps: {tread: 12 in}}
roof: {pitch: "6:12", covering: slate}
times: [equinox 10am]
alternatives:
  Deeper: {porch: {depth: 9 ft}}
  Lat: {house: {storeys: [11 ft, 9 ft]}}
"""
THEIRS = """\
title: Own house
site: {town: Beaufort, lat: 32.43, long: -80.67, Front faces: S 20 E}
house:
  width: 50 ft
  depth: 34 ft
  stories: [10 ft, 9 ft]
  Siding: clapboard
porch: {order: doric, number of columns: 4, stairs: {going: 12 in}}
roof: {pitch: "6:12", roofing: slate}
times: [equinox 10am]
Options:
  Deeper: {porch: {depth: 9 ft}}
  Lat: {house: {stories: [11 ft, 9 ft]}}
"""


def groups(model: type[BaseModel] = Scene) -> Iterator[type[BaseModel]]:
    yield model
    for info in model.model_fields.values():
        for inner in _models(info.annotation):
            yield from groups(inner)


def test_a_scene_in_other_names_is_the_same_scene() -> None:
    ours, theirs = (load_scene(Path("scene.yaml"), text) for text in (OURS, THEIRS))
    assert theirs.designs == ours.designs
    assert theirs.lines == ours.lines
    assert plain_scene(THEIRS) == plain_scene(OURS)


def test_a_name_that_is_taken_means_one_field_and_is_none_itself() -> None:
    names = {name for group in groups() for name in group.model_fields}
    assert set(SAME.values()) <= names
    assert not set(SAME) & names
    assert all(our_name(name) == name for name in names)
    assert SAME.items() <= OTHER_NAMES.items()


def test_a_fault_is_told_of_our_field_at_their_line() -> None:
    with pytest.raises(SceneError) as fault:
        load_scene(Path("scene.yaml"), THEIRS.replace("[10 ft, 9 ft]", "[10 furlongs, 9 ft]"))
    assert (fault.value.line, fault.value.field) == (6, ("house", "storeys", 0))


def test_a_field_given_by_two_names_is_refused() -> None:
    with pytest.raises(SceneError, match=r"house.stories: no such field \(did you mean storeys\?"):
        load_scene(
            Path("scene.yaml"), THEIRS.replace("  depth: 34", "  storeys: [9 ft]\n  depth: 34")
        )


def test_a_field_is_changed_where_it_is_written_by_another_name() -> None:
    changed = edit_scene(THEIRS, {("house", "storeys"): ["12 ft"], ("site", "latitude"): 33})
    assert changed == THEIRS.replace("[10 ft, 9 ft]", "[12 ft]").replace("lat: 32.43", "lat: 33")
    own = edit_scene(THEIRS, {("house", "storeys"): ["12 ft"]}, "Lat")
    assert own == THEIRS.replace("[11 ft, 9 ft]", "[12 ft]")

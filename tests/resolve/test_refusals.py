"""A refusal can be followed: the limit that it prints is taken when it is typed back."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from tests.helpers.random_scenes import scene
from tests.helpers.refusals import Outcome, limits, outcome


def assert_taken_when_typed_back(refused: Outcome) -> None:
    changes = limits(refused)
    assert changes, refused.said
    for change in changes:
        assert change.builds, f"{refused.said}\n{change.value} -> {change.said}"


DRAWN = yaml.safe_load(Path(__file__).with_name("refused_scenes.yaml").read_text())


@pytest.mark.parametrize("name", DRAWN)
def test_a_limit_is_taken_when_it_is_typed_back(name):
    refused = outcome(DRAWN[name], built=False)
    assert ".".join(map(str, refused.field)) == name.split()[0], refused.said
    assert_taken_when_typed_back(refused)


@pytest.mark.parametrize(
    ("text", "field"),
    [
        (
            "house: {width: 50 ft, depth: 30 ft, storeys: [11 ft], bays: 5, door: {height: 11 ft}}",
            "height",
        ),
        (
            "house: {width: 60 ft, depth: 26 ft, storeys: [11 ft], "
            "chimneys: [{along: -18 ft, back: 14 ft, width: 26 in, depth: 14 in, height: 10 in}]}",
            "height",
        ),
        (
            "house: {width: 50 ft, depth: 40 ft, storeys: [20 ft]}\n"
            "porch: {column_height: 5 ft, paired: true}",
            "column_height",
        ),
        (
            "house: {width: 50 ft, depth: 30 ft, storeys: [11 ft, 10 ft], bays: 5}\n"
            "porch: {guard: {baluster_spacing: 3 in}}",
            "baluster_spacing",
        ),
        (
            "house: {width: 50 ft, depth: 30 ft, storeys: [11 ft], wall_thickness: 3 in}",
            "wall_thickness",
        ),
        (
            "house: {width: 50 ft, depth: 30 ft, storeys: [11 ft]}\n"
            "porch: {height: 10 ft, column_height: 10 ft}",
            "column_height",
        ),
        (
            "house: {width: 50 ft, depth: 30 ft, storeys: [11 ft]}\n"
            "porch: {height: 10 ft, column_height: 9 ft 11 in}",
            "column_height",
        ),
    ],
    ids=[
        "door over its wall",
        "chimney under its roof",
        "entablature higher than its column",
        "balusters that touch",
        "wall too thin for its sash",
        "entablature of nothing",
        "entablature of a finger",
    ],
)
def test_what_only_building_found_is_refused_by_its_field_with_its_limit(text, field):
    head = (
        "title: Any house\n"
        "site: {place: Anywhere, latitude: 35, longitude: -80, front_faces: S}\n"
        "times: [equinox 10:00]\n"
    )
    refused = outcome(yaml.safe_load(head + text), built=True)
    assert refused.kind == "refused", refused.said
    assert refused.field[-1] == field, refused.said
    assert_taken_when_typed_back(refused)


@pytest.mark.parametrize(
    ("house", "field"),
    [
        ("storeys: [3 ft]", ("house", "storeys", 0)),
        ("storeys: [12 ft, 3 ft]", ("house", "storeys", 1)),
        ("storeys: [12 ft], windows: [{sill: 11 ft}]", ("house", "windows", 0, "sill")),
    ],
)
def test_a_storey_without_room_for_windows_is_refused_by_itself_with_its_limit(house, field):
    refused = outcome(
        yaml.safe_load(
            "title: Any house\n"
            "site: {place: Anywhere, latitude: 35, longitude: -80, front_faces: S}\n"
            f"house: {{width: 54 ft, depth: 36 ft, {house}}}\n"
            "times: [equinox 10:00]\n"
        ),
        built=False,
    )
    assert refused.field == field, refused.said
    assert " -" not in refused.said
    changes = limits(refused)
    assert changes, refused.said
    for change in changes:
        # Something else may be in the way next, a door or the porch, but not the window.
        assert change.builds or "a window of" not in change.said, change.said


@pytest.mark.parametrize(("share", "kind"), [(45, "built"), (55, "refused")])
def test_an_entablature_of_less_than_a_fiftieth_of_its_column_is_refused(share, kind):
    """A builder's worst is drawn; a fillet is not. Common practice, no source."""
    scene = {
        "title": "Any house",
        "site": {"place": "Anywhere", "latitude": 35, "longitude": -80, "front_faces": "S"},
        "times": ["equinox 10:00"],
        "house": {"width": "50 ft", "depth": "30 ft", "storeys": ["12 ft"]},
        "porch": {
            "order": "pier",
            "column_height": "10 ft",
            "entablature": f"{120 / share:.4f} in",
        },
    }
    assert outcome(scene, built=False).kind == kind


@pytest.mark.parametrize("seed", [96000012, 96000248, 96000259, 96000743])
def test_what_a_search_over_random_houses_found_is_said_without_a_flaw(seed):
    refused = outcome(scene(seed), built=True)
    assert (refused.kind, refused.flaws) == ("refused", []), refused.said


def test_a_wing_that_cannot_stand_is_refused_by_its_field_not_as_a_group():
    refused = outcome(
        yaml.safe_load(
            "title: Any house\n"
            "site: {place: Anywhere, latitude: 35, longitude: -80, front_faces: S}\n"
            "house: {width: 63 ft, depth: 37 ft, storeys: [10 ft], walls: limestone,\n"
            " side_bays: 0, corner_pilasters: as porch,\n"
            " wings: [{side: left, depth: 15 ft, set_back: 3 ft}]}\n"
            "times: [equinox 10:00]\n"
        ),
        built=False,
    )
    assert refused.kind == "refused"
    assert refused.field == ("house", "wings", 0, "depth"), refused.said
    assert "a group of fields" not in refused.said

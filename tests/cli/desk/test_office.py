"""The desk without a file: eight questions, a scene written where it was started, then the desk."""

from __future__ import annotations

import pytest

from massing.cli.desk.office import Office
from massing.cli.desk.refusal import Refusal
from massing.scene.load import load_scene


def test_answers_make_a_scene_and_open_it(tmp_path):
    office = Office(None, folder=tmp_path)
    assert not office.is_open
    with pytest.raises(Refusal, match="no scene is open yet"):
        office.desk.state()
    asked = office.questions("metric")
    assert [each["field"] for each in asked] == [
        "units", "place", "front_faces", "width", "depth", "storeys", "bays", "porch",
    ]  # fmt: skip
    assert asked[0]["choices"] == ["feet", "metric"]
    assert asked[0]["default"] == "metric"
    given = {"title": "By the ford", "units": "metric", "width": "12 m", "porch": "one storey"}
    assert office.begin(given) == {"file": "by-the-ford.yaml"}
    assert office.is_open
    assert office.desk.state()["title"] == "By the ford"
    loaded = load_scene(tmp_path / "by-the-ford.yaml")
    assert len(loaded.designs) == 4
    with pytest.raises(Refusal, match="is open already"):
        office.begin(given)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"width": "wide"}, "width: given wide, allowed: a length"),
        ({"bays": "4"}, "bays: given 4, allowed on this width"),
        ({"place": "Nowhere at all"}, "place: given Nowhere at all"),
        ({"porch": "a grand one"}, "porch: given a grand one"),
    ],
)
def test_an_answer_that_cannot_be_read_writes_nothing(tmp_path, given, words):
    office = Office(None, folder=tmp_path)
    with pytest.raises(Refusal, match=words):
        office.begin(given)
    assert list(tmp_path.iterdir()) == []
    assert not office.is_open


def test_a_title_names_no_file_elsewhere_and_none_that_is_there(tmp_path):
    inner = tmp_path / "inner"
    inner.mkdir()
    written = Office(None, folder=inner).begin({"title": "../../etc/Ford"})
    assert "/" not in written["file"]
    assert [path.name for path in inner.iterdir()] == [written["file"]]
    with pytest.raises(Refusal, match="is there already"):
        Office(None, folder=inner).begin({"title": "../../etc/Ford"})


def test_towns_are_offered_by_their_beginning(tmp_path):
    found = Office(None, folder=tmp_path).towns("Charleston")
    assert found[0].startswith("Charleston, ")
    assert len(found) <= 8

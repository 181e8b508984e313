"""What a writer may say in words of their own: case, hyphens, numbers, true, other marks."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from massing.edit.scene_field import spec_fields
from massing.scene.spec import Scene
from massing.scene.spec.written import SYNONYMS
from massing.scene.spec.written import _plain as plain
from massing.sun.written_times import read_time


def scene(**groups):
    plain = {
        "title": "House by the ford",
        "site": {"place": "Anywhere", "latitude": 44, "longitude": 11.5, "front_faces": "S"},
        "times": ["summer solstice 10:00"],
        "house": {"width": "12 m", "depth": "9 m", "storeys": ["3.4 m", "3 m"]},
    }
    for name, fields in groups.items():
        plain[name] = {**plain[name], **fields} if isinstance(plain.get(name), dict) else fields
    return Scene.model_validate(plain)


@pytest.mark.parametrize(
    ("groups", "where", "meant"),
    [
        ({"porch": {"order": "Tuscan"}}, ("porch", "order"), "tuscan"),
        ({"porch": {"order": "Mutular-Doric"}}, ("porch", "order"), "mutular doric"),
        ({"porch": {"canon": "Vignola"}}, ("porch", "canon"), "vignola"),
        ({"porch": {"spacing": "Full_Width"}}, ("porch", "spacing"), "full width"),
        ({"porch": {"entasis": "FROM THE BASE"}}, ("porch", "entasis"), "from the base"),
        ({"porch": {"height": "Eaves"}}, ("porch", "height"), "eaves"),
        ({"house": {"walls": "Brick"}}, ("house", "walls"), "brick"),
        ({"house": {"door": {"panels": 6}}}, ("house", "door", "panels"), "six"),
        ({"views": ["Close up", "ELEVATION"]}, ("views",), ["close-up", "elevation"]),
        ({"looks": ["Clay"]}, ("looks",), ["clay"]),
        ({"units": "Metric"}, ("units",), "metric"),
        ({"roof": {"pitch": "8/12"}}, ("roof", "pitch"), 8 / 12),
        ({"roof": {"pitch": "8 in 12"}}, ("roof", "pitch"), 8 / 12),
        ({"site": {"front_faces": "Southeast"}}, ("site", "front_faces"), 135.0),
        ({"site": {"front_faces": "south-southwest"}}, ("site", "front_faces"), 202.5),
        ({"site": {"front_faces": "South 20 East"}}, ("site", "front_faces"), 160.0),
        (
            {"site": {"ground_slope": {"back": "-1 in 15"}}},
            ("site", "ground_slope", "back"),
            -1 / 15,
        ),
    ],
)
def test_a_word_is_known_as_people_write_it(groups, where, meant) -> None:
    found = scene(**groups)
    for step in where:
        found = getattr(found, step)
    assert found == (pytest.approx(meant) if isinstance(meant, float) else meant)


def test_other_words_of_the_trade_are_known() -> None:
    found = scene(
        house={
            "walls": "Weatherboard",
            "windows": [{"kind": "double-hung", "shutters": "louvered"}],
        },
        porch={"order": "square", "shape": "in antis"},
        roof={"form": "hipped", "covering": "mission tile", "colour": "gray", "pitch": "8 1/2:12"},
        views=["front", "closeup"],
        looks=["white model", "ink and wash"],
    )
    window = found.house.windows[0]
    assert (found.house.walls, window.kind, window.shutters) == ("clapboard", "sash", "louvred")
    assert (found.porch.order, found.porch.shape) == ("pier", "recessed")
    assert (found.roof.form, found.roof.covering, found.roof.colour) == (
        "hip",
        "barrel tile",
        "grey",
    )
    assert found.roof.pitch == pytest.approx(8.5 / 12)
    assert (found.views, found.looks) == (["elevation", "close-up"], ["clay", "drawn"])


def test_each_other_word_means_a_choice_of_some_field() -> None:
    choices = {plain(c) for _, field in spec_fields(Scene) for c in field.choices}
    for word, meant in SYNONYMS.items():
        assert word == plain(word)
        assert {plain(each) for each in meant} <= choices, word


def test_true_is_a_group_by_rule_and_false_is_none_of_it() -> None:
    by_rule = scene(porch={"balustrade": {}, "upper": {}}, roof={"dormers": {}})
    assert scene(porch={"balustrade": True, "upper": True}, roof={"dormers": True}) == by_rule
    assert scene(porch={"balustrade": False}).porch.balustrade is None
    with pytest.raises(ValidationError):
        scene(porch={"steps": False})  # a porch has its steps


@pytest.mark.parametrize(
    "groups",
    [
        {"porch": {"order": "tuscanian"}},
        {"house": {"door": {"panels": 7}}},
        {"house": {"door": {"panels": True}}},
        {"site": {"front_faces": "southnorth"}},
        {"roof": {"pitch": "8 inches 12"}},
        {"views": ["close"]},
    ],
)
def test_what_is_no_such_word_is_refused(groups) -> None:
    with pytest.raises(ValidationError):
        scene(**groups)


@pytest.mark.parametrize(
    ("text", "clock"),
    [("10am", "10:00"), ("4 PM", "16:00"), ("12 am", "00:00"), ("4:30 p.m.", "16:30")],
)
def test_an_hour_may_do_without_minutes_where_it_says_am_or_pm(text, clock) -> None:
    assert f"{read_time(f'14 May {text}').clock:%H:%M}" == clock
    assert read_time(f"Summer Solstice {text}").season == "summer solstice"


@pytest.mark.parametrize("text", ["14 May 10", "14 May 10 ampm", "14 May 13pm", "14 May 0 am"])
def test_an_hour_that_is_none_is_refused(text) -> None:
    with pytest.raises(ValueError, match="is not a time"):
        read_time(text)

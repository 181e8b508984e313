"""The bundled scene's drawing taken off by recorded clicks, and answers worked by hand."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from massing.edit.begin import answer, new_scene
from massing.edit.session import SceneInHand
from massing.edit.takeoff.alternatives import standing_alternatives
from massing.edit.takeoff.deviations import deviations
from massing.edit.takeoff.questions import QUESTIONS
from massing.edit.takeoff.scale import Known, scale_of
from massing.edit.takeoff.sizes import sizes
from massing.edit.takeoff.snapping import Picture
from massing.edit.takeoff.takeoff import Mark, TakeOff
from massing.scene.explain import dotted
from massing.units import FOOT_M, INCH_M, parse_length
from tests.helpers.takeoff import CLICKS, DRAWING, DRAWN_M, KNOWN, ON, is_as_drawn, sizes_m

REACH_PX = 8.0


@pytest.fixture(scope="module")
def picture() -> Picture:
    return Picture(Image.open(DRAWING))


def begun() -> SceneInHand:
    """A new house of other sizes than the drawing's, but for its depth."""
    return SceneInHand.of_text(new_scene(answer({"width": "50 ft", "depth": "38 ft"})))


def put(hand: SceneInHand, off: TakeOff) -> None:
    found = sizes(off, hand.design(hand.designs[0]))
    hand.set_fields(found.changes, hand.designs[0], said="taken off")


@pytest.fixture(scope="module")
def taken(picture) -> tuple[TakeOff, SceneInHand]:
    hand = begun()
    ends = [picture.snap(*point, REACH_PX) for point in KNOWN]
    known = Known((ends[0].x, ends[0].y), (ends[1].x, ends[1].y), 66 * FOOT_M)
    off = TakeOff(scale_of([known]).metres_per_pixel)
    for key, click in CLICKS:
        assert off.question.key == key
        off = off.passed(picture) if click == ON else off.clicked(*click, picture, REACH_PX)
        put(hand, off)
        assert hand.fault is None or not off.done
    assert off.done
    return off, hand


def test_the_bundled_drawing_becomes_the_design_as_drawn(taken):
    """Each size within 1 % of what the drawing was drawn by."""
    _, hand = taken
    assert hand.fault is None
    is_as_drawn(hand.design(hand.designs[0]))


def test_most_sizes_come_out_as_the_builder_wrote_them(taken):
    _, hand = taken
    found = sizes_m(hand.design(hand.designs[0]))
    exact = [field for field in found if abs(found[field] - DRAWN_M[field]) < INCH_M / 32]
    assert len(exact) >= 13, set(DRAWN_M) - set(exact)
    assert "storeys: [12'-6\", 12'-0\"]" in hand.text


def test_the_model_then_lies_on_the_drawing(taken):
    off, hand = taken
    found = deviations(off, hand.design(hand.designs[0]))
    misses = [abs(each.miss_m) for each in found]
    assert len(found) == 24
    assert max(misses) < INCH_M, "no line is an inch off"
    assert sorted(misses)[len(misses) // 2] < INCH_M / 4


def test_alternatives_that_cannot_stand_give_up_little_or_are_named(taken):
    _, hand = taken
    text, said = standing_alternatives(Path("a.yaml"), hand.text)
    stands = SceneInHand.of_text(text)
    for name in stands.designs:
        stands.model(name)
    fallen = [line.split(":")[0] for line in said]
    assert fallen == ["Four Doric columns"]
    assert standing_alternatives(Path("a.yaml"), text) == (text, ())
    hopeless = text.replace("order: ionic\n", "order: ionic\n      column_height: 40 ft\n", 1)
    kept, said = standing_alternatives(Path("a.yaml"), hopeless)
    assert kept == hopeless
    assert said[0].startswith("Four Ionic columns cannot stand with these sizes: ")


# --- answers worked by hand: a pixel is an inch, the ground at 500, the middle at 400 -----------


def answered(**marks: list[tuple[float, float]]) -> TakeOff:
    """Marks on lines, by their question; all others are not drawn."""
    told = {key.replace("_", " "): value for key, value in marks.items()}
    given = {
        q.key: tuple(Mark(x, y, True, True) for x, y in told.get(q.key, ())) for q in QUESTIONS
    }
    return TakeOff(INCH_M, given, len(QUESTIONS))


HOUSE = {
    "ground": [(0, 500)],
    "floor": [(0, 476)],
    "corners": [(160, 300), (640, 300)],
    "eaves": [(0, 236)],
}


def read(units: str = "feet", **marks: list[tuple[float, float]]) -> tuple[dict, list[str]]:
    hand = SceneInHand.of_text(new_scene(answer({"units": units})))
    found = sizes(answered(**{**HOUSE, **marks}), hand.design())
    return {dotted(path): value for path, value in found.changes.items()}, found.said


def test_floors_that_are_drawn_are_believed_before_sills():
    found, _ = read(
        storeys=[(0, 350)],
        window_1=[(200, 446), (236, 386)],
        window_2=[(200, 330), (236, 270)],
    )
    assert found["house.storeys"] == ["10'-6\"", "9'-6\""]
    assert found["house.windows[1].sill"] == "2'-6\""
    assert found["house.windows[2].sill"] == "1'-8\""
    found, _ = read(window_1=[(200, 446), (236, 386)], window_2=[(200, 326), (236, 266)])
    assert found["house.storeys"] == ["10'-0\"", "10'-0\""], "from sill to sill"


def test_a_wider_middle_spacing_is_its_own():
    found, said = read(column=[(195, 400), (205, 400)], axes=[(300, 400), (500, 400), (600, 400)])
    assert (found["porch.columns"], found["porch.diameter"]) == (4, '10"')
    assert (found["porch.spacing"], found["porch.centre_spacing"]) == ("8'-4\"", "16'-8\"")
    assert said == []
    found, said = read(column=[(195, 400), (205, 400)], axes=[(350, 400), (460, 400), (640, 400)])
    assert found["porch.centre_spacing"] == "9'-2\""
    found, said = read(column=[(195, 400), (205, 400)], axes=[(330, 400), (600, 400)])
    assert "unequal spacings" in said[0]


def test_a_porch_beside_the_middle_is_told_and_put_there():
    found, said = read(column=[(215, 400), (225, 400)], axes=[(620, 400)])
    assert found["porch.along"] == "1'-8\""
    assert said == [
        "the porch is drawn 1'-8\" to the right of the front's middle, and stands so here"
    ]


def test_an_entablature_below_the_eaves_has_its_own_height():
    found, _ = read(entablature=[(300, 370), (300, 352)])
    assert found["porch.entablature"] == "1'-6\""
    floor_drop_m = 0.0508  # the porch's floor below the house's, as the scene stands: 2 in
    assert parse_length(found["porch.height"]) == pytest.approx(
        124 * INCH_M + floor_drop_m, abs=0.006
    )
    found, _ = read(entablature=[(300, 254), (300, 235.4)])
    assert (found["porch.height"], found["porch.entablature"]) == ("eaves", "1'-6\"")


def test_a_roof_by_its_slope_seen_or_half_its_depth():
    assert read(ridge=[(160, 236), (310, 136)])[0]["roof.pitch"] == "8:12"
    gable, _ = read(ridge=[(150, 236), (150, 134)])
    assert gable["roof.form"] == "gable"
    assert gable["roof.pitch"] == "6:12", "102 in over half of 34 ft, the depth in hand"
    assert read("metric", ridge=[(160, 236), (260, 136)])[0]["roof.pitch"] == "45"


def test_bays_that_are_not_even_are_told_one_by_one():
    windows = {
        "window_1": [(182, 446), (218, 386)],
        "others_1": [(300, 416), (500, 416), (600, 416)],
        "door": [(382, 476), (418, 392)],
    }
    found, _ = read(**windows)
    assert (found["house.bays"], found["house.bay_spacing"]) == (5, "8'-4\"")
    assert found["house.bay_centres"] is None
    windows["others_1"] = [(320, 416), (480, 416), (600, 416)]
    found, _ = read(**windows)
    assert found["house.bays"] == 5
    assert found["house.bay_centres"] == ["-16'-8\"", "-6'-8\"", '0"', "6'-8\"", "16'-8\""]


def test_metric_sizes_are_round_in_metric():
    found, _ = read("metric")
    assert found["house.width"] == "12.200 m", "480 in, to a pixel of an inch"
    assert found["house.floor"] == "610 mm"


# --- going on and back ---------------------------------------------------------------------------


def test_clicks_are_taken_back_one_by_one_to_the_first():
    off = TakeOff(0.02)
    places = [(10.0, 500.0), (10.0, 480.0), (50.0, 300.0), (750.0, 300.0)]
    for place in places:
        off = off.clicked(*place, None, 5.0)
    states = [off]
    for _ in places:
        off = off.taken_back()
        states.append(off)
    assert [state.question.key for state in states] == [
        "storeys",
        "corners",
        "corners",
        "floor",
        "ground",
    ]
    assert off == off.taken_back() == TakeOff(0.02)
    again = off
    for place in places:
        again = again.clicked(*place, None, 5.0)
    assert again.marks == states[0].marks


def test_what_must_be_drawn_cannot_be_passed_and_what_hangs_on_it_is_not_asked():
    off = TakeOff(0.02)
    assert off.passed() == off, "there is a ground"
    for place in [(10.0, 500.0), (10.0, 480.0), (50.0, 300.0), (750.0, 300.0)]:
        off = off.clicked(*place, None, 5.0)
    off = off.passed().clicked(0.0, 200.0, None, 5.0).passed()
    assert off.question.key == "column"
    off = off.passed()
    assert off.question.key == "entablature", "no column, no others"
    off = off.passed().passed()
    assert off.question.key == "door", "no window, no more rows"
    off = off.passed()
    assert off.done
    assert off.clicked(1.0, 1.0, None, 5.0) == off
    assert off.asked("ridge").question.key == "ridge"
    with pytest.raises(KeyError):
        off.asked("chimney")


def test_a_question_asked_anew_goes_on_where_it_was(taken, picture):
    off, _ = taken
    anew = off.asked("column")
    assert "axes" not in anew.marks, "what was like it falls with it"
    anew = anew.clicked(286.0, 515.0, picture, REACH_PX).clicked(302.0, 515.0, picture, REACH_PX)
    assert anew.question.key == "axes"
    assert anew.passed(picture).done


def test_one_of_the_others_is_taken_off_and_put_back_by_a_click(taken, picture):
    off, _ = taken
    now = off.asked("column")
    for x in (286.0, 302.0):
        now = now.clicked(x, 515.0, picture, REACH_PX)
    three = [mark.x for mark in now.marks["axes"]]
    assert len(three) == 3
    less = now.clicked(three[1] + 3.0, 400.0, picture, REACH_PX)
    assert [mark.x for mark in less.marks["axes"]] == [three[0], three[2]]
    more = less.clicked(three[1] - 4.0, 400.0, picture, REACH_PX)
    assert sorted(mark.x for mark in more.marks["axes"]) == pytest.approx(three, abs=0.01)


def test_it_is_kept_as_plain_values(taken):
    off, _ = taken
    assert TakeOff.of_plain(off.plain()) == off
    for broken in ({}, {"marks": {}, "at": 0, "metres_per_pixel": 0.0}, {"marks": [], "at": "x"}):
        with pytest.raises((ValueError, TypeError, KeyError)):
            TakeOff.of_plain(broken)

"""The drawing on the board of the desk: laid, scaled, kept, and refused in one line."""

from __future__ import annotations

import io
import json
import shutil
from pathlib import Path

import pytest
from PIL import Image

from massing.cli.desk.desk import KEPT_ENDING, Desk
from massing.cli.desk.refusal import Refusal
from tests.helpers.takeoff import CLICKS, DRAWING, KNOWN, ON, is_as_drawn

SCENES = Path(__file__).parents[3] / "scenes"


@pytest.fixture
def scene(tmp_path) -> Path:
    """The bundled scene and its drawing."""
    shutil.copy(SCENES / "marsh_road.yaml", tmp_path)
    shutil.copytree(SCENES / "drawings", tmp_path / "drawings")
    return tmp_path / "marsh_road.yaml"


def click(desk: Desk, number: int) -> dict:
    _, at = CLICKS[number]
    if at == ON:
        return desk.take_off("on", {})["board"]
    return desk.take_off("click", {"at": at, "reach": 8.0})["board"]


def known(desk: Desk, **more) -> dict:
    given = {"start": KNOWN[0], "end": KNOWN[1], "length": "66 ft", "reach": 8.0, **more}
    return desk.take_off("known", given)["board"]


def test_the_scenes_own_drawing_lies_at_the_scale_that_it_has_there(scene):
    desk = Desk(scene)
    assert desk.board_said() == {"open": False, "scenes": True}
    said = desk.take_off("scene's own", {})["board"]
    assert (said["width"], said["height"], said["scaled"]) == (1240, 700, True)
    assert said["scale"] == "a pixel is 0.8 in, by the drawing itself"
    for number in range(len(CLICKS)):
        said = click(desk, number)
    assert said["done"]
    assert desk.hand.fault is None
    is_as_drawn(desk.hand.design(desk.hand.designs[0]))
    assert "image: drawings/marsh_road_front.png" in desk.hand.text, "no copy is made of it"
    assert [p.name for p in scene.parent.iterdir() if p.suffix == ".png"] == []


def test_a_drawing_is_kept_beside_the_scene_once_it_says_something(scene):
    desk = Desk(scene)
    desk.open_drawing("front.png", DRAWING.read_bytes())
    assert not list(scene.parent.glob("*.png"))
    said = known(desk)
    assert said["asks"] == "The line of the ground"
    click(desk, 0)
    kept = json.loads(scene.with_name(scene.name + KEPT_ENDING).read_text(encoding="utf-8"))
    assert (scene.parent / kept["board"]["file"]).exists()
    again = Desk(scene)  # as after a crash
    assert again.board_said()["asks"] == "The line of the lowest floor"
    assert again.board_said()["marks"] == desk.board_said()["marks"]
    again.take_off("close", {})
    assert not scene.with_name(scene.name + KEPT_ENDING).exists()


def test_known_lengths_are_held_against_each_other(scene):
    desk = Desk(scene)
    desk.open_drawing("front.png", DRAWING.read_bytes())
    known(desk)
    said = known(desk, start=(40.0, 606.0), end=(40.0, 203.5), length="27'-4\"")
    assert "the known lengths agree within" in said["scale"]
    for length in ("0 ft", "long", ""):
        with pytest.raises(Refusal):
            known(desk, length=length)
    with pytest.raises(Refusal, match="pixels apart"):
        known(desk, end=(126.0, 561.0))
    assert desk.take_off("unscale", {})["board"]["scaled"] is False
    with pytest.raises(Refusal, match="no scale yet"):
        click(desk, 0)


def test_a_photograph_is_straightened_and_scaled_by_it(scene):
    desk = Desk(scene)
    desk.open_drawing("front.png", DRAWING.read_bytes())
    corners = [(125.0, 606.0), (1115.0, 606.0), (1115.0, 203.5), (125.0, 203.5)]
    given = {"corners": corners, "width": "66 ft", "height": "26'-10\"", "reach": 2.0}
    said = desk.take_off("straighten", given)["board"]
    assert said["name"] == "front.png, straightened"
    assert said["scale"].startswith("a pixel is 0.")
    with pytest.raises(Refusal, match="go round"):
        desk.take_off("straighten", {**given, "corners": corners[::-1]})


def test_pages_of_a_pdf_are_turned(scene):
    out = io.BytesIO()
    leaf = Image.new("RGB", (300, 200), "white")
    leaf.save(out, "PDF", save_all=True, append_images=[leaf.rotate(90, expand=True)])
    desk = Desk(scene)
    said = desk.open_drawing("front.pdf", out.getvalue())["board"]
    assert (said["pages"], said["page"], said["width"] > said["height"]) == (2, 1, True)
    said = desk.take_off("page", {"page": 2})["board"]
    assert (said["page"], said["width"] < said["height"]) == (2, True)
    with pytest.raises(Refusal, match="allowed: 1 to 2"):
        desk.take_off("page", {"page": 3})


def test_what_cannot_be_done_is_one_line_and_changes_nothing(scene):
    desk = Desk(scene)
    text = desk.hand.text
    for what, given in (
        ("burn", {}),
        ("click", {"at": [1, 2], "reach": 8}),
        ("known", {}),
        ("page", {"page": "x"}),
        ("ask", {"key": "chimney"}),
    ):
        with pytest.raises(Refusal):
            desk.take_off(what, given)
    with pytest.raises(Refusal, match=r"^words\.txt: given what cannot be read"):
        desk.open_drawing("words.txt", b"sixty six feet")
    with pytest.raises(Refusal):
        desk.board_png()
    desk.open_drawing("front.png", DRAWING.read_bytes())
    known(desk)
    for at in ([float("nan"), 1.0], [1.0], "here"):
        with pytest.raises(Refusal):
            desk.take_off("click", {"at": at, "reach": 8.0})
    assert desk.hand.text == text
    cottage = Desk(shutil.copy(SCENES / "vineyard_cottage.yaml", scene.parent))
    with pytest.raises(Refusal, match="names no drawing"):
        cottage.take_off("scene's own", {})


def test_kept_marks_of_a_drawing_that_is_gone_are_left(scene):
    desk = Desk(scene)
    desk.open_drawing("front.png", DRAWING.read_bytes())
    known(desk)
    click(desk, 0)
    for path in scene.parent.glob("*.png"):
        path.unlink()
    assert Desk(scene).board_said()["open"] is False


def test_a_drawing_changed_on_disk_is_told(scene):
    desk = Desk(scene)
    before, mark = desk.state()["drawing"], desk.mark()
    drawing = scene.parent / "drawings" / DRAWING.name
    Image.open(drawing).convert("L").rotate(1.0).save(drawing)
    assert desk.state()["drawing"] != before
    assert desk.mark() != mark, "a listening page is told"


def test_the_days_of_a_leap_year(scene):
    desk = Desk(scene)
    assert desk.state()["days"] == 365
    desk.do("set", {"field": "site.year", "text": "2028"})
    assert desk.state()["days"] == 366
    assert desk.suns("2028-12-31")["suns"]

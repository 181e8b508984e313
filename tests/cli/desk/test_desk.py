"""The scene in hand at the desk: changes, what is said of them, what is kept until it is saved."""

from __future__ import annotations

import json
import re
import shutil
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from massing.cli import desk as desk_package
from massing.cli.desk.desk import KEPT_ENDING, Desk
from massing.cli.desk.parcels import day_of_suns
from massing.cli.desk.refusal import Refusal
from massing.cli.program import main
from massing.edit.subjects import SUBJECTS
from massing.practice.cautions import CAUTION
from massing.sun.position import sun_time

SCENES = Path(__file__).parents[3] / "scenes"


@pytest.fixture
def scene(tmp_path):
    shutil.copy(SCENES / "vineyard_cottage.yaml", tmp_path / "cottage.yaml")
    return tmp_path / "cottage.yaml"


def read(parcel: bytes) -> tuple[dict, bytes]:
    head, _, rest = parcel.partition(b"\n")
    return json.loads(head), rest


def test_a_parcel_holds_the_model_and_then_only_what_is_new(scene):
    desk = Desk(scene)
    said, numbers = read(desk.house("as drawn", []))
    model = desk.hand.model()
    assert len(said["parts"]) == len(model.parts)
    floats = sum(6 * m["points"] + 3 * m["faces"] for m in said["meshes"])
    floats += sum(16 * p["count"] for p in said["places"])
    assert len(numbers) == 4 * floats
    shape = said["meshes"][0]
    vertices = np.frombuffer(numbers, "<f4", 3 * shape["points"]).reshape(-1, 3)
    part = next(
        p for p, row in zip(model.parts, said["parts"], strict=True) if row["mesh"] == shape["hash"]
    )
    assert vertices.min(axis=0) == pytest.approx(part.mesh.bounds[0], abs=1e-5)
    assert vertices.max(axis=0) == pytest.approx(part.mesh.bounds[1], abs=1e-5)

    copied = next(p for p in model.parts if p.name == "porch/column/shaft" or p.count > 3)
    row = next(r for r in said["parts"] if r["key"] == copied.key)
    start = 4 * sum(6 * m["points"] + 3 * m["faces"] for m in said["meshes"])
    for places in said["places"]:
        if places["hash"] == row["places"]:
            break
        start += 64 * places["count"]
    columns = np.frombuffer(numbers, "<f4", 16 * copied.count, start).reshape(-1, 4, 4)
    assert columns[:, 3, :3] == pytest.approx(copied.placements[:, :3, 3], abs=1e-5), "by columns"

    have = [m["hash"] for m in said["meshes"]] + [p["hash"] for p in said["places"]]
    again, numbers = read(desk.house("as drawn", have))
    assert (again["meshes"], again["places"], numbers) == ([], [], b"")
    desk.do("set", {"field": "porch.spacing", "text": "2.7 m"})
    moved, _ = read(desk.house("as drawn", have))
    assert moved["places"], "the columns stand elsewhere"
    assert len(moved["meshes"]) < len(said["meshes"]) / 2, "most shapes are as they were"


def test_a_change_is_said_and_can_be_taken_back(scene):
    desk = Desk(scene)
    before = desk.sheet("as drawn", "2026-12-21", "10:00")
    state = desk.do("set", {"field": "porch.diameter", "text": "320 mm"})
    assert (state["fault"], state["edited"], state["can_undo"]) == ("", True, True)
    after = desk.sheet("as drawn", "2026-12-21", "10:00")
    slender = [
        next(f["written"] for f in s["figures"] if f["key"] == "slenderness")
        for s in (before, after)
    ]
    ratios = [float(text.removeprefix("1:")) for text in slender]
    assert ratios[0] == pytest.approx(2.0 * ratios[1], rel=0.02), "160 mm to 320 mm"
    assert desk.do("undo", {})["edited"] is False


def test_a_fault_leaves_the_last_house(scene):
    desk = Desk(scene)
    stood = desk.house("as drawn", [])
    state = desk.do("set", {"field": "porch.columns", "text": "99"})
    assert state["fault"].startswith("porch.columns: given 99, allowed: ")
    assert state["fault_field"] == "porch.columns"
    assert desk.house("as drawn", []) == stood
    with pytest.raises(Refusal, match=r"porch\.columns"):
        desk.do("save", {})


def test_a_line_dragged_is_a_size_in_the_builders_fraction(scene):
    desk = Desk(scene)
    lines = desk.sheet("as drawn", "2026-12-21", "10:00")["handles"]
    foot = next(line for line in lines if line["field"] == "porch.entablature")
    assert desk.dragged(foot, 0.0) == "200 mm"
    desk.do("drag", {"line": foot, "by_m": -0.103, "stroke": "one"})
    desk.do("drag", {"line": foot, "by_m": -0.1523, "stroke": "one"})
    assert "entablature: 352 mm" in desk.hand.text, "to the builder's millimetre"
    desk.do("drag", {"line": foot, "by_m": -0.1523, "pixel_m": 0.02, "stroke": "one"})
    assert "entablature: 350 mm" in desk.hand.text, "no finer than the screen"
    assert desk.do("undo", {})["edited"] is False, "one stroke is one step"


def test_nothing_is_lost_until_it_is_saved(scene):
    kept = scene.with_name(scene.name + KEPT_ENDING)
    desk = Desk(scene)
    desk.do("set", {"field": "porch.depth", "text": "2.2 m"})
    assert kept.exists()
    assert "2.2 m" not in scene.read_text(encoding="utf-8")

    again = Desk(scene)  # as after a crash
    assert again.taken_up
    assert "depth: 2.2 m" in again.hand.text
    again.do("save", {})
    assert "depth: 2.2 m" in scene.read_text(encoding="utf-8")
    assert not kept.exists()
    assert "the sun stands in the north" in scene.read_text(encoding="utf-8"), "comments stay"
    assert Desk(scene).taken_up is False


def test_what_was_kept_of_another_file_is_not_taken_up(scene):
    Desk(scene).do("set", {"field": "porch.depth", "text": "2.2 m"})
    scene.write_text(scene.read_text(encoding="utf-8") + "# by another hand\n", encoding="utf-8")
    assert Desk(scene).taken_up is False


def test_a_file_changed_beneath_is_noticed_and_not_written_over(scene):
    desk = Desk(scene)
    desk.do("set", {"field": "porch.depth", "text": "2.2 m"})
    scene.write_text(scene.read_text(encoding="utf-8") + "# by another hand\n", encoding="utf-8")
    assert desk.state()["disk"] == "changed"
    with pytest.raises(Refusal, match="changes on disk"):
        desk.do("save", {})
    assert scene.read_text(encoding="utf-8").endswith("# by another hand\n")


def test_designs_come_and_go(scene):
    desk = Desk(scene)
    names = [d["name"] for d in desk.do("add", {"name": "Deeper", "like": "Tuscan"})["designs"]]
    assert names[-1] == "Deeper"
    assert [d["letter"] for d in desk.state()["designs"]] == list("ABCD")
    desk.do("rename", {"name": "Deeper", "new": "Deep"})
    desk.do("order", {"names": ["Deep", *names[1:-1]]})
    assert [d["name"] for d in desk.state()["designs"]][1] == "Deep"
    desk.do("delete", {"name": "Deep"})
    assert desk.state()["shown"] != "Deep"
    with pytest.raises(Refusal):
        desk.do("delete", {"name": "as drawn"})


def test_what_cannot_be_read_is_refused(scene):
    desk = Desk(scene)
    for what, given in (("burn", {}), ("set", {}), ("set", {"field": "no.such", "text": "1"})):
        with pytest.raises(Refusal):
            desk.do(what, given)
    with pytest.raises(Refusal):
        desk.house("no such design", [])
    with pytest.raises(Refusal):
        desk.sheet("as drawn", "2026-13-01", "10:00")
    with pytest.raises(Refusal):
        desk.sheet("as drawn", "2026-12-01", "25:00")
    with pytest.raises(Refusal, match="given 2026-13-01, allowed: a day"):
        desk.suns("2026-13-01")
    assert desk.state()["edited"] is False


def test_the_caution_stands_beside_the_sizes(scene):
    assert Desk(scene).sheet("as drawn", "2026-12-21", "10:00")["caution"] == CAUTION
    page = (Path(desk_package.__file__).parent / "static" / "desk.html").read_text(encoding="utf-8")
    assert 'id="caution"' in page


def test_fields_by_subject(scene):
    rows = Desk(scene).fields("as drawn", "")
    assert {row["subject"] for row in rows} <= set(SUBJECTS)
    by_name = {row["field"]: row for row in rows}
    assert by_name["porch.diameter"]["source"] == "given"
    assert by_name["porch.column_height"]["source"] == "rule"
    assert by_name["porch.column_height"]["shown"]


def test_lists_are_typed_with_commas_and_groups_are_not_lists(scene):
    desk = Desk(scene)
    rows = {row["field"]: row for row in desk.fields(desk.state()["shown"], "")}
    assert rows["times"]["subject"] == "Times and pictures"
    assert "house.windows" not in rows
    assert "house.windows[1].height" in rows
    text = "equinox 10:00, summer solstice 9:30"
    state = desk.do("set", {"field": "times", "text": text})
    assert (state["times"], state["fault"]) == (text.split(", "), "")
    assert rows["house.storeys"]["written"]
    desk.do("set", {"field": "house.storeys", "text": "4.6 m"})
    assert desk.hand.reading.loaded.scene.house.storeys == [4.6]


def test_the_day_of_suns_is_the_sun_of_a_written_time(scene):
    site = Desk(scene).hand.design().site
    row = next(s for s in day_of_suns(site, date(2026, 12, 21)) if s["clock"] == "10:00")
    same = sun_time("2026-12-21 10:00", site)
    assert row["to_sun"] == pytest.approx(list(same.direction), abs=1e-5)
    rows = day_of_suns(site, date(2026, 12, 21))
    slider = (Path(desk_package.__file__).parent / "static" / "desk.html").read_text("utf-8")
    assert 'id="hour" type="range" min="0" max="1430" step="10"' in slider
    assert [s["clock"] for s in rows[:3]] == ["00:00", "00:10", "00:20"], "as the slider steps"
    assert row["altitude_deg"] == pytest.approx(same.altitude_deg, abs=1e-3)


def test_the_seasons_of_the_sites_hemisphere_are_at_hand(scene):
    """Sun at the solstices of 2026: 21 June and 21 December (US Naval Observatory, from memory)."""
    assert scene.name == "cottage.yaml", "in South Africa"
    days = Desk(scene).state()["season_days"]
    june, december = date(2026, 6, 21), date(2026, 12, 21)
    for season, when in (("summer solstice", december), ("winter solstice", june)):
        assert days[season] == (when - date(2026, 1, 1)).days
    page = (Path(desk_package.__file__).parent / "static" / "desk.html").read_text(encoding="utf-8")
    assert set(re.findall(r'data-season="([^"]+)"', page)) == set(days)
    assert "data-day" not in page


def test_a_desk_ends_well_with_ctrl_c(scene, monkeypatch, capsys):
    def interrupted(*_given):
        raise KeyboardInterrupt

    monkeypatch.chdir(scene.parent)
    monkeypatch.setattr("massing.cli.desk.server.serve", interrupted)
    assert main(["desk", str(scene), "--no-browser"]) == 0
    assert capsys.readouterr().err == ""


def test_without_a_file_the_page_asks(tmp_path, monkeypatch):
    served = []
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("massing.cli.desk.server.serve", lambda *given: served.append(given))
    assert main(["desk", "--no-browser"]) == 0
    assert served[0][:2] == (None, None)
    assert list(tmp_path.iterdir()) == []


def test_a_scene_with_a_fault_is_not_opened(scene, capsys):
    text = scene.read_text(encoding="utf-8")
    scene.write_text(text.replace("columns: 4", "columns: 99", 1), encoding="utf-8")
    assert main(["desk", str(scene), "--no-browser"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "porch.columns: given 99, allowed:" in said.err
    assert said.err.count("\n") <= 2


def test_better_porches_are_found_said_drawn_and_taken(scene, monkeypatch):
    from massing.cli.desk import better
    from massing.study import proposals as study

    monkeypatch.setattr(study, "DESIGNS", 60)
    text = scene.read_text(encoding="utf-8")
    text += "\npropose: {orders: [tuscan], columns: [2, 4], roofs: [flat], without: [pedestals]}\n"
    scene.write_text(text, encoding="utf-8")
    desk, porches = Desk(scene), better.Porches(workers=1)
    assert porches.said()["over"]
    assert porches.picture("A") is None
    with pytest.raises(Refusal):
        porches.take(desk, "A")
    assert porches.start(desk)
    assert not porches.start(desk)
    porches.wait(120)
    said = porches.said()
    assert (said["over"], said["fault"]) == (True, "")
    assert said["caution"] == CAUTION
    first = said["few"][0]
    assert first["why"].endswith(".")
    assert porches.picture(first["letter"]).startswith("<svg")
    before = desk.version
    state = porches.take(desk, first["letter"])
    assert desk.version > before
    assert state["shown"] == first["name"]
    assert first["name"] in [d["name"] for d in state["designs"]]
    assert "# Proposed: " in desk.hand.text
    with pytest.raises(Refusal, match="already"):
        porches.take(desk, first["letter"])
    state = desk.do("undo", {})
    assert state["edited"] or desk.hand.text == text


def test_what_cannot_be_looked_for_is_said(scene):
    from massing.cli.desk import better

    text = scene.read_text(encoding="utf-8")
    scene.write_text(f"{text}\npropose: {{columns: [8], width: 1 m}}\n", encoding="utf-8")
    desk, porches = Desk(scene), better.Porches(workers=1)
    porches.start(desk)
    porches.wait(60)
    assert porches.said()["fault"] == "Within these limits no porch can be built."
    desk.do("text", {"text": text.replace("columns: 4", "columns: 99")})
    with pytest.raises(Refusal):
        porches.start(desk)

"""A scene in hand: change, undo, alternatives, faults, the file on disk. No Blender."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from massing.build.house import build
from massing.cli.program import main
from massing.edit.difference import difference, part_hash, parts_by_key
from massing.edit.session import SceneInHand
from massing.files import strangers
from massing.resolve.design import resolve
from massing.scene.errors import SceneError
from massing.scene.load import load_scene

ROOT = Path(__file__).parents[2]
MARSH = ROOT / "scenes" / "marsh_road.yaml"


@pytest.fixture
def scene(tmp_path: Path) -> SceneInHand:
    return SceneInHand.open(shutil.copy(MARSH, tmp_path / "marsh.yaml"))


def fresh(scene: SceneInHand) -> dict[str, str]:
    """What a build from nothing of the text in hand shows, by part."""
    loaded = load_scene(scene.path, scene.text)
    spec, lines = loaded.designs[scene.shown], loaded.lines[scene.shown]
    model = build(resolve(spec, scene.shown, lines))
    return {key: part_hash(part) for key, part in parts_by_key(model).items()}


def stands(scene: SceneInHand) -> dict[str, str]:
    return {key: part_hash(part) for key, part in parts_by_key(scene.model()).items()}


def test_a_change_tells_which_parts_to_redraw(scene: SceneInHand) -> None:
    before = scene.model()
    found = scene.set("porch.depth", "8 ft")
    assert scene.fault is None
    assert found
    assert all(key.startswith(("porch/", "setting/", "house/")) for key in found.keys)
    assert "house/walls" not in found.keys
    assert found == difference(before, scene.model())
    assert stands(scene) == fresh(scene)
    assert not scene.set("site.latitude", 33.0)
    assert scene.design().site.latitude_deg == 33.0


def test_undo_and_redo_without_end(scene: SceneInHand) -> None:
    texts = [scene.text]
    for inches in range(13, 43):
        scene.set("porch.diameter", f"{inches} in")
        texts.append(scene.text)
    while scene.undo():
        texts.pop()
        assert scene.text == texts[-1]
    assert texts == [MARSH.read_text("utf-8")]
    assert not scene.can_undo
    assert scene.redo()
    assert scene.standing("porch.diameter").written == "13 in"
    assert stands(scene) == fresh(scene)
    scene.set("porch.depth", "9 ft")
    assert not scene.can_redo


def test_one_stroke_is_one_step(scene: SceneInHand) -> None:
    for inches in (15, 16, 17):
        scene.set("porch.diameter", f"{inches} in", stroke="drag 1")
    scene.set("porch.diameter", "20 in", stroke="drag 2")
    scene.undo()
    assert scene.standing("porch.diameter").written == "17 in"
    scene.undo()
    assert scene.text == MARSH.read_text("utf-8")


def test_while_at_fault_the_last_good_house_stands(scene: SceneInHand) -> None:
    house = stands(scene)
    assert not scene.set("porch.columns", 40)
    assert scene.fault is not None
    assert str(scene.fault) == (
        f"{scene.path}:{scene.fault.line}: porch.columns: "
        "given 40, allowed: a whole number, 2 to 16 (Across the front; by rule two where four "
        "would stand too far apart)"
    )
    assert scene.fault_field == ("porch", "columns")
    assert stands(scene) == house
    assert scene.standing("porch.columns").written == 40
    with pytest.raises(SceneError, match="given 40"):
        scene.save()
    assert scene.path.read_text("utf-8") == MARSH.read_text("utf-8")
    scene.undo()
    assert scene.fault is None
    assert not scene.replace_text("porch: [")
    assert scene.fault is not None
    assert scene.standing("porch.columns").written == 4
    scene.undo()
    assert scene.fault is None


def test_two_fields_that_need_each_other_are_set_one_after_the_other(scene: SceneInHand) -> None:
    scene.set("house.bay_spacing", "9'-3\"")
    scene.set("house.bays", 9)
    assert scene.fault is not None
    assert scene.set("house.bay_spacing", "7 ft")
    assert scene.fault is None
    assert stands(scene) == fresh(scene)


def test_alternatives(scene: SceneInHand) -> None:
    names = scene.designs
    scene.add_alternative("Seven bays", like="Six Doric columns")
    assert scene.designs == (*names, "Seven bays")
    assert scene.shown == "Seven bays"
    scene.set("porch.columns", 4)
    assert scene.standing("porch.columns", "Six Doric columns").written == 6
    scene.rename_design("Seven bays", "Four Doric columns")
    assert scene.shown == "Four Doric columns"
    scene.order_alternatives(["Four Doric columns", *names[1:]])
    assert scene.designs[1] == "Four Doric columns"
    scene.rename_design("as drawn", "the builder's")
    assert scene.designs[0] == "the builder's"
    scene.delete_alternative("Four Doric columns")
    assert scene.shown == "the builder's"
    assert scene.designs[1:] == names[1:]
    for _ in range(6):
        assert scene.undo()
    assert scene.text == MARSH.read_text("utf-8")
    assert scene.designs == names


def test_names_that_cannot_be_change_nothing(scene: SceneInHand) -> None:
    before = scene.text
    for attempt in (
        lambda: scene.add_alternative("as drawn"),
        lambda: scene.add_alternative("Four Tuscan columns"),
        lambda: scene.rename_design("Four Tuscan columns", "six tuscan columns"),
        lambda: scene.rename_design("nobody", "somebody"),
        lambda: scene.delete_alternative("as drawn"),
        lambda: scene.order_alternatives(["Four Tuscan columns"]),
        lambda: scene.order_alternatives(["Six Doric columns", "Six Tuscan columns", "nobody"]),
        lambda: scene.show("nobody"),
    ):
        with pytest.raises(SceneError, match="given"):
            attempt()
        assert scene.text == before
        assert scene.fault is None
    assert not scene.can_undo


def test_an_order_in_which_a_shared_house_is_used_first(scene: SceneInHand) -> None:
    """The house of three is an anchor that the first of them defines."""
    before = {name: scene.reading.loaded.designs[name] for name in scene.designs}
    names = ["Six Doric columns", "Four Tuscan columns", "Six Tuscan columns", "With a tile roof"]
    scene.order_alternatives(names)
    assert scene.designs == ("as drawn", *names)
    after = scene.reading.loaded.designs
    for name in names:
        same = {"house", "porch", "roof", "setting"}
        assert after[name].model_dump(include=same) == before[name].model_dump(include=same)
    assert scene.text.count("&seven_bays") == 1
    assert scene.text.count("*seven_bays") == 1  # of the two, one has gone before


def test_saving_keeps_every_other_letter(scene: SceneInHand) -> None:
    scene.set("porch.depth", "9 ft")
    scene.show("Six Tuscan columns")
    scene.set("porch.balustrade", {})
    assert scene.is_edited
    assert scene.save() == scene.path
    assert not scene.is_edited
    old, new = MARSH.read_text("utf-8").splitlines(), scene.path.read_text("utf-8").splitlines()
    assert [line for line in old if line not in new] == ["  depth: 10 ft"]
    assert [line for line in new if line not in old] == ["  depth: 9 ft"]
    assert new.count("      balustrade: {}") == old.count("      balustrade: {}") + 1


def test_a_file_changed_elsewhere_is_noticed(scene: SceneInHand) -> None:
    assert scene.on_disk() == "same"
    later = scene.text.replace("depth: 10 ft", "depth: 8 ft")
    scene.path.write_text(later, "utf-8")
    assert scene.on_disk() == "changed"
    assert scene.take_disk()
    assert scene.standing("porch.depth").written == "8 ft"
    assert scene.on_disk() == "same"
    scene.set("porch.depth", "7 ft")
    scene.path.write_text(later + "# a later hand\n", "utf-8")
    with pytest.raises(SceneError, match="allowed: one of them"):
        scene.take_disk()
    with pytest.raises(SceneError, match="allowed: another name"):
        scene.save()
    assert scene.path.read_text("utf-8").endswith("# a later hand\n")
    elsewhere = scene.path.with_name("mine.yaml")
    scene.save(elsewhere)
    assert load_scene(elsewhere).scene.porch.depth == pytest.approx(7 * 0.3048)
    assert scene.path == elsewhere
    elsewhere.unlink()
    assert scene.on_disk() == "gone"


def test_a_text_that_is_no_file_yet() -> None:
    scene = SceneInHand.of_text(MARSH.read_text("utf-8"))
    assert scene.on_disk() == "new"
    assert scene.is_edited
    with pytest.raises(SceneError, match="empty"):
        SceneInHand.of_text("")


def test_a_time_to_look_at_is_no_change(scene: SceneInHand) -> None:
    before = scene.text
    sun = scene.sun("14 May 9:30")
    assert sun.is_up
    assert scene.text == before
    with pytest.raises(SceneError, match="is not a time"):
        scene.sun("never")
    scene.add("times", "14 May 9:30")
    assert scene.reading.loaded.scene.times[-1] == "14 May 9:30"


def test_typed_fields_of_lists(scene: SceneInHand) -> None:
    scene.show("With a tile roof")
    found = scene.type_in("house.windows[1].lights", "one over one")
    assert scene.fault is None
    assert found
    assert scene.standing("house.windows[1].lights").source == "given"
    other = scene.standing("house.windows[1].lights", "Six Doric columns")
    assert other.written == "6 over 6"
    assert stands(scene) == fresh(scene)


def test_it_needs_no_blender() -> None:
    script = "import massing.edit.session, sys; print('bpy' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, cwd=ROOT)
    assert done.stdout.strip() == "False"


def test_a_scenes_folder_stays_the_users_own(tmp_path: Path) -> None:
    """A scene begun in a new folder, another laid beside it: both can be changed and saved."""
    folder = tmp_path / "house"
    assert main(["new", str(folder / "begun.yaml"), "--yes"]) == 0
    shutil.copy(ROOT / "scenes" / "vineyard_cottage.yaml", folder / "laid.yaml")
    for name in ("begun.yaml", "laid.yaml"):
        hand = SceneInHand.open(folder / name)
        hand.set("porch.depth", "2.2 m")
        hand.save()
        assert "2.2 m" in (folder / name).read_text(encoding="utf-8")
    assert sorted(p.name for p in folder.iterdir()) == ["begun.yaml", "laid.yaml"]
    assert strangers(folder), "and no output goes there"


def test_too_many_pieces_are_refused_with_their_line_and_the_last_house_stands(monkeypatch):
    text = """\
title: House by the ford
site: {place: Anywhere, latitude: 44, longitude: 11.5, front_faces: S}
times: [summer solstice 10:00]
house: {width: 40 ft, depth: 30 ft, storeys: [11 ft, 10 ft]}
porch: {order: pier}
roof: {covering: plain}
setting:
  trees: [{along: 90 m, before: 20 m, height: 10 m, spread: 8 m}]
"""
    scene = SceneInHand.of_text(text)
    before = scene.model()
    monkeypatch.setattr(
        "massing.parts.site.planting.tree", lambda *_, **__: pytest.fail("a tree was built")
    )
    scene.set(
        "setting.trees",
        [{"along": "150 m", "before": "0 m", "height": "190 m", "spread": "200 m"}] * 8,
    )
    assert "million pieces" in str(scene.fault)
    assert scene.fault.line == 8
    assert scene.model() is before

"""The main job with a stand-in for the renderer: what is made, kept, made again, left out."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from massing.files import write_by, write_whole
from massing.render.driver.run import ShotResult
from massing.scene.errors import SceneError
from massing.study import run as run_module
from massing.study import study as made_ready
from massing.study.manifest import MANIFEST
from massing.study.page import PageAlongTheWay
from massing.study.pictures import choose, focus_points, pictures
from massing.study.run import run_study
from massing.study.study import read_study

SCENE = """\
title: House by the ford
site: {place: Anywhere, latitude: 44, longitude: 11.5, front_faces: S}
times: [summer solstice 10:00, equinox 9:30]
views: [elevation, street]
looks: [clay, materials]
house:
  width: 40 ft
  depth: 30 ft
  storeys: [11 ft, 10 ft]
porch: {order: pier, columns: 4, diameter: 1 ft, entablature: 16 in, spacing: 8 ft}
alternatives:
  Tuscan:
    porch: {order: tuscan, diameter: null, entablature: null}
  Tuscan, closer:
    porch: {order: tuscan, diameter: null, entablature: null, spacing: 7 ft}
"""
SIZE = (64, 40)


@pytest.fixture
def write(tmp_path):
    def write(text=SCENE):
        path = tmp_path / "ford.yaml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


@pytest.fixture(autouse=True)
def _build_once(monkeypatch):
    """Equal designs are built once for all tests."""
    monkeypatch.setattr(made_ready, "build", _built)


_built = cache(made_ready.build)


@pytest.fixture
def renderer(monkeypatch):
    """Writes a plain picture for each shot, and remembers what it was asked for."""
    asked = []

    def render(pictures, *, log_path, on_done, fail=(), fail_small=False, stop_after=None, **_):
        results = []
        for model, shot in pictures:
            if stop_after is not None and len(asked) >= stop_after:
                raise KeyboardInterrupt
            asked.append((model.name, shot))
            error = "the worker crashed" if any(word in shot.output.name for word in fail) else ""
            if fail_small and shot.camera.width_px == 320:
                error = "the worker crashed"
            if not error:
                colour = (40 * len(asked) % 255, 90, 90)
                size = (shot.camera.width_px, shot.camera.height_px)
                write_by(shot.output, Image.new("RGB", size, colour).save)
                for path in shot.also_files:
                    write_whole(path, b"the same picture")
            results.append(ShotResult(shot, 0.1, error))
            on_done(results[-1])
        return results

    monkeypatch.setattr(run_module, "render_pictures", render)
    return asked


def files_in(folder):
    return sorted(
        p.relative_to(folder).as_posix()
        for p in folder.rglob("*")
        if p.is_file() and p.name not in (".in-use", ".massing")
    )


def test_every_picture_sheet_and_figure_is_made(write, renderer, tmp_path):
    folder = tmp_path / "out"
    outcome = run_study(read_study(write()), folder, size_px=SIZE)
    names = [
        f"{view}_{time}_{look}.png"
        for view in ("elevation", "street")
        for time in ("summer-solstice-10-00", "equinox-9-30")
        for look in ("clay", "materials")
    ]
    expected = [f"{where}/{n}" for where in ("as-drawn", "tuscan", "tuscan-closer") for n in names]
    expected += [f"sheets/{n}" for n in names] + ["sheets/on-the-table.png"]
    expected += ["figures.json", "figures.csv", "figures.txt", "findings.txt", MANIFEST]
    assert files_in(folder) == sorted(expected)
    assert set(outcome.made) == set(expected) - {MANIFEST}
    assert not outcome.failed
    sheet = Image.open(folder / "sheets" / names[0])
    assert sheet.width > 3 * SIZE[0]


def test_pictures_are_written_as_other_kinds_too_and_made_again_where_one_lacks(
    write, renderer, tmp_path
):
    study, folder = read_study(write()), tmp_path / "out"
    some = {"size_px": SIZE, "only": ["as drawn", "summer", "elevation", "clay"]}
    run_study(study, folder, **some)
    stem = "as-drawn/elevation_summer-solstice-10-00_clay"
    assert not (folder / f"{stem}.jpg").exists()
    first = run_study(study, folder, also=["jpg", "png16", "exr"], **some)
    assert f"{stem}.png" in first.made  # a picture of eight bits cannot become one of sixteen
    assert {f"{stem}{end}" for end in (".jpg", "-16.png", ".exr")} <= set(files_in(folder))
    assert not run_study(study, folder, also=["jpg"], **some).made
    (folder / f"{stem}.exr").unlink()
    assert f"{stem}.png" in run_study(study, folder, also=["exr"], **some).made


def test_pairs_lay_each_alternative_beside_the_design_as_drawn(write, renderer, tmp_path):
    study, folder = read_study(write()), tmp_path / "out"
    outcome = run_study(
        study, folder, size_px=SIZE, pairs=True, only=["summer", "elevation", "clay"]
    )
    name = "elevation_summer-solstice-10-00_clay.png"
    pairs = {f"sheets/pairs/{design}_{name}" for design in ("tuscan", "tuscan-closer")}
    assert pairs == {path for path in outcome.made if "pairs" in path}
    two, three = (Image.open(folder / p).width for p in (min(pairs), f"sheets/{name}"))
    assert 2 * SIZE[0] < two < three


def test_all_alternatives_share_one_camera_and_one_light(write, renderer, tmp_path):
    run_study(read_study(write()), tmp_path / "out", size_px=SIZE)
    by_picture = {}
    for name, shot in renderer:
        by_picture.setdefault(shot.output.name, []).append((name, shot))
    for group in by_picture.values():
        assert len({name for name, _ in group}) == 3
        assert len({shot.camera for _, shot in group}) == 1
        assert len({(shot.sun_direction, shot.beam_w_m2) for _, shot in group}) == 1


def test_one_framing_holds_every_alternative_whole(write):
    study = read_study(write())
    for picture in pictures(study, "draft", SIZE):
        corners = np.concatenate([m.building_bounds for m in study.models.values()])
        at = picture.camera.project(corners)
        assert (at >= 0).all()
        assert (at <= SIZE).all()


@pytest.mark.parametrize("columns", [4, 5, 6, 7])
def test_a_section_is_cut_clear_of_every_column(write, columns):
    text = SCENE.replace("columns: 4, diameter: 1 ft", f"columns: {columns}, diameter: 8 in")
    text = text.replace("spacing: 8 ft", "spacing: 5 ft").replace("spacing: 7 ft", "spacing: 4 ft")
    study = read_study(write(text))
    (at, _, _), *_ = focus_points(study.designs)["bay"]
    for design in study.designs:
        assert min(abs(x - at) for x in design.porch.axes_m) > design.porch.order.diameter_m / 2
    if columns % 2 == 0:
        assert at == 0.0


def test_a_second_run_makes_nothing(write, renderer, tmp_path):
    folder = tmp_path / "out"
    run_study(read_study(write()), folder, size_px=SIZE)
    count = len(renderer)
    before = {p: p.stat().st_mtime_ns for p in folder.rglob("*") if p.is_file()}
    outcome = run_study(read_study(write()), folder, size_px=SIZE)
    assert len(renderer) == count
    assert outcome.made == ()
    assert len(outcome.kept) == count
    after = {p: p.stat().st_mtime_ns for p in folder.rglob("*") if p.is_file()}
    assert {p.name for p in after if after[p] != before.get(p)} <= {".in-use"}


@pytest.mark.parametrize(
    ("old", "new", "designs"),
    [
        ("diameter: 1 ft", "diameter: 13 in", {"as drawn"}),
        ("spacing: 7 ft", "spacing: 7'-6\"", {"Tuscan, closer"}),
        ("# nothing", "", set()),
    ],
)
def test_only_what_a_change_touches_is_made_again(write, renderer, tmp_path, old, new, designs):
    folder = tmp_path / "out"
    text = SCENE + "# nothing\n"
    run_study(read_study(write(text)), folder, size_px=SIZE)
    renderer.clear()
    assert text.count(old) == 1
    run_study(read_study(write(text.replace(old, new))), folder, size_px=SIZE)
    assert {name for name, _ in renderer} == designs


def test_a_changed_hour_makes_that_time_again_and_no_other(write, renderer, tmp_path):
    folder = tmp_path / "out"
    run_study(read_study(write()), folder, size_px=SIZE)
    renderer.clear()
    run_study(read_study(write(SCENE.replace("9:30", "9:40"))), folder, size_px=SIZE)
    assert {shot.output.name.split("_")[1] for _, shot in renderer} == {"equinox-9-40"}
    assert len(renderer) == 3 * 2 * 2


def test_a_turned_front_changes_every_light(write, renderer, tmp_path):
    folder = tmp_path / "out"
    run_study(read_study(write()), folder, size_px=SIZE)
    renderer.clear()
    turned = SCENE.replace("front_faces: S", "front_faces: SSW")
    run_study(read_study(write(turned)), folder, size_px=SIZE)
    assert len(renderer) == 24


def test_a_picture_that_was_deleted_is_made_again(write, renderer, tmp_path):
    folder = tmp_path / "out"
    run_study(read_study(write()), folder, size_px=SIZE)
    renderer.clear()
    lost = folder / "tuscan" / "street_equinox-9-30_clay.png"
    lost.unlink()
    run_study(read_study(write()), folder, size_px=SIZE)
    assert [shot.output for _, shot in renderer] == [lost]


def test_a_picture_that_was_cut_short_is_made_again(write, renderer, tmp_path):
    folder = tmp_path / "out"
    run_study(read_study(write()), folder, size_px=SIZE)
    renderer.clear()
    short = folder / "tuscan" / "street_equinox-9-30_clay.png"
    short.write_bytes(short.read_bytes()[:-20])
    sheet = folder / "sheets" / short.name
    sheet.write_bytes(sheet.read_bytes()[:-20])
    outcome = run_study(read_study(write()), folder, size_px=SIZE)
    assert [shot.output for _, shot in renderer] == [short]
    assert f"sheets/{sheet.name}" in outcome.made
    assert not outcome.failed


def test_a_new_title_is_put_into_the_files_without_making_them_again(write, renderer, tmp_path):
    folder = tmp_path / "out"
    run_study(read_study(write()), folder, size_px=SIZE)
    renderer.clear()
    changed = SCENE.replace("House by the ford", "House by the mill")
    for _ in range(2):
        outcome = run_study(read_study(write(changed)), folder, size_px=SIZE)
        assert not renderer
    assert not outcome.made
    for path in folder.glob("as-drawn/*.png"):
        with Image.open(path) as picture:
            assert picture.info["Title"] == "House by the mill: as drawn"


def test_a_spoilt_record_costs_only_time(write, renderer, tmp_path):
    folder = tmp_path / "out"
    run_study(read_study(write()), folder, size_px=SIZE)
    for spoilt in ("{", '{"files": 3}'):
        renderer.clear()
        (folder / MANIFEST).write_text(spoilt)
        run_study(read_study(write()), folder, only=["street", "clay"], size_px=SIZE)
        assert len(renderer) == 6
    assert json.loads((folder / MANIFEST).read_text())["files"]


def test_only_picks_by_name_and_leaves_the_rest(write, renderer, tmp_path):
    study = read_study(write())
    folder = tmp_path / "out"
    run_study(study, folder, only=["Tuscan", "elevation", "clay", "equinox"], size_px=SIZE)
    assert [(name, shot.output.name) for name, shot in renderer] == [
        ("Tuscan", "elevation_equinox-9-30_clay.png")
    ]
    assert [p.name for p in (folder / "sheets").iterdir()] == ["elevation_equinox-9-30_clay.png"]


def test_all_designs_of_a_sheet_come_one_after_another_the_most_telling_hour_first(
    write, renderer, tmp_path
):
    run_study(read_study(write()), tmp_path / "out", size_px=SIZE)
    names = [shot.output.stem for _, shot in renderer]
    assert names[::3] == list(dict.fromkeys(names))  # each three times in a row
    assert names[::3] == [
        f"{view}_{time}_{look}"
        for time in ("equinox-9-30", "summer-solstice-10-00")  # 42° of profile angle, not 75°
        for view in ("elevation", "street")
        for look in ("clay", "materials")
    ]
    assert [name for name, _ in renderer[:3]] == ["as drawn", "Tuscan", "Tuscan, closer"]


LARGE = (960, 600)


def test_small_pictures_of_every_view_come_first_and_larger_ones_replace_them(
    write, renderer, tmp_path
):
    folder, laid = tmp_path / "out", []

    def on_sheet(paths):
        for path in paths:
            with Image.open(path) as sheet:
                laid.append((len(renderer), path.name, sheet.width))

    study = read_study(write())
    outcome = run_study(study, folder, size_px=LARGE, on_sheet=on_sheet)
    sizes = [(shot.camera.width_px, shot.camera.height_px) for _, shot in renderer]
    assert sizes == [(320, 200)] * 6 + [LARGE] * 24
    table = [each for each in laid if each[1] == "on-the-table.png"]
    assert len(table) == 1
    small, large = laid[:2], [each for each in laid[2:] if each not in table]
    assert [(n, name) for n, name, _ in small] == [
        (3, "elevation_equinox-9-30_clay.png"),
        (6, "street_equinox-9-30_clay.png"),
    ]
    assert [n for n, *_ in large] == list(range(9, 31, 3))
    assert {width for *_, width in small} == {3 * 800 + 4 * 18 + 6 * 18}
    assert min(width for *_, width in large) > 3 * LARGE[0]
    for design in ("as-drawn", "tuscan", "tuscan-closer"):
        for path in (folder / design).glob("*.png"):
            with Image.open(path) as picture:
                assert picture.size == LARGE
    assert len(outcome.made) == len(set(outcome.made))
    renderer.clear()
    assert run_study(study, folder, size_px=LARGE).made == ()
    assert not renderer


def test_a_run_stopped_among_the_small_pictures_goes_on_from_them(write, renderer, tmp_path):
    study, folder = read_study(write()), tmp_path / "out"
    with pytest.raises(KeyboardInterrupt):
        run_study(study, folder, size_px=LARGE, stop_after=4)
    renderer.clear()
    run_study(study, folder, size_px=LARGE, only=["elevation", "street", "clay", "equinox"])
    assert [shot.camera.width_px for _, shot in renderer] == [320] * 2 + [LARGE[0]] * 6


def test_a_sheet_shows_what_stands_large_beside_what_is_new_and_small(write, renderer, tmp_path):
    study, folder = read_study(write()), tmp_path / "out"
    some = {"size_px": LARGE, "only": ["elevation", "clay", "equinox"]}
    run_study(study, folder, **some)
    renderer.clear()
    closer = read_study(write(SCENE.replace("spacing: 7 ft", "spacing: 7'-6\"")))
    run_study(closer, folder, small_only=True, **some)
    assert [(name, shot.camera.width_px) for name, shot in renderer] == [("Tuscan, closer", 320)]
    with Image.open(folder / "sheets" / "elevation_equinox-9-30_clay.png") as sheet:
        assert 3 * 800 < sheet.width < 3 * LARGE[0]


def test_a_small_picture_that_failed_is_made_large_all_the_same(write, renderer, tmp_path):
    failing = read_study(write())
    outcome = run_study(failing, tmp_path / "out", size_px=LARGE, fail_small=True)
    assert not outcome.failed
    assert len([p for p in outcome.made if not p.startswith("sheets/") and "png" in p]) == 24


def test_the_page_is_made_along_the_way_and_stays_while_nothing_changes(write, renderer, tmp_path):
    folder, found = tmp_path / "out", []

    def on_sheet(paths):
        found.append(page.path.read_text(encoding="utf-8"))

    study = read_study(write())
    page = PageAlongTheWay(study, folder)
    some = {"size_px": LARGE, "only": ["elevation", "clay", "equinox"], "page": page}
    outcome = run_study(study, folder, on_sheet=on_sheet, **some)
    assert "page.html" in outcome.made
    assert 'data-coming="3"' in found[0]  # the three large pictures
    assert "location.reload()" in found[0]
    done = page.path.read_text(encoding="utf-8")
    assert "data-coming" not in done
    assert "location.reload()" not in done
    assert done.count('<img class="picture') == found[0].count('<img class="picture') == 5
    written = page.path.stat().st_mtime_ns
    assert "page.html" not in run_study(study, folder, **some).made
    assert page.path.stat().st_mtime_ns == written
    titled = read_study(write(SCENE.replace("by the ford", "by the mill")))
    some["page"] = PageAlongTheWay(titled, folder)
    assert "page.html" in run_study(titled, folder, **some).made
    assert "House by the mill" in page.path.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("word", "kind", "name"),
    [
        ("Tuscan", "designs", "Tuscan"),
        ("tuscan, c", "designs", "Tuscan, closer"),
        ("closer", "designs", "Tuscan, closer"),
        ("AS DRAWN", "designs", "as drawn"),
        ("summer solstice 10:00", "times", "summer solstice 10:00"),
        ("9:30", "times", "equinox 9:30"),
        ("street", "views", "street"),
        ("mat", "looks", "materials"),
    ],
)
def test_a_word_names_one_thing(write, word, kind, name):
    choice = choose(read_study(write()), [word])
    assert choice[kind] == {name}
    for other in {"designs", "times", "views", "looks"} - {kind}:
        assert len(choice[other]) >= 2


@pytest.mark.parametrize("word", ["corinthian", "", "s", "tusc"])
def test_a_word_that_names_nothing_or_several_is_refused(write, word):
    with pytest.raises(ValueError, match=r"--only: given .*allowed: "):
        choose(read_study(write()), [word])


def test_a_failed_picture_is_told_and_the_others_stand(write, renderer, tmp_path):
    folder = tmp_path / "out"
    outcome = run_study(read_study(write()), folder, size_px=SIZE, fail=("street_equinox",))
    assert len(outcome.failed) == 3 * 2
    assert set(outcome.failed.values()) == {"the worker crashed"}
    assert not [n for n in files_in(folder) if "street_equinox" in n]
    renderer.clear()
    again = run_study(read_study(write()), folder, size_px=SIZE)
    assert not again.failed
    assert len(renderer) == 3 * 2


def test_a_stopped_run_keeps_what_is_finished_and_goes_on(write, renderer, tmp_path):
    folder = tmp_path / "out"
    with pytest.raises(KeyboardInterrupt):
        run_study(read_study(write()), folder, size_px=SIZE, stop_after=5)
    done = [n for n in files_in(folder) if n.endswith(".png")]
    assert [n for n in done if n.startswith("sheets/")] == [
        "sheets/elevation_equinox-9-30_clay.png"  # the one whose pictures are all there
    ]
    assert len(done) == 5 + 1
    assert not [n for n in files_in(folder) if Path(n).name.startswith(".")]
    for name in done:
        Image.open(folder / name).load()
    renderer.clear()
    run_study(read_study(write()), folder, size_px=SIZE)
    assert len(renderer) == 24 - 5


def test_progress_counts_up_to_the_total(write, renderer, tmp_path):
    told = []
    run_study(
        read_study(write()),
        tmp_path / "out",
        size_px=SIZE,
        progress=lambda done, total, what: told.append((done, total, what)),
    )
    assert [done for done, _, _ in told] == list(range(25))
    assert {total for _, total, _ in told} == {24}
    assert "as drawn" in told[1][2]


def test_a_night_time_and_a_collision_are_scene_errors(write, monkeypatch):
    with pytest.raises(SceneError, match=r"ford\.yaml:3: times\[2\]: .*below the horizon"):
        read_study(write(SCENE.replace("equinox 9:30", "equinox 2:00")))

    def collide(design):
        raise ValueError("the steps pass through the walk")

    monkeypatch.setattr(made_ready, "build", collide)
    with pytest.raises(SceneError, match=r"ford\.yaml:1: as drawn: the steps pass"):
        read_study(write()).build()

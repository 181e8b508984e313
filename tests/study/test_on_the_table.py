"""The sheets that alternatives are compared on: letters, numbers, the one to put on the table."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image

from massing.study import sheets
from massing.study.manifest import Manifest
from massing.study.pictures import SKY_SHARE, pictures, spare_sky
from massing.study.sheets import ON_THE_TABLE, _told, lay_sheets
from massing.study.study import read_study
from tests.helpers.scene_files import HEAD

SCENE = f"""{HEAD}
views: [elevation, street]
looks: [clay]
house: {{width: 40 ft, depth: 30 ft, storeys: [11 ft, 10 ft]}}
porch: {{order: pier, columns: 4, diameter: 5 in, column_height: 100 in, entablature: 12 in,
        spacing: 8 ft}}
alternatives:
  Tuscan: {{porch: {{order: tuscan, diameter: null, column_height: null, entablature: null}}}}
sheet: {{designer: A. Draughtsman, date: 2026-11-27}}
"""
SIZE = (160, 100)


def test_one_sheet_holds_every_design_in_elevation_and_from_the_street(tmp_path):
    file = tmp_path / "ford.yaml"
    file.write_text(SCENE, encoding="utf-8")
    study, manifest = read_study(file), Manifest(tmp_path)
    asked = pictures(study, "draft", SIZE)
    for i, picture in enumerate(asked):
        path = tmp_path / picture.path
        path.parent.mkdir(exist_ok=True, parents=True)
        Image.new("RGB", SIZE, (10 + 40 * i, 200, 30)).save(path)
        if i < len(asked) - 1:
            manifest.record([picture.path], picture.key)
    (tmp_path / "sheets").mkdir()
    assert ON_THE_TABLE not in lay_sheets(study, manifest, asked, asked, pairs=False)
    manifest.record([asked[-1].path], asked[-1].key)
    assert ON_THE_TABLE in lay_sheets(study, manifest, asked, asked, pairs=False)
    with Image.open(tmp_path / ON_THE_TABLE) as sheet:
        colours = {colour for _, colour in sheet.convert("RGB").getcolors(1 << 20)}
    assert {(10 + 40 * i, 200, 30) for i in range(len(asked))} <= colours
    assert not lay_sheets(study, manifest, asked, asked, pairs=False)  # it stands


def test_under_each_stand_what_was_drawn_what_the_books_have_and_what_is_proposed(tmp_path):
    file = tmp_path / "ford.yaml"
    file.write_text(SCENE, encoding="utf-8")
    study = read_study(file)
    drawn, tuscan = (_told(study, d.name, study.suns[0]) for d in study.designs)
    assert (drawn["mark"], tuscan["mark"]) == ("As drawn", "A")
    # A pier of 100 in by 5 in is 1:20; Ware (p. 8) has 7 diameters of the Tuscan to 10 of the
    # Corinthian, and an entablature of a quarter of the column, a fifth sometimes.
    assert drawn["numbers"][1] == ("pier", "1:20", "1:7 to 1:10")
    assert drawn["numbers"][2] == ("entablature", "1/8.3", "1/5 to 1/4")
    assert tuscan["numbers"][1] == ("column", "1:20", "1:7", "1:7")
    assert "slender" in drawn["finding"]
    assert len(tuscan["finding"]) > 10


@pytest.mark.parametrize(("count", "across"), [(4, 4), (5, 3)])
def test_designs_stand_in_columns_that_a_table_can_read(tmp_path, monkeypatch, count, across):
    """Up to four in one row, then rows as even as they go, never more than four across."""
    others = "".join(
        f"  Bays of {7 + 0.1 * i:.1f} ft: {{porch: {{spacing: {7 + 0.1 * i:.1f} ft}}}}\n"
        for i in range(count - 1)
    )
    file = tmp_path / "ford.yaml"
    head = SCENE[: SCENE.index("alternatives:")]
    file.write_text(f"{head}alternatives:\n{others}", encoding="utf-8")
    study, manifest = read_study(file), Manifest(tmp_path)
    asked = pictures(study, "draft", SIZE)
    tones = {}
    for i, picture in enumerate(asked):
        path = tmp_path / picture.path
        path.parent.mkdir(exist_ok=True, parents=True)
        tones[picture.design, picture.view] = (10 + 12 * i, 200, 30)
        Image.new("RGB", SIZE, tones[picture.design, picture.view]).save(path)
        manifest.record([picture.path], picture.key)
    (tmp_path / "sheets").mkdir()
    monkeypatch.setattr(sheets, "lede_finding", lambda design: "")
    lay_sheets(study, manifest, asked, asked, pairs=False)
    with Image.open(tmp_path / ON_THE_TABLE) as opened:
        pixels = np.asarray(opened.convert("RGB"))
    corners = {}
    for design in study.designs:
        rows, columns = np.where((pixels == tones[design.name, "elevation"]).all(axis=2))
        under, _ = np.where((pixels == tones[design.name, "street"]).all(axis=2))
        corners[design.name] = (columns.min(), rows.min())
        assert rows.max() < under.min()  # the street under its own elevation
    lefts = sorted({left for left, _ in corners.values()})
    tops = sorted({top for _, top in corners.values()})
    assert len(lefts) == across
    assert len(tops) == -(-count // across)
    assert np.ptp(np.diff(lefts)) <= 1
    order = [corners[design.name] for design in study.designs]
    assert order == sorted(order, key=lambda corner: (corner[1], corner[0]))  # as they are read


def test_a_wide_low_house_has_no_more_sky_than_it_needs(tmp_path):
    file = tmp_path / "wide.yaml"
    text = SCENE.replace("width: 40 ft", "width: 90 ft").replace(
        "storeys: [11 ft, 10 ft]", "storeys: [11 ft]"
    )
    file.write_text(text, encoding="utf-8")
    study = read_study(file)
    camera = next(p.camera for p in pictures(study, "draft", SIZE) if p.view == "elevation")
    share = spare_sky(study, camera)
    top = float(camera.project([[0.0, 0.0, study.bounds_m[1, 2]]])[0, 1]) / camera.height_px
    assert share > 0.2
    assert (top - share) / (1.0 - share) == pytest.approx(SKY_SHARE)
    street = next(p.camera for p in pictures(study, "draft", SIZE) if p.view == "street")
    assert spare_sky(study, street) == 0.0
    ground = float(camera.project([[0.0, 0.0, 0.0]])[0, 1]) / camera.height_px
    assert 1.0 - ground <= 0.04 + 1e-6  # blank earth, at most a twenty-fifth of the height

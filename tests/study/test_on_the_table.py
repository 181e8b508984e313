"""The sheets that alternatives are compared on: letters, numbers, the one to put on the table."""

from __future__ import annotations

from PIL import Image

from massing.study.manifest import Manifest
from massing.study.pictures import pictures
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

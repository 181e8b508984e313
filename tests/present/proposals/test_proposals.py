"""What is shown of proposals: elevations, the sheet, the table and the plot."""

from __future__ import annotations

import csv
import io
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pypdfium2
import pytest
from PIL import Image

from massing.edit.proposals.measures import MEASURES
from massing.edit.proposals.search import search
from massing.practice.cautions import CAUTION
from massing.present.proposals.front import front_csv, measures_table, sources
from massing.scene.load import load_scene
from massing.study.proposals import added, elevations, propose, write_proposals

SCENE = Path(__file__).parents[3] / "scenes" / "vineyard_cottage.yaml"


@pytest.fixture(scope="module")
def proposed():
    text = SCENE.read_text(encoding="utf-8")
    more = {"orders": ["tuscan", "doric"], "columns": [2, 4], "without": ["pedestals"]}
    loaded = load_scene(SCENE, text)
    return propose(SCENE, text, loaded, more=more, designs=60, most=2, workers=1)


def test_porches_measured_by_others_are_the_same(proposed):
    begun = proposed.outcome.begun
    with ThreadPoolExecutor(2) as others:
        found = search(begun, designs=60, most=2, others=others)
    assert found.tried == proposed.outcome.tried
    assert [f.place for f in found.built] == [f.place for f in proposed.outcome.built]


@pytest.fixture(scope="module")
def folder(proposed, tmp_path_factory):
    made = tmp_path_factory.mktemp("proposals") / "out"
    write_proposals(proposed, made, "Vineyard cottage", workers=1)
    return made


def said(text):
    return " ".join(text.split())


def test_the_sheet_names_each_proposal_and_carries_the_caution(proposed, folder):
    with pypdfium2.PdfDocument(folder / "proposals.pdf") as pdf:
        text = said(pdf[0].get_textpage().get_text_range())
    assert CAUTION in text
    assert len(proposed.few) == 2
    for each in proposed.few:
        assert f"{each.letter} {each.name}" in text
    assert f"{proposed.outcome.tried:,} porches were resolved and measured" in text
    assert CAUTION in (folder / "proposals.svg").read_text(encoding="utf-8")
    picture = Image.open(folder / "proposals.png")
    assert picture.info["Disclaimer"] == CAUTION
    assert min(picture.size) > 600


def test_elevations_stand_at_one_scale_with_their_shadows(proposed):
    drawn = elevations(proposed, 60.0, workers=1)
    assert len(drawn) == 1 + len(proposed.few)
    assert {(d.width_mm, d.height_mm, d.scale) for d in drawn} == {
        (drawn[0].width_mm, drawn[0].height_mm, drawn[0].scale)
    }
    assert drawn[0].width_mm == pytest.approx(60.0)
    assert proposed.sun is not None
    assert all('fill-opacity="0.4"' in d.svg for d in drawn)  # cast shadow


def test_the_table_has_the_whole_front_and_its_letters(proposed, folder):
    text = (folder / "front.csv").read_text(encoding="utf-8")
    assert text == front_csv(proposed.outcome, proposed.few)
    first, *rest = text.splitlines()
    assert first == f"# {CAUTION}"
    rows = list(csv.DictReader(io.StringIO("\n".join(rest))))
    assert len(rows) == len(proposed.outcome.front)
    assert sorted(row["proposal"] for row in rows if row["proposal"]) == ["A", "B"]
    for row, found in zip(rows, proposed.outcome.front, strict=True):
        for measure, value in zip(MEASURES, found.values, strict=True):
            assert float(row[measure.key]) == pytest.approx(value, rel=1e-4, abs=1e-9)


def test_the_plot_carries_the_caution(folder):
    assert Image.open(folder / "front.png").info["Disclaimer"] == CAUTION


def test_measures_are_told_beside_those_of_the_design_begun_from(proposed):
    table = measures_table(proposed.outcome, proposed.few)
    assert [str(c.header) for c in table.columns] == ["Less is better", "as drawn", "A", "B"]
    assert table.row_count == len(MEASURES)
    assert len(list(sources())) == len(MEASURES)


def test_only_the_letters_asked_for_are_added(proposed):
    text = added(proposed, "B")
    loaded = load_scene(SCENE, text)
    assert proposed.few[1].name in loaded.designs
    assert proposed.few[0].name not in loaded.designs
    assert added(proposed, "") == proposed.text

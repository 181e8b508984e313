"""No words of a sheet stand over others: measured on the paper, by the letters' own widths."""

from __future__ import annotations

import datetime
import math
import re
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from massing.build.house import build
from massing.findings.report import findings
from massing.present.drawings.drawing_set import (
    drawing_set,
    heading_of,
    paper_for,
)
from massing.present.drawings.items import Dimension, Line, Text
from massing.present.drawings.lettering import Figures, chain
from massing.present.drawings.notes import finding_notes
from massing.present.drawings.porch_section import section_sheet
from massing.present.drawings.scales import PAPERS_MM
from massing.present.drawings.sheet import Sheet
from massing.resolve.design import resolve
from massing.scene.errors import DesignError
from massing.scene.spec import Scene
from massing.study.study import read_study
from massing.units import INCH_M
from tests.helpers.random_scenes import scene as random_scene
from tests.helpers.sheet_words import outside, overlaps, without_lines

SCENES = Path(__file__).parents[3] / "scenes"
DAY = datetime.date(2026, 11, 28)
FULL = {"designer": "A designer", "client": "A client", "issue": "B"}


def sheets_of(design) -> list[Sheet]:
    model = build(design)
    paper = paper_for(design, model)
    heading = heading_of(design, "House by the ford", DAY, FULL)
    return drawing_set(design, model, heading, paper, finding_notes(design), None)


# the tightest that are bundled: short treads at a small scale, an arcade on pedestals, metres
@pytest.mark.parametrize(
    ("scene", "index"),
    [("foundry_lane", 0), ("heron_bluff", 2), ("vineyard_cottage", 2), ("orchard_road", 3)],
)
def test_no_words_of_a_bundled_set_run_into_one_another(scene, index, monkeypatch):
    without_lines(monkeypatch)
    for sheet in sheets_of(read_study(SCENES / f"{scene}.yaml").designs[index]):
        assert (sheet.name, overlaps(sheet), outside(sheet)) == (sheet.name, [], [])


def random_designs(count: int):
    """So many random designs that can be built, always the same."""
    seed = 0
    while count:
        seed += 1
        try:
            design = resolve(Scene.model_validate(random_scene(seed, common=True)), "any")
            build(design)
        except (DesignError, ValueError):
            continue
        count -= 1
        yield design


def test_no_words_of_random_sets_run_into_one_another(monkeypatch):
    without_lines(monkeypatch)
    for design in random_designs(3):
        for sheet in sheets_of(design):
            assert (sheet.name, overlaps(sheet), outside(sheet)) == (sheet.name, [], [])


def test_words_that_touch_are_found():
    sheet = Sheet("1", "two", "Two", PAPERS_MM["A3"], 1.0, "feet")
    sheet.items += [Text((0.1, 0.1), "architrave"), Text((0.1, 0.101), "frieze")]
    sheet.items.append(Text((0.005, 0.2), "off the border"))
    assert overlaps(sheet) == [("architrave", "frieze")]
    assert outside(sheet) == ["off the border"]


@settings(deadline=None, max_examples=60)
@given(
    st.lists(st.sampled_from([2, 5, 9, 13, 16, 40, 200]), min_size=1, max_size=9),
    st.sampled_from([12.0, 24.0, 48.0, 96.0]),
    st.booleans(),
)
@example([200, 2, 2, 2, 2, 2, 2, 2], 96.0, False)
def test_a_chain_of_short_stretches_can_be_read(inches, scale, upright):
    places = np.cumsum([0.0, *inches]) * INCH_M
    figures = Figures("feet", INCH_M / 16.0)
    made = chain(places, 0.0, figures, upright=upright, foot=0.0, mm_m=scale / 1000.0)
    tight = sum(d.text_at is not None for d in made)
    sheet = Sheet("1", "chain", "Chain", PAPERS_MM["A1"], scale, "feet")
    sheet.add(made)
    # three rows hold so much: what is denser than the letters themselves nobody could set
    wide = 11.0 * tight * scale / 1000.0
    if wide <= 2.4 * (places[-1] - places[0]) or tight <= 4:
        assert overlaps(sheet) == []
    assert math.isclose(sum(d.length_m for d in made), places[-1], abs_tol=1e-9)
    assert all(isinstance(d, Dimension) for d in made)


def test_a_section_shows_nothing_within_the_house_but_what_is_cut():
    design = read_study(SCENES / "heron_bluff.yaml").designs[2]
    heading = heading_of(design, "House by the ford", DAY, FULL)
    section = section_sheet(design, build(design), heading, PAPERS_MM["arch c"], "1", ())
    lines = [i for i in section.items if isinstance(i, Line)]
    footing = next(i for i in lines if i.layer == "HIDDEN")
    # the footing line runs to where the drawing is broken off
    end = footing.points[:, 0].max()
    inside = end - 1.2 + design.house.wall_thickness_m + 0.01
    seen = [i for i in lines if i.layer in ("FINE", "EDGE", "PROFILE")]
    top = max(i.points[:, 1].max() for i in lines if i.layer == "CUT") - 1.2
    stray = [i for i in seen if inside < i.points[:, 0].min() and i.points[:, 0].max() < end + 0.01]
    assert not [i for i in stray if i.points[:, 1].max() < top]
    # and what is cut is open there
    cut = [i for i in lines if i.layer == "CUT" and i.points[:, 0].max() > end - 1e-4]
    assert cut
    upright = [i for i in cut for a, b in pairwise(i.points) if min(a[0], b[0]) > end - 1e-4]
    assert not upright


PATHS = re.compile(r"[a-z]\.[a-z]|[a-z]/[a-z]|_|\[\d|\(read\)|,[a-z.]")


def test_notes_speak_of_no_field_and_no_path():
    said = 0
    for path in sorted(SCENES.glob("*.yaml")):
        for design in read_study(path).designs:
            notes = finding_notes(design)
            said += len(notes)
            assert [note for note in notes if PATHS.search(note)] == []
            assert len(notes) == len(findings(design))
    assert said > 100

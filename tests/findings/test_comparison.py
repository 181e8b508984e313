"""What is said of the alternatives against the design as drawn: true to figures and findings."""

from __future__ import annotations

import pytest

from massing.findings.change import length_words, telling_sun
from massing.findings.comparison import SUBJECTS, compared, three_sentences
from massing.findings.measures import clear_intercolumniations, slenderness
from massing.findings.report import REMARKS, findings
from massing.findings.shadow import cornice_shadow_m
from massing.study.study import read_study

SCENE = """\
title: House by the ford
site: {place: Savannah, latitude: 32.08, longitude: -81.09, front_faces: S}
times: [equinox 10:30]
house: {width: 48 ft, depth: 30 ft, storeys: [11 ft, 10 ft]}
porch: {order: pier, columns: 4, diameter: 10 in, entablature: 12 in, height: eaves, spacing: 9 ft}
alternatives:
  Tuscan: {porch: {order: tuscan, columns: 6, diameter: null, entablature: null, spacing: systyle}}
  Thinner: {porch: {diameter: 8 in}}
"""


@pytest.fixture(scope="module")
def study(tmp_path_factory):
    return read_study(tmp_path_factory.mktemp("scene") / "ford.yaml", SCENE)


def test_every_question_and_note_on_proportion_has_a_subject() -> None:
    keys = {remark.key for remark in REMARKS if remark.severity != "caution"}
    assert keys <= set(SUBJECTS)


def test_better_is_what_was_questioned_and_is_no_more(study) -> None:
    drawn, tuscan, thinner = study.designs
    against = compared(drawn, tuscan)
    questions = {f.key for f in findings(drawn) if f.severity == "check"}
    assert {"slender", "shallow entablature", "wide spacing"} <= questions
    for key in ("slender", "shallow entablature", "wide spacing"):
        assert SUBJECTS[key] in against.better
        assert SUBJECTS[key] in compared(tuscan, drawn).worse
        assert SUBJECTS[key] in compared(drawn, thinner).still


def test_three_sentences_hold_the_designs_figures(study) -> None:
    drawn, tuscan, thinner = study.designs
    wrong, answered, light = three_sentences(study.designs, study.suns)
    assert f"1:{slenderness(drawn.porch.order):.1f}" in wrong
    assert f"{max(clear_intercolumniations(drawn)):.1f} of their widths" in wrong
    assert "too shallow to seem to carry" in wrong
    assert answered.startswith("Most of that is answered by Tuscan, Tuscan columns of 1:7.0")
    sun = telling_sun(study.suns)
    assert sun is not None
    for design in study.designs:
        depth_m = cornice_shadow_m(design, sun)
        assert depth_m is not None
        assert length_words(depth_m, "feet") in light
    assert "half past ten" in light
    worse = three_sentences((drawn, thinner), study.suns)[1]
    assert worse.startswith("None of the alternatives")
    assert (
        three_sentences((drawn,), study.suns)[1] == "No alternative is drawn yet to set beside it."
    )
    (tuscan_alone, *_) = three_sentences((tuscan, thinner), study.suns)
    assert "columns" in tuscan_alone
    assert "too thin" not in tuscan_alone

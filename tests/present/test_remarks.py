"""What clients and builders read of the findings: words of the trade, no paths of the scene."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from massing.findings.report import findings
from massing.present.board.words import cautions_of
from massing.present.remarks import in_words, remark_text
from massing.study.study import read_study

SCENES = sorted((Path(__file__).parents[2] / "scenes").glob("*.yaml"))
PATH_OF_THE_SCENE = re.compile(r"\b[a-z]+/[a-z]+/|\b[a-z]+_[a-z]+\b|\b[a-z]+\.[a-z]+\b")


@pytest.mark.parametrize("scene", SCENES, ids=lambda p: p.stem)
def test_no_remark_of_a_bundled_scene_speaks_in_paths(scene: Path) -> None:
    designs = read_study(scene).designs
    said = [remark_text(f, d.units) for d in designs for f in findings(d)]
    said += cautions_of(designs)
    assert said
    assert [text for text in said if PATH_OF_THE_SCENE.search(text)] == []
    assert all(text[0].isupper() for text in said)


def test_an_opening_is_called_as_builders_there_call_it() -> None:
    # First floor and second floor by feet, ground floor and first floor by metric custom.
    text = "left wing, front/first/window 2 is small"
    assert (
        in_words(text, "metric") == "window 2 on the first floor of the left wing's front is small"
    )
    assert "on the second floor of" in in_words(text, "feet")

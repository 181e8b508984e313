"""Sentences on what changed: true to the figures they are made from, each with its source."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from massing.findings.change import telling_sun, time_words
from massing.findings.changes import LEAST, MOST, changes
from massing.findings.measures import entablature_ratio, slenderness
from massing.findings.shadow import cornice_shadow_m
from massing.study.study import Study, read_study
from massing.sun.position import sun_time
from massing.units import INCH_M, parse_length

SCENES = Path(__file__).parents[2] / "scenes"
BUNDLED = ["marsh_road", "vineyard_cottage", "foundry_lane", "osier_turn"]


@pytest.fixture(scope="module", params=BUNDLED)
def study(request: pytest.FixtureRequest) -> Study:
    return read_study(SCENES / f"{request.param}.yaml")


@pytest.fixture(scope="module")
def marsh() -> Study:
    return read_study(SCENES / "marsh_road.yaml")


def _said(study: Study, name: str) -> dict[str, str]:
    design = next(d for d in study.designs if d.name == name)
    return {c.key: c.text for c in changes(study.designs[0], design, study.suns)}


def test_three_to_six_plain_sentences_each_with_a_source(study: Study) -> None:
    for design in study.designs[1:]:
        said = changes(study.designs[0], design, study.suns)
        assert LEAST <= len(said) <= MOST
        assert len({c.key for c in said}) == len(said)
        for change in said:
            assert change.source
            assert change.text[0].isupper() or change.text[0].isdigit()
            assert change.text.endswith(".")
            assert "  " not in change.text


def test_figures_in_the_sentences_are_the_designs(marsh: Study) -> None:
    drawn, tuscan = marsh.designs[:2]
    said = _said(marsh, tuscan.name)
    ratios = re.findall(r"1:(\d+\.\d)", said["columns"])
    assert [float(r) for r in ratios] == pytest.approx(
        [slenderness(tuscan.porch.order), slenderness(drawn.porch.order)], abs=0.05
    )
    assert 1 / entablature_ratio(tuscan.porch.order) == pytest.approx(4.0, abs=0.05)
    assert f"1/{1 / entablature_ratio(drawn.porch.order):.1f} of" in said["entablature"]
    assert "a quarter: the canons" in said["entablature"]
    sun = telling_sun(marsh.suns)
    assert sun is not None
    was, now = re.search(r"from (.+?) to (.+?),", said["shadow"]).groups()  # type: ignore[union-attr]
    for text, design in ((was, drawn), (now, tuscan)):
        depth_m = cornice_shadow_m(design, sun)
        assert parse_length(text) == pytest.approx(depth_m, abs=0.13 * INCH_M)
    assert "half past ten in the morning at the equinox" in said["shadow"]
    assert "deepens" in said["shadow"]


def test_the_other_way_round_they_say_so(marsh: Study) -> None:
    drawn, _, tuscan = marsh.designs[:3]
    said = {c.key: c.text for c in changes(tuscan, drawn, marsh.suns)}
    assert "too shallow to carry" in said["entablature"]
    assert "is reduced" in said["entablature"]
    assert "shrinks" in said["shadow"]
    assert "slenderer than any of the orders" in said["columns"]
    assert "no storey leads" in said["windows"]


def test_where_nothing_changed_they_say_what_stayed(marsh: Study) -> None:
    drawn = marsh.designs[0]
    said = changes(drawn, replace(drawn, name="The same"), marsh.suns)
    assert len(said) == LEAST
    assert all(change.kept for change in said)


def test_walls_wings_and_coverings_are_named_as_the_trade_does() -> None:
    study = read_study(SCENES / "foundry_lane.yaml")
    said = _said(study, "Clapboards and S tiles, a wing to the right")
    assert said["walls"] == "The walls are clapboard where they were brick."
    assert said["wings"] == "The house has one wing on the right where it had two wings."
    assert said["covering"] == "The roof is S tile in terracotta where it was slate."


def test_without_sun_on_the_front_no_shadow_is_spoken_of(marsh: Study) -> None:
    north = sun_time("summer solstice 19:00", marsh.designs[0].site)
    assert not north.on_front
    assert telling_sun([north]) is None
    keys = {c.key for c in changes(marsh.designs[0], marsh.designs[1], [north])}
    assert "shadow" not in keys


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("2026-10-03 16:45", "at a quarter to five in the afternoon on 3 October"),
        ("winter solstice 12:00", "at noon at the winter solstice"),
        ("14 May 19:10", "at 7:10 in the evening on 14 May"),
        ("conventional light", "in the draughtsman's light, at 45°"),
    ],
)
def test_times_as_they_are_spoken(marsh: Study, text: str, words: str) -> None:
    assert time_words(sun_time(text, marsh.designs[0].site)) == words


def test_the_telling_sun_is_nearest_to_the_draughtsmans(marsh: Study) -> None:
    sun = telling_sun(marsh.suns)
    assert sun is not None
    assert sun.label == "equinox 10:30"  # 43°, between 77° and 25°

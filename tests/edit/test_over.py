"""Sizes and shadow lines over a view, designs side by side, and a view as a camera."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from massing.edit.handles import depth_handles, dragged
from massing.edit.over import shadow_lines, size_lines
from massing.edit.session import SceneInHand
from massing.edit.side_by_side import alone, places_m
from massing.edit.viewpoints import camera_entry
from massing.findings.shadow import cornice_shadow_m
from massing.units import parse_length

SCENES = Path(__file__).parents[2] / "scenes"


@pytest.fixture(scope="module")
def marsh() -> SceneInHand:
    hand = SceneInHand.open(SCENES / "marsh_road.yaml")
    hand.show("Six Doric columns")
    return hand


def test_each_size_is_what_its_ends_measure_and_what_the_design_says(marsh: SceneInHand) -> None:
    design = marsh.design()
    lines = size_lines(design)
    for line in lines:
        length = float(np.linalg.norm(line.ends[1] - line.ends[0]))
        assert parse_length(line.text) == pytest.approx(length, abs=design.rounding_m)
        along = line.line[1] - line.line[0]
        assert np.linalg.norm(along) == pytest.approx(length), "the line is as long as the thing"
    said = {line.words: parse_length(line.text) for line in lines}
    order = design.porch.order
    assert said["column"] == pytest.approx(order.column_height_m, abs=design.rounding_m)
    assert said["entablature"] == pytest.approx(order.entablature_height_m, abs=design.rounding_m)
    assert said["diameter"] == pytest.approx(order.diameter_m, abs=design.rounding_m)
    assert said["depth"] == pytest.approx(10 * 0.3048, abs=design.rounding_m)  # as the file has it
    assert said["axis to axis, outermost"] == pytest.approx(5 * 9.25 * 0.3048, abs=0.01)
    heights = [line for line in lines if line.words in ("column", "entablature")]
    for low, high in pairwise(heights):
        assert low.ends[1, 2] == pytest.approx(high.ends[0, 2])


def test_the_shadow_s_line_is_as_deep_as_the_finding_says(marsh: SceneInHand) -> None:
    design = marsh.design()
    sun = marsh.sun("equinox 10:00")
    whole = cornice_shadow_m(design, sun)
    assert whole is not None
    first = shadow_lines(design, sun)[0]
    foot_z = design.porch.top_z_m - design.porch.order.cornice_height_m
    assert first.from_z_m == pytest.approx(foot_z)
    assert foot_z - first.points[0, 2] == pytest.approx(whole)
    assert parse_length(first.text) == pytest.approx(whole, abs=design.rounding_m)
    assert shadow_lines(design, marsh.sun("2026-12-21 23:00")) == ()


def test_the_columns_line_makes_the_porch_deeper(marsh: SceneInHand) -> None:
    (line,) = depth_handles(marsh.design())
    assert line.at_m == pytest.approx(-10 * 0.3048)
    assert dragged(line, -0.3048, 0.0254) == pytest.approx(11 * 0.3048)


def test_designs_stand_clear_of_each_other(marsh: SceneInHand) -> None:
    designs = [marsh.design(name) for name in marsh.designs[:3]]
    places = places_m(designs, 4.0)
    assert places[0] == 0.0
    for (one, at), (other, beside) in pairwise(zip(designs, places, strict=True)):
        gap = beside + other.house.reach_x_m[0] - (at + one.house.reach_x_m[1])
        assert gap == pytest.approx(4.0)
    kept = {part.path[:2] for part in alone(marsh.model(), first=True).parts}
    assert ("setting", "ground") in kept
    assert not [p for p in alone(marsh.model(), first=False).parts if p.within("setting")]


def test_a_view_is_written_as_a_camera_that_can_be_read(marsh: SceneInHand) -> None:
    entry = camera_entry("From the gate", (6.0, -15.0, 1.7), (-0.3, 1.0, 0.0), 50.0, "feet")
    hand = SceneInHand.of_text(marsh.text)
    hand.add("cameras", entry)
    assert hand.fault is None
    (camera,) = hand.reading.loaded.scene.cameras
    assert camera.stand.before == pytest.approx(15.0, abs=0.02)
    assert camera.look_at.along == pytest.approx(6.0 - 0.3 * 15.0, abs=0.05)
    with pytest.raises(ValueError, match="looks to a side"):
        camera_entry("Down", (0.0, 0.0, 30.0), (0.0, 0.0, -1.0), 50.0, "feet")

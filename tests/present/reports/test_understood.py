"""What a scene was understood to say, and what of it looks like a slip."""

from __future__ import annotations

from datetime import date

import pytest

from massing.present.reports.understood import understood
from massing.study.study import read_study

SCENE = """\
title: House by the ford
site: {place: "Savannah, Georgia", latitude: 32.08, longitude: -81.09, front_faces: south}
times: [summer solstice 10am]
house: {width: 48 ft, depth: 36 ft, storeys: [11 ft, 10 ft], side_bays: 2, bays: 4,
  bay_spacing: 9 ft}
porch: {order: Square, columns: 4, height: eaves}
"""
DAY = date(2026, 3, 20)


def look_again(tmp_path, *changes: tuple[str, str]) -> list[str]:
    text = SCENE
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    study = read_study(tmp_path / "ford.yaml", text)
    lead = "  Look again: "
    said = understood(study.designs, study.suns, DAY)
    return [line.removeprefix(lead) for line in said if line.startswith(lead)]


def test_nothing_is_said_of_what_is_likely_meant(tmp_path) -> None:
    assert look_again(tmp_path) == []


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (
            [("-81.09", "81.09")],
            "32.08, 81.09 is in Asia/Shanghai, and Savannah, Georgia is at 32.08, -81.1: did you "
            "mean longitude -81.09?",
        ),
        (
            [("32.08, longitude: -81.09", "-81.09, longitude: 32.08")],
            "latitude 32.08 and longitude -81.09",
        ),
        ([("32.08, longitude", "-32.08, longitude")], "did you mean latitude 32.08?"),
        # A place of no known name: by the zone alone.
        (
            [('"Savannah, Georgia"', "Anywhere"), ("-81.09", "81.09")],
            "longitude 81.09 is in Asia/Shanghai; west is negative: did you mean -81.09, in "
            "America/New_York?",
        ),
        ([("south", "north")], "the front has next to no direct sun from autumn to spring"),
        (
            [("bay_spacing: 9 ft", "bay_spacing: 9 ft, windows: [{width: 88 in}]")],
            "as drawn: windows 7'-4\" wide in bays of 9'-0\" leave hardly any wall between them",
        ),
    ],
)
def test_a_likely_slip_is_said_with_what_was_likely_meant(tmp_path, changes, words) -> None:
    said, *_ = look_again(tmp_path, *changes)
    assert words in said

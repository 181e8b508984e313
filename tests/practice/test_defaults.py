"""The book of practice: rows that can be proofread, and that the resolver goes by."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from massing.canon.sources import source
from massing.practice.defaults import default, defaults, said_default
from massing.resolve.design import resolve
from massing.scene.spec import Scene

INCH, FOOT = 0.0254, 0.3048
MASSING = Path(__file__).parents[2] / "massing"


def design(**more):
    scene = {
        "title": "Any house",
        "site": {"place": "Natchez", "latitude": 31.56, "longitude": -91.4, "front_faces": "S"},
        "times": ["equinox 10:00"],
        "house": {"width": "48 ft", "depth": "32 ft", "storeys": ["11 ft", "10 ft"]},
        "porch": {"order": "tuscan", "columns": 4},
    }
    return resolve(Scene.model_validate(scene | more), "any")


def test_every_row_has_a_value_a_known_source_and_words():
    assert len(defaults()) > 90
    for name, row in defaults().items():
        assert row.value > 0, name
        assert source(row.source), name
        assert row.words, name


def test_every_row_is_used_and_every_asked_row_is_there():
    asked, named = set(), set()
    for path in MASSING.rglob("*.py"):
        asked |= set(
            re.findall(r"""(?<!set)default(?:_rule)?\(\s*f?["']([\w.{}]+)["']""", path.read_text())
        )
        named |= set(re.findall(r"""["']([a-z_]+\.[a-z_]+)["']""", path.read_text()))
    fixed = {name for name in asked if "{" not in name}
    assert fixed <= set(defaults())
    fixed |= named  # a name that is chosen first and asked then
    starts = [name.partition("{")[0] for name in asked - fixed]
    assert not {n for n in set(defaults()) - fixed if not any(n.startswith(s) for s in starts)}


@pytest.mark.parametrize(
    ("name", "metres"),
    [
        # Common practice, no source, but for what a line names.
        ("steps.riser", 6.5 * INCH),
        ("steps.tread", 13 * INCH),
        ("house.floor", 2 * FOOT),
        ("guards.guard", 36 * INCH),
        ("doors.pair", 6 * FOOT),  # Edinburgh Encyclopaedia, part 2: two leaves from 6 ft (read)
        ("porch.pediment", 2 / 9),  # Vitruvius III.5.12: a ninth of the cornice's front (read)
        ("guards.rail", 1 / 6),  # Ware, The American Vignola, p. 39 (read)
        ("guards.plinth", 1 / 3),  # the same: two sixths
        ("roof.pitch", 6 / 12),
        ("roof.pipe", INCH**2 / (100 * FOOT**2)),  # City of Irving, Gutters and downspouts (read)
    ],
)
def test_values_of_the_book(name, metres):
    assert default(name) == pytest.approx(metres)


def test_a_design_by_rule_goes_by_the_book():
    made = design()
    floor = made.origins["house.floor"]
    assert made.house.floor_z_m == floor.value == pytest.approx(default("house.floor"))
    assert floor.source == f"{said_default('house.floor')} up" == "common practice: 2 ft up"
    assert made.porch.floor_z_m == pytest.approx(
        default("house.floor") - default("porch.step_down")
    )
    assert made.porch.steps.tread_m == pytest.approx(default("steps.tread"))
    assert made.origins["porch.steps.tread"].source == "common practice: 13 in"


def test_an_origin_keeps_the_value_that_its_words_round():
    made = design(porch={"order": "tuscan", "columns": 4, "depth": "7.77 ft"})
    origin = made.origins["porch.depth"]
    assert origin.value == made.porch.depth_m == pytest.approx(7.77 * FOOT, abs=1e-12)
    assert str(origin) == f"{origin.written} · given"

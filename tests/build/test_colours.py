"""What a scene paints, from its words to what pictures and models are given."""

from __future__ import annotations

import json

import pytest

from massing.build.house import build
from massing.practice.finishes import colour_in, finish_of, part_role
from massing.practice.palette import linear, palette
from massing.scene.errors import SceneError
from massing.study.study import read_study
from tests.helpers.scene_files import HEAD, design_of

HOUSE = "width: 44 ft\ndepth: 30 ft\nstoreys: [10 ft, 9 ft]\nwalls: brick\nrelief: true\n"


def roles(model):
    return {p.role: part_role(p.role, model.notes) for p in model.parts}


def test_colours_are_on_what_the_builder_calls_so_and_on_nothing_else(tmp_path):
    more = 'colours: {walls: limewash, trim: Lead White, columns: "#FFFFFF", door: bottle green}'
    found = roles(build(design_of(tmp_path, HOUSE, "", more)))
    assert found["brick"] == f"brick/{palette()['limewash']}"
    assert found["wall"] == f"wall/mortar/{palette()['limewash']}"  # painted over, joints and all
    assert found["trim"].endswith(palette()["lead white"])
    assert found["order"] == "order/#ffffff"  # over the trim's
    assert finish_of(found["door"]).colour == linear("#1f3a2d")
    assert colour_in(found["sash"]) == ("sash", None)
    assert finish_of(found["sash"]) == finish_of("sash")


def test_an_alternative_may_change_the_colours_alone(tmp_path):
    file = tmp_path / "house.yaml"
    file.write_text(
        f"{HEAD}house: {{width: 44 ft, depth: 30 ft, storeys: [10 ft]}}\n"
        "colours: {door: oxblood, trim: chalk}\n"
        "alternatives: {Green: {colours: {door: bottle green}}, Plain: {colours: {door: null}}}\n",
        encoding="utf-8",
    )
    drawn, green, plain = (json.loads(m.notes["colours"]) for m in read_study(file).models.values())
    assert drawn == {"trim": palette()["chalk"], "door": palette()["oxblood"]}
    assert green == {**drawn, "door": palette()["bottle green"]}
    assert plain == {"trim": palette()["chalk"]}


def test_a_colour_that_is_not_known_is_refused_with_those_that_are(tmp_path):
    with pytest.raises(SceneError, match=r"colours\.door: given mauve, allowed: #rrggbb"):
        design_of(tmp_path, HOUSE, "", "colours: {door: mauve}")


def test_srgb_is_made_linear_by_the_standard_s_curve():
    # IEC 61966-2-1: 0.0031308 is 0.04045 in sRGB, mid grey 119/255 is about 0.1845 (from memory).
    assert linear("#777777")[0] == pytest.approx(0.1845, abs=5e-4)
    assert linear("#000000") == (0.0, 0.0, 0.0)
    assert linear("#0a0a0a")[0] == pytest.approx(10 / 255 / 12.92)

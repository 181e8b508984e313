"""What a scene may ask of the house behind the porch, resolved and built."""

from __future__ import annotations

import pytest

from massing.build.house import build
from massing.resolve.design import resolve
from massing.scene.errors import DesignError
from massing.scene.spec import Scene
from tests.helpers.shapes import assert_closed

BASE = {
    "title": "Test house",
    "site": {"place": "Savannah", "latitude": 32.08, "longitude": -81.09, "front_faces": "S"},
    "house": {"width": "52 ft", "depth": "34 ft", "storeys": ["12 ft", "10 ft"]},
    "porch": {"order": "tuscan", "columns": 4},
    "times": ["equinox 10:00"],
}


def design(house=None, roof=None, setting=None, porch=None):
    data = {
        **BASE,
        "house": {**BASE["house"], **(house or {})},
        "roof": {"pitch": "9:12", **(roof or {})},
        "setting": setting or {},
        "porch": {**BASE["porch"], **(porch or {})},
    }
    return resolve(Scene.model_validate(data), "test")


def names(model):
    return {p.name for p in model.parts}


@pytest.mark.parametrize(
    "covering",
    ["s tile", "interlocking tile", "plain tile", "slate", "wood shingle", "standing seam"],
)
def test_every_covering_may_be_asked_for(covering):
    model = build(design(roof={"covering": covering}))
    roof = [p for p in model.parts if p.name.startswith("house/roof/tiles/")]
    assert roof
    assert_closed(roof)


def test_a_gabled_roof_has_its_gables_and_chimneys():
    house = {
        "chimneys": [{"along": "-16 ft", "back": "17 ft"}, {"along": "16 ft", "back": "17 ft"}]
    }
    made = design(house, {"form": "gable", "covering": "slate"})
    model = build(made)
    assert {"house/roof/gable/left", "house/roof/gable/right"} <= names(model)
    assert "house/chimneys/2/chimney/cap" in names(model)
    assert_closed(model.parts)
    caps = [p for p in model.parts if p.name.endswith("chimney/cap")]
    ridge = next(p for p in model.parts if p.name == "house/roof/deck").mesh.bounds[1, 2]
    # Common practice, no source: a top some 3 ft above the ridge.
    assert caps[0].mesh.bounds[1, 2] - ridge == pytest.approx(3 * 0.3048, abs=0.1)


def test_the_setting_stands_clear():
    setting = {"hedges": [hedge()], "trees": [tree()], "neighbours": [near()]}
    model = build(design(setting=setting))
    assert {"setting/hedge", "setting/trees/1/crown", "setting/neighbours/1/walls"} <= names(model)


def stack(along="0 ft", back="9 ft", **more):
    return {"along": along, "back": back, **more}


def hedge(along="60 ft", width="2 ft"):
    return {"along": along, "before": "9 ft", "length": "9 ft", "width": width, "height": "3 ft"}


def tree(along="60 ft", height="20 ft"):
    return {"along": along, "before": "20 ft", "height": height, "spread": "8 ft"}


def near(ridge="20 ft"):
    size = {"width": "20 ft", "depth": "20 ft", "eaves": "12 ft"}
    return {"along": "90 ft", "before": "0 ft", "ridge": ridge, **size}


@pytest.mark.usefixtures("rules_hold")
@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"house": {"chimneys": [stack("25 ft")]}}, "house.chimneys.0.along"),
        ({"house": {"chimneys": [stack(back="33 ft", depth="4 ft")]}}, "house.chimneys.0.back"),
        ({"house": {"chimneys": [stack(), stack("1 ft")]}}, "house.chimneys.1.along"),
        ({"setting": {"trees": [tree("0 ft")]}}, "setting.trees.0.along"),
        ({"setting": {"trees": [tree(height="4 ft")]}}, "setting.trees.0.height"),
        ({"setting": {"neighbours": [near("10 ft")]}}, "setting.neighbours.0.ridge"),
        ({"setting": {"hedges": [hedge(width="6 in")]}}, "setting.hedges.0.width"),
    ],
)
def test_what_cannot_stand_is_refused_by_field(changes, field):
    with pytest.raises(DesignError) as refusal:
        design(**changes)
    assert field in str(refusal.value)

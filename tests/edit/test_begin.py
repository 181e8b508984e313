"""A new scene from eight answers is valid, can be built, and compares three porches."""

from __future__ import annotations

from itertools import product

import pytest

from massing.build.house import build
from massing.edit.begin import PORCHES, answer, new_scene
from massing.edit.towns import towns_named
from massing.findings.report import findings
from massing.resolve.design import resolve
from massing.scene.load import load_scene

HOUSES = [
    {"width": width, "bays": bays, "storeys": storeys, "porch": porch, "units": units}
    for (width, bays), storeys, porch, units in product(
        (("24 ft", "3"), ("48 ft", "5"), ("90 ft", "9")), "123", PORCHES, ("feet", "metric")
    )
]


@pytest.mark.parametrize("house", HOUSES[::5], ids=str)
def test_any_answers_give_a_scene_that_stands(house, tmp_path):
    text = new_scene(answer(house), "Mill house")
    loaded = load_scene(tmp_path / "mill.yaml", text)
    assert len(loaded.designs) == 4, "as drawn and three porches"
    orders = [spec.porch.order for spec in loaded.designs.values()]
    assert orders == ["pier", "tuscan", "doric", "ionic"]
    for name, spec in loaded.designs.items():
        design = resolve(spec, name, loaded.lines[name])
        assert build(design).select("porch")
        assert len(design.house.storey_floors_z_m) == int(house["storeys"])
        if name != loaded.scene.as_drawn:
            assert spec.porch.diameter is None, "the canon's own diameter"


def test_a_town_is_found_by_its_name_and_state():
    # Beaufort, South Carolina: 32 deg 26 min north, 80 deg 40 min west (GeoNames, CC BY 4.0).
    town = towns_named("Beaufort, South")[0]
    assert (town.region, town.country) == ("South Carolina", "US")
    assert town.latitude_deg == pytest.approx(32 + 26 / 60, abs=0.01)
    assert town.longitude_deg == pytest.approx(-(80 + 40 / 60), abs=0.01)
    assert towns_named("merida")[0].name == "Mérida"
    assert towns_named("") == []


@pytest.mark.parametrize(
    ("given", "fault"),
    [
        ({"place": "Nowhere at all"}, "place: given Nowhere at all, allowed: a town"),
        ({"place": "95, 10"}, "place: given 95, 10, allowed: latitude -90 to 90"),
        ({"width": "wide"}, "width: given wide, allowed: a length"),
        ({"width": "8 ft"}, "width: given 8 ft, allowed: 16'-0\""),
        ({"storeys": "4"}, "storeys: given 4, allowed: 1, 2 or 3"),
        ({"storeys": "12"}, "storeys: given 12, allowed: 1, 2 or 3"),
        ({"width": "40 ft", "bays": "9"}, "bays: given 9, allowed on this width: 3, 5, 7"),
        ({"width": "36 ft", "bays": "7"}, "bays: given 7, allowed on this width: 3, 5"),
        ({"front_faces": "up"}, "front_faces: given up, allowed: a compass point"),
        ({"porch": "round"}, "porch: given round, allowed: thin piers"),
        ({"units": "cubits"}, "units: given cubits, allowed: feet, metric"),
    ],
)
def test_an_answer_that_cannot_be_used_is_said_in_a_line(given, fault):
    with pytest.raises(ValueError, match="allowed") as raised:
        answer(given)
    assert str(raised.value).startswith(fault)


def test_a_place_by_latitude_and_longitude():
    asked = answer({"place": "-34.02, 20.44", "front_faces": "N"})
    assert (asked.latitude_deg, asked.longitude_deg) == (-34.02, 20.44)


def test_no_porch_of_a_usual_new_scene_is_questioned_for_where_its_columns_stand(tmp_path):
    loaded = load_scene(tmp_path / "new.yaml", new_scene(answer({})))
    for name, spec in list(loaded.designs.items())[1:]:
        design = resolve(spec, name, loaded.lines[name])
        asked = {found.key for found in findings(design) if found.severity == "check"}
        assert not asked, name

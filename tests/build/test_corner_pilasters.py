"""Pilasters at the house's corners: they turn it, stand on the ground and carry the eaves."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st

from massing.build.house import build
from massing.present.reports.schedule import schedule
from massing.scene.errors import DesignError
from massing.settingout.corner_pilasters import PROUD_M, block_leg, shaft_leg
from tests.build.test_random_houses import drawn
from tests.helpers.shapes import assert_closed, extent, overlaps

HOUSE = {
    "width": "56 ft",
    "depth": "34 ft",
    "storeys": ["12 ft", "10 ft"],
    "floor": "30 in",
    "corner_pilasters": "as porch",
}
EAVES = {"order": "doric", "columns": 4, "height": "eaves"}
LOW = {"order": "tuscan", "columns": 4, "roof": "hipped", "height": "8 ft"}
ROOF = {"covering": "plain"}
FACES = [
    {"walls": "stucco"},
    {"walls": "clapboard", "relief": True, "belt_courses": True},
    {"walls": "brick", "relief": True, "belt_courses": True},
    {"walls": "limestone", "relief": True, "rustication": "channelled"},
]


def pilasters(model):
    return [p for p in model.parts if p.name.startswith("house/corner pilasters")]


def clashes(model):
    own = {p.name for p in pilasters(model)}
    near = [p for p in model.parts if not p.name.startswith(("setting/", "house/roof"))]
    return [o for o in overlaps(near, 1e-7) if (o[0] in own) != (o[1] in own)]


@pytest.mark.parametrize("porch", [EAVES, LOW])
@pytest.mark.parametrize("face", FACES)
def test_they_stand_clear_of_what_the_wall_is_faced_with(face, porch):
    model = build(drawn(HOUSE | face, porch, ROOF))
    assert_closed(pilasters(model))
    assert clashes(model) == []
    assert not any(p.name == "house/corner boards" for p in model.parts)


@pytest.mark.parametrize("porch", [EAVES, LOW])
def test_they_reach_from_the_ground_to_the_eaves_cornice(porch):
    design = drawn(HOUSE, porch, ROOF)
    house = design.house
    parts = pilasters(build(design))
    low, high = extent(parts)
    assert low[2] == pytest.approx(0.0)
    assert high[2] == pytest.approx(house.wall_top_z_m - house.cornice.height_m)
    shaft = next(p for p in parts if p.name.endswith("/shaft"))
    assert shaft.count == 4
    box = extent([shaft])
    # The shaft's face is the frieze's: entablature over neck, as columns have it.
    assert box[0, 1] <= -PROUD_M + 1e-9
    cut = shaft.mesh.to_trimesh().section([0, 0, 1], [0, 0, 3.0])
    assert cut.bounds[0, :2] == pytest.approx([-PROUD_M, -PROUD_M])
    # Both walls alike: the corner stands on its diagonal.
    swapped = np.sort(shaft.mesh.bounds[:, [1, 0, 2]], axis=0)
    assert swapped == pytest.approx(shaft.mesh.bounds)


def test_with_the_porch_to_the_eaves_they_match_its_columns():
    design = drawn(HOUSE, EAVES, ROOF)
    order, own = design.house.corner_pilasters, design.porch.order
    assert order.diameter_m == own.diameter_m
    assert order.capital_height_m == pytest.approx(own.capital_height_m)
    capital = next(p for p in pilasters(build(design)) if p.name.endswith("/capital"))
    assert extent([capital])[1, 2] == pytest.approx(design.porch.column_top_z_m)


@pytest.mark.parametrize(
    ("house", "porch"),
    [
        ({"quoins": True, "walls": "brick"}, LOW),
        ({}, {"order": "ionic", "columns": 4, "height": "eaves"}),
        ({"bay_spacing": "12 ft"}, LOW),
        ({"wings": [{"side": "right", "set_back": "2 ft"}]}, LOW),
        ({"width": "40 ft", "bays": 3}, {**LOW, "spacing": "12 ft"}),
    ],
)
def test_where_there_is_no_room_they_are_refused_in_a_line(house, porch, rules_hold):
    with pytest.raises(DesignError, match="allowed") as refusal:
        drawn(HOUSE | house, porch, ROOF)
    assert "corner_pilasters" in refusal.value.field


@settings(deadline=None, max_examples=8, phases=[Phase.explicit, Phase.generate])
@given(
    st.integers(560, 900),
    st.lists(st.integers(126, 168), min_size=1, max_size=2),
    st.sampled_from(["pier", "tuscan", "doric", "mutular doric"]),
    st.sampled_from(FACES),
)
def test_any_corner_is_closed_and_clear(width, storeys, order, face):
    asked = {"width": f"{width} in", "storeys": [f"{s} in" for s in storeys], "bays": 5}
    if len(storeys) == 1:
        face = {k: v for k, v in face.items() if k != "belt_courses"}
    try:
        design = drawn(HOUSE | asked | face | {"corner_pilasters": order}, EAVES, ROOF)
    except DesignError:
        assume(False)
    model = build(design)
    assert_closed(pilasters(model))
    assert clashes(model) == []
    assert block_leg(design.house.corner_pilasters) > shaft_leg(design.house.corner_pilasters)


@pytest.mark.parametrize("kind", ["concrete", "brick", "stone", "stucco"])
def test_house_porch_and_pilasters_stand_on_one_kind_of_foundation(kind):
    model = build(drawn(HOUSE | {"foundation": kind}, LOW, ROOF))
    roles = {p.role for p in model.parts if p.role.startswith("foundation")}
    assert roles == {"foundation" if kind == "concrete" else f"foundation/{kind}"}
    named = {p.name for p in model.parts if p.role in roles}
    assert {"house/foundation", "porch/floor/base", "house/corner pilasters/footing"} <= named


def test_the_schedule_s_heights_add_up_to_the_pilaster():
    design = drawn(HOUSE, EAVES, ROOF)
    rows = [r for r in schedule(design) if r.group == "House: corner pilasters"]
    assert [r.item for r in rows] == ["base", "shaft", "capital"]
    assert sum(r.height_m for r in rows) == pytest.approx(rows[-1].top_m)
    order = design.house.corner_pilasters
    assert rows[-1].top_m == pytest.approx(order.column_height_m, abs=design.rounding_m)


def test_downspouts_stand_beside_them():
    house = HOUSE | {"width": "64 ft", "side_bays": 2}
    model = build(drawn(house, LOW, ROOF | {"gutter": "half round"}))
    assert any("downspout" in p.name for p in model.parts)
    own = {p.name for p in pilasters(model)}
    pipes = [p for p in model.parts if "downspout" in p.name]
    assert [o for o in overlaps([*pilasters(model), *pipes], 1e-8) if own & set(o[:2])] == []

"""Nothing of a porch stands before an opening of the front: seen in the design and in the model."""

import pytest

from massing.build.house import build
from massing.scene.errors import DesignError
from tests.helpers.clearances import clashes
from tests.resolve.test_design import design

HALF_ROUND = {"gutter": "half round"}


@pytest.mark.usefixtures("rules_hold")
@pytest.mark.parametrize(
    ("house", "porch", "roof", "field", "meets"),
    [
        ({"bays": 6}, {"responds": "pilasters", "spacing": "bays"}, {}, "porch.responds", "window"),
        ({}, {"guard": {}, "spacing": "2.05 m", "depth": "3 m"}, {}, "porch.guard", "window 2"),
        (
            {"windows": [{}, {"sill": "400 mm"}]},
            {"balustrade": {"height": "900 mm"}, "spacing": "2.05 m", "height": "3.4 m"},
            {},
            "porch.balustrade",
            "window 2",
        ),
        ({"storeys": ["3.6 m"]}, {"upper": {}}, {}, "porch.upper", "second storey"),
        (
            {"storeys": ["3.6 m"]},
            {"spacing": "full width", "height": "eaves"},
            HALF_ROUND,
            "roof.gutter",
            "corner to corner",
        ),
    ],
)
def test_what_would_stand_before_an_opening_is_refused(house, porch, roof, field, meets):
    with pytest.raises(DesignError) as refusal:
        design(house, porch=porch, roof=roof)
    assert refusal.value.field == field
    assert meets in str(refusal.value)


@pytest.mark.parametrize(
    ("house", "porch", "roof"),
    [
        ({"bays": 6}, {"order": "tuscan", "responds": "pilasters"}, {}),
        ({"bays": 4}, {"order": "ionic", "responds": "half columns"}, {}),
        ({}, {"balustrade": {}, "guard": {}}, {}),
        ({"storeys": ["3.2 m"]}, {"order": "doric"}, HALF_ROUND),
        ({"storeys": ["3.2 m"]}, {"height": "eaves"}, {**HALF_ROUND, "form": "gable"}),
        ({"windows": [{"head": "hood"}]}, {"shape": "semicircular"}, {}),
    ],
)
def test_left_to_its_rules_it_stands_clear_of_openings_roof_and_gutters(house, porch, roof):
    made = build(design(house, porch=porch, roof=roof))
    assert not clashes(made)


def test_the_instrument_sees_a_respond_in_a_casing(monkeypatch):
    monkeypatch.setattr("massing.resolve.design.check_clear", lambda *_: None)
    porch = {"order": "tuscan", "responds": "pilasters", "spacing": "bays"}
    made = build(design({"bays": 6}, porch=porch))
    assert any("pilaster" in one + other for one, other, _ in clashes(made))


def test_a_gutter_stops_at_a_porch_as_high_as_the_eaves():
    made = design({"storeys": ["3.2 m"]}, porch={"order": "doric"}, roof=HALF_ROUND)
    half = made.porch.half_width_m + made.porch.order.cornice_projection_m
    troughs = [p for p in build(made).parts if p.name == "house/roof/gutter/trough"]
    assert troughs
    for trough in troughs:
        front = trough.world_mesh().vertices
        front = front[front[:, 1] < -0.05]
        assert abs(front[:, 0]).min() > half

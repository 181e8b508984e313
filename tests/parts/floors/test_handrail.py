"""The rail beside a flight: as high as the code asks, standing on what carries it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.build.house import build
from massing.design.opening import StepsDesign
from massing.findings.report import findings
from massing.parts.floors.handrail import KINDS, handrail
from massing.parts.floors.porch_floor import porch_floor
from massing.parts.floors.steps import steps
from massing.scene.errors import DesignError
from massing.units import INCH_M
from tests.build.test_random_houses import drawn
from tests.helpers.house_designs import porch
from tests.helpers.shapes import assert_closed, overlaps

EDGE_Y_M = -(2.4 + 0.45)


def rail_parts(design: StepsDesign, floor_z: float, kind: str):
    return {p.name.rsplit("/", 1)[1]: p for p in handrail(design, floor_z, EDGE_Y_M, kind)}


@pytest.mark.parametrize("kind", KINDS)
def test_the_rail_stands_and_passes_through_nothing(kind):
    design = porch()
    rail = handrail(design.steps, design.floor_z_m, EDGE_Y_M, kind)
    assert_closed(rail)
    others = steps(design.steps, design.floor_z_m, EDGE_Y_M) + porch_floor(design)
    assert [
        o for o in overlaps([*rail, *others], 1e-8) if "rail" in o[0] and "rail" not in o[1]
    ] == []
    named = rail_parts(design.steps, design.floor_z_m, kind)
    lower, upper = (named[f"{w} newels"].world_mesh().bounds for w in ("lower", "upper"))
    assert lower[0, 2] == pytest.approx(design.steps.riser_m)  # on the lowest tread
    assert upper[0, 2] == pytest.approx(design.floor_z_m)  # on the floor


@settings(deadline=None, max_examples=40)
@given(
    st.integers(2, 9),
    st.floats(4.0, 7.75),
    st.floats(10.0, 16.0),
    st.floats(40.0, 160.0),
    st.sampled_from(KINDS),
)
def test_the_grip_is_34_to_38_in_over_every_nosing(count, riser_in, tread_in, width_in, kind):
    # IRC R311.7.8.1: 34 to 38 in over the nosings. R312.1.3 exc.: no 4 3/8 in sphere between
    # bars. R311.7.8.5, type I (from memory): a round grip of 1 1/4 to 2 in.
    riser, tread = riser_in * INCH_M, tread_in * INCH_M
    design = StepsDesign(width_in * INCH_M, count, riser, tread)
    named = rail_parts(design, count * riser, kind)
    assert_closed(list(named.values()))
    grip = max(named["rails"].mesh.to_trimesh().split(), key=lambda b: b.bounds[1, 2])
    slope = riser / tread
    above = grip.vertices[:, 2] - grip.vertices[:, 1] * slope
    for k in range(1, count + 1):
        nosing_y, nosing_z = EDGE_Y_M - (count - k) * tread, k * riser
        high = above.max() + nosing_y * slope - nosing_z
        assert 34.0 * INCH_M <= high <= 38.0 * INCH_M
    assert 1.25 * INCH_M <= np.ptp(grip.vertices[:, 0]) <= 2.0 * INCH_M
    bars = np.unique(np.round(named["bars"].placements[:, 1, 3], 9))
    wide = np.ptp(named["bars"].mesh.vertices[:, 1])
    if len(bars) > 1:
        assert np.diff(bars).max() - wide <= 4.375 * INCH_M
    # It reaches from over the lowest riser to the floor.
    lowest = EDGE_Y_M - (count - 1) * tread + 1.25 * INCH_M
    foot = named["lower newels"].world_mesh().bounds
    assert foot[0, 1] < lowest + 1e-6 < foot[1, 1]
    if kind == "wood":  # the post stands on the tread and not over its nosing
        post = foot[0, 1] + (np.ptp(foot[:, 1]) - 3.5 * INCH_M) / 2.0
        assert post > EDGE_Y_M - (count - 1) * tread


HOUSE = {"width": "44 ft", "depth": "30 ft", "storeys": ["11 ft", "10 ft"], "floor": "34 in"}
PORCH = {"order": "tuscan", "columns": 4, "roof": "hipped", "height": "8 ft"}


def keys(design):
    return {f.key for f in findings(design)}


def test_by_rule_four_risers_have_one_and_three_have_none():
    # IRC R311.7.8: four or more risers.
    high = drawn(HOUSE, PORCH | {"steps": {"rail": "by rule"}}, {})
    assert high.porch.steps.risers >= 4
    assert high.porch.steps.rail == "iron"
    assert "handrail" not in keys(high)
    assert any(p.name.startswith("porch/steps/rail") for p in build(high).parts)
    low = drawn(HOUSE | {"floor": "20 in"}, PORCH | {"steps": {"rail": "by rule"}}, {})
    assert low.porch.steps.risers < 4
    assert low.porch.steps.rail == "none"
    bare = drawn(HOUSE, PORCH, {})
    assert "handrail" in keys(bare)


def test_a_strange_stride_is_remarked_on():
    assert "stride" not in keys(drawn(HOUSE, PORCH, {}))
    steep = PORCH | {"steps": {"riser": "7 in", "tread": "16 in"}}
    assert "stride" in keys(drawn(HOUSE, steep, {}))


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"steps": {"rail": "iron", "width": "2 ft"}}, "porch.steps.width"),
        ({"spacing": "9 ft", "steps": {"rail": "wood", "width": "9 ft"}}, "porch.steps.width"),
        ({"shape": "semicircular", "roof": "flat", "steps": {"rail": "iron"}}, "porch.steps.rail"),
    ],
)
@pytest.mark.usefixtures("rules_hold")
def test_a_rail_with_no_room_is_refused(changed, field):
    with pytest.raises(DesignError) as refusal:
        drawn(HOUSE, PORCH | changed, {})
    assert refusal.value.field == field


@pytest.mark.parametrize(
    ("design", "kind"),
    [
        (StepsDesign(2.0, 4, 0.16, 0.3), "rope"),
        (StepsDesign(2.0, 1, 0.16, 0.3), "iron"),
        (StepsDesign(0.5, 4, 0.16, 0.3), "iron"),
    ],
)
def test_what_is_no_handrail_is_refused(design, kind):
    with pytest.raises(ValueError, match="handrail"):
        handrail(design, 0.64, EDGE_Y_M, kind)

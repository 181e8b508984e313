"""A porch that goes round a corner: columns, entablature, floor, guards and roof go with it."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from massing.build.house import build, scenery_of
from massing.design.design import Design
from massing.design.porch import WrappedPorch
from massing.parts.part import Part
from massing.practice.defaults import default
from massing.present.drawings.plans import column_names
from massing.present.reports.schedule import schedule
from massing.resolve.ground import porch_plan
from massing.scene.errors import DesignError
from massing.settingout.porch import floor_plans, frieze_path
from massing.settingout.porch_roofs import porch_planes
from massing.units import FOOT_M
from tests.helpers.mesh_faults import faults
from tests.resolve.test_design import design

HOUSE = {"width": "12 m", "depth": "10 m", "bays": 3, "walls": "clapboard", "relief": True}


def made(wraps: str, house: dict[str, Any] | None = None, **porch: Any) -> Design:
    return design({**HOUSE, **(house or {})}, porch={"order": "tuscan", "wraps": wraps, **porch})


def around(drawn: Design) -> WrappedPorch:
    assert isinstance(drawn.porch, WrappedPorch)
    return drawn.porch


def test_columns_stand_between_the_bays_at_the_corners_and_along_the_side() -> None:
    porch = around(made("both", {"bays": 5}))
    # 8 ft deep, half of the side: common practice, no source.
    depth = default("porch.wrap_depth")
    assert depth == 8 * FOOT_M
    assert porch.axes_m == pytest.approx([-6 - depth, -6.0, -3.6, -1.2, 1.2, 3.6, 6.0, 6 + depth])
    assert porch.wrap_m == pytest.approx(5.0)
    assert porch.side_axes_m == pytest.approx([0.0, 2.5, 5.0])  # nearest to the bays' 2.4 m
    corner = (porch.axes_m[-1], -depth)
    assert corner in porch.perimeter_axes_m
    assert len(porch.perimeter_axes_m) == 8 + 2 * 3
    assert porch.roof == "hipped"
    assert porch.steps.width_m == pytest.approx(2.4 - porch.order.foot_width_m)


def test_two_columns_stand_to_a_bay_where_one_would_stand_too_far_off() -> None:
    porch = around(made("both"))
    # Three bays of 4 m: their middles at 0 and 4 m to both sides, a column 1 m to each side.
    assert porch.axes_m[2:-2] == pytest.approx([-5.0, -3.0, -1.0, 1.0, 3.0, 5.0])
    end = 6.0 + porch.depth_m
    assert porch.axes_m[-2:] == pytest.approx([(5.0 + end) / 2.0, end])
    assert porch.steps.width_m == pytest.approx(2.0 - porch.order.foot_width_m)
    assert porch.steps.width_m > default("porch.wrap_way") == 4 * FOOT_M


def test_round_one_corner_the_other_end_keeps_to_the_front() -> None:
    drawn = made("left", depth="2.4 m", wrap_length="4 m", spacing="2.5 m")
    porch = around(drawn)
    assert porch.frieze_x_m[1] == pytest.approx(6.0 - 0.02)
    assert porch.axes_m[0] == pytest.approx(-8.4)
    assert np.diff(porch.axes_m) == pytest.approx(np.full(6, np.diff(porch.axes_m)[0]))
    path = frieze_path(porch)
    assert path[0] == pytest.approx([-6.0, 4.0 + porch.frieze_half_depth_m])
    assert path[-1] == pytest.approx([porch.frieze_x_m[1], 0.0])
    names = dict(column_names(drawn))
    assert names["1, return 1"] == pytest.approx((-8.4, 0.0))
    assert "7, return 1" not in names
    rows = [r for r in schedule(drawn) if r.item.startswith("Axis 3 along the side")]
    assert rows[0].across_m == pytest.approx(4.0, abs=0.002)


@pytest.mark.parametrize("bays", [2, 4])
def test_steps_come_up_where_a_column_stands_before_the_middle(bays: int) -> None:
    # An even number of bays has a column in the middle: the flight is as wide as to the next.
    porch = around(made("left", {"bays": bays}))
    next_m = min(abs(a) for a in porch.axes_m if abs(a) > 0.01)
    assert porch.steps.width_m == pytest.approx(2.0 * next_m - porch.order.foot_width_m)


def turns(ring: np.ndarray) -> np.ndarray:
    steps = np.roll(ring[:, :2], -1, axis=0) - ring[:, :2]
    after = np.roll(steps, -1, axis=0)
    return steps[:, 0] * after[:, 1] - steps[:, 1] * after[:, 0]


@pytest.mark.parametrize("wraps", ["left", "right", "both"])
def test_its_slopes_meet_on_hips_at_one_pitch(wraps: str) -> None:
    drawn = made(wraps)
    planes = porch_planes(around(drawn), drawn.house, drawn.roof)
    pitch = drawn.porch.roof_slope
    for ring in planes.slopes:
        assert (turns(ring) > 0.0).all()  # counter-clockwise from above
        assert ring[0, 2] == ring[1, 2] == pytest.approx(planes.slopes[0][0, 2])  # eave first
        normal = np.cross(ring[1] - ring[0], ring[2] - ring[1])
        assert np.hypot(*normal[:2]) / normal[2] == pytest.approx(pitch)
    round_it = 2 if wraps == "both" else 1
    assert len(planes.slopes) == 1 + 2 * round_it + (2 - round_it)
    assert len(planes.hips) == 2 + round_it
    heads = {tuple(np.round(head[:2], 6)) for _, head in planes.hips}
    half = drawn.house.width_m / 2.0
    for side, sign in (("left", -1.0), ("right", 1.0)):
        assert ((sign * half, 0.0) in heads) == around(drawn).goes_round(side)


CASES: dict[str, tuple[str, dict[str, Any], dict[str, Any]]] = {
    "both, guarded": (
        "both",
        {"walls": "stucco", "relief": False, "width": "9 m"},
        {"guard": {}, "steps": {"rail": "iron"}},
    ),
    "left, in brick": (
        "left",
        {"walls": "brick", "side_door": {"wall": "left", "bay": 3}},
        {"roof_covering": "standing seam", "wrap_length": "4 m"},
    ),
    "right, Ionic": (
        "right",
        {"storeys": ["3.4 m"], "width": "8 m"},
        {"order": "ionic", "roof_covering": "plain"},
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_it_is_built_without_a_fault(name: str) -> None:
    wraps, house, porch = CASES[name]
    drawn = design(
        {**HOUSE, **house},
        porch={"order": "tuscan", "wraps": wraps, **porch},
        roof={"covering": "plain"},
    )
    model = build(drawn)
    assert not faults(model)
    if house.get("side_door"):
        (door,) = [d for d in drawn.house.doors if d.wall == "left"]
        assert door.door.steps is None  # it opens on the porch


def world(parts: list[Part], *path: str) -> np.ndarray:
    boxes = [p.world_mesh().bounds for p in parts if p.within("porch", *path)]
    return np.array([np.min([b[0] for b in boxes], 0), np.max([b[1] for b in boxes], 0)])


def test_every_part_goes_round() -> None:
    drawn = made("right", guard={})
    porch, parts = around(drawn), list(build(drawn.unlaid).parts)
    far = 6.0 + porch.depth_m
    for path in (("floor",), ("entablature",), ("guard",), ("roof",), ("ceiling",)):
        low, high = world(parts, *path)
        assert low[1] < -porch.depth_m + 0.5, path
        assert high[1] > porch.wrap_m - 0.5, path
        assert high[0] > far - 0.5, path
        assert low[0] > -6.6, path
    corners = [p for p in parts if p.path == ("house", "corner boards")]
    plain = build(design(HOUSE, porch={"order": "tuscan"}).unlaid)
    assert not corners or corners[0].world_mesh().bounds[0, 2] == pytest.approx(
        next(p for p in plain.parts if p.path == corners[0].path).world_mesh().bounds[0, 2]
    )


def test_planting_and_ground_know_its_plan() -> None:
    drawn = made("both")
    porch = around(drawn)
    low_x, low_y, high_x, high_y = porch_plan(porch)
    edge = porch.floor_edge_m
    assert (low_x, high_x) == pytest.approx((porch.axes_m[0] - edge, porch.axes_m[-1] + edge))
    assert (low_y, high_y) == pytest.approx((-porch.depth_m - edge, porch.wrap_m + edge))
    assert len(floor_plans(porch)) == 3
    assert len(scenery_of(drawn).beside) == 2


@pytest.mark.parametrize(
    ("porch", "house", "field"),
    [
        ({"roof": "flat"}, {}, "porch.roof"),
        ({"columns": 6}, {}, "porch.columns"),
        ({"spacing": "eustyle"}, {}, "porch.spacing"),
        ({"responds": "pilasters"}, {}, "porch.responds"),
        ({"upper": {}}, {}, "porch.upper"),
        ({"height": "eaves"}, {}, "porch.height"),
        ({"shape": "semicircular"}, {}, "porch.shape"),
        ({"wrap_length": "9.8 m"}, {}, "porch.wrap_length"),
        ({"wrap_length": "1 m", "depth": "2.4 m"}, {}, "porch.wrap_length"),
        ({}, {"walls": "stucco", "relief": False, "quoins": True}, "house.quoins"),
        ({}, {"wings": [{"side": "left"}]}, "house.wings.0.side"),
        ({"wraps": "none", "wrap_length": "3 m"}, {}, "porch.wrap_length"),
    ],
)
def test_what_cannot_go_round_is_refused_by_its_field(
    porch: dict[str, Any], house: dict[str, Any], field: str
) -> None:
    with pytest.raises(DesignError) as refused:
        made(**{"wraps": "both", "house": house, **porch})
    assert refused.value.field == field


def test_a_side_porch_stands_where_it_leaves_a_side() -> None:
    scene = {"porch": {"order": "tuscan", "wraps": "left"}}
    assert design(HOUSE, side_porches=[{"side": "right"}], **scene).side_porches
    with pytest.raises(DesignError) as refused:
        design(HOUSE, side_porches=[{"side": "left"}], **scene)
    assert refused.value.field == "side_porches.0.side"

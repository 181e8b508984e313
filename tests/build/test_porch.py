"""The porch's shapes and what may be added to it: each stands closed, clear and on something."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from massing.build.house import build
from massing.parts.part import Model
from massing.settingout.porch import frieze_path, path_before
from tests.build.test_house import (
    test_every_solid_is_closed_and_looks_outward as all_closed,
)
from tests.build.test_house import test_nothing_floats as none_floats
from tests.build.test_house import test_nothing_passes_through_its_neighbour as none_clash
from tests.resolve.test_design import design

PORCHES: dict[str, dict[str, Any]] = {
    "semicircular": {
        "shape": "semicircular",
        "order": "ionic",
        "columns": 6,
        "spacing": "1.15 m",
        "height": "3.4 m",
        "balustrade": {},
    },
    "semicircular to the eaves": {
        "shape": "semicircular",
        "order": "doric",
        "columns": 6,
        "height": "eaves",
        "spacing": "2.2 m",
    },
    "semicircular with guards": {
        "shape": "semicircular",
        "order": "tuscan",
        "columns": 6,
        "spacing": "2.6 m",
        "height": "3.4 m",
        "guard": {},
    },
    "two semicircular orders": {
        "shape": "semicircular",
        "order": "tuscan",
        "upper": {"order": "tuscan"},
        "columns": 6,
        "spacing": "2.6 m",
        "balustrade": {},
    },
    "two orders": {"order": "doric", "upper": {}, "columns": 4},
    "pediment": {"order": "ionic", "roof": "pediment", "columns": 2, "height": "2.9 m"},
    "returns": {"side_columns": 1, "height": "eaves", "balustrade": {"panelled": True}},
    "pilasters": {"responds": "pilasters", "order": "doric", "height": "eaves"},
    "half columns": {"responds": "half columns", "height": "eaves"},
    "fluted": {"responds": "pilasters", "order": "ionic", "fluted": True, "entasis": "conchoid"},
    "pedestals": {"pedestals": True, "order": "tuscan", "height": "eaves"},
    "pilasters on pedestals": {
        "pedestals": True,
        "responds": "pilasters",
        "order": "tuscan",
        "guard": {},
        "columns": 4,
    },
    "half columns on pedestals": {
        "pedestals": True,
        "responds": "half columns",
        "height": "eaves",
        "guard": {},
        "columns": 4,
    },
    "parapet": {"height": "eaves", "balustrade": {"filling": "parapet"}},
    "breaks": {"breaking_forward": True, "height": "eaves", "responds": "half columns"},
    "couples": {
        "order": "doric",
        "paired": True,
        "breaking_forward": True,
        "spacing": "6.5 m",
        "height": "eaves",
        "side_columns": 1,
        "depth": "3.6 m",
        "blocking_course": True,
        "balustrade": {},
    },
    "couples with guards": {
        "order": "pier",
        "paired": True,
        "spacing": "4 m",
        "columns": 6,
        "height": "3.4 m",
        "guard": {},
        "blocking_course": "10 in",
    },
    "full width": {"spacing": "full width", "columns": 6, "order": "ionic", "height": "3 m"},
    "full width to the eaves": {"spacing": "full width", "columns": 6, "height": "eaves"},
    "guards": {"guard": {}, "height": "eaves", "columns": 4, "steps": {"width": "2 m"}},
}


@pytest.fixture(scope="module", params=PORCHES)
def model(request: pytest.FixtureRequest) -> Model:
    return build(design(porch=PORCHES[request.param]))


def test_every_porch_is_sound(model: Model) -> None:
    all_closed(model)
    none_clash(model)
    none_floats(model)


@pytest.mark.parametrize("name", ["pilasters on pedestals", "half columns on pedestals"])
def test_a_respond_stands_on_a_pedestal_as_high_as_the_columns(name: str) -> None:
    drawn = design(porch=PORCHES[name])
    parts = {p.name: p.world_mesh().bounds for p in build(drawn).parts}
    lead = f"porch/{'pilaster' if name[0] == 'p' else 'engaged column'}"
    pedestal, base = parts[f"{lead}/pedestal"], parts[f"{lead}/base"]
    columns = parts["porch/pedestal"]
    assert pedestal[:, 2] == pytest.approx(columns[:, 2])
    plinth = parts.get(f"{lead}/plinth", base)
    assert plinth[0, 2] == pytest.approx(pedestal[1, 2])
    assert pedestal[1, 1] == pytest.approx(0.0, abs=1e-6)
    slimmer = 0.0
    if lead.endswith("pilaster"):  # as wide as the column's neck, so is what is under it
        slimmer = (drawn.porch.order.diameter_m - drawn.porch.order.upper_diameter_m) / 2.0
    assert pedestal[:, 0] == pytest.approx(columns[:, 0] + [slimmer, -slimmer])


def test_columns_on_a_semicircle_keep_one_radius_and_one_gap() -> None:
    porch = design(porch=PORCHES["semicircular"]).porch
    radii = np.linalg.norm(porch.perimeter_axes_m, axis=1)
    assert radii == pytest.approx(np.full(6, porch.depth_m))
    assert np.ptp(porch.gaps_m) < 1e-9
    # Round the curve the asked spacing holds between the columns.
    assert porch.depth_m * np.pi > 5 * 1.15


def test_the_frieze_keeps_its_distance_from_the_axes() -> None:
    for name in ("semicircular", "returns"):
        porch = design(porch=PORCHES[name]).porch
        inner = frieze_path(porch, porch.frieze_half_depth_m)
        for axis in porch.perimeter_axes_m:
            starts, steps = inner[:-1], np.diff(inner, axis=0)
            share = ((axis - starts) * steps).sum(axis=1) / (steps**2).sum(axis=1)
            nearest = starts + np.clip(share, 0.0, 1.0)[:, None] * steps
            assert np.linalg.norm(nearest - axis, axis=1).min() < 2e-3


def test_guards_round_a_semicircle_stand_on_the_columns_curve_and_leave_the_steps_open() -> None:
    made = design(porch=PORCHES["semicircular with guards"])
    porch, parts = made.porch, {p.name: p for p in build(made).parts}
    rail = parts["porch/guard/balustrade/rail"].mesh.vertices
    assert porch.guard is not None
    near = np.abs(np.linalg.norm(rail[:, :2], axis=1) - porch.depth_m)
    assert near.max() < porch.guard.pedestal_width_m
    posts = parts["porch/guard/balustrade/dies"].placements
    assert posts is not None
    assert np.linalg.norm(posts[:, :2, 3], axis=1) == pytest.approx(porch.depth_m, abs=1e-3)
    # of five bays the steps take three, and the two at the ends have rails
    assert len(posts) == 4
    assert np.abs(posts[:, 0, 3]).min() > porch.steps.width_m / 2.0
    rings = parts["porch/steps/rings"].mesh.bounds
    assert rings[1, 0] - rings[0, 0] < 2.0 * porch.depth_m  # the flight is not all round
    # baluster gaps: 4 in sphere (IRC R312.1.3, read); at the necks, along the curve's chords
    stands = parts["porch/guard/balustrade/balusters"].placements
    assert stands is not None
    gaps = np.linalg.norm(np.diff(stands[:, :2, 3], axis=0), axis=1)
    assert gaps.min() > porch.guard.belly_m
    assert np.sort(gaps)[:-1].max() < porch.guard.baluster_spacing_m + 1e-6


def test_an_upper_order_stands_on_the_same_curve() -> None:
    porch = design(porch=PORCHES["two semicircular orders"]).porch
    assert porch.upper is not None
    assert porch.upper.perimeter_axes_m == porch.perimeter_axes_m
    assert porch.upper.floor_z_m == porch.top_z_m


@pytest.mark.parametrize("more", [{}, {"paired": True}, {"centre_spacing": "4 m"}])
def test_a_porch_as_wide_as_the_house_is_flush_and_its_cornice_returns(more: dict) -> None:
    asked = {"spacing": "full width", "columns": 6, "height": "3.2 m", **more}
    house = {"windows": [{"height": "1.4 m", "width": "0.8 m"}, {"height": "1.2 m"}]}
    made = design(house, porch=asked)
    wide = made.house.width_m
    assert 2.0 * made.porch.half_width_m == pytest.approx(wide)
    parts = {p.name: p for p in build(made).parts}
    cornice = parts["porch/entablature/cornice"].mesh
    reach = made.porch.order.cornice_projection_m
    # it turns the corner and dies on the side wall, as far behind the front as it projects
    assert cornice.bounds[1] == pytest.approx([wide / 2 + reach, reach, cornice.bounds[1, 2]])
    behind = cornice.vertices[cornice.vertices[:, 1] > 1e-6]
    assert np.abs(behind[:, 0]).min() == pytest.approx(wide / 2)


def test_a_path_cut_before_the_wall_ends_on_the_line() -> None:
    porch = design(porch=PORCHES["semicircular"]).porch
    cut = path_before(porch, -0.5)
    assert cut[[0, -1], 1] == pytest.approx([-0.5, -0.5])
    assert np.linalg.norm(cut[[0, -1]], axis=1) == pytest.approx([porch.half_width_m] * 2)


def test_the_upper_order_is_the_lighter_and_stands_on_the_lower() -> None:
    porch = design(porch=PORCHES["two orders"]).porch
    assert porch.upper is not None
    assert (porch.order.order, porch.upper.order.order) == ("doric", "ionic")
    assert porch.upper.floor_z_m == pytest.approx(porch.top_z_m)
    assert porch.upper.perimeter_axes_m == porch.perimeter_axes_m


def test_a_pedestal_takes_its_share_of_the_height() -> None:
    # W. R. Ware, The American Vignola, p. 38 (read): the pedestal a third of the column;
    # Vignola's Tuscan plate, 56 of 12 parts on a column of 168 (from memory).
    porch = design(porch=PORCHES["pedestals"]).porch
    share = porch.order.pedestal_height_m / porch.order.column_height_m
    assert share == pytest.approx(1 / 3, rel=0.01)
    assert porch.top_z_m == pytest.approx(design().house.wall_top_z_m)


# 13'-6" leaves the two corners unlike in their last digit.
@pytest.mark.parametrize(("columns", "spacing"), [(2, "3 m"), (3, "2.9 m"), (4, "13'-6\"")])
def test_an_ionic_porch_turns_its_corners_with_four_faced_capitals(
    columns: int, spacing: str
) -> None:
    ionic = {"order": "ionic", "columns": columns, "height": "eaves", "spacing": spacing}
    parts = {p.name: p.count for p in build(design(porch=ionic)).parts}
    assert parts["porch/corner column/shaft"] == 2
    assert parts.get("porch/column/shaft", 0) == columns - 2

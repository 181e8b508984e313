"""Pilasters and engaged columns: closed, against the wall, as high as the column."""

import numpy as np
import pytest

from massing.canon import fit_order, plates
from massing.parts.orders.column import column, engaged_column
from massing.parts.orders.pilaster import FLUTES, pilaster

EVERY = sorted(plates())


def check_solid(part):
    mesh = part.mesh.to_trimesh()
    assert mesh.is_watertight, part.name
    assert mesh.is_winding_consistent, part.name
    assert mesh.volume > 0, part.name


def bounds(parts):
    boxes = np.array([p.world_mesh().bounds for p in parts])
    return np.array([boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)])


@pytest.mark.parametrize(("canon", "order"), EVERY)
def test_a_pilaster_stands_before_the_wall(canon, order):
    fitted = fit_order(order, canon, diameter_m=0.45)
    parts = pilaster(fitted)
    for part in parts:
        check_solid(part)
    low, high = bounds(parts)
    assert low[0] == pytest.approx(-high[0], abs=1e-6)
    assert high[1] <= 1e-9
    assert low[2] == pytest.approx(0.0)
    assert high[2] == pytest.approx(fitted.column_height_m, abs=1e-6)


@pytest.mark.parametrize(("canon", "order"), EVERY)
def test_a_fluted_pilaster_has_seven_flutes_within_its_block(canon, order):
    fitted = fit_order(order, canon, diameter_m=0.45)
    plain, fluted = (
        next(p.mesh for p in pilaster(fitted, fluted=f) if p.name == "pilaster/shaft")
        for f in (False, True)
    )
    assert fluted.to_trimesh().is_watertight
    assert fluted.to_trimesh().is_winding_consistent
    assert fluted.bounds == pytest.approx(plain.bounds)
    front = fluted.vertices[fluted.vertices[:, 1] < -1e-9]
    at = np.unique(front[np.isclose(front[:, 1], front[:, 1].max()), 0].round(9))
    assert len(at) == FLUTES == 7
    assert np.ptp(np.diff(at)) < 1e-8
    assert at == pytest.approx(-at[::-1], abs=1e-8)


@pytest.mark.parametrize("projection_m", [0.01, 0.03, 0.2])
def test_the_flutes_take_the_volume_of_half_round_channels(projection_m):
    """Seven half cylinders (or half ellipses, where the pilaster is shallow) with rounded ends:
    pi a b / 2 for each cross-section, pi a b / 3 (a quarter of an ellipsoid) lost to each end."""
    fitted = fit_order("ionic", diameter_m=0.5)
    plain, fluted = (
        next(p.mesh for p in pilaster(fitted, projection_m, fluted=f) if "shaft" in p.name)
        for f in (False, True)
    )
    a = fitted.upper_diameter_m / (7 + 8 / 3) / 2.0
    b = min(a, 0.6 * projection_m)
    ends = sum(m.height for m in (*fitted.shaft_foot, *fitted.shaft_head))
    length = fitted.shaft_height_m - ends - 0.7 * a
    channel = np.pi * a * b / 2.0 * (length - 2.0 * a) + 2.0 * np.pi * a * a * b / 3.0
    assert plain.volume_m3 - fluted.volume_m3 == pytest.approx(7 * channel, rel=0.03)


def test_its_side_stands_under_the_architrave():
    fitted = fit_order("tuscan", diameter_m=0.48)
    (shaft,) = (p for p in pilaster(fitted, 0.1) if p.name == "pilaster/shaft")
    middle = shaft.mesh.vertices[np.isclose(shaft.mesh.vertices[:, 2], 0.24 + 0.03)]
    assert np.abs(middle[:, 0]).max() == pytest.approx(fitted.upper_diameter_m / 2.0)
    assert middle[:, 1].min() == pytest.approx(-0.1)


@pytest.mark.parametrize("order", ["tuscan", "doric", "ionic", "corinthian", "composite"])
@pytest.mark.parametrize("share", [0.5, 0.75])
def test_an_engaged_column_is_a_column_cut_by_the_wall(order, share):
    fitted = fit_order(order, diameter_m=0.45)
    parts = engaged_column(fitted, share)
    for part in parts:
        check_solid(part)
    assert bounds(parts)[1, 1] <= 1e-6
    whole = {p.name: p.world_mesh().volume_m3 for p in column(fitted)}
    for part in parts:
        full = whole[part.name.replace("engaged column", "column", 1)]
        ratio = part.mesh.volume_m3 / full
        if share == 0.5:
            assert ratio == pytest.approx(0.5, abs=0.01), part.name
        elif part.name.endswith("shaft"):
            # a circle's segment beyond a chord at a quarter of the diameter: 0.8045 (derived)
            assert ratio == pytest.approx(0.8045, abs=0.03)


def test_bad_sizes_are_refused():
    fitted = fit_order("tuscan", diameter_m=0.45)
    with pytest.raises(ValueError, match="projection"):
        pilaster(fitted, 0.0)
    with pytest.raises(ValueError, match="between 0 and 1"):
        engaged_column(fitted, 1.0)

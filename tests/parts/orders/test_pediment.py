"""Pediments: closed solids that meet at the corners and the apex."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.canon import fit_order, plates
from massing.parts.orders.pediment import VITRUVIAN_SLOPE, apex_m, pediment, without_crown

EVERY = sorted(plates())


def check_solid(part):
    mesh = part.mesh.to_trimesh()
    assert mesh.is_watertight, part.name
    assert mesh.is_winding_consistent, part.name
    assert mesh.volume > 0, part.name


@settings(max_examples=25)
@given(key=st.sampled_from(EVERY), width=st.floats(4.0, 15.0), slope=st.floats(0.2, 0.6))
def test_parts_are_solids_and_symmetrical(key, width, slope):
    cornice = fit_order(key[1], key[0], diameter_m=0.4).cornice
    parts = pediment(cornice, width, back_m=0.35, slope=slope)
    for part in parts:
        check_solid(part)
        lopsided = ("/left", "/right", "corner")  # halves, and the corner of the next run
        if not any(word in part.name for word in lopsided):
            low, high = part.world_mesh().bounds[:, 0]
            assert low == pytest.approx(-high, abs=1e-6)
    top = max(p.world_mesh().bounds[1, 2] for p in parts)
    assert top == pytest.approx(apex_m(cornice, width, slope), abs=0.003)


@pytest.mark.published
def test_tympanum_is_a_ninth_of_the_front():
    """Vitruvius III.5.12 (read): a slope of 12.53 degrees (derived)."""
    assert math.degrees(math.atan(VITRUVIAN_SLOPE)) == pytest.approx(12.53, abs=0.005)
    cornice = fit_order("tuscan", diameter_m=0.4).cornice
    width, reach = 8.0, max(m.reach for m in cornice)
    rise = apex_m(cornice, width) - sum(m.height for m in cornice)
    assert rise / (width + 2 * reach) == pytest.approx(1 / 9)


def test_rakes_meet_the_eaves_at_the_corner():
    cornice = fit_order("ionic", diameter_m=0.4).cornice
    reach, height = max(m.reach for m in cornice), sum(m.height for m in cornice)
    (rake,) = (p for p in pediment(cornice, 8.0, back_m=0.3) if p.name == "pediment/raking cornice")
    corner = np.array([-(4.0 + reach), -reach, height])
    assert np.linalg.norm(rake.mesh.vertices - corner, axis=1).min() < 0.004


def test_rakes_stand_on_the_level_cornice_and_the_tympanum_under_them():
    cornice = fit_order("tuscan", diameter_m=0.4).cornice
    level = sum(m.height for m in without_crown(cornice))
    parts = {p.name: p.mesh for p in pediment(cornice, 8.0, back_m=0.3, slope=0.4)}
    assert parts["pediment/raking cornice"].bounds[0, 2] == pytest.approx(level)
    tympanum = parts["pediment/tympanum"]
    reach = max(m.reach for m in cornice)
    half = (0.4 * (4.0 + reach) - level) / 0.4
    assert half < 4.0  # so it is a plain triangle
    assert tympanum.volume_m3 == pytest.approx(0.9 * 0.3 * half * 0.4 * half)


def test_raking_dentils_are_plumb_and_follow_the_slope():
    cornice = fit_order("ionic", diameter_m=0.4).cornice
    parts = pediment(cornice, 8.0, back_m=0.3)
    for side, sign in (("left", 1.0), ("right", -1.0)):
        (part,) = (p for p in parts if p.name == f"pediment/raking cornice/{side}/dentils")
        at = part.placements[:, :3, 3]
        slope = np.diff(at[:, 2]) / np.diff(at[:, 0])
        assert slope == pytest.approx(np.full(len(slope), sign * VITRUVIAN_SLOPE))
        assert part.placements[:, :3, 2] == pytest.approx(np.tile([0.0, 0.0, 1.0], (len(at), 1)))


def test_the_level_cornice_goes_without_its_crown():
    cornice = fit_order("doric", diameter_m=0.4).cornice
    assert [m.name for m in without_crown(cornice)][-1] == "fillet"
    assert len(without_crown(cornice)) == len(cornice) - 2


def test_bad_sizes_are_refused():
    cornice = fit_order("tuscan", diameter_m=0.4).cornice
    with pytest.raises(ValueError, match="positive"):
        pediment(cornice, 0.0, back_m=0.3)
    with pytest.raises(ValueError, match="do not clear"):
        pediment(cornice, 1.0, back_m=0.3, slope=0.1)
    with pytest.raises(ValueError, match="cymatium"):
        without_crown(cornice[:3])

"""Columns: closed solids, members standing one on another, sizes as fitted."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from massing.canon import FittedOrder, fit_order, plates, with_shaft
from massing.canon.entasis import CURVES as ENTASIS
from massing.parts.orders.column import column, pedestal, shaft_profile
from massing.parts.orders.ornament import egg_and_dart

EVERY = sorted(plates())


def check_solid(part):
    mesh = part.mesh.to_trimesh()
    assert mesh.is_watertight, part.name
    assert mesh.is_winding_consistent, part.name
    assert mesh.volume > 0, part.name


@pytest.mark.parametrize(("canon", "order"), EVERY)
@pytest.mark.parametrize("fluted", [False, True])
def test_members_are_solids_that_stand_on_each_other(canon, order, fluted):
    fitted = fit_order(order, canon, diameter_m=0.45)
    if not fitted.square:
        fitted = with_shaft(fitted, fluted=fluted)
    parts = column(fitted)
    for part in parts:
        check_solid(part)
    z = 0.0
    for part in parts:
        if part.name.count("/") == 1:  # the members, without their carving
            low, high = part.mesh.bounds[:, 2]
            assert low == pytest.approx(z, abs=1e-9)
            z = high
    assert z == pytest.approx(fitted.column_height_m)


@settings(max_examples=25)
@given(key=st.sampled_from(EVERY), diameter=st.floats(0.1, 2.0), slender=st.floats(5.0, 20.0))
def test_any_fit_builds_to_its_height(key, diameter, slender):
    fitted = fit_order(key[1], key[0], diameter_m=diameter, column_height_m=slender * diameter)
    parts = column(fitted)
    for part in parts:
        check_solid(part)
    bounds = np.array([p.world_mesh().bounds for p in parts])
    assert bounds[:, 0, 2].min() == pytest.approx(0.0)
    reach = np.abs(bounds[..., :2]).max()
    widest = max(fitted.plinth_width_m, fitted.abacus_width_m) / 2.0
    if fitted.capital_kind == "turned":
        assert bounds[:, 1, 2].max() == pytest.approx(fitted.column_height_m)
        assert reach == pytest.approx(widest)
    else:
        assert bounds[:, 1, 2].max() < fitted.column_height_m + 1e-9
        assert 0.999 * widest <= reach < 1.3 * widest


def volume(fitted: FittedOrder, name: str, **kwargs) -> float:
    return sum(p.mesh.volume_m3 for p in column(fitted, **kwargs) if p.name == f"column/{name}")


def test_a_shaft_has_the_volume_of_its_profile_turned():
    """Sum of cone frusta, pi h (a^2 + ab + b^2) / 3, along the profile."""
    fitted = fit_order("tuscan", diameter_m=0.5)
    r, z = shaft_profile(fitted).T
    a, b = r[:-1], r[1:]
    exact = float(np.sum(np.pi * np.diff(z) * (a * a + a * b + b * b) / 3.0))
    assert volume(fitted, "shaft") == pytest.approx(exact, rel=0.01)


def test_plinth_and_pier_are_blocks():
    tuscan = fit_order("tuscan", diameter_m=0.5)
    assert volume(tuscan, "plinth") == pytest.approx(tuscan.plinth_width_m**2 * 0.125)
    pier = fit_order("pier", diameter_m=0.5)
    assert volume(pier, "shaft") == pytest.approx(0.25 * pier.shaft_height_m)


def test_the_torus_has_its_closed_form_volume():
    """Pappus: a disc's half of area pi c^2 / 2, its centroid 4c / 3pi outside the springing."""
    fitted = fit_order("tuscan", diameter_m=1.0)
    torus, cincture = fitted.base[1], fitted.base[2]
    c = torus.height / 2.0
    a = torus.reach - c
    ring = np.pi * a * a * torus.height + 2 * np.pi * (a + 4 * c / (3 * np.pi)) * np.pi * c * c / 2
    disc = np.pi * cincture.reach**2 * cincture.height
    assert volume(fitted, "base") == pytest.approx(ring + disc, rel=0.01)


def test_doric_channels_are_twenty_and_meet_in_arrises():
    fitted = fit_order("doric", diameter_m=1.0)
    (shaft,) = (p.mesh for p in column(fitted) if p.name == "column/shaft")
    level = shaft.vertices[np.isclose(shaft.vertices[:, 2], _some_level(shaft, 2.0))]
    radius = np.linalg.norm(level[:, :2], axis=1)
    crest = radius > radius.max() - 1e-9
    assert crest.sum() == 20
    assert volume(fitted, "shaft") < volume(with_shaft(fitted, fluted=False), "shaft")


@pytest.mark.parametrize("name", sorted(ENTASIS))
def test_the_shaft_takes_the_entasis_asked_for(name):
    fitted = with_shaft(fit_order("tuscan", diameter_m=0.5), entasis=name)
    (shaft,) = (p.mesh for p in column(fitted) if p.name == "column/shaft")
    profile = shaft_profile(fitted)
    rise = shaft.vertices[:, 2] - fitted.base_height_m
    radius = np.linalg.norm(shaft.vertices[:, :2], axis=1)
    off_axis = radius > 1e-9
    expected = np.interp(rise[off_axis], profile[:, 1], profile[:, 0])
    free = (rise[off_axis] > 0.3) & (rise[off_axis] < 2.7)
    assert radius[off_axis][free] == pytest.approx(expected[free], abs=1e-9)
    middle = float(np.interp(1.5, profile[:, 1], profile[:, 0]))
    straight = with_shaft(fitted, entasis="none")
    chord = float(np.interp(1.5, *shaft_profile(straight)[:, ::-1].T))
    assert (middle == pytest.approx(chord)) == (name == "none")
    assert middle >= chord - 1e-12


def test_what_a_pier_cannot_have_is_refused():
    pier = fit_order("pier", diameter_m=0.4)
    for asked in ({"fluted": True}, {"entasis": "conchoid"}):
        with pytest.raises(ValueError, match="square pier"):
            with_shaft(pier, **asked)
    assert with_shaft(pier, fluted=False, entasis="none") == pier
    with pytest.raises(ValueError, match="lower third straight"):
        with_shaft(fit_order("ionic", diameter_m=0.4), entasis="barrel")


def _some_level(mesh, above):
    z = np.unique(mesh.vertices[:, 2].round(9))
    return z[np.searchsorted(z, above)]


def test_tuscan_is_plain_and_a_pier_upright():
    tuscan = fit_order("tuscan", diameter_m=1.0)
    profile = shaft_profile(tuscan)
    assert profile[:, 0].min() == pytest.approx(tuscan.upper_diameter_m / 2.0)
    pier = shaft_profile(fit_order("pier", diameter_m=1.0))
    assert np.ptp(pier[:, 0]) == 0.0


def test_an_angular_ionic_capital_is_alike_on_all_four_faces():
    fitted = fit_order("ionic", diameter_m=0.5)
    plain, angular = column(fitted), column(fitted, angular=True)
    for part in angular:
        check_solid(part)
    for parts, alike in ((plain, False), (angular, True)):
        boxes = np.array([p.world_mesh().bounds for p in parts if "capital" in p.name])
        width, depth, _ = boxes[:, 1].max(axis=0) - boxes[:, 0].min(axis=0)
        assert (abs(width - depth) < 1e-6) == alike
    top = max(p.world_mesh().bounds[1, 2] for p in angular)
    assert top == pytest.approx(fitted.column_height_m)
    assert [p.name for p in column(fit_order("doric", diameter_m=0.5), angular=True)] == [
        p.name for p in column(fit_order("doric", diameter_m=0.5))
    ]


@pytest.mark.parametrize("order", ["ionic", "composite"])
def test_eggs_are_carved_out_of_the_echinus(order):
    fitted = fit_order(order, diameter_m=0.5)
    for angular in (False, True):
        for part in column(fitted, enriched=True, angular=angular):
            check_solid(part)
    plain, carved = (volume(fitted, "capital", enriched=e) for e in (False, True))
    assert 0.9 * plain < carved < plain


def test_an_egg_stands_over_every_flute():
    """Twenty-four alike, one at the front: the ring repeats after a twenty-fourth of a turn."""
    edge = np.column_stack([1.0 + 0.3 * np.sin(np.linspace(0, np.pi / 2, 9)), np.linspace(0, 1, 9)])
    mesh = egg_and_dart(edge, 24)
    level = mesh.vertices[np.isclose(mesh.vertices[:, 2], mesh.vertices[:, 2].max())]
    assert len(level) % 24 == 0
    turn = 2 * np.pi / 24
    spin = np.array([[np.cos(turn), -np.sin(turn), 0], [np.sin(turn), np.cos(turn), 0], [0, 0, 1]])
    before = np.sort(np.round(mesh.vertices, 9).view("f8,f8,f8"), axis=0)
    after = np.sort(np.round(mesh.vertices @ spin.T, 9).view("f8,f8,f8"), axis=0)
    gaps = np.abs(before.view("f8") - after.view("f8"))
    assert np.median(gaps) < 1e-8
    front = mesh.vertices[np.argmin(mesh.vertices[:, 1])]
    assert front[0] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(("canon", "order"), EVERY)
def test_a_pedestal_carries_the_plinth(canon, order):
    fitted = fit_order(order, canon, diameter_m=0.5, pedestal=True)
    (stand,) = pedestal(fitted)
    check_solid(stand)
    assert stand.mesh.bounds[:, 2] == pytest.approx([0.0, fitted.pedestal_height_m])
    die = next(m for m in fitted.pedestal if m.name == "die")
    assert 2 * die.reach == pytest.approx(fitted.plinth_width_m)
    assert pedestal(fit_order(order, canon, diameter_m=0.5)) == []

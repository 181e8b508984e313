"""From a shadow that is wanted to the size that throws it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from massing.canon import fit_order
from massing.edit.proposals import shadow_wanted
from massing.edit.proposals.shadow_wanted import (
    by_rays,
    door_in_sun,
    find,
    frieze_in_sun,
    read_wish,
)
from massing.study.study import read_study
from massing.sun.angles import CONVENTIONAL_LIGHT
from massing.sun.position import sun_time

SCENE = Path(__file__).parents[3] / "scenes" / "vineyard_cottage.yaml"


@pytest.fixture(scope="module")
def tuscan():
    design = read_study(SCENE).designs[1]
    return replace(design, roof=replace(design.roof, covering="plain"))


@pytest.mark.parametrize(
    ("words", "surface", "share", "time"),
    [
        ("the frieze half in shadow at 10:00 on 14 May", "frieze", 0.5, "14 may 10:00"),
        ("frieze a third in sun at equinox 9:00", "frieze", 1.0 / 3.0, "equinox 9:00"),
        ("the door in sun at 8 in winter", "door", 1.0, "winter solstice 8:00"),
        ("door 40 % in shade at summer solstice 12:30", "door", 0.6, "summer solstice 12:30"),
        ("door in the shadow at solar noon in winter", "door", 0.0, "winter solstice solar noon"),
    ],
)
def test_wishes_are_read_as_they_are_said(tuscan, words, surface, share, time):
    wish = read_wish(words, tuscan.site)
    assert (wish.surface, wish.sun.label) == (surface, time)
    assert wish.in_sun == pytest.approx(share)


@pytest.mark.parametrize(
    "words",
    [
        "the moon in sun at 10:00 on 14 May",
        "frieze 140 % in sun at equinox 9:00",
        "door in sun",
        "door in sun at some time",
        "door in sun at winter solstice 3:00",
    ],
)
def test_what_is_no_wish_is_refused_in_a_line(tuscan, words):
    with pytest.raises(ValueError, match=r"allowed|not a time"):
        read_wish(words, tuscan.site)


def test_the_frieze_in_the_draughtsman_s_light_by_hand(tuscan):
    """Down the diagonal of a cube a shadow is as deep as what throws it stands out (Gwilt, art.
    2460): a corona alone, its foot the frieze's top, which projects two thirds of it, leaves a
    third of it in sun."""
    order = fit_order("pier", "vignola", diameter_m=0.3)
    corona = order.cornice[-1]
    frieze = sum(m.height for m in order.frieze)
    reach = 2.0 / 3.0 * frieze
    plain = replace(order, cornice=(replace(corona, foot=reach, head=reach),))
    design = replace(tuscan, porch=replace(tuscan.porch, order=plain))
    assert frieze_in_sun(design, sun_time("conventional light", design.site)) == pytest.approx(
        1 / 3
    )


def test_the_door_in_the_draughtsman_s_light_by_hand(tuscan):
    """The soffit's outer arris, so far out before the wall, falls by as much."""
    sun = sun_time("conventional light", tuscan.site)
    porch = tuscan.porch
    door = next(o for o in tuscan.house.openings if o.kind == "door" and o.wall == "front")
    soffit = porch.column_top_z_m - (porch.depth_m + porch.frieze_half_depth_m)
    cornice = porch.top_z_m - (
        porch.depth_m + porch.frieze_half_depth_m + porch.order.cornice_projection_m
    )
    lit = min(soffit, cornice) - door.sill_z_m
    assert door_in_sun(tuscan, sun) == pytest.approx(np.clip(lit / door.height_m, 0.0, 1.0))
    low = replace(sun, direction=(0.0, -np.cos(0.02), np.sin(0.02)))
    assert door_in_sun(tuscan, low) == 1.0
    assert CONVENTIONAL_LIGHT[2] > 0.0


def test_a_bearing_that_is_told_gives_what_was_wanted(tuscan):
    wish = read_wish("frieze half in shadow at 14 May 10:00", tuscan.site)
    answer = find(wish, tuscan)
    bearing = next(way for way in answer.ways if way.field == "site.front_faces")
    assert bearing.by_rays
    assert abs(bearing.reached - 0.5) <= shadow_wanted.CLOSE
    turned = replace(tuscan, site=replace(tuscan.site, front_azimuth_deg=float(bearing.written)))
    sun = sun_time("14 May 10:00", turned.site)
    assert by_rays(turned, [sun.direction], "frieze")[0] == pytest.approx(bearing.reached, abs=0.01)
    assert any("Any one of these gives it" in line for line in answer.lines)
    # the projection is that which gives it by the profile angle, told to be outside the canons
    projection = next(way for way in answer.ways if way.field == "")
    assert projection.reached == pytest.approx(0.5, abs=1e-6)
    assert not projection.within
    assert answer.ways.index(bearing) < answer.ways.index(projection)


def test_where_nothing_gives_it_the_nearest_is_told(tuscan):
    # at noon in midsummer the sun is so steep that no front's frieze is wholly lit
    wish = read_wish("frieze in sun at summer solstice 13:00", tuscan.site)
    answer = find(wish, tuscan)
    assert all(way.reached < 0.95 or not way.within for way in answer.ways)
    assert any("nothing gives it" in line for line in answer.lines)


def test_where_it_is_so_already_nothing_is_to_change(tuscan):
    now = by_rays(tuscan, [sun_time("equinox 10:30", tuscan.site).direction], "frieze")[0]
    wish = read_wish(f"frieze {100 * now:.0f} % in sun at equinox 10:30", tuscan.site)
    answer = find(wish, tuscan)
    assert answer.ways == ()
    assert answer.lines[-1].endswith("nothing needs to change.")


def test_a_porch_s_depth_is_told_with_what_the_model_shows(tuscan):
    wish = read_wish("door half in sun at equinox 10:30", tuscan.site)
    answer = find(wish, tuscan)
    depth = next(way for way in answer.ways if way.field == "porch.depth")
    assert depth.by_rays
    assert f"{100 * depth.reached:.0f} % in sun" in "\n".join(answer.lines)
    assert abs(depth.reached - 0.5) < abs(answer.now - 0.5)

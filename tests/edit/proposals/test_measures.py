"""Each measure against an example worked by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from massing.edit.proposals import measures
from massing.edit.proposals.measures import MEASURES, measured, slenderest
from massing.resolve.design import resolve
from massing.scene.layers import laid_over, without_nulls
from massing.scene.spec import Scene
from massing.sun.position import sun_time

FIELDS = {
    "title": "t",
    "site": {
        "place": "Savannah",
        "latitude": 32.08,
        "longitude": -81.09,
        "front_faces": "S",
    },
    "times": ["conventional light"],
    "house": {
        "width": "50 ft",
        "depth": "32 ft",
        "storeys": ["16 ft", "10 ft"],
        "floor": "2 ft",
        "bays": 5,
        "windows": [{"width": "3 ft", "height": "4 ft", "sill": "1 ft"}],
        "door": {"width": "3 ft"},
    },
    "porch": {
        "order": "tuscan",
        "columns": 4,
        "diameter": "12 in",
        "column_height": "7 ft",
        "entablature": "21 in",
        "height": "8 ft 9 in",
        "spacing": "10 ft",
        "depth": "8 ft",
        "floor": "2 ft",
    },
}


def design(**porch):
    fields = laid_over(FIELDS, {"porch": porch})
    return resolve(Scene.model_validate(without_nulls(fields)), "d")


def suns(*times):
    return [sun_time(time, design().site) for time in times]


def of(key, own, drawn=None, at=()):
    measure = next(m for m in MEASURES if m.key == key)
    return measure.value(own, drawn or own, at)


def test_an_order_by_its_canon_departs_in_nothing():
    # Tuscan: column 7 D, entablature 1 3/4 D (Ware, p. 8)
    assert of("off_canon", design()) == pytest.approx(0.0, abs=1e-9)


def test_a_pinned_entablature_departs_by_its_own_share():
    # 16.8 in is a fifth less than the canon's 21
    own = design(entablature="16.8 in", height=None)
    assert of("off_canon", own) == pytest.approx(0.2)


def test_slenderness_is_held_against_vitruvius_by_order_and_spacing():
    # Tuscan 7 (IV.7.2), Doric 7 1/2 at most (V.9.3), Ionic at diastyle 8 1/2 (III.3.10)
    assert slenderest("tuscan", 3.0) == 7.0
    assert slenderest("ionic", 3.1) == 8.5
    assert of("too_slender", design()) == pytest.approx(0.0)
    # 9 D at ten diameters' spacing, the nearest name araeostyle with 8 D
    own = design(order="ionic", column_height="9 ft", entablature="27 in", height=None)
    assert of("too_slender", own) == pytest.approx(9.0 / 8.0 - 1.0)
    # stouter is no fault
    assert of("too_slender", design(column_height="6 ft", height=None)) == 0.0


def test_the_entablature_may_be_a_fifth_to_a_quarter():
    assert of("off_entablature", design()) == pytest.approx(0.0, abs=1e-12)  # 21 in of 84
    thin = design(entablature="14 in", height=None)  # a sixth: a fifth is 1.2 times that
    assert of("off_entablature", thin) == pytest.approx(0.2)
    deep = design(entablature="2 ft 3.3 in", height=None)  # 27.3 of 84 in: 1.3 times a quarter
    assert of("off_entablature", deep) == pytest.approx(0.3)


def test_an_opening_is_held_against_the_nearest_name():
    # 3.6 ft axis to axis is 2.6 D clear: between eustyle 2.25 and diastyle 3
    assert of("off_names", design(spacing="3.6 ft")) == pytest.approx(0.35)
    # the middle at 4 D axis to axis is eustyle's own 3 clear, and the others its 2.25
    assert of("off_names", design(spacing="eustyle")) == pytest.approx(0.0, abs=1e-9)
    # the middle alone off: 3.4 D clear is 0.4 from diastyle
    wide = design(spacing="3.25 ft", centre_spacing="4.4 ft")
    assert of("off_names", wide) == pytest.approx(0.4)
    assert of("off_names", design()) == pytest.approx(5.0)  # 9 D clear, araeostyle 4


def test_shafts_before_windows_are_measured_by_breadth():
    # columns at 5 and 15 ft, bays at 0, 10 and 20: windows from 8.5 to 11.5 stand free
    assert of("covered", design()) == 0.0
    # axes at 3.5 and 10.5 ft: the outer shafts, 10 to 11 ft, stand whole before windows of 3 ft;
    # behind the porch are two windows and the doorway
    own = design(spacing="7 ft")
    door = next(o for o in own.house.openings if o.kind == "door" and o.wall == "front")
    foot = 0.3048
    whole = 2 * 3.0 * foot + door.width_m
    assert of("covered", own) == pytest.approx(2 * 1.0 * foot / whole)


def test_columns_stand_on_the_middles_between_bays():
    assert of("off_bays", design()) == pytest.approx(0.0, abs=1e-9)
    # 7 ft apart: at 3.5 and 10.5 ft, middles at 5 and 15 of bays of 10: off by 1.5 and 4.5
    assert of("off_bays", design(spacing="7 ft")) == pytest.approx(3.0 / 10.0)


def test_the_door_stands_in_the_widest_opening():
    assert of("door_narrow", design()) == 0.0
    # an odd number of columns puts one before the door
    assert of("door_narrow", design(columns=5, spacing="5 ft")) == 1.0
    # axes at 3, 13 ft: the door's 6 ft against 10
    assert of("door_narrow", design(centre_spacing="6 ft")) == pytest.approx(0.4)


def test_the_cornice_s_shadow_below_the_frieze():
    # In the draughtsman's light it falls as far below the cornice's top as that projects
    # (Gwilt, art. 2460): the lowest shadow of any arris, measured from the cornice's foot.
    own, at = design(), suns("conventional light")
    order = own.porch.order
    depth, height = 0.0, 0.0
    for member in order.cornice:
        depth = max(depth, member.foot - height, member.head - height - member.height)
        height += member.height
    wanted = max(0.0, 1.0 - order.frieze_height_m / depth)
    assert of("below_frieze", own, at=at) == pytest.approx(wanted, abs=1e-9)
    # an hour with the sun behind the front does not count, and none at all is no fault
    behind = suns("summer solstice 6:30")
    assert not behind[0].on_front
    assert of("below_frieze", own, at=[*at, *behind]) == pytest.approx(wanted, abs=1e-9)
    assert of("below_frieze", own, at=behind) == 0.0


def test_daylight_is_area_times_the_angle_of_sky_seen():
    # One storey's window alone, without and with the porch before it, by hand.
    own = design()
    porch = own.porch
    window = next(
        o
        for o in own.house.openings
        if o.wall == "front" and o.kind == "window" and o.storey == 0 and o.along_m > 2.0
    )
    alone = replace(own, house=replace(own.house, openings=(window,)))
    middle = window.sill_z_m + window.height_m / 2.0
    out = porch.depth_m + porch.order.upper_diameter_m / 2.0
    sky = math.atan2(porch.column_top_z_m - middle, out)
    farther = math.atan2(porch.top_z_m - middle, out + porch.order.cornice_projection_m)
    front_m = 2.0 * porch.axes_m[-1] + porch.order.upper_diameter_m
    free = 1.0 - 4.0 * porch.order.diameter_m / front_m
    area = window.width_m * window.height_m
    assert measures.daylight(alone) == pytest.approx(area * min(sky, farther) * free)
    off_the_porch = replace(window, along_m=7.0)
    beside = replace(own, house=replace(own.house, openings=(off_the_porch,)))
    assert measures.daylight(beside) == pytest.approx(area * math.pi / 2.0)


def test_a_deeper_porch_loses_daylight_against_as_drawn():
    drawn = design()
    assert of("daylight_lost", drawn, drawn) == pytest.approx(0.0)
    assert of("daylight_lost", design(depth="12 ft"), drawn) > 0.02
    assert of("daylight_lost", design(depth="5 ft"), drawn) < -0.02


def test_what_moves_is_counted():
    drawn = design()
    assert of("moved", design(spacing="9 ft"), drawn) == 0.0
    # the porch's frieze and cornice carried round are another eaves' cornice: one height
    eaves = design(height="eaves", column_height=None, entablature=None, diameter=None)
    assert of("moved", eaves, drawn) == 1.0
    # seven bays for five: in front on the ground two windows come, one goes where the door's bay is
    # now and one comes where it was, three move; above two come and five move, and so at the back
    seven = resolve(Scene.model_validate(laid_over(FIELDS, {"house": {"bays": 7}})), "d")
    assert of("moved", seven, drawn) == 4 * 7
    # one more storey's windows are higher: five in front (the door's bay above too), five at the
    # back, three at each side
    fields = laid_over(
        FIELDS,
        {
            "house": {
                "windows": [
                    {"width": "3 ft", "height": "4 ft", "sill": "1 ft"},
                    {"width": "3 ft", "height": "3 ft", "sill": "1 ft"},
                ]
            }
        },
    )
    changed = resolve(Scene.model_validate(fields), "d")
    assert of("moved", changed, drawn) == 16.0


def test_shafts_and_mouldings_are_counted():
    own = design(side_columns=1)
    assert of("shafts", own) == 6.0  # four in front and one on each return
    order, foot = own.porch.order, 0.3048
    members = len(order.architrave) + len(order.frieze) + len(order.cornice)
    # 30 ft between the end axes and a neck's breadth, and twice 8 ft and half a neck
    run = 30.0 * foot + order.upper_diameter_m + 2.0 * 8.0 * foot
    assert of("mouldings", own) == pytest.approx(members * run)
    railed = design(balustrade={})
    assert of("mouldings", railed) == pytest.approx((members + 2) * run)


def test_every_measure_has_words_and_a_source_and_is_told_in_order():
    assert len(measured(design(), design(), suns("conventional light"))) == len(MEASURES) == 12
    assert len({m.key for m in MEASURES}) == len(MEASURES)
    for measure in MEASURES:
        assert measure.words
        assert measure.source
    daylight = next(m for m in MEASURES if m.unit == "gain")
    assert (daylight.written(0.2), daylight.written(-0.2)) == ("20 % less", "20 % more")
    run = next(m for m in MEASURES if m.unit == "length")
    assert (run.written(304.8), run.written(304.8, "metric")) == ("1,000 ft", "305 m")

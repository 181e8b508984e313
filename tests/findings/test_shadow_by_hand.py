"""The cornice's shadow on rectangular mouldings, worked by hand.

Under a sun whose profile angle has the tangent t, an edge at reach r and height z over the
cornice's foot throws its shadow on the plane of the frieze at r t - z below that foot (vertical
shadow angle, ASHRAE Fundamentals, Fenestration, from memory; similar triangles).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from massing.canon import Member
from massing.canon.order import Ornament
from massing.design.design import Design
from massing.findings.shadow import (
    cornice_shadow_m,
    cornice_shadow_most_m,
    shadow_figures,
    shadow_under_corona,
)
from massing.sun.position import SunTime
from tests.findings.test_limits_of_findings import design
from tests.helpers.house_designs import porch


def sun(tangent: float, on_front: bool = True) -> SunTime:
    direction = (0.3, -0.4, 0.4 * tangent)
    return SunTime("noon, 1 May", None, 45.0, 180.0, direction, on_front, 45.0, 45.0, 1.0, 1.0)


def flat(name: str, height: float, reach: float, row: Ornament | None = None) -> Member:
    return Member(name, "fillet", height, reach, reach, row=row)


def under(*cornice: Member) -> Design:
    """A porch with frieze and architrave of 0.3 m each on one plane, under a cornice."""
    made = porch()
    return design(porch=replace(made, order=replace(made.order, cornice=cornice)))


BED, CORONA, CAP = flat("bed", 0.1, 0.1), flat("corona", 0.15, 0.5), flat("cap", 0.05, 0.55)


@pytest.mark.parametrize(
    ("tangent", "depth_m"),
    # the bed's lower edge: 0.1 t; the corona's: 0.5 t - 0.1; the cap's: 0.55 t - 0.25
    [(0.1, 0.01), (0.2, 0.02), (0.5, 0.15), (1.0, 0.4), (1.5, 0.65), (4.0, 1.95)],
)
def test_the_lowest_shadow_of_all_edges_counts(tangent: float, depth_m: float) -> None:
    made = under(BED, CORONA, CAP)
    assert cornice_shadow_m(made, sun(tangent)) == pytest.approx(depth_m, abs=1e-9)
    assert cornice_shadow_most_m(made, sun(tangent)) == pytest.approx(depth_m, abs=1e-9)


def test_a_cap_that_overhangs_far_casts_at_last() -> None:
    # 0.9 t - 0.25 passes the corona's 0.5 t - 0.1 where t is over 0.375
    made = under(BED, CORONA, flat("cap", 0.05, 0.9))
    assert cornice_shadow_m(made, sun(0.3)) == pytest.approx(0.05)
    assert cornice_shadow_m(made, sun(1.0)) == pytest.approx(0.65)


@pytest.mark.parametrize(
    ("tangent", "depth_m", "on"),
    [
        (0.2, 0.08, "bed"),  # 0.4 t down the face that stands 0.4 m behind the edge
        (0.24, 0.096, "bed"),
        (0.5, 0.25, "frieze"),  # 0.5 t
        (0.79, 0.395, "frieze"),
        (1.0, 0.5, "architrave"),
        (1.39, 0.695, "architrave"),
        (1.5, 0.75, "shaft"),  # below 0.1 + 0.3 + 0.3
    ],
)
def test_the_shadow_under_the_corona_lies_on_the_face_it_meets(
    tangent: float, depth_m: float, on: str
) -> None:
    said = shadow_under_corona(under(BED, CORONA, CAP), sun(tangent))
    assert said is not None
    assert said.depth_m == pytest.approx(depth_m, abs=1e-9)
    assert said.on == on


@pytest.mark.parametrize(
    ("reach", "depth_m"),
    [
        (0.45, 0.275),  # casts: 0.45 t - 0.1 is sunk, and the corona's edge is 0.15 up
        (0.41, 0.255),
        (0.39, 0.25),  # less than four fifths of the corona: its edge does not count
        (0.2, 0.25),
    ],
)
def test_a_moulding_nearly_as_far_out_as_the_corona_casts_too(reach: float, depth_m: float) -> None:
    made = under(BED, flat("brow", 0.05, reach), CORONA)
    said = shadow_under_corona(made, sun(0.5))
    assert said is not None
    assert said.on == "frieze"
    assert said.depth_m == pytest.approx(depth_m, abs=1e-9)


def ornament(kind: str, reach: float, height: float) -> Ornament:
    return Ornament(kind, width=0.05, spacing=0.1, reach=reach, height=height)


@pytest.mark.parametrize(
    ("tangent", "depth_m", "on"),
    [
        (0.2, 0.06, "bed"),  # 0.3 t on the dentils' face, 0.2 m out and 0.07 m high
        (0.24, 0.096, "bed"),  # past the dentils' foot, on the band below: 0.4 t
        (0.5, 0.25, "frieze"),
    ],
)
def test_dentils_take_the_shadow_as_a_face(tangent: float, depth_m: float, on: str) -> None:
    bed = replace(BED, row=ornament("dentil", 0.2, 0.07))
    said = shadow_under_corona(under(bed, CORONA), sun(tangent))
    assert said is not None
    assert said.on == on
    assert said.depth_m == pytest.approx(depth_m, abs=1e-9)


def test_what_hangs_casts_under_itself() -> None:
    # a mutule's lower edge: 0.45 t - 0.02; the corona's: 0.5 t - 0.1
    made = under(replace(BED, row=ornament("mutule", 0.45, 0.08)), CORONA)
    assert cornice_shadow_m(made, sun(1.0)) == pytest.approx(0.4)
    assert cornice_shadow_most_m(made, sun(1.0)) == pytest.approx(0.43)
    depth, below, share = shadow_figures(made, sun(1.0))
    assert (depth.value, below.value) == (pytest.approx(0.5), pytest.approx(0.4))
    assert below.most == pytest.approx(0.43)
    assert "between the brackets" in below.note
    assert share.value == pytest.approx(0.4 / 0.6)


def test_figures_are_those_of_the_sun() -> None:
    found = list(shadow_figures(under(BED, CORONA, CAP), sun(0.5)))
    assert [f.key for f in found] == [
        "corona_shadow_noon_1_may",
        "cornice_shadow_noon_1_may",
        "cornice_shadow_share_noon_1_may",
    ]
    assert [f.value for f in found] == pytest.approx([0.25, 0.15, 0.25])
    assert [f.unit for f in found] == ["length", "length", "fraction"]
    assert [f.most for f in found] == [None, None, None]
    assert "frieze" in found[0].note
    assert "brackets" not in found[1].note


def test_without_sun_on_the_front_there_is_none() -> None:
    made = under(BED, CORONA)
    away = sun(0.5, on_front=False)
    assert cornice_shadow_m(made, away) is None
    assert cornice_shadow_most_m(made, away) is None
    assert shadow_under_corona(made, away) is None
    assert list(shadow_figures(made, away)) == []

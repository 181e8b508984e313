"""What an alternative changes of its porch, sentence by sentence, worked by hand.

The porch as drawn: Tuscan columns of 3.4 m, 0.5 m thick (1:6.8), axes 3 m apart (5 D in the clear);
architrave, frieze and cornice of 0.3 m each (1/3.8 of the column), the cornice out by 0.3 m. Ware,
The American Vignola, p. 8: Tuscan of 7 diameters to Corinthian of 10, entablature a quarter to a
fifth; spacings by Vitruvius III.3, araeostyle 4 by later convention; two per cent are no change.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import pytest

from massing.canon import Member
from massing.design.design import Design
from massing.design.porch import BalustradeDesign, PorchDesign, SemicircularPorch
from massing.findings import porch_changes
from massing.findings.change import Change
from massing.findings.porch_changes import (
    columns_changed,
    crowning_changed,
    depth_changed,
    entablature_changed,
    porch_changed,
    shadow_changed,
    spacing_changed,
)
from tests.findings.test_change_words import sun
from tests.findings.test_limits_of_findings import design
from tests.helpers.house_designs import porch

SPAN = "(Tuscan 1:7 to Corinthian 1:10)"


def of(stands: PorchDesign) -> Design:
    return design(units="metric", porch=stands)


def ordered(**changes: Any) -> Design:
    """The porch with its order changed: a column's height and thickness, an entablature's."""
    drawn = porch()
    order = drawn.order
    if "column_m" in changes:
        changes["shaft_height_m"] = changes.pop("column_m") - 0.5
    if "entablature_m" in changes:
        each = changes.pop("entablature_m") / 3
        for name in ("architrave", "frieze"):
            changes[name] = (Member(name, "fillet", each, 0.0, 0.0),)
        changes["cornice"] = (Member("corona", "fillet", each, 0.3, 0.3),)
    return of(replace(drawn, order=replace(order, **changes)))


def text(changes: Iterable[Change]) -> str:
    said = list(changes)
    assert len(said) <= 1
    return said[0].text if said else ""


DRAWN = of(porch())


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        ({}, {}, ""),
        ({}, {"diameter_m": 0.509}, ""),  # less than two per cent
        (
            {"diameter_m": 0.45},
            {"diameter_m": 0.4},
            "The Tuscan columns go from 1:7.6 to 1:8.5, from 450 mm to 400 mm at the "
            f"foot, within the orders' range {SPAN}.",
        ),
        (
            {},
            {"diameter_m": 0.52, "column_m": 3.536},  # as slender, thicker
            "The Tuscan columns go from 1:6.8 to 1:6.8, from 500 mm to 520 mm at the "
            f"foot; still stouter than any of the orders {SPAN}.",
        ),
        (
            {"diameter_m": 0.45},
            {"order": "doric", "diameter_m": 0.4},
            "Doric columns of 1:8.5, 400 mm at the foot, stand where Tuscan columns of "
            f"1:7.6 stood, 450 mm wide, within the orders' range {SPAN}.",
        ),
        (
            {},
            {"order": "doric"},
            "Doric columns of 1:6.8, 500 mm at the foot, stand where Tuscan columns of "
            f"1:6.8 stood, 500 mm wide; still stouter than any of the orders {SPAN}.",
        ),
        (
            {"diameter_m": 0.4},
            {"diameter_m": 0.3},
            "The Tuscan columns go from 1:8.5 to 1:11.3, from 400 mm to 300 mm at the "
            f"foot; slenderer than any of the orders {SPAN}.",
        ),
        (
            {"diameter_m": 0.3},
            {"diameter_m": 0.25},
            "The Tuscan columns go from 1:11.3 to 1:13.6, from 300 mm to 250 mm at the "
            f"foot; still slenderer than any of the orders {SPAN}.",
        ),
        (
            {"diameter_m": 0.3},
            {"diameter_m": 0.6},
            "The Tuscan columns go from 1:11.3 to 1:5.7, from 300 mm to 600 mm at the "
            f"foot; stouter than any of the orders {SPAN}.",
        ),
        (
            {"diameter_m": 0.3},
            {"diameter_m": 0.4},
            "The Tuscan columns go from 1:11.3 to 1:8.5, from 300 mm to 400 mm at the "
            f"foot: as drawn the Tuscan columns are slenderer than any of the orders {SPAN}.",
        ),
        (
            {"diameter_m": 0.6},
            {"diameter_m": 0.4},
            "The Tuscan columns go from 1:5.7 to 1:8.5, from 600 mm to 400 mm at the "
            f"foot: as drawn the Tuscan columns are stouter than any of the orders {SPAN}.",
        ),
    ],
)
def test_columns(was: dict[str, Any], now: dict[str, Any], said: str) -> None:
    assert text(columns_changed(ordered(**was), ordered(**now))) == said


SHALLOW = "; less than the canons' fifth, it seems too shallow to carry."


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        ({}, {}, ""),
        (
            {"entablature_m": 0.85},
            {"entablature_m": 0.7},
            "The entablature is reduced from 850 mm, a quarter of the column's height, to 700 mm, "
            "1/4.9 of the column's height, within the canons' fifth to a quarter.",
        ),
        (
            {"entablature_m": 0.7},
            {"entablature_m": 0.85},
            "The entablature deepens from 700 mm, 1/4.9 of the column's height, to 850 mm, a "
            "quarter, within the canons' fifth to a quarter.",
        ),
        (
            {"entablature_m": 0.5},
            {"entablature_m": 0.6},
            "The entablature deepens from 500 mm, 1/6.8 of the column's height, to 600 mm, 1/5.7"
            + SHALLOW,
        ),
        (
            {"entablature_m": 0.5},
            {"entablature_m": 0.85},
            "The entablature deepens from 500 mm, 1/6.8 of the column's height, to 850 mm, a "
            "quarter: the canons give a fifth to a quarter, and less seems too shallow to carry.",
        ),
        (
            {"entablature_m": 1.0},
            {"entablature_m": 0.85},
            "The entablature is reduced from 1.00 m, 1/3.4 of the column's height, to 850 mm, a "
            "quarter: the canons give a fifth to a quarter, and more seems heavy.",
        ),
        (
            {"entablature_m": 0.85},
            {"entablature_m": 1.0},
            "The entablature deepens from 850 mm, a quarter of the column's height, to 1.00 m, "
            "1/3.4; more than the canons' quarter.",
        ),
        (
            {"entablature_m": 0.85},
            {"entablature_m": 0.9, "column_m": 3.6},
            "The entablature, a quarter of the column's height as before, deepens with it from "
            "850 mm to 900 mm, within the canons' fifth to a quarter.",
        ),
        (
            {"entablature_m": 0.85},
            {"entablature_m": 0.8, "column_m": 3.2},
            "The entablature, a quarter of the column's height as before, is reduced with it from "
            "850 mm to 800 mm, within the canons' fifth to a quarter.",
        ),
        (
            {"entablature_m": 0.85},
            {"entablature_m": 0.85, "column_m": 4.0},
            "The entablature stays 850 mm deep, but is 1/4.7 of the column's height where it was a "
            "quarter, within the canons' fifth to a quarter.",
        ),
    ],
)
def test_entablature(was: dict[str, Any], now: dict[str, Any], said: str) -> None:
    told = text(entablature_changed(ordered(**was), ordered(**now)))
    assert told == said.replace("1/4.9 of the column's height, within", "1/4.9, within")


def spaced(*gaps: float) -> Design:
    places = [-sum(gaps) / 2]
    for gap in gaps:
        places.append(places[-1] + gap)
    return of(porch(axes_m=tuple(places)))


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        ((3.0, 3.0, 3.0), (3.0, 3.0, 3.0), ""),
        ((2.0, 2.0, 2.0), (2.05, 2.05, 2.05), ""),  # 3 to 3.1, less than four per cent
        (
            (2.0, 2.0, 2.0),
            (1.625, 1.625, 1.625),
            "The widest clear spacing closes from 3.0 diameters to 2.2, near eustyle (2.25).",
        ),
        (
            (1.625, 2.0, 1.625),
            (2.5, 2.0, 2.5),
            "The widest clear spacing opens from 3.0 diameters to 4.0, near araeostyle (4).",
        ),
        (
            (2.0, 2.0, 2.0),
            (3.0, 3.0, 3.0),
            "The widest clear spacing opens from 3.0 diameters to 5.0, wider than any named "
            "spacing, even araeostyle (4).",
        ),
        (
            (3.0, 3.0, 3.0),
            (2.0, 2.0, 2.0),
            "The widest clear spacing closes from 5.0 diameters to 3.0, near diastyle (3); as "
            "drawn it is wider than any named spacing.",
        ),
        (
            (2.0, 2.0, 2.0),
            (1.25,) * 5,
            "Six across the front instead of four: the widest clear spacing closes from 3.0 "
            "diameters to 1.5, near pycnostyle (1.5).",
        ),
        (
            (2.0, 2.0, 2.0),
            (2.0,),
            "Two across the front instead of four: the widest clear spacing stays 3.0 diameters, "
            "near diastyle (3).",
        ),
    ],
)
def test_spacing(was: tuple[float, ...], now: tuple[float, ...], said: str) -> None:
    assert text(spacing_changed(spaced(*was), spaced(*now))) == said


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        (0.3, 0.3, ""),
        (0.3, 0.314, ""),  # less than five per cent
        (None, 0.3, ""),
        (0.3, None, ""),
        (
            0.3,
            0.45,
            "In the draughtsman's light, at 45° the cornice's shadow deepens from 300 mm to "
            "450 mm, over about three quarters of frieze and architrave",
        ),
        (
            0.45,
            0.3,
            "In the draughtsman's light, at 45° the cornice's shadow shrinks from 450 mm to "
            "300 mm, over about half of frieze and architrave",
        ),
    ],
)
def test_shadow(
    monkeypatch: pytest.MonkeyPatch, was: float | None, now: float | None, said: str
) -> None:
    depths = {"a": was, "b": now}
    monkeypatch.setattr(porch_changes, "cornice_shadow_m", lambda d, _: depths[d.name])
    monkeypatch.setattr(porch_changes, "shadow_under_corona", lambda *_: None)
    a, b = replace(DRAWN, name="a"), replace(DRAWN, name="b")
    assert text(shadow_changed(a, b, sun())) == (said and said + ".")
    assert not list(shadow_changed(a, b, None))
    if not said:
        return
    wide = replace(ordered(cornice=(Member("corona", "fillet", 0.3, 0.4, 0.4),)), name="b")
    out = ": the cornice stands out 400 mm instead of 300 mm."
    assert text(shadow_changed(a, wide, sun())) == said + out

    class Eye:
        def __init__(self, deep: float) -> None:
            self.depth_m = deep

    eyes = {"a": Eye(0.25), "b": Eye(0.35)}
    monkeypatch.setattr(porch_changes, "shadow_under_corona", lambda d, _: eyes[d.name])
    eye = ". From the corona's edge down it is 350 mm deep where it was 250 mm."
    assert text(shadow_changed(a, b, sun())) == said + eye


def test_shape_and_place() -> None:
    fields = {
        name: getattr(DRAWN.porch, name)
        for name in ("order", "axes_m", "floor_z_m", "floor_edge_m", "flight", "roof", "roof_pitch")
    }
    round_one = of(SemicircularPorch(**fields, radius_m=3.0))
    assert text(porch_changed(DRAWN, round_one)) == (
        "The porch is a half circle, where it was straight before the wall."
    )
    assert text(porch_changed(round_one, DRAWN)) == (
        "The porch is straight before the wall, where it was a half circle."
    )
    assert not list(porch_changed(DRAWN, DRAWN))
    # bays stand 4 m to both sides
    for middle, words in (
        (4.0, "4.00 m right of the front's middle, before bay 3"),
        (-4.0, "4.00 m left of the front's middle, before bay 1"),
        (2.0, "2.00 m right of the front's middle"),
        (-3.96, "3.96 m left of the front's middle, before bay 1"),
        (-3.94, "3.94 m left of the front's middle"),
    ):
        aside = of(porch(centre_m=middle, axes_m=tuple(x + middle for x in DRAWN.porch.axes_m)))
        assert text(porch_changed(DRAWN, aside)) == (
            f"The porch stands {words}, where it stood in the front's middle."
        )
        assert text(porch_changed(aside, DRAWN)) == (
            f"The porch stands in the front's middle, where it stood {words}."
        )
    near = of(porch(centre_m=0.05, axes_m=tuple(x + 0.05 for x in DRAWN.porch.axes_m)))
    assert not list(porch_changed(DRAWN, near))  # within 2 in


def test_an_order_on_the_first() -> None:
    upper = replace(DRAWN.porch, order=replace(DRAWN.porch.order, diameter_m=0.4))
    two = of(replace(DRAWN.porch, upper=upper))
    told = text(porch_changed(DRAWN, two))
    assert told == (
        "A second, lighter order stands on the first, its columns 400 mm "
        f"{upper.order.diameter_at}."
    )
    assert text(porch_changed(two, DRAWN)) == (
        "One order alone carries the porch, where two stood."
    )
    assert not list(porch_changed(two, two))


def test_what_crowns_it() -> None:
    rail = BalustradeDesign(0.63, 0.1, 0.1, 0.3, 0.12, 0.08)
    crowned = of(replace(DRAWN.porch, balustrade=rail))
    assert text(crowning_changed(DRAWN, crowned)) == (
        "A balustrade of 630 mm crowns the porch, 0.70 of the entablature's height (the books "
        "have 2/3 to 4/5)."
    )
    wall = of(replace(DRAWN.porch, balustrade=replace(rail, filling="parapet")))
    assert text(crowning_changed(DRAWN, wall)).startswith("A parapet of 630 mm crowns")
    assert text(crowning_changed(crowned, DRAWN)) == (
        "The porch goes without the balustrade over it."
    )
    assert not list(crowning_changed(crowned, wall))
    hipped = of(replace(DRAWN.porch, roof="hipped"))
    told = text(crowning_changed(DRAWN, hipped))
    assert told.startswith("The porch has a hipped roof where it had a flat roof")
    assert not list(crowning_changed(hipped, hipped))


def test_its_depth() -> None:
    for now, words in ((2.6, "deeper, 2.60 m"), (2.2, "shallower, 2.20 m")):
        other = of(porch(axis_depth_m=now))
        assert text(depth_changed(DRAWN, other)) == (
            f"The porch is {words} from wall to column axis instead of 2.40 m."
        )
    assert not list(depth_changed(DRAWN, of(porch(axis_depth_m=2.49))))  # under four per cent
    assert list(depth_changed(DRAWN, of(porch(axis_depth_m=2.51))))

"""Every limit from both sides: what lies at it passes, what lies past it is told.

Limits are the sources' numbers, written here as they write them and not read from our tables:
International Residential Code 2018 by section; Ware, The American Vignola; the books on windows and
doors named in the register; "common practice" where so marked.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from massing.design.design import Design
from massing.design.house import WingDesign
from massing.design.opening import DoorDesign, LandingDesign, Opening, ShuttersDesign, StepsDesign
from massing.design.porch import BalustradeDesign, RecessedPorch
from massing.design.roof import DeckRoof, HipRoof
from massing.design.site import GroundDesign, SiteDesign
from massing.findings.report import findings
from tests.helpers.house_designs import door_at, house, porch, window_at

INCH, FOOT = 0.0254, 0.3048


def design(
    openings: tuple[Opening, ...] = (), ground: GroundDesign | None = None, **changes: object
) -> Design:
    site = SiteDesign("Town", 32.0, -80.0, 0.0, "America/New_York", 180.0, 2026)
    given: dict = {
        "name": "test",
        "site": replace(site, ground=ground) if ground else site,
        "house": house(openings),
        "porch": porch(),
        "roof": HipRoof(0.5, 0.05, "barrel tile", "terracotta"),
    }
    return Design(**(given | changes))


def guard(height_m: float = 0.95) -> BalustradeDesign:
    """A guard of close balusters."""
    return BalustradeDesign(height_m, 0.1, 0.1, 0.3, 0.12, 0.08)


def flight(**changes: object) -> StepsDesign:
    given: dict = {"width_m": 2.6, "risers": 3, "riser_m": 0.16, "tread_m": 0.32}
    return StepsDesign(**(given | changes))


def side_door(sill_z_m: float = 0.7, **changes: object) -> Opening:
    """A door in the side wall with steps of its own, up to a landing 15 cm below it."""
    given: dict = {
        "width_m": 1.2, "risers": 3, "riser_m": 0.16, "tread_m": 0.32, "landing_m": 1.0,
    }  # fmt: skip
    return replace(
        door_at(0.0, wall="left", place="side door", sill_z_m=sill_z_m),
        door=DoorDesign(steps=LandingDesign(**(given | changes))),
    )


def wing(width_m: float = 5.0, set_back_m: float = 2.0, wall_top_z_m: float = 4.0) -> WingDesign:
    block = replace(house(), width_m=width_m, wall_top_z_m=wall_top_z_m)
    return WingDesign("left", -10.0, set_back_m, block, HipRoof(0.5, 0.05, "slate", "slate"))


def leaf(width_m: float, height_m: float, leaves: int = 1) -> Opening:
    return replace(
        door_at(leaf_width_m=width_m, leaf_height_m=height_m), door=DoorDesign(leaves=leaves)
    )


# key, what is measured, the limit, whether more than it is told, a design of any measure
LIMITS: list[tuple[str, str, float, bool, Callable[[float], Design]]] = [
    ("guard missing", "IRC R312.1.1", 30 * INCH, True,
     lambda m: design(porch=porch(floor_z_m=m))),
    ("guard low", "IRC R312.1.2", 36 * INCH, False,
     lambda m: design(porch=porch(guard=guard(m)))),
    ("riser", "IRC R311.7.5.1", 7.75 * INCH, True,
     lambda m: design(porch=porch(flight=flight(riser_m=m)))),
    ("tread", "IRC R311.7.5.2", 10 * INCH, False,
     lambda m: design(porch=porch(flight=flight(tread_m=m)))),
    ("side door riser", "IRC R311.7.5.1", 7.75 * INCH, True,
     lambda m: design((side_door(riser_m=m, sill_z_m=3 * m),))),
    ("side door tread", "IRC R311.7.5.2", 10 * INCH, False,
     lambda m: design((side_door(tread_m=m),))),
    ("landing", "IRC R311.3", 36 * INCH, False,
     lambda m: design((side_door(landing_m=m),))),
    ("landing drop", "IRC R311.3", 7.75 * INCH, True,
     lambda m: design((side_door(sill_z_m=0.48 + m),))),
    ("side door guard", "IRC R312.1.1", 30 * INCH, True,
     lambda m: design((side_door(riser_m=m / 5, risers=5, sill_z_m=m),))),
    ("stride", "common practice", 24 * INCH, False,
     lambda m: design(porch=porch(flight=flight(riser_m=0.15, tread_m=m - 0.3)))),
    ("stride", "common practice", 27 * INCH, True,
     lambda m: design(porch=porch(flight=flight(riser_m=0.15, tread_m=m - 0.3)))),
    ("egress door", "IRC R311.2", 78 * INCH, False,
     lambda m: design((leaf(1.0, m),))),
    # the leaf open square and its stop take 5 cm of the way through (common practice)
    ("egress door", "IRC R311.2", 32 * INCH + 0.05, False,
     lambda m: design((leaf(m, 2.1),))),
    ("egress door", "IRC R311.2", 2 * (32 * INCH + 0.05), False,
     lambda m: design((leaf(m, 2.1, leaves=2),))),
    ("wide leaf", "Edinburgh price book: one leaf at most 3 ft 6 in", 42 * INCH, True,
     lambda m: design((leaf(m, 2.4),))),
    ("door pair", "Edinburgh price book: two leaves from 6 ft", 6 * FOOT, False,
     lambda m: design((leaf(m, 2.4, leaves=2),))),
    ("door pair", "Edinburgh price book: two leaves to 8 ft", 8 * FOOT, True,
     lambda m: design((leaf(m, 2.4, leaves=2),))),
    ("door proportion", "Edinburgh price book: small doors 3 to 7", 2.1 * 3 / 7, False,
     lambda m: design((leaf(m, 2.1),))),
    ("door proportion", "Edinburgh price book: large doors 1 to 2", 2.0 / 2, True,
     lambda m: design((leaf(m, 2.0),))),
    ("flush wing", "common practice", 3 * FOOT, False,
     lambda m: design(house=replace(house(), wings=(wing(set_back_m=m),)))),
    ("high wing", "common practice: 0.85 of 6.3 m, from a floor at 0.7 m", 0.7 + 0.85 * 6.3, True,
     lambda m: design(house=replace(house(), wings=(wing(wall_top_z_m=m),)))),
    ("wide wing", "common practice: the main block's 14 m", 14.0, True,
     lambda m: design(house=replace(house(), wings=(wing(width_m=m),)))),
    ("wide shutters", "common practice: a leaf of 30 in, half the opening", 60 * INCH, True,
     lambda m: design((window_at(width_m=m, shutters=ShuttersDesign("louvred")),))),
    ("tall windows", "common practice: 4 ft by 8 ft 8 in", 1.05 * 2.1667, True,
     lambda m: design((window_at(height_m=m, storey=0),))),
    ("squat windows", "Salmon: the diagonal of a square", 1.05 * 2**0.5, False,
     lambda m: design((window_at(height_m=m, storey=0),))),
    ("no graduation", "an upper window as tall as the lower", 1.95 * 0.97, True,
     lambda m: design((window_at(storey=0), window_at(sill_z_m=4.6, height_m=m, storey=1)))),
    ("lowest riser", "IRC R311.7.5.1: over half a flight of 2.6 m", 0.375 * INCH / 1.3, True,
     lambda m: design(ground=GroundDesign(along=m))),
    ("lowest riser", "the same, falling to the left", 0.375 * INCH / 1.3, True,
     lambda m: design(ground=GroundDesign(along=-m))),
    ("foundation reveal", "IRC R404.1.6: a floor at 0.7 m, the back wall 9 m up the slope",
     (0.7 - 6 * INCH) / 9.0, True,
     lambda m: design(ground=GroundDesign(back=m))),
    ("couples", "Ware p. 44: half a diameter of 0.5 m clear, and a tenth", 0.5 + 0.275, True,
     lambda m: design(porch=porch(couple_axis_m=m, axes_m=(-1.0 - m, -1.0, 1.0, 1.0 + m)))),
    ("guard between couples", "IRC R312.1.3: 4 in between shafts of 0.5 m",
     0.5 + 4 * INCH - 1e-6, True,
     lambda m: design(porch=porch(guard=guard(), couple_axis_m=m,
                                  axes_m=(-1.5 - m, -1.5, 1.5, 1.5 + m)))),
    ("close spacing", "Vitruvius III.3.2: pycnostyle, 1 1/2 clear", 2.5 * 0.5, False,
     lambda m: design(porch=porch(axes_m=(-1.5 * m, -0.5 * m, 0.5 * m, 1.5 * m)))),
    ("araeostyle", "Vitruvius III.3.4: diastyle, 3 clear", 4.0 * 0.5, True,
     lambda m: design(porch=porch(axes_m=(-1.5 * m, -0.5 * m, 0.5 * m, 1.5 * m)))),
    ("wide spacing", "4 clear, by later convention", 5.0 * 0.5, True,
     lambda m: design(porch=porch(axes_m=(-1.5 * m, -0.5 * m, 0.5 * m, 1.5 * m)))),
    ("roof balustrade no guard", "IRC R312.1.2", 36 * INCH, False,
     lambda m: design(roof=DeckRoof(0.4, 0.05, "slate", "slate", deck_run_m=2.0,
                                    deck_balustrade=guard(m)))),
]  # fmt: skip
NAMES = [f"{key} {'over' if more else 'under'} {source}" for key, source, _, more, _ in LIMITS]


@pytest.mark.published
@pytest.mark.parametrize(("key", "source", "limit", "more", "made"), LIMITS, ids=NAMES)
def test_a_limit_passes_and_what_lies_past_it_is_told(
    key: str, source: str, limit: float, more: bool, made: Callable[[float], Design]
) -> None:
    told = {which: {f.key for f in findings(made(limit * which))} for which in (0.94, 1.0, 1.06)}
    assert key not in told[1.0]
    assert (key in told[1.06]) == more
    assert (key in told[0.94]) != more


@pytest.mark.published
@pytest.mark.parametrize(
    ("key", "risers", "told"),
    [("handrail", 3, False), ("handrail", 4, True)],
)
def test_four_risers_want_a_handrail(key: str, risers: int, told: bool) -> None:
    """IRC R311.7.8."""
    drawn = {f.key for f in findings(design(porch=porch(flight=flight(risers=risers))))}
    assert (key in drawn) == told
    railed = porch(flight=flight(risers=risers, rail="turned"))
    assert key not in {f.key for f in findings(design(porch=railed))}
    beside = {f.key for f in findings(design((side_door(risers=risers),)))}
    assert (f"side door {key}" in beside) == told


def test_one_step_has_no_tread_and_no_pace() -> None:
    keys = {f.key for f in findings(design(porch=porch(flight=flight(risers=1, tread_m=0.1))))}
    assert not keys & {"tread", "stride"}


def sentence(made: Design, key: str) -> str:
    return next(f.text for f in findings(made) if f.key == key)


def test_the_wall_that_water_runs_to_is_named_with_its_fall() -> None:
    """IRC R401.3: 6 in in the first 10 ft."""
    made = {
        "left wall at 1 in 40": GroundDesign(along=-0.025),
        "right wall at 1 in 40": GroundDesign(along=0.025),
        "front wall at 1 in 20": GroundDesign(back=-0.05),
        "back wall at 1 in 20": GroundDesign(back=0.05),
        "right wall at 1 in 40 and back wall at 1 in 20": GroundDesign(along=0.025, back=0.05),
    }
    for words, ground in made.items():
        text = sentence(design(ground=ground), "ground drainage")
        assert f"falls towards the {words}, and" in text
        assert "6 in in the first 10 ft" in text
    assert "ground drainage" not in {f.key for f in findings(design())}


def test_the_widest_of_a_recess_s_openings_is_the_engineer_s() -> None:
    given = {"axes_m": (-1.5, 1.5), "recess_depth_m": 2.4, "anta_axis_m": 5.5}
    straight = porch()
    fields = {
        name: getattr(straight, name)
        for name in ("order", "floor_z_m", "floor_edge_m", "flight", "roof", "roof_pitch")
    }
    recessed = RecessedPorch(**(fields | given))
    assert "up to 13'-1 1/2\" from" in sentence(design(porch=recessed), "wall over recess")
    narrow = replace(recessed, anta_axis_m=2.5)
    assert "up to 9'-10 1/8\" from" in sentence(design(porch=narrow), "wall over recess")


def test_unlike_wings_give_both_their_widths() -> None:
    left, right = wing(5.0), replace(wing(6.0), side="right", x_m=10.0)
    text = sentence(design(house=replace(house(), wings=(left, right))), "unlike wings")
    assert text == "The left wing is 16'-4 7/8\" wide, the right one 19'-8 1/4\"."
    like = replace(wing(5.0), side="right", x_m=10.0)
    keys = {f.key for f in findings(design(house=replace(house(), wings=(left, like))))}
    assert "unlike wings" not in keys


def test_a_pair_is_asked_as_a_pair_and_a_leaf_as_a_leaf() -> None:
    assert "wide leaf" not in {f.key for f in findings(design((leaf(2.0, 2.4, leaves=2),)))}
    assert "door pair" not in {f.key for f in findings(design((leaf(1.0, 2.4),)))}
    proportion = {f.key for f in findings(design((leaf(2.0, 2.4, leaves=2),)))}
    assert "door proportion" not in proportion


def test_the_wider_of_two_doors_is_the_way_out() -> None:
    small = replace(leaf(0.7, 1.9), wall="left", place="side door")
    assert "egress door" in {f.key for f in findings(design((small,)))}
    assert "egress door" not in {f.key for f in findings(design((small, leaf(1.0, 2.1))))}
    said = sentence(design((small,)), "egress door")
    assert said == (
        "The widest door opens about 2'-1 9/16\" by 6'-2 13/16\" clear; one door of a house wants "
        "2'-8\" by 6'-6\"; local codes and licensed practice decide."
    )

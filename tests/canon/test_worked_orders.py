"""Orders worked by hand: ranges of the books, origins, fitted members, and what is refused.

The totals are those of ``tests/published/test_orders.py``, which names their sources; here a fit
of round numbers is followed to its members, and each answer to the words it is given in.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from massing.canon import (
    balustrade_table,
    books,
    departures,
    fit_cornice,
    fit_order,
    plate,
    plates,
    rounded,
    spacing_axis_m,
    vitruvius,
    with_shaft,
)
from massing.canon.arcades import arcade_rule, archivolt_members, impost_members
from massing.canon.entasis import CURVES, straight, widest_at_a_third
from massing.canon.mouldings import cavetto, ovolo, scotia, stack, torus, without_repeats
from massing.canon.order import FittedCornice, Member, Ornament, beyond_face, corona_index
from massing.canon.sources import Source, cited, source, sources
from massing.canon.tables import PRACTICE, keep_own, member_of, plate_of, scaled

# --- what the books have -------------------------------------------------------------------

# order, measure: each author's own
BOOKS = [
    ("tuscan", "column", "Chambers, Gibbs, Palladio, Vignola, Vitruvius, Ware 7"),
    ("doric", "column", "Chambers, Gibbs, Palladio, Vignola, Ware 8; Vitruvius 7 to 7.5"),
    ("mutular doric", "column", "Chambers, Gibbs, Palladio, Vignola, Ware 8; Vitruvius 7 to 7.5"),
    ("ionic", "column", "Chambers, Gibbs, Palladio, Vignola, Ware 9"),
    ("corinthian", "column", "Chambers, Gibbs, Vignola, Ware 10; Palladio 9.5"),
    ("ionic", "entablature", "Chambers, Vignola, Ware 0.25; Gibbs, Palladio 0.2"),
    ("corinthian", "entablature", "Chambers, Vignola, Ware 0.25; Gibbs, Palladio 0.2"),
    ("tuscan", "neck", "Palladio, Vitruvius 0.75; Vignola 0.792"),
    ("composite", "neck", "Vignola 0.833"),
    ("tuscan", "clear", "Palladio 4; Vignola 2.33"),
    ("composite", "clear", "Palladio 1.5; Vignola 2.33"),
    ("doric", "clear", "Palladio, Vignola 2.75"),
]


@pytest.mark.parametrize(("order", "measure", "said"), BOOKS)
def test_authors_are_told_with_what_each_gives_himself(order, measure, said):
    found = getattr(books, measure)(order)
    assert found.said() == said
    ends = [end for pair in found.by_author.values() for end in pair]
    assert (found.least, found.most) == (min(ends), max(ends))
    assert len(found.sources) == len(set(found.sources)) >= len(found.by_author) - 1
    assert found.cited == cited(found.sources)
    if measure in ("neck", "clear"):  # of an author's own members
        assert not {"Ware", "Gibbs", "Chambers"} & set(found.by_author)


def test_a_range_is_written_as_it_is_asked_and_said_once_where_its_ends_agree():
    assert books.column("doric").said("{:.0f}".format) == (
        "Chambers, Gibbs, Palladio, Vignola, Ware 8; Vitruvius 7 to 8"
    )
    assert books.column("doric").sources[-2:] == ("vitruvius IV.3.4", "vitruvius V.9.3")
    for measure in (books.column, books.entablature, books.neck, books.clear):
        assert measure("pier") is None
        assert measure("gothic") is None


# --- fitting -------------------------------------------------------------------------------


def test_an_order_says_of_each_dimension_where_it_came_from():
    given = dict(fit_order("tuscan", diameter_m=0.48).origins)
    assert given == {
        "diameter_m": "given",
        "column_height_m": "7 diameters (tuscan, vignola)",
        "entablature_m": "0.25 of the column's height (tuscan, vignola)",
        "order_height_m": "column and entablature",
        "upper_diameter_m": "0.7917 of the lower diameter (tuscan, vignola)",
    }
    whole = dict(fit_order("doric", whole_height_m=6.0).origins)
    assert whole["order_height_m"] == "whole height / 1.267 (doric, vignola)"
    assert whole["column_height_m"] == "order height / 1.25 (doric, vignola)"
    assert whole["diameter_m"] == "column height / 8 (doric, vignola)"
    beam = dict(fit_order("doric", "ware", entablature_m=1.0).origins)
    assert beam["diameter_m"] == "entablature / 2 (doric, ware totals)"
    assert beam["column_height_m"] == "8 diameters (doric, ware totals)"
    shared = dict(fit_order("tuscan", order_height_m=5.0, column_height_m=4.0).origins)
    assert shared["entablature_m"] == "order height less column height"
    assert shared["diameter_m"] == "column height / 7 (tuscan, vignola)"
    left = dict(fit_order("tuscan", order_height_m=5.0, entablature_m=1.0).origins)
    assert left["column_height_m"] == "order height less entablature"
    both = dict(fit_order("tuscan", order_height_m=5.0, diameter_m=0.5).origins)
    assert (both["diameter_m"], both["order_height_m"]) == ("given", "given")
    assert both["column_height_m"] == "order height / 1.25 (tuscan, vignola)"


@pytest.mark.parametrize(
    "given",
    [
        {"entablature_m": 0.84},
        {"order_height_m": 4.2},
        {"column_height_m": 3.36},
        {"diameter_m": 0.48, "order_height_m": 4.2},
        {"entablature_m": 0.84, "order_height_m": 4.2},
    ],
)
def test_a_tuscan_order_is_the_same_from_any_of_its_sizes(given):
    """7 diameters to the column and a quarter of it on top, so 8 3/4 in all: of 480 mm, 4.2 m."""
    found = fit_order("tuscan", **given)
    sizes = (found.diameter_m, found.column_height_m, found.entablature_height_m)
    assert sizes == pytest.approx((0.48, 3.36, 0.84))
    assert found.order_height_m == pytest.approx(4.2)


def test_an_order_without_its_ornament_keeps_its_mouldings():
    whole = fit_order("corinthian", diameter_m=0.36)
    plain = whole.unadorned
    assert (plain.capital_kind, plain.flutes) == ("turned", 0)
    for group in ("architrave", "frieze", "cornice"):
        before, after = getattr(whole, group), getattr(plain, group)
        assert [(m.name, m.kind, m.height, m.foot, m.head) for m in after] == [
            (m.name, m.kind, m.height, m.foot, m.head) for m in before
        ]
        assert all(m.row is None and m.carving == "" for m in after)
    assert any(m.row for m in whole.cornice)
    assert plain.base == whole.base
    ware = fit_cornice(0.5, "corinthian")
    assert ware.unadorned.projection_m == ware.projection_m
    assert all(m.row is None and m.carving == "" for m in ware.unadorned.members)


def test_reach_beyond_a_shaft_is_from_its_face():
    members = (Member("a", "ovolo", 1.0, 5.0, 7.0), Member("b", "fillet", 2.0, 8.0, 8.0))
    assert beyond_face(members, 4.5) == (
        Member("a", "ovolo", 1.0, 0.5, 2.5),
        Member("b", "fillet", 2.0, 3.5, 3.5),
    )


def test_sums_agree_to_half_a_millimetre():
    def order(height):
        return fit_order("tuscan", column_height_m=4.0, entablature_m=1.0, order_height_m=height)

    assert order(5.00049).column_height_m == pytest.approx(4.0)
    assert order(4.99951).column_height_m == pytest.approx(4.0)
    for height in (5.0006, 4.9994):
        with pytest.raises(
            ValueError, match=r"is not its column 4\.0000 m and entablature 1\.0000"
        ):
            order(height)
    with pytest.raises(ValueError, match=r"height 6\.0000 m is not .* which make 5\.0000 m"):
        order(6.0)


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"diameter_m": 0.0}, "diameter_m must be more than nothing, got 0.0"),
        ({"column_height_m": -2.0}, "column_height_m must be more than nothing, got -2.0"),
        ({"entablature_m": 0.0}, "entablature_m must be more than nothing, got 0.0"),
        ({"order_height_m": 0.0}, "order_height_m must be more than nothing"),
        ({"order_height_m": 4.0, "column_height_m": 4.0}, "leaves nothing for the entablature"),
        ({"order_height_m": 4.0, "entablature_m": 4.0}, "4.0000 m leaves nothing for the column"),
        (
            {"column_height_m": 1.49, "diameter_m": 0.5},
            "a column 1.4900 m high is too short for its diameter of 0.5000 m; "
            "it needs at least 1.5000 m",  # base and capital of half a diameter each, shaft of two
        ),
    ],
)
def test_what_cannot_be_is_told_with_its_figures(given, words):
    with pytest.raises(ValueError) as fault:  # noqa: PT011
        fit_order("tuscan", **given)
    assert words in str(fault.value)


def test_the_shortest_column_has_a_shaft_of_two_diameters():
    assert fit_order("tuscan", column_height_m=1.5, diameter_m=0.5).shaft_height_m == pytest.approx(
        1.0
    )


def test_a_tuscan_order_is_its_parts_times_twenty():
    """480 mm thick: 12 parts to the module of 240 mm (Vignola's plate; heights in MEMBERS)."""
    found = fit_order("tuscan", diameter_m=0.48, pedestal=True)
    assert (found.order, found.canon, found.square) == ("tuscan", "vignola", False)
    assert found.upper_diameter_m == pytest.approx(0.38)  # 9 1/2 parts and 9 1/2
    assert found.shaft_height_m == pytest.approx(2.88)
    assert found.base_height_m == found.capital_height_m == pytest.approx(0.24)
    assert found.column_height_m == pytest.approx(3.36)
    assert found.entablature_height_m == pytest.approx(0.84)
    assert found.order_height_m == pytest.approx(4.2)
    assert found.pedestal_height_m == pytest.approx(56 * 0.02)
    assert found.whole_height_m == pytest.approx(4.2 + 1.12)
    assert found.cornice_projection_m == pytest.approx(0.36)
    assert found.plinth_width_m == pytest.approx(0.66)
    assert found.foot_width_m == pytest.approx(2 * max(m.reach for m in found.pedestal))
    assert found.foot_width_m > found.plinth_width_m
    bare = fit_order("tuscan", diameter_m=0.48)
    assert (bare.pedestal, bare.pedestal_height_m) == ((), 0.0)
    assert bare.foot_width_m == bare.plinth_width_m
    assert found.abacus_width_m == pytest.approx(0.58)  # 7/6 D and the fillet's half part twice
    assert (found.triglyph_width_m, found.flutes, found.flute_kind) == (0.0, 0, "")
    assert found.clear_spacing_diameters == pytest.approx(7 / 3)
    assert (found.swelled, found.diameter_at) == (False, "at the foot")
    assert found.foot_diameter_m == pytest.approx(0.48)
    assert [m.height for m in found.cornice] == pytest.approx([0.08, 0.01, 0.12, 0.01, 0.02, 0.08])


def test_a_doric_frieze_says_how_wide_its_triglyphs_are():
    assert fit_order("doric", diameter_m=0.48).triglyph_width_m == pytest.approx(0.24)
    wide = fit_order("doric", diameter_m=0.48, entablature_m=1.92)  # twice as deep
    assert wide.triglyph_width_m == pytest.approx(0.48)
    assert wide.upper_diameter_m == pytest.approx(0.4)


def test_a_whole_height_raises_the_pedestal_and_leaves_its_breadth():
    """Of 19 parts the pedestal has 4 (Vignola's Canon, read); thinner, it is as high still."""
    found = fit_order("tuscan", whole_height_m=19.0, diameter_m=1.0)
    assert found.pedestal_height_m == pytest.approx(4.0)
    canon = fit_order("tuscan", diameter_m=1.0, pedestal=True)
    for high, plain in zip(found.pedestal, canon.pedestal, strict=True):
        assert high.reach == pytest.approx(plain.reach)
        assert high.height / plain.height == pytest.approx(4.0 / canon.pedestal_height_m)


def test_an_ionic_shaft_is_lessened_both_ways():
    found = fit_order("ionic", diameter_m=0.36)
    assert (found.swelled, found.diameter_at) == (True, "at a third of the shaft")
    body = found.shaft_height_m - sum(m.height for m in found.shaft_head)
    assert 2.0 * found.shaft_radii(body / 3.0) == pytest.approx(0.36)
    assert 2.0 * found.shaft_radii(body) == pytest.approx(0.30)
    foot = sum(m.height for m in found.shaft_foot)
    assert found.foot_diameter_m == pytest.approx(2.0 * float(found.shaft_radii(foot)))
    assert found.shaft_foot[-1].head == pytest.approx(found.foot_diameter_m / 2.0)  # it springs so
    upright = replace(found, upper_diameter_m=0.36)
    assert not upright.swelled


def test_a_curve_from_the_foot_starts_over_the_mouldings_there():
    plain = fit_order("tuscan", diameter_m=0.48)
    foot = sum(m.height for m in plain.shaft_foot)
    head = sum(m.height for m in plain.shaft_head)
    assert foot == pytest.approx(0.03)
    for name in ("none", "from the base", "conchoid"):
        shaped = with_shaft(plain, entasis=name)
        assert 2.0 * shaped.shaft_radii(foot) == pytest.approx(0.48)
        top = plain.shaft_height_m - head
        assert 2.0 * shaped.shaft_radii(top) == pytest.approx(0.38)
        middle = (foot + top) / 2.0
        wanted = CURVES[name](middle - foot, top - foot, 0.24, 0.19)
        assert shaped.shaft_radii(middle) == pytest.approx(float(wanted))
    even = with_shaft(plain, entasis="none")
    assert 2.0 * even.shaft_radii((foot + plain.shaft_height_m - head) / 2.0) == pytest.approx(0.43)


def test_a_shaft_is_chosen_or_left_as_the_canon_s():
    doric, pier = fit_order("doric", diameter_m=0.48), fit_order("pier", diameter_m=0.3)
    assert with_shaft(doric) == doric
    assert with_shaft(doric, entasis="bent rule").entasis == "bent rule"
    assert with_shaft(doric, fluted=False).flute_kind == "arris"
    assert with_shaft(pier, entasis="none", fluted=False).square
    for asked in ({"entasis": "bent rule"}, {"fluted": True}):
        with pytest.raises(ValueError, match="a square pier has neither entasis nor flutes"):
            with_shaft(pier, **asked)
    with pytest.raises(
        ValueError, match="entasis 'swollen' is unknown; allowed: none, lower third"
    ):
        with_shaft(doric, entasis="swollen")


def test_departures_are_for_the_same_diameter_and_both_ways():
    thin = fit_order("doric", diameter_m=0.4, column_height_m=3.6, entablature_m=0.6)
    found = {d.name: d for d in departures(thin)}
    column = found["column height"]
    assert (column.canon_m, column.fitted_m) == pytest.approx((3.2, 3.6))
    assert column.share == pytest.approx(0.125)
    assert found["entablature height"].share == pytest.approx(-0.25)
    assert found["cornice projection"].share == pytest.approx(-0.25)
    assert set(found) == {
        "column height",
        "shaft height",
        "entablature height",
        "architrave height",
        "frieze height",
        "cornice height",
        "cornice projection",
    }
    assert departures(thin, tolerance=0.3) == []
    ware = fit_order("doric", "ware", diameter_m=0.4)
    assert departures(ware) == []  # of its own canon


def test_an_order_is_rounded_to_whole_centimetres():
    """Tuscan of 480 mm is whole in centimetres but for its quarter parts of 5 mm."""
    found = fit_order("tuscan", diameter_m=0.483)
    neat = rounded(found, 0.01)
    assert neat.diameter_m == pytest.approx(0.48)
    assert neat.upper_diameter_m == pytest.approx(0.38)
    assert neat.base_height_m == pytest.approx(0.24)
    assert [m.height for m in neat.base] == pytest.approx([0.12, 0.10, 0.02])
    assert [m.height for m in neat.capital] == pytest.approx([0.08, 0.02, 0.06, 0.06, 0.02])
    # 3.381 m: the shaft stands from 0.24 to 3.14, the capital from there to 3.38
    assert neat.column_height_m == pytest.approx(3.38)
    assert neat.shaft_height_m == pytest.approx(2.90)
    # 4.22625 m: 4.23 to the top
    assert neat.order_height_m == pytest.approx(4.23)
    assert 2.0 * neat.base[0].reach == pytest.approx(0.66)  # 664 mm across
    assert neat.cornice[-1].reach == pytest.approx(0.36)  # 362
    assert rounded(found, 1e-6).order_height_m == pytest.approx(found.order_height_m, abs=1e-6)


def test_a_cornice_alone_is_scaled_as_a_whole():
    found = fit_cornice(0.48)
    assert found.height_m == pytest.approx(0.48)
    assert found.projection_m == pytest.approx(0.54)  # 18 parts out for 16 high
    assert [m.height for m in found.members] == pytest.approx(
        [0.12, 0.015, 0.18, 0.015, 0.03, 0.12]
    )
    assert isinstance(found, FittedCornice)


def test_spacings_beside_columns_that_touch_are_of_one_triglyph():
    """However wide its triglyphs, one stands over each column."""
    deep = fit_order("doric", diameter_m=0.3, entablature_m=6.0)
    pitch = deep.frieze[0].row.spacing
    assert spacing_axis_m(deep, "pycnostyle") == (pytest.approx(pitch), None)
    assert spacing_axis_m(deep, "eustyle") == (pytest.approx(pitch), pytest.approx(2.0 * pitch))


# --- members -------------------------------------------------------------------------------


def test_the_corona_is_found_by_name_or_as_the_boldest_upright_face():
    bed, face = Member("bed mould", "ovolo", 1, 0, 2), Member("face", "fillet", 1, 9, 9)
    low, corona = Member("band", "fillet", 1, 3, 3), Member("corona", "fillet", 1, 9.5, 9.5)
    assert corona_index([bed, low, face]) == 2
    assert corona_index([face, low, bed]) == 0
    assert corona_index([bed, low, face, corona]) == 3
    assert corona_index([bed, Member("crown", "cyma recta", 1, 4, 6)]) == 1
    assert corona_index([Member("face", "fillet", 1, 2, 2), Member("top", "fillet", 1, 3, 3)]) == 0


def test_a_hollow_leaves_a_lip_and_a_bed():
    corona = Member("corona", "fillet", 1.0, 3.0, 3.5, recess=0.2)
    assert corona.hollow(1.0) == pytest.approx((1.24, 2.68))
    assert corona.reach == 3.5
    assert Member("a", "cavetto", 1.0, 4.0, 3.0).reach == 4.0


def test_a_row_s_widths_go_with_the_reach_and_its_heights_with_the_height():
    row = Ornament("mutule", 4.0, 10.0, 6.0, 2.0, 6, 0.5)
    member = Member("band", "fillet", 3.0, 1.0, 2.0, True, 0.25, row, "leaf")
    found = scaled(member, 2.0, 3.0)
    twice = Ornament("mutule", 12.0, 30.0, 18.0, 4.0, 6, 1.0)
    assert found == Member("band", "fillet", 6.0, 3.0, 6.0, True, 0.5, twice, "leaf")
    assert scaled(replace(member, row=None), 2.0, 3.0).row is None


def test_a_member_is_read_with_one_reach_or_two():
    row = {"kind": "dentil", "width": 2, "spacing": 3, "reach": 4, "height": 5}
    whole = {"name": "a", "kind": "ovolo", "height": 2, "foot": 1, "head": 3, "square": True,
             "recess": 0.5, "carving": "leaf", "row": row}  # fmt: skip
    assert member_of(whole) == Member(
        "a", "ovolo", 2.0, 1.0, 3.0, True, 0.5, Ornament("dentil", 2, 3, 4, 5), "leaf"
    )
    assert member_of({"name": "a", "kind": "fillet", "height": 2, "reach": 4}) == Member(
        "a", "fillet", 2.0, 4.0, 4.0
    )


# --- plates --------------------------------------------------------------------------------


def test_totals_of_another_author_are_laid_over_vignola_s_members():
    ware, his = plate("doric", "ware"), plate("doric")
    assert ware.authority == "ware (totals; members of vignola, scaled)"
    assert his.authority == "vignola"
    assert (ware.canon, ware.members_of, ware.source) == ("ware", "vignola", "ware pp. 8-22")
    assert (ware.clear_is_own, his.clear_is_own) == (False, True)
    assert ware.marks["shaft"] == "totals read (pp. 13-14); members of vignola, scaled"
    assert ware.marks["upper radius"] == his.marks["upper radius"]
    assert ware.entasis == "lower third straight"
    assert ware.groups["pedestal"] == his.groups["pedestal"]
    assert ware.pedestal_diameters == pytest.approx(64 / 24)
    # the taenia is his own: a twelfth of the diameter out, and what hangs from it with it
    mine, theirs = ware.groups["architrave"][-1], his.groups["architrave"][-1]
    assert mine.reach == pytest.approx(ware.diameter / 12)
    share = mine.reach / theirs.reach
    assert mine.row.reach == pytest.approx(theirs.row.reach * share)
    # his modillions are five twelfths long, from the band's face
    band = next(m for m in plate("corinthian", "ware").groups["cornice"]
                if m.row and m.row.kind == "modillion")  # fmt: skip
    assert band.row.reach - band.reach == pytest.approx(36 * 5 / 12)
    # the cornice goes out as far as he says: its members all by one share
    out = [a.reach / b.reach for a, b in zip(ware.groups["cornice"], his.groups["cornice"],
                                             strict=True) if b.reach]  # fmt: skip
    assert out == pytest.approx([out[0]] * len(out))


def test_an_entablature_alone_is_scaled_whole():
    gibbs, his = plate("ionic", "gibbs"), plate("ionic")
    assert gibbs.entablature_diameters == pytest.approx(1.8)
    for group in ("architrave", "frieze", "cornice"):
        share = gibbs.group_height(group) / his.group_height(group)
        assert share == pytest.approx(1.8 / 2.25)
        for mine, theirs in zip(gibbs.groups[group], his.groups[group], strict=True):
            assert mine.reach == pytest.approx(0.8 * theirs.reach)
    assert gibbs.groups["capital"] == his.groups["capital"]
    assert gibbs.column_diameters == pytest.approx(9.0)
    palladio = plate("composite", "palladio")
    assert (palladio.clear_is_own, palladio.clear_spacing_diameters) == (True, 1.5)
    assert palladio.entasis == "bent rule"


def test_a_pier_is_common_practice_and_what_no_canon_has_is_told():
    assert plate("pier", "ware").canon == PRACTICE == "common practice"
    assert plate("pier", PRACTICE) == plate("pier")
    with pytest.raises(
        ValueError, match=r"canon 'nobody' is unknown; allowed: chambers, gibbs, pal"
    ):
        plate("tuscan", "nobody")
    with pytest.raises(
        ValueError, match="canon 'palladio' has no order 'gothic'; allowed: composite"
    ):
        plate("gothic", "palladio")
    assert ("palladio", "pier") not in plates()
    assert ("ware", "") not in plates()


def test_a_canon_of_one_s_own_is_of_one_order():
    like = plate("doric")
    keys = ("parts_per_module", "upper_radius", "shaft_height", "groups", "shaft_foot",
            "shaft_head", "entasis", "flutes", "flute_kind", "clear_spacing_diameters")  # fmt: skip
    fields = {key: getattr(like, key) for key in keys}
    own = plate_of(mark="measured", order="doric", canon="by hand", source="practice", **fields)
    keep_own(own)
    assert plate("doric", "by hand") is own
    assert plate("tuscan", "by hand") == plate("tuscan")
    assert own.square is False
    assert set(own.marks) == set(like.marks)
    assert set(own.marks.values()) == {"measured"}


def test_a_baluster_s_belly_and_neck():
    """A third of its height across, the neck less than half of that (Ware, p. 39, read)."""
    vase = balustrade_table()
    assert vase == balustrade_table("vase")
    assert vase.belly == pytest.approx(1 / 3)
    assert vase.neck == pytest.approx(0.132)
    assert vase.source == "ware p. 39"
    assert vase.mark.startswith("read: base and cap")
    double = balustrade_table("double")
    assert (double.belly, double.neck) == pytest.approx((0.3, 0.132))
    with pytest.raises(
        ValueError, match="baluster 'bottle' is unknown; allowed: vase, double, col"
    ):
        balustrade_table("bottle")


def test_an_arcade_s_mouldings_are_in_twelfths_of_the_module():
    """One module high and a third out (Moxon, IX and XV, read); an archivolt a module broad."""
    impost, archivolt = impost_members(0.24), archivolt_members(0.24)
    assert sum(m.height for m in impost) == pytest.approx(0.24)
    assert max(m.reach for m in impost) == pytest.approx(0.08)
    assert sum(m.height for m in archivolt) == pytest.approx(0.24)
    assert [m.height for m in impost] == pytest.approx([0.07, 0.08, 0.015, 0.04, 0.035])
    assert arcade_rule("doric", pedestals=True).axis == 15.0
    assert arcade_rule("mutular doric", pedestals=False) == arcade_rule("doric", pedestals=False)
    assert arcade_rule("composite", pedestals=True) == arcade_rule("corinthian", pedestals=True)
    assert arcade_rule("pier", pedestals=False) is None
    assert arcade_rule("doric", pedestals=False).mark.startswith("read (Moxon, VII)")


# --- Vitruvius -----------------------------------------------------------------------------


def test_vitruvius_short_columns_are_of_fifteen_feet():
    """III.3.12 (read); the Roman foot 0.2957 m, from memory."""
    assert vitruvius.short_column_m() == pytest.approx(15 * 0.2957)


def test_what_vitruvius_gives_has_its_places():
    doric, corinthian = (
        vitruvius.column("doric"),
        vitruvius.column_by_spacing("corinthian", "systyle"),
    )
    assert doric.sources == ("vitruvius IV.3.4", "vitruvius V.9.3")
    assert doric.cited.endswith("V.9.3 (read)")
    assert corinthian.sources[-1] == "vitruvius IV.1.1"
    assert (corinthian.least, corinthian.most) == pytest.approx((9.5 + 2 / 3,) * 2)
    with pytest.raises(ValueError, match="spacing 'wide' is unknown; allowed: "):
        vitruvius.column_by_spacing("ionic", "wide")
    for height in (0.0, -1.0):
        with pytest.raises(ValueError, match="height must be more than nothing, got"):
            vitruvius.neck_by_height("ionic", height)
        with pytest.raises(ValueError, match="height must be more than nothing, got"):
            vitruvius.architrave_m("ionic", height, 0.5)
    always = vitruvius.architrave_m("mutular doric", 4.0, 0.6)
    assert (always.least, always.most) == pytest.approx((0.3, 0.3))  # a module (IV.3.4, read)
    assert vitruvius.neck_by_height("corinthian", 15 * 0.2957).least == pytest.approx(5 / 6)
    assert vitruvius.neck_by_height("composite", 4.0) is None


@pytest.mark.parametrize(
    ("clear", "name"),
    [(1.0, "pycnostyle"), (1.74, "pycnostyle"), (1.76, "systyle"), (2.12, "systyle"),
     (2.13, "eustyle"), (2.62, "eustyle"), (2.63, "diastyle"), (3.49, "diastyle"),
     (3.51, "araeostyle")],
)  # fmt: skip
def test_a_clear_distance_has_the_nearest_name(clear, name):
    assert vitruvius.nearest_spacing(clear) == name


# --- sources -------------------------------------------------------------------------------


def test_a_source_is_printed_with_its_mark():
    whole = Source("k", "A. Author", "A Work", "2nd ed.", "p. 3", "read")
    assert str(whole) == "A. Author, A Work, 2nd ed., p. 3 (read)"
    assert str(source("derived")) == "derived"
    assert cited("practice") == "common practice, no source"
    assert cited(["ware p. 8", "practice", "ware p. 8"]) == (
        "W. R. Ware, The American Vignola, part 1, 1920, p. 8 (read); common practice, no source"
    )
    assert sources()["ware p. 8"].author == "W. R. Ware"
    assert sources()["practice"] == source("practice")
    with pytest.raises(ValueError, match=r"source 'hearsay' is not in the register"):
        source("hearsay")


# --- curves --------------------------------------------------------------------------------


def test_an_even_taper_is_a_straight_line():
    assert straight([0.0, 1.0, 2.0, 4.0], 4.0, 0.5, 0.3) == pytest.approx([0.5, 0.45, 0.4, 0.3])


def test_the_swelling_is_level_at_a_third_and_alike_both_ways():
    at = widest_at_a_third([1.0, 2.0, 3.0, 4.0], 6.0, 0.5, 0.4)
    assert at[1] == pytest.approx(0.5)
    assert at[0] == pytest.approx(at[2])
    assert at[3] < at[2] < at[1]


def test_an_ovolo_s_and_a_cavetto_s_quarters_lie_on_their_circles():
    up, down = ovolo(1.0, 2.0, 1.0), ovolo(2.0, 1.0, 1.0)
    assert np.hypot(up[:, 0] - 1.0, up[:, 1] - 1.0) == pytest.approx(1.0)
    assert np.hypot(down[:, 0] - 1.0, down[:, 1]) == pytest.approx(1.0)
    hollow, turned = cavetto(1.0, 2.0, 1.0), cavetto(2.0, 1.0, 1.0)
    assert np.hypot(hollow[:, 0] - 2.0, hollow[:, 1]) == pytest.approx(1.0)
    assert np.hypot(turned[:, 0] - 2.0, turned[:, 1] - 1.0) == pytest.approx(1.0)
    flat = ovolo(1.0, 1.0, 1.0)
    assert flat[:, 0] == pytest.approx(1.0)


def test_a_scotia_is_two_quarters_that_meet_at_its_deepest():
    """The lower arc a third of its height, the upper two (common practice); a quarter deep."""
    edge = scotia(2.0, 1.5, 0.9, steps=16)
    deepest = edge[edge[:, 0].argmin()]
    assert deepest == pytest.approx([1.5 - 0.225, 0.3])
    lower, upper = edge[:17], edge[16:]
    wide = 2.0 - 1.275
    assert ((lower[:, 0] - 2.0) / wide) ** 2 + ((lower[:, 1] - 0.3) / 0.3) ** 2 == pytest.approx(
        1.0
    )
    assert ((upper[:, 0] - 1.5) / 0.225) ** 2 + ((upper[:, 1] - 0.3) / 0.6) ** 2 == pytest.approx(
        1.0
    )


def test_a_torus_of_two_reaches_takes_the_wider():
    edge = torus(0.4, 0.5, 0.2, steps=4)
    assert edge[:, 0].max() == pytest.approx(0.5)
    assert len(edge) == 9


def test_points_that_repeat_are_left_out_and_others_kept():
    line = np.array([[0.0, 0], [0, 0], [0, 2e-7], [0, 2.5e-7], [1, 0]])
    assert without_repeats(line).tolist() == [[0.0, 0], [0, 2e-7], [1, 0]]
    assert len(without_repeats(line, 1e-9)) == 4
    assert len(without_repeats(line, 1e-3)) == 2


def test_the_first_member_of_a_stack_has_no_drip():
    corona = Member("corona", "fillet", 1.0, 3.0, 3.0, recess=0.2)
    assert stack([corona], 5.0).tolist() == [[3.0, 5.0], [3.0, 6.0]]
    fine = stack([Member("o", "ovolo", 1.0, 1.0, 2.0)], steps=16)
    assert len(fine) == 17

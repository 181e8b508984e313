"""The canon's tables and the fit to pinned dimensions."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from massing.canon import (
    CANONS,
    ORDERS,
    FittedOrder,
    balustrade_table,
    departures,
    fit_cornice,
    fit_order,
    plates,
    rounded,
    spacing_axis_m,
    spacings,
    with_shaft,
)
from massing.canon.fit import _whole_counts
from massing.canon.mouldings import CURVES
from massing.canon.order import beyond_face

EVERY = sorted(plates())
sizes = st.floats(0.1, 2.0)


def members(fitted: FittedOrder):
    return [
        *fitted.base,
        *fitted.shaft_foot,
        *fitted.shaft_head,
        *fitted.capital,
        *fitted.architrave,
        *fitted.frieze,
        *fitted.cornice,
    ]


@pytest.mark.parametrize(("canon", "order"), EVERY)
def test_every_plate_names_known_curves_and_says_how_it_is_known(canon, order):
    table = plates()[canon, order]
    fitted = fit_order(order, canon, diameter_m=1.0)
    assert {m.kind for m in members(fitted)} <= set(CURVES)
    assert table.source
    for mark in table.marks.values():
        assert any(word in mark for word in ("read", "memory", "derived", "practice")), mark


@pytest.mark.parametrize(("canon", "order"), EVERY)
def test_each_upper_member_of_a_cornice_overhangs_the_one_beneath(canon, order):
    cornice = fit_order(order, canon, diameter_m=1.0).cornice
    reaches = [m.reach for m in cornice]
    assert reaches == sorted(reaches)


@given(
    key=st.sampled_from(EVERY),
    diameter=st.none() | sizes,
    column=st.none() | st.floats(6.0, 14.0),
    entablature=st.none() | st.floats(0.3, 3.0),
)
def test_pinned_dimensions_are_kept_and_members_sum(key, diameter, column, entablature):
    if column is not None and diameter is not None:
        column *= diameter  # in diameters, so that the shaft stays longer than its ends
    if not (diameter or column or entablature):
        return
    fitted = fit_order(
        key[1], key[0], diameter_m=diameter, column_height_m=column, entablature_m=entablature
    )
    asked = {
        "diameter_m": (diameter, fitted.diameter_m),
        "column_height_m": (column, fitted.column_height_m),
        "entablature_m": (entablature, fitted.entablature_height_m),
    }
    origins = dict(fitted.origins)
    for name, (value, got) in asked.items():
        if value is not None:
            assert got == pytest.approx(value, rel=1e-12)
            assert origins[name] == "given"
        else:
            assert origins[name] != "given"
    assert fitted.order_height_m == pytest.approx(
        fitted.column_height_m + fitted.entablature_height_m
    )


@given(key=st.sampled_from(EVERY), height=st.floats(2.0, 15.0))
def test_one_dimension_sets_the_rest(key, height):
    whole = fit_order(key[1], key[0], order_height_m=height)
    assert whole.order_height_m == pytest.approx(height, rel=1e-12)
    for again in (
        fit_order(key[1], key[0], diameter_m=whole.diameter_m),
        fit_order(key[1], key[0], column_height_m=whole.column_height_m),
        fit_order(key[1], key[0], entablature_m=whole.entablature_height_m),
    ):
        assert again.order_height_m == pytest.approx(height, rel=1e-9)
        for a, b in zip(members(whole), members(again), strict=True):
            assert (a.height, a.foot, a.head) == pytest.approx((b.height, b.foot, b.head))


def test_a_deeper_entablature_keeps_its_mouldings_shape_and_leaves_the_column():
    plain = fit_order("tuscan", diameter_m=0.4)
    deep = fit_order("tuscan", diameter_m=0.4, entablature_m=1.3 * plain.entablature_height_m)
    assert deep.capital == plain.capital
    assert deep.column_height_m == pytest.approx(plain.column_height_m)
    for a, b in zip(plain.cornice, deep.cornice, strict=True):
        assert b.height == pytest.approx(1.3 * a.height)
        assert b.reach == pytest.approx(1.3 * a.reach)


def test_a_slender_column_keeps_base_and_capital_and_stretches_its_shaft():
    plain = fit_order("doric", diameter_m=0.4)
    slender = fit_order("doric", diameter_m=0.4, column_height_m=6.0)
    assert slender.base == plain.base
    assert slender.capital == plain.capital
    assert slender.shaft_height_m == pytest.approx(6.0 - 0.4)


def test_height_and_diameter_share_the_height_as_the_canon_does():
    fitted = fit_order("tuscan", diameter_m=0.3, order_height_m=5.0)
    assert fitted.entablature_height_m / fitted.column_height_m == pytest.approx(0.25)


@pytest.mark.parametrize(
    ("given_", "words"),
    [
        ({}, "needs one dimension"),
        ({"diameter_m": -1.0}, "more than nothing"),
        (
            {"column_height_m": 4.0, "entablature_m": 1.0, "order_height_m": 5.2},
            "is not its column",
        ),
        ({"column_height_m": 4.0, "order_height_m": 3.9}, "leaves nothing for the entablature"),
        ({"entablature_m": 4.0, "order_height_m": 3.9}, "leaves nothing for the column"),
        ({"column_height_m": 1.0, "diameter_m": 0.5}, "too short"),
    ],
)
def test_what_cannot_be_is_said_in_one_line(given_, words):
    with pytest.raises(ValueError, match=words) as error:
        fit_order("tuscan", **given_)
    assert "\n" not in str(error.value)


def test_consistent_over_determined_input_is_taken():
    fitted = fit_order("tuscan", column_height_m=4.0, entablature_m=1.0, order_height_m=5.0)
    assert fitted.order_height_m == pytest.approx(5.0)


@pytest.mark.parametrize(
    ("order", "canon", "words"),
    [("egyptian", "vignola", "tuscan"), ("tuscan", "nobody", "vignola")],
)
def test_unknown_names_list_what_is_allowed(order, canon, words):
    with pytest.raises(ValueError, match=words):
        fit_order(order, canon, diameter_m=1.0)


def test_every_order_and_canon_has_its_plates():
    found = plates()
    assert {o for _, o in found} == set(ORDERS)
    assert {c for c, _ in found} - {"common practice"} == set(CANONS)
    assert {o for c, o in found if c == "vignola"} == set(ORDERS) - {"pier"}


def test_a_pier_serves_every_canon():
    for canon in CANONS:
        assert fit_order("pier", canon, diameter_m=0.4).square


@given(height=st.floats(0.1, 2.0), order=st.sampled_from(ORDERS))
def test_a_cornice_alone_has_the_height_asked(height, order):
    assert fit_cornice(height, order).height_m == pytest.approx(height, rel=1e-12)


@given(name=st.sampled_from([*spacings(), "canon"]), diameter=sizes, beam=st.floats(0.8, 1.3))
def test_doric_spacings_are_whole_triglyph_spacings(name, diameter, beam):
    fitted = fit_order("doric", diameter_m=diameter, entablature_m=2.0 * diameter * beam)
    pitch = fitted.frieze[0].row.spacing
    axis, centre = spacing_axis_m(fitted, name)
    for value in (axis, centre):
        if value is not None:
            assert value / pitch == pytest.approx(round(value / pitch), abs=1e-9)
    if centre is not None:
        assert centre > axis


def test_unknown_spacing_lists_what_is_allowed():
    with pytest.raises(ValueError, match="pycnostyle, systyle"):
        spacing_axis_m(fit_order("tuscan", diameter_m=1.0), "gothic")


@pytest.mark.parametrize("name", ["vase", "double", "column"])
def test_balustrade_tables_fill_their_height(name):
    table = balustrade_table(name)
    assert table.source
    for group in (table.baluster, table.base, table.rail):
        assert sum(m.height for m in group) == pytest.approx(1.0, abs=1e-12)
    with pytest.raises(ValueError, match="vase"):
        balustrade_table("bottle")


@given(
    key=st.sampled_from(EVERY),
    diameter=st.floats(0.2, 1.5),
    slender=st.floats(6.0, 14.0),
    step=st.sampled_from([0.0254 / 16, 0.001, 0.002]),
)
def test_rounding_keeps_members_and_sums(key, diameter, slender, step):
    fitted = fit_order(key[1], key[0], diameter_m=diameter, column_height_m=slender * diameter)
    neat = rounded(fitted, step)
    for name in ("diameter_m", "column_height_m", "entablature_height_m"):
        steps = getattr(neat, name) / step
        assert steps == pytest.approx(round(steps), abs=1e-6)
        slack = 1.6 if name == "entablature_height_m" else 0.51  # three groups, each rounded
        assert abs(steps - getattr(fitted, name) / step) < slack
    for before, after in zip(members(fitted), members(neat), strict=True):
        assert after.height / step == pytest.approx(round(after.height / step), abs=1e-6)
        assert after.height >= step * 0.999
        assert abs(after.reach - before.reach) <= 0.51 * step


def test_rounding_too_coarse_is_refused():
    with pytest.raises(ValueError, match="too coarse"):
        rounded(fit_order("doric", diameter_m=0.2), 0.05)
    with pytest.raises(ValueError, match="more than nothing"):
        rounded(fit_order("doric", diameter_m=0.2), 0.0)


def test_what_follows_the_canon_departs_from_nothing():
    for canon, order in EVERY:
        assert departures(fit_order(order, canon, order_height_m=5.0)) == []


@given(key=st.sampled_from(EVERY), height=st.floats(3.0, 12.0))
def test_the_whole_height_takes_in_the_pedestal(key, height):
    fitted = fit_order(key[1], key[0], whole_height_m=height)
    assert fitted.whole_height_m == pytest.approx(height, rel=1e-12)
    again = fit_order(key[1], key[0], diameter_m=fitted.diameter_m, pedestal=True)
    assert again.whole_height_m == pytest.approx(height, rel=1e-9)
    slim = fit_order(key[1], key[0], whole_height_m=height, diameter_m=0.9 * fitted.diameter_m)
    assert slim.whole_height_m == pytest.approx(height, rel=1e-12)
    assert slim.order_height_m == pytest.approx(fitted.order_height_m, rel=1e-12)


def test_two_heights_at_once_are_refused():
    with pytest.raises(ValueError, match="not both"):
        fit_order("tuscan", whole_height_m=5.0, order_height_m=4.0)


@pytest.mark.parametrize(
    ("name", "clear", "centre"),
    [("pycnostyle", 1.5, None), ("systyle", 2.0, None), ("diastyle", 3.0, None),
     ("eustyle", 2.25, 3.0)],
)  # fmt: skip
def test_a_spacing_is_the_clear_and_a_column(name, clear, centre):
    """Vitruvius III.3 (read), in diameters, for an order without triglyphs."""
    axis, middle = spacing_axis_m(fit_order("ionic", diameter_m=0.6), name)
    assert axis == pytest.approx((clear + 1.0) * 0.6)
    assert middle == (None if centre is None else pytest.approx((centre + 1.0) * 0.6))


def test_a_doric_spacing_is_the_nearest_count_of_triglyphs():
    """Vignola's triglyphs stand a module and a quarter of their own pitch, 2 1/2 modules, apart."""
    fitted = fit_order("doric", diameter_m=0.6)
    pitch = fitted.frieze[0].row.spacing
    assert pitch == pytest.approx(2.5 * 0.3)
    counts = {
        name: tuple(None if m is None else round(m / pitch) for m in spacing_axis_m(fitted, name))
        for name in ("pycnostyle", "systyle", "eustyle", "diastyle")
    }
    # axes of 5, 6, 6.5 and 8 modules; the middle of the eustyle 8
    assert counts == {
        "pycnostyle": (2, None),
        "systyle": (2, None),
        "eustyle": (3, 4),
        "diastyle": (3, None),
    }
    # a deep entablature has wide triglyphs: one stands over every column still
    deep = fit_order("doric", diameter_m=0.6, entablature_m=4.0)
    axis, middle = spacing_axis_m(deep, "eustyle")
    assert axis == pytest.approx(deep.frieze[0].row.spacing)
    assert middle == pytest.approx(2.0 * axis)


def test_departures_are_told_from_half_a_hundredth():
    def names(**given):
        return {d.name: d for d in departures(fit_order("tuscan", diameter_m=0.4, **given))}

    assert names(entablature_m=0.7 * 1.004) == {}
    found = names(entablature_m=0.7 * 1.006)
    assert "entablature height" in found
    assert found["entablature height"].share == pytest.approx(0.006)
    assert {"architrave height", "frieze height", "cornice height", "cornice projection"} < {*found}
    assert "column height" not in found
    raised = fit_order(
        "tuscan", diameter_m=0.4, column_height_m=3.5, entablature_m=0.7, pedestal=True
    )
    assert {d.name for d in departures(raised)} == {"column height", "shaft height"}
    taller = fit_order("tuscan", diameter_m=0.4, whole_height_m=6.0)
    [pedestal] = (d for d in departures(taller) if d.name == "pedestal height")
    assert pedestal.fitted_m == taller.pedestal_height_m


def test_every_length_of_a_rounded_order_is_a_whole_step():
    step = 0.0254 / 8
    neat = rounded(fit_order("ionic", diameter_m=0.413, pedestal=True), step)
    beam = (*neat.architrave, *neat.frieze, *neat.cornice)
    round_the_axis = (*neat.pedestal, *neat.base, *neat.shaft_foot, *neat.shaft_head, *neat.capital)
    lengths = [neat.diameter_m, neat.upper_diameter_m, neat.shaft_height_m]
    lengths += [x for m in beam for x in (m.height, m.foot, m.head)]
    lengths += [x for m in round_the_axis for x in (m.height, 2 * m.foot, 2 * m.head)]
    steps = [length / step for length in lengths]
    assert steps == pytest.approx([round(s) for s in steps], abs=1e-6)


def test_the_largest_member_takes_up_what_rounding_leaves():
    assert _whole_counts([5.4, 1.4, 1.4], 8) == [6, 1, 1]
    assert _whole_counts([1.4, 1.4, 5.4], 8) == [1, 1, 6]
    assert _whole_counts([0.2, 3.0], 3) == [1, 2]
    assert _whole_counts([2.6, 2.6, 2.8], 8) == [3, 3, 2]


def test_a_plain_plate_takes_the_doric_s_twenty_channels():
    """Twenty, meeting in arrises: Vitruvius IV.3.9; twenty-four with fillets: III.5.14."""
    plain = fit_order("tuscan", diameter_m=0.4)
    fluted = with_shaft(plain, fluted=True)
    assert (fluted.flutes, fluted.flute_kind) == (20, "arris")
    ionic = fit_order("ionic", diameter_m=0.4)
    assert (with_shaft(ionic, fluted=True).flutes, with_shaft(ionic, fluted=None).flutes) == (
        24,
        ionic.flutes,
    )
    assert with_shaft(ionic, fluted=True).flute_kind == "fillet"
    assert with_shaft(fluted, fluted=False).flutes == 0


@pytest.mark.parametrize("height", [0.0, -1.0])
def test_a_cornice_without_height_is_refused(height):
    with pytest.raises(ValueError, match="more than nothing"):
        fit_cornice(height)


def test_a_cornice_is_its_canon_s():
    vignola, his = (fit_cornice(0.5, "doric", canon) for canon in ("vignola", "palladio"))
    assert vignola != his
    assert beyond_face(vignola.members, 0.1)[0].foot == pytest.approx(vignola.members[0].foot - 0.1)

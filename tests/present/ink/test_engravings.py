"""Plates and the line drawings they are made of."""

import re

import numpy as np
import pytest

from massing.canon import fit_order, plate
from massing.cli import main
from massing.geometry.solids import box_between
from massing.parts.orders.column import column, flute_lines, shaft_profile
from massing.parts.part import Part
from massing.present.ink.engravings import (
    draw_design_plate,
    draw_plate,
    in_parts,
    save_plate,
    spread_labels,
)
from massing.present.plots.style import INK_COLOUR
from massing.study.study import read_study
from massing.view.outlines import front_lines
from tests.helpers.written_on_figures import crossed, overlapping


def block(low, high):
    return Part(("block",), "order", box_between(low, high))


def total(lines):
    return float(np.linalg.norm(lines[:, 1] - lines[:, 0], axis=1).sum())


def test_a_block_is_a_rectangle():
    lines = front_lines([block((0, 0, 0), (2, 1, 3))])
    assert total(lines) == pytest.approx(10.0, rel=1e-6)
    assert lines.reshape(-1, 2).min(axis=0) == pytest.approx([0, 0])
    assert lines.reshape(-1, 2).max(axis=0) == pytest.approx([2, 3])


def test_what_stands_behind_is_left_out():
    front = block((0, 0, 0), (2, 1, 2))
    hidden = block((0.5, 2, 0.5), (1.5, 3, 1.5))
    showing = block((1, 2, 1), (3, 3, 3))
    assert total(front_lines([front, hidden])) == pytest.approx(8.0, rel=1e-6)
    # of the third block's outline, 8 long, the 2 within the first one's front are lost
    assert total(front_lines([front, showing])) == pytest.approx(14.0, abs=0.02)


def test_a_column_is_as_wide_and_high_as_fitted():
    fitted = fit_order("tuscan", diameter_m=1.0)
    low, high = (f(front_lines(column(fitted)).reshape(-1, 2), axis=0) for f in (np.min, np.max))
    assert high - low == pytest.approx([fitted.plinth_width_m, 7.0], rel=1e-6)


@pytest.mark.parametrize("ending", ["svg", "pdf"])
def test_a_plate_is_written_whole(tmp_path, ending):
    path = tmp_path / f"tuscan.{ending}"
    save_plate("tuscan", "vignola", path)
    start = path.read_bytes()[:200]
    assert start.startswith(b"%PDF" if ending == "pdf" else b"<?xml")
    assert [p.name for p in tmp_path.iterdir()] == [path.name]


@pytest.mark.parametrize(("order", "flutes"), [("doric", 20), ("ionic", 24)])
def test_flutes_are_drawn_where_they_are_cut(order, flutes):
    """Closed lines on the shaft's surface, as far from its axis as the fluted shaft's edges."""
    fitted = fit_order(order, diameter_m=1.0)
    lines = flute_lines(fitted)
    assert len(lines) == flutes
    profile = shaft_profile(fitted)
    for line in lines:
        assert line[0] == pytest.approx(line[-1])
        radius = np.interp(line[:, 2] - fitted.base_height_m, profile[:, 1], profile[:, 0])
        assert np.linalg.norm(line[:, :2], axis=1) == pytest.approx(radius, abs=2e-4)
    width = np.ptp(np.arctan2(lines[0][:, 1], lines[0][:, 0]))
    assert width <= 2 * np.pi / flutes + 1e-9
    assert flute_lines(fit_order("tuscan", diameter_m=1.0)) == []


def test_a_plate_says_whose_members_it_shows():
    words = " ".join(t.get_text() for t in draw_plate("ionic", "gibbs").texts)
    assert "his totals, the members of Vignola scaled" in words
    own = " ".join(t.get_text() for t in draw_plate("ionic", "palladio").texts)
    assert "scaled to them" not in own
    assert "entasis: bent rule" in own


def test_every_member_and_mark_is_on_the_plate():
    figure = draw_plate("doric")
    texts = [t.get_text() for axes in figure.axes for t in axes.texts] + [
        t.get_text() for t in figure.texts
    ]
    words = " ".join(texts)
    for name in ("die", "plinth", "torus", "echinus", "abacus", "taenia", "corona", "dentil band"):
        assert name in texts
    assert "The Doric Order" in words
    assert re.search(r"Frieze: .*read", words)


def test_unknown_orders_list_what_is_allowed():
    with pytest.raises(ValueError, match="tuscan"):
        draw_plate("gothic")


def test_labels_keep_their_distance_and_their_place():
    wanted = [0.0, 0.2, 0.3, 4.0, 9.0, 9.1]
    places = spread_labels(wanted, 0.5)
    assert (np.diff(places) >= 0.5 - 1e-9).all()
    assert places[3] == 4.0
    assert np.mean(places) == pytest.approx(np.mean(wanted))


def test_parts_are_written_as_in_books():
    assert [in_parts(v) for v in (31.5, 7 / 3, 0.25, 12.0)] == ["31 1/2", "2 1/3", "1/4", "12"]


def test_a_designs_plate_has_its_sizes_beside_the_canons(tmp_path, capsys):
    scene = tmp_path / "trial.yaml"
    scene.write_text(
        "title: Trial\nunits: feet\nrounding: 1/8 in\n"
        "site: {place: Natchez, latitude: 31.56, longitude: -91.4, front_faces: S}\n"
        "house: {width: 56 ft, depth: 32 ft, storeys: [12 ft, 11 ft]}\n"
        "porch: {order: tuscan, diameter: 15 in, entablature: 24 in, entasis: conchoid}\n"
        "times: [equinox 10:00]\n"
        "alternatives: {Ionic: {porch: {order: ionic}}}\n"
    )
    out = tmp_path / "plate.svg"
    assert main(["plate", "--scene", str(scene), "--out", str(out)]) == 0
    assert out.stat().st_size > 10_000
    design = read_study(scene).designs[0]
    figure = draw_design_plate(design)
    texts = [t.get_text() for axes in figure.axes for t in axes.texts]
    assert "canon" in texts
    assert "1'-3\"" in texts  # across the foot
    assert '8"' in texts  # the frieze, eighths of an inch; by the canon 8 3/4
    assert '8 3/4"' in texts
    assert any("none here" in t for t in texts)
    for wrong, words in (
        (["plate"], "ORDER, or --scene"),
        (["plate", "tuscan", "--scene", str(scene)], "ORDER, or --scene"),
        (["plate", "--scene", str(scene), "--alternative", "Gothic"], "as drawn, Ionic"),
        (["plate", "--scene", str(scene), "--canon", "ware"], "its own canon"),
    ):
        assert main(wrong) == 2
        assert words in capsys.readouterr().err


@pytest.mark.parametrize(
    ("order", "canon"),
    [("tuscan", "palladio"), ("doric", "vignola"), ("ionic", "vignola")],
)
def test_nothing_written_on_a_plate_lies_on_other_writing_or_on_its_lines(order, canon):
    figure = draw_plate(order, canon)
    assert overlapping(figure) == []
    assert crossed(figure, {INK_COLOUR}) == []


@pytest.mark.parametrize("order", ["doric", "ionic"])
def test_a_plate_shows_its_pedestal_whole(order):
    figure = draw_plate(order)
    table = plate(order)
    widest = max(m.reach for m in table.groups["pedestal"])
    assert figure.axes[1].get_xlim()[1] > widest

import numpy as np
import pytest
import shapely
from shapely.geometry import MultiPolygon

from massing.present.drawings.heights import spread
from massing.present.drawings.items import Hatch, hatch_lines
from massing.present.drawings.lettering import Figures, chain, text_width_mm
from massing.present.drawings.scales import fitting_scale, scale_text
from massing.units import INCH_M, parse_length

FEET = Figures("feet", INCH_M / 16.0)


def test_a_chain_adds_up_though_no_length_is_on_the_step():
    places = [0.0, 0.10003, 0.20006, 0.3001, 1.2345]
    made = chain(places, 0.0, FEET, upright=False, foot=0.0, mm_m=0.001)
    parts = sum(parse_length(d.text) for d in made)
    whole = chain([places[0], places[-1]], 0.0, FEET, upright=False, foot=0.0, mm_m=0.001)
    assert parts == pytest.approx(parse_length(whole[0].text), abs=1e-9)
    assert all(parse_length(d.text) == pytest.approx(d.length_m, abs=1e-9) for d in made)


def test_text_wider_than_its_stretch_stands_aside_of_its_neighbours():
    made = chain([0.0, 0.05, 0.1, 0.15], 0.0, FEET, upright=False, foot=0.0, mm_m=0.048)
    rows = [d.text_at[1] for d in made]
    assert rows[0] != rows[1] != rows[2]


@pytest.mark.parametrize("places", [(0.0, 0.45, 3.0), (-2.5, 0.0, 0.45, 1.0), (0.0, 2.0, 2.45)])
@pytest.mark.parametrize("upright", [False, True])
def test_text_aside_is_clear_of_the_extension_line_where_there_is_room(places, upright):
    mm = 0.048
    made = chain(places, 0.0, FEET, upright=upright, foot=0.0, mm_m=mm)
    tight = next(d for d in made if d.length_m < 0.5)
    middle = tight.text_at[1 if upright else 0]
    half = 0.5 * text_width_mm(tight.text, 2.1) * mm
    ends = sorted(p[1 if upright else 0] for p in (tight.a, tight.b))
    beyond = [ends[0] > middle - half, ends[1] < middle + half]
    assert sorted(beyond) == [False, True]
    # towards the open or the longer stretch
    assert beyond[0] == (places in [(0.0, 0.45, 3.0), (-2.5, 0.0, 0.45, 1.0)])


def test_metric_figures_are_millimetres_and_levels_metres():
    metric = Figures("metric", 0.005)
    assert metric.text(1.2345) == "1235"
    assert metric.level(0.45) == "+0.450"
    assert metric.level(0.0) == "±0.000"
    assert FEET.level(parse_length("2'-4\"")) == "+2'-4\""
    assert FEET.level(parse_length("-6 in")) == "-0'-6\""


def test_scales_are_the_trades():
    assert fitting_scale((20.0, 8.0), (480.0, 300.0), "feet", 48.0) == 48.0
    assert fitting_scale((24.0, 8.0), (480.0, 300.0), "metric", 20.0) == 50.0
    assert scale_text(8, "feet") == '1 1/2" = 1\'-0"'
    with pytest.raises(ValueError, match="fits the paper at no scale"):
        fitting_scale((2000.0, 8.0), (480.0, 300.0), "metric")


def test_hatching_stays_within_its_area_and_keeps_its_distance():
    ring = shapely.Polygon(
        [(0, 0), (1, 0), (1, 1), (0, 1)], [[(0.4, 0.4), (0.6, 0.4), (0.6, 0.6), (0.4, 0.6)]]
    )
    lines = hatch_lines(Hatch("MATERIAL", MultiPolygon([ring]), ((0.0, 0.1),)))
    assert np.unique(np.round(np.diff(np.unique(np.round(lines[:, 0, 1], 6))), 6)) == pytest.approx(
        [0.1]
    )
    middles = shapely.points(lines.mean(axis=1))
    assert shapely.covers(ring.buffer(1e-9), middles).all()
    length = np.linalg.norm(lines[:, 1] - lines[:, 0], axis=1).sum()
    assert length == pytest.approx(9 + 2 - 0.2, abs=0.21)


def test_spread_keeps_order_and_distance():
    places = [3.0, 0.0, 0.1, 0.2, 9.0]
    made = spread(places, 1.0)
    order = np.argsort(places)
    assert (np.diff(np.array(made)[order]) >= 1.0 - 1e-9).all()
    assert made[4] == 9.0

"""Points, lines and measures by hand: where they lie on a front, what is made of what they meet.

The front: 50 by 30 ft, floors at 2 ft and 11 ft over it; a Tuscan porch 8 ft deep, its floor 2 in
lower, its order 11.75 ft high (Vignola: column 7, entablature 1 3/4 diameters: architrave 1 module,
frieze 7/6, cornice 4/3). Rays are asked of lamps of our own where the answer has to be known.
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from massing.design.site import SiteDesign
from massing.findings.shadow import cornice_shadow_m, cornice_shadow_most_m, shadow_under_corona
from massing.geometry.rays import Hits
from massing.shadow import lines as down
from massing.shadow.elevation import Elevation, facade_only, shadow_mask
from massing.shadow.front import Front, thinned
from massing.shadow.lines import Lines
from massing.shadow.measure import (
    in_sun,
    shade_depths,
    shade_from_start,
    shares_in_sun,
    sun_hours,
    sun_reaches,
    surface_hours,
)
from massing.shadow.study import (
    Raking,
    day_suns,
    days_of,
    facade_grid,
    measure,
    raking_calendar,
    raking_day,
    sky_view,
    soft_edge_m,
    year_of,
    year_suns,
)
from massing.shadow.study import thinned as same_thinned
from massing.shadow.surfaces import ARCHITRAVE, FRIEZE, Surface, front_openings
from massing.sun.position import front_day, sun_time, sun_times, to_house_frame
from tests.findings.test_change_words import sun
from tests.shadow.test_front import SCENE, front_of

FOOT, INCH = 0.3048, 0.0254
DIAMETER_M = 11.75 * FOOT / 8.75
FLOOR_M = 22 * INCH
SOFFIT_M = FLOOR_M + 7 * DIAMETER_M
NECK_M = DIAMETER_M * 9.5 / 12  # Vignola's Tuscan


@pytest.fixture(scope="module")
def front() -> Front:
    return front_of(SCENE)


def line(front: Front, name: str) -> Lines:
    return next(each for each in (*front.shade, *front.reach) if each.name == name)


# --- lines ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "length_m", "step_m"),
    [
        (FRIEZE, 7 / 12 * DIAMETER_M, 0.01),
        (ARCHITRAVE, DIAMETER_M / 2, 0.01),
        (down.SHAFTS, None, 0.01),
        (down.WALL_IN_PORCH, 7.5 * DIAMETER_M, 0.01),
        (down.UNDER_CORONA, None, 0.002),
        (down.FLOOR, 8 * FOOT + 0.6875 * DIAMETER_M + 3 * INCH, 0.01),
    ],
)
def test_points_down_a_line(front: Front, name: str, length_m: float | None, step_m: float) -> None:
    """A millimetre from both ends, an even step no longer than asked; thrice as long from 6 m."""
    made = line(front, name)
    if length_m is not None:
        assert made.length_m == pytest.approx(length_m)
    assert made.along_m[0] == pytest.approx(0.001)
    assert made.along_m[-1] == pytest.approx(made.length_m - 0.001)
    steps = np.diff(made.along_m)
    assert np.ptp(steps) < 1e-9
    most = step_m * min(max(made.length_m / 2.0, 1.0), 3.0)
    assert most * 0.8 < steps[0] <= most + 1e-9
    assert made.points.shape == (*made.valid.shape, 3)


def stations(made: Lines) -> np.ndarray:
    xs = np.where(made.valid, made.points[..., 0], np.nan)
    with np.errstate(all="ignore"):
        return np.nanmedian(xs[made.valid.any(axis=1)], axis=1)


def test_where_the_lines_stand(front: Front) -> None:
    axes = np.array(front.design.porch.axes_m)
    ends = axes[-1] + NECK_M / 2
    for name, apart in ((FRIEZE, 0.05), (ARCHITRAVE, 0.05), (down.UNDER_CORONA, 0.1)):
        xs = stations(line(front, name))
        count = math.ceil(2 * ends / apart - 1e-9)
        assert len(xs) == count
        assert xs[0] == pytest.approx(-ends + ends / count)
        assert np.diff(xs) == pytest.approx([2 * ends / count] * (count - 1))
    assert stations(line(front, down.SHAFTS)) == pytest.approx(axes)
    floor = stations(line(front, down.FLOOR))
    edge = axes[-1] + 0.6875 * DIAMETER_M + 3 * INCH
    count = math.ceil(2 * edge / 0.15)
    assert floor == pytest.approx(-edge + (np.arange(count) + 0.5) * 2 * edge / count)


def test_lines_down_the_entablature_start_under_cornice_and_corona(front: Front) -> None:
    order = front.design.porch.order
    for name, top_m in (
        (FRIEZE, SOFFIT_M + 13 / 12 * DIAMETER_M),
        (ARCHITRAVE, SOFFIT_M + DIAMETER_M / 2),
    ):
        made = line(front, name)
        assert made.points[made.valid][:, 2].max() == pytest.approx(top_m - 0.001)
    made = line(front, down.UNDER_CORONA)
    names = [m.name for m in order.cornice]
    bed = sum(m.height for m in order.cornice[: names.index("corona")])
    top = SOFFIT_M + 13 / 12 * DIAMETER_M + bed
    assert made.length_m == pytest.approx(top - SOFFIT_M)
    shafts = line(front, down.SHAFTS)
    assert shafts.length_m == pytest.approx(order.shaft_height_m)
    high = SOFFIT_M - order.capital_height_m
    assert shafts.points[shafts.valid][:, 2].max() == pytest.approx(high - 0.001)


def test_lines_down_the_wall_are_clear_of_openings(front: Front) -> None:
    """By 200 mm; under the eaves clear of a porch as high, by its cornice and 150 mm more."""
    design = front.design
    house = design.house
    upper = line(front, down.WALL_UNDER_EAVES)
    top = house.wall_top_z_m - house.cornice.height_m
    assert upper.length_m == pytest.approx(top - house.storey_floors_z_m[1])
    assert upper.points[upper.valid][:, 2].max() == pytest.approx(top - 0.001)
    within = line(front, down.WALL_IN_PORCH)
    for made, storey in ((upper, 1), (within, 0)):
        xs = stations(made)
        for o in front_openings(design):
            if o.storey == storey:
                assert (np.abs(xs - o.along_m) > o.width_m / 2 + 0.2 - 1e-9).all()
    width = 50 * FOOT
    every = -width / 2 + (np.arange(math.ceil(width / 0.15)) + 0.5) * width / math.ceil(
        width / 0.15
    )
    porch = design.porch
    assert porch.top_z_m > house.storey_floors_z_m[1]
    beside = porch.axes_m[-1] + NECK_M / 2 + porch.order.cornice_projection_m + 0.15
    kept = [
        x
        for x in every
        if all(
            abs(x - o.along_m) > o.width_m / 2 + 0.2
            for o in front_openings(design)
            if o.storey == 1
        )
        and abs(x) > beside
    ]
    assert stations(upper) == pytest.approx(kept)
    ends = design.porch.axes_m[-1] + NECK_M / 2 - NECK_M
    assert np.abs(stations(within)).max() < ends
    assert within.points[within.valid][:, 2].min() == pytest.approx(FLOOR_M + 0.001, abs=0.15)


# --- surfaces ------------------------------------------------------------------------------------


def test_where_the_points_lie(front: Front) -> None:
    by = {s.name: s for s in front.surfaces}
    porch, house = front.design.porch, front.design.house
    ends = porch.axes_m[-1] + NECK_M / 2
    levels = {
        "frieze": (SOFFIT_M + DIAMETER_M / 2, SOFFIT_M + 13 / 12 * DIAMETER_M),
        "architrave": (SOFFIT_M, SOFFIT_M + DIAMETER_M / 2),
        "columns": (FLOOR_M, SOFFIT_M),
        "wall, first floor": (24 * INCH, 24 * INCH + 11 * FOOT),
        "wall, second floor": (24 * INCH + 11 * FOOT, house.wall_top_z_m),
    }
    for name, (low, high) in levels.items():
        z = by[name].points[:, 2]
        assert low - 1e-6 <= z.min() < low + 0.05, name
        assert high - 0.05 < z.max() <= high + 1e-6, name
    for name in ("frieze", "architrave"):
        x = by[name].points[:, 0]
        assert (x.min(), x.max()) == pytest.approx((-ends, ends), abs=0.02)
        assert np.abs(x).max() <= ends + 1e-6
        assert len(x) == 4096
    half = 0.6875 * DIAMETER_M
    columns = by["columns"].points
    near = np.abs(columns[:, :1] - np.array(porch.axes_m)).min(axis=1)
    assert near.max() <= half + 1e-6
    assert near.max() > half * 0.9
    assert set(np.abs(columns[:, :1] - np.array(porch.axes_m)).argmin(axis=1)) == {0, 1, 2, 3}
    for o in front_openings(front.design):
        floor = "first floor" if o.storey == 0 else "second floor"
        found = by[f"{o.place}, {floor}"].points
        assert np.abs(found[:, 0] - o.along_m).max() <= o.width_m / 2 + 1e-6
        assert np.abs(found[:, 0] - o.along_m).max() > o.width_m / 2 - 0.02
        assert (found[:, 2].min(), found[:, 2].max()) == pytest.approx(
            (o.sill_z_m, o.head_z_m), abs=0.02
        )
    floor = by["porch floor"].points
    edge = porch.axes_m[-1] + half + 3 * INCH
    assert np.abs(floor[:, 0]).max() == pytest.approx(edge, abs=0.02)
    assert floor[:, 1].min() == pytest.approx(-8 * FOOT - half - 3 * INCH, abs=0.02)
    assert floor[:, 1].max() == pytest.approx(-1.5 * INCH, abs=0.02)  # the water table
    assert np.abs(floor[:, 2] - FLOOR_M).max() < 0.05


def test_thinned_points_are_the_first(front: Front) -> None:
    thin = thinned(front, 100)
    assert same_thinned is thinned
    for few, many in zip(thin.surfaces, front.surfaces, strict=True):
        assert few.name == many.name
        assert np.array_equal(few.points, many.points[:100])
        assert np.array_equal(few.normals, many.normals[:100])


# --- measures by lamps of our own ----------------------------------------------------------------


class Lamps:
    """A caster of which the light at each point is known: ``light(points, k)`` at the k-th sun."""

    def __init__(self, light: Any) -> None:
        self.light, self.asked = light, []

    def lit(self, points: Any, normals: Any, to_sun: Any) -> np.ndarray:
        return self.light(np.asarray(points), 0)

    def lit_by_each(self, points: Any, normals: Any, to_suns: Any) -> np.ndarray:
        self.asked.append(len(points))
        return np.array([self.light(points, k) for k in range(len(to_suns))])

    def lit_sums(self, points: Any, normals: Any, to_suns: Any, hours: Any) -> np.ndarray:
        self.asked.append(len(points))
        lit = np.array([self.light(points, k) for k in range(len(to_suns))], dtype=float)
        return lit.T @ np.asarray(hours, dtype=float)


def faced(count: int, light: Any, names: tuple[str, ...] = ("face",)) -> Any:
    """A front of surfaces whose points are numbered in x."""
    points = np.zeros((count, 3))
    points[:, 0] = np.arange(count)
    surfaces = tuple(Surface(name, points, np.zeros((count, 3))) for name in names)
    return SimpleNamespace(surfaces=surfaces, caster=Lamps(light))


def test_what_is_all_in_sun_is_asked_once() -> None:
    made = faced(4096, lambda p, k: np.full(len(p), k == 0))
    share = shares_in_sun(made, [[0, 0, 1]] * 2)["face"]
    assert share.mean.tolist() == [1.0, 0.0]
    assert share.within.tolist() == [0.0, 0.0]
    assert made.caster.asked == [512]


def test_points_are_doubled_until_a_share_is_close() -> None:
    """Twice the spread of eight blocks' means over the root of eight; a hundredth is close."""
    made = faced(4096, lambda p, k: p[:, 0] % 2 == 0)  # alike in every block
    share = shares_in_sun(made, [[0, 0, 1]])["face"]
    assert (share.mean[0], share.within[0]) == (0.5, 0.0)
    assert made.caster.asked == [512]
    made = faced(3000, lambda p, k: p[:, 0] < 300)  # never alike: all of them are asked
    share = shares_in_sun(made, [[0, 0, 1]])["face"]
    assert made.caster.asked == [512, 512, 1024, 952]
    assert share.mean[0] == pytest.approx(300 / 3000)
    blocks = np.array([300, 0, 0, 0, 0, 0, 0, 0]) / 375
    assert share.within[0] == pytest.approx(2 * blocks.std(ddof=1) / math.sqrt(8))
    loose = faced(3000, lambda p, k: p[:, 0] < 300)
    shares_in_sun(loose, [[0, 0, 1]], wanted=1.0)
    assert loose.caster.asked == [512]
    few = faced(5, lambda p, k: p[:, 0] < 2)
    share = shares_in_sun(few, [[0, 0, 1]])["face"]
    assert (share.mean[0], few.caster.asked) == (0.4, [5])
    assert share.within[0] == pytest.approx(2 * np.std([1, 1, 0, 0, 0], ddof=1) / math.sqrt(5))
    one = faced(1, lambda p, k: p[:, 0] < 2)
    assert shares_in_sun(one, [[0, 0, 1]])["face"].within[0] == pytest.approx(2.0)


def test_each_surface_has_its_own_share() -> None:
    made = faced(100, lambda p, k: p[:, 0] < 25 * (k + 1), ("one", "other"))
    found = in_sun(made, [[0, 0, 1]] * 3)
    assert found["one"].tolist() == found["other"].tolist() == [0.25, 0.5, 0.75]
    uneven = replace(made.surfaces[1], points=made.surfaces[1].points[:50])
    uneven = replace(uneven, normals=uneven.normals[:50])
    made.surfaces = (made.surfaces[0], uneven)
    assert in_sun(made, [[0, 0, 1]])["other"].tolist() == [0.5]


def test_hours_are_those_each_sun_stands_for() -> None:
    made = faced(512, lambda p, k: np.full(len(p), k != 1))
    found = surface_hours(made, [[0, 0, 1]] * 3, [[1.0, 0.0], [2.0, 5.0], [0.0, 4.0]])
    assert found["face"].mean.tolist() == [1.0, 4.0]
    assert found["face"].within.tolist() == [0.0, 0.0]


def test_hours_on_an_elevation_are_of_the_front_alone() -> None:
    parts = tuple(
        SimpleNamespace(path=path, within=lambda *where, path=path: path[: len(where)] == where)
        for path in (("house", "wall"), ("house", "roof"), ("setting", "tree"), ("porch", "shaft"))
    )
    owner = np.array([[0, 1, 2], [3, -1, 0]])
    points = np.zeros((2, 3, 3))
    points[..., 0] = [[0, 1, 2], [3, 4, 5]]
    seen = Elevation(np.arange(3.0), np.arange(2.0), points, points, owner, parts)
    lamps = Lamps(lambda p, k: p[:, 0] != 5 if k else np.full(len(p), True))
    hours = sun_hours(lamps, seen, [[0, 0, 1]] * 2, [[1.0], [2.0]])
    nothing = np.nan
    expected = [[3.0, nothing, nothing], [3.0, nothing, 1.0]]
    assert np.array_equal(hours[0], expected, equal_nan=True)
    assert [facade_only(part) for part in parts] == [True, False, False, True]
    mask = shadow_mask(lamps, seen, [0, 0, 1])
    assert mask.tolist() == [[True, True, True], [True, False, True]]


def ruled(edges: list[float], valid: Any = True, length_m: float = 1.0) -> tuple[Lamps, Lines]:
    """Lines whose sun begins so far down each."""
    along = np.linspace(0.001, length_m - 0.001, 101)
    points = np.zeros((len(edges), len(along), 3))
    points[..., 0], points[..., 2] = np.arange(len(edges))[:, None], along
    kept = np.broadcast_to(valid, points.shape[:2]).copy()

    def see(rows: Any, far: Any) -> tuple[Hits, np.ndarray]:
        met = np.zeros((len(rows), 3))
        met[:, 0], met[:, 2] = rows, far
        return SimpleNamespace(points=met, normals=met), np.full(len(rows), True)

    lamps = Lamps(lambda p, _: p[:, 2] >= np.array(edges)[p[:, 0].astype(int)])
    return lamps, Lines("face", points, points, kept, along, length_m, see)


def test_the_edge_of_shade_is_closed_in_on() -> None:
    """To a thousandth of a millimetre; nothing where the sun is at the start, else the whole."""
    edges = [0.0, 0.0005, 0.123456, 0.5, 0.998, 2.0]
    lamps, lines = ruled(edges)
    depth = shade_from_start(lamps, lines, [0, 0, 1])
    assert depth == pytest.approx([0.0, 0.0, 0.123456, 0.5, 0.998, 1.0], abs=1e-6)


def test_a_face_begins_where_it_is_met() -> None:
    valid = np.full((2, 101), True)
    valid[:, :31] = False  # the first point of the face is the 32nd
    lamps, lines = ruled([0.2, 0.7], valid)
    assert shade_from_start(lamps, lines, [0, 0, 1]) == pytest.approx([0.0, 0.7], abs=1e-6)


def test_depths_over_the_lines() -> None:
    lamps, lines = ruled([0.1, 0.2, 0.2, 0.6, 2.0, 2.0])
    front = SimpleNamespace(caster=lamps, shade=(lines,), reach=(lines,))
    [deep] = shade_depths(front, [0, 0, 1])
    assert (deep.name, deep.length_m) == ("face", 1.0)
    assert (deep.least_m, deep.most_m) == pytest.approx((0.1, 1.0), abs=1e-6)
    assert deep.mean_m == pytest.approx((0.1 + 0.2 + 0.2 + 0.6 + 2.0) / 6, abs=1e-6)
    assert deep.middle_m == pytest.approx(0.4, abs=1e-6)
    assert deep.whole == pytest.approx(2 / 6)
    [far] = sun_reaches(front, [0, 0, 1])
    assert (far.least_m, far.most_m) == pytest.approx((0.0, 0.9), abs=1e-6)
    assert far.middle_m == pytest.approx(0.6, abs=1e-6)
    assert far.whole == 0.0
    lamps, lines = ruled([0.0, 0.5])
    [far] = sun_reaches(SimpleNamespace(caster=lamps, reach=(lines,)), [0, 0, 1])
    assert far.whole == 0.5  # the sun reaches the wall over half of the floor's width


# --- grids ---------------------------------------------------------------------------------------


def test_a_front_s_grid_is_even_and_covers_it(front: Front) -> None:
    design = front.design
    xs, zs = facade_grid(design, 5000)
    step = xs[1] - xs[0]
    half = 25 * FOOT + design.house.cornice.projection_m
    assert step == pytest.approx(math.sqrt(2 * half * design.house.wall_top_z_m / 5000))
    assert np.diff(xs) == pytest.approx([step] * (len(xs) - 1))
    assert np.diff(zs) == pytest.approx([-step] * (len(zs) - 1))
    assert xs[0] == pytest.approx(-half + step / 2)
    assert half - step <= xs[-1] < half
    assert zs[0] == pytest.approx(design.house.wall_top_z_m - step / 2)
    assert 0.0 < zs[-1] <= step


def test_a_sky_is_cut_into_even_cells(front: Front) -> None:
    view = sky_view(front, "frieze", step_deg=15.0)
    assert view.altitude_edges_deg.tolist() == [15.0 * k for k in range(7)]
    assert view.azimuth_edges_deg.tolist() == [15.0 * k for k in range(25)]
    assert view.share.shape == (6, 24)
    assert (view.design, view.surface) == (front.design.name, "frieze")


def test_the_soft_edge_of_a_shadow() -> None:
    """The sun's disc of 0.53 degrees, from the cornice's edge to the wall along the ray.

    Of a sun straight before the front at a height h a shadow of depth d is thrown by what stands
    out d / tan h; the ray is d / sin h long, and its edge is spread over r / cos h of the wall.
    """
    for height in (30.0, 45.0, 60.0):
        h = math.radians(height)
        straight = replace(sun(), direction=(0.0, -math.cos(h), math.sin(h)))
        disc = 2 * math.tan(math.radians(0.533 / 2))
        wanted = 0.4 / math.sin(h) * disc / math.cos(h)
        assert soft_edge_m(0.4, straight) == pytest.approx(wanted, rel=0.01)


# --- suns of a day and a year --------------------------------------------------------------------

PLACE = SiteDesign("Nowhere", 41.0, -74.0, 0.0, "America/New_York", 160.0, 2026)


def test_suns_of_a_day_are_those_on_the_front() -> None:
    """Every ten minutes of the clock, or as asked; of a front that looks away none."""
    day = date(2026, 3, 20)
    spell = front_day(day, PLACE)
    for asked, step in (((), 10), ((30,), 30)):
        suns = day_suns(day, PLACE, *asked)
        clocks = [each.when for each in suns]
        minutes = timedelta(minutes=step)
        assert {b - a for a, b in pairwise(clocks)} == {minutes}
        assert timedelta(0) <= clocks[0] - spell.first_sun < minutes
        assert timedelta(0) <= spell.last_sun - clocks[-1] < minutes
        assert clocks[0].minute % step == 0
        assert days_of(suns) == [day]
    assert day_suns(date(2026, 12, 21), replace(PLACE, front_azimuth_deg=0.0)) == []
    two = [*day_suns(date(2026, 3, 21), PLACE, 180), *day_suns(day, PLACE, 180), sun()]
    assert days_of(two) == [day, date(2026, 3, 21)]


def test_suns_of_a_year_stand_for_all_of_it() -> None:
    """186.4 days from the March equinox to September's, 178.6 on; half of them light, and more."""
    tilt = np.arcsin(math.sin(math.radians(23.44)) * np.sin(np.linspace(0, math.pi, 181)))
    for site, summer in ((PLACE, 186.4), (replace(PLACE, latitude_deg=-41.0), 178.6)):
        suns = year_suns(site, 97)
        assert suns.days == pytest.approx((summer, 365 - summer), abs=0.1)
        assert suns.daylight_h.sum() == pytest.approx(365 * 12, rel=0.02)
        half = 12 + 2 / 15 * np.degrees(np.arcsin(np.tan(math.radians(41)) * np.tan(tilt))).mean()
        # and some minutes by the air, which lifts the sun at the horizon
        assert 0.0 < suns.daylight_h[0] / suns.days[0] - half < 0.3
        assert 0.0 < suns.daylight_h[1] / suns.days[1] - (24 - half) < 0.3
        assert suns.hours.sum(axis=1) == pytest.approx([97 / 60] * len(suns.hours))
        assert (suns.to_sun[:, 2] > 0).all()
        facing = -suns.to_sun[:, 1] > 0
        assert suns.on_front_h == pytest.approx(suns.hours[facing].sum(axis=0))
    usual = year_suns(PLACE)
    assert usual.hours.sum(axis=1) == pytest.approx([53 / 60] * len(usual.hours))


def test_what_is_measured_at_a_moment(front: Front) -> None:
    site = front.design.site
    lit, behind, night = (
        sun_time(text, site)
        for text in ("equinox 10:00", "summer solstice 18:30", "summer solstice 23:30")
    )
    few = thinned(front, 600)
    one, two, three = measure(few, [lit, behind, night])
    assert (one.design, one.sun, two.sun, three.sun) == (front.design.name, lit, behind, night)
    assert one.cornice_rule_m == cornice_shadow_m(front.design, lit)
    assert one.cornice_rule_most_m == cornice_shadow_most_m(front.design, lit)
    assert one.under_corona == shadow_under_corona(front.design, lit)
    assert one.soft_edge_m == soft_edge_m(one.cornice_rule_m, lit)
    assert one.shade == shade_depths(few, lit.direction)
    assert one.reach == sun_reaches(few, lit.direction)
    shares = shares_in_sun(few, [each.direction for each in (lit, behind, night)])
    assert one.in_sun == {name: float(share.mean[0]) for name, share in shares.items()}
    assert one.within == {name: float(share.within[0]) for name, share in shares.items()}
    assert one.in_sun["columns"] > 0.1
    assert (two.cornice_rule_m, two.soft_edge_m, two.shade) == (None, None, ())
    assert len(two.reach) == 1
    assert two.in_sun["frieze"] == 0.0
    assert (three.reach, set(three.in_sun.values())) == ((), {0.0})
    assert measure(few, []) == []


def test_a_year_on_a_front(front: Front) -> None:
    suns = year_suns(PLACE, 2801)
    few = thinned(front, 100)
    year = year_of(few, suns, 300)
    assert year.design == front.design.name
    wanted = 0.05 * min(suns.days)
    found = surface_hours(few, suns.to_sun, suns.hours, wanted)
    for name, hours in found.items():
        assert year.surfaces[name] == pytest.approx(hours.mean)
        assert year.within[name] == pytest.approx(hours.within)
    xs, zs = facade_grid(front.design, 300)
    assert year.map_h.shape == (2, len(zs), len(xs))
    assert np.array_equal(year.elevation.x_m, xs)
    assert np.array_equal(year.elevation.z_m, zs)
    direct = sun_hours(few.caster, year.elevation, suns.to_sun, suns.hours)
    assert np.array_equal(year.map_h, direct, equal_nan=True)
    assert (np.nanmax(year.map_h, axis=(1, 2)) <= suns.daylight_h + 1e-9).all()


def test_the_best_raking_light_is_the_strongest_of_its_day() -> None:
    """To the whole minute within the spells of raking light, none stronger in them."""
    day = date(2026, 4, 21)
    made = raking_day(day, PLACE)
    best = made.best
    assert made.day == front_day(day, PLACE)
    assert any(a <= best.when <= b for a, b in made.day.raking)
    assert (best.when.second, best.when.microsecond) == (0, 0)
    for a, b in made.day.raking:
        for share in np.linspace(0.02, 0.98, 25):
            other = sun_times([a + share * (b - a)], PLACE)[0]
            assert other.dni_w_m2 <= best.dni_w_m2 + 0.5
    months = raking_calendar(PLACE, 20)
    assert [each.day.day for each in months] == [date(2026, m, 20) for m in range(1, 13)]
    assert raking_calendar(PLACE)[0].day.day == date(2026, 1, 21)
    north = raking_day(date(2026, 12, 21), replace(PLACE, front_azimuth_deg=0.0))
    assert (north.best, north.from_where) == (None, "")


@pytest.mark.parametrize(
    ("direction", "where"),
    [
        ((0.3, -0.6, 0.74), "above"),
        ((0.8, -0.3, 0.5), "the right"),
        ((-0.8, -0.3, 0.5), "the left"),
        ((-0.6, -0.53, 0.6), "the left"),  # no higher than it stands aside
    ],
)
def test_where_raking_light_comes_from(direction: tuple[float, float, float], where: str) -> None:
    day = front_day(date(2026, 4, 21), PLACE)
    assert Raking(day, replace(sun(), direction=direction)).from_where == where


def test_a_sky_is_of_a_surface_that_there_is(front: Front) -> None:
    with pytest.raises(ValueError, match=r"'attic' is not a surface .*: frieze; architrave; col"):
        sky_view(front, "attic")
    view = sky_view(front, "windows, second floor", step_deg=30.0)
    chosen = [s for s in thinned(front).surfaces if s.name.endswith("second floor")]
    windows = replace(front, surfaces=tuple(s for s in chosen if s.name.startswith("window")))
    middle = to_house_frame(15.0, 45.0 + 120.0, front.design.site.front_azimuth_deg)
    shares = [share[0] for share in in_sun(windows, [middle]).values()]
    assert view.share[0, 5] == pytest.approx(np.mean(shares))

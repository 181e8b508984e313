"""Tables of sun and shadow, of moments made by hand: every figure in its place and its words."""

from __future__ import annotations

import csv
import io
import json
import re
from dataclasses import replace
from datetime import UTC, date, datetime

import numpy as np
import pytest
from rich.console import Console

from massing.design.site import SiteDesign
from massing.findings.shadow import UnderCorona
from massing.practice.cautions import CAUTION
from massing.present.reports import shadow_tables as tables
from massing.shadow.measure import Depth
from massing.shadow.study import Moment, Raking, Year, YearSuns
from massing.sun.position import FrontDay, SunTime, front_light

NOON = SunTime(
    "equinox 10:00", datetime(2026, 3, 20, 10, 0, tzinfo=UTC), 40.0, 150.0, (0.383, -0.663, 0.643),
    True, 48.0, 45.0, 800.0, 100.0,
)  # fmt: skip
CONVENTIONAL = replace(NOON, label="conventional light", when=None)
BEHIND = replace(
    NOON, label="equinox 18:00", on_front=False, profile_angle_deg=None, note="the sun is behind"
)
DOWN = replace(BEHIND, label="midnight", altitude_deg=-20.0, note="the sun is down")


def depth(name, mean, least=None, most=None, whole=0.0):
    low, high = mean if least is None else least, mean if most is None else most
    return Depth(name, low, mean, high, mean, whole, 1.0)


def moment(design="as drawn", sun=NOON, **changes):
    plain = Moment(
        design, sun, 0.4, 0.009,
        (depth("frieze", 0.21, 0.2, 0.25),), (depth("floor, middle", 1.5),),
        {"frieze": 0.25, "window 1, first floor": 0.2, "window 2, first floor": 0.4},
        {"frieze": 0.008, "window 1, first floor": 0.005, "window 2, first floor": 0.006},
        0.4, UnderCorona(0.45, "dentil band"),
    )  # fmt: skip
    return replace(plain, **changes)


def printed(do, *arguments):
    out = io.StringIO()
    do(Console(file=out, width=160, color_system=None, markup=False), *arguments)
    return out.getvalue()


def cells(text, name):
    line = next(row for row in text.splitlines() if row.startswith(name))
    return [cell for cell in re.split(r"\s{2,}", line[len(name) :].strip()) if cell]


def test_each_design_has_a_column_and_what_changes_is_told():
    deeper = moment("Tuscan", cornice_rule_m=0.55, cornice_rule_most_m=0.7, under_corona=None)
    less = moment(
        "Ionic",
        cornice_rule_m=0.3,
        cornice_rule_most_m=0.3,
        soft_edge_m=None,
        shade=(),
        reach=(),
        in_sun={},
    )
    text = printed(tables.print_moments, [moment(), deeper, less], "metric")
    assert text.startswith("equinox 10:00 · ")
    assert cells(text, "cornice shadow by the profile angle") == [
        "400 mm",
        "550 mm (+150 mm)",
        "300 mm (−100 mm)",
    ]
    assert cells(text, "… between and under its brackets") == ["–", "550 mm to 700 mm", "–"]
    assert cells(text, "shadow under the corona, by the profile angle") == [
        "450 mm, on the dentil band",
        "–",
        "450 mm, on the dentil band",
    ]
    assert cells(text, "its soft edge, from the sun's disc") == ["9.0 mm", "9.0 mm", "–"]
    assert cells(text, "frieze  ") == ["210 mm (200 to 250)", "210 mm (200 to 250)", "–"]
    assert cells(text, "sun in over the floor") == ["1.500 m", "1.500 m", "–"]
    assert cells(text, "frieze in sun") == ["25%", "25%", "–"]
    assert cells(text, "windows, first floor in sun") == ["30%", "30%", "–"]
    assert "Depths are measured on the built model" in text
    plain = printed(tables.print_moments, [moment()], "metric")
    assert "… between and under" not in plain


def test_a_change_of_nothing_is_told_with_a_plus():
    text = printed(tables.print_moments, [moment(), moment("other")], "metric")
    assert cells(text, "cornice shadow by the profile angle") == ["400 mm", "400 mm (+0 mm)"]


def test_a_sun_behind_or_down_has_no_shadow_of_a_cornice():
    behind = printed(tables.print_moments, [moment(sun=BEHIND, shade=())], "metric")
    assert "the sun is behind" in behind
    assert "cornice shadow" not in behind
    assert "Clear sky, the front: " in behind
    down = printed(
        tables.print_moments, [moment(sun=DOWN, shade=(), reach=(), in_sun={})], "metric"
    )
    assert "the sun is down" in down
    assert "Clear sky" not in down
    drawn = printed(tables.print_moments, [moment(sun=CONVENTIONAL)], "metric")
    assert drawn.startswith("conventional light · sun ") or "conventional light ·" in drawn
    none = moment(cornice_rule_m=None, cornice_rule_most_m=None)
    assert cells(printed(tables.print_moments, [none], "metric"), "cornice shadow by the pro")[
        -1
    ] == ("–")


def test_feet_have_their_own_words():
    text = printed(tables.print_moments, [moment(soft_edge_m=0.375 * 0.0254)], "feet")
    assert cells(text, "its soft edge, from the sun's disc") == ['3/8"']
    assert cells(text, "frieze  ") == ['8 1/4" (7 7/8" to 9 13/16")']


@pytest.mark.parametrize(
    ("given", "units", "words"),
    [
        (depth("a", 0.5, whole=1.0), "metric", "all"),
        (depth("a", 0.5, whole=0.9991), "metric", "all"),
        (depth("a", 0.5, whole=0.999), "metric", "500 mm"),
        (depth("a", 0.0003, 0.0, 0.00049), "metric", "none"),
        (depth("a", 0.0005, 0.0, 0.0005), "metric", "0 mm"),
        (depth("a", 0.5, 0.4985, 0.5014), "metric", "500 mm"),
        (depth("a", 0.5, 0.4985, 0.5016), "metric", "500 mm (498 to 502)"),
        (depth("a", 1.5, 0.9, 1.75), "metric", "1.500 m (0.900 to 1.750)"),
        (depth("a", 0.3048, 0.2, 0.6096), "feet", '1\'-0" (7 7/8" to 2\'-0")'),
    ],
)
def test_a_depth_is_said_as_shortly_as_it_can_be(given, units, words):
    assert tables.depth_text(given, units) == words


def test_how_close_the_figures_are_is_what_was_asked_or_what_was_reached():
    assert "within 1.0 % of it, nineteen times of twenty" in tables.within_text([moment()])
    loose = moment(within={"frieze": 0.023, "floor": 0.004})
    assert "within 2.3 % of it" in tables.within_text([moment(), loose])
    assert "within 1.0 % of it" in tables.within_text([])
    metric, feet = tables.legend("metric"), tables.legend("feet")
    assert "lower than 10 mm passed over, at stations 50 mm apart" in metric
    assert "and 150 mm on walls and floors" in metric
    assert 'stations 1 15/16" apart' in feet


def test_the_light_on_the_front_is_rounded_to_what_the_eye_tells():
    light = front_light(NOON)
    assert (light.sun_lux + light.shade_lux, light.shade_lux) == pytest.approx(
        (70474, 12236), abs=1
    )
    assert tables.light_text(NOON) == (
        "Clear sky, the front: 70 000 lx in sun, 12 000 lx in open shade, 5.8 to 1"
    )
    assert "in sun" not in tables.light_text(BEHIND)
    assert [tables._round_lux(x) for x in (9_949, 9_960, 10_400, 10_600, 123_456)] == [
        "9 900",
        "10 000",
        "10 000",
        "11 000",
        "123 000",
    ]


SITE = SiteDesign("Savannah", 32.08, -81.09, 13.0, "America/New_York", 157.5, 2026)


def test_titles_say_where_and_which_way():
    assert tables.site_line(SITE) == "Savannah · America/New_York · front faces 157.5° (SSE)"


def test_windows_of_a_floor_are_taken_together():
    shares = {"frieze": 0.5, "window 1, first floor": 0.2, "window 2, first floor": 0.4,
              "window 1, second floor": 1.0, "door": 0.1}  # fmt: skip
    assert tables.grouped_shares(shares) == {
        "frieze": 0.5,
        "windows, first floor": pytest.approx(0.3),
        "windows, second floor": 1.0,
        "door": 0.1,
    }


# --- the year ------------------------------------------------------------------------------

# the sun on the front for 600 and 400 hours, up behind it for 100 and 300
SUNS = YearSuns(
    np.array([[0.0, -0.8, 0.6], [0.0, 0.8, 0.6]]),
    np.array([[600.0, 400.0], [100.0, 300.0]]),
    (200.0, 160.0),
)


def year(design="as drawn", **surfaces):
    found = surfaces or {"frieze": np.array([300.0, 80.0])}
    within = {name: np.array([4.0, 6.4]) for name in found}
    return Year(design, found, None, np.zeros((2, 1, 1)), within)


def test_hours_are_a_mean_day_s_in_each_half_of_the_year():
    both = [year(), year("Tuscan", wall=np.array([200.0, 160.0]))]
    text = printed(tables.print_year, both, SUNS, SITE)
    assert text.startswith(
        "Hours of direct sun a day, summer half / winter half · 2026 · Savannah · "
    )
    assert cells(text, "plane of the front, nothing in the way") == ["3.0 / 2.5", "3.0 / 2.5"]
    assert cells(text, "frieze") == ["1.5 / 0.5", "–"]
    assert cells(text, "wall") == ["–", "1.0 / 1.0"]
    # 6.4 hours of 160 days are 0.04 a day: what was asked, 0.05, is told
    assert "within 0.05 h a day, nineteen times of twenty" in text
    rough = replace(year(), within={"frieze": np.array([4.0, 16.0])})
    assert "within 0.10 h a day" in tables.hours_within_text([rough], SUNS)


def test_the_year_as_csv_has_a_row_for_each_half():
    lines = tables.year_csv([year()], SUNS).splitlines()
    assert lines[0] == f"# {CAUTION}"
    rows = list(csv.reader(lines[1:]))
    assert rows[0] == ["design", "where", "half", "hours", "hours_a_day", "days", "within_a_day"]
    assert rows[1:] == [
        ["as drawn", "plane of the front", "summer half", "600.0", "3.000", "200.00", ""],
        ["as drawn", "plane of the front", "winter half", "400.0", "2.500", "160.00", ""],
        ["as drawn", "frieze", "summer half", "300.0", "1.500", "200.00", "0.020"],
        ["as drawn", "frieze", "winter half", "80.0", "0.500", "160.00", "0.040"],
    ]


# --- raking light --------------------------------------------------------------------------


def at(hour, minute=0):
    return datetime(2026, 6, 21, hour, minute, tzinfo=UTC)


DAY = FrontDay(
    date(2026, 6, 21), at(5, 10), at(12, 20), at(19, 40), 80.0, ((at(9), at(14, 30)),),
    ((at(9), at(9, 40)), (at(13, 50), at(14, 30))),
)  # fmt: skip
RAKED = Raking(DAY, replace(NOON, label="21 June 14:30", altitude_deg=41.6))
DARK = Raking(replace(DAY, front_sun=(), raking=(), sunrise=None, sunset=None), None)


def test_raking_light_is_told_day_by_day():
    text = printed(tables.print_raking, [RAKED, DARK], SITE)
    assert text.startswith("Raking light on the front · Savannah · ")
    rows = [
        re.split(r"\s{2,}", line.strip()) for line in text.splitlines() if line.startswith("21")
    ]
    assert rows[0] == [
        "21 Jun",
        "09:00 to 14:30",
        "09:00 to 09:40, 13:50 to 14:30",
        "21 June 14:30, sun 42° high",
        "above",
    ]
    assert rows[1] == ["21 Jun", "never", "–", "–", "–"]
    assert "Raking, over 70° from square" in text


# --- for other programs --------------------------------------------------------------------


def test_moments_as_csv_have_a_row_for_each_figure():
    whole = moment(cornice_rule_most_m=0.5, in_sun={"frieze": 0.25}, within={"frieze": 0.008})
    lines = tables.moments_csv([whole, moment(sun=DOWN, cornice_rule_m=None, soft_edge_m=None,
                                              cornice_rule_most_m=None, under_corona=None, shade=(),
                                              reach=(), in_sun={})]).splitlines()  # fmt: skip
    assert lines[0] == f"# {CAUTION}"
    rows = list(csv.reader(lines[1:]))
    assert (
        rows[0]
        == (
            "design time clock altitude_deg azimuth_deg profile_angle_deg figure where "
            "least_m mean_m most_m middle_m whole share within"
        ).split()
    )
    start = ["as drawn", "equinox 10:00", "2026-03-20T10:00:00+00:00", "40.0000", "150.0000"]
    start.append("45.0000")
    assert rows[1:] == [
        [*start, "shadow under the corona by the profile angle", "dentil band", "", "0.4500",
         "", "", "", "", ""],
        [*start, "cornice shadow by the profile angle", "", "", "0.4000", "", "", "", "", ""],
        [*start, "the same under mutules and dentils", "", "", "0.5000", "", "", "", "", ""],
        [*start, "its soft edge", "", "", "0.0090", "", "", "", "", ""],
        [*start, "shade", "frieze", "0.2000", "0.2100", "0.2500", "0.2100", "0.0000", "", ""],
        [*start, "sun reaches in", "floor, middle", "1.5000", "1.5000", "1.5000", "1.5000",
         "0.0000", "", ""],
        [*start, "in sun", "frieze", "", "", "", "", "", "0.2500", "0.0080"],
    ]  # fmt: skip
    third = tables.moments_csv([moment(sun=CONVENTIONAL)]).splitlines()[2]
    assert third.startswith("as drawn,conventional light,,40.0000,")


def test_all_that_was_measured_as_json():
    held = json.loads(tables.shadows_json(SITE, [moment()], [RAKED, DARK], [year()], SUNS))
    assert set(held) == {"site", "moments", "raking", "year", "caution"}
    assert held["site"]["place"] == "Savannah"
    [first] = held["moments"]
    assert first["design"] == "as drawn"
    assert (first["cornice_rule_m"], first["cornice_rule_most_m"]) == (0.4, 0.4)
    assert first["under_corona"] == {"depth_m": 0.45, "on": "dentil band"}
    assert first["soft_edge_m"] == 0.009
    assert first["shade"][0]["mean_m"] == 0.21
    assert first["sun_reaches_in"][0]["name"] == "floor, middle"
    assert first["in_sun"]["frieze"] == 0.25
    assert first["in_sun_within"]["frieze"] == 0.008
    assert first["sun"]["when"] == "2026-03-20T10:00:00+00:00"
    assert first["sun"]["front_lux"]["sun_lux"] == pytest.approx(front_light(NOON).sun_lux)
    raked, dark = held["raking"]
    assert raked == {
        "day": "2026-06-21",
        "sunrise": "2026-06-21T05:10:00+00:00",
        "solar_noon": "2026-06-21T12:20:00+00:00",
        "sunset": "2026-06-21T19:40:00+00:00",
        "on_front": [["2026-06-21T09:00:00+00:00", "2026-06-21T14:30:00+00:00"]],
        "raking": [
            ["2026-06-21T09:00:00+00:00", "2026-06-21T09:40:00+00:00"],
            ["2026-06-21T13:50:00+00:00", "2026-06-21T14:30:00+00:00"],
        ],
        "best": raked["best"],
        "from": "above",
    }
    assert raked["best"]["label"] == "21 June 14:30"
    assert (dark["best"], dark["sunrise"], dark["sunset"], dark["from"]) == (None, None, None, "")
    assert held["year"]["halves"] == ["summer half", "winter half"]
    assert held["year"]["days"] == [200.0, 160.0]
    assert held["year"]["daylight_h"] == [700.0, 700.0]
    assert held["year"]["on_front_h"] == [600.0, 400.0]
    assert held["year"]["designs"] == {"as drawn": {"frieze": [300.0, 80.0]}}
    assert held["caution"] == CAUTION
    short = json.loads(tables.shadows_json(SITE, [moment(under_corona=None)], []))
    assert "year" not in short
    assert short["moments"][0]["under_corona"] is None
    drawn = json.loads(tables.shadows_json(SITE, [moment(sun=CONVENTIONAL)], []))
    assert drawn["moments"][0]["sun"]["when"] is None

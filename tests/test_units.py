"""Lengths and directions, both ways."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from massing.units import (
    FOOT_M,
    INCH_M,
    at_least,
    at_most,
    compass_point,
    floor_name,
    format_feet_inches,
    format_length,
    format_metric,
    in_system,
    parse_compass,
    parse_length,
    whole_steps,
)

# International Yard and Pound Agreement (1959): the yard is 0.9144 m exactly.
YARD_M = 0.9144


def test_foot_and_inch_follow_from_the_international_yard():
    assert math.isclose(3 * FOOT_M, YARD_M, rel_tol=1e-15)
    assert math.isclose(36 * INCH_M, YARD_M, rel_tol=1e-15)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("5'-6 1/2\"", 66.5),
        ("5' 6 1/2\"", 66.5),
        ("5'6\"", 66.0),
        ("5’-6″", 66.0),
        ("5 ft 6 in", 66.0),
        ("20 ft", 240.0),
        ("20'", 240.0),
        ("16 in", 16.0),
        ('16"', 16.0),
        ('3/4"', 0.75),
        ("2'-0 3/8\"", 24.375),
        ("2.5 ft", 30.0),
        ("-6 in", -6.0),
        ("0 in", 0.0),
    ],
)
def test_feet_and_inches_are_read(text, inches):
    assert math.isclose(parse_length(text), inches * YARD_M / 36, abs_tol=1e-12)


@pytest.mark.parametrize(
    ("text", "metres"), [("1.2 m", 1.2), ("450 mm", 0.45), ("45cm", 0.45), ("-30 mm", -0.03)]
)
def test_metric_is_read(text, metres):
    assert math.isclose(parse_length(text), metres)


@pytest.mark.parametrize(
    "text", ["", "16", "16 yd", "ft", "5'6'7", "1/0 in", "1,5 m", "nan m", "5' 6", 'five"', "1e3 m"]
)
def test_what_is_not_a_length_is_refused_with_the_forms_allowed(text):
    if text == "5' 6":  # feet given, so the rest can only be inches
        assert math.isclose(parse_length(text), 66 * INCH_M)
        return
    with pytest.raises(ValueError, match="allowed: a length with its unit"):
        parse_length(text)


@given(st.integers(min_value=-40_000, max_value=40_000))
def test_a_sixteenth_of_an_inch_survives_writing_and_reading(sixteenths):
    length_m = sixteenths * INCH_M / 16
    assert math.isclose(parse_length(format_feet_inches(length_m)), length_m, abs_tol=1e-9)


@given(st.floats(min_value=-200.0, max_value=200.0))
def test_what_is_written_is_within_half_its_last_place(length_m):
    assert abs(parse_length(format_feet_inches(length_m)) - length_m) <= INCH_M / 32 + 1e-9
    assert abs(parse_length(format_metric(length_m)) - length_m) <= 0.0005 + 1e-9


def test_a_length_is_written_in_the_system_asked_for():
    assert format_length(1.6891, "feet") == "5'-6 1/2\""
    assert format_length(1.6891, "metric") == "1.689 m"


def test_rounding_carries_into_the_foot():
    assert format_feet_inches(11.999 * INCH_M) == "1'-0\""


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("N", 0.0),
        ("e", 90.0),
        ("SSW", 202.5),
        ("S 20 E", 160.0),
        ("N 45 W", 315.0),
        (360, 0.0),
        ("south", 180.0),
    ],
)
def test_directions_are_read(text, degrees):
    assert parse_compass(text) == degrees


@pytest.mark.parametrize("value", ["", "southwards", "S 100 E", -1, 361, True, float("nan")])
def test_what_is_not_a_direction_is_refused(value):
    with pytest.raises(ValueError, match="allowed: a compass point"):
        parse_compass(value)


@given(st.floats(min_value=0.0, max_value=359.999))
def test_the_compass_point_is_within_half_a_point(degrees):
    apart = abs(parse_compass(compass_point(degrees)) - degrees)
    assert min(apart, 360.0 - apart) <= 11.25 + 1e-9


def test_storeys_are_called_as_builders_there_call_them():
    """Common practice, no source: the storey at the ground is the first in the United States."""
    assert [floor_name(i, "feet") for i in range(3)] == [
        "first floor",
        "second floor",
        "third floor",
    ]
    assert [floor_name(i, "metric") for i in range(3)] == [
        "ground floor",
        "first floor",
        "second floor",
    ]


@pytest.mark.parametrize(
    ("written", "degrees"),
    [(0, 0), (0.5, 0.5), (360, 0), ("N 90 E", 90), ("s 90 w", 270), ("South East", 135)],
)
def test_directions_at_their_ends(written, degrees):
    assert parse_compass(written) == pytest.approx(degrees)


@pytest.mark.parametrize("written", ["N 90.5 E", -0.5, 360.5])
def test_directions_past_their_ends(written):
    with pytest.raises(ValueError, match=r"direction|out of range"):
        parse_compass(written)


@given(st.floats(0.02, 40.0), st.sampled_from(["feet", "metric"]))
def test_a_limit_is_within_itself_when_it_is_typed_back(length_m, system):
    step_m = {"feet": INCH_M / 16, "metric": 0.001}[system]
    upper, lower = (parse_length(of(length_m, system)) for of in (at_most, at_least))
    hair = step_m * 1e-5
    assert length_m - step_m < upper <= length_m + hair
    assert length_m - hair <= lower < length_m + step_m
    # what stands on the rule already stays as it is, though sums miss it by a hair
    for of in (at_most, at_least):
        for miss in (0.0, 1e-13, -1e-13):
            assert parse_length(of(upper + miss, system)) == pytest.approx(upper, abs=hair)


def test_limits_are_in_feet_unless_asked():
    assert at_most(FOOT_M) == at_least(FOOT_M) == "1'-0\""


@pytest.mark.parametrize(
    ("length", "step", "steps"),
    [(1.0, 0.25, 4), (1.1, 0.25, 4), (1.125, 0.25, 5), (1.125 - 1e-12, 0.25, 5), (0.3, 3.0, 0)],
)
def test_the_nearest_of_a_rules_steps_and_a_half_counts_up(length, step, steps):
    assert whole_steps(length, step) == steps


@pytest.mark.parametrize(
    ("text", "system", "said"),
    [
        ("a shaft 3.048 m high", "feet", "a shaft 10'-0\" high"),
        ("a shaft 3.048 m high", "metric", "a shaft 3.048 m high"),
        ("0.3048 to 0.6096 m", "feet", "1'-0\" to 2'-0\""),
        ("0.45 by 1.2 m", "metric", "450 mm by 1.200 m"),
        ("11 000 mm, 3 m, v1.25 m", "feet", "11 000 mm, 3 m, v1.25 m"),
    ],
)
def test_a_sentence_has_its_metres_in_the_system_asked_for(text, system, said):
    assert in_system(text, system) == said


@pytest.mark.parametrize(
    ("length_m", "feet", "metric"),
    [
        (0.0, '0"', "0 mm"),
        (-0.0254, '-1"', "-25 mm"),
        (0.0254 / 4, '1/4"', "6 mm"),
        (0.9996, "3'-3 3/8\"", "1000 mm"),
        (1.0, "3'-3 3/8\"", "1.000 m"),
        (-1.0, "-3'-3 3/8\"", "-1.000 m"),
        (-0.0002, '0"', "0 mm"),
    ],
)
def test_the_least_the_negative_and_the_metre_itself(length_m, feet, metric):
    assert format_feet_inches(length_m) == feet
    assert format_metric(length_m) == metric


def test_what_is_no_text_is_refused_with_what_it_was():
    with pytest.raises(ValueError, match="12 has no unit; allowed: a length"):
        parse_length(12)

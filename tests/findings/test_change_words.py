"""The words of sentences on change, by what the clock, the rule and plain fractions say.

Values are worked by hand from clock, calendar and fractions; the two per cent are common practice.
"""

from __future__ import annotations

from datetime import datetime

import pytest

from massing.findings.change import (
    capital,
    clock_words,
    differs,
    length_words,
    number_words,
    part_words,
    place_of,
    share_words,
    telling_sun,
    time_words,
)
from massing.sun.position import SunTime

INCH = 0.0254


def sun(when: datetime | None = None, label: str = "", profile: float | None = 45.0) -> SunTime:
    return SunTime(
        label, when, 45.0, 180.0, (0.0, -1.0, 1.0), profile is not None, 45.0, profile, 1.0, 1.0
    )


def test_every_hour_of_the_clock_is_spoken() -> None:
    hours = "twelve one two three four five six seven eight nine ten eleven".split()
    for hour in range(24):
        here, following = hours[hour % 12], hours[(hour + 1) % 12]
        assert clock_words(hour, 0) == f"{here} o'clock"
        assert clock_words(hour, 15) == f"a quarter past {here}"
        assert clock_words(hour, 30) == f"half past {here}"
        assert clock_words(hour, 45) == f"a quarter to {following}"
        assert clock_words(hour, 5) == f"{hour % 12 or 12}:05"


@pytest.mark.parametrize(
    ("hour", "minute", "said"),
    [
        (0, 0, "at midnight on 7 March"),
        (0, 30, "at half past twelve in the morning on 7 March"),
        (11, 0, "at eleven o'clock in the morning on 7 March"),
        (12, 0, "at noon on 7 March"),
        (12, 15, "at a quarter past twelve in the afternoon on 7 March"),
        (17, 59, "at 5:59 in the afternoon on 7 March"),
        (18, 0, "at six o'clock in the evening on 7 March"),
    ],
)
def test_a_time_has_its_part_of_the_day(hour: int, minute: int, said: str) -> None:
    assert time_words(sun(datetime(2026, 3, 7, hour, minute))) == said


def test_a_named_day_keeps_its_name() -> None:
    when = datetime(2026, 6, 21, 10, 0)
    said = time_words(sun(when, "summer solstice 10:00"))
    assert said == "at ten o'clock in the morning at the summer solstice"
    assert time_words(sun(when, "equinox 10:00")).endswith("at the equinox")
    assert time_words(sun()) == "in the draughtsman's light, at 45°"


def test_the_telling_sun_is_nearest_to_45_degrees_and_on_the_front() -> None:
    suns = [sun(label="none", profile=None), sun(label="low", profile=31.0)]
    assert telling_sun(suns[:1]) is None
    assert telling_sun([]) is None
    picked = telling_sun([*suns, sun(label="high", profile=58.0), sun(label="steep", profile=60.0)])
    assert picked is not None
    assert picked.label == "high"
    near = telling_sun([sun(label="over", profile=45.6), sun(label="under", profile=44.5)])
    assert near is not None
    assert near.label == "under"


@pytest.mark.parametrize(
    ("length_m", "units", "said"),
    [
        (23.75 * INCH, "feet", "1'-11 3/4\""),
        (24.0 * INCH, "feet", "2'-0\""),
        (24.3 * INCH, "feet", "2'-0 1/2\""),
        (24.2 * INCH, "feet", "2'-0\""),
        (0.0026, "metric", "5 mm"),
        (0.0024, "metric", "0 mm"),
        (0.999, "metric", "1000 mm"),
        (1.0, "metric", "1.00 m"),
        (-0.1, "metric", "-100 mm"),
    ],
)
def test_a_length_is_as_fine_as_its_size_wants(length_m: float, units: str, said: str) -> None:
    assert length_words(length_m, units) == said


def test_numbers_to_twelve_are_words() -> None:
    words = "no one two three four five six seven eight nine ten eleven twelve 13 14".split()
    assert [number_words(n) for n in range(15)] == words


@pytest.mark.parametrize(
    ("parts", "said"),
    [
        (2.0, "1/2"),
        (3.0, "a third"),
        (4.0, "a quarter"),
        (4.04, "a quarter"),
        (3.96, "a quarter"),
        (4.06, "1/4.1"),
        (5.0, "a fifth"),
        (6.0, "a sixth"),
        (7.0, "1/7"),
        (4.5, "1/4.5"),
        (15.0, "1/15"),
    ],
)
def test_one_part_of_so_many(parts: float, said: str) -> None:
    assert part_words(1.0 / parts) == said


@pytest.mark.parametrize(
    ("share", "said"),
    [
        (0.0, "hardly any"),
        (0.07, "hardly any"),
        (0.0701, "about a tenth"),
        (0.149, "about a tenth"),
        (0.151, "about a fifth"),
        (0.224, "about a fifth"),
        (0.226, "about a quarter"),
        (0.33, "about a third"),
        (0.41, "about two fifths"),
        (0.5, "about half"),
        (0.6, "about three fifths"),
        (0.66, "about two thirds"),
        (0.75, "about three quarters"),
        (0.83, "about nine tenths"),
        (0.969, "about nine tenths"),
        (0.97, "the whole"),
        (1.4, "the whole"),
    ],
)
def test_a_share_takes_the_nearest_fraction(share: float, said: str) -> None:
    assert share_words(share) == said


def test_two_per_cent_are_not_worth_a_word() -> None:
    assert not differs(1.0, 1.0)
    assert not differs(100.0, 98.1)
    assert differs(100.0, 97.9)
    assert differs(97.9, 100.0)
    assert differs(-100.0, -97.9)
    assert not differs(0.0, 0.0)
    assert differs(1.0, 1.1, least=0.05)
    assert not differs(1.0, 1.05, least=0.05)


def test_a_value_stands_below_within_or_above_its_range() -> None:
    assert place_of(7.0 / 1.021, 7.0, 8.0) == -1
    assert [place_of(v, 7.0, 8.0) for v in (7.0 / 1.019, 7.0, 8.0, 8.0 * 1.019)] == [0, 0, 0, 0]
    assert place_of(8.0 * 1.021, 7.0, 8.0) == 1


def test_a_capital_is_the_first_letter_alone() -> None:
    assert capital("the Doric order") == "The Doric order"
    assert capital("") == ""

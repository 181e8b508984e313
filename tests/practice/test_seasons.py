"""Bare trees by hemisphere and latitude: common practice, no source."""

from datetime import date, timedelta

import pytest

from massing.practice.seasons import trees_are_bare


def bare_days(latitude_deg: float) -> int:
    return sum(
        trees_are_bare(date(2026, 1, 1) + timedelta(days=i), latitude_deg) for i in range(365)
    )


def test_the_farther_from_the_equator_the_longer() -> None:
    days = [bare_days(latitude) for latitude in (0.0, 25.0, 30.0, 40.0, 50.0, 60.0)]
    assert days[:2] == [0, 0]
    assert days == sorted(days)
    assert 150 < days[4] < 190


@pytest.mark.parametrize(
    ("day", "north"), [((2026, 1, 15), True), ((2026, 7, 15), False), ((2026, 12, 30), True)]
)
def test_winter_is_the_hemisphere_s_own(day: tuple[int, int, int], north: bool) -> None:
    assert trees_are_bare(date(*day), 48.0) is north
    assert trees_are_bare(date(*day), -48.0) is not north


def test_without_a_day_trees_are_in_leaf() -> None:
    assert not trees_are_bare(None, 60.0)

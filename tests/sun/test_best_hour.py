"""The hour that shows a front best, against a search of its own."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest

from massing.design.site import SiteDesign
from massing.study.study import read_study
from massing.sun.position import RAKING_INCIDENCE_DEG, dusk, shows_front, sun_time, sun_times

SITE = SiteDesign("Beaufort", 32.43, -80.67, 3.0, "America/New_York", 180.0, 2026)


@pytest.mark.parametrize("facing", [135.0, 180.0, 225.0])
@pytest.mark.parametrize("day", ["21 March", "21 September", "21 November"])
def test_no_other_minute_of_the_day_shows_the_front_better(facing: float, day: str) -> None:
    site = replace(SITE, front_azimuth_deg=facing)
    best = sun_time(f"{day} best hour", site)
    assert best.when is not None
    start = best.when.replace(hour=5, minute=0)
    suns = sun_times([start + timedelta(minutes=7 * i) for i in range(125)], site)
    scores = shows_front(
        [s.direction for s in suns], [s.dni_w_m2 for s in suns], [s.dhi_w_m2 for s in suns]
    )
    mine = shows_front([best.direction], [best.dni_w_m2], [best.dhi_w_m2])[0]
    assert mine > 0.985 * scores.max()
    assert best.on_front
    assert best.incidence_deg < RAKING_INCIDENCE_DEG


def test_a_sun_at_45_degrees_beside_the_front_beats_one_before_it_and_one_that_grazes() -> None:
    """Shades and shadows are drawn with light from 45 degrees beside (McGoodwin 1904)."""
    turns = np.radians([0.0, 45.0, 69.0, 85.0])
    level = 0.7
    suns = [(-level * np.sin(t), -level * np.cos(t), np.sqrt(1 - level**2)) for t in turns]
    scores = shows_front(suns, [800.0] * 4, [100.0] * 4)
    assert scores.argmax() == 1
    assert scores[-1] == 0.0


def test_the_year_s_best_is_as_good_as_any_day_s() -> None:
    def score(text: str) -> float:
        sun = sun_time(text, SITE)
        return float(shows_front([sun.direction], [sun.dni_w_m2], [sun.dhi_w_m2])[0])

    best = score("best hour")
    assert best >= max(score(f"2026-{m:02d}-21 best hour") for m in (2, 4, 10, 12))


def test_a_front_to_the_north_is_refused_in_winter_and_a_scene_may_ask() -> None:
    north = replace(SITE, front_azimuth_deg=0.0)
    with pytest.raises(ValueError, match="given 21 December best hour, allowed"):
        sun_time("21 December best hour", north)
    path = Path(__file__).parents[2] / "scenes" / "vineyard_cottage.yaml"
    text = path.read_text(encoding="utf-8").replace("equinox 10:30", "equinox best hour")
    study = read_study(path, text)
    assert study.suns[1].label == "equinox best hour"
    assert study.suns[1].when is not None


def test_dusk_comes_after_sunset_with_the_sun_three_degrees_down() -> None:
    """Civil twilight is the sun 0.833 to 6 degrees down (the almanacs' definition)."""
    noon = sun_time("21 June 12:00", SITE)
    evening = dusk(noon, SITE)
    assert evening is not None
    assert evening.when is not None
    assert noon.when is not None
    assert evening.when.date() == noon.when.date()
    assert -6.0 < evening.altitude_deg <= -3.0
    assert evening.altitude_deg > -3.3  # to the minute
    assert 270.0 < evening.azimuth_deg < 330.0  # in the north-west, in June
    assert dusk(sun_time("conventional light", SITE), SITE) is None


def test_there_is_no_dusk_where_the_sun_stays_up() -> None:
    cape = SiteDesign("North Cape", 70.9, 25.8, 3.0, "Europe/Oslo", 180.0, 2026)
    assert dusk(sun_time("21 June 12:00", cape), cape) is None

"""A house laid into a photograph: light as light, grain, and what stands before it."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from massing.present.sheets.in_photograph import (
    BAD,
    GOOD,
    Mark,
    between_pixels,
    exposed,
    exposure_gain,
    grain,
    laid_in,
    light_of,
    marked,
    not_shaded_twice,
    tones_of,
    what_stands_before,
)

SHAPE = (64, 96)


def picture(tone: float) -> np.ndarray:
    return np.full((*SHAPE, 3), tone)


def render(tone: float, alpha: float) -> np.ndarray:
    return np.concatenate([picture(tone), np.full((*SHAPE, 1), alpha)], axis=-1)


NOTHING = np.zeros(SHAPE)


def test_tones_are_srgb_s() -> None:
    """IEC 61966-2-1: the straight part ends at 0.04045; mid grey 0.5 is 0.2140 of the light."""
    assert light_of([0.04045, 0.5, 1.0]) == pytest.approx([0.04045 / 12.92, 0.21404, 1.0], abs=1e-5)
    assert tones_of(light_of([0.01, 0.2, 0.77])) == pytest.approx([0.01, 0.2, 0.77])


def test_a_photograph_of_a_stop_more_asks_for_twice_the_light() -> None:
    lighter = picture(float(tones_of(2.0 * light_of(0.4))))
    assert exposure_gain(lighter, render(0.4, 1.0), NOTHING) == pytest.approx(2.0)
    assert exposure_gain(picture(1.0), render(0.05, 1.0), NOTHING) == 4.0  # two stops and no more


def test_light_is_weighed_where_the_house_is_seen_and_nowhere_else() -> None:
    seen, kept = picture(0.5), np.zeros(SHAPE)
    seen[:, 50:], kept[:, 50:] = 0.02, 1.0  # a dark hedge before more than a third of it
    half = render(0.5, 1.0)
    half[:20, :, 3] = 0.6  # its shadow
    seen[:20] = 0.9
    assert exposure_gain(seen, half, kept) == pytest.approx(1.0)


@given(st.floats(1.0, 4.0))
def test_a_longer_exposure_bends_whites_and_cuts_none_off(gain: float) -> None:
    light = np.linspace(0.0, 1.0, 400)
    made = exposed(light, gain)
    assert made.max() <= 1.0 + 1e-9
    assert (np.diff(made) > 0.0).all()
    low = gain * light <= 0.8
    assert made[low] == pytest.approx(gain * light[low])


@pytest.mark.parametrize("sigma", [0.01, 0.03])
def test_grain_is_measured_beside_texture(sigma: float) -> None:
    plain = picture(0.5) + np.random.default_rng(1).normal(0.0, sigma, SHAPE)[..., None]
    assert grain(plain) == pytest.approx(sigma, rel=0.2)
    plain[:24] += 0.3 * np.random.default_rng(2).integers(0, 2, (24, 96, 1))  # leaves
    assert grain(plain) == pytest.approx(sigma, rel=0.3)


def test_the_house_takes_the_photograph_s_grain() -> None:
    grainy = picture(0.4) + np.random.default_rng(1).normal(0.0, 0.02, SHAPE)[..., None]
    made = laid_in(grainy, render(0.6, 1.0), NOTHING, 1.0)
    assert made.mean() == pytest.approx(0.6, abs=0.005)
    assert made[..., 0].std() == pytest.approx(0.02, rel=0.25)
    assert laid_in(picture(0.4), render(0.6, 1.0), NOTHING, 1.0).std() < 1e-9


def test_a_shadow_takes_light_by_its_share_and_the_mask_keeps_what_is_before() -> None:
    kept = np.zeros(SHAPE)
    kept[:, :30] = 1.0
    made = laid_in(picture(0.5), render(0.0, 0.75), kept, 1.0)
    assert made[:, 40:] == pytest.approx(float(tones_of(0.25 * light_of(0.5))))
    assert (made[:, :30] == 0.5).all()


def test_ground_in_the_old_house_s_shade_is_not_shaded_twice() -> None:
    old, new = render(0.0, 0.0), render(0.0, 0.75)
    old[:, :40, 3] = 0.75  # as dark already
    old[:, 40:60, 3] = 0.5  # half as dark as it will be
    new[:, 80:, :3], new[:, 80:, 3] = 0.6, 1.0  # the house itself
    old[:, 80:, 3] = 0.75
    made = not_shaded_twice(new, old)
    assert made[:, :40, 3] == pytest.approx(0.0)
    assert made[0, 50, 3] == pytest.approx(0.5)
    assert made[0, 70, 3] == pytest.approx(0.75)
    assert made[0, 90] == pytest.approx([0.6, 0.6, 0.6, 1.0])
    assert (not_shaded_twice(render(0.0, 0.0), old)[..., 3] == 0.0).all()  # never lightened


def test_values_between_pixels_are_in_straight_lines() -> None:
    ramp = np.arange(12.0).reshape(3, 4, 1)
    at = np.array([[0.5, 0.5], [2.0, 1.5], [3.5, 2.25], [-9.0, 99.0]])
    assert between_pixels(ramp, at)[:, 0] == pytest.approx([0.0, 5.5, 10.0, 8.0])


def test_bad_points_are_red_and_others_are_not() -> None:
    marks = [Mark((30, 30), (31, 30), False), Mark((70, 40), (55, 45), True)]
    made = np.asarray(marked(Image.new("RGB", (96, 64), "white"), marks))
    red, green = (made == BAD).all(axis=-1), (made == GOOD).all(axis=-1)
    assert red[38:50, 50:60].any()
    assert not red[:, :45].any()
    assert green[20:40, 20:40].any()


def leafy(seed: int) -> np.ndarray:
    """``(64, 96)`` how much of each pixel is leaf: a crown with the sky in its gaps, soft edges."""
    rng = np.random.default_rng(seed)
    fine = rng.uniform(size=(32, 48)) > 0.35
    crown = np.zeros((32, 48))
    crown[8:26, 12:36] = fine[8:26, 12:36]
    grown = np.kron(crown, np.ones((2, 2)))
    return (
        grown + np.roll(grown, 1, 0) + np.roll(grown, 1, 1) + np.roll(grown, (1, 1), (0, 1))
    ) / 4


def test_a_mask_drawn_round_a_tree_takes_no_sky_along() -> None:
    """Over a dark house no gap and no edge of a leaf is brighter than house or leaf."""
    leaf, sky, house = 0.22, 0.85, 0.35
    cover = leafy(3)
    light = cover * light_of(leaf) + (1.0 - cover) * light_of(sky)
    photograph = np.repeat(tones_of(light)[..., None], 3, axis=-1)
    drawn = np.zeros(SHAPE)
    drawn[13:55, 21:75] = 1.0  # round the whole crown, gaps and all
    made = laid_in(photograph, render(house, 1.0), drawn, 1.0)
    inside = made[12:56, 20:76, 0]
    assert inside.max() < house + 0.06
    assert inside[cover[12:56, 20:76] == 1.0].max() == pytest.approx(leaf, abs=0.02)
    kept = what_stands_before(photograph, drawn).share
    assert (kept <= drawn).all()
    assert abs(kept - cover)[drawn == 1.0].mean() < 0.12


def test_where_light_tells_nothing_the_mask_is_taken_at_its_word() -> None:
    drawn = np.zeros(SHAPE)
    drawn[:, :40], drawn[:, 40] = 1.0, 0.5
    made = what_stands_before(picture(0.5), drawn)
    assert (made.share == drawn).all()
    assert made.light == pytest.approx(light_of(0.5) * np.ones((*SHAPE, 3)))

"""Paper sizes, standard scales, and how drawings fill a page."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from massing.present.board.layout import PAPERS, grid, page, scale_within, scales
from massing.units import FOOT_M, INCH_M


@pytest.mark.published
@pytest.mark.parametrize(
    ("name", "wide_mm", "tall_mm"),
    [
        ("A4", 210.0, 297.0),  # ISO 216, A series
        ("A3", 297.0, 420.0),  # ISO 216, A series
        ("letter", 215.9, 279.4),  # ANSI/ASME Y14.1, size A: 8.5 by 11 in
        ("tabloid", 279.4, 431.8),  # ANSI/ASME Y14.1, size B: 11 by 17 in
    ],
)
def test_papers_are_the_standards(name: str, wide_mm: float, tall_mm: float) -> None:
    assert PAPERS[name] == pytest.approx((wide_mm, tall_mm))
    made = page(name, "feet")
    assert (made.width_mm, made.height_mm) == pytest.approx((tall_mm, wide_mm))


def test_the_paper_follows_the_units() -> None:
    assert page(None, "feet").name == "letter"
    assert page(None, "metric").name == "A4"
    with pytest.raises(ValueError, match="given folio, allowed: letter, tabloid, A4, A3"):
        page("folio", "feet")


def test_scales_are_as_the_trade_reckons_them() -> None:
    by_words = {scale.words: scale.ratio for scale in scales("feet")}
    assert by_words["1/8 in = 1 ft"] == pytest.approx(FOOT_M / (INCH_M / 8.0))
    assert by_words["1/16 in = 1 ft"] == pytest.approx(FOOT_M / (INCH_M / 16.0))
    assert by_words["1 in = 20 ft"] == pytest.approx(20.0 * FOOT_M / INCH_M)
    ratios = [scale.ratio for scale in scales("feet")]
    assert ratios == sorted(ratios)


@pytest.mark.published
def test_metric_scales_hold_the_standards_reductions() -> None:
    # ISO 5455, recommended reductions from 1:20 to 1:1000
    standard = {20, 50, 100, 200, 500, 1000}
    assert standard <= {scale.ratio for scale in scales("metric")}


@given(
    st.floats(2.0, 150.0),
    st.floats(2.0, 40.0),
    st.floats(20.0, 400.0),
    st.floats(20.0, 250.0),
    st.sampled_from(["feet", "metric"]),
)
def test_a_scale_fits_and_the_next_larger_would_not(
    wide_m: float, tall_m: float, wide_mm: float, tall_mm: float, units: str
) -> None:
    found = scale_within(wide_m, tall_m, wide_mm, tall_mm, units)

    def fits(ratio: float) -> bool:
        return 1000.0 * wide_m / ratio <= wide_mm * (1 + 1e-6) and (
            1000.0 * tall_m / ratio <= tall_mm * (1 + 1e-6)
        )

    assert fits(found.ratio)
    larger = [s for s in scales(units) if s.ratio < found.ratio]
    assert not larger or not fits(larger[-1].ratio * (1 - 1e-6))


@given(st.integers(1, 9), st.floats(8.0, 60.0), st.floats(5.0, 15.0), st.sampled_from([*PAPERS]))
def test_every_drawing_of_a_grid_fits_its_place(
    count: int, wide_m: float, tall_m: float, paper: str
) -> None:
    wide, tall = page(paper, "feet").inner_mm
    made = grid(count, (wide_m, tall_m), (wide, tall), 6.0, 10.0, "feet")
    assert made.columns * made.rows >= count
    across = made.columns * 1000.0 * wide_m / made.scale.ratio + (made.columns - 1) * 6.0
    down = made.rows * (1000.0 * tall_m / made.scale.ratio + 10.0) + (made.rows - 1) * 6.0
    assert across <= wide + 1e-6
    assert down <= tall + 1e-6

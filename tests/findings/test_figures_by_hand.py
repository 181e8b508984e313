"""Every figure of one plain design, worked by hand from the sizes that it was drawn with.

Books: Ware, The American Vignola, p. 8 (Tuscan of 7 diameters, entablature a quarter); Palladio
I.14 and Vitruvius IV.7.2 (neck of the Tuscan three quarters), Vignola's 9 1/2 of 12 parts, from
memory; clear spacing Palladio's 4, Vignola's 2 1/3 diameters, from memory.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from massing.design.design import Design
from massing.findings.figure import Figure
from massing.findings.report import figures, findings
from tests.findings.test_limits_of_findings import design
from tests.helpers.house_designs import door_at, porch, window_at

# base 0.25, shaft 2.9, capital 0.25; architrave, frieze, cornice 0.3 each; axes 3 m apart
BY_HAND = {
    "order_height": (0.25 + 2.9 + 0.25 + 0.9, "length", "4.300 m"),
    "column_height": (0.25 + 2.9 + 0.25, "length", "3.400 m"),
    "diameter": (0.5, "length", "500 mm"),
    "slenderness": (3.4 / 0.5, "ratio", "1:6.8"),
    "books_slenderness": (7.0, "ratio", "1:7.0"),
    "diminution": (0.42 / 0.5, "fraction", "0.840"),
    "books_diminution": (0.75, "fraction", "0.750 to 0.792"),
    "entablature_height": (0.9, "length", "900 mm"),
    "entablature_ratio": (0.9 / 3.4, "fraction", "0.265"),
    "books_entablature": (0.25, "fraction", "0.250"),
    "cornice_projection": (0.3, "length", "300 mm"),
    "clear_widest": ((3.0 - 0.5) / 0.5, "diameters", "5.00 D"),
    "clear_narrowest": ((3.0 - 0.5) / 0.5, "diameters", "5.00 D"),
    "books_clear": (7.0 / 3.0, "diameters", "2.33 D to 4.00 D"),
    "columns": (4.0, "count", "4"),
    "porch_depth": (2.4, "length", "2.400 m"),
    "porch_to_house": ((2 * 4.5 + 0.5) / 14.0, "fraction", "0.679"),
    "porch_top": (0.64 + 4.3, "length", "4.940 m"),
    "wall_top": (7.0, "length", "7.000 m"),
    "window_height_0": (1.95, "length", "1.950 m"),
    "window_shape_0": (1.95 / 1.05, "fraction", "1.857"),
    "window_height_1": (1.6, "length", "1.600 m"),
    "window_shape_1": (1.6 / 1.0, "fraction", "1.600"),
    "graduation_0": (1.6 / 1.95, "fraction", "0.821"),
    "openings_masked": (0.0, "count", "0"),
}


def with_windows(height_m: float = 1.6, width_m: float = 1.0) -> Design:
    upper = window_at(3.0, 4.6, storey=1, height_m=height_m, width_m=width_m)
    return design((door_at(), window_at(-3.0), window_at(3.0), upper))


@pytest.fixture(scope="module")
def told() -> dict[str, Figure]:
    return {f.key: f for f in figures(with_windows(), [])}


def test_no_figure_is_missing_and_none_is_new(told: dict[str, Figure]) -> None:
    assert list(told) == list(BY_HAND)


@pytest.mark.parametrize("key", BY_HAND)
def test_a_figure_is_what_the_sizes_say(told: dict[str, Figure], key: str) -> None:
    value, unit, written = BY_HAND[key]
    assert told[key].value == pytest.approx(value)
    assert told[key].unit == unit
    assert told[key].written("metric") == written


@pytest.mark.parametrize(
    ("unit", "value", "most", "said"),
    [
        ("ratio", 8.04, None, "1:8.0"),
        ("ratio", 7.0, 8.0, "1:7.0 to 1:8.0"),
        ("ratio", 7.0, 7.01, "1:7.0"),
        ("diameters", 2.254, None, "2.25 D"),
        ("degrees", 44.96, None, "45.0°"),
        ("count", 4.0, None, "4"),
        ("fraction", 0.2506, None, "0.251"),
        ("length", 0.3048, None, "1'-0\""),
    ],
)
def test_each_unit_is_written_as_the_trade_writes_it(
    unit: str, value: float, most: float | None, said: str
) -> None:
    figure = Figure("key", "", value, unit, "", most=most)  # type: ignore[arg-type]
    assert figure.written() == said


def keys(made: Design) -> set[str]:
    return {f.key for f in findings(made)}


@pytest.mark.parametrize(
    ("share", "said"),
    [(0.96, ""), (0.98, "as tall as"), (1.0, "as tall as"), (1.02, "as tall as")]
    + [(1.04, "taller than")],
)
def test_upper_windows_fall_or_are_told(share: float, said: str) -> None:
    """Three per cent to either side are alike (common practice)."""
    made = with_windows(height_m=1.95 * share)
    texts = [f.text for f in findings(made) if f.key == "no graduation"]
    assert len(texts) == bool(said)
    assert all(said in text for text in texts)


@pytest.mark.parametrize(
    ("along_m", "masked"), [(0.0, False), (1.5, True), (1.5 + 0.525 + 0.19, True)]
)
def test_a_column_before_a_window_is_counted(along_m: float, masked: bool) -> None:
    """Column of 0.5 m at 1.5 m; a window 1.05 m wide is met within 0.525 + 0.2 m of its axis."""
    made = design((window_at(along_m),))
    (count,) = [f.value for f in figures(made, []) if f.key == "openings_masked"]
    assert count == masked
    assert ("masked openings" in keys(made)) == masked


def test_a_window_clear_of_the_shaft_is_not_masked() -> None:
    made = design((window_at(1.5 + 0.525 + 0.21),))
    assert "masked openings" not in keys(made)


def test_a_second_porch_depth_and_floor_move_their_figures_alone() -> None:
    before = {f.key: f.value for f in figures(design(), [])}
    moved = replace(porch(), axis_depth_m=3.0, floor_z_m=0.5)
    after = {f.key: f.value for f in figures(design(porch=moved), [])}
    assert {k for k in before if before[k] != after[k]} == {"porch_depth", "porch_top"}
    assert after["porch_depth"] == pytest.approx(3.0)
    assert after["porch_top"] == pytest.approx(0.5 + 4.3)

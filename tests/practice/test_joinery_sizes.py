"""True sections as rows, and the few that a book gives, against it."""

from __future__ import annotations

import re

import pytest

from massing.canon.sources import source
from massing.practice.joinery_sizes import arch_depth, joinery, joinery_size
from massing.practice.rules import read_rules

INCH, FOOT = 0.0254, 0.3048


@pytest.mark.parametrize("table", ["joinery.yaml", "ashlar.yaml"])
def test_every_row_has_a_value_a_source_and_words(table: str) -> None:
    rows = read_rules(table)
    assert len(rows) > 15
    for row in rows.values():
        assert row.value > 0.0
        assert source(row.source).key == row.source
        assert re.search(r"[a-z]{3}", row.words), row.name


def test_sections_that_books_give() -> None:
    """Kidder sec. 306: glass 5/16 in larger than the sight (read). Palladio I.25: an architrave a
    sixth of the opening, over it a frieze of 3 and a cornice of 5 to its 4 (from memory).
    IRC R311.7.8.1: a rail 34 to 38 in over the nosings (read)."""
    assert 2.0 * joinery_size("sash.rebate") == pytest.approx(5 / 16 * INCH)
    assert joinery_size("casing.of_width") == pytest.approx(1 / 6)
    shares = joinery_size("head.hood_frieze"), joinery_size("head.hood_cornice")
    assert shares == pytest.approx((3 / 4, 5 / 4))
    assert 34 * INCH <= joinery_size("floor.rail") <= 38 * INCH
    assert joinery()["floor.rail"].source == "irc R311.7.8.1"


@pytest.mark.parametrize(("span_ft", "least_in"), [(2.0, 8.0), (4.0, 8.0), (6.0, 10.0)])
def test_a_jack_arch_is_as_deep_as_the_rule_of_thumb(span_ft: float, least_in: float) -> None:
    """Kicklighter p. 299: 4 in and an inch to the foot of span, and 8 in (read), in courses."""
    deep = arch_depth(span_ft * FOOT, "jack arch")
    assert deep >= least_in * INCH - 1e-9
    assert deep < least_in * INCH + joinery_size("head.brick_course")

"""Contact sheets: what stands where, at every number of alternatives."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageFont

from massing.present.sheets.contact_sheet import (
    Heading,
    Panel,
    _title,
    columns_for,
    contact_sheet,
)
from massing.present.sheets.paper import (
    INK,
    PAPER,
    ScaleBar,
    font,
    lines_within,
    scale_bar,
    text_width,
)
from massing.units import FOOT_M

WIDE, TALL = 320, 200
HEADING = Heading("House by the ford", "Front elevation, clay model", "Anywhere · 21 June 2026")
COLOURS = [(200, 30, 30), (30, 160, 30), (30, 30, 200), (160, 160, 0), (0, 150, 150), (150, 0, 150)]


def panels(count):
    return [
        Panel(f"No. {i + 1}", "1:7.0 · entablature 1/4", Image.new("RGB", (WIDE, TALL), colour))
        for i, colour in zip(range(count), itertools.cycle(COLOURS), strict=False)
    ]


def box_of(image, colour):
    rows, columns = np.nonzero((np.asarray(image) == colour).all(axis=-1))
    return columns.min(), rows.min(), columns.max() + 1, rows.max() + 1


@pytest.mark.parametrize("count", range(1, 7))
def test_every_picture_is_there_whole_in_reading_order_and_none_overlap(count):
    sheet = contact_sheet(panels(count), HEADING)
    boxes = [box_of(sheet, colour) for colour in COLOURS[:count]]
    assert all((b[2] - b[0], b[3] - b[1]) == (WIDE, TALL) for b in boxes)
    order = [(b[1], b[0]) for b in boxes]
    assert order == sorted(order)
    per_row = columns_for(count)
    assert len({b[1] for b in boxes}) == -(-count // per_row)
    for a, b in itertools.combinations(boxes, 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_up_to_three_stand_in_one_row():
    assert [columns_for(n) for n in (1, 2, 3)] == [1, 2, 3]
    assert all(-(-n // columns_for(n)) == 2 for n in range(4, 9))


def test_the_margins_stay_empty_and_each_picture_has_words_under_it():
    sheet = np.asarray(contact_sheet(panels(2), HEADING)).astype(int)
    edge = 8
    for strip in (sheet[:edge], sheet[-edge:], sheet[:, :edge], sheet[:, -edge:]):
        assert (strip == PAPER).all()
    for colour in COLOURS[:2]:
        left, _, right, bottom = box_of(sheet, colour)
        under = sheet[bottom : bottom + 30, left:right]
        assert (np.abs(under - INK).sum(axis=-1) < 60).sum() > 20


def test_a_long_name_or_line_stays_on_the_sheet():
    picture = Image.new("RGB", (WIDE, TALL), COLOURS[0])
    wordy = Panel("An alternative of very many words " * 4, "many figures · " * 30, picture)
    unbroken = Panel("W" * 60, "1:7", picture)
    sheet = np.asarray(contact_sheet([wordy, unbroken], HEADING))
    assert (sheet[:, -8:] == PAPER).all()
    assert (sheet[-8:] == PAPER).all()


def test_pictures_of_different_sizes_are_refused():
    odd = Panel("odd", "", Image.new("RGB", (WIDE + 1, TALL)))
    with pytest.raises(ValueError, match="one size"):
        contact_sheet([*panels(1), odd], HEADING)
    with pytest.raises(ValueError, match="one size"):
        contact_sheet([], HEADING)


def bar_edges(sheet):
    """Left and right end of the scale bar: the long run of ink that is not text."""
    grey = np.asarray(sheet.convert("L")) < 60
    best = (0, 0, 0)
    for row in grey:
        edges = np.flatnonzero(np.diff(np.concatenate([[0], row.astype(int), [0]])))
        for a, b in edges.reshape(-1, 2):
            best = max(best, (b - a, a, b))
    return best


@pytest.mark.parametrize(("units", "unit_m"), [("feet", FOOT_M), ("metric", 1.0)])
def test_the_scale_bar_is_as_long_as_it_says(units, unit_m):
    metres_per_pixel = 0.05
    plain = contact_sheet(panels(1), HEADING)
    scaled = contact_sheet(panels(1), HEADING, units=units, metres_per_pixel=metres_per_pixel)
    assert scaled.height > plain.height
    bar = scale_bar(WIDE * metres_per_pixel / 3.0, units)
    said_m = float(bar.labels[-1].split()[0]) * unit_m
    length_px, _, _ = bar_edges(scaled)
    assert abs(length_px * metres_per_pixel - said_m) <= 2 * metres_per_pixel


@given(st.floats(min_value=0.3, max_value=500.0), st.sampled_from(["feet", "metric"]))
def test_a_scale_is_round_and_within_the_room(longest_m, units):
    bar = scale_bar(longest_m, units)
    assert isinstance(bar, ScaleBar)
    assert longest_m / 3.0 <= bar.division_m * bar.divisions <= longest_m + 1e-9
    figures = [float(label.split()[0]) for label in bar.labels]
    assert len(figures) == bar.divisions + 1
    assert f"{figures[1]:.0e}"[0] in "125"


@given(st.text(alphabet="ab cW", max_size=80), st.integers(min_value=20, max_value=300))
def test_lines_keep_every_letter_in_order_within_the_width(text, width_px):
    face = font("roman", 12)
    lines = lines_within(text, face, width_px)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(text_width(line, face) <= width_px for line in lines)
    if all(text_width(word, face) <= width_px for word in text.split()):
        assert " ".join(lines).split() == text.split()


def test_fonts_measure_by_the_basic_layout() -> None:
    """Where Pillow brings another layout too, some builds of that mismeasure."""
    from massing.present.sheets.paper import font

    assert font("roman", 20).layout_engine == ImageFont.Layout.BASIC
    line = "Six Tuscan columns before a wall of stucco"
    assert font("roman", 20).getlength(line) < 20 * len(line)


def test_small_type_is_spaced_as_large_type_is():
    # Set at its own size each letter would begin on a whole pixel.
    text = "Illustrations of the little villa, filling: 1:17.2"
    for size in (11, 13, 18):
        small, large = (text_width(text, font("roman", px)) for px in (size, 4 * size))
        assert small == pytest.approx(large / 4.0, abs=0.3)


def test_a_panel_s_letter_stands_before_its_name_and_its_numbers_take_room_under_it():
    plain = panels(2)
    told = [
        Panel(p.name, p.figures, p.picture, "A", (("", "as drawn"), ("column", "1:20")), "Thin")
        for p in plain
    ]
    assert _title(told[0]) == "A · No. 1"
    assert _title(Panel("", "", told[0].picture, "As drawn")) == "As drawn"
    assert contact_sheet(told, HEADING).height > contact_sheet(plain, HEADING).height + 40

"""Contact sheets: the alternatives side by side, each with its name and key figures."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from PIL import Image, ImageDraw, ImageFont

from massing.practice.cautions import CAUTION
from massing.present.sheets.paper import (
    INK,
    PALE_INK,
    RULE,
    ScaleBar,
    draw_scale_bar,
    font,
    height_of,
    leading,
    scale_bar,
    sheet,
    write,
)

MOST_COLUMNS = 4


@dataclass(frozen=True)
class Panel:
    """One alternative on a sheet: its picture, its name, a line of key figures.

    Attributes:
        mark: the letter it is spoken of by, or that it is the design as drawn.
        numbers: proportions in columns, the first row their heads.
        finding: the one that matters.
    """

    name: str
    figures: str
    picture: Image.Image
    mark: str = ""
    numbers: tuple[tuple[str, ...], ...] = ()
    finding: str = ""


@dataclass(frozen=True)
class Heading:
    """What a sheet shows: the scene's title; the view and look; place, time and sun."""

    title: str
    subject: str
    light: str


def columns_for(count: int) -> int:
    """How many panels stand side by side: up to three in one row, then two rows or more.

    >>> [columns_for(n) for n in (1, 2, 3, 4, 5, 6, 8, 9)]
    [1, 2, 3, 2, 3, 3, 4, 4]
    """
    return count if count <= 3 else min(math.ceil(count / 2), MOST_COLUMNS)


def contact_sheet(
    panels: Sequence[Panel],
    heading: Heading,
    *,
    units: str = "feet",
    metres_per_pixel: float | None = None,
    columns: int | None = None,
    signed: str = "",
) -> Image.Image:
    """Lay out the panels at the size of their pictures.

    Args:
        panels: pictures all of one size.
        heading: what is written over them.
        units: ``feet`` or ``metric``, for the scale bar.
        metres_per_pixel: scale of the pictures, for a scale bar; ``None`` in perspective.
        columns: how many stand side by side; else as :func:`columns_for` has it.
        signed: who drew it and when, at the foot.

    Raises:
        ValueError: no panels, or pictures of different sizes.
    """
    sizes = {panel.picture.size for panel in panels}
    if len(sizes) != 1:
        raise ValueError(f"a sheet needs pictures of one size; given: {sorted(sizes)}")
    ((wide, tall),) = sizes
    text_px = max(11, round(wide / 44))
    gap, margin = 2 * text_px, 3 * text_px
    columns = columns or columns_for(len(panels))
    rows = math.ceil(len(panels) / columns)
    inner = columns * wide + (columns - 1) * gap

    head = _heading_height(heading, text_px, inner)
    label = max(_label_height(panel, text_px, wide) for panel in panels)
    foot = _foot_height(text_px, inner, metres_per_pixel is not None, signed)
    body = rows * (tall + label) + (rows - 1) * gap
    image = sheet(inner + 2 * margin, 2 * margin + head + body + foot)

    _set_heading(image, (margin, margin), heading, text_px, inner)
    for index, panel in enumerate(panels):
        row, column = divmod(index, columns)
        at = (margin + column * (wide + gap), margin + head + row * (tall + label + gap))
        image.paste(panel.picture.convert("RGB"), at)
        _set_label(image, (at[0], at[1] + tall), panel, text_px, wide)
    at = (margin, margin + head + body)
    bar = scale_bar(wide * metres_per_pixel / 3.0, units) if metres_per_pixel else None
    _set_foot(image, at, text_px, inner, bar, metres_per_pixel or 0.0, signed)
    return image


def _faces(text_px: int) -> tuple[ImageFont.FreeTypeFont, ...]:
    """Fonts of title, subject and light."""
    return font("roman", 2 * text_px), font("italic", text_px), font("roman", text_px)


def _heading_height(heading: Heading, text_px: int, inner: int) -> int:
    texts = (heading.title, heading.subject, heading.light)
    lines = zip(texts, _faces(text_px), strict=True)
    return sum(height_of(text, face, inner) for text, face in lines) + round(1.6 * text_px)


def _set_heading(
    image: Image.Image, at: tuple[int, int], heading: Heading, text_px: int, inner: int
) -> None:
    left, top = at
    texts = (heading.title, heading.subject, heading.light)
    for text, face in zip(texts, _faces(text_px), strict=True):
        top += write(image, (left, top), text, face, inner)
    _rule(image, left, top + round(0.6 * text_px), inner)


def _label_height(panel: Panel, text_px: int, wide: int) -> int:
    name = height_of(_title(panel), font("roman", round(1.35 * text_px)), wide)
    figures = height_of(panel.figures, font("roman", text_px), wide)
    rows = len(panel.numbers) * leading(font("roman", text_px))
    finding = height_of(panel.finding, font("italic", text_px), wide) if panel.finding else 0
    between = round(0.5 * text_px) * (bool(panel.numbers) + bool(panel.finding))
    return name + figures + rows + finding + between + round(1.0 * text_px)


def _title(panel: Panel) -> str:
    return f"{panel.mark} · {panel.name}" if panel.mark and panel.name else panel.mark or panel.name


def _set_label(
    image: Image.Image, at: tuple[int, int], panel: Panel, text_px: int, wide: int
) -> None:
    left, top = at[0], at[1] + round(0.4 * text_px)
    top += write(image, (left, top), _title(panel), font("roman", round(1.35 * text_px)), wide)
    top += write(image, (left, top), panel.figures, font("roman", text_px), wide, PALE_INK)
    top += round(0.5 * text_px) * bool(panel.numbers)
    for i, row in enumerate(panel.numbers):
        face, fill = (font("roman", text_px), INK) if i else (font("italic", text_px), PALE_INK)
        for k, cell in enumerate(row):
            place = left + round(wide * _COLUMNS_AT[min(k, len(_COLUMNS_AT) - 1)])
            write(image, (place, top), cell, face, wide, fill)
        top += leading(face)
    if panel.finding:
        top += round(0.5 * text_px)
        write(image, (left, top), panel.finding, font("italic", text_px), wide)


_COLUMNS_AT = (0.0, 0.27, 0.47, 0.76)  # of a panel's width: where its columns of numbers begin


def _foot_height(text_px: int, inner: int, with_scale: bool, signed: str) -> int:
    caution = height_of(CAUTION, font("italic", _small(text_px)), inner)
    if signed:
        caution += height_of(signed, font("roman", _small(text_px)), inner)
    return caution + round(1.6 * text_px) + with_scale * round(2.4 * text_px)


def _set_foot(
    image: Image.Image,
    at: tuple[int, int],
    text_px: int,
    inner: int,
    bar: ScaleBar | None,
    metres_per_pixel: float,
    signed: str,
) -> None:
    left, top = at[0], at[1] + round(0.8 * text_px)
    if bar:
        start = (left + text_px // 3, top)
        end = draw_scale_bar(image, start, bar, metres_per_pixel, text_px)
        note = (round(end + text_px), top)
        write(image, note, "the elevations' scale", font("italic", text_px), inner, PALE_INK)
        top += round(2.4 * text_px)
    _rule(image, left, top, inner)
    top += round(0.5 * text_px)
    if signed:
        top += write(image, (left, top), signed, font("roman", _small(text_px)), inner)
    write(image, (left, top), CAUTION, font("italic", _small(text_px)), inner, PALE_INK)


def _small(text_px: int) -> int:
    return max(10, round(0.85 * text_px))


def _rule(image: Image.Image, left: int, top: int, length: int) -> None:
    ImageDraw.Draw(image).line((left, top, left + length, top), fill=RULE, width=1)

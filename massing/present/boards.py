"""Contact sheets: the alternatives side by side, each with its name and key figures."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from PIL import Image, ImageDraw

from massing.present.paper import (
    INK,
    PALE_INK,
    RULE,
    draw_scale_bar,
    font,
    lines_within,
    scale_bar,
    sheet,
    text_width,
)

CAUTION = (
    "For comparing designs. Sizes are of the design, not for building from: guards, stairs, "
    "footings and structure follow local codes and licensed practice."
)
MOST_COLUMNS = 4


@dataclass(frozen=True)
class Panel:
    """One alternative on a sheet: its picture, its name, a line of key figures."""

    name: str
    figures: str
    picture: Image.Image


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
) -> Image.Image:
    """Lay out the panels at the size of their pictures.

    Args:
        panels: pictures all of one size.
        heading: what is written over them.
        units: ``feet`` or ``metric``, for the scale bar.
        metres_per_pixel: scale of the pictures, for a scale bar; ``None`` in perspective.

    Raises:
        ValueError: no panels, or pictures of different sizes.
    """
    sizes = {panel.picture.size for panel in panels}
    if len(sizes) != 1:
        raise ValueError(f"a sheet needs pictures of one size; given: {sorted(sizes)}")
    ((wide, tall),) = sizes
    columns = columns_for(len(panels))
    rows = math.ceil(len(panels) / columns)
    text_px = max(11, round(wide / 48))
    gap = 2 * text_px
    margin = 3 * text_px
    roman, italic = font("roman", text_px), font("italic", text_px)
    name_face, title_face = font("roman", round(1.35 * text_px)), font("roman", 2 * text_px)
    leading = round(1.35 * text_px)
    inner = columns * wide + (columns - 1) * gap

    figure_lines = [lines_within(panel.figures, roman, wide) for panel in panels]
    label = round(2.4 * text_px) + leading * max(len(lines) for lines in figure_lines)
    title_lines = lines_within(heading.title, title_face, inner)
    subject_lines = lines_within(f"{heading.subject}", italic, inner)
    light_lines = lines_within(heading.light, roman, inner)
    head = (
        round(2.5 * text_px) * len(title_lines)
        + leading * (len(subject_lines) + len(light_lines))
        + text_px
    )
    bar_room = round(2.6 * text_px) if metres_per_pixel else 0
    caution_face = font("italic", max(10, round(0.85 * text_px)))
    caution_lines = lines_within(CAUTION, caution_face, inner)
    foot = bar_room + leading * len(caution_lines) + text_px
    height = 2 * margin + head + rows * (tall + label) + (rows - 1) * gap + foot
    image = sheet(inner + 2 * margin, height)
    draw = ImageDraw.Draw(image)

    y = margin
    for line in title_lines:
        draw.text((margin, y), line, fill=INK, font=title_face)
        y += round(2.5 * text_px)
    for lines, face in ((subject_lines, italic), (light_lines, roman)):
        for line in lines:
            draw.text((margin, y), line, fill=INK, font=face)
            y += leading
    y += text_px // 2
    draw.line((margin, y, margin + inner, y), fill=RULE, width=1)
    top = margin + head

    for index, (panel, lines) in enumerate(zip(panels, figure_lines, strict=True)):
        row, column = divmod(index, columns)
        left = margin + column * (wide + gap)
        at = top + row * (tall + label + gap)
        image.paste(panel.picture.convert("RGB"), (left, at))
        at += tall + round(0.5 * text_px)
        draw.text((left, at), panel.name, fill=INK, font=name_face)
        at += round(1.75 * text_px)
        for line in lines:
            draw.text((left, at), line, fill=PALE_INK, font=roman)
            at += leading

    y = height - margin - foot + text_px // 2
    if metres_per_pixel:
        bar = scale_bar(wide * metres_per_pixel / 3.0, units)
        draw_scale_bar(draw, bar, margin + text_px // 3, y, metres_per_pixel, text_px)
        note = "all to this scale" if len(panels) > 1 else ""
        length_px = bar.division_m * bar.divisions / metres_per_pixel
        after = margin + length_px + text_px // 3 + text_width(bar.labels[-1], roman) + text_px
        draw.text((after, y), note, fill=PALE_INK, font=italic)
        y += bar_room
    draw.line((margin, y, margin + inner, y), fill=RULE, width=1)
    y += text_px // 2
    for line in caution_lines:
        draw.text((margin, y), line, fill=PALE_INK, font=caution_face)
        y += leading
    return image

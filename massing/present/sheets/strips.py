"""Pictures in a row with their hour written small: strips of stills and frames of films."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PIL import Image, ImageDraw

from massing.practice.cautions import CAUTION
from massing.present.sheets.glyphs import set_in
from massing.present.sheets.paper import (
    INK,
    PALE_INK,
    font,
    height_of,
    leading,
    sheet,
    text_width,
    write,
)


@dataclass(frozen=True)
class Row:
    """One row of a strip: its name, its pictures left to right."""

    name: str
    pictures: Sequence[Image.Image]


def captioned(picture: Image.Image, left: str, right: str) -> Image.Image:
    """The picture with a small line under it and the caution; even sides, as films want."""
    wide, tall = picture.size
    size_px = max(11, round(wide / 52))
    band, inner = 2 * size_px, wide - 2 * size_px
    small = font("italic", max(9, round(0.7 * size_px)))
    under = height_of(CAUTION, small, inner) + size_px // 2
    whole = tall + band + under
    out = sheet(wide - wide % 2, whole - whole % 2)
    out.paste(picture.convert("RGB"), (0, 0))
    face = font("roman", size_px)
    draw = ImageDraw.Draw(out)
    top = tall + round(0.3 * size_px)
    draw.text((size_px, top), left, fill=INK, font=set_in(left, face))
    draw.text((wide - size_px - text_width(right, face), top), right, fill=PALE_INK, font=face)
    write(out, (size_px, tall + band), CAUTION, small, inner, PALE_INK)
    return out


def strip(title: str, subject: str, heads: Sequence[str], rows: Sequence[Row]) -> Image.Image:
    """Rows of stills under shared heads.

    Args:
        title, subject: written over all.
        heads: one text for each column.
        rows: all with as many pictures as there are heads, all of one size.

    Raises:
        ValueError: rows of different lengths, or pictures of different sizes.
    """
    sizes = {picture.size for row in rows for picture in row.pictures}
    if len(sizes) != 1 or any(len(row.pictures) != len(heads) for row in rows):
        raise ValueError("a strip needs as many pictures in each row as heads, all of one size")
    ((wide, tall),) = sizes
    text_px = max(11, round(wide / 24))
    gap, margin = text_px, 2 * text_px
    inner = len(heads) * wide + (len(heads) - 1) * gap
    faces = font("roman", round(1.8 * text_px)), font("italic", text_px), font("roman", text_px)
    titled = height_of(title, faces[0], inner) + height_of(subject, faces[1], inner) + gap
    headed = max(height_of(head, faces[2], wide) for head in heads) + gap // 2
    named = leading(faces[1]) if any(row.name for row in rows) else 0
    foot = height_of(CAUTION, faces[1], inner) + gap
    body = len(rows) * (tall + named + gap)
    image = sheet(inner + 2 * margin, 2 * margin + titled + headed + body + foot)

    top = margin + write(image, (margin, margin), title, faces[0], inner)
    write(image, (margin, top), subject, faces[1], inner, PALE_INK)
    top = margin + titled
    for column, head in enumerate(heads):
        write(image, (margin + column * (wide + gap), top), head, faces[2], wide)
    top += headed
    for row in rows:
        for column, picture in enumerate(row.pictures):
            image.paste(picture.convert("RGB"), (margin + column * (wide + gap), top))
        if named:
            write(image, (margin, top + tall), row.name, faces[1], inner)
        top += tall + named + gap
    write(image, (margin, top), CAUTION, faces[1], inner, PALE_INK)
    return image

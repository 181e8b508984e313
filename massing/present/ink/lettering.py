"""What is lettered on a drawn elevation on request: a border, its name, a scale."""

from __future__ import annotations

from dataclasses import dataclass

from PIL import Image, ImageDraw

from massing.present.sheets.paper import (
    draw_scale_bar,
    font,
    lines_within,
    scale_bar,
    set_line,
    text_width,
)
from massing.view.camera import Camera

FRAME = (0.010, 0.016)  # of the picture's width, from its edge: a heavy line and a fine one
MARGIN = 0.036
SPACED = "\u2009"  # between the capitals of a name
_INK = (41, 36, 33)


@dataclass(frozen=True)
class Lettering:
    """The name of what is drawn, what is said under it, and the units of its scale."""

    name: str
    line: str = ""
    units: str = "feet"


def letter(image: Image.Image, camera: Camera, words: Lettering) -> None:
    """Letter a drawing: the name in capitals in the sky at the left, the scale at the right."""
    wide, tall = image.size
    draw = ImageDraw.Draw(image)
    for inset, weight in zip(FRAME, (2.2, 0.8), strict=True):
        edge, heavy = round(inset * wide), max(1, round(weight * wide / 1000.0))
        draw.rectangle((edge, edge, wide - 1 - edge, tall - 1 - edge), outline=_INK, width=heavy)
    left = top = round(MARGIN * wide)
    large, small = max(10, round(wide / 58)), max(9, round(wide / 92))
    roman, italic = font("roman", large), font("italic", small)
    bar = scale_bar(0.20 * camera.ortho_width_m, words.units)
    long = bar.division_m * bar.divisions / camera.metres_per_pixel
    unit = text_width(bar.labels[-1], font("roman", small))
    start = wide - left - long - unit
    for line in lines_within(SPACED.join(words.name.upper()), roman, start - 2.0 * left):
        set_line(image, (left, top), line, roman, _INK)
        top += round(1.25 * large)
    set_line(image, (left, top + round(0.1 * large)), words.line, italic, _INK)
    at = (start, round(MARGIN * wide) + 0.25 * large)
    draw_scale_bar(image, at, bar, camera.metres_per_pixel, small)

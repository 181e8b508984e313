"""The paper that sheets are set on: fonts, ink, measure, scale bars."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.util import find_spec
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont
from PIL.PngImagePlugin import PngInfo

from massing.practice.cautions import METADATA
from massing.present.sheets.glyphs import set_in
from massing.units import FOOT_M

PAPER = (251, 250, 247)
INK = (43, 41, 38)
PALE_INK = (112, 108, 101)
RULE = (196, 191, 181)
_LARGE_PX, _TIMES = 26, 4  # type smaller than this is drawn so many times larger

_FACES = {"roman": "STIXGeneral.ttf", "italic": "STIXGeneralItalic.ttf"}


@lru_cache(maxsize=64)
def font(face: str, size_px: int) -> ImageFont.FreeTypeFont:
    """A font of the house style, ``roman`` or ``italic``."""
    # The basic layout: what some builds of the other measure is wrong, and words break by letters.
    path = str(_fonts() / _FACES[face])
    return ImageFont.truetype(path, size_px, layout_engine=ImageFont.Layout.BASIC)


@cache
def _fonts() -> Path:
    """The fonts that matplotlib carries, so that a sheet looks the same on every machine.

    Found without importing it, which takes longer than laying a sheet.
    """
    spec = find_spec("matplotlib")
    assert spec is not None
    assert spec.submodule_search_locations
    return Path(spec.submodule_search_locations[0], "mpl-data", "fonts", "ttf")


def text_width(text: str, face: ImageFont.FreeTypeFont) -> float:
    """The width of one line of text, pixels."""
    finer = _finer(face)
    return float(set_in(text, finer).getlength(text)) / (finer.size / face.size)


def _finer(face: ImageFont.FreeTypeFont) -> ImageFont.FreeTypeFont:
    """The face as small type is set: larger, so that its letters stand between whole pixels."""
    if face.size >= _LARGE_PX:
        return face
    return face.font_variant(size=_TIMES * int(face.size))


def _firm(cover: float) -> int:
    """A pixel's ink by how much of it a letter covers: thin strokes stay dark."""
    return round(255.0 * (cover / 255.0) ** 0.6)


def set_line(
    image: Image.Image,
    at_px: tuple[float, float],
    text: str,
    face: ImageFont.FreeTypeFont,
    fill: tuple[int, int, int] = INK,
) -> None:
    """Set one line; small type is drawn larger and brought down, or its spacing would be uneven."""
    finer = _finer(face)
    times = round(finer.size / face.size)
    if times == 1:
        ImageDraw.Draw(image).text(at_px, text, fill=fill, font=set_in(text, face))
        return
    left, top = int(at_px[0] // 1), int(at_px[1] // 1)
    shift = ((at_px[0] - left) * times + times, (at_px[1] - top) * times)
    wide, tall = round(text_width(text, face)) + 2 + round(face.size), 2 * int(face.size)
    drawn = Image.new("L", (wide * times, tall * times), 0)
    ImageDraw.Draw(drawn).text(shift, text, fill=255, font=set_in(text, finer))
    mask = drawn.resize((wide, tall), Image.Resampling.BOX).point(_firm)
    image.paste(fill, (left - 1, top), mask)


def lines_within(text: str, face: ImageFont.FreeTypeFont, width_px: float) -> list[str]:
    """The text in lines no wider than ``width_px``: broken between words, or within a word that
    is itself too wide. A line holds one character at the least."""
    lines: list[str] = []
    for word in text.split():
        if lines and text_width(f"{lines[-1]} {word}", face) <= width_px:
            lines[-1] += f" {word}"
            continue
        while text_width(word, face) > width_px and len(word) > 1:
            fits = (
                n for n in range(len(word) - 1, 1, -1) if text_width(word[:n], face) <= width_px
            )
            cut = next(fits, 1)
            lines.append(word[:cut])
            word = word[cut:]
        lines.append(word)
    return lines


def write(
    image: Image.Image,
    at_px: tuple[int, int],
    text: str,
    face: ImageFont.FreeTypeFont,
    width_px: int,
    fill: tuple[int, int, int] = INK,
) -> int:
    """Set text in lines under one another; returns the height they take."""
    left, top = at_px
    lines = lines_within(text, face, width_px)
    for i, line in enumerate(lines):
        set_line(image, (left, top + i * leading(face)), line, face, fill)
    return len(lines) * leading(face)


def height_of(text: str, face: ImageFont.FreeTypeFont, width_px: int) -> int:
    """The height that :func:`write` would take."""
    return len(lines_within(text, face, width_px)) * leading(face)


def leading(face: ImageFont.FreeTypeFont) -> int:
    """Line to line, pixels."""
    return round(1.32 * face.size)


@dataclass(frozen=True)
class ScaleBar:
    """A drawn scale: equal divisions of a round length.

    Attributes:
        division_m: length of one division.
        divisions: how many.
        labels: what stands at each division's end, ``divisions + 1`` of them.
    """

    division_m: float
    divisions: int
    labels: tuple[str, ...]


def scale_bar(longest_m: float, units: str) -> ScaleBar:
    """The longest round scale within ``longest_m``, in ``feet`` or ``metric``.

    >>> scale_bar(7.0, "metric").labels, scale_bar(7.0, "feet").labels
    (('0', '1', '2', '3', '4', '5 m'), ('0', '5', '10', '15', '20 ft'))
    """
    unit_m, sign = (FOOT_M, "ft") if units == "feet" else (1.0, "m")
    steps = [s * 10.0**k for k in range(-2, 4) for s in (1.0, 2.0, 5.0)]
    options = [(step * unit_m * n, step, n) for step in steps for n in (4, 5)]
    fitting = [option for option in options if option[0] <= longest_m] or [options[0]]
    _, step, count = max(fitting)
    labels = [f"{step * i:g}" for i in range(count + 1)]
    labels[-1] += f" {sign}"
    return ScaleBar(step * unit_m, count, tuple(labels))


def draw_scale_bar(
    image: Image.Image,
    at_px: tuple[float, float],
    bar: ScaleBar,
    metres_per_pixel: float,
    size_px: int,
) -> float:
    """Draw the bar with its labels under it, in text of ``size_px``; returns its right end."""
    draw = ImageDraw.Draw(image)
    left_px, top_px = at_px
    height = max(2, round(size_px * 0.3))
    edges = [left_px + i * bar.division_m / metres_per_pixel for i in range(bar.divisions + 1)]
    for i, (a, b) in enumerate(itertools.pairwise(edges)):
        fill = INK if i % 2 == 0 else PAPER
        draw.rectangle((a, top_px, b, top_px + height), fill=fill, outline=INK, width=1)
    face = font("roman", size_px)
    for x, label in zip(edges, bar.labels, strict=True):
        figure = label.split()[0]  # the unit hangs beyond the figure, which stays centred
        start = x - text_width(figure, face) / 2.0
        set_line(image, (start, top_px + height + size_px * 0.2), label, face)
    return edges[-1] + text_width(bar.labels[-1], face)


def sheet(width_px: int, height_px: int) -> Image.Image:
    """A blank sheet of paper."""
    return Image.new("RGB", (width_px, height_px), PAPER)


def saver(picture: Image.Image) -> Callable[[Path], None]:
    """What writes the picture as PNG with the caution in its text fields, given a path."""
    words = PngInfo()
    for key, value in METADATA.items():
        words.add_text(key, value)
    return lambda path: picture.save(path, format="PNG", pnginfo=words)

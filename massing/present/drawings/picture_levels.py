"""Floors and other heights written at the side of a section, as its sheet has them."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PIL import Image, ImageDraw

from massing.present.drawings.heights import spread
from massing.present.sheets.paper import INK, font, set_line, text_width
from massing.view.camera import Camera

DASH_PX = 6


def levels_px(camera: Camera, levels: Sequence[tuple[str, float]]) -> list[tuple[str, float]]:
    """The levels within a picture and how far down it they lie, pixels."""
    found = []
    for name, z in levels:
        y = float(camera.project([[0.0, 0.0, z]])[0, 1])
        if 0.0 <= y <= camera.height_px - 1.0:
            found.append((name, y))
    return found


def mark_levels(path: Path, camera: Camera, levels: Sequence[tuple[str, float]]) -> None:
    """Write levels into a picture's file: a fine broken line across, its words at the left."""
    with Image.open(path) as opened:
        kind, image = opened.format, opened.convert("RGB")
    draw = ImageDraw.Draw(image, "RGBA")
    size_px = max(9, round(image.width / 90))
    face, edge = font("roman", size_px), round(0.012 * image.width)
    shown = levels_px(camera, levels)
    rows = spread([y for _, y in shown], 1.25 * size_px)
    reach = edge + max((text_width(name, face) for name, _ in shown), default=0.0) + size_px
    for (name, y), row in zip(shown, rows, strict=True):
        for x in range(round(reach), image.width - edge, 2 * DASH_PX):
            draw.line((x, y, x + DASH_PX, y), fill=(*INK, 120), width=max(1, image.width // 1200))
        draw.line((reach - 0.7 * size_px, row, reach, y), fill=(*INK, 170))
        set_line(image, (edge, row - 1.18 * size_px), name, face, INK)
    image.save(path, format=kind, quality=92)

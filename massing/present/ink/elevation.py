"""An elevation drawn as offices once drew it: ink lines and flat washes on paper.

Lines and shadows are found by rays against the built model, finer than the picture: a line
where depth jumps or faces turn, the heavier the deeper the jump, heaviest against the sky; a
wash where a face lies in cast shadow, a lighter one where it turns from the sun. No renderer
is needed.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike
from PIL import Image

from massing.geometry.mesh import Floats
from massing.geometry.rays import Caster
from massing.parts.part import Model, Part
from massing.present.ink.linework import INK, lines_of, shaft_outlines
from massing.present.ink.seen import Seen, Singles, look
from massing.present.ink.washes import grain, washes
from massing.present.sheets.paper import font, set_line, text_width
from massing.view.camera import Camera
from massing.view.foreground import standing_before
from massing.view.ground_line import GroundLine, ground_line

_RAYS_AT_ONCE = 1_000_000

_LAP_PX = 12  # rows that bands share, more than lines and the rims of washes reach


def draw_elevation(
    model: Model,
    camera: Camera,
    sun_direction: ArrayLike,
    *,
    fineness: int = 2,
    title: str = "",
    caption: str = "",
) -> Image.Image:
    """The model's elevation in ink and wash, at the camera's size.

    Args:
        sun_direction: ``(3,)`` towards the sun in the house's frame.
        fineness: rays along each side of a pixel.
        title, caption: written small under the ground line.

    Raises:
        ValueError: the camera is not a level orthographic one.
    """
    if not camera.is_elevation:
        raise ValueError(f"view {camera.name!r} is no elevation; only elevations are drawn")
    sun = np.asarray(sun_direction, dtype=float)
    sun = sun / np.linalg.norm(sun)
    parts, before, line = drawable(model, camera)

    def washed(seen: Seen) -> Singles:
        sheet = washes(seen, parts, camera, sun, model.notes)
        ink = lines_of(seen, parts, camera, shafts)[..., None]
        sheet *= 1.0 - ink
        sheet += INK * ink
        return sheet

    caster = Caster(parts)
    shafts = shaft_outlines(parts, camera)
    shading = Caster([*parts, *before]) if before else caster
    crowns = {i: _middle(p) for i, p in enumerate(parts) if p.path[-1] == "crown"}

    def seen(rows: range) -> Seen:
        return look(caster, camera, sun, fineness, rows, line, shading=shading, crowns=crowns)

    picture = _by_bands(camera, fineness, seen, washed)
    picture *= grain(camera.height_px, camera.width_px)[..., None]
    image = Image.fromarray((np.clip(picture, 0.0, 1.0) * 255.0 + 0.5).astype(np.uint8), "RGB")
    _write_under_ground(image, line, title, caption)
    return image


def line_drawing(model: Model, camera: Camera, *, fineness: int = 2) -> Singles:
    """The model's elevation in line alone, as ink ``(h, w)`` from 0 to 1, at the camera's size.

    Raises:
        ValueError: the camera is not a level orthographic one.
    """
    if not camera.is_elevation:
        raise ValueError(f"view {camera.name!r} is no elevation; only elevations are drawn")
    parts, _, line = drawable(model, camera)
    caster = Caster(parts)
    shafts = shaft_outlines(parts, camera)

    def seen(rows: range) -> Seen:
        return look(caster, camera, None, fineness, rows, line)

    def inked(seen: Seen) -> Singles:
        return lines_of(seen, parts, camera, shafts)[..., None]

    return _by_bands(camera, fineness, seen, inked)[..., 0]


def drawable(model: Model, camera: Camera) -> tuple[list[Part], list[Part], GroundLine]:
    """What is drawn, what only throws its shadow, and where the earth is cut.

    The ground is drawn where it is seen to rise.
    """
    line = ground_line(model, camera)
    before = [p for p in standing_before(model, camera) if p.solid]
    left_out = {p.key for p in before}
    parts = [
        p
        for p in model.parts
        if p.solid and p.role not in ("grass", "walk") and p.key not in left_out
    ]
    return parts + (model.select("setting/ground") if line.seen else []), before, line


def _middle(part: Part) -> tuple[Floats, Floats]:
    """Centre and half the size ``(3,)`` of a part."""
    low, high = part.world_mesh().bounds
    return (low + high) / 2.0, (high - low) / 2.0


def _by_bands(
    camera: Camera,
    fineness: int,
    seen: Callable[[range], Seen],
    made: Callable[[Seen], Singles],
) -> Singles:
    """What ``made`` makes of the fine grid ``(h, w, c)``, averaged to the camera's pixels.

    Band by band, or the fine grid of a large sheet would fill the memory.
    """
    done = []
    rows = max(16, _RAYS_AT_ONCE // (camera.width_px * fineness**2))
    lap = _LAP_PX * fineness
    for top in range(0, camera.height_px, rows):
        band = range(top, min(top + rows, camera.height_px))
        fine = range(
            max(0, band.start * fineness - lap),
            min(camera.height_px * fineness, band.stop * fineness + lap),
        )
        sheet = made(seen(fine))
        first = band.start * fineness - fine.start
        kept = sheet[first : first + len(band) * fineness]
        small = kept.reshape(len(band), fineness, camera.width_px, fineness, -1)
        done.append(small.mean(axis=(1, 3)))
    return np.concatenate(done)


def _write_under_ground(image: Image.Image, line: GroundLine, title: str, caption: str) -> None:
    """Title at the left, caption at the right, where the ground leaves room for a line."""
    camera = line.camera
    size_px = max(9, round(camera.width_px / 80))
    ends = np.array([-0.5, 0.5]) * camera.ortho_width_m + camera.shift_x * camera.ortho_width_m
    lowest_m = float(line.heights_m(ends).min())
    ground = camera.position_m + (lowest_m - camera.position_m[2]) * camera.axes[1]
    top = round(float(camera.project(ground)[0, 1]) + 0.7 * size_px)
    if top + 1.4 * size_px > camera.height_px:
        return
    ink = (int(255 * INK[0]), int(255 * INK[1]), int(255 * INK[2]))
    edge = round(0.02 * camera.width_px)
    roman, italic = font("roman", size_px), font("italic", size_px)
    left = camera.width_px - edge - round(text_width(caption, italic))
    if left > 2 * edge + text_width(title, roman):
        set_line(image, (left, top), caption, italic, ink)
    set_line(image, (edge, top), title, roman, ink)

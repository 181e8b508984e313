"""An elevation drawn as offices once drew it: ink lines and washes on paper.

Washes are found by rays against the built model, finer than the picture; lines are the model's own
edges. No renderer is needed.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike
from PIL import Image

from massing.design.setting import SCENERY
from massing.geometry.mesh import Floats
from massing.geometry.rays import Caster
from massing.parts.part import Model, Part
from massing.present.ink.contours import APART, PLANTS, Contours, contours, inked
from massing.present.ink.lettering import Lettering, letter
from massing.present.ink.planting import planted, plants
from massing.present.ink.seen import Seen, Singles, by_bands, drawable, look, round_shafts
from massing.present.ink.washes import INK, grain, laid, sky
from massing.present.sheets.paper import font, set_line, text_width
from massing.view.camera import Camera
from massing.view.ground_line import GroundLine, ground_line
from massing.view.hidden_lines import Square

GROUND_WEIGHT = 2.6  # of the ground line, thousandths of the picture's width
STEP_PX, FINEST_M = 0.9, 0.015  # of the rays along an edge


def draw_elevation(
    model: Model,
    camera: Camera,
    sun_direction: ArrayLike,
    *,
    fineness: int = 2,
    title: str = "",
    caption: str = "",
    lettering: Lettering | None = None,
) -> Image.Image:
    """The model's elevation in ink and wash, at the camera's size.

    Args:
        sun_direction: ``(3,)`` towards the sun in the house's frame.
        fineness: rays along each side of a pixel.
        title, caption: written small under the ground line.
        lettering: a border with name and scale, if asked for.

    Raises:
        ValueError: the camera is not a level orthographic one.
    """
    _refuse_all_but_elevations(camera)
    sun = np.asarray(sun_direction, dtype=float)
    sun = sun / np.linalg.norm(sun)
    whole, before, line = drawable(model, camera)
    parts = [part for part in whole if part.role.split("/")[0] not in PLANTS]
    caster = Caster(parts)
    growing = [part for part in whole if part.role.split("/")[0] in PLANTS]
    throwing = [*growing, *before]
    shading = Caster([*parts, *throwing]) if throwing else caster
    rounds = round_shafts(parts)

    def seen(rows: range) -> Seen:
        return look(caster, camera, sun, fineness, rows, line, shading=shading, rounds=rounds)

    def washed(seen: Seen) -> Singles:
        solid = (seen.owner >= 0).astype(np.float32)
        inverse = np.where(np.isfinite(seen.depth), 1.0 / np.maximum(seen.depth, 1e-3), 0.0)
        sheet = laid(seen, parts, camera, sun, model.notes, list(rounds)) * solid[..., None]
        below = seen.height_m < 0.0
        sheet[below], solid[below], inverse[below] = 0.0, 0.0, 0.0
        return np.concatenate([sheet, solid[..., None], inverse[..., None]], axis=2)

    found = by_bands(camera, fineness, seen, washed)
    tall, wide = camera.height_px, camera.width_px
    across = (np.arange(wide) + 0.5 - wide / 2.0) * camera.metres_per_pixel
    across += camera.shift_x * camera.ortho_width_m
    ground = line.heights_m(across) - camera.position_m[2]
    picture = sky(tall, wide, camera, ground, country=SCENERY in model.notes)
    built = found[..., 3:4]
    growing_here = plants(model, camera, lambda x: float(np.interp(x, across, ground)))
    low, high = model.building_bounds
    far = max(
        float((np.array([x, y, 0.0]) - camera.position_m) @ camera.axes[2])
        for x in (low[0], high[0])
        for y in (low[1], high[1])
    )
    side = float(np.clip(2.0 * (sun @ camera.axes[0]), -1.0, 1.0))
    behind = [plant for plant in growing_here if plant.depth_m > far]
    planted(picture, behind, camera, np.zeros_like(found[..., 3:]), side, far)
    picture = picture * (1.0 - built) + found[..., :3]
    ink = _ink(_Same(model, caster), camera)
    picture = picture * (1.0 - ink[..., None]) + INK * ink[..., None]
    beside = [plant for plant in growing_here if plant.depth_m <= far]
    planted(picture, beside, camera, found[..., 3:], side, far)
    earth = _ground_ink(camera, ground)[..., None]
    picture = picture * (1.0 - earth) + INK * earth
    picture *= grain(tall, wide)[..., None]
    image = Image.fromarray((np.clip(picture, 0.0, 1.0) * 255.0 + 0.5).astype(np.uint8), "RGB")
    _write_under_ground(image, line, title, caption)
    if lettering is not None:
        letter(image, camera, lettering)
    return image


def line_drawing(model: Model, camera: Camera) -> Singles:
    """The model's elevation in line alone, as ink ``(h, w)`` from 0 to 1, at the camera's size.

    Raises:
        ValueError: the camera is not a level orthographic one.
    """
    _refuse_all_but_elevations(camera)
    line = ground_line(model, camera)
    wide = camera.width_px
    ink = _ink(_Same(model), camera)
    across = (np.arange(wide) + 0.5 - wide / 2.0) * camera.metres_per_pixel
    across += camera.shift_x * camera.ortho_width_m
    ground = line.heights_m(across) - camera.position_m[2]
    return np.maximum(ink, _ground_ink(camera, ground))


def _refuse_all_but_elevations(camera: Camera) -> None:
    if not camera.is_elevation:
        raise ValueError(f"view {camera.name!r} is no elevation; only elevations are drawn")


class _Same:
    """A model as a key, by itself and not by what it holds; with its rays, where they stand."""

    def __init__(self, model: Model, caster: Caster | None = None) -> None:
        self.model, self.caster = model, caster

    def __hash__(self) -> int:
        return id(self.model)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.model is self.model


@lru_cache(maxsize=8)  # designs that are drawn in turn, at one hour after another
def _ink(known: _Same, camera: Camera) -> Singles:
    """The lines of a model's elevation, which are the same in any light."""
    parts = [
        part for part in drawable(known.model, camera)[0] if part.role.split("/")[0] not in PLANTS
    ]
    caster, known.caster = known.caster or Caster(parts), None  # the cache keeps no rays
    lines = _contours(parts, camera, caster)
    return inked(lines, _film(camera), (camera.width_px, camera.height_px))


def _contours(parts: list[Part], camera: Camera, caster: Caster) -> Contours:
    """The lines that are drawn at the camera's scale."""
    right, up, forward = (tuple(map(float, axis)) for axis in camera.axes)
    view = Square(camera.name, right, up, forward)  # type: ignore[arg-type]
    per_pixel = camera.metres_per_pixel
    step_m = max(STEP_PX * per_pixel, FINEST_M)
    return contours(parts, view, APART * per_pixel, step_m=step_m, caster=caster)


def _film(camera: Camera) -> Callable[[Floats], Floats]:
    """From points ``(n, 2)`` of the lines, as (right, up), to pixels."""
    right, up, _ = camera.axes
    origin = np.array([camera.position_m @ right, camera.position_m @ up])
    shift = np.array([camera.shift_x, camera.shift_y])
    middle = np.array([camera.width_px, camera.height_px]) / 2.0

    def at_px(points: Floats) -> Floats:
        film = ((points - origin) / camera.ortho_width_m - shift) * camera.width_px
        return np.asarray(middle + film * [1.0, -1.0])

    return at_px


def _ground_ink(camera: Camera, ground_m: Floats) -> Singles:
    """The ground line, as ink."""
    up = (camera.height_px / 2.0 - np.arange(camera.height_px) - 0.5) * camera.metres_per_pixel
    up = up + camera.shift_y * camera.ortho_width_m
    away = np.abs(up[:, None] - ground_m[None, :]) / camera.metres_per_pixel
    half = max(0.5 * GROUND_WEIGHT * camera.width_px / 1000.0, 0.6)
    return np.asarray(np.clip(half + 0.5 - away, 0.0, 1.0), dtype=np.float32)


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

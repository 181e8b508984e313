"""A rendered house laid into a photograph: light, grain and what stands before it.

The render holds the house, and black where the ground is shaded, each with its alpha. Light is
added and weighed as light: tones are those of sRGB (IEC 61966-2-1).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from PIL import Image, ImageDraw

from massing.geometry.mesh import Floats
from massing.present.sheets.paper import font, set_line

WHOLE = 0.995  # a pixel's cover from which it is the house's; no shade on the ground is so dark
BLACK = 0.02  # a tone below which a pixel with an alpha is shade and no part of the house
MOST_STOPS = 2.0  # an exposure farther off than this is another light, not another exposure
SHOULDER = 0.8  # tones that a longer exposure would carry over this are bent below white
GRAIN_BLOCK_PX = 16
LUMINANCE = np.array([0.2126, 0.7152, 0.0722])  # ITU-R BT.709-6
_GRAIN_SEED = 7
LOOK_ABOUT = 0.02  # of the picture's width, how far round a mask's edge is looked (a choice)
NOT_BEFORE, BEFORE = 0.3, 0.65  # from what was behind to what stands before: none of it, all of it
SIFTED = 4  # times that what a mask holds is looked through
APART = 0.06  # of light; what differs by less cannot be told apart
GOOD, BAD = (0, 120, 90), (200, 30, 30)


def light_of(tones: ArrayLike) -> Floats:
    """Tones of sRGB, 0 to 1, as light.

    >>> [round(float(v), 4) for v in light_of([0.0, 0.5, 1.0])]
    [0.0, 0.214, 1.0]
    """
    t = np.asarray(tones, dtype=float)
    return np.where(t <= 0.04045, t / 12.92, ((np.maximum(t, 0.0) + 0.055) / 1.055) ** 2.4)


def tones_of(light: ArrayLike) -> Floats:
    """Light as tones of sRGB, 0 to 1."""
    v = np.clip(np.asarray(light, dtype=float), 0.0, 1.0)
    return np.where(v <= 0.0031308, 12.92 * v, 1.055 * v ** (1.0 / 2.4) - 0.055)


def exposure_gain(photograph: Floats, render: Floats, kept: Floats) -> float:
    """How much more light the photograph shows of the house as it stands than its render does.

    By the medians over the house's own pixels, which what hides a part of it hardly moves; no
    more than :data:`MOST_STOPS` either way.

    Args:
        photograph: ``(h, w, 3)`` tones.
        render: ``(h, w, 4)`` tones and alpha of the house as it stands, from the same camera.
        kept: ``(h, w)`` share of each pixel that stays the photograph's, by the mask.
    """
    house = (render[..., 3] >= WHOLE) & (kept < 0.5)
    if not house.any():
        return 1.0
    there = float(np.median(light_of(photograph[house]) @ LUMINANCE))
    here = float(np.median(light_of(render[house][:, :3]) @ LUMINANCE))
    if min(there, here) <= 0.0:
        return 1.0
    return float(np.clip(there / here, 2.0**-MOST_STOPS, 2.0**MOST_STOPS))


def exposed(light: Floats, gain: float) -> Floats:
    """Light so many times as strong, its whites bent below white and not cut off.

    >>> float(exposed(np.array(0.3), 2.0)), bool(exposed(np.array(0.9), 4.0) < 1.0)
    (0.6, True)
    """
    if gain <= 1.0:
        return gain * light
    strong = gain * light
    room = 1.0 - SHOULDER
    over = np.maximum(strong - SHOULDER, 0.0) / room
    # From SHOULDER on as steep as before, and white where the strongest light comes to.
    most = (gain - SHOULDER) / room
    bent = SHOULDER + room * over * (1.0 + over / most**2) / (1.0 + over)
    return np.where(strong > SHOULDER, bent, strong)


def grain(tones: Floats) -> float:
    """Standard deviation of a photograph's grain in its luminance, tones of 0 to 1.

    Immerkaer's Laplacian (Fast noise variance estimation, 1996; from memory), over blocks: the
    quietest quarter is taken for grain alone, without texture.
    """
    grey = tones[..., :3] @ LUMINANCE
    if min(grey.shape) < 3:
        return 0.0
    rows = grey[:-2] - 2.0 * grey[1:-1] + grey[2:]
    off = np.abs(rows[:, :-2] - 2.0 * rows[:, 1:-1] + rows[:, 2:])
    b = min(GRAIN_BLOCK_PX, *off.shape)
    h, w = (n // b * b for n in off.shape)
    blocks = off[:h, :w].reshape(h // b, b, w // b, b).mean(axis=(1, 3))
    return float(np.sqrt(np.pi / 2.0) / 6.0 * np.quantile(blocks, 0.25))


def not_shaded_twice(render: Floats, standing: Floats) -> Floats:
    """The render ``(h, w, 4)`` with less shade where the house as it stands throws its own.

    That shade is in the photograph already. Where it goes it stays: to lighten it would show every
    pixel that the camera is off.
    """
    shade = (render[..., 3] < WHOLE) & (render[..., :3].max(axis=-1) < BLACK)
    before = np.where(standing[..., :3].max(axis=-1) < BLACK, standing[..., 3], 0.0)
    left = np.minimum((1.0 - render[..., 3]) / np.maximum(1.0 - before, 1e-3), 1.0)
    made = render.copy()
    made[..., 3] = np.where(shade, 1.0 - left, render[..., 3])
    return made


@dataclass(frozen=True)
class Before:
    """What stands before the house in a photograph.

    Attributes:
        share: ``(h, w)`` how much of each pixel it covers.
        light: ``(h, w, 3)`` its own light, without what was seen behind it.
    """

    share: Floats
    light: Floats


def what_stands_before(photograph: Floats, kept: Floats) -> Before:
    """What a mask keeps, without the old background that it took along at its edge.

    A mask drawn by hand runs round a tree's leaves and not between them, and each leaf's edge is
    mixed with the sky that was behind it; over a darker house both would show as bright outlines.
    Near the mask's edge a pixel is told by its light: from that of what the mask holds there to
    that of what lies outside. Where the two are alike the mask is left as it is. Nothing that the
    mask leaves out is kept.

    Args:
        photograph: ``(h, w, 3)`` tones.
        kept: ``(h, w)`` share of each pixel that the mask keeps.
    """
    light = light_of(photograph[..., :3])
    if not (kept > 0.0).any() or not (kept < 1.0).any():
        return Before(kept, light)
    reach = max(4, round(LOOK_ABOUT * kept.shape[1]))
    outside, told = _mean_about(light, kept < 0.02, reach)
    told &= kept > 0.0
    chosen = kept > 0.98
    for _ in range(SIFTED):  # what the mask holds is itself part sky: that which is least so
        held, there = _mean_about(light, chosen, reach)
        apart = held - outside
        square = (apart**2).sum(axis=-1)
        along = ((light - outside) * apart).sum(axis=-1) / np.maximum(square, 1e-12)
        told &= there & (square > APART**2)
        chosen = chosen & (~told | (along > 0.8))
    ramp = np.clip((along - NOT_BEFORE) / (BEFORE - NOT_BEFORE), 0.0, 1.0)
    share = np.where(told, np.minimum(kept, ramp * ramp * (3.0 - 2.0 * ramp)), kept)
    edge = told & (_boxed((share < 0.5)[..., None].astype(float), 2)[..., 0] > 1e-6)
    wanting = np.where(edge, np.clip(1.0 - along, 0.0, 1.0), 0.0)
    return Before(share, np.clip(light + wanting[..., None] * apart, 0.0, 1.0))


def _mean_about(
    light: Floats, chosen: NDArray[np.bool_], reach_px: int
) -> tuple[Floats, NDArray[np.bool_]]:
    """The mean light ``(h, w, 3)`` of the pixels chosen about each pixel, and where there are any.

    From as near as there are enough: within ``reach_px``, four times that, or sixteen times.
    """
    weights = chosen[..., None].astype(float)
    both = np.concatenate([light * weights, weights], axis=-1)
    mean, there = np.zeros(light.shape), np.zeros(chosen.shape, dtype=bool)
    for times in (1, 4, 16):
        total = _boxed(both, times * reach_px)
        enough = (total[..., 3] > 0.02) & ~there
        mean[enough] = total[enough][:, :3] / total[enough][:, 3:]
        there |= enough
    return mean, there


def _boxed(picture: Floats, reach_px: int) -> Floats:
    """The mean over a square of ``2 reach_px + 1`` about each pixel, the edge going on."""
    for axis in (0, 1):
        pad = [(0, 0)] * picture.ndim
        pad[axis] = (reach_px + 1, reach_px)
        sums = np.cumsum(np.pad(picture, pad, mode="edge"), axis=axis)
        wide = 2 * reach_px + 1
        upper = np.take(sums, range(wide, sums.shape[axis]), axis=axis)
        lower = np.take(sums, range(sums.shape[axis] - wide), axis=axis)
        picture = (upper - lower) / wide
    return picture


def laid_in(photograph: Floats, render: Floats, kept: Floats, gain: float) -> Floats:
    """``(h, w, 3)`` tones of the photograph with the house in it.

    Args:
        photograph: ``(h, w, 3)`` tones.
        render: ``(h, w, 4)`` tones and alpha, not multiplied.
        kept: ``(h, w)`` share of each pixel that stays the photograph's.
        gain: of :func:`exposure_gain`.
    """
    before = what_stands_before(photograph, kept)
    share, alpha = before.share[..., None], render[..., 3:]
    house = tones_of(exposed(light_of(render[..., :3]), gain))
    whole = render[..., 3] >= WHOLE
    sigma = max(grain(photograph) ** 2 - grain(house) ** 2, 0.0) ** 0.5 if whole.any() else 0.0
    speckle = np.random.default_rng(_GRAIN_SEED).normal(0.0, 1.0, whole.shape)
    house = np.where(whole[..., None], np.clip(house + sigma * speckle[..., None], 0, 1), house)
    there = share * before.light + (1.0 - share) * light_of(house)
    light = light_of(photograph) * (1.0 - alpha) + there * alpha
    as_it_was = (share >= 1.0) & (before.light == light_of(photograph)).all(axis=-1, keepdims=True)
    return np.where((alpha > 0.0) & ~as_it_was, tones_of(light), photograph)


def between_pixels(picture: Floats, places: Floats) -> Floats:
    """Values of a picture ``(h, w, c)`` at places ``(..., 2)``, right and down, in straight lines
    between its pixels' middles; at its edge those of the edge."""
    tall, wide = picture.shape[:2]
    at = np.clip(places - 0.5, 0.0, [wide - 1.0, tall - 1.0])
    low = np.minimum(at.astype(int), [max(wide - 2, 0), max(tall - 2, 0)])
    (x, y), (a, b) = np.moveaxis(low, -1, 0), np.moveaxis(at - low, -1, 0)[..., None]
    x1, y1 = np.minimum(x + 1, wide - 1), np.minimum(y + 1, tall - 1)
    upper = picture[y, x] * (1.0 - a) + picture[y, x1] * a
    lower = picture[y1, x] * (1.0 - a) + picture[y1, x1] * a
    made: Floats = upper * (1.0 - b) + lower * b
    return made


@dataclass(frozen=True)
class Mark:
    """A known point in a photograph: where it was given, where the camera sees it."""

    given_px: tuple[float, float]
    seen_px: tuple[float, float]
    bad: bool


def marked(image: Image.Image, marks: list[Mark]) -> Image.Image:
    """The photograph with its known points: a ring where each is given, a cross where it is seen.

    Bad ones are red.
    """
    made = image.convert("RGB")
    pen = ImageDraw.Draw(made)
    size = max(5.0, max(made.size) / 250.0)
    face = font("roman", round(max(14.0, 3.2 * size)))
    for i, mark in enumerate(marks):
        ink = BAD if mark.bad else GOOD
        (x, y), (u, v) = mark.given_px, mark.seen_px
        wide = max(1, round(size / 3.0))
        pen.ellipse((x - size, y - size, x + size, y + size), outline=ink, width=wide)
        if np.isfinite([u, v]).all():
            pen.line((u - size, v, u + size, v), fill=ink, width=wide)
            pen.line((u, v - size, u, v + size), fill=ink, width=wide)
        set_line(made, (x + 1.4 * size, y - 2.4 * size), str(i + 1), face, ink)
    return made

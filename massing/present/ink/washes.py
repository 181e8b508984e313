"""Washes: shade, cast shadow, sky and earth of a drawn elevation."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from PIL import Image, ImageFilter

from massing.geometry.mesh import Floats
from massing.parts.part import Part
from massing.present.ink.seen import Bools, Seen, Singles, highest
from massing.view.camera import Camera

PAPER = np.array([0.965, 0.945, 0.900], dtype=np.float32)

# Washes let paper through; each is what it leaves of the paper's light, red to blue.
CAST_WASH = np.array([0.60, 0.61, 0.65], dtype=np.float32)

SHADE_WASH = np.array([0.72, 0.73, 0.76], dtype=np.float32)

SKY_WASH = np.array([0.80, 0.86, 0.91], dtype=np.float32)

EARTH_WASH = np.array([0.80, 0.76, 0.66], dtype=np.float32)

ROLE_WASHES = {
    "glass": (0.42, 0.46, 0.50),
    "interior": (0.35, 0.37, 0.40),
    "door": (0.62, 0.66, 0.62),
    "shutter": (0.60, 0.66, 0.62),
    "tile": (0.90, 0.80, 0.72),
    "tile/green glazed": (0.72, 0.80, 0.70),
    "tile/buff": (0.93, 0.88, 0.76),
    "tile/grey": (0.82, 0.82, 0.82),
    "wall/brick": (0.90, 0.78, 0.71),
    "wall/limestone": (0.95, 0.93, 0.87),
    "ashlar": (0.95, 0.93, 0.87),
    "slate": (0.80, 0.82, 0.85),
    "shingle": (0.86, 0.82, 0.76),
    "roofing": (0.80, 0.80, 0.80),
    "metal": (0.86, 0.87, 0.86),
    "brick": (0.90, 0.78, 0.71),
    "wall": (0.975, 0.955, 0.92),
    "siding": (0.975, 0.965, 0.94),
    "stone": (0.93, 0.92, 0.89),
    "foundation": (0.90, 0.89, 0.87),
    "foundation/brick": (0.88, 0.77, 0.68),
    "foundation/stone": (0.92, 0.90, 0.85),
    "foliage": (0.78, 0.82, 0.70),
    "bark": (0.80, 0.75, 0.68),
    "grass": (0.88, 0.90, 0.80),
    "neighbour": (0.92, 0.91, 0.89),
    "figure": (0.45, 0.45, 0.47),
}


# --- washes --------------------------------------------------------------------------------


def role_wash(role: str, notes: Mapping[str, str]) -> tuple[float, float, float]:
    """The wash of a role; tiles and walls take their kind from a model's notes."""
    first = role.split("/")[0]
    kind = {"tile": notes.get("roof colour"), "wall": notes.get("walls")}.get(first)
    keys = (role if "/" in role else f"{role}/{kind}", first)
    return next((ROLE_WASHES[k] for k in keys if k in ROLE_WASHES), (1.0, 1.0, 1.0))


def washes(
    seen: Seen, parts: list[Part], camera: Camera, sun: Floats, notes: Mapping[str, str]
) -> Singles:
    """Paper with its washes on the fine grid ``(h, w, 3)``."""
    tall, wide = seen.depth.shape
    sheet = np.broadcast_to(PAPER, (tall, wide, 3)).copy()
    solid = seen.owner >= 0
    height = seen.height_m
    above = height >= 0.0

    table = np.ones((len(parts) + 1, 3), dtype=np.float32)
    for i, part in enumerate(parts):
        table[i] = role_wash(part.role, notes)
    sheet *= table[seen.owner]

    incidence = seen.normals @ sun.astype(np.float32)
    away = solid & (incidence <= 0.0)
    cast = solid & ~seen.lit & ~away
    # Round things turn from the light by degrees; a flat wash would make them flat. The front
    # itself stays white, however the sun stands to it.
    square = float(np.clip(-camera.axes[2] @ sun, 0.2, 0.55))
    turning = 1.0 - 0.16 * np.clip(1.0 - incidence / square, 0.0, 1.0)
    sheet *= np.where(seen.lit, turning, 1.0)[..., None]
    for mask, wash in ((away, SHADE_WASH), (cast, CAST_WASH)):
        sheet *= 1.0 - _flooded(mask, wide)[..., None] * (1.0 - wash)

    sky = ~solid & above
    fall = np.clip(height / max(highest(camera), 1e-6), 0.0, 1.0) ** 0.8
    sheet *= 1.0 - (sky * fall)[..., None] * (1.0 - SKY_WASH)
    below = np.clip(1.0 + height / (0.06 * camera.ortho_width_m), 0.0, 1.0)
    sheet[~above] = PAPER
    sheet *= 1.0 - (~above * below * 0.8)[..., None] * (1.0 - EARTH_WASH)
    return sheet


def _flooded(mask: Bools, wide: int) -> Singles:
    """A wash's strength: even, with the darker rim that it dries to."""
    soft = Image.fromarray(mask.astype(np.uint8) * 255).filter(
        ImageFilter.BoxBlur(max(1, wide // 500))
    )
    rim = mask * (1.0 - np.asarray(soft, dtype=np.float32) / 255.0)
    return (mask * 0.96 + 0.22 * rim).astype(np.float32)


def grain(tall: int, wide: int) -> Singles:
    """The paper's tooth and the unevenness of large washes; the same on every sheet."""
    rng = np.random.default_rng(1914)
    grain = np.ones((tall, wide), dtype=np.float32)
    for cells, depth in ((12, 0.018), (90, 0.010), (420, 0.012)):
        coarse = rng.uniform(-1.0, 1.0, (max(2, cells * tall // wide), cells)).astype(np.float32)
        smooth = Image.fromarray(coarse, "F").resize((wide, tall), Image.Resampling.BICUBIC)
        grain += depth * np.asarray(smooth, dtype=np.float32)
    return grain

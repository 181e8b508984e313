"""Washes of a drawn elevation: what each lets through of the paper's light, red to blue.

They are laid as a draughtsman lays them. Sky and ground are graded; a rounded shaft turns by tone
into shade and takes light again at its far edge, from ground and wall; a cast shadow is cool and
clear, sharp below and soft above, where light comes back under what throws it; a window is darker
towards its head.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from PIL import Image, ImageFilter

from massing.geometry.mesh import Floats
from massing.parts.part import Part
from massing.practice.finishes import colour_in, part_role
from massing.present.ink.seen import Bools, Seen, Singles
from massing.view.camera import Camera
from massing.view.framing import box_corners

PAPER = np.array([0.980, 0.968, 0.938], dtype=np.float32)
INK = np.array([0.16, 0.14, 0.13], dtype=np.float32)
CAST_WASH = np.array([0.565, 0.605, 0.690], dtype=np.float32)
SHADE_WASH = np.array([0.690, 0.715, 0.765], dtype=np.float32)
ROUND_WASH = np.array([0.525, 0.545, 0.600], dtype=np.float32)  # of a shaft's darkest edge
SKY_WASH = np.array([0.640, 0.775, 0.880], dtype=np.float32)
DISTANCE_WASH = np.array([0.840, 0.885, 0.870], dtype=np.float32)
EARTH_WASH = np.array([0.700, 0.690, 0.560], dtype=np.float32)
SILL_WASH = np.array([0.660, 0.715, 0.750], dtype=np.float32)  # glass at its foot
HEAD_WASH = np.array([0.300, 0.335, 0.385], dtype=np.float32)  # and at its head
ROLE_WASHES = {
    "glass": (0.42, 0.46, 0.50),
    "interior": (0.35, 0.37, 0.40),
    "door": (0.56, 0.61, 0.56),
    "shutter": (0.56, 0.63, 0.58),
    "tile": (0.90, 0.76, 0.66),
    "tile/green glazed": (0.72, 0.80, 0.70),
    "tile/buff": (0.93, 0.88, 0.76),
    "tile/grey": (0.82, 0.82, 0.82),
    "wall/brick": (0.90, 0.75, 0.67),
    "wall/limestone": (0.95, 0.93, 0.87),
    "ashlar": (0.95, 0.93, 0.87),
    "slate": (0.76, 0.79, 0.83),
    "shingle": (0.86, 0.82, 0.76),
    "roofing": (0.80, 0.80, 0.80),
    "mortar": (0.84, 0.80, 0.74),
    "ceiling": (0.90, 0.94, 0.95),
    "metal": (0.86, 0.87, 0.86),
    "brick": (0.90, 0.75, 0.67),
    "wall": (0.980, 0.950, 0.885),
    "siding": (0.975, 0.965, 0.94),
    "stone": (0.93, 0.92, 0.89),
    "foundation": (0.90, 0.89, 0.87),
    "foundation/brick": (0.88, 0.75, 0.66),
    "foundation/stone": (0.92, 0.90, 0.85),
    "foliage": (0.74, 0.80, 0.62),
    "bark": (0.80, 0.75, 0.68),
    "grass": (0.88, 0.90, 0.80),
    "neighbour": (0.92, 0.91, 0.89),
    "figure": (0.60, 0.60, 0.63),
}
BODY = 0.75  # how far a wash takes the colour that something is painted
LIGHTEST = 0.90  # sRGB of white paint, which is the paper itself
_ROOFS = ("tile", "slate", "shingle", "roofing")
_TURN = 0.34  # of light lost by a round thing where the sun grazes it
_BOUNCE = 0.50  # of shade lifted where light comes back
_SOFT_M = 0.45  # from a shadow's upper edge down to its full depth
_SOFT = 0.38  # of the wash that is wanting at that edge


def role_wash(role: str, notes: Mapping[str, str]) -> tuple[float, float, float]:
    """The wash of a role: by the colour that the house's own colours paint it, else by its kind,
    which tiles and walls take from a model's notes."""
    _, painted = colour_in(part_role(role, notes))
    if painted is not None:
        red, green, blue = (_washed(value) for value in painted)
        return red, green, blue
    first = role.split("/")[0]
    kind = {"tile": notes.get("roof colour"), "wall": notes.get("walls")}.get(first)
    keys = (role if "/" in role else f"{role}/{kind}", first)
    return next((ROLE_WASHES[k] for k in keys if k in ROLE_WASHES), (1.0, 1.0, 1.0))


def _washed(linear: float) -> float:
    """What a wash of a painted colour, linear, lets through."""
    shown = 12.92 * linear if linear <= 0.0031308 else 1.055 * linear ** (1 / 2.4) - 0.055
    return 1.0 - BODY * (1.0 - min(shown / LIGHTEST, 1.0))


def laid(
    seen: Seen,
    parts: Sequence[Part],
    camera: Camera,
    sun: Floats,
    notes: Mapping[str, str],
    rounds: Sequence[int] = (),
) -> Singles:
    """Paper with the washes of what is built on the fine grid ``(h, w, 3)``; ``rounds`` are the
    parts, by index, that are modelled as cylinders."""
    wide = seen.depth.shape[1]
    sheet = np.broadcast_to(PAPER, (*seen.depth.shape, 3)).copy()
    solid = seen.owner >= 0
    table = np.ones((len(parts) + 1, 3), dtype=np.float32)
    for i, part in enumerate(parts):
        table[i] = role_wash(part.role, notes)
    sheet *= table[seen.owner]
    _grade(sheet, seen, parts, camera)

    incidence = seen.normals @ sun.astype(np.float32)
    back = _come_back(seen, camera, sun)
    shafts = np.isin(seen.owner, list(rounds))
    away = solid & (incidence <= 0.0)
    cast = solid & ~seen.lit & ~away
    # The front itself stays white, however the sun stands to it.
    square = float(np.clip(-camera.axes[2] @ sun, 0.2, 0.55))
    turning = 1.0 - _TURN * np.clip(1.0 - incidence / square, 0.0, 1.0) ** 1.3
    sheet *= np.where(seen.lit & ~shafts, turning, 1.0)[..., None]
    level = max(float(np.hypot(*(camera.axes[[0, 2]] @ sun))), 0.2)
    turned: Floats = np.asarray(np.clip(1.0 - incidence / level, 0.0, 1.0) ** 1.2)
    turned = np.where(away, 1.0 - _BOUNCE * back, turned)
    turned = np.where(shafts, np.where(cast, 0.6 * _edgewise(seen, camera), turned), 0.0)
    sheet *= 1.0 - turned[..., None] * (1.0 - ROUND_WASH)
    for mask, wash, lifted in (
        (away & ~shafts, SHADE_WASH, _BOUNCE * back),
        (cast, CAST_WASH, np.maximum(_softness(cast, seen.step_m), 0.5 * _BOUNCE * back)),
    ):
        strength = _flooded(mask, wide) * (1.0 - lifted)
        sheet *= 1.0 - strength[..., None] * (1.0 - wash)
    return sheet


def _edgewise(seen: Seen, camera: Camera) -> Singles:
    """How far each face turns from the eye, 0 to 1."""
    facing = -seen.normals @ camera.axes[2].astype(np.float32)
    return np.asarray(np.clip(1.0 - facing, 0.0, 1.0) ** 2)


def _come_back(seen: Seen, camera: Camera, sun: Floats) -> Singles:
    """How far each face meets the light that ground and wall send back, 0 to 1."""
    right, up, _ = camera.axes
    across = -np.sign(sun @ right) or 1.0
    way = 0.85 * across * right - 0.50 * up
    way = way / np.linalg.norm(way)
    return np.asarray(np.clip(seen.normals @ way.astype(np.float32), 0.0, 1.0))


def _softness(cast: Bools, step_m: float) -> Singles:
    """How much of a cast shadow's wash is wanting, by how far below its upper edge a place is."""
    reach = min(max(2.0, _SOFT_M / step_m), 40.0)
    below = np.zeros(cast.shape, dtype=np.float32)
    run = np.full(cast.shape[1], reach, dtype=np.float32)  # a band may begin within a shadow
    for row, dark in enumerate(cast):
        run = np.where(dark, np.minimum(run + 1.0, reach), 0.0)
        below[row] = run
    share = below / reach
    return np.asarray(_SOFT * (1.0 - share * share * (3.0 - 2.0 * share)), dtype=np.float32)


def _grade(sheet: Singles, seen: Seen, parts: Sequence[Part], camera: Camera) -> None:
    """Glass darker towards the head of its opening, roofs towards their ridge."""
    right, up, _ = camera.axes
    position = np.asarray(camera.position_m)
    wide = seen.depth.shape[1]
    u = (np.arange(wide) + 0.5 - wide / 2.0) * seen.step_m + camera.shift_x * camera.ortho_width_m
    for i, part in enumerate(parts):
        kind = part.role.split("/")[0]
        if kind not in ("glass", *_ROOFS):
            continue
        frames = np.eye(4)[None] if part.placements is None else part.placements
        corners = box_corners(part.mesh.bounds)
        world = np.einsum("kij,nj->kni", frames[:, :3, :3], corners) + frames[:, None, :3, 3]
        film_x, film_z = (world - position) @ right, (world - position) @ up
        if kind != "glass":
            low, high = film_z.min(), film_z.max()
            share = np.clip((seen.up_m - low) / max(high - low, 1e-6), 0.0, 1.0)
            tone = np.broadcast_to((1.03 - 0.13 * share)[:, None], seen.owner.shape)
            mine = seen.owner == i
            sheet[mine] *= tone[mine][:, None].astype(np.float32)
            continue
        for xs, zs in zip(film_x, film_z, strict=True):
            rows = np.flatnonzero((seen.up_m >= zs.min()) & (seen.up_m <= zs.max()))
            columns = np.flatnonzero((u >= xs.min()) & (u <= xs.max()))
            if not len(rows) or not len(columns):
                continue
            at = (slice(rows[0], rows[-1] + 1), slice(columns[0], columns[-1] + 1))
            share = (seen.up_m[at[0]] - zs.min()) / max(float(np.ptp(zs)), 1e-6)
            graded = SILL_WASH + share[:, None] * (HEAD_WASH - SILL_WASH)
            mine = seen.owner[at] == i
            piece = sheet[at]
            tone = np.broadcast_to(graded[:, None, :], piece.shape)
            piece[mine] = (PAPER * tone[mine]).astype(np.float32)


def _flooded(mask: Bools, wide: int) -> Singles:
    """A wash's strength: even, with the darker rim that it dries to."""
    soft = Image.fromarray(mask.astype(np.uint8) * 255).filter(
        ImageFilter.BoxBlur(max(1, wide // 600))
    )
    rim = mask * (1.0 - np.asarray(soft, dtype=np.float32) / 255.0)
    return (mask * 0.96 + 0.18 * rim).astype(np.float32)


# --- sky and ground ------------------------------------------------------------------------


def sky(tall: int, wide: int, camera: Camera, ground_m: Floats, *, country: bool) -> Singles:
    """Paper with sky and earth ``(tall, wide, 3)``, a distance of trees between in open country.

    Args:
        ground_m: ``(wide,)`` of the ground line, above the camera's own axis.
    """
    step = camera.metres_per_pixel
    up = (tall / 2.0 - np.arange(tall) - 0.5) * step + camera.shift_y * camera.ortho_width_m
    height = (up[:, None] - np.asarray(ground_m)[None, :]).astype(np.float32)
    sheet = np.broadcast_to(PAPER, (tall, wide, 3)).copy()
    fall = np.clip(height / max(float(height.max()), 1e-6), 0.0, 1.0) ** 0.85
    cloud = np.clip(1.0 - 1.1 * np.clip(_drift(tall, wide), 0.0, 1.0), 0.35, 1.0)
    above = height >= 0.0
    sheet *= 1.0 - (above * fall * cloud)[..., None] * (1.0 - SKY_WASH)
    if country:
        rng = np.random.default_rng(1897)
        knots = rng.uniform(0.0, 1.0, max(4, round(camera.ortho_width_m / 0.8)))
        line = np.interp(np.linspace(0, len(knots) - 1, wide), np.arange(len(knots)), knots)
        rise = 1.7 + 1.3 * _smooth(line, max(1, round(0.45 / step)))
        depth = np.clip((rise[None, :] - height) / max(2.0 * step, 0.12), 0.0, 1.0) * above
        even = depth * (0.55 + 0.45 * np.clip(height / rise[None, :], 0.0, 1.0))
        sheet *= 1.0 - even[..., None].astype(np.float32) * (1.0 - DISTANCE_WASH)
    below = np.clip(1.0 + height / (0.055 * camera.ortho_width_m), 0.0, 1.0) ** 0.8
    sheet[~above] = PAPER
    sheet *= 1.0 - (~above * below)[..., None] * (1.0 - EARTH_WASH)
    return sheet.astype(np.float32)


def _smooth(line: Floats, reach: int) -> Floats:
    kernel = np.ones(2 * reach + 1) / (2 * reach + 1)
    return np.convolve(np.pad(line, reach, mode="edge"), kernel, mode="valid")


def _drift(tall: int, wide: int) -> Singles:
    """Where a sky's wash was left thin, about -1 to 1; broad and lying, the same on every sheet."""
    rng = np.random.default_rng(1881)
    made = np.zeros((tall, wide), dtype=np.float32)
    for across, down, share in ((4, 5, 0.6), (9, 13, 0.3), (24, 30, 0.1)):
        coarse = rng.uniform(-1.0, 1.0, (down, across)).astype(np.float32)
        smooth = Image.fromarray(coarse, "F").resize((wide, tall), Image.Resampling.BICUBIC)
        made += share * np.asarray(smooth, dtype=np.float32)
    return made


def grain(tall: int, wide: int) -> Singles:
    """The paper's tooth and the unevenness of large washes; the same on every sheet."""
    rng = np.random.default_rng(1914)
    made = np.ones((tall, wide), dtype=np.float32)
    for cells, depth in ((12, 0.014), (90, 0.008), (420, 0.010)):
        coarse = rng.uniform(-1.0, 1.0, (max(2, cells * tall // wide), cells)).astype(np.float32)
        smooth = Image.fromarray(coarse, "F").resize((wide, tall), Image.Resampling.BICUBIC)
        made += depth * np.asarray(smooth, dtype=np.float32)
    return made

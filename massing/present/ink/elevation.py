"""An elevation drawn as offices once drew it: ink lines and flat washes on paper.

Lines and shadows are found by rays against the built model, finer than the picture: a line
where depth jumps or faces turn, the heavier the deeper the jump, heaviest against the sky; a
wash where a face lies in cast shadow, a lighter one where it turns from the sun. No renderer
is needed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from PIL import Image, ImageFilter

from massing.geometry.mesh import Floats, Ints
from massing.geometry.rays import Caster
from massing.parts.part import Model, Part
from massing.present.sheets.paper import font, set_line, text_width
from massing.view.cameras import Camera
from massing.view.foreground import standing_before
from massing.view.ground_line import GroundLine, ground_line

Bools = NDArray[np.bool_]
Singles = NDArray[np.float32]

PAPER = np.array([0.965, 0.945, 0.900], dtype=np.float32)
INK = np.array([0.16, 0.14, 0.13], dtype=np.float32)
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
CREASE_COSINE = np.cos(np.radians(28.0))
# Depth of a jump, metres, from which each weight of line is drawn, and its width as a share of
# a thousandth of the picture's width.
WEIGHTS = ((0.004, 0.35), (0.03, 0.45), (0.15, 0.65), (0.60, 0.90))
PROFILE_WEIGHT = 1.25  # against the sky
GROUND_WEIGHT = 2.4
SHAFT_WEIGHT = 0.9  # of a shaft's sides, whatever stands behind them
CREASE_STRENGTH = 0.55
FIELD_STRENGTH = 0.35  # lines within a roof's covering or a wall's bricks, which are many
_FIELDS = ("tile", "slate", "shingle", "brick", "ashlar", "siding", "foliage", "mortar")
_RAYS_AT_ONCE = 1_000_000
_LAP_PX = 12  # rows that bands share, more than lines and the rims of washes reach


@dataclass(frozen=True, eq=False)
class Seen:
    """What an orthographic camera sees, one value for each ray ``(h, w)``.

    Attributes:
        depth: metres before the camera, infinite where nothing is met.
        normals: ``(h, w, 3)`` of the faces met.
        owner: index of the part, -1 for none.
        lit: in direct sun.
        height_m: ``(h, w)`` above the ground line.
        step_m: from ray to ray.
        up_m: ``(h,)`` of the rows, above the camera's own axis.
    """

    depth: Singles
    normals: Singles
    owner: Ints
    lit: Bools
    height_m: Singles
    step_m: float
    up_m: Floats


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
        sheet = _washes(seen, parts, camera, sun, model.notes)
        ink = _lines(seen, parts, camera, shafts)[..., None]
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
    picture *= _grain(camera.height_px, camera.width_px)[..., None]
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
        return _lines(seen, parts, camera, shafts)[..., None]

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


def look(
    caster: Caster,
    camera: Camera,
    sun: Floats | None,
    fineness: int,
    rows: range | None = None,
    line: GroundLine | None = None,
    *,
    shading: Caster | None = None,
    crowns: Mapping[int, tuple[Floats, Floats]] | None = None,
) -> Seen:
    """Rays through a grid ``fineness`` times as fine as the camera's pixels, or some rows of it.

    Without a ``sun`` nothing is lit; without a ``line`` the ground is level. ``shading`` throws
    the shadows, by default what is seen. ``crowns`` are parts, by their index, that are shaded
    as the egg of a centre and half axes: a tree is light on one side, not leaf by leaf.
    """
    wide, tall = camera.width_px * fineness, camera.height_px * fineness
    rows = range(tall) if rows is None else rows
    step = camera.metres_per_pixel / fineness
    right, up, forward = camera.axes
    u = np.asarray((np.arange(wide) + 0.5 - wide / 2.0) * step, dtype=float)
    u += camera.shift_x * camera.ortho_width_m
    v: Floats = (tall / 2.0 - np.array(rows) - 0.5) * step + camera.shift_y * camera.ortho_width_m
    across, rise = np.meshgrid(u, v)
    origins = np.asarray(camera.position_m) + across.reshape(-1, 1) * right
    origins += rise.reshape(-1, 1) * up
    line = line or GroundLine(camera)
    origins += line.from_m * forward
    hits = caster.first_hit(origins, forward)
    met = hits.owner >= 0
    depth = np.where(met, (hits.points - origins) @ forward, np.inf)
    facing = np.where((hits.normals @ forward < 0.0)[:, None], hits.normals, -hits.normals)
    lit = np.zeros(len(met), dtype=np.bool_)
    if sun is not None:
        lit[met] = (shading or caster).lit(hits.points[met], facing[met], sun)
        for owner, (centre, half) in (crowns or {}).items():
            crown = hits.owner == owner
            facing[crown] = _on_an_egg(hits.points[crown] - centre, half, camera.axes)
            lit[crown] = facing[crown] @ sun > 0.0
    shape = across.shape
    return Seen(
        depth.astype(np.float32).reshape(shape),
        np.nan_to_num(facing).astype(np.float32).reshape(*shape, 3),
        hits.owner.reshape(shape),
        lit.reshape(shape),
        (camera.position_m[2] + v[:, None] - line.heights_m(u)).astype(np.float32),
        step,
        v,
    )


def _on_an_egg(offsets: Floats, half: Floats, axes: Floats) -> Floats:
    """Normals ``(k, 3)`` of the egg of half axes ``half`` where it is seen at ``offsets`` from
    its centre; outside its outline those of the outline."""
    reach = np.abs(axes) @ half
    film = offsets @ axes[:2].T / reach[:2]
    radius = np.hypot(*film.T)
    film /= np.maximum(radius, 1.0)[:, None]
    out = -np.sqrt(1.0 - np.minimum(radius, 1.0) ** 2)
    normals = np.column_stack([film, out]) / reach @ axes
    return normals / np.linalg.norm(normals, axis=1)[:, None]


# --- ink -----------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class ShaftOutline:
    """One side of a shaft as it is seen: the part it is of, and its line on the film, metres.

    ``up_m`` ``(n,)`` ascends; ``across_m`` ``(n,)`` is measured from the camera's own axis.
    """

    owner: int
    up_m: Floats
    across_m: Floats


def shaft_outlines(parts: list[Part], camera: Camera) -> list[ShaftOutline]:
    """Both sides of every shaft, from its own outline and not from what stands behind it."""
    right, up, _ = camera.axes
    found = []
    for i, part in enumerate(parts):
        if part.path[-1] != "shaft":
            continue
        places = np.eye(4)[None] if part.placements is None else part.placements
        for place in places:
            at = part.mesh.vertices @ place[:3, :3].T + place[:3, 3] - camera.position_m
            across, height = at @ right, at @ up
            levels = np.unique(np.round(height, 4))
            if len(levels) < 2:
                continue
            at_level = np.searchsorted(levels, np.round(height, 4))
            for pick, far in ((np.minimum, np.inf), (np.maximum, -np.inf)):
                side = np.full(len(levels), far)
                pick.at(side, at_level, across)
                found.append(ShaftOutline(i, levels, side))
    return found


def _shaft_ink(seen: Seen, camera: Camera, shafts: Sequence[ShaftOutline]) -> tuple[Singles, Bools]:
    """Steady lines of the shafts' sides on the fine grid, and where they take other lines' place.

    A line is drawn where the shaft itself is seen beside it.
    """
    tall, wide = seen.depth.shape
    unit, step = wide / 1000.0, seen.step_m
    ink = np.zeros((tall, wide), dtype=np.float32)
    taken = np.zeros((tall, wide), dtype=bool)
    width = max(SHAFT_WEIGHT * unit, 1.0)
    reach = int(np.ceil(width / 2.0)) + 2
    rows = np.arange(tall)
    above = seen.up_m
    for line in shafts:
        on = (above >= line.up_m[0]) & (above <= line.up_m[-1])
        x = np.interp(above, line.up_m, line.across_m) / step
        x += wide / 2.0 - 0.5 - camera.shift_x * camera.ortho_width_m / step
        near = np.rint(x).astype(int)
        inside = on & (near > reach) & (near < wide - reach - 1)
        columns = near[:, None] + np.arange(-reach, reach + 1)
        columns = np.clip(columns, 0, wide - 1)
        beside = (seen.owner[rows[:, None], columns] == line.owner).any(axis=1) & inside
        at = rows[beside, None], columns[beside]
        away = np.abs(columns - x[:, None])[beside]
        cover = np.clip(width / 2.0 + 0.5 - away, 0.0, 1.0).astype(np.float32)
        ink[at] = np.maximum(ink[at], cover)
        taken[at] = True
    return ink, taken


def _lines(
    seen: Seen, parts: list[Part], camera: Camera, shafts: Sequence[ShaftOutline] = ()
) -> Singles:
    """Ink on the fine grid, 0 to 1."""
    jump, crease, profile = edges(seen, camera)
    steady, taken = _shaft_ink(seen, camera, shafts)
    jump[taken], profile[taken], crease[taken] = 0.0, False, False
    crease &= ~_beside_a_twin(crease)
    field = _of_roles(seen, parts, _FIELDS)
    unit = seen.depth.shape[1] / 1000.0
    ink = np.zeros(seen.depth.shape, dtype=np.float32)
    strength = np.where(field, FIELD_STRENGTH, CREASE_STRENGTH)
    ink = np.maximum(ink, _thick(crease, 0.30 * unit) * strength)
    for least, weight in WEIGHTS:
        within = 1.0 if least >= 0.15 else np.where(field, FIELD_STRENGTH, 0.85)
        ink = np.maximum(ink, _thick(jump >= least, weight * unit) * within)
    ink = np.maximum(ink, _thick(profile, PROFILE_WEIGHT * unit))
    ink = np.maximum(ink, steady)
    ink[seen.height_m < 0.0] = 0.0
    ink[np.abs(seen.height_m) < 0.5 * GROUND_WEIGHT * unit * seen.step_m] = 1.0
    return ink


def _beside_a_twin(line: Bools) -> Bools:
    """Where a line runs a ray or two to the right of another, or under it: one of both is enough.

    So near each other, as the two arrises of a panel's narrow bevel, they run together unevenly.
    """
    twin = np.zeros(line.shape, dtype=bool)
    for axis in (0, 1):
        for gap in (2, 3):
            before = np.zeros(line.shape, dtype=bool)
            between = np.ones(line.shape, dtype=bool)
            whole = [slice(None), slice(None)]
            here, there = list(whole), list(whole)
            here[axis], there[axis] = slice(gap, None), slice(None, -gap)
            before[tuple(here)] = line[tuple(there)]
            for k in range(1, gap):
                here[axis], there[axis] = slice(k, None), slice(None, -k)
                between[tuple(here)] &= ~line[tuple(there)]
            twin |= line & before & between
    return twin


def edges(seen: Seen, camera: Camera) -> tuple[Singles, Bools, Bools]:
    """Where lines run, kept on the nearer side of each.

    Returns:
        Depth of the jump in metres (0 where there is none), whether the face turns, and
        whether the sky begins.
    """
    right, up, forward = camera.axes.astype(np.float32)
    jump = np.zeros(seen.depth.shape, dtype=np.float32)
    crease = np.zeros(seen.depth.shape, dtype=bool)
    profile = np.zeros(seen.depth.shape, dtype=bool)
    for axis, direction in ((1, right), (0, -up)):
        here, there = _neighbours(axis)
        d0, d1 = seen.depth[here], seen.depth[there]
        n0, n1 = seen.normals[here], seen.normals[there]
        solid0, solid1 = np.isfinite(d0), np.isfinite(d1)
        both = solid0 & solid1
        with np.errstate(invalid="ignore"):
            fall = np.where(both, d1 - d0, 0.0)
        move = fall[..., None] * forward + seen.step_m * direction
        off = np.minimum(np.abs((move * n0).sum(-1)), np.abs((move * n1).sum(-1)))
        apart = np.where(both & (off > 0.6 * seen.step_m + 0.002), np.abs(fall), 0.0)
        nearer0 = d0 <= d1
        jump[here] = np.maximum(jump[here], np.where(nearer0, apart, 0.0))
        jump[there] = np.maximum(jump[there], np.where(nearer0, 0.0, apart))
        turned = both & ((n0 * n1).sum(-1) < CREASE_COSINE) & (apart == 0.0)
        crease[here] |= turned
        profile[here] |= solid0 & ~solid1
        profile[there] |= solid1 & ~solid0
    return jump, crease, profile


def _neighbours(axis: int) -> tuple[tuple[slice, slice], tuple[slice, slice]]:
    whole, first, last = slice(None), slice(0, -1), slice(1, None)
    if axis == 1:
        return (whole, first), (whole, last)
    return (first, whole), (last, whole)


def _thick(line: Bools, width: float) -> Singles:
    """A line one ray wide drawn ``width`` rays wide; thinner ones are fainter instead."""
    if width <= 1.0:
        return line.astype(np.float32) * np.float32(max(width, 0.35))
    size = max(1, round(width))
    reach = np.zeros(line.shape, dtype=bool)
    low = size // 2
    wider = np.pad(line, ((size - 1 - low, low), (size - 1 - low, low)))
    tall, wide = line.shape
    for dy in range(size):
        for dx in range(size):
            reach |= wider[dy : dy + tall, dx : dx + wide]
    return reach.astype(np.float32)


# --- washes --------------------------------------------------------------------------------


def role_wash(role: str, notes: Mapping[str, str]) -> tuple[float, float, float]:
    """The wash of a role; tiles and walls take their kind from a model's notes."""
    first = role.split("/")[0]
    kind = {"tile": notes.get("roof colour"), "wall": notes.get("walls")}.get(first)
    keys = (role if "/" in role else f"{role}/{kind}", first)
    return next((ROLE_WASHES[k] for k in keys if k in ROLE_WASHES), (1.0, 1.0, 1.0))


def _washes(
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
    fall = np.clip(height / max(_highest(camera), 1e-6), 0.0, 1.0) ** 0.8
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


def _grain(tall: int, wide: int) -> Singles:
    """The paper's tooth and the unevenness of large washes; the same on every sheet."""
    rng = np.random.default_rng(1914)
    grain = np.ones((tall, wide), dtype=np.float32)
    for cells, depth in ((12, 0.018), (90, 0.010), (420, 0.012)):
        coarse = rng.uniform(-1.0, 1.0, (max(2, cells * tall // wide), cells)).astype(np.float32)
        smooth = Image.fromarray(coarse, "F").resize((wide, tall), Image.Resampling.BICUBIC)
        grain += depth * np.asarray(smooth, dtype=np.float32)
    return grain


def _highest(camera: Camera) -> float:
    """Height of the picture's upper edge above the ground, metres."""
    half = 0.5 * camera.height_px * camera.metres_per_pixel
    return float(camera.position_m[2] + camera.shift_y * camera.ortho_width_m + half)


def _of_roles(seen: Seen, parts: list[Part], roles: tuple[str, ...]) -> Bools:
    table = np.array([*(part.role.split("/")[0] in roles for part in parts), False])
    return table[seen.owner]

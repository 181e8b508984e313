"""A front elevation as a drawing in lines and flat washes, at a printed scale, as SVG.

Lines are the model's own edges with the hidden ones left out, heavier the deeper the jump
behind them; washes are outlines of what is glass, tile or wall, and of what lies in shade. A
length on the model is that length over the scale on paper, whatever the paper.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import contourpy
import numpy as np
from PIL import Image, ImageFilter

from massing.geometry.mesh import Floats, Model, Part
from massing.geometry.rays import Bools, Caster
from massing.present.ink.elevation import Seen, drawable, look, role_wash
from massing.sun.position import SunTime
from massing.view.cameras import Camera
from massing.view.outlines import front_lines

UNITS_PER_MM = 100.0  # the drawing's own units, whole numbers of which place every point
GRAIN_MM = 0.14  # of the rays that find washes, on paper
MOST_RAYS = 3_000_000
SHADE_FILL, SHADE_OPACITY = "#46505c", 0.40
TURNED_OPACITY = 0.26
TURNING, TURNING_OPACITY = (0.25, 0.55, 0.85), 0.06  # of the light that meets the front itself
INK = "#26231f"
# Widths of line on paper, millimetres, from what lies within a roof's covering to the outline
# against the sky; the finer ones of ISO 128-2's row where there are such.
FIELD_MM, CREASE_MM, EDGE_MM, STEP_MM, OUTLINE_MM, GROUND_MM = 0.05, 0.07, 0.10, 0.16, 0.28, 0.6
EDGE_M, STEP_M = 0.03, 0.20  # jump in depth from which the line is an edge's, a step's
FIELD_M = 1.0  # and up to which it is within a covering
FIELD_INK = "#8a7a6c"
_FIELDS = ("tile", "slate", "shingle", "roofing", "brick", "ashlar", "siding", "mortar")
_BESIDE_M = 0.006  # how far to each side of a line what it divides is looked for
_LEFT_OUT = ("foliage", "bark", "grass", "walk", "neighbour")


@dataclass(frozen=True)
class Window:
    """The part of the front that is drawn, metres: along the front, and above the ground."""

    left_m: float
    right_m: float
    foot_m: float
    top_m: float

    @property
    def width_m(self) -> float:
        """From left to right."""
        return self.right_m - self.left_m

    @property
    def height_m(self) -> float:
        """From foot to top."""
        return self.top_m - self.foot_m


@dataclass(frozen=True)
class Drawn:
    """One drawing.

    Attributes:
        svg: the file's text.
        width_mm, height_mm: on paper.
        scale: how many times smaller than the house.
    """

    svg: str
    width_mm: float
    height_mm: float
    scale: float


class Front:
    """A model's front made ready to be drawn, in any part, at any scale, in any light.

    Finding the lines takes seconds where a roof has thousands of tiles; a drawing after that
    takes little.
    """

    def __init__(self, model: Model, finest_m: float = 0.02) -> None:
        """Find the lines; they are tested for being seen in pieces of ``finest_m``."""
        self.model = model
        low, high = model.building_bounds
        self._stand = Camera(
            "elevation",
            "ortho",
            (float(low[0] + high[0]) / 2.0, float(low[1]) - 20.0, 0.0),
            ortho_width_m=float(high[0] - low[0]),
        )
        parts, before, self._line = drawable(model, self._stand)
        self._parts = [p for p in parts if p.role.split("/")[0] not in _LEFT_OUT]
        self._seen = Caster(self._parts)
        self._shading = Caster([*parts, *before])
        drawn = [p for p in self._parts if p.role.split("/")[0] != "figure"]
        self.lines = front_lines(drawn, finest_m=finest_m)
        self.weights = _weights(self.lines, self._parts, self._seen)

    def drawn(
        self, window: Window, scale: float, sun: SunTime | None = None, *, washes: bool = True
    ) -> Drawn:
        """The front within ``window`` at 1:``scale``, in the light of ``sun``.

        Args:
            sun: throws the shadows; none are drawn without it.
            washes: lay flat tones; without them lines alone.
        """
        paper = _Paper(window, scale)
        layers: list[str] = []
        if washes:
            camera = self._camera(window, scale)
            direction = None if sun is None else np.asarray(sun.direction, dtype=float)
            seen = look(self._seen, camera, direction, 1, line=self._line, shading=self._shading)
            layers += _tones(seen, self._parts, self.model, paper)
            if direction is not None:
                layers += _shades(seen, self._parts, direction, paper)
        layers += _lines(self.lines, self.weights, paper)
        layers.append(self._ground(paper))
        return Drawn(paper.svg(layers), paper.width_mm, paper.height_mm, scale)

    def _camera(self, window: Window, scale: float) -> Camera:
        """Square to the front, a ray for every grain of the paper."""
        least_m = (window.width_m * window.height_m / MOST_RAYS) ** 0.5
        step_m = max(GRAIN_MM * scale / 1000.0, least_m)
        middle_x = (window.left_m + window.right_m) / 2.0
        middle_z = (window.foot_m + window.top_m) / 2.0
        return replace(
            self._stand,
            position_m=(middle_x, self._stand.position_m[1], middle_z),
            ortho_width_m=window.width_m,
            width_px=max(2, round(window.width_m / step_m)),
            height_px=max(2, round(window.height_m / step_m)),
        )

    def _ground(self, paper: _Paper) -> str:
        """The ground line from edge to edge."""
        x = np.linspace(paper.window.left_m, paper.window.right_m, 3)
        z = self._line.heights_m(x - self._stand.position_m[0])
        points = paper.placed(np.column_stack([x, z]))
        return (
            f'<path fill="none" stroke="{INK}" stroke-width="{GROUND_MM * UNITS_PER_MM:g}" '
            f'd="{_path(points)}"/>'
        )


@dataclass(frozen=True)
class _Paper:
    """Where the model's metres fall on the drawing."""

    window: Window
    scale: float

    @property
    def width_mm(self) -> float:
        return 1000.0 * self.window.width_m / self.scale

    @property
    def height_mm(self) -> float:
        return 1000.0 * self.window.height_m / self.scale

    def placed(self, points_m: Floats) -> Floats:
        """Whole units to the right and down of the upper left corner, for ``(..., 2)`` (x, z)."""
        unit = 1000.0 * UNITS_PER_MM / self.scale
        out = (np.asarray(points_m) - [self.window.left_m, self.window.top_m]) * [unit, -unit]
        return np.asarray(np.rint(out), dtype=np.int64)

    def svg(self, layers: Iterable[str]) -> str:
        wide, tall = (round(UNITS_PER_MM * mm) for mm in (self.width_mm, self.height_mm))
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{self.width_mm:.3f}mm" '
            f'height="{self.height_mm:.3f}mm" viewBox="0 0 {wide} {tall}">'
            f"{''.join(layers)}</svg>\n"
        )


# --- washes --------------------------------------------------------------------------------


def _tones(seen: Seen, parts: list[Part], model: Model, paper: _Paper) -> list[str]:
    """Flat tones of what is seen, the commonest first and under all the others."""
    colours = [_hex(role_wash(part.role, model.notes)) for part in parts]
    kinds = sorted(set(colours))
    table = np.array([*(kinds.index(colour) for colour in colours), -1])
    owned = table[seen.owner]
    counts = {kind: int((owned == i).sum()) for i, kind in enumerate(kinds)}
    layers = []
    for i, kind in sorted(enumerate(kinds), key=lambda k: -counts[k[1]]):
        mask = owned >= 0 if not layers else owned == i
        if counts[kind]:
            layers.append(_filled(mask, paper, f'fill="{kind}"'))
    return layers


def _shades(seen: Seen, parts: list[Part], sun: Floats, paper: _Paper) -> list[str]:
    """What lies in another's shadow, and what turns from the sun; even over coverings."""
    solid = seen.owner >= 0
    away = solid & (seen.normals @ sun.astype(np.float32) <= 0.0)
    fields = np.array([*(p.role.split("/")[0] in _FIELDS for p in parts), False])[seen.owner]
    dark = solid & ~seen.lit
    even = _majority(dark & fields, fields, max(1, round(0.30 / seen.step_m)))
    cast = np.where(fields, even, dark & ~away)
    turned = away & ~fields
    # Round things turn from the light by degrees: a wash upon a wash.
    square = float(np.clip(-sun[1], 0.2, 0.9))
    round_ = solid & seen.lit & ~fields
    turning = seen.normals @ sun.astype(np.float32) / square
    bands = [(round_ & (turning < least), TURNING_OPACITY) for least in TURNING]
    return [
        _filled(mask, paper, f'fill="{SHADE_FILL}" fill-opacity="{opacity}"')
        for mask, opacity in ((cast, SHADE_OPACITY), (turned, TURNED_OPACITY), *bands)
    ]


def _majority(mask: Bools, within: Bools, reach: int) -> Bools:
    """Where most of what lies ``within`` near a point is of the mask."""

    def blurred(which: Bools) -> Floats:
        image = Image.fromarray(which.astype(np.uint8) * 255)
        return np.asarray(image.filter(ImageFilter.BoxBlur(reach)), dtype=float)

    return np.asarray(within & (blurred(mask) > 0.5 * blurred(within)))


def _filled(mask: Bools, paper: _Paper, style: str) -> str:
    """The outlines of a mask as one filled shape."""
    tall, wide = mask.shape
    window = paper.window
    step_x, step_z = window.width_m / wide, window.height_m / tall
    xs = window.left_m + (np.arange(-1, wide + 1) + 0.5) * step_x
    zs = window.top_m - (np.arange(-1, tall + 1) + 0.5) * step_z
    rim = np.pad(mask.astype(float), 1)
    lines = contourpy.contour_generator(xs, zs, rim, line_type="Separate").lines(0.5)
    shapes = []
    for line in lines:
        points = _straightened(paper.placed(np.asarray(line)))
        if len(points) > 3:
            shapes.append(_path(points[:-1]) + "z")
    return f'<path {style} fill-rule="evenodd" d="{"".join(shapes)}"/>' if shapes else ""


def _straightened(points: Floats) -> Floats:
    """Points of a line without those that lie between their neighbours."""
    if len(points) < 3:
        return points
    turn = np.diff(points, axis=0)
    cross = turn[:-1, 0] * turn[1:, 1] - turn[:-1, 1] * turn[1:, 0]
    along = (turn[:-1] * turn[1:]).sum(axis=1)
    keep = np.ones(len(points), dtype=bool)
    keep[1:-1] = (cross != 0) | (along < 0)
    return np.asarray(points[keep])


def _path(points: Floats) -> str:
    """``M x y`` and then steps, in whole units."""
    steps = np.diff(points, axis=0)
    moves = "".join(f"l{x} {y}" for x, y in steps.tolist() if x or y)
    return f"M{points[0, 0]} {points[0, 1]}{moves}"


def _hex(rgb: tuple[float, float, float]) -> str:
    return "#" + "".join(f"{round(255 * v):02x}" for v in rgb)


# --- lines ---------------------------------------------------------------------------------


def _lines(lines: Floats, weights: Floats, paper: _Paper) -> list[str]:
    """The lines that fall within the paper, by their weight."""
    cut, kept = _within(lines, paper.window)
    weights = weights[kept]
    layers = []
    for weight in sorted(set(weights.tolist())):
        points = paper.placed(cut[weights == weight])
        points = points[np.abs(points[:, 1] - points[:, 0]).max(axis=1) > 0]
        points = np.unique(points, axis=0)
        path = "".join(f"M{a} {b}l{c - a} {d - b}" for (a, b), (c, d) in points.tolist())
        colour = FIELD_INK if weight == FIELD_MM else INK
        layers.append(
            f'<path fill="none" stroke="{colour}" stroke-width="{weight * UNITS_PER_MM:g}" '
            f'stroke-linecap="round" d="{path}"/>'
        )
    return layers


def _within(lines: Floats, window: Window) -> tuple[Floats, Bools]:
    """Lines ``(n, 2, 2)`` cut to the window, and which of them fall in it."""
    low = np.array([window.left_m, window.foot_m])
    high = np.array([window.right_m, window.top_m])
    start, ray = lines[:, 0], lines[:, 1] - lines[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        near, far = (low - start) / ray, (high - start) / ray
    inside = (start >= low) & (start <= high)
    first = np.where(ray == 0.0, np.where(inside, 0.0, 2.0), np.minimum(near, far)).max(axis=1)
    last = np.where(ray == 0.0, np.where(inside, 1.0, -1.0), np.maximum(near, far)).min(axis=1)
    first, last = np.clip(first, 0.0, None), np.clip(last, None, 1.0)
    keep = last > first
    a = start + first[:, None] * ray
    b = start + last[:, None] * ray
    return np.stack([a, b], axis=1)[keep], keep


def _weights(lines: Floats, parts: list[Part], caster: Caster) -> Floats:
    """Width on paper of each line, by what lies on either side of it."""
    middle = lines.mean(axis=1)
    ray = lines[:, 1] - lines[:, 0]
    beside = np.column_stack([-ray[:, 1], ray[:, 0]])
    beside *= _BESIDE_M / np.maximum(np.linalg.norm(ray, axis=1), 1e-9)[:, None]
    fields = np.array([*(p.role.split("/")[0] in _FIELDS for p in parts), False])
    depth, field, sky = [], [], []
    for side in (middle - beside, middle + beside):
        origins = np.column_stack([side[:, 0], np.full(len(side), -200.0), side[:, 1]])
        hits = caster.first_hit(origins, [0.0, 1.0, 0.0])
        sky.append(hits.owner < 0)
        depth.append(np.where(hits.owner < 0, 1e3, np.nan_to_num(hits.points[:, 1])))
        field.append(fields[hits.owner])
    jump = np.abs(depth[0] - depth[1])
    widths = np.where(jump >= STEP_M, STEP_MM, np.where(jump >= EDGE_M, EDGE_MM, CREASE_MM))
    widths = np.where(field[0] & field[1] & (jump < FIELD_M), FIELD_MM, widths)
    return np.where(sky[0] ^ sky[1], OUTLINE_MM, widths)

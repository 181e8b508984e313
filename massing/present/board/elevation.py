"""A front elevation as a drawing in lines and flat washes, at a printed scale, as SVG.

Lines are the model's own edges with the hidden ones left out, heavier the deeper the jump
behind them; washes are outlines of what is glass, tile or wall, and of what lies in shade. A
length on the model is that length over the scale on paper, whatever the paper.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import partial

import contourpy
import numpy as np
from PIL import Image, ImageFilter

from massing.geometry.mesh import Floats
from massing.geometry.rays import Bools, Caster
from massing.parts.part import Model, Part
from massing.present.ink.contours import flutes
from massing.present.ink.seen import Seen, drawable, look, round_shafts
from massing.present.ink.washes import role_wash
from massing.sun.position import SunTime
from massing.view.camera import Camera
from massing.view.hidden_lines import FRONT, PROFILE, Lines, visible_lines

UNITS_PER_MM = 100.0  # the drawing's own units, whole numbers of which place every point
GRAIN_MM = 0.14  # of the rays that find washes, on paper
MOST_RAYS = 3_000_000
SHADE_FILL, SHADE_OPACITY = "#46505c", 0.40
TURNED_OPACITY = 0.26
TURNING, TURNING_OPACITY = (0.25, 0.55, 0.85), 0.06  # of the light that meets the front itself
INK = "#26231f"
# Widths of line on paper, millimetres: within a roof's covering, of a crease, of an edge, of an
# outline before the open, of the ground.
FIELD_MM, FINE_MM, EDGE_MM, PROFILE_MM, GROUND_MM = 0.05, 0.07, 0.11, 0.22, 0.6
FLUTES_MM = 0.8  # on paper, in the middle of a shaft: nearer ones are left to the tone
FIELD_INK = "#8a7a6c"
_FIELDS = ("tile", "slate", "shingle", "roofing", "brick", "ashlar", "siding", "mortar")
CELL_MM, MOST_INK = 1.0, 0.24  # of paper, and the share of it that lines may cover
FINER = (0.15, 0.25, 0.4, 0.6, 0.8, 1.0)  # widths that crowded lines come down to
FIELD_STEP_M = 0.06  # tiles are many and small: what hides one is as large
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
        self._rounds = round_shafts(self._parts)
        self._found: list[Lines] = []
        self._kept: dict[float, Bools] = {}
        ends, widths, slight = [], [], []
        for fields, step_m in ((False, finest_m), (True, FIELD_STEP_M)):
            lines = visible_lines(
                self._parts,
                FRONT,
                step_m=step_m,
                undrawn=partial(_other_than, fields),
                caster=self._seen,
            )
            self._found.append(lines)
            of_weight = np.array([0.0, FINE_MM, EDGE_MM, PROFILE_MM])[lines.weight]
            slight.append(fields & (lines.weight < PROFILE))
            ends.append(lines.ends)
            widths.append(np.where(slight[-1], FIELD_MM, of_weight))
        self._lines, self._widths_mm = np.concatenate(ends), np.concatenate(widths)
        self._slight = np.concatenate(slight)

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
        camera = self._camera(window, scale)
        direction = None if sun is None else np.asarray(sun.direction, dtype=float)
        if not washes:
            seen = look(self._seen, camera, None, 1, line=self._line)
            layers.append(_figure(seen, self._parts, self.model, paper))
        else:
            seen = look(
                self._seen,
                camera,
                direction,
                1,
                line=self._line,
                shading=self._shading,
                rounds=self._rounds,
            )
            layers += _tones(seen, self._parts, self.model, paper)
            if direction is not None:
                layers += _shades(seen, self._parts, direction, paper)
        widths_mm = self._widths_mm * _heavier(scale)
        kept = self._legible(scale)
        layers += _lines(self._lines[kept], widths_mm[kept], self._slight[kept], paper)
        layers.append(self._ground(paper))
        return Drawn(paper.svg(layers), paper.width_mm, paper.height_mm, scale)

    def _legible(self, scale: float) -> Bools:
        """Lines that are drawn at 1:``scale``: all but flutes that would run together."""
        if scale not in self._kept:
            gap_m = FLUTES_MM * scale / 1000.0
            own, covering = self._found
            closed = flutes(self._parts, FRONT, own, gap_m)
            self._kept[scale] = np.append(~closed, np.ones(len(covering.ends), dtype=bool))
        return self._kept[scale]

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
    layers: list[str] = []
    for i, kind in sorted(enumerate(kinds), key=lambda k: -counts[k[1]]):
        mask = owned >= 0 if not layers else owned == i
        if counts[kind]:
            layers.append(_filled(mask, paper, f'fill="{kind}"'))
    # An outline under the lines closes it where a rounded thing has no edge against the sky.
    width = EDGE_MM * _heavier(paper.scale) * UNITS_PER_MM
    outline = f'fill="none" stroke="{INK}" stroke-width="{width:.4g}"'
    return [*layers, _filled(owned >= 0, paper, outline)]


def _shades(seen: Seen, parts: list[Part], sun: Floats, paper: _Paper) -> list[str]:
    """What lies in another's shadow, and what turns from the sun; even over coverings."""
    solid = seen.owner >= 0
    away = solid & (seen.normals @ sun.astype(np.float32) <= 0.0)
    fields = np.array([*map(_is_field, parts), False])[seen.owner]
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


def _figure(seen: Seen, parts: list[Part], model: Model, paper: _Paper) -> str:
    """The person who gives the scale, as a silhouette."""
    mask = np.array([*(p.role == "figure" for p in parts), False])[seen.owner]
    return _filled(mask, paper, f'fill="{_hex(role_wash("figure", model.notes))}"')


def _is_field(part: Part) -> bool:
    """One of the many alike that cover a roof or a wall."""
    return part.role.split("/")[0] in _FIELDS


def _other_than(fields: bool, part: Part) -> bool:
    """Whether a part is none of a covering's, or none but those; or the figure, only filled."""
    return part.role == "figure" or _is_field(part) != fields


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


def _lines(lines: Floats, widths_mm: Floats, slight: Bools, paper: _Paper) -> list[str]:
    """The lines that fall within the paper, by their width; finer where they crowd on the whole
    front, so that two halves of one drawing are alike, and paler where they are ``slight``."""
    widths_mm = _thinned(lines, widths_mm, slight, paper.scale)
    cut, kept = _within(lines, paper.window)
    widths_mm, slight = widths_mm[kept], slight[kept]
    layers = []
    kinds = sorted(set(zip((~slight).tolist(), widths_mm.tolist(), strict=True)))
    for strong, width in kinds:
        points = paper.placed(cut[(widths_mm == width) & (slight != strong)])
        points = points[np.abs(points[:, 1] - points[:, 0]).max(axis=1) > 0]
        points = np.unique(points, axis=0)
        path = "".join(f"M{a} {b}l{c - a} {d - b}" for (a, b), (c, d) in points.tolist())
        if path and not strong:
            # Some viewers draw a path of nothing but level and upright lines a whole pixel wide,
            # however fine they are: a speck of a slant, too small to be seen, keeps them fine.
            path = f"M{points[0, 0, 0]} {points[0, 0, 1]}l1 1{path}"
        colour = INK if strong else FIELD_INK
        layers.append(
            f'<path fill="none" stroke="{colour}" stroke-width="{width * UNITS_PER_MM:g}" '
            f'stroke-linecap="round" d="{path}"/>'
        )
    return layers


def _thinned(lines: Floats, widths_mm: Floats, slight: Bools, scale: float) -> Floats:
    """Widths of lines, less where ink would cover more than a share of the paper: flutes and
    balusters drawn small stay grey and do not run together. The slight ones, of coverings, are
    all alike, so that no slope is blotched."""
    if not len(lines):
        return widths_mm
    long_mm = 1000.0 * np.linalg.norm(lines[:, 1] - lines[:, 0], axis=1) / scale
    counts = np.maximum(1, np.ceil(long_mm / (0.5 * CELL_MM)).astype(int))
    of = np.repeat(np.arange(len(lines)), counts)
    place = np.arange(len(of)) - np.repeat(np.cumsum(counts) - counts, counts)
    share = (place + 0.5) / counts[of]
    at = lines[of, 0] + share[:, None] * (lines[of, 1] - lines[of, 0])
    cells = np.floor(1000.0 * at / scale / CELL_MM).astype(np.int64)
    cells -= cells.min(axis=0)
    key = cells[:, 0] * (cells[:, 1].max() + 1) + cells[:, 1]
    ink = (long_mm / counts * widths_mm)[of] / CELL_MM**2
    covered = np.bincount(key, ink)[key]
    mean = np.bincount(of, covered) / counts
    if slight.any():
        mean[slight] = np.median(mean[slight])
    steps = np.array(FINER)
    finer = steps[np.abs(np.clip(MOST_INK / mean, 0.0, 1.0)[:, None] - steps).argmin(axis=1)]
    profile = PROFILE_MM * _heavier(scale)
    return np.round(np.where(widths_mm > 0.99 * profile, widths_mm, widths_mm * finer), 3)


def _heavier(scale: float) -> float:
    """How much heavier lines are than at 1:192: larger drawings bear more."""
    return float(np.clip((192.0 / scale) ** 0.5, 0.65, 1.4))


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

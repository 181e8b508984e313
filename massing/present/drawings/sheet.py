"""One neutral description of a drawing, which the writers turn into DXF, SVG and PDF.

A sheet's coordinates are metres at the building's own size, from the paper's lower left corner:
at 1:48 a sheet 610 mm wide is 29.28 m wide. Sizes that belong to the paper, such as letters and
symbols, are millimetres on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import ArrayLike
from shapely.geometry import MultiPolygon

from massing.geometry.mesh import Floats
from massing.present.sheets.paper import font
from massing.units import INCH_M, format_feet_inches, whole_steps


@dataclass(frozen=True)
class Layer:
    """A layer: its name, pen (ISO 128 widths, mm), ink from 0 black to 1 white, dashes in mm.

    ``colour`` is the AutoCAD colour index by which a CAD program shows it.
    """

    name: str
    pen_mm: float
    colour: int = 7
    ink: float = 0.0
    dashes_mm: tuple[float, ...] = ()


_ALL = (
    Layer("GROUND", 0.70),
    Layer("CUT", 0.50),
    Layer("PROFILE", 0.35),
    Layer("EDGE", 0.2),
    Layer("FINE", 0.13, 8, 0.2),
    Layer("HIDDEN", 0.13, 8, 0.2, (2.0, 1.0)),
    Layer("CENTRE", 0.09, 1, 0.3, (6.0, 1.2, 1.2, 1.2)),
    Layer("POCHE", 0.05, 9, 0.45),
    Layer("MATERIAL", 0.05, 9, 0.55),
    Layer("SHADE", 0.05, 254, 0.90),
    Layer("SHADOW", 0.05, 253, 0.78),
    Layer("DIMENSIONS", 0.13, 3, 0.1),
    Layer("LEVELS", 0.13, 3, 0.1),
    Layer("GRID", 0.13, 1, 0.2),
    Layer("TEXT", 0.18),
    Layer("SHEET", 0.35),
    Layer("SHEET-FINE", 0.13),
)
LAYERS = {layer.name: layer for layer in _ALL}


@dataclass(frozen=True, eq=False)
class Line:
    """A polyline ``(n, 2)``."""

    layer: str
    points: Floats
    closed: bool = False

    def moved(self, by: Floats) -> Line:
        return replace(self, points=self.points + by)


@dataclass(frozen=True, eq=False)
class Arc:
    """An arc of a circle, counter-clockwise from ``start_deg`` to ``end_deg``."""

    layer: str
    centre: tuple[float, float]
    radius_m: float
    start_deg: float = 0.0
    end_deg: float = 360.0

    def moved(self, by: Floats) -> Arc:
        return replace(self, centre=(self.centre[0] + by[0], self.centre[1] + by[1]))

    @property
    def points(self) -> Floats:
        """The arc as a polyline, a chord for every 2 degrees."""
        count = max(2, int(np.ceil((self.end_deg - self.start_deg) / 2.0)) + 1)
        t = np.radians(np.linspace(self.start_deg, self.end_deg, count))
        return np.array(self.centre) + self.radius_m * np.column_stack([np.cos(t), np.sin(t)])


@dataclass(frozen=True, eq=False)
class Spline:
    """A smooth curve through ``points`` ``(n, 2)``."""

    layer: str
    points: Floats

    def moved(self, by: Floats) -> Spline:
        return replace(self, points=self.points + by)


@dataclass(frozen=True, eq=False)
class Fill:
    """An area filled in its layer's ink."""

    layer: str
    area: MultiPolygon

    def moved(self, by: Floats) -> Fill:
        return replace(self, area=shapely.transform(self.area, lambda p: p + by))


@dataclass(frozen=True, eq=False)
class Hatch:
    """An area hatched: sets of parallel lines, each an angle in degrees and a distance, metres."""

    layer: str
    area: MultiPolygon
    sets: tuple[tuple[float, float], ...]
    name: str = "HATCH"

    def moved(self, by: Floats) -> Hatch:
        return replace(self, area=shapely.transform(self.area, lambda p: p + by))


@dataclass(frozen=True)
class Text:
    """One line of text. ``anchor`` is left, centre or right; ``at`` is on its foot line."""

    at: tuple[float, float]
    text: str
    height_mm: float = 2.4
    anchor: str = "left"
    turn_deg: float = 0.0
    layer: str = "TEXT"
    face: str = "roman"

    def moved(self, by: Floats) -> Text:
        return replace(self, at=(self.at[0] + by[0], self.at[1] + by[1]))


@dataclass(frozen=True)
class Dimension:
    """A straight dimension from ``a`` to ``b``, level or upright, its line at ``place``.

    ``text_at`` puts the text elsewhere than over the middle of the line; ``aside`` level and
    to the right of that place, at the end of a leader, for stretches too short for their text.
    """

    a: tuple[float, float]
    b: tuple[float, float]
    place: float
    upright: bool
    text: str
    text_at: tuple[float, float] | None = None
    aside: bool = False
    text_mm: float = 2.1
    layer: str = "DIMENSIONS"

    def moved(self, by: Floats) -> Dimension:
        dx, dy = float(by[0]), float(by[1])
        at = self.text_at
        return replace(
            self,
            a=(self.a[0] + dx, self.a[1] + dy),
            b=(self.b[0] + dx, self.b[1] + dy),
            place=self.place + (dx if self.upright else dy),
            text_at=None if at is None else (at[0] + dx, at[1] + dy),
        )

    @property
    def length_m(self) -> float:
        """What it measures."""
        return abs(self.b[1] - self.a[1] if self.upright else self.b[0] - self.a[0])

    @property
    def feet(self) -> tuple[Floats, Floats]:
        """Where the extension lines meet the dimension line."""
        if self.upright:
            return np.array([self.place, self.a[1]]), np.array([self.place, self.b[1]])
        return np.array([self.a[0], self.place]), np.array([self.b[0], self.place])


@dataclass(frozen=True)
class Symbol:
    """A drawn sign from :data:`SYMBOLS`, with its words."""

    name: str
    at: tuple[float, float]
    words: str = ""
    turn_deg: float = 0.0

    def moved(self, by: Floats) -> Symbol:
        return replace(self, at=(self.at[0] + by[0], self.at[1] + by[1]))


Item = Line | Arc | Spline | Fill | Hatch | Text | Dimension | Symbol


@dataclass(frozen=True)
class Sign:
    """A sign's shape in millimetres on the paper, and where its words stand."""

    layer: str
    lines: tuple[tuple[tuple[float, float], ...], ...] = ()
    circles: tuple[tuple[float, float, float], ...] = ()
    filled: tuple[tuple[tuple[float, float], ...], ...] = ()
    words_at: tuple[float, float] = (0.0, 0.0)
    words_mm: float = 2.4
    anchor: str = "centre"
    upright_words: bool = True  # they stay level when the sign is turned


SYMBOLS: dict[str, Sign] = {
    "GRID-BUBBLE": Sign("GRID", circles=((0.0, 0.0, 3.6),), words_at=(0.0, -1.05), words_mm=3.0),
    "LEVEL": Sign(
        "LEVELS",
        lines=(((-4.0, 0.0), (26.0, 0.0)), ((0.0, 0.0), (-1.6, 1.9), (1.6, 1.9), (0.0, 0.0))),
        filled=(((0.0, 0.0), (0.0, 1.9), (1.6, 1.9)),),
        words_at=(3.2, 0.7),
        anchor="left",
        words_mm=2.1,
    ),
    "NORTH": Sign(
        "SHEET-FINE",
        lines=(
            ((0.0, -7.0), (0.0, 7.0)),
            ((0.0, 7.0), (-2.6, -3.2), (0.0, -1.6), (2.6, -3.2), (0.0, 7.0)),
        ),
        circles=((0.0, 0.0, 7.0),),
        filled=(((0.0, 7.0), (0.0, -1.6), (2.6, -3.2)),),
        words_at=(0.0, 8.6),
        words_mm=3.0,
        upright_words=False,
    ),
    "SECTION-MARK": Sign(
        "GRID",
        circles=((0.0, 0.0, 3.6),),
        filled=(((-3.6, 0.0), (0.0, 5.6), (3.6, 0.0), (0.0, 3.6)),),
        words_at=(0.0, -1.05),
        words_mm=3.0,
    ),
    "DATUM": Sign(
        "LEVELS",
        circles=((0.0, 0.0, 1.8),),
        lines=(((-3.2, 0.0), (3.2, 0.0)), ((0.0, -3.2), (0.0, 3.2))),
        filled=(
            ((0.0, 0.0), (1.8, 0.0), (1.27, 1.27), (0.0, 1.8)),
            ((0.0, 0.0), (-1.8, 0.0), (-1.27, -1.27), (0.0, -1.8)),
        ),
        words_at=(3.2, -4.6),
        words_mm=2.1,
        anchor="left",
    ),
}


@dataclass
class Sheet:
    """A sheet of paper and what is drawn on it.

    Attributes:
        number: such as ``A1``; ``name`` is for files, ``title`` for the title block.
        paper_mm: width and height.
        scale: the building's size over the paper's, such as 48.
        units: ``feet`` or ``metric``.
    """

    number: str
    name: str
    title: str
    paper_mm: tuple[float, float]
    scale: float
    units: str
    items: list[Item] = field(default_factory=list)

    @property
    def size_m(self) -> tuple[float, float]:
        """The paper at the building's size."""
        return self.mm(self.paper_mm[0]), self.mm(self.paper_mm[1])

    def mm(self, on_paper: float) -> float:
        """Millimetres on the paper as metres of the building."""
        return on_paper * self.scale / 1000.0

    def add(self, items: Iterable[Item], at: ArrayLike = (0.0, 0.0)) -> None:
        """Draw more, moved by ``at``."""
        by = np.asarray(at, dtype=float)
        self.items += [item.moved(by) for item in items]


# --- words and figures ---------------------------------------------------------------------


@lru_cache(maxsize=4096)
def text_width_mm(text: str, height_mm: float, face: str = "roman") -> float:
    """The width on paper of a line of text whose capitals are about ``height_mm`` high."""
    return float(font(face, 200).getlength(text)) / 200.0 * em_mm(height_mm)


def em_mm(height_mm: float) -> float:
    """The size of type whose capitals are ``height_mm`` high."""
    return height_mm / 0.66  # STIX General's capitals


def wrapped(text: str, height_mm: float, width_mm: float, face: str = "roman") -> list[str]:
    """Lines no wider than ``width_mm``, broken between words."""
    lines: list[str] = []
    for word in text.split():
        if lines and text_width_mm(f"{lines[-1]} {word}", height_mm, face) <= width_mm:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


@dataclass(frozen=True)
class Figures:
    """How lengths are written on one design's drawings, in steps of the builder's fraction."""

    units: str
    step_m: float

    def on_step(self, length_m: float) -> float:
        """The length as it is written and drawn between."""
        return whole_steps(length_m, self.step_m) * self.step_m

    def text(self, length_m: float) -> str:
        """Feet and inches, or millimetres without their unit, as drawings have them.

        >>> Figures("metric", 0.001).text(1.2345), Figures("feet", INCH_M / 16).text(1.6891)
        ('1235', '5\\'-6 1/2"')
        """
        length_m = self.on_step(length_m)
        if self.units == "metric":
            return f"{round(length_m * 1000.0, 1):g}"
        return format_feet_inches(length_m, max(1, round(INCH_M / self.step_m)))

    def half(self, reach_m: float) -> str:
        """A reach from an axis: half a width that is itself on the fraction.

        >>> Figures("feet", INCH_M / 16).half(0.5 * 3.0625 * INCH_M)
        '1 17/32"'
        """
        return Figures(self.units, self.step_m / 2.0).text(reach_m)

    def level(self, height_m: float) -> str:
        """A level over the datum, with its sign."""
        sign = "+" if height_m > 1e-9 else "-" if height_m < -1e-9 else "±"
        if self.units == "metric":
            return f"{sign}{abs(self.on_step(height_m)):.3f}"
        text = self.text(abs(height_m))
        return f"{sign}{text if chr(39) in text else '0' + chr(39) + '-' + text}"


def chain(
    places_m: Sequence[float],
    at: float,
    figures: Figures,
    *,
    upright: bool,
    foot: float | Sequence[float],
    mm_m: float,
    text_mm: float = 2.1,
) -> list[Dimension]:
    """Dimensions in a row between ``places_m``, which add up because each place is on a step.

    Args:
        at: where the dimension line stands.
        foot: where the extension lines start, of each place or of all.
        mm_m: a millimetre of the paper at the building's size.

    Text that is wider than its stretch stands beside its neighbours' in a second row, moved
    clear of the extension line on the one side where the next stretch, or the open, has room.
    """
    places = sorted({figures.on_step(p) for p in places_m})
    feet = [float(foot)] * len(places) if isinstance(foot, (int, float)) else list(foot)
    made: list[Dimension] = []
    raised = False
    for i, (low, high) in enumerate(pairwise(places)):
        text = figures.text(high - low)
        wide = text_width_mm(text, text_mm) * mm_m
        tight = wide > (high - low) - 1.0 * mm_m
        move = _aside(places, i, wide + 1.6 * mm_m) if tight else 0.0
        raised = tight and (move != 0.0 or not raised)
        text_at = None
        if tight:
            middle = (low + high) / 2.0 + move
            out = (4.2 if raised else -3.4) * mm_m
            text_at = (at - out, middle) if upright else (middle, at + out)
        a, b = (feet[i], low), (feet[i + 1], high)
        if not upright:
            a, b = (low, feet[i]), (high, feet[i + 1])
        made.append(Dimension(a, b, at, upright, text, text_at))
    return made


def _aside(places: Sequence[float], i: int, wide: float) -> float:
    """How far text too ``wide`` for stretch i moves along a row towards where there is room."""
    own = places[i + 1] - places[i]
    over = wide - own
    if len(places) < 3 or over <= 0.0:
        return 0.0
    before = places[i] - places[i - 1] if i > 0 else np.inf
    after = places[i + 2] - places[i + 1] if i + 2 < len(places) else np.inf
    if max(before, after) < 2.0 * over:
        return 0.0
    return 0.5 * over if after > before else -0.5 * over


# --- scales and papers ---------------------------------------------------------------------

PAPERS_MM: dict[str, tuple[float, float]] = {
    # ISO 216 and ANSI/ASME Y14.1's architectural sizes, landscape
    "A3": (420.0, 297.0),
    "A2": (594.0, 420.0),
    "A1": (841.0, 594.0),
    "arch b": (457.2, 304.8),
    "arch c": (609.6, 457.2),
    "arch d": (914.4, 609.6),
}
_FEET_SCALES = {  # inches of paper to the foot, as an architect's scale has them
    "full size": 1,
    '6" = 1\'-0"': 2,
    '3" = 1\'-0"': 4,
    '1 1/2" = 1\'-0"': 8,
    '1" = 1\'-0"': 12,
    '3/4" = 1\'-0"': 16,
    '1/2" = 1\'-0"': 24,
    '3/8" = 1\'-0"': 32,
    '1/4" = 1\'-0"': 48,
    '3/16" = 1\'-0"': 64,
    '1/8" = 1\'-0"': 96,
    '3/32" = 1\'-0"': 128,
    '1/16" = 1\'-0"': 192,
}
_METRIC_SCALES = (1, 2, 5, 10, 20, 25, 50, 100, 200, 500)  # ISO 5455, and 1:25


def scales(units: str) -> list[float]:
    """Scales of the trade, from full size down."""
    return [float(s) for s in (_FEET_SCALES.values() if units == "feet" else _METRIC_SCALES)]


def scale_text(scale: float, units: str) -> str:
    """A scale as it is written under a drawing.

    >>> scale_text(48, "feet"), scale_text(50, "metric")
    ('1/4" = 1\\'-0"', '1:50')
    """
    if units == "feet":
        return next(name for name, value in _FEET_SCALES.items() if value == scale)
    return f"1:{scale:g}"


def fitting_scale(
    size_m: tuple[float, float], room_mm: tuple[float, float], units: str, least: float = 1.0
) -> float:
    """The largest scale, ``least`` or smaller, at which a drawing fits a room on the paper.

    Raises:
        ValueError: it fits at none.
    """
    for scale in scales(units):
        if scale >= least and all(
            s * 1000.0 / scale <= r for s, r in zip(size_m, room_mm, strict=True)
        ):
            return scale
    raise ValueError(f"{size_m[0]:.1f} by {size_m[1]:.1f} m fits the paper at no scale")


def hatch_lines(hatch: Hatch) -> Floats:
    """The hatching's lines within its area, ``(n, 2, 2)``; they pass through the origin."""
    made = []
    for angle_deg, distance in hatch.sets:
        turn = np.radians(angle_deg)
        along = np.array([np.cos(turn), np.sin(turn)])
        across = np.array([-along[1], along[0]])
        for polygon in hatch.area.geoms:
            ring = shapely.get_coordinates(polygon)
            u, v = ring @ along, ring @ across
            rows = np.arange(np.ceil(v.min() / distance), np.floor(v.max() / distance) + 1)
            if not len(rows):
                continue
            start = u.min() * along + (rows * distance)[:, None] * across
            end = u.max() * along + (rows * distance)[:, None] * across
            cut = shapely.intersection(shapely.linestrings(np.stack([start, end], axis=1)), polygon)
            pieces = shapely.get_parts(shapely.get_parts(cut))
            pieces = pieces[shapely.get_type_id(pieces) == 1]
            ends = shapely.get_coordinates(pieces)
            if len(ends) == 2 * len(pieces):
                made.append(ends.reshape(-1, 2, 2))
            else:
                made += [shapely.get_coordinates(p)[[0, -1]][None] for p in pieces]
    return np.concatenate(made) if made else np.zeros((0, 2, 2))


UNIT_M = {"feet": INCH_M, "metric": 0.001}
"""What a unit of the DXF is: an inch, or a millimetre."""

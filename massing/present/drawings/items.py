"""What a drawing is made of: lines, arcs, areas, texts, dimensions and signs, in metres."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.geometry import MultiPolygon

from massing.geometry.mesh import Floats


@dataclass(frozen=True)
class Layer:
    """A layer: its name, pen (ISO 128 widths, mm), ink from 0 black to 1 white, dashes in mm.

    ``colour`` is the number in DXF's table of colours by which a CAD program shows it.
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

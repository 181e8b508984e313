"""A sheet as plain marks on the paper, in millimetres: what PDF and SVG are written from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import MultiPolygon

from massing.geometry.mesh import Floats
from massing.present.drawings.items import (
    LAYERS,
    SYMBOLS,
    Arc,
    Dimension,
    Fill,
    Hatch,
    Line,
    Sign,
    Spline,
    Symbol,
    Text,
    hatch_lines,
)
from massing.present.drawings.sheet import Sheet

TICK_MM = 1.0  # half a dimension's tick, along and across
GAP_MM = 1.2  # between what is measured and its extension line
BEYOND_MM = 1.4  # extension line past the dimension line
OVER_MM = 0.7  # text over the dimension line


@dataclass(frozen=True, eq=False)
class Stroke:
    """Polylines ``(n, 2)`` of one layer."""

    layer: str
    lines: list[Floats]
    closed: bool = False
    pen_mm: float = 0.0


@dataclass(frozen=True, eq=False)
class Area:
    """A filled area."""

    layer: str
    area: MultiPolygon


@dataclass(frozen=True)
class Words:
    """A line of text; ``at`` is the left, middle or right of its foot line."""

    layer: str
    at: tuple[float, float]
    text: str
    height_mm: float
    anchor: str
    turn_deg: float
    face: str = "roman"


Mark = Stroke | Area | Words

_ORDER = {"SHADE": 0, "SHADOW": 1, "POCHE": 2, "MATERIAL": 3, "FINE": 4, "HIDDEN": 5, "EDGE": 6}


def marks(sheet: Sheet) -> list[Mark]:
    """All marks of a sheet, from the lowest to what lies over the rest."""
    made = [mark for item in sheet.items for mark in _of(item, sheet)]
    words = [m for m in made if isinstance(m, Words)]
    areas = [m for m in made if isinstance(m, Area)]
    strokes = [m for m in made if isinstance(m, Stroke)]
    areas.sort(key=lambda m: _ORDER.get(m.layer, 9))
    strokes.sort(key=lambda m: _ORDER.get(m.layer, 9))
    return [*areas, *strokes, *words]


def _of(item: object, sheet: Sheet) -> Iterator[Mark]:
    k = 1000.0 / sheet.scale
    if isinstance(item, Line):
        yield Stroke(item.layer, [item.points * k], item.closed)
    elif isinstance(item, (Arc, Spline)):
        yield Stroke(item.layer, [item.points * k])
    elif isinstance(item, Fill):
        yield Area(item.layer, shapely.transform(item.area, lambda p: p * k))
    elif isinstance(item, Hatch):
        lines = hatch_lines(item) * k
        if len(lines):
            yield Stroke(item.layer, list(lines))
    elif isinstance(item, Text):
        at = (item.at[0] * k, item.at[1] * k)
        yield Words(
            item.layer, at, item.text, item.height_mm, item.anchor, item.turn_deg, item.face
        )
    elif isinstance(item, Symbol):
        yield from _sign(item, k)
    elif isinstance(item, Dimension):
        yield from _dimension(item, k)


def _dimension(item: Dimension, k: float) -> Iterator[Mark]:
    a, b = np.array(item.a) * k, np.array(item.b) * k
    foot_a, foot_b = (foot * k for foot in item.feet)
    lines = [np.stack([foot_a, foot_b])]
    for start, foot in ((a, foot_a), (b, foot_b)):
        way = foot - start
        length = float(np.linalg.norm(way))
        if length > GAP_MM:
            way /= length
            lines.append(np.stack([start + GAP_MM * way, foot + BEYOND_MM * way]))
    middle = (foot_a + foot_b) / 2.0
    tick = np.array([[-TICK_MM, -TICK_MM], [TICK_MM, TICK_MM]])
    if item.upright:
        tick = tick * [-1.0, 1.0]
    if item.text_at is not None and item.aside:
        at = np.array(item.text_at) * k
        elbow = np.array([at[0] - 1.0, at[1] + item.text_mm * 0.5])
        lines.append(np.stack([middle, elbow]))
        yield Stroke(item.layer, lines)
        yield Stroke(item.layer, [foot_a + tick, foot_b + tick], pen_mm=0.3)
        yield Words("TEXT", (at[0], at[1]), item.text, item.text_mm, "left", 0.0)
        return
    yield Stroke(item.layer, lines)
    yield Stroke(item.layer, [foot_a + tick, foot_b + tick], pen_mm=0.3)
    at = middle if item.text_at is None else np.array(item.text_at) * k
    if item.text_at is None:
        at = at + ([-OVER_MM, 0.0] if item.upright else [0.0, OVER_MM])
    turn = 90.0 if item.upright else 0.0
    yield Words("TEXT", (float(at[0]), float(at[1])), item.text, item.text_mm, "centre", turn)


def _sign(item: Symbol, k: float) -> Iterator[Mark]:
    sign = SYMBOLS[item.name]
    at = np.array(item.at) * k
    turn = np.radians(item.turn_deg)
    matrix = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])

    def put(points: object) -> Floats:
        return np.asarray(points, dtype=float) @ matrix.T + at

    for x, y, r in sign.circles:
        t = np.linspace(0.0, 2.0 * np.pi, 49)
        yield Stroke(sign.layer, [put(np.column_stack([x + r * np.cos(t), y + r * np.sin(t)]))])
    if sign.lines:
        yield Stroke(sign.layer, [put(line) for line in sign.lines])
    for ring in sign.filled:
        yield Area(sign.layer, MultiPolygon([shapely.Polygon(put(ring))]))
    if item.words:
        where = words_place(sign, item.turn_deg) + at
        yield Words(
            "TEXT", (float(where[0]), float(where[1])), item.words, sign.words_mm, sign.anchor, 0.0
        )


def words_place(sign: Sign, turn_deg: float) -> Floats:
    """Where a sign's words stand from its place, millimetres; turned with it if they are."""
    x, y = sign.words_at
    if sign.upright_words or not turn_deg:
        return np.array([x, y])
    turn = np.radians(turn_deg)
    out = np.array([-np.sin(turn), np.cos(turn)]) * (y + sign.words_mm / 2.0)
    return out - [0.0, sign.words_mm / 2.0]


def ink(layer: str) -> float:
    """The grey of a layer, 0 black to 1 white."""
    return LAYERS[layer].ink

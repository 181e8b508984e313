"""How words and lengths are written on a drawing, and rows of dimensions that add up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np

from massing.present.drawings.items import Dimension
from massing.present.sheets.paper import font
from massing.units import INCH_M, format_feet_inches, whole_steps

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
    clear of the extension line on the one side where the next stretch, or the open, has room;
    where that place is taken, in the nearest row and place that are free.
    """
    places = sorted({figures.on_step(p) for p in places_m})
    feet = [float(foot)] * len(places) if isinstance(foot, (int, float)) else list(foot)
    made: list[Dimension] = []
    taken: dict[float, list[tuple[float, float]]] = {row: [] for row in _ROWS_MM}
    before = 0.0  # the row of the text before, 0 where that stands over its own stretch
    for i, (low, high) in enumerate(pairwise(places)):
        text = figures.text(high - low)
        wide = text_width_mm(text, text_mm) * mm_m
        text_at = None
        if wide > (high - low) - 1.0 * mm_m:
            move = _aside(places, i, wide + 1.6 * mm_m)
            raised = move != 0.0 or before != _ROWS_MM[0]
            rows = _ROWS_MM if raised else (_ROWS_MM[1], _ROWS_MM[0], *_ROWS_MM[2:])
            clear = wide + 1.2 * mm_m
            before, middle = _free(taken, rows, (low + high) / 2.0, move, clear)
            taken[before].append((middle - clear / 2.0, middle + clear / 2.0))
            out = before * mm_m
            text_at = (at - out, middle) if upright else (middle, at + out)
        else:
            before = 0.0
        a, b = (feet[i], low), (feet[i + 1], high)
        if not upright:
            a, b = (low, feet[i]), (high, feet[i + 1])
        made.append(Dimension(a, b, at, upright, text, text_at))
    return made


_ROWS_MM = (4.2, -3.4, 6.9, -6.1)  # of text that is too wide, over and under the dimension line


def _free(
    taken: dict[float, list[tuple[float, float]]],
    rows: Sequence[float],
    middle: float,
    move: float,
    wide: float,
) -> tuple[float, float]:
    """The row and place of text ``wide`` that is nearest to its own and not taken."""
    slides = sorted((k * 0.125 * wide for k in range(-8, 9)), key=abs)
    tried = [(row, middle + move) for row in rows]
    tried += [(row, middle + slide) for slide in slides for row in rows]
    for row, place in tried:
        low, high = place - wide / 2.0, place + wide / 2.0
        if all(high <= a or low >= b for a, b in taken[row]):
            return row, place
    return rows[0], middle + move


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

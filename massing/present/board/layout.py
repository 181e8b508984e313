"""Paper and its measures: sizes, standard scales, and how drawings of one size fill a page."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from massing.present.sheets.paper import ScaleBar, scale_bar
from massing.units import FOOT_M

# Width and height upright, millimetres: ISO 216, and ANSI/ASME Y14.1's A and B in inches.
PAPERS: dict[str, tuple[float, float]] = {
    "letter": (8.5 * 25.4, 11.0 * 25.4),
    "tabloid": (11.0 * 25.4, 17.0 * 25.4),
    "A4": (210.0, 297.0),
    "A3": (297.0, 420.0),
}

# Scales that the common scale rules carry, as inches to the foot and feet to the inch, and as
# plain ratios. Common practice, no source; the metric ones include ISO 5455's.
_INCHES_TO_THE_FOOT = {
    "1": 1.0, "3/4": 0.75, "1/2": 0.5, "3/8": 0.375, "1/4": 0.25, "3/16": 0.1875, "1/8": 0.125,
    "3/32": 0.09375, "1/16": 0.0625,
}  # fmt: skip
_FEET_TO_THE_INCH = (20, 30, 40, 50, 60, 100)
_METRIC = (20, 25, 50, 75, 100, 125, 200, 250, 500, 750, 1000)


@dataclass(frozen=True)
class Scale:
    """A printed scale.

    Attributes:
        ratio: how many times smaller than the house.
        words: as the trade writes it.
    """

    ratio: float
    words: str


def scales(units: str) -> tuple[Scale, ...]:
    """The standard scales, largest drawing first.

    >>> [s.words for s in scales("metric")][:3], scales("feet")[6]
    (['1:20', '1:25', '1:50'], Scale(ratio=96.0, words='1/8 in = 1 ft'))
    """
    if units == "metric":
        return tuple(Scale(float(n), f"1:{n}") for n in _METRIC)
    architects = [Scale(12.0 / v, f"{words} in = 1 ft") for words, v in _INCHES_TO_THE_FOOT.items()]
    engineers = [Scale(12.0 * n, f"1 in = {n} ft") for n in _FEET_TO_THE_INCH]
    return (*architects, *engineers)


def scale_within(
    width_m: float, height_m: float, width_mm: float, height_mm: float, units: str
) -> Scale:
    """The largest standard scale at which a drawing fits a place on paper.

    Where even the smallest is too large, a round ratio that fits.

    >>> scale_within(20.0, 10.0, 250.0, 150.0, "metric").words
    '1:100'
    """
    least = max(1000.0 * width_m / width_mm, 1000.0 * height_m / height_mm)
    fitting = [scale for scale in scales(units) if scale.ratio >= least * (1.0 - 1e-9)]
    if fitting:
        return fitting[0]
    ratio = 50.0 * math.ceil(least / 50.0)
    return Scale(ratio, f"1:{ratio:.0f}")


@dataclass(frozen=True)
class Page:
    """A sheet of paper lying on its side, and what stands where on it; millimetres.

    ``size`` is the larger paper's factor for type and margins.
    """

    name: str
    width_mm: float
    height_mm: float
    size: float

    @property
    def margin_mm(self) -> float:
        """Clear paper round everything."""
        return 11.0 * self.size

    @property
    def head_mm(self) -> float:
        """Height of a page's heading."""
        return 15.0 * self.size

    @property
    def foot_mm(self) -> float:
        """Height of the title block, with the space over it."""
        return 17.0 * self.size

    @property
    def gap_mm(self) -> float:
        """Between things that stand side by side."""
        return 6.0 * self.size

    @property
    def inner_mm(self) -> tuple[float, float]:
        """Width and height between heading and title block."""
        return (
            self.width_mm - 2.0 * self.margin_mm,
            self.height_mm - 2.0 * self.margin_mm - self.head_mm - self.foot_mm,
        )


def page(paper: str | None, units: str) -> Page:
    """The paper asked for, else letter for feet and A4 for metric.

    Raises:
        ValueError: no such paper.
    """
    name = paper or ("A4" if units == "metric" else "letter")
    if name not in PAPERS:
        raise ValueError(f"given {name}, allowed: {', '.join(PAPERS)}")
    short, long = PAPERS[name]
    return Page(name, long, short, 1.0 if long < 350.0 else 1.35)


@dataclass(frozen=True)
class Grid:
    """How drawings of one size stand on a page.

    Attributes:
        columns, rows: how many.
        scale: of all of them.
    """

    columns: int
    rows: int
    scale: Scale


def grid(
    count: int,
    drawing_m: tuple[float, float],
    place_mm: tuple[float, float],
    gap_mm: float,
    label_mm: float,
    units: str,
) -> Grid:
    """The grid in which ``count`` drawings come out largest; then that with the fewest gaps.

    Args:
        drawing_m: width and height on the house.
        place_mm: width and height on paper for all of them.
        label_mm: height that each takes for its name.

    >>> grid(4, (20.0, 10.0), (255.0, 156.0), 6.0, 10.0, "metric")
    Grid(columns=2, rows=2, scale=Scale(ratio=200.0, words='1:200'))
    """
    found = []
    for columns in range(1, count + 1):
        rows = math.ceil(count / columns)
        wide = (place_mm[0] - (columns - 1) * gap_mm) / columns
        tall = (place_mm[1] - (rows - 1) * gap_mm) / rows - label_mm
        if wide > 0.0 and tall > 0.0:
            scale = scale_within(*drawing_m, wide, tall, units)
            found.append(Grid(columns, rows, scale))
    return min(found, key=lambda g: (g.scale.ratio, g.columns * g.rows - count, g.rows))


def bar(longest_mm: float, scale: Scale, units: str) -> ScaleBar:
    """The longest round scale bar within a length on paper."""
    return scale_bar(longest_mm * scale.ratio / 1000.0, units)


def clock_ticks(first: float, last: float, most: int = 7) -> Sequence[int]:
    """Whole hours to mark between two, at most ``most`` of them.

    >>> list(clock_ticks(5.2, 20.6))
    [6, 9, 12, 15, 18]
    """
    step = next(s for s in (1, 2, 3, 4, 6, 12) if (last - first) / s < most)
    return range(step * math.ceil(first / step), math.floor(last) + 1, step)


def depth_ticks(deepest_m: float, units: str, most: int = 6) -> list[tuple[float, str]]:
    """Round depths to mark from nothing to ``deepest_m``, with their words.

    >>> [(round(depth, 4), words) for depth, words in depth_ticks(1.1, "feet")]
    [(0.0, '0'), (0.3048, '1 ft'), (0.6096, '2'), (0.9144, '3')]
    """
    unit_m, sign = (FOOT_M, "ft") if units == "feet" else (1.0, "m")
    steps = (0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 4.0)
    step = next((s for s in steps if deepest_m / (s * unit_m) <= most - 1), 8.0)
    count = math.floor(deepest_m / (step * unit_m) + 1e-9)
    return [
        (i * step * unit_m, f"{i * step:g}" + (f" {sign}" if i == 1 else ""))
        for i in range(count + 1)
    ]

"""Where the words of a sheet stand on its paper, and which of them run into one another."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from shapely.affinity import rotate

from massing.present.drawings.lettering import text_width_mm
from massing.present.drawings.marks import Words, marks
from massing.present.drawings.sheet import Sheet

TOUCH_MM = 0.15  # letters nearer than this are one word to the eye


@dataclass(frozen=True, eq=False)
class Place:
    """A line of words and the rectangle it takes, millimetres on the paper."""

    words: Words
    area: shapely.Polygon


def places(sheet: Sheet) -> list[Place]:
    """Every line of words on a sheet, where it is printed."""
    return [Place(w, _area(w)) for w in marks(sheet) if isinstance(w, Words) and w.text.strip()]


def _area(words: Words) -> shapely.Polygon:
    wide = text_width_mm(words.text, words.height_mm, words.face)
    x, y = words.at
    left = x - {"left": 0.0, "centre": 0.5, "right": 1.0}[words.anchor] * wide
    box = shapely.box(left, y, left + wide, y + words.height_mm)
    return rotate(box, words.turn_deg, origin=(x, y))


def overlaps(sheet: Sheet) -> list[tuple[str, str]]:
    """Pairs of words that stand over one another or touch."""
    found = places(sheet)
    areas = [p.area.buffer(TOUCH_MM / 2.0, join_style="mitre") for p in found]
    first, second = shapely.STRtree(areas).query(areas, predicate="intersects")
    pairs = [(i, j) for i, j in zip(first, second, strict=True) if i < j]
    return [
        (found[i].words.text, found[j].words.text)
        for i, j in pairs
        if areas[i].intersection(areas[j]).area > TOUCH_MM**2
    ]


def outside(sheet: Sheet) -> list[str]:
    """Words that reach beyond the paper's border."""
    border = shapely.box(20.0, 10.0, sheet.paper_mm[0] - 10.0, sheet.paper_mm[1] - 10.0)
    return [p.words.text for p in places(sheet) if not border.covers(p.area)]


def without_lines(monkeypatch: Any) -> None:
    """Sheets are drawn with all their words and dimensions and without what takes time to draw."""
    from massing.present.drawings import cuts, elevations

    def no_lines(*_: Any, **__: Any) -> Any:
        from massing.view.hidden_lines import Lines

        none = np.zeros(0, dtype=int)
        return Lines(np.zeros((0, 2, 2)), none, none)

    def no_regions(*_: Any, **__: Any) -> list[dict[int, Any]]:
        return [{}, {}, {}]

    monkeypatch.setattr(elevations, "visible_lines", no_lines)
    monkeypatch.setattr(elevations, "regions", no_regions)
    monkeypatch.setattr(cuts, "visible_lines", no_lines)

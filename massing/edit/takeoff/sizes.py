"""Fields of the scene from the answers of a take-off, each rounded to what was likely meant.

A line that was found in the picture is known to a quarter of a pixel, one that only a hand
pointed at to a whole one (both measured on line drawings; see the tests). A size between two is
as unsure as both together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import hypot
from typing import Any

from massing.design.design import Design
from massing.edit.takeoff.likely import likely, likely_pitch, likely_text
from massing.edit.takeoff.questions import MOST_ROWS
from massing.edit.takeoff.takeoff import Mark, TakeOff
from massing.scene.edit import FieldPath
from massing.units import INCH_M, format_length

FOUND_PX, POINTED_PX = 0.25, 1.0
SAME_LINE_M = INCH_M  # common practice, no source: lines nearer than this were meant as one
_LEVEL_PX = 4.0  # a ridge that begins so near over the eaves' end is a gable's


@dataclass(frozen=True)
class Reading:
    """One size as it was measured.

    Attributes:
        key: the question that it answers.
        field: the scene's field.
        words: what it is called.
        measured_m: before it was rounded; None for what is no length.
        written: as the scene has it.
    """

    key: str
    field: FieldPath
    words: str
    measured_m: float | None
    written: str


@dataclass
class Sizes:
    """What a take-off has come to.

    Attributes:
        changes: values by field path, as a scene would have them; None leaves one to its rule.
        readings: each size that was measured.
        said: what does not go into a field, in sentences.
    """

    changes: dict[FieldPath, Any] = field(default_factory=dict)
    readings: list[Reading] = field(default_factory=list)
    said: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Front:
    """Where the front lies in the picture: metres from pixels."""

    metres_per_pixel: float
    middle_px: float
    ground_px: float

    def along(self, x_px: float) -> float:
        """Right of the front's middle."""
        return (x_px - self.middle_px) * self.metres_per_pixel

    def above(self, y_px: float) -> float:
        """Above the ground."""
        return (self.ground_px - y_px) * self.metres_per_pixel

    def pixel(self, along_m: float, above_m: float) -> tuple[float, float]:
        """Right and down in the picture."""
        return (
            self.middle_px + along_m / self.metres_per_pixel,
            self.ground_px - above_m / self.metres_per_pixel,
        )


def front_of(off: TakeOff) -> Front | None:
    """Where the front lies, once ground and corners are known."""
    ground, corners = off.marks.get("ground", ()), off.marks.get("corners", ())
    if not ground or len(corners) < 2:
        return None
    return Front(off.metres_per_pixel, (corners[0].x + corners[1].x) / 2.0, ground[0].y)


def sizes(off: TakeOff, design: Design) -> Sizes:
    """The fields that the answers so far give.

    Args:
        off: the take-off.
        design: the design as it stands; what a front does not show is taken from it.
    """
    return _Measuring(off, design).made()


class _Measuring:
    """One pass over the answers."""

    def __init__(self, off: TakeOff, design: Design) -> None:
        self.off, self.design, self.units = off, design, design.units
        self.scale = off.metres_per_pixel
        self.found = Sizes()

    def made(self) -> Sizes:
        self._floor()
        self._width()
        self._storeys()
        self._roof()
        self._columns()
        self._entablature()
        self._windows()
        self._bays()
        self._door()
        return self.found

    # --- measuring ----------------------------------------------------------------------------

    def marks(self, key: str, count: int = 1) -> Sequence[Mark]:
        """The answer to a question, empty while it is not whole."""
        found = self.off.marks.get(key, ())
        return found if len(found) >= count else ()

    def up(self, low: Mark, high: Mark) -> tuple[float, float]:
        """From one mark up to another, and how unsure that is; metres."""
        return (low.y - high.y) * self.scale, self._unsure(low.on_y, high.on_y)

    def across(self, left: Mark, right: Mark) -> tuple[float, float]:
        """Between two marks, and how unsure that is; metres."""
        return abs(right.x - left.x) * self.scale, self._unsure(left.on_x, right.on_x)

    def _unsure(self, *found: bool) -> float:
        return hypot(*(FOUND_PX if each else POINTED_PX for each in found)) * self.scale

    def put(
        self, key: str, path: FieldPath, words: str, measured_m: float, unsure_m: float
    ) -> float:
        """Put a length into its field; the size as written, metres."""
        if measured_m <= 0.0:
            self.found.said.append(f"the {words} comes out as nothing: click them again")
            return 0.0
        written = likely_text(measured_m, unsure_m, self.units)
        self.found.changes[path] = written
        self.found.readings.append(Reading(key, path, words, measured_m, written))
        return likely(measured_m, unsure_m, self.units)

    # --- the house ------------------------------------------------------------------------------

    def _floor(self) -> None:
        if (ground := self.marks("ground")) and (floor := self.marks("floor")):
            self.put("floor", ("house", "floor"), "lowest floor", *self.up(ground[0], floor[0]))

    def _width(self) -> None:
        if corners := self.marks("corners", 2):
            self.put("corners", ("house", "width"), "width", *self.across(*corners[:2]))

    def _levels(self) -> list[Mark]:
        """The lines of the floors, from the lowest, as they are drawn or as the sills tell."""
        floor = self.marks("floor")
        if not floor:
            return []
        drawn = sorted(self.marks("storeys"), key=lambda mark: -mark.y)
        if drawn:
            return [floor[0], *drawn]
        rows = self._rows()
        rise = [rows[0][1].y - row[1].y for row in rows[1:]] if rows else []
        return [floor[0], *(Mark(0.0, floor[0].y - up, True, True) for up in rise if up > 0.0)]

    def _storeys(self) -> None:
        eaves, levels = self.marks("eaves"), self._levels()
        if not eaves or not levels:
            return
        told = len(levels) > 1 or "window 1" in self.off.marks
        if not told:  # until windows or floors are known
            count = len(self.design.house.storey_floors_z_m)
            rise = (levels[0].y - eaves[0].y) / count
            levels = [Mark(0.0, levels[0].y - i * rise, True, True) for i in range(count)]
        heights = [self.up(low, high) for low, high in pairwise([*levels, eaves[0]])]
        if min(height_m for height_m, _ in heights) <= 0.0:
            self.found.said.append("the floors do not lie over one another: click them again")
            return
        total_m, unsure_m = self.up(levels[0], eaves[0])
        rounded = self._summing(heights, likely(total_m, unsure_m, self.units))
        texts = [format_length(height_m, self.units) for height_m in rounded]
        for number, ((height_m, _), text) in enumerate(zip(heights, texts, strict=True)):
            path: FieldPath = ("house", "storeys", number)
            self.found.readings.append(
                Reading("storeys", path, f"storey {number + 1}", height_m, text)
            )
        self.found.changes["house", "storeys"] = texts

    def _summing(self, heights: Sequence[tuple[float, float]], total_m: float) -> list[float]:
        """Likely heights; where another of one makes their sum the likely total, that other."""
        rounded = [likely(height_m, unsure_m, self.units) for height_m, unsure_m in heights]
        short_m = total_m - sum(rounded)
        misses = [
            abs(one + short_m - height_m)
            for one, (height_m, _) in zip(rounded, heights, strict=True)
        ]
        best = misses.index(min(misses))
        if misses[best] <= 1.5 * heights[best][1]:
            rounded[best] += short_m
        return rounded

    def _roof(self) -> None:
        marks = self.marks("ridge", 2)
        if not marks:
            return
        foot, end = marks[:2]
        rise, run = foot.y - end.y, abs(end.x - foot.x)
        if rise <= _LEVEL_PX:
            self.found.said.append("the ridge does not lie over the eaves: click it again")
            return
        form = self.design.roof.form
        if run <= max(_LEVEL_PX, 0.02 * rise):
            run = 0.5 * self.design.house.depth_m / self.scale
            if form not in ("gable", "gambrel"):
                self.found.changes["roof", "form"] = "gable"
        elif form in ("gable", "gambrel"):
            self.found.changes["roof", "form"] = "hip"
        slope = rise / run
        px = POINTED_PX if not (foot.on_x and end.on_x) else FOUND_PX
        text = likely_pitch(slope, slope * hypot(FOUND_PX / rise, px / run) * 2.0, self.units)
        self.found.changes["roof", "pitch"] = text
        self.found.readings.append(Reading("ridge", ("roof", "pitch"), "pitch", None, text))

    # --- the porch ------------------------------------------------------------------------------

    def _columns(self) -> None:
        pair = self.marks("column", 2)
        if not pair:
            return
        self.put("column", ("porch", "diameter"), "width", *self.across(*pair[:2]))
        if "axes" not in self.off.marks:
            return
        first = Mark((pair[0].x + pair[1].x) / 2.0, pair[0].y, pair[0].on_x and pair[1].on_x, True)
        axes = sorted([first, *self.off.marks["axes"]], key=lambda mark: mark.x)
        count = len(axes)
        if count < 2:
            self.found.said.append("a porch has two columns or more")
            return
        self.found.changes["porch", "columns"] = count
        self.found.readings.append(
            Reading("axes", ("porch", "columns"), "columns", None, str(count))
        )
        gaps = [self.across(a, b) for a, b in pairwise(axes)]
        unsure_m = max(unsure for _, unsure in gaps)
        self._spacing(axes, [gap for gap, _ in gaps], unsure_m)
        corners = self.marks("corners", 2)
        if corners:
            off_m = (axes[0].x + axes[-1].x - corners[0].x - corners[1].x) / 2.0 * self.scale
            if abs(off_m) > max(2.0 * unsure_m, SAME_LINE_M):
                written = likely_text(abs(off_m), unsure_m, self.units)
                along = written if off_m > 0.0 else f"-{written}"
                self.found.changes["porch", "along"] = along
                path: FieldPath = ("porch", "along")
                self.found.readings.append(Reading("axes", path, "porch's middle", off_m, along))
                side = "right" if off_m > 0.0 else "left"
                self.found.said.append(
                    f"the porch is drawn {format_length(abs(off_m), self.units)} to the {side} of "
                    "the front's middle, and stands so here"
                )

    def _spacing(self, axes: Sequence[Mark], gaps: Sequence[float], unsure_m: float) -> None:
        mean = sum(gaps) / len(gaps)
        apart = max(abs(gap - mean) for gap in gaps)
        even = apart <= max(2.0 * unsure_m, SAME_LINE_M / 2.0)
        path: FieldPath = ("porch", "spacing")
        if even or len(gaps) < 3 or len(gaps) % 2 == 0:
            self.put("axes", path, "spacing", mean, unsure_m / len(gaps))
            self.found.changes["porch", "centre_spacing"] = None
            if not even:
                self.found.said.append(
                    "the columns are drawn at unequal spacings; here they have the mean of them"
                )
            return
        middle = gaps[len(gaps) // 2]
        others = [gap for i, gap in enumerate(gaps) if i != len(gaps) // 2]
        self.put("axes", path, "spacing", sum(others) / len(others), unsure_m)
        self.put("axes", ("porch", "centre_spacing"), "middle spacing", middle, unsure_m)

    def _entablature(self) -> None:
        pair = self.marks("entablature", 2)
        if not pair:
            return
        foot, top = sorted(pair[:2], key=lambda mark: -mark.y)
        eaves, floor = self.marks("eaves"), self.marks("floor")
        near_px = max(SAME_LINE_M / self.scale, 1.5)
        if eaves and abs(top.y - eaves[0].y) <= near_px:
            top = eaves[0]
            self.found.changes["porch", "height"] = "eaves"
        elif floor:
            drop_m = self.design.house.floor_z_m - self.design.porch.floor_z_m
            up_m, unsure_m = self.up(floor[0], top)
            self.put("entablature", ("porch", "height"), "porch's height", up_m + drop_m, unsure_m)
        self.put("entablature", ("porch", "entablature"), "entablature", *self.up(foot, top))

    # --- windows and door -------------------------------------------------------------------------

    def _rows(self) -> list[tuple[Mark, Mark, Mark, Mark]]:
        """Of each row its left, foot, right and head, as marks; from the lowest row."""
        rows = []
        for number in range(1, MOST_ROWS + 1):
            pair = self.marks(f"window {number}", 2)
            if pair:
                left, right = sorted(pair[:2], key=lambda mark: mark.x)
                foot, head = sorted(pair[:2], key=lambda mark: -mark.y)
                rows.append((left, foot, right, head))
        return sorted(rows, key=lambda row: -row[1].y)

    def _windows(self) -> None:
        levels, rows = self._levels(), self._rows()
        widths = self._alike([self.across(left, right) for left, _, right, _ in rows])
        heights = self._alike([self.up(foot, head) for _, foot, _, head in rows])
        for number, (_, foot, _, _) in enumerate(rows):
            at: FieldPath = ("house", "windows", number)
            key = f"window {number + 1}"
            self.put(key, (*at, "width"), "width", *widths[number])
            self.put(key, (*at, "height"), "height", *heights[number])
            if number < len(levels):
                sill_m, unsure_m = self.up(levels[number], foot)
                if sill_m > SAME_LINE_M:
                    self.put(key, (*at, "sill"), "sill", sill_m, unsure_m)
                else:
                    self.found.changes[(*at, "sill")] = format_length(0.0, self.units)

    def _alike(self, rows: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
        """Sizes of which those that may be one are taken as one: windows come in few sizes."""
        found = []
        for size_m, unsure_m in rows:
            same = [other for other, _ in rows if abs(other - size_m) <= 1.5 * unsure_m]
            found.append((sum(same) / len(same), unsure_m))
        return found

    def _bays(self) -> None:
        corners, rows = self.marks("corners", 2), self._rows()
        last = len(rows) and f"others {len(rows)}" in self.off.marks
        if not corners or not rows or not last:
            return
        middle_px = (corners[0].x + corners[1].x) / 2.0
        centres = [(left.x + right.x) / 2.0 for left, _, right, _ in rows]
        for number in range(1, MOST_ROWS + 1):
            centres += [mark.x for mark in self.marks(f"others {number}")]
        if door := self.marks("door", 2):
            centres.append((door[0].x + door[1].x) / 2.0)
        wide_px = min(right.x - left.x for left, _, right, _ in rows)
        bays: list[list[float]] = []
        for x in sorted(centres):
            if bays and x - bays[-1][-1] < wide_px / 2.0:
                bays[-1].append(x)
            else:
                bays.append([x])
        at_m = [(sum(each) / len(each) - middle_px) * self.scale for each in bays]
        count = len(at_m)
        self.found.changes["house", "bays"] = count
        self.found.readings.append(Reading("bays", ("house", "bays"), "bays", None, str(count)))
        self._bay_spacing(at_m, abs(corners[1].x - corners[0].x) * self.scale)

    def _bay_spacing(self, at_m: Sequence[float], width_m: float) -> None:
        count, unsure_m = len(at_m), self._unsure(True, True)
        if count == 1:
            return
        mean = (at_m[-1] - at_m[0]) / (count - 1)
        even = all(
            abs(x - (i - (count - 1) / 2.0) * mean) <= max(2.0 * unsure_m, SAME_LINE_M)
            for i, x in enumerate(at_m)
        )
        if not even:
            self.found.changes["house", "bay_centres"] = [
                likely_text(x, 2.0 * unsure_m, self.units) for x in at_m
            ]
            return
        self.found.changes["house", "bay_centres"] = None
        if abs(mean - width_m / count) <= unsure_m:
            self.found.changes["house", "bay_spacing"] = None  # the rule's own, of the width
            written = format_length(width_m / count, self.units)
            path: FieldPath = ("house", "bay_spacing")
            self.found.readings.append(Reading("bays", path, "bays' spacing", mean, written))
        else:
            apart_m = unsure_m / (count - 1)
            self.put("bays", ("house", "bay_spacing"), "bays' spacing", mean, apart_m)

    def _door(self) -> None:
        pair = self.marks("door", 2)
        if not pair:
            return
        foot, head = sorted(pair[:2], key=lambda mark: -mark.y)
        floor = self.marks("floor")
        if floor and abs(floor[0].y - foot.y) * self.scale <= 3.0 * SAME_LINE_M:
            foot = floor[0]  # a leaf stands on its floor, whatever line of the threshold was met
        self.put("door", ("house", "door", "width"), "width", *self.across(*pair[:2]))
        self.put("door", ("house", "door", "height"), "height", *self.up(foot, head))

"""How far the model's lines stand from those that were clicked on the builder's drawing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from massing.design.design import Design
from massing.edit.takeoff.questions import BY_KEY, MOST_ROWS
from massing.edit.takeoff.sizes import Front, front_of
from massing.edit.takeoff.takeoff import TakeOff
from massing.units import format_length

NEGLIGIBLE_M = 0.0008  # half of a sixteenth of an inch
SLIGHT_M = 0.006  # a quarter of an inch: common practice, no source


@dataclass(frozen=True)
class Deviation:
    """One line of the model beside the line that was clicked.

    Attributes:
        key: the question.
        words: what it is called.
        way: ``x`` or ``z``, the way in which it can be off.
        clicked_px, model_px: where the two stand along that way in the picture.
        low_px, high_px: the ends of the model's line across its way, in the picture.
        miss_m: how much further right, or up, the model's line is.
    """

    key: str
    words: str
    way: Literal["x", "z"]
    clicked_px: float
    model_px: float
    low_px: float
    high_px: float
    miss_m: float

    @property
    def slight(self) -> bool:
        """Whether nobody would ask a builder about it."""
        return abs(self.miss_m) < SLIGHT_M

    def written(self, units: str) -> str:
        """How far off, and which way, in words.

        >>> Deviation("eaves", "eaves", "z", 10.0, 9.0, 0.0, 5.0, 0.0127).written("feet")
        '1/2" high'
        """
        if abs(self.miss_m) < NEGLIGIBLE_M:
            return "agrees"
        ways = ("high", "low") if self.way == "z" else ("right", "left")
        text = format_length(abs(self.miss_m), units).removeprefix("0'-0 ").removeprefix("0'-")
        return f"{text} {ways[self.miss_m < 0.0]}"


def deviations(off: TakeOff, design: Design) -> list[Deviation]:
    """Every line that was clicked and that the model has too; none before ground and corners."""
    front = front_of(off)
    return [] if front is None else list(_Compared(off, design, front).lines())


class _Compared:
    def __init__(self, off: TakeOff, design: Design, front: Front) -> None:
        self.off, self.design, self.front = off, design, front

    def lines(self) -> Iterator[Deviation]:
        house, porch = self.design.house, self.design.porch
        half = house.width_m / 2.0
        floors = house.storey_floors_z_m
        yield from self._across("ground", 0, 0.0, (-half, half))
        yield from self._across("floor", 0, floors[0], (-half, half))
        for i, x in enumerate((-half, half)):
            yield from self._upright("corners", i, x, (0.0, house.wall_top_z_m))
        for i, floor_z in enumerate(floors[1:]):
            yield from self._across("storeys", i, floor_z, (-half, half))
        yield from self._across("eaves", 0, house.wall_top_z_m, (-half, half))
        order, axes = porch.order, porch.axes_m
        shaft = porch.column_top_z_m - order.column_height_m, porch.column_top_z_m
        for i, side in enumerate((-0.5, 0.5)):
            yield from self._upright("column", i, axes[0] + side * order.diameter_m, shaft)
        for i, x in enumerate(axes[1:]):
            yield from self._upright("axes", i, x, shaft)
        across = porch.frieze_x_m
        yield from self._across("entablature", 0, porch.column_top_z_m, across)
        yield from self._across("entablature", 1, porch.top_z_m, across)
        yield from self._openings()

    def _openings(self) -> Iterator[Deviation]:
        house = self.design.house
        front = [o for o in house.windows if o.wall == "front" and o.wing is None]
        for row in range(MOST_ROWS):
            key = f"window {row + 1}"
            marks = self.off.marks.get(key, ())
            windows = [o for o in front if o.storey == row]
            if len(marks) < 2 or not windows:
                continue
            x = self.front.along((marks[0].x + marks[1].x) / 2.0)
            one = min(windows, key=lambda o: abs(o.along_m - x))
            yield from self._box(key, one.along_m, one.width_m, one.sill_z_m, one.head_z_m)
        door = house.entrance
        if len(self.off.marks.get("door", ())) >= 2 and door is not None:
            top_z = door.sill_z_m + door.leaf_height_m
            yield from self._box("door", door.along_m, door.leaf_width_m, door.sill_z_m, top_z)

    def _box(
        self, key: str, x: float, width_m: float, low_z: float, high_z: float
    ) -> Iterator[Deviation]:
        marks = self.off.marks[key]
        left_first = marks[0].x <= marks[1].x
        low_first = marks[0].y >= marks[1].y
        sides = x - width_m / 2.0, x + width_m / 2.0
        for i in (0, 1):
            side = sides[i if left_first else 1 - i]
            level = (low_z, high_z)[i if low_first else 1 - i]
            yield from self._upright(key, i, side, (low_z, high_z))
            yield from self._across(key, i, level, sides)

    def _across(
        self, key: str, index: int, z: float, ends_m: tuple[float, float]
    ) -> Iterator[Deviation]:
        marks = self.off.marks.get(key, ())
        if key in ("storeys", "entablature"):
            marks = tuple(sorted(marks, key=lambda mark: -mark.y))
        if index >= len(marks):
            return
        mark = marks[index]
        (low, at), (high, _) = (self.front.pixel(x, z) for x in ends_m)
        miss = z - self.front.above(mark.y)
        yield Deviation(key, self._words(key), "z", mark.y, at, low, high, miss)

    def _upright(
        self, key: str, index: int, x: float, ends_m: tuple[float, float]
    ) -> Iterator[Deviation]:
        marks = self.off.marks.get(key, ())
        if key in ("corners", "column", "axes"):
            marks = tuple(sorted(marks, key=lambda mark: mark.x))
        if index >= len(marks):
            return
        mark = marks[index]
        (at, low), (_, high) = (self.front.pixel(x, z) for z in ends_m)
        miss = x - self.front.along(mark.x)
        yield Deviation(key, self._words(key), "x", mark.x, at, low, high, miss)

    def _words(self, key: str) -> str:
        return BY_KEY[key].words

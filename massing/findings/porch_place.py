"""Where the porch stands on the front: at which bay, and what stands behind its middle."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from massing.design.design import Design
from massing.findings.figure import Row
from massing.findings.finding import Remarks, Saying
from massing.units import INCH_M, format_length

SEEN_M = 2.0 * INCH_M  # two middles so near are seen as one: common practice, no source
_ROW = 4  # bays from which on a front reads as a row about its middle: common practice, no source


def places_m(design: Design) -> list[float]:
    """Where a porch's middle answers to the wall: its bays, and the middles between them."""
    bays = design.house.bay_centres_m
    return sorted([*bays, *((a + b) / 2.0 for a, b in pairwise(bays))])


def off_centre_m(design: Design) -> float | None:
    """How far the porch's middle is from the front's; None of one that stands there."""
    return abs(design.porch.centre_m) or None


def _side(design: Design) -> str:
    side = "right" if design.porch.centre_m > 0.0 else "left"
    return f"to the {side} of the front's"


FIGURES = (
    Row("porch_off_centre", "Porch's middle off the front's", "length", _side, off_centre_m),
)

remark = Remarks()


@remark("porch off the bays", "check", source="practice")
def off_the_bays(design: Design) -> Iterator[Saying]:
    """An off-centre porch whose middle matches no bay and no middle between two."""
    porch, units = design.porch, design.units
    if not porch.centre_m:
        return
    nearest = min(places_m(design), key=porch.from_middle_m, default=0.0)
    off = porch.from_middle_m(nearest)
    if off > SEEN_M:
        yield (
            f"The porch's middle stands {format_length(abs(porch.centre_m), units)} "
            f"{_side(design)} and matches no bay, nor the middle between two: the nearest is "
            f"{format_length(off, units)} away, so that columns and openings fall out of step"
        )


@remark("porch off centre", "note", source="practice")
def off_centre(design: Design) -> Iterator[Saying]:
    """A porch beside the middle of a front that is alike to both sides of it."""
    bays, porch = design.house.bay_centres_m, design.porch
    if not porch.centre_m or len(bays) < _ROW:
        return
    if all(abs(a + b) < SEEN_M for a, b in zip(bays, reversed(bays), strict=True)):
        yield (
            f"The front's {len(bays)} bays stand alike to both sides of its middle and the porch "
            f"does not: it is {format_length(abs(porch.centre_m), design.units)} {_side(design)}"
        )


@remark("door off the porch", "check", source="practice")
def door_off_the_porch(design: Design) -> Iterator[Saying]:
    """An entrance that is not where the porch's steps lead."""
    porch, units, door = design.porch, design.units, design.house.entrance
    if door is None:
        return
    off = porch.from_middle_m(door.along_m)
    if off + door.width_m / 2.0 > porch.end_axis_m:
        yield (
            f"The entrance stands {format_length(off, units)} from the porch's middle, beside "
            "its columns: the porch shelters wall and not the door"
        )
    elif off > SEEN_M:
        yield (
            f"The entrance stands {format_length(off, units)} from the porch's middle, so that "
            "the steps lead past it"
        )

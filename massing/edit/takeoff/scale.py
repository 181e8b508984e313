"""How long a pixel of a picture is, from lengths that are known in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

LEAST_PX = 10.0  # ends nearer one another give no scale
Point = tuple[float, float]


@dataclass(frozen=True)
class Known:
    """A length that is known between two points of a picture, right and down in pixels."""

    start: Point
    end: Point
    length_m: float

    @property
    def pixels(self) -> float:
        """How long it is in the picture."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])


@dataclass(frozen=True)
class Scale:
    """A picture's scale, and how far each known length is off by it: longer is more."""

    metres_per_pixel: float
    misses_m: tuple[float, ...]


def scale_of(known: Sequence[Known]) -> Scale:
    """The scale by which known lengths are off the least, the long ones counting most.

    Raises:
        ValueError: none is known, or one that gives no scale.

    >>> scale_of([Known((0, 0), (300, 400), 10.0)])
    Scale(metres_per_pixel=0.02, misses_m=(0.0,))
    >>> both = scale_of([Known((0, 0), (100, 0), 1.0), Known((0, 0), (0, 100), 1.02)])
    >>> round(both.metres_per_pixel, 6), [round(m, 4) for m in both.misses_m]
    (0.0101, [0.01, -0.01])
    """
    if not known:
        raise ValueError("given no length, allowed: one known length or more")
    for each in known:
        if not each.length_m > 0.0:
            raise ValueError("given a length of nothing, allowed: a length over 0")
        if each.pixels < LEAST_PX:
            raise ValueError(
                f"given points {each.pixels:.0f} pixels apart, allowed: {LEAST_PX:.0f} or more"
            )
    scale = sum(k.pixels * k.length_m for k in known) / sum(k.pixels**2 for k in known)
    return Scale(scale, tuple(scale * k.pixels - k.length_m for k in known))

"""The line or corner of a picture that a click meant, found with numpy alone.

Lines of a drawing run across and upright once a photograph is straightened, so that a line is a
dark (or light) ridge, or a step, in the mean of a narrow band beside the click; its middle is
found to a fraction of a pixel. A corner of slanting lines is the point to which the brightness
falls square on all sides (Förstner and Gülch, "A fast operator for detection and precise
location of distinct points, corners and centres of circular features", 1987).

Places are right and down from the picture's upper left corner; a pixel's middle is at a half.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image

Floats = NDArray[np.float64]

LEAST_CONTRAST = 14.0  # of 255, in the mean of a band
_CLEAR = 60.0  # no line is worth more for being darker than this
BAND_PX = 14  # along a line, to either side of the click
_RIDGE_PX = 3  # half the width that a drawn line has at the most
_CORNER_PX = 6
_ALIKE = 0.7  # correlation from which another is one like what was drawn
_NEARLY = 0.4  # where a hand has pointed at it


@dataclass(frozen=True)
class Snap:
    """Where a click came to, and whether a line was found along each way."""

    x: float
    y: float
    on_x: bool
    on_y: bool


class Picture:
    """A picture to snap in: its brightness ``(height, width)``, 0 to 255."""

    def __init__(self, image: Image.Image) -> None:
        self.grey: Floats = np.asarray(image.convert("L"), dtype=np.float64)
        # for likenesses: a line between two pixels is like one on a pixel
        wider = np.pad(self.grey, ((0, 0), (1, 1)), mode="edge")
        self._soft: Floats = (wider[:, :-2] + 2.0 * self.grey + wider[:, 2:]) / 4.0

    def snap(self, x: float, y: float, radius_px: float) -> Snap:
        """The line across, the line upright, or the corner, that is nearest within a radius."""
        radius_px = max(radius_px, 1.5)
        found_x = self._line(self.grey, x, y, radius_px)
        found_y = self._line(self.grey.T, y, x, radius_px)
        if found_x is not None and found_y is not None:
            return Snap(found_x, found_y, True, True)
        corner = self._corner(x, y, radius_px)
        if corner is not None:
            return Snap(*corner, True, True)
        return Snap(
            x if found_x is None else found_x,
            y if found_y is None else found_y,
            found_x is not None,
            found_y is not None,
        )

    def _line(self, grey: Floats, at: float, along: float, radius_px: float) -> float | None:
        """The upright line of a brightness nearest to column ``at`` beside row ``along``."""
        rows, columns = grey.shape
        reach = int(np.ceil(radius_px)) + 2 * _RIDGE_PX + 1
        first = max(0, int(at) - reach)
        last = min(columns, int(at) + reach + 1)
        middle = int(np.clip(along, 0, rows - 1))
        bands = [
            (middle - BAND_PX, middle - 2),
            (middle + 3, middle + BAND_PX + 1),
            (middle - BAND_PX // 2, middle + BAND_PX // 2 + 1),
        ]
        best: tuple[float, float] | None = None
        for low, high in bands:
            low, high = max(0, low), min(rows, high)
            if high - low < 4 or last - first < 2 * _RIDGE_PX + 3:
                continue
            band = grey[low:high, first:last]
            half = (high - low) // 2
            halves = [_marks(part.mean(axis=0)) for part in (band[:half], band[half:])]
            for place, strength in _marks(band.mean(axis=0)):
                away = abs(first + place - at)
                straight = all(any(abs(p - place) <= 1.0 for p, _ in part) for part in halves)
                if away <= radius_px and straight:
                    worth = min(strength, _CLEAR) * (1.0 - 0.9 * away / radius_px)
                    if best is None or worth > best[0]:
                        best = worth, first + place
        return None if best is None else best[1]

    def _corner(self, x: float, y: float, radius_px: float) -> tuple[float, float] | None:
        rows, columns = self.grey.shape
        px, py = x, y
        for _ in range(3):
            left, top = int(px) - _CORNER_PX, int(py) - _CORNER_PX
            right, foot = left + 2 * _CORNER_PX + 1, top + 2 * _CORNER_PX + 1
            if left < 0 or top < 0 or right > columns or foot > rows:
                return None
            gy, gx = np.gradient(self.grey[top:foot, left:right])
            ys, xs = np.mgrid[top:foot, left:right] + 0.5
            tensor = np.array([[(gx * gx).sum(), (gx * gy).sum()], [0.0, (gy * gy).sum()]])
            tensor[1, 0] = tensor[0, 1]
            small, large = np.linalg.eigvalsh(tensor)
            if small < (2.0 * LEAST_CONTRAST) ** 2 or small < 0.12 * large:
                return None
            pull = np.array(
                [
                    (gx * gx * xs + gx * gy * ys).sum(),
                    (gx * gy * xs + gy * gy * ys).sum(),
                ]
            )
            px, py = (float(v) for v in np.linalg.solve(tensor, pull))
            if np.hypot(px - x, py - y) > radius_px:
                return None
        return px, py

    # --- others like it ---------------------------------------------------------------------

    def likenesses(self, box: tuple[float, float, float, float]) -> Floats:
        """How alike a box is to the same rows at every place along them.

        Args:
            box: left, top, right, foot.

        Returns:
            Correlations, -1 to 1, by how many whole pixels the box's left edge stands at; empty
            where the box is not within the picture.
        """
        left, top, right, foot = (round(v) for v in box)
        rows, columns = self.grey.shape
        left, top, right, foot = max(left, 0), max(top, 0), min(right, columns), min(foot, rows)
        if right - left < 3 or foot - top < 3:
            return np.zeros(0)
        patch, strip = self._soft[top:foot, left:right], self._soft[top:foot]
        own = patch - patch.mean()
        spectrum = np.fft.rfft(strip, axis=1) * np.conj(np.fft.rfft(own, n=columns, axis=1))
        met = np.fft.irfft(spectrum.sum(axis=0), n=columns)[: columns - (right - left) + 1]
        sums = [
            np.concatenate([[0.0], np.cumsum(values.sum(axis=0))]) for values in (strip, strip**2)
        ]
        total, squared = (s[right - left :] - s[: len(met)] for s in sums)
        spread = np.maximum(squared - total**2 / patch.size, 1e-9)
        return met / np.sqrt(spread * max((own**2).sum(), 1e-9))

    def repeats(self, box: tuple[float, float, float, float]) -> list[float]:
        """Middles of others like what stands in a box, on the same rows, left to right.

        The box itself is not among them.
        """
        alike = self.likenesses(box)
        wide = box[2] - box[0]
        found: list[float] = []
        for shift in sorted(np.flatnonzero(alike >= _ALIKE), key=lambda i: -alike[i]):
            middle, both = self._refined(box, float(shift) - round(max(box[0], 0)))
            if not both:
                continue
            apart = (abs(middle - other) for other in [*found, (box[0] + box[2]) / 2.0])
            if min(apart) > 0.75 * wide:
                found.append(middle)
        return sorted(found)

    def one_at(self, box: tuple[float, float, float, float], x: float) -> float:
        """The middle of the one like what stands in a box, at which a hand pointed at ``x``."""
        alike = self.likenesses(box)
        wide = box[2] - box[0]
        start = round(max(box[0], 0))
        shifts = np.arange(len(alike)) - start
        near = np.abs(shifts + (box[0] + box[2]) / 2.0 - x) <= max(wide / 2.0, 4.0)
        if not near.any() or alike[near].max() < _NEARLY:
            return x
        best = int(np.flatnonzero(near)[np.argmax(alike[near])])
        return self._refined(box, float(best - start))[0]

    def _refined(self, box: tuple[float, float, float, float], shift: float) -> tuple[float, bool]:
        """The middle of a box moved along, its edges on the lines nearest to them; both found?"""
        middle = (box[1] + box[3]) / 2.0
        edges = [self._line(self.grey, edge + shift, middle, 2.5) for edge in (box[0], box[2])]
        moved = [
            edge + shift if snapped is None else snapped
            for edge, snapped in zip((box[0], box[2]), edges, strict=True)
        ]
        return (moved[0] + moved[1]) / 2.0, None not in edges


def _marks(profile: Floats) -> list[tuple[float, float]]:
    """Ridges and steps of a profile: where each is, to a part of a step, and how strong."""
    k = _RIDGE_PX
    inner = np.arange(k, len(profile) - k)
    if not len(inner):
        return []
    ridge = np.zeros_like(profile)
    sides = np.stack([profile[inner - k], profile[inner + k]])
    both = np.sign(profile[inner] - sides[0]) == np.sign(profile[inner] - sides[1])
    ridge[inner] = np.where(both, np.abs(profile[inner] - sides).min(axis=0), 0.0)
    step = np.zeros_like(profile)
    step[1:-1] = np.abs(profile[2:] - profile[:-2])
    ridges = [(_centroid(_over_its_sides(profile, i), i), ridge[i]) for i in _peaks(ridge)]
    steps = [
        (_centroid(step, i), step[i])
        for i in _peaks(step)
        if ridge[max(0, i - k) : i + k + 1].max() < 0.6 * step[i]
    ]
    return [(place, float(strength)) for place, strength in (*ridges, *steps)]


def _over_its_sides(profile: Floats, at: int) -> Floats:
    """How far a ridge stands out, each half of it from what lies on its own side."""
    sides = np.full_like(profile, profile[at - _RIDGE_PX])
    sides[at + 1 :] = profile[at + _RIDGE_PX]
    sides[at] = (profile[at - _RIDGE_PX] + profile[at + _RIDGE_PX]) / 2.0
    return np.abs(profile - sides)


def _peaks(values: Floats) -> list[int]:
    return [
        i
        for i in range(1, len(values) - 1)
        if values[i] >= LEAST_CONTRAST and values[i] >= values[i - 1] and values[i] > values[i + 1]
    ]


def _centroid(weights: Floats, at: int) -> float:
    low, high = max(0, at - 2), min(len(weights), at + 3)
    own = weights[low:high]
    return float((own * (np.arange(low, high) + 0.5)).sum() / max(float(own.sum()), 1e-9))

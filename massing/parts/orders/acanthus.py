"""The acanthus: a leaf drawn flat as raffles about a midrib, then bent up a bell or a stem.

On each side of the midrib three pipes rise from the root and open one above another into
raffles, each parted into digits; the midrib itself opens into the tongue that turns over. The
raffles overlap as shingles from the midrib outwards. How a leaf is parted is common practice;
where its tip hangs and how far it reaches the plates say.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats, Mesh, merged
from massing.parts.orders.ornament import slab

Surface = Callable[[Floats, Floats, Floats], Floats]
"""From across, along and lift (metres, one shape) to points ``(..., 3)``."""


@dataclass(frozen=True)
class _Raffle:
    """One lobe of the flat leaf: across in half widths, along in lengths of the leaf.

    Attributes:
        vein: four control points of its middle line, root to tip.
        half: ``(share along the vein, half width)`` pairs.
        digits: to a side, besides the last one at its tip.
        opens: share of the vein at which the pipe opens.
        lift: how far its root and its tip stand out, in half widths.
        spoon: how far its edges stand out beyond its middle, in half widths.
        sweep: how far its veins run on as they leave the middle line.
        cut: depth of the notch between two digits, of the lobe's half width.
    """

    vein: tuple[tuple[float, float], ...]
    half: tuple[tuple[float, float], ...]
    digits: int
    opens: float
    lift: tuple[float, float]
    spoon: float = 0.1
    sweep: float = 0.45
    cut: float = 0.42


_PIPE = ((0.0, 0.15), (0.3, 0.14), (0.46, 0.22), (0.7, 0.38), (0.86, 0.3), (1.0, 0.08))
_SIDES = (
    _Raffle(((0.55, 0.0), (0.5, 0.06), (0.5, 0.12), (0.92, 0.23)), _PIPE, 2, 0.24, (0.02, 0.12)),
    _Raffle(((0.36, 0.0), (0.36, 0.17), (0.36, 0.27), (0.95, 0.41)), _PIPE, 2, 0.4, (0.08, 0.17)),
    _Raffle(((0.16, 0.0), (0.19, 0.28), (0.2, 0.45), (0.78, 0.585)), _PIPE, 2, 0.5, (0.14, 0.2)),
)
_TONGUE = _Raffle(
    ((0.0, 0.0), (0.0, 0.35), (0.0, 0.7), (0.0, 1.0)),
    (
        (0.0, 0.15),
        (0.4, 0.11),
        (0.5, 0.22),
        (0.62, 0.52),
        (0.76, 0.68),
        (0.9, 0.6),
        (0.97, 0.34),
        (1.0, 0.1),
    ),
    6,
    0.44,
    (0.2, -0.02),
    spoon=0.05,
    sweep=0.3,
    cut=0.34,
)
_DIGIT_STEPS, _STEM_ROWS, _COLUMNS = 4, 7, 9


def bezier(points: ArrayLike, t: Floats) -> Floats:
    """A cubic through its four control points ``(4, k)`` at ``t`` ``(n,)``."""
    p = np.asarray(points, dtype=float)
    u = 1.0 - t
    return np.column_stack([u**3, 3 * u**2 * t, 3 * u * t**2, t**3]) @ p


def _raffle(raffle: _Raffle, half_m: float, length_m: float, detail: float) -> tuple[Floats, ...]:
    """Across, along, lift and thickness ``(rows, columns)`` of a lobe, in metres."""
    steps = max(2, round(detail * _DIGIT_STEPS))  # a row in every notch and on every digit
    wave = np.arange(1, round(steps * (raffle.digits + 0.5)) + 1) / steps
    share = (wave / wave[-1]) ** 1.1
    stem = np.linspace(0.0, raffle.opens, max(3, round(detail * _STEM_ROWS)))
    t = np.concatenate([stem, raffle.opens + (1.0 - raffle.opens) * share])[:, None]
    columns = 2 * max(1, round(detail * (_COLUMNS - 1) / 2.0)) + 1
    opened = np.clip((t - raffle.opens) / (1.0 - raffle.opens), 0.0, 1.0)
    digit = np.concatenate([np.ones(len(stem)), np.abs(np.sin(np.pi * wave))])[:, None]
    digit = 1.0 - (1.0 - digit) * np.minimum(opened / 0.12, 1.0)
    # rows of the grid are veins: they leave the middle line and sweep up towards the edge,
    # and end short of it in the notches
    q = np.linspace(-1.0, 1.0, columns)[None, :] * (1.0 - raffle.cut * (1.0 - digit**0.6))
    side = np.abs(q)
    width = np.interp(t, *np.array(raffle.half).T)
    swept = t + raffle.sweep * side**1.3 * width * (1.0 - t**4) * np.minimum(8.0 * t, 1.0)
    dense = np.linspace(0.0, 1.0 + raffle.sweep, 400)
    line = bezier(raffle.vein, dense) * [half_m, length_m]
    tangent = np.gradient(line, axis=0)
    tangent /= np.linalg.norm(tangent, axis=1)[:, None]

    def at(values: Floats) -> Floats:
        return np.interp(swept, dense, values)

    across = at(line[:, 0]) + q * width * half_m * at(tangent[:, 1])
    along = at(line[:, 1]) - q * width * half_m * at(tangent[:, 0])

    root, tip = raffle.lift
    rise = np.interp(swept, [0.0, 0.5, 0.75, 1.0], [root, 0.5 * (root + tip), tip, tip]) * half_m
    pipe = (1.0 - side**2) * (1.0 - opened) * 0.10 * half_m  # a round pipe below
    spoon = side**2 * opened * raffle.spoon * half_m  # a hollow lobe above
    furrow = -(1.0 - digit) * np.minimum(side / 0.5, 1.0) * opened * 0.13 * half_m
    vein = -np.exp(-((side / 0.14) ** 2)) * opened * (1.0 - opened) * 0.16 * half_m
    lift = rise + pipe + spoon + furrow + vein
    thick = 0.11 * half_m * (1.0 - 0.4 * side) * np.ones_like(lift)
    return across, along, lift, thick


def leaf(
    surface: Surface, half_m: float, length_m: float, detail: float = 1.0, stem: float = 0.0
) -> Mesh:
    """A leaf laid on a surface, its root at along = 0 and its tip at ``length_m``.

    Args:
        surface: where each point of the flat leaf goes.
        half_m: half its width across the widest raffles.
        length_m: along the midrib.
        detail: share of the full fineness of its grids.
        stem: share of the length that has pipes alone, before the first raffle.
    """
    bodies = []
    for sign, (across, along, lift, thick) in _lobes(half_m, length_m, detail, stem):
        front = surface(sign * across, along, lift + thick / 2.0)
        back = surface(sign * across, along, lift - thick / 2.0)
        bodies.append(slab(front, back))
    return merged(bodies)


def leaf_lines(
    surface: Surface, half_m: float, length_m: float, detail: float = 1.0, stem: float = 0.0
) -> list[Floats]:
    """What an engraver draws of a :func:`leaf`: the edges and veins of its raffles, ``(n, 3)``."""
    lines = []
    for sign, (across, along, lift, thick) in _lobes(half_m, length_m, detail, stem):
        middle = across.shape[1] // 2
        for side in (0.52, -0.52):  # just clear of its two faces
            points = surface(sign * across, along, lift + side * thick)
            edge = np.concatenate([points[:, 0], points[-1, 1:-1], points[::-1, -1]])
            lines += [edge, points[: 2 * len(points) // 3, middle]]
            if np.ptp(across[:, middle]) < 1e-9:  # the tongue: its midrib and side veins
                wide = across[:, -1] - across[:, 0]
                notch = np.flatnonzero((wide[1:-1] < wide[:-2]) & (wide[1:-1] < wide[2:])) + 1
                lines.append(points[:, middle])
                lines += [points[row, : middle - 1] for row in notch]
                lines += [points[row, middle + 2 :] for row in notch]
    return lines


def _lobes(
    half_m: float, length_m: float, detail: float, stem: float
) -> Iterator[tuple[float, tuple[Floats, ...]]]:
    """The raffles of a flat leaf, each with the side it lies on, and its tongue."""
    marks = np.array([[0.0, 0.0], [0.08, stem + 0.08 * (1.0 - stem)], [1.0, 1.0]]) * length_m
    for raffle in (*_SIDES, _TONGUE):
        across, along, lift, thick = _raffle(raffle, half_m, length_m, detail)
        along = np.interp(along, *marks.T)
        for sign in (1.0, -1.0) if raffle is not _TONGUE else (1.0,):
            yield sign, (across, along, lift, thick)


# --- on a bell -----------------------------------------------------------------------------


def _spine(height_m: float, drop_m: float, out_m: float, steps: int = 400) -> Floats:
    """Mid-line of a leaf ``(steps, 2)`` as (out, up): up the bell, then over and down."""
    h, out = height_m, out_m
    peak = out - 1.05 * drop_m  # the turn-over is about as far across as it hangs down
    knots = [(0.0, 0.0), (0.3 * peak, 0.68 * h), (peak, h), (out, h - 0.6 * drop_m),
             (out - 0.3 * drop_m, h - drop_m)]  # fmt: skip
    handles = [
        ((0.02 * h, 0.3 * h), (0.0, 0.5 * h)),
        ((0.5 * peak, 0.79 * h), (0.5 * peak, h)),
        ((peak + 0.6 * drop_m, h), (out, h - 0.2 * drop_m)),
        ((out, h - 0.85 * drop_m), (out - 0.15 * drop_m, h - drop_m)),
    ]
    t = np.linspace(0, 1, 100)
    dense = np.concatenate(
        [
            bezier([a, *pair, b], t)[(1 if i else 0) :]
            for i, (a, pair, b) in enumerate(zip(knots, handles, knots[1:], strict=False))
        ]
    )
    run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(dense, axis=0), axis=1))])
    at = np.linspace(0.0, run[-1], steps)
    line = np.column_stack([np.interp(at, run, dense[:, k]) for k in (0, 1)])
    return line


def on_bell(line: Floats, bell_radius_m: float) -> tuple[Surface, float]:
    """A surface wrapped round a bell along a spine ``(n, 2)`` of (out, up), and its length."""
    run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    tangent = np.gradient(line, axis=0)
    tangent /= np.linalg.norm(tangent, axis=1)[:, None]

    def surface(across: Floats, along: Floats, lift: Floats) -> Floats:
        out, up, t_out, t_up = (
            np.interp(along, run, a) for a in (line[:, 0], line[:, 1], tangent[:, 0], tangent[:, 1])
        )
        reach = bell_radius_m + out + lift * t_up
        angle = across / (bell_radius_m + 0.55 * out)
        return np.stack([reach * np.sin(angle), -reach * np.cos(angle), up - lift * t_out], axis=-1)

    return surface, float(run[-1])


@dataclass(frozen=True)
class BellLeaf:
    """An acanthus leaf on a bell, its root on z = 0, facing -Y; the axis is at the origin.

    Attributes:
        height_m: root to the top of the turn-over.
        width_m: across its widest raffles.
        out_m: the midrib's reach beyond the bell where it turns over.
        drop_m: how far the tip hangs below the top.
        bell_radius_m: radius of the bell at the root.
        detail: share of the full fineness of its grid.
        stem: share of its length that has pipes alone, as where other leaves stand before it.
    """

    height_m: float
    width_m: float
    out_m: float
    drop_m: float
    bell_radius_m: float
    detail: float = 1.0
    stem: float = 0.0

    def _laid(self) -> tuple[Surface, float, float, float, float]:
        # the tongue stands a little above its midrib, and its sides hang lower
        height = self.height_m - 0.03 * self.width_m
        line = _spine(height, 0.87 * self.drop_m, self.out_m)
        surface, length = on_bell(line, self.bell_radius_m)
        return surface, self.width_m / 2.0, length, self.detail, self.stem

    def mesh(self) -> Mesh:
        """The leaf as closed bodies, one a raffle."""
        return leaf(*self._laid())

    def lines(self) -> list[Floats]:
        """Its :func:`leaf_lines`."""
        return leaf_lines(*self._laid())

"""Cauliculi: the stalks between the upper leaves, and what springs from them.

From each rise two scrolls, the volute to the abacus's horn and the helix to its middle, out of
a calyx of two leaves, the larger to the corner and the smaller to the middle (W. R. Ware, The
American Vignola, p. 20). The curves between are common practice.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import lathe, loft
from massing.parts.orders.acanthus import Surface, bezier, leaf, leaf_lines

Point = tuple[float, float, float]
_CALYX_DETAIL = 0.55


def scroll(
    start: ArrayLike,
    lift_m: float,
    end: ArrayLike,
    heading: ArrayLike,
    radius_m: float,
    width_m: float,
    turns: float = 2.25,
) -> Mesh:
    """A stem that rises and rolls into an upright spiral.

    Its two sides are sunk between fillets, its coils drawn together about a round eye.

    Args:
        start, end: ``(3,)`` the stem's foot and the spiral's centre.
        lift_m: how high the stem climbs upright before it bends.
        heading: ``(2,)`` direction in plan in which it runs out, the plane of the spiral.
        radius_m: the spiral's outer radius.
        width_m: the band's breadth across the plane, at the spiral; half as much at the foot.
        turns: how often the spiral winds.
    """
    start, end = np.asarray(start, dtype=float), np.asarray(end, dtype=float)
    along = np.array([*np.asarray(heading, dtype=float) / np.linalg.norm(heading), 0.0])
    bend = end[:2] - radius_m * along[:2]  # where the path in plan has come straight
    knee = bend - 0.4 * np.linalg.norm(bend - start[:2]) * along[:2]
    share = np.linspace(0.0, 1.0, 40)
    plan = bezier(
        [start[:2], start[:2] + (knee - start[:2]) * 2 / 3, bend + (knee - bend) * 2 / 3, bend],
        share,
    )
    gone = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(plan, axis=0), axis=1))])
    run, rise = float(gone[-1]) + radius_m, float(end[2] - start[2])
    thick_m = 0.36 * radius_m
    top = radius_m - thick_m / 2.0
    stem = bezier(
        [(0.0, 0.0), (0.02 * run, lift_m), (0.5 * run, rise + top), (run, rise + top)],
        np.linspace(0.0, 1.0, 12),
    )
    turn = np.linspace(0.0, 2.0 * np.pi * turns, int(18 * turns))
    shrink = 0.2 ** (turn / turn[-1])
    coil = np.column_stack([run + top * shrink * np.sin(turn), rise + top * shrink * np.cos(turn)])
    line = np.concatenate([stem[:-1], coil])
    share = np.concatenate([np.linspace(0.0, 0.4, len(stem) - 1), 0.4 + 0.6 * turn / turn[-1]])
    tangent = np.gradient(line, axis=0)
    tangent /= np.linalg.norm(tangent, axis=1)[:, None]
    normal = np.column_stack([-tangent[:, 1], tangent[:, 0]])
    breadth = width_m * np.interp(share, [0.0, 0.4, 1.0], [0.5, 0.95, 1.0])
    thick = np.concatenate([np.full(len(stem) - 1, thick_m), thick_m * shrink])
    half = np.array([(0.5, 0.5), (0.5, 0.28), (0.36, 0.2), (0.36, -0.2), (0.5, -0.28), (0.5, -0.5)])
    section = np.concatenate([half, -half])
    plane = line[:, None, :] + section[None, :, 1:] * (thick[:, None] * normal)[:, None, :]
    sideways = section[None, :, 0] * breadth[:, None]
    u = plane[..., 0]
    at = np.stack([np.interp(np.minimum(u, gone[-1]), gone, plan[:, k]) for k in (0, 1)], -1)
    at += np.maximum(u - gone[-1], 0.0)[..., None] * along[:2]
    steer = np.gradient(plan, axis=0)
    steer /= np.linalg.norm(steer, axis=1)[:, None]
    head = np.stack([np.interp(u, gone, steer[:, k]) for k in (0, 1)], -1)
    at += sideways[..., None] * np.stack([-head[..., 1], head[..., 0]], -1)
    band = loft(np.concatenate([at, start[2] + plane[..., 1:]], axis=-1))
    bulge = np.linspace(0.0, np.pi / 2.0, 4)
    dome = np.column_stack([0.24 * np.cos(bulge), 0.5 + 0.06 * np.sin(bulge)]) * [radius_m, width_m]
    dome[-1, 0] = 0.0
    eye = lathe(np.concatenate([(dome * [1.0, -1.0])[::-1], dome]), 14)
    axes = np.eye(4)
    axes[:3, 0], axes[:3, 1], axes[:3, 2] = along, [0.0, 0.0, 1.0], np.cross(along, [0.0, 0.0, 1.0])
    axes[:3, 3] = end
    return merged([band, eye.moved(axes)])


def _plane(start: Floats, end: Floats) -> tuple[float, Floats, Floats, float]:
    """The upright plane of two points: run, unit vectors along and to its left, and rise."""
    flat = (end - start) * [1.0, 1.0, 0.0]
    run = float(np.linalg.norm(flat))
    along = flat / run
    return run, along, np.array([-along[1], along[0], 0.0]), float(end[2] - start[2])


def _in_plane(
    start: Floats, along: Floats, side: Floats, u: Floats, s: Floats, z: Floats
) -> Floats:
    return start + u[..., None] * along + s[..., None] * side + z[..., None] * [0.0, 0.0, 1.0]


def folded_round(
    start: Floats, end: Floats, spine: Sequence[tuple[float, float]]
) -> tuple[Surface, float]:
    """A surface folded about a line that sheathes a stem, and the line's length.

    Args:
        start, end: ``(3,)`` of the stem: the plane it lies in.
        spine: seven control points of two cubics, along and up in that plane, metres.
    """
    points = np.asarray(spine, dtype=float)
    _, along, side, _ = _plane(start, end)
    t = np.linspace(0.0, 1.0, 60)
    line = np.concatenate([bezier(points[:4], t), bezier(points[3:], t)[1:]])
    length = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    tangent = np.gradient(line, axis=0)
    tangent /= np.linalg.norm(tangent, axis=1)[:, None]
    fold = np.interp(length / length[-1], [0.0, 0.5, 0.8, 1.0], [1.0, 0.8, 0.25, 0.1])

    def surface(across: Floats, run: Floats, lift: Floats) -> Floats:
        u, z, tu, tz, bend = (
            np.interp(run, length, a)
            for a in (line[:, 0], line[:, 1], tangent[:, 0], tangent[:, 1], fold)
        )
        angle = bend * np.pi / 4.0
        up = np.abs(across) * np.sin(angle) - lift * np.cos(angle)
        out = across * np.cos(angle) + np.sign(across) * lift * np.sin(angle)
        return _in_plane(start, along, side, u - up * tz, out, z + up * tu)

    return surface, float(length[-1])


def stalk(foot: ArrayLike, head: ArrayLike, radius_m: float) -> Mesh:
    """A fluted stalk that widens upwards, twisted a little, under a button of beads."""
    foot, head = np.asarray(foot, dtype=float), np.asarray(head, dtype=float)
    axis = head - foot
    length = float(np.linalg.norm(axis))
    axis = axis / length
    across = np.cross(axis, [0.0, 0.0, 1.0] if abs(axis[2]) < 0.9 else [0.0, 1.0, 0.0])
    across /= np.linalg.norm(across)
    other = np.cross(axis, across)
    turn = np.linspace(0.0, 2.0 * np.pi, 24, endpoint=False)
    # radius, rise, depth of the flutes: the stalk, a beaded ring, the cup that opens above it
    rings = [
        (0.62, 0.0, 0.1), (0.7, 0.4, 0.1), (0.84, 0.78, 0.1), (0.86, 0.8, 0.0), (1.14, 0.82, 0.0),
        (1.26, 0.88, 0.0), (1.14, 0.95, 0.0), (0.86, 0.97, 0.0), (0.9, 1.0, 0.1),
        (1.15, 1.16, 0.16), (1.2, 1.3, 0.2), (0.5, 1.4, 0.0),
    ]  # fmt: skip
    sections = []
    for size, rise, flute in rings:
        ripple = 1.0 + flute * np.cos(6.0 * (turn + 0.7 * rise))
        radius = size * radius_m * ripple
        plan = np.cos(turn)[:, None] * across + np.sin(turn)[:, None] * other
        sections.append(foot + axis * (rise * length) + plan * radius[:, None])
    return loft(np.array(sections))


VOLUTE, HELIX = 4.2, 3.0  # outer radii, parts
INWARD = (-0.95, -0.3)  # a helix of the right-hand stalk turns a little out from the face


@dataclass(frozen=True)
class Cauliculus:
    """One stalk with its calyx, its volute and its helix.

    Attributes:
        foot, head: of the stalk.
        corner, middle: centres of the volute and of the helix.
        out, inward: directions in plan in which the two roll up.
        part: a thirty-sixth of the lower diameter, metres, by which the rest is drawn.
    """

    foot: Point
    head: Point
    corner: Point
    middle: Point
    out: tuple[float, float]
    inward: tuple[float, float]
    part: float

    def scrolls(self) -> Mesh:
        """The stalk, the volute and the helix."""
        head, part = self.head, self.part
        volute = scroll(head, 7.0 * part, self.corner, self.out, VOLUTE * part, 2.9 * part)
        helix = scroll(head, 6.0 * part, self.middle, self.inward, HELIX * part, 2.2 * part, 2.0)
        return merged([stalk(self.foot, head, 1.45 * part), volute, helix])

    def _calyx(self) -> list[tuple[Surface, float, float, float]]:
        """The two leaves: surface, half width, length and fineness."""
        start, part = np.array(self.head), self.part
        found = []
        for end, radius, half in ((self.corner, VOLUTE, 4.6), (self.middle, HELIX, 3.9)):
            run, _, _, rise = _plane(start, np.array(end))
            low = rise - radius * part
            tip = run - (0.55 if end is self.corner else 0.1) * radius * part
            spine = [
                (-0.3 * part, -0.8 * part), (0.1 * tip, 0.45 * low), (0.3 * tip, 0.98 * low),
                (0.68 * tip, low),
                (0.9 * tip, 1.02 * low), (1.05 * tip, low - 0.4 * part), (tip, low - 2.2 * part),
            ]  # fmt: skip
            surface, length = folded_round(start, np.array(end), spine)
            found.append((surface, half * part, length, _CALYX_DETAIL))
        return found

    def calyx(self) -> Mesh:
        """Its two leaves, the larger to the corner."""
        return merged([leaf(*one) for one in self._calyx()])

    def lines(self) -> list[Floats]:
        """The lines of those leaves."""
        return [line for one in self._calyx() for line in leaf_lines(*one)]

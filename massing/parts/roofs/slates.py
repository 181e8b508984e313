"""Coverings of single pieces laid in courses: slate, shingle, plain and moulded tile.

Every piece is tilted so that its tail rides on the course below: over one exposure the tilt
rises by the piece's thickness, so that successive courses lie parallel and just touch.
"""

from __future__ import annotations

import numpy as np

from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import loft, prism
from massing.parts.part import Part
from massing.parts.roofs.flashings import lay_flashings
from massing.parts.roofs.laying import PLAY_M, SlopeField, Unevenness, at
from massing.parts.roofs.ridges import Barrel, BarrelLines, lay_barrel_lines, lay_caps, lay_rolls
from massing.parts.roofs.saddles import lay_saddles
from massing.practice.coverings import Covering
from massing.settingout.roof_planes import RoofPlanes

_CHANNEL_M = {"barrel": 0.045, "caps": 0.02, "roll": 0.02}
_VERGE_M = {"barrel": 0.045, "caps": -0.02, "roll": 0.02}
_SHORTEST_M = 0.03  # starter pieces shorter than this are not laid
_ON_DECK_M = 0.025  # and they lie on so much of the deck: common practice, no source
_BARREL_ANGLE = np.radians(80.0)


def lay_plates(planes: RoofPlanes, covering: Covering, seed: int = 0) -> list[Part]:
    """Cover every slope, hip and ridge with pieces in courses.

    Whole pieces are instances, one mesh per width; those cut are one mesh of closed bodies.
    The same seed lays the same roof.

    Raises:
        ValueError: the covering is not laid in plates.
    """
    if covering.kind != "plate":
        raise ValueError(f"{covering.name!r} is not laid in plates")
    rng = np.random.default_rng(seed)
    lay = _Bed.of(covering)
    whole: dict[str, tuple[Mesh, list[Floats]]] = {}
    cut: list[Mesh] = []
    for ring in planes.slopes:
        field = SlopeField.of(ring, planes, _CHANNEL_M[covering.ridge], _VERGE_M[covering.ridge])
        for name, mesh, frames in [*_courses(field, lay, rng), *_starters(field, lay, rng)]:
            placed, trimmed = field.lay(mesh, frames, lay.hand.draw(len(frames), rng))
            whole.setdefault(name, (mesh, []))[1].append(placed)
            cut += trimmed
    parts = [
        Part(("tiles", name), covering.role, mesh, np.concatenate(frames))
        for name, (mesh, frames) in whole.items()
    ]
    if cut:
        parts.append(Part(("tiles", "cut"), covering.role, merged(cut)))
    if covering.section_m:
        parts += _closures(planes, lay)
    parts += _ridges(planes, lay)
    stop = 0.9 * covering.ridge_width_m
    parts += lay_flashings(planes, lay.top_m, stop)
    half = covering.ridge_width_m / 2.0
    parts += lay_saddles(planes, lay.top_m, stop, half, covering.over_ridge_m)
    return [p for p in parts if p.count]


class _Bed:
    """How one covering lies: its tilt, its frames' height, and a layer's hand."""

    def __init__(self, covering: Covering, section: Floats) -> None:
        rise = covering.thickness_m + covering.clearance_m
        self.covering = covering
        self.section = section
        self.tilt = float(np.arcsin(rise / covering.exposure_m))
        c, s = np.cos(self.tilt), np.sin(self.tilt)
        self.turn = np.array([[1.0, 0, 0], [0, c, s], [0, -s, c]])
        self.tail_m = covering.length_m * s + PLAY_M
        joint = covering.spacing_m - covering.width_m
        across = 0.25 * max(joint, 0.0) if not covering.section_m else 0.0005
        self.hand = Unevenness(min(across, 0.002), 0.002)

    @classmethod
    def of(cls, covering: Covering) -> _Bed:
        half = covering.width_m / 2.0
        section = np.array(covering.section_m or [(0.0, 0.0), (covering.width_m, 0.0)])
        return cls(covering, section - [half, 0.0])

    @property
    def top_m(self) -> float:
        """Highest point of the covering above the deck."""
        return self.tail_m + self.covering.thickness_m + float(self.section[:, 1].max())

    def piece(self, width_m: float, length_m: float, from_m: float = 0.0) -> Mesh:
        """A piece from its tail (y = 0) to its head, or only its upper part from ``from_m``.

        A moulded piece has the corner cut from its head where its neighbour's would come
        between it and the course above, as tilers' shops make them.
        """
        c = self.covering
        under = self.section * [width_m / c.width_m, 1.0]
        if not c.section_m:
            return self._run(under, from_m, length_m, length_m)
        lap = c.spacing_m - c.width_m / 2.0 - 2.0 * PLAY_M
        edge = [(lap, np.interp(lap, under[:, 0], under[:, 1]))]
        narrow = np.concatenate([under[under[:, 0] < lap], edge])
        corner = c.exposure_m - 3.0 * PLAY_M
        parts = [self._run(under, 0.0, corner, length_m)]
        return merged([*parts, self._run(narrow, corner, length_m, length_m)])

    def _run(self, under: Floats, from_m: float, to_m: float, length_m: float) -> Mesh:
        c = self.covering
        sections = []
        for y in (from_m, to_m):
            thick = c.thickness_m + (c.head_thickness_m - c.thickness_m) * y / length_m
            ring = np.concatenate([under, (under + [0.0, thick])[::-1]])
            sections.append(np.column_stack([ring[:, 0], np.full(len(ring), y), ring[:, 1]]))
        return loft(np.array(sections))

    def frames(self, u: Floats, v: Floats) -> Floats:
        """Frames of pieces whose tails stand at (u, v)."""
        return at(u, v, self.tail_m, self.turn)


def _courses(
    field: SlopeField, lay: _Bed, rng: np.random.Generator
) -> list[tuple[str, Mesh, Floats]]:
    """Every course of the slope: name, mesh and frames of each width."""
    c = lay.covering
    if c.widths_m:
        return _random_widths(field, lay, rng, c.length_m, 0.0, "pieces")
    return [("pieces", lay.piece(c.width_m, c.length_m), lay.frames(*_places(field, c)))]


def _places(field: SlopeField, c: Covering) -> tuple[Floats, Floats]:
    u, v = field.lattice(c.spacing_m, c.exposure_m, c.overhang_m)
    if c.broken_joints:
        course = np.round((v + c.overhang_m) / c.exposure_m).astype(int)
        u = u + c.spacing_m / 2.0 * (course % 2)
    return u, v


def _random_widths(
    field: SlopeField,
    lay: _Bed,
    rng: np.random.Generator,
    length_m: float,
    from_m: float,
    name: str,
) -> list[tuple[str, Mesh, Floats]]:
    """Courses of pieces of several widths in random order, a joint between each two."""
    c = lay.covering
    joint = c.spacing_m - c.width_m
    points = field.local
    _, v = field.lattice(c.spacing_m, c.exposure_m, c.overhang_m)
    rows = np.unique(v) if from_m == 0.0 else np.array([-c.overhang_m - from_m])
    low, span = points[:, 0].min() - c.length_m, np.ptp(points[:, 0]) + 2.0 * c.length_m
    count = int(np.ceil(span / (min(c.widths_m) + joint)))
    kind = rng.integers(len(c.widths_m), size=(len(rows), count))
    width = np.array(c.widths_m)[kind]
    end = np.cumsum(width + joint, axis=1) - rng.uniform(0.0, c.spacing_m, (len(rows), 1))
    middle = low + end - joint - width / 2.0
    made = []
    for k, w in enumerate(c.widths_m):
        row, column = np.nonzero(kind == k)
        frames = lay.frames(middle[row, column], rows[row])
        made.append((f"{name} {k + 1}", lay.piece(w, length_m, from_m), frames))
    return made


def _starters(
    field: SlopeField, lay: _Bed, rng: np.random.Generator
) -> list[tuple[str, Mesh, Floats]]:
    """The short courses doubled under the first at the eaves.

    They are the upper ends of the courses that would come below the eaves, as many as reach back
    over the deck.
    """
    c = lay.covering
    if not c.starter:
        return []
    made = []
    below = 1
    least = max(_SHORTEST_M, c.overhang_m + _ON_DECK_M)
    while c.length_m - below * c.exposure_m > least:
        gone = below * c.exposure_m
        name = f"starters {below}"
        if c.widths_m:
            made += _random_widths(field, lay, rng, c.length_m, gone, name)
        else:
            u, v = _places(field, c)
            first = np.isclose(v, v.min())
            shift = c.spacing_m / 2.0 * (below % 2) if c.broken_joints else 0.0
            frames = lay.frames(u[first] + shift, v[first] - gone)
            made.append((name, lay.piece(c.width_m, c.length_m, gone), frames))
        below += 1
    return made


def _closures(planes: RoofPlanes, lay: _Bed) -> list[Part]:
    """Mortar under the hollows of moulded tiles at the eaves."""
    c = lay.covering
    inner = lay.section[(lay.section[:, 0] < c.spacing_m - c.width_m / 2.0 - 2.0 * PLAY_M)]
    # Where the stop stands, the tilted tile's underside has come down a little.
    back = c.overhang_m + 0.03
    height = lay.tail_m - back * np.sin(lay.tilt) - 2.0 * PLAY_M
    ring = np.concatenate([[(inner[0, 0], 0.0), (inner[-1, 0], 0.0)], (inner + [0, height])[::-1]])
    stop = prism(ring, (0.0, 0.03, 0.0), (1.0, 0, 0), (0, 0, 1.0), 0.025)
    placed = []
    for ring_ in planes.slopes:
        field = SlopeField.of(ring_, planes, _CHANNEL_M[c.ridge], _VERGE_M[c.ridge])
        u, v = _places(field, c)
        first = np.isclose(v, v.min())
        frames = at(u[first], np.zeros(first.sum()), 0.0)
        whole, _ = field.lay(stop, frames)
        placed.append(whole)
    return [Part(("tiles", "eaves closures"), "mortar", stop, np.concatenate(placed))]


def _ridges(planes: RoofPlanes, lay: _Bed) -> list[Part]:
    c = lay.covering
    channel = _CHANNEL_M[c.ridge]
    if c.ridge == "roll":
        return lay_rolls(planes, lay.top_m, channel, c.ridge_width_m / 2.0)
    if c.ridge == "caps":
        return lay_caps(
            planes,
            lay.top_m,
            channel,
            c.ridge_width_m / 2.0,
            c.length_m,
            c.exposure_m,
            c.thickness_m,
            c.role,
        )
    taper = c.thickness_m + 0.004
    length, exposure = 17.0 * 0.0254, 14.0 * 0.0254
    wide = c.ridge_width_m / 2.0
    barrel = Barrel(wide, wide - taper * length / exposure, length, c.thickness_m, _BARREL_ANGLE)
    how = BarrelLines(barrel, exposure, c.overhang_m, 0.004, channel, lay.top_m, c.role)
    return lay_barrel_lines(planes, how)

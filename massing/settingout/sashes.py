"""Where a window's daylight, rails, bars and lights stand, before anything is built of them.

Parts, findings and the resolving of a scene ask here, so that they agree. Everything is in the
opening's own frame: x right as seen from outside, z up from the opening's foot; metres.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np

from massing.design.opening import FloorWindow, Opening, WindowOpening
from massing.geometry.arches import HeadLine
from massing.geometry.mesh import Floats
from massing.practice.joinery_sizes import HEADS, SASH, THRESHOLD_M, joinery_size
from massing.settingout.lights import bar_grid, fan_lights, grid_lights

SIDE_OF_CENTRE = joinery_size("sash.side_light")
_MEAN_OF_RISE = pi / 4.0  # mean height of half an ellipse over its springing


@dataclass(frozen=True)
class Daylight:
    """A hole in a window's frame, between jambs or mullions, which sashes or leaves fill."""

    left_m: float
    right_m: float
    foot_z_m: float
    top: HeadLine

    @property
    def ring(self) -> Floats:
        """Its outline ``(n, 2)``, counter-clockwise from the foot's left."""
        return np.array(
            [(self.left_m, self.foot_z_m), (self.right_m, self.foot_z_m), *self.head_line]
        )

    @property
    def head_line(self) -> Floats:
        """Its top, right to left."""
        if self.top.level:
            return np.array([(x, self.top.crown_z_m) for x in (self.right_m, self.left_m)])
        return self.top.line()


@dataclass(frozen=True)
class HungSashes:
    """A pair of hung sashes: heights of their members.

    Attributes:
        meet_z_m: foot of the upper sash's meeting rail.
        pane_height_m: of every light between level bars.
        sight: the line that ends the upper sash's lights.
        fan: its uppermost row is a half-round fan.
        upper_rows: ``(n, 2)`` foot and head of the upper sash's rows, the fan left out.
    """

    meet_z_m: float
    pane_height_m: float
    sight: HeadLine
    fan: bool
    upper_rows: Floats


def head_of_daylight(opening: Opening) -> HeadLine:
    """The line of the frame's hole: that of the opening, less the frame's face.

    Under a segmental arch the frame fills the segment and its hole is level, as sashes under a
    low rise are commonly made; under a half round or a half ellipse all follows the curve.
    """
    jamb = SASH.jamb_face_m
    if HEADS[opening.head].line == "segmental":
        return HeadLine(opening.width_m, opening.height_m - opening.soffit.rise_m).inset(jamb)
    return opening.soffit.inset(jamb)


def daylights(opening: WindowOpening) -> tuple[Daylight, ...]:
    """The holes in a window's frame, left to right: one, or three of a tripartite window.

    Raises:
        ValueError: nothing is left between the jambs.
    """
    top = head_of_daylight(opening)
    foot = THRESHOLD_M if isinstance(opening, FloorWindow) else SASH.jamb_face_m
    half = top.width_m / 2.0
    if opening.filling != "tripartite":
        return (Daylight(-half, half, foot, top),)
    mullion = SASH.mullion_m
    centre = (top.width_m - 2.0 * mullion) / (1.0 + 2.0 * SIDE_OF_CENTRE)
    inner = centre / 2.0
    spans = ((-half, -inner - mullion), (-inner, inner), (inner + mullion, half))
    return tuple(Daylight(a, b, foot, HeadLine(b - a, top.crown_z_m)) for a, b in spans)


def lights_across(opening: WindowOpening, hole: Daylight, across: int) -> int:
    """Lights across one hole: as asked, or in a side light as wide as suits the centre's."""
    if opening.filling != "tripartite" or hole.left_m < 0.0 < hole.right_m:
        return across
    return max(1, round(across * SIDE_OF_CENTRE))


def hung_sashes(hole: Daylight, upper: tuple[int, int], lower: tuple[int, int]) -> HungSashes:
    """Two sashes whose lights are of one height, the uppermost row ending under the head.

    In a half round of two or more lights across and two or more up, the upper sash's uppermost
    row is a fan over a bar at the springing; otherwise upright bars run up to the curve, and no
    level bar stands above its springing.

    Raises:
        ValueError: the hole is too small for its lights.
    """
    s = SASH
    sight = hole.top.inset(s.stile_m)
    fan = sight.half_round and min(upper) >= 2
    end = sight.springing_z_m - s.bar_m / 2.0 if fan else _mean_z(sight)
    above = upper[1] - 1 if fan else upper[1]
    rows = above + lower[1]
    solid = s.bottom_rail_m + s.meeting_rail_m + (rows - 2) * s.bar_m
    pane = (end - hole.foot_z_m - solid) / rows
    if not fan and end - pane > _highest_bar(sight):
        pane = (_highest_bar(sight) - hole.foot_z_m - solid) / max(rows - 1, 1)
    meet = hole.foot_z_m + s.bottom_rail_m + lower[1] * (pane + s.bar_m) - s.bar_m
    starts = meet + s.meeting_rail_m + (pane + s.bar_m) * np.arange(above)
    made = HungSashes(meet, pane, sight, fan, np.column_stack([starts, starts + pane]))
    wide = hole.right_m - hole.left_m
    across = max(upper[0], lower[0])
    if pane < s.bar_m or wide < 2.0 * s.stile_m + 2.0 * across * s.bar_m:
        raise ValueError("too small for its lights")
    return made


def upper_lights(hole: Daylight, made: HungSashes, across: int) -> list[Floats]:
    """Lights of an upper sash under a curve, as rings.

    Raises:
        ValueError: a fan has no room for its bars.
    """
    s = SASH
    columns = bar_grid(hole.left_m, hole.right_m, s.stile_m, s.stile_m, across, s.bar_m)
    pairs = columns[1:-1].reshape(-1, 2)
    if not made.fan:
        return grid_lights(made.sight, pairs, made.upper_rows)
    level = HeadLine(made.sight.width_m, float(made.upper_rows[-1, 1]))
    fan = fan_lights(made.sight.width_m / 2.0, made.sight.springing_z_m, across, s.bar_m)
    return grid_lights(level, pairs, made.upper_rows) + fan


@dataclass(frozen=True)
class Leaf:
    """One leaf of a casement: its outline and its lights, counter-clockwise rings."""

    outline: Floats
    lights: tuple[Floats, ...]
    pane_height_m: float


def casement_leaves(opening: WindowOpening) -> tuple[Leaf, ...]:
    """One leaf or a pair that meet in the middle, each with the lights asked for.

    Raises:
        ValueError: the hole is too small for its lights.
    """
    s, (hole,) = SASH, daylights(opening)
    clear = s.leaf_clear_m
    across, up = opening.lower_lights
    foot = hole.foot_z_m + clear
    spans = [(hole.left_m + clear, hole.right_m - clear)]
    if opening.leaves == 2:
        spans = [(spans[0][0], -clear / 2.0), (clear / 2.0, spans[0][1])]
    top, sight = hole.top.inset(clear), hole.top.inset(clear + s.stile_m)
    start = foot + s.bottom_rail_m
    pane = (_mean_z(sight) - start - (up - 1) * s.bar_m) / up
    if _mean_z(sight) - pane > _highest_bar(sight):
        pane = (_highest_bar(sight) - start - (up - 1) * s.bar_m) / max(up - 1, 1)
    feet = start + (pane + s.bar_m) * np.arange(up)
    leaves = []
    for a, b in spans:
        columns = bar_grid(a, b, s.stile_m, s.stile_m, across, s.bar_m)[1:-1].reshape(-1, 2)
        if pane < s.bar_m or columns[0, 1] - columns[0, 0] < 2.0 * s.bar_m:
            raise ValueError("too small for its lights")
        outline = np.array([(a, foot), (b, foot), *top.between(a, b)])
        lights = grid_lights(sight, columns, np.column_stack([feet, feet + pane]))
        leaves.append(Leaf(outline, tuple(lights), pane))
    return tuple(leaves)


def check_window(opening: WindowOpening) -> None:
    """Raise ValueError where a window's sashes, leaves or lights have no room."""
    if opening.filling in ("casement", "fixed"):
        casement_leaves(opening)
        return
    if opening.filling == "louvre":
        daylights(opening)
        return
    for hole in daylights(opening):
        across = lights_across(opening, hole, opening.upper_lights[0])
        upper = across, opening.upper_lights[1]
        lower = lights_across(opening, hole, opening.lower_lights[0]), opening.lower_lights[1]
        made = hung_sashes(hole, upper, lower)
        if not made.sight.level:
            upper_lights(hole, made, across)


def _highest_bar(sight: HeadLine) -> float:
    """The highest foot of a row that a curve ends: level bars stay under the springing."""
    return np.inf if sight.level else sight.springing_z_m - SASH.bar_m


def _mean_z(top: HeadLine) -> float:
    """Where lights of one height would end under a curve."""
    return top.springing_z_m + _MEAN_OF_RISE * max(top.rise_m, 0.0)

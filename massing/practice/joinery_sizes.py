"""True sections of joinery and masonry, metres, each beside its source.

Marks: *read* a published page was read; *practice* common practice, no source; *memory* a
remembered value that was not looked up.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from massing.canon import FittedCornice, fit_cornice
from massing.units import INCH_M


@dataclass(frozen=True)
class SashSections:
    """Sizes of a double-hung window's members."""

    stile_m: float = 2.0 * INCH_M  # face of stiles and top rail: practice
    bottom_rail_m: float = 3.0 * INCH_M  # practice
    meeting_rail_m: float = 1.25 * INCH_M  # practice, 1 to 1 1/2 in
    thickness_m: float = 1.375 * INCH_M  # practice
    # Glass is 5/16 in larger than the sight (Kidder, Building Construction, sec. 306: read).
    rebate_m: float = 5.0 / 32.0 * INCH_M
    bar_m: float = 0.875 * INCH_M  # bar at the glass: practice
    bar_face_m: float = 0.3125 * INCH_M  # its narrow outer face beyond the putty: practice
    putty_m: float = 0.4375 * INCH_M  # outer face back to the glass: practice
    glass_m: float = 0.125 * INCH_M  # practice
    parting_m: float = 0.375 * INCH_M  # gap between the two sashes' planes: practice
    jamb_face_m: float = 1.75 * INCH_M  # frame seen beside the sash: practice
    frame_before_sash_m: float = 0.875 * INCH_M  # outer stop before the sash: practice
    mullion_m: float = 5.0 * INCH_M  # between the lights of one window, boxed: practice
    leaf_clear_m: float = 0.09375 * INCH_M  # round a casement's leaf: practice


SASH = SashSections()


@dataclass(frozen=True)
class LeafSections:
    """Sizes of a panelled door leaf's members: practice."""

    thickness_m: float = 1.75 * INCH_M
    stile_m: float = 4.5 * INCH_M
    rail_m: float = 4.5 * INCH_M
    lock_rail_m: float = 7.0 * INCH_M
    bottom_rail_m: float = 9.0 * INCH_M
    lock_height_m: float = 36.0 * INCH_M
    sticking_m: float = 0.4 * INCH_M  # the moulded edge round a panel
    clear_m: float = 0.125 * INCH_M  # leaf to frame
    mullion_m: float = 4.0 * INCH_M  # between leaf and sidelight, and the bar under a light


LEAF = LeafSections()

# An architrave is one sixth of the opening's width (Palladio, Four Books, I.25: memory).
CASING_OF_WIDTH = 1.0 / 6.0
CASING_MAX_M = 8.0 * INCH_M  # practice
CASING_PROJECTION_M = 1.25 * INCH_M  # practice
CASING_FASCIA_M = 0.5 * CASING_PROJECTION_M  # its inner fascia before the wall: practice

DORMER_FACE_M = 5.0 * INCH_M  # thickness of a dormer's face, which holds two sashes: practice

SILL_HEIGHT_M = 4.0 * INCH_M  # practice, 4 to 5 in of stone
SILL_PROJECTION_M = 2.5 * INCH_M  # practice: clear of the wall for the drip
SILL_LUG_M = 1.0 * INCH_M  # sill beyond the casing at each end: practice
SILL_WASH = 1.0 / 8.0  # fall over run: practice

# A pilaster stands out by a quarter to a sixth of its width: practice.
PILASTER_OF_WIDTH = 1.0 / 6.0

THRESHOLD_M = 0.75 * INCH_M  # practice
FOUNDATION_PROJECTION_M = 1.5 * INCH_M  # water table before the wall: practice
# The board behind a doorway's pilasters, thick enough to bring them before the water table.
SURROUND_BOARD_M = FOUNDATION_PROJECTION_M - 0.001
CLAPBOARD_EXPOSURE_M = 4.0 * INCH_M  # practice
BELT_M = 8.0 * INCH_M  # height of a belt course: practice
FRIEZE_BOARD_M = 0.03  # entablature boards before the wall's face: practice
NOSING_M = 1.25 * INCH_M  # tread or floor edge before the riser: practice
# A handrail over the nosings: within 34 to 38 in (IRC R311.7.8.1: read, section from memory).
RAIL_HEIGHT_M = 35.0 * INCH_M
PAVING_M = 3.0 * INCH_M  # thickness of floor and tread stones: practice
CHEEK_WIDTH_M = 14.0 * INCH_M  # walls beside a flight: practice


def casing_width(opening_width_m: float) -> float:
    """Face of the casing round an opening, metres."""
    return min(CASING_OF_WIDTH * opening_width_m, CASING_MAX_M)


def sill_length(opening_width_m: float, face_m: float | None = None) -> float:
    """Length of the stone sill under a window, metres.

    ``face_m`` is the face of the casing beside the window; left out, that of a full casing.
    """
    face = casing_width(opening_width_m) if face_m is None else face_m
    return opening_width_m + 2.0 * (face + SILL_LUG_M)


@dataclass(frozen=True)
class ShutterSections:
    """Sizes of an outside shutter's members and its ironwork."""

    stile_m: float = 2.25 * INCH_M  # practice
    top_rail_m: float = 2.25 * INCH_M  # practice
    middle_rail_m: float = 3.0 * INCH_M  # practice
    bottom_rail_m: float = 4.0 * INCH_M  # practice
    thickness_m: float = 1.375 * INCH_M  # practice
    slat_m: float = 1.75 * INCH_M  # practice
    slat_thickness_m: float = 0.3125 * INCH_M  # practice
    slat_spacing_m: float = 1.25 * INCH_M  # practice
    clear_m: float = 0.125 * INCH_M  # practice, all round
    # The hold-back turns on the wall an inch under the opened leaf and four inches in from
    # its outer edge (practice).
    hold_back_below_m: float = 1.0 * INCH_M
    hold_back_from_edge_m: float = 4.0 * INCH_M
    # Where no wall is left under the leaf, it turns beside the leaf's outer edge, low down
    # (practice).
    hold_back_beside_m: float = 3.0 * INCH_M
    hold_back_up_m: float = 5.0 * INCH_M


SHUTTER = ShutterSections()


def shutter_leaf(opening_width_m: float) -> float:
    """Half the opening, less the play: two leaves close it (common practice, no source)."""
    return opening_width_m / 2.0 - 1.5 * SHUTTER.clear_m


@dataclass(frozen=True)
class HeadKind:
    """What frames or spans an opening, and the line of its soffit."""

    of: Literal["casing", "brick", "stone"]
    line: Literal["level", "segmental", "semicircular", "elliptical"] = "level"


HEADS = {
    "casing": HeadKind("casing"),
    "hood": HeadKind("casing"),
    "hood on consoles": HeadKind("casing"),
    "semicircular casing": HeadKind("casing", "semicircular"),
    "elliptical casing": HeadKind("casing", "elliptical"),
    "lintel": HeadKind("stone"),
    "jack arch": HeadKind("brick"),
    "stone jack arch": HeadKind("stone"),
    "segmental arch": HeadKind("brick", "segmental"),
    "semicircular arch": HeadKind("brick", "semicircular"),
    "stone semicircular arch": HeadKind("stone", "semicircular"),
    "elliptical arch": HeadKind("brick", "elliptical"),
    "stone elliptical arch": HeadKind("stone", "elliptical"),
}

# A jack arch is at least 4 in and an inch for each foot of span deep, and 8 in, in three to
# five courses; a segmental arch at least an inch to the foot, and 4 in (Kicklighter,
# Modern Masonry, p. 299: read). A keystone stands above its neighbours by a third of the depth
# at most: practice.
BRICK_COURSE_M = 8.0 * INCH_M / 3.0  # three courses to 8 in: practice
SKEWBACK = 0.4  # run over rise of a jack arch's end joint: practice
KEY_RISE_OF_DEPTH = 1.0 / 6.0  # practice, within the rule
LINTEL_M = 10.0 * INCH_M  # practice
LINTEL_BEARING_M = 6.0 * INCH_M  # practice
SEGMENT_OF_WIDTH = 1.0 / 8.0  # rise of a segmental arch over its opening: practice
ELLIPSE_OF_WIDTH = 0.3  # rise of an elliptical arch over its opening: practice, 1/4 to 1/3
CURVED_DEPTH_M = {"brick": 8.0 * INCH_M, "stone": 10.0 * INCH_M}  # least: practice
# Over a window's architrave of 4 parts the frieze has 3 and the cornice 5 (Palladio I.25: memory).
HOOD_FRIEZE_OF_FACE = 3.0 / 4.0
HOOD_CORNICE_OF_FACE = 5.0 / 4.0
HOOD_WASH_M = 0.5 * INCH_M  # fall of a hood's top: practice
HOOD_OUT_M = 22.0 * INCH_M  # a flat hood on consoles, wall to its front edge: practice
CONSOLE_M = (4.0 * INCH_M, 15.0 * INCH_M)  # breadth and height of each: practice


def arch_depth(opening_width_m: float, head: str) -> float:
    """Depth of an arch over an opening, metres: whole courses, by the rules of thumb."""
    per_foot = opening_width_m / 12.0
    kind = HEADS[head]
    if kind.line != "level":
        return max(per_foot, CURVED_DEPTH_M[kind.of])  # in brick, one on end
    least = max(4.0 * INCH_M + per_foot, 8.0 * INCH_M)
    courses = min(max(math.ceil(least / BRICK_COURSE_M - 1e-9), 3), 5)
    return courses * BRICK_COURSE_M


@lru_cache(maxsize=64)
def hood_cornice(opening_width_m: float) -> FittedCornice:
    """The cornice over a hooded window: the Tuscan order's, by the face of the architrave."""
    return fit_cornice(HOOD_CORNICE_OF_FACE * casing_width(opening_width_m))


def head_reach(opening_width_m: float, head: str) -> tuple[float, float]:
    """How far what frames or spans an opening goes beyond it: to each side, and above, metres."""
    kind = HEADS[head]
    face = casing_width(opening_width_m)
    if head == "hood":
        cornice = hood_cornice(opening_width_m)
        above = face * (1.0 + HOOD_FRIEZE_OF_FACE) + cornice.height_m + HOOD_WASH_M
        return face + cornice.projection_m, above
    if head == "hood on consoles":
        cornice = hood_cornice(opening_width_m)
        above = face + cornice.height_m + HOOD_WASH_M
        return face + CONSOLE_M[0] + cornice.projection_m, above
    if kind.of == "casing":
        return face, face
    if head == "lintel":
        return LINTEL_BEARING_M, LINTEL_M
    deep = arch_depth(opening_width_m, head)
    if kind.line == "segmental":
        return deep, deep
    raised = deep * (1.0 + KEY_RISE_OF_DEPTH)
    return (SKEWBACK * deep if kind.line == "level" else deep), raised

"""True sections of joinery and masonry, metres.

Each is a row of ``practice/joinery.yaml``, as the trade writes it, beside its source.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache, lru_cache
from typing import Literal, TypeVar

from massing.canon import FittedCornice, fit_cornice
from massing.practice.rules import Rule, read_rules

_Sections = TypeVar("_Sections")


@cache
def joinery() -> Mapping[str, Rule]:
    """Every row by section and name, such as ``sash.stile``."""
    return read_rules("joinery.yaml")


def joinery_size(name: str) -> float:
    """The value of a row: metres, or a plain number for a share or a slope.

    >>> round(joinery_size("sill.height"), 4), joinery()["sill.height"].written
    (0.1016, '4 in')
    """
    return joinery()[name].value


def _of_section(kind: type[_Sections], section: str) -> _Sections:
    """Sizes of a kind, each field from the row of its name."""
    names = [each.name for each in fields(kind)]  # type: ignore[arg-type]
    return kind(**{name: joinery_size(f"{section}.{name.removesuffix('_m')}") for name in names})


@dataclass(frozen=True)
class SashSections:
    """Sizes of a double-hung window's members."""

    stile_m: float  # face of stiles and top rail
    bottom_rail_m: float
    meeting_rail_m: float
    thickness_m: float
    rebate_m: float  # glass beyond the sight
    bar_m: float  # bar at the glass
    bar_face_m: float  # its narrow outer face beyond the putty
    putty_m: float  # outer face back to the glass
    glass_m: float
    parting_m: float  # gap between the two sashes' planes
    jamb_face_m: float  # frame seen beside the sash
    frame_before_sash_m: float  # outer stop before the sash
    mullion_m: float  # between the lights of one window, boxed
    leaf_clear_m: float  # round a casement's leaf


SASH = _of_section(SashSections, "sash")


@dataclass(frozen=True)
class LeafSections:
    """Sizes of a panelled door leaf's members."""

    thickness_m: float
    stile_m: float
    rail_m: float
    lock_rail_m: float
    bottom_rail_m: float
    lock_height_m: float
    sticking_m: float  # the moulded edge round a panel
    clear_m: float  # leaf to frame
    mullion_m: float  # between leaf and sidelight, and the bar under a light


LEAF = _of_section(LeafSections, "leaf")

CASING_OF_WIDTH = joinery_size("casing.of_width")
CASING_MAX_M = joinery_size("casing.most")
CASING_PROJECTION_M = joinery_size("casing.projection")
CASING_FASCIA_M = joinery_size("casing.fascia")

DORMER_FACE_M = joinery_size("casing.dormer_face")

SILL_HEIGHT_M = joinery_size("sill.height")
SILL_PROJECTION_M = joinery_size("sill.projection")
SILL_LUG_M = joinery_size("sill.lug")
SILL_WASH = joinery_size("sill.wash")

PILASTER_OF_WIDTH = joinery_size("wall.pilaster")
THRESHOLD_M = joinery_size("wall.threshold")
FOUNDATION_PROJECTION_M = joinery_size("wall.foundation")
# The board behind a doorway's pilasters, thick enough to bring them before the water table.
SURROUND_BOARD_M = FOUNDATION_PROJECTION_M - 0.001
CLAPBOARD_EXPOSURE_M = joinery_size("wall.clapboard")
BELT_M = joinery_size("wall.belt")
FRIEZE_BOARD_M = joinery_size("wall.frieze_board")

NOSING_M = joinery_size("floor.nosing")
RAIL_HEIGHT_M = joinery_size("floor.rail")
PAVING_M = joinery_size("floor.paving")
CHEEK_WIDTH_M = joinery_size("floor.cheek")


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
    """Sizes of an outside shutter's members and its ironwork.

    The hold-back turns on the wall under the opened leaf; where no wall is left there, beside its
    outer edge, low down.
    """

    stile_m: float
    top_rail_m: float
    middle_rail_m: float
    bottom_rail_m: float
    thickness_m: float
    slat_m: float
    slat_thickness_m: float
    slat_spacing_m: float
    clear_m: float  # all round
    hold_back_below_m: float
    hold_back_from_edge_m: float
    hold_back_beside_m: float
    hold_back_up_m: float


SHUTTER = _of_section(ShutterSections, "shutter")


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

BRICK_COURSE_M = joinery_size("head.brick_course")
SKEWBACK = joinery_size("head.skewback")
KEY_RISE_OF_DEPTH = joinery_size("head.key_rise")
LINTEL_M = joinery_size("head.lintel")
LINTEL_BEARING_M = joinery_size("head.lintel_bearing")
SEGMENT_OF_WIDTH = joinery_size("head.segment")
ELLIPSE_OF_WIDTH = joinery_size("head.ellipse")
CURVED_DEPTH_M = {of: joinery_size(f"head.curved_{of}") for of in ("brick", "stone")}
# Over a window's architrave of 4 parts the frieze has 3 and the cornice 5.
HOOD_FRIEZE_OF_FACE = joinery_size("head.hood_frieze")
HOOD_CORNICE_OF_FACE = joinery_size("head.hood_cornice")
HOOD_WASH_M = joinery_size("head.hood_wash")
HOOD_OUT_M = joinery_size("head.hood_out")
CONSOLE_M = (joinery_size("head.console_breadth"), joinery_size("head.console_height"))


def arch_depth(opening_width_m: float, head: str) -> float:
    """Depth of an arch over an opening, metres: whole courses, by the rules of thumb."""
    per_foot = joinery_size("head.arch_of_span") * opening_width_m
    kind = HEADS[head]
    if kind.line != "level":
        return max(per_foot, CURVED_DEPTH_M[kind.of])  # in brick, one on end
    least = max(joinery_size("head.jack_arch") + per_foot, joinery_size("head.least_jack_arch"))
    courses = min(max(math.ceil(least / BRICK_COURSE_M - 1e-9), 3), 5)
    return courses * BRICK_COURSE_M


@lru_cache(maxsize=64)
def hood_cornice(opening_width_m: float) -> FittedCornice:
    """The cornice over a hooded window: the Tuscan order's, by the face of the architrave."""
    return fit_cornice(HOOD_CORNICE_OF_FACE * casing_width(opening_width_m))


@lru_cache(maxsize=256)
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

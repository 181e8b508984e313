"""A double-hung window: stone sill, casing, frame, two sashes with their bars, and glass.

Everything is in the wall's own frame: x right as seen from outside, y into the wall, z up,
origin at the middle of the opening's foot on the wall's outer face.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from massing.joinery import casing, grid_plate, raised_panel, sash
from massing.mesh import Floats, Mesh, Part, merged
from massing.scene.design import Opening
from massing.sections import SASH, SILL_HEIGHT_M, SILL_PROJECTION_M, SILL_WASH, sill_length
from massing.solids import prism

_ACROSS, _UP = (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)


def windows(
    openings: Sequence[Opening], frames: Floats, reveal_m: float, wall_thickness_m: float
) -> list[Part]:
    """All windows of a house, one mesh per distinct size with a placement for each window.

    Args:
        openings: the windows; ``frames`` ``(k, 4, 4)`` puts each where it belongs.
        reveal_m: wall face back to the outer sash.
        wall_thickness_m: thickness of the walls.

    Returns:
        Parts named ``window A/sill`` and so on, lettered by size as in a window schedule.
    """
    kinds: dict[tuple[object, ...], list[int]] = {}
    for i, o in enumerate(openings):
        lengths = (o.width_m, o.height_m, o.rise_m, o.panel_below_m)
        size = (*(round(m, 6) for m in lengths), o.curve, o.upper_lights, o.lower_lights, o.head)
        kinds.setdefault(size, []).append(i)
    parts = []
    for letter, members in enumerate(kinds.values()):
        name = f"window {_letters(letter)}"
        for part in window(openings[members[0]], reveal_m, wall_thickness_m):
            parts.append(part.placed(np.asarray(frames)[members]).under(name))
    return parts


def _letters(index: int) -> str:
    """A, B ... Z, AA, AB ..."""
    head, last = divmod(index, 26)
    return (_letters(head - 1) if head else "") + chr(ord("A") + last)


def window(opening: Opening, reveal_m: float, wall_thickness_m: float) -> list[Part]:
    """One window in the wall's frame; its members butt or are housed 3 mm in each other.

    Raises:
        ValueError: the wall is too thin for the reveal and two sashes, or the opening too
            small for its sashes and lights.
    """
    s = SASH
    front = reveal_m - s.frame_before_sash_m
    back = reveal_m + 2.0 * s.thickness_m + s.parting_m + s.frame_before_sash_m
    if front < 0.0 or back > wall_thickness_m:
        raise ValueError(
            f"{opening.name}: a reveal of {reveal_m:.3f} m and two sashes need a wall of "
            f"{back:.3f} m and a reveal of {s.frame_before_sash_m:.3f} m at least"
        )
    sashes, glass = _sashes(opening, reveal_m)
    parts = [Part("sill", "trim", sill(opening.width_m, wall_thickness_m, opening.face_m))]
    if opening.head == "casing":
        made = casing(opening.width_m, opening.height_m, soffit=opening.soffit)
        parts.append(Part("casing", "trim", made))
    if opening.panel_below_m:
        parts.append(Part("panel below", "trim", panel_below(opening)))
    return [
        *parts,
        Part("frame", "trim", _frame(opening, front, back)),
        Part("sash", "sash", sashes),
        Part("glass", "glass", glass),
    ]


def panel_below(opening: Opening) -> Mesh:
    """A framed panel on the wall's face from under the sill, as wide as the opening.

    Raises:
        ValueError: too low or narrow for its frame.
    """
    half, top = opening.width_m / 2.0, -SILL_HEIGHT_M
    low = top - opening.panel_below_m
    frame = min(0.25 * opening.panel_below_m, 0.09)
    if frame < 0.03 or half < 3.0 * frame:
        raise ValueError(
            f"{opening.name}: a panel {opening.panel_below_m:.2f} m high is too small for a frame"
        )
    xs = np.array([-half, -half + frame, half - frame, half])
    zs = np.array([low, low + frame, top - frame, top])
    out = 0.025
    ring = grid_plate([xs, xs], [zs, zs], [-out, 0.0])
    panel = raised_panel((xs[1], zs[1]), (xs[2], zs[2]), -0.7 * out, 0.0, 0.03)
    return merged([ring, panel])


def sill(width_m: float, wall_thickness_m: float, face_m: float | None = None) -> Mesh:
    """A stone sill through the wall: washed between the jambs, level seats at its ends.

    ``face_m`` is the face of the casing that stands on the seats.
    """
    out, deep = -SILL_PROJECTION_M, -SILL_HEIGHT_M
    fall = SILL_WASH * SILL_PROJECTION_M
    drip, groove = 0.012, 0.008
    under = [
        (wall_thickness_m, deep),
        (out + 3.0 * drip, deep),
        (out + 3.0 * drip, deep + groove),
        (out + 2.0 * drip, deep + groove),
        (out + 2.0 * drip, deep),
        (out, deep),
    ]
    seat = np.array([*under, (out, 0.0), (wall_thickness_m, 0.0)])
    wash = np.array([*under, (out, -fall), (0.0, 0.0), (wall_thickness_m, 0.0)])
    half, end = width_m / 2.0, sill_length(width_m, face_m) / 2.0
    runs = [(seat, -end, -half), (wash, -half, half), (seat, half, end)]
    return merged(_along_x(profile, x0, x1) for profile, x0, x1 in runs)


def _along_x(profile: Floats, x0: float, x1: float) -> Mesh:
    """A (y, z) section pulled along x."""
    return prism(profile, (x0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), x1 - x0)


def _ring(low: ArrayLike, high: ArrayLike) -> Floats:
    (x0, z0), (x1, z1) = np.asarray(low), np.asarray(high)
    return np.array([(x0, z0), (x1, z0), (x1, z1), (x0, z1)])


def _daylight(opening: Opening) -> tuple[Floats, Floats]:
    """Lowest and highest corner (x, z) of the hole in the frame, which the sashes fill."""
    side = opening.width_m / 2.0 - SASH.jamb_face_m
    top = opening.height_m - opening.rise_m - SASH.jamb_face_m
    return np.array([-side, SASH.jamb_face_m]), np.array([side, top])


def _frame(opening: Opening, front_m: float, back_m: float) -> Mesh:
    half = opening.width_m / 2.0
    outline = np.concatenate([[(-half, 0.0), (half, 0.0)], opening.soffit.line()])
    hole = _ring(*_daylight(opening))
    return prism(outline, (0.0, back_m, 0.0), _ACROSS, _UP, back_m - front_m, [hole])


def _sashes(opening: Opening, reveal_m: float) -> tuple[Mesh, Mesh]:
    """Both sashes and all panes; panes are of one height in both sashes."""
    s = SASH
    low, high = _daylight(opening)
    rows = opening.upper_lights[1] + opening.lower_lights[1]
    solid = s.bottom_rail_m + s.meeting_rail_m + s.stile_m + (rows - 2) * s.bar_m
    pane = (high[1] - low[1] - solid) / rows
    meet = low[1] + s.bottom_rail_m + opening.lower_lights[1] * (pane + s.bar_m) - s.bar_m
    inner = reveal_m + s.thickness_m + s.parting_m
    meeting = s.meeting_rail_m
    lower = sash(
        low, np.array([high[0], meet + meeting]), opening.lower_lights, s.bottom_rail_m, meeting
    )
    upper = sash(np.array([low[0], meet]), high, opening.upper_lights, meeting, s.stile_m)
    if pane < s.bar_m or (high[0] - low[0]) < 2 * s.stile_m + opening.lower_lights[0] * 2 * s.bar_m:
        raise ValueError(
            f"{opening.name}: {opening.width_m:.2f} x {opening.height_m:.2f} m is too small "
            f"for its lights"
        )
    sets = [(lower, inner), (upper, reveal_m)]
    wood = merged(pair[0].shifted(y_m=y) for pair, y in sets)
    return wood, merged(pair[1].shifted(y_m=y) for pair, y in sets)

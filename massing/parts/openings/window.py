"""A window: stone sill or threshold, casing, frame, hung sashes or casement leaves, and glass.

Everything is in the wall's own frame: x right as seen from outside, y into the wall, z up,
origin at the middle of the opening's foot on the wall's outer face.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from massing.design.opening import FloorWindow, WindowOpening
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, prism
from massing.parts.openings.glazing import glazed
from massing.parts.openings.joinery import (
    casing,
    grid_plate,
    raised_panel,
    sash,
    surround,
    threshold,
)
from massing.parts.part import Part
from massing.practice.joinery_sizes import (
    SASH,
    SILL_HEIGHT_M,
    SILL_PROJECTION_M,
    SILL_WASH,
    THRESHOLD_M,
    joinery_size,
    sill_length,
)
from massing.settingout.sashes import (
    casement_leaves,
    daylights,
    hung_sashes,
    lights_across,
    upper_lights,
)
from massing.units import INCH_M

_ACROSS, _UP = (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)
_SLAT_M = (
    joinery_size("louvre.depth"),
    joinery_size("louvre.thickness"),
    joinery_size("louvre.spacing"),
)
_HOUSED_M = 0.003
_BEAD_M = (1.0 * INCH_M, 0.375 * INCH_M)  # over the joint of a pair of leaves: practice


def windows(
    openings: Sequence[WindowOpening], frames: Floats, reveal_m: float, wall_thickness_m: float
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
        soffit = o.soffit
        lengths = (o.width_m, o.height_m, soffit.rise_m, o.panel_below_m or 0.0)
        made = (soffit.curve, o.upper_lights, o.lower_lights, o.head, o.filling, o.leaves)
        size = (type(o), *(round(m, 6) for m in lengths), *made)
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


def window(opening: WindowOpening, reveal_m: float, wall_thickness_m: float) -> list[Part]:
    """One window in the wall's frame; its members butt or are housed 3 mm in each other.

    Double-hung sashes, one pair or three between mullions, or casement leaves, in a frame that
    follows a half-round or half-elliptical head; on a sill, or to the floor on a threshold.

    Raises:
        ValueError: the wall is too thin for the reveal and what fills the frame, or the opening
            too small for its sashes and lights.
    """
    s = SASH
    hung = opening.filling not in ("casement", "fixed", "louvre")
    front = reveal_m - s.frame_before_sash_m
    behind = s.thickness_m + s.parting_m if hung else 0.0
    back = reveal_m + s.thickness_m + behind + s.frame_before_sash_m
    if front < 0.0 or back > wall_thickness_m:
        raise ValueError(
            f"{opening.name}: a reveal of {reveal_m:.3f} m and what fills the frame need a wall of "
            f"{back:.3f} m and a reveal of {s.frame_before_sash_m:.3f} m at least"
        )
    try:
        if opening.filling == "louvre":
            filling = _louvre(opening, reveal_m)
        else:
            filling = _hung(opening, reveal_m) if hung else _casement(opening, reveal_m)
    except ValueError as fault:
        raise ValueError(
            f"{opening.name}: {opening.width_m:.2f} x {opening.height_m:.2f} m is {fault}"
        ) from None
    if isinstance(opening, FloorWindow):
        saddle = threshold(opening.width_m / 2.0, reveal_m, back)
        parts = [Part(("threshold",), "stone", saddle)]
    else:
        parts = [Part(("sill",), "trim", sill(opening.width_m, wall_thickness_m, opening.face_m))]
    if opening.face_m and isinstance(opening, FloorWindow):
        parts += surround(opening.width_m, opening.height_m, opening.soffit)
    elif opening.face_m:
        made = casing(opening.width_m, opening.height_m, soffit=opening.soffit)
        parts.append(Part(("casing",), "trim", made))
    if opening.panel_below_m is not None:
        parts.append(Part(("panel below",), "trim", panel_below(opening, opening.panel_below_m)))
    return [*parts, Part(("frame",), "trim", _frame(opening, front, back)), *filling]


def panel_below(opening: WindowOpening, height_m: float) -> Mesh:
    """A framed panel on the wall's face from under the sill, as wide as the opening.

    Raises:
        ValueError: too low or narrow for its frame.
    """
    half, top = opening.width_m / 2.0, -SILL_HEIGHT_M
    low = top - height_m
    frame = min(0.25 * height_m, 0.09)
    if frame < 0.03 or half < 3.0 * frame:
        raise ValueError(f"{opening.name}: a panel {height_m:.2f} m high is too small for a frame")
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


def _frame(opening: WindowOpening, front_m: float, back_m: float) -> Mesh:
    """Jambs, mullions, head and, on a sill, the frame's own bottom rail."""
    half, holes = opening.width_m / 2.0, daylights(opening)
    if isinstance(opening, FloorWindow):
        foot = THRESHOLD_M
        ring = [(-half, foot)]
        for hole in holes:
            ring += [(hole.left_m, foot), *map(tuple, hole.head_line[::-1]), (hole.right_m, foot)]
        outline = np.array([*ring, (half, foot), *opening.soffit.line()])
        return prism(outline, (0.0, back_m, 0.0), _ACROSS, _UP, back_m - front_m)
    outline = np.array([(-half, 0.0), (half, 0.0), *opening.soffit.line()])
    rings = [hole.ring for hole in holes]
    return prism(outline, (0.0, back_m, 0.0), _ACROSS, _UP, back_m - front_m, rings)


def _hung(opening: WindowOpening, reveal_m: float) -> list[Part]:
    """Both sashes of each hole, and all panes, which are of one height in both."""
    s = SASH
    inner = reveal_m + s.thickness_m + s.parting_m
    meeting = s.meeting_rail_m
    wood, panes = [], []
    for hole in daylights(opening):
        x0, x1, crown = hole.left_m, hole.right_m, hole.top.crown_z_m
        upper, lower = (
            (lights_across(opening, hole, across), up)
            for across, up in (opening.upper_lights, opening.lower_lights)
        )
        made = hung_sashes(hole, upper, lower)
        meet = made.meet_z_m
        below = sash((x0, hole.foot_z_m), (x1, meet + meeting), lower, s.bottom_rail_m, meeting)
        if made.sight.level:
            above = sash((x0, meet), (x1, crown), upper, meeting, s.stile_m)
        else:
            outline = np.array([(x0, meet), (x1, meet), *hole.head_line])
            above = glazed(outline, upper_lights(hole, made, upper[0]))
        for (frame, glass), y in ((below, inner), (above, reveal_m)):
            wood.append(frame.shifted(y_m=y))
            panes.append(glass.shifted(y_m=y))
    return [Part(("sash",), "sash", merged(wood)), Part(("glass",), "glass", merged(panes))]


def _louvre(opening: WindowOpening, reveal_m: float) -> list[Part]:
    """Slats that shed outwards, housed in the frame, with a board behind them."""
    (hole,) = daylights(opening)
    deep, thick, spacing = _SLAT_M
    foot, crown = hole.foot_z_m, hole.top.crown_z_m
    fall = deep  # at 45 degrees
    count = max(2, int((crown - foot - fall - thick) / spacing))
    feet = foot + (crown - foot - fall - thick) * np.arange(count + 1) / count
    slats = []
    for z in feet:
        half = float(hole.top.half_at(z + fall + thick)) + _HOUSED_M
        section = [(0.0, z), (0.0, z + thick), (deep, z + fall + thick), (deep, z + fall)]
        slats.append(_along_x(np.array(section[::-1]), -half, half))
    ring = hole.ring
    board = prism(ring, (0.0, deep + thick, 0.0), _ACROSS, _UP, thick)
    return [
        Part(("slats",), "trim", merged(slats).shifted(y_m=reveal_m)),
        Part(("back board",), "trim", board.shifted(y_m=reveal_m)),
    ]


def _casement(opening: WindowOpening, reveal_m: float) -> list[Part]:
    """Leaves in one plane; a bead on one of a pair covers the joint where they meet."""
    leaves = casement_leaves(opening)
    made = [glazed(leaf.outline, leaf.lights) for leaf in leaves]
    wood = [frame for frame, _ in made]
    if len(leaves) == 2:
        outline = leaves[1].outline
        foot, top = outline[:, 1].min(), outline[:, 1].max() - 0.006
        across, out = _BEAD_M
        bead = box_between((-across / 2.0, -out, foot), (across / 2.0, 0.0, top))
        wood.append(bead)
    panes = merged(pane for _, pane in made)
    return [
        Part(("sash",), "sash", merged(wood).shifted(y_m=reveal_m)),
        Part(("glass",), "glass", panes.shifted(y_m=reveal_m)),
    ]

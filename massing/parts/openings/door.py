"""A doorway: panelled leaves, frame, threshold, transom or fanlight, sidelights, architrave.

Everything is in the wall's own frame: x right as seen from outside, y into the wall, z up,
origin at the middle of the opening's foot on the wall's outer face.
"""

from __future__ import annotations

import numpy as np

from massing.design.opening import DoorDesign, DoorOpening
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, lathe
from massing.parts.openings.fanlight import fan
from massing.parts.openings.joinery import (
    doorway_frame,
    grid_plate,
    raised_panel,
    sash,
    surround,
    threshold,
)
from massing.parts.openings.leaf import leaf
from massing.parts.part import Part
from massing.practice.joinery_sizes import LEAF, SASH, THRESHOLD_M, joinery_size
from massing.settingout.fanlights import fan_outline
from massing.settingout.leafwork import lock_height
from massing.units import INCH_M

# Common practice, no source.
_APRON_OF_LEAF = joinery_size("leaf.apron")
_STRAP_OF_LEAF, _STRAP_M = 0.5, (1.75 * INCH_M, 0.2 * INCH_M)  # length; height and thickness
_MEETING_BEAD_M = (1.25 * INCH_M, 0.375 * INCH_M)  # over the joint of a pair: face, thickness

Cell = tuple[float, float, float, float]  # x0, x1, z0, z1


def door(opening: DoorOpening, reveal_m: float, wall_thickness_m: float) -> list[Part]:
    """A doorway's joinery in the wall's frame.

    The opening's width and height hold everything: leaves, jambs, and the lights if any. Under
    a fanlight the opening's curve is the fan's, a jamb's width outside it; over sidelights the
    fan spans them all.

    Raises:
        ValueError: leaves, frame and lights do not fit the opening, or the wall is too thin.
    """
    work = opening.door
    half, height = opening.width_m / 2.0, opening.height_m
    front = reveal_m - SASH.frame_before_sash_m
    back = min(reveal_m + LEAF.thickness_m + 2.0 * INCH_M, wall_thickness_m)
    if front < 0.0 or back - reveal_m < LEAF.thickness_m:
        raise ValueError(f"{opening.name}: the wall is too thin for a reveal and a door leaf")
    cells = _cells(opening)
    parts = [Part(("threshold",), "stone", threshold(half, reveal_m, back))]
    if opening.face_m:
        parts += surround(opening.width_m, height, opening.soffit)
    fans = [] if work.fanlight == "none" else [_fan_ring(opening, work)]
    frame = doorway_frame(half, height, list(cells.values()), front, back, opening.soffit, fans)
    return [
        *parts,
        Part(("frame",), "trim", frame),
        *_leaves(opening, work, reveal_m),
        *_lights(cells, reveal_m, opening.leaf_height_m),
        *_fanlight(opening, work, reveal_m),
    ]


def _cells(opening: DoorOpening) -> dict[str, Cell]:
    """What the frame is open for, straight-sided: leaves, sidelights, transom."""
    half, height, jamb = opening.width_m / 2.0, opening.height_m, SASH.jamb_face_m
    limit = opening.soffit.springing_z_m
    foot = THRESHOLD_M
    top = foot + opening.leaf_height_m + 2.0 * LEAF.clear_m
    leaf_half = opening.leaf_width_m / 2.0 + LEAF.clear_m
    cells = {"leaf": (-leaf_half, leaf_half, foot, top)}
    if opening.sidelights:
        inner, outer = leaf_half + LEAF.mullion_m, half - jamb
        cells["left light"] = (-outer, -inner, foot, top)
        cells["right light"] = (inner, outer, foot, top)
    side = half - jamb if opening.sidelights else leaf_half
    if opening.transom:
        cells["transom"] = (-side, side, top + LEAF.mullion_m, limit - jamb)
    for name, (x0, x1, z0, z1) in cells.items():
        if min(x1 - x0, z1 - z0) < 4.0 * INCH_M or max(x1, -x0) > half or z1 > limit:
            raise ValueError(
                f"{opening.name}: no room for the {name} in an opening of "
                f"{opening.width_m:.2f} x {height:.2f} m"
            )
    return cells


def _fan_size(opening: DoorOpening) -> tuple[float, float]:
    """Half width and rise of the fan within the opening's curve, as wide as what is below it."""
    half = opening.width_m / 2.0
    jamb = half - opening.leaf_width_m / 2.0 - LEAF.clear_m
    side = SASH.jamb_face_m if opening.sidelights else jamb
    return half - side, opening.soffit.rise_m - side


def _fan_ring(opening: DoorOpening, work: DoorDesign) -> Floats:
    """The frame's hole for a fanlight.

    Raises:
        ValueError: the curve leaves no room for it over the leaf.
    """
    wide, rise = _fan_size(opening)
    springing = opening.soffit.springing_z_m
    top = THRESHOLD_M + opening.leaf_height_m + 2.0 * LEAF.clear_m
    if rise < 4.0 * INCH_M or springing - SASH.stile_m < top + 1.0 * INCH_M:
        raise ValueError(
            f"{opening.name}: no room for the fanlight in an opening of "
            f"{opening.width_m:.2f} x {opening.height_m:.2f} m"
        )
    return fan_outline(wide, rise, work.fanlight_lights) + [0.0, springing]


def _leaves(opening: DoorOpening, work: DoorDesign, reveal_m: float) -> list[Part]:
    """One leaf or a pair, hung with their clearances, and a knob at the lock rail."""
    gap = LEAF.clear_m if work.leaves == 2 else 0.0
    width = (opening.leaf_width_m - gap) / work.leaves
    try:
        frame, panels, panes = leaf(
            width,
            opening.leaf_height_m,
            work.panels,
            leaves=work.leaves,
            raised=work.raised,
            glazed=work.glazed,
        )
    except ValueError as error:
        raise ValueError(f"{opening.name}: {error}") from None
    foot = THRESHOLD_M + LEAF.clear_m
    starts = [-opening.leaf_width_m / 2.0 + k * (width + gap) for k in range(work.leaves)]
    knob_z = foot + lock_height(opening.leaf_height_m)
    off = LEAF.stile_m / 2.0
    knobs = [starts[0] + width - off] if work.leaves == 1 else [-gap / 2 - off, gap / 2 + off]

    def hung(mesh: Mesh) -> Mesh:
        return merged(mesh.shifted(x, reveal_m, foot) for x in starts)

    parts = [Part(("leaf", "stiles and rails"), "door", hung(frame))]
    if panels is not None:
        parts.append(Part(("leaf", "panels"), "door", hung(panels)))
    if panes is not None:
        parts.append(Part(("leaf", "glass"), "glass", hung(panes)))
    if work.leaves == 2:
        face, out = _MEETING_BEAD_M
        bead = box_between(
            (-gap / 2.0 - 0.75 * face, reveal_m - out, foot),
            (gap / 2.0 + 0.25 * face, reveal_m, foot + opening.leaf_height_m),
        )
        parts.append(Part(("leaf", "meeting bead"), "door", bead))
    if work.panels in ("carriage", "boarded"):
        parts.append(
            Part(
                ("leaf", "strap hinges"),
                "metal",
                _straps(starts, width, opening, work).shifted(y_m=reveal_m),
            )
        )
    turned = merged(_knob().shifted(x, reveal_m, knob_z) for x in knobs)
    return [*parts, Part(("leaf", "knob"), "metal", turned)]


def _straps(starts: list[float], width_m: float, opening: DoorOpening, work: DoorDesign) -> Mesh:
    """Iron straps on the leaves' outer faces, from the jambs they hang at."""
    foot, tall = THRESHOLD_M + LEAF.clear_m, opening.leaf_height_m
    long, high, thick = _STRAP_OF_LEAF * width_m, _STRAP_M[0], _STRAP_M[1]
    made = []
    for k, x in enumerate(starts):
        from_x = x + width_m - long if k == 1 else x
        for share in (0.06, 0.94):
            z = foot + share * tall - high / 2.0
            made.append(box_between((from_x, -thick, z), (from_x + long, 0.001, z + high)))
    return merged(made)


def _knob() -> Mesh:
    """A round knob on its rose, standing out towards -y from y = 0."""
    angle = np.radians(np.linspace(-60.0, 90.0, 11))
    ball = np.column_stack([0.028 * np.cos(angle), 0.058 + 0.022 * np.sin(angle)])
    profile = np.concatenate([[(0.034, 0.0), (0.034, 0.004), (0.014, 0.008), (0.012, 0.03)], ball])
    profile[-1, 0] = 0.0
    turned = np.array([[1.0, 0, 0, 0], [0, 0, -1.0, 0], [0, 1.0, 0, 0], [0, 0, 0, 1.0]])
    return lathe(profile, 24).moved(turned)


def _fanlight(opening: DoorOpening, work: DoorDesign, reveal_m: float) -> list[Part]:
    if work.fanlight == "none":
        return []
    wide, rise = _fan_size(opening)
    try:
        wood, panes, hub = fan(wide, rise, work.fanlight_lights, work.fanlight_ring)
    except ValueError as error:
        raise ValueError(f"{opening.name}: {error}") from None
    z = opening.soffit.springing_z_m
    return [
        Part(("fanlight", "sash"), "sash", wood.shifted(0.0, reveal_m, z)),
        Part(("fanlight", "glass"), "glass", panes.shifted(0.0, reveal_m, z)),
        Part(("fanlight", "hub"), "sash", hub.shifted(0.0, reveal_m, z)),
    ]


def _lights(cells: dict[str, Cell], reveal_m: float, leaf_height_m: float) -> list[Part]:
    """Sidelights over panelled aprons, and the transom light."""
    wood, panes, panels = [], [], []
    pane = 10.0 * INCH_M
    for name, (x0, x1, z0, z1) in cells.items():
        if name == "leaf":
            continue
        sill = z0
        if name != "transom":
            sill = z0 + _APRON_OF_LEAF * leaf_height_m
            rail = SASH.stile_m
            xs = np.array([x0, x0 + rail, x1 - rail, x1])
            zs = np.array([z0, z0 + rail, sill - rail, sill])
            panels.append(grid_plate([xs, xs], [zs, zs], [0.0, SASH.thickness_m]))
            panels.append(
                raised_panel(
                    (xs[1], zs[1]), (xs[2], zs[2]), 0.005, SASH.thickness_m - 0.005, 0.6 * INCH_M
                )
            )
        across = max(1, round((x1 - x0) / pane))
        up = max(1, round((z1 - sill) / (1.25 * pane)))
        made = sash((x0, sill), (x1, z1), (across, up), SASH.stile_m, SASH.stile_m)
        wood.append(made[0])
        panes.append(made[1])
    if not wood:
        return []
    parts = [
        Part(("lights", "sash"), "sash", merged(wood).shifted(y_m=reveal_m)),
        Part(("lights", "glass"), "glass", merged(panes).shifted(y_m=reveal_m)),
    ]
    if panels:
        parts.append(Part(("lights", "aprons"), "trim", merged(panels).shifted(y_m=reveal_m)))
    return parts

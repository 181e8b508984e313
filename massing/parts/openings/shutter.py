"""Outside shutters: a pair of leaves, their hinges, and the dogs that hold them open.

Everything is in the opening's frame: x right as seen from outside, y into the wall, z up,
origin at the middle of the opening's foot on the wall's outer face.
"""

from __future__ import annotations

from math import pi

import numpy as np

from massing.design.kinds import HungShutter
from massing.design.opening import ShuttersDesign, WindowOpening
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import (
    box_between,
    lathe,
    prism,
    translations,
    turned_about_z,
    union,
)
from massing.parts.openings.joinery import grid_plate, raised_panel
from massing.parts.part import Part
from massing.practice.joinery_sizes import CASING_FASCIA_M, CASING_PROJECTION_M, SHUTTER
from massing.units import INCH_M

_OPEN_RAD = 0.05  # off flat, so that the leaf hangs free of the casing
_BACK_CLEAR_M = 0.006  # opened leaf to the casing behind it
_CLOSED_FACE_M = -0.012  # outer face of a closed leaf, before the wall's face
_BARREL_M = 0.007
_STRAP_M, _STRAP_THICK_M = 0.09, 0.003
_MIDDLE_OF_LEAF = 0.45  # height of the middle rail
_HOUSED_M = 0.004


def shutters(opening: WindowOpening, design: ShuttersDesign) -> list[Part]:
    """The shutters of one opening: a pair, or one leaf at a side.

    Each leaf is as tall as the opening and half as wide, so that the pair can close it, unless
    the design has another width; under a curved head the leaves are square and stop at the
    springing. Opened leaves fold back over the casing; a hold-back turns on the wall under each,
    low and near its outer edge, or beside its foot, its heavy tail hanging.

    Raises:
        ValueError: the opening is too small for a leaf.
    """
    width = opening.leaf_m
    sides = {"both": (-1.0, 1.0), "left": (-1.0,), "right": (1.0,)}[design.side]
    height = opening.soffit.springing_z_m - 2.0 * SHUTTER.clear_m
    if width < 3.0 * SHUTTER.stile_m or height < 12.0 * INCH_M:
        raise ValueError(f"{opening.name}: {opening.width_m:.2f} m is too narrow for shutters")
    leaf = _leaf(design.kind, width, height)
    turn = 0.0 if design.closed else pi - _OPEN_RAD
    hinge = np.array([opening.width_m / 2.0 - SHUTTER.clear_m / 2.0, _hinge_y(), SHUTTER.clear_m])
    frames, hinges = [], []
    shares = (0.12, 0.88)  # of the leaf's height
    for side in sides:
        # A leaf is drawn closed, its middle at x = 0; it turns about its outer edge.
        start = translations([(-side * width / 2.0, _CLOSED_FACE_M - _hinge_y(), 0.0)])[0]
        pivot = turned_about_z(side * turn, hinge * [side, 1.0, 1.0])
        frames.append(pivot @ start)
        # The left leaf's hinge is the right one's, turned over.
        over = np.diag([side, 1.0, side, 1.0])
        hinges += [pivot @ at @ over for at in translations([(0, 0, s * height) for s in shares])]
    barrels = translations(
        [
            (side * hinge[0], hinge[1], SHUTTER.clear_m + share * height)
            for side in sides
            for share in shares
        ]
    )
    parts = [
        Part(("shutters", "leaves"), "shutter", leaf, np.array(frames)),
        Part(("shutters", "hinges"), "metal", _hinge(), np.array(hinges)),
        Part(("shutters", "pintles"), "metal", *_pintles(opening, barrels)),
    ]
    if design.closed:
        return parts
    dogs = _hold_backs_beside if design.hold_backs == "beside" else _hold_backs
    return [*parts, dogs(opening, width, sides)]


def _pintles(opening: WindowOpening, barrels: Floats) -> tuple[Mesh, Floats]:
    """Plates that hold the hinges, on the casing's inner fascia or on the wall itself."""
    back = -CASING_FASCIA_M if opening.face_m else 0.0
    front = _hinge_y() + _BARREL_M
    # On the wall itself the plate stands beside the closed leaf, on a casing before it.
    inward = 0.003 if opening.face_m else SHUTTER.clear_m / 2.0
    half, reach = 0.0165, opening.width_m / 2.0 - inward
    plate = box_between((-half, front, -0.015), (half, back, 0.015))
    places = barrels.copy()
    places[:, 0, 3] = np.sign(barrels[:, 0, 3]) * (reach + half)
    places[:, 1, 3] = 0.0
    return plate, places


def _hinge() -> Mesh:
    """A barrel about the pin and the two straps that run from it onto a right leaf's outer face.

    The pin is the Z axis, the middle of the barrel at z = 0; the leaf closed.
    """
    face = _CLOSED_FACE_M - _hinge_y()
    angle = [(0, 0), (0, face), (-_STRAP_M, face), (-_STRAP_M, face - _STRAP_THICK_M)]
    angle += [(-_BARREL_M / 2.0, face - _STRAP_THICK_M), (-_BARREL_M / 2.0, 0)]
    straps = [
        prism(np.array(angle), (0, 0, z), (1.0, 0, 0), (0, 1.0, 0), 0.016) for z in (-0.035, 0.019)
    ]
    return union([lathe([(_BARREL_M, -0.04), (_BARREL_M, 0.04)], 12), *straps])


def _hinge_y() -> float:
    """Where the hinge's pin stands, so that the opened leaf clears the casing."""
    return -(CASING_PROJECTION_M + _BACK_CLEAR_M - _CLOSED_FACE_M) / 2.0


def _leaf(kind: HungShutter, width_m: float, height_m: float) -> Mesh:
    """One leaf, closed: middle at x = 0, foot at z = 0, outer face at y = 0."""
    s = SHUTTER
    half = width_m / 2.0
    middle = _MIDDLE_OF_LEAF * height_m
    xs = np.array([-half, -half + s.stile_m, half - s.stile_m, half])
    zs = np.array([0.0, s.bottom_rail_m, middle - s.middle_rail_m / 2.0])
    zs = np.concatenate([zs, [middle + s.middle_rail_m / 2.0, height_m - s.top_rail_m, height_m]])
    if kind == "board":
        return _boards(width_m, height_m)
    frame = grid_plate([xs, xs], [zs, zs], [0.0, s.thickness_m])
    fill = _slats if kind == "louvred" else _panel
    lights = [(zs[1], zs[2]), (zs[3], zs[4])]
    return merged([frame, *(fill(xs[1], xs[2], low, high) for low, high in lights)])


def _panel(x0: float, x1: float, z0: float, z1: float) -> Mesh:
    t = SHUTTER.thickness_m
    return raised_panel((x0, z0), (x1, z1), 0.1 * t, 0.9 * t, 1.0 * INCH_M)


def _slats(x0: float, x1: float, z0: float, z1: float) -> Mesh:
    """Fixed slats at 45 degrees, shedding outwards when the leaf is closed."""
    s = SHUTTER
    reach = s.slat_m / np.sqrt(8.0)  # half of the slat's height and depth at 45 degrees
    half_thick = s.slat_thickness_m / np.sqrt(8.0)
    depth = min(reach, s.thickness_m / 2.0 - half_thick)
    section = np.array(
        [
            (-depth - half_thick, -depth + half_thick),
            (-depth + half_thick, -depth - half_thick),
            (depth + half_thick, depth - half_thick),
            (depth - half_thick, depth + half_thick),
        ]
    ) + [s.thickness_m / 2.0, 0.0]
    room = z1 - z0 - 2.0 * (depth + half_thick)
    count = max(2, round(room / s.slat_spacing_m) + 1)
    heights = z0 + depth + half_thick + np.linspace(0.0, room, count)
    span = x1 - x0 + 2.0 * _HOUSED_M
    slat = prism(section, (x0 - _HOUSED_M, 0, 0), (0, 1.0, 0), (0, 0, 1.0), span)
    return merged(slat.shifted(z_m=z) for z in heights)


def _boards(width_m: float, height_m: float) -> Mesh:
    """Matched boards on two ledges."""
    s = SHUTTER
    count = max(2, round(width_m / (5.0 * INCH_M)))
    joints = np.linspace(-width_m / 2.0, width_m / 2.0, count + 1)[1:-1]
    cut, face = 0.006, 0.6 * s.thickness_m
    outline: list[tuple[float, float]] = [(-width_m / 2.0, 0.0)]
    for x in joints:
        outline += [(x - cut, 0.0), (x, cut), (x + cut, 0.0)]
    outline += [(width_m / 2.0, 0.0), (width_m / 2.0, face), (-width_m / 2.0, face)]
    up = np.array(outline)
    boards = prism(up, (0, 0, 0), (1.0, 0, 0), (0, 1.0, 0), height_m)
    half = width_m / 2.0 - s.stile_m / 2.0
    ledges = [
        prism(
            np.array([(-half, 0.0), (half, 0.0), (half, 0.1), (-half, 0.1)]),
            (0.0, s.thickness_m, share * height_m - 0.05),
            (1.0, 0, 0),
            (0, 0, 1.0),
            s.thickness_m - face,
        )
        for share in (0.15, 0.85)
    ]
    return merged([boards, *ledges])


def _hold_backs(opening: WindowOpening, width_m: float, sides: tuple[float, ...]) -> Part:
    """Dogs under the opened leaves, near their outer edges."""
    s = SHUTTER
    out = width_m - min(s.hold_back_from_edge_m, width_m / 4.0)
    x = opening.width_m / 2.0 + out * np.cos(_OPEN_RAD)
    z = s.clear_m - s.hold_back_below_m
    # Back face of the opened leaf where the dog stands, then the leaf's thickness.
    back = CASING_PROJECTION_M + _BACK_CLEAR_M + out * np.sin(_OPEN_RAD)
    front = back + s.thickness_m / np.cos(_OPEN_RAD) + 0.003
    return Part(
        ("shutters", "hold-backs"),
        "metal",
        _dog(front),
        translations([(k * x, 0.0, z) for k in sides]),
    )


def _hold_backs_beside(opening: WindowOpening, width_m: float, sides: tuple[float, ...]) -> Part:
    """Dogs at the side of the leaves' feet: a light arm before the leaf, the tail hanging."""
    s = SHUTTER
    x = opening.width_m / 2.0 + width_m * np.cos(_OPEN_RAD) + s.hold_back_beside_m / 2.0
    back = CASING_PROJECTION_M + _BACK_CLEAR_M + width_m * np.sin(_OPEN_RAD)
    front = back + s.thickness_m / np.cos(_OPEN_RAD) + 0.003
    arm = np.array([(0.0, 0.007), (-0.055, 0.004), (-0.055, -0.004), (0.0, -0.007)])
    tail = np.array([(-0.007, 0.0), (-0.016, -0.085), (0.016, -0.085), (0.007, 0.0)])
    hub = lathe([(0.006, 0.0), (0.006, front + 0.004)], 12)
    made = []
    for side in sides:
        turn = np.array([[1.0, 0, 0, side * x], [0, 0, -1.0, 0], [0, 1.0, 0, 0], [0, 0, 0, 1.0]])
        turn[2, 3] = s.hold_back_up_m
        at = (side * x, -front, s.hold_back_up_m)
        arms = prism(arm, at, (side, 0, 0), (0, 0, 1.0), 0.004)
        tails = prism(tail, (at[0], at[1] - 0.0045, at[2]), (side, 0, 0), (0, 0, 1.0), 0.004)
        made += [hub.moved(turn), arms, tails]
    return Part(("shutters", "hold-backs"), "metal", merged(made))


def _dog(front_m: float) -> Mesh:
    """A wrought S on a pin: a light upper arm before the leaf, a heavy tail below the pin."""
    pin = lathe([(0.006, 0.0), (0.006, front_m + 0.004)], 12)
    turn = np.array([[1.0, 0, 0, 0], [0, 0, -1.0, 0], [0, 1.0, 0, 0], [0, 0, 0, 1.0]])
    scroll = prism(_scroll(), (0.0, -front_m, 0.0), (1.0, 0, 0), (0, 0, 1.0), 0.004)
    return merged([pin.moved(turn), scroll])


def _scroll() -> Floats:
    """Outline of the S: above the pin 45 mm, below it 80 mm, thickest near its foot."""
    t = np.linspace(0.0, 1.0, 25)
    z = -0.080 + 0.125 * t
    middle = 0.013 * np.sin(2.0 * np.pi * (z + 0.02) / 0.125)
    half = 0.005 + 0.009 * np.exp(-(((z + 0.06) / 0.018) ** 2)) + 0.004 * np.exp(-((z / 0.01) ** 2))
    half[0], half[-1] = 0.004, 0.003
    right = np.column_stack([middle + half, z])
    left = np.column_stack([middle - half, z])[::-1]
    return np.concatenate([right, left])

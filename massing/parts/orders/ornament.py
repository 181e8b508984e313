"""Carved and turned ornaments of the orders, each one closed mesh in its own frame.

Ornaments that are set along a run face -Y: x along the run, -y outwards from the face they
stand on, z up. They are housed a little behind that face.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import lathe, loft

HOUSED_M = 0.002  # how far an applied ornament enters what it stands against


def slab(front: ArrayLike, back: ArrayLike) -> Mesh:
    """The solid between two grids ``(m, n, 3)`` that face each other.

    Raises:
        ValueError: the grids differ in shape.
    """
    front, back = np.asarray(front, dtype=float), np.asarray(back, dtype=float)
    if front.shape != back.shape:
        raise ValueError(f"the two grids differ: {front.shape} and {back.shape}")
    m, n, _ = front.shape
    index = np.arange(m * n).reshape(m, n)
    a, b, c, d = index[:-1, :-1], index[:-1, 1:], index[1:, 1:], index[1:, :-1]
    skin = np.concatenate(
        [np.stack([a, b, c], -1).reshape(-1, 3), np.stack([a, c, d], -1).reshape(-1, 3)]
    )
    rim = np.concatenate([index[0], index[1:, -1], index[-1, -2::-1], index[-2:0:-1, 0]])
    i, j = rim, np.roll(rim, -1)
    walls = np.concatenate(
        [np.stack([j, i, i + m * n], -1), np.stack([j, i + m * n, j + m * n], -1)]
    )
    faces = np.concatenate([skin, skin[:, ::-1] + m * n, walls])
    mesh = Mesh(np.concatenate([front.reshape(-1, 3), back.reshape(-1, 3)]), faces)
    return mesh if mesh.volume_m3 > 0 else Mesh(mesh.vertices, mesh.faces[:, ::-1])


def triglyph(width_m: float, height_m: float, projection_m: float) -> Mesh:
    """A triglyph standing on z = 0: two channels and a half channel at each edge.

    In twelfths of the width: half channel 1, flat 2, channel 2, flat 2, channel 2, flat 2,
    half channel 1 (the common division; from memory). The channels are cut to 45 degrees
    where the projection allows and end in a slope below a plain head.
    """
    unit = width_m / 12.0
    depth = min(unit, 0.9 * projection_m)
    x = np.array([-6, -5, -3, -2, -1, 1, 2, 3, 5, 6]) * unit
    cut = np.array([1, 0, 0, 1, 0, 0, 1, 0, 0, 1]) * depth
    head = 0.11 * height_m
    z = np.array([0.0, height_m - head - depth, height_m - head, height_m])
    sunk = np.array([1.0, 1.0, 0.0, 0.0])
    front = np.empty((len(z), len(x), 3))
    front[..., 0], front[..., 2] = x[None, :], z[:, None]
    front[..., 1] = -projection_m + sunk[:, None] * cut[None, :]
    back = front.copy()
    back[..., 1] = HOUSED_M
    return slab(front, back)


def gutta(top_m: float, bottom_m: float, height_m: float) -> Mesh:
    """A drop hanging from z = 0: a small cone frustum, ``top_m`` and ``bottom_m`` across."""
    return lathe([[bottom_m / 2.0, -height_m], [top_m / 2.0, 0.0]], 12)


# --- eggs and darts ------------------------------------------------------------------------

_EGG_STEPS = 18


def egg_relief(across: Floats, up: Floats) -> Floats:
    """Eggs in their shells with darts between, from -1, cut deepest, to 0, the moulding's face.

    ``across`` is the distance from an egg's middle, half a unit to either side, ``up`` from the
    moulding's foot to its head, 0 to 1.
    """
    egg = np.hypot(across / 0.27, (up - 0.62) / 0.6)  # 1 on the egg's outline
    shell = np.hypot(across / 0.43, (up - 0.66) / 0.74)
    relief = np.full_like(across, -1.0)
    relief = np.where(shell < 1.0, -0.25, relief)
    relief = np.where(egg < 1.12, -1.0, relief)
    relief = np.where(egg < 1.0, -0.9 + 0.9 * np.sqrt(np.clip(1.0 - egg**2, 0.0, 1.0)), relief)
    dart = 1.0 - np.abs(np.abs(across) - 0.5) / (0.025 + 0.05 * up)
    return np.maximum(relief, np.where(up > 0.08, -1.0 + 0.85 * np.clip(dart, 0, 1), -1.0))


def egg_and_dart(edge: ArrayLike, eggs: int) -> Mesh:
    """A turned ovolo carved with ``eggs`` eggs in their shells, a dart between each two.

    ``edge`` ``(n, 2)`` is the ovolo's profile, (radius, z) from its foot to its head. An egg
    stands on the axis at the front. The carving is cut in from the profile, and fades at
    foot and head; its proportions are common practice.
    """
    profile = np.asarray(edge, dtype=float)
    run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(profile, axis=0), axis=1))])
    s = np.linspace(0.0, 1.0, 17)
    radius, z = (np.interp(s, run / run[-1], profile[:, k]) for k in (0, 1))
    tangent = np.gradient(np.column_stack([radius, z]), axis=0)
    tangent /= np.linalg.norm(tangent, axis=1)[:, None]
    count = eggs * _EGG_STEPS
    angle = 2.0 * np.pi * np.arange(count) / count - np.pi / 2.0
    phase = (np.arange(count) / _EGG_STEPS + 0.5) % 1.0 - 0.5  # 0 in the middle of an egg
    across, up = np.meshgrid(phase, s)
    depth = 0.17 * run[-1]
    relief = egg_relief(across, up)
    fade = np.minimum(np.minimum(s / 0.08, (1.0 - s) / 0.06), 1.0)[:, None]
    lift = depth * relief * np.clip(fade, 0.0, 1.0)
    reach = radius[:, None] + lift * tangent[:, 1:]
    height = z[:, None] - lift * tangent[:, :1]
    rings = np.stack([reach * np.cos(angle), reach * np.sin(angle), height], axis=-1)
    rings[0, :, 2], rings[-1, :, 2] = z[0], z[-1]
    return loft(rings)


BEAD_AND_REEL = (
    (0.0, 0.1, 0.2, 0.27, 0.3, 0.33, 0.36, 0.4, 0.44, 0.47, 0.5),
    (1.0, 0.95, 0.77, 0.5, 0.25, 0.62, 0.8, 0.8, 0.62, 0.25, 0.25),
)
"""Half a unit of the string: the distance from a bead's middle, in units, and its thickness."""


def bead_and_reel(radius_m: float, height_m: float, middle_z_m: float, beads: int) -> Mesh:
    """A turned astragal carved as a string of long beads with two reels between each two.

    A bead stands on the axis at the front; its proportions are common practice.

    Args:
        radius_m: the string's farthest reach from the axis.
        height_m: of the astragal; the beads are as thick.
        middle_z_m: height of the string's own axis.
        beads: round the ring.
    """
    stations, half = (np.array(x) for x in BEAD_AND_REEL)
    phase = np.concatenate([stations, 1.0 - stations[-2:0:-1]])
    size = np.concatenate([half, half[-2:0:-1]])
    angle = 2.0 * np.pi * (np.arange(beads)[:, None] + phase).ravel() / beads - np.pi / 2.0
    thick = np.tile(size, beads) * height_m / 2.0
    turn = np.linspace(0.0, 2.0 * np.pi, 8, endpoint=False)
    ring = radius_m - height_m / 2.0
    reach = ring + thick[:, None] * np.cos(turn)
    z = middle_z_m + thick[:, None] * np.sin(turn)
    return loft(
        np.stack([reach * np.cos(angle)[:, None], reach * np.sin(angle)[:, None], z], -1),
        closed=True,
    )


# --- the volute ----------------------------------------------------------------------------


# Half sides of the three squares whose corners the centres are, in radii of the eye; and those
# of the fillet's second line, which leave it a quarter of the space between two turns: 1, 2/3
# and 1/3 of the eye's radius at the top.
_FIRST_LINE = (1 / 2, 1 / 3, 1 / 6)
_SECOND_LINE = (11 / 24, 7 / 24, 3 / 24)
_TOP = (9.0, 8.0)  # where each line starts, above the eye's centre


def volute_line(eye_radius_m: float, second: bool = False, steps: int = 8) -> Floats:
    """The spiral of an Ionic volute about its eye, ``(12 steps + 1, 2)`` metres, inwards.

    Twelve quarter circles whose centres are the corners of three squares, of one, two thirds
    and one third of the eye's radius (Vignola in Moxon's English, 1673, plate XVII, read: the
    eye's square divided by three from its middle); they are set on the upright through the eye
    (Goldmann's manner, as given by Chambers; from memory). The line starts level at the top,
    nine radii above the eye's centre, passes seven below it, so that the volute is sixteen
    high, and meets the eye after three turns.

    ``second`` gives the fillet's inner line. The fillet is a quarter of the space between two
    turns (the same plate, read): each step between centres is cut in four, and the second line's
    centres stand on the first of these cuts inwards.
    """
    halves = np.repeat(_SECOND_LINE if second else _FIRST_LINE, 4)
    across = np.tile([0.0, 2.0, 2.0, 0.0], 3) * halves
    upward = np.tile([1.0, 1.0, -1.0, -1.0], 3) * halves
    centres = np.column_stack([across, upward])
    shrink = np.linalg.norm(np.diff(centres, axis=0), axis=1)
    radius = _TOP[second] - halves[0] - np.concatenate([[0.0], np.cumsum(shrink)])
    line = []
    for i in range(12):
        turn = np.pi / 2.0 * (1.0 - i - np.arange(steps + (i == 11)) / steps)
        line.append(centres[i] + radius[i] * np.column_stack([np.cos(turn), np.sin(turn)]))
    return eye_radius_m * np.concatenate(line)


def volute_outline(eye_radius_m: float, steps: int = 8) -> Floats:
    """The first turn of a volute as a closed outline ``(4 steps + 1, 2)``."""
    return volute_line(eye_radius_m, steps=steps)[: 4 * steps + 1]


_CHANNEL_STEPS = 6


def volute_face(eye_radius_m: float, thickness_m: float, steps: int = 8) -> Mesh:
    """The carved face of a right-hand volute, centred on its eye, facing -Y from y = 0.

    A ribbon that winds in three turns: a flat fillet, then a hollow channel as far as the next
    turn's fillet; the eye is a low round button.
    """
    outer = volute_line(eye_radius_m, steps=steps)[:-1]
    fillet = volute_line(eye_radius_m, second=True, steps=steps)[:-1]
    turn = 4 * steps
    angle = np.arctan2(outer[-turn:, 1], outer[-turn:, 0])
    eye = eye_radius_m * np.column_stack([np.cos(angle), np.sin(angle)])
    following = np.concatenate([outer[turn:], eye])
    share = np.concatenate([[0.02], np.linspace(0.12, 1.0, _CHANNEL_STEPS)])
    channel = fillet[:, None] + share[None, :, None] * (following - fillet)[:, None]
    plan = np.concatenate([outer[:, None], fillet[:, None], channel], axis=1)
    width = np.linalg.norm(following - outer, axis=1)
    depth = np.concatenate([[0.0, 0.0], 0.05 + 0.17 * np.sin(np.pi * share)])
    front = np.stack([plan[..., 0], width[:, None] * depth[None, :], plan[..., 1]], axis=-1)
    back = front.copy()
    back[..., 1] = thickness_m
    bulge = np.linspace(0.0, np.pi / 2.0, 5)
    dome = np.column_stack([0.98 * np.cos(bulge), 0.35 * np.sin(bulge)]) * eye_radius_m
    button = lathe(np.concatenate([[[dome[0, 0], -thickness_m]], dome]), 24)
    return merged([slab(front, back), button.moved(_FACING_FRONT)])


_FACING_FRONT = np.array(
    [[1.0, 0, 0, 0], [0, 0, -1.0, 0], [0, 1.0, 0, 0], [0, 0, 0, 1.0]]
)  # turns what stands up the Z axis to face -Y


# --- flowers and brackets ------------------------------------------------------------------


def rosette(radius_m: float, depth_m: float, petals: int = 6) -> Mesh:
    """A flower facing -Y from y = 0: lobed petals round a button."""
    angle = np.linspace(0.0, 2.0 * np.pi, 12 * petals, endpoint=False)
    lobe = 0.72 + 0.28 * np.abs(np.cos(petals / 2.0 * angle)) ** 0.6
    rings = [(0.8, 0.0), (1.0, 0.35), (0.95, 0.6), (0.6, 0.75), (0.34, 0.5)]
    body = [
        np.column_stack(
            [
                radius_m * size * lobe * np.cos(angle),
                np.full_like(angle, -depth_m * lift),
                radius_m * size * lobe * np.sin(angle),
            ]
        )
        for size, lift in rings
    ]
    swell = np.linspace(0.0, np.pi / 2.0, 5)
    dome = np.column_stack([0.3 * radius_m * np.cos(swell), depth_m * (0.5 + 0.5 * np.sin(swell))])
    button = lathe(np.concatenate([[[0.3 * radius_m, 0.2 * depth_m]], dome]), 16)
    return merged([loft(body), button.moved(_FACING_FRONT)])

"""Carved and turned ornaments of the orders, each one closed mesh in its own frame.

Ornaments that are set along a run face -Y: x along the run, -y outwards from the face they
stand on, z up. They are housed a little behind that face.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import frame, lathe, loft, prism

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
    egg = np.hypot(across / 0.27, (up - 0.62) / 0.6)  # 1 on the egg's outline
    shell = np.hypot(across / 0.43, (up - 0.66) / 0.74)
    depth = 0.17 * run[-1]
    relief = np.full_like(across, -1.0)
    relief = np.where(shell < 1.0, -0.25, relief)
    relief = np.where(egg < 1.12, -1.0, relief)
    relief = np.where(egg < 1.0, -0.9 + 0.9 * np.sqrt(np.clip(1.0 - egg**2, 0.0, 1.0)), relief)
    dart = 1.0 - np.abs(np.abs(across) - 0.5) / (0.025 + 0.05 * up)
    relief = np.maximum(relief, np.where(up > 0.08, -1.0 + 0.85 * np.clip(dart, 0, 1), -1.0))
    fade = np.minimum(np.minimum(s / 0.08, (1.0 - s) / 0.06), 1.0)[:, None]
    lift = depth * relief * np.clip(fade, 0.0, 1.0)
    reach = radius[:, None] + lift * tangent[:, 1:]
    height = z[:, None] - lift * tangent[:, :1]
    rings = np.stack([reach * np.cos(angle), reach * np.sin(angle), height], axis=-1)
    rings[0, :, 2], rings[-1, :, 2] = z[0], z[-1]
    return loft(rings)


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


# --- the acanthus --------------------------------------------------------------------------

_LEAF_ALONG, _LEAF_ACROSS = 66, 25
_LOBES = 4  # to a side
# Half width along the leaf, of its widest: narrow at the root, a rounded tongue at the tip.
_ENVELOPE = (
    [0.0, 0.12, 0.3, 0.48, 0.62, 0.74, 0.84, 0.92, 0.97, 1.0],
    [0.7, 0.88, 1.0, 0.98, 0.86, 0.7, 0.62, 0.56, 0.42, 0.14],
)


def _bezier(points: ArrayLike, t: Floats) -> Floats:
    """A cubic through its four control points ``(4, 2)`` at ``t`` ``(n,)``."""
    p = np.asarray(points, dtype=float)
    u = 1.0 - t
    weights = np.column_stack([u**3, 3 * u**2 * t, 3 * u * t**2, t**3])
    return weights @ p


def _spine(height_m: float, drop_m: float, out_m: float, steps: int) -> Floats:
    """Mid-line of a leaf ``(steps, 2)`` as (out, up): up the bell, then over and down."""
    h = height_m
    rise = [(0.0, 0.0), (0.07 * h, 0.3 * h), (0.05 * h, 0.6 * h), (0.26 * out_m, 0.84 * h)]
    over = [
        (0.26 * out_m, 0.84 * h),
        (0.46 * out_m, 1.04 * h),
        (1.02 * out_m, 1.1 * h),
        (out_m, h - drop_m),
    ]
    dense = np.concatenate(
        [_bezier(rise, np.linspace(0, 1, 60)), _bezier(over, np.linspace(0, 1, 60))[1:]]
    )
    run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(dense, axis=0), axis=1))])
    at = np.linspace(0.0, run[-1], steps)
    line = np.column_stack([np.interp(at, run, dense[:, k]) for k in (0, 1)])
    line[:, 1] *= h / line[:, 1].max()
    return line


def acanthus(
    height_m: float,
    width_m: float,
    out_m: float,
    drop_m: float,
    bell_radius_m: float,
    detail: float = 1.0,
) -> Mesh:
    """An acanthus leaf on a bell, its root on z = 0, facing -Y; the axis is at the origin.

    The surface is swept along a spine that climbs the bell and turns over: a raised midrib,
    lobes parted by notches with a furrow running in from each, edges wrapped to the bell.

    Args:
        height_m: root to the top of the turn-over.
        width_m: across its widest lobes.
        out_m: tip's reach beyond the bell.
        drop_m: how far the tip hangs below the top.
        bell_radius_m: radius of the bell at the root.
        detail: share of the full fineness of its grid.
    """
    s = np.linspace(0.0, 1.0, round(detail * _LEAF_ALONG))
    w = np.linspace(-1.0, 1.0, 2 * round(detail * (_LEAF_ACROSS - 1) / 2.0) + 1)
    side = np.abs(w)[None, :]
    rank = s[:, None]
    # rows of the grid are veins: they leave the midrib and sweep up towards the edge
    vein = np.clip(rank + 0.30 * side**1.1 * (1.0 - rank) * np.minimum(rank / 0.1, 1.0), 0.0, 1.0)
    line = _spine(height_m, drop_m, out_m, 400)
    tangent = np.gradient(line, axis=0)
    tangent /= np.linalg.norm(tangent, axis=1)[:, None]
    at = vein * (len(line) - 1)
    spine, along = (
        np.stack([np.interp(at, np.arange(len(line)), a[:, k]) for k in (0, 1)], -1)
        for a in (line, tangent)
    )
    normal = np.stack([along[..., 1], -along[..., 0]], -1)  # to the side seen from without

    wave = np.pi * (_LOBES * s**0.85 + 0.25)
    lobe = np.abs(np.sin(wave))[:, None]  # 0 in the notch between two lobes
    lobe = 1.0 - (1.0 - lobe) * np.minimum(rank / 0.12, 1.0)  # whole at the root
    finger = np.abs(np.sin(3.0 * wave))[:, None]
    tongue = np.clip((rank - 0.62) / 0.2, 0.0, 1.0)  # the turned-over tip, less deeply cut
    envelope = np.interp(s, *_ENVELOPE)[:, None]
    cut = 0.5 * (1.0 - 0.6 * tongue)
    half = width_m / 2.0 * envelope * (1.0 - cut * (1.0 - lobe**0.55) - 0.07 * (1.0 - finger))
    across = half * w[None, :]
    rib = np.exp(-((side / 0.1) ** 2)) * (1.0 - 0.55 * rank)
    gutter = -np.exp(-(((side - 0.2) / 0.1) ** 2)) * (1.0 - 0.5 * rank)
    furrow = np.minimum(side / 0.3, 1.0) * (lobe - 0.7)  # an eye and its pipe to each notch
    fluted = side * (finger - 0.5) * lobe
    lift = side**2.4 * lobe * (1.0 - rank)
    relief = width_m * (0.06 * rib + 0.035 * gutter + 0.13 * furrow + 0.025 * fluted + 0.03 * lift)
    # the flanks fall back to the bell; the tongue's sides droop, on the face that looks down
    relief += width_m * side**2 * (0.15 * tongue - 0.06 * rank * (1.0 - tongue))
    thick = height_m * (0.05 - 0.024 * side) * np.ones_like(relief)

    def placed(lift: Floats) -> Floats:
        reach = bell_radius_m + spine[..., 0] + lift * normal[..., 0]
        angle = across / (bell_radius_m + 0.55 * spine[..., 0])
        return np.stack(
            [reach * np.sin(angle), -reach * np.cos(angle), spine[..., 1] + lift * normal[..., 1]],
            -1,
        )

    return slab(placed(relief + thick / 2.0), placed(relief - thick / 2.0))


# --- scrolls, stalks, flowers --------------------------------------------------------------


def scroll(
    start: ArrayLike,
    lift_m: float,
    end: ArrayLike,
    radius_m: float,
    width_m: float,
    turns: float = 1.75,
) -> Mesh:
    """A stalk that rises and rolls into a spiral, in the upright plane of two points.

    Args:
        start, end: ``(3,)`` the stalk's foot and the spiral's centre.
        lift_m: how high the stalk climbs upright before it bends.
        radius_m: the spiral's outer radius.
        width_m: the band's breadth across the plane, at the spiral; half as much at the foot.
        turns: how often the spiral winds.
    """
    start, end = np.asarray(start, dtype=float), np.asarray(end, dtype=float)
    flat = (end - start) * [1.0, 1.0, 0.0]
    run = float(np.linalg.norm(flat))
    u, side = flat / run, np.array([-flat[1], flat[0], 0.0]) / run
    rise = end[2] - start[2]
    top = (run - 0.15 * radius_m, rise + radius_m)
    stem = _bezier(
        [(0.0, 0.0), (0.02 * run, lift_m), (0.45 * run, rise + radius_m), top],
        np.linspace(0.0, 1.0, 14),
    )
    turn = np.linspace(0.0, 2.0 * np.pi * turns, int(22 * turns))
    shrink = radius_m * (0.16 / 1.0) ** (turn / turn[-1])
    coil = np.column_stack(
        [run - 0.15 * radius_m * (1 - turn / turn[-1]) + shrink * np.sin(turn),
         rise + shrink * np.cos(turn)]
    )  # fmt: skip
    line = np.concatenate([stem[:-1], coil])
    tangent = np.gradient(line, axis=0)
    tangent /= np.linalg.norm(tangent, axis=1)[:, None]
    normal = np.column_stack([-tangent[:, 1], tangent[:, 0]])
    share = np.linspace(0.0, 1.0, len(line))
    breadth = width_m * np.interp(share, [0.0, 0.4, 1.0], [0.55, 1.0, 0.8])
    thick = radius_m * np.interp(share, [0.0, 0.3, 0.6, 1.0], [0.3, 0.3, 0.26, 0.12])
    section = np.array(
        [(-0.5, 0.5), (-0.3, 0.2), (0.3, 0.2), (0.5, 0.5), (0.5, -0.5), (-0.5, -0.5)]
    )
    plane = line[:, None, :] + section[None, :, 1:] * (thick[:, None] * normal)[:, None, :]
    sideways = section[None, :, 0] * breadth[:, None]
    points = (
        start
        + plane[..., :1] * u
        + sideways[..., None] * side
        + plane[..., 1:] * np.array([0.0, 0.0, 1.0])
    )
    return loft(points)


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


def modillion(width_m: float, length_m: float, height_m: float) -> Mesh:
    """A scrolled bracket hanging from z = 0, its root on y = 0, reaching to -Y.

    Deep at the wall, shallow at the outer end, with a roll at each and a leaf beneath.
    """
    t = np.linspace(0.0, 1.0, 17)
    front, back = 0.42 * height_m, 0.96 * height_m
    belly = _bezier(
        [(0.0, -back), (0.5 * length_m, -back), (0.45 * length_m, -0.55 * front),
         (0.86 * length_m, -front)],
        t,
    )  # fmt: skip
    nose = 0.14 * length_m
    curl = np.linspace(-np.pi / 2.0, np.pi / 2.0, 9)
    roll = np.column_stack(
        [0.86 * length_m + nose * np.cos(curl), -front / 2.0 + front / 2.0 * np.sin(curl)]
    )
    outline = np.concatenate(
        [[[0.0, 0.0], [-HOUSED_M, 0.0], [-HOUSED_M, -back]], belly[1:], roll[1:]]
    )
    body = prism(outline, (width_m / 2.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0), width_m)
    rolls = [
        _roll(0.42 * front, width_m, (0.86 * length_m, front / 2.0)),
        _roll(0.36 * back, width_m, (0.42 * back, 0.52 * back)),
    ]
    # the leaf lies along the underside: it grows outwards and faces down
    flat = 40.0 * width_m
    leaf = acanthus(0.84 * length_m, 0.84 * width_m, 0.5 * front, 0.3 * front, flat, detail=0.5)
    fall = np.arctan2(back - front, 0.86 * length_m)
    c, s = np.cos(fall), np.sin(fall)
    lay = frame(
        (0.0, flat * s - 0.03 * length_m, flat * c - back),
        (1.0, 0.0, 0.0),
        (0.0, s, c),
        (0.0, -c, s),
    )
    return merged([body, *rolls, leaf.moved(lay)])


def _roll(radius_m: float, width_m: float, centre: tuple[float, float]) -> Mesh:
    """A roll across a bracket, standing a little proud of its two sides with a turned end.

    ``centre`` is its distance (out, down) from the bracket's root.
    """
    half, proud = width_m / 2.0, 0.04 * width_m
    end = [(1.0, half - proud), (1.0, half + 0.8 * proud), (0.9, half + 0.8 * proud), (0.7, half),
           (0.45, half + proud), (0.0, half + proud)]  # fmt: skip
    edge = np.array([(radius_m * r, x) for r, x in end])
    both = np.concatenate([(edge * [1.0, -1.0])[::-1], edge])
    out, down = centre
    turn = np.array([[0, 0, 1.0, 0], [0, 1.0, 0, -out], [-1.0, 0, 0, -down], [0, 0, 0, 1.0]])
    return lathe(both, 20).moved(turn)

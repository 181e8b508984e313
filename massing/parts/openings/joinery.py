"""Joinery that windows and doors share: architraves, sashes with bars and panes, panels.

All stand in a wall's own frame: x right as seen from outside, y into the wall, z up. The line
of a curved head is in :mod:`massing.geometry.arches`.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from massing.geometry.arches import HeadLine
from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import box_between, loft, prism, sweep
from massing.parts.part import Part
from massing.practice.joinery_sizes import (
    CASING_FASCIA_M,
    CASING_PROJECTION_M,
    FOUNDATION_PROJECTION_M,
    SASH,
    THRESHOLD_M,
    SashSections,
    casing_width,
    joinery_size,
)
from massing.settingout.lights import bar_grid

_BLOCK_OF_FACE = joinery_size("casing.plinth_block")


def casing(
    width_m: float, height_m: float, face_m: float | None = None, soffit: HeadLine | None = None
) -> Mesh:
    """An architrave of two fasciae and a fillet round jambs and head, standing on the sill.

    It follows ``soffit`` where the head is curved, ``height_m`` being then its crown's height.
    """
    section = casing_section(casing_width(width_m) if face_m is None else face_m)
    half = width_m / 2.0
    top = HeadLine(width_m, height_m) if soffit is None else soffit
    path = np.array([(half, 0.0), *top.line(), (-half, 0.0)])
    upright = np.array([[1.0, 0, 0, 0], [0, 0, -1.0, 0], [0, 1.0, 0, 0], [0, 0, 0, 1.0]])
    return sweep(section, path).moved(upright)


def casing_section(face_m: float) -> Floats:
    """A casing cut across, ``(n, 2)``: from the opening's edge outward, and out from the wall."""
    out = CASING_PROJECTION_M
    step, fillet = (out - CASING_FASCIA_M) / 2.0, 0.14 * face_m
    return np.array(
        [
            (0.0, 0.0),
            (face_m, 0.0),
            (face_m, out),
            (face_m - fillet, out),
            (face_m - 1.8 * fillet, out - step),
            (0.45 * face_m, out - step),
            (0.45 * face_m - 0.3 * step, out - 2.0 * step),
            (0.0, out - 2.0 * step),
        ]
    )


def threshold(half_m: float, reveal_m: float, back_m: float) -> Mesh:
    """A stone saddle between the jambs, weathered to the outside and let down on the wash.

    It runs ``half_m`` to each side, the sash or leaf standing ``reveal_m`` in, to ``back_m``.
    """
    out = FOUNDATION_PROJECTION_M - 0.003
    section = [(-out, -out), (0.0, 0.0), (back_m, 0.0), (back_m, THRESHOLD_M)]
    section += [(reveal_m, THRESHOLD_M), (-out, 0.4 * THRESHOLD_M)]
    return prism(
        np.array(section), (-half_m, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), 2.0 * half_m
    )


def scribed_block(x0_m: float, x1_m: float, height_m: float, out_m: float) -> Mesh:
    """A block on the wall's face at the floor, its foot scribed to the wash of the water table."""
    section = np.array([(-out_m, -out_m), (0.0, 0.0), (0.0, height_m), (-out_m, height_m)])
    return prism(section, (x0_m, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), x1_m - x0_m)


def surround(width_m: float, height_m: float, soffit: HeadLine | None = None) -> list[Part]:
    """The architrave on its plinth blocks, which are scribed to the wash below the floor.

    It follows ``soffit`` where the head is curved.
    """
    half, face = width_m / 2.0, casing_width(width_m)
    height = _BLOCK_OF_FACE * face
    out = FOUNDATION_PROJECTION_M - 0.001
    blocks = [scribed_block(x, x + face, height, out) for x in (-half - face, half)]
    top = HeadLine(width_m, height_m) if soffit is None else soffit
    architrave = casing(width_m, height_m - height, soffit=top.shifted(-height)).shifted(z_m=height)
    return [
        Part(("casing",), "trim", architrave),
        Part(("plinth blocks",), "trim", merged(blocks)),
    ]


def sash(
    low: ArrayLike,
    high: ArrayLike,
    lights: tuple[int, int],
    bottom_m: float,
    top_m: float,
    sections: SashSections = SASH,
) -> tuple[Mesh, Mesh]:
    """One sash and its panes, outer face at y = 0.

    Stiles, rails and bars are one piece: a grid whose holes widen from the glass to the outer
    face by the putty, and to the inner face by the bar's moulding.

    Args:
        low, high: corners ``(2,)`` (x, z), metres.
        lights: panes across and up.
        bottom_m, top_m: faces of the bottom and top rail.
        sections: the members' sizes.

    Returns:
        ``(wood, panes)``, each closed; panes are housed by the glass rebate.
    """
    s = sections
    (x0, z0), (x1, z1) = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    across = bar_grid(x0, x1, s.stile_m, s.stile_m, lights[0], s.bar_m)
    up = bar_grid(z0, z1, bottom_m, top_m, lights[1], s.bar_m)
    spread = (s.bar_m - s.bar_face_m) / 2.0
    layers = [0.0, s.putty_m, s.putty_m + s.glass_m, s.thickness_m]
    widen = [spread, 0.0, 0.0, spread]
    wood = grid_plate(
        [_widened(across, w) for w in widen], [_widened(up, w) for w in widen], layers
    )
    r = s.rebate_m
    panes = [
        box_between((a - r, s.putty_m, c - r), (b + r, s.putty_m + s.glass_m, d + r))
        for a, b in across[1:-1].reshape(-1, 2)
        for c, d in up[1:-1].reshape(-1, 2)
    ]
    return wood, merged(panes)


def _widened(edges: Floats, by_m: float) -> Floats:
    """The holes of a :func:`bar_grid` made wider by ``by_m`` on each side."""
    moved = edges.copy()
    moved[1:-1:2] -= by_m
    moved[2:-1:2] += by_m
    return moved


def grid_plate(xs: Sequence[Floats], zs: Sequence[Floats], ys: Sequence[float]) -> Mesh:
    """A plate with a grid of holes whose edges may differ from layer to layer.

    Args:
        xs, zs: per layer the edges along x and z; every second interval, counted from the
            second, is a hole where both are.
        ys: the layers' places, ascending (the first looks towards -y).
    """
    nx, nz, layers = len(xs[0]), len(zs[0]), len(ys)
    vertices = np.concatenate(
        [
            np.stack([*np.meshgrid(x, z), np.full((nz, nx), y)], -1).reshape(-1, 3)[:, [0, 2, 1]]
            for x, z, y in zip(xs, zs, ys, strict=True)
        ]
    )
    i, j = np.meshgrid(np.arange(nx - 1), np.arange(nz - 1))
    hole = (i % 2 == 1) & (j % 2 == 1)
    corner = i + nx * j
    quads = np.stack([corner, corner + 1, corner + 1 + nx, corner + nx], -1)[~hole]
    faces = [quads, quads[:, ::-1] + (layers - 1) * nx * nz]
    edges = np.concatenate([quads[:, [k, (k + 1) % 4]] for k in range(4)])
    both = {(int(a), int(b)) for a, b in edges}
    rim = np.array([e for e in both if (e[1], e[0]) not in both])
    for k in range(layers - 1):
        a, b = rim[:, 0] + k * nx * nz, rim[:, 1] + k * nx * nz
        faces.append(np.stack([b, a, a + nx * nz, b + nx * nz], 1))
    quad = np.concatenate(faces)
    return Mesh(vertices, np.concatenate([quad[:, [0, 1, 2]], quad[:, [0, 2, 3]]]))


def raised_panel(
    low: ArrayLike, high: ArrayLike, front_m: float, back_m: float, margin_m: float
) -> Mesh:
    """A panel raised and fielded on both faces, housed in the grooves of its frame.

    Args:
        low, high: corners ``(2,)`` (x, z) of the hole it fills.
        front_m, back_m: y of the two raised fields.
        margin_m: width of the bevel between frame and field.
    """
    low, high = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    tongue = 0.008
    thick = back_m - front_m
    edge, step = 0.3 * thick, 0.12 * thick
    rings = [
        (margin_m, 0.0),
        (margin_m, step),
        (0.0, edge),
        (-tongue, edge),
        (-tongue, thick - edge),
        (0.0, thick - edge),
        (margin_m, thick - step),
        (margin_m, thick),
    ]
    sections = []
    for inset, y in rings:
        (a, c), (b, d) = low + inset, high - inset
        y += front_m
        sections.append([(a, y, c), (b, y, c), (b, y, d), (a, y, d)])
    return loft(np.array(sections))


def doorway_frame(
    half: float,
    height: float,
    cells: list[tuple[float, float, float, float]],
    front_m: float,
    back_m: float,
    soffit: HeadLine | None = None,
    curved: Sequence[Floats] = (),
) -> Mesh:
    """Jambs, mullions, head and transom bar of a doorway, standing on the threshold.

    ``cells`` are its holes (x0, x1, z0, z1); those from the threshold up are open at the foot.
    ``curved`` are outlines of further holes, and ``soffit`` its top where that is curved.
    """
    top = HeadLine(2.0 * half, height) if soffit is None else soffit
    foot = THRESHOLD_M
    lower = sorted(c for c in cells if c[2] == foot)
    outline = [(-half, foot)]
    for x0, x1, z0, z1 in lower:
        outline += [(x0, z0), (x0, z1), (x1, z1), (x1, z0)]
    outline += [(half, foot), *(tuple(p) for p in top.line())]
    holes = [
        np.array([(x0, z0), (x1, z0), (x1, z1), (x0, z1)]) for x0, x1, z0, z1 in cells if z0 > foot
    ]
    return prism(
        np.array(outline),
        (0.0, back_m, 0.0),
        (1.0, 0.0, 0.0),
        (0.0, 0.0, 1.0),
        back_m - front_m,
        [*holes, *curved],
    )

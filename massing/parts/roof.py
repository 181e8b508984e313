"""Roof decks: hipped, lean-to with hips, flat. Coverings are laid by :mod:`massing.parts.tiles`."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from massing.mesh import Floats, Ints, Mesh, Part, merged
from massing.roofplanes import RoofPlanes, hip_planes, lean_to_planes, rectangle
from massing.solids import prism, triangulate
from massing.units import INCH_M

FASCIA_M = 6.0 * INCH_M  # practice
FLAT_SLAB_M = 2.0 * INCH_M
_FLAT_FALL = 1.0 / 48.0  # a quarter inch in the foot: common practice


def deck(planes: RoofPlanes, fascia_m: float = FASCIA_M) -> Mesh:
    """The closed body under a roof's slopes: flat underside, upright edge, slopes on top.

    Every side that is not an eave (the wall side of a lean-to) is closed upright.
    """
    rings = list(planes.slopes)
    base = min(float(r[:, 2].min()) for r in rings) - fascia_m
    points, faces = _joined(rings)
    edges = np.concatenate([faces[:, [k, (k + 1) % 3]] for k in range(3)])
    both = {(int(a), int(b)) for a, b in edges}
    rim = {a: b for a, b in both if (b, a) not in both}
    loop = [next(iter(rim))]
    while rim[loop[-1]] != loop[0]:
        loop.append(rim[loop[-1]])
    foot = points[loop] * [1.0, 1.0, 0.0] + [0.0, 0.0, base]
    n = len(points)
    i = np.array(loop)
    low = n + np.arange(len(loop))
    j, low_j = np.roll(i, -1), np.roll(low, -1)
    sides = np.concatenate([np.stack([i, low, low_j], 1), np.stack([i, low_j, j], 1)])
    _, floor = triangulate(foot[:, :2])
    return Mesh(
        np.concatenate([points, foot]), np.concatenate([faces, sides, (floor + n)[:, ::-1]])
    )


def _joined(rings: list[Floats]) -> tuple[Floats, Ints]:
    """Slopes as one open skin whose shared corners are one vertex."""
    keys: dict[tuple[float, ...], int] = {}
    faces = []
    for ring in rings:
        index = [keys.setdefault(tuple(np.round(p, 9)), len(keys)) for p in ring]
        faces += [[index[0], index[k], index[k + 1]] for k in range(1, len(index) - 1)]
    return np.array(list(keys)), np.array(faces)


def hip_roof(
    low: ArrayLike, high: ArrayLike, eaves_z_m: float, slope: float, fascia_m: float = FASCIA_M
) -> list[Part]:
    """The deck of a hipped roof; ``eaves_z_m`` is its underside at the eaves.

    The slopes to cover are ``hip_planes(low, high, eaves_z_m + fascia_m, slope)``.
    """
    planes = hip_planes(low, high, eaves_z_m + fascia_m, slope)
    return [Part("deck", "trim", deck(planes, fascia_m))]


def lean_to_hip(
    low: ArrayLike, high: ArrayLike, eaves_z_m: float, slope: float, fascia_m: float = FASCIA_M
) -> list[Part]:
    """The deck of a porch roof that leans to the house; ``eaves_z_m`` is its underside.

    The slopes to cover are ``lean_to_planes(low, high, eaves_z_m + fascia_m, slope)``.
    """
    planes = lean_to_planes(low, high, eaves_z_m + fascia_m, slope)
    return [Part("deck", "trim", deck(planes, fascia_m))]


def gable_roof(
    low: ArrayLike,
    high: ArrayLike,
    eaves_z_m: float,
    slope: float,
    walls_x_m: tuple[float, float],
    wall_thickness_m: float,
    edge_m: float = FASCIA_M,
    against: str = "",
) -> list[Part]:
    """A gabled roof with its ridge along x: deck, gable walls, barge boards.

    The slopes to cover are ``gable_planes(low, high, eaves_z_m + edge_m, slope)``.

    Args:
        low, high: plan corners ``(2,)`` of the deck, eaves to eaves and verge to verge.
        eaves_z_m: the deck's underside at the eaves; the gables stand on it.
        slope: rise over run.
        walls_x_m: outer faces of the left and right wall.
        wall_thickness_m: thickness of the gable walls.
        edge_m: upright edge of the deck.
        against: the end, left or right, where the roof runs against a wall, without a gable.

    Raises:
        ValueError: the rectangle has no area, or the verges do not pass the walls.
    """
    (x0, y0), (x1, y1) = rectangle(low, high, slope)
    left, right = walls_x_m
    ends = {"left": (x0, left), "right": (right, x1)}
    free = [name for name in ends if name != against]
    if left >= right or any(ends[name][0] >= ends[name][1] for name in free):
        raise ValueError(f"verges at {x0:.2f} and {x1:.2f} m do not pass the gables")
    middle, rise = (y0 + y1) / 2.0, slope * (y1 - y0) / 2.0
    under = [(y0, 0.0), (middle, rise), (y1, 0.0)]
    across, up = (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
    chevron = np.array(under + [(y, z + edge_m) for y, z in reversed(under)])
    parts = [Part("deck", "trim", prism(chevron, (x0, 0, eaves_z_m), across, up, x1 - x0))]
    for name, x in (("left", left), ("right", right - wall_thickness_m)):
        if name == against:
            continue
        gable = prism(np.array(under), (x, 0.0, eaves_z_m), across, up, wall_thickness_m)
        parts.append(Part(f"gable/{name}", "wall", gable))
    # A barge board hangs under the deck's end, clear of the eaves.
    deep, thick = 1.5 * edge_m + 0.1, 0.03
    foot = deep / slope
    if foot < middle - y0:
        board = [(y0 + foot, foot * slope), (middle, rise), (y1 - foot, foot * slope)]
        board += [(y1 - foot, 0.0), (middle, rise - deep), (y0 + foot, 0.0)]
        runs = [
            prism(np.array(board), (x, 0.0, eaves_z_m), across, up, thick)
            for name, x in (("left", x0), ("right", x1 - thick))
            if name in free
        ]
        parts.append(Part("barge boards", "trim", merged(runs)))
    return parts


def flat_roof(
    low: ArrayLike, high: ArrayLike, base_z_m: float, fall: float = _FLAT_FALL
) -> list[Part]:
    """A sheet-metal flat over a plan rectangle, falling from the back edge to the front.

    ``base_z_m`` is its underside; it is 2 in thick at the front.
    """
    (x0, y0), (x1, y1) = rectangle(low, high, 1.0)
    front, back = FLAT_SLAB_M, FLAT_SLAB_M + fall * (y1 - y0)
    section = np.array([(y0, 0.0), (y1, 0.0), (y1, back), (y0, front)])
    mesh = prism(section, (x0, 0.0, base_z_m), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), x1 - x0)
    return [Part("flat", "metal", mesh)]

"""People for scale as silhouettes in tone: a man, a woman, a child, cut out flat.

Each stands on the origin and faces -Y; a picture turns it to the eye. Outlines are drawn for this
purpose, in shares of the figure's height; heights are common practice, no source.
"""

from __future__ import annotations

from functools import cache

import numpy as np

from massing.geometry.mesh import Floats, Mesh, merged
from massing.geometry.solids import prism
from massing.parts.part import Part
from massing.units import FOOT_M, INCH_M

HEIGHTS_M = {
    "man": 5.0 * FOOT_M + 9.0 * INCH_M,
    "woman": 5.0 * FOOT_M + 5.0 * INCH_M,
    "child": 3.0 * FOOT_M + 9.0 * INCH_M,
}
_THICK_M = 0.012
Points = list[tuple[float, float]]


def _egg(x: float, z: float, wide: float, high: float) -> Points:
    turn = np.linspace(0.0, 2.0 * np.pi, 14, endpoint=False)
    narrow = 1.0 - 0.16 * np.clip(-np.sin(turn), 0.0, 1.0)  # towards the chin
    return list(zip(x + wide * np.cos(turn) * narrow, z + high * np.sin(turn), strict=True))


_MAN: list[Points] = [
    _egg(0.006, 0.934, 0.036, 0.054),
    [(-0.020, 0.84), (0.022, 0.84), (0.022, 0.91), (-0.018, 0.91)],
    [
        (-0.108, 0.795), (-0.085, 0.835), (-0.03, 0.868), (0.03, 0.868), (0.085, 0.835),
        (0.108, 0.795), (0.092, 0.68), (0.083, 0.60), (0.096, 0.475), (0.05, 0.462),
        (-0.05, 0.462), (-0.096, 0.475), (-0.083, 0.60), (-0.092, 0.68),
    ],
    [
        (-0.098, 0.82), (-0.130, 0.72), (-0.148, 0.63), (-0.120, 0.545), (-0.085, 0.52),
        (-0.078, 0.545), (-0.112, 0.61), (-0.098, 0.70), (-0.075, 0.80),
    ],
    [
        (0.098, 0.82), (0.130, 0.73), (0.142, 0.60), (0.140, 0.50), (0.130, 0.455),
        (0.113, 0.46), (0.112, 0.52), (0.110, 0.62), (0.092, 0.72), (0.075, 0.80),
    ],
    [
        (-0.092, 0.49), (-0.088, 0.30), (-0.074, 0.10), (-0.076, 0.035), (-0.118, 0.008),
        (-0.112, 0.0), (-0.036, 0.0), (-0.030, 0.06), (-0.020, 0.28), (0.004, 0.45),
    ],
    [
        (0.092, 0.49), (0.094, 0.30), (0.098, 0.11), (0.106, 0.04), (0.146, 0.012),
        (0.140, 0.0), (0.064, 0.0), (0.054, 0.08), (0.034, 0.28), (-0.004, 0.45),
    ],
]  # fmt: skip
_WOMAN: list[Points] = [
    _egg(0.0, 0.928, 0.036, 0.052),
    _egg(-0.026, 0.945, 0.034, 0.036),
    [(-0.017, 0.84), (0.018, 0.84), (0.016, 0.90), (-0.015, 0.90)],
    [
        (-0.083, 0.80), (-0.065, 0.832), (-0.022, 0.862), (0.022, 0.862), (0.065, 0.832),
        (0.083, 0.80), (0.066, 0.70), (0.050, 0.635), (0.070, 0.565), (0.100, 0.43),
        (0.128, 0.295), (0.06, 0.282), (-0.05, 0.282), (-0.118, 0.295), (-0.092, 0.43),
        (-0.066, 0.565), (-0.048, 0.635), (-0.064, 0.70),
    ],
    [
        (-0.074, 0.825), (-0.105, 0.72), (-0.118, 0.62), (-0.075, 0.575), (-0.045, 0.58),
        (-0.048, 0.605), (-0.088, 0.64), (-0.080, 0.72), (-0.055, 0.80),
    ],
    [(-0.085, 0.59), (-0.030, 0.59), (-0.022, 0.51), (-0.093, 0.51)],
    [
        (0.074, 0.825), (0.102, 0.72), (0.124, 0.62), (0.146, 0.52), (0.160, 0.465),
        (0.145, 0.452), (0.125, 0.51), (0.098, 0.60), (0.078, 0.71), (0.056, 0.80),
    ],
    [
        (-0.058, 0.30), (-0.052, 0.18), (-0.045, 0.06), (-0.072, 0.008), (-0.068, 0.0),
        (-0.018, 0.0), (-0.020, 0.06), (-0.012, 0.19), (-0.010, 0.30),
    ],
    [
        (0.056, 0.30), (0.064, 0.18), (0.062, 0.07), (0.088, 0.010), (0.084, 0.0),
        (0.034, 0.0), (0.034, 0.07), (0.022, 0.19), (0.010, 0.30),
    ],
]  # fmt: skip
_CHILD: list[Points] = [
    _egg(0.0, 0.905, 0.060, 0.080),
    [(-0.022, 0.78), (0.022, 0.78), (0.020, 0.85), (-0.020, 0.85)],
    [
        (-0.105, 0.735), (-0.075, 0.785), (-0.03, 0.812), (0.03, 0.812), (0.075, 0.785),
        (0.105, 0.735), (0.092, 0.60), (0.100, 0.48), (0.122, 0.375), (0.05, 0.362),
        (-0.05, 0.362), (-0.116, 0.375), (-0.098, 0.48), (-0.092, 0.60),
    ],
    [
        (-0.092, 0.775), (-0.135, 0.80), (-0.175, 0.862), (-0.205, 0.925), (-0.185, 0.935),
        (-0.150, 0.88), (-0.118, 0.835), (-0.07, 0.81),
    ],
    [
        (0.092, 0.765), (0.128, 0.66), (0.150, 0.55), (0.150, 0.49), (0.128, 0.485),
        (0.118, 0.56), (0.100, 0.65), (0.078, 0.74),
    ],
    [
        (-0.088, 0.39), (-0.080, 0.20), (-0.074, 0.06), (-0.105, 0.012), (-0.098, 0.0),
        (-0.030, 0.0), (-0.026, 0.08), (-0.016, 0.39),
    ],
    [
        (0.088, 0.39), (0.098, 0.21), (0.100, 0.07), (0.132, 0.014), (0.126, 0.0),
        (0.056, 0.0), (0.046, 0.08), (0.016, 0.39),
    ],
]  # fmt: skip
_DRAWN = {"man": _MAN, "woman": _WOMAN, "child": _CHILD}


def people() -> list[Part]:
    """Man, woman and child, each about its own foot at the origin."""
    return [Part(("setting", "people", who), f"figure/{who}", silhouette(who)) for who in HEIGHTS_M]


@cache
def silhouette(who: str) -> Mesh:
    """A figure cut out of a thin sheet, facing -Y.

    Raises:
        KeyError: not ``man``, ``woman`` or ``child``.
    """
    tall = HEIGHTS_M[who]
    cut = []
    for i, outline in enumerate(_DRAWN[who]):
        points = tall * _eased(np.array(outline))
        # Each a hair before the last, so that no two faces lie in one plane.
        back = 0.0007 * i
        cut.append(prism(points, (0.0, -back, 0.0), (1.0, 0, 0), (0, 0, 1.0), _THICK_M))
    return merged(cut)


def _eased(outline: Floats) -> Floats:
    """A closed outline with its corners cut, twice; counter-clockwise."""
    x, z = outline.T
    if float(x @ np.roll(z, -1) - z @ np.roll(x, -1)) < 0.0:
        outline = outline[::-1]
    for _ in range(2):
        after = np.roll(outline, -1, axis=0)
        cut = np.stack([0.75 * outline + 0.25 * after, 0.25 * outline + 0.75 * after], axis=1)
        outline = cut.reshape(-1, 2)
    return outline

"""Fanlights: a half-round or half-elliptical sash with bars that radiate from a hub.

The fan springs from z = 0, its hub at (0, 0); its foot rail lies below.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from massing.geometry.mesh import Floats
from massing.practice.joinery_sizes import SASH, SashSections, joinery_size

RINGS = ("none", "ring", "swags")

# Common practice, no source.
_HUB_OF_RISE = joinery_size("fanlight.hub")
_RING_AT = joinery_size("fanlight.ring")
_SAG = joinery_size("fanlight.sag")
_LEAST_LIGHT_M = 0.01
_STEPS = 8  # chords to a light's arc
LIGHT_M = joinery_size("fanlight.light")


def bow(half_m: float, rise_m: float, turn: Floats) -> Floats:
    """Points ``(n, 2)`` of a half ellipse over z = 0; ``turn`` runs from its right end, 0 to pi."""
    return np.column_stack([half_m * np.cos(turn), rise_m * np.sin(turn)])


def lights_by_rule(half_m: float, rise_m: float) -> int:
    """How many lights a fan has: about 11 in at the rim, an odd number that the hub has room for.

    >>> lights_by_rule(0.55, 0.55), lights_by_rule(1.0, 0.45)
    (7, 9)
    """
    turn = np.linspace(0.0, np.pi, 200)
    length = float(np.linalg.norm(np.diff(bow(half_m, rise_m, turn), axis=0), axis=1).sum())
    count = max(3, 2 * round((length / LIGHT_M - 1.0) / 2.0) + 1)
    hub = hub_size(half_m, rise_m)[0]
    while count > 3 and hub * bars(half_m, rise_m, count)[1] < 2.0 * SASH.bar_m:
        count -= 2
    return count


def bars(half_m: float, rise_m: float, lights: int) -> Floats:
    """Directions of the bars ``(lights + 1,)``, radians from the right.

    The first and last lie on the springing line. On a half circle all lights are alike; on a
    half ellipse the bars lie half-way between equal angles and equal lengths of rim, so that
    neither the lights at the ends nor those in the middle grow too wide.
    """
    turn = np.linspace(0.0, np.pi, 721)
    rim = bow(half_m, rise_m, turn)
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(rim, axis=0), axis=1))])
    at = np.interp(np.linspace(0.0, along[-1], lights + 1), along, turn)
    points = bow(half_m, rise_m, at)
    by_length = np.arctan2(points[:, 1], points[:, 0])
    return 0.5 * (by_length + np.linspace(0.0, np.pi, lights + 1))


def hub_size(half_m: float, rise_m: float) -> tuple[float, float]:
    """Half width and height of a fan's hub."""
    return _HUB_OF_RISE * float(np.sqrt(half_m * rise_m)), _HUB_OF_RISE * rise_m


def fan_outline(half_m: float, rise_m: float, lights: int) -> Floats:
    """A fan's outline ``(n, 2)``, counter-clockwise from the lower left, foot rail and all."""
    curve = bow(half_m, rise_m, np.linspace(0.0, np.pi, _STEPS * lights + 1))
    return np.concatenate([[(-half_m, -SASH.stile_m), (half_m, -SASH.stile_m)], curve])


def fanlight_lights(
    half: float, rise: float, count: int, ring: str = "none", s: SashSections = SASH
) -> list[Floats]:
    """What is seen of each pane of a fan that fills a half ellipse: rings, counter-clockwise.

    ``ring`` puts one ring of bars between hub and rim, or one of swags that hang from the
    radial bars.

    >>> [len(fanlight_lights(0.6, 0.4, 7, ring)) for ring in RINGS]
    [7, 14, 14]

    Raises:
        ValueError: an unknown ring, a rise over half the width, or no room for so many lights.
    """
    if ring not in RINGS:
        raise ValueError(f"{ring!r} is no fanlight's ring; allowed: {', '.join(RINGS)}")
    if not 0.0 < rise <= half + 1e-9 or count < 2:
        raise ValueError(f"a fanlight {2 * half:.3f} m wide cannot rise {rise:.3f} m")
    hub = hub_size(half, rise)
    rim = (half - s.stile_m, rise - s.stile_m)
    bands = [(hub, rim, (0.0, 0.0))]
    if ring != "none":
        bar = s.bar_m / (1.1 if ring == "swags" else 2.0)  # a swag's bar runs aslant
        middle = [low + _RING_AT * (high - low) for low, high in zip(hub, rim, strict=True)]
        sag = _SAG if ring == "swags" else 0.0
        bands = [
            (hub, (middle[0] - bar, middle[1] - bar), (0.0, sag)),
            ((middle[0] + bar, middle[1] + bar), rim, (sag, 0.0)),
        ]
    angles = bars(half, rise, count)
    foot = [0.0, *([s.bar_m / 2.0] * (count - 1)), 0.0]
    holes = []
    for inner, outer, sags in bands:
        for (a, b), (wide_a, wide_b) in zip(pairwise(angles), pairwise(foot), strict=True):
            edges = [
                _between(curve, a, b, wide_a, wide_b, sag)
                for curve, sag in zip((outer, inner), sags[::-1], strict=True)
            ]
            holes.append(np.concatenate([edges[0], edges[1][::-1]]))
    return holes


def _between(
    curve: tuple[float, float], a: float, b: float, right_m: float, left_m: float, sag: float
) -> Floats:
    """The part of a half ellipse between two bars, from the right one to the left.

    The bars' edges lie ``right_m`` and ``left_m`` inside the rays at angles ``a`` and ``b``.

    Raises:
        ValueError: the bars leave too little between them.
    """
    wide, tall = curve
    start, end = _where(wide, tall, a, right_m), _where(wide, tall, b, -left_m)
    points = bow(wide, tall, np.linspace(start, end, _STEPS + 1))
    if end <= start or float(np.linalg.norm(points[-1] - points[0])) < _LEAST_LIGHT_M:
        raise ValueError("a fanlight's bars leave no glass between them at the hub")
    hang = 1.0 - sag * np.sin(np.linspace(0.0, np.pi, _STEPS + 1))
    return points * hang[:, None]


def _where(wide: float, tall: float, angle: float, off_m: float) -> float:
    """Turn t of a half ellipse's point that lies ``off_m`` to the left of the ray at ``angle``.

    Its distance is h sin t cos(angle) - w cos t sin(angle) = R sin(t - f), where
    R cos f = h cos(angle) and R sin f = w sin(angle).
    """
    across, up = tall * np.cos(angle), wide * np.sin(angle)
    reach = float(np.hypot(across, up))
    if abs(off_m) >= reach:
        raise ValueError("a fanlight's bars leave no glass between them at the hub")
    return float(np.arctan2(up, across) + np.arcsin(off_m / reach))

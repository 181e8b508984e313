"""Every figure of a design: its proportions, and the cornice's shadow at each sun time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from massing.design.design import Design
from massing.files import slug
from massing.findings.proportion import Figure, figures
from massing.sun.angles import stepped_depth
from massing.sun.position import SunTime

_OF_AN_ORDER = (
    "order_height",
    "column_height",
    "diameter",
    "slenderness",
    "diminution",
    "entablature_height",
    "entablature_ratio",
    "cornice_projection",
    "clear_widest",
    "clear_narrowest",
)


def all_figures(design: Design, suns: Sequence[SunTime]) -> list[Figure]:
    """Proportions first, then shadows, in the scene's order of times.

    A second order standing on the first has its own rows, after those of the whole.
    """
    shadows = [figure for sun in suns for figure in shadow_figures(design, sun)]
    return [*figures(design), *shadows, *_of_upper_order(design, suns)]


def _of_upper_order(design: Design, suns: Sequence[SunTime]) -> list[Figure]:
    if design.porch.upper is None:
        return []
    above = replace(design, porch=design.porch.upper)
    own = [figure for figure in figures(above) if figure.key in _OF_AN_ORDER]
    own += [figure for sun in suns for figure in shadow_figures(above, sun)]
    return [replace(f, key=f"upper_{f.key}", name=f"Above: {_lowered(f.name)}") for f in own]


def _lowered(name: str) -> str:
    return name[:1].lower() + name[1:]


def cornice_shadow_m(design: Design, sun: SunTime) -> float | None:
    """Depth of the porch cornice's shadow on its frieze and below, metres.

    By the profile-angle rule, projection times the tangent of the profile angle, measured from
    the cornice's foot down the plane of the frieze: every arris of the cornice is tried, and the
    lowest shadow counts. ``None`` when the sun is not on the front.

    Source: vertical shadow angle, ASHRAE Fundamentals, Fenestration; see
    :func:`massing.sun.angles.stepped_depth`.
    """
    if not sun.on_front:
        return None
    reach_m, height_m = [], []
    running = 0.0
    for member in design.porch.order.cornice:
        reach_m += [member.foot, member.head]
        height_m += [running, running + member.height]
        running += member.height
    edges_y = -np.array(reach_m)
    return float(stepped_depth(edges_y, height_m, [0.0], [0.0], sun.direction)[0])


def shadow_figures(design: Design, sun: SunTime) -> list[Figure]:
    """The cornice's shadow at one sun time; nothing when the sun is not on the front."""
    depth_m = cornice_shadow_m(design, sun)
    if depth_m is None:
        return []
    order = design.porch.order
    below_m = order.frieze_height_m + order.architrave_height_m
    key = slug(sun.label).replace("-", "_")
    return [
        Figure(
            f"cornice_shadow_{key}",
            f"Cornice shadow, {sun.label}",
            depth_m,
            "length",
            "down the frieze from the cornice's foot, by the profile angle",
        ),
        Figure(
            f"cornice_shadow_share_{key}",
            "… to frieze and architrave",
            depth_m / below_m,
            "fraction",
            "of their height; 1 and more: both in shade",
        ),
    ]

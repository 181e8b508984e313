"""The cornice's shadow at each sun time, in closed form."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from massing.design.design import Design
from massing.files import slug
from massing.findings.figure import Figure
from massing.sun.angles import stepped_depth
from massing.sun.position import SunTime


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


def shadow_figures(design: Design, sun: SunTime) -> Iterator[Figure]:
    """The cornice's shadow at one sun time; nothing when the sun is not on the front."""
    depth_m = cornice_shadow_m(design, sun)
    if depth_m is None:
        return
    order = design.porch.order
    below_m = order.frieze_height_m + order.architrave_height_m
    key = slug(sun.label).replace("-", "_")
    yield Figure(
        f"cornice_shadow_{key}",
        f"Cornice shadow, {sun.label}",
        depth_m,
        "length",
        "down the frieze from the cornice's foot, by the profile angle",
    )
    yield Figure(
        f"cornice_shadow_share_{key}",
        "… to frieze and architrave",
        depth_m / below_m,
        "fraction",
        "of their height; 1 and more: both in shade",
    )

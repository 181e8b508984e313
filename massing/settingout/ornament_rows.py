"""Where ornaments stand along a run: on every column's axis, evenly between, and at corners."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from massing.canon.order import FittedOrder, Member
from massing.geometry.mesh import Floats

_LEAST_GAP = 1.4  # widths, centre to centre: nearer to an axis the corner has none of its own


def stations(
    anchors: ArrayLike, spacing_m: float, low_m: float, high_m: float, half_width_m: float = 0.0
) -> Floats:
    """Equal spacing with one on every anchor, within ``low_m`` to ``high_m``.

    Between two anchors the spacing is the nearest to ``spacing_m`` that divides the distance
    evenly; beyond the outermost it carries on with its neighbour's.

    >>> stations([1.0, 3.0], 0.9, 0.2, 4.5).tolist()
    [1.0, 2.0, 3.0, 4.0]
    """
    anchors = np.asarray(anchors, dtype=float)
    found, steps = [anchors], [spacing_m]
    if len(anchors) > 1:
        gaps = np.diff(anchors)
        counts = np.maximum(1, np.round(gaps / spacing_m)).astype(int)
        steps = list(gaps / counts)
        found += [
            a + s * np.arange(1, n) for a, s, n in zip(anchors[:-1], steps, counts, strict=True)
        ]
    down = max(0, int((anchors[0] - low_m) / steps[0]))
    up = max(0, int((high_m - anchors[-1]) / steps[-1]))
    found += [anchors[0] - steps[0] * np.arange(1, down + 1)]
    found += [anchors[-1] + steps[-1] * np.arange(1, up + 1)]
    every = np.sort(np.concatenate(found))
    slack = 1e-9
    return every[(every > low_m + half_width_m - slack) & (every < high_m - half_width_m + slack)]


def with_corners(
    anchors: ArrayLike,
    low_m: float,
    high_m: float,
    width_m: float,
    corners: tuple[bool, bool],
) -> Floats:
    """Anchors and, at each standing corner, one more whose outer side is flush with its band.

    So a modillion stands over the axis and over the corner's double dentil alike, as in the
    plates (W. R. Ware, The American Vignola, pp. 19-20). Where a column's axis is nearer to the
    corner than 1.4 widths, that one serves for both.

    >>> with_corners([1.0, 3.0], 0.0, 4.0, 0.2, (True, True)).tolist()
    [0.1, 1.0, 3.0, 3.9]
    """
    found = np.sort(np.asarray(anchors, dtype=float))
    for corner, at in zip(corners, (low_m + width_m / 2.0, high_m - width_m / 2.0), strict=True):
        within = found[(found > low_m) & (found < high_m)]
        if corner and (not len(within) or np.abs(within - at).min() > _LEAST_GAP * width_m):
            found = np.sort(np.append(found, at))
    return found


def modillions_of(order: FittedOrder) -> Member | None:
    """The member of the cornice that modillions stand on, if it has any."""
    return next((m for m in order.cornice if m.row and m.row.kind == "modillion"), None)


def corner_step_m(order: FittedOrder) -> float | None:
    """From the corner column's axis to the next modillion beyond it, where there are any.

    The frieze's face stands half the upper diameter before the axis; the last modillion's side
    is flush with the band at the corner.
    """
    member = modillions_of(order)
    if member is None or member.row is None:
        return None
    reach = order.upper_diameter_m / 2.0 + member.reach - member.row.width / 2.0
    if reach <= _LEAST_GAP * member.row.width:
        return None
    return reach / max(1, round(reach / member.row.spacing))


def bay_step_m(order: FittedOrder, axis_m: float) -> float | None:
    """The modillions' spacing between two columns ``axis_m`` apart, where there are any."""
    member = modillions_of(order)
    if member is None or member.row is None:
        return None
    return axis_m / max(1, round(axis_m / member.row.spacing))

"""Entablatures and cornices: mitred mouldings and the ornaments set along them.

A run follows the plan path of the frieze's face; outwards is to the right of travel.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from massing.canon import FittedCornice, FittedOrder, Member
from massing.canon.mouldings import stack, without_straights
from massing.geometry.mesh import Floats
from massing.geometry.solids import sweep
from massing.parts.orders.carved_mouldings import carved_mouldings, sunk
from massing.parts.orders.enrichments import enrichments
from massing.parts.orders.runs import Run, runs_along
from massing.parts.part import Part, Path


def _section(members: Sequence[Member], foot_z_m: float, back_m: float) -> Floats:
    edge = stack([sunk(m) for m in members], foot_z_m)
    top = foot_z_m + sum(m.height for m in members)
    ring = np.concatenate([edge, [[-back_m, top], [-back_m, foot_z_m]]])
    return without_straights(ring)


def _group(
    name: Path,
    members: Sequence[Member],
    foot_z_m: float,
    path: Floats,
    closed: bool,
    back_m: float,
    runs: Sequence[Run],
    before: Floats | None = None,
    after: Floats | None = None,
) -> list[Part]:
    """One group of members as a mitred moulding with its ornaments."""
    section = _section(members, foot_z_m, back_m)
    body = sweep(section, path, closed=closed, before=before, after=after)
    return [
        Part(name, "order", body),
        *enrichments(name, members, foot_z_m, runs),
        *carved_mouldings(name, members, foot_z_m, runs),
    ]


def entablature(
    order: FittedOrder,
    path: ArrayLike,
    *,
    closed: bool = False,
    back_m: float,
    column_axes: ArrayLike | None = None,
    groups: Sequence[str] = ("architrave", "frieze", "cornice"),
    before: ArrayLike | None = None,
    after: ArrayLike | None = None,
) -> list[Part]:
    """Architrave, frieze and cornice along a path, from z = 0 (the architrave's soffit) up.

    Args:
        order: the fitted order.
        path: ``(k, 2)`` plan points of the frieze's face, metres; outwards is to the right.
        closed: the path returns to its first point; an open run's ends are cut square, to
            butt a wall.
        back_m: depth behind the frieze's face.
        column_axes: ``(m, 2)`` plan points of the columns beneath, on whose axes triglyphs
            and dentils are set; without any, ornaments are set out from each run's middle.
        groups: which of the three to make; each stands at its own height.
        before, after: the plan point that another run comes from or goes on to; that end is
            then mitred to meet it.

    Raises:
        ValueError: the depth is not positive, or the path folds back on itself.
    """
    path = np.asarray(path, dtype=float)
    _check_depth(back_m)
    axes = None if column_axes is None else np.asarray(column_axes, dtype=float).reshape(-1, 2)
    ghosts = [None if p is None else np.asarray(p, dtype=float) for p in (before, after)]
    runs = runs_along(path, closed, axes, order.upper_diameter_m / 2.0, *ghosts)
    parts: list[Part] = []
    z = 0.0
    for group, members in (
        ("architrave", order.architrave),
        ("frieze", order.frieze),
        ("cornice", order.cornice),
    ):
        if group in groups:
            parts += _group(("entablature", group), members, z, path, closed, back_m, runs, *ghosts)
        z += sum(m.height for m in members)
    return parts


def cornice(
    fitted: FittedCornice,
    path: ArrayLike,
    *,
    closed: bool = False,
    back_m: float,
    before: ArrayLike | None = None,
    after: ArrayLike | None = None,
) -> list[Part]:
    """A cornice alone along a wall's face, from z = 0 up; arguments as :func:`entablature`.

    Raises:
        ValueError: the depth is not positive, or the path folds back on itself.
    """
    path = np.asarray(path, dtype=float)
    _check_depth(back_m)
    ghosts = [None if p is None else np.asarray(p, dtype=float) for p in (before, after)]
    runs = runs_along(path, closed, None, None, *ghosts)
    return _group(("cornice",), fitted.members, 0.0, path, closed, back_m, runs, *ghosts)


def _check_depth(back_m: float) -> None:
    if not back_m > 0.0:
        raise ValueError(f"the depth behind the frieze's face must be positive, got {back_m}")

"""Of many good porches a few that differ in kind, not in inches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np

from massing.design.design import Design
from massing.edit.proposals.front import standing
from massing.geometry.mesh import Floats

LEAST, MOST = 5, 8
_SAME_M = 1e-4


@dataclass(frozen=True)
class Kind:
    """What a client would call two porches different by."""

    order: str
    columns: int
    reach: str  # how high it stands: to the eaves, a storey, or lower
    roof: str
    pedestals: bool
    balustrade: bool
    side_columns: int
    windows_changed: bool
    bays: int

    @property
    def chief(self) -> tuple[object, ...]:
        """What is told of it first."""
        return self.order, self.columns, self.reach

    @property
    def character(self) -> tuple[object, ...]:
        """What is chosen for its own sake, and whose worth no measure tells."""
        return self.order, self.reach, self.roof, self.balustrade

    def unlike(self, other: Kind) -> int:
        """In how many things two kinds differ."""
        return sum(getattr(self, f.name) != getattr(other, f.name) for f in fields(self))


def kind_of(design: Design, drawn: Design) -> Kind:
    """The kind of a design, its windows against the design as drawn."""
    porch, house = design.porch, design.house
    levels = [*house.storey_floors_z_m[1:], house.wall_top_z_m]
    if abs(porch.top_z_m - levels[-1]) < _SAME_M:
        reach = "eaves"
    elif porch.top_z_m > levels[0] - _SAME_M:
        reach = "storey"
    else:
        reach = "lower"
    sizes = [
        sorted(
            {
                (o.storey or 0, round(o.height_m, 4), round(o.sill_z_m, 4))
                for o in each.house.windows
            }
        )
        for each in (design, drawn)
    ]
    return Kind(
        order=porch.order.order,
        columns=len(porch.axes_m),
        reach=reach,
        roof=porch.roof,
        pedestals=bool(porch.order.pedestal),
        balustrade=porch.balustrade is not None,
        side_columns=len(porch.return_axes_m),
        windows_changed=sizes[0] != sizes[1],
        bays=len(house.bay_centres_m),
    )


@dataclass(frozen=True)
class Cluster:
    """Designs of one kind, or near it: the one that stands for them, and how many there are."""

    chosen: int
    size: int


def clusters(values: Floats, kinds: Sequence[Kind], most: int = MOST) -> list[Cluster]:
    """Five to eight clusters of a front, each with the design that stands for it.

    Designs come in the order in which they stand by all measures (:func:`~.front.standing`). One
    that differs from every leader so far in enough things, its order, number of columns or height
    among them, leads a cluster of its own; any other joins the leader that it differs from least.
    Enough is the most things, four at the most, for which at least five clusters are found; where
    two things do not make five, five are taken that differ in anything.

    Args:
        values: ``(n, k)`` measures of the front's designs.
        kinds: of the same.
        most: of clusters.

    Returns:
        The clusters, the first led by the design that stands first.
    """
    if not len(values):
        return []
    order = np.argsort(standing(values), kind="stable")
    for apart, chief in ((4, True), (3, True), (2, True), (3, False), (2, False), (1, False)):
        enough = most if chief else min(LEAST, most)
        leaders = _leaders(order.tolist(), kinds, apart, chief, enough)
        if len(leaders) >= min(LEAST, most):
            break
    sizes = dict.fromkeys(leaders, 0)
    for index in range(len(kinds)):
        nearest = min(leaders, key=lambda leader: kinds[index].unlike(kinds[leader]))
        sizes[nearest] += 1
    return [Cluster(leader, sizes[leader]) for leader in leaders]


def _leaders(
    order: Sequence[int], kinds: Sequence[Kind], apart: int, chief: bool, most: int
) -> list[int]:
    leaders: list[int] = []
    for index in order:
        if len(leaders) == most:
            break
        own = kinds[index]
        others = [kinds[leader] for leader in leaders]
        alike = chief and any(own.chief == k.chief for k in others)
        if not alike and all(own.unlike(k) >= apart for k in others):
            leaders.append(index)
    return leaders

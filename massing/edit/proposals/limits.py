"""What a proposal may be: the scene's limits, with those of the moment laid over them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from massing.design.design import Design
from massing.scene.spec import Propose, Scene
from massing.units import FOOT_M

ORDERS = ("tuscan", "doric", "ionic", "corinthian")
"""Looked through where the scene does not say: the four that differ in their proportions."""

COLUMNS = (2, 4, 6, 8)
"""Even, so that no column stands before the door in the middle (common practice, no source)."""

LEAST_BAY_M = 8.0 * FOOT_M
"""Narrower bays are not proposed for a house that has wider ones (common practice, no source)."""

ROOFS = ("flat", "hipped", "pediment")


@dataclass(frozen=True)
class Limits:
    """What is allowed; lengths in metres, None where nothing is said.

    ``bays`` are numbers of the house's bays; ``keep`` and ``without`` hold the words of
    :class:`~massing.scene.spec.Propose`.
    """

    orders: tuple[str, ...]
    columns: tuple[int, ...]
    bays: tuple[int, ...]
    roofs: tuple[str, ...]
    width_m: float | None
    largest_diameter_m: float | None
    entablature_m: float | None
    keep: frozenset[str]
    without: frozenset[str]


def limits_of(scene: Scene, start: Design, more: Mapping[str, Any] | None = None) -> Limits:
    """The limits of a scene, with ``more`` of them (fields of the group) laid over.

    Args:
        scene: the design that proposals begin from, its limits with it.
        start: the same, resolved.
        more: as they would be written in the scene's ``propose`` group.

    Raises:
        pydantic.ValidationError: ``more`` holds what is no limit.
    """
    asked = scene.propose or Propose()
    if more:
        over = Propose.model_validate(dict(more))
        asked = asked.model_copy(
            update={name: getattr(over, name) for name in over.model_fields_set}
        )
    keep, porch = frozenset(asked.keep), start.porch
    bays = len(start.house.bay_centres_m)
    free = scene.house.rhythm == "equal" and scene.house.bay_centres is None and bays > 1
    free = free and start.house.width_m / (bays + 2) >= LEAST_BAY_M
    return Limits(
        orders=tuple(dict.fromkeys(asked.orders or ORDERS)),
        columns=tuple(
            sorted(set(asked.columns or ((len(porch.axes_m),) if "columns" in keep else COLUMNS)))
        ),
        bays=tuple(
            sorted(set(asked.bays or ((bays,) if "bays" in keep or not free else (bays, bays + 2))))
        ),
        roofs=tuple(dict.fromkeys(asked.roofs or ((porch.roof,) if "roof" in keep else ROOFS))),
        width_m=2.0 * porch.half_width_m if "width" in keep else asked.width,
        largest_diameter_m=asked.largest_diameter,
        entablature_m=asked.entablature,
        keep=keep,
        without=frozenset(asked.without),
    )

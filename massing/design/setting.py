"""What stands about the house, resolved."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace

from massing.design.kinds import DriveSide, Habit, PathKind, SettingKind

Plan = tuple[float, float, float, float]
"""Low x, low y, high x, high y, metres."""

SCENERY = "scenery"  # the note of a model that holds its scenery, written


@dataclass(frozen=True)
class HedgeDesign:
    """A clipped hedge over a plan rectangle."""

    low_m: tuple[float, float]
    high_m: tuple[float, float]
    height_m: float


@dataclass(frozen=True)
class TreeDesign:
    """A tree."""

    x_m: float
    y_m: float
    height_m: float
    spread_m: float
    habit: Habit = "oak"


@dataclass(frozen=True)
class NeighbourDesign:
    """A neighbour's house as a plain mass."""

    low_m: tuple[float, float]
    high_m: tuple[float, float]
    eaves_z_m: float
    ridge_z_m: float


@dataclass(frozen=True)
class SettingDesign:
    """What stands about the house.

    ``kind``, ``path`` and ``drive`` are for pictures alone: what they bring throws no shadow in
    any figure.
    """

    hedges: tuple[HedgeDesign, ...] = ()
    trees: tuple[TreeDesign, ...] = ()
    neighbours: tuple[NeighbourDesign, ...] = ()
    kind: SettingKind = "open country"
    path: PathKind = "gravel"
    drive: DriveSide = "none"


@dataclass(frozen=True)
class Scenery:
    """What a picture's planting is laid out by, in plain values that travel with a model.

    Attributes:
        setting: what the scene asks for.
        latitude_deg: of the site.
        along, back: the ground's slope; see ``GroundDesign``.
        blocks: plans of house and wings.
        porch: plan of the porch's floor.
        floor_m: the porch floor above the ground.
        way_m: half the width of the steps.
        way_x_m: their middle, which the path follows.
        foot_y_m: where the steps end.
        clear: plans of whatever else is to be left free, such as a side door's steps.
        figure: whether people stand for scale.
        beside: plans of side porches, which are in ``clear`` too.
        drive_x_m: the middle of the way under a porte-cochere, if there is one.
        common: plan that holds the houses and porches of all designs compared, and
        common_foot_y_m: where the farthest of their steps ends; None of a design by itself.
    """

    setting: SettingDesign
    latitude_deg: float
    along: float
    back: float
    blocks: tuple[Plan, ...]
    porch: Plan
    floor_m: float
    way_m: float
    foot_y_m: float
    clear: tuple[Plan, ...] = ()
    figure: bool = True
    way_x_m: float = 0.0
    beside: tuple[Plan, ...] = ()
    drive_x_m: float | None = None
    common: Plan | None = None
    common_foot_y_m: float | None = None

    @property
    def extent(self) -> Plan:
        """The plan by which what all designs share is set out: street, trees, neighbourhood."""
        if self.common is not None:
            return self.common
        return _round([*self.blocks, self.porch, *self.beside])

    @property
    def farthest_foot_y_m(self) -> float:
        """Where steps end at the farthest before the house."""
        return self.foot_y_m if self.common_foot_y_m is None else self.common_foot_y_m

    def written(self) -> str:
        """One line of JSON, for :meth:`read`; lengths to a tenth of a millimetre."""
        return json.dumps(_rounded(asdict(self)), sort_keys=True)

    @classmethod
    def read(cls, text: str) -> Scenery:
        """The scenery that :meth:`written` wrote."""
        values = json.loads(text)
        asked = values.pop("setting")
        setting = SettingDesign(
            tuple(
                HedgeDesign(tuple(h["low_m"]), tuple(h["high_m"]), h["height_m"])
                for h in asked.pop("hedges")
            ),
            tuple(TreeDesign(**t) for t in asked.pop("trees")),
            tuple(
                NeighbourDesign(
                    tuple(n["low_m"]), tuple(n["high_m"]), n["eaves_z_m"], n["ridge_z_m"]
                )
                for n in asked.pop("neighbours")
            ),
            **asked,
        )
        blocks, clear, beside = (
            tuple(map(tuple, values.pop(key))) for key in ("blocks", "clear", "beside")
        )
        porch, common = tuple(values.pop("porch")), values.pop("common")
        return cls(
            setting=setting,
            blocks=blocks,
            clear=clear,
            beside=beside,
            porch=porch,
            common=common and tuple(common),
            **values,
        )


def in_common(sceneries: Sequence[Scenery]) -> list[Scenery]:
    """The sceneries of designs that are compared, set out alike: by the ground all cover."""
    plan = _round([s.extent for s in sceneries])
    foot = min(s.farthest_foot_y_m for s in sceneries)
    return [replace(s, common=plan, common_foot_y_m=foot) for s in sceneries]


def _round(plans: Sequence[Plan]) -> Plan:
    """The plan that holds some plans."""
    x0, y0, x1, y1 = zip(*plans, strict=True)
    return min(x0), min(y0), max(x1), max(y1)


def _rounded(value: object) -> object:
    if isinstance(value, float):
        return round(value, 4)
    if isinstance(value, dict):
        return {key: _rounded(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(inner) for inner in value]
    return value

"""What stands about the house, resolved."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class HedgeDesign:
    """A clipped hedge over a plan rectangle."""

    low_m: tuple[float, float]
    high_m: tuple[float, float]
    height_m: float


@dataclass(frozen=True)
class TreeDesign:
    """A broad-leaved tree."""

    x_m: float
    y_m: float
    height_m: float
    spread_m: float


@dataclass(frozen=True)
class NeighbourDesign:
    """A neighbour's house as a plain mass."""

    low_m: tuple[float, float]
    high_m: tuple[float, float]
    eaves_z_m: float
    ridge_z_m: float


@dataclass(frozen=True)
class SettingDesign:
    """What stands about the house."""

    hedges: tuple[HedgeDesign, ...] = ()
    trees: tuple[TreeDesign, ...] = ()
    neighbours: tuple[NeighbourDesign, ...] = ()

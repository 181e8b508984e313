"""The limits within which better porches are looked for."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from massing.design.kinds import PorchRoof
from massing.scene.spec.openings import OrderName
from massing.scene.spec.written import PositiveLength, Strict

KeptName = Literal["windows", "bays", "height", "spacing", "columns", "depth", "roof", "width"]
LeftOutName = Literal["pedestals", "balustrade", "side columns", "pediment"]


class Propose(Strict):
    """What a proposed porch may be; what is left out is as ``massing propose`` finds it."""

    orders: list[OrderName] | None = Field(
        default=None, min_length=1, max_length=7, description="Allowed; default: four of the five"
    )
    columns: list[Annotated[int, Field(ge=2, le=16)]] | None = Field(
        default=None, min_length=1, max_length=8, description="Numbers allowed across the front"
    )
    bays: list[Annotated[int, Field(ge=1, le=15)]] | None = Field(
        default=None, min_length=1, max_length=8, description="Numbers allowed of the house's bays"
    )
    roofs: list[PorchRoof] | None = Field(
        default=None, min_length=1, max_length=3, description="Of the porch, allowed"
    )
    width: PositiveLength | None = Field(
        default=None, description="Of the porch over its entablature, at most"
    )
    largest_diameter: PositiveLength | None = Field(
        default=None, description="Of a column at its foot"
    )
    entablature: PositiveLength | None = Field(default=None, description="Its depth, as it must be")
    keep: list[KeptName] = Field(
        default_factory=list, max_length=8, description="What stays as the design it begins from"
    )
    without: list[LeftOutName] = Field(
        default_factory=list, max_length=4, description="What no proposal has"
    )

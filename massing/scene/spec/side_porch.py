"""A porch at a side of the house: to sit in, to sleep on, or to drive under."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from massing.design.kinds import Covering, PorchFill, SidePorchKind
from massing.scene.spec.openings import OrderName
from massing.scene.spec.porch import Balustrade, PorchSteps, UpperPorch
from massing.scene.spec.written import Pitch, PositiveLength, Strict


class SleepingPorch(UpperPorch):
    """An upper porch over a side porch, closed with screens or sash between its posts."""

    fill: PorchFill = Field(default="screens", description="What closes it between its posts")


class SidePorch(Strict):
    """A porch at a side wall; what is left out is as of the front porch, or by its kind."""

    side: Literal["left", "right"] = Field(description="Which side, seen from the front")
    kind: SidePorchKind = Field(
        default="porch", description="To sit in, or a porte-cochere to drive under"
    )
    back: PositiveLength | None = Field(
        default=None, description="Its middle, behind the front wall's face; default: the side's"
    )
    order: OrderName | None = Field(default=None, description="Default: the front porch's")
    columns: int | None = Field(default=None, ge=2, le=8, description="Along its outer side")
    spacing: PositiveLength | None = Field(default=None, description="Of those, axis to axis")
    depth: PositiveLength | None = Field(
        default=None,
        description="Wall face to column axis; of a porte-cochere what leaves a car its way",
    )
    height: PositiveLength | None = Field(
        default=None,
        description="Its floor to the top of its entablature; default: the front's top",
    )
    diameter: PositiveLength | None = Field(
        default=None, description="Of the shaft, as the front porch's is measured"
    )
    column_height: PositiveLength | None = Field(default=None, description="With base and capital")
    entablature: PositiveLength | None = Field(default=None, description="Whole height")
    pedestals: bool | None = Field(
        default=None, description="Each column on a pedestal; by rule those of a porte-cochere"
    )
    floor: PositiveLength | None = Field(
        default=None, description="Its floor above the ground; of a porte-cochere its kerb"
    )
    steps: PorchSteps = Field(default_factory=PorchSteps, description="The flight up to it")
    guard: Balustrade | None = Field(default=None, description="Between the columns, on the floor")
    balustrade: Balustrade | None = Field(default=None, description="Over the entablature")
    fill: PorchFill = Field(default="open", description="What closes it between its columns")
    upper: SleepingPorch | None = Field(default=None, description="A sleeping porch over it")
    roof: Literal["flat", "lean-to", "hipped", "gable"] | None = Field(
        default=None, description="Against the side wall; default: flat"
    )
    roof_pitch: Pitch | None = Field(default=None, description="Default: as the front porch's is")
    roof_covering: Covering | None = Field(
        default=None, description="Default: as on the main roof; metal where that is too flat"
    )

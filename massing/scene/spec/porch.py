"""The porch, its order and what stands on it."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from massing.design.kinds import (
    BalustradeFilling,
    Covering,
    PorchCeiling,
    PorchRoof,
    PorchShape,
    PorchWrap,
    RespondKind,
)
from massing.scene.spec.openings import OrderName, Steps
from massing.scene.spec.written import (
    CanonName,
    OrderHeight,
    Pitch,
    Place,
    PositiveLength,
    Spacing,
    Strict,
    SwitchOrLength,
)

EntasisName = Literal[
    "none", "lower third straight", "widest at a third", "from the base", "conchoid", "bent rule"
]


class Balustrade(Strict):
    """A run of balusters between pedestals, over the entablature or between the columns."""

    height: PositiveLength | None = Field(
        default=None, description="Foot of the plinth to top of the rail"
    )
    baluster_spacing: PositiveLength | None = Field(default=None, description="Axis to axis")
    panelled: bool = Field(default=False, description="A sunk panel in each pedestal's faces")
    half_balusters: bool = Field(default=False, description="A half baluster at each pedestal")
    filling: BalustradeFilling = Field(
        default="balusters", description="What stands between the pedestals"
    )


class PorchSteps(Steps):
    """The flight up to the porch, with its handrails."""

    rail: Literal["none", "iron", "wood", "by rule"] = Field(
        default="none", description="A handrail each side; by rule, iron from four risers on"
    )


class UpperPorch(Strict):
    """A second order standing on the first, with its own floor and guard."""

    order: OrderName | None = Field(default=None, description="Default: the next lighter order")
    height: OrderHeight | None = Field(
        default=None, description="Its floor to the top of its entablature; default: eaves"
    )
    diameter: PositiveLength | None = Field(
        default=None, description="Of the shaft: at its foot, or at a third where widest there"
    )
    column_height: PositiveLength | None = Field(default=None, description="With base and capital")
    entablature: PositiveLength | None = Field(default=None, description="Whole height")
    guard: Balustrade = Field(default_factory=Balustrade, description="Between its columns")


class Arcade(Strict):
    """Arches on piers behind the front's columns, by the order's own measures."""

    pier: PositiveLength | None = Field(
        default=None, description="Breadth between two arches; default: the order's"
    )
    thickness: PositiveLength | None = Field(default=None, description="The piers' depth")
    arch_height: PositiveLength | None = Field(
        default=None, description="Floor to crown; default: the order's, for the arch's width"
    )
    keystone: bool = Field(default=True, description="At each crown, up to the architrave")


class Porch(Strict):
    """The porch and its order."""

    order: OrderName = Field(
        default="tuscan", description="Which of the orders, or plain square piers"
    )
    canon: CanonName = Field(
        default="vignola",
        description="Whose proportions: vignola, ware, ...; or a file of one's own members",
    )
    shape: PorchShape = Field(
        default="straight", description="Recessed: in antis, within the house"
    )
    columns: int = Field(
        default=4,
        ge=2,
        le=16,
        description="Across the front; by rule two where four would stand too far apart",
    )
    pedestals: bool = Field(default=False, description="Each column on a pedestal")
    entasis: EntasisName | None = Field(
        default=None, description="The shaft's outline; default: the canon's"
    )
    fluted: bool | None = Field(
        default=None, description="Columns and pilasters; default: columns as the canon's, no more"
    )
    arcade: Arcade | None = Field(
        default=None, description="Arches between the columns, which stand against piers"
    )
    responds: RespondKind = Field(default="none", description="On the wall, behind the end columns")
    along: Place | None = Field(
        default=None,
        description="Where its middle stands: right of the front's middle, or a bay (`bay 2`, "
        "`bays 2 and 3`); default: the middle of the front",
    )
    spacing: Spacing | None = Field(
        default=None,
        description="Axis to axis, or a named spacing; default: the bays', or what suits the order "
        "and clears the openings",
    )
    centre_spacing: PositiveLength | None = Field(
        default=None, description="Middle pair, axis to axis"
    )
    paired: SwitchOrLength = Field(
        default=False, description="Coupled columns; a length is axis to axis within a couple"
    )
    breaking_forward: SwitchOrLength = Field(
        default=False, description="Entablature stands forward over each column; how far"
    )
    blocking_course: SwitchOrLength = Field(
        default=False, description="A plain course over the cornice; its height"
    )
    height: OrderHeight | None = Field(
        default=None, description="Porch floor to top of entablature"
    )
    diameter: PositiveLength | None = Field(
        default=None, description="Of the shaft: at its foot, or at a third where widest there"
    )
    column_height: PositiveLength | None = Field(default=None, description="With base and capital")
    entablature: PositiveLength | None = Field(default=None, description="Whole height")
    depth: PositiveLength | None = Field(default=None, description="Wall face to column axis")
    side_columns: int = Field(
        default=0, ge=0, le=8, description="On each return, between corner column and wall"
    )
    wraps: PorchWrap = Field(
        default="none",
        description="Round a corner of the house, or both, and on along its sides; its columns "
        "then follow the bays, or a spacing that is a length",
    )
    wrap_length: PositiveLength | None = Field(
        default=None, description="Front wall's face back to the last column axis of the side"
    )
    floor: PositiveLength | None = Field(default=None, description="Porch floor above ground")
    steps: PorchSteps = Field(default_factory=PorchSteps, description="The flight up to the porch")
    balustrade: Balustrade | None = Field(default=None, description="Over the entablature")
    guard: Balustrade | None = Field(default=None, description="Between the columns, on the floor")
    upper: UpperPorch | None = Field(default=None, description="A second order on the first")
    ceiling: PorchCeiling = Field(default="boards", description="Matched boards, or coffers")
    ceiling_height: PositiveLength | None = Field(
        default=None,
        description="Its underside above the porch floor; default: level with the architrave's top",
    )
    roof: PorchRoof = Field(
        default="flat",
        description="Against the wall below the eaves; or the main slope carried down over it",
    )
    roof_pitch: Pitch | None = Field(default=None, description="Default: as flat as it must be")
    roof_covering: Covering | None = Field(
        default=None,
        description="Default: as on the main roof; metal where that is too flat for it",
    )

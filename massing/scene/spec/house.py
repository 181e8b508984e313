"""The body of the house, its chimneys and wings."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from massing.design.kinds import (
    BayRoof,
    BayShape,
    Bond,
    Coursing,
    Covering,
    FoundationKind,
    GableFoot,
    Rustication,
    WallMaterial,
)
from massing.scene.spec.openings import Door, OddWindow, SideDoor, Window, WingDoor
from massing.scene.spec.roof import GableOpening
from massing.scene.spec.written import Length, Pitch, PositiveLength, Strict


class Chimney(Strict):
    """A chimney stack through the main roof."""

    along: Length = Field(description="Its middle, right of the front's middle")
    back: PositiveLength = Field(description="Its middle, behind the front wall's face")
    width: PositiveLength | None = Field(default=None, description="Along the front")
    depth: PositiveLength | None = Field(default=None, description="Front to back; by rule as wide")
    height: PositiveLength | None = Field(default=None, description="Top above the ridge")


class WingRoof(Strict):
    """The roof over a wing; what is left out is as on the main roof."""

    form: Literal["hip", "gable"] | None = Field(
        default=None, description="Of its outer end; the ridge runs into the main wall"
    )
    pitch: Pitch | None = Field(
        default=None, description="Of the wing's roof; else the main roof's"
    )
    overhang: PositiveLength | None = Field(default=None, description="Beyond the cornice")
    covering: Covering | None = Field(
        default=None, description="What the wing's roof is laid with; else the main roof's"
    )
    gable_foot: GableFoot | None = Field(
        default=None,
        description="Of one before the front as high as the main walls: where its cornice goes "
        "under its gable",
    )
    gable_opening: GableOpening | None = Field(
        default=None, description="A window or louvre in its gable"
    )


class Wing(Strict):
    """A lower block: against a side wall, set back from the front, or before the front itself."""

    side: Literal["left", "right", "both", "front"] = Field(
        description="Both: the left mirrors the right; front: before the front wall, its own "
        "front and gable with the main one's, so that the plan is an L or a T"
    )
    along: Length | None = Field(
        default=None,
        description="Of one before the front: its middle, right of the front's middle",
    )
    width: PositiveLength | None = Field(default=None, description="Along the front")
    depth: PositiveLength | None = Field(
        default=None, description="Front to back; of one before the front, how far it stands out"
    )
    set_back: PositiveLength | None = Field(
        default=None, description="Its front wall behind the main front"
    )
    floor: PositiveLength | None = Field(
        default=None,
        description="Its floor above the ground; default: the main one, or near the ground behind "
        "carriage doors",
    )
    storeys: list[PositiveLength] | None = Field(
        default=None,
        min_length=1,
        max_length=3,
        description="Floor to floor, from the main floor; before the front as high as the main "
        "walls or lower",
    )
    bays: int | None = Field(default=None, ge=1, le=15, description="Windows along its front")
    bay_spacing: PositiveLength | None = Field(
        default=None, description="Of its windows, centre to centre"
    )
    side_bays: int | None = Field(
        default=None,
        ge=0,
        le=15,
        description="At its outer end; of one before the front, along each of its sides",
    )
    windows: list[Window] | None = Field(
        default=None, max_length=3, description="Default: as on the main block"
    )
    door: WingDoor | None = Field(
        default=None, description="A door in its front, in a window's place, with steps"
    )
    cornice: PositiveLength | None = Field(default=None, description="Height of its cornice")
    roof: WingRoof = Field(default_factory=WingRoof, description="The wing's own roof")
    chimneys: list[Chimney] = Field(
        default_factory=list, max_length=2, description="Measured from the wing's own front"
    )


class BayWindow(Strict):
    """A bay window before the front, from the ground up, in a ground window's place."""

    bay: int = Field(ge=1, le=15, description="From the left, seen from outside")
    shape: BayShape = Field(
        default="canted", description="Its sides at 45 degrees, or square to the wall"
    )
    width: PositiveLength | None = Field(default=None, description="On the wall")
    depth: PositiveLength | None = Field(default=None, description="Before the wall")
    cornice: PositiveLength | None = Field(default=None, description="Height of its cornice")
    roof: BayRoof = Field(
        default="lead", description="A sheet of lead, or the main roof's covering"
    )
    pitch: Pitch | None = Field(default=None, description="Of its roof")


class House(Strict):
    """The body of the house."""

    width: PositiveLength = Field(description="Of the main block, along the front")
    depth: PositiveLength = Field(description="Of the main block, front to back")
    storeys: list[PositiveLength] = Field(
        min_length=1, max_length=3, description="Floor to floor; the top one floor to wall top"
    )
    floor: PositiveLength | None = Field(
        default=None, description="The lowest floor above the ground"
    )
    walls: WallMaterial = Field(default="stucco", description="What the outer walls are faced with")
    wall_thickness: PositiveLength | None = Field(
        default=None, description="Of the outer walls, face to face"
    )
    reveal: PositiveLength | None = Field(default=None, description="Wall face back to the sash")
    bays: int = Field(default=5, ge=1, le=15, description="Openings across the front")
    side_bays: int = Field(default=3, ge=0, le=15, description="Openings along each side")
    bay_spacing: PositiveLength | None = Field(default=None, description="Centre to centre")
    rhythm: Literal["equal", "wide centre", "paired"] = Field(
        default="equal", description="How the front's bays follow each other"
    )
    centre_bay: PositiveLength | None = Field(default=None, description="Width of a wide centre")
    pair_spacing: PositiveLength | None = Field(
        default=None, description="Centre to centre within a pair"
    )
    bay_centres: list[Length] | None = Field(
        default=None,
        min_length=1,
        max_length=15,
        description="Centres one by one, right of the front's middle, instead of a rhythm",
    )
    windows: list[Window] = Field(
        default_factory=list, max_length=3, description="One per storey; the last serves the rest"
    )
    odd_windows: list[OddWindow] = Field(
        default_factory=list,
        max_length=24,
        description="Those unlike their storey's, by wall, storey and bay; what is not said of "
        "one is as of its storey",
    )
    door: Door = Field(default_factory=Door, description="The entrance")
    side_door: SideDoor | None = Field(default=None, description="A second door, with steps")
    cornice: PositiveLength | None = Field(default=None, description="Height of the eaves cornice")
    relief: bool = Field(default=False, description="Boards, bricks or stones as built")
    bond: Bond = Field(default="running", description="Of brick in relief")
    coursing: Coursing = Field(
        default="equal", description="Courses of limestone in relief: all alike, or high and low"
    )
    rustication: Rustication = Field(
        default="none", description="Of the lowest storey, on limestone or stucco"
    )
    clapboard_exposure: PositiveLength | None = Field(
        default=None, description="Height of a board that shows, in relief"
    )
    foundation: FoundationKind = Field(
        default="concrete", description="Of the wall below the floor, and of the porch's base"
    )
    quoins: bool = Field(default=False, description="Dressed stones at the corners")
    corner_pilasters: Literal["none", "as porch", "pier", "tuscan", "doric", "mutular doric"] = (
        Field(
            default="none", description="Pilasters at the corners, by the porch's order or another"
        )
    )
    belt_courses: bool = Field(default=False, description="A band at each upper floor")
    chimneys: list[Chimney] = Field(
        default_factory=list, max_length=6, description="Stacks through the main roof"
    )
    bay_windows: list[BayWindow] = Field(
        default_factory=list, max_length=4, description="Before the front, in windows' places"
    )
    wings: list[Wing] = Field(
        default_factory=list,
        max_length=3,
        description="Lower blocks against the side walls and before the front",
    )

"""Windows and doors, the order about a doorway, the flight before it."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from massing.design.kinds import (
    Engaged,
    FanlightKind,
    FanlightRing,
    HeadName,
    HoldBacks,
    PanelPattern,
    ShutterKind,
    ShutterSide,
)
from massing.scene.spec.written import (
    LIGHTS_FORMS,
    CanonName,
    Length,
    Lights,
    PositiveLength,
    Strict,
)

OrderName = Literal["pier", "tuscan", "doric", "mutular doric", "ionic", "corinthian", "composite"]


class Window(Strict):
    """The windows of one storey."""

    width: PositiveLength | None = Field(default=None, description="Opening width")
    height: PositiveLength | None = Field(default=None, description="Opening height")
    sill: Length | None = Field(
        default=None,
        description="Opening's foot above the floor; the lowest storey's may be 0",
    )
    lights: Lights | None = Field(default=None, description=LIGHTS_FORMS)
    kind: Literal["sash", "casement", "tripartite", "french", "fixed"] = Field(
        default="sash",
        description="A tripartite window has a wide sash and two narrow between mullions; "
        "French windows open on the porch, sashes elsewhere; a fixed one does not open",
    )
    leaves: Literal[1, 2] | None = Field(default=None, description="Of a casement")
    head: HeadName = Field(default="casing", description="What frames or spans it")
    rise: PositiveLength | None = Field(
        default=None, description="Of a segmental or elliptical head"
    )
    shutters: ShutterKind = Field(
        default="none", description="Beside each window, by their filling"
    )
    shutters_closed: bool = Field(
        default=False, description="Closed over the window instead of open on the wall"
    )
    shutter_width: PositiveLength | None = Field(
        default=None, description="Of a leaf; default: half the opening, so that a pair closes it"
    )
    shutter_side: ShutterSide = Field(default="both", description="A pair, or one leaf")
    hold_backs: HoldBacks | None = Field(
        default=None,
        description="Where the dogs turn: below the leaves, or beside their feet as on windows "
        "to the floor",
    )
    panel_below: PositiveLength | None = Field(
        default=None, description="Height of a panel under the sill"
    )


class OddWindow(Window):
    """A window that differs from the others of its storey, or two or none in its place."""

    wall: Literal["front", "right", "back", "left"] = Field(
        default="front", description="Which wall it is in"
    )
    storey: int = Field(default=1, ge=1, le=3, description="Counted from the ground, which is 1")
    bay: int = Field(ge=1, le=15, description="From the left, seen from outside")
    number: Literal["one", "two", "none"] = Field(
        default="one", description="Two smaller ones in its place, or none"
    )


class Surround(Strict):
    """An order about a doorway, engaged on the wall, its entablature over the opening."""

    order: OrderName = Field(default="tuscan", description="Which order the surround has")
    canon: CanonName = Field(
        default="vignola",
        description="Whose proportions: vignola, ware, ...; or a file of one's own members",
    )
    engaged: Engaged = Field(
        default="pilasters", description="What stands on the wall beside the doorway"
    )
    pediment: bool = Field(default=False, description="In place of the level cornice")
    diameter: PositiveLength | None = Field(
        default=None, description="Of the shaft: at its foot, or at a third where widest there"
    )
    entablature: PositiveLength | None = Field(default=None, description="Whole height")
    arch: bool = Field(
        default=False,
        description="Imposts, archivolt and keystone about a round-headed door, as an arcade's",
    )


class Steps(Strict):
    """The flight up to the porch or to a door's landing."""

    width: PositiveLength | None = Field(
        default=None, description="Default: the middle bay of a porch, or a doorway's width"
    )
    riser: PositiveLength | None = Field(
        default=None, description="Height of a step, about; the flight is divided evenly"
    )
    tread: PositiveLength | None = Field(
        default=None, description="Depth of a step, nosing to nosing"
    )


class Door(Strict):
    """The entrance, in the bay before which the porch stands, or in another."""

    bay: int | None = Field(
        default=None,
        ge=1,
        le=15,
        description="From the left, seen from outside; default: where the porch's middle is",
    )
    width: PositiveLength | None = Field(default=None, description="Leaf, or both of a pair")
    height: PositiveLength | None = Field(default=None, description="Leaf height")
    leaves: Literal[1, 2] = Field(default=1, description="One leaf, or a pair")
    panels: PanelPattern = Field(
        default="six",
        description="Panels of a leaf, or of a pair; flush without any, flush with a column of "
        "lights, of boards, or a carriage door's: braced boards under lights",
    )
    panelling: Literal["raised", "flat"] = Field(
        default="raised", description="How the panels are worked"
    )
    glazed: bool = Field(default=False, description="Glass for the panels over the lock rail")
    sidelights: bool = Field(default=False, description="A glazed light each side of the leaf")
    transom: bool = Field(default=True, description="A light over the leaf, to the window heads")
    head: HeadName | None = Field(
        default=None,
        description="What frames or spans it: casing, or over a fanlight in brick or limestone "
        "an arch of the wall's",
    )
    fanlight: FanlightKind = Field(
        default="none", description="In place of a transom; elliptical over sidelights too"
    )
    fanlight_rise: PositiveLength | None = Field(
        default=None, description="Of an elliptical one, frame and all"
    )
    fanlight_lights: int | None = Field(default=None, ge=2, le=21, description="Side to side")
    fanlight_ring: FanlightRing = Field(default="none", description="Between the hub and the rim")
    surround: Surround | None = Field(default=None, description="An order about the doorway")


class WingDoor(Door):
    """A door in a wing's front, in a ground-floor window's place, with steps of its own."""

    bay: int = Field(default=1, ge=1, le=15, description="From the left, seen from outside")
    number: int = Field(
        default=1, ge=1, le=3, description="So many alike side by side from there, on the ground"
    )
    transom: bool = Field(default=False, description="A light over the leaf, to the window heads")
    landing: PositiveLength | None = Field(default=None, description="Wall to the top step's edge")
    steps: Steps = Field(default_factory=Steps, description="The flight to its landing")


class SideDoor(Door):
    """A second door in a ground-floor window's place: on the porch, or with steps of its own."""

    wall: Literal["left", "right", "back", "front"] = Field(
        description="Which wall it is in, seen from the front"
    )
    bay: int = Field(ge=1, le=15, description="From the left, seen from outside")
    transom: bool = Field(default=False, description="A light over the leaf, to the window heads")
    landing: PositiveLength | None = Field(default=None, description="Wall to the top step's edge")
    steps: Steps = Field(default_factory=Steps, description="The flight to its landing")

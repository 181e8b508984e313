"""Resolved windows and doors, the order about a doorway, the flight before it."""

from __future__ import annotations

from abc import ABC
from dataclasses import KW_ONLY, dataclass
from functools import cached_property
from typing import ClassVar, Self

from massing.canon import FittedOrder
from massing.design.kinds import (
    Engaged,
    FanlightKind,
    FanlightRing,
    Filling,
    HeadName,
    HoldBacks,
    HungShutter,
    OpeningKind,
    PanelPattern,
    RailKind,
    ShutterSide,
    Wall,
    WingSide,
)
from massing.geometry.arches import Curve, HeadLine
from massing.practice.joinery_sizes import (
    HEADS,
    PILASTER_OF_WIDTH,
    SHUTTER,
    SILL_HEIGHT_M,
    SURROUND_BOARD_M,
    casing_width,
    head_reach,
    shutter_leaf,
    sill_length,
)

STOREYS = ("ground", "first", "second")
"""Words for an opening's storey in messages, from the ground up."""


@dataclass(frozen=True)
class StepsDesign:
    """A flight, centred on the front or on the door that it leads to."""

    width_m: float
    risers: int
    riser_m: float
    tread_m: float
    rail: RailKind = "none"
    foot_z_m: float = 0.0  # the ground at the middle of its foot

    @property
    def run_m(self) -> float:
        """Depth of its treads, from the foot to the edge that it leads to."""
        return (self.risers - 1) * self.tread_m

    @property
    def top_z_m(self) -> float:
        """Height of what it leads to."""
        return self.foot_z_m + self.risers * self.riser_m


@dataclass(frozen=True, kw_only=True)
class LandingDesign(StepsDesign):
    """A landing before a door, and the flight to it."""

    landing_m: float  # its depth


@dataclass(frozen=True)
class SurroundDesign:
    """An order about a doorway: engaged on the wall at each side, its entablature over both."""

    order: FittedOrder
    engaged: Engaged
    axis_m: float  # middle of the doorway to the middle of a pilaster
    drop_m: float  # its foot below the opening's
    pediment_slope: float | None = None  # rise over run; None under a level cornice
    arch: bool = False  # imposts, archivolt and keystone about the round head

    @property
    def out_m(self) -> float:
        """The wall's face to the frieze's."""
        upper = self.order.upper_diameter_m
        out = upper / 2.0 if self.engaged == "half columns" else PILASTER_OF_WIDTH * upper
        return SURROUND_BOARD_M + out

    @property
    def frieze_half_m(self) -> float:
        """Middle of the doorway to the frieze's end."""
        return self.axis_m + self.order.upper_diameter_m / 2.0

    @property
    def reach_m(self) -> float:
        """Middle of the doorway to the farthest of cornice and base."""
        foot = self.axis_m + max(self.order.foot_width_m, self.order.abacus_width_m) / 2.0
        return max(self.frieze_half_m + self.order.cornice_projection_m, foot)

    @property
    def top_m(self) -> float:
        """Its top above the opening's foot."""
        level = self.order.order_height_m - self.drop_m
        if self.pediment_slope is None:
            return level
        out = self.order.cornice_projection_m
        return level + self.pediment_slope * (self.frieze_half_m + out)


SIDE_DOOR = "side door"  # what a second door is called in its row, whatever its wall
SEEN_AHEAD: dict[Wall, Wall] = {
    "front": "left",
    "right": "front",
    "back": "right",
    "left": "back",
}  # what the walls of a wing before the front are called as the house is seen


@dataclass(frozen=True)
class DoorDesign:
    """What fills and frames a doorway, beyond the sizes of its opening."""

    leaves: int = 1
    panels: PanelPattern = "six"
    raised: bool = True
    glazed: bool = False
    fanlight: FanlightKind = "none"
    fanlight_lights: int = 0  # panes from side to side
    fanlight_ring: FanlightRing = "none"
    surround: SurroundDesign | None = None
    steps: LandingDesign | None = None  # where it has steps of its own


@dataclass(frozen=True)
class ShuttersDesign:
    """Outside shutters of a window."""

    kind: HungShutter
    closed: bool = False
    leaf_m: float | None = None  # width of one as drawn; else half the opening, to close it
    side: ShutterSide = "both"
    hold_backs: HoldBacks = "below"


@dataclass(frozen=True)
class CurvedHead:
    """A head that is not level; its crown is the opening's top."""

    rise_m: float  # crown above springing
    curve: Curve = "segment"  # a segment of a circle, or half an ellipse


@dataclass(frozen=True)
class Opening(ABC):
    """An opening of any kind in one wall, as the wall is seen from outside.

    ``along_m`` is the centre, to the right of the wall's middle seen from outside.
    """

    kind: ClassVar[OpeningKind]

    place: str  # in its row: "window 2", "door", "side door"
    wall: Wall
    along_m: float
    sill_z_m: float
    width_m: float
    height_m: float
    _: KW_ONLY
    head: HeadName = "casing"
    curved: CurvedHead | None = None  # None of a level head
    back_m: float = 0.0  # its wall's face behind the front's, in a recess
    storey: int | None = None  # counted from the ground's, 0; None of what stands in no storey
    wing: WingSide | None = None  # the side of the wing it is in; None in the main block

    # --- what each kind answers for itself ---

    @property
    def sill_height_m(self) -> float:
        """Depth of the stone under it, which only a window on a sill has."""
        return 0.0

    @property
    def foot_z_m(self) -> float:
        """Foot of its sill, or of what is below it, above the ground."""
        return self.sill_z_m - self.sill_height_m

    @property
    def top_z_m(self) -> float:
        """Top of all that stands over it, above the ground."""
        return self.head_z_m + head_reach(self.width_m, self.head)[1]

    @cached_property
    def reach_m(self) -> float:
        """Its middle to the farthest of sill, head, opened shutter and surround."""
        return max(self._reaches())

    def _reaches(self) -> list[float]:
        half = self.width_m / 2.0
        beside = [half + head_reach(self.width_m, self.head)[0]]
        if self.sill_height_m:
            beside.append(sill_length(self.width_m, self.face_m) / 2.0)
        return beside

    # --- what follows for all of them ---

    def at(self, place: str, wall: Wall, along_m: float, storey: int | None) -> Self:
        """The same opening in another place.

        What does not depend on the place and has been worked out goes with it, which is why it
        is not a plain ``replace``: a storey's window is put into every bay of four walls.
        """
        moved = object.__new__(type(self))
        moved.__dict__.update(self.__dict__)
        moved.__dict__.update(place=place, wall=wall, along_m=along_m, storey=storey)
        return moved

    @property
    def name(self) -> str:
        """What messages call it, e.g. ``front/ground/window 2``."""
        if self.storey is None:
            return self.place
        name = f"{self.wall_seen}/{STOREYS[self.storey]}/{self.place}"
        return f"{self.wing} wing, {name}" if self.wing else name

    @property
    def wall_seen(self) -> str:
        """The wall it is in by the main block's sides; a wing before the front is turned."""
        return SEEN_AHEAD[self.wall] if self.wing == "front" else self.wall

    @property
    def head_z_m(self) -> float:
        """The opening's top above the ground."""
        return self.sill_z_m + self.height_m

    @property
    def soffit(self) -> HeadLine:
        """The line of its top in the opening's own frame, z from its foot."""
        if self.curved is None:
            return HeadLine(self.width_m, self.height_m)
        return HeadLine(self.width_m, self.height_m, self.curved.rise_m, self.curved.curve)

    @property
    def face_m(self) -> float:
        """Face of the architrave round it; a window under an arch or lintel has none."""
        return casing_width(self.width_m) if HEADS[self.head].of == "casing" else 0.0


@dataclass(frozen=True)
class WindowOpening(Opening):
    """A window on a sill."""

    kind: ClassVar[OpeningKind] = "window"

    _: KW_ONLY
    filling: Filling = "hung"
    upper_lights: tuple[int, int] = (3, 2)  # across, up
    lower_lights: tuple[int, int] = (3, 2)
    leaves: int = 2  # of a casement
    shutters: ShuttersDesign | None = None
    panel_below_m: float | None = None  # height of a panel under the sill

    @property
    def sill_height_m(self) -> float:
        """Depth of the stone under it."""
        return SILL_HEIGHT_M

    @property
    def foot_z_m(self) -> float:
        """Foot of its sill, or of the panel below, above the ground."""
        return super().foot_z_m - (self.panel_below_m or 0.0)

    @property
    def leaf_m(self) -> float:
        """Width of a shutter's leaf: as drawn, or half the opening less the play."""
        return (self.shutters and self.shutters.leaf_m) or shutter_leaf(self.width_m)

    def _reaches(self) -> list[float]:
        """An opened shutter, and a dog beside it, stand on the wall beyond the jamb."""
        beside, shutters = super()._reaches(), self.shutters
        if shutters is not None and not shutters.closed:
            dog = SHUTTER.hold_back_beside_m if shutters.hold_backs == "beside" else 0.0
            half = self.width_m / 2.0
            beside.append(half + ((shutters.leaf_m or half) + dog))
        return beside


@dataclass(frozen=True)
class FloorWindow(WindowOpening):
    """A window down to the floor, on a threshold instead of a sill."""

    @property
    def sill_height_m(self) -> float:
        """It has no sill."""
        return 0.0


@dataclass(frozen=True)
class FrenchWindow(Opening):
    """A pair of glazed leaves down to the floor."""

    kind: ClassVar[OpeningKind] = "french"

    _: KW_ONLY
    lights: tuple[int, int]  # of each leaf, across and up


@dataclass(frozen=True)
class DoorOpening(Opening):
    """A doorway: its leaves, the lights beside and over them, and what frames it."""

    kind: ClassVar[OpeningKind] = "door"

    _: KW_ONLY
    leaf_width_m: float  # of the leaf, or of the pair of them
    leaf_height_m: float
    sidelights: bool = False
    transom: bool = False
    door: DoorDesign = DoorDesign()

    @property
    def entrance(self) -> bool:
        """Whether it is the front's own door, not a second one."""
        return self.wall == "front" and self.place != SIDE_DOOR

    @property
    def top_z_m(self) -> float:
        """Top of its casing, arch, lintel or surround above the ground."""
        top, surround = super().top_z_m, self.door.surround
        return max(top, self.sill_z_m + surround.top_m) if surround else top

    def _reaches(self) -> list[float]:
        beside = super()._reaches()
        if self.door.surround:
            beside.append(self.door.surround.reach_m)
        return beside


@dataclass(frozen=True)
class RecessMouth(Opening):
    """The front wall's opening before a recess, which holds nothing."""

    kind: ClassVar[OpeningKind] = "recess"

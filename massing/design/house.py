"""The resolved body of the house, its chimneys, its recess and its wings."""

from __future__ import annotations

from dataclasses import dataclass

from massing.canon import FittedCornice, FittedOrder
from massing.design.bay_window import BayWindowDesign
from massing.design.kinds import (
    Bond,
    Coursing,
    FoundationKind,
    Rustication,
    Side,
    WallMaterial,
    WingSide,
)
from massing.design.opening import DoorOpening, FrenchWindow, Opening, WindowOpening
from massing.design.roof import CrossGable, RoofDesign
from massing.practice.joinery_sizes import CLAPBOARD_EXPOSURE_M


@dataclass(frozen=True)
class ChimneyDesign:
    """A chimney: its stack's plan corners and its top above the ground."""

    low_m: tuple[float, float]
    high_m: tuple[float, float]
    top_z_m: float


@dataclass(frozen=True)
class RecessDesign:
    """A porch's room taken out of the house: the front wall's opening and the walls behind it."""

    opening_m: float  # half the opening of the front wall
    half_width_m: float  # its middle to the side walls' faces
    side_y_m: float  # where these begin, behind the antae
    depth_m: float  # front wall's face to the recessed wall's
    ceiling_z_m: float
    apron_m: float  # half the breadth of the floor before the front wall
    centre_m: float = 0.0  # its middle, right of the front's


@dataclass(frozen=True)
class HouseDesign:
    """The body of the house."""

    width_m: float
    depth_m: float
    wall_thickness_m: float
    reveal_m: float
    walls: WallMaterial
    floor_z_m: float
    storey_floors_z_m: tuple[float, ...]
    wall_top_z_m: float
    bay_centres_m: tuple[float, ...]
    openings: tuple[Opening, ...]
    cornice: FittedCornice  # at the wall top; its own when the porch's is not carried round
    cornice_continues_porch: bool
    relief: bool = False  # boards or bricks as built, not only as a material
    bond: Bond = "running"
    coursing: Coursing = "equal"
    rustication: Rustication = "none"
    clapboard_exposure_m: float = CLAPBOARD_EXPOSURE_M
    quoins: bool = False
    belt_courses_z_m: tuple[float, ...] = ()  # tops of the bands
    corner_pilasters: FittedOrder | None = None
    foundation: FoundationKind = "concrete"
    chimneys: tuple[ChimneyDesign, ...] = ()
    recess: RecessDesign | None = None
    wings: tuple[WingDesign, ...] = ()
    bay_windows: tuple[BayWindowDesign, ...] = ()  # before the front
    open_side: Side | None = None  # of a wing: the side that the main wall closes

    @property
    def windows(self) -> tuple[WindowOpening, ...]:
        """Its windows, French ones left out."""
        return tuple(o for o in self.openings if isinstance(o, WindowOpening))

    @property
    def french_windows(self) -> tuple[FrenchWindow, ...]:
        """Its pairs of glazed leaves to the floor."""
        return tuple(o for o in self.openings if isinstance(o, FrenchWindow))

    @property
    def doors(self) -> tuple[DoorOpening, ...]:
        """Its doors: the entrance, and a second one."""
        return tuple(o for o in self.openings if isinstance(o, DoorOpening))

    @property
    def entrance(self) -> DoorOpening | None:
        """The front's own door; None where its bays leave none."""
        return next((door for door in self.doors if door.entrance), None)

    @property
    def reach_x_m(self) -> tuple[float, float]:
        """Left and right end of the walls, wings and all."""
        half = self.width_m / 2.0
        wide = {wing.side: wing.house.width_m for wing in self.wings}
        return -half - wide.get("left", 0.0), half + wide.get("right", 0.0)


@dataclass(frozen=True)
class WingDesign:
    """A lower block against a wall of the main one: a house in its own frame, less its inner wall.

    Its frame is that of the main block, moved: the origin is on the ground at the middle of
    its own front wall's outer face. One before the front is a wing of the right side, turned a
    quarter about: what is its right wall in its own frame faces the front.
    """

    side: WingSide  # of the main block
    x_m: float  # its middle, right of the front's
    set_back_m: float  # its foremost wall behind the main front; less than 0 before it
    house: HouseDesign
    roof: RoofDesign
    gable: CrossGable | None = None  # as high as the main walls: its roof runs into the main one

    @property
    def ahead(self) -> bool:
        """Whether it stands before the front."""
        return self.side == "front"

    @property
    def width_m(self) -> float:
        """Along the main front."""
        return self.house.depth_m if self.ahead else self.house.width_m

    @property
    def depth_m(self) -> float:
        """Back from its foremost wall."""
        return self.house.width_m if self.ahead else self.house.depth_m

    @property
    def plan_m(self) -> tuple[float, float, float, float]:
        """What its walls cover: low x, low y, high x, high y."""
        half = self.width_m / 2.0
        back = self.set_back_m + self.depth_m
        return self.x_m - half, self.set_back_m, self.x_m + half, back

    def on_plan(self, x_m: float, y_m: float) -> tuple[float, float]:
        """Where a place of its own frame lies in the main block's."""
        if not self.ahead:
            return self.x_m + x_m, self.set_back_m + y_m
        low_x, low_y, _, high_y = self.plan_m
        return low_x + y_m, (low_y + high_y) / 2.0 - x_m

    @property
    def run_m(self) -> tuple[float, float]:
        """From where to where along the wall it stands against, in x or in y."""
        x0, y0, x1, y1 = self.plan_m
        return (x0, x1) if self.ahead else (y0, y1)

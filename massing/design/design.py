"""The resolved design: every dimension known, in metres, and where each number came from.

Heights called ``*_z_m`` are above the ground at the house; everything else is a size. The
frame is the house's own: X along the front, Y into the house, Z up, origin on the ground at
the middle of the front wall's outer face.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from massing.canon import FittedCornice, FittedOrder
from massing.design.kinds import (
    BalustradeFilling,
    Bond,
    CheekKind,
    Coursing,
    Covering,
    DeckSurface,
    DormerKind,
    DormerSlope,
    Engaged,
    FanlightKind,
    FanlightRing,
    Filling,
    FoundationKind,
    GableFoot,
    GableKind,
    GutterKind,
    GutterMetal,
    HeadName,
    OpeningKind,
    PanelPattern,
    PorchRoof,
    PorchShape,
    RailKind,
    RespondKind,
    RoofColour,
    RoofForm,
    Rustication,
    ShutterKind,
    Side,
    Units,
    Wall,
    WallMaterial,
)
from massing.design.origin import Origin
from massing.geometry.arches import Curve, Soffit
from massing.geometry.mesh import Floats
from massing.practice.joinery_sizes import (
    CLAPBOARD_EXPOSURE_M,
    FRIEZE_BOARD_M,
    HEADS,
    PILASTER_OF_WIDTH,
    SILL_HEIGHT_M,
    SURROUND_BOARD_M,
    casing_width,
    head_reach,
    sill_length,
)
from massing.units import INCH_M

GROUND_REACH_M = 50.0  # a slope goes on so far each way, and the ground level beyond


@dataclass(frozen=True)
class GroundDesign:
    """The lie of the ground, a plane through the origin; rise over run, 0 for level.

    ``along`` rises to the right of the front, ``back`` to the back. A plot has an end: past
    ``GROUND_REACH_M`` the ground goes on level, so that the horizon stays where it is.
    """

    along: float = 0.0
    back: float = 0.0

    @property
    def level(self) -> bool:
        """Whether it has no slope."""
        return not (self.along or self.back)

    def z_m(self, x_m: ArrayLike, y_m: ArrayLike) -> Floats:
        """Heights of the ground at places of any one shape, metres."""
        reach = GROUND_REACH_M
        x, y = np.clip(x_m, -reach, reach), np.clip(y_m, -reach, reach)
        return np.asarray(self.along * x + self.back * y, dtype=float)


LEVEL = GroundDesign()


@dataclass(frozen=True)
class SiteDesign:
    """The place and the way the front looks."""

    place: str
    latitude_deg: float
    longitude_deg: float
    altitude_m: float
    time_zone: str
    front_azimuth_deg: float  # clockwise from north, of the front's outward normal
    year: int
    ground: GroundDesign = LEVEL


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


@dataclass(frozen=True)
class SurroundDesign:
    """An order about a doorway: engaged on the wall at each side, its entablature over both."""

    order: FittedOrder
    engaged: Engaged
    axis_m: float  # middle of the doorway to the middle of a pilaster
    drop_m: float  # its foot below the opening's
    pediment_slope: float = 0.0  # rise over run; 0 for a level cornice

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
        if not self.pediment_slope:
            return level
        out = self.order.cornice_projection_m
        return level + self.pediment_slope * (self.frieze_half_m + out)


@dataclass(frozen=True)
class DoorDesign:
    """What fills and frames a doorway, beyond the sizes of its opening.

    ``landing_m`` is the depth of the landing before a door that has steps of its own.
    """

    leaves: int = 1
    panels: PanelPattern = "six"
    raised: bool = True
    glazed: bool = False
    fanlight: FanlightKind = "none"
    fanlight_lights: int = 0  # panes from side to side
    fanlight_ring: FanlightRing = "none"
    surround: SurroundDesign | None = None
    steps: StepsDesign | None = None
    landing_m: float = 0.0


@dataclass(frozen=True)
class Opening:
    """A window or door opening in one wall, as the wall is seen from outside.

    ``along_m`` is the centre, to the right of the wall's middle seen from outside.
    """

    place: str  # in its row: "window 2", "door", "side door"
    wall: Wall
    kind: OpeningKind
    along_m: float
    sill_z_m: float
    width_m: float
    height_m: float
    upper_lights: tuple[int, int] = (3, 2)  # across, up
    lower_lights: tuple[int, int] = (3, 2)
    leaf_width_m: float = 0.0  # doors
    leaf_height_m: float = 0.0
    sidelights: bool = False
    transom: bool = False
    head: HeadName = "casing"
    rise_m: float = 0.0  # of a curved head, whose crown is the opening's top
    curve: Curve = "segment"  # of a curved head: a segment of a circle, or half an ellipse
    shutters: ShutterKind = "none"  # windows
    shutters_closed: bool = False
    panel_below_m: float = 0.0  # windows: height of a panel under the sill
    back_m: float = 0.0  # its wall's face behind the front's, in a recess
    door: DoorDesign | None = None  # doors: leaf, lights and surround
    filling: Filling = "hung"  # windows: what fills them
    leaves: int = 2  # of a casement
    to_floor: bool = False  # windows: down to the floor, on a threshold instead of a sill
    storey: int | None = None  # counted from the ground's, 0; None of what stands in no storey
    wing: Side | None = None  # the side of the wing it is in; None in the main block

    @property
    def name(self) -> str:
        """What messages call it, e.g. ``front/ground/window 2``."""
        if self.storey is None:
            return self.place
        name = f"{self.wall}/{STOREYS[self.storey]}/{self.place}"
        return f"{self.wing} wing, {name}" if self.wing else name

    @property
    def head_z_m(self) -> float:
        """The opening's top above the ground."""
        return self.sill_z_m + self.height_m

    @property
    def soffit(self) -> Soffit:
        """The line of its top in the opening's own frame, z from its foot."""
        return Soffit(self.width_m, self.height_m, self.rise_m, self.curve)

    @property
    def face_m(self) -> float:
        """Face of the architrave round it; a window under an arch or lintel has none."""
        return casing_width(self.width_m) if HEADS[self.head].of == "casing" else 0.0

    @property
    def sill_height_m(self) -> float:
        """Depth of the stone under it; doors and windows to the floor have a threshold."""
        return SILL_HEIGHT_M if self.kind == "window" and not self.to_floor else 0.0

    @property
    def top_z_m(self) -> float:
        """Top of its casing, arch, lintel or surround above the ground."""
        top = self.head_z_m + head_reach(self.width_m, self.head)[1]
        if self.door and self.door.surround:
            top = max(top, self.sill_z_m + self.door.surround.top_m)
        return top

    @property
    def foot_z_m(self) -> float:
        """Foot of its sill, or of the panel below, above the ground."""
        return self.sill_z_m - self.sill_height_m - self.panel_below_m

    @property
    def reach_m(self) -> float:
        """Its middle to the farthest of sill, head, opened shutter and surround."""
        half = self.width_m / 2.0
        beside = [half + head_reach(self.width_m, self.head)[0]]
        if self.sill_height_m:
            beside.append(sill_length(self.width_m, self.face_m) / 2.0)
        if self.shutters != "none" and not self.shutters_closed:
            beside.append(self.width_m)
        if self.door and self.door.surround:
            beside.append(self.door.surround.reach_m)
        return max(beside)


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
    half_width_m: float  # middle to the side walls' faces
    side_y_m: float  # where these begin, behind the antae
    depth_m: float  # front wall's face to the recessed wall's
    ceiling_z_m: float
    apron_m: float  # half the breadth of the floor before the front wall


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
    open_side: Side | None = None  # of a wing: the side that the main wall closes

    @property
    def reach_x_m(self) -> tuple[float, float]:
        """Left and right end of the walls, wings and all."""
        half = self.width_m / 2.0
        wide = {wing.side: wing.house.width_m for wing in self.wings}
        return -half - wide.get("left", 0.0), half + wide.get("right", 0.0)


@dataclass(frozen=True)
class WingDesign:
    """A lower block against a side wall: a house in its own frame, without its inner wall.

    Its frame is that of the main block, moved: the origin is on the ground at the middle of
    its own front wall's outer face.
    """

    side: Side  # of the main block
    x_m: float  # of its frame's origin
    set_back_m: float  # its front behind the main front
    house: HouseDesign
    roof: RoofDesign


@dataclass(frozen=True)
class BalustradeDesign:
    """A balustrade: heights above what it stands on, pedestals on given axes."""

    height_m: float
    plinth_m: float
    rail_m: float
    pedestal_width_m: float
    baluster_spacing_m: float
    belly_m: float  # widest diameter of the baluster
    panelled: bool = False
    half_balusters: bool = False
    filling: BalustradeFilling = "balusters"

    @property
    def baluster_m(self) -> float:
        """Height left for the baluster."""
        return self.height_m - self.plinth_m - self.rail_m


@dataclass(frozen=True)
class PorchDesign:
    """The porch: an order on a floor, before the front wall."""

    order: FittedOrder
    axes_m: tuple[float, ...]  # column axes along the front, left to right
    depth_m: float  # wall face to column axis
    floor_z_m: float
    floor_edge_m: float  # floor beyond the column axes
    steps: StepsDesign
    balustrade: BalustradeDesign | None
    guard: BalustradeDesign | None
    roof: PorchRoof
    roof_slope: float  # rise over run
    side_columns: int = 0  # on each return, between the corner column and the wall
    upper: PorchDesign | None = None  # a second order standing on this one
    # straight; semicircular, depth_m being then the radius to the axes; or recessed, its
    # columns in the front wall's plane and depth_m that wall's face to the wall behind
    shape: PorchShape = "straight"
    responds: RespondKind = "none"  # on the wall, where the entablature meets it
    responds_fluted: bool = False  # where they are pilasters
    break_m: float = 0.0  # how far the entablature stands forward over columns and responds
    pair_m: float = 0.0  # axis to axis of coupled columns; 0 where each stands alone
    blocking_course_m: float = 0.0  # height of a plain course over the cornice
    anta_m: float = 0.0  # recessed: middle of the front to the middle of each anta

    @property
    def highest(self) -> PorchDesign:
        """The porch itself, or the order that stands on it."""
        return self.upper or self

    @property
    def return_axes_m(self) -> tuple[float, ...]:
        """Y of the columns on each return, from the corner to the wall, corners left out.

        Coupled, the corner column has a mate on the return too, and equal couples follow it.
        """
        if self.pair_m and self.side_columns:
            couples = (self.side_columns - 1) // 2
            clear = (self.depth_m - (couples + 1) * self.pair_m) / (couples + 1)
            mates = [self.pair_m + (clear + self.pair_m) * k for k in range(couples + 1)]
            rest = [(m + clear, m + clear + self.pair_m) for m in mates[:-1]]
            return tuple(d - self.depth_m for d in (mates[0], *(a for pair in rest for a in pair)))
        step = self.depth_m / (self.side_columns + 1)
        return tuple(-self.depth_m + step * (k + 1) for k in range(self.side_columns))

    @property
    def column_y_m(self) -> float:
        """Y of the front's column axes, the foremost of them on a curve."""
        if self.shape == "recessed":
            return self.frieze_half_depth_m - FRIEZE_BOARD_M
        return -self.depth_m

    @property
    def back_y_m(self) -> float:
        """Y of the wall at the porch's back."""
        return self.depth_m if self.shape == "recessed" else 0.0

    @property
    def perimeter_axes_m(self) -> tuple[tuple[float, float], ...]:
        """All column axes (x, y) in order round the porch, from the wall's left to its right."""
        if self.shape == "semicircular":
            return tuple((x, -math.sqrt(self.depth_m**2 - x**2)) for x in self.axes_m)
        left, right = self.axes_m[0], self.axes_m[-1]
        return (
            *((left, y) for y in reversed(self.return_axes_m)),
            *((x, self.column_y_m) for x in self.axes_m),
            *((right, y) for y in self.return_axes_m),
        )

    @property
    def gaps_m(self) -> tuple[float, ...]:
        """Axis to axis of the front's columns, left to right."""
        axes = self.perimeter_axes_m
        if self.side_columns:
            axes = axes[self.side_columns : len(axes) - self.side_columns]
        return tuple(math.dist(a, b) for a, b in pairwise(axes))

    @property
    def open_gaps_m(self) -> tuple[float, ...]:
        """Axis to axis of the front's columns across its openings, not within couples."""
        return self.gaps_m[1::2] if self.pair_m else self.gaps_m

    @property
    def couples_m(self) -> tuple[tuple[tuple[float, float], ...], ...]:
        """Column axes (x, y) by couples, or one by one; a coupled corner is in two of them."""
        axes = self.perimeter_axes_m
        if not self.pair_m:
            return tuple((axis,) for axis in axes)
        return tuple((a, b) for a, b in pairwise(axes) if math.dist(a, b) < self.pair_m + 1e-6)

    @property
    def half_width_m(self) -> float:
        """Middle of the front to the frieze's face at its farthest."""
        if self.shape == "recessed":
            return self.anta_m + self.frieze_half_depth_m
        reach = self.depth_m if self.shape == "semicircular" else self.axes_m[-1]
        return reach + self.frieze_half_depth_m

    @property
    def column_top_z_m(self) -> float:
        """Underside of the architrave above the ground."""
        return self.floor_z_m + self.order.pedestal_height_m + self.order.column_height_m

    @property
    def top_z_m(self) -> float:
        """Top of the entablature above the ground."""
        return self.column_top_z_m + self.order.entablature_height_m

    @property
    def ceiling_z_m(self) -> float:
        """Underside of the porch ceiling: level with the top of the architrave."""
        return self.column_top_z_m + self.order.architrave_height_m

    @property
    def frieze_half_depth_m(self) -> float:
        """Column axis to the face of architrave and frieze: the shaft's upper radius."""
        return self.order.upper_diameter_m / 2.0


@dataclass(frozen=True)
class DormerDesign:
    """A row of dormers, all alike, on one slope of the main roof."""

    kind: DormerKind
    side: DormerSlope  # the slope over the front or over the back
    centres_m: tuple[float, ...]  # right of the front's middle
    width_m: float  # of the window's opening
    height_m: float
    upper_lights: tuple[int, int]
    lower_lights: tuple[int, int]
    sill_z_m: float  # the opening's foot above the ground
    face_y_m: float  # the face, behind the wall's face on that side
    drop_m: float  # the opening's foot above the main deck, at the face
    main_slope: float  # rise over run of the slope it stands on
    roof_slope: float  # of its own roof; 0 where that is curved
    rise_m: float  # of a curved roof
    cheeks: CheekKind
    cornice: FittedCornice


@dataclass(frozen=True)
class RoofDesign:
    """The main roof."""

    form: RoofForm
    slope: float  # rise over run
    overhang_m: float  # beyond the cornice's outermost face
    covering: Covering
    colour: RoofColour
    lower_slope: float = 0.0  # of a gambrel, whose upper slope is ``slope``
    break_run_m: float = 0.0  # of a gambrel: eaves' edge in to the lower slope's head
    deck_run_m: float = 0.0  # of a roof with a flat on top: eaves' edge in to its curb
    deck_surface: DeckSurface = "metal"
    deck_balustrade: BalustradeDesign | None = None
    gable: GableKind = "barge boards"
    gutter: GutterKind = "none"
    gutter_metal: GutterMetal = "copper"
    gutter_width_m: float = 0.0
    bracket_spacing_m: float = 0.0
    downspout_m: float = 0.0  # diameter
    downspouts: tuple[tuple[Wall, float], ...] = ()  # wall, and place along it
    downspout_feet_m: tuple[float, ...] = ()  # the ground at each; none where it is level
    gable_foot: GableFoot = "across"  # a raking cornice's level one: across the gable, or returns
    dormers: tuple[DormerDesign, ...] = ()


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


@dataclass(frozen=True)
class Design:
    """One alternative, ready to be built.

    ``origins`` says of each resolved number where it came from: the scene's line, or the rule.
    """

    name: str
    site: SiteDesign
    house: HouseDesign
    porch: PorchDesign
    roof: RoofDesign
    units: Units = "feet"
    rounding_m: float = INCH_M / 16.0  # of the sizes written out for the builder
    scale_figure: bool = True
    setting: SettingDesign = field(default_factory=SettingDesign)
    origins: dict[str, Origin] = field(default_factory=dict, compare=False)

"""The resolved main roof, its gutters and dormers."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import KW_ONLY, dataclass
from typing import ClassVar

from massing.canon import FittedCornice
from massing.design.kinds import (
    CheekKind,
    Covering,
    DeckSurface,
    DormerKind,
    DormerSlope,
    GableFoot,
    GableKind,
    GutterMetal,
    HungGutter,
    RoofColour,
    RoofForm,
    Wall,
)
from massing.design.opening import WindowOpening
from massing.design.porch import BalustradeDesign


@dataclass(frozen=True)
class DormerDesign(ABC):
    """A row of dormers, all alike, on one slope of the main roof."""

    kind: ClassVar[DormerKind]

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
    cheeks: CheekKind
    cornice: FittedCornice


@dataclass(frozen=True)
class PitchedDormer(DormerDesign):
    """A dormer whose roof is of slopes."""

    roof_slope: float  # rise over run of its own roof


@dataclass(frozen=True)
class GabledDormer(PitchedDormer):
    """A pediment over its face, two slopes back into the main roof."""

    kind: ClassVar[DormerKind] = "gabled"


@dataclass(frozen=True)
class ShedDormer(PitchedDormer):
    """One slope from over its face back into the main roof."""

    kind: ClassVar[DormerKind] = "shed"


@dataclass(frozen=True)
class SegmentalDormer(DormerDesign):
    """A segmental pediment over its face, and a curved roof behind it."""

    kind: ClassVar[DormerKind] = "segmental"

    rise_m: float  # of the curve over its cornice


@dataclass(frozen=True)
class CrossGable:
    """A gable over part of a wall, its roof run back into the main slope over that wall.

    Its own wall stands on the main one; or on that of a wing as high as the main walls, before
    them, whose end may be hipped instead.
    """

    wall: DormerSlope  # the front or the back
    along_m: float  # its middle, right of the wall's as seen from outside
    width_m: float  # of its wall
    slope: float  # rise over run
    foot: GableFoot = "returns"  # the eaves' cornice: across it, or turned in under its feet
    out_m: float = 0.0  # its wall's face before the main one's
    hipped: bool = False
    opening: WindowOpening | None = None  # in the gable


@dataclass(frozen=True)
class GutterDesign:
    """Gutters along the eaves, and the pipes that take them down."""

    kind: HungGutter
    metal: GutterMetal
    width_m: float
    bracket_spacing_m: float
    downspout_m: float  # diameter
    downspouts: tuple[tuple[Wall, float], ...]  # wall, and place along it
    downspout_feet_m: tuple[float, ...]  # the ground's height at each


@dataclass(frozen=True)
class RoofDesign(ABC):
    """The main roof, of any form."""

    form: ClassVar[RoofForm]

    slope: float  # rise over run; of a gambrel its upper slope's
    overhang_m: float  # beyond the cornice's outermost face
    covering: Covering
    colour: RoofColour
    _: KW_ONLY
    laid: bool = True  # the covering, piece by piece; else its deck stands bare
    gutter: GutterDesign | None = None
    dormers: tuple[DormerDesign, ...] = ()
    gables: tuple[CrossGable, ...] = ()  # on the main walls

    @property
    @abstractmethod
    def hipped(self) -> bool:
        """Whether it slopes to all sides, its eaves all round."""

    @property
    def eaves_slope(self) -> float:
        """Rise over run of the slope at the eaves."""
        return self.slope

    @property
    def raked(self) -> bool:
        """Whether its cornice goes up its gables."""
        return False


@dataclass(frozen=True)
class HipRoof(RoofDesign):
    """A slope to every side."""

    form: ClassVar[RoofForm] = "hip"

    @property
    def hipped(self) -> bool:
        """It slopes to all sides."""
        return True


@dataclass(frozen=True)
class GableRoof(RoofDesign):
    """Two slopes, front and back, between gables."""

    form: ClassVar[RoofForm] = "gable"

    _: KW_ONLY
    gable: GableKind = "barge boards"
    gable_foot: GableFoot = "across"  # a raking cornice's level one: across the gable, or returns
    opening: WindowOpening | None = None  # in each gable, right of its wall's middle

    @property
    def hipped(self) -> bool:
        """It has gables."""
        return False

    @property
    def raked(self) -> bool:
        """Whether the cornice goes up the gables."""
        return self.gable == "raking cornice"


@dataclass(frozen=True)
class GambrelRoof(RoofDesign):
    """Two slopes to a side, the lower one steep, between gables."""

    form: ClassVar[RoofForm] = "gambrel"

    _: KW_ONLY
    lower_slope: float  # rise over run
    break_run_m: float  # eaves' edge in to the lower slope's head

    @property
    def hipped(self) -> bool:
        """It has gables."""
        return False

    @property
    def eaves_slope(self) -> float:
        """The lower slope."""
        return self.lower_slope


@dataclass(frozen=True)
class DeckRoof(RoofDesign):
    """A hip cut off level, with a flat on top."""

    form: ClassVar[RoofForm] = "deck"

    _: KW_ONLY
    deck_run_m: float  # eaves' edge in to the flat's curb
    deck_surface: DeckSurface = "metal"
    deck_balustrade: BalustradeDesign | None = None

    @property
    def hipped(self) -> bool:
        """It slopes to all sides."""
        return True

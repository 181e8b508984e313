"""The resolved main roof, its gutters and dormers."""

from __future__ import annotations

from dataclasses import dataclass

from massing.canon import FittedCornice
from massing.design.kinds import (
    CheekKind,
    Covering,
    DeckSurface,
    DormerKind,
    DormerSlope,
    GableFoot,
    GableKind,
    GutterKind,
    GutterMetal,
    RoofColour,
    RoofForm,
    Wall,
)
from massing.design.porch import BalustradeDesign


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

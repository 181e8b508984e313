"""The kinds of things that a house is made of, each a closed set of words.

The scene file is written in these words, and the design keeps them, so that a type checker
knows every ``match`` and every comparison.
"""

from __future__ import annotations

from typing import Literal, get_args

Units = Literal["feet", "metric"]

# --- the house -----------------------------------------------------------------------------

Side = Literal["left", "right"]
WingSide = Literal["left", "right", "front"]
Wall = Literal["front", "right", "back", "left"]
WallMaterial = Literal["stucco", "clapboard", "brick", "limestone"]
FoundationKind = Literal["concrete", "brick", "stone", "stucco"]
Bond = Literal["running", "flemish", "common"]
Coursing = Literal["equal", "alternate"]
Rustication = Literal["none", "channelled", "v-jointed"]

# --- openings ------------------------------------------------------------------------------

OpeningKind = Literal["window", "door", "french", "recess"]
"""What the design's kinds of opening are called (``design/opening.py``)."""
Filling = Literal["hung", "casement", "tripartite", "fixed", "louvre"]
"""What fills a window's frame; a fixed one does not open, a louvre has slats for glass."""
HungShutter = Literal["louvred", "panelled", "board"]
ShutterKind = Literal["none", "louvred", "panelled", "board"]
ShutterSide = Literal["both", "left", "right"]
HoldBacks = Literal["below", "beside"]
"""Where the dogs of opened shutters turn: under the leaves, or at the side of their feet."""
BayShape = Literal["canted", "box"]
BayRoof = Literal["lead", "covering"]
HeadName = Literal[
    "casing",
    "hood",
    "hood on consoles",
    "semicircular casing",
    "elliptical casing",
    "lintel",
    "jack arch",
    "stone jack arch",
    "segmental arch",
    "semicircular arch",
    "stone semicircular arch",
    "elliptical arch",
    "stone elliptical arch",
]
HEAD_NAMES: tuple[HeadName, ...] = get_args(HeadName)
PanelPattern = Literal[
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "eight",
    "flush",
    "flush with lights",
    "boarded",
    "carriage",
]
"""How a leaf is worked: so many panels, flush without any, of boards, or as a carriage door's."""
FanlightKind = Literal["none", "semicircular", "elliptical"]
FanlightRing = Literal["none", "ring", "swags"]
Engaged = Literal["pilasters", "half columns"]
"""How an order stands against a wall."""

# --- the porch -----------------------------------------------------------------------------

PorchWrap = Literal["none", "left", "right", "both"]
PorchFill = Literal["open", "screens", "sash"]
SidePorchKind = Literal["porch", "porte-cochere"]
PorchShape = Literal["straight", "semicircular", "recessed"]
PorchRoof = Literal["flat", "hipped", "pediment", "gable", "lean-to", "main slope"]
"""A main slope is carried down over the porch from the main eaves."""
PorchCeiling = Literal["boards", "coffered"]
RespondKind = Literal["none", "pilasters", "half columns"]
BalustradeFilling = Literal["balusters", "parapet"]
RailKind = Literal["none", "iron", "wood"]

# --- roofs ---------------------------------------------------------------------------------

RoofForm = Literal["hip", "gable", "gambrel", "deck"]
Covering = Literal[
    "barrel tile",
    "s tile",
    "interlocking tile",
    "plain tile",
    "slate",
    "wood shingle",
    "standing seam",
    "plain",
]
RoofColour = Literal["terracotta", "green glazed", "buff", "grey"]
DeckSurface = Literal["metal", "boards"]
GableKind = Literal["barge boards", "raking cornice"]
GableFoot = Literal["across", "returns"]
HungGutter = Literal["half round", "moulded"]
GutterKind = Literal["none", "half round", "moulded"]
GutterMetal = Literal["copper", "painted"]
DormerKind = Literal["shed", "gabled", "segmental"]
DormerSlope = Literal["front", "back"]
CheekKind = Literal["boards", "plain"]

# --- the setting ---------------------------------------------------------------------------

SettingKind = Literal["open country", "village street", "garden", "none"]
Habit = Literal["oak", "pine", "cypress", "palm", "magnolia"]
"""How a tree grows: rounded, tall and bare below, columnar, palm, a cone to the ground."""
PathKind = Literal["gravel", "brick", "flags"]
DriveSide = Literal["none", "left", "right"]

"""What a scene file may say: the fields, their units, their allowed values.

Every field that is left out gets its value from a rule when the scene is resolved
(:mod:`massing.resolve.design`); here ``None`` means "by rule".
"""

from massing.scene.spec.colours import Colours
from massing.scene.spec.drawing import (
    PIXEL_FORMS,
    Drawing,
    KnownHeight,
    KnownPoint,
    KnownRectangle,
    Pixel,
)
from massing.scene.spec.house import Chimney, Covering, House, WallMaterial, Wing, WingRoof
from massing.scene.spec.openings import (
    Door,
    HeadName,
    OddWindow,
    OrderName,
    PanelPattern,
    SideDoor,
    Steps,
    Surround,
    Window,
)
from massing.scene.spec.photograph import Photograph, SeenPoint, SeenShadow
from massing.scene.spec.pictures import LookName, OwnCamera, Spot, ViewName
from massing.scene.spec.porch import Balustrade, EntasisName, Porch, PorchSteps, UpperPorch
from massing.scene.spec.propose import KeptName, LeftOutName, Propose
from massing.scene.spec.roof import Dormers, Roof
from massing.scene.spec.scene import Alterable, Scene
from massing.scene.spec.sheet import LONGEST_WORDS, Sheet, Words
from massing.scene.spec.site import GroundSlope, Site
from massing.scene.spec.surroundings import Hedge, Neighbour, Placed, Setting, Tree
from massing.scene.spec.written import (
    HEIGHT_NAMES,
    LIGHTS_FORMS,
    MAX_LENGTH_M,
    MOST_LIGHTS,
    PITCH_FORMS,
    SLOPE_FORMS,
    SLOPE_MOST,
    SPACING_NAMES,
    Compass,
    GroundRise,
    Length,
    Lights,
    OrderHeight,
    Pitch,
    PositiveLength,
    Spacing,
    Strict,
    SwitchOrLength,
    parse_lights,
    parse_pitch,
    parse_slope,
)

__all__ = [
    "HEIGHT_NAMES",
    "LIGHTS_FORMS",
    "LONGEST_WORDS",
    "MAX_LENGTH_M",
    "MOST_LIGHTS",
    "PITCH_FORMS",
    "PIXEL_FORMS",
    "SLOPE_FORMS",
    "SLOPE_MOST",
    "SPACING_NAMES",
    "Alterable",
    "Balustrade",
    "Chimney",
    "Colours",
    "Compass",
    "Covering",
    "Door",
    "Dormers",
    "Drawing",
    "EntasisName",
    "GroundRise",
    "GroundSlope",
    "HeadName",
    "Hedge",
    "House",
    "KeptName",
    "KnownHeight",
    "KnownPoint",
    "KnownRectangle",
    "LeftOutName",
    "Length",
    "Lights",
    "LookName",
    "Neighbour",
    "OddWindow",
    "OrderHeight",
    "OrderName",
    "OwnCamera",
    "PanelPattern",
    "Photograph",
    "Pitch",
    "Pixel",
    "Placed",
    "Porch",
    "PorchSteps",
    "PositiveLength",
    "Propose",
    "Roof",
    "Scene",
    "SeenPoint",
    "SeenShadow",
    "Setting",
    "Sheet",
    "SideDoor",
    "Site",
    "Spacing",
    "Spot",
    "Steps",
    "Strict",
    "Surround",
    "SwitchOrLength",
    "Tree",
    "UpperPorch",
    "ViewName",
    "WallMaterial",
    "Window",
    "Wing",
    "WingRoof",
    "Words",
    "parse_lights",
    "parse_pitch",
    "parse_slope",
]

"""What a scene file may say: the fields, their units, their allowed values.

Every field that is left out gets its value from a rule when the scene is resolved
(:mod:`massing.resolve.design`); here ``None`` means "by rule".
"""

from __future__ import annotations

import math
import re
from typing import Annotated, Any, Literal, get_args

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    WithJsonSchema,
    field_validator,
    model_validator,
)

from massing.units import COMPASS_FORMS, LENGTH_FORMS, parse_compass, parse_length

MAX_LENGTH_M = 200.0


def _length(value: Any) -> float:
    length_m = parse_length(value)
    if not abs(length_m) <= MAX_LENGTH_M:
        raise ValueError(f"{value!r} is too long; allowed: up to {MAX_LENGTH_M:.0f} m")
    return length_m


def _positive(value: float) -> float:
    if not value > 0.0:
        raise ValueError("not a size; allowed: more than nothing")
    return value


_LENGTH_SCHEMA = WithJsonSchema({"type": "string", "description": LENGTH_FORMS})
Length = Annotated[float, BeforeValidator(_length), _LENGTH_SCHEMA]
PositiveLength = Annotated[float, BeforeValidator(lambda v: _positive(_length(v))), _LENGTH_SCHEMA]
Compass = Annotated[
    float,
    BeforeValidator(parse_compass),
    WithJsonSchema({"type": ["string", "number"], "description": COMPASS_FORMS}),
]

PITCH_FORMS = "rise:run such as 6:12, or degrees such as 26.5"


def parse_pitch(value: Any) -> float:
    """A roof pitch as rise over run.

    >>> parse_pitch("6:12")
    0.5
    """
    match = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*:\s*(\d+(?:\.\d+)?)\s*", str(value))
    if match and float(match[2]) > 0:
        slope = float(match[1]) / float(match[2])
    else:
        import math

        try:
            slope = math.tan(math.radians(float(value)))
        except (TypeError, ValueError):
            raise ValueError(f"{value!r} is not a pitch; allowed: {PITCH_FORMS}") from None
    if not 0.02 <= slope <= 4.0:
        raise ValueError(f"{value!r} is not a roof pitch; allowed: {PITCH_FORMS}, up to 48:12")
    return slope


Pitch = Annotated[
    float,
    BeforeValidator(parse_pitch),
    WithJsonSchema({"type": ["string", "number"], "description": PITCH_FORMS}),
]

SPACING_NAMES = (
    "pycnostyle",
    "systyle",
    "eustyle",
    "diastyle",
    "araeostyle",
    "canon",
    "bays",
    "full width",
)
HEIGHT_NAMES = ("eaves", "storey")


def _named_or_length(names: tuple[str, ...]) -> Any:
    def check(value: Any) -> Any:
        if isinstance(value, str) and value.strip().lower() in names:
            return value.strip().lower()
        try:
            return _positive(_length(value))
        except ValueError as error:
            raise ValueError(f"{error}; or one of {', '.join(names)}") from None

    return BeforeValidator(check)


def _named_schema(names: tuple[str, ...]) -> WithJsonSchema:
    return WithJsonSchema(
        {"anyOf": [{"enum": list(names)}, {"type": "string", "description": LENGTH_FORMS}]}
    )


Spacing = Annotated[float | str, _named_or_length(SPACING_NAMES), _named_schema(SPACING_NAMES)]
OrderHeight = Annotated[float | str, _named_or_length(HEIGHT_NAMES), _named_schema(HEIGHT_NAMES)]


def _switch_or_length(value: Any) -> Any:
    if isinstance(value, bool):
        return value
    try:
        return _positive(_length(value))
    except ValueError as error:
        raise ValueError(f"{error}; or true or false") from None


SwitchOrLength = Annotated[
    bool | float,
    BeforeValidator(_switch_or_length),
    WithJsonSchema(
        {"anyOf": [{"type": "boolean"}, {"type": "string", "description": LENGTH_FORMS}]}
    ),
]


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, str_strip_whitespace=True)


SLOPE_MOST = 1.0 / 8.0
SLOPE_FORMS = "rise:run such as 1:20 or -1:15, 1:8 at most either way, or level"


def parse_slope(value: Any) -> float:
    """A slope of the ground as rise over run.

    >>> parse_slope("1:20")
    0.05
    >>> parse_slope("-1:8")
    -0.125

    Raises:
        ValueError: not a slope, or steeper than 1 in 8.
    """
    if isinstance(value, str) and value.strip().lower() == "level":
        return 0.0
    told = re.fullmatch(r"\s*(-?)\s*(\d+(?:\.\d+)?)\s*:\s*(\d+(?:\.\d+)?)\s*", str(value))
    if isinstance(value, bool) or (told is None and not isinstance(value, int | float)):
        raise ValueError(f"{value!r} is not a slope; allowed: {SLOPE_FORMS}")
    if told is None:
        slope = float(value)
    else:
        run = float(told[3])
        slope = float(told[2]) / run * (-1.0 if told[1] else 1.0) if run else math.inf
    if not abs(slope) <= SLOPE_MOST + 1e-9:
        raise ValueError(f"{value!r} is no slope to build on here; allowed: {SLOPE_FORMS}")
    return slope


GroundRise = Annotated[
    float,
    BeforeValidator(parse_slope),
    WithJsonSchema({"type": ["string", "number"], "description": SLOPE_FORMS}),
]


class GroundSlope(_Strict):
    """How the ground lies, through the foot of the front wall's middle; rise over run."""

    along: GroundRise = Field(default=0.0, description="Rising to the right of the front")
    back: GroundRise = Field(default=0.0, description="Rising to the back")


class Site(_Strict):
    """Where the house stands and which way its front looks."""

    place: str = Field(description="Town, for the labels")
    latitude: float = Field(ge=-90, le=90, description="Degrees, north positive")
    longitude: float = Field(ge=-180, le=180, description="Degrees, east positive")
    altitude: Length = Field(default="0 m", validate_default=True, description="Above sea level")
    time_zone: str | None = Field(
        default=None, description="IANA name such as America/New_York; else from the position"
    )
    front_faces: Compass = Field(description="The way the front looks")
    year: int = Field(default=2026, ge=1950, le=2050, description="For dates without a year")
    ground_slope: GroundSlope | None = Field(default=None, description="The ground's; else level")

    @field_validator("time_zone")
    @classmethod
    def _known_zone(cls, value: str | None) -> str | None:
        if value is not None:
            from zoneinfo import ZoneInfo

            try:
                ZoneInfo(value)
            except (KeyError, ValueError, OSError):
                raise ValueError(
                    f"{value!r} is not a time zone; allowed: an IANA name such as Europe/Rome"
                ) from None
        return value


LIGHTS_FORMS = (
    "lights across x up: of both sashes or of each leaf such as 2x4, of each sash such as 3x2 over "
    "3x3, or 6 over 6, one over one, three lights wide"
)
_SASH = r"(\d+)\s*[x×]\s*(\d+)"
_COUNTS = {1: (1, 1), 2: (2, 1), 3: (3, 1), 4: (2, 2), 6: (3, 2), 8: (4, 2), 9: (3, 3), 12: (4, 3)}
_WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_NUMBERS = {**{word: i for i, word in enumerate(_WORDS, 1)}, "twelve": 12}
MOST_LIGHTS = 8


def parse_lights(value: Any) -> tuple[tuple[int, int], tuple[int, int]]:
    """Light pattern of a window: ((across, up) of the upper, of the lower sash).

    A pattern that is only so many lights wide has 0 up: the rows follow from the height.

    >>> parse_lights("6 over 6"), parse_lights("3x2 over 3x3"), parse_lights("2x4")
    (((3, 2), (3, 2)), ((3, 2), (3, 3)), ((2, 4), (2, 4)))
    >>> parse_lights("three lights wide")
    ((3, 0), (3, 0))
    """
    if isinstance(value, (tuple, list)):
        upper, lower = value
        return tuple(upper), tuple(lower)
    text = str(value).strip().lower()
    text = re.sub(r"[a-z]+", lambda word: str(_NUMBERS.get(word[0], word[0])), text)
    grid = re.fullmatch(rf"{_SASH}(?:\s+over\s+{_SASH})?", text)
    if grid:
        a, b, c, d = (int(g) for g in (grid[1], grid[2], grid[3] or grid[1], grid[4] or grid[2]))
        if min(a, b, c, d) >= 1 and max(a, b, c, d) <= MOST_LIGHTS:
            return (a, b), (c, d)
    wide = re.fullmatch(r"(\d+)\s+lights?\s+wide", text)
    if wide and 1 <= int(wide[1]) <= MOST_LIGHTS:
        return (int(wide[1]), 0), (int(wide[1]), 0)
    counts = re.fullmatch(r"(\d+)\s+over\s+(\d+)", text)
    if counts and int(counts[1]) in _COUNTS and int(counts[2]) in _COUNTS:
        return _COUNTS[int(counts[1])], _COUNTS[int(counts[2])]
    raise ValueError(f"{value!r} is not a light pattern; allowed: {LIGHTS_FORMS}")


Lights = Annotated[
    tuple[tuple[int, int], tuple[int, int]],
    BeforeValidator(parse_lights),
    WithJsonSchema({"type": "string", "description": LIGHTS_FORMS}),
]


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


class Window(_Strict):
    """The windows of one storey."""

    width: PositiveLength | None = Field(default=None, description="Opening width")
    height: PositiveLength | None = Field(default=None, description="Opening height")
    sill: Length | None = Field(
        default=None,
        description="Opening's foot above the floor; the ground storey's may be 0",
    )
    lights: Lights | None = Field(default=None, description=LIGHTS_FORMS)
    kind: Literal["sash", "casement", "tripartite", "french"] = Field(
        default="sash",
        description="A tripartite window has a wide sash and two narrow between mullions; "
        "French windows open on the porch, sashes elsewhere",
    )
    leaves: Literal[1, 2] | None = Field(default=None, description="Of a casement")
    head: HeadName = Field(default="casing", description="What frames or spans it")
    rise: PositiveLength | None = Field(
        default=None, description="Of a segmental or elliptical head"
    )
    shutters: Literal["none", "louvred", "panelled", "board"] = "none"
    shutters_closed: bool = False
    panel_below: PositiveLength | None = Field(
        default=None, description="Height of a panel under the sill"
    )


class Surround(_Strict):
    """An order about a doorway, engaged on the wall, its entablature over the opening."""

    order: OrderName = "tuscan"
    canon: str = Field(default="vignola", description="Whose proportions: vignola, ware, ...")
    engaged: Literal["pilasters", "half columns"] = "pilasters"
    pediment: bool = Field(default=False, description="In place of the level cornice")
    diameter: PositiveLength | None = Field(default=None, description="At the foot of the shaft")
    entablature: PositiveLength | None = Field(default=None, description="Whole height")


class Door(_Strict):
    """The entrance, in the middle bay."""

    width: PositiveLength | None = Field(default=None, description="Leaf, or both of a pair")
    height: PositiveLength | None = Field(default=None, description="Leaf height")
    leaves: Literal[1, 2] = 1
    panels: PanelPattern = Field(default="six", description="Panels of a leaf, or of a pair")
    panelling: Literal["raised", "flat"] = "raised"
    glazed: bool = Field(default=False, description="Glass for the panels over the lock rail")
    sidelights: bool = Field(default=False, description="A glazed light each side of the leaf")
    transom: bool = Field(default=True, description="A light over the leaf, to the window heads")
    head: HeadName | None = Field(
        default=None,
        description="What frames or spans it: casing, or over a fanlight in brick or limestone "
        "an arch of the wall's",
    )
    fanlight: Literal["none", "semicircular", "elliptical"] = Field(
        default="none", description="In place of a transom; elliptical over sidelights too"
    )
    fanlight_rise: PositiveLength | None = Field(
        default=None, description="Of an elliptical one, frame and all"
    )
    fanlight_lights: int | None = Field(default=None, ge=2, le=21, description="Side to side")
    fanlight_ring: Literal["none", "ring", "swags"] = Field(
        default="none", description="Between the hub and the rim"
    )
    surround: Surround | None = None


class SideDoor(Door):
    """A door elsewhere, with steps of its own, in the place of a ground-floor window."""

    wall: Literal["left", "right", "back"]
    bay: int = Field(ge=1, le=15, description="From the left, seen from outside")
    transom: bool = Field(default=False, description="A light over the leaf, to the window heads")
    landing: PositiveLength | None = Field(default=None, description="Wall to the top step's edge")
    steps: Steps = Field(default_factory=lambda: Steps(), description="The flight to its landing")


PanelPattern = Literal["one", "two", "three", "four", "five", "six", "eight"]


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
WallMaterial = Literal["stucco", "clapboard", "brick", "limestone"]


class House(_Strict):
    """The body of the house."""

    width: PositiveLength
    depth: PositiveLength
    storeys: list[PositiveLength] = Field(
        min_length=1, max_length=3, description="Floor to floor; the top one floor to wall top"
    )
    floor: PositiveLength | None = Field(default=None, description="Ground floor above ground")
    walls: WallMaterial = "stucco"
    wall_thickness: PositiveLength | None = None
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
    door: Door = Field(default_factory=Door)
    side_door: SideDoor | None = Field(default=None, description="A second door, with steps")
    cornice: PositiveLength | None = Field(default=None, description="Height of the eaves cornice")
    relief: bool = Field(default=False, description="Boards, bricks or stones as built")
    bond: Literal["running", "flemish", "common"] = Field(
        default="running", description="Of brick in relief"
    )
    coursing: Literal["equal", "alternate"] = Field(
        default="equal", description="Courses of limestone in relief: all alike, or high and low"
    )
    rustication: Literal["none", "channelled", "v-jointed"] = Field(
        default="none", description="Of the ground storey, on limestone or stucco"
    )
    clapboard_exposure: PositiveLength | None = Field(
        default=None, description="Height of a board that shows, in relief"
    )
    foundation: Literal["concrete", "brick", "stone", "stucco"] = Field(
        default="concrete", description="Of the wall below the floor, and of the porch's base"
    )
    quoins: bool = Field(default=False, description="Dressed stones at the corners")
    corner_pilasters: Literal["none", "as porch", "pier", "tuscan", "doric", "mutular doric"] = (
        Field(
            default="none", description="Pilasters at the corners, by the porch's order or another"
        )
    )
    belt_courses: bool = Field(default=False, description="A band at each upper floor")
    chimneys: list[Chimney] = Field(default_factory=list, max_length=6)
    wings: list[Wing] = Field(default_factory=list, max_length=2)


class WingRoof(_Strict):
    """The roof over a wing; what is left out is as on the main roof."""

    form: Literal["hip", "gable"] | None = Field(
        default=None, description="Of its outer end; the ridge runs into the main wall"
    )
    pitch: Pitch | None = None
    overhang: PositiveLength | None = Field(default=None, description="Beyond the cornice")
    covering: Covering | None = None


class Wing(_Strict):
    """A lower block against a side wall, set back from the front; its walls as the main ones."""

    side: Literal["left", "right", "both"] = Field(description="Both: the left mirrors the right")
    width: PositiveLength | None = Field(default=None, description="Along the front")
    depth: PositiveLength | None = None
    set_back: PositiveLength | None = Field(
        default=None, description="Its front wall behind the main front"
    )
    storeys: list[PositiveLength] | None = Field(
        default=None, min_length=1, max_length=3, description="Floor to floor, from the main floor"
    )
    bays: int | None = Field(default=None, ge=1, le=15, description="Windows along its front")
    bay_spacing: PositiveLength | None = None
    side_bays: int | None = Field(default=None, ge=0, le=15, description="At its outer end")
    windows: list[Window] | None = Field(
        default=None, max_length=3, description="Default: as on the main block"
    )
    cornice: PositiveLength | None = Field(default=None, description="Height of its cornice")
    roof: WingRoof = Field(default_factory=WingRoof)
    chimneys: list[Chimney] = Field(
        default_factory=list, max_length=2, description="Measured from the wing's own front"
    )


class Chimney(_Strict):
    """A chimney stack through the main roof."""

    along: Length = Field(description="Its middle, right of the front's middle")
    back: PositiveLength = Field(description="Its middle, behind the front wall's face")
    width: PositiveLength | None = Field(default=None, description="Along the front")
    depth: PositiveLength | None = None
    height: PositiveLength | None = Field(default=None, description="Top above the ridge")


EntasisName = Literal["none", "lower third straight", "from the base", "conchoid", "bent rule"]
OrderName = Literal["pier", "tuscan", "doric", "mutular doric", "ionic", "corinthian", "composite"]


class Balustrade(_Strict):
    """A run of balusters between pedestals, over the entablature or between the columns."""

    height: PositiveLength | None = None
    baluster_spacing: PositiveLength | None = Field(default=None, description="Axis to axis")
    panelled: bool = Field(default=False, description="A sunk panel in each pedestal's faces")
    half_balusters: bool = Field(default=False, description="A half baluster at each pedestal")
    filling: Literal["balusters", "parapet"] = "balusters"


class Steps(_Strict):
    """The flight up to the porch or to a door's landing."""

    width: PositiveLength | None = Field(
        default=None, description="Default: the middle bay of a porch, or a doorway's width"
    )
    riser: PositiveLength | None = None
    tread: PositiveLength | None = None


class PorchSteps(Steps):
    """The flight up to the porch, with its handrails."""

    rail: Literal["none", "iron", "wood", "by rule"] = Field(
        default="none", description="A handrail each side; by rule, iron from four risers on"
    )


class UpperPorch(_Strict):
    """A second order standing on the first, with its own floor and guard."""

    order: OrderName | None = Field(default=None, description="Default: the next lighter order")
    height: OrderHeight | None = Field(
        default=None, description="Its floor to the top of its entablature; default: eaves"
    )
    diameter: PositiveLength | None = Field(default=None, description="At the foot of the shaft")
    column_height: PositiveLength | None = Field(default=None, description="With base and capital")
    entablature: PositiveLength | None = Field(default=None, description="Whole height")
    guard: Balustrade = Field(default_factory=Balustrade, description="Between its columns")


class Porch(_Strict):
    """The porch and its order."""

    order: OrderName = "tuscan"
    canon: str = Field(default="vignola", description="Whose proportions: vignola, ware, ...")
    shape: Literal["straight", "semicircular", "recessed"] = Field(
        default="straight", description="Recessed: in antis, within the house"
    )
    columns: int = Field(default=4, ge=2, le=16)
    pedestals: bool = Field(default=False, description="Each column on a pedestal")
    entasis: EntasisName | None = Field(
        default=None, description="The shaft's outline; default: the canon's"
    )
    fluted: bool | None = Field(
        default=None, description="Columns and pilasters; default: columns as the canon's, no more"
    )
    responds: Literal["none", "pilasters", "half columns"] = Field(
        default="none", description="On the wall, behind the end columns"
    )
    spacing: Spacing = Field(
        default="bays", validate_default=True, description="Axis to axis, or a named spacing"
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
    diameter: PositiveLength | None = Field(default=None, description="At the foot of the shaft")
    column_height: PositiveLength | None = Field(default=None, description="With base and capital")
    entablature: PositiveLength | None = Field(default=None, description="Whole height")
    depth: PositiveLength | None = Field(default=None, description="Wall face to column axis")
    side_columns: int = Field(
        default=0, ge=0, le=8, description="On each return, between corner column and wall"
    )
    floor: PositiveLength | None = Field(default=None, description="Porch floor above ground")
    steps: PorchSteps = Field(default_factory=PorchSteps)
    balustrade: Balustrade | None = Field(default=None, description="Over the entablature")
    guard: Balustrade | None = Field(default=None, description="Between the columns, on the floor")
    upper: UpperPorch | None = Field(default=None, description="A second order on the first")
    roof: Literal["flat", "hipped", "pediment"] = "flat"
    roof_pitch: Pitch | None = None


class Dormers(_Strict):
    """A row of dormer windows on the main roof."""

    kind: Literal["shed", "gabled", "segmental"] = "gabled"
    slope: Literal["front", "back", "both"] = "front"
    count: int | None = Field(
        default=None, ge=1, le=15, description="Default: as many over the bays as the slope holds"
    )
    centres: list[Length] | None = Field(
        default=None, min_length=1, max_length=15, description="Right of the front's middle"
    )
    width: PositiveLength | None = Field(default=None, description="Of the window's opening")
    height: PositiveLength | None = Field(default=None, description="Of the window's opening")
    sill: PositiveLength | None = Field(
        default=None, description="The window's foot above the top of the walls"
    )
    lights: Lights | None = Field(default=None, description=LIGHTS_FORMS)
    pitch: Pitch | None = Field(default=None, description="Of its own roof, gabled or shed")
    rise: PositiveLength | None = Field(default=None, description="Of a segmental roof's arc")
    cornice: PositiveLength | None = Field(default=None, description="Height of its cornice")
    cheeks: Literal["boards", "plain"] = "boards"


class Roof(_Strict):
    """The main roof."""

    form: Literal["hip", "gable", "gambrel", "deck"] = Field(
        default="hip",
        description="A gable's and a gambrel's ridge runs along; a deck is a flat on a hip",
    )
    pitch: Pitch | None = Field(default=None, description="Of a gambrel, the upper slope's")
    lower_pitch: Pitch | None = Field(default=None, description="Of a gambrel's lower slope")
    break_height: PositiveLength | None = Field(
        default=None, description="Of a gambrel, where its slopes meet, above the eaves"
    )
    deck_width: PositiveLength | None = Field(default=None, description="The flat's shorter side")
    deck_surface: Literal["metal", "boards"] = "metal"
    deck_balustrade: Balustrade | None = None
    gutter: Literal["none", "half round", "moulded"] = "none"
    gutter_width: PositiveLength | None = Field(default=None, description="At its rim")
    gutter_metal: Literal["copper", "painted"] = "copper"
    gable: Literal["barge boards", "raking cornice"] = "barge boards"
    gable_foot: Literal["across", "returns"] = Field(
        default="across", description="Where the level cornice goes under a raking one"
    )
    overhang: PositiveLength | None = Field(default=None, description="Beyond the cornice")
    covering: Covering = "barrel tile"
    colour: Literal["terracotta", "green glazed", "buff", "grey"] = "terracotta"
    dormers: Dormers | None = None


class _Placed(_Strict):
    along: Length = Field(description="Its middle, right of the front's middle")
    before: Length = Field(description="Its middle, before the front wall's face; negative behind")


class Hedge(_Placed):
    """A clipped hedge."""

    length: PositiveLength = Field(description="Along the front")
    width: PositiveLength
    height: PositiveLength


class Tree(_Placed):
    """A broad-leaved tree."""

    height: PositiveLength
    spread: PositiveLength


class Neighbour(_Placed):
    """A neighbour's house, as a plain mass."""

    width: PositiveLength
    depth: PositiveLength
    eaves: PositiveLength
    ridge: PositiveLength


class Setting(_Strict):
    """What stands about the house and throws shadows on it."""

    hedges: list[Hedge] = Field(default_factory=list, max_length=30)
    trees: list[Tree] = Field(default_factory=list, max_length=30)
    neighbours: list[Neighbour] = Field(default_factory=list, max_length=6)


ViewName = Literal[
    "elevation",
    "right elevation",
    "rear elevation",
    "left elevation",
    "street",
    "street left",
    "across the street",
    "walk",
    "close-up",
    "cornice",
    "under the porch",
    "roof",
    "section",
]
LookName = Literal["clay", "materials", "drawn"]


class Spot(_Strict):
    """A point about the house."""

    along: Length = Field(description="Right of the front's middle")
    before: Length = Field(description="Before the front wall's face; negative behind")
    height: Length = Field(default="1.6 m", validate_default=True, description="Above the ground")


class OwnCamera(_Strict):
    """A view of one's own, in perspective and level, so that upright lines stay upright."""

    name: str = Field(min_length=1)
    stand: Spot = Field(description="Where the eye is")
    look_at: Spot = Field(description="What comes to the middle of the picture")
    lens: PositiveLength = Field(
        default="35 mm", validate_default=True, description="Focal length, for a 36 mm wide film"
    )

    @field_validator("name")
    @classmethod
    def _own_name(cls, value: str) -> str:
        if value in get_args(ViewName):
            raise ValueError(f"{value!r} is a view; allowed: a name that no view has")
        return value

    @model_validator(mode="after")
    def _looks_somewhere(self) -> OwnCamera:
        a, b = self.stand, self.look_at
        if abs(a.along - b.along) < 0.01 and abs(a.before - b.before) < 0.01:
            raise ValueError("camera looks up or down; allowed: look_at clear of stand in plan")
        return self


PIXEL_FORMS = "[right, down], pixels from the image's upper left corner"


def _pixel(value: Any) -> tuple[float, float]:
    try:
        right, down = (float(v) for v in value)
    except (TypeError, ValueError):
        raise ValueError(f"{value!r} is no place in an image; allowed: {PIXEL_FORMS}") from None
    if not (0.0 <= right < 1e5 and 0.0 <= down < 1e5):
        raise ValueError(f"{value!r} is outside any image; allowed: {PIXEL_FORMS}")
    return right, down


Pixel = Annotated[
    tuple[float, float],
    BeforeValidator(_pixel),
    WithJsonSchema(
        {
            "type": "array",
            "items": {"type": "number"},
            "minItems": 2,
            "maxItems": 2,
            "description": PIXEL_FORMS,
        }
    ),
]


class KnownPoint(_Strict):
    """A point of the front seen in an image."""

    pixel: Pixel = Field(description=PIXEL_FORMS)
    along: Length = Field(description="Right of the front's middle")
    height: Length = Field(description="Above the ground")


class KnownHeight(_Strict):
    """An upright length seen in an image, such as the ground to the wall's top at a corner."""

    foot: Pixel = Field(description=PIXEL_FORMS)
    top: Pixel = Field(description=PIXEL_FORMS)
    length: PositiveLength
    along: Length = Field(
        default="0 m", validate_default=True, description="Right of the front's middle"
    )
    above: Length = Field(
        default="0 m", validate_default=True, description="Its foot above the ground"
    )


class Drawing(_Strict):
    """A builder's front elevation, or a photograph square to the front, to lay the model over."""

    image: str = Field(min_length=1, description="File, from the scene file's folder")
    points: list[KnownPoint] | None = Field(
        default=None, min_length=2, max_length=12, description="Two known points or more"
    )
    height: KnownHeight | None = Field(default=None, description="Or one known height")

    @model_validator(mode="after")
    def _one_measure(self) -> Drawing:
        if (self.points is None) == (self.height is None):
            raise ValueError("no one measure; allowed: two points, or one height, and not both")
        return self


LONGEST_WORDS = 120


def _words(value: Any) -> str:
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        raise ValueError(f"{value!r} is no text; allowed: up to {LONGEST_WORDS} characters")
    text = " ".join(str(value).split())
    if not 0 < len(text) <= LONGEST_WORDS:
        raise ValueError(f"{value!r} is no such text; allowed: up to {LONGEST_WORDS} characters")
    return text


Words = Annotated[
    str,
    BeforeValidator(_words),
    WithJsonSchema({"type": ["string", "number"], "minLength": 1, "maxLength": LONGEST_WORDS}),
]


class Sheet(_Strict):
    """What stands in the title block of printed sheets; each is optional."""

    project: Words | None = Field(default=None, description="By default the scene's title")
    designer: Words | None = Field(default=None, description="Whose design it is")
    client: Words | None = Field(default=None, description="Whom it is for")
    date: Words | None = Field(
        default=None, description="Such as 2026-11-27, or in words; by default the day of printing"
    )
    issue: Words | None = Field(default=None, description="Number or letter of the issue")
    logo: str | None = Field(
        default=None,
        min_length=1,
        description="An image file of your own (PNG, JPEG or SVG), from the scene file's folder",
    )


class Design_(_Strict):
    """The parts of a scene that an alternative may change."""

    house: House
    porch: Porch = Field(default_factory=Porch)
    roof: Roof = Field(default_factory=Roof)
    setting: Setting = Field(default_factory=Setting)


House.model_rebuild()  # now that wings, chimneys and orders are known


class Scene(Design_):
    """A whole scene file, before its alternatives are laid over it."""

    title: str
    units: Literal["feet", "metric"] = Field(default="feet", description="For what is written out")
    rounding: PositiveLength | None = Field(
        default=None,
        description="Of the builder's sizes, such as 1/8 in or 5 mm; default: 1/16 in, or 1 mm",
    )
    site: Site
    times: list[str] = Field(min_length=1, description="Such as: summer solstice 10:00")
    views: list[ViewName] = Field(default=["elevation", "street", "close-up"], min_length=1)
    cameras: list[OwnCamera] = Field(default_factory=list, description="Views of one's own")
    looks: list[LookName] = Field(default=["clay", "materials"], min_length=1)
    scale_figure: bool = Field(default=True, description="A person of 5 ft 8 in")
    drawing: Drawing | None = Field(
        default=None, description="The builder's elevation, for massing overlay"
    )
    sheet: Sheet | None = Field(default=None, description="The title block of printed sheets")
    as_drawn: str = Field(
        default="as drawn", min_length=1, description="What to call the design before changes"
    )
    alternatives: dict[str, dict[str, Any]] = Field(default_factory=dict)

    @field_validator("cameras")
    @classmethod
    def _named_apart(cls, value: list[OwnCamera]) -> list[OwnCamera]:
        names = [camera.name for camera in value]
        twice = next((name for name in names if names.count(name) > 1), None)
        if twice is not None:
            raise ValueError(f"{twice!r} twice; allowed: a name for each, not {twice} twice")
        return value

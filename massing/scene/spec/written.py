"""How lengths, angles, slopes and lights are written in a scene, as types of its fields."""

from __future__ import annotations

import math
import re
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel, BeforeValidator, ConfigDict, WithJsonSchema, model_validator

from massing.units import COMPASS_FORMS, LENGTH_FORMS, parse_compass, parse_length

CanonName = Annotated[str, BeforeValidator(lambda value: _plain(value))]


class Strict(BaseModel):
    """Fields that the file names, no others; never changed once read.

    A word is known in any case of letters and with hyphens for spaces, a number for its word, and
    true for a group of which nothing further is said.
    """

    model_config = ConfigDict(
        extra="forbid", frozen=True, str_strip_whitespace=True, defer_build=True
    )

    @model_validator(mode="before")
    @classmethod
    def _in_the_file_s_words(cls, data: Any) -> Any:
        if not isinstance(data, dict):
            return data
        known = cls.model_fields
        return {
            name: _understood(known[name].annotation, value) if name in known else value
            for name, value in data.items()
        }


def _understood(annotation: Any, value: Any) -> Any:
    """What a writer meant by a value, where its field takes words or a group; else the value."""
    kinds = [annotation]
    while any(get_origin(kind) in (Union, UnionType) for kind in kinds):
        kinds = [kind for outer in kinds for kind in (get_args(outer) or (outer,))]
    for kind in kinds:
        if get_origin(kind) is list and isinstance(value, list):
            return [_understood(get_args(kind)[0], item) for item in value]
        if get_origin(kind) is Literal:
            choices = {_plain(choice): choice for choice in get_args(kind)}
            words = [_plain(value), *SYNONYMS.get(str(_plain(value)), ())]
            return next((choices[word] for word in words if word in choices), value)
        if isinstance(kind, type) and issubclass(kind, Strict) and isinstance(value, bool):
            return {} if value else None if NoneType in kinds else value
    return value


SYNONYMS: dict[str, tuple[str, ...]] = {
    "gray": ("grey",),
    "weatherboard": ("clapboard",),
    "weatherboards": ("clapboard",),
    "weatherboarding": ("clapboard",),
    "clapboards": ("clapboard",),
    "lap siding": ("clapboard",),
    "siding": ("clapboard",),
    "render": ("stucco",),
    "rendered": ("stucco",),
    "plaster": ("stucco",),
    "bricks": ("brick",),
    "double hung": ("sash",),
    "single hung": ("sash",),
    "sashes": ("sash",),
    "casements": ("casement",),
    "french door": ("french",),
    "french doors": ("french",),
    "french windows": ("french",),
    "louvered": ("louvred",),
    "louvers": ("louvred",),
    "louvres": ("louvred",),
    "paneled": ("panelled",),
    "molded": ("moulded",),
    "ogee": ("moulded",),
    "hipped": ("hip",),
    "hip": ("hipped",),
    "gabled": ("gable",),
    "gable": ("gabled",),
    "gambrelled": ("gambrel",),
    "mission tile": ("barrel tile",),
    "roman tile": ("barrel tile",),
    "pan and cover tile": ("barrel tile",),
    "pantile": ("s tile",),
    "pantiles": ("s tile",),
    "slates": ("slate",),
    "shingle": ("wood shingle",),
    "shingles": ("wood shingle",),
    "shakes": ("wood shingle",),
    "metal": ("standing seam",),
    "seamed metal": ("standing seam",),
    "bow": ("semicircular",),
    "bowed": ("semicircular",),
    "round": ("semicircular",),
    "half round": ("semicircular",),
    "in antis": ("recessed",),
    "loggia": ("recessed",),
    "pillar": ("pier",),
    "square": ("pier",),
    "posts": ("pier",),
    "piers": ("pier",),
    "front": ("elevation",),
    "front elevation": ("elevation",),
    "three quarter": ("street",),
    "closeup": ("close up",),
    "detail": ("close up",),
    "white": ("clay",),
    "white model": ("clay",),
    "ink": ("drawn",),
    "ink and wash": ("drawn",),
    "feet and inches": ("feet",),
    "imperial": ("feet",),
    "metres": ("metric",),
    "meters": ("metric",),
    "wrought iron": ("iron",),
    "spindles": ("balusters",),
}
"""Other words of the trade for a choice (common practice, no source). One that is itself a choice
of the field stays what it is."""


def _plain(word: Any) -> Any:
    """A word as it is compared.

    >>> _plain("Stone  Jack-Arch"), _plain(3)
    ('stone jack arch', 'three')
    """
    if isinstance(word, int) and not isinstance(word, bool) and 0 < word <= len(_WORDS):
        return _WORDS[word - 1]
    return " ".join(re.split(r"[\s_-]+", word.strip().lower())) if isinstance(word, str) else word


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

_TO = r"\s*(?::|/|\bin\b)\s*"  # between rise and run
PITCH_FORMS = "rise:run such as 6:12 or 8 1/2:12, or degrees such as 26.5"


def parse_pitch(value: Any) -> float:
    """A roof pitch as rise over run.

    >>> parse_pitch("6:12"), parse_pitch("6/12"), parse_pitch("6 in 12")
    (0.5, 0.5, 0.5)
    >>> parse_pitch("8 1/2:12") == 8.5 / 12
    True
    """
    rise = r"(\d+(?:\.\d+)?)(?:\s+(\d+)/(\d+))?"  # 8 1/2, as the trade writes it
    match = re.fullmatch(rf"\s*{rise}{_TO}(\d+(?:\.\d+)?)\s*", str(value).lower())
    if match and float(match[4]) > 0 and float(match[3] or 1) > 0:
        slope = (float(match[1]) + float(match[2] or 0) / float(match[3] or 1)) / float(match[4])
    else:
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
        if _plain(value) in names:
            return _plain(value)
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


BAY_FORMS = "a bay such as bay 2, or two bays such as bays 2 and 3, counted from the left"
_BAYS = re.compile(r"bays? (\d{1,2})(?: and (\d{1,2}))?")


def _place(value: Any) -> Any:
    said = _plain(value)
    if isinstance(said, str) and said.startswith("bay"):
        match = _BAYS.fullmatch(said)
        if match is None:
            raise ValueError(f"{value!r} is no place along a front; allowed: {BAY_FORMS}")
        return said
    try:
        return _length(value)
    except ValueError as error:
        raise ValueError(f"{error}; or {BAY_FORMS}") from None


Place = Annotated[
    float | str,
    BeforeValidator(_place),
    WithJsonSchema({"type": "string", "description": f"{LENGTH_FORMS}; or {BAY_FORMS}"}),
]


def bays_named(place: str) -> tuple[int, ...]:
    """The bays that a place along a front names.

    >>> bays_named("bay 2"), bays_named("bays 2 and 3")
    ((2,), (2, 3))
    """
    match = _BAYS.fullmatch(place)
    return tuple(int(n) for n in match.groups() if n) if match else ()


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
    slope_in = rf"\s*(-?)\s*(\d+(?:\.\d+)?){_TO}(\d+(?:\.\d+)?)\s*"
    told = re.fullmatch(slope_in, str(value).lower())
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


LIGHTS_FORMS = (
    "lights across x up: of both sashes or of each leaf such as 2x4, of each sash such as 3x2 over "
    "3x3, or 6 over 6, one over one, three lights wide"
)
_SASH = r"(\d{1,4})\s*[x×]\s*(\d{1,4})"
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
    if isinstance(value, tuple) and len(value) == 2:  # as this function gave it
        return value
    if not isinstance(value, str):
        raise ValueError(f"{value!r} is not a light pattern; allowed: {LIGHTS_FORMS}")
    text = value.strip().lower()
    text = re.sub(r"[a-z]+", lambda word: str(_NUMBERS.get(word[0], word[0])), text)
    grid = re.fullmatch(rf"{_SASH}(?:\s+over\s+{_SASH})?", text)
    if grid:
        a, b, c, d = (int(g) for g in (grid[1], grid[2], grid[3] or grid[1], grid[4] or grid[2]))
        if min(a, b, c, d) >= 1 and max(a, b, c, d) <= MOST_LIGHTS:
            return (a, b), (c, d)
    wide = re.fullmatch(r"(\d{1,4})\s+lights?\s+wide", text)
    if wide and 1 <= int(wide[1]) <= MOST_LIGHTS:
        return (int(wide[1]), 0), (int(wide[1]), 0)
    counts = re.fullmatch(r"(\d{1,4})\s+over\s+(\d{1,4})", text)
    if counts and int(counts[1]) in _COUNTS and int(counts[2]) in _COUNTS:
        return _COUNTS[int(counts[1])], _COUNTS[int(counts[2])]
    raise ValueError(f"{value!r} is not a light pattern; allowed: {LIGHTS_FORMS}")


Lights = Annotated[
    tuple[tuple[int, int], tuple[int, int]],
    BeforeValidator(parse_lights),
    WithJsonSchema({"type": "string", "description": LIGHTS_FORMS}),
]

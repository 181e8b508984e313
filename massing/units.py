"""Lengths as the trade writes them, both ways, and compass directions.

Inside the library a length is metres and an angle radians; this module is where text becomes
numbers and numbers become text.

>>> round(parse_length("5'-6 1/2\\""), 4)
1.6891
>>> format_feet_inches(1.6891)
'5\\'-6 1/2"'
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import lru_cache

FOOT_M = 0.3048  # exact since the 1959 international yard and pound agreement
INCH_M = 0.0254
_HAIR = 1e-6  # of a step
HAIR_M = 1e-8
"""Lengths that differ by less are one: a limit that is typed back is not refused for rounding."""

_METRIC_M: dict[str, float] = {"m": 1.0, "cm": 0.01, "mm": 0.001}
_NUMBER = r"(?:\d+(?:\.\d+)?|\.\d+)"
_INCHES = (
    rf"(?:(?P<whole>{_NUMBER})(?:[\s-]+(?P<num>\d+)/(?P<den>\d+))?|(?P<num2>\d+)/(?P<den2>\d+))"
)
_FEET_INCHES = re.compile(
    rf"^(?P<sign>-)?(?:(?P<feet>{_NUMBER})\s*(?:'|ft\.?|feet|foot)[\s-]*)?"
    rf"(?:{_INCHES}\s*(?P<inch>\"|''|in\.?|inches|inch)?)?$"
)
_METRIC = re.compile(rf"^(?P<sign>-)?(?P<number>{_NUMBER})\s*(?P<unit>mm|cm|m)$")
_PLAIN_MARKS = str.maketrans("’′”″", "''\"\"")
LENGTH_FORMS = "a length with its unit, such as 5'-6 1/2\", 16 in, 20 ft, 1.2 m or 450 mm"


def parse_length(text: str) -> float:
    """A written length in metres.

    Accepts feet and inches (``5'-6 1/2"``, ``20 ft``, ``16 in``, ``5 ft 6 in``) and metric
    (``1.2 m``, ``45 cm``, ``450 mm``).

    Raises:
        ValueError: the text is not a length with a unit.
    """
    if not isinstance(text, str):
        raise ValueError(f"{text!r} has no unit; allowed: {LENGTH_FORMS}")
    clean = text.strip().lower().translate(_PLAIN_MARKS)
    metric = _METRIC.match(clean)
    if metric:
        value = float(metric["number"]) * _METRIC_M[metric["unit"]]
        return -value if metric["sign"] else value
    match = _FEET_INCHES.match(clean)
    if not match or not (match["feet"] or match["inch"]):
        raise ValueError(f"{text!r} is not a length; allowed: {LENGTH_FORMS}")
    inches = float(match["whole"] or 0)
    for num, den in ((match["num"], match["den"]), (match["num2"], match["den2"])):
        if num:
            if int(den) == 0:
                raise ValueError(f"{text!r} divides by zero; allowed: {LENGTH_FORMS}")
            inches += int(num) / int(den)
    value = float(match["feet"] or 0) * FOOT_M + inches * INCH_M
    return -value if match["sign"] else value


def whole_steps(length_m: float, step_m: float) -> int:
    """The nearest whole number of a rule's steps; half a step counts up.

    Lengths that were added up miss a half by a hair either way, and still count up, so that a
    sum and its parts are rounded alike.

    >>> whole_steps(2.667, 0.002), whole_steps(2.667 - 4e-16, 0.002)
    (1334, 1334)
    """
    return math.floor(length_m / step_m + 0.5 + _HAIR)


@lru_cache(maxsize=4096)  # a design is tried with many values, each time with most sizes as before
def format_feet_inches(length_m: float, denominator: int = 16) -> str:
    """Feet, inches and a builder's fraction, rounded to ``1/denominator`` inch.

    >>> format_feet_inches(0.4064), format_feet_inches(6.096), format_feet_inches(0.0127)
    ('1\\'-4"', '20\\'-0"', '1/2"')
    """
    steps = round(abs(length_m) / INCH_M * denominator)
    feet, rest = divmod(steps, 12 * denominator)
    whole, part = divmod(rest, denominator)
    fraction = Fraction(part, denominator)
    inches = f"{whole} {fraction}" if part and (whole or feet) else str(fraction if part else whole)
    sign = "-" if length_m < 0 and steps else ""
    return f"{sign}{feet}'-{inches}\"" if feet else f'{sign}{inches}"'


def format_metric(length_m: float) -> str:
    """Millimetres below a metre, metres to the millimetre above.

    >>> format_metric(0.45), format_metric(5.4864)
    ('450 mm', '5.486 m')
    """
    return f"{round(length_m * 1000)} mm" if abs(length_m) < 1.0 else f"{length_m:.3f} m"


def format_length(length_m: float, system: str = "feet") -> str:
    """The length in ``feet`` (feet and inches) or ``metric``."""
    return format_metric(length_m) if system == "metric" else format_feet_inches(length_m)


_STEP_M = {"feet": INCH_M / 16.0, "metric": 0.001}


def at_most(length_m: float, system: str = "feet") -> str:
    """A limit written so that the written length is within it.

    >>> at_most(1.6499, "metric"), at_most(0.3 * INCH_M)
    ('1.649 m', '1/4"')
    """
    step = _STEP_M[system]
    return format_length(step * math.floor(length_m / step + _HAIR), system)


def at_least(length_m: float, system: str = "feet") -> str:
    """A limit written so that the written length is not under it.

    >>> at_least(0.0762, "feet"), at_least(0.07621, "metric")
    ('3"', '77 mm')
    """
    step = _STEP_M[system]
    return format_length(step * math.ceil(length_m / step - _HAIR), system)


_METRES = re.compile(r"(?<![\w.])(\d+\.\d+)( x | by | to )?(?:(\d+\.\d+))? m\b")


def in_system(text: str, system: str) -> str:
    """A sentence with its lengths in metres written as in ``system``.

    >>> in_system("a shaft 3.0480 m high", "feet")
    'a shaft 10\\'-0" high'
    >>> in_system("1.2192 x 2.1336 m is too small", "feet")
    '4\\'-0" x 7\\'-0" is too small'
    """

    def said(found: re.Match[str]) -> str:
        ends = [format_length(float(each), system) for each in (found[1], found[3]) if each]
        return (found[2] or "").join(ends)

    return _METRES.sub(said, text)


_ORDINALS = ("first", "second", "third", "fourth")


def floor_name(storey: int, system: str = "feet") -> str:
    """What builders call a floor, counted from none at the lowest.

    Where lengths are in ``feet`` the lowest is the first floor; by ``metric`` custom it is the
    ground floor, and the first floor stands over it (common practice, no source).

    >>> [floor_name(storey, "feet") for storey in (0, 1)]
    ['first floor', 'second floor']
    >>> [floor_name(storey, "metric") for storey in (0, 1)]
    ['ground floor', 'first floor']
    """
    ordinals = ("ground", *_ORDINALS) if system == "metric" else _ORDINALS
    return f"{ordinals[storey]} floor"


_POINTS = "N NNE NE ENE E ESE SE SSE S SSW SW WSW W WNW NW NNW".split()
_QUADRANT = re.compile(r"^([NS])\s*(\d+(?:\.\d+)?)\s*°?\s*([EW])$", re.IGNORECASE)
COMPASS_FORMS = "a compass point such as S or SSW, a bearing such as S 20 E, or degrees 0 to 360"


def parse_compass(value: str | float) -> float:
    """A compass direction in degrees clockwise from north.

    >>> parse_compass("SSW"), parse_compass("S 20 E"), parse_compass(187.5)
    (202.5, 160.0, 187.5)
    >>> parse_compass("south-southwest"), parse_compass("southeast"), parse_compass("South 20 East")
    (202.5, 135.0, 160.0)

    Raises:
        ValueError: not one of the sixteen points, a quadrant bearing, or 0 to 360 degrees.
    """
    if isinstance(value, bool):
        raise ValueError(f"{value!r} is not a direction; allowed: {COMPASS_FORMS}")
    if isinstance(value, (int, float)):
        if 0.0 <= value <= 360.0:
            return float(value) % 360.0
        raise ValueError(f"{value!r} is out of range; allowed: {COMPASS_FORMS}")
    text = str(value).strip()
    for word in ("north", "south", "east", "west"):
        text = re.sub(word, word[0], text, flags=re.IGNORECASE)
    point = re.sub(r"[\s-]+", "", text.upper())
    if point in _POINTS:
        return _POINTS.index(point) * 22.5
    match = _QUADRANT.match(text)
    if match and float(match[2]) <= 90.0:
        start, turn = (0.0, 1.0) if match[1].upper() == "N" else (180.0, -1.0)
        sign = turn if match[3].upper() == "E" else -turn
        return (start + sign * float(match[2])) % 360.0
    raise ValueError(f"{value!r} is not a direction; allowed: {COMPASS_FORMS}")


def compass_point(azimuth_deg: float) -> str:
    """The nearest of the sixteen compass points.

    >>> compass_point(200)
    'SSW'
    """
    return _POINTS[round(azimuth_deg / 22.5) % 16]

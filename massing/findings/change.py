"""A sentence on what an alternative changes, and the words that such sentences share."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from massing.design.design import Design
from massing.sun.position import SunTime
from massing.units import INCH_M, format_feet_inches

SAME = 0.02  # departures under two per cent are not worth a word

OWN = "the designs' own figures"

RULE_OF_SHADOW = "profile angle, ASHRAE Fundamentals, Fenestration; sun by NREL's algorithm"

_NUMBERS = "no one two three four five six seven eight nine ten eleven twelve".split()


@dataclass(frozen=True)
class Change:
    """One plain sentence on what an alternative changes, or keeps.

    Attributes:
        key: a stable name.
        text: the sentence.
        source: whose rule or measure it speaks by.
        kept: it says what stayed as drawn.
    """

    key: str
    text: str
    source: str
    kept: bool = False


def telling_sun(suns: Sequence[SunTime]) -> SunTime | None:
    """The sun that shows a cornice best: on the front, its profile angle nearest to 45 degrees,
    at which a shadow is as deep as what throws it stands out (the draughtsman's convention)."""
    on_front = [sun for sun in suns if sun.profile_angle_deg is not None]
    return min(on_front, key=lambda s: abs((s.profile_angle_deg or 0.0) - 45.0), default=None)


# --- words ---------------------------------------------------------------------------------


def time_words(sun: SunTime) -> str:
    """A sun's time as it is spoken.

    Beside a named day the day's name stands, else its date.
    """
    if sun.when is None:
        return "in the draughtsman's light, at 45°"
    hour, minute = sun.when.hour, sun.when.minute
    part = "in the morning" if hour < 12 else "in the afternoon" if hour < 18 else "in the evening"
    named = re.search(r"(?:\w+ )?(?:equinox|solstice)", sun.label)
    day = f"at the {named[0]}" if named else f"on {sun.when.day} {sun.when:%B}"
    if (hour, minute) in ((12, 0), (0, 0)):
        return f"at {'noon' if hour else 'midnight'} {day}"
    return f"at {clock_words(hour, minute)} {part} {day}"


def clock_words(hour: int, minute: int) -> str:
    """A clock time in words where it falls on a quarter, else in figures.

    >>> clock_words(10, 30), clock_words(16, 45), clock_words(12, 0), clock_words(9, 20)
    ('half past ten', 'a quarter to five', "twelve o'clock", '9:20')
    """
    this, following = (_NUMBERS[(h - 1) % 12 + 1] for h in (hour, hour + 1))
    spoken = {
        0: f"{this} o'clock",
        15: f"a quarter past {this}",
        30: f"half past {this}",
        45: f"a quarter to {following}",
    }
    return spoken.get(minute, f"{(hour - 1) % 12 + 1}:{minute:02d}")


def length_words(length_m: float, units: str) -> str:
    """A length as a sentence has it: to a quarter of an inch, or to 5 mm.

    >>> length_words(0.2873, "feet"), length_words(0.2873, "metric"), length_words(5.4864, "metric")
    ('11 1/4"', '285 mm', '5.49 m')
    """
    if units == "metric":
        millimetres = 5 * round(length_m / 0.005)
        return f"{millimetres} mm" if abs(length_m) < 1.0 else f"{length_m:.2f} m"
    inches = length_m / INCH_M
    return format_feet_inches(length_m, 4 if abs(inches) < 24.0 else 2)


def number_words(count: int) -> str:
    """A small number in words.

    >>> number_words(6), number_words(14)
    ('six', '14')
    """
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def part_words(ratio: float) -> str:
    """A share as one part of so many: ``a quarter``, ``1/15``, ``1/4.2``."""
    parts = 1.0 / ratio
    near = abs(parts - round(parts)) < 0.05
    words = {3: "a third", 4: "a quarter", 5: "a fifth", 6: "a sixth"}
    return words.get(round(parts), f"1/{parts:.0f}") if near else f"1/{parts:.1f}"


def share_words(share: float) -> str:
    """How much of a height a shadow covers, in words."""
    names = {
        0.1: "a tenth",
        0.2: "a fifth",
        0.25: "a quarter",
        1 / 3: "a third",
        0.4: "two fifths",
        0.5: "half",
        0.6: "three fifths",
        2 / 3: "two thirds",
        0.75: "three quarters",
        0.9: "nine tenths",
    }
    if share >= 0.97:
        return "the whole"
    near = min(names, key=lambda value: abs(value - share))
    return f"about {names[near]}" if share > 0.07 else "hardly any"


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def members_words(design: Design) -> str:
    """What stands in the porch: ``piers``, ``Doric columns``."""
    order = design.porch.order
    return "piers" if order.square else f"{order.order.title()} columns"


def differs(a: float, b: float, least: float = SAME) -> bool:
    return abs(a - b) > least * max(abs(a), abs(b), 1e-9)


def place_of(value: float, least: float, most: float) -> int:
    """-1 below, 0 within, 1 above a range, to two per cent."""
    return -1 if value < least / (1.0 + SAME) else int(value > most * (1.0 + SAME))

"""The size that a builder will have meant by one measured, within what the measuring can tell."""

from __future__ import annotations

from math import atan, degrees

from massing.units import INCH_M, format_length

# Common practice, no source: the fractions that sizes are drawn in, the likeliest first.
FEET_STEPS_M = tuple(INCH_M * s for s in (12.0, 6.0, 3.0, 1.0, 0.5, 0.25, 0.125, 0.0625))
METRIC_STEPS_M = (0.5, 0.1, 0.05, 0.01, 0.005, 0.001)
TWELFTHS = (1.0, 0.5, 0.25)  # of a pitch's rise in 12
PITCH_DEGREES = (5.0, 2.5, 1.0, 0.5)


def likely(length_m: float, unsure_m: float, units: str) -> float:
    """The roundest size within ``unsure_m`` of a measured length; the finest step else.

    >>> round(likely(13.9 * INCH_M, 0.3 * INCH_M, "feet") / INCH_M, 6)
    14.0
    >>> likely(0.4512, 0.004, "metric")
    0.45
    >>> round(likely(11.3 * INCH_M, 0.1 * INCH_M, "feet") / INCH_M, 6)
    11.25
    """
    steps_m = METRIC_STEPS_M if units == "metric" else FEET_STEPS_M
    for step_m in steps_m:
        nearest = round(length_m / step_m) * step_m
        if nearest != 0.0 and abs(nearest - length_m) <= unsure_m:
            return float(nearest)
    return float(round(length_m / steps_m[-1]) * steps_m[-1])


def likely_text(length_m: float, unsure_m: float, units: str) -> str:
    """:func:`likely` as a scene has it."""
    return format_length(likely(length_m, unsure_m, units), units)


def likely_pitch(slope: float, unsure: float, units: str) -> str:
    """A roof's slope, rise over run, as the trade writes it: in twelve, or in degrees.

    >>> likely_pitch(0.502, 0.005, "feet"), likely_pitch(0.6249, 0.004, "feet")
    ('6:12', '7 1/2:12')
    >>> likely_pitch(0.5, 0.004, "metric")
    '26.5'
    """
    if units == "metric":
        measured = degrees(atan(slope))
        steps: tuple[float, ...] = PITCH_DEGREES
        unsure = degrees(atan(slope + unsure)) - measured
    else:
        measured, steps, unsure = 12.0 * slope, TWELFTHS, 12.0 * unsure
    fits = (s for s in steps if abs(round(measured / s) * s - measured) <= unsure)
    step = next(fits, steps[-1])
    value = max(round(measured / step), 1) * step
    if units == "metric":
        return f"{value:g}"
    whole, quarters = divmod(round(4.0 * value), 4)
    part = {0: "", 1: "1/4", 2: "1/2", 3: "3/4"}[quarters]
    return f"{' '.join(words for words in (str(whole) if whole else '', part) if words)}:12"

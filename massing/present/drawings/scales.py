"""Papers and scales of the trade."""

from __future__ import annotations

from massing.units import INCH_M

# --- scales and papers ---------------------------------------------------------------------

PAPERS_MM: dict[str, tuple[float, float]] = {
    # ISO 216 and ANSI/ASME Y14.1's architectural sizes, landscape
    "A3": (420.0, 297.0),
    "A2": (594.0, 420.0),
    "A1": (841.0, 594.0),
    "arch b": (457.2, 304.8),
    "arch c": (609.6, 457.2),
    "arch d": (914.4, 609.6),
}

_FEET_SCALES = {  # inches of paper to the foot, as an architect's scale has them
    "full size": 1,
    '6" = 1\'-0"': 2,
    '3" = 1\'-0"': 4,
    '1 1/2" = 1\'-0"': 8,
    '1" = 1\'-0"': 12,
    '3/4" = 1\'-0"': 16,
    '1/2" = 1\'-0"': 24,
    '3/8" = 1\'-0"': 32,
    '1/4" = 1\'-0"': 48,
    '3/16" = 1\'-0"': 64,
    '1/8" = 1\'-0"': 96,
    '3/32" = 1\'-0"': 128,
    '1/16" = 1\'-0"': 192,
}

_METRIC_SCALES = (1, 2, 5, 10, 20, 25, 50, 100, 200, 500)  # ISO 5455, and 1:25


def scales(units: str) -> list[float]:
    """Scales of the trade, from full size down."""
    return [float(s) for s in (_FEET_SCALES.values() if units == "feet" else _METRIC_SCALES)]


def scale_text(scale: float, units: str) -> str:
    """A scale as it is written under a drawing.

    >>> scale_text(48, "feet"), scale_text(50, "metric")
    ('1/4" = 1\\'-0"', '1:50')
    """
    if units == "feet":
        return next(name for name, value in _FEET_SCALES.items() if value == scale)
    return f"1:{scale:g}"


def fitting_scale(
    size_m: tuple[float, float], room_mm: tuple[float, float], units: str, least: float = 1.0
) -> float:
    """The largest scale, ``least`` or smaller, at which a drawing fits a room on the paper.

    Raises:
        ValueError: it fits at none.
    """
    for scale in scales(units):
        if scale >= least and all(
            s * 1000.0 / scale <= r for s, r in zip(size_m, room_mm, strict=True)
        ):
            return scale
    raise ValueError(f"{size_m[0]:.1f} by {size_m[1]:.1f} m fits the paper at no scale")


UNIT_M = {"feet": INCH_M, "metric": 0.001}
"""What a unit of the DXF is: an inch, or a millimetre."""

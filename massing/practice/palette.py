"""Colours by name: paints of our own naming, or sRGB as ``#rrggbb``; what of a house each is on."""

from __future__ import annotations

import re
from functools import cache

from massing.files import table

PAINTED: dict[str, tuple[str, ...]] = {
    "walls": ("wall", "wall/stucco", "wall/clapboard", "wall/brick", "wall/limestone", "siding")
    + ("brick", "ashlar", "wall/mortar"),
    "trim": ("trim", "order"),
    "columns": ("order",),
    "sash": ("sash",),
    "door": ("door",),
    "shutters": ("shutter",),
    "ceiling": ("ceiling",),
    "floor": ("floor",),
    "mortar": ("mortar", "wall/mortar"),
    "stone": ("stone", "steps"),
    "foundation": ("foundation", "foundation/brick", "foundation/stone", "foundation/stucco"),
}
"""The roles of material that a colour is on, by the builder's word; later words go over earlier."""


@cache
def palette() -> dict[str, str]:
    """All named colours as ``#rrggbb``, from ``practice/palette.yaml``."""
    return {
        str(name): str(value) for name, value in table("massing.practice", "palette.yaml").items()
    }


def colour_of(written: str) -> str:
    """A colour as ``#rrggbb``, of a name in the palette or of itself.

    >>> colour_of("Bottle green"), colour_of("#AABBCC")
    ('#1f3a2d', '#aabbcc')

    Raises:
        ValueError: it is neither.
    """
    word = " ".join(str(written).replace("-", " ").split()).lower()
    if re.fullmatch(r"#[0-9a-f]{6}", word):
        return word
    known = palette().get(word)
    if known is None:
        names = ", ".join(palette())
        raise ValueError(f"{written!r} is no colour here; allowed: #rrggbb (sRGB), or {names}")
    return known


def linear(hexed: str) -> tuple[float, float, float]:
    """A colour ``#rrggbb`` as linear Rec. 709, by the sRGB curve (IEC 61966-2-1).

    >>> [round(c, 3) for c in linear("#ffffff")], round(linear("#808080")[0], 3)
    ([1.0, 1.0, 1.0], 0.216)
    """
    red, green, blue = (_linear(int(hexed[i : i + 2], 16) / 255.0) for i in (1, 3, 5))
    return red, green, blue


def _linear(share: float) -> float:
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

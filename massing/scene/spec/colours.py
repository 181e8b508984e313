"""What the house is painted, by names of colours or as sRGB."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, Field, WithJsonSchema

from massing.practice.palette import colour_of, palette
from massing.scene.spec.written import Strict

COLOUR_FORMS = f"#rrggbb (sRGB), or {', '.join(palette())}"
Colour = Annotated[
    str,
    BeforeValidator(colour_of),
    WithJsonSchema({"type": "string", "description": COLOUR_FORMS}),
]


class Colours(Strict):
    """Paint over what a house is made of; what is left out is as its material is."""

    walls: Colour | None = Field(default=None, description="Brick and stone painted over, too")
    trim: Colour | None = Field(default=None, description="Cornices, casings and columns")
    columns: Colour | None = Field(default=None, description="And entablature; else as the trim")
    sash: Colour | None = Field(default=None, description="Sashes, bars and leaves of windows")
    door: Colour | None = Field(default=None, description="Leaves of the doors")
    shutters: Colour | None = Field(default=None, description="Leaves of the shutters")
    ceiling: Colour | None = Field(default=None, description="The porch's")
    floor: Colour | None = Field(default=None, description="Boards of the porch")
    mortar: Colour | None = Field(default=None, description="Between bricks in relief")
    stone: Colour | None = Field(default=None, description="Sills, steps and dressings")
    foundation: Colour | None = Field(default=None, description="Below the floor")

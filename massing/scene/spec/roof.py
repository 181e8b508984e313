"""The main roof and its dormers."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from massing.design.kinds import (
    CheekKind,
    Covering,
    DeckSurface,
    DormerKind,
    GableFoot,
    GableKind,
    GutterKind,
    GutterMetal,
    RoofColour,
    RoofForm,
)
from massing.scene.spec.porch import Balustrade
from massing.scene.spec.written import LIGHTS_FORMS, Length, Lights, Pitch, PositiveLength, Strict


class Dormers(Strict):
    """A row of dormer windows on the main roof."""

    kind: DormerKind = "gabled"
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
    cheeks: CheekKind = "boards"


class Roof(Strict):
    """The main roof."""

    form: RoofForm = Field(
        default="hip",
        description="A gable's and a gambrel's ridge runs along; a deck is a flat on a hip",
    )
    pitch: Pitch | None = Field(default=None, description="Of a gambrel, the upper slope's")
    lower_pitch: Pitch | None = Field(default=None, description="Of a gambrel's lower slope")
    break_height: PositiveLength | None = Field(
        default=None, description="Of a gambrel, where its slopes meet, above the eaves"
    )
    deck_width: PositiveLength | None = Field(default=None, description="The flat's shorter side")
    deck_surface: DeckSurface = "metal"
    deck_balustrade: Balustrade | None = None
    gutter: GutterKind = "none"
    gutter_width: PositiveLength | None = Field(default=None, description="At its rim")
    gutter_metal: GutterMetal = "copper"
    gable: GableKind = "barge boards"
    gable_foot: GableFoot = Field(
        default="across", description="Where the level cornice goes under a raking one"
    )
    overhang: PositiveLength | None = Field(default=None, description="Beyond the cornice")
    covering: Covering = "barrel tile"
    colour: RoofColour = "terracotta"
    dormers: Dormers | None = None

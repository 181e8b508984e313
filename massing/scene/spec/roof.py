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
    HeadName,
    RoofColour,
    RoofForm,
)
from massing.scene.spec.porch import Balustrade
from massing.scene.spec.written import (
    LIGHTS_FORMS,
    Length,
    Lights,
    Pitch,
    Place,
    PositiveLength,
    Strict,
)


class Dormers(Strict):
    """A row of dormer windows on the main roof."""

    kind: DormerKind = Field(default="gabled", description="Shape of the dormers' own roofs")
    slope: Literal["front", "back", "both"] = Field(
        default="front", description="Which slope of the main roof they stand on"
    )
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
    cheeks: CheekKind = Field(default="boards", description="What their sides are faced with")


class GableOpening(Strict):
    """A window or louvre in a gable's wall."""

    kind: Literal["louvre", "sash", "casement", "fixed", "none"] = Field(
        default="louvre", description="What fills it; slats where it airs the loft"
    )
    width: PositiveLength | None = Field(default=None, description="Of the opening")
    height: PositiveLength | None = Field(default=None, description="Of the opening")
    sill: PositiveLength | None = Field(
        default=None, description="The opening's foot above the top of the walls"
    )
    head: HeadName = Field(default="casing", description="What frames or spans it")
    lights: Lights | None = Field(default=None, description=LIGHTS_FORMS)


class FrontGable(Strict):
    """A gable over part of the front or the back, its roof run back into the main one."""

    wall: Literal["front", "back"] = Field(default="front", description="Which wall it stands on")
    along: Place = Field(
        default=0.0,
        description="Its middle, right of the wall's, seen from outside; or a bay of the front",
    )
    width: PositiveLength | None = Field(default=None, description="Of its wall")
    pitch: Pitch | None = Field(default=None, description="Default: the main roof's")
    foot: GableFoot = Field(
        default="returns", description="Where the eaves' cornice goes: across it, or turned in"
    )
    opening: GableOpening = Field(
        default_factory=GableOpening, description="A window or louvre in it"
    )


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
    deck_surface: DeckSurface = Field(default="metal", description="What the flat is laid with")
    deck_balustrade: Balustrade | None = Field(
        default=None, description="About the flat, with pedestals at its corners"
    )
    gutter: GutterKind = Field(
        default="none", description="At the eaves, by its section, with brackets and downspouts"
    )
    gutter_width: PositiveLength | None = Field(default=None, description="At its rim")
    gutter_metal: GutterMetal = Field(
        default="copper", description="Bare copper, or painted with the trim"
    )
    gable: GableKind = Field(default="barge boards", description="What closes a gable's slopes")
    gable_foot: GableFoot = Field(
        default="across", description="Where the level cornice goes under a raking one"
    )
    gable_opening: GableOpening | None = Field(
        default=None, description="A window or louvre in each gable of the main roof"
    )
    overhang: PositiveLength | None = Field(default=None, description="Beyond the cornice")
    covering: Covering = Field(default="barrel tile", description="What the roof is laid with")
    colour: RoofColour = Field(default="terracotta", description="Of tiles and plain roofs")
    gables: list[FrontGable] = Field(
        default_factory=list,
        max_length=4,
        description="Gables of their own over parts of the front or the back",
    )
    dormers: Dormers | None = Field(default=None, description="Windows standing on the main roof")

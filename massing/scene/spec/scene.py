"""A whole scene file."""

from __future__ import annotations

from typing import Any

from pydantic import Field, field_validator

from massing.design.kinds import Units
from massing.scene.spec.colours import Colours
from massing.scene.spec.drawing import Drawing
from massing.scene.spec.house import House
from massing.scene.spec.photograph import Photograph
from massing.scene.spec.pictures import (
    Framing,
    LookName,
    OwnCamera,
    SkyName,
    ViewName,
    WeatheringName,
)
from massing.scene.spec.porch import Porch
from massing.scene.spec.propose import Propose
from massing.scene.spec.roof import Roof
from massing.scene.spec.sheet import Sheet
from massing.scene.spec.side_porch import SidePorch
from massing.scene.spec.site import Site
from massing.scene.spec.surroundings import Setting
from massing.scene.spec.written import PositiveLength, Strict


class Alterable(Strict):
    """The parts of a scene that an alternative may change."""

    house: House = Field(description="The body of the house")
    porch: Porch = Field(default_factory=Porch, description="The porch and its order")
    side_porches: list[SidePorch] = Field(
        default_factory=list,
        max_length=2,
        description="Porches at the sides of the house, a porte-cochere or a sleeping porch too",
    )
    roof: Roof = Field(default_factory=Roof, description="The main roof")
    setting: Setting = Field(default_factory=Setting, description="What stands about the house")
    colours: Colours = Field(default_factory=Colours, description="What is painted how")


class Scene(Alterable):
    """A whole scene file, before its alternatives are laid over it."""

    title: str = Field(description="What the scene is called on sheets and pages")
    units: Units = Field(default="feet", description="For what is written out")
    rounding: PositiveLength | None = Field(
        default=None,
        description="Of the builder's sizes, such as 1/8 in or 5 mm; default: 1/16 in, or 1 mm",
    )
    site: Site = Field(description="Where the house stands")
    times: list[str] = Field(min_length=1, description="Such as: summer solstice 10:00")
    views: list[ViewName] = Field(
        default=["elevation", "street", "close-up"],
        min_length=1,
        description="From where the pictures are taken",
    )
    cameras: list[OwnCamera] = Field(default_factory=list, description="Views of one's own")
    sky: SkyName = Field(
        default="clear",
        description="What is seen behind the house; sun and shadow are a clear sky's in each. "
        "At dusk views in perspective, in materials, are of that day's evening, with lamps lit",
    )
    weathering: WeatheringName = Field(
        default="none",
        description="How far the house looks weathered in materials: light streaks walls, greys "
        "what lies open to the sky and soils what stands near the ground",
    )
    framing: Framing = Field(
        default="own",
        description="Of the close views: shared frames what all designs have in common, own each "
        "design's own porch, at one scale",
    )
    looks: list[LookName] = Field(
        default=["clay", "materials"], min_length=1, description="How the pictures look"
    )
    scale_figure: bool = Field(default=True, description="A person of 5 ft 8 in")
    drawing: Drawing | None = Field(
        default=None, description="The builder's elevation, for massing overlay"
    )
    photograph: Photograph | None = Field(
        default=None, description="A photograph of the site, for massing montage"
    )
    sheet: Sheet | None = Field(default=None, description="The title block of printed sheets")
    propose: Propose | None = Field(
        default=None, description="Limits of the porches that massing propose looks for"
    )
    as_drawn: str = Field(
        default="as drawn", min_length=1, description="What to call the design before changes"
    )
    alternatives: dict[str, dict[str, Any]] = Field(
        default_factory=dict, description="A name for each alternative, and only what it changes"
    )

    @field_validator("cameras")
    @classmethod
    def _named_apart(cls, value: list[OwnCamera]) -> list[OwnCamera]:
        names = [camera.name for camera in value]
        twice = next((name for name in names if names.count(name) > 1), None)
        if twice is not None:
            raise ValueError(f"{twice!r} twice; allowed: a name for each, not {twice} twice")
        return value

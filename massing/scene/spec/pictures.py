"""Views, looks and cameras of one's own."""

from __future__ import annotations

from typing import Literal, get_args

from pydantic import Field, field_validator, model_validator

from massing.scene.spec.written import Length, PositiveLength, Strict

ViewName = Literal[
    "elevation",
    "right elevation",
    "rear elevation",
    "left elevation",
    "street",
    "street left",
    "across the street",
    "walk",
    "close-up",
    "cornice",
    "under the porch",
    "roof",
    "section",
]
SkyName = Literal["clear", "high cloud", "dusk"]
WeatheringName = Literal["none", "light"]
Framing = Literal["shared", "own"]
LookName = Literal["clay", "materials", "drawn"]


class Spot(Strict):
    """A point about the house."""

    along: Length = Field(description="Right of the front's middle")
    before: Length = Field(description="Before the front wall's face; negative behind")
    height: Length = Field(default="1.6 m", validate_default=True, description="Above the ground")


class OwnCamera(Strict):
    """A view of one's own, in perspective and level, so that upright lines stay upright."""

    name: str = Field(min_length=1, description="What the view is called")
    stand: Spot = Field(description="Where the eye is")
    look_at: Spot = Field(description="What comes to the middle of the picture")
    lens: PositiveLength = Field(
        default="35 mm", validate_default=True, description="Focal length, for a 36 mm wide film"
    )

    @field_validator("name")
    @classmethod
    def _own_name(cls, value: str) -> str:
        if value in get_args(ViewName):
            raise ValueError(f"{value!r} is a view; allowed: a name that no view has")
        return value

    @model_validator(mode="after")
    def _looks_somewhere(self) -> OwnCamera:
        a, b = self.stand, self.look_at
        if abs(a.along - b.along) < 0.01 and abs(a.before - b.before) < 0.01:
            raise ValueError("camera looks up or down; allowed: look_at clear of stand in plan")
        return self

"""A photograph of the site, and what is known in it."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from massing.scene.spec.drawing import PIXEL_FORMS, Pixel
from massing.scene.spec.written import Length, Strict

MOST_POINTS = 40
LEAST_POINTS, LEAST_WITH_HORIZON = 6, 4


class SeenPoint(Strict):
    """A point of the house as it stands, seen in a photograph."""

    pixel: Pixel = Field(description=PIXEL_FORMS)
    along: Length = Field(description="Right of the front's middle")
    before: Length = Field(
        default="0 m",
        validate_default=True,
        description="Before the front wall's face; negative behind",
    )
    height: Length = Field(description="Above the ground at the front's middle")


class SeenShadow(Strict):
    """Where the shadow of a known point is seen: the sun by one drawn line."""

    along: Length = Field(description="What throws it: right of the front's middle")
    before: Length = Field(description="What throws it: before the front wall's face")
    height: Length = Field(description="What throws it: above the ground at the front's middle")
    pixel: Pixel = Field(description=f"Where its shadow is seen: {PIXEL_FORMS}")
    falls_on: Literal["wall", "ground"] = Field(
        default="wall", description="What the shadow is seen on"
    )
    wall_before: Length = Field(
        default="0 m",
        validate_default=True,
        description="Of that wall, before the front wall's face",
    )


class Photograph(Strict):
    """A photograph of the site that massing montage stands the alternatives in.

    It is the whole picture as the camera took it: of one cut to a part, the camera is not found.
    """

    image: str = Field(min_length=1, description="File, from the scene file's folder")
    points: list[SeenPoint] = Field(
        min_length=LEAST_WITH_HORIZON,
        max_length=MOST_POINTS,
        description="Six known points of the old front or more, not all in one plane; eight or "
        "more tell the lens's bend too. With the horizon four are enough: the ends of a vertical "
        "and of a width",
    )
    horizon: float | None = Field(
        default=None, gt=-1e5, lt=1e5, description="How far down the horizon lies, pixels"
    )
    time: str | None = Field(
        default=None, description="When it was taken, such as: 14 May 10:00; default: first time"
    )
    shadow: SeenShadow | None = Field(default=None, description="Or one shadow seen in it")
    mask: str | None = Field(
        default=None,
        min_length=1,
        description="File of the photograph's shape, white where trees and the like stand before "
        "the house",
    )

    @model_validator(mode="after")
    def _enough_points(self) -> Photograph:
        if self.horizon is None and len(self.points) < LEAST_POINTS:
            raise ValueError(
                f"too few points; allowed: {LEAST_POINTS} points or more, or {LEAST_WITH_HORIZON} "
                f"with the horizon, not {len(self.points)} without it"
            )
        if self.time is not None and self.shadow is not None:
            raise ValueError("time and shadow; allowed: one of them, and not both")
        return self

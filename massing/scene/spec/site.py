"""Where the house stands, and how the ground lies."""

from __future__ import annotations

from pydantic import Field, field_validator

from massing.scene.spec.written import Compass, GroundRise, Length, Strict


class GroundSlope(Strict):
    """How the ground lies, through the foot of the front wall's middle; rise over run."""

    along: GroundRise = Field(default=0.0, description="Rising to the right of the front")
    back: GroundRise = Field(default=0.0, description="Rising to the back")


class Site(Strict):
    """Where the house stands and which way its front looks."""

    place: str = Field(description="Town, for the labels")
    latitude: float = Field(ge=-90, le=90, description="Degrees, north positive")
    longitude: float = Field(ge=-180, le=180, description="Degrees, east positive")
    altitude: Length = Field(default="0 m", validate_default=True, description="Above sea level")
    time_zone: str | None = Field(
        default=None, description="IANA name such as America/New_York; else from the position"
    )
    front_faces: Compass = Field(description="The way the front looks")
    year: int = Field(default=2026, ge=1950, le=2050, description="For dates without a year")
    ground_slope: GroundSlope | None = Field(default=None, description="The ground's; else level")

    @field_validator("time_zone")
    @classmethod
    def _known_zone(cls, value: str | None) -> str | None:
        if value is not None:
            from zoneinfo import ZoneInfo

            try:
                ZoneInfo(value)
            except (KeyError, ValueError, OSError):
                raise ValueError(
                    f"{value!r} is not a time zone; allowed: an IANA name such as Europe/Rome"
                ) from None
        return value

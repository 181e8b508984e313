"""The builder's drawing or a photograph, and what is known in it."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, Field, WithJsonSchema, model_validator

from massing.scene.spec.written import Length, PositiveLength, Strict

PIXEL_FORMS = "[right, down], pixels from the image's upper left corner"


def _pixel(value: Any) -> tuple[float, float]:
    try:
        right, down = (float(v) for v in value)
    except (TypeError, ValueError):
        raise ValueError(f"{value!r} is no place in an image; allowed: {PIXEL_FORMS}") from None
    if not (0.0 <= right < 1e5 and 0.0 <= down < 1e5):
        raise ValueError(f"{value!r} is outside any image; allowed: {PIXEL_FORMS}")
    return right, down


Pixel = Annotated[
    tuple[float, float],
    BeforeValidator(_pixel),
    WithJsonSchema(
        {
            "type": "array",
            "items": {"type": "number"},
            "minItems": 2,
            "maxItems": 2,
            "description": PIXEL_FORMS,
        }
    ),
]


class KnownPoint(Strict):
    """A point of the front seen in an image."""

    pixel: Pixel = Field(description=PIXEL_FORMS)
    along: Length = Field(description="Right of the front's middle")
    height: Length = Field(description="Above the ground")


class KnownHeight(Strict):
    """An upright length seen in an image, such as the ground to the wall's top at a corner."""

    foot: Pixel = Field(description=PIXEL_FORMS)
    top: Pixel = Field(description=PIXEL_FORMS)
    length: PositiveLength = Field(description="From foot to top")
    along: Length = Field(
        default="0 m", validate_default=True, description="Right of the front's middle"
    )
    above: Length = Field(
        default="0 m", validate_default=True, description="Its foot above the ground"
    )


class KnownRectangle(Strict):
    """An upright rectangle on the front's face, seen in a photograph taken from one side."""

    corners: list[Pixel] = Field(
        min_length=4,
        max_length=4,
        description=f"Lower left, lower right, upper right, upper left; each {PIXEL_FORMS}",
    )
    width: PositiveLength = Field(description="From its left side to its right")
    height: PositiveLength = Field(description="From its foot to its top")
    along: Length = Field(description="Its left side, right of the front's middle")
    above: Length = Field(
        default="0 m", validate_default=True, description="Its foot above the ground"
    )


class Drawing(Strict):
    """A builder's front elevation, or a photograph of the front, to lay the model over.

    A photograph that is not square to the front is straightened by a rectangle on it.
    """

    image: str = Field(min_length=1, description="File, from the scene file's folder")
    points: list[KnownPoint] | None = Field(
        default=None, min_length=2, max_length=12, description="Two known points or more"
    )
    height: KnownHeight | None = Field(default=None, description="Or one known height")
    rectangle: KnownRectangle | None = Field(
        default=None,
        description="Or an upright rectangle on the front, by which a photograph is straightened",
    )

    @model_validator(mode="after")
    def _one_measure(self) -> Drawing:
        if [self.points, self.height, self.rectangle].count(None) != 2:
            raise ValueError(
                "no one measure; allowed: two points, or one height, or a rectangle, and not "
                "more than one"
            )
        return self

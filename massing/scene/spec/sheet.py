"""The title block of printed sheets."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema

from massing.scene.spec.written import Strict

LONGEST_WORDS = 120


def _words(value: Any) -> str:
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        raise ValueError(f"{value!r} is no text; allowed: up to {LONGEST_WORDS} characters")
    text = " ".join(str(value).split())
    if not 0 < len(text) <= LONGEST_WORDS:
        raise ValueError(f"{value!r} is no such text; allowed: up to {LONGEST_WORDS} characters")
    return text


Words = Annotated[
    str,
    BeforeValidator(_words),
    WithJsonSchema({"type": ["string", "number"], "minLength": 1, "maxLength": LONGEST_WORDS}),
]


PaperName = Literal["letter", "tabloid", "A4", "A3"]


class Sheet(Strict):
    """What stands in the title block of printed sheets; each is optional."""

    project: Words | None = Field(default=None, description="By default the scene's title")
    designer: Words | None = Field(default=None, description="Whose design it is")
    client: Words | None = Field(default=None, description="Whom it is for")
    date: Words | None = Field(
        default=None, description="Such as 2026-11-27, or in words; by default the day of printing"
    )
    issue: Words | None = Field(default=None, description="Number or letter of the issue")
    paper: PaperName | None = Field(
        default=None,
        description="That a board is printed on; by default by the units",
    )
    border: bool = Field(
        default=False,
        description="Elevations in ink and wash are framed, with name and scale lettered",
    )
    logo: str | None = Field(
        default=None,
        min_length=1,
        description="An image file of your own (PNG, JPEG or SVG), from the scene file's folder",
    )

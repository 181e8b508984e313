"""What stands about the house."""

from __future__ import annotations

from typing import Any, get_args

from pydantic import Field, model_validator

from massing.design.kinds import DriveSide, Habit, PathKind, SettingKind
from massing.scene.spec.written import Length, PositiveLength, Strict


class Placed(Strict):
    """Something that stands on the ground about the house."""

    along: Length = Field(description="Its middle, right of the front's middle")
    before: Length = Field(description="Its middle, before the front wall's face; negative behind")


class Hedge(Placed):
    """A clipped hedge."""

    length: PositiveLength = Field(description="Along the front")
    width: PositiveLength = Field(description="Front to back")
    height: PositiveLength = Field(description="Above the ground")


class Tree(Placed):
    """A tree."""

    height: PositiveLength = Field(description="Ground to top")
    spread: PositiveLength = Field(description="Of the crown, side to side")
    habit: Habit = Field(default="oak", description="How it grows; an oak is bare in winter")


class Neighbour(Placed):
    """A neighbour's house, as a plain mass."""

    width: PositiveLength = Field(description="Along the front")
    depth: PositiveLength = Field(description="Front to back")
    eaves: PositiveLength = Field(description="Ground to eaves")
    ridge: PositiveLength = Field(description="Ground to ridge")


class Setting(Strict):
    """What stands about the house: what throws shadows on it, and for pictures its setting.

    A word alone is its kind: ``setting: garden``.
    """

    kind: SettingKind = Field(
        default="open country",
        description="Planting, paths and distance in pictures; none of it throws a shadow on the "
        "house or hides the porch",
    )
    path: PathKind | None = Field(
        default=None, description="What the path is laid with; by the kind of setting"
    )
    drive: DriveSide = Field(default="none", description="A drive past this side of the house")
    hedges: list[Hedge] = Field(default_factory=list, max_length=30, description="Clipped hedges")
    trees: list[Tree] = Field(default_factory=list, max_length=30, description="Trees")
    neighbours: list[Neighbour] = Field(
        default_factory=list, max_length=6, description="Neighbours' houses"
    )

    @model_validator(mode="before")
    @classmethod
    def _a_word_alone(cls, value: Any) -> Any:
        if isinstance(value, str):
            kinds = get_args(SettingKind)
            word = " ".join(value.lower().replace("-", " ").replace("_", " ").split())
            if word not in kinds:
                raise ValueError(
                    f"given {value}, allowed: {', '.join(kinds)}, or a group of fields"
                )
            return {"kind": word}
        return value

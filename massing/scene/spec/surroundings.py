"""What stands about the house."""

from __future__ import annotations

from pydantic import Field

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
    """A broad-leaved tree."""

    height: PositiveLength = Field(description="Ground to top")
    spread: PositiveLength = Field(description="Of the crown, side to side")


class Neighbour(Placed):
    """A neighbour's house, as a plain mass."""

    width: PositiveLength = Field(description="Along the front")
    depth: PositiveLength = Field(description="Front to back")
    eaves: PositiveLength = Field(description="Ground to eaves")
    ridge: PositiveLength = Field(description="Ground to ridge")


class Setting(Strict):
    """What stands about the house and throws shadows on it."""

    hedges: list[Hedge] = Field(default_factory=list, max_length=30, description="Clipped hedges")
    trees: list[Tree] = Field(default_factory=list, max_length=30, description="Trees")
    neighbours: list[Neighbour] = Field(
        default_factory=list, max_length=6, description="Neighbours' houses"
    )

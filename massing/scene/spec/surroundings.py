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
    width: PositiveLength
    height: PositiveLength


class Tree(Placed):
    """A broad-leaved tree."""

    height: PositiveLength
    spread: PositiveLength


class Neighbour(Placed):
    """A neighbour's house, as a plain mass."""

    width: PositiveLength
    depth: PositiveLength
    eaves: PositiveLength
    ridge: PositiveLength


class Setting(Strict):
    """What stands about the house and throws shadows on it."""

    hedges: list[Hedge] = Field(default_factory=list, max_length=30)
    trees: list[Tree] = Field(default_factory=list, max_length=30)
    neighbours: list[Neighbour] = Field(default_factory=list, max_length=6)

"""Where a door goes, and the room it has there."""

from __future__ import annotations

from dataclasses import dataclass

from massing.design.kinds import Wall


@dataclass(frozen=True)
class Place:
    """Where a door goes, and the room it has there; heights above the ground."""

    field: tuple[str, str]
    name: str  # the opening's place in its storey
    wall: Wall
    along_m: float
    bay_m: float
    floor_z_m: float
    stand_z_m: float | None  # the porch's floor or a landing before it; None: the ground
    heads_z_m: float  # of the windows beside it
    ceiling_z_m: float
    walls: str  # what the wall is built of
    under: str = "the floor or cornice above"

    @property
    def dotted(self) -> str:
        """The field as it is written in messages."""
        return ".".join(self.field)

"""An arcade: arches between columns that stand against piers, every size known."""

from __future__ import annotations

from dataclasses import dataclass

from massing.canon.order import Member


@dataclass(frozen=True)
class ArchBay:
    """One arch: its middle from the porch's, its width between piers, its springing's height."""

    middle_m: float
    clear_m: float
    spring_m: float  # above the floor, the top of the impost

    @property
    def crown_m(self) -> float:
        """Top of the arch above the floor."""
        return self.spring_m + self.clear_m / 2.0


@dataclass(frozen=True)
class ArcadeDesign:
    """Piers behind the columns of a front, and the arches they carry.

    Attributes:
        bays: left to right.
        pier_m: breadth of a pier between two arches.
        end_m: the porch's middle to the outer side of the last pier.
        behind_m: the piers' face behind the column's axis.
        thick_m: the piers' depth from there.
        plinth_m: height of the piers' plain plinth.
        impost, archivolt: their mouldings, from the piers' face.
        keystone: a wedge at each crown, up to the architrave.
    """

    bays: tuple[ArchBay, ...]
    pier_m: float
    end_m: float
    behind_m: float
    thick_m: float
    plinth_m: float
    impost: tuple[Member, ...]
    archivolt: tuple[Member, ...]
    keystone: bool = True

    @property
    def impost_m(self) -> float:
        """An impost's height."""
        return sum(m.height for m in self.impost)

    @property
    def archivolt_m(self) -> float:
        """An archivolt's breadth."""
        return sum(m.height for m in self.archivolt)

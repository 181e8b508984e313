"""Roof coverings as data: true sizes, exposures and how they are laid."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import radians
from typing import Any

from massing.files import table
from massing.units import INCH_M, parse_length

CAP_OF_WIDTH = 0.5  # of half its breadth: how far a ridge of caps stands over the covering


@dataclass(frozen=True)
class Covering:
    """One covering; lengths in metres. Fields a kind has no use for are 0 or empty.

    Attributes:
        kind: how it is laid: barrel, plate or seam.
        ridge: how hips and ridges are closed: barrel, caps or roll.
        role: the material role.
        spacing_m: piece to piece across a course.
        widths_m: widths drawn at random, for pieces that are not all alike.
        section_m: underside of a moulded piece, (x, z) from side to side.
    """

    name: str
    kind: str
    role: str
    ridge: str
    length_m: float
    width_m: float
    exposure_m: float
    thickness_m: float
    head_thickness_m: float
    spacing_m: float
    seam_m: float
    half_angle_rad: float
    clearance_m: float
    overhang_m: float
    ridge_width_m: float
    broken_joints: bool
    starter: bool
    widths_m: tuple[float, ...]
    section_m: tuple[tuple[float, float], ...]

    @property
    def over_ridge_m(self) -> float:
        """About how far tiles, caps or a roll on a ridge stand over the covering beside it."""
        return self.ridge_width_m / 2.0 * (CAP_OF_WIDTH if self.ridge == "caps" else 1.0)

    @property
    def rise_m(self) -> float:
        """About how far it stands above the deck."""
        section = max((z for _, z in self.section_m), default=0.0)
        if self.kind == "barrel":
            return 0.85 * self.width_m
        return section + self.seam_m + 3.0 * self.thickness_m


@cache
def coverings() -> dict[str, Covering]:
    """All coverings by name, from ``practice/coverings.yaml``."""
    return {row["name"]: _covering(row) for row in table("massing.practice", "coverings.yaml")}


def covering(name: str) -> Covering:
    """The covering of that name.

    Raises:
        ValueError: there is none.
    """
    found = coverings().get(name)
    if found is None:
        raise ValueError(f"{name!r} is not a covering; allowed: {', '.join(coverings())}")
    return found


def _covering(row: dict[str, Any]) -> Covering:
    def length(key: str, otherwise: str = "0 in") -> float:
        return parse_length(str(row.get(key, otherwise)))

    return Covering(
        name=row["name"],
        kind=row["kind"],
        role=row["role"],
        ridge=row["ridge"],
        length_m=length("length"),
        width_m=length("width"),
        exposure_m=length("exposure"),
        thickness_m=length("thickness"),
        head_thickness_m=length("head_thickness", row["thickness"]),
        spacing_m=length("spacing"),
        seam_m=length("seam"),
        half_angle_rad=radians(row.get("half_angle_deg", 0.0)),
        clearance_m=length("clearance"),
        overhang_m=length("overhang"),
        ridge_width_m=length("ridge_width"),
        broken_joints=bool(row.get("broken_joints", False)),
        starter=bool(row.get("starter", False)),
        widths_m=tuple(parse_length(w) for w in row.get("widths", ())),
        section_m=tuple((x * INCH_M, z * INCH_M) for x, z in row.get("section", ())),
    )

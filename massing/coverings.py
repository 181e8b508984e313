"""Roof coverings as data: true sizes, exposures and the least slope they may lie on."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib import resources
from math import radians

from ruamel.yaml import YAML

from massing.units import parse_length


@dataclass(frozen=True)
class Covering:
    """One covering; lengths in metres. Fields a kind has no use for are 0."""

    name: str
    kind: str
    role: str
    length_m: float
    width_m: float
    exposure_m: float
    thickness_m: float
    spacing_m: float
    half_angle_rad: float
    clearance_m: float
    overhang_m: float
    ridge_width_m: float
    minimum_slope: float


@cache
def coverings() -> dict[str, Covering]:
    """All coverings by name, from ``parts/coverings.yaml``."""
    text = resources.files("massing").joinpath("parts/coverings.yaml").read_text(encoding="utf-8")
    return {row["name"]: _covering(row) for row in YAML(typ="safe").load(text)}


def covering(name: str) -> Covering:
    """The covering of that name.

    Raises:
        ValueError: there is none.
    """
    found = coverings().get(name)
    if found is None:
        raise ValueError(f"{name!r} is not a covering; allowed: {', '.join(coverings())}")
    return found


def _covering(row: dict[str, object]) -> Covering:
    def length(key: str) -> float:
        return parse_length(str(row[key])) if key in row else 0.0

    rise, run = str(row["minimum_slope"]).split(":")
    return Covering(
        name=str(row["name"]),
        kind=str(row["kind"]),
        role=str(row["role"]),
        length_m=length("length"),
        width_m=length("width"),
        exposure_m=length("exposure"),
        thickness_m=length("thickness"),
        spacing_m=length("spacing"),
        half_angle_rad=radians(float(str(row.get("half_angle_deg", 0.0)))),
        clearance_m=length("clearance"),
        overhang_m=length("overhang"),
        ridge_width_m=length("ridge_width"),
        minimum_slope=float(rise) / float(run),
    )

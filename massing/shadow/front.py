"""A front made ready to be measured: its parts for the rays, points over each named surface, and
lines down the faces that the cornice shades.

Every sun is then measured on the same points, so that times and alternatives compare.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from massing.design.design import Design
from massing.geometry.rays import Caster
from massing.parts.part import Model, Part
from massing.shadow.lines import (
    Lines,
    column_lines,
    corona_lines,
    entablature_lines,
    floor_lines,
    wall_lines,
)
from massing.shadow.surfaces import (
    Surface,
    columns_surface,
    entablature_surfaces,
    floor_surface,
    front_openings,
    opening_surface,
    wall_surfaces,
)


@dataclass(frozen=True, eq=False)
class Front:
    """A design made ready for measuring."""

    design: Design
    caster: Caster[Part]
    surfaces: tuple[Surface, ...]
    shade: tuple[Lines, ...]  # from under a cornice or ceiling downwards
    reach: tuple[Lines, ...]  # from the farthest point back towards where the sun comes in


def casting_parts(model: Model) -> list[Part]:
    """The parts that cast shadows in figures: all but the scale figure."""
    return [p for p in model.parts if not p.within("setting", "figure")]


def ready_front(design: Design, model: Model) -> Front:
    """Place points and lines on the front of a design's model."""
    caster = Caster(casting_parts(model))
    surfaces = [
        *entablature_surfaces(design, caster),
        columns_surface(design, caster),
        *wall_surfaces(design, caster),
        *(opening_surface(opening, design.units, caster) for opening in front_openings(design)),
        floor_surface(design, caster),
    ]
    shade = [
        *entablature_lines(design, caster),
        column_lines(design, caster),
        *wall_lines(design, caster),
        corona_lines(design, caster),
    ]
    return Front(
        design,
        caster,
        tuple(s for s in surfaces if len(s.points)),
        tuple(line for line in shade if len(line.points)),
        (floor_lines(design, caster),),
    )


def thinned(front: Front, most: int = 300) -> Front:
    """The front with at most ``most`` points on each surface, for sums over many suns."""
    return replace(front, surfaces=tuple(_thin(s, most) for s in front.surfaces))


def _thin(surface: Surface, most: int) -> Surface:
    return Surface(surface.name, surface.points[:most], surface.normals[:most])

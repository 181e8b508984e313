"""From what the scene says to a design with every dimension known.

Each number is either given in the scene or follows from a rule named here; ``Design.origins``
records which, so that the designer can ask where any size came from.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from massing.canon import rounded
from massing.design.design import Design
from massing.design.house import HouseDesign
from massing.design.origin import Origin
from massing.design.porch import PorchDesign
from massing.design.roof import RoofDesign
from massing.design.side_porch import SidePorchDesign
from massing.design.site import SiteDesign
from massing.resolve.bay_windows import with_bay_windows
from massing.resolve.bays import bay_centres
from massing.resolve.clearance import check_clear
from massing.resolve.corner_pilasters import corner_order
from massing.resolve.cross_gables import gable_designs
from massing.resolve.doors import check_beside_wings, with_doors
from massing.resolve.dormers import check_porch_gable, dormer_designs
from massing.resolve.giving_way import with_defaults_giving_way
from massing.resolve.ground import check_ground, ground_design
from massing.resolve.house import chimney_designs, floor_levels, house_design
from massing.resolve.porch import porch_design
from massing.resolve.porch_roofs import check_under_eaves, with_roof
from massing.resolve.recess import with_recess
from massing.resolve.roof import check_chimneys, drained, roof_design
from massing.resolve.setting import setting_design
from massing.resolve.side_porches import porches_by_wall, side_porch_designs, with_roofs
from massing.resolve.under_openings import check_porch_against_house, check_upper_openings
from massing.resolve.wings import with_wings
from massing.resolve.wrapping import before_sides, hipped_round_corners
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import House, Scene, Site
from massing.sun.times import time_zone_at
from massing.units import INCH_M, format_feet_inches

# Common practice, no source, unless a line says otherwise.
ROUNDING_M = {"feet": INCH_M / 16.0, "metric": 0.001}
ROUNDINGS_M = {
    "feet": tuple(INCH_M / n for n in (1, 2, 4, 8, 16, 32)),
    "metric": (0.001, 0.002, 0.005, 0.01),
}


def resolve(scene: Scene, name: str, lines: Mapping[tuple[Any, ...], int] | None = None) -> Design:
    """The design that ``scene`` (one alternative, already merged) asks for.

    Args:
        scene: the validated fields.
        name: the alternative's name.
        lines: line of each field in the scene file, for the origins.

    Raises:
        DesignError: what the scene says, each allowed, cannot stand together.
    """
    kept: _Kept = {}
    return with_defaults_giving_way(
        scene, lines or {}, lambda asked, origins: by_rule(asked, name, origins, kept)
    )


def by_rule(scene: Scene, name: str, origins: Origins, kept: _Kept | None = None) -> Design:
    """The design with every rule's own value, none of which gives way.

    ``kept`` holds main blocks from one call to the next, for scenes that are copies of one.

    Raises:
        DesignError: a field whose value, given or by rule, cannot be built.
    """
    scene = hipped_round_corners(scene)
    block = _kept_block(scene, origins, {} if kept is None else kept)
    site, porch, roof, beside = block.site, block.porch, block.roof, block.beside
    house = with_wings(scene.house, block.house, roof, porch, site.ground, origins)
    check_beside_wings(scene.house, house)
    house = with_bay_windows(scene.house, house, porch, origins)
    beside = with_roofs(scene, house, roof, beside, origins)
    check_ground(site.ground, house, porch, scene.units, beside)
    roof = replace(roof, gables=gable_designs(scene.roof, house, roof, porch, origins))
    house = replace(
        house, corner_pilasters=corner_order(scene, house, porch, roof, origins, beside)
    )
    roof = drained(scene.roof, house, porch, roof, site.ground, origins, beside)
    check_clear(porch, house, roof, scene.units)
    check_porch_gable(porch, house, roof, scene.units)
    roof = replace(roof, dormers=dormer_designs(scene.roof.dormers, house, roof, porch, origins))
    return Design(
        name=name,
        site=site,
        house=house,
        porch=porch,
        roof=roof,
        side_porches=beside,
        setting=setting_design(scene, house, porch, site.ground, beside),
        units=scene.units,
        rounding_m=block.rounding_m,
        scale_figure=scene.scale_figure,
        colours=tuple((k, v) for k, v in scene.colours.model_dump().items() if v is not None),
        origins=origins.notes,
    )


@dataclass(frozen=True)
class _MainBlock:
    """House, porches and roof before wings, gutters and dormers; and what was noted of them."""

    site: SiteDesign
    house: HouseDesign
    porch: PorchDesign
    roof: RoofDesign
    beside: tuple[SidePorchDesign, ...]
    rounding_m: float
    notes: Mapping[str, Origin]
    of: tuple[object, ...]  # the scene's groups that it was made of, held so that they stay


_Kept = dict[tuple[int, ...], _MainBlock]


def _kept_block(scene: Scene, origins: Origins, kept: _Kept) -> _MainBlock:
    """The main block, made once while only wings give way: a changed scene shares the rest.

    Porches at the sides look for wings there, and are made anew.
    """
    fields = [getattr(scene, name) for name in Scene.model_fields if name != "house"]
    asked = [name for name in House.model_fields if name != "wings" or scene.side_porches]
    of = (*fields, *(getattr(scene.house, name) for name in asked))
    key = tuple(map(id, of))
    if key not in kept:
        kept[key] = _main_block(scene, origins, of)
    origins.notes.update(kept[key].notes)
    return kept[key]


def _main_block(scene: Scene, origins: Origins, of: tuple[object, ...]) -> _MainBlock:
    site = _site(scene.site, origins)
    levels = floor_levels(scene.house, origins)
    bays = bay_centres(scene.house, origins)
    porch = porch_design(scene, levels, bays, site.ground, origins)
    house = house_design(scene.house, levels, bays, porch, origins)
    beside = side_porch_designs(
        scene, house, porch, levels, site.ground, origins, driven_under=False
    )
    if beside:  # windows stay under the ceilings of side porches too
        under = [each.ceiling_z_m for one in beside for each in (one.porch, one.porch.highest)]
        house = house_design(scene.house, levels, bays, porch, origins, under)
    ahead = {**porches_by_wall(beside), **before_sides(porch, house)}
    house = with_doors(house, scene.house, porch, site.ground, origins, ahead)
    beside += side_porch_designs(
        scene, house, porch, levels, site.ground, origins, driven_under=True
    )
    check_porch_against_house(porch, house, scene)
    house = with_recess(house, porch, origins)
    roof = roof_design(scene.roof, house, origins)
    porch = with_roof(porch, scene, house, roof, origins)
    check_under_eaves(porch, house, roof, scene.units)
    check_upper_openings(porch, house, roof, scene)
    step = _rounding(scene, porch)
    house = replace(house, chimneys=chimney_designs(scene.house, house, roof, origins))
    check_chimneys(house, roof, origins)
    return _MainBlock(site, house, porch, roof, tuple(beside), step, dict(origins.notes), of)


def _rounding(scene: Scene, porch: PorchDesign) -> float:
    """The builder's fraction: a power of two of an inch, or whole millimetres."""
    asked = scene.rounding
    if asked is None:
        return ROUNDING_M[scene.units]
    steps = ROUNDINGS_M[scene.units]
    allowed = "1, 1/2, 1/4, 1/8, 1/16 or 1/32 in" if scene.units == "feet" else "1, 2, 5 or 10 mm"
    step = min(steps, key=lambda s: abs(s - asked))
    given = format_feet_inches(asked, 64) if scene.units == "feet" else f"{asked * 1000:g} mm"
    if abs(step - asked) > 1e-9:
        raise DesignError("rounding", given, allowed)
    for each in (porch, porch.upper):
        try:
            if each is not None:
                rounded(each.order, step)
        except ValueError:
            raise DesignError(
                "rounding", given, "a finer step, in which the smallest member is not lost"
            ) from None
    return step


def _site(site: Site, origins: Origins) -> SiteDesign:
    zone = site.time_zone or time_zone_at(site.latitude, site.longitude)
    given = origins.given(("site", "time_zone")) if site.time_zone else "by position"
    origins.say("site.time_zone", zone, given)
    return SiteDesign(
        place=site.place,
        latitude_deg=site.latitude,
        longitude_deg=site.longitude,
        altitude_m=site.altitude,
        time_zone=zone,
        front_azimuth_deg=site.front_faces,
        year=site.year,
        ground=ground_design(site),
    )

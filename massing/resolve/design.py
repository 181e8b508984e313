"""From what the scene says to a design with every dimension known.

Each number is either given in the scene or follows from a rule named here; ``Design.origins``
records which, so that the designer can ask where any size came from.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from massing.canon import rounded
from massing.design.design import Design
from massing.design.house import HouseDesign
from massing.design.porch import PorchDesign
from massing.design.roof import RoofDesign
from massing.design.site import SiteDesign
from massing.practice.defaults import default
from massing.resolve.bays import bay_centres
from massing.resolve.clearance import check_clear
from massing.resolve.corner_pilasters import corner_order
from massing.resolve.doors import check_beside_wings, with_doors
from massing.resolve.dormers import check_porch_gable, dormer_designs
from massing.resolve.giving_way import with_defaults_giving_way
from massing.resolve.ground import check_ground, ground_design
from massing.resolve.house import chimney_designs, floor_levels, house_design
from massing.resolve.openings import stands_half_under
from massing.resolve.porch import porch_design
from massing.resolve.porch_roofs import check_under_eaves, roof_on_wall_m, with_roof
from massing.resolve.recess import with_recess
from massing.resolve.roof import check_chimneys, drained, roof_design
from massing.resolve.setting import setting_design
from massing.resolve.wings import with_wings
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Scene, Site
from massing.sun.times import time_zone_at
from massing.units import INCH_M, format_feet_inches, format_length

# Common practice, no source, unless a line says otherwise.
ROUNDING_M = {"feet": INCH_M / 16.0, "metric": 0.001}
ROUNDINGS_M = {
    "feet": tuple(INCH_M / n for n in (1, 2, 4, 8, 16, 32)),
    "metric": (0.001, 0.002, 0.005, 0.01),
}
DECK_M = default("porch.flooring")


def resolve(scene: Scene, name: str, lines: Mapping[tuple[Any, ...], int] | None = None) -> Design:
    """The design that ``scene`` (one alternative, already merged) asks for.

    Args:
        scene: the validated fields.
        name: the alternative's name.
        lines: line of each field in the scene file, for the origins.

    Raises:
        DesignError: what the scene says, each allowed, cannot stand together.
    """
    return with_defaults_giving_way(
        scene, lines or {}, lambda asked, origins: by_rule(asked, name, origins)
    )


def by_rule(scene: Scene, name: str, origins: Origins) -> Design:
    """The design with every rule's own value, none of which gives way.

    Raises:
        DesignError: a field whose value, given or by rule, cannot be built.
    """
    site = _site(scene.site, origins)
    levels = floor_levels(scene.house, origins)
    bays = bay_centres(scene.house, origins)
    porch = porch_design(scene, levels, bays, site.ground, origins)
    house = house_design(scene.house, levels, bays, porch, origins)
    house = with_doors(house, scene.house, porch, site.ground, origins)
    _check_porch_against_house(porch, house, scene)
    house = with_recess(house, porch, origins)
    roof = roof_design(scene.roof, house, origins)
    porch = with_roof(porch, scene, house, roof, origins)
    check_under_eaves(porch, house, roof, scene.units)
    _check_upper_openings(porch, house, roof, scene)
    step = _rounding(scene, porch)
    house = replace(house, chimneys=chimney_designs(scene.house, house, roof, origins))
    check_chimneys(house, roof, origins)
    house = with_wings(scene.house, house, roof, porch, site.ground, origins)
    check_beside_wings(scene.house, house)
    check_ground(site.ground, house, porch, scene.units)
    house = replace(house, corner_pilasters=corner_order(scene, house, porch, roof, origins))
    roof = drained(scene.roof, house, porch, roof, site.ground, origins)
    check_clear(porch, house, roof, scene.units)
    check_porch_gable(porch, house, roof, scene.units)
    roof = replace(roof, dormers=dormer_designs(scene.roof.dormers, house, roof, porch, origins))
    return Design(
        name=name,
        site=site,
        house=house,
        porch=porch,
        roof=roof,
        setting=setting_design(scene, house, porch, site.ground),
        units=scene.units,
        rounding_m=step,
        scale_figure=scene.scale_figure,
        colours=tuple((k, v) for k, v in scene.colours.model_dump().items() if v is not None),
        origins=origins.notes,
    )


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


def _check_porch_against_house(porch: PorchDesign, house: HouseDesign, scene: Scene) -> None:
    """Raise DesignError where porch and house cannot both stand as asked."""

    def length(value_m: float) -> str:
        return format_length(value_m, scene.units)

    reach = max(porch.half_width_m, porch.highest.half_width_m)
    room = house.width_m / 2.0
    if reach <= room + 1e-9 < abs(porch.centre_m) + reach:
        raise DesignError(
            "porch.along",
            length(porch.centre_m),
            f"at most {length(room - reach)} from the front's middle, where a porch "
            f"{length(2 * reach)} wide over its entablature still stands before the house",
        )
    if reach > room + 1e-9:
        raise DesignError(
            "porch.spacing",
            f"a porch {length(2 * reach)} wide over its entablature",
            f"at most the house's {length(house.width_m)}",
        )
    highest = porch.highest
    if highest.top_z_m > house.wall_top_z_m + 1e-6:
        raise DesignError(
            "porch.height" if porch.upper is None else "porch.upper.height",
            f"an order {length(highest.order.order_height_m)} high on a floor at "
            f"{length(highest.floor_z_m)}",
            f"a top at or below the wall's {length(house.wall_top_z_m)}",
        )


def _check_upper_openings(
    porch: PorchDesign, house: HouseDesign, roof: RoofDesign, scene: Scene
) -> None:
    """Raise DesignError where ceiling, beam, floor or roof of the porch cross an opening."""

    def length(value_m: float) -> str:
        return format_length(value_m, scene.units)

    if porch.upper is not None:
        _check_openings(porch, porch.top_z_m + DECK_M, "porch.height", house, length)
    roof_z = roof_on_wall_m(porch, house, roof)
    if roof_z is not None:
        field = "porch.height" if porch.upper is None else "porch.upper.height"
        _check_openings(porch.highest, roof_z, field, house, length)


def _check_openings(
    porch: PorchDesign,
    roof_z: float,
    field: str,
    house: HouseDesign,
    length: Callable[[float], str],
) -> None:
    """Raise DesignError where ceiling, beam or roof of one order crosses an opening's trim."""
    half_width = porch.half_width_m + porch.order.cornice_projection_m
    for opening in house.openings:
        near = porch.from_middle_m(opening.along_m) - opening.reach_m
        if opening.wall != "front" or near > half_width:
            continue
        half_under = stands_half_under(opening.along_m, opening.reach_m, porch)
        foot_z = porch.column_top_z_m if half_under else porch.ceiling_z_m
        top_z = opening.top_z_m
        if opening.foot_z_m < roof_z and top_z > foot_z:
            raise DesignError(
                field,
                f"a porch that takes up the wall from {length(foot_z)} to {length(roof_z)} "
                f"and crosses {opening.name}",
                f"clear of its {length(opening.foot_z_m)} to {length(top_z)}, sill to head",
            )

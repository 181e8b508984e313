"""The house of a design: levels, bays, walls, cornice, chimneys, from what the scene says."""

from __future__ import annotations

from itertools import combinations

from massing.canon import FittedCornice, fit_cornice
from massing.design.house import ChimneyDesign, HouseDesign
from massing.design.porch import PorchDesign
from massing.design.roof import RoofDesign
from massing.practice.defaults import default, said_default
from massing.practice.joinery_sizes import BELT_M, CLAPBOARD_EXPOSURE_M
from massing.resolve.openings import openings_of, window_ceilings
from massing.resolve.setting import plans_meet
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import House
from massing.settingout.eaves import eaves_reach, wing_run
from massing.settingout.roof_heights import roof_rise_m
from massing.units import FOOT_M, INCH_M, format_length

# Common practice, no source, unless a line says otherwise.
FLOOR_M = default("house.floor")
WALL_THICKNESS_M = {walls: default(f"house.{walls}") for walls in ("stucco", "clapboard")}
MASONRY_THICKNESS_M = default("house.masonry")
REVEAL_M = {"clapboard": default("house.clapboard_reveal")}
MASONRY_REVEAL_M = default("house.masonry_reveal")
CORNICE_OF_WALL = default("house.cornice")
CHIMNEY_M = tuple(default(f"house.chimney_{size}") for size in ("width", "depth", "height"))
CHIMNEY_GAP_M = default("house.chimney_gap")


def floor_levels(house: House, origins: Origins) -> tuple[float, ...]:
    """Heights of the floors and, last, of the wall top, above the ground."""
    levels = [
        origins.choose(
            ("house", "floor"),
            house.floor,
            FLOOR_M,
            f"{said_default('house.floor', origins.units)} up",
        )
    ]
    for i, storey in enumerate(house.storeys):
        origins.note(f"house.storeys.{i}", storey, origins.given(("house", "storeys", i)))
        levels.append(levels[-1] + storey)
    origins.note("house.wall_top", levels[-1], "floor and storeys added up")
    return tuple(levels)


def house_design(
    house: House,
    levels: tuple[float, ...],
    bays: tuple[float, ...],
    porch: PorchDesign | None,
    origins: Origins,
) -> HouseDesign:
    """The walls, openings and cornice of a house; without a porch, of a wing."""
    wall = origins.choose(
        ("house", "wall_thickness"),
        house.wall_thickness,
        WALL_THICKNESS_M.get(house.walls, MASONRY_THICKNESS_M),
        f"common practice for {house.walls}",
    )
    reveal = origins.choose(
        ("house", "reveal"),
        house.reveal,
        REVEAL_M.get(house.walls, MASONRY_REVEAL_M),
        f"common practice for {house.walls}",
    )
    if reveal > wall - 0.1:
        raise DesignError(
            "house.reveal",
            format_length(reveal, origins.units),
            f"at most {format_length(wall - 0.1, origins.units)} in a wall of "
            f"{format_length(wall, origins.units)}, to leave room for the sash",
        )
    for field, size in (("width", house.width), ("depth", house.depth)):
        if size < 4 * wall + 1.0:
            raise DesignError(
                f"house.{field}",
                format_length(size, origins.units),
                f"at least {format_length(4 * wall + 1.0, origins.units)} with these walls",
            )
    highest = porch.highest if porch else None
    continues = highest is not None and abs(highest.top_z_m - levels[-1]) < 1e-6
    if highest is not None and continues:
        cornice = FittedCornice((*highest.order.frieze, *highest.order.cornice))
        origins.note(
            "house.cornice", cornice.height_m, "the porch's frieze and cornice carried round"
        )
    else:
        cornice = fit_cornice(
            origins.choose(
                ("house", "cornice"),
                house.cornice,
                CORNICE_OF_WALL * levels[-1],
                "an eighteenth of the wall (common practice)",
            )
        )
    ceilings = window_ceilings(levels, levels[-1] - cornice.height_m, porch)
    if house.belt_courses:
        ceilings = (
            *(min(c, z - BELT_M) for c, z in zip(ceilings[:-1], levels[1:-1], strict=True)),
            ceilings[-1],
        )
    if house.quoins and house.walls == "clapboard":
        raise DesignError("house.quoins", "quoins", "only with walls of masonry or stucco")
    if house.relief and house.walls == "stucco":
        raise DesignError("house.relief", "relief", "only with walls: clapboard, brick, limestone")
    if house.rustication != "none" and house.walls not in ("limestone", "stucco"):
        raise DesignError(
            "house.rustication", house.rustication, "only with walls: limestone or stucco"
        )
    if house.clapboard_exposure and not 2 * INCH_M <= house.clapboard_exposure <= FOOT_M:
        raise DesignError(
            "house.clapboard_exposure",
            format_length(house.clapboard_exposure, origins.units),
            "2 in to 12 in",
        )
    porch_half = porch.axes_m[-1] if porch else None
    openings = openings_of(house, levels, ceilings, bays, wall, porch_half, origins)
    return HouseDesign(
        width_m=house.width,
        depth_m=house.depth,
        wall_thickness_m=wall,
        reveal_m=reveal,
        walls=house.walls,
        floor_z_m=levels[0],
        storey_floors_z_m=levels[:-1],
        wall_top_z_m=levels[-1],
        bay_centres_m=bays,
        openings=openings,
        cornice=cornice,
        cornice_continues_porch=continues,
        relief=house.relief,
        bond=house.bond,
        coursing=house.coursing,
        rustication=house.rustication,
        clapboard_exposure_m=origins.choose(
            ("house", "clapboard_exposure"),
            house.clapboard_exposure,
            CLAPBOARD_EXPOSURE_M,
            "common practice",
        ),
        quoins=house.quoins,
        foundation=house.foundation,
        belt_courses_z_m=levels[1:-1] if house.belt_courses else (),
    )


def chimney_designs(
    spec: House, house: HouseDesign, roof: RoofDesign, origins: Origins
) -> tuple[ChimneyDesign, ...]:
    """Stacks within the walls, each topping the ridge."""
    rise = roof_rise_m(roof, house.width_m, house.depth_m, eaves_reach(house, roof))
    if house.open_side:
        rise = roof.slope * wing_run(house, roof)
    ridge_z = house.wall_top_z_m + rise
    made = []
    for i, chimney in enumerate(spec.chimneys):
        at = ("house", "chimneys", i)
        width, depth, height = (
            origins.choose((*at, field), given, rule, "common practice")
            for field, given, rule in (
                ("width", chimney.width, CHIMNEY_M[0]),
                ("depth", chimney.depth, CHIMNEY_M[1]),
                ("height", chimney.height, CHIMNEY_M[2]),
            )
        )
        for field, off, half, limit in (
            ("along", abs(chimney.along), width / 2.0, house.width_m / 2.0),
            ("back", abs(chimney.back - house.depth_m / 2.0), depth / 2.0, house.depth_m / 2.0),
        ):
            if off + half > limit:
                raise DesignError(
                    f"house.chimneys.{i}.{field}",
                    format_length(getattr(chimney, field), origins.units),
                    "a stack within the walls of the house",
                )
        made.append(
            ChimneyDesign(
                low_m=(chimney.along - width / 2.0, chimney.back - depth / 2.0),
                high_m=(chimney.along + width / 2.0, chimney.back + depth / 2.0),
                top_z_m=ridge_z + height,
            )
        )
    for (i, one), (j, other) in combinations(enumerate(made), 2):
        if plans_meet((*one.low_m, *one.high_m), (*other.low_m, *other.high_m), CHIMNEY_GAP_M):
            raise DesignError(
                f"house.chimneys.{j}.along",
                format_length(spec.chimneys[j].along, origins.units),
                f"clear of chimney {i + 1}",
            )
    return tuple(made)

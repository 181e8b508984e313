"""The house of a design: levels, bays, walls, cornice, chimneys, from what the scene says."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from massing.canon import FittedCornice, fit_cornice
from massing.design.house import ChimneyDesign, HouseDesign
from massing.design.porch import PorchDesign
from massing.design.roof import RoofDesign
from massing.practice.defaults import default, default_rule, said_default
from massing.practice.joinery_sizes import BELT_M, CLAPBOARD_EXPOSURE_M, SASH
from massing.resolve.openings import openings_of, window_ceilings
from massing.resolve.setting import plans_meet
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import House
from massing.settingout.eaves import eaves_reach, wing_run
from massing.settingout.roof_heights import roof_rise_m
from massing.units import HAIR_M, at_least, at_most, format_length

# Common practice, no source, unless a line says otherwise.
EXPOSURE_M = default("house.least_exposure"), default("house.most_exposure")
FLOOR_M = default("house.floor")
WALL_THICKNESS_M = {walls: default(f"house.{walls}") for walls in ("stucco", "clapboard")}
MASONRY_THICKNESS_M = default("house.masonry")
REVEAL_M = {"clapboard": default("house.clapboard_reveal")}
MASONRY_REVEAL_M = default("house.masonry_reveal")
LEAST_BEHIND_REVEAL_M = default("house.least_behind_reveal")
LEAST_WITHIN_M = default("house.least_within")
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
    under: Sequence[float] = (),
) -> HouseDesign:
    """The walls, openings and cornice of a house; without a porch, of a wing.

    Args:
        house: what is asked.
        levels: heights of the floors and, last, of the walls' top, metres.
        bays: the centres of the front's bays, metres.
        porch: what stands before it, if anything does.
        origins: takes a note of where each number comes from.
        under: heights of the ceilings of porches at its sides, metres.

    Raises:
        DesignError: the house cannot be built as asked.
    """
    wall, reveal = _wall(house, origins)
    _check_plan(house, wall, origins)
    cornice, continues = _cornice(house, levels, porch.highest if porch else None, origins)
    ceilings = _ceilings(house, levels, cornice, porch, under)
    _check_facing(house, origins)
    openings = openings_of(house, levels, ceilings, bays, wall, porch, origins)
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


def _wall(house: House, origins: Origins) -> tuple[float, float]:
    """Thickness of the walls, and of that their face before the windows' frames."""
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
    most, thinnest = wall - LEAST_BEHIND_REVEAL_M, SASH.frame_before_sash_m + LEAST_BEHIND_REVEAL_M
    if wall < thinnest - HAIR_M:
        raise DesignError(
            "house.wall_thickness",
            format_length(wall, origins.units),
            f"at least {at_least(thinnest, origins.units)}, to leave room for the sash",
        )
    if reveal > most + HAIR_M:
        raise DesignError(
            "house.reveal",
            format_length(reveal, origins.units),
            f"at most {at_most(most, origins.units)} in a wall of "
            f"{format_length(wall, origins.units)}, to leave room for the sash",
        )
    least = SASH.frame_before_sash_m
    if reveal < least - HAIR_M:
        raise DesignError(
            "house.reveal",
            format_length(reveal, origins.units),
            f"at least {at_least(least, origins.units)}, for the frame before the sash",
        )
    return wall, reveal


def least_plan_m(wall_m: float) -> float:
    """The least width or depth of a plan with walls of this thickness."""
    return 4.0 * wall_m + LEAST_WITHIN_M


def _check_plan(house: House, wall_m: float, origins: Origins) -> None:
    """Raise DesignError where the walls leave no room between them."""
    least = least_plan_m(wall_m)
    for field, size in (("width", house.width), ("depth", house.depth)):
        if size < least - HAIR_M:
            raise DesignError(
                f"house.{field}",
                format_length(size, origins.units),
                f"at least {at_least(least, origins.units)} with these walls",
            )


def _cornice(
    house: House, levels: tuple[float, ...], highest: PorchDesign | None, origins: Origins
) -> tuple[FittedCornice, bool]:
    """The eaves' cornice, and whether it is the porch's carried round."""
    if highest is not None and abs(highest.top_z_m - levels[-1]) < 1e-6:
        carried = FittedCornice((*highest.order.frieze, *highest.order.cornice))
        origins.note(
            "house.cornice", carried.height_m, "the porch's frieze and cornice carried round"
        )
        return carried, True
    height = origins.choose(
        ("house", "cornice"),
        house.cornice,
        CORNICE_OF_WALL * levels[-1],
        "an eighteenth of the wall (common practice)",
    )
    return fit_cornice(height), False


def _ceilings(
    house: House,
    levels: tuple[float, ...],
    cornice: FittedCornice,
    porch: PorchDesign | None,
    under: Sequence[float],
) -> tuple[float, ...]:
    """What the windows of each storey stay under: floor, belt course, porch, cornice."""
    found = window_ceilings(levels, levels[-1] - cornice.height_m, porch, under)
    if not house.belt_courses:
        return found
    belted = (min(c, z - BELT_M) for c, z in zip(found[:-1], levels[1:-1], strict=True))
    return (*belted, found[-1])


def _check_facing(house: House, origins: Origins) -> None:
    """Raise DesignError where a facing is asked of walls that cannot have it."""
    for field, given, fits, allowed in (
        (
            "quoins",
            house.quoins,
            house.walls != "clapboard",
            "only with walls of masonry or stucco",
        ),
        (
            "relief",
            house.relief,
            house.walls != "stucco",
            "only with walls: clapboard, brick, limestone",
        ),
        (
            "rustication",
            house.rustication != "none" and house.rustication,
            house.walls in ("limestone", "stucco"),
            "only with walls: limestone or stucco",
        ),
    ):
        if given and not fits:
            raise DesignError(f"house.{field}", field if given is True else given, allowed)
    if house.clapboard_exposure and not EXPOSURE_M[0] <= house.clapboard_exposure <= EXPOSURE_M[1]:
        raise DesignError(
            "house.clapboard_exposure",
            format_length(house.clapboard_exposure, origins.units),
            f"{default_rule('house.least_exposure').said(origins.units)} to "
            f"{default_rule('house.most_exposure').said(origins.units)}",
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

"""Wings of a design: lower blocks against the side walls, from what the scene says."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from massing.design.house import ChimneyDesign, HouseDesign, WingDesign
from massing.design.kinds import RoofForm, Side
from massing.design.opening import Opening
from massing.design.roof import GableRoof, HipRoof, RoofDesign
from massing.practice.defaults import default
from massing.resolve.bays import bay_centres
from massing.resolve.house import chimney_designs, floor_levels, house_design
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Door, House, Window, Wing
from massing.settingout.eaves import covered_run, eaves_reach, flashing_top, wing_top
from massing.units import format_length

# Common practice, no source.
WIDTH_OF_MAIN = default("wings.width")
DEPTH_OF_MAIN = default("wings.depth")
LEAST_DEPTH_OF_MAIN = default("wings.least_depth")
SET_BACK_OF_DEPTH = default("wings.set_back")
LOWER_STOREY = default("wings.lower_storey")
LEAST_SET_BACK_M = default("wings.least_set_back")
FORM_BESIDE: dict[RoofForm, Literal["hip", "gable"]] = {
    "hip": "hip",
    "gable": "gable",
    "gambrel": "gable",
    "deck": "hip",
}  # of a wing's roof, by the main roof's
_ROOFS: dict[str, type[HipRoof] | type[GableRoof]] = {"hip": HipRoof, "gable": GableRoof}
LEAST_STOREY_M = default("wings.least_storey")
CLEAR_M = 0.1


def with_wings(spec: House, house: HouseDesign, roof: RoofDesign, origins: Origins) -> HouseDesign:
    """The house with its wings, and without the side windows that they touch.

    Raises:
        DesignError: two wings on one side, or one that is too high, too deep, or that cannot
            stand by itself.
    """
    wings: list[WingDesign] = []
    both: tuple[Side, ...] = ("right", "left")
    for i, wing in enumerate(spec.wings):
        for side in both if wing.side == "both" else (wing.side,):
            if any(side == other.side for other in wings):
                raise DesignError(f"house.wings.{i}.side", wing.side, f"one wing on the {side}")
            wings.append(_wing(spec, wing, i, side, house, roof, origins))
    if not wings:
        return house
    met = [o for w in wings for o in house.openings if _meets(o, w, house)]
    door = next((o for o in met if o.kind == "door"), None)
    if door is not None:
        raise DesignError("house.side_door", f"a door behind the {door.wall} wing", "a free wall")
    if met:
        left_out = ", ".join(o.name for o in met)
        origins.say("house.wings.windows", f"left out behind a wing: {left_out}")
    kept = tuple(o for o in house.openings if o not in met)
    return replace(house, wings=tuple(wings), openings=kept)


def _meets(opening: Opening, wing: WingDesign, house: HouseDesign) -> bool:
    """Whether a wing's walls, eaves or roof touch an opening, its sill or its shutters."""
    if opening.wall != wing.side:
        return False
    y = house.depth_m / 2.0 + opening.along_m * (1.0 if wing.side == "right" else -1.0)
    low, high = covered_run(wing, opening.foot_z_m - CLEAR_M)
    near = opening.reach_m + CLEAR_M
    return low < high and y - near < high and y + near > low


def _wing(
    spec: House,
    wing: Wing,
    i: int,
    side: Side,
    house: HouseDesign,
    main_roof: RoofDesign,
    origins: Origins,
) -> WingDesign:
    at = ("house", "wings", i)
    given = wing.roof
    roof = _ROOFS[given.form or FORM_BESIDE[main_roof.form]](
        slope=given.pitch or main_roof.slope,
        overhang_m=given.overhang or main_roof.overhang_m,
        covering=given.covering or main_roof.covering,
        colour=main_roof.colour,
    )
    reach = eaves_reach(house, roof)
    depth = origins.choose(
        (*at, "depth"),
        wing.depth,
        house.depth_m * _depth_share(wing.storeys or _fewer(spec), house, roof),
        "seven tenths of the main depth, or less for its roof to stay below the main cornice",
    )
    least = max(reach + CLEAR_M, LEAST_SET_BACK_M)
    behind = max(min(SET_BACK_OF_DEPTH * depth, house.depth_m - depth - least), least)
    set_back = origins.choose(
        (*at, "set_back"), wing.set_back, behind, "a fifth of the wing's depth, its eaves clear"
    )
    width = origins.choose(
        (*at, "width"), wing.width, WIDTH_OF_MAIN * house.width_m, "four tenths of the main width"
    )
    whole = spec.model_copy(
        update={
            "width": width,
            "depth": depth,
            "floor": house.floor_z_m,
            "bays": wing.bays or _alike(width, house.width_m, spec.bays, 1),
            "bay_spacing": wing.bay_spacing,
            "rhythm": "equal",
            "centre_bay": None,
            "pair_spacing": None,
            "bay_centres": None,
            "side_bays": wing.side_bays
            if wing.side_bays is not None
            else _alike(depth, house.depth_m, spec.side_bays, min(spec.side_bays, 1)),
            "cornice": wing.cornice,
            "chimneys": wing.chimneys,
            "door": Door(),
            "wings": [],
        }
    )
    own = Origins(
        {("house", *path[3:]): line for path, line in origins.lines.items() if path[:3] == at},
        origins.units,
    )
    try:
        design = _first_that_stands(whole, wing, house, roof, own)
        design = replace(design, open_side="left" if side == "right" else "right")
        design = replace(design, chimneys=chimney_designs(whole, design, roof, own))
    except DesignError as refusal:
        field = refusal.field.replace("house.", f"house.wings.{i}.", 1)
        raise DesignError(field, refusal.given, refusal.allowed) from None
    for name, origin in own.notes.items():
        origins.notes.setdefault(name.replace("house.", f"house.wings.{i}.", 1), origin)
    sign = 1.0 if side == "right" else -1.0
    chimneys = tuple(
        _mirrored(c) if sign < 0 and wing.side == "both" else c for c in design.chimneys
    )
    made = WingDesign(
        side=side,
        x_m=sign * (house.width_m + width) / 2.0,
        set_back_m=set_back,
        house=replace(
            design,
            chimneys=chimneys,
            openings=tuple(o for o in design.openings if o.wall != design.open_side),
        ),
        roof=roof,
    )
    _check(made, house, main_roof, i, spec, origins)
    return made


def _alike(length_m: float, main_m: float, bays: int, least: int) -> int:
    """Bays at about the main block's spacing."""
    return max(round(bays * length_m / main_m), least)


def _mirrored(stack: ChimneyDesign) -> ChimneyDesign:
    (x0, y0), (x1, y1) = stack.low_m, stack.high_m
    return replace(stack, low_m=(-x1, y0), high_m=(-x0, y1))


def _first_that_stands(
    whole: House, wing: Wing, house: HouseDesign, roof: RoofDesign, origins: Origins
) -> HouseDesign:
    """The wing's body as asked; by rule, with the main windows where its storeys hold them."""
    storeys = wing.storeys or _lower(whole, house, roof)
    refused: DesignError | None = None
    for windows in _windows(whole, wing, house):
        spec = whole.model_copy(update={"storeys": storeys, "windows": windows})
        try:
            levels = floor_levels(spec, origins)
            return house_design(spec, levels, bay_centres(spec, origins), None, origins)
        except DesignError as error:
            refused = refused or error
    assert refused is not None
    raise refused


def _windows(whole: House, wing: Wing, house: HouseDesign) -> Iterator[list[Window]]:
    """The wing's windows as asked; else the main front's, or as wide as those and lower."""
    if wing.windows is not None:
        yield wing.windows
        return
    alike = []
    for i, floor_z in enumerate(house.storey_floors_z_m):
        said = whole.windows[min(i, len(whole.windows) - 1)] if whole.windows else Window()
        above = [*house.storey_floors_z_m, house.wall_top_z_m][i + 1]
        for o in house.openings:
            if o.wall == "front" and o.kind == "window" and floor_z < o.sill_z_m < above:
                size = {"width": o.width_m, "height": o.height_m}
                said = said.model_copy(update=size)
                break
        alike.append(said)
    yield alike
    yield [w.model_copy(update={"height": None}) for w in alike]


def _fewer(spec: House) -> list[float]:
    """One storey fewer than the main block, or one lower storey."""
    return list(spec.storeys[:-1]) or [LOWER_STOREY * spec.storeys[0]]


def _depth_share(storeys: list[float], house: HouseDesign, roof: RoofDesign) -> float:
    """Of the main depth, for a roof over walls of these storeys to stay below its cornice."""
    rise = _below_cornice(house, roof) - sum(storeys)
    fits = 2.0 * (rise / roof.slope - eaves_reach(house, roof))
    return min(max(fits / house.depth_m, LEAST_DEPTH_OF_MAIN), DEPTH_OF_MAIN)


def _below_cornice(house: HouseDesign, roof: RoofDesign) -> float:
    """Height from the floor that walls and roof may take."""
    foot_z = house.wall_top_z_m - house.cornice.height_m
    return foot_z - flashing_top(roof) - house.floor_z_m


def _lower(whole: House, house: HouseDesign, roof: RoofDesign) -> list[float]:
    """The wing's storeys by rule; a single one low enough for its roof."""
    if len(whole.storeys) > 1:
        return _fewer(whole)
    rise = roof.slope * (whole.depth / 2.0 + eaves_reach(house, roof))
    return [max(min(*_fewer(whole), _below_cornice(house, roof) - rise), LEAST_STOREY_M)]


def _check(
    wing: WingDesign,
    house: HouseDesign,
    main_roof: RoofDesign,
    i: int,
    spec: House,
    origins: Origins,
) -> None:
    """Raise DesignError where a wing does not stand below and within the main side wall."""

    def length(value_m: float) -> str:
        return format_length(value_m, origins.units)

    own, at = wing.house, f"house.wings.{i}"
    reach = eaves_reach(own, wing.roof) + CLEAR_M
    least = max(reach, LEAST_SET_BACK_M)
    if wing.set_back_m < least:
        raise DesignError(
            f"{at}.set_back",
            length(wing.set_back_m),
            f"at least {length(least)}, the wing's eaves and the main corner clear of each other",
        )
    room = house.depth_m - wing.set_back_m - least
    if own.depth_m > room:
        raise DesignError(
            f"{at}.depth",
            length(own.depth_m),
            f"at most {length(room)}, its eaves before the main back wall",
        )
    limit_z = house.wall_top_z_m - house.cornice.height_m
    top_z = wing_top(own, wing.roof)
    if top_z > limit_z:
        walls = own.wall_top_z_m - own.floor_z_m
        raise DesignError(
            f"{at}.storeys",
            f"walls of {length(walls)} whose roof meets the main wall at {length(top_z)}",
            f"at most {length(limit_z)}, under the main cornice: walls of "
            f"{length(max(walls - (top_z - limit_z), 0.0))}, a lower pitch, or less depth",
        )
    clear = eaves_reach(house, main_roof) + CLEAR_M
    for k, stack in enumerate(own.chimneys):
        from_main = min(abs(x + wing.x_m) for x in (stack.low_m[0], stack.high_m[0]))
        if stack.top_z_m > limit_z and from_main - house.width_m / 2.0 < clear:
            raise DesignError(
                f"{at}.chimneys.{k}.along",
                length(spec.wings[i].chimneys[k].along),
                "a stack clear of the main eaves, or one below them",
            )

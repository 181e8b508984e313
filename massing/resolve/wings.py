"""Wings of a design: lower blocks against the side walls, from what the scene says."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from massing.design.house import ChimneyDesign, HouseDesign, WingDesign
from massing.design.kinds import RoofForm, Side, WingSide
from massing.design.opening import DoorOpening, Opening
from massing.design.origin import Given
from massing.design.porch import PorchDesign
from massing.design.roof import CrossGable, GableRoof, HipRoof, RoofDesign
from massing.design.site import GroundDesign
from massing.practice.defaults import default, sourced
from massing.resolve.bays import bay_centres, closest
from massing.resolve.cross_gables import check_on_slope, most_width_m, opening_under
from massing.resolve.house import chimney_designs, floor_levels, house_design, least_plan_m
from massing.resolve.wing_doors import with_wing_doors
from massing.resolve.wing_fields import as_house_fields
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Door, GableOpening, House, Window, Wing
from massing.settingout.cross_gables import eaves_half_m
from massing.settingout.eaves import (
    covered_run,
    eaves_reach,
    flashing_top,
    saddle_over,
    wing_top,
)
from massing.settingout.porch import porch_reach_m
from massing.units import HAIR_M, at_least, at_most, format_length

# Common practice, no source.
WIDTH_OF_MAIN = default("wings.width")
DEPTH_OF_MAIN = default("wings.depth")
LEAST_DEPTH_OF_MAIN = default("wings.least_depth")
SET_BACK_OF_DEPTH = default("wings.set_back")
FRONT_OF_MAIN = default("wings.front_width")
LEAST_FRONT_OF_MAIN = default("wings.least_front_width")
OUT_OF_WIDTH = default("wings.stands_out")
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
CARRIAGE_FLOOR_M = default("wings.carriage_floor")
CLEAR_M = default("wings.clear")


def with_wings(
    spec: House,
    house: HouseDesign,
    roof: RoofDesign,
    porch: PorchDesign,
    ground: GroundDesign,
    origins: Origins,
) -> HouseDesign:
    """The house with its wings, and without the windows that they touch.

    Raises:
        DesignError: two wings on one side, or one that is too high, too deep, before the porch,
            or that cannot stand by itself.
    """
    wings = _each_side(spec, house, roof, porch, origins)
    if not wings:
        return house
    met = [o for w in wings for o in house.openings if _meets(o, w, house)]
    door = next((o for o in met if isinstance(o, DoorOpening)), None)
    if door is not None:
        raise DesignError("house.side_door", f"a door behind the {door.wall} wing", "a free wall")
    if met:
        left_out = ", ".join(o.name for o in met)
        origins.say("house.wings.windows", f"left out behind a wing: {left_out}")
    kept = tuple(o for o in house.openings if o not in met)
    whole = replace(house, wings=tuple(wings), openings=kept)
    return with_wing_doors(spec, whole, ground, origins)


def _each_side(
    spec: House, house: HouseDesign, roof: RoofDesign, porch: PorchDesign, origins: Origins
) -> list[WingDesign]:
    """The wings, one to a side at most; one asked for on both is two."""
    wings: list[WingDesign] = []
    both: tuple[WingSide, ...] = ("right", "left")
    for i, wing in enumerate(spec.wings):
        for side in both if wing.side == "both" else (wing.side,):
            if any(side == other.side for other in wings):
                raise DesignError(f"house.wings.{i}.side", wing.side, f"one wing on the {side}")
            wings.append(_wing(spec, wing, i, side, house, roof, porch, origins))
    return wings


def _meets(opening: Opening, wing: WingDesign, house: HouseDesign) -> bool:
    """Whether a wing's walls, eaves or roof touch an opening, its sill or its shutters."""
    if opening.wall != wing.side:
        return False
    if wing.ahead:
        y = opening.along_m
    else:
        y = house.depth_m / 2.0 + opening.along_m * (1.0 if wing.side == "right" else -1.0)
    low, high = covered_run(wing, opening.foot_z_m - CLEAR_M)
    near = opening.reach_m + CLEAR_M
    return low < high and y - near < high and y + near > low


def _wing(
    spec: House,
    wing: Wing,
    i: int,
    side: WingSide,
    house: HouseDesign,
    main_roof: RoofDesign,
    porch: PorchDesign,
    origins: Origins,
) -> WingDesign:
    """The wing on one side: its plan by the main block's, a house of its own, checked against it.

    Args:
        spec: the whole house, as asked.
        wing: what is asked of the wing, the ``i``-th in the scene.
        side: the wall that it stands against.
        house: the main block.
        main_roof: its roof.
        porch: what one before the front must stand beside.
        origins: takes a note of where each number comes from.

    Raises:
        DesignError: the wing cannot be built as asked, or not beside this house.
    """
    roof = _roof(wing, main_roof)
    _check_fields(wing, i, origins)
    _check_gable_fields(wing, roof, i)
    if side == "front":
        return _wing_ahead(spec, wing, i, house, main_roof, porch, origins)
    width, depth, set_back = _plan(spec, wing, i, house, roof, origins)
    whole = _as_house(spec, wing, house, width, depth)
    body = _body(whole, wing, i, side, house, roof, origins)
    roof = _with_opening(roof, wing, body, i, origins)
    made = WingDesign(
        side=side,
        x_m=(1.0 if side == "right" else -1.0) * (house.width_m + width) / 2.0,
        set_back_m=set_back,
        house=body,
        roof=roof,
    )
    _check(made, house, main_roof, i, spec, origins)
    return made


def _check_fields(wing: Wing, i: int, origins: Origins) -> None:
    """Raise DesignError where a field belongs to wings in another place."""
    ahead = wing.side == "front"
    only = {"along": "of a wing before the front"}
    if ahead:
        only = {
            "set_back": "of a wing at the side: depth says how far this one stands out",
            "bay_spacing": "of a wing at the side: this one's windows share its front's width",
            "chimneys": "of a wing at the side",
        }
    for field, whose in only.items():
        asked = getattr(wing, field)
        if asked not in (None, []):
            length = isinstance(asked, float)
            given = format_length(asked, origins.units) if length else f"{len(asked)} {field}"
            raise DesignError(f"house.wings.{i}.{field}", given, f"only {whose}")


def _check_gable_fields(wing: Wing, roof: RoofDesign, i: int) -> None:
    """Raise DesignError where a wing without a gable is asked what stands in one."""
    for field in ("gable_foot", "gable_opening"):
        asked = getattr(wing.roof, field)
        if asked is None:
            continue
        given = asked if isinstance(asked, str) else asked.kind
        if roof.hipped:
            raise DesignError(f"house.wings.{i}.roof.{field}", given, "only with form: gable")
        if field == "gable_foot" and wing.side != "front":
            raise DesignError(
                f"house.wings.{i}.roof.{field}", given, "only of a wing before the front"
            )


def _wing_ahead(
    spec: House,
    wing: Wing,
    i: int,
    house: HouseDesign,
    main_roof: RoofDesign,
    porch: PorchDesign,
    origins: Origins,
) -> WingDesign:
    """A wing before the front: one of the right side, turned to face it, its gable with it."""
    roof, at = _roof(wing, main_roof), ("house", "wings", i)
    low = house.floor_z_m - floor_of(wing, house)
    usual = [spec.storeys[0] + low] if len(spec.storeys) == 1 else _fewer(spec)
    storeys = wing.storeys or usual
    level = abs(sum(storeys) - low - sum(spec.storeys)) < HAIR_M
    if level:
        fits, why = most_width_m(roof.slope, house, main_roof), "run out on the main slope"
    else:
        high = _below_cornice(house, roof) + low - sum(storeys)
        fits = 2.0 * (high / roof.slope - eaves_reach(house, roof))
        why = "stay below the main cornice"
    width = origins.choose(
        (*at, "width"),
        wing.width,
        house.width_m * min(max(fits / house.width_m, LEAST_FRONT_OF_MAIN), FRONT_OF_MAIN),
        sourced(
            f"about a third of the main width, or less for its roof to {why}", "wings.front_width"
        ),
    )
    out = origins.choose(
        (*at, "depth"),
        wing.depth,
        max(OUT_OF_WIDTH * width, least_plan_m(house.wall_thickness_m)),
        sourced("half its width, or as little as its walls allow", "wings.stands_out"),
    )
    spacing = closest(house.bay_centres_m, house.width_m)
    along_side = int(out / spacing) if wing.side_bays is None else wing.side_bays
    doors = wing.door.number if with_carriages(wing) and wing.door else 0
    across = wing.bays or doors or max(int(width / spacing), 1)
    bays: dict[str, object] = {"bays": along_side, "side_bays": across}
    if doors:
        bays["bay_spacing"] = None
    whole = _as_house(spec, wing, house, out, width).model_copy(update=bays)
    if level:
        wing = _level_with(wing, storeys, house, i, origins)
        whole = whole.model_copy(update={"cornice": house.cornice.height_m})
    body = _body(whole, wing, i, "right", house, roof, origins)
    if level:
        body = replace(body, cornice=house.cornice, wall_top_z_m=house.wall_top_z_m)
    beside = max(eaves_reach(body, roof) + CLEAR_M, LEAST_SET_BACK_M)
    by_rule = house.width_m / 2.0 - beside - width / 2.0
    along = origins.choose((*at, "along"), wing.along, by_rule, "at the front's right end")
    made = WingDesign("front", along, -out, body, roof)
    if not level:
        _check_height(made, house, i, origins)
    _check_ahead(made, house, porch, beside, i, origins)
    if level:
        return _run_into_main(made, wing, house, main_roof, i, origins)
    if wing.roof.gable_foot == "returns":
        raise DesignError(
            f"house.wings.{i}.roof.gable_foot", "returns", "across, but for one as high as the main"
        )
    return replace(made, roof=_with_opening(roof, wing, body, i, origins))


def _with_opening(
    roof: RoofDesign, wing: Wing, body: HouseDesign, i: int, origins: Origins
) -> RoofDesign:
    """A gabled wing's roof with the window or louvre that is asked for in its gable."""
    asked = wing.roof.gable_opening
    if asked is None or not isinstance(roof, GableRoof):
        return roof
    half = body.depth_m / 2.0 + eaves_reach(body, roof)
    at = ("house", "wings", i, "roof", "gable_opening")
    made = opening_under(asked, half, roof.slope, body, at, origins, asked=True)
    return replace(roof, opening=made)


def _level_with(
    wing: Wing, storeys: list[float], house: HouseDesign, i: int, origins: Origins
) -> Wing:
    """A wing as high as the main walls, with what it has from the main block.

    Raises:
        DesignError: a cornice or an overhang of its own, which would not meet the main one.
    """
    for field, asked in (("cornice", wing.cornice), ("roof.overhang", wing.roof.overhang)):
        if asked is not None:
            raise DesignError(
                f"house.wings.{i}.{field}",
                format_length(asked, origins.units),
                "left out: as high as the main walls, its eaves are the main ones carried round",
            )
    return wing.model_copy(update={"storeys": storeys})


def _run_into_main(
    wing: WingDesign,
    spec: Wing,
    house: HouseDesign,
    main_roof: RoofDesign,
    i: int,
    origins: Origins,
) -> WingDesign:
    """The wing with its roof run back into the main slope, by valleys.

    Raises:
        DesignError: the roof does not run out on that slope.
    """
    at, roof = f"house.wings.{i}", wing.roof
    if roof.covering != main_roof.covering:
        raise DesignError(
            f"{at}.roof.covering", roof.covering, f"the main roof's, {main_roof.covering}"
        )
    most = most_width_m(roof.slope, house, main_roof)
    if wing.width_m > most + HAIR_M:
        raise DesignError(
            f"{at}.width",
            format_length(wing.width_m, origins.units),
            f"at most {at_most(max(most, 0.0), origins.units)}, its ridge under the main one: or a "
            "lower pitch",
        )
    gable = CrossGable(
        "front",
        wing.x_m,
        wing.width_m,
        roof.slope,
        spec.roof.gable_foot or "returns",
        out_m=wing.depth_m,
        hipped=roof.hipped,
    )
    check_on_slope(gable, f"{at}.along", house, main_roof, origins.units)
    asked = spec.roof.gable_opening
    if not roof.hipped:
        opening = opening_under(
            asked or GableOpening(),
            eaves_half_m(gable, house, main_roof),
            roof.slope,
            house,
            ("house", "wings", i, "roof", "gable_opening"),
            origins,
            asked=asked is not None,
        )
        gable = replace(gable, opening=opening)
    return replace(wing, gable=gable, roof=replace(roof, overhang_m=main_roof.overhang_m))


def _check_ahead(
    wing: WingDesign,
    house: HouseDesign,
    porch: PorchDesign,
    beside_m: float,
    i: int,
    origins: Origins,
) -> None:
    """Raise DesignError where a wing before the front passes a corner or meets the porch."""

    def length(value_m: float) -> str:
        return format_length(value_m, origins.units)

    low, high = wing.run_m
    room, at = house.width_m / 2.0 - beside_m, f"house.wings.{i}"
    if wing.width_m > 2.0 * room:
        raise DesignError(f"{at}.width", length(wing.width_m), f"at most {length(2.0 * room)}")
    if max(-low, high) > room + 1e-9:
        most = room - wing.width_m / 2.0
        raise DesignError(
            f"{at}.along",
            length(wing.x_m),
            f"{length(-most)} to {length(most)}, its eaves and the main corner clear of each other",
        )
    taken = max(porch_reach_m(porch), porch_reach_m(porch.highest)) + beside_m
    if low < porch.centre_m + taken and high > porch.centre_m - taken:
        raise DesignError(
            f"{at}.along",
            length(wing.x_m),
            f"clear of the porch, {length(taken + wing.width_m / 2.0)} or more from the middle: "
            "a narrower wing or porch, or one farther along",
        )


def _roof(wing: Wing, main_roof: RoofDesign) -> RoofDesign:
    """The wing's roof, like the main one where the scene does not say otherwise."""
    given = wing.roof
    by_rule = "gable" if wing.side == "front" else FORM_BESIDE[main_roof.form]
    return _ROOFS[given.form or by_rule](
        slope=given.pitch or main_roof.slope,
        overhang_m=given.overhang or main_roof.overhang_m,
        covering=given.covering or main_roof.covering,
        colour=main_roof.colour,
    )


def _plan(
    spec: House, wing: Wing, i: int, house: HouseDesign, roof: RoofDesign, origins: Origins
) -> tuple[float, float, float]:
    """Width and depth of the wing, and its front behind the main front."""
    at = ("house", "wings", i)
    depth = origins.choose(
        (*at, "depth"),
        wing.depth,
        house.depth_m * _depth_share(wing.storeys or _fewer(spec), house, roof),
        sourced(
            "seven tenths of the main depth, or less for its roof to stay below the main cornice",
            "wings.depth",
        ),
    )
    least = max(eaves_reach(house, roof) + CLEAR_M, LEAST_SET_BACK_M)
    behind = max(min(SET_BACK_OF_DEPTH * depth, house.depth_m - depth - least), least)
    set_back = origins.choose(
        (*at, "set_back"),
        wing.set_back,
        behind,
        sourced("a fifth of the wing's depth, its eaves clear", "wings.set_back"),
    )
    width = origins.choose(
        (*at, "width"),
        wing.width,
        WIDTH_OF_MAIN * house.width_m,
        sourced("four tenths of the main width", "wings.width"),
    )
    return width, depth, set_back


def _as_house(spec: House, wing: Wing, house: HouseDesign, width_m: float, depth_m: float) -> House:
    """The wing as a scene would ask for it as a house: its bays at the main block's spacing."""
    side_bays = wing.side_bays
    bays = wing.door.number if with_carriages(wing) and wing.door and not wing.bays else 0
    if side_bays is None:
        side_bays = _alike(depth_m, house.depth_m, spec.side_bays, min(spec.side_bays, 1))
    return spec.model_copy(
        update={
            "width": width_m,
            "depth": depth_m,
            "floor": floor_of(wing, house),
            "bays": wing.bays or bays or _alike(width_m, house.width_m, spec.bays, 1),
            "bay_spacing": wing.bay_spacing or (width_m / bays if bays > 1 else None),
            "rhythm": "equal",
            "centre_bay": None,
            "pair_spacing": None,
            "bay_centres": None,
            "side_bays": side_bays,
            "cornice": wing.cornice,
            "chimneys": wing.chimneys,
            "door": Door(),
            "odd_windows": [],
            "wings": [],
        }
    )


def with_carriages(wing: Wing) -> bool:
    """Whether carriages go in and out of it."""
    return wing.door is not None and wing.door.panels == "carriage"


def floor_of(wing: Wing, house: HouseDesign) -> float:
    """Its floor above the ground: as asked, near it for carriages, else the main one's."""
    return wing.floor or (CARRIAGE_FLOOR_M if with_carriages(wing) else house.floor_z_m)


def _body(
    whole: House,
    wing: Wing,
    i: int,
    side: Side,
    house: HouseDesign,
    roof: RoofDesign,
    origins: Origins,
) -> HouseDesign:
    """The wing's house with its chimneys, open to the main block.

    Its notes and faults name the wing's fields, as the scene has them.
    """
    inner: Side = "left" if side == "right" else "right"
    with as_house_fields(wing, i, origins) as own:
        body = replace(_first_that_stands(whole, wing, house, roof, own), open_side=inner)
        if wing.windows is None:
            _say_as_main(own)
        stacks = chimney_designs(whole, body, roof, own)
    if side == "left" and wing.side == "both":
        stacks = tuple(_mirrored(stack) for stack in stacks)
    openings = tuple(o for o in body.openings if o.wall != inner)
    return replace(body, chimneys=stacks, openings=openings)


def _say_as_main(origins: Origins) -> None:
    """Windows that a wing has from the main front were given there, not for the wing."""
    for name, origin in origins.notes.items():
        if name.startswith("house.windows.") and origin.source == Given():
            origins.notes[name] = replace(origin, source="as the main front's windows")


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
            bays = bay_centres(spec, origins) if spec.bays else ()
            return house_design(spec, levels, bays, None, origins)
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
        sizes = Counter(
            (o.width_m, o.height_m)
            for o in house.windows
            if o.wall == "front" and floor_z < o.sill_z_m < above
        )
        if sizes:  # those that most have, not the odd ones
            (width, height), _ = sizes.most_common(1)[0]
            said = said.model_copy(update={"width": width, "height": height})
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
    return foot_z - flashing_top(roof) - saddle_over(roof) - house.floor_z_m


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
    if wing.set_back_m < least - HAIR_M:
        raise DesignError(
            f"{at}.set_back",
            length(wing.set_back_m),
            f"at least {at_least(least, origins.units)}, the wing's eaves and the main corner "
            "clear of each other",
        )
    room = house.depth_m - wing.set_back_m - least
    if own.depth_m > room + HAIR_M:
        raise DesignError(
            f"{at}.depth",
            length(own.depth_m),
            f"at most {at_most(room, origins.units)}, its eaves before the main back wall",
        )
    _check_height(wing, house, i, origins)
    limit_z = house.wall_top_z_m - house.cornice.height_m
    clear = eaves_reach(house, main_roof) + CLEAR_M
    for k, stack in enumerate(own.chimneys):
        from_main = min(abs(x + wing.x_m) for x in (stack.low_m[0], stack.high_m[0]))
        if stack.top_z_m > limit_z and from_main - house.width_m / 2.0 < clear:
            raise DesignError(
                f"{at}.chimneys.{k}.along",
                length(spec.wings[i].chimneys[k].along),
                "a stack clear of the main eaves, or one below them",
            )


def _check_height(wing: WingDesign, house: HouseDesign, i: int, origins: Origins) -> None:
    """Raise DesignError where a wing's roof meets the main cornice."""

    def length(value_m: float) -> str:
        return format_length(value_m, origins.units)

    own, across = wing.house, "width" if wing.ahead else "depth"
    limit_z = house.wall_top_z_m - house.cornice.height_m
    top_z = wing_top(own, wing.roof)
    if top_z > limit_z + HAIR_M:
        walls = own.wall_top_z_m - own.floor_z_m
        raise DesignError(
            f"house.wings.{i}.storeys",
            f"walls of {length(walls)} whose roof meets the main wall at {length(top_z)}",
            f"at most {at_most(limit_z, origins.units)}, under the main cornice: walls of "
            f"{length(max(walls - (top_z - limit_z), 0.0))}, a lower pitch, or less {across}",
        )

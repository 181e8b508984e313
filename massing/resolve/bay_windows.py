"""Bay windows of the front, in places of its ground windows."""

from __future__ import annotations

from dataclasses import replace

from massing.canon import fit_cornice
from massing.design.bay_window import BayWindowDesign
from massing.design.house import HouseDesign
from massing.design.opening import WindowOpening
from massing.design.porch import PorchDesign
from massing.practice.defaults import default, said_default
from massing.practice.joinery_sizes import casing_width, joinery_size
from massing.resolve.doors import window_for
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import BayWindow, House
from massing.settingout.bay_windows import OVERHANG_M, face_m, post_m, reach_m, top_z_m
from massing.settingout.porch import porch_reach_m
from massing.settingout.sashes import check_window
from massing.units import HAIR_M, at_least, at_most, format_length

# Common practice, no source.
DEPTH_M = {shape: default(f"bay_windows.{shape}") for shape in ("canted", "box")}
LEAST_DEPTH_M, MOST_DEPTH_M = default("bay_windows.least"), default("bay_windows.most")
LEAST_LIGHT_M = default("bay_windows.least_light")
CORNICE_M = default("bay_windows.cornice")
SLOPE = default("bay_windows.slope")
FRIEZE_M = default("bay_windows.frieze")
CLEAR_M = default("bay_windows.clear")
_LUG_M = joinery_size("sill.lug")
_CASING = 1.0 / 6.0  # of a light's width, each side, as casings are drawn


def with_bay_windows(
    spec: House, house: HouseDesign, porch: PorchDesign, origins: Origins
) -> HouseDesign:
    """The house with its bay windows, and without the windows whose places they take.

    Raises:
        DesignError: one has no room beside or over it, or its lights are too small.
    """
    for i, each in enumerate(spec.bay_windows):
        house = _with_bay(each, i, house, porch, origins)
    return house


def _with_bay(
    spec: BayWindow, i: int, house: HouseDesign, porch: PorchDesign, origins: Origins
) -> HouseDesign:
    at, named = ("house", "bay_windows", i), f"house.bay_windows.{i}"
    there = window_for(house, spec.bay, "front", named)
    if not isinstance(there, WindowOpening) or there.sill_z_m <= house.floor_z_m + HAIR_M:
        raise DesignError(f"{named}.bay", spec.bay, "a bay with a window on a sill")
    post = post_m(spec.shape)
    by_light = there.width_m * (1.0 + 2.0 * _CASING) + 2.0 * (_LUG_M + post)
    depth = origins.choose(
        (*at, "depth"),
        spec.depth,
        DEPTH_M[spec.shape],
        said_default(f"bay_windows.{spec.shape}", origins.units),
    )
    if not LEAST_DEPTH_M - HAIR_M <= depth <= MOST_DEPTH_M + HAIR_M:
        raise DesignError(
            f"{named}.depth",
            format_length(depth, origins.units),
            f"{at_least(LEAST_DEPTH_M, origins.units)} to {at_most(MOST_DEPTH_M, origins.units)}",
        )
    cornice = fit_cornice(
        origins.choose(
            (*at, "cornice"),
            spec.cornice,
            CORNICE_M,
            said_default("bay_windows.cornice", origins.units),
        )
    )
    cants = 2.0 * depth if spec.shape == "canted" else 0.0
    eaves = (cornice.projection_m + OVERHANG_M) * (2.0**0.5 if cants else 1.0)
    room = 2.0 * (_room_m(there, house, porch) - eaves - CLEAR_M - HAIR_M)
    if room <= 0.0:
        raise DesignError(f"{named}.bay", spec.bay, "a bay of the front that the porch leaves free")
    width = origins.choose(
        (*at, "width"),
        spec.width,
        min(by_light + cants, room),
        "so that its middle light is the storey's window, or what corner and windows leave",
    )
    front = _light(width - cants, post, there, named, "width", width, origins)
    side = _light(
        face_m(spec.shape, width, depth, "side"), post, there, named, "depth", depth, origins
    )
    over = there.head_z_m + max(casing_width(front.width_m), casing_width(side.width_m))
    made = BayWindowDesign(
        spec.shape,
        there.along_m,
        width - cants,
        depth,
        house.floor_z_m,
        front,
        side,
        cornice,
        over + FRIEZE_M,
        spec.roof,
        SLOPE if spec.pitch is None else spec.pitch,
    )
    _check_over(made, there, house, named, origins)
    _check_beside(made, there, house, porch, named, origins)
    kept = tuple(o for o in house.openings if o is not there)
    return replace(house, openings=kept, bay_windows=(*house.bay_windows, made))


def _room_m(there: WindowOpening, house: HouseDesign, porch: PorchDesign) -> float:
    """From a window's middle to the nearest corner, porch or opening beside it in its storey."""
    ends = [house.width_m / 2.0 - abs(there.along_m)]
    ends += [
        abs(o.along_m - there.along_m) - o.reach_m
        for o in house.openings
        if o.wall == "front" and o is not there and o.storey == there.storey
    ]
    ends += [o.from_middle_m(there.along_m) - porch_reach_m(o) for o in (porch, porch.highest)]
    return min(ends)


def _light(
    face: float,
    post: float,
    there: WindowOpening,
    named: str,
    field: str,
    given: float,
    origins: Origins,
) -> WindowOpening:
    """The window of a face: all that posts, casing and sill leave of it."""
    wide = (face - 2.0 * (post + _LUG_M)) / (1.0 + 2.0 * _CASING)
    if wide < LEAST_LIGHT_M:
        more = (LEAST_LIGHT_M - wide) * (1.0 + 2.0 * _CASING)
        raise DesignError(
            f"{named}.{field}",
            format_length(given, origins.units),
            f"about {at_least(given + more, origins.units)} or more, for lights of "
            f"{format_length(LEAST_LIGHT_M, origins.units)} between its posts",
        )
    share = wide / there.width_m
    upper, lower = (
        (max(1, round(across * share)), up)
        for across, up in (there.upper_lights, there.lower_lights)
    )
    made = WindowOpening(
        "bay window",
        "front",
        0.0,
        there.sill_z_m,
        wide,
        there.height_m,
        storey=0,
        upper_lights=upper,
        lower_lights=lower,
        filling="hung" if there.filling == "tripartite" else there.filling,
        leaves=1,
    )
    try:
        check_window(made)
    except ValueError as fault:
        raise DesignError(
            f"{named}.{field}", format_length(given, origins.units), f"a larger one: {fault}"
        ) from None
    return made


def _check_over(
    bay: BayWindowDesign, there: WindowOpening, house: HouseDesign, named: str, origins: Origins
) -> None:
    """Raise DesignError where its roof meets a window over it, or the house's cornice."""
    top, half = top_z_m(bay), reach_m(bay)
    limit, name = house.wall_top_z_m - house.cornice.height_m, "the house's cornice"
    for o in house.openings:
        near = abs(o.along_m - bay.along_m) < half + o.reach_m
        if o.wall == "front" and o is not there and near and bay.eaves_z_m < o.foot_z_m < limit:
            limit, name = o.foot_z_m, o.name
    if top > limit - HAIR_M:
        raise DesignError(
            f"{named}.depth",
            format_length(bay.depth_m, origins.units),
            f"a bay whose roof, at {format_length(top, origins.units)}, ends under {name} at "
            f"{format_length(limit, origins.units)}: less depth, a lower pitch or lower windows",
        )


def _check_beside(
    bay: BayWindowDesign,
    there: WindowOpening,
    house: HouseDesign,
    porch: PorchDesign,
    named: str,
    origins: Origins,
) -> None:
    """Raise DesignError where it meets an opening, a corner, the porch, a wing or another bay."""

    def refuse(what: str) -> DesignError:
        wide = format_length(2.0 * half, origins.units)
        return DesignError(f"{named}.bay", f"a bay window {wide} wide over its eaves", what)

    half = reach_m(bay) + CLEAR_M
    low, high, top = bay.along_m - half, bay.along_m + half, top_z_m(bay)
    if max(-low, high) > house.width_m / 2.0:
        raise refuse("one clear of the corner")
    for o in house.openings:
        beside = abs(o.along_m - bay.along_m) < half + o.reach_m
        if o.wall == "front" and o is not there and beside and o.foot_z_m < top:
            raise refuse(f"clear of {o.name}")
    for other in house.bay_windows:
        if abs(other.along_m - bay.along_m) < half + reach_m(other):
            raise refuse("clear of the other bay window")
    for order in {porch, porch.highest}:
        if order.from_middle_m(bay.along_m) < half + porch_reach_m(order):
            raise refuse("clear of the porch")
    for wing in house.wings:
        if wing.ahead and low < wing.run_m[1] + CLEAR_M and wing.run_m[0] - CLEAR_M < high:
            raise refuse("clear of the front wing")

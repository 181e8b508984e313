"""The porch's roof: its pitch and covering, and the order's height that leaves it room.

What the scene leaves out gives way to what stands over it: first the pitch, down to the least
that is laid, then the height of the order. What it gives stands, or is refused.
"""

from __future__ import annotations

import math
from dataclasses import replace

from massing.canon import fit_cornice
from massing.design.house import HouseDesign
from massing.design.kinds import Covering
from massing.design.opening import Opening
from massing.design.origin import Given
from massing.design.porch import PorchDesign
from massing.design.roof import HipRoof, RoofDesign
from massing.practice.coverings import covering
from massing.practice.defaults import default, default_rule
from massing.practice.joinery_sizes import SILL_HEIGHT_M
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Porch, Scene
from massing.settingout.eaves import EAVES_EDGE_M, eaves_reach
from massing.settingout.porch import FRIEZE_BOARD_M
from massing.settingout.porch_roofs import (
    UNDER_EAVES_M,
    carried_slope,
    flashing_m,
    main_eave,
    porch_edge,
    rise_run_m,
    saddle_m,
    top_on_wall_m,
)
from massing.settingout.roof_heights import roof_rise_m
from massing.units import FOOT_M, at_least, at_most, format_length

LEAST = {"gable": default("porch.least_gable")}
LEAST_ORDER_M = default("porch.least_order")
LEAST_GIVEN_WAY_M = default("porch.least_given_way")  # lower is no porch
UNDER_RIDGE_M = default("porch.under_ridge")
UNDER_HIPPED_ROOF = default("porch.under_hipped_roof")
SILL_M = default("windows.sill")
LEAST_PITCH = default("porch.least_pitch")
MAIN_SLOPE = default("porch.main_slope")
METAL_BELOW = default("porch.metal_below")
PITCHES = {
    "hipped": default("porch.hipped"),
    "lean-to": default("porch.lean_to"),
    "pediment": default("porch.pediment"),
}
METAL: Covering = "standing seam"
_FITS_M = 1e-6


def height_with_room(scene: Scene, levels: tuple[float, ...], made: PorchDesign) -> float | None:
    """The order's height that leaves its roof room under the eaves; None where it stands.

    Args:
        scene: what is asked.
        levels: heights of the floors and, last, of the walls' top.
        made: the porch as it came by the rule for its height.
    """
    asked = scene.porch
    pinned = asked.column_height is not None and asked.entablature is not None
    if asked.roof == "flat" or asked.height is not None or pinned or asked.upper is not None:
        return None
    eaves_z, cornice_m, roof = _eaves(scene, levels)
    own = made.top_z_m - made.floor_z_m
    wanted = max(_by_rule(levels, made), LEAST_ORDER_M)
    if asked.roof == "main slope":
        _, front_y = porch_edge(made, roof)
        reach = FRIEZE_BOARD_M + fit_cornice(cornice_m).projection_m + roof.overhang_m
        raked = scene.roof.form == "gable" and scene.roof.gable == "raking cornice"
        eave_z = eaves_z - roof.slope * roof.overhang_m * raked

        def height(slope: float) -> float:
            under = _rise(_covering(asked, roof, slope)) * math.hypot(1.0, slope) + UNDER_EAVES_M
            return eave_z - under - slope * (-reach - front_y - roof.overhang_m) - made.floor_z_m

        if asked.roof_pitch is not None:
            return height(asked.roof_pitch)
        return max(height(MAIN_SLOPE), min(LEAST_ORDER_M, height(LEAST_PITCH)))
    limit_z = eaves_z - cornice_m
    if len(levels) > 2:
        limit_z = min(limit_z, _upper_sills(scene, levels))
    usual = asked.roof_pitch or PITCHES.get(asked.roof, roof.slope)
    ruled = replace(made, roof_pitch=usual, roof_covering=_covering(asked, roof, usual))
    by_rule = _by_rule(levels, made)
    if wanted <= by_rule + _FITS_M and top_on_wall_m(ruled, roof) + by_rule - own <= limit_z:
        return None
    least = asked.roof_pitch or PITCHES.get("pediment" if asked.roof == "pediment" else "", 0.0)
    least = least or LEAST.get(asked.roof, LEAST_PITCH)
    low = replace(made, roof_pitch=least, roof_covering=_covering(asked, roof, least))
    most = own + limit_z - top_on_wall_m(low, roof) - saddle_m(low, roof) - 0.001
    height_m = min(wanted, most)
    return None if height_m < LEAST_GIVEN_WAY_M else height_m


def with_roof(
    porch: PorchDesign, scene: Scene, house: HouseDesign, roof: RoofDesign, origins: Origins
) -> PorchDesign:
    """The porch with its roof's pitch and covering, once house and main roof are known.

    Raises:
        DesignError: the roof cannot stand as asked.
    """
    asked, highest = scene.porch, porch.highest
    if asked.roof == "flat":
        for field in ("roof_pitch", "roof_covering"):
            said = getattr(asked, field)
            if said is not None:
                pitch = f"{12.0 * said:.4g}:12" if isinstance(said, float) else said
                raise DesignError(f"porch.{field}", pitch, "left out over a flat roof")
        return porch
    if house.cornice_continues_porch and asked.roof not in ("pediment", "gable"):
        raise DesignError(
            "porch.roof",
            asked.roof,
            "flat, pediment or gable, where the porch's cornice is carried round",
        )
    limit_z = house.wall_top_z_m - house.cornice.height_m
    if asked.roof == "main slope":
        slope, why = _carried(scene, highest, house, roof, origins)
    elif house.cornice_continues_porch:
        slope, why = asked.roof_pitch or PITCHES["pediment"], "common practice"
        if asked.roof == "gable" and asked.roof_pitch is None:
            slope, why = _under_ridge(highest, house, roof)
    else:
        over = [o.foot_z_m for o in house.openings if _stands_over(o, highest, roof)]
        slope, why = _pitched(asked, highest, roof, min([limit_z, *over]), roof.slope)
    laid = _covering(asked, roof, slope)
    if asked.roof_pitch is not None:
        why = origins.given(("porch", "roof_pitch"))
    origins.say("porch.roof_pitch", f"{12.0 * slope:.3g}:12", why, slope)
    if laid != roof.covering:
        row = default_rule("porch.metal_below")
        words = f"metal, flatter than {row.written} (common practice)"
        if asked.roof_covering is not None:
            words = origins.given(("porch", "roof_covering"))
        origins.say("porch.roof_covering", laid, words)
    own = {"roof_pitch": slope, "roof_covering": None if laid == roof.covering else laid}
    if porch.upper is None:
        return replace(porch, **own)  # type: ignore[arg-type]
    return replace(porch, **own, upper=replace(porch.upper, **own))  # type: ignore[arg-type]


def roof_on_wall_m(porch: PorchDesign, house: HouseDesign, roof: RoofDesign) -> float | None:
    """How high the porch's roof comes on the wall; None where it does not stand against it."""
    if house.cornice_continues_porch:
        return None
    if porch.highest.roof == "main slope":
        return house.wall_top_z_m - house.cornice.height_m
    return top_on_wall_m(porch.highest, roof)


def check_under_eaves(porch: PorchDesign, house: HouseDesign, roof: RoofDesign, units: str) -> None:
    """Raise DesignError where the roof's head would run into the house's cornice."""
    top_z = roof_on_wall_m(porch, house, roof)
    limit_z = house.wall_top_z_m - house.cornice.height_m
    if top_z is None or top_z <= limit_z + _FITS_M:
        return
    raise DesignError(
        "porch.height" if porch.upper is None else "porch.upper.height",
        f"a porch whose roof meets the wall at {format_length(top_z, units)}",
        f"at most {at_most(limit_z, units)}, under the house's cornice; or a lower "
        "roof_pitch, roof: main slope, or height: eaves",
    )


def _stands_over(opening: Opening, porch: PorchDesign, roof: RoofDesign) -> bool:
    """Whether a front opening stands on the wall above the porch's cornice."""
    half, _ = porch_edge(porch, roof)
    near = porch.from_middle_m(opening.along_m) - opening.width_m / 2.0
    return opening.wall == "front" and near < half and opening.foot_z_m > porch.top_z_m


def _under_ridge(porch: PorchDesign, house: HouseDesign, roof: RoofDesign) -> tuple[float, str]:
    """Pitch of a gable at the eaves: the main roof's, or what keeps its ridge below that one's."""
    half, _ = porch_edge(porch, roof)
    rise = roof_rise_m(roof, house.width_m, house.depth_m, eaves_reach(house, roof))
    most = (rise - UNDER_RIDGE_M) / half
    if roof.slope <= most:
        return roof.slope, "as the main roof's"
    return most, "its ridge below the main one (common practice)"


def _by_rule(levels: tuple[float, ...], made: PorchDesign) -> float:
    return UNDER_HIPPED_ROOF * (levels[1] - made.floor_z_m)


def _upper_sills(scene: Scene, levels: tuple[float, ...]) -> float:
    """The foot of the first floor's windows, as far as it is known before they are made."""
    given = scene.house.windows
    window = given[min(1, len(given) - 1)] if given else None
    sill = SILL_M if window is None or window.sill is None else window.sill
    panel = (window.panel_below or 0.0) if window else 0.0
    return levels[1] + sill - SILL_HEIGHT_M - panel


def _eaves(scene: Scene, levels: tuple[float, ...]) -> tuple[float, float, RoofDesign]:
    """The walls' top, the height of the house's cornice, and what the roof is known to be."""
    cornice_m = scene.house.cornice or default("house.cornice") * levels[-1]
    spec = scene.roof
    roof = HipRoof(  # as far as its edge goes, all forms are alike
        slope=spec.pitch or default("roof.pitch"),
        overhang_m=default("roof.beyond_cornice") if spec.overhang is None else spec.overhang,
        covering=spec.covering,
        colour=spec.colour,
    )
    return levels[-1], cornice_m, roof


def _rise(name: Covering) -> float:
    return 0.0 if name == "plain" else covering(name).rise_m


def _covering(asked: Porch, roof: RoofDesign, slope: float) -> Covering:
    """What is laid on the porch: as asked, or the main covering, or metal where that is too flat.

    A pediment's slope is the books', and its covering the main roof's.
    """
    if asked.roof_covering is not None:
        return asked.roof_covering
    tiled = roof.covering not in ("plain", METAL)
    if asked.roof != "pediment" and tiled and slope < METAL_BELOW - 1e-9:
        return METAL
    return roof.covering


def _pitched(
    asked: Porch, made: PorchDesign, roof: RoofDesign, limit_z: float, main_slope: float
) -> tuple[float, str]:
    """Pitch of a roof against the wall that stays under a height, where one does, and why."""

    def stays(slope: float) -> bool:
        tried = replace(made, roof_pitch=slope, roof_covering=_covering(asked, roof, slope))
        return top_on_wall_m(tried, roof) + saddle_m(tried, roof) <= limit_z + _FITS_M

    if asked.roof_pitch is not None:
        return asked.roof_pitch, Given()
    usual = PITCHES.get(asked.roof, main_slope)
    why = "as the main roof's" if asked.roof not in PITCHES else "common practice"
    if asked.roof == "pediment" or stays(usual):
        return usual, why
    least = LEAST.get(asked.roof, LEAST_PITCH)
    room = limit_z - made.top_z_m - EAVES_EDGE_M - flashing_m(made, roof) - saddle_m(made, roof)
    run = rise_run_m(made, roof)
    why = "what the eaves leave room for"
    for name in (_covering(asked, roof, usual), METAL):
        slope = min((room - _rise(name) * math.hypot(1.0, usual)) / run, usual)
        if slope >= least and _covering(asked, roof, slope) == name and stays(slope):
            return slope, why
    slope = min((room - _rise(METAL) * math.hypot(1.0, METAL_BELOW)) / run, METAL_BELOW - 1e-6)
    if slope >= least and stays(slope):
        return slope, why
    return least, why


def _carried(
    scene: Scene, porch: PorchDesign, house: HouseDesign, roof: RoofDesign, origins: Origins
) -> tuple[float, str]:
    """Pitch of the main slope where it goes on over the porch, which follows from the heights."""
    units, asked = origins.units, scene.porch
    half, front_y = porch_edge(porch, roof)
    most_half, eave_y, eave_z = main_eave(house, roof)
    if front_y > eave_y - 0.3:
        raise DesignError(
            "porch.depth",
            format_length(porch.depth_m, units),
            f"a porch that stands {at_least(FOOT_M, units)} or more before the main eaves, "
            "under roof: main slope",
        )
    if abs(porch.centre_m) + half - roof.overhang_m > most_half + _FITS_M:
        raise DesignError(
            "porch.spacing",
            f"a roof {format_length(2.0 * half, units)} wide over the porch",
            f"at most the main eaves' {format_length(2.0 * most_half, units)}",
        )
    if scene.roof.gutter != "none":
        raise DesignError("roof.gutter", scene.roof.gutter, "none, under porch.roof: main slope")
    name = asked.roof_covering or roof.covering
    slope = carried_slope(replace(porch, roof_covering=name), house, roof)
    if asked.roof_covering is None and _covering(asked, roof, slope) != name:
        slope = carried_slope(replace(porch, roof_covering=METAL), house, roof)
    main = roof.eaves_slope
    run = eave_y - front_y - roof.overhang_m
    low_z, high_z = (eave_z - EAVES_EDGE_M - s * run for s in (main, LEAST_PITCH))
    if not LEAST_PITCH - 1e-6 <= slope <= main + 1e-6:
        raise DesignError(
            "porch.height",
            f"a cornice's top at {format_length(porch.top_z_m, units)} under the main slope, "
            f"{12.0 * slope:.3g}:12",
            f"about {at_least(low_z, units)} to {at_most(high_z, units)}, for a slope "
            f"from {12.0 * LEAST_PITCH:.3g}:12 to the main roof's {12.0 * main:.3g}:12",
        )
    if asked.roof_pitch is not None and abs(asked.roof_pitch - slope) > 2e-3:
        raise DesignError(
            "porch.roof_pitch",
            f"{12.0 * asked.roof_pitch:.3g}:12",
            f"left out with a height: from there to the main eaves it is {12.0 * slope:.3g}:12",
        )
    return slope, "from the porch's cornice to the main eaves"

"""The order about a doorway, from what the scene says."""

from __future__ import annotations

from massing.canon import fit_order, plate
from massing.design.opening import SurroundDesign
from massing.practice.defaults import default
from massing.practice.joinery_sizes import casing_width
from massing.resolve.door_places import Place
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Surround

SURROUND_BAND_M = default("doors.band")
BESIDE_CASING_M = default("doors.beside_casing")
PEDIMENT_SLOPE = default("porch.pediment")


def surround_top_m(asked: Surround, wide_m: float, height_m: float, place: Place) -> float:
    """Its top above the opening's foot, 0 where it would be too low to be made."""
    try:
        return surround_of(asked, wide_m, height_m, place).top_m
    except DesignError:
        return 0.0  # too low for its diameter: said when its height is known


def surround_of(asked: Surround, wide_m: float, height_m: float, place: Place) -> SurroundDesign:
    """The order whose column reaches from the floor before the door to over its casing.

    Raises:
        DesignError: the sizes asked for make no column, or a pediment has no cymatium.
    """
    drop = place.floor_z_m - (place.stand_z_m or 0.0)
    face = casing_width(wide_m)
    column = drop + height_m + face + SURROUND_BAND_M
    if asked.arch:
        column = max(column, _over_an_arch_m(asked, drop + height_m))
    dotted = f"{place.dotted}.surround"
    try:
        order = fit_order(
            asked.order,
            asked.canon,
            diameter_m=asked.diameter,
            column_height_m=column,
            entablature_m=asked.entablature,
        )
    except ValueError as error:
        raise DesignError(
            f"{dotted}.{'diameter' if asked.diameter else 'canon'}",
            f"{asked.diameter:.3f} m" if asked.diameter else asked.canon,
            " ".join(str(error).split()),
        ) from None
    if asked.pediment and not any(m.name == "cymatium" for m in order.cornice):
        raise DesignError(
            f"{dotted}.pediment",
            f"a pediment over a {asked.order}",
            "an order whose cornice has a cymatium",
        )
    beside = order.foot_width_m / 2.0
    if asked.engaged == "pilasters":
        beside -= (order.diameter_m - order.upper_diameter_m) / 2.0
    return SurroundDesign(
        order=order,
        engaged=asked.engaged,
        axis_m=wide_m / 2.0 + face + BESIDE_CASING_M + beside,
        drop_m=drop,
        pediment_slope=PEDIMENT_SLOPE if asked.pediment else None,
        arch=asked.arch,
    )


def _over_an_arch_m(asked: Surround, crown_m: float) -> float:
    """The column that leaves an archivolt one module broad over a crown."""
    if asked.diameter:
        return crown_m + asked.diameter / 2.0
    modules = 2.0 * plate(asked.order, asked.canon).column_diameters
    return crown_m * modules / (modules - 1.0)


def note_surround(surround: SurroundDesign, place: Place, origins: Origins) -> None:
    order, at = surround.order, f"{place.dotted}.surround"
    why = dict(order.origins)
    origins.note(f"{at}.column_height", order.column_height_m, "from its foot to over the casing")
    for field in ("diameter", "entablature"):
        text = why[f"{field}_m"]
        if text == "given":
            text = origins.given((*place.field, "surround", field))
        value = order.diameter_m if field == "diameter" else order.entablature_height_m
        origins.note(f"{at}.{field}", value, text)

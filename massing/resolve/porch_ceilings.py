"""The porch's ceiling: how high it lies, boarded or coffered."""

from __future__ import annotations

from massing.canon import FittedOrder
from massing.practice.defaults import default
from massing.practice.joinery_sizes import casing_width, head_reach
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import House, Porch
from massing.units import at_least, at_most, format_length

COFFER_M = default("porch.coffer")
THICKNESS_M = 0.02
LEAST_CLEAR_M = 0.01


def wanted_over(house: House, floor_z: float) -> float:
    """How high the lowest openings that the scene gives a height to want the ceiling, as a z."""
    wanted = [floor_z]
    if house.windows and house.windows[0].height is not None:
        window = house.windows[0]
        width = window.width or default("windows.most_width")
        sill = default("windows.sill") if window.sill is None else window.sill
        over = head_reach(width, window.head)[1] + default("windows.head_clearance")
        wanted.append(floor_z + sill + house.windows[0].height + over + 0.001)
    if house.door.height is not None:
        over = default("doors.frame") + casing_width(house.door.width or default("doors.leaf"))
        wanted.append(floor_z + house.door.height + over + default("doors.under_ceiling"))
    return max(wanted)


def ceiling_up_m(
    porch: Porch, order: FittedOrder, wanted_m: float, origins: Origins
) -> float | None:
    """The ceiling's underside above the architrave's soffit; None where it follows the rule.

    It lies anywhere from the beam's soffit to its top, coffers and all: a deep entablature then
    does not bring it down on the windows behind. By rule it is level with the architrave's top,
    or as far over that as openings of a given height want it, ``wanted_m`` above the porch floor.

    Raises:
        DesignError: it would lie below the beam or above it, or the porch has no ceiling of its
            own.
    """
    deep = COFFER_M if porch.ceiling == "coffered" else 0.0
    beam = order.architrave_height_m + order.frieze_height_m
    most = beam - deep - THICKNESS_M - LEAST_CLEAR_M
    if porch.shape != "straight" and porch.ceiling == "coffered":
        raise DesignError("porch.ceiling", "coffered", "boards, unless shape: straight")
    soffit = order.pedestal_height_m + order.column_height_m
    if porch.ceiling_height is None:
        raised = min(wanted_m - soffit, most)
        if raised > order.architrave_height_m and porch.shape != "recessed":
            origins.note("porch.ceiling_height", soffit + raised, "over the openings behind it")
            return raised
        if order.architrave_height_m <= most:
            return None
        origins.note("porch.ceiling_height", soffit + max(most, 0.0), "what the beam leaves")
        return max(most, 0.0)
    if porch.shape == "recessed":
        raise DesignError("porch.ceiling_height", "a height", "left out of a recessed porch")
    if not -1e-9 <= porch.ceiling_height - soffit <= most + 1e-9:
        low, high = at_least(soffit, origins.units), at_most(soffit + most, origins.units)
        raise DesignError(
            "porch.ceiling_height",
            format_length(porch.ceiling_height, origins.units),
            f"{low} to {high} above the porch floor, within the beam's height",
        )
    origins.note(
        "porch.ceiling_height", porch.ceiling_height, origins.given(("porch", "ceiling_height"))
    )
    return porch.ceiling_height - soffit

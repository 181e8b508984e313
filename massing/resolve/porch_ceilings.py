"""The porch's ceiling: how high it lies, boarded or coffered."""

from __future__ import annotations

from massing.canon import FittedOrder
from massing.practice.defaults import default
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Porch
from massing.units import format_length

COFFER_M = default("porch.coffer")
THICKNESS_M = 0.02
LEAST_CLEAR_M = 0.01


def ceiling_up_m(porch: Porch, order: FittedOrder, origins: Origins) -> float | None:
    """The ceiling's underside above the architrave's soffit; None where it follows the rule.

    It lies anywhere from the beam's soffit to its top, coffers and all: a deep entablature then
    does not bring it down on the windows behind.

    Raises:
        DesignError: it would lie below the beam or above it, or the porch has no ceiling of its
            own.
    """
    deep = COFFER_M if porch.ceiling == "coffered" else 0.0
    beam = order.architrave_height_m + order.frieze_height_m
    most = beam - deep - THICKNESS_M - LEAST_CLEAR_M
    if porch.shape != "straight" and porch.ceiling == "coffered":
        raise DesignError("porch.ceiling", "coffered", "boards, unless shape: straight")
    if porch.ceiling_height is None:
        if order.architrave_height_m <= most:
            return None
        return origins.note("porch.ceiling_height", max(most, 0.0), "what the beam leaves")
    soffit = order.pedestal_height_m + order.column_height_m
    if porch.shape == "recessed":
        raise DesignError("porch.ceiling_height", "a height", "left out of a recessed porch")
    if not -1e-9 <= porch.ceiling_height - soffit <= most + 1e-9:
        low, high = (format_length(soffit + m, origins.units) for m in (0.0, most))
        raise DesignError(
            "porch.ceiling_height",
            format_length(porch.ceiling_height, origins.units),
            f"{low} to {high} above the porch floor, within the beam's height",
        )
    origins.note(
        "porch.ceiling_height", porch.ceiling_height, origins.given(("porch", "ceiling_height"))
    )
    return porch.ceiling_height - soffit

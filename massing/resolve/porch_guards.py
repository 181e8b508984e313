"""The porch's balustrades: over the entablature, and between the columns."""

from __future__ import annotations

from massing.canon import FittedOrder
from massing.design.porch import BalustradeDesign
from massing.practice.defaults import default, default_rule, said_default
from massing.practice.rules import rule
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Balustrade
from massing.units import format_length

CROWNING_BALUSTRADE_OF_ENTABLATURE = default("guards.balustrade")
GUARD_HEIGHT_M = default("guards.guard")
GUARD_GAP_M = default("guards.gap")
GUARD_POST_M = default("guards.post")
GUARD_BELLY_M = default("guards.belly")
RAIL_OF_BALUSTER = default("guards.rail")
PLINTH_OF_BALUSTER = default("guards.plinth")
BELLY_OF_BALUSTER = default("guards.belly_of_height")


def crowning_balustrade(
    balustrade: Balustrade | None, order: FittedOrder, origins: Origins
) -> BalustradeDesign | None:
    if balustrade is None:
        return None
    height = origins.choose(
        ("porch", "balustrade", "height"),
        balustrade.height,
        CROWNING_BALUSTRADE_OF_ENTABLATURE * order.entablature_height_m,
        f"{default_rule('guards.balustrade').written} of the entablature, between the "
        f"{rule('balustrade_least').written} and {rule('balustrade_most').written} of the books",
    )
    baluster = height / (1.0 + RAIL_OF_BALUSTER + PLINTH_OF_BALUSTER)
    return BalustradeDesign(
        height_m=height,
        plinth_m=baluster * PLINTH_OF_BALUSTER,
        rail_m=baluster * RAIL_OF_BALUSTER,
        pedestal_width_m=order.upper_diameter_m,
        baluster_spacing_m=origins.choose(
            ("porch", "balustrade", "baluster_spacing"),
            balustrade.baluster_spacing,
            1.4 * BELLY_OF_BALUSTER * baluster,
            "gaps of two fifths of the belly",
        ),
        belly_m=BELLY_OF_BALUSTER * baluster,
        panelled=balustrade.panelled,
        half_balusters=balustrade.half_balusters,
        filling=balustrade.filling,
    )


def guard_between(
    guard: Balustrade | None, order: FittedOrder, origins: Origins
) -> BalustradeDesign | None:
    if guard is None:
        return None
    height = origins.choose(
        ("porch", "guard", "height"),
        guard.height,
        GUARD_HEIGHT_M,
        said_default("guards.guard", origins.units),
    )
    rail, plinth = default("guards.guard_rail"), default("guards.guard_plinth")
    if height < 4 * (rail + plinth) / 2:
        raise DesignError(
            "porch.guard.height", format_length(height, origins.units), "1'-6\" or more"
        )
    return BalustradeDesign(
        height_m=height,
        plinth_m=plinth,
        rail_m=rail,
        pedestal_width_m=GUARD_POST_M,
        baluster_spacing_m=origins.choose(
            ("porch", "guard", "baluster_spacing"),
            guard.baluster_spacing,
            GUARD_BELLY_M * 0.45 + GUARD_GAP_M,
            f"clear gap of {default_rule('guards.gap').said(origins.units)} at the necks "
            "(common practice)",
        ),
        belly_m=GUARD_BELLY_M,
    )

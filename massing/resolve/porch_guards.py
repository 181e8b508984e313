"""The porch's balustrades: over the entablature, and between the columns."""

from __future__ import annotations

from massing.canon import FittedOrder
from massing.design.porch import BalustradeDesign
from massing.practice.defaults import default, default_rule, said_default, sourced
from massing.practice.rules import rule
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Balustrade
from massing.units import HAIR_M, at_least, format_length

CROWNING_BALUSTRADE_OF_ENTABLATURE = default("guards.balustrade")
GUARD_HEIGHT_M = default("guards.guard")
GUARD_GAP_M = default("guards.gap")
GUARD_POST_M = default("guards.post")
GUARD_BELLY_M = default("guards.belly")
RAIL_OF_BALUSTER = default("guards.rail")
PLINTH_OF_BALUSTER = default("guards.plinth")
BELLY_OF_BALUSTER = default("guards.belly_of_height")
_LEAST_OF_BELLY = default("guards.least_of_belly")


def crowning_balustrade(
    balustrade: Balustrade | None, order: FittedOrder, origins: Origins
) -> BalustradeDesign | None:
    if balustrade is None:
        return None
    height = origins.choose(
        ("porch", "balustrade", "height"),
        balustrade.height,
        CROWNING_BALUSTRADE_OF_ENTABLATURE * order.entablature_height_m,
        sourced(
            f"{default_rule('guards.balustrade').written} of the entablature, between "
            f"{rule('balustrade_least').written} and {rule('balustrade_most').written}",
            "guards.balustrade",
        ),
    )
    baluster = height / (1.0 + RAIL_OF_BALUSTER + PLINTH_OF_BALUSTER)
    return BalustradeDesign(
        height_m=height,
        plinth_m=baluster * PLINTH_OF_BALUSTER,
        rail_m=baluster * RAIL_OF_BALUSTER,
        pedestal_width_m=order.upper_diameter_m,
        baluster_spacing_m=baluster_spacing(
            ("porch", "balustrade"),
            balustrade,
            (1.0 + default("roof.gap")) * BELLY_OF_BALUSTER * baluster,
            sourced("gaps of two fifths of the belly", "roof.gap"),
            BELLY_OF_BALUSTER * baluster,
            origins,
        ),
        belly_m=BELLY_OF_BALUSTER * baluster,
        panelled=balustrade.panelled,
        half_balusters=balustrade.half_balusters,
        filling=balustrade.filling,
    )


def baluster_spacing(
    path: tuple[str, ...],
    spec: Balustrade,
    rule_m: float,
    words: str,
    belly_m: float,
    origins: Origins,
) -> float:
    """Middle to middle of the balusters, with a gap between their bellies.

    Raises:
        DesignError: they would touch.
    """
    spacing = origins.choose((*path, "baluster_spacing"), spec.baluster_spacing, rule_m, words)
    least = _LEAST_OF_BELLY * belly_m
    if spacing < least - HAIR_M:
        raise DesignError(
            ".".join((*path, "baluster_spacing")),
            format_length(spacing, origins.units),
            f"{at_least(least, origins.units)} or more, over the balusters' "
            f"{format_length(belly_m, origins.units)}",
        )
    return spacing


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
    least = 2.0 * (rail + plinth)
    if height < least - HAIR_M:
        raise DesignError(
            "porch.guard.height",
            format_length(height, origins.units),
            f"{at_least(least, origins.units)} or more",
        )
    return BalustradeDesign(
        height_m=height,
        plinth_m=plinth,
        rail_m=rail,
        pedestal_width_m=GUARD_POST_M,
        baluster_spacing_m=baluster_spacing(
            ("porch", "guard"),
            guard,
            GUARD_BELLY_M * 0.45 + GUARD_GAP_M,
            f"clear gap of {default_rule('guards.gap').said(origins.units)} at the necks "
            "(common practice)",
            GUARD_BELLY_M,
            origins,
        ),
        belly_m=GUARD_BELLY_M,
    )

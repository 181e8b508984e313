"""The order of a porch: which height it fills, and what the scene pins of it."""

from __future__ import annotations

from functools import lru_cache

from massing.canon import FittedOrder, fit_order, with_shaft
from massing.practice.defaults import default
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Porch
from massing.units import HAIR_M, at_least, at_most, format_length

# Common practice, no source.
PORCH_STEP_DOWN_M = default("porch.step_down")
UNDER_HIPPED_ROOF = default("porch.under_hipped_roof")
LEAST_ENTABLATURE = default("porch.least_entablature")
_ROOMY = "what its roof leaves under the eaves (common practice)"

_fitted = lru_cache(maxsize=256)(fit_order)  # the same order is asked for again and again


def porch_order(
    porch: Porch,
    floor_z: float,
    levels: tuple[float, ...],
    where: tuple[str, ...],
    origins: Origins,
    roomy_m: float | None = None,
) -> FittedOrder:
    """The order scaled to what the scene pins; else to the height there is to fill.

    Args:
        porch: what is asked, of this order.
        floor_z: the floor that it stands on, metres above the ground.
        levels: heights of the house's floors and, last, of the walls' top, metres.
        where: the porch's place in the scene.
        origins: takes a note of where each number comes from.
        roomy_m: the height that leaves the roof room, where that is not the rule's.

    Raises:
        DesignError: no order comes of the sizes given, or a pier is asked for a shaft's finish.
    """
    height = roomy_m or _height_m(porch, floor_z, levels)
    dotted = ".".join(where)
    try:
        order = _fitted(
            porch.order,
            porch.canon,
            diameter_m=porch.diameter,
            column_height_m=porch.column_height,
            entablature_m=porch.entablature,
            order_height_m=None if porch.pedestals else height,
            whole_height_m=height if porch.pedestals else None,
            pedestal=porch.pedestals,
        )
    except ValueError as error:
        if porch.column_height and height and porch.column_height >= height - HAIR_M:
            most = height / (1.0 + LEAST_ENTABLATURE)
            raise DesignError(
                f"{dotted}.column_height",
                format_length(porch.column_height, origins.units),
                f"at most {at_most(most, origins.units)}, to leave something for the entablature",
            ) from None
        raise DesignError(
            f"{dotted}.height",
            format_length(height, origins.units) if height else "nothing",
            " ".join(str(error).split()),
        ) from None
    _check_pier(porch, order, dotted)
    _check_deep(porch, order, dotted, origins)
    _check_shallow(porch, order, dotted, origins)
    rule = _height_rule(porch) if roomy_m is None else _ROOMY
    _note(porch, order, where, rule, origins)
    return with_shaft(order, entasis=porch.entasis, fluted=porch.fluted)


def _height_m(porch: Porch, floor_z: float, levels: tuple[float, ...]) -> float | None:
    """From the floor to the entablature's top; None where column and entablature are pinned."""
    if porch.height is not None and not isinstance(porch.height, str):
        return porch.height
    top_z = levels[-1] if porch.height == "eaves" else levels[1]
    if porch.height is not None:
        return top_z - floor_z
    if porch.column_height and porch.entablature:
        return None
    if porch.upper is not None:
        return top_z - PORCH_STEP_DOWN_M - floor_z
    if porch.roof != "flat":
        return floor_z + UNDER_HIPPED_ROOF * (top_z - floor_z) - floor_z
    return top_z - floor_z


def _height_rule(porch: Porch) -> str:
    """Where a height comes from that the scene does not give as a length."""
    if porch.height is None and porch.upper is not None:
        return "from the porch floor to just below the floor above"
    if porch.height is None and porch.roof != "flat":
        return f"{UNDER_HIPPED_ROOF} of the storey, to leave room for its roof (common practice)"
    return f"from the porch floor to the {porch.height or 'storey'}'s top"


def _check_pier(porch: Porch, order: FittedOrder, dotted: str) -> None:
    """Raise DesignError where a square pier is asked for entasis or flutes."""
    if order.square and (porch.entasis not in (None, "none") or porch.fluted):
        field = "fluted" if porch.fluted else "entasis"
        asked = "true" if porch.fluted else porch.entasis
        raise DesignError(f"{dotted}.{field}", asked, "neither entasis nor flutes on a square pier")


def _check_deep(porch: Porch, order: FittedOrder, dotted: str, origins: Origins) -> None:
    """Raise DesignError for an entablature higher than the column under it."""
    over = order.entablature_height_m - order.column_height_m
    if over <= HAIR_M:
        return
    if porch.column_height:  # the rest of the height is the entablature's
        half = order.column_height_m + over / 2.0
        least = order.entablature_height_m if porch.entablature else half
        raise DesignError(
            f"{dotted}.column_height",
            format_length(porch.column_height, origins.units),
            f"at least {at_least(least, origins.units)}, so that the entablature over it is no "
            "higher than the column",
        )
    if porch.entablature:
        raise DesignError(
            f"{dotted}.entablature",
            format_length(porch.entablature, origins.units),
            f"at most {at_most(order.entablature_height_m - over / 2.0, origins.units)}, no "
            "higher than the column under it",
        )


def _check_shallow(porch: Porch, order: FittedOrder, dotted: str, origins: Origins) -> None:
    """Raise DesignError for an entablature too shallow for its own members.

    Much shallower than a builder's worst, so that what is drawn can be drawn.
    """
    deep, column = order.entablature_height_m, order.column_height_m
    if deep >= LEAST_ENTABLATURE * column - HAIR_M:
        return
    if porch.entablature:
        raise DesignError(
            f"{dotted}.entablature",
            format_length(porch.entablature, origins.units),
            f"at least {at_least(LEAST_ENTABLATURE * column, origins.units)}, a "
            f"{round(1.0 / LEAST_ENTABLATURE)}th of the column under it",
        )
    if porch.column_height:  # the entablature has the rest of the height
        most = (column + deep) / (1.0 + LEAST_ENTABLATURE)
        raise DesignError(
            f"{dotted}.column_height",
            format_length(porch.column_height, origins.units),
            f"at most {at_most(most, origins.units)}, which leaves an entablature of a "
            f"{round(1.0 / LEAST_ENTABLATURE)}th of its height",
        )


def _note(
    porch: Porch, order: FittedOrder, where: tuple[str, ...], rule: str, origins: Origins
) -> None:
    """Write down of each size of the order where it came from."""
    for key, text in order.origins:
        field = "height" if key == "order_height_m" else key.removesuffix("_m")
        if text == "given":
            text = origins.given((*where, field))
            if field == "height" and not isinstance(porch.height, float):
                text = rule
        value_m = getattr(order, key.replace("entablature_m", "entablature_height_m"))
        origins.note(f"{'.'.join(where)}.{field}", value_m, text)

"""An arcade behind a porch's columns, from what the scene says and the order's own measures."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from massing.canon.arcades import (
    ArcadeRule,
    arcade_rule,
    archivolt_members,
    column_before_pier_m,
    impost_members,
)
from massing.canon.order import FittedOrder, Member
from massing.design.arcade import ArcadeDesign, ArchBay
from massing.design.porch import PorchDesign, StraightPorch
from massing.practice.defaults import default, default_rule
from massing.scene.errors import DesignError
from massing.scene.origins import Origins
from massing.scene.spec import Porch
from massing.scene.spec.porch import Arcade
from massing.units import format_length

LEAST_ARCHIVOLT = default("arcade.least_archivolt")


def rule_of(porch: Porch) -> ArcadeRule:
    """The measures of the order asked for.

    Raises:
        DesignError: a pier is asked for, which has no columns to stand against it.
    """
    rule = arcade_rule(porch.order, pedestals=porch.pedestals)
    if rule is None:
        raise DesignError("porch.arcade", f"an arcade of {porch.order}s", "one of the orders")
    return rule


def arcade_axis_m(porch: Porch, order: FittedOrder) -> float:
    """Column axis to axis by the order's own arcade."""
    return rule_of(porch).axis * order.diameter_m / 2.0


def arcade_design(porch: Porch, standing: PorchDesign, origins: Origins) -> ArcadeDesign | None:
    """Piers and arches behind the front's columns; None where none are asked for.

    Raises:
        DesignError: the porch is not straight, couples or guards stand there, or there is no
            room for an arch.
    """
    asked = porch.arcade
    if asked is None:
        return None
    rule = rule_of(porch)
    _check_before(porch, standing)
    order = standing.order
    module = order.diameter_m / 2.0
    said = f"{porch.order}, vignola; {rule.mark}"
    pier = origins.choose(
        ("porch", "arcade", "pier"),
        asked.pier,
        rule.pier * module,
        f"{rule.pier:g} modules ({said})",
    )
    thick = origins.choose(
        ("porch", "arcade", "thickness"),
        asked.thickness,
        default("arcade.thickness") * module,
        f"{default_rule('arcade.thickness').written} modules (common practice)",
    )
    bays = _bays(asked, standing, pier, rule, said, origins)
    room = order.pedestal_height_m + order.column_height_m
    archivolt = archivolt_members(module)
    over = room - max(b.crown_m for b in bays)
    share = min(1.0, over / sum(m.height for m in archivolt))
    foot = order.pedestal[0].height if order.pedestal else order.base_height_m
    return ArcadeDesign(
        bays=bays,
        pier_m=pier,
        end_m=standing.end_axis_m + standing.frieze_half_depth_m,
        behind_m=column_before_pier_m(module),
        thick_m=thick,
        plinth_m=foot,
        impost=impost_members(module),
        archivolt=tuple(_narrower(m, share) for m in archivolt),
        keystone=asked.keystone,
    )


def _check_before(porch: Porch, standing: PorchDesign) -> None:
    """Raise DesignError where an arcade cannot stand behind such columns."""
    for field, given, allowed in (
        ("shape", porch.shape if not isinstance(standing, StraightPorch) else None, "straight"),
        ("paired", porch.paired or None, "false, before an arcade"),
        ("guard", porch.guard and "a guard", "none, between an arcade's columns"),
    ):
        if given is not None:
            raise DesignError(f"porch.{field}", given, allowed)


def _bays(
    asked: Arcade,
    standing: PorchDesign,
    pier_m: float,
    rule: ArcadeRule,
    said: str,
    origins: Origins,
) -> tuple[ArchBay, ...]:
    """The arch between each two columns; of those alike one note is taken."""
    units, axes = origins.units, standing.axes_m
    clear = [b - a - pier_m for a, b in pairwise(axes)]
    least = default("arcade.least_clear")
    if min(clear) < least:
        raise DesignError(
            "porch.spacing",
            f"arches {format_length(max(min(clear), 0.0), units)} wide",
            f"columns {format_length(least + pier_m, units)} apart or more, or thinner piers",
        )
    bays = []
    for k, (width, (a, b)) in enumerate(zip(clear, pairwise(axes), strict=True)):
        crown, why = _crown(asked, standing.order, width, rule, said, origins)
        if k == 0 or abs(width - clear[0]) > 1e-6:
            origins.note(
                f"porch.arcade.arch_height.{k}" if k else "porch.arcade.arch_height", crown, why
            )
        bays.append(ArchBay((a + b) / 2.0 - standing.centre_m, width, crown - width / 2.0))
    return tuple(bays)


def _crown(
    asked: Arcade,
    order: FittedOrder,
    width: float,
    rule: ArcadeRule,
    said: str,
    origins: Origins,
) -> tuple[float, str]:
    """The height of an arch's crown over the floor, and why so."""
    module = order.diameter_m / 2.0
    room = order.pedestal_height_m + order.column_height_m
    wanted = asked.arch_height or rule.high / rule.clear * width
    crown = min(wanted, room - LEAST_ARCHIVOLT * module)
    low = crown - width / 2.0 < module + width / 4.0
    if (asked.arch_height and crown < asked.arch_height) or low:
        raise DesignError(
            "porch.arcade.arch_height" if asked.arch_height else "porch.arcade",
            format_length(wanted, origins.units),
            f"an arch under the architrave at {format_length(room, origins.units)}, with piers of "
            "a quarter of its width or more below the impost",
        )
    if asked.arch_height:
        return crown, origins.given(("porch", "arcade", "arch_height"))
    if crown == wanted:
        return crown, f"{rule.high / rule.clear:.4g} of its width ({said})"
    return crown, "as high as the architrave leaves"


def _narrower(member: Member, share: float) -> Member:
    return replace(member, height=share * member.height)
